namespace Magrail;

/// <summary>How a launch ended.</summary>
public enum LaunchOutcome
{
    /// <summary>The sled reached the release position and let the payload go.</summary>
    Released,

    /// <summary>The sled came to rest before the release and nothing moves it any more.</summary>
    Stalled,

    /// <summary>The sled ran back more than a pitch behind the place it started from.</summary>
    RanBack,

    /// <summary>The time allowed ran out.</summary>
    TimeLimit,

    /// <summary>The number of steps allowed ran out.</summary>
    StepLimit,

    /// <summary>The step that the tolerance asks for became too small to move time.</summary>
    StepTooSmall,

    /// <summary>A number in the run is not finite.</summary>
    NotFinite,

    /// <summary>Contacts or modes switched to and fro without time moving on.</summary>
    Chattering,
}

/// <summary>Outcomes in words.</summary>
internal static class LaunchOutcomeWords
{
    /// <summary>How a launch ended, in words that stand after "the sled".</summary>
    public static string InWords(this LaunchOutcome outcome) => outcome switch
    {
        LaunchOutcome.Released => "released its payload",
        LaunchOutcome.Stalled => "came to rest",
        LaunchOutcome.RanBack => "ran back",
        LaunchOutcome.TimeLimit => "was still on its way when the time allowed ran out",
        LaunchOutcome.StepLimit => "was still on its way when the steps allowed ran out",
        LaunchOutcome.Chattering => "switched to and fro without moving on",
        _ => "could not be computed any farther",
    };
}
