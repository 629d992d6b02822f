using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>The lateral magnet force loads the guide, and the guide's friction takes its work from the launch.</summary>
public class LateralFrictionTests
{
    private static readonly SourceSi Source = new(12, 0, double.PositiveInfinity, double.PositiveInfinity);

    [Fact]
    public void The_speed_settles_where_the_push_less_its_own_friction_equals_the_rest()
    {
        // (K - µ K_y) i = F at the end, i = (V - K v)/R: v = (V - R F/(K - µ K_y))/K.
        const double K = 1.5, Side = 2.0, Mu = 0.2, F = 0.7, R = 0.5;
        LaunchResult launch = LaunchBench.Launch(Si(K, Side, Mu, Mu, F, R, release: 20), LaunchBench.Fine);

        Assert.Equal((12 - (R * F / (K - (Mu * Side)))) / K, launch.ExitSpeed.MetersPerSecond, 1e-7);
        Assert.True(launch.PeakLateralForce.Newtons > 0);
    }

    [Fact]
    public void A_sled_at_rest_waits_until_the_push_exceeds_the_friction_that_grows_with_it()
    {
        // Held until K i - F = µ K_y i with i = V/R (1 - exp(-t R/L)): i = F/(K - µ K_y).
        const double K = 1.5, Side = 2.0, Mu = 0.3, F = 8, R = 0.5, L = 0.01;
        LaunchResult launch = LaunchBench.Launch(Si(K, Side, 0.1, Mu, F, R, release: 0.05, inductance: L), LaunchBench.Fine);

        double current = F / (K - (Mu * Side));
        double expected = -(L / R) * Math.Log(1 - (current * R / 12));
        double seen = launch.Trace.TimeSeconds[launch.Trace.SpeedMetersPerSecond.ToList().FindLastIndex(v => v == 0)];
        Assert.Equal(expected, seen, 1e-9);
    }

    [Fact]
    public void Coils_off_the_middle_lose_the_work_of_the_lateral_force_to_friction()
    {
        const double Across = 0.8, Up = 1.5, Mu = 0.12;
        var options = new LaunchOptions { RelativeTolerance = 1e-11, CouplingAccuracy = 1e-8 };
        Launcher whole = LaunchBench.Whole();
        Launcher middle = whole with { Sled = Sled(0, 0) };
        Launcher off = whole with { Sled = Sled(Across, Up) };
        LaunchResult straight = LaunchBench.Launch(middle, options);
        LaunchResult result = LaunchBench.Launch(off, options);

        // The friction without the lateral force is the same force over the same way.
        double expected = straight.Ledger.Friction.Joules;
        LateralForce force = LateralForce.Of(LaunchBench.Coil, off.Track.Stations[0], Across.Millimeters(), Up.Millimeters(), 1e-6);
        double work = 0;
        double peak = 0;
        LaunchTrace trace = result.Trace;
        for (int i = 1; i < trace.TimeSeconds.Length; i++)
        {
            double before = At(i - 1);
            double now = At(i);
            peak = Math.Max(peak, now);
            work += 0.5 * (before + now) * (trace.PositionMeters[i] - trace.PositionMeters[i - 1]);
        }

        double At(int row)
        {
            double y = 0, z = 0;
            for (int s = 0; s < off.Track.StationCount; s++)
            {
                double sign = off.Track.Polarities[s] == Polarity.Positive ? 1 : -1;
                Length apart = Length.FromMeters(trace.PositionMeters[row]) - off.Track.Positions[s];
                y += sign * force.AcrossAt(apart).NewtonsPerAmpere;
                z += sign * force.UpAt(apart).NewtonsPerAmpere;
            }

            return Math.Abs(trace.CurrentAmperes[0][row]) * Math.Sqrt((y * y) + (z * z));
        }

        // The trapezoidal rule over five rows a step is good to a few parts in ten thousand.
        Assert.Equal(1, (result.Ledger.Friction.Joules - expected) / (Mu * work), 2e-3);
        Assert.Equal(1, result.PeakLateralForce.Newtons / peak, 1e-3);
        Assert.Equal(0, straight.PeakLateralForce.Newtons);

        static Sled Sled(double across, double up) => new(25.Grams(), LaunchBench.Coil)
        {
            Friction = new GuideFriction(Mu),
            OffsetAcross = across.Millimeters(),
            OffsetUp = up.Millimeters(),
        };
    }

    [Fact]
    public void A_single_sided_station_loads_the_guide_even_in_the_middle()
    {
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        Track track = Track.OfStations(MagnetStation.SingleSided(magnet, 5.Millimeters()), 10, 20.Millimeters());
        Launcher whole = LaunchBench.Whole();
        LaunchResult result = LaunchBench.Launch(whole with { Track = track });

        Assert.True(result.PeakLateralForce.Newtons > 1, $"{result.PeakLateralForce}");
    }

    [Fact]
    public void A_ring_of_blocks_around_the_path_does_not_load_the_guide_in_the_middle()
    {
        MagnetStation ring = MagnetStation.Coaxial(new BlockMagnet(8.Millimeters(), 5.Millimeters(), 8.Millimeters(), MagnetGrade.N42, TrackAxis.Along), 8, 30.Millimeters());
        Assert.True(ring.ToSi().IsMirrored(TrackAxis.Along, TrackAxis.Across));
        Assert.True(ring.ToSi().IsMirrored(TrackAxis.Along, TrackAxis.Up));
        Assert.False(MagnetStation.SingleSided(new BlockMagnet(8.Millimeters(), 5.Millimeters(), 8.Millimeters(), MagnetGrade.N42), 4.Millimeters())
            .ToSi().IsMirrored(TrackAxis.Across, TrackAxis.Across));
        Assert.False(ring.ToSi().SeenFrom(1e-4, 0).IsMirrored(TrackAxis.Along, TrackAxis.Across));
        Assert.True(ring.ToSi().SeenFrom(1e-4, 0).IsMirrored(TrackAxis.Along, TrackAxis.Up));
    }

    [Fact]
    public void A_coil_that_is_off_so_far_that_it_would_touch_is_a_fault()
    {
        Launcher whole = LaunchBench.Whole();
        Launcher off = whole with { Sled = new Sled(25.Grams(), LaunchBench.Coil) { OffsetAcross = 1.8.Millimeters() } };

        LauncherFault fault = Assert.Single(off.Validate());
        Assert.Contains("run into a magnet", fault.Message);
    }

    private static LauncherSi Si(double k, double side, double sliding, double atRest, double friction, double resistance, double release, double inductance = 0.002)
    {
        CircuitSi circuit = LaunchBench.Circuit(_ => k, resistance) with { Across = CircuitCurve.OfFunction(_ => side, -10, 1000) };
        return LaunchBench.Si([circuit], [inductance], Source, mass: 0.25, release: release, sliding: friction, atRest: friction) with
        {
            SlidingCoefficient = sliding,
            RestCoefficient = atRest,
        };
    }
}
