using Magrail.Tests.ReferenceData;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>The figures of a launch against its course, its ledger and its breaks, of which they are made; those of a summary are those of the result.</summary>
public class LaunchFiguresTests
{
    public static TheoryData<string> Rows => [.. Table.Select(row => row.Text("case"))];

    private static IReadOnlyList<ReferenceTable.Row> Table => ReferenceTable.Read("launch-effects.csv").Rows;

    [Theory]
    [MemberData(nameof(Rows))]
    public void Figures_are_those_of_the_course(string name)
    {
        ReferenceTable.Row row = Table.Single(row => row.Text("case") == name);
        LauncherSi si = ReferenceEffectsTests.Described(row) with { StartSpeed = 0.75 };
        LaunchSimulation simulation = LaunchBench.Simulation(si, LaunchOptions.Default);
        LaunchResult result = LaunchBench.Checked(simulation.Run());
        LaunchFigures figures = simulation.LaunchForFigures();

        // A run for the figures alone is the same run, and leaves nothing behind for the next.
        Assert.Equal(result.Figures, figures);
        Assert.Equal(figures, simulation.LaunchForFigures());
        Assert.Equal(result.Ledger.RelativeResidual, figures.RelativeResidual);

        double time = result.EndTime.Seconds;
        Assert.Equal((result.EndSpeed.MetersPerSecond - 0.75) / time, result.MeanAcceleration.MetersPerSecondSquared, 1e-9);
        Assert.Equal(result.Breaks.Any(one => one.Duration.Seconds > 0), figures.Arced);
        Assert.Equal(result.Breaks.Any(one => one.FlashOverPosition is not null), figures.FlashedOver);
        Assert.Equal(result.Breaks.Max(one => one.Gap.Meters), figures.LongestArc);
        Assert.Equal(result.Breaks.Sum(one => one.Charge.Coulombs), figures.ArcCharge, 1e-15);
        Assert.Equal(si.Suppressor.Conductance > 0, figures.PeakContactCurrent != figures.PeakCurrent);
        if (si.Circuits[0].Heating.Length == 0)
        {
            // ∫ i² dt is what heats.
            Assert.Equal(Math.Sqrt(result.Ledger.CoilHeat.Joules / si.Circuits[0].CoilResistance / time), figures.RmsCurrent, 1e-9);
        }

        // The current from the source is dq/dt; what is drawn, its voltage times that.
        LaunchTrace trace = result.Trace;
        double drawn = 0;
        for (int i = 1; i < trace.TimeSeconds.Length; i++)
        {
            drawn += 0.5 * (trace.TimeSeconds[i] - trace.TimeSeconds[i - 1]) * (trace.SourceWatts[i] + trace.SourceWatts[i - 1]);
        }

        Assert.Equal(result.Ledger.Drawn.Joules, drawn, 0.01 * result.Ledger.Drawn.Joules);
        Assert.True(result.LeastRailVoltage.Volts <= si.Source.Volts, $"{result.LeastRailVoltage}");
        Assert.Equal(result.Braking is not null, figures.Braking is not null);
        if (result.Braking is { } braking)
        {
            Assert.Equal(braking.Outcome, figures.Braking);
            Assert.Equal(braking.Distance.Meters, figures.BrakingDistance);
            Assert.Equal(braking.EndSpeed.MetersPerSecond, figures.BrakingEndSpeed);
            BrakingSi after = si.Braking!;
            Assert.Equal(after.TrackEnd - si.Release, braking.Room.Meters, 1e-15);
            Assert.Equal(
                0.5 * ((after.Mass * braking.EndSpeed.MetersPerSecond * braking.EndSpeed.MetersPerSecond)
                    + ((si.Mass - after.Mass) * result.EndSpeed.MetersPerSecond * result.EndSpeed.MetersPerSecond) - (si.Mass * 0.75 * 0.75)),
                braking.Ledger.Kinetic.Joules,
                1e-12);
            Assert.Equal(
                (si.SlopeForce * (si.Release - si.Start)) + (after.SlopeForce * (braking.StopPosition.Meters - si.Release)), braking.Ledger.Potential.Joules, 1e-12);
            Assert.InRange(braking.Ledger.RelativeResidual, 0, LaunchBench.LedgerLimit);
            Assert.Equal(result.Breaks.Sum(one => one.Energy.Joules), braking.Ledger.Arcs.Joules + braking.Ledger.Breaks.Joules, 1e-12);
            Assert.True(braking.Trace.TimeSeconds[0] >= time, "the braking has a course of its own");
            Assert.Equal(time, trace.TimeSeconds[^1], 1e-15);
        }
        else
        {
            Assert.Equal(result.Breaks.Sum(one => one.Energy.Joules), result.Ledger.Arcs.Joules + result.Ledger.Breaks.Joules, 1e-12);
        }
    }

