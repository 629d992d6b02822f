#:project ../../src/Magrail.Core
// From your own numbers to sheets for the bench and a template to print: dotnet run docs/examples/workshop-sheet.cs
using Magrail;
using Magrail.Units;
using MathNet.Numerics;

// ---- Your launcher: change these lines, save, and run again. All numbers here are invented. ----
// A decimal point, never a comma; every line ends with ;
string title = "Seed-ball thrower";
int stations = 48;                       // pairs of magnets along the track
double pitch = 20;                       // mm from one pair to the next
double gap = 10;                         // mm between the two magnets of a pair
double magnetAlong = 12, magnetAcross = 6, magnetHeight = 20;    // mm; magnetized across the gap
double wireDiameter = 0.45;              // mm, bare
int turns = 160;                         // of the coil
double coreWidth = 12, coreHeight = 18, coreCorner = 3, windowLength = 7;    // mm, of the coil's former
double volts = 24, amperes = 20;         // of the bench supply, and its limit
double carriageGrams = 40, payloadGrams = 40, slopeDegrees = 40;
double brushLength = 3, stripWidth = 6, dwell = 0.8, lead = 0.5;    // mm, mm, part of the pitch, mm
// -------------------------------------------------------------------------------------------------

string folder = args.Length > 0 ? args[0] : Path.Combine("artifacts", "workshop-sheet");
try
{
    var track = Track.OfFacingPairs(
        new BlockMagnet(magnetAlong.Millimeters(), magnetAcross.Millimeters(), magnetHeight.Millimeters(), MagnetGrade.N42), gap.Millimeters(), stations, pitch.Millimeters());
    var coil = Coil.Wind(
        Wire.Copper(WireGauge.Metric(wireDiameter.Millimeters()), EnamelGrade.Grade2),
        CoilFormer.Rounded(coreWidth.Millimeters(), coreHeight.Millimeters(), coreCorner.Millimeters(), windowLength.Millimeters()),
        turns);
    var brush = new Brush(brushLength.Millimeters(), resistance: 10.Milliohms(), force: 0.5.Newtons());
    var launcher = new Launcher(
        track,
        new Sled(carriageGrams.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15), DragArea = 10.SquareCentimeters() },
        ContactCommutator.For(track, coil, dwell, lead.Millimeters(), brush),
        new BenchSupply(volts.Volts(), limit: amperes.Amperes()),
        new Payload(payloadGrams.Grams()))
    {
        Slope = slopeDegrees.Degrees(),
        Leads = Leads.OfCopper(length: 2.Meters(), section: 0.025.SquareCentimeters()),
        Suppressor = Suppressor.Clamp((2.5 * volts).Volts()),
    };

    var sheet = WorkshopSheet.Of(launcher, new WorkshopOptions { Title = title, Template = new TemplateOptions { StripWidth = stripWidth.Millimeters() } });
    Console.WriteLine(sheet.Launch);
    Console.WriteLine($"coil: {sheet.Windings[0].Resistance} at 20 °C, {QuantityText.Of(sheet.Windings[0].CutLength)} of wire to cut");
    string longest = sheet.Strips.LongestBrush is { } most ? $"up to {QuantityText.Of(most)}" : "any length";
    Console.WriteLine($"strips, laid out anew for this brush: {string.Join(", ", sheet.Strips.Groups)}; a brush of {longest} never bridges them");
    Console.WriteLine(sheet.Wiring.Fuse);
    Console.WriteLine($"template: {sheet.Template.Tiles.Length} sheets of A4");
    foreach (string file in sheet.Save(folder))
    {
        Console.WriteLine(Path.GetFullPath(file));
    }

    Console.WriteLine("Open workshop-sheet.html in a browser and print it at 100 % on A4. Then measure the bar on each sheet of the template: 100.0 mm.");
    return 0;
}
catch (Exception fault) when (fault is ArgumentException or LauncherDescriptionException or NonConvergenceException)
{
    Console.WriteLine("These numbers do not go together:");
    Console.WriteLine(fault.Message);
    return 1;
}
