using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Measurement;

/// <summary>Film beside computed launch: do they agree where they should, and part where they were made to?</summary>
public class RunComparisonTests
{
    private static readonly LaunchResult Launch = LaunchBench.Whole().Launch();

    [Fact]
    public void A_film_of_the_same_launch_agrees_as_often_as_stated()
    {
        var random = new Random(20261125);
        int agree = 0, inside = 0, all = 0;
        for (int run = 0; run < 60; run++)
        {
            SmoothedRun film = Film(Launch, 0.013, 3e-4, random, (_, x) => x).Smooth();
            RunComparison comparison = RunComparison.Between(film, Launch);
            Assert.True(comparison.StartIsFitted);
            Assert.Equal(0.013, comparison.Start.Seconds, 2e-4);
            agree += comparison.Agrees ? 1 : 0;
            all += comparison.TimeSeconds.Length;
            inside += comparison.SpeedResidualMetersPerSecond.Zip(comparison.SpeedHalfWidthMetersPerSecond, (r, h) => Math.Abs(r) <= h ? 1 : 0).Sum();
        }

        // 60 trials at some 0.95 or above; and the bands cover the computed ripple, as it is smoothed alike.
        Assert.InRange(agree, 51, 60);
        Assert.InRange(inside / (double)all, 0.925, 0.985);
    }

    [Fact]
    public void Where_a_coil_is_braked_the_two_part()
    {
        // From 90 mm on the film loses a tenth of its way: 10 % of the speed.
        const double Place = 0.09;
        RunComparison comparison = RunComparison.Between(
            Film(Launch, 0.02, 2e-4, new Random(1), (_, x) => x < Place ? x : Place + (0.9 * (x - Place))).Smooth(), Launch, 20.Milliseconds());
        Assert.False(comparison.Agrees);
        Assert.InRange(comparison.PartAt!.Value.Meters, Place - 0.02, Place + 0.015);
        Assert.Contains("the sled is slower than computed", comparison.ToString(), StringComparison.Ordinal);
        Assert.Contains("agree up to", comparison.ToString(), StringComparison.Ordinal);
        Assert.False(comparison.StartIsFitted);
    }

    [Fact]
    public void An_origin_shifts_the_film()
    {
        RunComparison comparison = RunComparison.Between(Film(Launch, 0.02, 1e-4, new Random(2), (_, x) => x - 0.3).Smooth(), Launch, null, 300.Millimeters());
        Assert.True(comparison.Agrees);
        Assert.Contains("agree within the bands", comparison.ToString(), StringComparison.Ordinal);
        Assert.Contains("Check the film's origin", Assert.Throws<ArgumentException>(
            () => RunComparison.Between(Film(Launch, 0.02, 1e-4, new Random(2), (_, x) => x - 30).Smooth(), Launch)).Message, StringComparison.Ordinal);
        Assert.Contains("share 0 frames", Assert.Throws<ArgumentException>(
            () => RunComparison.Between(Film(Launch, 0.02, 1e-4, new Random(2), (_, x) => x).Smooth(), Launch, 5.Seconds())).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Motion_in_plain_numbers_is_that_of_the_trace()
    {
        double end = Launch.Trace.End.Seconds;
        for (int i = 0; i <= 200; i++)
        {
            double t = end * i / 200;
            LaunchSample sample = Launch.Trace.At(Math.Min(t, end).Seconds());
            (double x, double v) = Launch.Trace.MotionAt(Math.Min(t, end));
            Assert.Equal((sample.Position.Meters, sample.Speed.MetersPerSecond), (x, v));
        }

        // Beyond its ends the sled stands still before, and coasts after.
        Assert.Equal(Launch.Trace.MotionAt(0).PositionMeters, Launch.Trace.MotionAt(-0.01).PositionMeters);
        Assert.Equal(Launch.EndPosition.Meters + (0.001 * Launch.EndSpeed.MetersPerSecond), Launch.Trace.MotionAt(end + 0.001).PositionMeters, 1e-12);
    }

    /// <summary>A film of a computed launch with 1000 frames a second.</summary>
    internal static FilmedRun Film(LaunchResult launch, double start, double noise, Random random, Func<double, double, double> spoil, double rate = 1000, FilmErrors? errors = null)
    {
        int frames = (int)(launch.EndTime.Seconds * rate) + 1;
        return new FilmedRun(
            Enumerable.Range(0, frames).Select(i =>
            {
                double t = i / rate;
                double x = launch.Trace.At(t.Seconds()).Position.Meters;
                return new FilmedFrame((start + t).Seconds(), (spoil(t, x) + (noise * SmoothedRunTests.Gauss(random))).Meters());
            }),
            errors);
    }
}
