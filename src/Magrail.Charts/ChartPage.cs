using System.Net;
using System.Text;

namespace Magrail.Charts;

/// <summary>Pages with charts that need no network: the drawing script is written into the page itself.</summary>
public static class ChartPage
{
    private static readonly Lazy<string> MadeHead = new(MakeHead);

    /// <summary>
    /// The drawing script and the style of charts, about 3.6 megabytes, to be put on a page once. Module loaders on the page
    /// (as on notebook pages) are hidden from it.
    /// </summary>
    public static string Head => MadeHead.Value;

    /// <summary>What each chart's fragment does on its page: it waits for the drawing script, then draws.</summary>
    internal static string DrawCall { get; } = Resource("chart.js");

    /// <summary>What the fragment of a slow motion does on its page.</summary>
    internal static string LaunchCall { get; } = Resource("launch.js");

    /// <summary>Writes a page with one or several charts that needs nothing else.</summary>
    /// <param name="path">Where to write it; an old file is replaced once the new one is whole.</param>
    /// <param name="title">Title of the page.</param>
    /// <param name="charts">The charts, from the top down.</param>
    /// <exception cref="ArgumentException">The path or the title is empty, or there is no chart.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public static void Save(string path, string title, params IReadOnlyList<Chart> charts)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        ArgumentException.ThrowIfNullOrWhiteSpace(title);
        ArgumentNullException.ThrowIfNull(charts);
        if (charts.Count == 0)
        {
            throw new ArgumentException("The page has no chart: it needs at least one.", nameof(charts));
        }

        string heading = WebUtility.HtmlEncode(title);
        var page = new StringBuilder();
        page.Append("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n");
        page.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        page.Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data: blob:\">\n");
        page.Append("<title>").Append(heading).Append("</title>\n").Append(Head).Append("</head>\n<body class=\"magrail-page\"><main>\n");
        if (charts.Count > 1)
        {
            page.Append("<h1>").Append(heading).Append("</h1>\n");
        }

        foreach (Chart chart in charts)
        {
            page.Append(chart.ToHtml());
        }

        page.Append("</main></body></html>\n");

        WholeFile.WriteText(path, page.ToString());
    }

    private static string MakeHead()
    {
        string[] script = FigureDoor.Script();
        string licence = script[1].Replace("*/", "* /", StringComparison.Ordinal);
        string source = script[0]
            .Replace("</script", "<\\/script", StringComparison.OrdinalIgnoreCase)
            .Replace("<!--", "<\\!--", StringComparison.Ordinal);
        return $"""
            <style>{Resource("chart.css")}</style>
            <script>/*
            {licence}
            */
            if (!window.Plotly) (function () {"{"} var define = undefined, module = undefined, exports = undefined, require = undefined;
            {source}
            {"}"}).call(window);</script>

            """;
    }

    internal static string Resource(string name)
    {
        using Stream stream = typeof(ChartPage).Assembly.GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().Trim();
    }
}
