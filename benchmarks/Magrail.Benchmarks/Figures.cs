using System.Diagnostics;
using System.Globalization;
using UnitsNet;

namespace Magrail.Benchmarks;

/// <summary>The figures that docs/speed.md quotes, as plain text in seconds rather than minutes.</summary>
internal static class Figures
{
    private const int Launches = 300;

    public static void Print()
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        Console.WriteLine("Least, median: of the time by the clock. CPU: mean processor time of all threads, which other work on the machine does not prolong.");
        Console.WriteLine();
        StationCurves();
        TrackCurves();
        LaunchesByStations();
        LaunchesByTolerance();
    }

    /// <summary>What a new geometry costs: no curve of it is in the cache, as every coil differs from the one before by a hair's breadth.</summary>
    private static void StationCurves()
    {
        const int Rounds = 100;
        Console.WriteLine("Force constant of one coil of 200 turns over one facing pair, compiled anew to 1e-7 of its peak.");
        Console.WriteLine("The worst error is that against the integral itself at 200 places; all errors are fractions of the peak.");
        Console.WriteLine("coil                    clearance mm  least ms  median ms  CPU ms  first ms  samples  stated error  worst error");
        bool warmedUp = false;
        foreach ((string name, CoilSi coil, StationSi station) in BenchLauncher.Coils())
        {
            double[] times = new double[Rounds];
            StationCurve curve = null!;
            CoilSi varied = coil;
            TimeSpan before = TimeSpan.Zero;
            double first = 0;

            // The very first coil warms up for all: the runtime compiles hot code anew in the background.
            int warm = warmedUp ? Rounds : 10 * Rounds;
            warmedUp = true;
            for (int i = -warm; i < Rounds; i++)
            {
                before = i == 0 ? Environment.CpuUsage.TotalTime : before;
                varied = coil with { HalfWidth = coil.HalfWidth * (1 + (1e-6 * (i + warm + 1))) };
                long start = Stopwatch.GetTimestamp();
                curve = StationCurve.Of(varied, station, 1e-7);
                double time = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
                first = i == -warm ? time : first;
                if (i >= 0)
                {
                    times[i] = time;
                }
            }

            double cpu = (Environment.CpuUsage.TotalTime - before).TotalMilliseconds / Rounds;
            var random = new Random(1);
            double worst = 0;
            for (int i = 0; i < 200; i++)
            {
                double d = ((2 * random.NextDouble()) - 1) * curve.NearLimit * (i % 2 == 0 ? 1 : 0.4);
                worst = Math.Max(worst, Math.Abs(curve.At(d) - (FlatCoilIntegral.PerTurn(varied, station, d, 14) / station.Remanence)));
            }

            double clearance = station.Bodies[1].Center.Y - station.Bodies[1].HalfAcross - coil.Full.AxialTo;
            Array.Sort(times);
            Console.WriteLine(
                $"{name,-22}  {1000 * clearance,12:F2}  {times[0],8:F2}  {times[Rounds / 2],9:F2}  {cpu,6:F2}  {first,8:F1}  {curve.SampleCount,7}  {curve.ErrorBound / curve.Peak,12:E1}  {worst / curve.Peak,11:E1}");
        }

        Console.WriteLine();
    }

    /// <summary>The curve of a whole track: what it costs to compile, given the station's, and to evaluate.</summary>
    private static void TrackCurves()
    {
        const int Evaluations = 1_000_000;
        Console.WriteLine("Force constant over a whole track. Compiling: the station's curve is known already. An evaluation allocates nothing.");
        Console.WriteLine("stations  compile ms  kB kept  polynomials  ns/evaluation in order  at random places");
        double[] random = new double[4096];
        var generator = new Random(1);
        for (int i = 0; i < random.Length; i++)
        {
            random[i] = generator.NextDouble();
        }

        foreach (int stations in (int[])[10, 100, 1000, 10_000])
        {
            double compile = double.PositiveInfinity;
            CircuitCurve curve = null!;
            for (int round = 0; round < 15; round++)
            {
                // Another end of the path each time, as the cache would know the same.
                (Track track, IReadOnlyList<CircuitCoil> coils) = BenchLauncher.Circuit(stations);
                double to = track.Positions[^1].Meters + 0.03 + (1e-6 * round);
                _ = CircuitCurve.Compile(track, coils, -0.031, to);
                long start = Stopwatch.GetTimestamp();
                curve = CircuitCurve.Compile(track, coils, -0.03, to);
                compile = Math.Min(compile, Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            }

            double inOrder = double.PositiveInfinity;
            double scattered = double.PositiveInfinity;
            double sum = 0;
            for (int round = 0; round < 10; round++)
            {
                double step = (curve.To - curve.From) / Evaluations;
                long start = Stopwatch.GetTimestamp();
                for (int i = 0; i < Evaluations; i++)
                {
                    sum += curve.At(curve.From + (step * i));
                }

                inOrder = Math.Min(inOrder, Stopwatch.GetElapsedTime(start).TotalNanoseconds / Evaluations);
                double length = curve.To - curve.From;
                start = Stopwatch.GetTimestamp();
                for (int i = 0; i < Evaluations; i++)
                {
                    sum += curve.At(curve.From + (length * random[i & 4095]));
                }

                scattered = Math.Min(scattered, Stopwatch.GetElapsedTime(start).TotalNanoseconds / Evaluations);
            }

            if (!double.IsFinite(sum))
            {
                throw new InvalidOperationException("The curve is not finite.");
            }

            Console.WriteLine(
                $"{stations,8}  {compile,10:F2}  {curve.Bytes / 1000.0,7:F1}  {curve.DistinctCells,11}  {inOrder,22:F1}  {scattered,16:F1}");
        }

        Console.WriteLine();
    }

    private static void LaunchesByStations()
    {
        Console.WriteLine("One launch with everything compiled, by number of stations.");
        Console.WriteLine("stations  median us  least us  us/station  least ns/step  CPU ns/step  steps  evaluations  bytes  exit m/s   residual");
        foreach (int stations in (int[])[10, 20, 40, 80, 160, 320, 1000, 3200, 10_000])
        {
            int launches = stations > 1000 ? Launches / 30 : stations > 160 ? Launches / 5 : Launches;

            // Ten thousand stations are 200 m, which take longer than the five seconds after which a run is given up.
            LaunchSimulation simulation = BenchLauncher.Make(stations).Prepare(new LaunchOptions { TimeLimit = Duration.FromSeconds(60) });
            LaunchSummary summary = default;
            for (int i = 0; i < launches; i++)
            {
                summary = simulation.RunSummary();
            }

            double[] times = new double[launches];
            TimeSpan before = Environment.CpuUsage.TotalTime;
            long bytes = GC.GetAllocatedBytesForCurrentThread();
            for (int i = 0; i < launches; i++)
            {
                long start = Stopwatch.GetTimestamp();
                summary = simulation.RunSummary();
                times[i] = Stopwatch.GetElapsedTime(start).TotalMicroseconds;
            }

            bytes = GC.GetAllocatedBytesForCurrentThread() - bytes;
            double cpu = (Environment.CpuUsage.TotalTime - before).TotalNanoseconds / launches / summary.Steps;
            Array.Sort(times);
            double median = times[launches / 2];
            Console.WriteLine(
                $"{stations,8}  {median,9:F0}  {times[0],8:F0}  {median / stations,10:F2}  {1000 * times[0] / summary.Steps,13:F0}  {cpu,11:F0}  {summary.Steps,5}  {summary.Evaluations,11}  {bytes,5}  {summary.EndSpeed.MetersPerSecond,8:F4}  {summary.RelativeResidual,9:E1}");
        }

        Console.WriteLine();
    }

    private static void LaunchesByTolerance()
    {
        Console.WriteLine("One launch over 40 stations, by tolerance.");
        Console.WriteLine("tolerance  median us  steps  evaluations  relative error of exit speed");
        Launcher launcher = BenchLauncher.Make(40);
        double reference = launcher.Launch(new LaunchOptions { RelativeTolerance = 1e-12 }).ExitSpeed.MetersPerSecond;
        foreach (double tolerance in (double[])[1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10])
        {
            LaunchSimulation simulation = launcher.Prepare(new LaunchOptions { RelativeTolerance = tolerance });
            LaunchSummary summary = default;
            double[] times = new double[Launches];
            for (int i = 0; i < Launches; i++)
            {
                long start = Stopwatch.GetTimestamp();
                summary = simulation.RunSummary();
                times[i] = Stopwatch.GetElapsedTime(start).TotalMicroseconds;
            }

            Array.Sort(times);
            double error = Math.Abs((summary.EndSpeed.MetersPerSecond / reference) - 1);
            Console.WriteLine($"{tolerance,9:E0}  {times[Launches / 2],9:F0}  {summary.Steps,5}  {summary.Evaluations,11}  {error,9:E1}");
        }
    }
}
