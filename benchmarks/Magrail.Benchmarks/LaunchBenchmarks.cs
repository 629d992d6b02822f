using BenchmarkDotNet.Attributes;

namespace Magrail.Benchmarks;

/// <summary>One launch with everything compiled, by number of stations: time and bytes allocated.</summary>
[MemoryDiagnoser]
public class LaunchBenchmarks
{
    private LaunchSimulation simulation = null!;

    [Params(10, 40, 160)]
    public int Stations { get; set; }

    [GlobalSetup]
    public void Setup() => simulation = BenchLauncher.Make(Stations).Prepare();

    [Benchmark]
    public LaunchSummary Launch() => simulation.RunSummary();
}
