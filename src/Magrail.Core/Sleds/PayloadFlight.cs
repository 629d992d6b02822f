using Magrail.Numerics;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The flight of an unpowered payload without lift from the release to the ground: m dv/dt = −½ ρ C_d A |v − w| (v − w) − m g.
/// </summary>
/// <remarks>
/// Flat ground, constant drag area C_d A (no tumbling, no lift), steady wind, constant density and gravity: good for tens to hundreds of
/// meters at speeds below about a third of that of sound. Integrated to a relative accuracy of 1e-9; apex and ground are located.
/// </remarks>
public sealed class PayloadFlight
{
    private const double Accuracy = 1e-11;

    private readonly OdeSolution? solution;

    private PayloadFlight(Mass mass, OdeSolution? solution, ReadOnlySpan<double> end, double seconds, double apexHeight, double apexSeconds)
    {
        this.solution = solution;
        Mass = mass;
        Range = Length.FromMeters(end[0]);
        Drift = Length.FromMeters(end[1]);
        FlightTime = Duration.FromSeconds(seconds);
        ApexHeight = Length.FromMeters(apexHeight);
        ApexTime = Duration.FromSeconds(apexSeconds);
        ImpactSpeed = Speed.FromMetersPerSecond(Size(end[3], end[4], end[5]));
        ImpactAngle = Angle.FromRadians(Math.Atan2(-end[5], Math.Sqrt((end[3] * end[3]) + (end[4] * end[4]))));
    }

    /// <summary>Computes a flight.</summary>
    /// <param name="mass">Mass of the payload, above zero.</param>
    /// <param name="dragArea">Drag area C_d A, zero or above; zero: as in vacuum, the safe side for a range.</param>
    /// <param name="speed">Speed at release, zero or above.</param>
    /// <param name="elevation">Angle of the track above the horizontal, −90° to 90°.</param>
    /// <param name="height">Height of the release above the ground, zero or above.</param>
    /// <param name="headwind">Wind against the launch; below zero: a tailwind. None by default.</param>
    /// <param name="crosswind">Wind across the launch, positive along +y. None by default.</param>
    /// <param name="airDensity">Density of the air, above zero; that of the standard atmosphere at sea level by default.</param>
    /// <returns>The flight.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    /// <exception cref="InvalidOperationException">A million steps did not reach the ground: a feather from a mountain.</exception>
    public static PayloadFlight Of(
        Mass mass,
        Area dragArea,
        Speed speed,
        Angle elevation,
        Length height,
        Speed? headwind = null,
        Speed? crosswind = null,
        Density? airDensity = null)
    {
        Mass payload = Require.Positive(mass, "a payload has a mass");
        double area = Require.NotNegative(dragArea, "drag opposes motion").SquareMeters;
        double v = Require.NotNegative(speed, "a payload leaves ahead").MetersPerSecond;
        double angle = Require.InRange(elevation, Angle.FromDegrees(-90), Angle.FromDegrees(90), "a track points ahead").Radians;
        double z = Require.NotNegative(height, "the ground is at zero").Meters;
        double windX = -Require.Finite(headwind ?? Speed.Zero, "wind has a speed", nameof(headwind)).MetersPerSecond;
        double windY = Require.Finite(crosswind ?? Speed.Zero, "wind has a speed", nameof(crosswind)).MetersPerSecond;
        double density = Require.Positive(airDensity ?? Density.FromKilogramsPerCubicMeter(PhysicalConstants.StandardAirDensity), "air has a density", nameof(airDensity)).KilogramsPerCubicMeter;

        const double G = PhysicalConstants.StandardGravity;
        double drag = 0.5 * density * area / payload.Kilograms;
        double up = v * Math.Sin(angle);
        double[] start = [0, 0, z, v * Math.Cos(angle), 0, up];
        if (z == 0 && up <= 0)
        {
            return new PayloadFlight(payload, null, start, 0, 0, 0);
        }

        // No flight takes longer than the climb and a fall at terminal speed, here a hundredfold; the ground ends it before.
        double highest = z + (up > 0 ? up * up / (2 * G) : 0);
        double longest = (Math.Abs(up) / G) + Math.Sqrt(2 * highest / G) + (highest * Math.Sqrt(drag / G));
        double lengthScale = highest + (v * longest);
        double speedScale = v + Math.Sqrt(2 * G * highest);
        OdeSolution solution = OdeSolver.Solve(
            (_, y, dy) =>
            {
                double ux = y[3] - windX;
                double uy = y[4] - windY;
                double uz = y[5];
                double k = drag * Size(ux, uy, uz);
                dy[0] = y[3];
                dy[1] = y[4];
                dy[2] = y[5];
                dy[3] = -k * ux;
                dy[4] = -k * uy;
                dy[5] = -(k * uz) - G;
            },
            0,
            start,
            100 * longest,
            new Tolerances(
                Accuracy,
                [Accuracy * lengthScale, Accuracy * lengthScale, Accuracy * highest, Accuracy * speedScale, Accuracy * speedScale, Accuracy * speedScale]),
            [
                new OdeEvent("ground", (_, y) => y[2], CrossingDirection.PositiveToNegative),
                new OdeEvent("apex", (_, y) => y[5], CrossingDirection.PositiveToNegative, EventResponse.Record),
            ]);
        if (solution.Outcome != OdeOutcome.StoppedByEvent)
        {
            throw new InvalidOperationException($"The flight did not reach the ground: {solution.Outcome} after {Show.Quantity(Duration.FromSeconds(solution.EndTime))}.");
        }

        OdeCrossing? apex = solution.Crossings.FirstOrDefault(crossing => crossing.Event == 1);
        return new PayloadFlight(payload, solution, [.. solution.EndState], solution.EndTime, apex?.Before[2] ?? z, apex?.Time ?? 0);
    }

