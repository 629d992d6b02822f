#:project ../../src/Magrail.Charts
// The essence of notebooks/07-payload-and-speed.ipynb as a plain program: dotnet run docs/examples/payload.cs
using Magrail;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 26, pitch: 20.Millimeters());
var wire = Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2);
var coil = Coil.Wind(wire, CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), turns: 120);
var launcher = new Launcher(
    track,
    new Sled(40.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15) },
    ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.6.Millimeters(), new Brush(3.Millimeters(), resistance: 8.Milliohms())),
    new BatteryPack(22.Volts(), 70.Milliohms(), 3.AmpereHours()))
{
    Slope = 8.Degrees(),
    Leads = Leads.OfCopper(length: 2.Meters(), section: 0.04.SquareCentimeters()),
    Suppressor = Suppressor.Clamp(60.Volts()),
};

// What a glider of 500 cm² needs rises with its mass; what it gets falls.
foreach (int grams in new[] { 40, 80, 120, 160, 200 })
{
    var glider = new WingedPayload(grams.Grams(), wingArea: 500.SquareCentimeters(), maximumLiftCoefficient: 1.1);
    LaunchResult launch = (launcher with { Payload = glider.ToPayload() }).Launch();
    string verdict = launch.ExitSpeed >= glider.NeededSpeed ? "flies" : "too slow";
    Console.WriteLine($"{grams} g: needs {QuantityText.Of(glider.NeededSpeed)}, gets {QuantityText.Of(launch.ExitSpeed)}: {verdict}");
}

// A wing breaks: what is left falls like a stone, and this ground is to be kept clear.
Speed speed = (launcher with { Payload = new Payload(80.Grams()) }).Launch().ExitSpeed;
Console.WriteLine($"without a wing: {PayloadFlight.Of(80.Grams(), 30.SquareCentimeters(), speed, launcher.Slope, height: 1.5.Meters())}");
Console.WriteLine(ClearZone.Of(
    80.Grams(), Area.Zero, speed, launcher.Slope, height: 1.5.Meters(), margin: 5.Meters(), wind: 5.MetersPerSecond(), greatestDragArea: 600.SquareCentimeters()));
