using UnitsNet;

namespace Magrail;

/// <summary>A rectangular block magnet, uniformly magnetized along one of its edges.</summary>
public sealed record BlockMagnet : MagnetBody
{
    /// <summary>Describes a block.</summary>
    /// <param name="along">Size along the track, above zero.</param>
    /// <param name="across">Size across the gap, above zero.</param>
    /// <param name="height">Size upward, above zero.</param>
    /// <param name="grade">The material.</param>
    /// <param name="magnetization">The axis of magnetization; across the gap by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not above zero or not finite.</exception>
    /// <exception cref="ArgumentNullException">The grade is missing.</exception>
    public BlockMagnet(
        Length along, Length across, Length height, MagnetGrade grade, TrackAxis magnetization = TrackAxis.Across)
        : base(grade, magnetization)
    {
        Along = Require.Positive(along, "a magnet has a size along the track");
        Across = Require.Positive(across, "a magnet has a size across the gap");
        Height = Require.Positive(height, "a magnet has a height");
    }

    /// <summary>Size along the track.</summary>
    public Length Along { get; }

    /// <summary>Size across the gap.</summary>
    public Length Across { get; }

    /// <summary>Size upward.</summary>
    public Length Height { get; }

    /// <inheritdoc/>
    public override Length SizeAlong => Along;

    /// <inheritdoc/>
    public override Length SizeAcross => Across;

    /// <inheritdoc/>
    public override Length SizeUp => Height;

    /// <inheritdoc/>
    public override Volume Volume => Volume.FromCubicMeters(Along.Meters * Across.Meters * Height.Meters);

    /// <inheritdoc/>
    public override string ToString()
        => $"block {Show.Quantity(Along)} along × {Show.Quantity(Across)} across × {Show.Quantity(Height)} high, {Grade.Name}, magnetized {Direction(Magnetization)}";

    internal override BodySi ToSi(Vector3D center, int sign) => Box(center, sign);
}
