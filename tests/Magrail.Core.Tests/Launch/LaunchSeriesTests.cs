using Magrail.Units;
using UnitsNet;
using Xunit.Abstractions;

namespace Magrail.Tests.Launch;

/// <summary>Launches in a row: against the series in closed form, against direct launches, and what a maker asks of them.</summary>
public class LaunchSeriesTests(ITestOutputHelper output)
{
    private static readonly Conductor Steady = new(
        "copper whose resistance does not change with temperature",
        Conductor.Copper.Resistivity,
        CoefficientOfThermalExpansion.Zero,
        Conductor.Copper.Density,
        Conductor.Copper.VolumetricHeatCapacity,
        Conductor.Copper.MeltingPoint);

    private static readonly Duration Tau = 90.Seconds();

    /// <summary>A held resistance: the heat of every launch is the same.</summary>
    private static Launcher Held(double celsius = 20) => With(Steady) with { CoilTemperature = celsius.DegreesCelsius() };

    private static Launcher With(Conductor conductor, PowerSource? source = null)
    {
        Launcher whole = LaunchBench.Whole(4);
        var coil = Coil.Wind(Wire.Of(conductor, WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2), LaunchBench.Coil.Former, 180);
        return whole with { Sled = new Sled(whole.Sled.Mass, coil) { Friction = whole.Sled.Friction }, Source = source ?? whole.Source, Suppressor = Suppressor.IdealBreak };
    }

    /// <summary>
    /// The same rise ΔT each time: before launch n the coil is ΔT q (1 − qⁿ⁻¹)/(1 − q) above the surroundings, q = exp(−t/τ); in the end the peak is
    /// ΔT/(1 − q) above. A geometric series.
    /// </summary>
    [Fact]
    public void Equal_heat_makes_a_geometric_series()
    {
        var series = new LaunchSeries(Held(), 20.Seconds(), Tau);
        LaunchSeriesResult result = series.Run(40);
        output.WriteLine(result.ToString());
        Assert.Equal(SeriesOutcome.Completed, result.Outcome);
        double rise = result.Launches[0].HottestPeak.DegreesCelsius - 20;
        Assert.InRange(rise, 0.1, 20);
        double q = Math.Exp(-20.0 / 90);
        Assert.All(result.Launches, launch =>
        {
            double before = 20 + (rise * q * (1 - Math.Pow(q, launch.Number - 1)) / (1 - q));
            Assert.Equal(before, launch.HottestStart.DegreesCelsius, 1e-9);
            Assert.Equal(before + rise, launch.HottestPeak.DegreesCelsius, 1e-9);
            Assert.Equal(result.Launches[0].EndSpeed, launch.EndSpeed);
        });

        SteadyLaunches steady = series.FindSteadyState();
        output.WriteLine(steady.ToString());
        Assert.Equal(20 + (rise / (1 - q)), steady.Launch!.HottestPeak.DegreesCelsius, 1e-5);
        Assert.Equal(steady.Launch.HottestPeak.DegreesCelsius, result.Launches[^1].HottestPeak.DegreesCelsius, 2 * rise * Math.Pow(q, 40) / (1 - q));
    }

    /// <summary>Surroundings other than the coil's temperature at first: the difference dies as qⁿ⁻¹.</summary>
    [Fact]
    public void A_coil_that_starts_hot_comes_down()
    {
        LaunchSeriesResult result = new LaunchSeries(Held(70), 30.Seconds(), Tau, 15.DegreesCelsius()).Run(12);
        double rise = result.Launches[0].HottestPeak.Kelvins - result.Launches[0].HottestStart.Kelvins;
        double q = Math.Exp(-30.0 / 90);
        Assert.All(result.Launches, launch =>
        {
            double n = Math.Pow(q, launch.Number - 1);
            Assert.Equal(15 + (55 * n) + (rise * q * (1 - n) / (1 - q)), launch.HottestStart.DegreesCelsius, 1e-9);
        });
    }

