using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>What stops the sled after the release: a zone of the track in which a force opposes its motion.</summary>
/// <remarks>The force acts beside the guide's friction, drag and slope. Magnets beyond the last strips brake and pull too; that is not counted here.</remarks>
public abstract record SledBrake
{
    private protected SledBrake(Length start, Length length)
    {
        Start = Require.Finite(start, "a braking zone has a place");
        Length = Require.Positive(length, "a braking zone has a length");
    }

    /// <summary>Where the zone begins, beyond the point of release.</summary>
    public Length Start { get; }

    /// <summary>Length of the zone. A sled that comes out at its end has left the track.</summary>
    public Length Length { get; }

    /// <summary>A shoe, felt or rubber that rubs with a constant force.</summary>
    /// <param name="start">Where it begins, beyond the point of release; below zero: before it.</param>
    /// <param name="length">Length of the zone, above zero.</param>
    /// <param name="force">The braking force, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static FrictionBrake Friction(Length start, Length length, Force force) => new(start, length, force);

    /// <summary>A shoe pressed on with a force, rubbing by its coefficient of friction: F = µ N.</summary>
    /// <param name="start">Where it begins, beyond the point of release; below zero: before it.</param>
    /// <param name="length">Length of the zone, above zero.</param>
    /// <param name="coefficient">Coefficient of sliding friction, above 0 to 2.</param>
    /// <param name="pressedWith">Force on the shoe (on both shoes together, for a clasp), above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static FrictionBrake Friction(Length start, Length length, [Dimensionless] double coefficient, Force pressedWith)
    {
        double normal = Require.Positive(pressedWith, "a shoe rubs as hard as it is pressed on").Newtons;
        double mu = coefficient > 0 ? Require.InRange(coefficient, 0, 2, "dry pairs above 2 do not slide") : throw Require.Fault(nameof(coefficient), Show.Number(coefficient), "above 0 to 2", "a shoe without friction does not brake");
        return new FrictionBrake(start, length, Force.FromNewtons(mu * normal));
    }

    /// <summary>A spring or rubber band that the sled runs into.</summary>
    /// <param name="start">Where the sled meets it, beyond the point of release.</param>
    /// <param name="length">Travel until it is solid, above zero.</param>
    /// <param name="stiffness">Force per travel, zero or above.</param>
    /// <param name="preload">Force at first touch, zero or above; zero by default. Stiffness and preload are not both zero.</param>
    /// <param name="latched">Whether a catch holds the sled where it stops; if not, the spring throws it back.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static SpringBrake Spring(Length start, Length length, ForcePerLength stiffness, Force? preload = null, bool latched = false)
        => new(start, length, stiffness, preload ?? Force.Zero, latched);

    /// <summary>A conducting plate on the sled between magnets, or the reverse: F = F_max · 2 (v/v_c)/(1 + (v/v_c)²).</summary>
    /// <param name="start">Where the plate enters the field fully, beyond the point of release.</param>
    /// <param name="length">Length of the field, above zero.</param>
    /// <param name="peakForce">Greatest force F_max, reached at the critical speed; above zero.</param>
    /// <param name="criticalSpeed">The speed v_c at which the force peaks, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static EddyCurrentBrake EddyCurrent(Length start, Length length, Force peakForce, Speed criticalSpeed) => new(start, length, peakForce, criticalSpeed);

    /// <summary>Plain numbers for the engine.</summary>
    internal abstract BrakeSi ToSi();
}

/// <summary>A brake that rubs with a constant force while the sled moves and holds with up to that force when it stands.</summary>
public sealed record FrictionBrake : SledBrake
{
    internal FrictionBrake(Length start, Length length, Force force)
        : base(start, length)
        => Force = Require.Positive(force, "a brake brakes");

    /// <summary>The braking force.</summary>
    public Force Force { get; }

    /// <summary>The brake in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"friction brake of {Show.Quantity(Force)} over {Show.Quantity(Length)}";

    internal override BrakeSi ToSi() => new(BrakeKind.Friction, Start.Meters, Length.Meters, Force.Newtons, 0, false, 0, 0);
}

/// <summary>A spring that the sled runs into: preload plus stiffness times depth. Ideal: no mass, no loss.</summary>
public sealed record SpringBrake : SledBrake
{
    internal SpringBrake(Length start, Length length, ForcePerLength stiffness, Force preload, bool latched)
        : base(start, length)
    {
        Stiffness = Require.NotNegative(stiffness, "a spring pushes back");
        Preload = Require.NotNegative(preload, "a spring pushes back");
        Latched = latched;
        if (Stiffness.NewtonsPerMeter == 0 && Preload.Newtons == 0)
        {
            throw Require.Fault(nameof(stiffness), Show.Quantity(Stiffness), "above zero where there is no preload", "a spring of neither stops nothing");
        }
    }

