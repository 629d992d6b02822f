using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Studies;

/// <summary>The constrained optimum against brute force, and its honesty about limits.</summary>
public class OptimumTests
{
    private static Launcher Rated => LaunchBench.Whole(6) with
    {
        Payload = new Payload(40.Grams(), 3.MetersPerSecond(), 600.MetersPerSecondSquared()),
        Ratings = new Ratings { BrushCurrent = 25.Amperes(), SourceCurrent = 40.Amperes() },
    };

    /// <summary>Every design of a small grid is launched: whole turns, standard wires, listed leads and volts. The search finds the best, from far fewer launches.</summary>
    [Fact]
    public void The_search_finds_what_brute_force_finds()
    {
        int[] turns = [.. Enumerable.Range(0, 9).Select(i => 80 + (10 * i))];
        WireGauge[] gauges = [.. WireGauge.Preferred.Where(gauge => gauge.BareDiameter.Millimeters is > 0.39 and < 0.57)];
        Length[] leads = [.. Enumerable.Range(-2, 9).Select(i => (0.5 * i).Millimeters())];
        ElectricPotential[] volts = [.. Enumerable.Range(3, 8).Select(i => (4.0 * i).Volts())];
        StudyResult all = new Study(Rated, DesignNumber.Gauge.Over(gauges), DesignNumber.Turns.Over(turns), DesignNumber.Lead.Over(leads), DesignNumber.Voltage.Over(volts))
            .Run(new StudyOptions { Launch = new LaunchOptions { RelativeTolerance = 1e-6 } });
        StudyPoint best = all.Fastest!;
        var search = new OptimumSearch(Rated, DesignNumber.Gauge.OneOf(gauges), DesignNumber.Turns.OneOf(turns), DesignNumber.Lead.OneOf(leads), DesignNumber.Voltage.OneOf(volts));
        Optimum found = search.Find();

        Assert.True(found.Found);
        Assert.Equal(best.ExitSpeed!.Value.MetersPerSecond, found.Launch!.ExitSpeed.MetersPerSecond, 1e-5);
        Assert.Equal(best.Value(DesignNumber.Gauge), found.Value(DesignNumber.Gauge));
        Assert.Equal(best.Value(DesignNumber.Turns), found.Value(DesignNumber.Turns));
        Assert.True(found.Trials < all.Total / 2, $"{found.Trials} of {all.Total}");
        Assert.True(all.Points.Count(point => point.Holds) < all.Total, "some limit matters");
    }

    /// <summary>
    /// With the volts free, the brush's rating decides: the best design draws what it allows. What relaxing it is worth is what a search with the relaxed
    /// rating gains.
    /// </summary>
    [Fact]
    public void The_limit_that_binds_is_met_and_priced()
    {
        Launcher launcher = Rated with { Payload = new Payload(40.Grams(), 3.MetersPerSecond()) };
        DesignVariable[] variables = [DesignNumber.Turns.Between(100, 180), DesignNumber.Voltage.Between(12.Volts(), 48.Volts()), DesignNumber.Lead.Between(-1.Millimeters(), 3.Millimeters())];
        Optimum found = new OptimumSearch(launcher, variables).Find();
        Optimum again = new OptimumSearch(launcher, variables) { Cores = 1 }.Find();

        Assert.True(found.Found);
        Assert.True(found.Launch!.Limits.Holds);
        Assert.InRange(found.Launch.PeakCurrent.Amperes, 24.9, 25);
        BindingLimit binding = found.Binding[0];
        Assert.Equal("brush current", binding.Limit.Name);
        Assert.Equal(found.Launch.ExitSpeed.MetersPerSecond, again.Launch!.ExitSpeed.MetersPerSecond);
        Assert.Equal(binding.Worth, again.Binding[0].Worth);
        Assert.Contains("brush current binds", found.ToString(), StringComparison.Ordinal);

        Optimum relaxed = new OptimumSearch(launcher with { Ratings = new Ratings { BrushCurrent = 27.5.Amperes(), SourceCurrent = 40.Amperes() } }, variables).Find();
        Assert.Equal((relaxed.Launch!.ExitSpeed.MetersPerSecond / found.Launch.ExitSpeed.MetersPerSecond) - 1, binding.Worth, 0.005);
        Assert.InRange(binding.Worth, 0.01, 0.1);
    }

