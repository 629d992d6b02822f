using System.Runtime.CompilerServices;
using Magrail.Numerics;

namespace Magrail;

/// <summary>The coil circuits: what they are connected to, how they part from it, and what burns there.</summary>
internal sealed partial class LaunchSystem
{
    private readonly CircuitConnection[] connections;
    private readonly int[] edgeIndex;
    private readonly double[] clampSign;
    private readonly CircuitArcs[] arcs;
    private readonly double[] heldCurrents;
    private readonly double[] lost;
    private readonly double[] linesBefore;
    private readonly double[]?[] inverses;
    private readonly bool drops;
    private readonly double[] dropSize;
    private readonly double[] dropVolts;
    private readonly int[] flow;
    private double[] inverse = [];
    private bool switchClosed;
    private int switchIndex;

    /// <summary>Field energy lost at ideal breaks so far.</summary>
    public double BreakEnergy
    {
        get
        {
            double sum = 0;
            foreach (double energy in lost)
            {
                sum += energy;
            }

            return sum;
        }
    }

    public ReadOnlySpan<CircuitConnection> Connections => connections;

    public double MagneticEnergy(ReadOnlySpan<double> state)
    {
        double energy = 0;
        for (int j = 0; j < n; j++)
        {
            for (int k = 0; k < n; k++)
            {
                energy += 0.5 * launcher.Inductances[(j * n) + k] * state[Currents + j] * state[Currents + k];
            }
        }

        return energy;
    }

    /// <summary>Heat in the copper of one circuit's coils.</summary>
    public double CoilHeat(ReadOnlySpan<double> state, int k)
    {
        CoilHeatSi[] coils = circuits[k].Heating;
        if (coils.Length == 0)
        {
            return circuits[k].CoilResistance * state[squares + k];
        }

        double heat = 0;
        foreach (ref readonly CoilHeatSi coil in coils.AsSpan())
        {
            heat += coil.HeatAfter(state[squares + k]);
        }

        return heat;
    }

    /// <summary>Heat that the copper of all coils takes up at a state, W.</summary>
    public double CoilPower(ReadOnlySpan<double> state)
    {
        double power = 0;
        for (int k = 0; k < n; k++)
        {
            power += CoilOhms(state, k) * state[Currents + k] * state[Currents + k];
        }

        return power;
    }

    /// <summary>What a circuit's breaks have cost so far: energy of its arcs and of its ideal breaks, charge of its arcs.</summary>
    public (double Energy, double Charge) BreakTotals(ReadOnlySpan<double> state, int k)
        => arcEnergy < 0 ? (lost[k], 0) : (lost[k] + state[arcEnergy + k], state[arcCharge + k]);

    private double CoilOhms(ReadOnlySpan<double> state, int k)
    {
        CoilHeatSi[] coils = circuits[k].Heating;
        if (coils.Length == 0)
        {
            return circuits[k].CoilResistance;
        }

        double ohms = 0;
        foreach (ref readonly CoilHeatSi coil in coils.AsSpan())
        {
            ohms += coil.ResistanceAfter(state[squares + k]);
        }

        return ohms;
    }

    /// <summary>Resistance of the brushes of a circuit that touch, ohm.</summary>
    private double ContactOhms(int k, double x)
    {
        DriveSchedule schedule = circuits[k].Schedule;
        ref readonly BrushContact upper = ref schedule.Upper[edgeIndex[k]];
        ref readonly BrushContact lower = ref schedule.Lower[edgeIndex[k]];
        return (upper.Touches ? circuits[k].UpperBrush.At(upper, x) : 0) + (lower.Touches ? circuits[k].LowerBrush.At(lower, x) : 0);
    }

    /// <summary>The greatest voltage across one contact of a circuit: its resistance times its current; zero where none is closed.</summary>
    public double ContactVolts(ReadOnlySpan<double> state, int k, bool upper)
    {
        DriveSchedule schedule = circuits[k].Schedule;
        ref readonly BrushContact contact = ref (upper ? schedule.Upper : schedule.Lower)[edgeIndex[k]];
        return contact.Touches && !LineIsOpen(k) && !IsHeld(k)
            ? (upper ? circuits[k].UpperBrush : circuits[k].LowerBrush).At(contact, state[0]) * Math.Abs(LineCurrent(state, k))
            : 0;
    }

