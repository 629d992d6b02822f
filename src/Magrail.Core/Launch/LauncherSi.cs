namespace Magrail;

/// <summary>A launcher as the equations see it: plain numbers in SI units.</summary>
internal sealed record LauncherSi
{
    /// <summary>One entry a pair of brushes.</summary>
    public required CircuitSi[] Circuits { get; init; }

    /// <summary>Self and mutual inductances of the circuits, row by row, H.</summary>
    public required double[] Inductances { get; init; }

    public required SourceSi Source { get; init; }

    /// <summary>Source, leads and switch, ohm.</summary>
    public required double SourceResistance { get; init; }

    /// <summary>Bus bars; null for none.</summary>
    public BusBarsSi? BusBars { get; init; }

    /// <summary>Times at which the switch opens, closes, opens, …, s.</summary>
    public required double[] SwitchTimes { get; init; }

    /// <summary>What lies across each coil circuit.</summary>
    public SuppressorSi Suppressor { get; init; } = SuppressorSi.None;

    /// <summary>The arc at a parting contact; null for the ideal break.</summary>
    public ArcSi? Arc { get; init; }

    /// <summary>Sled, coils and payload, kg.</summary>
    public required double Mass { get; init; }

    /// <summary>Coefficient of sliding friction, for the lateral force.</summary>
    public double SlidingCoefficient { get; init; }

    /// <summary>Coefficient of friction at rest, for the lateral force.</summary>
    public double RestCoefficient { get; init; }

    /// <summary>Dry friction when sliding, without that of the lateral force, N.</summary>
    public required double SlidingFriction { get; init; }

    /// <summary>Dry friction at rest, without that of the lateral force, N.</summary>
    public required double RestFriction { get; init; }

    /// <summary>Viscous force per speed, N s/m.</summary>
    public required double Viscous { get; init; }

    /// <summary>½ ρ Cd A, kg/m.</summary>
    public required double DragFactor { get; init; }

    /// <summary>m g sin(slope), N.</summary>
    public required double SlopeForce { get; init; }

    /// <summary>Start position, m.</summary>
    public required double Start { get; init; }

    /// <summary>Start speed, m/s.</summary>
    public required double StartSpeed { get; init; }

    /// <summary>Release position, m.</summary>
    public required double Release { get; init; }

    /// <summary>Position behind the start at which the run is given up, m.</summary>
    public required double BackLimit { get; init; }

    /// <summary>Rest that counts as a stall, s.</summary>
    public required double StallPatience { get; init; }

    /// <summary>What happens to the sled after the release; null where the run ends there.</summary>
    public BrakingSi? Braking { get; init; }
}

/// <summary>One circuit: coils in series on one pair of brushes.</summary>
internal sealed record CircuitSi
{
    /// <summary>Force per ampere against position, N/A.</summary>
    public required CircuitCurve Curve { get; init; }

    /// <summary>Lateral force per ampere across the gap, N/A; null where symmetry makes it vanish.</summary>
    public CircuitCurve? Across { get; init; }

    /// <summary>Lateral force per ampere upward, N/A; null where symmetry makes it vanish.</summary>
    public CircuitCurve? Up { get; init; }

    /// <summary>Copper of all its coils at the start, ohm.</summary>
    public required double CoilResistance { get; init; }

    /// <summary>
    /// Its coils as they warm up; empty where they are held at the start's temperature. A coil of resistance R₀ has R₀ exp(a s) after the
    /// action integral s = ∫ i² dt, without losing heat: C dT/dt = i² R and dR/dT = α R₂₀ make dR/ds = a R with a = α R₂₀/C.
    /// </summary>
    public CoilHeatSi[] Heating { get; init; } = [];

    /// <summary>The upper brush.</summary>
    public BrushSi UpperBrush { get; init; }

    /// <summary>The lower brush.</summary>
    public BrushSi LowerBrush { get; init; }

    /// <summary>What the contacts connect, against position.</summary>
    public required DriveSchedule Schedule { get; init; }
}

/// <summary>A coil that warms up.</summary>
/// <param name="Resistance">At the start, ohm.</param>
/// <param name="Growth">a = α R₂₀/C, 1/(A² s).</param>
/// <param name="HeatCapacity">J/K.</param>
internal readonly record struct CoilHeatSi(double Resistance, double Growth, double HeatCapacity)
{
    /// <summary>Resistance after an action integral, ohm.</summary>
    public double ResistanceAfter(double action) => Resistance * Math.Exp(Growth * action);

    /// <summary>Heat taken up by then, J: ∫ R ds.</summary>
    public double HeatAfter(double action)
    {
        double x = Growth * action;

        // (exp(x) − 1)/x loses digits near zero.
        return Resistance * action * (Math.Abs(x) < 1e-5 ? 1 + (0.5 * x) : Math.Exp(0.5 * x) * 2 * Math.Sinh(0.5 * x) / x);
    }
}

/// <summary>What lies across a coil.</summary>
/// <param name="ClampVolts">Clamp voltage, infinite for none, V.</param>
/// <param name="Conductance">Resistor, S; zero for none.</param>
/// <param name="Capacitance">In series with the resistor, infinite for none, F.</param>
internal readonly record struct SuppressorSi(double ClampVolts, double Conductance, double Capacitance)
{
    public static SuppressorSi None { get; } = new(double.PositiveInfinity, 0, double.PositiveInfinity);

    public bool Clamps => double.IsFinite(ClampVolts);

    public bool HasCapacitor => double.IsFinite(Capacitance);
}

/// <summary>The sled after the release, without its payload.</summary>
internal sealed record BrakingSi
{
    public required double Mass { get; init; }

    public required double SlidingFriction { get; init; }

    public required double RestFriction { get; init; }

    public required double SlopeForce { get; init; }

    /// <summary>The brake; its place is relative to the release.</summary>
    public required BrakeSi Brake { get; init; }

    /// <summary>Where the room ends, m.</summary>
    public required double TrackEnd { get; init; }
}
