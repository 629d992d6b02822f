using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Sleds;

/// <summary>Masses, friction and wiring of the sled in a whole launch.</summary>
public class SledTests
{
    private static readonly Coil Small = Coil.Wind(
        Wire.Copper(WireGauge.Metric(0.4.Millimeters()), EnamelGrade.Grade2),
        CoilFormer.Rounded(8.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
        100);

    [Fact]
    public void Masses_add_up()
    {
        var sled = new Sled(25.Grams(), [new CoilMount(Small, 0.Millimeters()), new CoilMount(Small, 40.Millimeters())]);
        Assert.Equal(0.025 + (2 * Small.Mass.Kilograms), sled.MassWithCoils.Kilograms, 1e-15);
        Launcher launcher = LaunchBench.Whole(3);
        Assert.Equal(launcher.Sled.MassWithCoils.Kilograms + 0.04, launcher.MovingMass.Kilograms, 1e-15);
    }

    /// <summary>Dry friction: µ (m g cos + brush forces) over the whole way, the ledger says.</summary>
    [Fact]
    public void Work_of_friction()
    {
        Launcher launcher = LaunchBench.Whole(6) with { Slope = 30.Degrees() };
        launcher = launcher with { Sled = new Sled(25.Grams(), LaunchBench.Coil) { Friction = new GuideFriction(0.12) } };
        LaunchResult result = LaunchBench.Launch(launcher, LaunchBench.Fine);
        double way = result.EndPosition.Meters - result.Trace.PositionMeters[0];
        double weight = launcher.MovingMass.Kilograms * 9.80665;

        // The sled neither yields nor turns round: its friction at rest holds until the coil pulls.
        double normal = (weight * Math.Cos(Math.PI / 6)) + (2 * 0.8);
        Assert.InRange(result.Ledger.Friction.Joules, 0.12 * normal * way * (1 - 1e-9), 0.12 * normal * way * 1.001);
        Assert.Equal(weight * 0.5 * way, result.Ledger.Potential.Joules, 1e-9);
    }

    /// <summary>Two coils two pitches apart in one circuit: force per ampere and resistance double, and crossed wiring one pitch apart does the same.</summary>
    [Fact]
    public void Coils_in_series()
    {
        Track track = LaunchBench.TrackOf(10);
        ContactCommutator contacts = ContactCommutator.For(track, Small, 0.8, 0.Millimeters(), new Brush(3.Millimeters()));
        Launcher Of(params CoilMount[] mounts) => new(track, new Sled(25.Grams(), mounts), contacts, new BenchSupply(30.Volts())) { Suppressor = Suppressor.Clamp(60.Volts()), Release = 130.Millimeters() };
        LaunchResult plain = LaunchBench.Launch(Of(new CoilMount(Small, 0.Millimeters()), new CoilMount(Small, 40.Millimeters())));
        LaunchResult crossed = LaunchBench.Launch(Of(new CoilMount(Small, 0.Millimeters()), new CoilMount(Small, 20.Millimeters(), WindingSense.Crossed)));
        LaunchResult one = LaunchBench.Launch(Of(new CoilMount(Small, 0.Millimeters())));
        LaunchResult against = Of(new CoilMount(Small, 0.Millimeters()), new CoilMount(Small, 20.Millimeters())).Launch();
        double middle = one.ForceConstantAt(90.Millimeters()).NewtonsPerAmpere;
        Assert.Equal(2, plain.ForceConstantAt(90.Millimeters()).NewtonsPerAmpere / middle, 1e-3);
        Assert.Equal(2, crossed.ForceConstantAt(90.Millimeters()).NewtonsPerAmpere / middle, 1e-3);
        Assert.Equal(0, against.ForceConstantAt(90.Millimeters()).NewtonsPerAmpere / middle, 1e-3);
        Assert.Equal(plain.ExitSpeed.MetersPerSecond, crossed.ExitSpeed.MetersPerSecond, 0.05 * plain.ExitSpeed.MetersPerSecond);
    }

    [Fact]
    public void Equal_by_value()
    {
        Assert.Equal(new Sled(25.Grams(), Small), new Sled(0.025.Kilograms(), Small));
        Assert.NotEqual(new Sled(25.Grams(), Small), new Sled(25.Grams(), Small) { Friction = new GuideFriction(0.1) });
        Assert.Equal(new Payload(40.Grams()), new Payload(0.04.Kilograms()));
    }
}
