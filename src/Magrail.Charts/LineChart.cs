using System.Globalization;
using System.Text;

namespace Magrail.Charts;

/// <summary>Lines in one panel or several above one shared horizontal axis.</summary>
public sealed record LineChart : Chart
{
    private const int TableRows = 13;

    /// <summary>A chart of panels above one shared horizontal axis.</summary>
    /// <param name="title">What the chart shows.</param>
    /// <param name="horizontal">The shared horizontal axis.</param>
    /// <param name="panels">The panels, from the top down.</param>
    /// <exception cref="ArgumentException">A text is empty or there is no panel.</exception>
    public LineChart(string title, ChartAxis horizontal, params IReadOnlyList<ChartPanel> panels)
        : base(title)
    {
        ArgumentNullException.ThrowIfNull(horizontal);
        ArgumentNullException.ThrowIfNull(panels);
        if (panels.Count == 0)
        {
            throw new ArgumentException($"The chart '{title}' has no panel: it needs at least one.", nameof(panels));
        }

        Horizontal = horizontal;
        PanelsFromTop = [.. panels];
    }

    /// <summary>The shared horizontal axis.</summary>
    public ChartAxis Horizontal { get; }

    /// <summary>The panels, from the top down.</summary>
    public IReadOnlyList<ChartPanel> PanelsFromTop { get; }

    /// <summary>Vertical guide lines through all panels, in the unit of the horizontal axis.</summary>
    public IReadOnlyList<ChartMark> Places { get; init; } = [];

    /// <summary>A ribbon drawn to scale under the panels, such as the magnet stations along the track.</summary>
    public IReadOnlyList<ChartBand> Ribbon { get; init; } = [];

    /// <inheritdoc/>
    public override string ToText()
    {
        var text = new StringBuilder();
        text.Append(Title).Append('\n');
        (double least, double greatest) = Reach();
        text.Append(CultureInfo.InvariantCulture, $"  {Horizontal.Title}: {Show.Number(least)} to {Show.Number(greatest)}\n");
        foreach (ChartPanel panel in PanelsFromTop)
        {
            foreach (ChartSeries series in panel.Series)
            {
                text.Append("  ").Append(Name(panel, series)).Append(": ").Append(Course(series)).Append('\n');
            }

            foreach (ChartMark level in panel.Levels)
            {
                text.Append(CultureInfo.InvariantCulture, $"    guide line at {Show.Number(level.Value)}: {level.Name}\n");
            }
        }

        foreach (ChartMark place in Places)
        {
            text.Append(CultureInfo.InvariantCulture, $"  at {Show.Number(place.Value)} {Horizontal.Unit}: {place.Name}\n");
        }

        return text.ToString().TrimEnd('\n');
    }

    internal override string FigureJson() => FigureJson([], []);

    /// <summary>The figure with fixed ends of its axes; where empty, they follow the numbers.</summary>
    internal string FigureJson(double[] horizontalRange, double[][] verticalRanges)
    {
        (ChartSeries Series, int Panel)[] all =
            [.. PanelsFromTop.SelectMany((panel, index) => panel.Series.Select(series => (series, index)))];
        ChartTone[] tones = Palette.Tones(all.Select(each => each.Series.Tone));
        (ChartMark Mark, int Panel)[] levels =
            [.. PanelsFromTop.SelectMany((panel, index) => panel.Levels.Select(level => (level, index)))];
        return FigureDoor.Lines(
            Horizontal.Title,
            horizontalRange,
            verticalRanges,
            [.. PanelsFromTop.Select(panel => panel.Vertical.Title)],
            [.. PanelsFromTop.Select(panel => panel.FromZero)],
            [.. all.Select(each => each.Series.Name)],
            [.. all.Select(each => each.Panel)],
            [.. all.Select(each => SixDigits(each.Series.X))],
            [.. all.Select(each => SixDigits(each.Series.Y))],
            [.. tones.Select(Palette.Color)],
            // A line alone in its panel needs no dashes to be told apart.
            [.. all.Select((each, i) => PanelsFromTop[each.Panel].Series.Count == 1 ? "solid" : Palette.Dash(tones[i]))],
            [.. all.Select((each, i) => each.Series.Points ? Palette.Symbol(tones[i]) : string.Empty)],
            [.. all.Select(each => each.Series.Filled)],
            [.. all.Select(each => each.Series.HalfWidths is { } widths ? SixDigits(widths) : [])],
            [.. levels.Select(each => each.Mark.Name)],
            [.. levels.Select(each => each.Panel)],
            [.. levels.Select(each => each.Mark.Value)],
            [.. Places.Select(place => place.Name)],
            [.. Places.Select(place => place.Value)],
            [.. Ribbon.Select(band => band.Name)],
            [.. Ribbon.Select(band => band.From)],
            [.. Ribbon.Select(band => band.To)],
            [.. Ribbon.Select(band => Palette.Color(band.Shade))]);
    }

    private protected override void DrawStill(SvgSheet sheet) => StillLines.Draw(this, sheet);

