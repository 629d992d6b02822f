// For a fresh project with the package Magrail.Files: a study written and read back in both formats, and a film read.
using Magrail;
using Magrail.Files;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 6, pitch: 20.Millimeters());
var coil = Coil.Wind(Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2), CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), turns: 180);
var contacts = ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters()));
var launcher = new Launcher(track, new Sled(25.Grams(), coil), contacts, new BenchSupply(36.Volts()), new Payload(40.Grams()));

StudyResult made = new Study(launcher, DesignNumber.Voltage.FromTo(20.Volts(), 40.Volts(), 3)).Run();
StudyCsv.Write(made, "study.csv");
StudyParquet.Write(made, "study.parquet");
foreach (StudyResult read in new[] { StudyCsv.Read("study.csv"), StudyParquet.Read("study.parquet") })
{
    Must(read.Fingerprint == made.Fingerprint && read.Points.Length == 3, "the study came back");
    for (int i = 0; i < 3; i++)
    {
        Must(read.Points[i].ExitSpeed!.Value.MetersPerSecond == made.Points[i].ExitSpeed!.Value.MetersPerSecond, $"point {i} came back bit for bit");
    }
}

FilmedRun film = RunCsv.Read(new StringReader("time [ms];x [mm]\n" + string.Concat(Enumerable.Range(0, 20).Select(i => $"{i};{i * i}\n"))));
Must(Math.Abs(film.PositionMeters[^1] - 0.361) < 1e-12, "the film ends at 361 mm");
Console.WriteLine($"{made.Points.Length} points came back from both formats, and {film.FrameCount} frames were read");

static void Must(bool holds, string what)
{
    if (!holds)
    {
        throw new InvalidOperationException($"It does not hold that {what}.");
    }
}
