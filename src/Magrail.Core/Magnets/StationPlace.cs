using UnitsNet;

namespace Magrail;

/// <summary>A station with its place on the track.</summary>
public sealed record StationPlace
{
    /// <summary>Places a station.</summary>
    /// <param name="station">The station.</param>
    /// <param name="position">x of its origin.</param>
    /// <param name="polarity">Which way round it stands.</param>
    /// <exception cref="ArgumentOutOfRangeException">The position is not finite.</exception>
    /// <exception cref="ArgumentNullException">The station is missing.</exception>
    public StationPlace(MagnetStation station, Length position, Polarity polarity = Polarity.Positive)
    {
        ArgumentNullException.ThrowIfNull(station);
        Station = station;
        Position = Require.Finite(position, "a station has a place");
        Polarity = Require.Defined(polarity, "a station stands one way or the other");
    }

    /// <summary>The station.</summary>
    public MagnetStation Station { get; }

    /// <summary>x of its origin.</summary>
    public Length Position { get; }

    /// <summary>Which way round it stands.</summary>
    public Polarity Polarity { get; }

    /// <summary>The place in words.</summary>
    public override string ToString() => $"{Station} at {Show.Quantity(Position)}, {(Polarity == Polarity.Positive ? "positive" : "negative")}";
}
