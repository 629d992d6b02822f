using System.Collections.Immutable;
using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>The magnets that stand together at one place of the track.</summary>
/// <remarks>The station's origin lies in the middle of the coil's path: x along the track, y across the gap, z up.</remarks>
public sealed record MagnetStation
{
    /// <summary>Images on each side that are taken one by one; the rest is one long magnet of the row's mean magnetization.</summary>
    private const int Images = 12;

    /// <summary>Where that long magnet ends, in distances between the plates.</summary>
    private const int RowEnd = 72;

    private readonly StationSi si;
    private readonly string layout;

    private MagnetStation(string layout, ImmutableArray<PlacedMagnet> magnets, Length? gap = null, BackIron? iron = null)
    {
        this.layout = layout;
        Magnets = magnets;
        Gap = gap;
        BackIron = iron;
        BodySi[] bodies = [.. magnets.Select(magnet => magnet.ToSi())];
        for (int i = 1; i < bodies.Length; i++)
        {
            for (int j = 0; j < i; j++)
            {
                if (BodyOverlap.Between(bodies[j], bodies[i]))
                {
                    throw new ArgumentException(
                        $"magnets {j} and {i} of the station overlap: {magnets[j]} and {magnets[i]}; two bodies cannot share space.", nameof(magnets));
                }
            }
        }

        si = WithImages(bodies);
    }

    /// <summary>The magnets with their places.</summary>
    public ImmutableArray<PlacedMagnet> Magnets { get; }

    /// <summary>The clear width across the coil's path, from face to face; null where no magnets face each other.</summary>
    public Length? Gap { get; }

    /// <summary>The iron behind the magnets; null where there is none.</summary>
    public BackIron? BackIron { get; }

    /// <summary>Two equal magnets across a gap, magnetized the same way, a flat coil running between them.</summary>
    /// <remarks>
    /// With back iron, magnet and image make one magnet of twice the thickness across each plate, repeated at the distance
    /// between the plates. Twelve images on each side are taken one by one, the others as one long magnet of their mean
    /// magnetization, which leaves an error below 1e-6 of the force: far less than what real iron falls short of a mirror.
    /// </remarks>
    /// <param name="magnet">The magnet; one is set on either side.</param>
    /// <param name="gap">Clear distance between the two faces, above zero.</param>
    /// <param name="backIron">Iron plates behind the magnets; none if left out. The magnets must then be magnetized across the gap.</param>
    /// <exception cref="ArgumentOutOfRangeException">The gap is not above zero or not finite.</exception>
    /// <exception cref="ArgumentException">There is back iron and the magnets are not magnetized across the gap.</exception>
    /// <exception cref="ArgumentNullException">The magnet is missing.</exception>
    public static MagnetStation FacingPair(MagnetBody magnet, Length gap, BackIron? backIron = null)
    {
        ArgumentNullException.ThrowIfNull(magnet);
        Length clear = Require.Positive(gap, "the coil runs between the two magnets");
        if (backIron is not null && magnet.Magnetization != TrackAxis.Across)
        {
            throw new ArgumentException(
                $"the magnets are magnetized {magnet.Magnetization}; before back iron they must be magnetized Across: iron closes the flux of poles that stand on it.",
                nameof(magnet));
        }

        Length middle = 0.5 * (clear + magnet.SizeAcross);
        return new(
            "facing pair",
            [
                new(magnet, Length.Zero, -middle, Length.Zero),
                new(magnet, Length.Zero, middle, Length.Zero),
            ],
            clear,
            backIron);
    }

    /// <summary>One magnet on the +y side of the path, a flat coil running past it.</summary>
    /// <param name="magnet">The magnet.</param>
    /// <param name="clearance">Distance from the middle of the path to the magnet's face, above zero; more than half the coil's length.</param>
    /// <exception cref="ArgumentOutOfRangeException">The clearance is not above zero or not finite.</exception>
    /// <exception cref="ArgumentNullException">The magnet is missing.</exception>
    public static MagnetStation SingleSided(MagnetBody magnet, Length clearance)
    {
        ArgumentNullException.ThrowIfNull(magnet);
        Length middle = Require.Positive(clearance, "the coil runs past the magnet") + (0.5 * magnet.SizeAcross);
        return new("single-sided station", [new(magnet, Length.Zero, middle, Length.Zero)]);
    }

