using Magrail.Units;

namespace Magrail.Benchmarks;

/// <summary>The invented launcher that the benchmarks launch: 40 stations, one coil of 180 turns, a clamp.</summary>
internal static class BenchLauncher
{
    public static Launcher Make(int stations)
    {
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        Track track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations, pitch: 20.Millimeters());
        Wire wire = Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2);
        CoilFormer former = CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters());
        Coil coil = Coil.Wind(wire, former, turns: 180);
        ContactCommutator contacts = ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), brush: new Brush(3.Millimeters()));
        var sled = new Sled(25.Grams(), coil) { Friction = new GuideFriction(0.15, 0.2) };
        return new Launcher(track, sled, contacts, new BenchSupply(36.Volts(), limit: 40.Amperes()), new Payload(40.Grams()))
        {
            Suppressor = Suppressor.Clamp(60.Volts()),
        };
    }
}
