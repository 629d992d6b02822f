using UnitsNet;

namespace Magrail.Charts;

/// <summary>The charts of measured runs: one call each, with axis titles, units, bands and a text that says the same.</summary>
public static class MeasurementCharts
{
    private static readonly ChartAxis Time = new("time of the film", "s");
    private static readonly ChartAxis Position = new("position", "m");

    /// <summary>Position, speed and acceleration of a filmed run, each with its confidence band.</summary>
    /// <param name="run">The run made smooth.</param>
    /// <returns>The chart.</returns>
    public static LineChart Smoothed(SmoothedRun run)
    {
        ArgumentNullException.ThrowIfNull(run);
        ChartSeries Of(string name, ChartTone tone, IReadOnlyList<double> values, IReadOnlyList<double> halfWidths)
            => new(name, run.TimeSeconds, values) { HalfWidths = halfWidths, Tone = tone };
        return new LineChart(
            "The filmed run",
            Time,
            new ChartPanel(Position, Of("position", ChartTone.Slate, run.PositionMeters, run.PositionHalfWidthMeters)),
            new ChartPanel(new ChartAxis("speed", "m/s"), Of("speed", ChartTone.Ink, run.SpeedMetersPerSecond, run.SpeedHalfWidthMetersPerSecond)),
            new ChartPanel(
                new ChartAxis("acceleration", "m/s²"),
                Of("acceleration", ChartTone.Rust, run.AccelerationMetersPerSecondSquared, run.AccelerationHalfWidthMetersPerSecondSquared)))
        {
            Note = $"The bands cover the truth at each time with {Show.Number(100 * run.Options.Confidence)} %. Window: {run.WindowFrames} frames, {Show.Quantity(run.Window)}.",
        };
    }

    /// <summary>Speed along the track, as computed and as filmed, with the band of the film and the place where they part.</summary>
    /// <param name="comparison">Film beside computed launch.</param>
    /// <returns>The chart.</returns>
    public static LineChart AgainstPredicted(RunComparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        double[] predicted = [.. comparison.TimeSeconds.Select(time => comparison.Predicted.Trace.MotionAt(time).SpeedMetersPerSecond)];
        double[] measured = [.. predicted.Zip(comparison.SpeedResidualMetersPerSecond, (speed, residual) => speed + residual)];
        var panel = new ChartPanel(
            new ChartAxis("speed", "m/s"),
            new ChartSeries("film", comparison.PredictedPositionMeters, measured) { HalfWidths = comparison.SpeedHalfWidthMetersPerSecond, Tone = ChartTone.Rust },
            new ChartSeries("computed", comparison.PredictedPositionMeters, predicted) { Tone = ChartTone.Ink });
        return LaunchCharts.WithRibbon(
            new LineChart("Film against computed launch", Position, panel) { Places = Parting(comparison) }, comparison.Predicted.Launcher.Track, null, null) with
        {
            Note = $"The band covers the truth at each place with {Show.Number(100 * comparison.Measured.Options.Confidence)} %. {Verdict(comparison)}",
        };
    }

    /// <summary>What the film has more than the computed launch, in position and speed, with its bands.</summary>
    /// <param name="comparison">Film beside computed launch.</param>
    /// <returns>The chart. Where a band reaches zero, the two agree.</returns>
    public static LineChart Residuals(RunComparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        ChartPanel Of(string name, string unit, double factor, IReadOnlyList<double> values, IReadOnlyList<double> halfWidths) => new(
            new ChartAxis(name, unit),
            new ChartSeries("film less computed", comparison.PredictedPositionMeters, [.. values.Select(value => factor * value)])
            {
                HalfWidths = [.. halfWidths.Select(half => factor * half)],
                Tone = ChartTone.Rust,
            })
        {
            FromZero = true,
        };
        return new LineChart(
            "Film less computed launch",
            Position,
            Of("position, film less computed", "mm", 1e3, comparison.PositionResidualMeters, comparison.PositionHalfWidthMeters),
            Of("speed, film less computed", "m/s", 1, comparison.SpeedResidualMetersPerSecond, comparison.SpeedHalfWidthMetersPerSecond))
        {
            Places = Parting(comparison),
            Note = Verdict(comparison),
        };
    }

    private static ChartMark[] Parting(RunComparison comparison)
        => comparison.PartAt is Length place ? [new ChartMark("they part here", place.Meters)] : [];

    private static string Verdict(RunComparison comparison)
        => comparison.PartAt is Length place ? $"Film and computed launch part at {Show.Quantity(place)}." : "Film and computed launch agree within the bands all the way.";
}
