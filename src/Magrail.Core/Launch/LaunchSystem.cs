using System.Runtime.CompilerServices;
using Magrail.Numerics;
using Magrail.Sources;

namespace Magrail;

/// <summary>
/// The equations of a launch, and the events at which they change. All numbers in SI units.
/// </summary>
/// <remarks>
/// State: x, v; the current of each circuit; ∫i² dt of each; the ledger (drawn, heat outside the coils, clamps, friction,
/// drag); the voltage of a capacitor bank.
/// <code>
/// m v' = Σ K_k(x) i_k − friction − drag − m g sin(slope);   friction = µ (m g cos(slope) + brushes + |Σ lateral K_k i_k|) + viscous
/// Σ_j L_kj i_j' = s_k u − R_k i_k − K_k(x) v                 k connected; s = +1 forward, −1 reverse, 0 shorted
/// Σ_j L_kj i_j' = −sign(i_k) U_clamp − R_k i_k − K_k(x) v    k clamped
/// u = e − R_s Σ s_k i_k;   e = source voltage, or what holds the current limit, 0 ≤ e ≤ source voltage
/// </code>
/// Contact state, friction state and supply mode are held between events.
/// </remarks>
internal sealed class LaunchSystem : IHybridSystem
{
    // Event slots: six common ones, then three for each circuit.
    private const int ReleaseSlot = 0;
    private const int RanBackSlot = 1;
    private const int MotionSlot = 2;
    private const int BackwardSlot = 3;
    private const int SupplyHighSlot = 4;
    private const int SupplyLowSlot = 5;
    private const int FirstCircuitSlot = 6;
    private const int SlotsPerCircuit = 3;

    // Currents closer to the limit than this part of it are at it.
    private const double AtLimit = 1e-9;

    private readonly int n;
    private readonly int currents;
    private readonly int squares;
    private readonly int drawn;
    private readonly int otherHeat;
    private readonly int clamps;
    private readonly int frictionWork;
    private readonly int dragWork;
    private readonly int bankVolts;

    private readonly LauncherSi launcher;
    private readonly CircuitSi[] circuits;
    private readonly double[] inductances;
    private readonly double[]?[] inverses;
    private readonly double[] switchTimes;
    private readonly double clampVolts;

    private readonly CircuitConnection[] connections;
    private readonly int[] edgeIndex;
    private readonly double[] clampSign;
    private readonly double[] driveSign;
    private readonly double[] coilForce;
    private readonly double[] load;
    private readonly double[] slopes;
    private readonly double[] heldCurrents;
    private double[] inverse = [];
    private bool switchClosed;
    private int switchIndex;
    private int motion;
    private double restSince;
    private SupplyMode supply;

    public LaunchSystem(LauncherSi launcher, LaunchRecorder recorder)
    {
        this.launcher = launcher;
        Recorder = recorder;
        circuits = launcher.Circuits;
        n = circuits.Length;
        inductances = launcher.Inductances;
        switchTimes = launcher.SwitchTimes;
        clampVolts = launcher.ClampVolts;
        HasSideForce = circuits.Any(circuit => circuit.Across is not null || circuit.Up is not null);
        inverses = new double[1 << n][];
        currents = 2;
        squares = currents + n;
        drawn = squares + n;
        otherHeat = drawn + 1;
        clamps = drawn + 2;
        frictionWork = drawn + 3;
        dragWork = drawn + 4;
        bankVolts = drawn + 5;
        HasBank = double.IsFinite(launcher.Source.Capacitance);
        Dimension = HasBank ? bankVolts + 1 : bankVolts;
        connections = new CircuitConnection[n];
        edgeIndex = new int[n];
        clampSign = new double[n];
        driveSign = new double[n];
        coilForce = new double[n];
        load = new double[n];
        slopes = new double[Dimension];
        heldCurrents = new double[n];
    }

    private enum SupplyMode
    {
        Voltage,
        Current,
        Collapsed,
    }

    public int Dimension { get; }

    public int EventCount => FirstCircuitSlot + (SlotsPerCircuit * n);

    public int CircuitCount => n;

    public bool HasBank { get; }

    public bool HasSideForce { get; }

    public LaunchRecorder Recorder { get; }

    public LaunchOutcome? Ended { get; private set; }

