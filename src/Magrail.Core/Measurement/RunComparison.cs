using System.Collections.Immutable;
using System.Globalization;
using Magrail.Numerics;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A filmed run beside the launch that was computed for it: residuals within bands, and the place where the two part.</summary>
/// <remarks>
/// The film's clock is set by the computed launch unless its start is given: one time is fitted so that the positions agree best. What is alike in
/// both then cannot show a difference: a launch that is late as a whole looks right. The residuals of the frames are smoothed by the film's window, so that
/// a computed ripple too fast for it counts as no difference. Columns are plain numbers in SI units.
/// </remarks>
[UnitInName]
public sealed class RunComparison
{
    private RunComparison(SmoothedRun measured, LaunchResult predicted, double start, double origin, bool fitted)
    {
        Measured = measured;
        Predicted = predicted;
        Start = Duration.FromSeconds(start);
        StartIsFitted = fitted;
        double end = predicted.Trace.End.Seconds;
        List<double> time = [], place = [], x = [], xBand = [], v = [], vBand = [];

        // The residuals of the frames are smoothed, not the frames: a ripple that is computed but too fast for the window is then no difference.
        double[] residuals = new double[measured.FrameTimes.Length];
        for (int i = 0; i < residuals.Length; i++)
        {
            residuals[i] = measured.FramePositions[i] + origin - predicted.Trace.MotionAt(measured.FrameTimes[i] - start).PositionMeters;
        }

        for (int i = 0; i < measured.TimeSeconds.Length; i++)
        {
            double t = measured.TimeSeconds[i] - start;
            if (t < 0 || t > end)
            {
                continue;
            }

            (double off, double slope) = measured.Apply(residuals, measured.TimeSeconds[i]);
            time.Add(t);
            place.Add(predicted.Trace.MotionAt(t).PositionMeters);
            x.Add(off);
            xBand.Add(measured.PositionHalfWidthMeters[i]);
            v.Add(slope);
            vBand.Add(measured.SpeedHalfWidthMetersPerSecond[i]);
        }

        if (time.Count < FilmedRun.LeastFrames)
        {
            throw new ArgumentException(
                string.Create(CultureInfo.InvariantCulture, $"film and computed launch share {time.Count} frames, with the launch beginning at {Show.Quantity(Start)} of the film; they must share {FilmedRun.LeastFrames} or more."), nameof(measured));
        }

        TimeSeconds = [.. time];
        PredictedPositionMeters = [.. place];
        PositionResidualMeters = [.. x];
        PositionHalfWidthMeters = [.. xBand];
        SpeedResidualMetersPerSecond = [.. v];
        SpeedHalfWidthMetersPerSecond = [.. vBand];
        PartAt = FindParting();
    }

    /// <summary>The film.</summary>
    public SmoothedRun Measured { get; }

    /// <summary>The computed launch.</summary>
    public LaunchResult Predicted { get; }

    /// <summary>Time of the film at which the computed launch begins.</summary>
    public Duration Start { get; }

    /// <summary>Whether <see cref="Start"/> was fitted, or given.</summary>
    public bool StartIsFitted { get; }

    /// <summary>Time since the start of the launch, s, where the two overlap.</summary>
    public ImmutableArray<double> TimeSeconds { get; }

    /// <summary>Computed position, m.</summary>
    public ImmutableArray<double> PredictedPositionMeters { get; }

    /// <summary>Measured less computed position, m.</summary>
    public ImmutableArray<double> PositionResidualMeters { get; }

    /// <summary>Half the width of the measured position's band, m.</summary>
    public ImmutableArray<double> PositionHalfWidthMeters { get; }

    /// <summary>Measured less computed speed, m/s.</summary>
    public ImmutableArray<double> SpeedResidualMetersPerSecond { get; }

    /// <summary>Half the width of the measured speed's band, m/s.</summary>
    public ImmutableArray<double> SpeedHalfWidthMetersPerSecond { get; }

    /// <summary>The computed position of the sled where the speeds part for good; null where they do not.</summary>
    /// <remarks>
    /// They part where the speeds differ by more than a band that is wide enough to cover everywhere at once (the tube of J. Sun and C. R. Loader, Ann. Stat. 22
    /// (1994) 1328), so that one of many comparisons does not part them by chance; the place is where the residual last left the pointwise band before.
    /// </remarks>
    public Length? PartAt { get; }

    /// <summary>Whether film and computed launch agree within the bands.</summary>
    public bool Agrees => PartAt is null;

