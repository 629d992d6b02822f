using Magrail.Tests.ReferenceData;
using Magrail.Units;
using UnitsNet;
using Xunit.Abstractions;

namespace Magrail.Tests.Launch;

/// <summary>Launches with every effect of power path, contacts, heat and braking against SciPy; ReferenceData/scripts/launch_effects.py.</summary>
public class ReferenceEffectsTests(ITestOutputHelper output)
{
    private const string Dop853 = "SciPy DOP853 at 3e-14 (script committed)";
    private const string Coarser = "SciPy DOP853 at 1e-12 (script committed)";
    private static readonly AccuracyRow Bars = new("exit speed and time, ledger, bus bars fed at one end, at both", Dop853, 2e-11, "of each");
    private static readonly AccuracyRow Arcs = new("exit speed and time, ledger, arc with a column at every break, two in series", Dop853, 5e-11, "of each");
    private static readonly AccuracyRow Flashes = new("exit speed and time, ledger, arcs that flash over to the next strip", Dop853, 5e-11, "of each");
    private static readonly AccuracyRow ArcResistor = new("exit speed and time, ledger, arc with a resistor across the coil", Dop853, 5e-11, "of each");
    private static readonly AccuracyRow SeriesRc = new("exit speed and time, ledger, resistor and capacitor across the coil, bouncing switch", Dop853, 2e-11, "of each");
    private static readonly AccuracyRow ArcClamp = new("exit speed and time, ledger, arc and clamp", Dop853, 1e-10, "of each");
    private static readonly AccuracyRow Warming = new("exit speed and time, ledger, coil that warms by 55 K", Dop853 + ", temperature as a state", 5e-11, "of each");
    private static readonly AccuracyRow Overlap = new("exit speed and time, ledger, contact resistance by overlap", Dop853, 1e-9, "of each");
    private static readonly AccuracyRow Drops = new("exit speed and time, ledger, brushes with a drop, currents that die and come back, arcs, resistor", Dop853, 1e-10, "of each");
    private static readonly AccuracyRow Limited = new("exit speed and time, ledger, supply at its limit with a resistor across the coil", Dop853, 5e-11, "of each");
    private static readonly AccuracyRow All = new("exit speed and time, ledger, place of rest, all effects at once", Dop853, 1e-10, "of each");
    private static readonly AccuracyRow TwoCoils = new("exit speed and time, currents, ledger, two coupled coils, arcs burning on both, at the current limit too", Coarser, 1e-10, "of each");
    private static readonly AccuracyRow Peaks = new("peak current with these effects", Dop853 + ", five points a step", 1e-4, "of it");
    private static readonly AccuracyRow Default = new("exit speed and ledger with these effects, default tolerance (1e-8)", Dop853, 1e-7, "of each, of the energy drawn");

    [Theory]
    [InlineData("bars-start")]
    [InlineData("bars-both")]
    [InlineData("arc-column")]
    [InlineData("arc-staggered")]
    [InlineData("flash-over")]
    [InlineData("arc-resistor")]
    [InlineData("series-rc")]
    [InlineData("arc-clamp")]
    [InlineData("warming")]
    [InlineData("overlap")]
    [InlineData("drop")]
    [InlineData("drop-held")]
    [InlineData("drop-arc")]
    [InlineData("drop-resistor")]
    [InlineData("limit-resistor")]
    [InlineData("all")]
    public void Launch_with_effects(string name)
    {
        ReferenceTable.Row row = ReferenceTable.Read("launch-effects.csv").Rows.Single(r => r.Text("case") == name);
        AccuracyRow held = name switch
        {
            "bars-start" or "bars-both" => Bars,
            "arc-column" or "arc-staggered" => Arcs,
            "flash-over" => Flashes,
            "arc-resistor" => ArcResistor,
            "series-rc" => SeriesRc,
            "arc-clamp" => ArcClamp,
            "warming" => Warming,
            "overlap" => Overlap,
            "drop" or "drop-held" or "drop-arc" or "drop-resistor" => Drops,
            "limit-resistor" => Limited,
            _ => All,
        };
        LaunchResult result = LaunchBench.Launch(Described(row), new LaunchOptions { RelativeTolerance = 1e-12 });
        Assert.Equal(LaunchOutcome.Released, result.Outcome);
        foreach ((string column, double value) in Figures(result))
        {
            output.WriteLine($"{name} {column}: {value:G12}, off by {value - row.Number(column):E1}");
        }

        foreach ((string column, double value) in Figures(result))
        {
            double expected = row.Number(column);
            if (expected == 0)
            {
                Assert.Equal(0, value, 1e-12);
            }
            else
            {
                held.HoldRatio(expected, value, $"{name} {column}");
            }
        }

        Peaks.HoldRatio(row.Number("peak_current"), result.PeakCurrent.Amperes, name);
        if (row.Number("heat_capacity") > 0 && result.Braking is null)
        {
            // The temperature as the result tells it is that of the bench's own coil; its rise here follows from the heat.
            held.HoldRatio(row.Number("rise"), result.Ledger.CoilHeat.Joules / row.Number("heat_capacity"), $"{name} rise");
        }

        HoldsItsCounts(row, result);

        // What the breaks cost at the contacts is what the ledger has for arcs, the braking's included.
        held.HoldDifference(row.Number("arc_at_stop"), result.Breaks.Sum(one => one.Energy.Joules), row.Number("drawn"), $"{name} breaks");
    }

