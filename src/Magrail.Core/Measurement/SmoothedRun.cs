using System.Collections.Immutable;
using System.Globalization;
using Magrail.Numerics;
using Magrail.Sources;
using MathNet.Numerics.Distributions;
using UnitsNet;

namespace Magrail;

/// <summary>A filmed run made smooth: position, speed and acceleration at any time of it, each with its confidence band.</summary>
/// <remarks>
/// <para>
/// At each time a polynomial of the fourth degree is fitted to the nearest frames, the near ones counting more (Epanechnikov's weight 1 − u²). How many frames, that is
/// the window, is chosen by leaving one frame out at a time and predicting it by a polynomial of the third degree (cross-validation): the shortest that
/// predicts within 1 % as well as the best. A window that is best for the third degree is short enough for the fourth that what its polynomial cannot follow is small beside the scatter, so that the bands cover
/// as often as they say: undersmoothing, as in S. Calonico, M. D. Cattaneo, M. H. Farrell, J. Am. Stat. Assoc. 113 (2018) 767 (from memory).
/// </para>
/// <para>
/// Of more than 2000 frames, neighbors are first taken together to about a thousand.
/// </para>
/// <para>
/// Bands are pointwise and hold for independent errors of the readings; <see cref="Autocorrelation"/> far from zero says that they are not. A ripple of the
/// acceleration that is faster than the window is averaged away and no band tells of it.
/// </para>
/// <para>
/// Not safe for two threads at once. J. Fan, I. Gijbels, Local Polynomial Modelling and Its Applications (1996), chapters 3 and 4 (from memory).
/// </para>
/// </remarks>
[UnitInName]
public sealed class SmoothedRun
{
    /// <summary>Degree of the polynomial whose values, slopes and curvatures are given.</summary>
    internal const int Degree = 4;

    /// <summary>The least window.</summary>
    internal const int LeastWindow = Degree + 4;

    private const int SelectionDegree = 3;

    // Windows whose misses differ by less than this are equally good. Without it, bands of a course that a cubic follows exactly covered 93 % instead of 95 %.
    private const double Indifference = 1.01;

    // Frames at which windows are compared and the scatter is taken; evenly chosen where there are more.
    private const int Probes = 400;

    private const int Windows = 16;

    private const int GreatestRows = 1000;

    private readonly int frames;
    private readonly int group;
    private readonly int window;
    private readonly double[] times;
    private readonly double[] positions;
    private readonly double[] counts;
    private readonly double[] weights;
    private readonly double[] factors;
    private readonly double sigma;
    private readonly double random;
    private readonly double normal;
    private readonly double scale;
    private readonly double frameTime;

