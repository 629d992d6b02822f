using System.Globalization;
using System.Text;
using System.Text.Json;

namespace Magrail.Charts;

/// <summary>
/// A slider over charts that were computed beforehand: one design number, a chart for each of its values, and axes that stay where they are, so that the eye can
/// compare. It works by mouse, finger and arrow keys, without a network and without a running kernel.
/// </summary>
public sealed record SliderChart : Chart
{
    /// <summary>A slider over charts of the same panels.</summary>
    /// <param name="title">What is shown.</param>
    /// <param name="number">What the slider changes, for example <c>voltage</c>.</param>
    /// <param name="frames">Its positions in order, two or more, all with the same axes.</param>
    /// <exception cref="ArgumentException">A text is empty, there are fewer than two positions, two have one label, or their axes differ.</exception>
    public SliderChart(string title, string number, params IReadOnlyList<SliderFrame> frames)
        : base(title)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(number);
        ArgumentNullException.ThrowIfNull(frames);
        if (frames.Count < 2)
        {
            throw new ArgumentException($"The slider '{title}' has {frames.Count} positions: it needs two at least.", nameof(frames));
        }

        LineChart first = frames[0].Chart;
        foreach (SliderFrame frame in frames)
        {
            if (frame.Chart.Horizontal != first.Horizontal
                || !frame.Chart.PanelsFromTop.Select(panel => panel.Vertical).SequenceEqual(first.PanelsFromTop.Select(panel => panel.Vertical)))
            {
                throw new ArgumentException(
                    $"The slider '{title}' has other axes at '{frame.Label}' than at '{frames[0].Label}': only charts of the same axes can take each other's place.", nameof(frames));
            }
        }

        if (frames.GroupBy(frame => frame.Label).FirstOrDefault(alike => alike.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"The slider '{title}' has two positions named '{twice.Key}': each needs a label of its own.", nameof(frames));
        }