    /// <summary>
    /// A supply far above its current limit drives the same current into any resistance: ∫ i² dt is the same, and the heat goes with the resistance alone. Held in
    /// a launch: ΔT = β (1 + α (T − 20 °C)); following: T − 20 °C + 1/α grows by exp(α β). Either way a straight line T → T′, and
    /// before launch n its iterates: a geometric series of ratio q (1 + α β), or q exp(α β).
    /// </summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_held_current_makes_a_geometric_series_of_a_greater_ratio(bool warms)
    {
        var supply = new BenchSupply(3000.Volts(), 30.Amperes());
        Launcher launcher = With(Conductor.Copper, supply) with { CoilsWarmUp = warms };
        var series = new LaunchSeries(launcher, 10.Seconds(), Tau);
        LaunchSeriesResult result = series.Run(25);
        output.WriteLine(result.ToString());
        double alpha = Conductor.Copper.TemperatureCoefficient.PerKelvin;
        double first = result.Launches[0].HottestPeak.DegreesCelsius - 20;

        // At 20 °C the rise is β held, (exp(α β) − 1)/α following.
        double growth = 1 + (alpha * first);
        double q = Math.Exp(-10.0 / 90);
        double ratio = q * growth;
        Assert.InRange(ratio, q * 1.005, 0.99);
        double limit = 20 + (q * first / (1 - ratio));
        Assert.All(result.Launches, launch =>
        {
            double before = limit - ((limit - 20) * Math.Pow(ratio, launch.Number - 1));

            // The edges of the current, where resistance does count, are some 2e-4 of the launch.
            Assert.Equal(before, launch.HottestStart.DegreesCelsius, 1e-3 * (before - 20));
        });
        Assert.Equal(limit, series.FindSteadyState().Launch!.HottestStart.DegreesCelsius, 1e-3 * (limit - 20));
    }

    /// <summary>Every launch of a series is the launch that one would make with the coil at that temperature; in between it cools by exp(−t/τ).</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Every_launch_is_a_direct_one(bool warms)
    {
        Launcher launcher = With(Conductor.Copper) with { CoilsWarmUp = warms };
        LaunchSeriesResult result = new LaunchSeries(launcher, 5.Seconds(), Tau, 25.DegreesCelsius()).Run(5);
        double next = 20;
        Assert.All(result.Launches, launch =>
        {
            Assert.Equal(next, launch.HottestStart.DegreesCelsius, 1e-9);
            LaunchResult direct = LaunchBench.Launch(launcher with { CoilTemperature = launch.HottestStart });
            Assert.Equal(direct.ExitSpeed.MetersPerSecond, launch.EndSpeed.MetersPerSecond, 1e-10);
            Assert.Equal(direct.CoilTemperatures[0].DegreesCelsius, launch.HottestPeak.DegreesCelsius, 1e-8);
            Assert.Equal(direct.Ledger.Drawn.Joules, launch.EnergyDrawn.Joules, 1e-8);
            next = 25 + ((launch.HottestPeak.DegreesCelsius - 25) * Math.Exp(-5.0 / 90));
        });
        Assert.True(result.Launches[4].EndSpeed < result.Launches[0].EndSpeed);
    }

    /// <summary>Coils that work differently have temperatures of their own: a thin one in series with a thick one, and a second circuit.</summary>
    [Fact]
    public void Every_coil_has_its_own_temperature()
    {
        Launcher whole = LaunchBench.Whole(8);
        var thin = Coil.Wind(Wire.Copper(WireGauge.Metric(0.4.Millimeters()), EnamelGrade.Grade2), LaunchBench.Coil.Former, 180);
        CoilMount[] mounts = [new(LaunchBench.Coil, Length.Zero), new(thin, 60.Millimeters(), WindingSense.Crossed), new(LaunchBench.Coil, 110.Millimeters(), circuit: 1)];
        Launcher launcher = whole with { Sled = new Sled(25.Grams(), mounts), CoilsWarmUp = true, Source = new BenchSupply(30.Volts()) };
        LaunchSeriesResult result = new LaunchSeries(launcher, 10.Seconds(), Tau).Run(6);
        output.WriteLine(result.ToString());
        SeriesLaunch first = result.Launches[0];
        LaunchResult direct = LaunchBench.Launch(launcher);
        Assert.All(first.PeakTemperatures.Zip(direct.CoilTemperatures), pair => Assert.Equal(pair.Second.Kelvins, pair.First.Kelvins, 1e-8));

        // The same current: the rise goes as 1/section², a bit more for the hotter one's resistance: (0.5/0.4)⁴ = 2.44.
        double ratio = (first.PeakTemperatures[1].Kelvins - 293.15) / (first.PeakTemperatures[0].Kelvins - 293.15);
        Assert.InRange(ratio, 2.44, 2.6);
        Assert.NotEqual(first.PeakTemperatures[0].Kelvins, first.PeakTemperatures[2].Kelvins, 1e-3);

        // Alone on the rails the second circuit draws more.
        Assert.Equal(first.HottestPeak, first.PeakTemperatures[2]);
        double q = Math.Exp(-10.0 / 90);
        for (int n = 1; n < 6; n++)
        {
            for (int j = 0; j < 3; j++)
            {
                Assert.Equal(
                    293.15 + ((result.Launches[n - 1].PeakTemperatures[j].Kelvins - 293.15) * q), result.Launches[n].StartTemperatures[j].Kelvins, 1e-9);
            }
        }

        // In the steady state every coil is where the launch after cooling brings it again.
        SeriesLaunch steady = new LaunchSeries(launcher, 10.Seconds(), Tau).FindSteadyState().Launch!;
        Assert.All(steady.StartTemperatures.Zip(steady.PeakTemperatures), pair => Assert.Equal(pair.First.Kelvins, 293.15 + ((pair.Second.Kelvins - 293.15) * q), 1e-4));
    }

