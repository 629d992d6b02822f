using Magrail.Tests.Launch;
using Magrail.Units;

namespace Magrail.Tests.Regression;

/// <summary>
/// A supply leaves its limit because the back-EMF has outgrown it, the current dips by a few milliamperes and comes back: that second
/// crossing had been missed where both lay in one step, and the current ran away above the limit.
/// </summary>
public class SupplyLimitMetAgain
{
    [Theory]
    [InlineData(73, 33.333333333333336, 62)]
    [InlineData(73, 33.333333333333336, 36)]
    [InlineData(60, 26.666666666666668, 36)]
    [InlineData(100, 40, 10)]
    public void The_current_stays_within_the_limit_at_every_tolerance(int turns, double volts, double grams)
    {
        Launcher launcher = Limited(turns, volts, grams);
        double exact = launcher.Launch(new LaunchOptions { RelativeTolerance = 1e-11 }).ExitSpeed.MetersPerSecond;
        foreach (double tolerance in (double[])[1e-5, 1e-6, 1e-7, 1e-8, 1e-9])
        {
            LaunchResult launch = launcher.Launch(new LaunchOptions { RelativeTolerance = tolerance });
            Assert.InRange(launch.PeakSourceCurrent.Amperes, 39.99, 40 * (1 + 1e-9));
            Assert.Equal(exact, launch.ExitSpeed.MetersPerSecond, 100 * tolerance * exact);
        }
    }

    /// <summary>With the current held, steps had grown over whole swings of the force, which the estimate of the error did not see: 0.7 % at 1e-5.</summary>
    [Fact]
    public void A_held_current_does_not_let_steps_span_a_swing_of_the_force()
    {
        Launcher launcher = Limited(60, 50, 88);
        double exact = launcher.Launch(new LaunchOptions { RelativeTolerance = 1e-11 }).ExitSpeed.MetersPerSecond;
        double rough = launcher.Launch(new LaunchOptions { RelativeTolerance = 1e-5 }).ExitSpeed.MetersPerSecond;
        Assert.Equal(exact, rough, 2e-6 * exact);
    }

    private static Launcher Limited(int turns, double volts, double grams)
    {
        Track track = LaunchBench.TrackOf(40);
        Coil coil = LaunchBench.Coil.WithTurns(turns);
        return new Launcher(
            track,
            new Sled(25.Grams(), coil) { Friction = new GuideFriction(0.15, 0.2) },
            ContactCommutator.For(track, coil, 0.8, 0.5.Millimeters(), new Brush(3.Millimeters())),
            new BenchSupply(volts.Volts(), 40.Amperes()),
            new Payload(grams.Grams()))
        {
            Suppressor = Suppressor.Clamp(60.Volts()),
        };
    }
}
