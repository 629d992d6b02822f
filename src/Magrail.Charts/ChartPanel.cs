namespace Magrail.Charts;

/// <summary>One panel of a line chart: a vertical axis with its lines.</summary>
public sealed record ChartPanel
{
    /// <summary>A panel of lines that share a vertical axis.</summary>
    /// <param name="vertical">The vertical axis.</param>
    /// <param name="series">One line or several.</param>
    /// <exception cref="ArgumentException">There is no line.</exception>
    public ChartPanel(ChartAxis vertical, params IReadOnlyList<ChartSeries> series)
    {
        ArgumentNullException.ThrowIfNull(vertical);
        ArgumentNullException.ThrowIfNull(series);
        if (series.Count == 0)
        {
            throw new ArgumentException($"The panel '{vertical.Title}' has no series: it needs at least one.", nameof(series));
        }

        Vertical = vertical;
        Series = [.. series];
    }

    /// <summary>The vertical axis.</summary>
    public ChartAxis Vertical { get; }

    /// <summary>The lines.</summary>
    public IReadOnlyList<ChartSeries> Series { get; }

    /// <summary>Whether the vertical axis is drawn from zero, even where no number is near it; no by default.</summary>
    public bool FromZero { get; init; }

    /// <summary>Horizontal guide lines, for limits and targets, in the unit of the vertical axis.</summary>
    public IReadOnlyList<ChartMark> Levels { get; init; } = [];
}
