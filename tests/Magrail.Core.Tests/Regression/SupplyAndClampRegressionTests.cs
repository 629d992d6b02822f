using Magrail.Units;

namespace Magrail.Tests.Regression;

/// <summary>What broke once, found by reading the equations against the engine. All launchers are invented.</summary>
public class SupplyAndClampRegressionTests
{
    private static readonly Coil TheCoil = Coil.Wind(
        Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2),
        CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
        turns: 180);

    private static readonly BlockMagnet TheMagnet = new(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);

    private static readonly Track TheTrack = Track.OfFacingPairs(TheMagnet, gap: 10.Millimeters(), stations: 12, pitch: 20.Millimeters());

    [Theory]
    [InlineData(49.0)]
    [InlineData(49.9)]
    [InlineData(50.5)]
    [InlineData(50.9)]
    public void ReleaseJustBelowTheTurningPointIsNotMissed(double releaseMillimeters)
    {
        // Thrown straight up at 1 m/s on a dead track the sled turns at v²/2g = 50.986 mm: any release below that is reached.
        var dead = new ContactLine([new ContactStrip(5.Millimeters(), 8.Millimeters(), Bus.Dead)]);
        var launcher = new Launcher(TheTrack, new Sled(25.Grams(), TheCoil), new ContactCommutator(dead, dead, new Brush(3.Millimeters())), new BenchSupply(36.Volts()))
        {
            Slope = 90.Degrees(),
            StartSpeed = 1.MetersPerSecond(),
            Start = 0.Millimeters(),
            Release = releaseMillimeters.Millimeters(),
        };
        LaunchResult launch = launcher.Launch();
        Assert.Equal(LaunchOutcome.Released, launch.Outcome);
        double expected = Math.Sqrt(1 - (2 * 9.80665 * releaseMillimeters * 1e-3));
        Assert.Equal(expected, launch.ExitSpeed.MetersPerSecond, 1e-6);
    }

    [Fact]
    public void SupplyAtItsLimitNeverGoesBelowZeroVolts()
    {
        // Driven far ahead of the zero of K, the back-EMF pushes the current past the limit: zero volts cannot hold it there.
        ContactCommutator contacts = ContactCommutator.For(TheTrack, TheCoil, dwell: 0.6, lead: 7.Millimeters(), new Brush(3.Millimeters()));
        var launcher = new Launcher(TheTrack, new Sled(25.Grams(), TheCoil), contacts, new BenchSupply(36.Volts(), limit: 3.Amperes()), new Payload(40.Grams()))
        {
            StartSpeed = 10.MetersPerSecond(),
        };
        LaunchResult launch = launcher.Launch();
        Assert.True(launch.PeakCurrent.Amperes > 3.1, launch.ToString());
        Assert.True(launch.Ledger.RelativeResidual < 1e-6, launch.ToString());
    }

    [Fact]
    public void RollingBackFromTheVeryEdgeOfAStripOpensTheCoil()
    {
        ContactCommutator contacts = ContactCommutator.For(TheTrack, TheCoil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters()));
        var launcher = new Launcher(TheTrack, new Sled(25.Grams(), TheCoil), contacts, new BenchSupply(0.5.Volts()))
        {
            Slope = 45.Degrees(),
            Start = 1.5.Millimeters(),
        };
        LaunchResult launch = launcher.Launch();
        Assert.Equal(LaunchOutcome.RanBack, launch.Outcome);
        Assert.Equal(CircuitConnection.Open, launch.Trace.At(launch.Trace.End).Connections[0]);
    }

    [Fact]
    public void ClampConductsWhereTheBackEmfIsAboveItFromTheStart()
    {
        // No strip for 180 mm: the clamp alone brakes a sled that comes in at 40 m/s, in every pitch where K v exceeds its 20 V.
        var far = new ContactLine([new ContactStrip(190.Millimeters(), 200.Millimeters(), Bus.Dead)]);
        var launcher = new Launcher(TheTrack, new Sled(25.Grams(), TheCoil), new ContactCommutator(far, far, new Brush(3.Millimeters())), new BenchSupply(5.Volts()), new Payload(40.Grams()))
        {
            StartSpeed = 40.MetersPerSecond(),
            Start = 10.Millimeters(),
            Release = 180.Millimeters(),
            Suppressor = Suppressor.Clamp(20.Volts()),
        };
        LaunchResult launch = launcher.Launch();
        int clampings = launch.Crossings.Count(crossing => crossing.After == CircuitConnection.Clamped);
        Assert.True(clampings >= 8, $"{clampings} clampings over 8.5 pitches");
        Assert.Equal(0, launch.Crossings[0].Time.Seconds);
        Assert.True(launch.Ledger.Suppressed.Joules > 0.1, launch.Ledger.ToString());
        Assert.True(launch.Ledger.RelativeResidual < 1e-6, launch.ToString());
        LaunchResult tight = launcher.Launch(new LaunchOptions { RelativeTolerance = 1e-11 });
        Assert.Equal(tight.EndSpeed.MetersPerSecond, launch.EndSpeed.MetersPerSecond, 1e-6);
    }

    [Fact]
    public void NoStripIsLaidBetweenEqualPoles()
    {
        Polarity n = Polarity.Positive, s = Polarity.Negative;
        Track mixed = Track.OfFacingPairs(TheMagnet, 10.Millimeters(), stations: 5, 20.Millimeters(), [n, n, s, s, n]);
        ContactCommutator contacts = ContactCommutator.For(mixed, TheCoil, dwell: 0.8, lead: 0.Millimeters(), new Brush(3.Millimeters()));

        // Opposite neighbours are stations 1 and 2, and 3 and 4: one strip in the middle of each pair.
        Assert.Equal([30.0, 70.0], contacts.Upper.Strips.Select(strip => Math.Round((strip.Start.Millimeters + strip.End.Millimeters) / 2, 6)));
    }

    [Fact]
    public void ClampBelowTheSourceIsAFault()
    {
        ContactCommutator contacts = ContactCommutator.For(TheTrack, TheCoil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters()));
        var launcher = new Launcher(TheTrack, new Sled(25.Grams(), TheCoil), contacts, new BenchSupply(36.Volts())) { Suppressor = Suppressor.Clamp(5.Volts()) };
        LauncherFault fault = Assert.Single(launcher.Validate());
        Assert.Contains("5 V", fault.Message, StringComparison.Ordinal);
        Assert.Contains("36 V", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(7)]
    [InlineData(8)]
    public void ALongLeadLeavesTheDefaultStartOnTheTrack(int leadMillimeters)
    {
        ContactCommutator contacts = ContactCommutator.For(TheTrack, TheCoil, dwell: 0.6, lead: leadMillimeters.Millimeters(), new Brush(3.Millimeters()));
        Assert.Empty(new Launcher(TheTrack, new Sled(25.Grams(), TheCoil), contacts, new BenchSupply(36.Volts())).Validate());
    }

    [Fact]
    public void ACoilAlongTheTrackIsNotComputedAsAFlatOne()
    {
        Coil along = Coil.Wind(TheCoil.Wire, TheCoil.Former, turns: 180, axis: TrackAxis.Along);
        ContactCommutator contacts = ContactCommutator.For(TheTrack, TheCoil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters()));
        Assert.Contains(new Launcher(TheTrack, new Sled(25.Grams(), along), contacts, new BenchSupply(36.Volts())).Validate(), fault => fault.Parts == "coil and magnets");
        Assert.Throws<ArgumentException>(() => ContactCommutator.For(TheTrack, along, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters())));
    }
}
