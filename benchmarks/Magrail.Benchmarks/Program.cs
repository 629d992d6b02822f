using BenchmarkDotNet.Running;

switch (args)
{
    case ["figures"]:
        Magrail.Benchmarks.Figures.Print();
        break;
    case ["studies"]:
        Magrail.Benchmarks.StudyFigures.Print();
        break;
    default:
        BenchmarkSwitcher.FromAssembly(typeof(Magrail.Benchmarks.LaunchBenchmarks).Assembly).Run(args);
        break;
}
