#:project ../../src/Magrail.Charts
// The essence of notebooks/04-where-do-the-strips-go.ipynb as a plain program: dotnet run docs/examples/strips.cs
using Magrail;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(13.Millimeters(), 7.Millimeters(), 22.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 24, pitch: 22.Millimeters());
var wire = Wire.Copper(WireGauge.Metric(0.4.Millimeters()), EnamelGrade.Grade2);
var coil = Coil.Wind(wire, CoilFormer.Rounded(13.Millimeters(), 19.Millimeters(), 3.Millimeters(), 7.Millimeters()), turns: 180);
var launcher = new Launcher(
    track,
    new Sled(45.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15) },
    ContactCommutator.For(track, coil, StripLayout.OfDwell(0.75), new Brush(3.Millimeters(), resistance: 10.Milliohms())),
    new BenchSupply(30.Volts(), limit: 15.Amperes()),
    new Payload(35.Grams(), neededSpeed: 8.MetersPerSecond()))
{
    Leads = Leads.OfCopper(length: 2.Meters(), section: 0.025.SquareCentimeters()),
    Suppressor = Suppressor.Clamp(80.Volts()),
};

// Dwell and lead act on each other, so both are swept together.
var study = new Study(launcher, DesignNumber.Dwell.FromTo(0.53, 0.98, 10), DesignNumber.Lead.FromTo(0.Millimeters(), 4.Millimeters(), 9));
StudyResult sweep = study.Run(new StudyOptions { FindsLimits = false });
StudyPoint best = sweep.Points.Where(point => point.ExitSpeed is not null).MaxBy(point => point.ExitSpeed)!;
Launcher without = DesignNumber.Lead.With(study.LauncherAt(best.Index), 0.Millimeters());
Console.WriteLine($"best: {best}");
Console.WriteLine($"the same dwell without lead: {QuantityText.Of(without.Launch().ExitSpeed)}");
Console.WriteLine($"turning time L/R: {QuantityText.Of(StripLead.TurningTime(coil, elsewhere: 40.Milliohms()))}");
Console.WriteLine($"never leaves: {sweep.Points.First(point => point.ExitSpeed is null)}");

string folder = args.Length > 0 ? args[0] : "artifacts";
ChartPage.Save(Path.Combine(folder, "strips.html"), "Where the strips go", StudyCharts.Map(sweep, DesignNumber.Lead, DesignNumber.Dwell));
