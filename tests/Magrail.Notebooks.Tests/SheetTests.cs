using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Magrail.Units;
using Microsoft.DotNet.Interactive.Formatting;

namespace Magrail.Notebooks.Tests;

/// <summary>Sheets for the bench in a notebook, and in a browser that prints them.</summary>
public sealed partial class SheetTests
{
    private static readonly WorkshopSheet Sheet = WorkshopSheet.Of(StudyLaunchers.Small, new WorkshopOptions { Title = "Small <one>" });

    private static readonly Launcher Long = StudyLaunchers.Make(0.15, stations: 40);

    public SheetTests() => Setup.Register();

    [Fact]
    public void Sheets_print_as_text_and_as_tables()
    {
        string text = Sheet.ToDisplayString(PlainTextFormatter.MimeType);
        Assert.StartsWith("Small <one>: workshop sheet\n", text, StringComparison.Ordinal);
        Assert.Matches("(?m)^template: [0-9]+ sheets of A4$", text);
        Assert.True(text.Split('\n').Length < 16, "a notebook shows a summary");
        string html = Sheet.ToDisplayString(HtmlFormatter.MimeType);
        Assert.Contains("<h4>Small &lt;one&gt;: workshop sheet</h4>", html, StringComparison.Ordinal);
        foreach (object part in new object[] { Sheet.Windings[0], Sheet.Strips, Sheet.Magnets, Sheet.Wiring, Sheet.Parts, Sheet.Checks, Sheet.Template })
        {
            string words = part.ToDisplayString(PlainTextFormatter.MimeType);
            string table = part.ToDisplayString(HtmlFormatter.MimeType);
            Assert.Contains(words.Split('\n')[0].Trim(), table, StringComparison.Ordinal);
            Assert.Contains("<table", table, StringComparison.Ordinal);
            Assert.DoesNotContain("dni-treeview", table, StringComparison.Ordinal);
            Assert.DoesNotContain("<svg", table, StringComparison.Ordinal);
            Assert.Equal([HtmlFormatter.MimeType, PlainTextFormatter.MimeType], Formatter.GetPreferredMimeTypesFor(part.GetType()).ToArray());
        }
    }

    [Fact]
    public void Drawings_are_pictures_that_any_page_keeps()
    {
        string html = Sheet.Template.Tiles[0].ToDisplayString(HtmlFormatter.MimeType);
        Assert.Equal(Sheet.Template.Tiles[0].ToString(), Sheet.Template.Tiles[0].ToDisplayString(PlainTextFormatter.MimeType));
        string data = Picture().Match(html).Groups[1].Value;
        XElement svg = XDocument.Parse(Encoding.UTF8.GetString(Convert.FromBase64String(data)).TrimStart('\uFEFF')).Root!;
        Assert.Equal("210mm", (string?)svg.Attribute("width"));
        Assert.Single(Picture().Matches(Sheet.Magnets.ToDisplayString(HtmlFormatter.MimeType)));
    }

    [BrowserFact]
    public async Task A_browser_prints_every_sheet_on_its_page_at_full_scale()
    {
        using var folder = new TemporaryFolder();
        foreach (PaperOrientation paper in Enum.GetValues<PaperOrientation>())
        {
            StripTemplate template = StripTemplate.Of(Long, new WorkshopOptions { Template = new TemplateOptions { Paper = paper } });
            Assert.True(template.Tiles.Length > 2);
            string path = folder.In($"{paper}.html");
            template.SaveHtml(path);
            await using Browser browser = await Browser.OpenAsync(path, 1300, 900);

            // 96 pixels an inch: what the browser makes of a millimeter.
            JsonElement bars = await browser.ValueAsync("[...document.querySelectorAll('[data-part=\"bar 100 mm\"]')].map(bar => bar.getBoundingClientRect().width * 25.4 / 96)");
            double[] lengths = [.. bars.EnumerateArray().Select(bar => bar.GetDouble())];
            Assert.Equal(template.Tiles.Length, lengths.Length);
            Assert.All(lengths, length => Assert.Equal(100, length, 0.02));

            string pdf = Encoding.Latin1.GetString(await browser.PrintAsync());
            (double Width, double Height)[] boxes = [.. PageBox().Matches(pdf).Select(box => (Points(box.Groups[1].Value), Points(box.Groups[2].Value)))];
            (double width, double height) = paper == PaperOrientation.Portrait ? (210.0, 297.0) : (297.0, 210.0);
            Assert.Equal(template.Tiles.Length, boxes.Length);
            Assert.All(boxes, box => Assert.True(Math.Abs(box.Width - width) < 0.5 && Math.Abs(box.Height - height) < 0.5, $"{box}"));
            Assert.Equal([new Uri(path).AbsoluteUri], browser.Requests);
            Assert.Empty(browser.Complaints);
        }
    }

    [BrowserFact]
    public async Task The_page_of_all_sheets_ends_with_the_template_at_full_scale()
    {
        using var folder = new TemporaryFolder();
        string path = folder.In("sheet.html");
        Sheet.SaveHtml(path);
        await using Browser browser = await Browser.OpenAsync(path, 900, 900);
        JsonElement bars = await browser.ValueAsync("[...document.querySelectorAll('[data-part=\"bar 100 mm\"]')].map(bar => bar.getBoundingClientRect().width * 25.4 / 96)");
        Assert.Equal(Sheet.Template.Tiles.Length, bars.GetArrayLength());
        Assert.All(bars.EnumerateArray(), bar => Assert.Equal(100, bar.GetDouble(), 0.02));
        string words = (await browser.ValueAsync("document.body.innerText")).GetString()!;
        Assert.Contains("Before any power: source disconnected", words, StringComparison.Ordinal);
        int pages = PageBox().Count(Encoding.Latin1.GetString(await browser.PrintAsync()));
        Assert.InRange(pages, 7 + Sheet.Template.Tiles.Length, 14 + Sheet.Template.Tiles.Length);
        Assert.Equal([new Uri(path).AbsoluteUri], browser.Requests);
    }

    private static double Points(string text) => double.Parse(text, CultureInfo.InvariantCulture) * 25.4 / 72;

    [GeneratedRegex("src=\"data:image/svg\\+xml;base64,([A-Za-z0-9+/=]+)\"")]
    private static partial Regex Picture();

    [GeneratedRegex(@"/MediaBox \[0 0 ([0-9.]+) ([0-9.]+)\]")]
    private static partial Regex PageBox();
}
