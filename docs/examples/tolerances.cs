#:project ../../src/Magrail.Charts
// The essence of notebooks/08-how-sure-am-i.ipynb as a plain program: dotnet run docs/examples/tolerances.cs
using Magrail;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 48, pitch: 20.Millimeters());
var wire = Wire.Copper(WireGauge.Metric(0.45.Millimeters()), EnamelGrade.Grade2);
var coil = Coil.Wind(wire, CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), turns: 160);
var drawn = new Launcher(
    track,
    new Sled(40.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15), DragArea = 10.SquareCentimeters() },
    ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters(), resistance: 10.Milliohms(), force: 0.5.Newtons())),
    new BenchSupply(24.Volts(), limit: 20.Amperes()),
    new Payload(40.Grams(), neededSpeed: 11.MetersPerSecond()))
{
    Slope = 40.Degrees(),
    Leads = Leads.OfCopper(length: 2.Meters(), section: 0.025.SquareCentimeters()),
    Suppressor = Suppressor.Clamp(60.Volts()),
};

// What may differ from the drawing; the number after At says how hard it is to halve.
ToleranceResult result = new ToleranceStudy(
    drawn,
    Spread.Uniform(DesignNumber.Remanence, MagnetGrade.N42.RemanenceLeast, MagnetGrade.N42.RemanenceGreatest).At(5),
    Spread.Normal(DesignNumber.Voltage, 24.Volts(), 0.3.Volts()).At(1),
    Spread.Normal(DesignNumber.Friction, 0.15, 0.03).At(8),
    Spread.Uniform(DesignNumber.ContactResistance, 5.Milliohms(), 40.Milliohms()).At(3),
    Spread.Normal(DesignNumber.PayloadMass, 40.Grams(), 1.5.Grams()).At(2)).Run(samples: 200, seed: 7);
Console.WriteLine(result);
Console.WriteLine($"reach 11 m/s: {result.ProbabilityOf(11.MetersPerSecond())}");

string folder = args.Length > 0 ? args[0] : "artifacts";
ChartPage.Save(Path.Combine(folder, "tolerances.html"), "How sure am I", StudyCharts.Histogram(result, 11.MetersPerSecond()), StudyCharts.Shares(result));
