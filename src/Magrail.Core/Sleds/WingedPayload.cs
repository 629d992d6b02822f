using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A glider or model airplane on the sled: the speed it needs at release so that its wing carries it, v = margin · √(2 m g/(ρ S C_L,max)) −
/// headwind.
/// </summary>
/// <remarks>Steady level flight at the stall is the limit; the margin covers gusts, a release that is not level, and the drag that slows it before it has found its trim.</remarks>
public sealed record WingedPayload
{
    /// <summary>Describes a payload that flies.</summary>
    /// <param name="mass">Its mass, above zero.</param>
    /// <param name="wingArea">Area S of the wing, above zero.</param>
    /// <param name="maximumLiftCoefficient">C_L,max of the whole airplane, 0.1 to 5; a plain wing has about 1.2 (common practice, no source).</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public WingedPayload(Mass mass, Area wingArea, [Dimensionless] double maximumLiftCoefficient)
    {
        Mass = Require.Positive(mass, "a payload has a mass");
        WingArea = Require.Positive(wingArea, "a wing has an area");
        MaximumLiftCoefficient = Require.InRange(maximumLiftCoefficient, 0.1, 5, "no wing lifts more without blowing");
    }

    /// <summary>Mass.</summary>
    public Mass Mass { get; }

    /// <summary>Area of the wing.</summary>
    public Area WingArea { get; }

    /// <summary>Greatest lift coefficient.</summary>
    [Dimensionless]
    public double MaximumLiftCoefficient { get; }

    /// <summary>How many times the stall speed it is to have in the air at release, 1 to 3; 1.2 by default (common practice, no source).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    [Dimensionless]
    public double Margin { get; init => field = Require.InRange(value, 1, 3, "below the stall speed it does not fly", nameof(Margin)); } = 1.2;

    /// <summary>Wind against the launch; below zero: a tailwind. None by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to a value that is not finite.</exception>
    public Speed Headwind { get; init => field = Require.Finite(value, "wind has a speed", nameof(Headwind)); } = Speed.Zero;

    /// <summary>Density of the air; that of the standard atmosphere at sea level by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero or below, or not finite.</exception>
    public Density AirDensity { get; init => field = Require.Positive(value, "a wing needs air", nameof(AirDensity)); }
        = Density.FromKilogramsPerCubicMeter(PhysicalConstants.StandardAirDensity);

    /// <summary>Stall speed in the air, √(2 m g/(ρ S C_L,max)).</summary>
    public Speed StallSpeed => Speed.FromMetersPerSecond(Math.Sqrt(
        2 * Mass.Kilograms * PhysicalConstants.StandardGravity
        / (AirDensity.KilogramsPerCubicMeter * WingArea.SquareMeters * MaximumLiftCoefficient)));

    /// <summary>Speed over the ground that it needs at release; zero where the wind alone carries it.</summary>
    public Speed NeededSpeed => Speed.FromMetersPerSecond(Math.Max(0, (Margin * StallSpeed.MetersPerSecond) - Headwind.MetersPerSecond));

    /// <summary>The payload as the launcher sees it.</summary>
    /// <param name="accelerationLimit">The acceleration it bears; not stated by default.</param>
    /// <returns>A payload of its mass and needed speed.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The limit is not above zero.</exception>
    public Payload ToPayload(Acceleration? accelerationLimit = null)
        => new(Mass, NeededSpeed.MetersPerSecond > 0 ? NeededSpeed : null, accelerationLimit);

    /// <summary>The payload in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"winged payload of {Show.Quantity(Mass)} that needs {Show.Quantity(NeededSpeed)}";
}