    /// <summary>Force per travel.</summary>
    public ForcePerLength Stiffness { get; }

    /// <summary>Force at first touch.</summary>
    public Force Preload { get; }

    /// <summary>Whether a catch holds the sled where it stops.</summary>
    public bool Latched { get; }

    /// <summary>Energy the spring takes before it is solid.</summary>
    public Energy Capacity => Energy.FromJoules((Preload.Newtons * Length.Meters) + (0.5 * Stiffness.NewtonsPerMeter * Length.Meters * Length.Meters));

    /// <summary>The brake in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"spring of {Show.Quantity(Stiffness)}, {Show.Quantity(Length)} of travel{(Latched ? ", latched" : "")}";

    internal override BrakeSi ToSi() => new(BrakeKind.Spring, Start.Meters, Length.Meters, Preload.Newtons, Stiffness.NewtonsPerMeter, Latched, 0, 0);
}

/// <summary>
/// An eddy-current brake: F = F_max · 2 (v/v_c)/(1 + (v/v_c)²), in proportion to speed when slow, peaking at v_c, falling above it.
/// </summary>
/// <remarks>It never quite stops a sled: what is slow is left to friction. The plate is taken as wholly in the field or wholly out of it, and as keeping its temperature.</remarks>
public sealed record EddyCurrentBrake : SledBrake
{
    internal EddyCurrentBrake(Length start, Length length, Force peakForce, Speed criticalSpeed)
        : base(start, length)
    {
        PeakForce = Require.Positive(peakForce, "a brake brakes");
        CriticalSpeed = Require.Positive(criticalSpeed, "the force peaks at some speed");
    }

    /// <summary>The greatest force, F_max.</summary>
    public Force PeakForce { get; }

    /// <summary>The speed at which the force is greatest, v_c.</summary>
    public Speed CriticalSpeed { get; }

    /// <summary>The brake in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"eddy-current brake of {Show.Quantity(PeakForce)} at {Show.Quantity(CriticalSpeed)} over {Show.Quantity(Length)}";

    internal override BrakeSi ToSi() => new(BrakeKind.EddyCurrent, Start.Meters, Length.Meters, 0, 0, false, PeakForce.Newtons, CriticalSpeed.MetersPerSecond);
}

/// <summary>Which law a brake follows.</summary>
internal enum BrakeKind
{
    /// <summary>Constant against the motion.</summary>
    Friction,

    /// <summary>Toward the entrance of the zone, whatever the motion.</summary>
    Spring,

    /// <summary>Against the motion, by speed.</summary>
    EddyCurrent,
}

/// <summary>A brake in SI units.</summary>
/// <param name="Kind">Its law.</param>
/// <param name="Start">Where the zone begins, meters beyond the release.</param>
/// <param name="Length">Length of the zone in meters.</param>
/// <param name="Force">Constant force of a friction brake, preload of a spring, in newtons.</param>
/// <param name="Stiffness">Of a spring, in newtons per meter.</param>
/// <param name="Latched">Whether a spring's sled is held where it stops.</param>
/// <param name="PeakForce">Of an eddy-current brake, in newtons.</param>
/// <param name="CriticalSpeed">Of an eddy-current brake, in meters per second.</param>
internal readonly record struct BrakeSi(
    BrakeKind Kind, double Start, double Length, double Force, double Stiffness, bool Latched, double PeakForce, double CriticalSpeed)
{
    /// <summary>Force on the sled in newtons, positive = along +x; a braking force is negative for a sled that moves ahead.</summary>
    /// <remarks>
    /// Zero outside 0 ≤ depth ≤ Length. At rest a friction brake gives 0: it holds with up to <see cref="Force"/>, which the caller adds
    /// to the friction at rest. A spring pushes back whatever the speed. Smooth in between, except where a friction brake's speed changes sign.
    /// </remarks>
    /// <param name="depth">How far the sled is into the zone, in meters.</param>
    /// <param name="speed">Its speed in meters per second, positive = ahead.</param>
    public double ForceAt(double depth, double speed)
    {
        if (!(depth >= 0 && depth <= Length))
        {
            return 0;
        }

        switch (Kind)
        {
            case BrakeKind.Friction:
                return speed > 0 ? -Force : speed < 0 ? Force : 0;
            case BrakeKind.Spring:
                return -(Force + (Stiffness * depth));
            default:
                double ratio = speed / CriticalSpeed;
                return -PeakForce * 2 * ratio / (1 + (ratio * ratio));
        }
    }
}
