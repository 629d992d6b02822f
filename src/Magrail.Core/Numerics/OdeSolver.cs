namespace Magrail.Numerics;

/// <summary>
/// Solves ordinary differential equations with located events: the convenient door to <see cref="HybridIntegrator{TSystem}"/>
/// for equations given as delegates, keeping the whole solution.
/// </summary>
public static class OdeSolver
{
    /// <summary>Integrates y' = f(t, y) from a start to an end, an event that stops, or a failure.</summary>
    /// <param name="function">f.</param>
    /// <param name="startTime">Start time.</param>
    /// <param name="startState">Start state, one value or more.</param>
    /// <param name="endTime">End time, later than the start.</param>
    /// <param name="tolerances">The accuracy asked for.</param>
    /// <param name="events">Events to locate, in the order in which those that fall together are handled; none by default.</param>
    /// <param name="stepLimit">The most steps to accept.</param>
    /// <returns>The solution; a run that did not finish is an outcome, not an exception.</returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentException">An event with a jump only records, so that its jump would be lost.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A state without a value, an end before the start, too few absolute tolerances.</exception>
    public static OdeSolution Solve(
        OdeFunction function,
        double startTime,
        ReadOnlySpan<double> startState,
        double endTime,
        Tolerances tolerances,
        IReadOnlyList<OdeEvent>? events = null,
        int stepLimit = 1_000_000)
    {
        ArgumentNullException.ThrowIfNull(function);
        ArgumentNullException.ThrowIfNull(tolerances);
        events ??= [];
        foreach (OdeEvent e in events)
        {
            ArgumentNullException.ThrowIfNull(e, nameof(events));
            if (e.Jump is not null && e.Response == EventResponse.Record)
            {
                throw new ArgumentException($"Event \"{e.Name}\" has a jump but its response is Record; use Restart or Stop, or the jump would be lost.", nameof(events));
            }
        }

        var system = new DelegateSystem(function, startState.Length, events);
        var integrator = new HybridIntegrator<DelegateSystem>(system, tolerances);
        OdeOutcome outcome = integrator.Run(startTime, startState, endTime, stepLimit);
        return new OdeSolution(
            outcome,
            integrator.Time,
            integrator.State.ToArray(),
            [.. system.Starts],
            [.. system.Lengths],
            [.. system.Coefficients],
            system.Crossings,
            (integrator.StepsAccepted, integrator.StepsRejected, integrator.Evaluations, integrator.Restarts));
    }

    private sealed class DelegateSystem(OdeFunction function, int dimension, IReadOnlyList<OdeEvent> events) : IHybridSystem
    {
        public List<double> Starts { get; } = [];

        public List<double> Lengths { get; } = [];

        public List<double> Coefficients { get; } = [];

        public List<OdeCrossing> Crossings { get; } = [];

        public int Dimension => dimension;

        public int EventCount => events.Count;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => function(time, state, derivatives);

        public double EventValue(int index, double time, ReadOnlySpan<double> state) => events[index].Value(time, state);

        public CrossingDirection Direction(int index) => events[index].Direction;

        public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives) => true;

        public double NextTimeStop(double time) => double.PositiveInfinity;

        public void OnStep(in DenseStep taken)
        {
            Starts.Add(taken.Start);
            Lengths.Add(taken.Length);
            Span<double> block = new double[5 * dimension];
            taken.CopyCoefficients(block);
            Coefficients.AddRange(block);
        }

        public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired)
        {
            EventResponse response = EventResponse.Record;
            foreach (int index in fired)
            {
                OdeEvent e = events[index];
                double[] before = state.ToArray();
                e.Jump?.Invoke(time, state);
                Crossings.Add(new OdeCrossing(index, e.Name, time, before, state.ToArray()));
                if (e.Response > response)
                {
                    response = e.Response;
                }
            }

            return response;
        }
    }
}