    [Fact]
    public void Where_nothing_keeps_the_limits_it_says_so_and_names_the_nearest_miss()
    {
        Launcher hopeless = Rated with { Payload = new Payload(40.Grams(), 50.MetersPerSecond()) };
        Optimum found = new OptimumSearch(hopeless, DesignNumber.Voltage.Between(12.Volts(), 30.Volts()), DesignNumber.Turns.Between(140, 180)) { FirstPoints = 16 }.Find();

        Assert.False(found.Found);
        Assert.Null(found.Launch);
        Assert.True(found.NearestMiss!.Limits.Find("release speed")!.IsBroken);
        Assert.Equal(30, found.Value(DesignNumber.Voltage).Volts, 0.5);
        Assert.StartsWith("None found that keeps every limit", found.ToString(), StringComparison.Ordinal);
        Assert.Contains("release speed", found.ToString(), StringComparison.Ordinal);

        DesignNumber<double> wall = DesignNumber.OfNumber("wall", (_, _) => throw new InvalidOperationException("a wall"));
        Optimum none = new OptimumSearch(hopeless, wall.Between(0, 1)) { FirstPoints = 4 }.Find();
        Assert.False(none.Found);
        Assert.Null(none.NearestMiss);
        Assert.Contains("nothing could be launched: a wall", none.ToString(), StringComparison.Ordinal);
    }

    /// <summary>Random limits: what comes back keeps them, launched anew, or it says that nothing does.</summary>
    [Fact]
    public void What_is_returned_never_breaks_a_limit()
    {
        var random = new Random(11);
        int found = 0;
        for (int i = 0; i < 12; i++)
        {
            Launcher launcher = LaunchBench.Whole(4) with
            {
                Payload = new Payload(40.Grams(), (1 + (5 * random.NextDouble())).MetersPerSecond(), (100 + (500 * random.NextDouble())).MetersPerSecondSquared()),
                Ratings = new Ratings { BrushCurrent = (5 + (25 * random.NextDouble())).Amperes() },
            };
            Optimum optimum = new OptimumSearch(launcher, DesignNumber.Voltage.Between(6.Volts(), 48.Volts()), DesignNumber.Lead.Between(-2.Millimeters(), 4.Millimeters())) { FirstPoints = 12, Starts = 2 }.Find();
            if (optimum.Found)
            {
                found++;
                Assert.True(optimum.Launch!.Launcher.Launch().Limits.Holds);
            }
            else
            {
                Assert.False(optimum.NearestMiss!.Limits.Holds);
            }
        }

        Assert.InRange(found, 2, 10);
    }

    /// <summary>The front against the definition, point by point.</summary>
    [Fact]
    public void The_front_is_what_no_point_beats()
    {
        var study = new Study(Rated, DesignNumber.Turns.Over(100, 140, 180), DesignNumber.Voltage.FromTo(12.Volts(), 48.Volts(), 13), DesignNumber.PayloadMass.Over(20.Grams(), 40.Grams()));
        StudyResult result = study.Run();
        foreach (bool within in (bool[])[true, false])
        {
            Goal mass = Goal.Least("moving mass", point => study.LauncherAt(point.Index).MovingMass);
            TradeOff front = TradeOff.Of(result, [Goal.ExitSpeed, Goal.PeakCurrent, mass], within);
            StudyPoint[] allowed = [.. result.Points.Where(point => within ? point.Holds : point.ExitSpeed is not null)];
            (double, double, double) Of(StudyPoint p) => (p.ExitSpeed!.Value.MetersPerSecond, -p.Summary!.Value.PeakCurrent.Amperes, -study.LauncherAt(p.Index).MovingMass.Kilograms);
            int[] expected = [.. allowed.Where(one => !allowed.Any(other => Of(other) is var o && Of(one) is var t && o.Item1 >= t.Item1 && o.Item2 >= t.Item2 && o.Item3 >= t.Item3 && o != t)).Select(p => p.Index).Order()];
            Assert.Equal(expected, front.Front.Select(point => point.Index).Order());
            Assert.InRange(expected.Length, 3, allowed.Length - 1);
            Assert.Equal(front.Front.Select(point => point.ExitSpeed!.Value.MetersPerSecond).OrderDescending(), front.Front.Select(point => point.ExitSpeed!.Value.MetersPerSecond));
        }
    }
}
