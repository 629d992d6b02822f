using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Measurement;

/// <summary>Smoothing with bands: do they cover as often as they say, and do the figures carry the errors that the film has?</summary>
public class SmoothedRunTests
{
    private static readonly AccuracyRow Coverage = new(
        "bands of 95 %: share that covers position, speed and acceleration, three courses, 400 films each of 100 frames, off 0.95 by",
        "closed forms with simulated noise",
        0.02,
        "");

    public static TheoryData<string> Courses => ["tiring", "rippled", "fading"];

    // A simulation of our own: 400 films of 100 frames of each course; the truth is in closed form.
    [Theory]
    [MemberData(nameof(Courses))]
    public void Bands_of_95_percent_cover_93_to_97(string course)
    {
        const int Runs = 400, Frames = 100;
        const double Noise = 5e-4;
        var random = new Random(20261125);
        int[] inside = new int[3];
        int exits = 0, means = 0;
        for (int run = 0; run < Runs; run++)
        {
            // Frames are not quite even: a real time stamp is not.
            double[] t = [.. Enumerable.Range(0, Frames).Select(i => 0.001 * (i + (0.4 * (random.NextDouble() - 0.5))))];
            SmoothedRun smooth = Film(t, time => Truth(course, time).X, Noise, random).Smooth();
            for (int i = 0; i < Frames; i++)
            {
                (double x, double v, double a) = Truth(course, t[i]);
                inside[0] += Math.Abs(smooth.PositionMeters[i] - x) <= smooth.PositionHalfWidthMeters[i] ? 1 : 0;
                inside[1] += Math.Abs(smooth.SpeedMetersPerSecond[i] - v) <= smooth.SpeedHalfWidthMetersPerSecond[i] ? 1 : 0;
                inside[2] += Math.Abs(smooth.AccelerationMetersPerSecondSquared[i] - a) <= smooth.AccelerationHalfWidthMetersPerSecondSquared[i] ? 1 : 0;
            }

            RunFigures figures = smooth.Figures();
            exits += Covers(figures.ExitSpeed, Truth(course, t[^1]).V) ? 1 : 0;
            means += Covers(figures.MeanAcceleration, (Truth(course, t[^1]).V - Truth(course, t[0]).V) / (t[^1] - t[0])) ? 1 : 0;
        }

        Assert.All(inside, count => Coverage.HoldDifference(0.95, count / (double)(Runs * Frames)));

        // Of 400 binomial trials at 0.95, nine in ten thousand fall outside this.
        Assert.InRange(exits / (double)Runs, 0.905, 0.987);
        Assert.InRange(means / (double)Runs, 0.905, 0.987);
    }

    [Fact]
    public void A_window_that_is_too_long_does_not_cover()
    {
        // The rippled course through a window of 80 frames of 100: what the polynomial cannot follow is far more than the scatter. So the test above can fail.
        var random = new Random(1);
        double[] t = [.. Enumerable.Range(0, 100).Select(i => 0.001 * i)];
        int inside = 0;
        for (int run = 0; run < 20; run++)
        {
            SmoothedRun smooth = Film(t, time => Truth("rippled", time).X, 5e-5, random).Smooth(new() { WindowFrames = 80 });
            inside += Enumerable.Range(0, 100).Count(i => Math.Abs(smooth.SpeedMetersPerSecond[i] - Truth("rippled", t[i]).V) <= smooth.SpeedHalfWidthMetersPerSecond[i]);
        }

        Assert.True(inside < 0.8 * 2000);
    }

