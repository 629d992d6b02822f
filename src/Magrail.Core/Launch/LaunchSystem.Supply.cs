using System.Runtime.CompilerServices;

namespace Magrail;

/// <summary>The rails and the source: voltages and currents of the network at one instant.</summary>
internal sealed partial class LaunchSystem
{
    // Currents closer to the limit than this part of it are at it.
    private const double AtLimit = 1e-9;

    private readonly double[] driveSign;
    private readonly double[] driveFactor;
    private readonly double[] divider;
    private readonly double[] contactOhms;
    private readonly double[] arcVolts;
    private readonly double[] load;
    private readonly double conductance;
    private readonly double clampVolts;
    private readonly bool clamps;
    private readonly double currentLimit;
    private readonly bool limited;
    private readonly bool warms;
    private readonly bool followsOverlap;
    private readonly bool hasBars;
    private SupplyMode supply;
    private double bridgeConductance;

    // Of the state last seen by Electrics; heat of the contacts and power of the clamps where nothing else lies across the coils.
    private double push;
    private double contactHeat;
    private double clampPower;
    private double sourceOhms;
    private double sourceVolts;
    private double rail;
    private double busCurrent;

    private enum SupplyMode
    {
        Voltage,
        Current,
        Collapsed,
    }

    /// <summary>Voltage between the rails at the state last computed.</summary>
    public double Rail => rail;

    /// <summary>What the source gives at the state last computed, as the ledger counts it: its voltage before its resistance times its current, W.</summary>
    public double SourcePower => sourceVolts * busCurrent;

    /// <summary>Current from the source at the state last computed.</summary>
    public double BusCurrent => busCurrent;

    /// <summary>Whether the current from the source is the sum of the coil currents on the rails: nothing lies across coils or rails.</summary>
    public bool BusIsPlain => conductance == 0 && bridgeConductance == 0;

    /// <summary>How a circuit's current counts in that of the source: forward, reverse, or not.</summary>
    public double DriveSign(int circuit) => driveSign[circuit];

    /// <summary>Computes rail voltage, source current and the load of each coil; the terms of <see cref="SolveCurrents"/>.</summary>
    public void Electrics(ReadOnlySpan<double> state)
    {
        double x = state[0];
        double v = state[1];
        double alone = 0;
        double perVolt = bridgeConductance;
        double force = 0;
        double heat = 0;
        double clamped = 0;
        for (int k = 0; k < n; k++)
        {
            double i = state[Currents + k];
            double constant = circuits[k].Curve.At(x);
            force += constant * i;
            double within = ((warms ? CoilOhms(state, k) : circuits[k].CoilResistance) * i) + (constant * v);
            CircuitConnection connection = connections[k];
            switch (connection)
            {
                case CircuitConnection.Open:
                    load[k] = 0;
                    break;
                case CircuitConnection.Clamped:
                    double clamp = clampSign[k] * clampVolts;
                    load[k] = -within - clamp;
                    clamped += clamp * i;
                    break;
                case CircuitConnection.Suppressed:
                    load[k] = CapacitorVolts(state, k) - (i / conductance) - within;
                    break;
                default:
                    if (IsHeld(k))
                    {
                        load[k] = conductance > 0 ? CapacitorVolts(state, k) - (i / conductance) - within : 0;
                        break;
                    }

                    double against = dropVolts[k];
                    if (connection == CircuitConnection.Arcing)
                    {
                        double arc = arcVolts[k] = arcs[k].Volts(launcher.Arc!.Value, x, i);
                        against += arc;
                    }

                    if (followsOverlap)
                    {
                        contactOhms[k] = ContactOhms(k, x);
                    }

                    double ohms = contactOhms[k];
                    double s = driveSign[k];
                    if (conductance == 0)
                    {
                        double drop = ohms * i;
                        load[k] = -drop - against - within;
                        heat += (drop + dropVolts[k]) * i;
                        alone += s * i;
                    }
                    else
                    {
                        double capacitor = CapacitorVolts(state, k);
                        double d = divider[k] = 1 / (1 + (ohms * conductance));
                        load[k] = (d * ((ohms * conductance * capacitor) - (ohms * i) - against)) - within;
                        driveFactor[k] = s * d;
                        alone += s * d * (i - (conductance * (against + capacitor)));
                        perVolt += s * s * d * conductance;
                    }

                    break;
            }
        }

        push = force;
        contactHeat = heat;
        clampPower = clamped;
        if (hasBars)
        {
            sourceOhms = launcher.SourceResistance + launcher.BusBars!.Value.At(x);
        }

        switch (supply)
        {
            case SupplyMode.Voltage:
                sourceVolts = SourceVoltsOf(state);
                rail = sourceVolts - (sourceOhms * alone);
                busCurrent = alone;
                if (perVolt > 0)
                {
                    rail /= 1 + (sourceOhms * perVolt);
                    busCurrent += perVolt * rail;
                }

                break;
            case SupplyMode.Current when perVolt > 0:
                busCurrent = currentLimit;
                rail = (busCurrent - alone) / perVolt;
                sourceVolts = rail + (sourceOhms * busCurrent);
                break;
            case SupplyMode.Current:
                busCurrent = alone;
                rail = HeldRail();
                sourceVolts = rail + (sourceOhms * busCurrent);
                break;
            default:
                sourceVolts = 0;
                rail = -sourceOhms * alone / (1 + (sourceOhms * perVolt));
                busCurrent = alone + (perVolt * rail);
                break;
        }
    }

