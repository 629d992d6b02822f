using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Brushes with a drop: a voltage against the current that does not depend on its size. Launches of SciPy with it stand in <see cref="ReferenceEffectsTests"/>.</summary>
public class BrushDropTests
{
    private const double Inf = double.PositiveInfinity;

    private static readonly AccuracyRow Rises = new("current in a coil at rest through brushes with a drop, at four times", "(V − 2 D)/R (1 − exp(−R t/L))", 1e-9, "of it");
    private static readonly AccuracyRow Motor = new("linear direct-current motor, and a coil that brakes on one rail, through brushes with a drop: speed", "matrix exponential", 1e-9, "m/s");

    /// <summary>Strips without end on both lines, so that the two brushes always touch.</summary>
    private static CircuitSi Circuit(double k, double ohms, double drop, Bus lower = Bus.Minus) => new()
    {
        Curve = CircuitCurve.OfFunction(_ => k, -10, 1000, 1),
        CoilResistance = ohms,
        UpperBrush = new BrushSi(0, Drop: drop),
        LowerBrush = new BrushSi(0, Drop: drop),
        Schedule = DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-100).Meters(), 1e5.Meters(), Bus.Plus)]),
                new ContactLine([new ContactStrip((-100).Meters(), 1e5.Meters(), lower)]),
                new Brush(1.Millimeters())),
            0),
    };

    private static LaunchOptions Until(double seconds) => LaunchBench.Fine with { TimeLimit = seconds.Seconds() };

    [Fact]
    public void A_coil_at_rest_sees_the_voltage_less_both_drops()
    {
        const double V = 12, R = 0.8, L = 2e-3, D = 0.9;
        LauncherSi si = LaunchBench.Si([Circuit(0, R, D)], [L], new SourceSi(V, 0, Inf, Inf), 1, 1, atRest: 1);
        LaunchResult result = LaunchBench.Launch(si, Until(0.01));
        foreach (double t in new[] { 5e-4, 2e-3, 5e-3, 0.01 })
        {
            Rises.HoldRatio((V - (2 * D)) / R * (1 - Math.Exp(-R * t / L)), result.Trace.At(t.Seconds()).Currents[0].Amperes);
        }

        // What the drops take is their voltage times the charge that passed.
        double charge = (V - (2 * D)) / R * (0.01 - (L / R * (1 - Math.Exp(-R * 0.01 / L))));
        Assert.Equal(2 * D * charge, result.Ledger.OtherHeat.Joules, 1e-9 * charge);
    }

    [Fact]
    public void A_source_below_both_drops_drives_nothing()
    {
        LauncherSi si = LaunchBench.Si([Circuit(2, 0.5, 0.75)], [1e-3], new SourceSi(1.499, 0, Inf, Inf), 0.1, 1, sliding: 0.1, atRest: 0.1);
        LaunchResult result = LaunchBench.Launch(si, Until(1));
        Assert.Equal(LaunchOutcome.Stalled, result.Outcome);
        Assert.Equal(0, result.PeakCurrent.Amperes);
        Assert.Equal(0, result.Ledger.Drawn.Joules);
    }

    [Fact]
    public void A_motor_runs_as_on_the_voltage_less_both_drops()
    {
        const double V = 12, R = 0.5, L = 2e-3, K = 1.5, M = 0.25, D = 0.8;
        LaunchResult result = LaunchBench.Launch(LaunchBench.Si([Circuit(K, R, D)], [L], new SourceSi(V, 0, Inf, Inf), M, 900), Until(0.1));
        foreach (double t in new[] { 0.01, 0.05, 0.1 })
        {
            Motor.HoldDifference(ClosedFormTests.Linear(V - (2 * D), R, L, K, M, t).V, result.Trace.At(t.Seconds()).Speed.MetersPerSecond);
        }
    }

    /// <summary>Both brushes on the same rail: the coil brakes while its back-EMF exceeds the drops, and not at all below.</summary>
    [Fact]
    public void A_coil_on_one_rail_brakes_down_to_the_drops_and_no_further()
    {
        const double R = 0.5, L = 2e-3, K = 1.5, M = 0.25, D = 0.8;
        LauncherSi Si(double speed, double drop) => LaunchBench.Si(
            [Circuit(K, R, drop, Bus.Plus)], [L], new SourceSi(12, 0, Inf, Inf), M, 900, startSpeed: speed);
        LaunchResult fast = LaunchBench.Launch(Si(4, D), Until(0.2));
        Motor.HoldDifference(ClosedFormTests.Linear(2 * D, R, L, K, M, 0.2, 4).V, fast.EndSpeed.MetersPerSecond);
        Assert.True(fast.EndSpeed.MetersPerSecond > 2 * D / K);

        LaunchResult slow = LaunchBench.Launch(Si(0.99 * 2 * D / K, D), Until(0.2));
        Assert.Equal(0.99 * 2 * D / K, slow.EndSpeed.MetersPerSecond, 1e-14);
        Assert.Equal(0, slow.PeakCurrent.Amperes);
        Assert.True(LaunchBench.Launch(Si(0.99 * 2 * D / K, 0), Until(0.2)).EndSpeed.MetersPerSecond < 0.6 * 2 * D / K);
    }

    /// <summary>Two circuits on one soft source: alike they share, and neither feeds the other through its drop.</summary>
    [Fact]
    public void Two_circuits_through_brushes_with_a_drop()
    {
        const double V = 12, R = 0.8, L = 2e-3, D = 0.5, Rs = 0.3;
        LauncherSi si = LaunchBench.Si(
            [Circuit(0, R, D), Circuit(0, R, D)], [L, 0, 0, L], new SourceSi(V, Rs, Inf, Inf), 1, 1, atRest: 1);
        LaunchResult alike = LaunchBench.Launch(si, Until(5e-3));
        double expected = (V - (2 * D)) / (R + (2 * Rs)) * (1 - Math.Exp(-(R + (2 * Rs)) * 5e-3 / L));
        Rises.HoldRatio(expected, alike.Trace.At(alike.Trace.End).Currents[0].Amperes);
        Rises.HoldRatio(expected, alike.Trace.At(alike.Trace.End).Currents[1].Amperes);

        // The first takes the rail down to less than the second's drops: nothing flows there, and the first runs as if alone.
        LauncherSi uneven = LaunchBench.Si(
            [Circuit(0, 0.1, 0), Circuit(0, R, 1.6)], [1e-5, 0, 0, L], new SourceSi(V, Rs, Inf, Inf), 1, 1, atRest: 1);
        LaunchResult result = LaunchBench.Launch(uneven, Until(2e-3));
        LaunchSample end = result.Trace.At(result.Trace.End);
        Assert.True(V - (Rs * V / 0.4) < 2 * 1.6);
        Assert.Equal(V / 0.4, end.Currents[0].Amperes, 1e-6);
        Assert.Equal(0, end.Currents[1].Amperes);

        // While the first was still small, the rail stood high, and the second carried something.
        Assert.True(result.Trace.Samples(2001).Max(sample => sample.Currents[1].Amperes) > 0.01);
        Assert.All(result.Trace.Samples(2001), sample => Assert.True(sample.Currents[1].Amperes > -1e-9));
    }

    /// <summary>
    /// One circuit meets the supply's limit, the rail falls at once, and the other, held by its drop at 24 V against 20 V of back-EMF, is now offered −17 V: it must begin to conduct backward. It had stayed
    /// held. In the end u/0.2 + (u − 20 + 12)/1 = 10 A: u = 3 V, 15 A and −5 A.
    /// </summary>
    [Fact]
    public void A_rail_that_falls_at_the_limit_lets_a_held_circuit_go()
    {
        LauncherSi si = LaunchBench.Si(
            [Circuit(0, 0.2, 0), Circuit(4, 1, 6)], [1e-3, 0, 0, 1e-3], new SourceSi(24, 0, 10, Inf), 1e6, 900, startSpeed: 5);
        LaunchResult result = LaunchBench.Launch(si, Until(0.1));
        LaunchSample end = result.Trace.At(result.Trace.End);
        Assert.Equal(15, end.Currents[0].Amperes, 1e-3);
        Assert.Equal(-5, end.Currents[1].Amperes, 1e-3);
        LaunchSample before = result.Trace.At(3e-4.Seconds());
        Assert.Equal(0, before.Currents[1].Amperes);
    }

    [Fact]
    public void A_drop_is_an_effect_that_can_be_taken_away()
    {
        Launcher whole = LaunchBench.Whole();
        Launcher dropping = DesignNumber.BrushDrop.With(whole, 0.8.Volts());
        Assert.Contains(LaunchEffect.BrushDrop, dropping.Effects());
        Assert.DoesNotContain(LaunchEffect.BrushDrop, dropping.Without(LaunchEffect.BrushDrop).Effects());
        Assert.Contains(LaunchEffect.BrushDrop, dropping.Without(LaunchEffect.ContactResistance).Effects());
        LaunchResult with = LaunchBench.Launch(dropping);
        LaunchResult without = LaunchBench.Launch(dropping.Without(LaunchEffect.BrushDrop));
        Assert.Equal(LaunchBench.Launch(whole).ExitSpeed, without.ExitSpeed);
        Assert.True(with.ExitSpeed < without.ExitSpeed);
        Assert.Contains("a drop of 800 mV", dropping.Contacts.UpperBrush.ToString());
    }

    [Theory]
    [InlineData(-0.1)]
    [InlineData(double.NaN)]
    public void A_drop_opposes(double volts)
    {
        // UnitsNet itself refuses what is not a number.
        ArgumentException fault = Assert.ThrowsAny<ArgumentException>(() => new Brush(3.Millimeters()) { Drop = volts.Volts() });
        if (volts < 0)
        {
            Assert.Contains("Drop", fault.Message);
            Assert.Contains("-100 mV", fault.Message);
        }
    }
}
