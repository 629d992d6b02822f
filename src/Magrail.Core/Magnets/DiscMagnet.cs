using UnitsNet;

namespace Magrail;

/// <summary>A disc or rod: a solid cylinder, uniformly magnetized along its axis or across a diameter.</summary>
public sealed record DiscMagnet : MagnetBody
{
    /// <summary>Describes a disc.</summary>
    /// <param name="diameter">Diameter, above zero.</param>
    /// <param name="thickness">Length along the cylinder's axis, above zero.</param>
    /// <param name="grade">The material.</param>
    /// <param name="axis">The cylinder's axis; across the gap by default.</param>
    /// <param name="magnetization">The axis of magnetization; the cylinder's own by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not above zero or not finite.</exception>
    /// <exception cref="ArgumentNullException">The grade is missing.</exception>
    public DiscMagnet(
        Length diameter, Length thickness, MagnetGrade grade, TrackAxis axis = TrackAxis.Across, TrackAxis? magnetization = null)
        : base(grade, magnetization ?? axis)
    {
        Diameter = Require.Positive(diameter, "a disc has a diameter");
        Thickness = Require.Positive(thickness, "a disc has a thickness");
        Axis = Require.Defined(axis, "a disc stands along an axis of the track");
    }

    /// <summary>Diameter.</summary>
    public Length Diameter { get; }

    /// <summary>Length along the cylinder's axis.</summary>
    public Length Thickness { get; }

    /// <summary>The cylinder's axis.</summary>
    public TrackAxis Axis { get; }

    /// <inheritdoc/>
    public override Length SizeAlong => Axis == TrackAxis.Along ? Thickness : Diameter;

    /// <inheritdoc/>
    public override Length SizeAcross => Axis == TrackAxis.Across ? Thickness : Diameter;

    /// <inheritdoc/>
    public override Length SizeUp => Axis == TrackAxis.Up ? Thickness : Diameter;

    /// <inheritdoc/>
    public override Volume Volume
        => Volume.FromCubicMeters(0.25 * Math.PI * Diameter.Meters * Diameter.Meters * Thickness.Meters);

    /// <inheritdoc/>
    public override string ToString()
        => $"disc {Show.Quantity(Diameter)} diameter × {Show.Quantity(Thickness)}, {Grade.Name}, axis {Direction(Axis)}, magnetized {Direction(Magnetization)}";

    internal override BodySi ToSi(Vector3D center, int sign)
        => Box(center, sign) with { Shape = BodyShape.Ring, Axis = Axis };
}
