using Magrail.Tests.ReferenceData;
using Magrail.Units;
using UnitsNet;
using Xunit.Abstractions;

namespace Magrail.Tests.Launch;

/// <summary>Launches against SciPy's DOP853; scripts and figures lie in ReferenceData.</summary>
public class ReferenceLaunchTests(ITestOutputHelper output)
{
    private const string Dop853 = "SciPy DOP853 at 1e-12 or tighter (script committed)";
    private static readonly AccuracyRow SineFine = new("exit speed and time, sinusoidal force constant over 40 cells with clamp, tolerance 1e-12", Dop853, 5e-13, "of it");
    private static readonly AccuracyRow SineDefault = new("exit speed, sinusoidal force constant, default tolerance (1e-8)", Dop853, 4e-9, "of it");
    private static readonly AccuracyRow SinePeak = new("peak current, sinusoidal force constant, tolerance 1e-12", Dop853 + ", five points a step", 1e-4, "of it");
    private static readonly AccuracyRow TenFine = new("exit speed and time, ten stations of real magnets and coil, tolerance 1e-11, coupling 1e-10", Dop853 + ", field and coupling computed apart", 1e-10, "of it");
    private static readonly AccuracyRow TenEnergies = new("current at the exit, energy drawn, coil heat, ten stations, tolerance 1e-11", Dop853 + ", field and coupling computed apart", 5e-10, "of each");
    private static readonly AccuracyRow TenPeakCurrent = new("peak current, ten stations", Dop853 + ", five points a step", 1e-5, "of it");
    private static readonly AccuracyRow TenPeakAcceleration = new("peak acceleration, ten stations", Dop853 + ", five points a step", 1e-4, "of it");
    private static readonly AccuracyRow TenDefault = new("exit speed, ten stations, default tolerance (1e-8)", Dop853 + ", field and coupling computed apart", 1e-9, "of it");
    private static readonly AccuracyRow Ledger = new("residual of the ledger in these launches, default tolerance", "energy drawn", 1e-6, "of it");

    /// <summary>The force constant as a sine of position; scripts/launch_sinusoidal.py.</summary>
    [Theory]
    [InlineData("pulled")]
    [InlineData("held")]
    public void Sinusoidal_force_constant(string name)
    {
        ReferenceTable.Row row = ReferenceTable.Read("launch-sinusoidal.csv").Rows.Single(r => r.Text("case") == name);
        LaunchResult result = LaunchBench.Launch(Sinusoidal(row), new LaunchOptions { RelativeTolerance = 1e-12 });
        Assert.Equal(LaunchOutcome.Released, result.Outcome);
        SineFine.HoldRatio(row.Number("exit_speed"), result.ExitSpeed.MetersPerSecond);
        SineFine.HoldRatio(row.Number("exit_time"), result.ExitTime.Seconds);
        SinePeak.HoldRatio(row.Number("peak_current"), result.PeakCurrent.Amperes);

        // At the default tolerance, the error that the documentation states.
        LaunchSummary plain = LaunchBench.Simulation(Sinusoidal(row), LaunchOptions.Default).RunSummary();
        Ledger.Hold(plain.RelativeResidual);
        output.WriteLine($"{name}: 1e-12: speed {Off(result.ExitSpeed.MetersPerSecond, row, "exit_speed")}, time {Off(result.ExitTime.Seconds, row, "exit_time")}, residual {result.Ledger.RelativeResidual:E1}");
        LaunchSummary rough = LaunchBench.Simulation(Sinusoidal(row), new LaunchOptions { RelativeTolerance = 1e-6 }).RunSummary();
        output.WriteLine($"{name}: 1e-6: speed {Off(rough.EndSpeed.MetersPerSecond, row, "exit_speed")}, time {Off(rough.EndTime.Seconds, row, "exit_time")}, residual {rough.RelativeResidual:E1}");
        output.WriteLine($"{name}: default: speed {Off(plain.EndSpeed.MetersPerSecond, row, "exit_speed")}, time {Off(plain.EndTime.Seconds, row, "exit_time")}, residual {plain.RelativeResidual:E1}");
        SineDefault.HoldRatio(row.Number("exit_speed"), plain.EndSpeed.MetersPerSecond);
    }

    private static string Off(double value, ReferenceTable.Row row, string column) => $"{(value / row.Number(column)) - 1:E1}";

    private static readonly double[] Tolerances = [1e-7, 1e-9, 1e-11];

    /// <summary>A hundredth of the tolerance brings the error down at least thirtyfold.</summary>
    [Fact]
    public void Error_falls_with_the_tolerance()
    {
        ReferenceTable.Row row = ReferenceTable.Read("launch-sinusoidal.csv").Rows.Single(r => r.Text("case") == "pulled");
        double[] errors = [.. Tolerances.Select(tolerance => Math.Abs(
            (LaunchBench.Launch(Sinusoidal(row), new LaunchOptions { RelativeTolerance = tolerance }).ExitSpeed.MetersPerSecond / row.Number("exit_speed")) - 1))];
        output.WriteLine(string.Join(", ", errors.Select(error => $"{error:E1}")));
        for (int i = 1; i < errors.Length; i++)
        {
            Assert.True(errors[i] < errors[i - 1] / 30, string.Join(", ", errors));
        }
    }

