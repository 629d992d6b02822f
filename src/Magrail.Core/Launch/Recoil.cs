using UnitsNet;

namespace Magrail;

/// <summary>What the launch does to the base that carries the track: the momentum of sled and payload, the other way.</summary>
/// <remarks>Force of magnets and friction on the sled act back on the base; drag does not, which is left out here: recoil errs on the high side.</remarks>
/// <param name="Impulse">Momentum gained by sled and payload, in newton seconds.</param>
/// <param name="PeakForce">The greatest force on the base along the track: moving mass times peak acceleration.</param>
public sealed record Recoil(Impulse Impulse, Force PeakForce)
{
    /// <summary>The speed at which a base free to slide moves back.</summary>
    /// <param name="mass">Mass of the base with its magnets, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The mass is not above zero, or not finite.</exception>
    public Speed SpeedOf(Mass mass) => Speed.FromMetersPerSecond(Impulse.NewtonSeconds / Require.Positive(mass, "a base has a mass").Kilograms);

    /// <summary>How far a base slides back that friction holds: I²/(2 m² µ g).</summary>
    /// <remarks>As if the whole impulse came at once.</remarks>
    /// <param name="mass">Mass of the base with its magnets, above zero.</param>
    /// <param name="coefficient">Coefficient of friction between base and bench, above zero to 2.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public Length SlideOf(Mass mass, [Sources.Dimensionless] double coefficient)
    {
        double speed = SpeedOf(mass).MetersPerSecond;
        Require.InRange(coefficient, 1e-3, 2, "without friction the base does not stop");
        return Length.FromMeters(speed * speed / (2 * coefficient * Sources.PhysicalConstants.StandardGravity));
    }

    /// <summary>The recoil in words.</summary>
    public override string ToString() => $"recoil of {Show.Quantity(Impulse)}, up to {Show.Quantity(PeakForce)}";
}
