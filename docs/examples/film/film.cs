#:project ../../../src/Magrail.Files
// The essence of notebooks/09-does-my-film-agree.ipynb as a plain program: dotnet run docs/examples/film/film.cs -- notebooks/data
// The films are simulated: nobody built this thrower, and nobody filmed it.
using Magrail;
using Magrail.Files;
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
Launcher slow = drawn with { Source = new BenchSupply(14.Volts(), limit: 20.Amperes()) };

// Two errors are the same in every frame and have to be stated: that of the ruler, and that of the camera's clock.
string folder = args.Length > 0 ? args[0] : "notebooks/data";
var options = new RunCsvOptions { Errors = new FilmErrors { Scale = Ratio.FromPercent(0.2), FrameTime = Ratio.FromPercent(0.05) } };
FilmedRun fast24 = RunCsv.Read(Path.Combine(folder, "simulated-film-24-volts.csv"), options);
FilmedRun slow14 = RunCsv.Read(Path.Combine(folder, "simulated-film-14-volts.csv"), options);

// A lamp at the start switch lights at 12.5 ms of either film.
Duration lamp = 12.5.Milliseconds();
Console.WriteLine(RunComparison.Between(fast24.Smooth(), drawn.Launch(), start: lamp));

// Worse contacts and more friction look alike in one launch; two launches tell them apart.
CalibrationResult calibration = Calibration.Fit(
    [CalibrationUnknown.ContactResistance(), CalibrationUnknown.SlidingFriction()],
    [new CalibrationRun(drawn, fast24, lamp), new CalibrationRun(slow, slow14, lamp)]);
Console.WriteLine(calibration);
Console.WriteLine(RunComparison.Between(fast24.Smooth(), calibration.Apply(drawn).Launch(), start: lamp));
