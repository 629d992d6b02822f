namespace Magrail.Numerics;

/// <summary>How an integration ended.</summary>
public enum OdeOutcome
{
    /// <summary>It reached the end time.</summary>
    ReachedEnd,

    /// <summary>An event stopped it.</summary>
    StoppedByEvent,

    /// <summary>It took the greatest number of steps allowed.</summary>
    StepLimit,

    /// <summary>The step that the tolerance asks for is too small to move time.</summary>
    StepTooSmall,

    /// <summary>A derivative or the state is not a finite number.</summary>
    NotFinite,

    /// <summary>Events followed each other without time moving on.</summary>
    Chattering,
}
