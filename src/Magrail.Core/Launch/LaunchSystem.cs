using Magrail.Numerics;

namespace Magrail;

/// <summary>
/// The equations of a launch, and the events at which they change. All numbers in SI units.
/// </summary>
/// <remarks>
/// State: x, v; the current of each coil circuit; its action integral ∫i² dt; the ledger (drawn, heat outside the coils, suppressors,
/// friction, drag, brake); the charge drawn; energy and charge of the arcs of each circuit; the voltage of the suppressor capacitor of each.
/// <code>
/// m v' = Σ K_k(x) i_k − friction − drag − m g sin(slope) − brake
/// friction = µ (m g cos(slope) + brushes + |Σ lateral K_k i_k|) + viscous
/// Σ_j L_kj i_j' = w_k − R_k(∫i² dt) i_k − K_k(x) v
/// </code>
/// with w_k the voltage across coil and suppressor. Connected to the rails, with j_k the current through the contacts and a_k the voltage of its arcs,
/// <code>
/// w_k = s_k u − Rc_k(x) j_k − a_k(x) − D_k,   j_k = i_k + G (w_k − c_k)
/// u = e − Rs(x) I,   I = Σ s_k j_k + B u
/// </code>
/// s = +1 forward, −1 reverse, 0 shorted, ±½ or 0 where a brush bridges the rails (B: conductance of such bridges); G, c: conductance of a
/// suppressor and voltage of its capacitor; e: voltage of the source behind its resistance, or what holds the current limit. With the contacts open
/// w_k = c_k − i_k/G, or ∓U at a clamp. D_k is the drop of the brushes, against j_k; where less than that is offered, j_k = 0 as with open contacts.
/// Contact state, sense of flow, friction state and supply mode are held between events.
/// </remarks>
internal sealed partial class LaunchSystem : IHybridSystem
{
    // Event slots: seven common ones, then four for each circuit.
    private const int EndSlot = 0;
    private const int RanBackSlot = 1;
    private const int MotionSlot = 2;
    private const int BackwardSlot = 3;
    private const int SupplyHighSlot = 4;
    private const int SupplyLowSlot = 5;
    private const int BrakeSlot = 6;
    private const int FirstCircuitSlot = 7;
    private const int SlotsPerCircuit = 4;
    private const int AheadSlot = 0;
    private const int BehindSlot = 1;
    private const int CurrentSlot = 2;
    private const int ClampSlot = 3;

    private const int Currents = 2;

    // Changes of the flow through brushes with a drop, at one instant and for each circuit, beyond which no consistent state was found.
    private const int MostTurns = 32;

    // The longest steps in pitches, see LongestStep.
    private const double ConductingStep = 1.0 / 8;
    private const double OpenStep = 0.2;

    private readonly int n;
    private readonly int squares;
    private readonly int drawn;
    private readonly int otherHeat;
    private readonly int suppressed;
    private readonly int frictionWork;
    private readonly int dragWork;
    private readonly int brakeWork;
    private readonly int charge;
    private readonly int arcEnergy;
    private readonly int arcCharge;
    private readonly int capacitors;

    private readonly LauncherSi launcher;
    private readonly CircuitSi[] circuits;
    private readonly double[] switchTimes;
    private readonly bool brakes;
    private readonly double[] slopes;