    /// <summary>The same launches as they are made without a word about tolerances, all in one.</summary>
    [Fact]
    public void Launches_with_effects_at_the_default_tolerance()
    {
        foreach (ReferenceTable.Row row in ReferenceTable.Read("launch-effects.csv").Rows)
        {
            string name = row.Text("case");
            LaunchResult plain = LaunchBench.Launch(Described(row), LaunchOptions.Default);
            Assert.Equal(LaunchOutcome.Released, plain.Outcome);
            Default.HoldRatio(row.Number("exit_speed"), plain.ExitSpeed.MetersPerSecond, name);
            foreach ((string column, double value) in Figures(plain).Skip(3))
            {
                if (column is not "stop" and not "stop_time")
                {
                    Default.HoldDifference(row.Number(column), value, row.Number("drawn"), $"{name} {column}");
                }
            }

            HoldsItsCounts(row, plain);
        }
    }

    /// <summary>Two coils with mutual inductance, on brushes of their own a way apart; scripts/launch_two_coils.py.</summary>
    [Theory]
    [InlineData("apart")]
    [InlineData("against")]
    [InlineData("limited")]
    [InlineData("flashes")]
    public void Two_coupled_coils(string name)
    {
        ReferenceTable.Row row = ReferenceTable.Read("launch-two-coils.csv").Rows.Single(r => r.Text("case") == name);
        LaunchResult result = LaunchBench.Launch(TwoCoilsOf(row), new LaunchOptions { RelativeTolerance = 1e-12 });
        (string Column, double Value)[] figures = [.. FiguresOfTwo(result)];
        foreach ((string column, double value) in figures)
        {
            output.WriteLine($"{name} {column}: {value:G12}, off by {value - row.Number(column):E1}");
        }

        Assert.All(figures, figure => TwoCoils.HoldRatio(row.Number(figure.Column), figure.Value, $"{name} {figure.Column}"));
        Assert.Equal((int)row.Number("breaks"), result.Breaks.Length);
        Assert.Equal((int)row.Number("flashes"), result.Breaks.Count(one => one.FlashOverPosition is not null));
        TwoCoils.HoldDifference(row.Number("arc"), result.Breaks.Sum(one => one.Energy.Joules), row.Number("drawn"), $"{name} breaks");
    }

    [Fact]
    public void Two_coupled_coils_at_the_default_tolerance()
    {
        foreach (ReferenceTable.Row row in ReferenceTable.Read("launch-two-coils.csv").Rows)
        {
            string name = row.Text("case");
            LaunchResult plain = LaunchBench.Launch(TwoCoilsOf(row), LaunchOptions.Default);
            Default.HoldRatio(row.Number("exit_speed"), plain.ExitSpeed.MetersPerSecond, name);
            foreach ((string column, double value) in FiguresOfTwo(plain).Skip(4))
            {
                Default.HoldDifference(row.Number(column), value, row.Number("drawn"), $"{name} {column}");
            }

            Assert.Equal((int)row.Number("breaks"), plain.Breaks.Length);
            Assert.Equal((int)row.Number("flashes"), plain.Breaks.Count(one => one.FlashOverPosition is not null));
        }
    }