    private bool LineIsOpen(int k) => connections[k] is CircuitConnection.Open or CircuitConnection.Clamped or CircuitConnection.Suppressed;

    /// <summary>Whether the brushes of a circuit touch, but what the source offers is less than their drop: nothing flows through them.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool IsHeld(int k) => flow[k] == 0 && dropSize[k] > 0;

    /// <summary>The drop of the touching brushes of a circuit, V. The two contacts of a brush that bridges the rails cancel.</summary>
    private double DropOf(int k)
    {
        DriveSchedule schedule = circuits[k].Schedule;
        ref readonly BrushContact upper = ref schedule.Upper[edgeIndex[k]];
        ref readonly BrushContact lower = ref schedule.Lower[edgeIndex[k]];
        return (Counts(upper) ? circuits[k].UpperBrush.Drop : 0) + (Counts(lower) ? circuits[k].LowerBrush.Drop : 0);

        bool Counts(in BrushContact contact) => contact.Touches && !(switchClosed && contact.Rails == Rails.Both);
    }

    /// <summary>What would drive a current through the brushes of a circuit through which none flows; after <see cref="Electrics"/>.</summary>
    private double Offered(int k, ReadOnlySpan<double> state)
    {
        // An open coil's voltage may ask for the network anew, which leaves it as it is.
        double volts = ContactSide(k) * rail;
        return volts - (conductance > 0 ? CapacitorVolts(state, k) - (state[Currents + k] / conductance) : OpenVolts(k, state));
    }

    /// <summary>Which part of the rail voltage the contacts of a circuit put on it: forward, reverse, none, or half of it.</summary>
    private double ContactSide(int k)
    {
        BrushContact upper = circuits[k].Schedule.Upper[edgeIndex[k]];
        BrushContact lower = circuits[k].Schedule.Lower[edgeIndex[k]];
        return switchClosed || arcs[k].AtSwitch ? SideOf(upper.Rails, arcs[k].UpperRail) - SideOf(lower.Rails, arcs[k].LowerRail) : 0;
    }

    /// <summary>The sense in which current flows through brushes with a drop, decided anew; true where it is not what it was.</summary>
    private bool TurnsFlow(int k, ReadOnlySpan<double> state)
    {
        double size = dropSize[k];
        if (size == 0 || connections[k] == CircuitConnection.Arcing)
        {
            return false;
        }

        int before = flow[k];
        Electrics(state);
        if (conductance == 0 && state[Currents + k] != 0)
        {
            flow[k] = Math.Sign(state[Currents + k]);
        }
        else if (before == 0)
        {
            double offered = Offered(k, state);
            flow[k] = Math.Abs(offered) > size * (1 + 1e-12) ? Math.Sign(offered) : 0;
        }
        else
        {
            // A current that would at once flow against the drop that it is given: none flows.
            double along = LineCurrent(state, k) / conductance;
            if (conductance == 0)
            {
                SolveCurrents(slopes.AsSpan(Currents));
                along = slopes[Currents + k] / inverse[(k * n) + k];
            }

            flow[k] = before * along < -1e-9 * size ? 0 : before;
        }

        return flow[k] != before;
    }