    /// <summary>With equal heat: limit − Ta = ΔT (1 − qⁿ)/(1 − q) counts the launches, t = −τ ln(1 − ΔT/(limit − Ta)) is the interval.</summary>
    [Fact]
    public void Which_interval_keeps_the_class()
    {
        (Launcher launcher, double rise, double shortest) = Shortest();
        Duration found = new LaunchSeries(launcher, 1.Seconds(), Tau, insulation: ThermalClass.A).ShortestInterval()!.Value;
        output.WriteLine($"rise {rise:G5} K, shortest interval {found.Seconds:G6} s, in closed form {shortest:G6} s");
        Assert.InRange(found.Seconds, shortest, shortest * 1.0002);

        var loose = new LaunchSeries(launcher, (1.01 * shortest).Seconds(), Tau, insulation: ThermalClass.A);
        Assert.Null(loose.LaunchesInARow());
        Assert.Null(loose.Run(3).FirstAboveClass);
        Assert.Equal(3, loose.Run(3).LaunchesWithinClass);
    }

    /// <summary>At a third of that interval or so: after n launches (1 − qⁿ) reaches what it allows.</summary>
    [Fact]
    public void How_many_in_a_row()
    {
        (Launcher launcher, double rise, double shortest) = Shortest();
        double q = Math.Exp(-0.35 * shortest / 90);
        int expected = (int)Math.Floor(Math.Log(1 - ((1 - q) * 85 / rise)) / Math.Log(q));
        var tight = new LaunchSeries(launcher, (0.35 * shortest).Seconds(), Tau, insulation: ThermalClass.A);
        Assert.Equal(expected, tight.LaunchesInARow());
        LaunchSeriesResult run = tight.Run(expected + 3);
        Assert.Equal(expected + 1, run.FirstAboveClass);
        Assert.Equal(expected, run.LaunchesWithinClass);
        Assert.Equal(SeriesOutcome.Completed, run.Outcome);
        Assert.Equal(5, tight.LaunchesInARow(atMost: 5));
    }

    /// <summary>A launcher, what one launch heats it by, and the interval at which its peaks come to class A in the end: ΔT/(1 − q) = 85 K.</summary>
    private static (Launcher Launcher, double Rise, double Shortest) Shortest()
    {
        Launcher launcher = Held();
        double rise = new LaunchSeries(launcher, 1.Seconds(), Tau).Run(1).HottestPeak.DegreesCelsius - 20;
        return (launcher, rise, -90 * Math.Log(1 - (rise / (ThermalClass.A.Limit.DegreesCelsius - 20))));
    }

    /// <summary>With copper that warms and a battery: at the shortest interval the steady peak is the class to a hair, a little sooner it is above.</summary>
    [Fact]
    public void The_shortest_interval_holds_the_class()
    {
        Launcher launcher = With(Conductor.Copper) with { CoilsWarmUp = true };
        Duration found = new LaunchSeries(launcher, 1.Seconds(), Tau).ShortestInterval()!.Value;
        double at = PeakAt(found);
        double sooner = PeakAt(0.999 * found);
        output.WriteLine($"{found.Seconds:G6} s: {at:G8} °C; sooner {sooner:G8} °C");
        Assert.InRange(at, 154.9, 155);
        Assert.True(sooner > 155);

        double PeakAt(Duration interval) => new LaunchSeries(launcher, interval, Tau).FindSteadyState().Launch!.HottestPeak.DegreesCelsius;
    }

    /// <summary>Where the first launch is too much, no interval helps, and none in a row is allowed.</summary>
    [Fact]
    public void A_class_below_the_surroundings_allows_none()
    {
        var series = new LaunchSeries(Held(89.9), 1.Seconds(), Tau, insulation: ThermalClass.Y);
        Assert.Null(series.ShortestInterval());
        Assert.Equal(0, series.LaunchesInARow());
        Assert.Equal(1, series.Run(2).FirstAboveClass);
        Assert.Equal(0, series.Run(2).LaunchesWithinClass);
    }

