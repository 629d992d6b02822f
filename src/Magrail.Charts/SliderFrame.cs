namespace Magrail.Charts;

/// <summary>One position of a slider: a chart, what the slider stands at, and the figures that go with it.</summary>
public sealed record SliderFrame
{
    /// <summary>A position of the slider.</summary>
    /// <param name="label">What the slider stands at, for example <c>24 V</c>.</param>
    /// <param name="words">The figures of this position in a few words, for example <c>exit speed 11.4 m/s</c>.</param>
    /// <param name="chart">The lines drawn there.</param>
    /// <exception cref="ArgumentException">A text is empty.</exception>
    public SliderFrame(string label, string words, LineChart chart)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(label);
        ArgumentException.ThrowIfNullOrWhiteSpace(words);
        ArgumentNullException.ThrowIfNull(chart);
        Label = label;
        Words = words;
        Chart = chart;
    }

    /// <summary>What the slider stands at.</summary>
    public string Label { get; }

    /// <summary>The figures of this position in a few words.</summary>
    public string Words { get; }

    /// <summary>The lines drawn there.</summary>
    public LineChart Chart { get; }
}