    private static void HoldsItsCounts(ReferenceTable.Row row, LaunchResult result)
    {
        Assert.Equal((int)row.Number("flashes"), result.Breaks.Count(one => one.FlashOverPosition is not null));
        Assert.Equal((int)row.Number("breaks"), result.Breaks.Count(one => one.Time <= result.EndTime) + (result.Braking is null ? 0 : 1));
    }

    private static IEnumerable<(string Column, double Value)> Figures(LaunchResult result)
    {
        yield return ("exit_speed", result.ExitSpeed.MetersPerSecond);
        yield return ("exit_time", result.ExitTime.Seconds);
        yield return ("exit_current", result.Trace.At(result.Trace.End).Currents[0].Amperes);
        yield return ("drawn", result.Ledger.Drawn.Joules);
        yield return ("coil_heat", result.Ledger.CoilHeat.Joules);
        yield return ("other_heat", result.Ledger.OtherHeat.Joules);
        yield return ("arc", result.Ledger.Arcs.Joules);
        yield return ("suppressor", result.Ledger.Suppressed.Joules);
        yield return ("friction", result.Ledger.Friction.Joules);
        yield return ("drag_work", result.Ledger.Drag.Joules);
        if (result.Braking is { } braking)
        {
            Assert.Equal(BrakingOutcome.Stopped, braking.Outcome);
            yield return ("stop", braking.StopPosition.Meters);
            yield return ("stop_time", result.EndTime.Seconds + braking.Duration.Seconds);
            yield return ("arc_at_stop", braking.Ledger.Arcs.Joules);
            yield return ("suppressor_at_stop", braking.Ledger.Suppressed.Joules);
            yield return ("brake_at_stop", braking.Ledger.Brake.Joules);
        }
    }

    private static IEnumerable<(string Column, double Value)> FiguresOfTwo(LaunchResult result)
    {
        LaunchSample end = result.Trace.At(result.Trace.End);
        yield return ("exit_speed", result.ExitSpeed.MetersPerSecond);
        yield return ("exit_time", result.ExitTime.Seconds);
        yield return ("exit_current_a", end.Currents[0].Amperes);
        yield return ("exit_current_b", end.Currents[1].Amperes);
        yield return ("drawn", result.Ledger.Drawn.Joules);
        yield return ("coil_heat", result.Ledger.CoilHeat.Joules);
        yield return ("other_heat", result.Ledger.OtherHeat.Joules);
        yield return ("arc", result.Ledger.Arcs.Joules);
    }

    internal static LauncherSi TwoCoilsOf(ReferenceTable.Row row)
    {
        double p = row.Number("pitch"), k0 = row.Number("k0"), limit = row.Number("limit"), mutual = row.Number("mutual");
        int cells = (int)row.Number("cells");
        double b = 0.05 * p;
        ContactLine Line(int first) => new(Enumerable.Range(0, cells + 3).Select(k => new ContactStrip(
            (((k + 0.1) * p) + (0.5 * b)).Meters(), (((k + 0.9) * p) - (0.5 * b)).Meters(), k % 2 == first ? Bus.Plus : Bus.Minus)));
        var contacts = new ContactCommutator(Line(0), Line(1), new Brush(b.Meters(), 0.Ohms()));
        CircuitSi Circuit(double ahead, double ohms) => new()
        {
            Curve = CircuitCurve.OfFunction(x => k0 * Math.Sin(Math.PI * (x + ahead) / p), -2 * p, (cells + 2) * p, 4 * (cells + 4)),
            CoilResistance = ohms,
            UpperBrush = new BrushSi(0),
            Schedule = DriveSchedule.Of(contacts, ahead),
        };
        return LaunchBench.Si(
            [Circuit(0, row.Number("ohms_a")), Circuit(row.Number("distance"), row.Number("ohms_b"))],
            [row.Number("henries_a"), mutual, mutual, row.Number("henries_b")],
            new SourceSi(row.Number("volts"), row.Number("source_ohms"), limit > 0 ? limit : double.PositiveInfinity, double.PositiveInfinity),
            row.Number("kilograms"),
            cells * p,
            start: 0.2 * p,
            startSpeed: row.Number("start_speed")) with
        {
            Arc = ArcCharacteristic.Column(row.Number("arc_fall").Volts(), ElectricField.FromVoltsPerMeter(row.Number("arc_field")), 0.01.Amperes()).ToSi(),
        };
    }

