using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

/// <summary>A short launcher that studies and films of these tests launch.</summary>
internal static class StudyLaunchers
{
    public static Launcher Small { get; } = Make(0.15);

    public static Launcher Make(double friction, int stations = 6)
    {
        var track = Track.OfFacingPairs(
            new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), gap: 10.Millimeters(), stations: stations, pitch: 20.Millimeters());
        var coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.45.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            turns: 160);
        return new Launcher(
            track,
            new Sled(40.Grams(), coil) { Friction = new GuideFriction(friction) },
            ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters())),
            new BenchSupply(12.Volts(), 20.Amperes()),
            new Payload(40.Grams(), neededSpeed: 2.MetersPerSecond()))
        { Suppressor = Suppressor.Clamp(60.Volts()) };
    }

    /// <summary>A film without reading errors but for an even ripple of a hundredth of a millimeter.</summary>
    public static FilmedRun Film(LaunchResult launch)
        => new(Enumerable.Range(0, (int)(launch.ExitTime.Seconds * 2000) + 1).Select(i => new FilmedFrame(
            (i / 2000.0).Seconds(), launch.Trace.At((i / 2000.0).Seconds()).Position + Length.FromMillimeters(0.01 * Math.Sin(1.7 * i * i)))));
}
