namespace Magrail;

/// <summary>A launcher as the equations see it: plain numbers in SI units.</summary>
internal sealed class LauncherSi
{
    /// <summary>One entry a pair of brushes.</summary>
    public required CircuitSi[] Circuits { get; init; }

    /// <summary>Self and mutual inductances of the circuits, row by row, H.</summary>
    public required double[] Inductances { get; init; }

    public required SourceSi Source { get; init; }

    /// <summary>Source, leads and switch, ohm.</summary>
    public required double SourceResistance { get; init; }

    /// <summary>Times at which the switch opens, closes, opens, …, s.</summary>
    public required double[] SwitchTimes { get; init; }

    /// <summary>Clamp voltage, infinite for the ideal break, V.</summary>
    public required double ClampVolts { get; init; }

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
}

/// <summary>One circuit: coils in series on one pair of brushes.</summary>
internal sealed class CircuitSi
{
    /// <summary>Force per ampere against position, N/A.</summary>
    public required CircuitCurve Curve { get; init; }

    /// <summary>Lateral force per ampere across the gap, N/A; null where symmetry makes it vanish.</summary>
    public CircuitCurve? Across { get; init; }

    /// <summary>Lateral force per ampere upward, N/A; null where symmetry makes it vanish.</summary>
    public CircuitCurve? Up { get; init; }

    /// <summary>Copper of all its coils, ohm.</summary>
    public required double CoilResistance { get; init; }

    /// <summary>Both brushes, ohm.</summary>
    public required double ContactResistance { get; init; }

    /// <summary>What the contacts connect, against position.</summary>
    public required DriveSchedule Schedule { get; init; }
}