    /// <summary>Voltage across a coil and its suppressor at the state last computed.</summary>
    public double CoilVolts(ReadOnlySpan<double> state, int k)
    {
        switch (connections[k])
        {
            case CircuitConnection.Open:
                return OpenVolts(k, state);
            case CircuitConnection.Clamped:
                return -clampSign[k] * clampVolts;
            case CircuitConnection.Suppressed:
                return CapacitorVolts(state, k) - (state[Currents + k] / conductance);
            default:
                return !IsHeld(k) ? (driveSign[k] * rail) - (contactOhms[k] * LineCurrent(state, k)) - arcVolts[k] - dropVolts[k]
                    : conductance > 0 ? CapacitorVolts(state, k) - (state[Currents + k] / conductance)
                    : OpenVolts(k, state);
        }
    }

    /// <summary>Current through the contacts of a circuit at the state last computed.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double LineCurrent(ReadOnlySpan<double> state, int k)
    {
        double i = state[Currents + k];
        return LineIsOpen(k) || IsHeld(k) ? 0
            : conductance == 0 ? i
            : divider[k] * (i + (conductance * ((driveSign[k] * rail) - arcVolts[k] - dropVolts[k] - CapacitorVolts(state, k))));
    }

    private double CapacitorVolts(ReadOnlySpan<double> state, int k) => capacitors < 0 ? 0 : state[capacitors + k];

    /// <summary>The source's voltage before its resistance, outside its current limit.</summary>
    private double SourceVoltsOf(ReadOnlySpan<double> state)
        => HasBank ? launcher.Source.Volts - (state[charge] / launcher.Source.Capacitance) : launcher.Source.Volts;

    /// <summary>The sum of the coil currents on the rails, of a state; or of their slopes, of its derivatives.</summary>
    private double CoilSum(ReadOnlySpan<double> values)
    {
        double sum = 0;
        for (int k = 0; k < n; k++)
        {
            sum += driveSign[k] * values[Currents + k];
        }

        return sum;
    }

