#:project ../../src/Magrail.Charts
// The launch of notebooks/01-first-launch.ipynb as a plain program: dotnet run docs/examples/first-launch.cs
using Magrail;
using Magrail.Charts;
using Magrail.Units;

var magnet = new BlockMagnet(along: 12.Millimeters(), across: 6.Millimeters(), height: 20.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 48, pitch: 20.Millimeters());

var wire = Wire.Copper(WireGauge.Metric(0.45.Millimeters()), EnamelGrade.Grade2);
var former = CoilFormer.Rounded(width: 12.Millimeters(), height: 18.Millimeters(), corner: 3.Millimeters(), length: 7.Millimeters());
var coil = Coil.Wind(wire, former, turns: 160);

var brush = new Brush(3.Millimeters(), resistance: 10.Milliohms(), force: 0.5.Newtons());
var contacts = ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), brush);
var sled = new Sled(mass: 40.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15), DragArea = 10.SquareCentimeters() };
var source = new BenchSupply(24.Volts(), limit: 20.Amperes());
var seedBall = new Payload(40.Grams(), neededSpeed: 11.MetersPerSecond(), accelerationLimit: 450.MetersPerSecondSquared());

var launcher = new Launcher(track, sled, contacts, source, seedBall)
{
    Slope = 40.Degrees(),
    Leads = Leads.OfCopper(length: 2.Meters(), section: 0.025.SquareCentimeters()),
    Suppressor = Suppressor.Clamp(60.Volts()),
};

LaunchResult launch = launcher.Launch();
Console.WriteLine(launch);
Console.WriteLine(launch.Ledger);

string folder = args.Length > 0 ? args[0] : "artifacts";
Directory.CreateDirectory(folder);
launch.Trace.SaveCsv(Path.Combine(folder, "first-launch.csv"));
LaunchCharts.Overview(launch).SaveHtml(Path.Combine(folder, "first-launch-chart.html"));
