using Magrail.Numerics;

namespace Magrail;

/// <summary>
/// Keeps what a run shows while it goes: peaks, contact crossings, breaks and, where a trace is wanted, every step. Its buffers
/// grow to the size of a run once and are used again.
/// </summary>
internal sealed class LaunchRecorder(bool keepsTrace)
{
    private const int SamplesPerStep = 4;

    /// <summary>Numbers kept at each sample of a trace: rail voltage, power of the source, heat of the coils.</summary>
    private const int SupplyNumbers = LaunchTrace.SupplyNumbers;

    private double[] starts = [];
    private double[] ends = [];
    private double[] lengths = [];
    private double[] coefficients = [];
    private CircuitConnection[] connections = [];
    private double[] supply = [];
    private Crossing[] crossings = new Crossing[64];
    private Break[] breaks = new Break[64];
    private int[] watched = [];
    private double[] releaseState = [];
    private double[] looked = [];

    public int StepCount { get; private set; }

    public int CrossingCount { get; private set; }

    public int BreakCount { get; private set; }

    public double PeakCurrent { get; private set; }

    public double PeakCurrentPosition { get; private set; }

    public double PeakSideForce { get; private set; }

    public double PeakAcceleration { get; private set; }

    public double PeakAccelerationPosition { get; private set; }

    /// <summary>The greatest deceleration after the release, m/s².</summary>
    public double PeakDeceleration { get; private set; }

    /// <summary>The greatest current from the source, A.</summary>
    public double PeakSourceCurrent { get; private set; }

    /// <summary>The greatest current through a contact, A; kept where something lies across the coils or the rails.</summary>
    public double PeakContactCurrent { get; private set; }

    /// <summary>The least voltage between the rails while a circuit is on them, V; infinite where none was; kept with a trace.</summary>
    public double LeastRailVolts { get; private set; }

    /// <summary>The greatest voltage across one closed contact, V; kept with a trace.</summary>
    public double PeakContactVolts { get; private set; }

    /// <summary>Time of the release, s; NaN where the run did not go on from there.</summary>
    public double ReleaseTime { get; private set; }

    public int StepsAtRelease { get; private set; }

    public int CrossingsAtRelease { get; private set; }

    public double BreakEnergyAtRelease { get; private set; }

    public ReadOnlySpan<double> ReleaseState => releaseState;

    public ReadOnlySpan<Crossing> Crossings => crossings.AsSpan(0, CrossingCount);

    public ReadOnlySpan<Break> Breaks => breaks.AsSpan(0, BreakCount);

    public void Clear(int circuits)
    {
        StepCount = 0;
        CrossingCount = 0;
        BreakCount = 0;
        PeakCurrent = 0;
        PeakCurrentPosition = 0;
        PeakSideForce = 0;
        PeakAcceleration = 0;
        PeakAccelerationPosition = 0;
        PeakDeceleration = 0;
        PeakSourceCurrent = 0;
        PeakContactCurrent = 0;
        LeastRailVolts = double.PositiveInfinity;
        PeakContactVolts = 0;
        ReleaseTime = double.NaN;
        if (watched.Length != circuits)
        {
            watched = new int[circuits];
        }

        Array.Fill(watched, -1);
    }