    /// <summary>Compares a film with a computed launch.</summary>
    /// <param name="measured">The film, smoothed.</param>
    /// <param name="predicted">The computed launch.</param>
    /// <param name="start">Time of the film at which the launch begins (the switch closes); fitted where null.</param>
    /// <param name="origin">Where on the track the film's position zero lies; at the track's zero where null.</param>
    /// <exception cref="ArgumentNullException">A part is null.</exception>
    /// <exception cref="ArgumentException">The two share fewer than 12 frames.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite.</exception>
    public static RunComparison Between(SmoothedRun measured, LaunchResult predicted, Duration? start = null, Length? origin = null)
    {
        ArgumentNullException.ThrowIfNull(measured);
        ArgumentNullException.ThrowIfNull(predicted);
        double shift = Require.Finite(origin ?? Length.Zero, "a place on the track", nameof(origin)).Meters;
        return start is Duration given
            ? new RunComparison(measured, predicted, Require.Finite(given, "a film has times", nameof(start)).Seconds, shift, fitted: false)
            : new RunComparison(measured, predicted, FitStart(measured.TimeSeconds, measured.PositionMeters, predicted.Trace, shift), shift, fitted: true);
    }

    /// <summary>The comparison in words.</summary>
    public override string ToString()
    {
        int last = TimeSeconds.Length - 1;
        double end = SpeedResidualMetersPerSecond[last];
        string ends = $"at {Show.Quantity(Length.FromMeters(PredictedPositionMeters[last]))} the film has {Show.Quantity(Speed.FromMetersPerSecond(end + SpeedAt(last)))}, the computed launch {Show.Quantity(Speed.FromMetersPerSecond(SpeedAt(last)))}: {Show.Quantity(Speed.FromMetersPerSecond(Math.Abs(end)))} {(end < 0 ? "less" : "more")} on film, within ± {Show.Quantity(Speed.FromMetersPerSecond(SpeedHalfWidthMetersPerSecond[last]))} ({100 * Measured.Options.Confidence:G4} %)";
        return PartAt is not Length place
            ? $"Film and computed launch agree within the bands all the way; {ends}."
            : place.Meters <= PredictedPositionMeters[0] + 1e-12
                ? $"Film and computed launch differ from the first frame on: {ends}."
                : $"Film and computed launch agree up to {Show.Quantity(place)}; from there the sled is {(end < 0 ? "slower" : "faster")} than computed: {ends}.";
    }

    /// <summary>The time of a film at which a computed launch must begin so that positions agree best.</summary>
    internal static double FitStart(ImmutableArray<double> times, ImmutableArray<double> positions, LaunchTrace trace, double origin)
    {
        // Where the film passes the middle of the way that both know tells the start roughly; least squares do the rest.
        double end = trace.End.Seconds;
        double low = trace.MotionAt(0).PositionMeters, high = trace.MotionAt(end).PositionMeters;
        double first = positions[0] + origin, last = positions[^1] + origin;
        double middle = 0.5 * (Math.Max(low, Math.Min(first, last)) + Math.Min(high, Math.Max(first, last)));
        int near = 0;
        while (near < times.Length - 1 && positions[near] + origin < middle)
        {
            near++;
        }

        double a = 0, b = end;
        for (int k = 0; k < 60; k++)
        {
            double m = 0.5 * (a + b);
            (a, b) = trace.MotionAt(m).PositionMeters < middle ? (m, b) : (a, m);
        }

        double guess = times[near] - a;
        int[] used = [.. Enumerable.Range(0, times.Length).Where(i => positions[i] + origin >= low && positions[i] + origin <= high)];
        if (used.Length < FilmedRun.LeastFrames)
        {
            throw new ArgumentException(
                string.Create(CultureInfo.InvariantCulture, $"{used.Length} frames lie between start and release of the computed launch ({Show.Quantity(Length.FromMeters(low))} to {Show.Quantity(Length.FromMeters(high))}); there must be {FilmedRun.LeastFrames} or more. Check the film's origin."), nameof(positions));
        }

        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, residuals) =>
            {
                for (int i = 0; i < used.Length; i++)
                {
                    residuals[i] = positions[used[i]] + origin - trace.MotionAt(times[used[i]] - p[0]).PositionMeters;
                }
            },
            used.Length,
            [guess],
            new LeastSquaresOptions { Scales = [0.1 * end], RelativeStep = 1e-3, FourthOrder = false, StepTolerance = 1e-8 });
        return fit.Parameters[0];
    }

    private double SpeedAt(int i) => Predicted.Trace.MotionAt(TimeSeconds[i]).SpeedMetersPerSecond;

    private Length? FindParting()
    {
        double wider = Measured.SimultaneousFactor(Start.Seconds + TimeSeconds[0], Start.Seconds + TimeSeconds[^1]);
        for (int i = 0; i < TimeSeconds.Length; i++)
        {
            if (Math.Abs(SpeedResidualMetersPerSecond[i]) > wider * SpeedHalfWidthMetersPerSecond[i])
            {
                int back = i;
                while (back > 0 && Math.Abs(SpeedResidualMetersPerSecond[back - 1]) > SpeedHalfWidthMetersPerSecond[back - 1]
                    && Math.Sign(SpeedResidualMetersPerSecond[back - 1]) == Math.Sign(SpeedResidualMetersPerSecond[i]))
                {
                    back--;
                }

                return Length.FromMeters(PredictedPositionMeters[back]);
            }
        }

        return null;
    }
}
