using BenchmarkDotNet.Running;

if (args is ["figures"])
{
    Magrail.Benchmarks.Figures.Print();
    return;
}

BenchmarkSwitcher.FromAssembly(typeof(Magrail.Benchmarks.LaunchBenchmarks).Assembly).Run(args);