    /// <summary>A run that ends while an arc burns counts what it has cost so far.</summary>
    [Theory]
    [InlineData("arc-column", 0)]
    [InlineData("arc-column", 3)]
    [InlineData("arc-resistor", 4)]
    [InlineData("arc-staggered", 2)]
    public void An_arc_that_still_burns_has_cost_what_was_counted(string name, int number)
    {
        LauncherSi si = ReferenceEffectsTests.Described(Table.Single(row => row.Text("case") == name));
        LaunchResult whole = LaunchBench.Launch(si, LaunchOptions.Default);
        ContactBreak burnt = whole.Breaks[number];
        Assert.True(burnt.Duration.Seconds > 1e-5, $"{burnt}");
        Duration until = burnt.Time + (0.6 * burnt.Duration);
        LaunchResult cut = LaunchBench.Launch(si, LaunchOptions.Default with { TimeLimit = until });
        Assert.Equal(LaunchOutcome.TimeLimit, cut.Outcome);
        Assert.Equal(number + 1, cut.Breaks.Length);
        ContactBreak burns = cut.Breaks[^1];
        Assert.Equal(BreakEnding.Unfinished, burns.Ending);
        Assert.Equal(0.6 * burnt.Duration.Seconds, burns.Duration.Seconds, 1e-9);
        Assert.Equal(cut.EndPosition.Meters - burns.Position.Meters, burns.Gap.Meters, 1e-15);
        Assert.Equal(cut.Ledger.Arcs.Joules - cut.Breaks.SkipLast(1).Sum(one => one.Energy.Joules), burns.Energy.Joules, 1e-12);
        Assert.InRange(burns.Energy.Joules, 0.3 * burnt.Energy.Joules, 0.99 * burnt.Energy.Joules);
        Assert.InRange(burns.Charge.Coulombs, 0.3 * burnt.Charge.Coulombs, 0.99 * burnt.Charge.Coulombs);
        Assert.Equal(cut.Breaks.Sum(one => one.Charge.Coulombs), cut.ArcCharge.Coulombs, 1e-15);
    }

    /// <summary>More breaks than there is room for at first.</summary>
    [Fact]
    public void Every_break_of_a_long_track_is_kept()
    {
        ReferenceTable.Row row = Table.Single(row => row.Text("case") == "arc-column").Times(column => column == "cells" ? 15 : 1);
        LaunchResult result = LaunchBench.Launch(ReferenceEffectsTests.Described(row), LaunchOptions.Default);
        Assert.Equal(150, result.Breaks.Length);
        Assert.Equal(result.Ledger.Arcs.Joules, result.Breaks.Sum(one => one.Energy.Joules), 1e-9);
        Assert.Equal(result.Breaks.Select(one => one.Time.Seconds).Order(), result.Breaks.Select(one => one.Time.Seconds));
    }

    /// <summary>A drag that no number holds: the run ends before its first step, and its result says so everywhere.</summary>
    [Fact]
    public void A_run_that_takes_no_step_has_a_result()
    {
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 1, 1)], [1e-3], new SourceSi(12, 0.1, double.PositiveInfinity, double.PositiveInfinity), 0.1, 1, startSpeed: 3, drag: 1e308);
        LaunchResult result = LaunchBench.Simulation(si, LaunchOptions.Default).Run();
        Assert.Equal(LaunchOutcome.NotFinite, result.Outcome);
        Assert.Equal(0, result.Statistics.StepsAccepted);
        Assert.Contains("stopped being finite at 0 m after 0 s", result.Cause, StringComparison.Ordinal);
        Assert.Equal(0, result.MeanAcceleration.MetersPerSecondSquared);
        Assert.Equal(0, result.RmsCurrent.Amperes);
        Assert.Equal(0, result.LeastRailVoltage.Volts);
        Assert.Equal(0, result.Ledger.RelativeResidual);
        Assert.Equal(0, result.Efficiency);
        Assert.Equal(0, result.Trace.End.Seconds);
        Assert.Equal("the course of a launch that took no step", result.Trace.ToString());
        Assert.Contains("asked of a run that took a step", Assert.ThrowsAny<ArgumentException>(() => result.Trace.At(Duration.Zero)).Message, StringComparison.Ordinal);
        Assert.Equal((0.75, 3), result.Trace.MotionAt(0.25));
        Assert.Throws<InvalidOperationException>(() => result.ExitSpeed);
        Assert.StartsWith("not released: ", result.ToString(), StringComparison.Ordinal);
    }

    /// <summary>What is lost at ideal breaks begins at nothing with every run of a prepared launcher, and so does all else that a run leaves.</summary>
    [Theory]
    [InlineData(0.0, 0.0)]
    [InlineData(25.0, 0.0)]
    [InlineData(25.0, 2e-6)]
    public void A_prepared_launcher_launches_the_same_again(double ohms, double farads)
    {
        LauncherSi si = ReferenceEffectsTests.Described(Table.Single(row => row.Text("case") == "arc-column")) with
        {
            Arc = null,
            Suppressor = new SuppressorSi(double.PositiveInfinity, ohms > 0 ? 1 / ohms : 0, farads > 0 ? farads : double.PositiveInfinity),
        };
        LaunchSimulation simulation = LaunchBench.Simulation(si, LaunchOptions.Default);
        LaunchFigures first = simulation.LaunchForFigures();
        Assert.Equal(first, simulation.LaunchForFigures());
        LaunchResult result = LaunchBench.Checked(simulation.Run());
        Assert.Equal(result.Figures, first);
        Assert.Equal(ohms == 0, result.Ledger.Breaks.Joules > 1e-3);
        Assert.Equal(ohms > 0, result.Ledger.Suppressed.Joules > 1e-3);
    }
}