    /// <summary>Without a pause nothing cools: the series goes on to 200 °C and stops there, with a reason and not with an exception.</summary>
    [Fact]
    public void A_series_that_gets_too_hot_stops_and_says_so()
    {
        var series = new LaunchSeries(With(Conductor.Copper, new BenchSupply(400.Volts(), 60.Amperes())), Duration.Zero, Tau);
        LaunchSeriesResult result = series.Run(1000);
        output.WriteLine(result.ToString());
        Assert.Equal(SeriesOutcome.TooHot, result.Outcome);
        Assert.InRange(result.Launches.Length, 2, 999);
        Assert.True(result.Launches[^1].HottestPeak.DegreesCelsius > 200);
        Assert.All(result.Launches, launch => Assert.True(launch.HottestStart.DegreesCelsius <= 200));
        Assert.Contains($"launch {result.Launches.Length + 1} cannot be computed", result.Cause, StringComparison.Ordinal);
        Assert.Contains("above 200 °C", result.Cause, StringComparison.Ordinal);
        Assert.Equal(SeriesOutcome.TooHot, series.FindSteadyState().Outcome);
        Assert.Null(series.FindSteadyState().Launch);
        Assert.InRange(series.LaunchesInARow()!.Value, 1, result.Launches.Length - 1);
    }

    /// <summary>A current held against a rising resistance: below some interval heat grows faster than it leaves, and there is no steady state.</summary>
    [Fact]
    public void A_held_current_may_run_away()
    {
        Launcher launcher = With(Conductor.Copper, new BenchSupply(3000.Volts(), 60.Amperes()));
        double alpha = Conductor.Copper.TemperatureCoefficient.PerKelvin;
        double first = new LaunchSeries(launcher, 1.Seconds(), Tau).Run(1).HottestPeak.DegreesCelsius - 20;

        // Steady start 20 °C + q ΔT/(1 − q (1 + α ΔT)): 200 °C at q = 180/(ΔT + 180 (1 + α ΔT)).
        double q = 180 / (first + (180 * (1 + (alpha * first))));
        double border = -90 * Math.Log(q);
        Assert.Equal(SeriesOutcome.TooHot, new LaunchSeries(launcher, (0.98 * border).Seconds(), Tau).FindSteadyState().Outcome);
        SteadyLaunches steady = new LaunchSeries(launcher, (1.02 * border).Seconds(), Tau).FindSteadyState();
        output.WriteLine($"border {border:G4} s: {steady}");
        Assert.InRange(steady.Launch!.HottestStart.DegreesCelsius, 180, 200);
    }

    /// <summary>A sled that sticks: hot coils draw less, until the push no longer moves it. The series ends there and says which launch.</summary>
    /// <summary>A launcher on so many volts, and the least volts that move it off its place when cold: below them friction at rest holds the sled.</summary>
    private static (Func<double, Launcher> At, double Moves) Sticking()
    {
        Launcher whole = With(Conductor.Copper);
        Launcher At(double volts) => whole with { Sled = whole.Sled with { Friction = new GuideFriction(0.2, 1.5) }, Source = new BenchSupply(volts.Volts()) };
        double holds = 0.1, moves = 20;
        while (moves - holds > 1e-5)
        {
            double volts = 0.5 * (holds + moves);
            (holds, moves) = At(volts).Prepare().RunSummary().Outcome == LaunchOutcome.Released ? (holds, volts) : (volts, moves);
        }

        return (At, moves);
    }

    /// <summary>
    /// A thousandth above those volts a quarter of a kelvin holds the sled: a steady state that is hotter there is none.
    /// </summary>
    [Fact]
    public void Where_a_warm_coil_does_not_release_there_is_no_steady_state()
    {
        (Func<double, Launcher> at, double moves) = Sticking();
        Launcher launcher = at(1.001 * moves);
        SteadyLaunches none = new LaunchSeries(launcher, 0.01.Seconds(), Tau).FindSteadyState();
        Assert.Equal(SeriesOutcome.NotReleased, none.Outcome);
        Assert.Null(none.Launch);
        Assert.StartsWith("on the way there, with the hottest coil starting at ", none.Cause, StringComparison.Ordinal);
        Assert.Equal(SeriesOutcome.NotReleased, new LaunchSeries(at(0.99 * moves), 60.Seconds(), Tau).FindSteadyState().Outcome);
        Assert.Null(new LaunchSeries(at(0.99 * moves), 60.Seconds(), Tau).ShortestInterval());
        Assert.Equal(0, new LaunchSeries(at(0.99 * moves), 60.Seconds(), Tau).LaunchesInARow());

        output.WriteLine($"moves at {moves:G6} V; {none.Cause}");
    }

