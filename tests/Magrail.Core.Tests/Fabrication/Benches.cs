using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Fabrication;

/// <summary>Launchers for the sheets: the bench launcher, two circuits, coils in series, rings about the path, a lead that grows, a wide station.</summary>
internal static class Benches
{
    public static Launcher Plain { get; } = LaunchBench.Whole(12);

    public static LaunchResult PlainLaunch { get; } = Plain.Launch();

    public static Launcher Supplied { get; } = Plain with { Source = new BenchSupply(24.Volts(), 20.Amperes()), Leads = Leads.OfCopper(2.Meters(), 0.025.SquareCentimeters()) };

    public static LaunchResult SuppliedLaunch { get; } = Supplied.Launch();

    public static Launcher Banked { get; } = Plain with { Source = new CapacitorBank(20.Millifarads(), 40.Volts(), 50.Milliohms()) };

    public static Launcher TwoCircuits { get; } = Plain with
    {
        Sled = new Sled(40.Grams(), [new CoilMount(LaunchBench.Coil, Length.Zero), new CoilMount(LaunchBench.Coil, 50.Millimeters(), circuit: 1)]),
    };

    public static Launcher Series { get; } = Plain with
    {
        Sled = new Sled(40.Grams(), [new CoilMount(LaunchBench.Coil, Length.Zero), new CoilMount(LaunchBench.Coil, 60.Millimeters(), WindingSense.Crossed)]),
    };

    /// <summary>Rings along the track, a coil about their axis.</summary>
    public static Launcher Coaxial { get; } = OfRings();

    /// <summary>Dead strips, strips of unlike lengths, a line that is fed elsewhere than the other, at odd places.</summary>
    public static Launcher Uneven { get; } = Plain with
    {
        Contacts = LaunchBench.Commutator(
            2.5,
            (3.1234, 15.98765, Bus.Minus, Bus.Plus),
            (24.5, 35.25, Bus.Plus, Bus.Minus),
            (43, 44.5, Bus.Dead, Bus.Dead),
            (64.333333, 75.1, Bus.Plus, Bus.Minus)),
    };

    public static Launcher LongTrack(int stations) => LaunchBench.Whole(stations);

    public static string[] All { get; } = ["Plain", "Supplied", "Banked", "TwoCircuits", "Series", "Coaxial", "Uneven"];

    public static TheoryData<string> Names => [.. All];

    public static Launcher Named(string name) => name switch
    {
        "Plain" => Plain,
        "Supplied" => Supplied,
        "Banked" => Banked,
        "TwoCircuits" => TwoCircuits,
        "Series" => Series,
        "Coaxial" => Coaxial,
        _ => Uneven,
    };

    private static Launcher OfRings()
    {
        var ring = new RingMagnet(40.Millimeters(), 24.Millimeters(), 8.Millimeters(), MagnetGrade.N42);
        Track track = Track.OfStations(MagnetStation.Coaxial(ring), 8, 25.Millimeters());
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Awg(26), EnamelGrade.Grade1), CoilFormer.Round(12.Millimeters(), 8.Millimeters()), 100, WindingStyle.Wild(0.65), axis: TrackAxis.Along);
        var contacts = ContactCommutator.For(track, coil, 0.7, 0.2.Millimeters(), new Brush(3.Millimeters()));
        return new Launcher(track, new Sled(30.Grams(), coil), contacts, new BatteryPack(22.Volts(), 80.Milliohms(), 2.AmpereHours()), new Payload(10.Grams()));
    }
}