    /// <param name="launcher">The launcher.</param>
    /// <param name="recorder">What keeps the course of the run.</param>
    /// <param name="brakes">Whether to follow the sled beyond the release.</param>
    public LaunchSystem(LauncherSi launcher, LaunchRecorder recorder, bool brakes)
    {
        this.launcher = launcher;
        this.brakes = brakes && launcher.Braking is not null;
        Recorder = recorder;
        circuits = launcher.Circuits;
        HasSideForce = circuits.Any(circuit => circuit.Across is not null || circuit.Up is not null);
        conductance = launcher.Suppressor.Conductance;
        clampVolts = launcher.Suppressor.ClampVolts;
        clamps = launcher.Suppressor.Clamps;
        currentLimit = launcher.Source.CurrentLimit;
        limited = double.IsFinite(currentLimit);
        warms = circuits.Any(circuit => circuit.Heating.Length > 0);
        followsOverlap = circuits.Any(circuit => circuit.UpperBrush.Parts is not null || circuit.LowerBrush.Parts is not null);
        hasBars = launcher.BusBars is not null;
        sourceOhms = launcher.SourceResistance;
        n = circuits.Length;
        switchTimes = launcher.SwitchTimes;
        squares = Currents + n;
        drawn = squares + n;
        otherHeat = drawn + 1;
        suppressed = drawn + 2;
        frictionWork = drawn + 3;
        dragWork = drawn + 4;
        charge = drawn + 5;
        int next = charge + 1;
        brakeWork = this.brakes ? next++ : -1;
        arcEnergy = Reserve(launcher.Arc is not null);
        arcCharge = Reserve(launcher.Arc is not null);
        capacitors = Reserve(launcher.Suppressor.HasCapacitor);
        Dimension = next;
        HasBank = double.IsFinite(launcher.Source.Capacitance);
        connections = new CircuitConnection[n];
        edgeIndex = new int[n];
        clampSign = new double[n];
        driveSign = new double[n];
        driveFactor = new double[n];
        divider = new double[n];
        contactOhms = new double[n];
        arcVolts = new double[n];
        load = new double[n];
        arcs = new CircuitArcs[n];
        heldCurrents = new double[n];
        lost = new double[n];
        linesBefore = new double[n];
        drops = circuits.Any(circuit => circuit.UpperBrush.Drop > 0 || circuit.LowerBrush.Drop > 0);
        dropSize = new double[n];
        dropVolts = new double[n];
        flow = new int[n];
        slopes = new double[Dimension];
        inverses = new double[1 << n][];

        int Reserve(bool wanted)
        {
            int first = wanted ? next : -1;
            next += wanted ? n : 0;
            return first;
        }
    }

    public int Dimension { get; }

    public int EventCount => FirstCircuitSlot + (SlotsPerCircuit * n);

    public int CircuitCount => n;

    public bool HasBank { get; }

    public bool HasSideForce { get; }

    public LaunchRecorder Recorder { get; }

    /// <summary>How the launch ended; null while it runs.</summary>
    public LaunchOutcome? Ended { get; private set; }

    /// <summary>How the braking ended; null before.</summary>
    public BrakingOutcome? BrakingEnded { get; private set; }

    public LauncherSi Launcher => launcher;

    /// <summary>Index of a component of the state that tells its size: for the tolerances.</summary>
    public (int Squares, int Charge, int ArcCharge, int Capacitors) Places => (squares, charge, arcCharge, capacitors);

    /// <summary>Heat in the copper of the coils.</summary>
    public double CoilHeat(ReadOnlySpan<double> state)
    {
        double heat = 0;
        for (int k = 0; k < n; k++)
        {
            heat += CoilHeat(state, k);
        }

        return heat;
    }

    /// <summary>∫i² dt of a circuit.</summary>
    public double SquareIntegral(ReadOnlySpan<double> state, int circuit) => state[squares + circuit];

    /// <summary>Charge that has flowed from the source.</summary>
    public double ChargeDrawn(ReadOnlySpan<double> state) => state[charge];

    /// <summary>The ledger, but for what no integral is needed for.</summary>
    public LedgerSi Ledger(ReadOnlySpan<double> state)
    {
        double arcs = 0;
        for (int k = 0; k < n && arcEnergy >= 0; k++)
        {
            arcs += state[arcEnergy + k];
        }

        return new LedgerSi(
            state[drawn],
            CoilHeat(state),
            state[otherHeat],
            arcs,
            state[suppressed],
            BreakEnergy,
            state[frictionWork],
            state[dragWork],
            brakeWork < 0 ? 0 : state[brakeWork],
            MagneticEnergy(state));
    }

