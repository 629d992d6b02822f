namespace Magrail;

/// <summary>The figures of a launch in SI units: what limits, summaries and results are made of.</summary>
internal readonly record struct LaunchFigures
{
    public required LaunchOutcome Outcome { get; init; }

    public required double EndSpeed { get; init; }

    public required double EndTime { get; init; }

    public required double EndPosition { get; init; }

    public required double PeakAcceleration { get; init; }

    public required double PeakCurrent { get; init; }

    /// <summary>Through a contact: what lies across the coil added.</summary>
    public required double PeakContactCurrent { get; init; }

    /// <summary>Of the circuit that carries most.</summary>
    public required double RmsCurrent { get; init; }

    public required double PeakSourceCurrent { get; init; }

    public required double ChargeDrawn { get; init; }

    /// <summary>Temperature of the hottest coil at the end, all its heat kept, K.</summary>
    public required double HottestCoil { get; init; }

    /// <summary>Charge through the arcs of the circuit that has most.</summary>
    public required double ArcCharge { get; init; }

    /// <summary>Whether any arc burned.</summary>
    public required bool Arced { get; init; }

    /// <summary>The greatest way between the parting of a contact and the end of its break.</summary>
    public required double LongestArc { get; init; }

    /// <summary>Whether an arc reached a strip of the other rail.</summary>
    public required bool FlashedOver { get; init; }

    /// <summary>How the braking ended; null without a brake, and where the payload was not released.</summary>
    public required BrakingOutcome? Braking { get; init; }

    /// <summary>From the release to the end of the run.</summary>
    public required double BrakingDistance { get; init; }

    public required double BrakingEndSpeed { get; init; }

    public required double EnergyDrawn { get; init; }

    public required double RelativeResidual { get; init; }

    public required int Steps { get; init; }

    public required int Evaluations { get; init; }
}
