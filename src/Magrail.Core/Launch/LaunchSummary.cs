using UnitsNet;

namespace Magrail;

/// <summary>The figures of a launch without its course: what a sweep keeps of each of its points.</summary>
/// <param name="Outcome">How it ended.</param>
/// <param name="EndSpeed">Speed at the end of the run; the exit speed where the payload was released.</param>
/// <param name="EndTime">Time at the end of the run.</param>
/// <param name="EndPosition">Position at the end of the run.</param>
/// <param name="PeakCurrent">The greatest coil current.</param>
/// <param name="PeakAcceleration">The greatest acceleration, either way.</param>
/// <param name="EnergyDrawn">Energy drawn from the source.</param>
/// <param name="RelativeResidual">What the energy ledger does not close by, as a part of the energy turned over.</param>
/// <param name="Steps">Steps accepted.</param>
/// <param name="Evaluations">Evaluations of the equations.</param>
public readonly record struct LaunchSummary(
    LaunchOutcome Outcome,
    Speed EndSpeed,
    Duration EndTime,
    Length EndPosition,
    ElectricCurrent PeakCurrent,
    Acceleration PeakAcceleration,
    Energy EnergyDrawn,
    [property: Sources.Dimensionless] double RelativeResidual,
    int Steps,
    int Evaluations);
