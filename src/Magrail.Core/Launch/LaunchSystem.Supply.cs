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
    private SupplyMode supply;
    private double bridgeConductance;

    // Of the state last seen by Electrics.
    private double push;
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

    /// <summary>Current from the source at the state last computed.</summary>
    public double BusCurrent => busCurrent;

    /// <summary>Whether the current from the source is the sum of the coil currents on the rails: nothing lies across coils or rails.</summary>
    public bool SourceCurrentIsPlain => launcher.Suppressor.Conductance == 0 && bridgeConductance == 0;

    /// <summary>How a circuit's current counts in that of the source: forward, reverse, or not.</summary>
    public double DriveSign(int circuit) => driveSign[circuit];

    /// <summary>Computes rail voltage, source current and the load of each coil; the terms of <see cref="SolveCurrents"/>.</summary>
    public void Electrics(ReadOnlySpan<double> state)
    {
        double x = state[0];
        double v = state[1];
        double conductance = launcher.Suppressor.Conductance;
        double alone = 0;
        double perVolt = bridgeConductance;
        push = 0;
        for (int k = 0; k < n; k++)
        {
            double i = state[Currents + k];
            double constant = circuits[k].Curve.At(x);
            push += constant * i;
            double within = (CoilOhms(state, k) * i) + (constant * v);
            switch (connections[k])
            {
                case CircuitConnection.Open:
                    load[k] = 0;
                    break;
                case CircuitConnection.Clamped:
                    load[k] = -within - (clampSign[k] * launcher.Suppressor.ClampVolts);
                    break;
                case CircuitConnection.Suppressed:
                    load[k] = CapacitorVolts(state, k) - (i / conductance) - within;
                    break;
                default:
                    double ohms = ContactOhms(k, x);
                    double arc = connections[k] == CircuitConnection.Arcing ? arcs[k].Volts(launcher.Arc!.Value, x, i) : 0;
                    contactOhms[k] = ohms;
                    arcVolts[k] = arc;
                    double s = driveSign[k];
                    if (conductance == 0)
                    {
                        load[k] = -(ohms * i) - arc - within;
                        driveFactor[k] = s;
                        alone += s * i;
                    }
                    else
                    {
                        double capacitor = CapacitorVolts(state, k);
                        double d = divider[k] = 1 / (1 + (ohms * conductance));
                        load[k] = (d * ((ohms * conductance * capacitor) - (ohms * i) - arc)) - within;
                        driveFactor[k] = s * d;
                        alone += s * d * (i - (conductance * (arc + capacitor)));
                        perVolt += s * s * d * conductance;
                    }

                    break;
            }
        }

        sourceOhms = launcher.SourceResistance + (launcher.BusBars is BusBarsSi bars ? bars.At(x) : 0);
        switch (supply)
        {
            case SupplyMode.Voltage:
                sourceVolts = SourceVoltsOf(state);
                rail = (sourceVolts - (sourceOhms * alone)) / (1 + (sourceOhms * perVolt));
                busCurrent = alone + (perVolt * rail);
                break;
            case SupplyMode.Current when perVolt > 0:
                busCurrent = launcher.Source.CurrentLimit;
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
                return -clampSign[k] * launcher.Suppressor.ClampVolts;
            case CircuitConnection.Suppressed:
                return CapacitorVolts(state, k) - (state[Currents + k] / launcher.Suppressor.Conductance);
            default:
                return (driveSign[k] * rail) - (contactOhms[k] * LineCurrent(state, k)) - arcVolts[k];
        }
    }

    /// <summary>Current through the contacts of a circuit at the state last computed.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double LineCurrent(ReadOnlySpan<double> state, int k)
    {
        double conductance = launcher.Suppressor.Conductance;
        double i = state[Currents + k];
        return LineIsOpen(k) ? 0
            : conductance == 0 ? i
            : divider[k] * (i + (conductance * ((driveSign[k] * rail) - arcVolts[k] - CapacitorVolts(state, k))));
    }

    private double CapacitorVolts(ReadOnlySpan<double> state, int k) => capacitors < 0 ? 0 : state[capacitors + k];

    /// <summary>The source's voltage before its resistance, outside its current limit.</summary>
    private double SourceVoltsOf(ReadOnlySpan<double> state)
        => HasBank ? launcher.Source.Volts - (state[charge] / launcher.Source.Capacitance) : launcher.Source.Volts;

    /// <summary>What the circuits on the rails draw together: of the state or, of the derivatives, its slope.</summary>
    private double SumOnRails(ReadOnlySpan<double> values)
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
            if (connection != CircuitConnection.Open)
            {
                mask |= 1 << k;
            }

            BrushContact upper = circuits[k].Schedule.Upper[edgeIndex[k]];
            BrushContact lower = circuits[k].Schedule.Lower[edgeIndex[k]];
            driveSign[k] = LineIsOpen(k) ? 0 : SideOf(upper.Rails, arcs[k].UpperRail) - SideOf(lower.Rails, arcs[k].LowerRail);
            driveFactor[k] = 0;
            if (switchClosed)
            {
                // One brush on two strips: each touches half of it, so each contact has twice the resistance, and the two are in series.
                bridgeConductance += upper.Rails == Rails.Both ? 0.25 / circuits[k].UpperBrush.Full : 0;
                bridgeConductance += lower.Rails == Rails.Both ? 0.25 / circuits[k].LowerBrush.Full : 0;
            }
        }

        inverse = InverseFor(mask);
        if (!double.IsFinite(launcher.Source.CurrentLimit))
        {
            return;
        }

        double limit = launcher.Source.CurrentLimit;
        supply = SupplyMode.Voltage;
        Electrics(state);
        double free = busCurrent;
        if (!SourceCurrentIsPlain)
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
        if (!double.IsFinite(launcher.Source.CurrentLimit))
        {
            return double.NaN;
        }

        if ((supply == SupplyMode.Voltage && index == SupplyLowSlot) || (supply == SupplyMode.Collapsed && index == SupplyHighSlot))
        {
            return double.NaN;
        }

        if (supply != SupplyMode.Current && SourceCurrentIsPlain)
        {
            return SumOnRails(state) - launcher.Source.CurrentLimit;
        }

        Electrics(state);
        return supply == SupplyMode.Current
            ? index == SupplyHighSlot ? sourceVolts - launcher.Source.Volts : sourceVolts
            : busCurrent - launcher.Source.CurrentLimit;
    }

    /// <summary>
    /// Whether the source's current may rise to its limit and fall again within a step, or start there, a hair above by rounding and level, dip and come
    /// back: so it does where the back-EMF has just outgrown the supply and is about to fall.
    /// </summary>
    private bool MayMeetLimitTwice(ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives)
    {
        if (!SourceCurrentIsPlain)
        {
            return true;
        }

        double start = SumOnRails(startDerivatives);
        double end = SumOnRails(endDerivatives);
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