        Number = number;
        Frames = [.. frames];
    }

    /// <summary>What the slider changes.</summary>
    public string Number { get; }

    /// <summary>Its positions.</summary>
    public IReadOnlyList<SliderFrame> Frames { get; }

    /// <summary>The position, counted from zero, at which it stands at first.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to a position that it does not have.</exception>
    public int Start
    {
        get;
        init => field = value >= 0 && value < Frames.Count
            ? value
            : throw new ArgumentOutOfRangeException(nameof(value), value, $"The slider has the positions 0 to {Frames.Count - 1}.");
    }

    /// <summary>Where the horizontal axis begins and ends at every position, in its unit.</summary>
    public (double From, double To) HorizontalRange
    {
        get
        {
            IEnumerable<double> all = Frames.SelectMany(frame => frame.Chart.PanelsFromTop).SelectMany(panel => panel.Series).SelectMany(series => series.X);
            return Widened(all.Min(), all.Max(), 0);
        }
    }

    /// <summary>Where the vertical axis of each panel begins and ends at every position, in its unit.</summary>
    public IReadOnlyList<(double From, double To)> VerticalRanges
        => [.. Enumerable.Range(0, Frames[0].Chart.PanelsFromTop.Count).Select(panel =>
        {
            ChartPanel[] all = [.. Frames.Select(frame => frame.Chart.PanelsFromTop[panel])];
            IEnumerable<double> tops = all.SelectMany(each => each.Series).SelectMany(series => series.Y.Select((y, i) => y + (series.HalfWidths?[i] ?? 0)));
            IEnumerable<double> feet = all.SelectMany(each => each.Series).SelectMany(series => series.Y.Select((y, i) => y - (series.HalfWidths?[i] ?? 0)));
            double[] levels = [.. all.SelectMany(each => each.Levels).Select(level => level.Value)];
            double[] zero = all.Any(each => each.FromZero || each.Series.Any(series => series.Filled)) ? [0] : [];
            (double from, double to) = Widened(feet.Concat(levels).Concat(zero).Min(), tops.Concat(levels).Concat(zero).Max(), 0.05);

            // The words of a guide line stand on it: above the highest there is to be room for them.
            double head = levels.Length == 0 ? to : levels.Max() + (0.12 * (to - from));
            return (from, Math.Max(to, head));
        })];

    /// <inheritdoc/>
    public override string ToText()
    {
        var text = new StringBuilder(Title);
        text.Append(CultureInfo.InvariantCulture, $"\n  slider over {Number}, {Frames.Count} positions; drawn at each: {Drawn}");
        foreach (SliderFrame frame in Frames)
        {
            text.Append("\n  ").Append(frame.Label).Append(": ").Append(frame.Words);
        }

        return text.ToString();
    }

    internal override string FigureJson() => FigureJson(Frames[Start]);

    /// <summary>A still shows the position at which the slider stands, and names it.</summary>
    private protected override void DrawStill(SvgSheet sheet)
    {
        SliderFrame frame = Frames[Start];
        sheet.Paragraph(8, sheet.Width - 16, $"{Number}: {frame.Label}. {frame.Words}", 13);
        StillLines.Draw(frame.Chart, sheet);
    }

    private protected override string BodyHtml()
    {
        var html = new StringBuilder();
        SliderFrame start = Frames[Start];
        html.Append("<div class=\"magrail-control\"><label><span>").Append(Encode(Number)).Append("</span> <input type=\"range\" min=\"0\" max=\"")
            .Append((Frames.Count - 1).ToString(CultureInfo.InvariantCulture)).Append("\" step=\"1\" value=\"").Append(Start.ToString(CultureInfo.InvariantCulture))
            .Append("\" aria-valuetext=\"").Append(Encode(start.Label)).Append("\"></label> <output>").Append(Encode(start.Label)).Append("</output></div>\n");
        html.Append("<p class=\"magrail-frame-words\" aria-live=\"polite\">").Append(Encode(start.Words)).Append("</p>\n");
        html.Append(PlotHtml(start.Chart.Description, FigureJson(), FramesJson()));
        return html.ToString();
    }

    private protected override string Describe()
        => $"A slider over {Number}: {string.Join("; ", Frames.Select(frame => $"at {frame.Label} {frame.Words}"))}. Drawn at each position: {Drawn}.";

    private protected override string TableHtml()
    {
        var html = new StringBuilder();
        html.Append("<table><thead><tr><th scope=\"col\">").Append(Encode(Number)).Append("</th><th scope=\"col\">figures</th></tr></thead><tbody>");
        foreach (SliderFrame frame in Frames)
        {
            html.Append("<tr><th scope=\"row\">").Append(Encode(frame.Label)).Append("</th><td style=\"text-align:left\">").Append(Encode(frame.Words)).Append("</td></tr>");
        }

        return html.Append("</tbody></table>").ToString();
    }

    private string Drawn
        => $"{string.Join(", ", Frames[0].Chart.PanelsFromTop.Select(panel => panel.Vertical.Title))} against {Frames[0].Chart.Horizontal.Title}";

    private static (double From, double To) Widened(double least, double greatest, double share)
    {
        double span = greatest - least;
        if (span == 0)
        {
            span = least == 0 ? 1 : Math.Abs(least);
            return (least - (0.5 * span), greatest + (0.5 * span));
        }

        // Zero stays the end of an axis that ends there.
        return (least == 0 ? 0 : least - (share * span), greatest == 0 ? 0 : greatest + (share * span));
    }

    private string FigureJson(SliderFrame frame)
        => Thinner(frame.Chart).FigureJson([HorizontalRange.From, HorizontalRange.To], [.. VerticalRanges.Select(range => new[] { range.From, range.To })]);

    /// <summary>The lines with fewer points: with many positions on one page, half a pixel is fine enough.</summary>
    private static LineChart Thinner(LineChart chart)
        => new(chart.Title, chart.Horizontal, [.. chart.PanelsFromTop.Select(panel => new ChartPanel(panel.Vertical, [.. panel.Series.Select(Thinner)]) { FromZero = panel.FromZero, Levels = panel.Levels })])
        {
            Places = chart.Places,
            Ribbon = chart.Ribbon,
        };

    private static ChartSeries Thinner(ChartSeries series)
    {
        if (series.Points || series.Filled || series.HalfWidths is not null)
        {
            return series;
        }

        int[] kept = LineThinning.Kept(series.X, series.Y, 1.0 / 400);
        return new ChartSeries(series.Name, [.. kept.Select(i => series.X[i])], [.. kept.Select(i => series.Y[i])]) { Tone = series.Tone };
    }

    /// <summary>What changes from position to position: lines, guide lines, ribbon, words.</summary>
    private string FramesJson()
    {
        var json = new StringBuilder("[");
        foreach (SliderFrame frame in Frames)
        {
            using JsonDocument figure = JsonDocument.Parse(FigureJson(frame));
            JsonElement layout = figure.RootElement.GetProperty("layout");
            json.Append(json.Length > 1 ? "," : string.Empty)
                .Append("{\"data\":").Append(figure.RootElement.GetProperty("data").GetRawText())
                .Append(",\"shapes\":").Append(layout.GetProperty("shapes").GetRawText())
                .Append(",\"annotations\":").Append(layout.GetProperty("annotations").GetRawText())
                .Append(",\"label\":").Append(JsonText(frame.Label))
                .Append(",\"words\":").Append(JsonText(frame.Words))
                .Append(",\"description\":").Append(JsonText(frame.Chart.Description)).Append('}');
        }

        return json.Append(']').ToString();
    }
}