    public double BreakEnergy { get; private set; }

    public ReadOnlySpan<CircuitConnection> Connections => connections;

    public LauncherSi Launcher => launcher;

    public double CoilHeat(ReadOnlySpan<double> state)
    {
        double heat = 0;
        for (int k = 0; k < n; k++)
        {
            heat += circuits[k].CoilResistance * state[squares + k];
        }

        return heat;
    }

    public double SquareIntegral(ReadOnlySpan<double> state, int circuit) => state[squares + circuit];

    public (double Drawn, double OtherHeat, double Clamps, double Friction, double Drag) Ledger(ReadOnlySpan<double> state)
        => (state[drawn], state[otherHeat], state[clamps], state[frictionWork], state[dragWork]);

    public double MagneticEnergy(ReadOnlySpan<double> state)
    {
        double energy = 0;
        for (int j = 0; j < n; j++)
        {
            for (int k = 0; k < n; k++)
            {
                energy += 0.5 * inductances[(j * n) + k] * state[currents + j] * state[currents + k];
            }
        }

        return energy;
    }

    /// <summary>Puts mode and state to the start of a launch.</summary>
    public void Begin(Span<double> state)
    {
        state.Clear();
        state[0] = launcher.Start;
        state[1] = launcher.StartSpeed;
        if (HasBank)
        {
            state[bankVolts] = launcher.Source.Volts;
        }

        Ended = null;
        BreakEnergy = 0;
        switchClosed = true;
        switchIndex = 0;
        restSince = 0;
        supply = SupplyMode.Voltage;
        for (int k = 0; k < n; k++)
        {
            edgeIndex[k] = circuits[k].Schedule.IndexAt(state[0], 1);
            clampSign[k] = 0;
            connections[k] = CircuitConnection.Open;
        }

        for (int k = 0; k < n; k++)
        {
            Connect(0, k, state);
        }

        UpdateElectrics(0, state);
        motion = 1;
        if (state[1] == 0)
        {
            ChooseMotion(0, state);
        }
    }