    [Fact]
    public void Without_noise_a_parabola_comes_back()
    {
        FilmedRun run = new(Enumerable.Range(0, 60).Select(i => new FilmedFrame((0.002 * i).Seconds(), (1 + (0.5 * 80 * 0.002 * i * 0.002 * i)).Meters())));
        SmoothedRun smooth = run.Smooth();
        SmoothedSample sample = smooth.At(50.Milliseconds());
        Assert.Equal(1.1, sample.Position.Value.Meters, 1e-9);
        Assert.Equal(4, sample.Speed.Value.MetersPerSecond, 1e-9);
        Assert.Equal(80, sample.Acceleration.Value.MetersPerSecondSquared, 1e-6);
        RunFigures figures = smooth.Figures(exit: 1.1.Meters(), mass: 100.Grams(), massError: 1.Grams());
        Assert.Equal(4, figures.ExitSpeed.Value.MetersPerSecond, 1e-8);
        Assert.Equal(0.05, figures.PushTime.Value.Seconds, 1e-10);
        Assert.Equal(8, figures.MeanForce!.Value.Newtons, 1e-6);
        Assert.Equal(0.08, figures.MeanForce.SystematicError.Newtons, 1e-6);
    }

    [Fact]
    public void Scale_and_frame_rate_enter_as_a_part_of_their_own()
    {
        // Derivation: x(t) = (1 + ε) X(t/(1 + τ)). Filmed anew with a scale 1 % off and frames 2 % off, speed at the same frame is off by ε − τ of itself,
        // acceleration by ε − 2 τ.
        double[] t = [.. Enumerable.Range(0, 80).Select(i => 0.001 * i)];
        FilmedRun exact = Film(t, time => Truth("tiring", time).X, 1e-7, new Random(3));
        var errors = new FilmErrors { Scale = Ratio.FromPercent(1), FrameTime = Ratio.FromPercent(2) };
        FilmedRun stated = new(exact.TimeSeconds.Zip(exact.PositionMeters, (a, b) => new FilmedFrame(a.Seconds(), b.Meters())), errors);
        FilmedRun off = new(exact.TimeSeconds.Zip(exact.PositionMeters, (a, b) => new FilmedFrame((1.02 * a).Seconds(), (1.01 * b).Meters())));
        SmoothedRun one = exact.Smooth(), two = stated.Smooth(), three = off.Smooth();
        RunFigures a = one.Figures(), b = two.Figures(), c = three.Figures();
        double v = a.ExitSpeed.Value.MetersPerSecond, mean = a.MeanAcceleration.Value.MetersPerSecondSquared;
        Assert.Equal(1.01 / 1.02, c.ExitSpeed.Value.MetersPerSecond / v, 1e-9);
        Assert.Equal(1.01 / (1.02 * 1.02), c.MeanAcceleration.Value.MetersPerSecondSquared / mean, 1e-9);
        Assert.Equal(v * Math.Sqrt((0.01 * 0.01) + (0.02 * 0.02)), b.ExitSpeed.SystematicError.MetersPerSecond, 1e-9 * v);
        Assert.Equal(mean * Math.Sqrt((0.01 * 0.01) + (0.04 * 0.04)), b.MeanAcceleration.SystematicError.MetersPerSecondSquared, 1e-9 * mean);
        Assert.Equal(a.ExitSpeed.RandomError.MetersPerSecond, b.ExitSpeed.RandomError.MetersPerSecond);
        Assert.Equal(0, a.ExitSpeed.SystematicError.MetersPerSecond);
        Assert.True(b.ExitSpeed.HalfWidth > a.ExitSpeed.HalfWidth);

        // At a given time: the stated part against what each error alone does there.
        double at = 0.06;
        FilmedRun slow = new(exact.TimeSeconds.Zip(exact.PositionMeters, (u, w) => new FilmedFrame((1.0002 * u).Seconds(), w.Meters())));
        SmoothedSample before = one.At(at.Seconds()), after = slow.Smooth(new() { WindowFrames = one.WindowFrames }).At(at.Seconds());
        FilmedRun timed = new(exact.TimeSeconds.Zip(exact.PositionMeters, (u, w) => new FilmedFrame(u.Seconds(), w.Meters())), new() { FrameTime = Ratio.FromPercent(0.02) });
        SmoothedSample stands = timed.Smooth(new() { WindowFrames = one.WindowFrames }).At(at.Seconds());
        Assert.Equal(Math.Abs((after.Position.Value - before.Position.Value).Meters), stands.Position.SystematicError.Meters, 0.02 * stands.Position.SystematicError.Meters);
        Assert.Equal(Math.Abs((after.Speed.Value - before.Speed.Value).MetersPerSecond), stands.Speed.SystematicError.MetersPerSecond, 0.02 * stands.Speed.SystematicError.MetersPerSecond);
    }

