using System.Collections.Immutable;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>The magnets that stand together at one place of the track.</summary>
/// <remarks>The station's origin lies in the middle of the coil's path: x along the track, y across the gap, z up.</remarks>
public sealed record MagnetStation
{
    private readonly StationSi si;

    private MagnetStation(ImmutableArray<PlacedMagnet> magnets, Length? gap)
    {
        Magnets = magnets;
        Gap = gap;
        si = new StationSi([.. magnets.Select(magnet => magnet.ToSi())]);
    }

    /// <summary>The magnets with their places.</summary>
    public ImmutableArray<PlacedMagnet> Magnets { get; }

    /// <summary>The clear width across the coil's path, from face to face; null where no magnets face each other.</summary>
    public Length? Gap { get; }

    /// <summary>Two equal magnets across a gap, magnetized the same way, a flat coil running between them.</summary>
    /// <param name="magnet">The magnet; one is set on either side.</param>
    /// <param name="gap">Clear distance between the two faces, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The gap is not above zero or not finite.</exception>
    /// <exception cref="ArgumentNullException">The magnet is missing.</exception>
    public static MagnetStation FacingPair(MagnetBody magnet, Length gap)
    {
        ArgumentNullException.ThrowIfNull(magnet);
        Length clear = Require.Positive(gap, "the coil runs between the two magnets");
        Length middle = 0.5 * (clear + magnet.SizeAcross);
        return new(
            [
                new(magnet, Length.Zero, -middle, Length.Zero),
                new(magnet, Length.Zero, middle, Length.Zero),
            ],
            clear);
    }

    /// <summary>The flux density B = μ₀H + J of this station alone at a point given from its origin.</summary>
    /// <remarks>Surface and edges as for <see cref="MagnetBody.FluxDensityAt"/>.</remarks>
    /// <param name="along">x.</param>
    /// <param name="across">y.</param>
    /// <param name="up">z.</param>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is not finite.</exception>
    public FluxDensity FluxDensityAt(Length along, Length across, Length up)
        => FluxDensity.FromSi(si.FluxDensity(MagnetBody.Point(along, across, up)));

    /// <summary>The field strength H of this station alone at a point given from its origin, in A/m.</summary>
    /// <remarks>Surface and edges as for <see cref="MagnetBody.FluxDensityAt"/>.</remarks>
    /// <param name="along">x.</param>
    /// <param name="across">y.</param>
    /// <param name="up">z.</param>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is not finite.</exception>
    public FieldStrength FieldStrengthAt(Length along, Length across, Length up)
        => FieldStrength.FromSi(1 / PhysicalConstants.VacuumPermeability
            * si.MagneticFieldTimesPermeability(MagnetBody.Point(along, across, up)));

    /// <summary>Two stations are equal when they hold equal magnets at equal places.</summary>
    public bool Equals(MagnetStation? other)
        => other is not null && Gap.Equals(other.Gap) && Magnets.SequenceEqual(other.Magnets);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Gap, si);

    /// <inheritdoc/>
    public override string ToString() => Gap is { } gap
        ? $"facing pair, gap {Show.Quantity(gap)}: {Magnets[0].Body}"
        : $"station of {Magnets.Length}: {string.Join("; ", Magnets.Select(magnet => magnet.Body))}";

    internal StationSi ToSi() => si;

    /// <summary>The same with remanences at a temperature.</summary>
    internal StationSi ToSi(Temperature magnets) => new(
        [
            .. Magnets.Select(magnet =>
            {
                BodySi body = magnet.ToSi();
                MagnetGrade grade = magnet.Body.Grade;
                return body with { Remanence = body.Remanence * grade.RemanenceAt(magnets).Teslas / grade.Remanence.Teslas };
            }),
        ]);
}
