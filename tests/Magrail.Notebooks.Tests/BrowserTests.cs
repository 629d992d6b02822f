using System.Text.Json;
using Magrail.Charts;

namespace Magrail.Notebooks.Tests;

/// <summary>Opens pages in a real browser: charts are drawn, nothing is fetched, nothing is wider than the page.</summary>
public sealed class BrowserTests
{
    private const string DrawnPaths = """
        [...document.querySelectorAll('.magrail-plot')].map(plot =>
          [...plot.querySelectorAll('.scatterlayer path.js-line, .barlayer .point path')].filter(path => {
            const box = path.getBoundingClientRect(); return box.width > 1 && box.height > 1; }).length)
        """;

    [BrowserFact]
    public async Task Saved_charts_are_drawn_without_any_request()
    {
        using var folder = new TemporaryFolder();
        double[] x = [.. Enumerable.Range(0, 50).Select(i => i / 49.0)];
        LineChart lines = Chart.Panels(
            "Panels",
            new ChartAxis("position", "m"),
            new ChartPanel(new ChartAxis("speed", "m/s"), new ChartSeries("a", x, [.. x.Select(Math.Sqrt)]), new ChartSeries("b", x, [.. x.Select(Math.Sin)])),
            new ChartPanel(new ChartAxis("force", "N"), new ChartSeries("c", x, [.. x.Select(Math.Cos)])));
        BarChart bars = Chart.Ledger("Energy", new ChartAxis("energy", "J"), [("drawn", 10)], [("coil", 6)], [("motion", 4)]);
        string path = folder.In("charts.html");
        ChartPage.Save(path, "Both kinds", lines, bars);

        await using Browser browser = await Browser.OpenAsync(path, 1000, 800);
        int[] counts = await CountsAsync(browser);
        Assert.Equal([3, 3], counts);
        string words = (await browser.ValueAsync("document.body.innerText + [...document.querySelectorAll('svg text')].map(t => t.textContent).join(' ')")).GetString()!;
        Assert.Contains("position (m)", words, StringComparison.Ordinal);
        Assert.Contains("speed (m/s)", words, StringComparison.Ordinal);
        Assert.Contains("force (N)", words, StringComparison.Ordinal);
        NothingFromOutside(browser, path);
    }

    [BrowserFact]
    public async Task Reports_are_drawn_without_any_request_on_a_desk_and_on_a_telephone()
    {
        using var folder = new TemporaryFolder();
        foreach (string notebook in Checkout.Notebooks)
        {
            ProgramRun run = await Checkout.RunNotebookRunnerAsync(Checkout.Root, Path.Combine("notebooks", Path.GetFileName(notebook)), "--out", folder.Path);
            Assert.True(run.ExitCode == 0, run.Everything);
            string report = folder.In(Path.ChangeExtension(Path.GetFileName(notebook), ".html"));
            foreach ((int width, int height) in new[] { (1100, 900), (390, 844) })
            {
                await using Browser browser = await Browser.OpenAsync(report, width, height);
                int[] counts = await CountsAsync(browser);
                Assert.NotEmpty(counts);
                Assert.All(counts, count => Assert.True(count > 0, $"{notebook}: a chart has no line or bar of any size."));
                double reach = (await browser.ValueAsync("document.documentElement.scrollWidth")).GetDouble();
                Assert.True(reach <= width, $"{notebook}: the page is {reach} px wide in a window of {width} px.");
                NothingFromOutside(browser, report);
                string shots = Path.Combine(Checkout.Root, "artifacts");
                Directory.CreateDirectory(shots);
                await browser.ScreenshotAsync(Path.Combine(shots, $"{Path.GetFileNameWithoutExtension(notebook)}-{width}.png"));
            }
        }
    }

    /// <summary>The page's own watch must see a request if there is one: otherwise the tests above would pass blindly.</summary>
    [BrowserFact]
    public async Task A_page_that_does_ask_for_something_is_caught()
    {
        using var folder = new TemporaryFolder();
        string path = folder.In("asks.html");
        await File.WriteAllTextAsync(path, "<!doctype html><title>asks</title><img src=\"http://127.0.0.1:9/picture.png\">");
        await using Browser browser = await Browser.OpenAsync(path, 600, 400);
        Assert.Contains("http://127.0.0.1:9/picture.png", browser.Requests);
    }

    private static async Task<int[]> CountsAsync(Browser browser)
        => [.. (await browser.ValueAsync(DrawnPaths)).EnumerateArray().Select(count => count.GetInt32())];

    private static void NothingFromOutside(Browser browser, string path)
    {
        string own = new Uri(path).AbsoluteUri;
        Assert.DoesNotContain(browser.Requests, address => address != own && !address.StartsWith("data:", StringComparison.Ordinal) && !address.StartsWith("blob:", StringComparison.Ordinal));
        Assert.Empty(browser.Complaints);
    }
}