    /// <summary>A ring about the path, a coil with its axis along the track running through its bore.</summary>
    /// <param name="ring">The ring, its axis along the track.</param>
    /// <exception cref="ArgumentException">The ring's axis is not along the track.</exception>
    /// <exception cref="ArgumentNullException">The ring is missing.</exception>
    public static MagnetStation Coaxial(RingMagnet ring)
    {
        ArgumentNullException.ThrowIfNull(ring);
        if (ring.Axis != TrackAxis.Along)
        {
            throw new ArgumentException($"the ring's axis is {ring.Axis}; it must be Along: the coil runs through the bore.", nameof(ring));
        }

        return new("coaxial station", [new(ring, Length.Zero, Length.Zero, Length.Zero)]);
    }

    /// <summary>Blocks in a ring about the path, a coil with its axis along the track running through the middle.</summary>
    /// <remarks>Each block is turned so that its size across points away from the path. The first stands on the +y side.</remarks>
    /// <param name="block">The block; its size across is the ring's wall, its height lies around the ring.</param>
    /// <param name="count">How many blocks, 2 to 100.</param>
    /// <param name="bore">Clear diameter between opposite faces, above zero and wide enough for the blocks not to overlap.</param>
    /// <exception cref="ArgumentOutOfRangeException">The count or the bore is out of range.</exception>
    /// <exception cref="ArgumentException">The blocks overlap.</exception>
    /// <exception cref="ArgumentNullException">The block is missing.</exception>
    public static MagnetStation Coaxial(BlockMagnet block, int count, Length bore)
    {
        ArgumentNullException.ThrowIfNull(block);
        Require.InRange(count, 2, 100, "blocks stand around the path");
        Length clear = Require.Positive(bore, "the coil runs through the bore");
        double radius = 0.5 * (clear.Meters + block.Across.Meters);
        double least = count > 2 ? block.Height.Meters / Math.Tan(Math.PI / count) : 0;
        if (clear.Meters < least * (1 - 1e-9))
        {
            throw Require.Fault(
                nameof(bore),
                Show.Quantity(bore),
                $"{Show.Quantity(Length.FromMeters(least))} or more",
                string.Create(CultureInfo.InvariantCulture, $"{count} blocks {Show.Quantity(block.Height)} wide would overlap in a smaller ring"));
        }

        return new(
            "coaxial station",
            [
                .. Enumerable.Range(0, count).Select(i =>
                {
                    double angle = 2 * Math.PI * i / count;
                    return new PlacedMagnet(
                        block,
                        Length.Zero,
                        Length.FromMeters(radius * Math.Cos(angle)),
                        Length.FromMeters(radius * Math.Sin(angle)),
                        Polarity.Positive,
                        Angle.FromRadians(angle));
                }),
            ]);
    }

    /// <summary>Magnets placed freely.</summary>
    /// <param name="magnets">The magnets with their places, one or more.</param>
    /// <exception cref="ArgumentException">There is none, or two of them overlap.</exception>
    /// <exception cref="ArgumentNullException">The list or a magnet is missing.</exception>
    public static MagnetStation Of(params IReadOnlyList<PlacedMagnet> magnets)
    {
        ArgumentNullException.ThrowIfNull(magnets);
        if (magnets.Count == 0)
        {
            throw new ArgumentException("magnets is empty; a station has at least one magnet.", nameof(magnets));
        }

        foreach (PlacedMagnet magnet in magnets)
        {
            ArgumentNullException.ThrowIfNull(magnet, nameof(magnets));
        }

        return new("station", [.. magnets]);
    }

