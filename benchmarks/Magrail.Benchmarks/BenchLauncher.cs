using Magrail.Units;

namespace Magrail.Benchmarks;

/// <summary>The invented launcher that the benchmarks launch: 40 stations, one coil of 180 turns, a clamp.</summary>
internal static class BenchLauncher
{
    public static Launcher Make(int stations)
    {
        Track track = MakeTrack(stations);
        Coil coil = MakeCoil(12, 18, 3, 180);
        ContactCommutator contacts = ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), brush: new Brush(3.Millimeters()));
        var sled = new Sled(25.Grams(), coil) { Friction = new GuideFriction(0.15, 0.2) };
        return new Launcher(track, sled, contacts, new BenchSupply(36.Volts(), limit: 40.Amperes()), new Payload(40.Grams()))
        {
            Suppressor = Suppressor.Clamp(60.Volts()),
        };
    }

    /// <summary>The circuit of that launcher.</summary>
    public static (Track Track, IReadOnlyList<CircuitCoil> Coils) Circuit(int stations)
        => (MakeTrack(stations), [new CircuitCoil(MakeCoil(12, 18, 3, 180).ToSi(), 0, 1)]);

    /// <summary>Coils of 200 turns of all shapes over facing pairs.</summary>
    public static IEnumerable<(string Name, CoilSi Coil, StationSi Station)> Coils()
    {
        yield return ("as in the README", MakeCoil(12, 18, 3, 200).ToSi(), Pair(12, 20, 10));
        yield return ("the same, whole layers", MakeCoil(12, 18, 3, 200).ToSi() with { Last = default }, Pair(12, 20, 10));
        yield return ("long racetrack", MakeCoil(10, 60, 5, 200).ToSi(), Pair(12, 60, 10));
        yield return ("big corner", MakeCoil(16, 20, 7.5, 200).ToSi(), Pair(12, 20, 10));
        yield return ("round", MakeCoil(16, 16, 8, 200).ToSi(), Pair(16, 16, 10));
        yield return ("gap of 8 mm", MakeCoil(12, 18, 3, 200).ToSi(), Pair(12, 20, 8));
        yield return ("gap of 7.4 mm", MakeCoil(12, 18, 3, 200).ToSi(), Pair(12, 20, 7.4));
    }

    private static StationSi Pair(double along, double height, double gap) => MagnetStation.FacingPair(
        new BlockMagnet(along.Millimeters(), 6.Millimeters(), height.Millimeters(), MagnetGrade.N42), gap.Millimeters()).ToSi();

    private static Track MakeTrack(int stations)
    {
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        return Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations, pitch: 20.Millimeters());
    }

    private static Coil MakeCoil(double width, double height, double corner, int turns)
    {
        Wire wire = Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2);
        CoilFormer former = CoilFormer.Rounded(width.Millimeters(), height.Millimeters(), corner.Millimeters(), 7.Millimeters());
        return Coil.Wind(wire, former, turns);
    }
}
