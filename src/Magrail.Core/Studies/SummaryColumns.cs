using UnitsNet;

namespace Magrail;

/// <summary>The figures of a summary as columns of numbers in SI units: the one list by which files write and read them.</summary>
internal static class SummaryColumns
{
    /// <summary>Figures that are numbers.</summary>
    public static IReadOnlyList<(StudyColumn Column, Func<LaunchSummary, double> Value)> Numbers { get; } =
    [
        (new("end speed", "m/s"), s => s.EndSpeed.MetersPerSecond),
        (new("end time", "s"), s => s.EndTime.Seconds),
        (new("end position", "m"), s => s.EndPosition.Meters),
        (new("peak current", "A"), s => s.PeakCurrent.Amperes),
        (new("peak acceleration", "m/s²"), s => s.PeakAcceleration.MetersPerSecondSquared),
        (new("energy drawn", "J"), s => s.EnergyDrawn.Joules),
        (new("relative residual", ""), s => s.RelativeResidual),
        (new("rms current", "A"), s => s.RmsCurrent.Amperes),
        (new("peak source current", "A"), s => s.PeakSourceCurrent.Amperes),
        (new("charge drawn", "C"), s => s.ChargeDrawn.Coulombs),
        (new("hottest coil", "K"), s => s.HottestCoil.Kelvins),
        (new("arc charge", "C"), s => s.ArcCharge.Coulombs),
        (new("least margin", ""), s => s.LeastMargin),
    ];

    /// <summary>Figures that count.</summary>
    public static IReadOnlyList<(StudyColumn Column, Func<LaunchSummary, int> Value)> Counts { get; } =
    [
        (new("steps", ""), s => s.Steps),
        (new("evaluations", ""), s => s.Evaluations),
    ];

    /// <summary>What tells a launcher that could not be launched, in place of an outcome.</summary>
    public const string NotLaunched = "NotLaunched";

    /// <summary>A summary from its columns; null where a figure with a unit is no finite number.</summary>
    public static LaunchSummary? Make(LaunchOutcome outcome, ReadOnlySpan<double> numbers, ReadOnlySpan<int> counts, string? nearestLimit)
    {
        for (int i = 0; i < numbers.Length; i++)
        {
            if (Numbers[i].Column.Unit.Length > 0 && !double.IsFinite(numbers[i]))
            {
                return null;
            }
        }

        return new LaunchSummary(
            outcome,
            Speed.FromMetersPerSecond(numbers[0]),
            Duration.FromSeconds(numbers[1]),
            Length.FromMeters(numbers[2]),
            ElectricCurrent.FromAmperes(numbers[3]),
            Acceleration.FromMetersPerSecondSquared(numbers[4]),
            Energy.FromJoules(numbers[5]),
            numbers[6],
            counts[0],
            counts[1],
            ElectricCurrent.FromAmperes(numbers[7]),
            ElectricCurrent.FromAmperes(numbers[8]),
            ElectricCharge.FromCoulombs(numbers[9]),
            Temperature.FromKelvins(numbers[10]),
            ElectricCharge.FromCoulombs(numbers[11]),
            numbers[12],
            nearestLimit);
    }
}