    /// <summary>Ten stations from real parts; scripts/launch_ten_stations.py computes field, coupling and course apart from the library.</summary>
    [Fact]
    public void Ten_stations_from_real_parts()
    {
        ReferenceTable.Row row = Assert.Single(ReferenceTable.Read("launch-ten-stations.csv").Rows);
        Launcher launcher = LaunchBench.Whole();
        CoilSi coil = LaunchBench.Coil.ToSi();
        Assert.Equal(row.Number("coil_ohms"), LaunchBench.Coil.Resistance.Ohms, 1e-12);
        Assert.Equal(1, LaunchBench.Coil.Inductance.Henries / row.Number("henries"), 1e-9);
        Assert.Equal(row.Number("coil_kilograms"), LaunchBench.Coil.Mass.Kilograms, 1e-14);
        Assert.Equal(row.Number("depth"), coil.Full.OuterDepth, 1e-14);
        Assert.Equal(row.Number("half_axial"), coil.Full.AxialTo, 1e-14);
        Assert.Equal(row.Number("turns"), coil.Turns, 1e-12);

        LaunchResult result = LaunchBench.Launch(launcher, LaunchBench.Fine);
        Assert.Equal(LaunchOutcome.Released, result.Outcome);
        Assert.Equal(row.Number("start"), result.Trace.PositionMeters[0], 1e-12);
        Assert.Equal(row.Number("release"), result.EndPosition.Meters, 1e-12);
        Assert.Equal(row.Number("k_at_start"), result.ForceConstantAt(row.Number("start").Meters()).NewtonsPerAmpere, 1e-9 * row.Number("station_peak"));
        TenFine.HoldRatio(row.Number("exit_speed"), result.ExitSpeed.MetersPerSecond);
        TenFine.HoldRatio(row.Number("exit_time"), result.ExitTime.Seconds);
        TenEnergies.HoldRatio(row.Number("exit_current"), result.Trace.At(result.Trace.End).Currents[0].Amperes);
        TenEnergies.HoldRatio(row.Number("drawn"), result.Ledger.Drawn.Joules);
        TenEnergies.HoldRatio(row.Number("coil_heat"), result.Ledger.CoilHeat.Joules);
        TenPeakCurrent.HoldRatio(row.Number("peak_current"), result.PeakCurrent.Amperes);
        TenPeakAcceleration.HoldRatio(row.Number("peak_acceleration"), result.PeakAcceleration.MetersPerSecondSquared);

        LaunchResult plain = LaunchBench.Launch(launcher);
        output.WriteLine($"fine: speed {Off(result.ExitSpeed.MetersPerSecond, row, "exit_speed")}, time {Off(result.ExitTime.Seconds, row, "exit_time")}, current {Off(result.Trace.At(result.Trace.End).Currents[0].Amperes, row, "exit_current")}, drawn {Off(result.Ledger.Drawn.Joules, row, "drawn")}, coil heat {Off(result.Ledger.CoilHeat.Joules, row, "coil_heat")}, residual {result.Ledger.RelativeResidual:E1}");
        output.WriteLine($"default: speed {Off(plain.ExitSpeed.MetersPerSecond, row, "exit_speed")}, time {Off(plain.ExitTime.Seconds, row, "exit_time")}, residual {plain.Ledger.RelativeResidual:E1}, peaks {Off(plain.PeakCurrent.Amperes, row, "peak_current")}, {Off(plain.PeakAcceleration.MetersPerSecondSquared, row, "peak_acceleration")}");
        TenDefault.HoldRatio(row.Number("exit_speed"), plain.ExitSpeed.MetersPerSecond);
        Ledger.Hold(Math.Abs(plain.Ledger.RelativeResidual));
    }

    internal static LauncherSi Sinusoidal(ReferenceTable.Row row)
    {
        double p = row.Number("pitch_meters"), k0 = row.Number("peak_newtons_per_ampere"), pull = row.Number("pull_newtons");
        int cells = (int)row.Number("cells");
        bool held = row.Text("case") == "held";
        const double Brush = 1e-3;
        List<ContactStrip> upper = [], lower = [];
        for (int k = 0; k < cells; k++)
        {
            // The first strip of the pulled case begins earlier, since the sled first yields a little.
            double from = (k + (k == 0 && !held ? 0.05 : 0.1)) * p;
            Length start = (from + (0.5 * Brush)).Meters();
            Length end = (((k + 0.9) * p) - (0.5 * Brush)).Meters();
            upper.Add(new ContactStrip(start, end, k % 2 == 0 ? Bus.Plus : Bus.Minus));
            lower.Add(new ContactStrip(start, end, k % 2 == 0 ? Bus.Minus : Bus.Plus));
        }

        DriveSchedule schedule = DriveSchedule.Of(new ContactCommutator(new ContactLine(upper), new ContactLine(lower), new Brush(Brush.Meters())), 0);
        var circuit = new CircuitSi
        {
            Curve = CircuitCurve.OfFunction(x => k0 * Math.Sin(Math.PI * x / p), -2 * p, (cells + 2) * p, 4 * (cells + 4)),
            CoilResistance = row.Number("ohms"),
            UpperBrush = new BrushSi(0),
            Schedule = schedule,
        };
        return LaunchBench.Si(
            [circuit],
            [row.Number("henries")],
            new SourceSi(row.Number("volts"), 0, double.PositiveInfinity, double.PositiveInfinity),
            row.Number("kilograms"),
            cells * p,
            start: 0.1 * p,
            clamp: row.Number("clamp_volts"),
            sliding: held ? pull : 0,
            drag: row.Number("drag_factor"),
            slope: held ? 0 : pull);
    }
}