    /// <summary>Puts mode and state to the start of a launch.</summary>
    public void Begin(Span<double> state)
    {
        state.Clear();
        state[0] = launcher.Start;
        state[1] = launcher.StartSpeed;
        Ended = null;
        BrakingEnded = null;
        Array.Clear(lost);
        mass = launcher.Mass;
        slidingFriction = launcher.SlidingFriction;
        restFriction = launcher.RestFriction;
        slopeForce = launcher.SlopeForce;
        brakeActive = false;
        switchClosed = true;
        switchIndex = 0;
        restSince = 0;
        supply = SupplyMode.Voltage;
        for (int k = 0; k < n; k++)
        {
            edgeIndex[k] = circuits[k].Schedule.IndexAt(state[0], 1);
            clampSign[k] = 0;
            arcs[k] = new CircuitArcs();
            flow[k] = 0;
            dropSize[k] = 0;
            connections[k] = conductance > 0 ? CircuitConnection.Suppressed : CircuitConnection.Open;
        }

        ConnectRails(state);
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
        double v = state[1];
        Electrics(state);
        SolveCurrents(derivatives[Currents..]);

        double heat = (sourceOhms * busCurrent * busCurrent) + (bridgeConductance * rail * rail);
        double taken = clampPower;
        if (conductance == 0 && arcEnergy < 0)
        {
            heat += contactHeat;
            for (int k = 0; k < n; k++)
            {
                double i = state[Currents + k];
                derivatives[squares + k] = i * i;
            }
        }
        else
        {
            CircuitPowers(state, derivatives, ref heat, ref taken);
        }

        double acceleration = 0;
        double dry = 0;
        double viscous = launcher.Viscous * v;
        double drag = launcher.DragFactor * v * Math.Abs(v);
        double brake = 0;
        if (motion != 0)
        {
            brake = brakeActive ? BrakeForce(state) : 0;
            dry = motion * slidingFriction;
            if (HasSideForce)
            {
                dry += motion * launcher.SlidingCoefficient * SideForce(state);
            }

            acceleration = (push - dry - viscous - drag - slopeForce - brake) / mass;
        }

        derivatives[0] = motion == 0 ? 0 : v;
        derivatives[1] = acceleration;
        derivatives[drawn] = sourceVolts * busCurrent;
        derivatives[otherHeat] = heat;
        derivatives[suppressed] = taken;
        derivatives[frictionWork] = (dry + viscous) * v;
        derivatives[dragWork] = drag * v;
        derivatives[charge] = busCurrent;
        if (brakeWork >= 0)
        {
            derivatives[brakeWork] = brake * v;
        }
    }

    /// <summary>The powers of the circuits where something lies across the coils or arcs may burn, and what they charge.</summary>
    private void CircuitPowers(ReadOnlySpan<double> state, Span<double> derivatives, ref double heat, ref double taken)
    {
        for (int k = 0; k < n; k++)
        {
            double i = state[Currents + k];
            derivatives[squares + k] = i * i;
            double line = 0;
            double arc = 0;
            double through = 0;
            switch (connections[k])
            {
                case CircuitConnection.Open:
                case CircuitConnection.Clamped:
                    break;
                case CircuitConnection.Suppressed:
                    through = -i;
                    taken += CoilVolts(state, k) * through;
                    break;
                default:
                    line = LineCurrent(state, k);
                    arc = arcVolts[k];
                    heat += ((contactOhms[k] * line) + dropVolts[k]) * line;
                    if (conductance > 0)
                    {
                        through = line - i;
                        taken += CoilVolts(state, k) * through;
                    }

                    break;
            }

            if (capacitors >= 0)
            {
                derivatives[capacitors + k] = through / launcher.Suppressor.Capacitance;
            }

            if (arcEnergy >= 0)
            {
                derivatives[arcEnergy + k] = arc * line;
                derivatives[arcCharge + k] = arc == 0 ? 0 : Math.Abs(line);
            }
        }
    }

    public double EventValue(int index, double time, ReadOnlySpan<double> state)
    {
        switch (index)
        {
            case EndSlot:
                return state[0] - (Braking ? launcher.Braking!.TrackEnd : launcher.Release);
            case RanBackSlot:
                return Braking ? double.NaN : state[0] - launcher.BackLimit;
            case MotionSlot:
                return motion == 0 ? Push(state) - RestFriction(state) : motion * state[1];
            case BackwardSlot:
                return motion == 0 ? -Push(state) - RestFriction(state) : double.NaN;
            case SupplyHighSlot:
            case SupplyLowSlot:
                return SupplyEvent(index, state);
            case BrakeSlot:
                return Braking && !brakeActive ? state[0] - BrakeStart : double.NaN;
            default:
                return CircuitEvent(index - FirstCircuitSlot, time, state);
        }
    }

