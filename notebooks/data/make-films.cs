#:project ../../src/Magrail.Files
// Makes the two SIMULATED films of notebook 09 beside it: dotnet run -c Release notebooks/data/make-films.cs [folder]
// Nobody filmed anything. The launcher is that of notebook 01, but with worse brushes and more friction than drawn; the reading
// errors are random numbers from a fixed seed. What was put in stands here.
using System.Globalization;
using Magrail;
using Magrail.Units;
using UnitsNet;

const double ContactOhms = 0.045;    // drawn: 0.010
const double Sliding = 0.24;         // drawn: 0.15
const double ReadingMeters = 0.3e-3; // one standard deviation of a reading
const double ScaleError = 0.0015;    // the ruler in the picture was taken for 0.15 % longer than it is
const double FramesPerSecond = 960;
const double StartSeconds = 0.0125;  // when, in the time of the film, the push begins

string folder = args.Length > 0 ? args[0] : Path.Combine("notebooks", "data");
var magnet = new BlockMagnet(along: 12.Millimeters(), across: 6.Millimeters(), height: 20.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 48, pitch: 20.Millimeters());
var coil = Coil.Wind(
    Wire.Copper(WireGauge.Metric(0.45.Millimeters()), EnamelGrade.Grade2),
    CoilFormer.Rounded(width: 12.Millimeters(), height: 18.Millimeters(), corner: 3.Millimeters(), length: 7.Millimeters()),
    turns: 160);
var brush = new Brush(3.Millimeters(), resistance: ContactOhms.Ohms(), force: 0.5.Newtons());
foreach ((double volts, int seed) in new[] { (24.0, 24), (14.0, 14) })
{
    var built = new Launcher(
        track,
        new Sled(40.Grams(), coil) { Friction = new GuideFriction(Sliding), DragArea = 10.SquareCentimeters() },
        ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), brush),
        new BenchSupply(volts.Volts(), limit: 20.Amperes()),
        new Payload(40.Grams()))
    {
        Slope = 40.Degrees(),
        Leads = Leads.OfCopper(length: 2.Meters(), section: 0.025.SquareCentimeters()),
        Suppressor = Suppressor.Clamp(60.Volts()),
    };
    LaunchResult launch = built.Launch();
    var random = new Random(seed);
    var lines = new List<string>
    {
        "# SIMULATED, not filmed: made by notebooks/data/make-films.cs",
        string.Create(CultureInfo.InvariantCulture, $"# {volts} V; readings carry random errors of {1e3 * ReadingMeters} mm, one standard deviation, from a fixed seed"),
        "time [ms];position [mm]",
    };
    int frames = (int)(launch.ExitTime.Seconds * FramesPerSecond) + 1;
    for (int frame = 0; frame < frames; frame++)
    {
        double time = frame / FramesPerSecond;
        double noise = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        double start = launch.Trace.At(Duration.Zero).Position.Meters;
        double way = launch.Trace.At(time.Seconds()).Position.Meters - start;
        double read = start + ((1 + ScaleError) * way) + (ReadingMeters * noise);

        // As in any table read off by hand: two frames were skipped, one was read twice.
        string position = frame is 40 or 77 ? "" : (1e3 * read).ToString("F2", CultureInfo.InvariantCulture);
        string line = string.Create(CultureInfo.InvariantCulture, $"{1e3 * (StartSeconds + time):F3};{position}");
        lines.Add(line);
        if (frame == 90)
        {
            lines.Add(line);
        }
    }

    string path = Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"simulated-film-{volts}-volts.csv"));
    await File.WriteAllTextAsync(path, string.Join('\n', lines) + "\n");
    Console.WriteLine($"{path}: {frames} frames, released at {launch.ExitSpeed.MetersPerSecond:F4} m/s");
}
