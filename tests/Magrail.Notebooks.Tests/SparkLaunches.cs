using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

/// <summary>A small launcher with arcs, ratings and a brake, and what was computed with it once for all tests.</summary>
internal static class SparkLaunches
{
    public static Launcher Launcher { get; } = Make();

    private static readonly Lazy<LaunchResult> Launched = new(() => Launcher.Launch());
    private static readonly Lazy<EffectCosts> Costed = new(() => EffectCosts.Of(Launcher));
    private static readonly Lazy<LaunchSeriesResult> Repeated = new(() => new LaunchSeries(Launcher, 30.Seconds(), 180.Seconds()).Run(15));

    public static LaunchResult Launch => Launched.Value;

    public static EffectCosts Costs => Costed.Value;

    public static LaunchSeriesResult Series => Repeated.Value;

    private static Launcher Make()
    {
        var track = Track.OfFacingPairs(
            new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), gap: 10.Millimeters(), stations: 6, pitch: 20.Millimeters());
        var coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.71.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            turns: 56);
        ContactMaterial graphite = ContactMaterial.SilverGraphite;
        var brush = new Brush(3.Millimeters(), ContactResistance.Between(graphite, ContactMaterial.Copper, 4.Newtons()), 4.Newtons());
        return new Launcher(
            track,
            new Sled(40.Grams(), coil) { Friction = new GuideFriction(0.15) },
            ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), brush),
            new BatteryPack(12.Volts(), 40.Milliohms(), ElectricCharge.FromAmpereHours(5)),
            new Payload(45.Grams(), neededSpeed: 8.MetersPerSecond()))
        {
            CoilsWarmUp = true,
            Arc = ArcCharacteristic.Of(ContactMaterial.Copper),
            Brake = SledBrake.Friction(10.Millimeters(), 100.Millimeters(), 20.Newtons()),
            Ratings = new Ratings { BrushMaterial = graphite, StripMaterial = ContactMaterial.Copper, BrushCurrent = 60.Amperes() },
        };
    }
}