    private void ConnectRails(ReadOnlySpan<double> state)
    {
        int mask = 0;
        bridgeConductance = 0;
        for (int k = 0; k < n; k++)
        {
            CircuitConnection connection = connections[k];
            dropSize[k] = drops && !LineIsOpen(k) ? DropOf(k) : 0;
            dropVolts[k] = flow[k] * dropSize[k];
            if (connection != CircuitConnection.Open && !(IsHeld(k) && conductance == 0))
            {
                mask |= 1 << k;
            }

            BrushContact upper = circuits[k].Schedule.Upper[edgeIndex[k]];
            BrushContact lower = circuits[k].Schedule.Lower[edgeIndex[k]];
            driveSign[k] = LineIsOpen(k) || IsHeld(k) ? 0 : ContactSide(k);
            driveFactor[k] = driveSign[k];
            arcVolts[k] = 0;
            contactOhms[k] = ContactOhms(k, state[0]);
            if (switchClosed)
            {
                // One brush on two strips: each touches half of it, so each contact has twice the resistance, and the two are in series.
                bridgeConductance += upper.Rails == Rails.Both ? 0.25 / circuits[k].UpperBrush.Full : 0;
                bridgeConductance += lower.Rails == Rails.Both ? 0.25 / circuits[k].LowerBrush.Full : 0;
            }
        }

        inverse = InverseFor(mask);
        if (!limited)
        {
            return;
        }

        double limit = currentLimit;
        supply = SupplyMode.Voltage;
        Electrics(state);
        double free = busCurrent;
        if (!BusIsPlain)
        {
            // The current follows the voltage at once.
            supply = SupplyMode.Collapsed;
            Electrics(state);
            supply = free <= limit ? SupplyMode.Voltage : busCurrent >= limit ? SupplyMode.Collapsed : SupplyMode.Current;
        }
        else if (Math.Abs(free - limit) <= AtLimit * limit)
        {
            supply = SupplyMode.Current;
            Electrics(state);
            supply = sourceVolts > launcher.Source.Volts ? SupplyMode.Voltage : sourceVolts < 0 ? SupplyMode.Collapsed : SupplyMode.Current;
        }
        else
        {
            supply = free > limit ? SupplyMode.Collapsed : SupplyMode.Voltage;
        }
    }

    /// <summary>The rail voltage that keeps the source current as it is, where that is a sum of coil currents; uses the loads last computed.</summary>
    private double HeldRail()
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
        return perVolt == 0 ? launcher.Source.Volts : -alone / perVolt;
    }

    private double SupplyEvent(int index, ReadOnlySpan<double> state)
    {
        if (!limited || (supply == SupplyMode.Voltage && index == SupplyLowSlot) || (supply == SupplyMode.Collapsed && index == SupplyHighSlot))
        {
            return double.NaN;
        }

        if (supply != SupplyMode.Current && BusIsPlain)
        {
            return CoilSum(state) - currentLimit;
        }

        Electrics(state);
        return supply == SupplyMode.Current
            ? index == SupplyHighSlot ? sourceVolts - launcher.Source.Volts : sourceVolts
            : busCurrent - currentLimit;
    }

    /// <summary>
    /// Whether the source's current may rise to its limit and fall again within a step, or start there, a hair above by rounding and level, dip and come
    /// back: so it does where the back-EMF has just outgrown the supply and is about to fall.
    /// </summary>
    private bool MayMeetLimitTwice(ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives)
    {
        if (!BusIsPlain)
        {
            return true;
        }

        double start = CoilSum(startDerivatives);
        double end = CoilSum(endDerivatives);
        return (start > 0 && end < 0) || (end > 0 && start < 0.1 * end);
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
        Electrics(state);
        if (rising && sourceVolts < 0)
        {
            supply = SupplyMode.Collapsed;
        }
        else if (!rising && sourceVolts > launcher.Source.Volts)
        {
            supply = SupplyMode.Voltage;
        }
    }

    /// <summary>The slopes of the coil currents, from what <see cref="Electrics"/> left.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void SolveCurrents(Span<double> slope)
    {
        if (n == 1)
        {
            slope[0] = inverse[0] * (load[0] + (driveFactor[0] * rail));
            return;
        }

        for (int j = 0; j < n; j++)
        {
            double sum = 0;
            for (int k = 0; k < n; k++)
            {
                sum += inverse[(j * n) + k] * (load[k] + (driveFactor[k] * rail));
            }

            slope[j] = sum;
        }
    }
}
