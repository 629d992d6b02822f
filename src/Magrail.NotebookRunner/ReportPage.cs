using System.Globalization;
using System.Net;
using System.Text;
using Markdig;
using Markdig.Extensions.AutoIdentifiers;
using Markdig.Syntax;
using Markdig.Syntax.Inlines;

namespace Magrail.NotebookRunner;

/// <summary>The report: one page with words, code and outputs in order, that requests nothing from a network.</summary>
internal static class ReportPage
{
    private static readonly MarkdownPipeline Markdown = new MarkdownPipelineBuilder()
        .UsePipeTables()
        .UseAutoIdentifiers(AutoIdentifierOptions.GitHub)
        .UseEmphasisExtras()
        .UseFootnotes()
        .Build();

    /// <summary>Writes the report beside its place, then moves it there, so that no half page is ever seen.</summary>
    /// <returns>The path of the report.</returns>
    public static string Write(Notebook notebook, RunRecord record, string folder)
    {
        string path = Path.GetFullPath(Path.Combine(folder, Path.GetFileNameWithoutExtension(notebook.Path) + ".html"));
        WholeFile.WriteText(path, Html(notebook, record));
        return path;
    }

    private static string Html(Notebook notebook, RunRecord record)
    {
        var page = new StringBuilder();
        page.Append("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        page.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        // The browser itself is told to load nothing: what is not in this file is not shown.
        page.Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data: blob:\">\n");
        page.Append("<title>").Append(Encode(notebook.Title)).Append("</title>\n<style>").Append(Resource("report.css")).Append("</style>\n</head>\n<body>\n<main>\n");

        if (record.Failure is RunFailure failure)
        {
            page.Append("<div class=\"failure\" role=\"alert\"><strong>This run failed in code cell ").Append(failure.Cell.ToString(CultureInfo.InvariantCulture))
                .Append(".</strong> What stands below it was not run.</div>\n");
        }

        bool figuresShown = false;
        foreach (NotebookCell cell in notebook.Cells)
        {
            if (cell.Kind == CellKind.Words)
            {
                page.Append("<section class=\"words\">\n").Append(Words(cell.Source, notebook.Path)).Append("</section>\n");
                if (!figuresShown)
                {
                    figuresShown = true;
                    AppendFigures(page, notebook, record);
                }
            }
            else
            {
                AppendCode(page, notebook, cell, record);
            }
        }

        page.Append("</main>\n<footer><p>Made from <code>").Append(Encode(Path.GetFileName(notebook.Path))).Append("</code> on ")
            .Append(DateTime.Now.ToString("d MMMM yyyy, HH:mm", CultureInfo.InvariantCulture)).Append(" in ")
            .Append(record.Time.TotalSeconds.ToString("F1", CultureInfo.InvariantCulture))
            .Append(" s. Everything on this page is inside this one file.</p></footer>\n<script>")
            .Append(Resource("report.js")).Append("</script>\n</body>\n</html>\n");
        return page.ToString();
    }

    private static void AppendFigures(StringBuilder page, Notebook notebook, RunRecord record)
    {
        string[] figures = [.. Command.KeyFigures(notebook, record)];
        if (figures.Length == 0)
        {
            return;
        }

        page.Append("<aside class=\"figures\" aria-label=\"Key figures\"><h2>Key figures of this run</h2>\n");
        foreach (string line in figures.SelectMany(text => text.Split('\n')).Select(line => line.Trim()).Where(line => line.Length > 0))
        {
            int colon = line.IndexOf(": ", StringComparison.Ordinal);
            page.Append(colon < 0
                ? $"<p>{Encode(line)}</p>\n"
                : $"<p><span>{Encode(line[..colon])}</span> <b>{Encode(line[(colon + 2)..])}</b></p>\n");
        }

        page.Append("</aside>\n");
    }

