using BenchmarkDotNet.Running;
using static System.Globalization.CultureInfo;

switch (args)
{
    case ["figures"]:
        Magrail.Benchmarks.Figures.Print();
        break;
    case ["studies"]:
        Magrail.Benchmarks.StudyFigures.Print();
        break;
    case ["bench-launch", string launches, string relative, string absolute]:
        Magrail.Benchmarks.BenchLaunch.Print(int.Parse(launches, InvariantCulture), double.Parse(relative, InvariantCulture), double.Parse(absolute, InvariantCulture));
        break;
    case ["bench-ensemble", string launches, string relative, string absolute]:
        Magrail.Benchmarks.BenchLaunch.PrintEnsemble(int.Parse(launches, InvariantCulture), double.Parse(relative, InvariantCulture), double.Parse(absolute, InvariantCulture));
        break;
    case ["bench-precision"]:
        Magrail.Benchmarks.BenchLaunch.PrintPrecision();
        break;
    default:
        BenchmarkSwitcher.FromAssembly(typeof(Magrail.Benchmarks.LaunchBenchmarks).Assembly).Run(args);
        break;
}
