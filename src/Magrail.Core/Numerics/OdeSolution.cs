namespace Magrail.Numerics;

/// <summary>The outcome of an integration by <see cref="OdeSolver"/>, with its continuous extension.</summary>
public sealed class OdeSolution
{
    private readonly double[] starts;
    private readonly double[] lengths;
    private readonly double[] coefficients;
    private readonly int dimension;

    internal OdeSolution(
        OdeOutcome outcome,
        double endTime,
        double[] endState,
        double[] starts,
        double[] lengths,
        double[] coefficients,
        IReadOnlyList<OdeCrossing> crossings,
        (int Accepted, int Rejected, int Evaluations, int Restarts) counts)
    {
        Outcome = outcome;
        EndTime = endTime;
        EndState = endState;
        this.starts = starts;
        this.lengths = lengths;
        this.coefficients = coefficients;
        dimension = endState.Length;
        Crossings = crossings;
        StepsAccepted = counts.Accepted;
        StepsRejected = counts.Rejected;
        Evaluations = counts.Evaluations;
        Restarts = counts.Restarts;
    }

    /// <summary>How it ended. A run that did not reach its end says so here; its record is whole up to <see cref="EndTime"/>.</summary>
    public OdeOutcome Outcome { get; }

    /// <summary>The time reached.</summary>
    public double EndTime { get; }

    /// <summary>The state at <see cref="EndTime"/>, after the jump of an event there.</summary>
    public IReadOnlyList<double> EndState { get; }

    /// <summary>Every event that fired, in order.</summary>
    public IReadOnlyList<OdeCrossing> Crossings { get; }

    /// <summary>Start times of the accepted steps, in order.</summary>
    public IReadOnlyList<double> StepTimes => starts;

    /// <summary>Steps accepted.</summary>
    public int StepsAccepted { get; }

    /// <summary>Steps rejected.</summary>
    public int StepsRejected { get; }

    /// <summary>Evaluations of the right-hand side.</summary>
    public int Evaluations { get; }

    /// <summary>Restarts at events.</summary>
    public int Restarts { get; }

    /// <summary>The state at a time, from the continuous extension; at an event, the state just after it.</summary>
    /// <param name="time">From the start time to <see cref="EndTime"/>.</param>
    /// <returns>A new array, one value a component.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The time lies outside the run, or the run took no step.</exception>
    public double[] At(double time)
    {
        if (starts.Length == 0 || !(time >= starts[0] && time <= EndTime))
        {
            throw Require.Fault(
                nameof(time),
                Show.Number(time),
                starts.Length == 0 ? "asked of a run that took a step" : $"{Show.Number(starts[0])} to {Show.Number(EndTime)}",
                "the solution is known only where it was integrated");
        }

        if (time == EndTime)
        {
            return [.. EndState];
        }

        int step = Array.BinarySearch(starts, time);
        step = step >= 0 ? step : ~step - 1;
        double[] state = new double[dimension];
        new DenseStep(starts[step], lengths[step], EndTime, coefficients.AsSpan(step * 5 * dimension, 5 * dimension), dimension, dimension)
            .Values(time, state);
        return state;
    }
}