    private double CircuitEvent(int slot, double time, ReadOnlySpan<double> state)
    {
        int k = slot / SlotsPerCircuit;
        int index = edgeIndex[k];
        double[] edges = circuits[k].Schedule.Edges;
        switch (slot % SlotsPerCircuit)
        {
            case AheadSlot:
                return index < edges.Length ? state[0] - edges[index] : double.NaN;
            case BehindSlot:
                return index > 0 ? state[0] - edges[index - 1] : double.NaN;
            case CurrentSlot:
                switch (connections[k])
                {
                    case not CircuitConnection.Arcing when IsHeld(k):
                        Electrics(state);
                        return dropSize[k] - Math.Abs(Offered(k, state));
                    case not CircuitConnection.Arcing when dropSize[k] > 0 && conductance > 0:
                        Electrics(state);
                        return flow[k] * LineCurrent(state, k);
                    case not CircuitConnection.Arcing when dropSize[k] > 0:
                        return flow[k] * state[Currents + k];
                    case CircuitConnection.Clamped:
                        return clampSign[k] * state[Currents + k];
                    case CircuitConnection.Arcing when conductance > 0:
                        Electrics(state);
                        return arcs[k].Sign * LineCurrent(state, k);
                    case CircuitConnection.Arcing:
                        return arcs[k].Sign * state[Currents + k];
                    default:
                        return double.NaN;
                }

            default:
                switch (connections[k])
                {
                    case CircuitConnection.Open when clamps:
                        return clampVolts - Math.Abs(OpenVolts(k, state));
                    case CircuitConnection.Arcing when clamps:
                        Electrics(state);
                        return clampVolts + (arcs[k].Sign * CoilVolts(state, k));
                    default:
                        return double.NaN;
                }
        }
    }

    /// <summary>Edges are monotone between changes of motion, which are events; a current that dies may come back, and a back-EMF swings.</summary>
    private bool CircuitEventMayCrossTwice(int k, int slot, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives) => slot switch
    {
        CurrentSlot when dropSize[k] > 0 && connections[k] != CircuitConnection.Arcing
            => conductance > 0 || flow[k] == 0 || (flow[k] * startDerivatives[Currents + k] < 0 && flow[k] * endDerivatives[Currents + k] > 0),
        CurrentSlot => connections[k] == CircuitConnection.Arcing && conductance > 0,
        ClampSlot => clamps
            && (connections[k] == CircuitConnection.Arcing
                || (connections[k] == CircuitConnection.Open && circuits[k].Curve.Peak * Math.Abs(startDerivatives[0]) > 0.25 * clampVolts)),
        _ => false,
    };

    private void OnCircuitEvent(double time, int k, int slot, Span<double> state)
    {
        switch (slot)
        {
            case AheadSlot:
                edgeIndex[k]++;
                Connect(time, k, state);
                break;
            case BehindSlot:
                edgeIndex[k]--;
                Connect(time, k, state);
                break;
            case CurrentSlot when connections[k] == CircuitConnection.Arcing:
                ArcDies(time, k, state);
                break;
            case CurrentSlot when IsHeld(k):
                Electrics(state);
                flow[k] = Math.Sign(Offered(k, state));
                break;
            case CurrentSlot when dropSize[k] > 0:
                flow[k] = 0;
                if (conductance == 0)
                {
                    state[Currents + k] = 0;
                }

                break;
            case ClampSlot when connections[k] == CircuitConnection.Arcing:
                MoveToClamp(time, k, state, arcs[k].Sign, BreakEnding.Suppressed);
                break;
            default:
                ClampEvent(time, k, state);
                break;
        }
    }

    /// <summary>The voltage that an open coil shows: its back-EMF and what the other coils induce in it.</summary>
    private double OpenVolts(int k, ReadOnlySpan<double> state)
    {
        double volts = circuits[k].Curve.At(state[0]) * state[1];
        if (n > 1)
        {
            Electrics(state);
            SolveCurrents(slopes.AsSpan(Currents));
            for (int j = 0; j < n; j++)
            {
                volts += launcher.Inductances[(k * n) + j] * slopes[Currents + j];
            }
        }

        return volts;
    }

    private void ClampEvent(double time, int k, Span<double> state)
    {
        CircuitConnection before = connections[k];
        double current = state[Currents + k];
        if (before == CircuitConnection.Clamped)
        {
            state[Currents + k] = 0;
            clampSign[k] = 0;
            connections[k] = CircuitConnection.Open;
            Recorder.EndSuppression(k);
        }
        else
        {
            // The coil drives its clamp as a generator: the current flows against the voltage it shows.
            clampSign[k] = -Math.Sign(OpenVolts(k, state));
            connections[k] = CircuitConnection.Clamped;
        }

        Recorder.Add(time, state, k, before, connections[k], current, state[Currents + k]);
    }

