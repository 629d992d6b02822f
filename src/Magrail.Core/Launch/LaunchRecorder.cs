using Magrail.Numerics;

namespace Magrail;

/// <summary>
/// Keeps what a run shows while it goes: peaks, contact crossings and, where a trace is wanted, every step. Its buffers
/// grow to the size of a run once and are used again.
/// </summary>
internal sealed class LaunchRecorder(bool keepsTrace)
{
    private const int SamplesPerStep = 4;

    private double[] starts = [];
    private double[] ends = [];
    private double[] lengths = [];
    private double[] coefficients = [];
    private CircuitConnection[] connections = [];
    private Crossing[] crossings = new Crossing[64];

    public int StepCount { get; private set; }

    public int CrossingCount { get; private set; }

    public double PeakCurrent { get; private set; }

    public double PeakCurrentPosition { get; private set; }

    public double PeakSideForce { get; private set; }

    public double PeakAcceleration { get; private set; }

    public double PeakAccelerationPosition { get; private set; }

    public ReadOnlySpan<Crossing> Crossings => crossings.AsSpan(0, CrossingCount);

    public void Clear()
    {
        StepCount = 0;
        CrossingCount = 0;
        PeakCurrent = 0;
        PeakCurrentPosition = 0;
        PeakSideForce = 0;
        PeakAcceleration = 0;
        PeakAccelerationPosition = 0;
    }

    public void Add(in DenseStep step, LaunchSystem system)
    {
        Span<double> state = stackalloc double[system.HasSideForce ? step.Dimension : 0];
        for (int sample = 0; sample <= SamplesPerStep; sample++)
        {
            double time = step.Start + ((step.End - step.Start) * sample / SamplesPerStep);
            double acceleration = Math.Abs(step.Slope(1, time));
            if (acceleration > PeakAcceleration)
            {
                PeakAcceleration = acceleration;
                PeakAccelerationPosition = step.Value(0, time);
            }

            if (system.HasSideForce)
            {
                step.Values(time, state);
                PeakSideForce = Math.Max(PeakSideForce, system.SideForce(state));
            }

            for (int k = 0; k < system.CircuitCount; k++)
            {
                double current = Math.Abs(step.Value(2 + k, time));
                if (current > PeakCurrent)
                {
                    PeakCurrent = current;
                    PeakCurrentPosition = step.Value(0, time);
                }
            }
        }

        if (keepsTrace)
        {
            int block = 5 * step.Dimension;
            int circuits = system.CircuitCount;
            if (StepCount == starts.Length)
            {
                int size = Math.Max(256, 2 * starts.Length);
                Array.Resize(ref starts, size);
                Array.Resize(ref ends, size);
                Array.Resize(ref lengths, size);
                Array.Resize(ref coefficients, size * block);
                Array.Resize(ref connections, size * circuits);
            }

            starts[StepCount] = step.Start;
            ends[StepCount] = step.End;
            lengths[StepCount] = step.Length;
            step.CopyCoefficients(coefficients.AsSpan(StepCount * block, block));
            system.Connections.CopyTo(connections.AsSpan(StepCount * circuits, circuits));
        }

        StepCount++;
    }

    public void Add(double time, ReadOnlySpan<double> state, int circuit, CircuitConnection before, CircuitConnection after, double currentBefore, double currentAfter)
    {
        if (CrossingCount == crossings.Length)
        {
            Array.Resize(ref crossings, 2 * crossings.Length);
        }

        crossings[CrossingCount++] = new Crossing(time, state[0], state[1], circuit, before, after, currentBefore, currentAfter);
    }

    public LaunchTrace MakeTrace(LaunchSystem system)
    {
        int dimension = system.Dimension;
        int circuits = system.CircuitCount;
        return new LaunchTrace(
            system.Launcher,
            dimension,
            starts.AsSpan(0, StepCount).ToArray(),
            ends.AsSpan(0, StepCount).ToArray(),
            lengths.AsSpan(0, StepCount).ToArray(),
            coefficients.AsSpan(0, StepCount * 5 * dimension).ToArray(),
            connections.AsSpan(0, StepCount * circuits).ToArray());
    }

    internal readonly record struct Crossing(
        double Time, double Position, double Speed, int Circuit, CircuitConnection Before, CircuitConnection After, double CurrentBefore, double CurrentAfter);
}
