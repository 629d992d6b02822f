using Magrail.Numerics;

namespace Magrail.Tests.Regression;

/// <summary>
/// The search for a double crossing went on until its interval was a billionth of the step. Late in a run, over a step of less than a
/// nanosecond, time has no such small parts: the search never ended, and a launch with a supply at its limit hung.
/// </summary>
public sealed class DipInAStepOfNanoseconds
{
    [Fact]
    public async Task The_search_ends()
    {
        var system = new Dipping();
        var integrator = new HybridIntegrator<Dipping>(system, new Tolerances(1e-8, 1e-20));
        Task<OdeOutcome> run = Task.Run(() => integrator.Run(1000, [0], 1000 + 1e-9));

        Assert.Same(run, await Task.WhenAny(run, Task.Delay(TimeSpan.FromSeconds(20))));
        Assert.Equal(OdeOutcome.ReachedEnd, await run);
        Assert.True(system.Asked > 0, "a step with a dip in it was met");
    }

    /// <summary>y = t from zero, and an event function that dips ten times in a nanosecond without reaching zero.</summary>
    private sealed class Dipping : IHybridSystem
    {
        public int Asked { get; private set; }

        public int Dimension => 1;

        public int EventCount => 1;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => derivatives[0] = 1;

        public double EventValue(int index, double time, ReadOnlySpan<double> state) => 2 + Math.Cos(2 * Math.PI * state[0] / 1e-10);

        public CrossingDirection Direction(int index) => CrossingDirection.PositiveToNegative;

        public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives)
        {
            Asked++;
            return true;
        }

        public double NextTimeStop(double time) => double.PositiveInfinity;

        public double LongestStep(ReadOnlySpan<double> state) => 7e-11;

        public void OnStep(in DenseStep taken)
        {
        }

        public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired) => EventResponse.Record;
    }
}
