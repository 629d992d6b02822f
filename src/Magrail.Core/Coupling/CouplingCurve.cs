using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// K(d), the force constant of one coil over one station, as a function of the displacement d of the coil's middle from the
/// station's origin.
/// </summary>
/// <remarks>
/// <para>
/// K = dλ/dd = ∮ (dl × B)·x̂ over all turns, the winding section taken as an even sheet of turns (see <see cref="Coil"/>), the
/// magnets as rigid. It is compiled once for a geometry to polynomials with a known error and kept in a cache; remanence
/// and number of turns scale it.
/// </para>
/// <para>Immutable and safe to share between threads.</para>
/// </remarks>
public sealed class CouplingCurve
{
    private readonly StationCurve curve;
    private readonly double factor;

    private CouplingCurve(Coil coil, MagnetStation station, StationCurve curve)
    {
        Coil = coil;
        Station = station;
        this.curve = curve;
        factor = coil.Turns * station.ToSi().Remanence;
    }

    /// <summary>The coil.</summary>
    public Coil Coil { get; }

    /// <summary>The station.</summary>
    public MagnetStation Station { get; }

    /// <summary>The greatest |K|.</summary>
    public ForceConstant Peak => Constant(curve.Peak);

    /// <summary>The displacement at which the greatest |K| is found.</summary>
    public Length PeakAt => Length.FromMeters(curve.PeakAt);

    /// <summary>The greatest error of <see cref="At"/> against the integral it stands for, as observed while compiling.</summary>
    public ForceConstant ErrorBound => Constant(curve.ErrorBound);

    /// <summary>Beyond this displacement |K| is below the asked accuracy times the peak. <see cref="At"/> follows it farther.</summary>
    public Length Reach => Length.FromMeters(curve.Reach);

    /// <summary>The curve of a coil over a station.</summary>
    /// <param name="coil">The coil, its middle on the path.</param>
    /// <param name="station">The station, with positive polarity and its magnets at 20 °C.</param>
    /// <param name="relativeAccuracy">Greatest error as a fraction of the peak, 1e-11 to 0.01.</param>
    /// <exception cref="ArgumentOutOfRangeException">The accuracy is out of range.</exception>
    /// <exception cref="ArgumentException">The coil would run into the magnets.</exception>
    /// <exception cref="ArgumentNullException">The coil or the station is missing.</exception>
    public static CouplingCurve Of(Coil coil, MagnetStation station, [Dimensionless] double relativeAccuracy = 1e-7)
    {
        ArgumentNullException.ThrowIfNull(coil);
        ArgumentNullException.ThrowIfNull(station);
        Require.InRange(relativeAccuracy, 1e-11, 1e-2, "double precision carries no more, and less is of no use");
        RequireClearPath(coil, station);
        return new(coil, station, StationCurve.Of(coil.ToSi(), station.ToSi(), relativeAccuracy));
    }

    /// <summary>K at a displacement: the force along the track per ampere.</summary>
    /// <param name="displacement">The coil's middle ahead of the station's origin.</param>
    /// <exception cref="ArgumentOutOfRangeException">The displacement is not finite.</exception>
    public ForceConstant At(Length displacement)
        => Constant(curve.At(Require.Finite(displacement, "the coil has a place").Meters));

    /// <inheritdoc/>
    public override string ToString() => $"K up to {Peak} at {Show.Quantity(PeakAt)}, within {ErrorBound}";

    /// <summary>Refuses a coil that cannot pass.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="station">The station.</param>
    /// <param name="across">How far the coil is off its path across, m.</param>
    /// <param name="up">How far the coil is off its path upward, m.</param>
    internal static void RequireClearPath(Coil coil, MagnetStation station, double across = 0, double up = 0)
    {
        CoilSi winding = coil.ToSi();
        foreach (PlacedMagnet magnet in station.Magnets)
        {
            BodySi body = magnet.ToSi();
            double clearance = CoilClearance.Between(winding, body with { Center = body.Center - new Vector3D(0, across, up) });
            if (clearance < 0)
            {
                throw new ArgumentException(
                    $"the coil runs into a magnet: its winding overlaps the {magnet.Body} by {Show.Quantity(Length.FromMeters(-clearance))} on its way; the path must be clear.",
                    nameof(coil));
            }
        }
    }

    private ForceConstant Constant(double perTurnAndTesla) => ForceConstant.FromNewtonsPerAmpere(factor * perTurnAndTesla);
}