    /// <summary>Connects a circuit as its contacts and the switch say; a current that loses its path goes to arc, suppressor or ideal break.</summary>
    private void Connect(double time, int k, Span<double> state)
    {
        DriveSchedule schedule = circuits[k].Schedule;
        int index = edgeIndex[k];
        CoilDrive drive = schedule.Drives[index];
        CircuitConnection before = connections[k];
        Rails upper = schedule.Upper[index].Rails;
        Rails lower = schedule.Lower[index].Rails;
        CircuitConnection after = drive switch
        {
            CoilDrive.Shorted => CircuitConnection.Shorted,

            // The bridging brush closes the coil on itself: its current needs no source.
            CoilDrive.Bridged when !switchClosed => CircuitConnection.Shorted,
            _ when !switchClosed => CircuitConnection.Open,
            CoilDrive.Forward => CircuitConnection.Forward,
            CoilDrive.Reverse => CircuitConnection.Reverse,
            CoilDrive.Bridged => CircuitConnection.Bridged,
            _ => CircuitConnection.Open,
        };
        if (before == CircuitConnection.Arcing)
        {
            after = FollowArcs(time, k, upper, lower, after, state);
        }
        else if (after == CircuitConnection.Open)
        {
            after = LineIsOpen(k) ? before
                : !IsHeld(k) ? Part(time, k, upper, lower, state)
                : conductance > 0 ? CircuitConnection.Suppressed
                : CircuitConnection.Open;
        }

        arcs[k].Upper = upper;
        arcs[k].Lower = lower;
        if (after == before)
        {
            return;
        }

        if (LineIsOpen(k) || before == CircuitConnection.Arcing)
        {
            Recorder.EndSuppression(k);
            flow[k] = before == CircuitConnection.Arcing ? arcs[k].Sign : conductance > 0 ? 0 : Math.Sign(state[Currents + k]);
        }

        if (after == CircuitConnection.Arcing)
        {
            flow[k] = arcs[k].Sign;
        }

        connections[k] = after;
        Recorder.Add(time, state, k, before, after, arcs[k].CurrentBefore(state[Currents + k]), state[Currents + k]);
        arcs[k].Broken = double.NaN;
    }

    /// <summary>
    /// Keeps the currents through the contacts as they are before an event: where they follow the voltages at once, they change for all circuits with the first that parts.
    /// </summary>
    private void KeepLines(ReadOnlySpan<double> state)
    {
        if (conductance == 0)
        {
            return;
        }

        Electrics(state);
        for (int k = 0; k < n; k++)
        {
            linesBefore[k] = LineCurrent(state, k);
        }
    }

    /// <summary>A circuit that carried current parts from its contacts or from the switch: what takes the current.</summary>
    private CircuitConnection Part(double time, int k, Rails upper, Rails lower, Span<double> state)
    {
        ref CircuitArcs arc = ref arcs[k];
        double current = state[Currents + k];

        double line = conductance > 0 ? linesBefore[k] : current;
        bool atUpper = upper == Rails.None && arc.Upper != Rails.None;
        bool atLower = lower == Rails.None && arc.Lower != Rails.None;
        bool atSwitch = !atUpper && !atLower;
        int contacts = (atUpper ? 1 : 0) + (atLower ? 1 : 0) + (atSwitch ? 1 : 0);
        if (launcher.Arc is ArcSi kind && Math.Abs(line) > kind.MinimumCurrent)
        {
            // What the contacts would have to bear if the current left them at once; without anything across the coil, there is no bound.
            int sign = Math.Sign(line);
            double across = conductance > 0 ? CapacitorVolts(state, k) - (current / conductance)
                : clamps ? -Math.Sign(current) * clampVolts
                : double.NaN;
            double bears = (sign * ((driveSign[k] * SourceVoltsOf(state)) - across)) - DropOf(k);
            if (!(bears < contacts * kind.Fall))
            {
                arc.Sign = sign;
                arc.UpperRail = atUpper ? arc.Upper : Rails.None;
                arc.LowerRail = atLower ? arc.Lower : Rails.None;
                arc.UpperEdge = arc.LowerEdge = state[0];
                arc.AtSwitch = atSwitch;
                Recorder.BeginBreak(time, state, k, line, contacts, this);
                return CircuitConnection.Arcing;
            }
        }

        Recorder.BeginBreak(time, state, k, line, contacts, this);
        CircuitConnection after = Leave(k, current, state);
        Recorder.EndBreak(time, state, k, after == CircuitConnection.Open ? BreakEnding.Lost : BreakEnding.Suppressed, this);
        return after;
    }