    internal SmoothedRun(FilmedRun run, SmoothingOptions options)
    {
        Run = run;
        Options = options;
        double from = options.From?.Seconds ?? double.NegativeInfinity, to = options.To?.Seconds ?? double.PositiveInfinity;
        int first = 0, last = run.FrameCount;
        while (first < last && run.TimeSeconds[first] < from)
        {
            first++;
        }

        while (last > first && run.TimeSeconds[last - 1] > to)
        {
            last--;
        }

        int n = last - first;
        if (n < FilmedRun.LeastFrames)
        {
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"between {Show.Quantity(Duration.FromSeconds(Math.Max(from, run.TimeSeconds[0])))} and {Show.Quantity(Duration.FromSeconds(Math.Min(to, run.TimeSeconds[^1])))} there are {n} frames; there must be {FilmedRun.LeastFrames} or more to smooth."), nameof(options));
        }

        frames = n;
        group = n <= 2 * GreatestRows ? 1 : (n + GreatestRows - 1) / GreatestRows;
        n = (n + group - 1) / group;
        times = new double[n];
        positions = new double[n];
        counts = new double[n];
        for (int i = first; i < last; i++)
        {
            int into = (i - first) / group;
            int count = run.Counts[i];
            times[into] += count * run.TimeSeconds[i];
            positions[into] += count * run.PositionMeters[i];
            counts[into] += count;
        }

        for (int i = 0; i < n; i++)
        {
            times[i] /= counts[i];
            positions[i] /= counts[i];
        }

        weights = new double[n];
        factors = new double[n];
        scale = run.Errors.Scale.DecimalFractions;
        frameTime = run.Errors.FrameTime.DecimalFractions;
        int[] probes = [.. Enumerable.Range(0, Math.Min(n, Probes)).Select(i => n <= Probes ? i : (int)((long)i * (n - 1) / (Probes - 1)))];
        (window, Tried) = ChooseWindow(options.WindowFrames, probes);
        WindowFrames = window * group;
        (double scatter, double degrees, Autocorrelation) = Scatter(probes);
        sigma = run.Errors.Reading?.Meters ?? scatter;
        ReadingError = Length.FromMeters(sigma);
        double half = 0.5 * (1 + options.Confidence);
        normal = Normal.InvCDF(0, 1, half);
        DegreesOfFreedom = run.Errors.Reading is null ? degrees : double.PositiveInfinity;
        random = run.Errors.Reading is null ? StudentT.InvCDF(0, 1, degrees, half) : normal;
        double[] widths = [.. probes.Select(i => 2 * Bandwidth(times[i], window, out _, out _))];
        Array.Sort(widths);
        Window = Duration.FromSeconds(widths[0]);

        int rows = Math.Min(n, GreatestRows);
        double[][] columns = [.. Enumerable.Range(0, 7).Select(_ => new double[rows])];
        for (int row = 0; row < rows; row++)
        {
            double t = n == rows ? times[row] : times[0] + ((times[^1] - times[0]) * row / (rows - 1));
            (Part x, Part v, Part a) = PartsAt(Math.Min(t, times[^1]));
            columns[0][row] = t;
            (columns[1][row], columns[2][row]) = (x.Value, HalfWidth(x));
            (columns[3][row], columns[4][row]) = (v.Value, HalfWidth(v));
            (columns[5][row], columns[6][row]) = (a.Value, HalfWidth(a));
        }

        TimeSeconds = [.. columns[0]];
        PositionMeters = [.. columns[1]];
        PositionHalfWidthMeters = [.. columns[2]];
        SpeedMetersPerSecond = [.. columns[3]];
        SpeedHalfWidthMetersPerSecond = [.. columns[4]];
        AccelerationMetersPerSecondSquared = [.. columns[5]];
        AccelerationHalfWidthMetersPerSecondSquared = [.. columns[6]];
    }

    /// <summary>The frames.</summary>
    public FilmedRun Run { get; }

    /// <summary>The options it was smoothed with.</summary>
    public SmoothingOptions Options { get; }

    /// <summary>How many frames the window holds.</summary>
    public int WindowFrames { get; }

    /// <summary>The window in time, where it is narrowest; near the ends it reaches as many frames to one side.</summary>
    public Duration Window { get; }

    /// <summary>The windows that were tried, and how far off each predicted a frame that was left out; one entry where the window was given.</summary>
    public ImmutableArray<TriedWindow> Tried { get; }

    /// <summary>Standard error of a single reading of position, from the scatter about the smooth curve or as stated.</summary>
    public Length ReadingError { get; }

    /// <summary>Degrees of freedom behind <see cref="ReadingError"/>; infinite where it was stated.</summary>
    [Dimensionless]
    public double DegreesOfFreedom { get; }

    /// <summary>
    /// Correlation of each residual with the next. Independent errors give about zero, or somewhat less, as smoothing takes out what neighbors share; far above
    /// zero the bands are too narrow.
    /// </summary>
    [Dimensionless]
    public double Autocorrelation { get; }

    /// <summary>Time of each row, s: the frames, those that were taken together, or a thousand even times where there are more.</summary>
    public ImmutableArray<double> TimeSeconds { get; }

    /// <summary>Position, m.</summary>
    public ImmutableArray<double> PositionMeters { get; }

    /// <summary>Half the width of its band, m.</summary>
    public ImmutableArray<double> PositionHalfWidthMeters { get; }

    /// <summary>Speed, m/s.</summary>
    public ImmutableArray<double> SpeedMetersPerSecond { get; }

    /// <summary>Half the width of its band, m/s.</summary>
    public ImmutableArray<double> SpeedHalfWidthMetersPerSecond { get; }

    /// <summary>Acceleration, m/s².</summary>
    public ImmutableArray<double> AccelerationMetersPerSecondSquared { get; }

    /// <summary>Half the width of its band, m/s².</summary>
    public ImmutableArray<double> AccelerationHalfWidthMetersPerSecondSquared { get; }

    /// <summary>Everything at one time, each with its error.</summary>
    /// <param name="time">From the first frame used to the last.</param>
    /// <exception cref="ArgumentOutOfRangeException">The time lies outside the part that was smoothed.</exception>
    public SmoothedSample At(Duration time)
    {
        double t = Within(time, nameof(time));
        (Part x, Part v, Part a) = PartsAt(t);
        return new SmoothedSample(Duration.FromSeconds(t), Make(x, si => Length.FromMeters(si)), Make(v, si => Speed.FromMetersPerSecond(si)), Make(a, si => Acceleration.FromMetersPerSecondSquared(si)));
    }

    /// <summary>The force on the moving mass at one time, mass times acceleration: what pushes less what rubs.</summary>
    /// <param name="time">From the first frame used to the last.</param>
    /// <param name="mass">The mass that moves, above zero.</param>
    /// <param name="massError">Its standard uncertainty, zero or above; zero by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public Measured<Force> ForceAt(Duration time, Mass mass, Mass? massError = null)
    {
        double t = Within(time, nameof(time));
        (double m, double relative) = MassOf(mass, massError);
        (_, _, Part a) = PartsAt(t);
        return Make(new Part(m * a.Value, m * a.Random, Root(m * a.Systematic, m * a.Value * relative)), si => Force.FromNewtons(si));
    }

    /// <summary>The figures people quote, with their errors.</summary>
    /// <param name="exit">Where the payload is released; null for the last frame used.</param>
    /// <param name="start">When the push began; null for the first frame used.</param>
    /// <param name="mass">The mass that moves; null where no force is wanted.</param>
    /// <param name="massError">Standard uncertainty of the mass; zero by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">The sled does not reach the place of release in the part that was smoothed, or a value is out of its range.</exception>
    public RunFigures Figures(Length? exit = null, Duration? start = null, Mass? mass = null, Mass? massError = null)
    {
        double begin = start is Duration from ? Within(from, nameof(start)) : times[0];
        double end = exit is Length place ? TimeAt(Require.Finite(place, "a place on the track", nameof(exit)).Meters, nameof(exit)) : times[^1];
        if (!(end > begin))
        {
            throw Require.Fault(nameof(start), Show.Quantity(Duration.FromSeconds(begin)), $"before the release at {Show.Quantity(Duration.FromSeconds(end))}", "the push comes first");
        }

        // Every figure is a sum of factors on the readings, so that errors that two figures share are counted as shared.
        int n = times.Length;
        double[] position = FactorsAt(end, 0), speed = FactorsAt(end, 1), startSpeed = FactorsAt(begin, 1);
        double v = Sum(speed), a = Sum(FactorsAt(end, 2)), v0 = Sum(startSpeed), span = end - begin;

        // Where a place sets the end, a reading that is off shifts its time: dt = −dx/v, which moves v by a dt.
        double[] exitFactors = new double[n], mean = new double[n], timeFactors = new double[n];
        bool byPlace = exit is not null;
        double average = (v - v0) / span;
        for (int i = 0; i < n; i++)
        {
            timeFactors[i] = byPlace ? -position[i] / v : 0;
            exitFactors[i] = speed[i] + (a * timeFactors[i]);
            mean[i] = ((exitFactors[i] - startSpeed[i]) / span) - (average / span * timeFactors[i]);
        }

        // The place of release is a length by the same film, so its scale is the film's and drops out.
        var exitSpeed = new Part(v, RandomOf(exitFactors), Root(scale * v, frameTime * v));
        var first = new Part(v0, RandomOf(startSpeed), Root(scale * v0, frameTime * v0));
        var acceleration = new Part(average, RandomOf(mean), Root(scale * average, 2 * frameTime * average));
        var duration = new Part(span, RandomOf(timeFactors), frameTime * span);
        Measured<Force>? force = null;
        if (mass is Mass moving)
        {
            (double m, double relative) = MassOf(moving, massError);
            force = Make(new Part(m * average, m * acceleration.Random, Root(m * acceleration.Systematic, m * average * relative)), si => Force.FromNewtons(si));
        }

        return new RunFigures(
            Make(exitSpeed, si => Speed.FromMetersPerSecond(si)),
            Make(first, si => Speed.FromMetersPerSecond(si)),
            Make(duration, si => Duration.FromSeconds(si)),
            Make(acceleration, si => Acceleration.FromMetersPerSecondSquared(si)),
            force);
    }

    /// <summary>The smoothing in words.</summary>
    public override string ToString()
        => string.Create(
            CultureInfo.InvariantCulture,
            $"{frames} frames smoothed by a window of {WindowFrames} frames ({Show.Quantity(Window)}) {(Options.WindowFrames is null ? "chosen by the data" : "as given")}; a reading is good to {Show.Quantity(ReadingError)}; bands of {100 * Options.Confidence:G4} %");

    /// <summary>Value, slope and curvature with their errors, in SI units.</summary>
    internal (Part Position, Part Speed, Part Acceleration) PartsAt(double t)
    {
        Span<double> values = stackalloc double[4];
        Span<double> errors = stackalloc double[4];
        double h = Bandwidth(t, window, out int low, out int high);
        for (int derivative = 0; derivative <= 3; derivative++)
        {
            Fill(t, h, low, high, Degree, derivative);
            double value = 0, square = 0;
            for (int i = low; i < high; i++)
            {
                value += factors[i] * positions[i];
                square += factors[i] * factors[i] / counts[i];
            }

            values[derivative] = value;
            errors[derivative] = sigma * Math.Sqrt(square);
        }

        // With the scale off by ε and the frame time by τ, x(t) is (1 + ε) X(t/(1 + τ)): lengths count from the first place, times from the first frame.
        double x = values[0], v = values[1], a = values[2], jerk = values[3], since = t - times[0], along = x - positions[0];
        return (
            new Part(x, errors[0], Root(scale * along, frameTime * since * v)),
            new Part(v, errors[1], Root(scale * v, frameTime * (v + (since * a)))),
            new Part(a, errors[2], Root(scale * a, frameTime * ((2 * a) + (since * jerk)))));
    }

    /// <summary>
    /// By how much the band of the speed must be wider to cover everywhere at once between two times: the tube of J. Sun, C. R. Loader, Ann. Stat. 22 (1994) 1328
    /// (from memory), P(max |T| > c) = κ/π (1 + c²/ν)^(−ν/2) + P(|t_ν| > c), κ the way that the direction of the factors turns.
    /// </summary>
    internal double SimultaneousFactor(double from, double to)
    {
        double turned = 0;
        double[]? before = null;
        foreach (double t in TimeSeconds)
        {
            if (t < from || t > to)
            {
                continue;
            }

            double[] now = FactorsAt(t, 1);
            double length = 0;
            for (int i = 0; i < now.Length; i++)
            {
                now[i] /= Math.Sqrt(counts[i]);
                length += now[i] * now[i];
            }

            length = Math.Sqrt(length);
            double cosine = 0;
            for (int i = 0; i < now.Length; i++)
            {
                now[i] /= length;
                cosine += before is null ? 0 : now[i] * before[i];
            }

            turned += before is null ? 0 : Math.Acos(Math.Clamp(cosine, -1, 1));
            before = now;
        }

        // A stated reading error has no degrees of freedom to lose: as good as endless.
        double degrees = Math.Min(DegreesOfFreedom, 1e6);
        double low = random, high = 50;
        for (int k = 0; k < 60; k++)
        {
            double c = 0.5 * (low + high);
            double exceeds = (turned / Math.PI * Math.Pow(1 + (c * c / degrees), -0.5 * degrees)) + (2 * StudentT.CDF(0, 1, degrees, -c));
            (low, high) = exceeds > 1 - Options.Confidence ? (c, high) : (low, c);
        }

        return high / random;
    }

    /// <summary>Half the width of the interval of a part.</summary>
    internal double HalfWidth(in Part part) => Root(random * part.Random, normal * part.Systematic);

    /// <summary>Times of the frames used, s.</summary>
    internal ReadOnlySpan<double> FrameTimes => times;

    /// <summary>Positions of the frames used, m.</summary>
    internal ReadOnlySpan<double> FramePositions => positions;

    /// <summary>Value and slope of other numbers at the same frames, smoothed by the same window.</summary>
    internal (double Value, double Slope) Apply(ReadOnlySpan<double> values, double t)
    {
        double h = Bandwidth(t, window, out int low, out int high);
        Span<double> found = stackalloc double[2];
        for (int derivative = 0; derivative < 2; derivative++)
        {
            Fill(t, h, low, high, Degree, derivative);
            for (int i = low; i < high; i++)
            {
                found[derivative] += factors[i] * values[i];
            }
        }

        return (found[0], found[1]);
    }

    private static double Root(double a, double b) => Math.Sqrt((a * a) + (b * b));

    private static (double Mass, double Relative) MassOf(Mass mass, Mass? massError)
    {
        double m = Require.Positive(mass, "what moves has a mass", nameof(mass)).Kilograms;
        return (m, Require.NotNegative(massError ?? Mass.Zero, "an error is not below zero", nameof(massError)).Kilograms / m);
    }

    private double Within(Duration time, string name)
        => Require.InRange(time, Duration.FromSeconds(times[0]), Duration.FromSeconds(times[^1]), "the run is known only where it was smoothed", name).Seconds;

    private Measured<T> Make<T>(in Part part, Func<double, T> make)
        where T : struct, IQuantity
        => new(part.Value, part.Random, part.Systematic, HalfWidth(part), Options.Confidence, make);

    private double Sum(double[] on)
    {
        double sum = 0;
        for (int i = 0; i < on.Length; i++)
        {
            sum += on[i] * positions[i];
        }

        return sum;
    }

    private double RandomOf(double[] on)
    {
        double square = 0;
        for (int i = 0; i < on.Length; i++)
        {
            square += on[i] * on[i] / counts[i];
        }

        return sigma * Math.Sqrt(square);
    }

    private double[] FactorsAt(double t, int derivative)
    {
        double h = Bandwidth(t, window, out int low, out int high);
        Fill(t, h, low, high, Degree, derivative);
        double[] all = new double[times.Length];
        Array.Copy(factors, low, all, low, high - low);
        return all;
    }

    /// <summary>When the smooth curve first passes a place.</summary>
    private double TimeAt(double place, string name)
    {
        double before = times[0], valueBefore = PartsAt(before).Position.Value - place;
        for (int i = 1; i < times.Length; i++)
        {
            double after = times[i], valueAfter = PartsAt(after).Position.Value - place;
            if (valueBefore <= 0 && valueAfter > 0)
            {
                for (int k = 0; k < 60; k++)
                {
                    double middle = 0.5 * (before + after);
                    if (PartsAt(middle).Position.Value <= place)
                    {
                        before = middle;
                    }
                    else
                    {
                        after = middle;
                    }
                }

                return 0.5 * (before + after);
            }

            (before, valueBefore) = (after, valueAfter);
        }

        throw Require.Fault(name, Show.Quantity(Length.FromMeters(place)), "a place that the smooth curve passes going forward", $"the part that was smoothed runs from {Show.Quantity(Length.FromMeters(positions[0]))} to {Show.Quantity(Length.FromMeters(positions[^1]))}");
    }

    /// <summary>Half the window at a time, so that a number of nearest frames lies inside, and which they are.</summary>
    private double Bandwidth(double t, int frames, out int low, out int high)
    {
        int n = times.Length;
        int at = Array.BinarySearch(times, t);
        at = at >= 0 ? at : Math.Min(~at, n - 1);
        low = at;
        high = at;

        // Grow to the nearer side.
        while (high - low < Math.Min(frames, n))
        {
            bool left = low > 0 && (high >= n || t - times[low - 1] <= times[high] - t);
            if (left)
            {
                low--;
            }
            else
            {
                high++;
            }
        }

        double next = double.PositiveInfinity;
        if (low > 0)
        {
            next = t - times[low - 1];
        }

        if (high < n)
        {
            next = Math.Min(next, times[high] - t);
        }

        double inside = Math.Max(t - times[low], times[high - 1] - t);

        // The window ends where the next frame stands, or as far beyond the last as frames are apart.
        return double.IsFinite(next) && next > inside ? next : inside * (1 + (1.0 / (high - low)));
    }

    private void Fill(double t, double h, int low, int high, int degree, int derivative)
    {
        int n = high - low;
        for (int i = low; i < high; i++)
        {
            double u = (times[i] - t) / h;
            weights[i] = counts[i] * Math.Max(0, 1 - (u * u));
        }

        LocalPolynomial.Factors(times.AsSpan(low, n), weights.AsSpan(low, n), t, h, degree, derivative, factors.AsSpan(low, n));
    }

    /// <summary>The root of the mean square by which frames that are left out are missed.</summary>
    private double LeftOut(int frames, int[] probes, int degree)
    {
        double sum = 0, total = 0;
        foreach (int i in probes)
        {
            double h = Bandwidth(times[i], frames, out int low, out int high);
            Fill(times[i], h, low, high, degree, 0);
            double value = 0;
            for (int j = low; j < high; j++)
            {
                value += factors[j] * positions[j];
            }

            // Leaving a point out changes a linear fit's residual by its leverage: r/(1 − l), exactly.
            double miss = (positions[i] - value) / Math.Max(1 - factors[i], 1e-9);
            sum += counts[i] * miss * miss;
            total += counts[i];
        }

        return Math.Sqrt(sum / total);
    }

    private (int Frames, ImmutableArray<TriedWindow> Tried) ChooseWindow(int? given, int[] probes)
    {
        int n = times.Length;
        if (given is int asked)
        {
            if (asked > frames)
            {
                throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"the window of {asked} frames is longer than the part to smooth, {frames} frames."), nameof(given));
            }

            int whole = Math.Clamp((int)Math.Round((double)asked / group), LeastWindow, n);
            return (whole, [new TriedWindow(whole * group, Length.FromMeters(LeftOut(whole, probes, SelectionDegree)))]);
        }

        var tried = ImmutableArray.CreateBuilder<TriedWindow>();
        double least = double.PositiveInfinity;
        int before = 0;
        for (int k = 0; k < Windows; k++)
        {
            int next = (int)Math.Round(LeastWindow * Math.Pow((double)n / LeastWindow, (double)k / (Windows - 1)));
            if (next <= before)
            {
                continue;
            }

            before = next;
            double miss = LeftOut(next, probes, SelectionDegree);
            tried.Add(new TriedWindow(next * group, Length.FromMeters(miss)));
            least = Math.Min(least, miss);
        }

        // Where several windows do about as well, the least misses by luck: the shortest of them keeps the bands honest.
        return (tried.First(one => one.Miss.Meters <= Indifference * least).Frames / group, tried.ToImmutable());
    }

    /// <summary>Scatter about the smooth curve: σ² from Σ r² / Σ (1 − 2 lᵢᵢ + Σ lᵢⱼ²), which is without bias for independent errors.</summary>
    private (double Sigma, double Degrees, double Autocorrelation) Scatter(int[] probes)
    {
        double sum = 0, expected = 0, products = 0, squares = 0, previous = double.NaN;
        int previousIndex = -2;
        foreach (int i in probes)
        {
            double h = Bandwidth(times[i], window, out int low, out int high);
            Fill(times[i], h, low, high, Degree, 0);
            double value = 0, spread = 0;
            for (int j = low; j < high; j++)
            {
                value += factors[j] * positions[j];
                spread += factors[j] * factors[j] / counts[j];
            }

            double residual = positions[i] - value;
            sum += counts[i] * residual * residual;
            expected += 1 - (2 * factors[i]) + (counts[i] * spread);
            if (previousIndex == i - 1)
            {
                products += residual * previous * Math.Sqrt(counts[i] * counts[i - 1]);
                squares += counts[i] * residual * residual;
            }

            (previous, previousIndex) = (residual, i);
        }

        return (Math.Sqrt(sum / expected), Math.Max(expected, 1), squares > 0 ? products / squares : 0);
    }

    /// <summary>A value with the two parts of its standard error.</summary>
    internal readonly record struct Part(double Value, double Random, double Systematic);
}

