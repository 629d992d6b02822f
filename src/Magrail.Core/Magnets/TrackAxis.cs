namespace Magrail;

/// <summary>A direction of the track's frame.</summary>
public enum TrackAxis
{
    /// <summary>x: along the track, in the direction of travel.</summary>
    Along,

    /// <summary>y: across the gap between the two magnets of a station.</summary>
    Across,

    /// <summary>z: up.</summary>
    Up,
}
