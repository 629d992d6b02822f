using UnitsNet;

namespace Magrail;

/// <summary>What became of the sled after the release: how it was brought to rest, and whether the room was enough.</summary>
/// <param name="Outcome">How it ended.</param>
/// <param name="StopPosition">Where the sled's mark came to rest, or left the track.</param>
/// <param name="Room">Way from the release to the end of the track.</param>
/// <param name="Distance">Way from the release to the end of the run.</param>
/// <param name="EndSpeed">Speed at the end: zero where it stopped.</param>
/// <param name="Duration">Time from the release.</param>
/// <param name="PeakDeceleration">The greatest deceleration, sampled at five points a step.</param>
/// <param name="Ledger">Energies from the start of the launch to the end of braking; the payload's share left with it.</param>
/// <param name="Trace">The course from the release on.</param>
public sealed record BrakingResult(
    BrakingOutcome Outcome,
    Length StopPosition,
    Length Room,
    Length Distance,
    Speed EndSpeed,
    Duration Duration,
    Acceleration PeakDeceleration,
    EnergyLedger Ledger,
    LaunchTrace Trace)
{
    /// <summary>The braking in words.</summary>
    public override string ToString() => Outcome switch
    {
        BrakingOutcome.Stopped => $"stops {Show.Quantity(Distance)} beyond the release, {Show.Quantity(Room - Distance)} before the end of the track; peak {Show.Quantity(PeakDeceleration)}",
        BrakingOutcome.LeftTrack => $"leaves the track {Show.Quantity(Room)} beyond the release at {Show.Quantity(EndSpeed)}",
        _ => $"is still at {Show.Quantity(EndSpeed)} {Show.Quantity(Distance)} beyond the release, where the time ran out",
    };
}

/// <summary>How braking ended.</summary>
public enum BrakingOutcome
{
    /// <summary>The sled came to rest on the track. A spring that is not latched will push it back.</summary>
    Stopped,

    /// <summary>The sled left the track at its end.</summary>
    LeftTrack,

    /// <summary>The time or the steps allowed ran out.</summary>
    Unfinished,
}