    public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives)
    {
        double x = state[0];
        double v = state[1];
        double force = 0;
        double busCurrent = 0;
        double contactHeat = 0;
        double clampPower = 0;
        for (int k = 0; k < n; k++)
        {
            CircuitSi circuit = circuits[k];
            double i = state[currents + k];
            double force1 = circuit.Curve.At(x);
            coilForce[k] = force1;
            force += force1 * i;
            double s = driveSign[k];
            busCurrent += s * i;
            double resistance = circuit.CoilResistance;
            double emf = force1 * v;
            switch (connections[k])
            {
                case CircuitConnection.Open:
                    load[k] = 0;
                    break;
                case CircuitConnection.Clamped:
                    load[k] = -(resistance * i) - emf - (clampSign[k] * clampVolts);
                    clampPower += clampSign[k] * clampVolts * i;
                    break;
                default:
                    load[k] = -((resistance + circuit.ContactResistance) * i) - emf;
                    contactHeat += circuit.ContactResistance * i * i;
                    break;
            }

            derivatives[squares + k] = i * i;
        }

        // The voltage behind the source's resistance.
        double e = supply switch
        {
            SupplyMode.Voltage => HasBank ? state[bankVolts] : launcher.Source.Volts,
            SupplyMode.Current => HeldVoltage(busCurrent),
            _ => 0,
        };
        double rail = e - (launcher.SourceResistance * busCurrent);
        SolveCurrents(rail, derivatives[currents..]);

        double acceleration = 0;
        double dry = 0;
        double viscous = launcher.Viscous * v;
        double drag = launcher.DragFactor * v * Math.Abs(v);
        if (motion != 0)
        {
            dry = motion * (launcher.SlidingFriction + (launcher.SlidingCoefficient * SideForce(state)));
            acceleration = (force - dry - viscous - drag - launcher.SlopeForce) / launcher.Mass;
        }

        derivatives[0] = motion == 0 ? 0 : v;
        derivatives[1] = acceleration;
        derivatives[drawn] = e * busCurrent;
        derivatives[otherHeat] = (launcher.SourceResistance * busCurrent * busCurrent) + contactHeat;
        derivatives[clamps] = clampPower;
        derivatives[frictionWork] = (dry + viscous) * v;
        derivatives[dragWork] = drag * v;
        if (HasBank)
        {
            derivatives[bankVolts] = -busCurrent / launcher.Source.Capacitance;
        }
    }

    public double EventValue(int index, double time, ReadOnlySpan<double> state)
    {
        switch (index)
        {
            case ReleaseSlot:
                return state[0] - launcher.Release;
            case RanBackSlot:
                return state[0] - launcher.BackLimit;
            case MotionSlot:
                return motion == 0 ? Push(state) - RestFriction(state) : motion * state[1];
            case BackwardSlot:
                return motion == 0 ? -Push(state) - RestFriction(state) : double.NaN;
            case SupplyHighSlot:
            case SupplyLowSlot:
                return SupplyEvent(index, state);
            default:
                return CircuitEvent(index - FirstCircuitSlot, time, state);
        }
    }

    public CrossingDirection Direction(int index)
    {
        switch (index)
        {
            case ReleaseSlot:
            case BackwardSlot:
            case SupplyHighSlot:
                return CrossingDirection.NegativeToPositive;
            case RanBackSlot:
            case SupplyLowSlot:
                return CrossingDirection.PositiveToNegative;
            case MotionSlot:
                return motion == 0 ? CrossingDirection.NegativeToPositive : CrossingDirection.PositiveToNegative;
            default:
                return (index - FirstCircuitSlot) % SlotsPerCircuit == 0 ? CrossingDirection.NegativeToPositive : CrossingDirection.PositiveToNegative;
        }
    }

    public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives)
    {
        switch (index)
        {
            case MotionSlot:
                return motion == 0 || (motion * startDerivatives[1] < 0 && motion * endDerivatives[1] > 0);
            case BackwardSlot:
                return motion == 0;
            case SupplyHighSlot:
                return supply == SupplyMode.Current
                    || (supply == SupplyMode.Voltage && double.IsFinite(launcher.Source.CurrentLimit)
                        && BusCurrent(startDerivatives) > 0 && BusCurrent(endDerivatives) < 0);
            case SupplyLowSlot:
                return supply != SupplyMode.Voltage;
            case ReleaseSlot:
            case RanBackSlot:
                return false;
            default:
                int circuit = (index - FirstCircuitSlot) / SlotsPerCircuit;
                // An open coil whose back-EMF comes near the clamp's voltage. Edges are monotone between changes of motion, which are events.
                return (index - FirstCircuitSlot) % SlotsPerCircuit == 2 && connections[circuit] == CircuitConnection.Open
                    && double.IsFinite(clampVolts) && circuits[circuit].Curve.Peak * Math.Abs(startDerivatives[0]) > 0.25 * clampVolts;
        }
    }

    /// <summary>
    /// While nothing conducts, steps grow long; where the back-EMF may open the clamp they must not span its next swing.
    /// </summary>
    public double LongestStep(ReadOnlySpan<double> state)
    {
        double speed = Math.Abs(state[1]);
        for (int k = 0; k < n && double.IsFinite(clampVolts); k++)
        {
            if (connections[k] == CircuitConnection.Open && circuits[k].Curve.Peak * speed > 0.25 * clampVolts)
            {
                return 0.2 * (launcher.Start - launcher.BackLimit) / speed;
            }
        }

        return double.PositiveInfinity;
    }

    public double NextTimeStop(double time)
    {
        double next = double.PositiveInfinity;
        if (switchIndex < switchTimes.Length)
        {
            next = switchTimes[switchIndex];
        }

        if (motion == 0)
        {
            next = Math.Min(next, StallTime);
        }

        return next;
    }

    public void OnStep(in DenseStep taken) => Recorder.Add(taken, this);

    public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired)
    {
        if (fired.Length == 0)
        {
            return OnClock(time, state);
        }

        bool electrics = false;
        bool motionChanges = false;
        foreach (int index in fired)
        {
            switch (index)
            {
                case ReleaseSlot:
                    Ended = LaunchOutcome.Released;
                    break;
                case RanBackSlot:
                    Ended ??= LaunchOutcome.RanBack;
                    break;
                case MotionSlot:
                case BackwardSlot:
                    motionChanges = true;
                    break;
                case SupplyHighSlot:
                case SupplyLowSlot:
                    // The mode that the crossing leads to; a contact that changes at the same instant decides anew below.
                    ChangeSupply(index, state);
                    break;
                default:
                    electrics = true;
                    int circuit = (index - FirstCircuitSlot) / SlotsPerCircuit;
                    int kind = (index - FirstCircuitSlot) % SlotsPerCircuit;
                    if (kind == 2)
                    {
                        ClampEvent(time, circuit, state);
                    }
                    else
                    {
                        edgeIndex[circuit] += kind == 0 ? 1 : -1;
                        Connect(time, circuit, state);
                    }

                    break;
            }
        }

        if (Ended is not null)
        {
            return EventResponse.Stop;
        }

        if (electrics)
        {
            UpdateElectrics(time, state);
        }

        if (motionChanges)
        {
            if (motion != 0)
            {
                state[1] = 0;
            }

            ChooseMotion(time, state);
        }

        return EventResponse.Restart;
    }

    private double StallTime
        => Math.Max(restSince, switchTimes.Length == 0 ? 0 : switchTimes[^1]) + launcher.StallPatience;

    private EventResponse OnClock(double time, Span<double> state)
    {
        if (switchIndex < switchTimes.Length && time >= switchTimes[switchIndex])
        {
            switchIndex++;
            switchClosed = !switchClosed;
            for (int k = 0; k < n; k++)
            {
                Connect(time, k, state);
            }

            UpdateElectrics(time, state);
            if (motion == 0)
            {
                ChooseMotion(time, state, keepRest: true);
            }

            return EventResponse.Restart;
        }

        if (motion == 0 && time >= StallTime)
        {
            Ended = LaunchOutcome.Stalled;
            return EventResponse.Stop;
        }

        return EventResponse.Restart;
    }

    /// <summary>At rest: holds the sled, or lets it go in the direction of the push.</summary>
    private void ChooseMotion(double time, Span<double> state, bool keepRest = false)
    {
        double push = Push(state);
        bool held = Math.Abs(push) < RestFriction(state) && (motion != 0 || keepRest);
        if (motion == 0 && !keepRest)
        {
            // A break-away was located: the push equals the friction at rest to round-off, so its sign decides.
            held = false;
        }

        if (held)
        {
            if (motion != 0)
            {
                restSince = time;
            }

            motion = 0;
            return;
        }

        motion = push < 0 ? -1 : 1;
        for (int k = 0; k < n; k++)
        {
            // On an edge to round-off, the side towards which the sled goes is the one that counts.
            int index = circuits[k].Schedule.IndexAt(state[0], motion);
            if (index != edgeIndex[k])
            {
                edgeIndex[k] = index;
                Connect(time, k, state);
                UpdateElectrics(time, state);
            }
        }
    }

    private double Push(ReadOnlySpan<double> state)
    {
        double force = 0;
        for (int k = 0; k < n; k++)
        {
            force += circuits[k].Curve.At(state[0]) * state[currents + k];
        }

        return force - launcher.SlopeForce;
    }

    /// <summary>The lateral magnet force on the guide, N.</summary>
    public double SideForce(ReadOnlySpan<double> state)
    {
        if (!HasSideForce)
        {
            return 0;
        }

        double across = 0;
        double up = 0;
        for (int k = 0; k < n; k++)
        {
            across += circuits[k].Across is { } a ? a.At(state[0]) * state[currents + k] : 0;
            up += circuits[k].Up is { } u ? u.At(state[0]) * state[currents + k] : 0;
        }

        return across == 0 ? Math.Abs(up) : up == 0 ? Math.Abs(across) : Math.Sqrt((across * across) + (up * up));
    }

    private double RestFriction(ReadOnlySpan<double> state) => launcher.RestFriction + (launcher.RestCoefficient * SideForce(state));

    private double BusCurrent(ReadOnlySpan<double> state)
    {
        double sum = 0;
        for (int k = 0; k < n; k++)
        {
            sum += driveSign[k] * state[currents + k];
        }

        return sum;
    }

    private double CircuitEvent(int slot, double time, ReadOnlySpan<double> state)
    {
        int k = slot / SlotsPerCircuit;
        int index = edgeIndex[k];
        double[] edges = circuits[k].Schedule.Edges;
        switch (slot % SlotsPerCircuit)
        {
            case 0:
                return index < edges.Length ? state[0] - edges[index] : double.NaN;
            case 1:
                return index > 0 ? state[0] - edges[index - 1] : double.NaN;
            default:
                switch (connections[k])
                {
                    case CircuitConnection.Clamped:
                        return clampSign[k] * state[currents + k];
                    case CircuitConnection.Open when double.IsFinite(clampVolts):
                        return clampVolts - Math.Abs(OpenVolts(k, time, state));
                    default:
                        return double.NaN;
                }
        }
    }

    /// <summary>The voltage that an open coil shows: its back-EMF and what the other coils induce in it.</summary>
    private double OpenVolts(int k, double time, ReadOnlySpan<double> state)
    {
        double volts = circuits[k].Curve.At(state[0]) * state[1];
        if (n > 1)
        {
            Derivatives(time, state, slopes);
            for (int j = 0; j < n; j++)
            {
                volts += inductances[(k * n) + j] * slopes[currents + j];
            }
        }

        return volts;
    }

    private void ClampEvent(double time, int k, Span<double> state)
    {
        CircuitConnection before = connections[k];
        double current = state[currents + k];
        if (before == CircuitConnection.Clamped)
        {
            state[currents + k] = 0;
            clampSign[k] = 0;
            connections[k] = CircuitConnection.Open;
        }
        else
        {
            // The coil drives its clamp as a generator: the current flows against the voltage it shows.
            clampSign[k] = -Math.Sign(OpenVolts(k, time, state));
            connections[k] = CircuitConnection.Clamped;
        }

        Recorder.Add(time, state, k, before, connections[k], current, state[currents + k]);
    }

    /// <summary>Connects a circuit as its contacts and the switch say; a current that loses its path goes to clamp or break.</summary>
    private void Connect(double time, int k, Span<double> state)
    {
        CoilDrive drive = circuits[k].Schedule.Drives[edgeIndex[k]];
        CircuitConnection before = connections[k];
        double current = state[currents + k];
        CircuitConnection after = drive switch
        {
            CoilDrive.Forward when switchClosed => CircuitConnection.Forward,
            CoilDrive.Reverse when switchClosed => CircuitConnection.Reverse,
            CoilDrive.Shorted => CircuitConnection.Shorted,
            _ => CircuitConnection.Open,
        };
        if (after == CircuitConnection.Open && current != 0)
        {
            if (before == CircuitConnection.Clamped)
            {
                return;
            }

            if (double.IsFinite(clampVolts))
            {
                after = CircuitConnection.Clamped;
                clampSign[k] = Math.Sign(current);
            }
            else
            {
                BreakAtOnce(k, state);
            }
        }

        if (after == before)
        {
            return;
        }

        connections[k] = after;
        Recorder.Add(time, state, k, before, after, current, state[currents + k]);
    }

    /// <summary>
    /// The current of one circuit dies at once. The others keep their flux linkage, which no finite voltage can change in no
    /// time; the field energy that this leaves over is lost at the contact.
    /// </summary>
    private void BreakAtOnce(int k, Span<double> state)
    {
        double before = MagneticEnergy(state);
        if (n > 1)
        {
            int mask = 0;
            for (int j = 0; j < n; j++)
            {
                heldCurrents[j] = 0;
                if (j != k && connections[j] != CircuitConnection.Open)
                {
                    mask |= 1 << j;
                    for (int l = 0; l < n; l++)
                    {
                        heldCurrents[j] += inductances[(j * n) + l] * state[currents + l];
                    }
                }
            }

            double[] inverseOfOthers = InverseFor(mask);
            for (int j = 0; j < n; j++)
            {
                double current = 0;
                for (int l = 0; l < n; l++)
                {
                    current += inverseOfOthers[(j * n) + l] * heldCurrents[l];
                }

                state[currents + j] = current;
            }
        }

        state[currents + k] = 0;
        BreakEnergy += before - MagneticEnergy(state);
    }

    /// <summary>After a change of connections: the inverse inductance of what conducts, the signs on the rails, the supply's mode.</summary>
    private void UpdateElectrics(double time, Span<double> state)
    {
        ConnectRails(state);

        // A coil that is open with more than the clamp's voltage across it: it conducts at once, there is no crossing to wait for.
        for (int k = 0; k < n && double.IsFinite(clampVolts); k++)
        {
            if (connections[k] == CircuitConnection.Open && Math.Abs(OpenVolts(k, time, state)) > clampVolts)
            {
                ClampEvent(time, k, state);
                ConnectRails(state);
                k = -1;
            }
        }
    }

    private void ConnectRails(ReadOnlySpan<double> state)
    {
        int mask = 0;
        for (int k = 0; k < n; k++)
        {
            CircuitConnection connection = connections[k];
            driveSign[k] = connection switch
            {
                CircuitConnection.Forward => 1,
                CircuitConnection.Reverse => -1,
                _ => 0,
            };
            if (connection != CircuitConnection.Open)
            {
                mask |= 1 << k;
            }
        }

        inverse = InverseFor(mask);
        if (!double.IsFinite(launcher.Source.CurrentLimit))
        {
            return;
        }

        double limit = launcher.Source.CurrentLimit;
        double current = BusCurrent(state);
        if (Math.Abs(current - limit) <= AtLimit * limit)
        {
            supply = SupplyMode.Current;
            Derivatives(0, state, slopes);
            double held = HeldVoltage(current);
            supply = held > launcher.Source.Volts ? SupplyMode.Voltage : held < 0 ? SupplyMode.Collapsed : SupplyMode.Current;
        }
        else
        {
            supply = current > limit ? SupplyMode.Collapsed : SupplyMode.Voltage;
        }
    }

    private double[] InverseFor(int mask)
        => inverses[mask] ??= InverseInductance.Of(inductances, n, mask);

    /// <summary>The voltage behind the source's resistance that keeps the bus current as it is; uses the loads last computed.</summary>
    private double HeldVoltage(double busCurrent)
    {
        double alone = 0;
        double perVolt = 0;
        for (int j = 0; j < n; j++)
        {
            double s = driveSign[j];
            if (s == 0)
            {
                continue;
            }

            for (int k = 0; k < n; k++)
            {
                alone += s * inverse[(j * n) + k] * load[k];
                perVolt += s * inverse[(j * n) + k] * driveSign[k];
            }
        }

        // No circuit on the rails: any voltage keeps no current.
        return perVolt == 0 ? launcher.Source.Volts : (launcher.SourceResistance * busCurrent) - (alone / perVolt);
    }

    private double SupplyEvent(int index, ReadOnlySpan<double> state)
    {
        if (!double.IsFinite(launcher.Source.CurrentLimit))
        {
            return double.NaN;
        }

        switch (supply)
        {
            case SupplyMode.Voltage:
                return index == SupplyHighSlot ? BusCurrent(state) - launcher.Source.CurrentLimit : double.NaN;
            case SupplyMode.Current:
                Derivatives(0, state, slopes);
                double held = HeldVoltage(BusCurrent(state));
                return index == SupplyHighSlot ? held - launcher.Source.Volts : held;
            default:
                return index == SupplyLowSlot ? BusCurrent(state) - launcher.Source.CurrentLimit : double.NaN;
        }
    }

    private void ChangeSupply(int index, ReadOnlySpan<double> state)
    {
        if (supply == SupplyMode.Current)
        {
            supply = index == SupplyHighSlot ? SupplyMode.Voltage : SupplyMode.Collapsed;
            return;
        }

        bool rising = supply == SupplyMode.Voltage;
        supply = SupplyMode.Current;
        Derivatives(0, state, slopes);
        double held = HeldVoltage(BusCurrent(state));
        if (rising && held < 0)
        {
            supply = SupplyMode.Collapsed;
        }
        else if (!rising && held > launcher.Source.Volts)
        {
            supply = SupplyMode.Voltage;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void SolveCurrents(double rail, Span<double> slope)
    {
        if (n == 1)
        {
            slope[0] = inverse[0] * (load[0] + (driveSign[0] * rail));
            return;
        }

        for (int j = 0; j < n; j++)
        {
            double sum = 0;
            for (int k = 0; k < n; k++)
            {
                sum += inverse[(j * n) + k] * (load[k] + (driveSign[k] * rail));
            }

            slope[j] = sum;
        }
    }
}
