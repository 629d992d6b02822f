using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>Friction of the sled in its guide: dry (Coulomb) friction, more at rest than sliding, and a viscous part.</summary>
/// <remarks>
/// Dry friction: F = µ (m g cos(slope) + lateral magnet force + sum of the brush forces), against the motion; at rest it takes
/// whatever value holds the sled, up to the coefficient at rest. The lateral magnet force is the sum of its two components squared, under the
/// root: its upward part is not set against the weight. The same coefficients serve guide and brushes.
/// </remarks>
public sealed record GuideFriction
{
    /// <summary>Describes friction.</summary>
    /// <param name="sliding">Coefficient of sliding friction, 0 to 2.</param>
    /// <param name="atRest">Coefficient at rest, from <paramref name="sliding"/> to 2; equal to it by default.</param>
    /// <param name="viscousAtOneMeterPerSecond">Viscous force at 1 m/s, growing in proportion to speed; zero or above, zero by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public GuideFriction([Dimensionless] double sliding, [Dimensionless] double? atRest = null, Force? viscousAtOneMeterPerSecond = null)
    {
        Sliding = Require.InRange(sliding, 0, 2, "friction opposes motion; dry pairs above 2 do not slide");
        AtRest = Require.InRange(atRest ?? sliding, sliding, 2, "what holds at rest is no less than what drags when sliding", nameof(atRest));
        ViscousAtOneMeterPerSecond = Require.NotNegative(viscousAtOneMeterPerSecond ?? Force.Zero, "a viscous force opposes motion", nameof(viscousAtOneMeterPerSecond));
    }

    /// <summary>No friction at all.</summary>
    public static GuideFriction None { get; } = new(0);

    /// <summary>Friction of a bearing plastic on steel: typical when sliding, the greatest of its range at rest.</summary>
    /// <param name="material">The plastic.</param>
    /// <remarks>Tables do not tell rest from motion; the greatest value at rest is a guess on the safe side.</remarks>
    /// <exception cref="ArgumentNullException"><paramref name="material"/> is null.</exception>
    public static GuideFriction OnSteel(GuideMaterial material)
    {
        ArgumentNullException.ThrowIfNull(material);
        return new GuideFriction(material.FrictionOnSteel.Typical.DecimalFractions, material.FrictionOnSteel.Greatest.DecimalFractions);
    }

    /// <summary>Coefficient of sliding friction.</summary>
    [Dimensionless]
    public double Sliding { get; }

    /// <summary>Coefficient of friction at rest.</summary>
    [Dimensionless]
    public double AtRest { get; }

    /// <summary>Viscous force at 1 m/s.</summary>
    public Force ViscousAtOneMeterPerSecond { get; }

    /// <summary>Whether the lateral magnet force loads the guide too; true by default. False leaves it out, to see what it costs.</summary>
    public bool CountsLateralForce { get; init; } = true;

    /// <summary>The friction in words.</summary>
    public override string ToString() => $"friction {Show.Number(Sliding)} sliding, {Show.Number(AtRest)} at rest";
}
