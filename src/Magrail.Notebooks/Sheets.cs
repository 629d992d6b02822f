using System.Globalization;
using System.Net;
using System.Text;

namespace Magrail.Notebooks;

/// <summary>Sheets for the bench as a notebook shows them: long tables shortened, drawings as pictures, which pages keep that nobody trusts yet.</summary>
internal static class Sheets
{
    private const int HeadRows = 8;
    private const int EndRows = 3;

    public static string Text(SheetSection section) => (section with { Blocks = [.. section.Blocks.Select(Shortened)] }).ToText();

    public static string Html(SheetSection section)
        => $"<h4>{WebUtility.HtmlEncode(section.Title)}</h4>" + string.Concat(section.Blocks.Select(block => block is SheetDrawing drawing ? Picture(drawing.Svg, drawing.Caption) : Shortened(block).ToHtml()));

    public static string Text(StripTemplate template) => Text(template.ToSection());

    public static string Html(StripTemplate template) => Html(template.ToSection()) + Html(template.Tiles[0]);

    public static string Html(TemplateTile tile) => Picture(tile.ToSvg(), tile.ToString());

    public static string Text(WorkshopSheet sheet) => string.Join('\n', Facts(sheet).Select(fact => $"{fact.Name}: {fact.Value}").Prepend(sheet.Heading));

    public static string Html(WorkshopSheet sheet) => $"<h4>{WebUtility.HtmlEncode(sheet.Heading)}</h4>" + Notebooks.Facts.Html([.. Facts(sheet)]);

    private static IEnumerable<(string Name, string Value)> Facts(WorkshopSheet sheet)
    {
        foreach ((string, string) fact in sheet.CoverFacts())
        {
            yield return fact;
        }

        yield return ("winding", string.Join("; ", sheet.Windings.Select(winding => string.Create(CultureInfo.InvariantCulture, $"{winding.Count} × {winding.Coil.Turns} turns, {winding.Resistance}"))));
        yield return ("strips", string.Join(", ", sheet.Strips.Groups.Select(group => group.ToString())));
        yield return ("template", string.Create(CultureInfo.InvariantCulture, $"{sheet.Template.Tiles.Length} sheets of A4"));
        yield return ("fuse", sheet.Wiring.Fuse.Words);
        yield return ("checks", string.Create(CultureInfo.InvariantCulture, $"{sheet.Checks.Steps.Length} steps, {sheet.Checks.Cautions.Length} cautions"));
    }

    private static string Picture(string svg, string caption)
    {
        string data = Convert.ToBase64String(Encoding.UTF8.GetBytes(svg));
        string words = WebUtility.HtmlEncode(caption);
        return $"<figure style=\"margin:0.5em 0\"><img alt=\"{words}\" style=\"max-width:100%;background:#fff;border:1px solid #999\" src=\"data:image/svg+xml;base64,{data}\"><figcaption>{words}</figcaption></figure>";
    }

    private static SheetBlock Shortened(SheetBlock block)
        => block is SheetTable table && table.Rows.Count > HeadRows + EndRows + 4
            ? table with
            {
                Rows = [.. table.Rows.Take(HeadRows), [.. table.Heads.Select((_, column) => column == 0 ? "…" : string.Empty)], .. table.Rows.TakeLast(EndRows)],
                IsNarrow = false,
            }
            : block;
}
