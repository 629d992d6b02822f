namespace Magrail.Charts;

/// <summary>One line of a chart: pairs of numbers in the units of the axes.</summary>
public sealed record ChartSeries
{
    /// <summary>A line through pairs of numbers.</summary>
    /// <param name="name">What the line is, for the key of the chart.</param>
    /// <param name="x">Numbers along the horizontal axis, in its unit.</param>
    /// <param name="y">Numbers along the vertical axis, in its unit; as many as <paramref name="x"/>.</param>
    /// <exception cref="ArgumentException">The name is empty, the counts differ, there is no point, or a number is not finite.</exception>
    public ChartSeries(string name, IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        if (x.Count != y.Count || x.Count == 0)
        {
            throw new ArgumentException($"Series '{name}' has {x.Count} numbers along and {y.Count} up: it needs as many of both, and at least one.", nameof(y));
        }

        for (int i = 0; i < x.Count; i++)
        {
            if (!double.IsFinite(x[i]) || !double.IsFinite(y[i]))
            {
                throw new ArgumentException($"Series '{name}' has a number that is not finite at point {i}: only finite numbers can be drawn.", nameof(y));
            }
        }

        Name = name;
        X = x;
        Y = y;
    }

    /// <summary>What the line is.</summary>
    public string Name { get; }

    /// <summary>Numbers along the horizontal axis, in its unit.</summary>
    public IReadOnlyList<double> X { get; }

    /// <summary>Numbers along the vertical axis, in its unit.</summary>
    public IReadOnlyList<double> Y { get; }

    /// <summary>
    /// Which of the chart colors and dash patterns the line takes, so that one quantity looks alike on every chart;
    /// null for the next in turn.
    /// </summary>
    public ChartTone? Tone { get; init; }

    /// <summary>
    /// Whether the numbers are single happenings, drawn as marks without a line between them; no by default. The marks, like the dashes
    /// of lines, differ from tone to tone.
    /// </summary>
    public bool Points { get; init; }

    /// <summary>Whether the ground between the line and zero is filled, as in a histogram; no by default.</summary>
    public bool Filled { get; init; }

    /// <summary>
    /// Half the width of the band around each number, in the unit of the vertical axis, such as that of a confidence interval; no band where null.
    /// </summary>
    /// <exception cref="ArgumentException">Set to another count than that of the numbers, or to a width that is not finite or below zero.</exception>
    public IReadOnlyList<double>? HalfWidths
    {
        get;
        init => field = value is null || (value.Count == X.Count && value.All(each => double.IsFinite(each) && each >= 0))
            ? value
            : throw new ArgumentException($"The band of series '{Name}' has {value.Count} half widths for {X.Count} numbers: it needs one for each, finite and not below zero.", nameof(value));
    }
}
