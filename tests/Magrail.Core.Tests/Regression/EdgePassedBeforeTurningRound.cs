using Magrail.Numerics;

namespace Magrail.Tests.Regression;

/// <summary>
/// A body that passes an edge, comes to rest and passes the edge again, all inside one step: the edge function has the same
/// sign at both ends of the step, and only the rest was seen. The launch then went on as if the edge had not been passed.
/// </summary>
public sealed class EdgePassedBeforeTurningRound
{
    [Theory]
    [InlineData(20)]
    [InlineData(5)]
    [InlineData(1)]
    [InlineData(0.1)]
    public void EveryEdgeBeforeTheTurnFires(double before)
    {
        // x = 200 t - t²: at rest at 100, past the edge at 10000 - before² that long before (closed form). The polynomial is
        // exact for the integrator, so that its steps become as long as they may.
        var system = new ThrownBody(10000 - (before * before));
        var integrator = new HybridIntegrator<ThrownBody>(system, new Tolerances(1e-8, 1e-8));

        OdeOutcome outcome = integrator.Run(0, [0, 200], 10000);

        Assert.Equal(OdeOutcome.StoppedByEvent, outcome);
        Assert.Equal([0, 1], system.Fired.Select(f => f.Index));

        // The edge's time is known to a rounding of x over the speed there.
        Assert.Equal(100 - before, system.Fired[0].Time, 1e-10);
        Assert.Equal(100, system.Fired[1].Time, 1e-10);
    }

    private sealed class ThrownBody(double edge) : IHybridSystem
    {
        public List<(int Index, double Time)> Fired { get; } = [];

        public int Dimension => 2;

        public int EventCount => 2;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives)
        {
            derivatives[0] = state[1];
            derivatives[1] = -2;
        }

        public double EventValue(int index, double time, ReadOnlySpan<double> state) => index == 1 ? state[1] : state[0] - edge;

        public CrossingDirection Direction(int index) => index == 1 ? CrossingDirection.PositiveToNegative : CrossingDirection.NegativeToPositive;

        public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives) => false;

        public double NextTimeStop(double time) => double.PositiveInfinity;

        public void OnStep(in DenseStep taken)
        {
        }

        public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired)
        {
            foreach (int index in fired)
            {
                Fired.Add((index, time));
            }

            return fired.Contains(1) ? EventResponse.Stop : EventResponse.Restart;
        }
    }
}
