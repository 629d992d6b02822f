using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Runs that do not finish are outcomes with a cause, and their record is whole up to where they end.</summary>
public class OutcomeTests
{
    [Fact]
    public void Time_limit()
        => Unfinished(LaunchBench.Whole().Launch(new LaunchOptions { TimeLimit = 10.Milliseconds() }), LaunchOutcome.TimeLimit, "10 ms");

    [Fact]
    public void Step_limit()
        => Unfinished(LaunchBench.Whole().Launch(new LaunchOptions { StepLimit = 20 }), LaunchOutcome.StepLimit, "20 steps");

    [Fact]
    public void Stall()
    {
        // Friction that the weak source cannot overcome.
        Launcher launcher = LaunchBench.Whole() with { Source = new BatteryPack(0.3.Volts(), 1.Ohms(), 1.AmpereHours()) };
        Unfinished(launcher.Launch(), LaunchOutcome.Stalled, "friction at rest");
    }

    [Fact]
    public void Ran_back()
    {
        Launcher launcher = LaunchBench.Whole() with { Source = new BatteryPack(0.3.Volts(), 1.Ohms(), 1.AmpereHours()), Slope = 60.Degrees() };
        Unfinished(launcher.Launch(), LaunchOutcome.RanBack, "ran back");
    }

    private static void Unfinished(LaunchResult result, LaunchOutcome outcome, string cause)
    {
        LaunchBench.Checked(result);
        Assert.Equal(outcome, result.Outcome);
        Assert.Contains(cause, result.Cause, StringComparison.Ordinal);
        Assert.StartsWith("not released", result.ToString(), StringComparison.Ordinal);
        InvalidOperationException error = Assert.Throws<InvalidOperationException>(() => result.ExitSpeed);
        Assert.Contains(result.Cause, error.Message, StringComparison.Ordinal);
        Assert.Throws<InvalidOperationException>(() => result.ExitTime);
        Assert.Throws<InvalidOperationException>(result.EnsureReleased);

        LaunchSample end = result.Trace.At(result.EndTime);
        Assert.Equal(result.EndTime.Seconds, result.Trace.End.Seconds, 1e-15);
        Assert.Equal(result.EndPosition.Meters, end.Position.Meters, 1e-12);
        Assert.Equal(result.EndSpeed.MetersPerSecond, end.Speed.MetersPerSecond, 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => result.Trace.At(result.EndTime + 1.Milliseconds()));
    }

    /// <summary>Downhill, the height given up is put in too: without it this launch had an efficiency above one.</summary>
    [Fact]
    public void Height_given_up_counts_as_put_in()
    {
        Launcher down = LaunchBench.Whole() with { Slope = (-80).Degrees(), Source = new BatteryPack(0.5.Volts(), 45.Milliohms(), 2.AmpereHours()) };
        LaunchResult result = LaunchBench.Launch(down);
        Assert.True(result.Ledger.Kinetic > result.Ledger.Drawn);
        Assert.InRange(result.Efficiency, 0, 1);
        Assert.Equal(result.Ledger.Kinetic.Joules / (Math.Max(0, result.Ledger.Drawn.Joules) - result.Ledger.Potential.Joules), result.Efficiency, 1e-12);
    }
}
