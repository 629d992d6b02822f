using Magrail.Numerics;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Sleds;

/// <summary>Brakes against closed forms, their force integrated with located stops.</summary>
public class SledBrakeTests
{
    private const double Mass = 0.25;

    private static readonly AccuracyRow Friction = new("braking distance by friction", "v²/(2 F/m)", 1e-9, "of it");
    private static readonly AccuracyRow Spring = new("depth of a spring that stops a sled, with and without preload", "energy", 1e-9, "of it");
    private static readonly AccuracyRow EddyCurrent = new("distance in which an eddy-current plate slows a sled to a tenth", "closed form of the law F_max 2 (v/v_c)/(1 + (v/v_c)²)", 1e-9, "of it");

    /// <summary>v²/(2 F/m).</summary>
    [RepeatableProperty(50)]
    public void Friction_stops_after_v_squared_over_twice_the_deceleration(ushort a, ushort b)
    {
        double force = 1 + (a / 500.0), v = 1 + (b / 2000.0);
        (double depth, _) = Stop(SledBrake.Friction(0.Millimeters(), 1000.Meters(), force.Newtons()), v);
        Friction.HoldRatio(Mass * v * v / (2 * force), depth);
        Assert.Equal(SledBrake.Friction(0.Millimeters(), 1.Meters(), force.Newtons()), SledBrake.Friction(0.Millimeters(), 1.Meters(), 0.5, (2 * force).Newtons()));
    }

    /// <summary>v √(m/k) without preload; with it, the root of P d + k d²/2 = m v²/2. A quarter of a period passes.</summary>
    [RepeatableProperty(50)]
    public void A_spring_takes_the_energy(ushort a, ushort b, ushort c)
    {
        double k = 50 + (a / 10.0), v = 1 + (b / 5000.0), preload = c / 1000.0;
        (double bare, double time) = Stop(SledBrake.Spring(0.Millimeters(), 100.Meters(), ForcePerLength.FromNewtonsPerMeter(k)), v);
        Spring.HoldRatio(v * Math.Sqrt(Mass / k), bare);
        Assert.Equal(1, time / (Math.PI / 2 * Math.Sqrt(Mass / k)), 1e-9);
        SpringBrake spring = SledBrake.Spring(0.Millimeters(), 100.Meters(), ForcePerLength.FromNewtonsPerMeter(k), preload.Newtons());
        (double depth, _) = Stop(spring, v);
        Spring.HoldRatio((Math.Sqrt((preload * preload) + (k * Mass * v * v)) - preload) / k, depth);

        // As long as that it is just solid: its capacity is the kinetic energy.
        SpringBrake just = SledBrake.Spring(0.Millimeters(), depth.Meters(), ForcePerLength.FromNewtonsPerMeter(k), preload.Newtons());
        Assert.Equal(1, just.Capacity.Joules / (0.5 * Mass * v * v), 1e-9);
    }

    /// <summary>
    /// Eddy-current plate from v₀ to v₁: s = ∫ m v dv/F = m v_c/(2 F_max) · (v₀ − v₁ + (v₀³ − v₁³)/(3 v_c²)). It never stops, and creeps to a finite distance.
    /// </summary>
    [RepeatableProperty(50)]
    public void An_eddy_current_plate_against_its_closed_form(ushort a, ushort b, ushort c)
    {
        double peak = 1 + (a / 1000.0), vc = 0.5 + (b / 10000.0), v0 = 1 + (c / 5000.0), v1 = 0.1 * v0;
        BrakeSi brake = SledBrake.EddyCurrent(0.Millimeters(), 1000.Meters(), peak.Newtons(), vc.MetersPerSecond()).ToSi();
        OdeSolution run = Run(brake, v0, v1, 1000);
        double closed = Mass * vc / (2 * peak) * (v0 - v1 + (((v0 * v0 * v0) - (v1 * v1 * v1)) / (3 * vc * vc)));
        EddyCurrent.HoldRatio(closed, run.EndState[0]);
        Assert.Equal(-peak, brake.ForceAt(0.1, vc), 1e-12);
        Assert.True(Math.Abs(brake.ForceAt(0.1, 1.1 * vc)) < peak && Math.Abs(brake.ForceAt(0.1, 0.9 * vc)) < peak);
        Assert.Equal(peak, brake.ForceAt(0.1, -vc), 1e-12);
    }

