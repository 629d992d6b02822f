using System.Diagnostics;
using System.Globalization;

namespace Magrail.Benchmarks;

/// <summary>The figures that docs/accuracy.md quotes, as plain text in seconds rather than minutes.</summary>
internal static class Figures
{
    private const int Launches = 300;

    public static void Print()
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        Console.WriteLine("stations  median us  least us  us/station  steps  evaluations  bytes  exit m/s   residual");
        foreach (int stations in (int[])[10, 20, 40, 80, 160])
        {
            LaunchSimulation simulation = BenchLauncher.Make(stations).Prepare();
            LaunchSummary summary = default;
            for (int i = 0; i < Launches; i++)
            {
                summary = simulation.RunSummary();
            }

            double[] times = new double[Launches];
            long bytes = GC.GetAllocatedBytesForCurrentThread();
            for (int i = 0; i < Launches; i++)
            {
                long start = Stopwatch.GetTimestamp();
                summary = simulation.RunSummary();
                times[i] = Stopwatch.GetElapsedTime(start).TotalMicroseconds;
            }

            bytes = GC.GetAllocatedBytesForCurrentThread() - bytes;
            Array.Sort(times);
            double median = times[Launches / 2];
            Console.WriteLine(
                $"{stations,8}  {median,9:F0}  {times[0],8:F0}  {median / stations,10:F2}  {summary.Steps,5}  {summary.Evaluations,11}  {bytes,5}  {summary.EndSpeed.MetersPerSecond,8:F4}  {summary.RelativeResidual,9:E1}");
        }

        Console.WriteLine();
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
