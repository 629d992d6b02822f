using System.Net;

namespace Magrail;

/// <summary>A page of sheets that needs nothing else and prints on A4 in black and white.</summary>
internal static class SheetPage
{
    private const string Style = """
        html { font: 10.5pt/1.35 "DejaVu Sans", Verdana, Arial, sans-serif; color: #000; background: #fff; }
        body { margin: 0 auto; }
        section.sheet { break-before: page; }
        section:first-of-type { break-before: auto; }
        section.tile { break-before: page; break-inside: avoid; line-height: 0; overflow: hidden; }
        section.tile svg { display: block; }
        h1 { font-size: 17pt; margin: 0 0 2mm; }
        h2 { font-size: 13.5pt; margin: 0 0 2mm; border-bottom: 0.4mm solid #000; }
        h3 { font-size: 11pt; margin: 4mm 0 1mm; }
        p { margin: 1mm 0; }
        table { border-collapse: collapse; margin: 1.5mm 0 3mm; font-size: 9pt; }
        caption { text-align: left; font-weight: bold; padding: 1mm 0; }
        thead { display: table-header-group; }
        tr, div.pair { break-inside: avoid; }
        th, td { border-bottom: 0.15mm solid #777; padding: 0.6mm 2mm 0.6mm 0; vertical-align: top; font-weight: normal; }
        thead th { border-bottom: 0.35mm solid #000; font-weight: bold; }
        table.facts th { font-weight: bold; padding-right: 4mm; max-width: 62mm; }
        table.steps td { padding: 1.1mm 2mm 1.1mm 0; font-size: 9.5pt; }
        td.box { font-size: 13pt; line-height: 1; }
        ul { margin: 1mm 0 3mm; padding-left: 5mm; font-size: 9.5pt; }
        li { margin: 0.5mm 0; }
        figure { margin: 2mm 0; }
        figure svg { display: block; max-width: 100%; }
        figcaption { font-size: 9pt; }
        .caution { border: 0.6mm solid #000; padding: 2mm 3mm; margin: 2mm 0 4mm; }
        @media screen {
          html { background: #ddd; }
          section { background: #fff; box-shadow: 0 0 3mm #999; margin: 6mm auto; padding: 10mm; width: max-content; max-width: calc(100vw - 30mm); overflow-x: auto; }
          section.sheet { width: 190mm; }
        }
        """;

    /// <summary>A page of sections that are HTML already.</summary>
    public static string Of(string title, TemplateOptions paper, IReadOnlyList<string> sections)
    {
        // Without a margin on the page a browser prints its own head and foot over the drawing; with it, drawings keep their size.
        string page = $"@page {{ size: A4 {(paper.Paper == PaperOrientation.Portrait ? "portrait" : "landscape")}; margin: {SvgDrawing.Number(paper.Margin.Millimeters)}mm; }}";
        return $"<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n<title>{WebUtility.HtmlEncode(title)}</title>\n<style>\n{page}\n{Style}\n</style>\n</head>\n<body>\n{string.Join('\n', sections)}\n</body>\n</html>\n";
    }
}