    [Fact]
    public void Forces_act_in_the_zone_only_and_the_right_way()
    {
        BrakeSi friction = SledBrake.Friction(20.Millimeters(), 100.Millimeters(), 5.Newtons()).ToSi();
        Assert.Equal(0.02, friction.Start);
        Assert.Equal(0, friction.ForceAt(-1e-9, 3));
        Assert.Equal(-5, friction.ForceAt(0, 3));
        Assert.Equal(5, friction.ForceAt(0.1, -3));
        Assert.Equal(0, friction.ForceAt(0.05, 0));
        Assert.Equal(0, friction.ForceAt(0.1000001, 3));
        BrakeSi spring = SledBrake.Spring(0.Millimeters(), 100.Millimeters(), ForcePerLength.FromNewtonsPerMillimeter(1), 2.Newtons(), latched: true).ToSi();
        Assert.Equal(-52, spring.ForceAt(0.05, 3), 1e-12);
        Assert.Equal(-52, spring.ForceAt(0.05, -3), 1e-12);
        Assert.True(spring.Latched);
    }

    [Fact]
    public void Wrong_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => SledBrake.Friction(0.Meters(), 0.Meters(), 1.Newtons()));
        Assert.Throws<ArgumentOutOfRangeException>(() => SledBrake.Friction(0.Meters(), 1.Meters(), 0.Newtons()));
        Assert.Contains("above 0 to 2", Assert.Throws<ArgumentOutOfRangeException>(() => SledBrake.Friction(0.Meters(), 1.Meters(), 0, 1.Newtons())).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => SledBrake.Friction(0.Meters(), 1.Meters(), 2.5, 1.Newtons()));
        Assert.Throws<ArgumentOutOfRangeException>(() => SledBrake.Spring(0.Meters(), 1.Meters(), ForcePerLength.Zero));
        Assert.Throws<ArgumentOutOfRangeException>(() => SledBrake.EddyCurrent(0.Meters(), 1.Meters(), 1.Newtons(), Speed.Zero));
        Assert.Equal("friction brake of 5 N over 100 mm", SledBrake.Friction(0.Meters(), 100.Millimeters(), 5.Newtons()).ToString());
        Assert.Contains("latched", SledBrake.Spring(0.Meters(), 1.Meters(), ForcePerLength.FromNewtonsPerMeter(100), latched: true).ToString(), StringComparison.Ordinal);
        Assert.Contains("10 N at 2 m/s", SledBrake.EddyCurrent(0.Meters(), 1.Meters(), 10.Newtons(), 2.MetersPerSecond()).ToString(), StringComparison.Ordinal);
    }

    private static (double Depth, double Time) Stop(SledBrake brake, double speed)
    {
        OdeSolution run = Run(brake.ToSi(), speed, 0, 1000);
        return (run.EndState[0], run.EndTime);
    }

    private static OdeSolution Run(BrakeSi brake, double speed, double until, double seconds)
    {
        OdeSolution run = OdeSolver.Solve(
            (_, y, dy) =>
            {
                dy[0] = y[1];

                // A trial point beyond the stop must still see the same law.
                dy[1] = brake.ForceAt(Math.Max(0, y[0]), brake.Kind == BrakeKind.Friction ? 1 : y[1]) / Mass;
            },
            0,
            [0, speed],
            seconds,
            new Tolerances(1e-11, 1e-11),
            [new OdeEvent("slow", (_, y) => y[1] - until, CrossingDirection.PositiveToNegative)]);
        Assert.Equal(OdeOutcome.StoppedByEvent, run.Outcome);
        return run;
    }
}