    internal static LauncherSi Described(ReferenceTable.Row row)
    {
        double p = row.Number("pitch"), k0 = row.Number("k0"), b = row.Number("brush"), limit = row.Number("limit");
        int cells = (int)row.Number("cells");
        double q = row.Number("q_ohms"), l = row.Number("l_ohms"), capacity = row.Number("heat_capacity"), ohms = row.Number("ohms");
        Brush brush = q + l > 0 ? new Brush(b.Meters(), new ContactResistance(q.Ohms(), l.Ohms()), 1.Newtons()) : new Brush(b.Meters(), 0.Ohms());
        brush = brush with { Drop = row.Number("drop").Volts() };
        ContactLine Line(double shift, int first) => new(Enumerable.Range(0, cells).Select(k => new ContactStrip(
            (((k + 0.1) * p) + shift + (0.5 * b)).Meters(), (((k + 0.9) * p) + shift - (0.5 * b)).Meters(), k % 2 == first ? Bus.Plus : Bus.Minus)));
        var circuit = new CircuitSi
        {
            Curve = CircuitCurve.OfFunction(x => k0 * Math.Sin(Math.PI * x / p), -2 * p, (4 * cells) * p, 4 * ((4 * cells) + 2)),
            CoilResistance = ohms,
            Heating = capacity > 0 ? [new CoilHeatSi(ohms, row.Number("alpha") * ohms / capacity, capacity)] : [],
            UpperBrush = brush.ToSi(),
            LowerBrush = brush.ToSi(),
            Schedule = DriveSchedule.Of(new ContactCommutator(Line(0, 0), Line(row.Number("stagger"), 1), brush), 0),
        };
        double release = row.Number("release_part") * cells * p, fall = row.Number("arc_fall"), clamp = row.Number("clamp");
        double parallel = row.Number("parallel_ohms"), farads = row.Number("farads"), sled = row.Number("sled_kilograms");
        var source = new SourceSi(row.Number("volts"), row.Number("source_ohms"), limit > 0 ? limit : double.PositiveInfinity, double.PositiveInfinity);
        LauncherSi si = LaunchBench.Si(
            [circuit],
            [row.Number("henries")],
            source,
            row.Number("kilograms"),
            release,
            start: 0.2 * p,
            startSpeed: row.Number("start_speed"),
            sliding: row.Number("dry"),
            viscous: row.Number("viscous"),
            drag: row.Number("drag"),
            slope: row.Number("slope"),
            switchTimes: row.Number("opens") > 0 ? [row.Number("opens"), row.Number("closes")] : []);
        SledBrake? brake = sled == 0 ? null : SledBrake.EddyCurrent(
            row.Number("brake_start").Meters(), row.Number("brake_length").Meters(), row.Number("brake_force").Newtons(), row.Number("brake_speed").MetersPerSecond());
        return si with
        {
            Arc = fall > 0 ? ArcCharacteristic.Column(fall.Volts(), ElectricField.FromVoltsPerMeter(row.Number("arc_field")), row.Number("arc_least").Amperes()).ToSi() : null,
            BusBars = row.Text("bars_feed") == "none" ? null
                : new BusBars(row.Number("bars_ohms").Ohms(), 0.Meters(), (1.05 * cells * p).Meters(), row.Text("bars_feed") == "Both" ? BusFeed.Both : BusFeed.Start).ToSi(),
            Suppressor = new SuppressorSi(
                clamp > 0 ? clamp : double.PositiveInfinity, parallel > 0 ? 1 / parallel : 0, farads > 0 ? farads : double.PositiveInfinity),
            Braking = brake is null ? null : new BrakingSi
            {
                Mass = sled,
                SlidingFriction = row.Number("dry_after"),
                RestFriction = row.Number("dry_after"),
                SlopeForce = row.Number("slope_after"),
                Brake = brake.ToSi(),
                TrackEnd = release + brake.Start.Meters + brake.Length.Meters,
            },
        };
    }
}