    /// <summary>The flux density B = μ₀H + J of this station alone at a point given from its origin.</summary>
    /// <remarks>Surface and edges as for <see cref="MagnetBody.FluxDensityAt"/>; before back iron, not in or behind it.</remarks>
    /// <param name="along">x.</param>
    /// <param name="across">y.</param>
    /// <param name="up">z.</param>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is not finite.</exception>
    public FluxDensity FluxDensityAt(Length along, Length across, Length up)
        => FluxDensity.FromSi(si.FluxDensity(MagnetBody.Point(along, across, up)));

    /// <summary>The field strength H of this station alone at a point given from its origin, in A/m.</summary>
    /// <remarks>Surface and edges as for <see cref="MagnetBody.FluxDensityAt"/>; before back iron, not in or behind it.</remarks>
    /// <param name="along">x.</param>
    /// <param name="across">y.</param>
    /// <param name="up">z.</param>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is not finite.</exception>
    public FieldStrength FieldStrengthAt(Length along, Length across, Length up)
        => FieldStrength.FromSi(1 / PhysicalConstants.VacuumPermeability
            * si.MagneticFieldTimesPermeability(MagnetBody.Point(along, across, up)));

    /// <summary>Two stations are equal when they hold equal magnets at equal places before equal iron.</summary>
    public bool Equals(MagnetStation? other)
        => other is not null && Gap.Equals(other.Gap) && Equals(BackIron, other.BackIron) && Magnets.SequenceEqual(other.Magnets);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Gap, si);

    /// <inheritdoc/>
    public override string ToString()
    {
        string kinds = string.Join("; ", Magnets
            .GroupBy(magnet => magnet.Body)
            .Select(group => group.Count() == 1 ? group.Key.ToString() : string.Create(CultureInfo.InvariantCulture, $"{group.Count()} × {group.Key}")));
        string head = Gap is { } gap ? $"{layout}, gap {Show.Quantity(gap)}" : layout;
        return BackIron is { } iron ? $"{head}: {kinds}; {iron}" : $"{head}: {kinds}";
    }

    internal StationSi ToSi() => si;

    /// <summary>The same with other grades.</summary>
    internal MagnetStation WithGrades(Func<MagnetGrade, MagnetGrade> change) => new(
        layout,
        [.. Magnets.Select(magnet => new PlacedMagnet(
            magnet.Body with { Grade = change(magnet.Body.Grade) }, magnet.Along, magnet.Across, magnet.Up, magnet.Polarity, magnet.Roll))],
        Gap,
        BackIron);

    /// <summary>The same with remanences at a temperature.</summary>
    internal StationSi ToSi(Temperature magnets) => WithImages(
        [
            .. Magnets.Select(magnet =>
            {
                BodySi body = magnet.ToSi();
                MagnetGrade grade = magnet.Body.Grade;
                return body with { Remanence = body.Remanence * grade.RemanenceAt(magnets).Teslas / grade.Remanence.Teslas };
            }),
        ]);

    /// <summary>The magnets alone, without the images of any iron.</summary>
    internal BodySi[] Bodies() => [.. Magnets.Select(magnet => magnet.ToSi())];

    private StationSi WithImages(BodySi[] bodies)
    {
        if (BackIron is null)
        {
            return new StationSi(bodies);
        }

        // The plates lie at ±D/2. A magnet and its image make one of twice the thickness across the plate; the row repeats with D.
        double thickness = Magnets[0].Body.SizeAcross.Meters;
        double plates = Gap!.Value.Meters + (2 * thickness);
        var row = new List<BodySi>();
        for (int k = 0; k <= Images; k++)
        {
            bool rest = k == Images;
            double half = rest ? 0.5 * (RowEnd - Images) * plates : thickness;
            double middle = rest ? 0.5 * (RowEnd + Images) * plates : (k + 0.5) * plates;
            double share = rest ? 2 * thickness / plates : 1;
            foreach (int side in (ReadOnlySpan<int>)[-1, 1])
            {
                row.Add(bodies[0] with
                {
                    HalfAcross = half,
                    Center = new(0, side * middle, 0),
                    Remanence = share * bodies[0].Remanence,
                });
            }
        }

        return new StationSi([.. row]) { PlateDistance = plates };
    }
}