    /// <summary>Where a coil's current goes once no contact carries it: to the suppressor, or nowhere.</summary>
    private CircuitConnection Leave(int k, double current, Span<double> state)
    {
        if (conductance > 0)
        {
            return CircuitConnection.Suppressed;
        }

        if (current == 0)
        {
            return CircuitConnection.Open;
        }

        if (clamps)
        {
            clampSign[k] = Math.Sign(current);
            return CircuitConnection.Clamped;
        }

        arcs[k].Broken = current;
        BreakAtOnce(k, state);
        return CircuitConnection.Open;
    }

    /// <summary>A contact or the switch changes while arcs burn: some end, others begin.</summary>
    private CircuitConnection FollowArcs(double time, int k, Rails upper, Rails lower, CircuitConnection contacts, Span<double> state)
    {
        ref CircuitArcs arc = ref arcs[k];
        bool flash = Meets(ref arc.UpperRail, upper) | Meets(ref arc.LowerRail, lower);
        if (upper == Rails.None && arc.Upper != Rails.None)
        {
            (arc.UpperRail, arc.UpperEdge) = (arc.Upper, state[0]);
        }

        if (lower == Rails.None && arc.Lower != Rails.None)
        {
            (arc.LowerRail, arc.LowerEdge) = (arc.Lower, state[0]);
        }

        arc.AtSwitch = !switchClosed && SideOf(upper, arc.UpperRail) * SideOf(lower, arc.LowerRail) < 0;
        if (flash)
        {
            Recorder.FlashOver(time, state, k, this);
        }

        if (arc.Burns)
        {
            return CircuitConnection.Arcing;
        }

        Recorder.EndBreak(time, state, k, flash ? BreakEnding.FlashOver : BreakEnding.Touched, this);
        return contacts;

        // A brush whose arc burns meets metal: the arc ends, as a flash-over where that is the other rail.
        static bool Meets(ref Rails arcRail, Rails touched)
        {
            if (arcRail == Rails.None || touched == Rails.None)
            {
                return false;
            }

            bool other = touched != arcRail;
            arcRail = Rails.None;
            return other;
        }
    }

    private void ArcDies(double time, int k, Span<double> state)
    {
        double current = state[Currents + k];
        if (conductance == 0)
        {
            // Zero to round-off; but another circuit's ideal break may have turned a coupled current round.
            BreakAtOnce(k, state);
        }

        Recorder.EndBreak(time, state, k, BreakEnding.DiedOut, this);
        arcs[k].Clear();
        connections[k] = conductance > 0 ? CircuitConnection.Suppressed : CircuitConnection.Open;
        Recorder.Add(time, state, k, CircuitConnection.Arcing, connections[k], current, state[Currents + k]);
    }