    public void Add(in DenseStep step, LaunchSystem system)
    {
        bool braking = system.Braking;
        bool looks = keepsTrace || system.HasSideForce || !system.BusIsPlain;
        if (looks && looked.Length < step.Dimension)
        {
            looked = new double[step.Dimension];
        }

        int supplyBlock = SupplyNumbers * (SamplesPerStep + 1);
        if (keepsTrace && supply.Length < (StepCount + 1) * supplyBlock)
        {
            Array.Resize(ref supply, Math.Max(256 * supplyBlock, 2 * supply.Length));
        }

        for (int sample = 0; sample <= SamplesPerStep; sample++)
        {
            double time = step.Start + ((step.End - step.Start) * sample / SamplesPerStep);
            double slope = step.Slope(1, time);
            if (braking)
            {
                PeakDeceleration = Math.Max(PeakDeceleration, -slope);
            }
            else if (Math.Abs(slope) > PeakAcceleration)
            {
                PeakAcceleration = Math.Abs(slope);
                PeakAccelerationPosition = step.Value(0, time);
            }

            if (looks)
            {
                step.Values(time, looked);
                Look(looked, system);
                if (keepsTrace)
                {
                    Span<double> kept = supply.AsSpan((StepCount * supplyBlock) + (sample * SupplyNumbers), SupplyNumbers);
                    kept[0] = system.Rail;
                    kept[1] = system.SourcePower;
                    kept[2] = system.CoilPower(looked);
                }
            }

            double source = 0;
            for (int k = 0; k < system.CircuitCount; k++)
            {
                double value = step.Value(2 + k, time);
                double current = Math.Abs(value);
                source += system.DriveSign(k) * value;
                if (current > PeakCurrent)
                {
                    PeakCurrent = current;
                    PeakCurrentPosition = step.Value(0, time);
                }
            }

            if (system.BusIsPlain)
            {
                PeakSourceCurrent = Math.Max(PeakSourceCurrent, source);
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

    /// <summary>A contact parts under current.</summary>
    public void BeginBreak(double time, ReadOnlySpan<double> state, int circuit, double current, int contacts, LaunchSystem system)
    {
        if (BreakCount == breaks.Length)
        {
            Array.Resize(ref breaks, 2 * breaks.Length);
        }

        (double energy, double charge) = system.BreakTotals(state, circuit);
        watched[circuit] = BreakCount;
        breaks[BreakCount++] = new Break
        {
            Circuit = circuit,
            Time = time,
            Position = state[0],
            Speed = state[1],
            Current = current,
            Contacts = contacts,
            EndTime = double.NaN,
            EndPosition = double.NaN,
            Energy = energy,
            Charge = charge,
        };
    }

    /// <summary>The break is over at the contact: its arc ended, or none began.</summary>
    public void EndBreak(double time, ReadOnlySpan<double> state, int circuit, BreakEnding ending, LaunchSystem system)
    {
        ref Break last = ref breaks[watched[circuit]];
        (double energy, double charge) = system.BreakTotals(state, circuit);
        last.EndTime = time;
        last.EndPosition = state[0];
        last.Energy = energy - last.Energy;
        last.Charge = charge - last.Charge;
        last.Ending = ending;
    }

    /// <summary>The arc of a circuit reaches the other rail.</summary>
    public void FlashOver(double time, ReadOnlySpan<double> state, int circuit, LaunchSystem system)
    {
        _ = time;
        system.Electrics(state);
        breaks[watched[circuit]].FlashPosition = state[0];
        breaks[watched[circuit]].Flashed = true;
    }

    /// <summary>The coil is connected anew or at rest: its voltage is no longer that of the last break.</summary>
    public void EndSuppression(int circuit) => watched[circuit] = -1;

    /// <summary>The payload is released and the run goes on.</summary>
    public void MarkRelease(double time, ReadOnlySpan<double> state, LaunchSystem system)
    {
        ReleaseTime = time;
        StepsAtRelease = StepCount;
        CrossingsAtRelease = CrossingCount;
        BreakEnergyAtRelease = system.BreakEnergy;
        if (releaseState.Length != state.Length)
        {
            releaseState = new double[state.Length];
        }

        state.CopyTo(releaseState);
    }

    /// <summary>What all breaks come to: charge of the circuit with most, whether any arc burned, the longest way, whether any flashed over.</summary>
    public (double ArcCharge, bool Arced, double LongestArc, bool FlashedOver) BreakFigures(LaunchSystem system, ReadOnlySpan<double> end, double time)
    {
        double charge = 0;
        for (int k = 0; k < system.CircuitCount; k++)
        {
            double sum = 0;
            foreach (ref readonly Break one in Breaks)
            {
                sum += one.Circuit == k ? one.ChargeAt(system, end) : 0;
            }

            charge = Math.Max(charge, sum);
        }

        bool arced = false;
        bool flashed = false;
        double longest = 0;
        foreach (ref readonly Break one in Breaks)
        {
            arced |= one.DurationAt(time) > 0;
            flashed |= one.Flashed;
            longest = Math.Max(longest, one.GapAt(end));
        }

        return (charge, arced, longest, flashed);
    }

    public LaunchTrace MakeTrace(LaunchSystem system, IReadOnlyList<TracedCoil> coils, int from, int to)
    {
        const int Block = SupplyNumbers * (SamplesPerStep + 1);
        int dimension = system.Dimension;
        int circuits = system.CircuitCount;
        return new LaunchTrace(
            system.Launcher,
            dimension,
            starts.AsSpan(from..to).ToArray(),
            ends.AsSpan(from..to).ToArray(),
            lengths.AsSpan(from..to).ToArray(),
            coefficients.AsSpan((from * 5 * dimension)..(to * 5 * dimension)).ToArray(),
            connections.AsSpan((from * circuits)..(to * circuits)).ToArray(),
            supply.AsSpan((from * Block)..(to * Block)),
            coils);
    }

    /// <summary>What only the whole state shows: lateral force, rails, contacts, the voltage of coils whose contacts have parted.</summary>
    private void Look(ReadOnlySpan<double> state, LaunchSystem system)
    {
        if (system.HasSideForce)
        {
            PeakSideForce = Math.Max(PeakSideForce, system.SideForce(state));
        }

        if (!keepsTrace && system.BusIsPlain)
        {
            return;
        }

        system.Electrics(state);
        if (!system.BusIsPlain)
        {
            PeakSourceCurrent = Math.Max(PeakSourceCurrent, system.BusCurrent);
            for (int k = 0; k < system.CircuitCount; k++)
            {
                PeakContactCurrent = Math.Max(PeakContactCurrent, Math.Abs(system.LineCurrent(state, k)));
            }
        }

        if (!keepsTrace)
        {
            return;
        }

        bool fed = false;
        for (int k = 0; k < system.CircuitCount; k++)
        {
            CircuitConnection connection = system.Connections[k];
            fed |= connection is CircuitConnection.Forward or CircuitConnection.Reverse or CircuitConnection.Bridged or CircuitConnection.Arcing;
            PeakContactVolts = Math.Max(PeakContactVolts, system.ContactVolts(state, k, upper: true));
            PeakContactVolts = Math.Max(PeakContactVolts, system.ContactVolts(state, k, upper: false));
        }

        if (fed)
        {
            LeastRailVolts = Math.Min(LeastRailVolts, system.Rail);
        }

        for (int k = 0; k < system.CircuitCount; k++)
        {
            if (watched[k] >= 0 && system.Connections[k] is CircuitConnection.Arcing or CircuitConnection.Clamped or CircuitConnection.Suppressed)
            {
                ref double peak = ref breaks[watched[k]].PeakCoilVolts;
                peak = Math.Max(peak, Math.Abs(system.CoilVolts(state, k)));
            }
        }
    }

    internal readonly record struct Crossing(
        double Time, double Position, double Speed, int Circuit, CircuitConnection Before, CircuitConnection After, double CurrentBefore, double CurrentAfter);

    /// <summary>One break as it was met; SI units.</summary>
    internal record struct Break
    {
        public int Circuit;
        public double Time;
        public double Position;
        public double Speed;
        public double Current;
        public int Contacts;
        public double EndTime;
        public double EndPosition;
        public double Energy;
        public double Charge;
        public double PeakCoilVolts;
        public double FlashPosition;
        public bool Flashed;
        public BreakEnding Ending;

        public readonly bool IsOver => Ending != BreakEnding.Unfinished;

        /// <summary>How long its arcs burned, or have burned by the end of the run, s.</summary>
        public readonly double DurationAt(double end) => (IsOver ? EndTime : end) - Time;

        /// <summary>How far the contacts are apart at its end, or at the end of the run, m.</summary>
        public readonly double GapAt(ReadOnlySpan<double> end) => IsOver ? Math.Abs(EndPosition - Position) : Math.Abs(end[0] - Position);

        // An arc that still burns at the end of the run has so far cost what has been counted.

        /// <summary>Energy of its arcs, J; with the ideal break, the field energy lost.</summary>
        public readonly double EnergyAt(LaunchSystem system, ReadOnlySpan<double> end)
            => IsOver ? Energy : system.BreakTotals(end, Circuit).Energy - Energy;

        /// <summary>Charge through its arcs, C.</summary>
        public readonly double ChargeAt(LaunchSystem system, ReadOnlySpan<double> end)
            => IsOver ? Charge : system.BreakTotals(end, Circuit).Charge - Charge;
    }
}