    private static void AppendCode(StringBuilder page, Notebook notebook, NotebookCell cell, RunRecord record)
    {
        string number = cell.Number.ToString(CultureInfo.InvariantCulture);
        bool open = !cell.Tags.Contains("fold");
        page.Append("<section class=\"cell\" id=\"cell-").Append(number).Append("\">\n<details class=\"code\"").Append(open ? " open" : string.Empty)
            .Append("><summary>Cell ").Append(number).Append("</summary><pre><code>").Append(CodeText.Html(cell.Source.TrimEnd())).Append("</code></pre></details>\n");
        if (record.Outputs.TryGetValue(cell.Number, out List<CellOutput>? outputs))
        {
            // Lines of console text that follow one another are one block.
            var console = new StringBuilder();
            string kind = string.Empty;
            foreach (CellOutput output in outputs)
            {
                if (output.Kind.StartsWith("console", StringComparison.Ordinal))
                {
                    if (kind != output.Kind)
                    {
                        FlushConsole(page, console, kind);
                        kind = output.Kind;
                    }

                    console.Append(output.Forms.GetValueOrDefault("text/plain"));
                }
                else
                {
                    FlushConsole(page, console, kind);
                    page.Append("<div class=\"out\">").Append(Shown(output)).Append("</div>\n");
                }
            }

            FlushConsole(page, console, kind);
        }

        if (record.Failure is RunFailure failure && failure.Cell == cell.Number)
        {
            string place = failure.Line > 0 ? string.Create(CultureInfo.InvariantCulture, $"Line {failure.Line}: ") : string.Empty;
            page.Append("<div class=\"failure\"><strong>").Append(place).Append(Encode(Command.SourceLine(notebook, failure)?.Trim() ?? string.Empty))
                .Append("</strong><pre>").Append(Encode(failure.Message)).Append("</pre></div>\n");
        }

        page.Append("</section>\n");
    }

    private static void FlushConsole(StringBuilder page, StringBuilder console, string kind)
    {
        if (console.Length > 0)
        {
            page.Append("<pre class=\"out ").Append(kind).Append("\">").Append(Encode(console.ToString().TrimEnd())).Append("</pre>\n");
            console.Clear();
        }
    }

    private static string Shown(CellOutput output)
    {
        if (output.Forms.TryGetValue("text/html", out string? html))
        {
            return html;
        }

        if (output.Forms.TryGetValue("image/svg+xml", out string? svg))
        {
            return svg;
        }

        foreach (string image in new[] { "image/png", "image/jpeg" })
        {
            if (output.Forms.TryGetValue(image, out string? bytes))
            {
                return $"<img alt=\"\" src=\"data:{image};base64,{Encode(bytes)}\">";
            }
        }

        if (output.Forms.TryGetValue("text/markdown", out string? markdown))
        {
            return Markdig.Markdown.ToHtml(markdown, Markdown);
        }

        return $"<pre>{Encode(output.Forms.GetValueOrDefault("text/plain") ?? output.Forms.Values.FirstOrDefault() ?? string.Empty)}</pre>";
    }

    private static string Words(string markdown, string notebookPath)
    {
        MarkdownDocument document = Markdig.Markdown.Parse(markdown, Markdown);
        foreach (LinkInline image in document.Descendants<LinkInline>().Where(link => link.IsImage && link.Url is not null))
        {
            image.Url = Inlined(image.Url!, notebookPath);
        }

        return document.ToHtml(Markdown);
    }

    /// <summary>A picture beside the notebook, written into the page.</summary>
    private static string Inlined(string url, string notebookPath)
    {
        string? type = Path.GetExtension(url).ToUpperInvariant() switch
        {
            ".PNG" => "image/png",
            ".JPG" or ".JPEG" => "image/jpeg",
            ".SVG" => "image/svg+xml",
            ".GIF" => "image/gif",
            _ => null,
        };
        string file = Path.Combine(Path.GetDirectoryName(Path.GetFullPath(notebookPath))!, Uri.UnescapeDataString(url));
        return type is not null && File.Exists(file) ? $"data:{type};base64,{Convert.ToBase64String(File.ReadAllBytes(file))}" : url;
    }

    private static string Encode(string text) => WebUtility.HtmlEncode(text);

    private static string Resource(string name)
    {
        using Stream stream = typeof(ReportPage).Assembly.GetManifestResourceStream(name)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