    /// <summary>Mass of the payload.</summary>
    public Mass Mass { get; }

    /// <summary>How far ahead of the release it hits the ground; below zero where the wind blew it back.</summary>
    public Length Range { get; }

    /// <summary>How far aside the crosswind blew it, along +y.</summary>
    public Length Drift { get; }

    /// <summary>Greatest height above the ground.</summary>
    public Length ApexHeight { get; }

    /// <summary>Time from release to the greatest height; zero where it only falls.</summary>
    public Duration ApexTime { get; }

    /// <summary>Time from release to the ground.</summary>
    public Duration FlightTime { get; }

    /// <summary>Speed at which it hits the ground.</summary>
    public Speed ImpactSpeed { get; }

    /// <summary>Angle below the horizontal at which it hits the ground.</summary>
    public Angle ImpactAngle { get; }

    /// <summary>Energy with which it hits the ground, ½ m v².</summary>
    public Energy ImpactEnergy => Energy.FromJoules(0.5 * Mass.Kilograms * ImpactSpeed.MetersPerSecond * ImpactSpeed.MetersPerSecond);

    /// <summary>Where it is at a time: ahead of the release, aside, and above the ground.</summary>
    /// <param name="time">From zero to the flight time.</param>
    /// <returns>The three lengths.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The time is outside the flight.</exception>
    public (Length Ahead, Length Aside, Length Height) PositionAt(Duration time)
    {
        double[] y = StateAt(time);
        return (Length.FromMeters(y[0]), Length.FromMeters(y[1]), Length.FromMeters(y[2]));
    }

    /// <summary>Its speed over the ground at a time.</summary>
    /// <param name="time">From zero to the flight time.</param>
    /// <returns>The size of the velocity.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The time is outside the flight.</exception>
    public Speed SpeedAt(Duration time)
    {
        double[] y = StateAt(time);
        return Speed.FromMetersPerSecond(Size(y[3], y[4], y[5]));
    }

    /// <summary>The flight in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => $"{Show.Quantity(Range)} in {Show.Quantity(FlightTime)}, up to {Show.Quantity(ApexHeight)}, lands with {Show.Quantity(ImpactSpeed)} and {Show.Quantity(ImpactEnergy)}";

    private static double Size(double x, double y, double z) => Math.Sqrt((x * x) + (y * y) + (z * z));

    private double[] StateAt(Duration time)
    {
        double seconds = Require.InRange(time, Duration.Zero, FlightTime, "the payload flies from release to ground").Seconds;
        return solution is null
            ? [0, 0, 0, ImpactSpeed.MetersPerSecond * Math.Cos(ImpactAngle.Radians), 0, -ImpactSpeed.MetersPerSecond * Math.Sin(ImpactAngle.Radians)]
            : solution.At(seconds);
    }
}
