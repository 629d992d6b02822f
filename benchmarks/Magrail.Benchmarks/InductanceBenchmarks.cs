using BenchmarkDotNet.Attributes;

namespace Magrail.Benchmarks;

/// <summary>Inductance without its cache: what one new geometry costs.</summary>
public class InductanceBenchmarks
{
    private readonly CoilSi complete = new(0.006, 0.009, 0.003, new WindingBlockSi(0, 0.0085, -0.0034, 0.0034, 180), default);

    private readonly CoilSi incomplete = new(
        0.006, 0.009, 0.003, new WindingBlockSi(0, 0.0079, -0.0034, 0.0034, 168), new WindingBlockSi(0.0079, 0.0085, -0.0034, 0, 6));

    [Benchmark]
    public double SelfOfCompleteLayers() => SelfInductance.Compute(complete);

    [Benchmark]
    public double SelfWithIncompleteLayer() => SelfInductance.Compute(incomplete);

    [Benchmark]
    public double MutualSideBySide() => MutualInductance.Between(complete, complete, new Vector3D(0.030, 0, 0));
}