    [Fact]
    public void A_stated_reading_error_is_used()
    {
        double[] t = [.. Enumerable.Range(0, 80).Select(i => 0.001 * i)];
        FilmedRun run = Film(t, time => Truth("tiring", time).X, 1e-3, new Random(5));
        SmoothedRun byScatter = run.Smooth();
        Assert.InRange(byScatter.ReadingError.Meters, 0.75e-3, 1.3e-3);
        FilmedRun stated = new(t.Zip(run.PositionMeters, (a, b) => new FilmedFrame(a.Seconds(), b.Meters())), new() { Reading = 2.Millimeters() });
        Assert.Equal(2e-3, stated.Smooth().ReadingError.Meters);
        Assert.True(double.IsInfinity(stated.Smooth().DegreesOfFreedom));
    }

    [Fact]
    public void Merged_frames_weigh_by_their_count()
    {
        // Two frames at each time merged into one: the same information, so about the same error.
        var random = new Random(7);
        double[] t = [.. Enumerable.Range(0, 400).Select(i => 0.00025 * i)];
        FilmedRun all = Film(t, time => Truth("tiring", time).X, 1e-3, random);
        FilmedRun merged = new(Enumerable.Range(0, 200).Select(i => new FilmedFrame(
            (0.5 * (t[2 * i] + t[(2 * i) + 1])).Seconds(), (0.5 * (all.PositionMeters[2 * i] + all.PositionMeters[(2 * i) + 1])).Meters(), 2)));
        SmoothedRun one = all.Smooth(new() { WindowFrames = 160 }), two = merged.Smooth(new() { WindowFrames = 80 });
        Assert.Equal(1, two.ReadingError / one.ReadingError, 0.15);
        Assert.Equal(1, two.At(50.Milliseconds()).Speed.RandomError / one.At(50.Milliseconds()).Speed.RandomError, 0.15);
        Assert.Equal(1, two.At(50.Milliseconds()).Speed.Value / one.At(50.Milliseconds()).Speed.Value, 1e-3);
    }

    [Fact]
    public void Many_frames_are_taken_together_first()
    {
        // Ten thousand frames: the exit speed is as good as their number allows, and each reading is judged as one.
        double[] t = [.. Enumerable.Range(0, 10_000).Select(i => 1e-5 * i)];
        SmoothedRun smooth = Film(t, time => Truth("tiring", time).X, 1e-3, new Random(9)).Smooth();
        Assert.InRange(smooth.ReadingError.Meters, 0.93e-3, 1.07e-3);
        Assert.InRange(smooth.TimeSeconds.Length, 500, 1000);
        Assert.InRange(smooth.WindowFrames, 500, 10_000);
        Measured<Speed> exit = smooth.Figures().ExitSpeed;
        Assert.True(Covers(exit, Truth("tiring", t[^1]).V));
        Assert.InRange(exit.RandomError.MetersPerSecond, 0, 0.15);
        Assert.Contains("10000 frames", smooth.ToString(), StringComparison.Ordinal);
        Assert.InRange(Film(t, time => Truth("tiring", time).X, 1e-3, new Random(9)).Smooth(new() { WindowFrames = 3000 }).WindowFrames, 2990, 3010);
    }

    [Fact]
    public void Errors_that_hang_together_show()
    {
        double[] t = [.. Enumerable.Range(0, 200).Select(i => 0.0005 * i)];
        var random = new Random(11);
        double held = 0;
        FilmedRun wandering = new(t.Select((time, i) =>
        {
            held = i % 3 == 0 ? 1e-3 * Gauss(random) : held;
            return new FilmedFrame(time.Seconds(), (Truth("tiring", time).X + held).Meters());
        }));
        Assert.True(wandering.Smooth(new() { WindowFrames = 80 }).Autocorrelation > 0.4);
        Assert.InRange(Film(t, time => Truth("tiring", time).X, 1e-3, random).Smooth(new() { WindowFrames = 80 }).Autocorrelation, -0.3, 0.2);
    }

