#:project ../../src/Magrail.Charts
// The essence of notebooks/05-which-source.ipynb as a plain program: dotnet run docs/examples/source.cs
using Magrail;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(14.Millimeters(), 7.Millimeters(), 22.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 20, pitch: 22.Millimeters());
var wire = Wire.Copper(WireGauge.Metric(0.56.Millimeters()), EnamelGrade.Grade2);
var coil = Coil.Wind(wire, CoilFormer.Rounded(13.Millimeters(), 19.Millimeters(), 3.Millimeters(), 7.Millimeters()), turns: 88);

// Three sources that all say 24 V.
var supply = new BenchSupply(24.Volts(), limit: 15.Amperes());
var pack = new BatteryPack(24.Volts(), 120.Milliohms(), 5.AmpereHours());
var bank = new CapacitorBank(60.Millifarads(), 24.Volts(), 25.Milliohms());
var launcher = new Launcher(
    track,
    new Sled(45.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15) },
    ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.6.Millimeters(), new Brush(3.Millimeters(), resistance: 8.Milliohms())),
    supply,
    new Payload(70.Grams(), neededSpeed: 7.MetersPerSecond()))
{
    Leads = Leads.OfCopper(length: 2.Meters(), section: 0.04.SquareCentimeters()),
    Suppressor = Suppressor.Clamp(60.Volts()),
};

var launches = new List<(string Name, LaunchResult Launch)>();
foreach ((string name, PowerSource source) in new (string, PowerSource)[] { ("bench supply", supply), ("battery pack", pack), ("capacitor bank", bank) })
{
    LaunchResult launch = (launcher with { Source = source }).Launch();
    launches.Add((name, launch));
    Console.WriteLine(
        $"{name}: {QuantityText.Of(launch.ExitSpeed)}, at most {QuantityText.Of(launch.PeakSourceCurrent)}, "
        + $"at least {QuantityText.Of(launch.LeastRailVoltage)} between the rails, {QuantityText.Of(launch.Ledger.Drawn)} drawn");
}

string folder = args.Length > 0 ? args[0] : "artifacts";
ChartPage.Save(
    Path.Combine(folder, "source.html"),
    "Which source",
    LaunchCharts.SpeedsCompared(launches),
    LaunchCharts.Compared(LaunchCurve.RailVoltage, LaunchAxis.Position, launches));
