using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The sideways force of a station on a coil that is off the middle of its path: per ampere, as a function of the displacement along the track.
/// </summary>
/// <remarks>
/// It does no work on a sled that its guides hold, but it loads them and so adds friction. In the middle of a symmetric station it vanishes; off
/// the middle it grows with the offset. The flux linkage is a harmonic function of the coil's place, so that the three
/// derivatives ∂Kx/∂x + ∂Ky/∂y + ∂Kz/∂z add up to zero: no coil with a steady current is held in all directions (Earnshaw).
/// </remarks>
public sealed class LateralForce
{
    private readonly StationCurve acrossCurve;
    private readonly StationCurve upCurve;
    private readonly double factor;

    private LateralForce(Coil coil, MagnetStation station, Length across, Length up, StationCurve acrossCurve, StationCurve upCurve)
    {
        Coil = coil;
        Station = station;
        OffsetAcross = across;
        OffsetUp = up;
        this.acrossCurve = acrossCurve;
        this.upCurve = upCurve;
        factor = coil.Turns * station.ToSi().Remanence;
    }

    /// <summary>The coil.</summary>
    public Coil Coil { get; }

    /// <summary>The station.</summary>
    public MagnetStation Station { get; }

    /// <summary>How far the coil is off the path, across.</summary>
    public Length OffsetAcross { get; }

    /// <summary>How far the coil is off the path, upward.</summary>
    public Length OffsetUp { get; }

    /// <summary>The greatest error of either component, as observed while compiling.</summary>
    public ForceConstant ErrorBound => Constant(Math.Max(acrossCurve.ErrorBound, upCurve.ErrorBound));

    /// <summary>The force on a coil held off its path.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="station">The station, with positive polarity and its magnets at 20 °C.</param>
    /// <param name="across">Offset of the coil's middle from the path, across.</param>
    /// <param name="up">Offset of the coil's middle from the path, upward.</param>
    /// <param name="relativeAccuracy">Greatest error as a fraction of the peak force along the track, 1e-8 to 0.01.</param>
    /// <exception cref="ArgumentOutOfRangeException">An offset is not finite, or the accuracy is out of range.</exception>
    /// <exception cref="ArgumentException">The coil would run into the magnets.</exception>
    /// <exception cref="ArgumentNullException">The coil or the station is missing.</exception>
    public static LateralForce Of(
        Coil coil, MagnetStation station, Length across, Length up, [Dimensionless] double relativeAccuracy = 1e-3)
    {
        ArgumentNullException.ThrowIfNull(coil);
        ArgumentNullException.ThrowIfNull(station);
        Length y = Require.Finite(across, "the coil has a place");
        Length z = Require.Finite(up, "the coil has a place");
        Require.InRange(relativeAccuracy, 1e-8, 1e-2, "more is slow to compute and less is of no use");
        CouplingCurve.RequireClearPath(coil, station, y.Meters, z.Meters);
        CoilSi winding = coil.ToSi();
        StationSi seen = station.ToSi();
        return new(
            coil,
            station,
            y,
            z,
            StationCurve.Of(winding, seen, relativeAccuracy, TrackAxis.Across, y.Meters, z.Meters),
            StationCurve.Of(winding, seen, relativeAccuracy, TrackAxis.Up, y.Meters, z.Meters));
    }

    /// <summary>Force across the gap per ampere, toward +y.</summary>
    /// <param name="displacement">The coil's middle ahead of the station's origin.</param>
    /// <exception cref="ArgumentOutOfRangeException">The displacement is not finite.</exception>
    public ForceConstant AcrossAt(Length displacement)
        => Constant(acrossCurve.At(Require.Finite(displacement, "the coil has a place").Meters));

    /// <summary>Force upward per ampere.</summary>
    /// <param name="displacement">The coil's middle ahead of the station's origin.</param>
    /// <exception cref="ArgumentOutOfRangeException">The displacement is not finite.</exception>
    public ForceConstant UpAt(Length displacement)
        => Constant(upCurve.At(Require.Finite(displacement, "the coil has a place").Meters));

    /// <summary>
    /// How fast the sideways forces grow with the offset about the middle of the path: the force per length, at a current; negative where it
    /// draws the coil back to the middle, positive where it pushes it away.
    /// </summary>
    /// <param name="coil">The coil.</param>
    /// <param name="station">The station, with positive polarity and its magnets at 20 °C.</param>
    /// <param name="displacement">The coil's middle ahead of the station's origin.</param>
    /// <param name="current">The current.</param>
    /// <exception cref="ArgumentOutOfRangeException">The displacement or the current is not finite.</exception>
    /// <exception cref="ArgumentException">The coil would run into the magnets.</exception>
    /// <exception cref="ArgumentNullException">The coil or the station is missing.</exception>
    public static (ForcePerLength Across, ForcePerLength Up) Stiffness(
        Coil coil, MagnetStation station, Length displacement, ElectricCurrent current)
    {
        ArgumentNullException.ThrowIfNull(coil);
        ArgumentNullException.ThrowIfNull(station);
        CouplingCurve.RequireClearPath(coil, station);
        double x = Require.Finite(displacement, "the coil has a place").Meters;
        double amperes = Require.Finite(current, "a current is a number").Amperes;
        CoilSi winding = coil.ToSi();
        double clearance = station.Magnets.Min(magnet => CoilClearance.Between(winding, magnet.ToSi()));
        double step = Math.Min(0.02 * Math.Min(winding.HalfWidth, winding.HalfHeight), 0.2 * Math.Max(clearance, 1e-3 * winding.HalfWidth));
        WindingElements pieces = WindingElements.Near(winding, Math.Max(clearance - step, 1e-3 * winding.HalfWidth), 8);
        StationSi bodies = station.ToSi();
        double across = pieces.Force(bodies, new(x, step, 0)).Y - pieces.Force(bodies, new(x, -step, 0)).Y;
        double up = pieces.Force(bodies, new(x, 0, step)).Z - pieces.Force(bodies, new(x, 0, -step)).Z;
        double scale = coil.Turns * amperes / (2 * step);
        return (ForcePerLength.FromNewtonsPerMeter(scale * across), ForcePerLength.FromNewtonsPerMeter(scale * up));
    }

    /// <inheritdoc/>
    public override string ToString()
        => $"lateral force of a coil {Show.Quantity(OffsetAcross)} across and {Show.Quantity(OffsetUp)} up off its path, within {ErrorBound}";

    private ForceConstant Constant(double perTurnAndTesla) => ForceConstant.FromNewtonsPerAmpere(factor * perTurnAndTesla);
}