    private void MoveToClamp(double time, int k, Span<double> state, int sign, BreakEnding ending)
    {
        Recorder.EndBreak(time, state, k, ending, this);
        arcs[k].Clear();
        clampSign[k] = sign;
        connections[k] = CircuitConnection.Clamped;
        Recorder.Add(time, state, k, CircuitConnection.Arcing, CircuitConnection.Clamped, state[Currents + k], state[Currents + k]);
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
                        heldCurrents[j] += launcher.Inductances[(j * n) + l] * state[Currents + l];
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

                state[Currents + j] = current;
            }
        }

        state[Currents + k] = 0;
        lost[k] += before - MagneticEnergy(state);
    }

    /// <summary>
    /// Whether the jump of the rail that goes with a change of the supply's mode gives a circuit another state: one held by the drop of its brushes, or open behind its clamp, may be offered more than
    /// that. Else the mode must not be chosen anew: right at the limit, rounding would choose it.
    /// </summary>
    private bool UpsetsOthers(ReadOnlySpan<double> state)
    {
        bool upset = false;
        for (int k = 0; k < n && (drops || (clamps && n > 1)); k++)
        {
            upset |= drops && TurnsFlow(k, state);
            upset |= clamps && connections[k] == CircuitConnection.Open && Math.Abs(OpenVolts(k, state)) > clampVolts;
        }

        return upset;
    }

    /// <summary>After a change of connections: the inverse inductance of what conducts, the signs on the rails, the supply's mode.</summary>
    private void UpdateElectrics(double time, Span<double> state)
    {
        ConnectRails(state);
        int turns = 0;

        // What is beyond its limit from the start has no crossing to wait for: an open coil with more than the clamp's voltage across it, an arc
        // that the clamp or the suppressor leaves no current.
        for (int k = 0; k < n; k++)
        {
            if (clamps && connections[k] == CircuitConnection.Open && Math.Abs(OpenVolts(k, state)) > clampVolts)
            {
                ClampEvent(time, k, state);
            }
            else if (connections[k] == CircuitConnection.Arcing && CircuitEvent((k * SlotsPerCircuit) + ClampSlot, time, state) < 0)
            {
                MoveToClamp(time, k, state, arcs[k].Sign, BreakEnding.Suppressed);
            }
            else if (connections[k] == CircuitConnection.Arcing && CircuitEvent((k * SlotsPerCircuit) + CurrentSlot, time, state) < 0)
            {
                ArcDies(time, k, state);
            }
            else if (drops && TurnsFlow(k, state))
            {
                // Each circuit in turn, from the first again after a change: that ends for every network of resistances, and is bounded in case.
                if (++turns > MostTurns * n)
                {
                    Ended ??= LaunchOutcome.Chattering;
                    return;
                }
            }
            else
            {
                continue;
            }

            ConnectRails(state);
            k = -1;
        }
    }

    private double[] InverseFor(int mask)
        => inverses[mask] ??= InverseInductance.Of(launcher.Inductances, n, mask);

    /// <summary>Which side of the source a brush is on: on its strip, or through its arc.</summary>
    private static double SideOf(Rails touched, Rails arc) => BrushContact.SideOf(touched != Rails.None ? touched : arc);

    /// <summary>The arcs of one circuit, and what its brushes last touched.</summary>
    private struct CircuitArcs
    {
        public Rails Upper;
        public Rails Lower;
        public Rails UpperRail;
        public Rails LowerRail;
        public double UpperEdge;
        public double LowerEdge;
        public bool AtSwitch;
        public int Sign;
        public double Broken;

        public CircuitArcs() => Broken = double.NaN;

        public readonly bool Burns => UpperRail != Rails.None || LowerRail != Rails.None || AtSwitch;

        /// <summary>The voltage of all its arcs in series, V.</summary>
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public readonly double Volts(in ArcSi kind, double x, double current)
        {
            double volts = AtSwitch ? kind.VoltageAt(0, current) : 0;
            volts += UpperRail == Rails.None ? 0 : kind.VoltageAt(Math.Abs(x - UpperEdge), current);
            volts += LowerRail == Rails.None ? 0 : kind.VoltageAt(Math.Abs(x - LowerEdge), current);
            return Sign * volts;
        }

        public readonly double CurrentBefore(double now) => double.IsNaN(Broken) ? now : Broken;

        public void Clear()
        {
            UpperRail = LowerRail = Rails.None;
            AtSwitch = false;
        }
    }
}