    [Fact]
    public void The_shortest_interval_lies_where_a_warm_coil_just_releases()
    {
        (Func<double, Launcher> at, double moves) = Sticking();
        Launcher launcher = at(1.001 * moves);
        double interval = new LaunchSeries(launcher, 1.Seconds(), Tau).ShortestInterval()!.Value.Seconds;
        output.WriteLine($"shortest interval {interval:G5} s");
        SteadyLaunches some = new LaunchSeries(launcher, (1.01 * interval).Seconds(), Tau).FindSteadyState();
        Assert.Equal(SeriesOutcome.Completed, some.Outcome);
        Assert.InRange(some.Launch!.HottestStart.DegreesCelsius, 20.05, 20.5);
        Assert.Equal(SeriesOutcome.NotReleased, new LaunchSeries(launcher, (0.98 * interval).Seconds(), Tau).FindSteadyState().Outcome);
    }

    [Fact]
    public void A_launch_that_does_not_release_ends_the_series()
    {
        (Func<double, Launcher> at, double moves) = Sticking();

        // A thousandth above what moves the cold sled: a thousandth of resistance more, a quarter of a kelvin, holds it.
        LaunchSeriesResult result = new LaunchSeries(at(1.001 * moves), Duration.Zero, Tau).Run(2000);
        output.WriteLine($"moves at {moves:G5} V; {result.Cause}, at {result.Launches[^1].HottestStart.DegreesCelsius:G6} °C");
        Assert.Equal(SeriesOutcome.NotReleased, result.Outcome);
        Assert.True(result.Launches.Length > 1);
        Assert.Equal(LaunchOutcome.Stalled, result.Launches[^1].Outcome);
        Assert.Contains($"launch {result.Launches.Length} did not release: the sled came to rest", result.Cause, StringComparison.Ordinal);
        Assert.Equal(result.Launches.Length - 1, result.LaunchesWithinClass);
        double drop = Conductor.Copper.TemperatureCoefficient.PerKelvin * (result.Launches[^1].HottestStart.DegreesCelsius - 20);
        Assert.InRange(drop, 0.0009, 0.0013);
    }

    [Fact]
    public void The_table_reads_as_people_read_it()
    {
        string[] lines = new LaunchSeries(Held(), 20.Seconds(), Tau).Run(13).ToString().Split(Environment.NewLine);
        Assert.Equal("launches 20 s apart, coils cooling in 90 s toward 20 °C, thermal class F (155 °C)", lines[0]);
        Assert.Equal("  launch       start        peak    exit speed", lines[1]);
        Assert.Equal("       …", lines[12]);
        Assert.StartsWith("      13", lines[13], StringComparison.Ordinal);
        Assert.Equal(["all within thermal class F (155 °C)", "13 launches done"], lines[14..]);
    }

    [Fact]
    public void What_cannot_be_is_refused_with_value_range_and_reason()
    {
        Launcher launcher = Held();
        (string Name, string Text, Func<object> Make)[] rows =
        [
            ("interval", "interval is -1 s; it must be zero or above", () => new LaunchSeries(launcher, (-1).Seconds(), Tau)),
            ("coolingTime", "coolingTime is 0 s; it must be above zero", () => new LaunchSeries(launcher, 1.Seconds(), Duration.Zero)),
            ("surroundings", "surroundings is 201 °C; it must be -40 °C to 200 °C", () => new LaunchSeries(launcher, 1.Seconds(), Tau, 201.DegreesCelsius())),
            ("launches", "launches is 0; it must be 1 to 100000", () => new LaunchSeries(launcher, 1.Seconds(), Tau).Run(0)),
            ("atMost", "atMost is 0; it must be 1 to 100000", () => new LaunchSeries(launcher, 1.Seconds(), Tau).LaunchesInARow(0)!),
        ];
        Assert.All(rows, row =>
        {
            ArgumentOutOfRangeException fault = Assert.Throws<ArgumentOutOfRangeException>(row.Make);
            Assert.Equal(row.Name, fault.ParamName);
            Assert.Contains(row.Text, fault.Message, StringComparison.Ordinal);
        });
        Assert.Equal(ThermalClass.H, new LaunchSeries(launcher with { Ratings = new Ratings { Insulation = ThermalClass.H } }, 1.Seconds(), Tau).Insulation);
        Assert.Throws<ArgumentNullException>(() => new LaunchSeries(null!, 1.Seconds(), Tau));
        Assert.Throws<LauncherDescriptionException>(() => new LaunchSeries(launcher with { Release = (-1).Meters() }, 1.Seconds(), Tau).Run(1));
    }
}
