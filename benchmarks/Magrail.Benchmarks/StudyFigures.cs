using System.Diagnostics;
using System.Globalization;
using Magrail.Units;

namespace Magrail.Benchmarks;

/// <summary>What studies cost, as docs/speed.md quotes it.</summary>
internal static class StudyFigures
{
    public static void Print()
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        Launcher launcher = BenchLauncher.Make(40);
        var study = new Study(
            launcher,
            DesignNumber.Turns.FromTo(60, 180, 10),
            DesignNumber.Voltage.FromTo(20.Volts(), 50.Volts(), 100),
            DesignNumber.PayloadMass.FromTo(10.Grams(), 88.Grams(), 40));
        Console.WriteLine($"{study}; 40 stations each, all limits.");
        Console.WriteLine($"Preparing a launcher whose coupling is known: {Preparing(launcher):F0} us.");
        Console.WriteLine("tolerance  cores  wall s  CPU s  us CPU/launch  of it launching  MB kept  median error  worst error");

        // Everything compiled, and the runtime warm.
        _ = study.Run(new StudyOptions { Part = new StudyPart(3, 11) });
        Study sample = new(launcher, DesignNumber.Turns.FromTo(60, 180, 10), DesignNumber.Voltage.FromTo(20.Volts(), 50.Volts(), 10), DesignNumber.PayloadMass.FromTo(10.Grams(), 88.Grams(), 4));
        StudyResult exact = sample.Run(new StudyOptions { Launch = new LaunchOptions { RelativeTolerance = 1e-11 } });
        foreach ((double tolerance, int cores) in (ReadOnlySpan<(double, int)>)[(1e-5, 2), (1e-6, 2), (1e-6, 1), (1e-8, 2)])
        {
            var options = new StudyOptions { Launch = new LaunchOptions { RelativeTolerance = tolerance }, Cores = cores };
            double[] errors = [.. sample.Run(options).Points.Zip(exact.Points).Where(pair => pair.Second.ExitSpeed is not null)
                .Select(pair => Math.Abs((pair.First.ExitSpeed!.Value.MetersPerSecond / pair.Second.ExitSpeed!.Value.MetersPerSecond) - 1)).Order()];
            long before = GC.GetTotalMemory(forceFullCollection: true);
            TimeSpan cpu = Environment.CpuUsage.TotalTime;
            long start = Stopwatch.GetTimestamp();
            StudyResult result = study.Run(options);
            double wall = Stopwatch.GetElapsedTime(start).TotalSeconds;
            double seconds = (Environment.CpuUsage.TotalTime - cpu).TotalSeconds;
            double kept = (GC.GetTotalMemory(forceFullCollection: true) - before) / 1e6;
            Console.WriteLine(
                $"{tolerance,9:E0}  {cores,5}  {wall,6:F1}  {seconds,5:F1}  {1e6 * seconds / result.Points.Length,13:F0}  {Launching(launcher, tolerance),15:F0}  {kept,7:F1}  {errors[errors.Length / 2],12:E1}  {errors[^1],11:E1}");
            GC.KeepAlive(result);
        }
    }

    private static double Preparing(Launcher launcher)
    {
        double least = double.PositiveInfinity;
        for (int i = 0; i < 2000; i++)
        {
            Launcher other = DesignNumber.Voltage.With(launcher, (30 + (0.001 * i)).Volts());
            long start = Stopwatch.GetTimestamp();
            _ = other.Prepare();
            least = Math.Min(least, Stopwatch.GetElapsedTime(start).TotalMicroseconds);
        }

        return least;
    }

    private static double Launching(Launcher launcher, double tolerance)
    {
        LaunchSimulation simulation = launcher.Prepare(new LaunchOptions { RelativeTolerance = tolerance });
        double least = double.PositiveInfinity;
        for (int i = 0; i < 500; i++)
        {
            long start = Stopwatch.GetTimestamp();
            _ = simulation.RunSummary();
            least = Math.Min(least, Stopwatch.GetElapsedTime(start).TotalMicroseconds);
        }

        return least;
    }
}
