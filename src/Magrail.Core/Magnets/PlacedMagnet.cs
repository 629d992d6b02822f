using UnitsNet;

namespace Magrail;

/// <summary>A magnet with its place in a station.</summary>
public sealed record PlacedMagnet
{
    /// <summary>Places a magnet by its middle.</summary>
    /// <param name="body">The magnet.</param>
    /// <param name="along">x of its middle from the station's origin.</param>
    /// <param name="across">y of its middle from the middle of the coil's path.</param>
    /// <param name="up">z of its middle from the middle of the coil's path.</param>
    /// <param name="polarity">Which way round it stands.</param>
    /// <param name="roll">How far the body is turned about its own line along the track, from across toward up; not at all by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate or the angle is not finite.</exception>
    /// <exception cref="ArgumentNullException">The magnet is missing.</exception>
    public PlacedMagnet(MagnetBody body, Length along, Length across, Length up, Polarity polarity = Polarity.Positive, Angle? roll = null)
    {
        ArgumentNullException.ThrowIfNull(body);
        Body = body;
        Along = Require.Finite(along, "a magnet has a place");
        Across = Require.Finite(across, "a magnet has a place");
        Up = Require.Finite(up, "a magnet has a place");
        Polarity = Require.Defined(polarity, "a magnet stands one way or the other");
        Roll = Require.Finite(roll ?? Angle.Zero, "a magnet has a direction", nameof(roll));
    }

    /// <summary>The magnet.</summary>
    public MagnetBody Body { get; }

    /// <summary>x of its middle from the station's origin.</summary>
    public Length Along { get; }

    /// <summary>y of its middle from the middle of the coil's path.</summary>
    public Length Across { get; }

    /// <summary>z of its middle from the middle of the coil's path.</summary>
    public Length Up { get; }

    /// <summary>Which way round it stands.</summary>
    public Polarity Polarity { get; }

    /// <summary>How far the body is turned about its own line along the track, from across toward up.</summary>
    public Angle Roll { get; }

    /// <inheritdoc/>
    public override string ToString()
        => $"{Body} at ({Show.Quantity(Along)}, {Show.Quantity(Across)}, {Show.Quantity(Up)})"
            + (Roll.Radians == 0 ? string.Empty : $" rolled by {Show.Quantity(Roll)}")
            + (Polarity == Polarity.Positive ? string.Empty : ", turned round");

    internal BodySi ToSi()
        => Body.ToSi(new(Along.Meters, Across.Meters, Up.Meters), Polarity == Polarity.Positive ? 1 : -1) with { Roll = Roll.Radians };
}