    public CrossingDirection Direction(int index)
    {
        switch (index)
        {
            case EndSlot:
            case BackwardSlot:
            case SupplyHighSlot:
            case BrakeSlot:
                return CrossingDirection.NegativeToPositive;
            case RanBackSlot:
            case SupplyLowSlot:
                return CrossingDirection.PositiveToNegative;
            case MotionSlot:
                return motion == 0 ? CrossingDirection.NegativeToPositive : CrossingDirection.PositiveToNegative;
            default:
                return (index - FirstCircuitSlot) % SlotsPerCircuit == AheadSlot ? CrossingDirection.NegativeToPositive : CrossingDirection.PositiveToNegative;
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
                return supply == SupplyMode.Current || (supply == SupplyMode.Voltage && limited && MayMeetLimitTwice(startDerivatives, endDerivatives));
            case SupplyLowSlot:
                return supply != SupplyMode.Voltage;
            case EndSlot:
            case RanBackSlot:
            case BrakeSlot:
                return false;
            default:
                return CircuitEventMayCrossTwice(
                    (index - FirstCircuitSlot) / SlotsPerCircuit, (index - FirstCircuitSlot) % SlotsPerCircuit, startDerivatives, endDerivatives);
        }
    }

    /// <summary>
    /// While nothing conducts, steps grow long; where the back-EMF may open the clamp they must not span its next swing. While a coil conducts, a step
    /// must not span a swing of its force: the estimate of the error, which sees K at six places only, may then come out a thousand times too
    /// small, as happened with a supply that holds the current.
    /// </summary>
    public double LongestStep(ReadOnlySpan<double> state)
    {
        double pitches = double.PositiveInfinity;
        double speed = Math.Abs(state[1]);
        for (int k = 0; k < n; k++)
        {
            if (connections[k] != CircuitConnection.Open)
            {
                pitches = Math.Min(pitches, ConductingStep);
            }
            else if (clamps && circuits[k].Curve.Peak * speed > 0.25 * clampVolts)
            {
                pitches = Math.Min(pitches, OpenStep);
            }
        }

        return speed > 0 ? pitches * (launcher.Start - launcher.BackLimit) / speed : double.PositiveInfinity;
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
        bool supplyChanges = false;
        bool motionChanges = false;
        bool released = false;
        KeepLines(state);
        foreach (int index in fired)
        {
            switch (index)
            {
                case EndSlot:
                    released = true;
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
                    supplyChanges = true;
                    break;
                case BrakeSlot:
                    brakeActive = true;
                    break;
                default:
                    electrics = true;
                    OnCircuitEvent(time, (index - FirstCircuitSlot) / SlotsPerCircuit, (index - FirstCircuitSlot) % SlotsPerCircuit, state);
                    break;
            }
        }

        if (released && OnEnd(time, state))
        {
            return EventResponse.Stop;
        }

        if (Ended is not null && !Braking)
        {
            return EventResponse.Stop;
        }

        if (electrics || (supplyChanges && UpsetsOthers(state)))
        {
            UpdateElectrics(time, state);
        }

        if (motionChanges)
        {
            if (motion != 0)
            {
                state[1] = 0;
                if (Braking)
                {
                    BrakingEnded = BrakingOutcome.Stopped;
                    return EventResponse.Stop;
                }
            }

            ChooseMotion(time, state);
        }

        return Ended is not null && !Braking ? EventResponse.Stop : EventResponse.Restart;
    }

    private EventResponse OnClock(double time, Span<double> state)
    {
        if (switchIndex < switchTimes.Length && time >= switchTimes[switchIndex])
        {
            KeepLines(state);
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

    /// <summary>The energies of a launch in the order of <see cref="EnergyLedger"/>, without kinetic and potential energy.</summary>
    internal readonly record struct LedgerSi(
        double Drawn,
        double CoilHeat,
        double OtherHeat,
        double Arcs,
        double Suppressed,
        double Breaks,
        double Friction,
        double Drag,
        double Brake,
        double Magnetic);
}
