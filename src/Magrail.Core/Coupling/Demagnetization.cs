using System.Collections.Immutable;
using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>How near the magnets of a track come to losing magnetization for good.</summary>
/// <remarks>
/// <para>
/// In each magnet the field strength against its magnetization, -H·m, is searched for its greatest value over a lattice of points that
/// reaches to its faces, edges and corners: its own field, that of the other magnets of its station and of three stations on either
/// side, and the greatest field of the coil against it over all places the coil passes, whichever way its current flows. It is held
/// against the grade's guaranteed intrinsic coercivity at the temperature.
/// </para>
/// <para>
/// The magnets are taken as rigid; a recoil permeability of 1.05 would lower the field against a magnet by a few percent, so the
/// check errs on the safe side. Magnetization is lost from the knee of the curve on, which for a good sintered magnet lies near nine tenths of
/// the intrinsic coercivity (common practice, no source): <see cref="Knee"/>. For AlNiCo the check says little: its curve has no
/// straight part.
/// </para>
/// </remarks>
public sealed class Demagnetization
{
    private Demagnetization(ImmutableArray<DemagnetizationMargin> magnets, Temperature temperature)
    {
        Magnets = magnets;
        Temperature = temperature;
    }

    /// <summary>The fraction of the intrinsic coercivity at which the loss begins: 0.9.</summary>
    [Dimensionless]
    [Source("MEMORY", "squareness of sintered magnets, common practice")]
    public static double Knee => 0.9;

    /// <summary>The magnets in every situation that occurs on the track, first station first.</summary>
    public ImmutableArray<DemagnetizationMargin> Magnets { get; }

    /// <summary>The magnets' temperature.</summary>
    public Temperature Temperature { get; }

    /// <summary>The magnet with the least margin.</summary>
    public DemagnetizationMargin Worst => Magnets.MinBy(magnet => magnet.Margin)!;

    /// <summary>Whether every magnet stays above the knee of its curve.</summary>
    public bool IsSafe => Worst.Margin > 1 - Knee;

    /// <summary>Checks a track.</summary>
    /// <param name="track">The track.</param>
    /// <param name="temperature">The magnets' temperature, up to the least service temperature of their grades.</param>
    /// <param name="coil">The coil that passes; none if left out.</param>
    /// <param name="current">Its greatest current; the sign does not matter.</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is beyond a grade's service temperature, or the current is not finite.</exception>
    /// <exception cref="ArgumentNullException">The track is missing.</exception>
    public static Demagnetization Of(Track track, Temperature temperature, Coil? coil = null, ElectricCurrent? current = null)
    {
        ArgumentNullException.ThrowIfNull(track);
        double amperes = Math.Abs(Require.Finite(current ?? ElectricCurrent.Zero, "a current is a number", nameof(current)).Amperes);
        return new([.. DemagnetizingCurrents.Of(track, temperature, amperes == 0 ? null : coil).MarginsAt(amperes)], temperature);
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture, $"{(IsSafe ? "safe" : "loses magnetization")} at {Show.Quantity(Temperature)}: {Worst}");
}