    private protected override string Describe()
    {
        var sentences = new StringBuilder();
        foreach (ChartPanel panel in PanelsFromTop)
        {
            foreach (ChartSeries series in panel.Series)
            {
                sentences.Append(CultureInfo.InvariantCulture, $"{Name(panel, series)} against {Horizontal.Title}: {Course(series)}. ");
            }
        }

        return sentences.ToString().TrimEnd();
    }

    private protected override string TableHtml()
    {
        var html = new StringBuilder();
        foreach (ChartPanel panel in PanelsFromTop)
        {
            foreach (IGrouping<int, ChartSeries> alike in panel.Series.GroupBy(series => series.X.Count))
            {
                // Series over the same horizontal numbers share one table.
                foreach (ChartSeries[] block in Blocks([.. alike]))
                {
                    html.Append("<table><thead><tr><th scope=\"col\">").Append(Encode(Horizontal.Title)).Append("</th>");
                    foreach (ChartSeries series in block)
                    {
                        html.Append("<th scope=\"col\">").Append(Encode(Name(panel, series))).Append("</th>");
                    }

                    html.Append("</tr></thead><tbody>");
                    foreach (int row in Rows(block[0].X))
                    {
                        html.Append("<tr><td>").Append(Show.Number(block[0].X[row])).Append("</td>");
                        foreach (ChartSeries series in block)
                        {
                            html.Append("<td>").Append(Show.Number(series.Y[row])).Append(series.HalfWidths is { } widths ? $" ± {Show.Number(widths[row])}" : string.Empty).Append("</td>");
                        }

                        html.Append("</tr>");
                    }

                    html.Append("</tbody></table>");
                }
            }
        }

        return html.ToString();
    }

    private static IEnumerable<ChartSeries[]> Blocks(ChartSeries[] series)
        => series.All(each => each.X.SequenceEqual(series[0].X)) ? [series] : series.Select(each => new[] { each });

    /// <summary>Rows near evenly spaced places along the horizontal axis.</summary>
    private static IEnumerable<int> Rows(IReadOnlyList<double> x)
    {
        if (x.Count <= TableRows)
        {
            return Enumerable.Range(0, x.Count);
        }

        double least = x.Min();
        double step = (x.Max() - least) / (TableRows - 1);
        return Enumerable.Range(0, TableRows)
            .Select(row => least + (row * step))
            .Select(place => Enumerable.Range(0, x.Count).MinBy(i => Math.Abs(x[i] - place)))
            .Distinct();
    }

    private static string Name(ChartPanel panel, ChartSeries series)
        => panel.Series.Count == 1 ? panel.Vertical.Title : $"{series.Name}, {panel.Vertical.Title}";

    private static double[] SixDigits(IReadOnlyList<double> numbers)
    {
        // Six digits are finer than any screen or printer, and keep pages small. They count from the greatest size in the series,
        // so that noise near zero is not spelled out.
        double size = numbers.Max(Math.Abs);
        if (size == 0)
        {
            return [.. numbers];
        }

        double step = Math.Pow(10, Math.Floor(Math.Log10(size)) - 5);
        int places = (int)Math.Max(0, -Math.Log10(step) + 0.5);
        return [.. numbers.Select(number => places > 15 ? number : Math.Round(number, places))];
    }

    private static string Course(ChartSeries series)
    {
        int least = 0;
        int greatest = 0;
        for (int i = 1; i < series.Y.Count; i++)
        {
            least = series.Y[i] < series.Y[least] ? i : least;
            greatest = series.Y[i] > series.Y[greatest] ? i : greatest;
        }

        // What is only rounding beside the rest is a zero.
        double noise = 1e-12 * series.Y.Max(Math.Abs);
        string Height(double value) => Show.Number(Math.Abs(value) < noise ? 0 : value);
        int last = series.Y.Count - 1;
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"{Height(series.Y[0])} at {Show.Number(series.X[0])}");
        if (last > 0)
        {
            text.Append(CultureInfo.InvariantCulture, $", {Height(series.Y[last])} at {Show.Number(series.X[last])}");
        }

        if (greatest != 0 && greatest != last)
        {
            text.Append(CultureInfo.InvariantCulture, $"; greatest {Height(series.Y[greatest])} at {Show.Number(series.X[greatest])}");
        }

        if (least != 0 && least != last)
        {
            text.Append(CultureInfo.InvariantCulture, $"; least {Height(series.Y[least])} at {Show.Number(series.X[least])}");
        }

        if (series.HalfWidths is { } widths)
        {
            text.Append(CultureInfo.InvariantCulture, $"; band of ± {Show.Number(widths.Min())} to ± {Show.Number(widths.Max())}");
        }

        return text.ToString();
    }

    private (double Least, double Greatest) Reach()
    {
        IEnumerable<double> all = PanelsFromTop.SelectMany(panel => panel.Series).SelectMany(series => series.X);
        return (all.Min(), all.Max());
    }
}
