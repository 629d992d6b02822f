using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>After the release: the sled alone, brought to rest or not, against closed forms.</summary>
public class BrakingTests
{
    private const double Inf = double.PositiveInfinity;
    private static readonly AccuracyRow FrictionStop = new("friction brake: way, time, energy", "v² m/(2 F)", 1e-9, "of each");
    private static readonly AccuracyRow SpringStop = new("spring brake: way and time to rest", "v/ω, π/(2 ω)", 1e-9, "of each");
    private static readonly AccuracyRow PlateWay = new("eddy-current plate: way by the speed left", "m c/(2F) ((v₀ − v) + (v₀³ − v³)/(3c²))", 1e-9, "of it");
    private static readonly AccuracyRow Decelerations = new("peak deceleration of the three brakes", "their forces over the mass; the slope of a first step as short as a nanosecond", 1e-4, "m/s²");

    [Fact]
    public void A_friction_brake_stops_the_sled_on_v_squared_m_over_2F()
    {
        BrakingResult braking = Coasting(3, SledBrake.Friction(0.1.Meters(), 1.Meters(), 2.Newtons())).Braking!;

        Assert.Equal(BrakingOutcome.Stopped, braking.Outcome);
        FrictionStop.HoldRatio(0.1 + (0.5 * 0.2 * 9 / 2), braking.Distance.Meters);

        // From the slope of a polynomial over a first step that may be as short as a nanosecond: rounding shows.
        Decelerations.HoldDifference(2 / 0.2, braking.PeakDeceleration.MetersPerSecondSquared);
        FrictionStop.HoldRatio(0.5 * 0.2 * 9, braking.Ledger.Brake.Joules);
        FrictionStop.HoldRatio((0.1 / 3) + (3 * 0.2 / 2), braking.Duration.Seconds);
    }

    [Fact]
    public void A_spring_stops_the_sled_a_quarter_period_on()
    {
        BrakingResult braking = Coasting(3, SledBrake.Spring(0.Meters(), 1.Meters(), ForcePerLength.FromNewtonsPerMeter(50))).Braking!;

        double omega = Math.Sqrt(50 / 0.2);
        SpringStop.HoldRatio(3 / omega, braking.Distance.Meters);
        SpringStop.HoldRatio(0.5 * Math.PI / omega, braking.Duration.Seconds);
        Decelerations.HoldDifference(3 * omega, braking.PeakDeceleration.MetersPerSecondSquared);
    }

    /// <summary>m v dv/dx = −2 F (v/c)/(1 + (v/c)²): x = m c/(2F) ((v₀ − v) + (v₀³ − v³)/(3c²)); it never stops the sled by itself.</summary>
    [Fact]
    public void An_eddy_current_plate_slows_the_sled_but_does_not_stop_it()
    {
        const double F = 4, C = 1.5, M = 0.2;
        BrakingResult braking = Coasting(3, SledBrake.EddyCurrent(0.Meters(), 0.1.Meters(), F.Newtons(), C.MetersPerSecond())).Braking!;

        Assert.Equal(BrakingOutcome.LeftTrack, braking.Outcome);
        double v = braking.EndSpeed.MetersPerSecond;
        PlateWay.HoldRatio(0.1, M * C / (2 * F) * ((3 - v) + ((27 - (v * v * v)) / (3 * C * C))));

        // Above the critical speed the force grows as the sled slows down.
        double ratio = v / C;
        Assert.True(ratio > 1);
        Decelerations.HoldDifference(F / M * 2 * ratio / (1 + (ratio * ratio)), braking.PeakDeceleration.MetersPerSecondSquared);
        Assert.Contains("leaves the track", braking.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_room_too_short_lets_the_sled_leave_at_its_end()
    {
        BrakingResult braking = Coasting(3, SledBrake.Friction(0.Meters(), 0.2.Meters(), 2.Newtons())).Braking!;

        Assert.Equal(BrakingOutcome.LeftTrack, braking.Outcome);
        Assert.Equal(0.2, braking.Distance.Meters, 1e-12);
        Assert.Equal(Math.Sqrt(9 - (2 * 0.2 * 2 / 0.2)), braking.EndSpeed.MetersPerSecond, 1e-9);
    }

    [Fact]
    public void The_payload_takes_its_energy_with_it_and_the_launch_is_the_same()
    {
        Launcher launcher = LaunchBench.Whole() with { Brake = SledBrake.Friction(5.Millimeters(), 0.5.Meters(), 20.Newtons()) };
        LaunchResult with = LaunchBench.Launch(launcher);
        LaunchResult without = LaunchBench.Launch(launcher with { Brake = null });

        Assert.Null(without.Braking);
        Assert.Equal(without.ExitSpeed.MetersPerSecond, with.ExitSpeed.MetersPerSecond, 1e-9);
        Assert.Equal(without.Ledger.Kinetic.Joules, with.Ledger.Kinetic.Joules, 1e-9);
        BrakingResult braking = with.Braking!;
        Assert.Equal(BrakingOutcome.Stopped, braking.Outcome);
        Assert.Equal(0.5 * 0.040 * Math.Pow(with.ExitSpeed.MetersPerSecond, 2), braking.Ledger.Kinetic.Joules, 1e-9);
        Assert.InRange(braking.Ledger.RelativeResidual, 0, LaunchBench.LedgerLimit);
        Assert.Equal(with.Trace.End.Seconds, braking.Trace.TimeSeconds[0], 1e-12);
        Assert.Equal(0, braking.Trace.SpeedMetersPerSecond[^1], 1e-12);
    }

    [Fact]
    public void A_launch_that_stalls_has_no_braking()
    {
        Launcher launcher = LaunchBench.Whole() with
        {
            Sled = new Sled(25.Grams(), LaunchBench.Coil) { Friction = new GuideFriction(1.9) },
            Source = new BenchSupply(1.Volts()),
            Suppressor = Suppressor.IdealBreak,
            Brake = SledBrake.Friction(0.Meters(), 0.5.Meters(), 20.Newtons()),
        };
        LaunchResult result = launcher.Launch();

        Assert.Equal(LaunchOutcome.Stalled, result.Outcome);
        Assert.Null(result.Braking);
    }

    [Fact]
    public void A_zone_before_the_release_is_a_fault()
    {
        Launcher launcher = LaunchBench.Whole() with { Brake = SledBrake.Friction((-5).Millimeters(), 0.5.Meters(), 20.Newtons()) };

        Assert.Contains("5 mm before the release", Assert.Single(launcher.Validate()).Message, StringComparison.Ordinal);
    }

    /// <summary>A sled of 0.2 kg with 0.1 kg of payload at a steady speed, no current, no friction; the release at 1 m.</summary>
    private static LaunchResult Coasting(double speed, SledBrake brake)
    {
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 0, 1e3)], [1], new SourceSi(1e-6, 0, Inf, Inf), 0.3, 1, startSpeed: speed) with
        {
            Braking = new BrakingSi
            {
                Mass = 0.2,
                SlidingFriction = 0,
                RestFriction = 0,
                SlopeForce = 0,
                Brake = brake.ToSi(),
                TrackEnd = 1 + brake.Start.Meters + brake.Length.Meters,
            },
        };
        return LaunchBench.Launch(si, LaunchBench.Fine);
    }
}