/// <summary>A window that was tried.</summary>
/// <param name="Frames">How many frames it holds.</param>
/// <param name="Miss">Root of the mean square by which it missed frames that were left out.</param>
public readonly record struct TriedWindow(int Frames, Length Miss)
{
    /// <summary>The window in words.</summary>
    public override string ToString() => $"{Frames} frames: missed by {Show.Quantity(Miss)}";
}

/// <summary>A smoothed run at one time.</summary>
/// <param name="Time">When.</param>
/// <param name="Position">Where the sled's mark is.</param>
/// <param name="Speed">How fast it is.</param>
/// <param name="Acceleration">Its acceleration.</param>
public sealed record SmoothedSample(Duration Time, Measured<Length> Position, Measured<Speed> Speed, Measured<Acceleration> Acceleration)
{
    /// <summary>The sample in words, a line each.</summary>
    public override string ToString()
        => string.Join(Environment.NewLine, $"at {Show.Quantity(Time)}", $"position {Position}", $"speed {Speed}", $"acceleration {Acceleration}");
}

/// <summary>The figures people quote of a run, with their errors.</summary>
/// <param name="ExitSpeed">Speed at the release.</param>
/// <param name="StartSpeed">Speed where the push began.</param>
/// <param name="PushTime">Time from there to the release.</param>
/// <param name="MeanAcceleration">Gain of speed over that time.</param>
/// <param name="MeanForce">Mass times mean acceleration; null where no mass was given.</param>
public sealed record RunFigures(
    Measured<Speed> ExitSpeed, Measured<Speed> StartSpeed, Measured<Duration> PushTime, Measured<Acceleration> MeanAcceleration, Measured<Force>? MeanForce)
{
    /// <summary>The figures in words, a line each.</summary>
    public override string ToString()
        => string.Join(
            Environment.NewLine,
            new[]
            {
                $"exit speed {ExitSpeed}",
                $"mean acceleration {MeanAcceleration} over {Show.Quantity(PushTime.Value)}",
                MeanForce is null ? "" : $"mean force {MeanForce}",
            }.Where(line => line.Length > 0));
}
