using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>The figures of a launch without its course: what a study keeps of each of its points.</summary>
/// <remarks>
/// Each figure is that of <see cref="LaunchResult"/>, to the bit. What is missing needs the course: the traces, the list of breaks and crossings, the greatest
/// lateral force, the least voltage between the rails.
/// </remarks>
/// <param name="Outcome">How it ended.</param>
/// <param name="EndSpeed">Speed at the end of the run; the exit speed where the payload was released.</param>
/// <param name="EndTime">Time at the end of the run.</param>
/// <param name="EndPosition">Position at the end of the run.</param>
/// <param name="PeakCurrent">The greatest coil current; sampled at five points a step, good to about 0.1 %.</param>
/// <param name="PeakAcceleration">The greatest acceleration, either way; sampled at five points a step, good to about 0.1 %.</param>
/// <param name="EnergyDrawn">Energy drawn from the source.</param>
/// <param name="RelativeResidual">What the energy ledger does not close by, as a part of the energy turned over.</param>
/// <param name="Steps">Steps accepted, those of the braking behind the release included.</param>
/// <param name="Evaluations">Evaluations of the equations, those of the braking included.</param>
/// <param name="RmsCurrent">Root mean square of the coil current, of the circuit that carries most.</param>
/// <param name="PeakSourceCurrent">The greatest current from the source; sampled at five points a step.</param>
/// <param name="ChargeDrawn">Charge drawn from the source.</param>
/// <param name="HottestCoil">Temperature of the hottest coil at the end, as if none of its heat had gone anywhere.</param>
/// <param name="ArcCharge">Charge through the arcs of the circuit that wears most; zero where no arc is computed.</param>
/// <param name="LeastMargin">
/// The margin of the nearest limit as in <see cref="LimitTable"/>, negative where it is broken; NaN where the limits were not asked for.
/// </param>
/// <param name="NearestLimit">The name of that limit, such as <c>coil insulation</c>; null where the limits were not asked for.</param>
public readonly record struct LaunchSummary(
    LaunchOutcome Outcome,
    Speed EndSpeed,
    Duration EndTime,
    Length EndPosition,
    ElectricCurrent PeakCurrent,
    Acceleration PeakAcceleration,
    Energy EnergyDrawn,
    [property: Dimensionless] double RelativeResidual,
    int Steps,
    int Evaluations,
    ElectricCurrent RmsCurrent,
    ElectricCurrent PeakSourceCurrent,
    ElectricCharge ChargeDrawn,
    Temperature HottestCoil,
    ElectricCharge ArcCharge,
    [property: Dimensionless] double LeastMargin,
    string? NearestLimit)
{
    /// <summary>Whether the payload was released with every stated limit kept, to round-off as <see cref="Limit.IsBroken"/> has it; false where the limits were not asked for.</summary>
    public bool Holds => Outcome == LaunchOutcome.Released && !double.IsNaN(LeastMargin) && !Limit.IsBrokenBy(LeastMargin);

    /// <summary>The summary from plain figures.</summary>
    internal static LaunchSummary Of(in LaunchFigures figures, double leastMargin, string? nearestLimit) => new(
        figures.Outcome,
        Speed.FromMetersPerSecond(figures.EndSpeed),
        Duration.FromSeconds(figures.EndTime),
        Length.FromMeters(figures.EndPosition),
        ElectricCurrent.FromAmperes(figures.PeakCurrent),
        Acceleration.FromMetersPerSecondSquared(figures.PeakAcceleration),
        Energy.FromJoules(figures.EnergyDrawn),
        figures.RelativeResidual,
        figures.Steps,
        figures.Evaluations,
        ElectricCurrent.FromAmperes(figures.RmsCurrent),
        ElectricCurrent.FromAmperes(figures.PeakSourceCurrent),
        ElectricCharge.FromCoulombs(figures.ChargeDrawn),
        Temperature.FromKelvins(figures.HottestCoil),
        ElectricCharge.FromCoulombs(figures.ArcCharge),
        leastMargin,
        nearestLimit);

    /// <summary>The summary in a line.</summary>
    public override string ToString()
    {
        string head = Outcome == LaunchOutcome.Released ? $"exit speed {Show.Quantity(EndSpeed)} after {Show.Quantity(EndTime)}" : $"not released, the sled {Outcome.InWords()}";
        string limit = NearestLimit is null ? string.Empty : $"; {Limit.InWords(NearestLimit, LeastMargin)}";
        return $"{head}; peak {Show.Quantity(PeakCurrent)}, {Show.Quantity(PeakAcceleration)}; {Show.Quantity(EnergyDrawn)} drawn{limit}";
    }
}
