using UnitsNet;

namespace Magrail;

/// <summary>A ring: a cylinder with a concentric bore, uniformly magnetized along its axis or across a diameter.</summary>
/// <remarks>Magnetized uniformly, not radially: a ring magnetized along its radii is another thing and not described by this.</remarks>
public sealed record RingMagnet : MagnetBody
{
    /// <summary>Describes a ring.</summary>
    /// <param name="outerDiameter">Outer diameter.</param>
    /// <param name="innerDiameter">Diameter of the bore, above zero and below the outer diameter.</param>
    /// <param name="length">Length along the ring's axis, above zero.</param>
    /// <param name="grade">The material.</param>
    /// <param name="axis">The ring's axis; along the track by default, the coil running through the bore.</param>
    /// <param name="magnetization">The axis of magnetization; the ring's own by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is not above zero or not finite, or the bore leaves no wall.</exception>
    /// <exception cref="ArgumentNullException">The grade is missing.</exception>
    public RingMagnet(
        Length outerDiameter,
        Length innerDiameter,
        Length length,
        MagnetGrade grade,
        TrackAxis axis = TrackAxis.Along,
        TrackAxis? magnetization = null)
        : base(grade, magnetization ?? axis)
    {
        OuterDiameter = Require.Positive(outerDiameter, "a ring has an outer diameter");
        InnerDiameter = Require.Positive(innerDiameter, "a ring has a bore; a solid one is a DiscMagnet");
        if (InnerDiameter.Meters >= OuterDiameter.Meters)
        {
            throw Require.Fault(
                nameof(innerDiameter), Show.Quantity(innerDiameter), $"below {Show.Quantity(outerDiameter)}", "the bore must leave a wall");
        }

        Length = Require.Positive(length, "a ring has a length");
        Axis = Require.Defined(axis, "a ring stands along an axis of the track");
    }

    /// <summary>Outer diameter.</summary>
    public Length OuterDiameter { get; }

    /// <summary>Diameter of the bore.</summary>
    public Length InnerDiameter { get; }

    /// <summary>Length along the ring's axis.</summary>
    public Length Length { get; }

    /// <summary>The ring's axis.</summary>
    public TrackAxis Axis { get; }

    /// <inheritdoc/>
    public override Length SizeAlong => Axis == TrackAxis.Along ? Length : OuterDiameter;

    /// <inheritdoc/>
    public override Length SizeAcross => Axis == TrackAxis.Across ? Length : OuterDiameter;

    /// <inheritdoc/>
    public override Length SizeUp => Axis == TrackAxis.Up ? Length : OuterDiameter;

    /// <inheritdoc/>
    public override Volume Volume => Volume.FromCubicMeters(
        0.25 * Math.PI * (OuterDiameter.Meters + InnerDiameter.Meters) * (OuterDiameter.Meters - InnerDiameter.Meters) * Length.Meters);

    /// <inheritdoc/>
    public override string ToString()
        => $"ring {Show.Quantity(OuterDiameter)} outside, {Show.Quantity(InnerDiameter)} bore × {Show.Quantity(Length)}, {Grade.Name}, axis {Direction(Axis)}, magnetized {Direction(Magnetization)}";

    internal override BodySi ToSi(Vector3D center, int sign)
        => Box(center, sign) with { Shape = BodyShape.Ring, Axis = Axis, InnerRadius = 0.5 * InnerDiameter.Meters };
}