    [Fact]
    public void The_window_is_shown()
    {
        double[] t = [.. Enumerable.Range(0, 100).Select(i => 0.001 * i)];
        SmoothedRun smooth = Film(t, time => Truth("tiring", time).X, 5e-4, new Random(5)).Smooth();
        Assert.True(smooth.Tried.Length > 5);
        double least = smooth.Tried.Min(tried => tried.Miss.Meters);
        Assert.Equal(smooth.WindowFrames, smooth.Tried.Where(tried => tried.Miss.Meters <= 1.01 * least).Min(tried => tried.Frames));
        Assert.Contains("chosen by the data", smooth.ToString(), StringComparison.Ordinal);
        Assert.Equal(0.001 * (smooth.WindowFrames + 1), smooth.Window.Seconds, 0.003);
    }

    [Fact]
    public void Too_little_is_refused_with_the_reason()
    {
        FilmedFrame Frame(double t, double x) => new(t.Seconds(), x.Meters());
        Assert.Contains("0 frames", Assert.Throws<ArgumentException>(() => new FilmedRun([])).Message, StringComparison.Ordinal);
        Assert.Contains("1 frame;", Assert.Throws<ArgumentException>(() => new FilmedRun([Frame(0, 1)])).Message, StringComparison.Ordinal);
        Assert.Contains("nothing moved", Assert.Throws<ArgumentException>(() => new FilmedRun(Enumerable.Range(0, 20).Select(i => Frame(i, 1)))).Message, StringComparison.Ordinal);
        Assert.Contains("same time", Assert.Throws<ArgumentException>(() => new FilmedRun(Enumerable.Range(0, 20).Select(i => Frame(i / 2, i)))).Message, StringComparison.Ordinal);
        var run = new FilmedRun(Enumerable.Range(0, 20).Select(i => Frame(i, i * i)));
        Assert.Contains("there are 5 frames", Assert.Throws<ArgumentException>(() => run.Smooth(new() { From = 15.Seconds() })).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => run.Smooth(new() { WindowFrames = 21 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => new SmoothingOptions { WindowFrames = 7 });
        Assert.Throws<ArgumentOutOfRangeException>(() => run.Smooth().At(20.Seconds()));
        Assert.Contains("passes going forward", Assert.Throws<ArgumentOutOfRangeException>(() => run.Smooth().Figures(exit: 1000.Meters())).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => new FilmErrors { Scale = Ratio.FromPercent(60) });
    }

    internal static double Gauss(Random random)
        => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static FilmedRun Film(double[] t, Func<double, double> course, double noise, Random random)
        => new(t.Select(time => new FilmedFrame(time.Seconds(), (course(time) + (noise * Gauss(random))).Meters())));

    private static bool Covers(Measured<Speed> found, double truth) => found.Low.MetersPerSecond <= truth && truth <= found.High.MetersPerSecond;

    private static bool Covers(Measured<Acceleration> found, double truth)
        => found.Low.MetersPerSecondSquared <= truth && truth <= found.High.MetersPerSecondSquared;

    /// <summary>
    /// Three courses in closed form: a motor that nears its no-load speed (law 8), a steady push with a ripple, a push that fades linearly.
    /// </summary>
    private static (double X, double V, double A) Truth(string course, double t)
    {
        const double V = 20, Tau = 0.04, W = 2 * Math.PI / 0.03;
        double e = Math.Exp(-t / Tau);
        return course switch
        {
            "tiring" => (V * (t - (Tau * (1 - e))), V * (1 - e), V / Tau * e),
            "rippled" => ((10 * t) + (50 * t * t) + (0.002 * Math.Sin(W * t)), 10 + (100 * t) + (0.002 * W * Math.Cos(W * t)), 100 - (0.002 * W * W * Math.Sin(W * t))),
            _ => (100 * t * t * (1 - (t / 0.3)), (200 * t) - (1000 * t * t), 200 - (2000 * t)),
        };
    }
}
