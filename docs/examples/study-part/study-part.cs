#:project ../../../src/Magrail.Files
#:property PublishAot=false
// One part of a study, or the merging of all parts: what a batch system runs many times.
//   dotnet run -c Release study-part.cs -- 3 16 results        part 3 of 16, written to results/part-3-of-16.parquet
//   dotnet run -c Release study-part.cs -- merge 16 results    all parts, merged to results/study.parquet and study.csv
// A part that was killed goes on where it stopped when it is run again.
using Magrail;
using Magrail.Files;
using Magrail.Units;
using static System.FormattableString;

var magnet = new BlockMagnet(along: 14.Millimeters(), across: 6.Millimeters(), height: 24.Millimeters(), MagnetGrade.N45);
var track = Track.OfFacingPairs(magnet, gap: 11.Millimeters(), stations: 16, pitch: 22.Millimeters());
var former = CoilFormer.Rounded(width: 12.Millimeters(), height: 20.Millimeters(), corner: 4.Millimeters(), length: 8.Millimeters());
var coil = Coil.Wind(Wire.Copper(WireGauge.Metric(0.45.Millimeters()), EnamelGrade.Grade2), former, turns: 150);
var launcher = new Launcher(
    track,
    new Sled(45.Grams(), coil) { Friction = new GuideFriction(0.15) },
    ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters(), 10.Milliohms())),
    new BatteryPack(24.Volts(), 60.Milliohms(), 2.AmpereHours()),
    new Payload(30.Grams(), neededSpeed: 6.MetersPerSecond()))
{
    Suppressor = Suppressor.Clamp(80.Volts()),
    Ratings = new Ratings { BrushCurrent = 25.Amperes() },
};

// The numbers that change the geometry first.
var study = new Study(
    launcher,
    DesignNumber.Turns.FromTo(80, 180, 11),
    DesignNumber.Lead.FromTo(0.Millimeters(), 3.Millimeters(), 7),
    DesignNumber.Voltage.FromTo(12.Volts(), 36.Volts(), 9));

int count = int.Parse(args[1], System.Globalization.CultureInfo.InvariantCulture);
string folder = args[2];
Directory.CreateDirectory(folder);
string PartFile(int part, string ending) => Path.Combine(folder, Invariant($"part-{part}-of-{count}.{ending}"));
if (args[0] == "merge")
{
    StudyResult whole = StudyResult.Merge([.. Enumerable.Range(1, count).Select(part => StudyParquet.Read(PartFile(part, "parquet")))]);
    StudyParquet.Write(whole, Path.Combine(folder, "study.parquet"));
    StudyCsv.Write(whole, Path.Combine(folder, "study.csv"));
    Console.WriteLine(whole);
}
else
{
    int part = int.Parse(args[0], System.Globalization.CultureInfo.InvariantCulture);
    StudyResult result = study.Run(new StudyOptions { Part = new StudyPart(part, count), FinishedPoints = PartFile(part, "txt") });
    StudyParquet.Write(result, PartFile(part, "parquet"));
    Console.WriteLine(result);
}
