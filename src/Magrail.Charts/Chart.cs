using System.Net;
using System.Text;

namespace Magrail.Charts;

/// <summary>
/// A chart that knows its own words: a title, axes with units, its numbers, and a text that says the same to those who do
/// not see it. It is drawn on a page that requests nothing from a network.
/// </summary>
public abstract record Chart
{
    private const double StillWidth = 640;

    private readonly string? _description;

    private protected Chart(string title)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(title);
        Title = title;
    }

    /// <summary>What the chart shows, in a few words.</summary>
    public string Title { get; }

    /// <summary>
    /// One or two sentences that say what a sighted reader would see. Set your own; otherwise they are made from the numbers.
    /// </summary>
    public string Description
    {
        get => _description ?? Describe();
        init => _description = value;
    }

    /// <summary>A remark below the drawing; none where null.</summary>
    public string? Note { get; init; }

    /// <summary>Lines against one horizontal axis.</summary>
    /// <param name="title">What the chart shows.</param>
    /// <param name="horizontal">The horizontal axis.</param>
    /// <param name="vertical">The vertical axis.</param>
    /// <param name="series">One line or several.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">A text is empty or there is no line.</exception>
    public static LineChart Lines(string title, ChartAxis horizontal, ChartAxis vertical, params IReadOnlyList<ChartSeries> series)
        => new(title, horizontal, new ChartPanel(vertical, series));

    /// <summary>Panels of lines above one shared horizontal axis.</summary>
    /// <param name="title">What the chart shows.</param>
    /// <param name="horizontal">The shared horizontal axis.</param>
    /// <param name="panels">The panels, from the top down.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">A text is empty or there is no panel.</exception>
    public static LineChart Panels(string title, ChartAxis horizontal, params IReadOnlyList<ChartPanel> panels)
        => new(title, horizontal, panels);

    /// <summary>Horizontal bars that start at zero.</summary>
    /// <param name="title">What the chart shows.</param>
    /// <param name="axis">The axis of the numbers.</param>
    /// <param name="bars">Words and number of each bar, from the top down.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">A text is empty, there is no bar, or a number is not finite.</exception>
    public static BarChart Bars(string title, ChartAxis axis, params IReadOnlyList<(string Name, double Value)> bars)
    {
        ArgumentNullException.ThrowIfNull(bars);
        return new BarChart(title, axis, [.. bars.Select(bar => new ChartBar(bar.Name, 0, bar.Value, ChartBarKind.Plain))]);
    }

    /// <summary>
    /// A ledger drawn as steps: first what came in, each on top of the one before, then each thing it went to, taken off in
    /// turn, so that what is left at the end can be seen.
    /// </summary>
    /// <param name="title">What the chart shows.</param>
    /// <param name="axis">The axis of the numbers.</param>
    /// <param name="gains">What came in.</param>
    /// <param name="losses">What it went to and is lost; positive numbers.</param>
    /// <param name="remainder">Words and number for what is left and kept, drawn from zero.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">A text is empty, there is no gain, or a number is not finite.</exception>
    public static BarChart Ledger(
        string title,
        ChartAxis axis,
        IReadOnlyList<(string Name, double Value)> gains,
        IReadOnlyList<(string Name, double Value)> losses,
        IReadOnlyList<(string Name, double Value)> remainder)
    {
        ArgumentNullException.ThrowIfNull(gains);
        ArgumentNullException.ThrowIfNull(losses);
        ArgumentNullException.ThrowIfNull(remainder);
        var bars = new List<ChartBar>();
        double level = 0;
        foreach ((string name, double value) in gains)
        {
            bars.Add(new ChartBar(name, level, level + value, ChartBarKind.Gain));
            level += value;
        }

        foreach ((string name, double value) in losses)
        {
            bars.Add(new ChartBar(name, level - value, level, ChartBarKind.Loss));
            level -= value;
        }

        foreach ((string name, double value) in remainder)
        {
            bars.Add(new ChartBar(name, 0, value, ChartBarKind.Kept));
        }

        return new BarChart(title, axis, bars);
    }

    /// <summary>
    /// A fragment of HTML with the chart, its text and its numbers as a table. The page must carry <see cref="ChartPage.Head"/>
    /// once; the fragment waits for it.
    /// </summary>
    /// <returns>HTML.</returns>
    public string ToHtml()
    {
        var html = new StringBuilder();
        html.Append("<figure class=\"magrail-chart\"><figcaption>").Append(Encode(Title)).Append("</figcaption>\n").Append(BodyHtml());
        if (Note is not null)
        {
            html.Append("<p class=\"magrail-note\">").Append(Encode(Note)).Append("</p>\n");
        }

        html.Append("<details><summary>The same as numbers</summary>").Append(TableHtml()).Append("</details>\n");
        html.Append("<script>").Append(ScriptText).Append("</script></figure>\n");
        return html.ToString();
    }

    /// <summary>What the fragment does on its page.</summary>
    private protected virtual string ScriptText => ChartPage.DrawCall;

    /// <summary>What stands between title and note: the drawing, or several side by side.</summary>
    private protected virtual string BodyHtml()
    {
        var html = new StringBuilder();
        IReadOnlyList<(string Title, string Words, string Json)> figures = Figures();
        html.Append(figures.Count > 1 ? "<div class=\"magrail-views\">\n" : string.Empty);
        foreach ((string title, string words, string json) in figures)
        {
            html.Append(title.Length > 0 ? $"<div class=\"magrail-view\"><p class=\"magrail-view-title\">{Encode(title)}</p>" : string.Empty);
            html.Append(PlotHtml(words, json)).Append(title.Length > 0 ? "</div>\n" : string.Empty);
        }

        return html.Append(figures.Count > 1 ? "</div>\n" : string.Empty).ToString();
    }

    /// <summary>The place of a drawing, with its words and its figure; with the frames of a slider, where there are any.</summary>
    private protected static string PlotHtml(string words, string figure, string? frames = null)
    {
        // The words stay where no script may run, and give way to the drawing where one may.
        string more = frames is null ? string.Empty : $" data-frames='{Quoted(frames)}'";
        return $"<div class=\"magrail-plot\" role=\"img\" aria-label=\"{Encode(words)}\" data-figure='{Quoted(figure)}'{more}><p>{Encode(words)}</p></div>\n";
    }

    /// <summary>Text as it stands inside an attribute in single quotes.</summary>
    private protected static string Quoted(string text)
        => text.Replace("&", "&amp;", StringComparison.Ordinal).Replace("'", "&#39;", StringComparison.Ordinal);

    /// <summary>Text as a string of JSON.</summary>
    private protected static string JsonText(string text) => $"\"{System.Text.Json.JsonEncodedText.Encode(text)}\"";

    /// <summary>The chart in words and numbers, for terminals and for readers of plain files.</summary>
    /// <returns>Several lines of text.</returns>
    public abstract string ToText();

    /// <summary>Writes a page that shows the chart and needs nothing else; a browser opens it without a network.</summary>
    /// <param name="path">Where to write it; an old file is replaced once the new one is whole.</param>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public void SaveHtml(string path) => ChartPage.Save(path, Title, this);

    /// <summary>
    /// The chart as a still picture (SVG) for documents: title, axis titles with units, key, note, and the description as its text alternative.
    /// It holds no script and refers to nothing outside itself. 640 pixels wide; it scales.
    /// </summary>
    /// <returns>One <c>svg</c> element.</returns>
    public string ToSvg() => Still(StillWidth, headed: true);

    /// <summary>Writes the still picture of <see cref="ToSvg"/> to a file.</summary>
    /// <param name="path">Where to write it; an old file is replaced once the new one is whole.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public void SaveSvg(string path)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        WholeFile.WriteText(path, $"<?xml version=\"1.0\" encoding=\"utf-8\"?>\n{ToSvg()}\n");
    }

    /// <inheritdoc/>
    public sealed override string ToString() => ToText();

    /// <summary>A still picture of any width, with or without the title and the note around it.</summary>
    internal string Still(double width, bool headed)
    {
        var sheet = new SvgSheet(width);
        if (headed)
        {
            sheet.Bottom = 4;
            sheet.Paragraph(8, width - 16, Title, 15.5, bold: true);
            sheet.Bottom += 4;
        }

        DrawStill(sheet);
        if (headed && Note is not null)
        {
            sheet.Bottom += 2;
            sheet.Paragraph(8, width - 16, Note, 11.5, SvgSheet.SoftInk);
            sheet.Bottom += 4;
        }

        return sheet.Finish(Title, Description);
    }

    /// <summary>The figure as JSON with data, layout and config.</summary>
    internal abstract string FigureJson();

    /// <summary>The figures side by side that make up the chart, each with a title (empty for none) and words for those who do not see it.</summary>
    internal virtual IReadOnlyList<(string Title, string Words, string Json)> Figures() => [(string.Empty, Description, FigureJson())];

    /// <summary>
    /// Draws the chart below <see cref="SvgSheet.Bottom"/> and moves that down. A kind of chart that has no still picture of its own is given in words.
    /// </summary>
    private protected virtual void DrawStill(SvgSheet sheet) => sheet.Paragraph(8, sheet.Width - 16, Description, 13);

    private protected abstract string Describe();

    private protected abstract string TableHtml();

    private protected static string Encode(string text) => WebUtility.HtmlEncode(text);
}
