using System.Text.Json;
using Magrail.Charts;
using Magrail.Units;

namespace Magrail.Notebooks.Tests;

/// <summary>Opens pages in a real browser: charts are drawn, nothing is fetched, nothing is wider than the page.</summary>
public sealed class BrowserTests
{
    private const string DrawnPaths = """
        [...document.querySelectorAll('.magrail-plot')].map(plot =>
          [...plot.querySelectorAll('.scatterlayer path.js-line, .scatterlayer path.point, .barlayer .point path, .contourlayer .contourlevel path')].filter(path => {
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
    public async Task Maps_and_drawings_are_drawn_to_scale_on_a_desk_and_on_a_telephone()
    {
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        Track track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 3, pitch: 20.Millimeters());
        Coil coil = CoilChartTests.Coil(165);
        using var folder = new TemporaryFolder();
        string path = folder.In("pictures.html");
        MapPlane level = MapPlane.AtHeight(UnitsNet.Length.Zero);
        ChartPage.Save(
            path,
            "Pictures",
            FieldCharts.FieldMap(track, level, coil: coil),
            FieldCharts.FieldMap(track, level, FieldComponent.Across),
            FieldCharts.MagnetOrientation(track),
            CoilCharts.CrossSection(coil));
        foreach ((int width, int height) in new[] { (1100, 900), (390, 844) })
        {
            await using Browser browser = await Browser.OpenAsync(path, width, height);
            int[] counts = await CountsAsync(browser);

            // The coil has two views. Each line is a path; so is each contour line, and the signed map has lines of both signs.
            Assert.Equal(5, counts.Length);
            Assert.True(counts[0] > 10 && counts[1] > 12 && counts[2] >= 4 && counts[3] >= 3 && counts[4] >= 10, string.Join(' ', counts));
            Assert.True((await browser.ValueAsync("[...document.querySelectorAll('.contourlayer image, .heatmaplayer image')].length")).GetInt32() >= 2, "the colors");

            // A millimeter is as long both ways: in the map, and in both views of the coil.
            JsonElement scales = await browser.ValueAsync("""
                [...document.querySelectorAll('.magrail-plot')].map(plot => {
                  const l = plot._fullLayout, x = l.xaxis, y = l.yaxis;
                  return (x._length / (x.range[1] - x.range[0])) / (y._length / (y.range[1] - y.range[0])); })
                """);
            Assert.All(scales.EnumerateArray(), each => Assert.Equal(1, each.GetDouble(), 0.01));
            string words = (await browser.ValueAsync("[...document.querySelectorAll('svg text')].map(t => t.textContent).join(' ')")).GetString()!;
            Assert.Contains("position along the track (mm)", words, StringComparison.Ordinal);
            Assert.Contains("position across the gap (mm)", words, StringComparison.Ordinal);
            Assert.Contains("flux density (T)", words, StringComparison.Ordinal);
            Assert.Contains("depth above the core (mm)", words, StringComparison.Ordinal);
            Assert.True((await browser.ValueAsync("document.documentElement.scrollWidth")).GetDouble() <= width, "The page is wider than its window.");
            NothingFromOutside(browser, path);
            string shots = Path.Combine(Checkout.Root, "artifacts");
            Directory.CreateDirectory(shots);
            await browser.ScreenshotAsync(Path.Combine(shots, $"pictures-{width}.png"));
        }
    }

    [BrowserFact]
    public async Task Limits_breaks_and_costs_are_drawn_on_a_desk_and_on_a_telephone()
    {
        LaunchResult launch = SparkLaunches.Launch;
        using var folder = new TemporaryFolder();
        string path = folder.In("limits.html");
        ChartPage.Save(
            path,
            "Limits",
            LimitCharts.Limits(launch),
            LimitCharts.Breaks(launch),
            LimitCharts.LaunchesInARow(SparkLaunches.Series),
            LimitCharts.EffectCosts(SparkLaunches.Costs),
            LimitCharts.Braking(launch));
        foreach ((int width, int height) in new[] { (1100, 900), (390, 844) })
        {
            await using Browser browser = await Browser.OpenAsync(path, width, height);
            int[] counts = await CountsAsync(browser);

            // Every limit and every effect has a bar; one may be too short to see. Each break is three marks.
            Assert.Equal(5, counts.Length);
            Assert.InRange(counts[0], launch.Limits.Limits.Length - 2, launch.Limits.Limits.Length);
            Assert.Equal(3 * launch.Breaks.Length, counts[1]);
            Assert.Equal(3 * SparkLaunches.Series.Launches.Length, counts[2]);
            Assert.InRange(counts[3], SparkLaunches.Costs.Rows.Length - 2, SparkLaunches.Costs.Rows.Length);
            Assert.Equal(1, counts[4]);
            string words = (await browser.ValueAsync("[...document.querySelectorAll('svg text')].map(t => t.textContent).join(' ')")).GetString()!;
            foreach (string title in new[] { "part of the limit used (%)", "BROKEN", "current broken (A)", "energy at the contact (mJ)", "number of the launch", "exit speed lost (m/s)", "end of the track" })
            {
                Assert.Contains(title, words, StringComparison.Ordinal);
            }

            Assert.True((await browser.ValueAsync("document.documentElement.scrollWidth")).GetDouble() <= width, "The page is wider than its window.");
            JsonElement cut = await browser.ValueAsync("""
                [...document.querySelectorAll('.magrail-plot .annotation-text')].filter(text => {
                  const box = text.getBoundingClientRect(), plot = text.closest('.magrail-plot').getBoundingClientRect();
                  return box.left < plot.left - 1 || box.right > plot.right + 1; }).map(text => text.textContent)
                """);
            Assert.Empty(cut.EnumerateArray().Select(text => text.GetString()));
            NothingFromOutside(browser, path);
            string shots = Path.Combine(Checkout.Root, "artifacts");
            Directory.CreateDirectory(shots);
            await browser.ScreenshotAsync(Path.Combine(shots, $"limits-{width}.png"));
        }
    }

    [BrowserFact]
    public async Task Charts_of_studies_and_films_are_drawn_on_a_desk_and_on_a_telephone()
    {
        StudyResult sweep = new Study(
            StudyLaunchers.Small, DesignNumber.Voltage.Over(8.Volts(), 12.Volts(), 16.Volts()), DesignNumber.Lead.FromTo(0.Millimeters(), 1.5.Millimeters(), 4)).Run();
        ToleranceResult tolerances = new ToleranceStudy(StudyLaunchers.Small, Spread.Normal(DesignNumber.Voltage, 12.Volts(), 0.3.Volts())).Run(40);
        RunComparison comparison = RunComparison.Between(
            StudyLaunchers.Film(StudyLaunchers.Make(0.5).Launch()).Smooth(), StudyLaunchers.Small.Launch(), start: UnitsNet.Duration.Zero);
        using var folder = new TemporaryFolder();
        string path = folder.In("studies.html");
        ChartPage.Save(
            path,
            "Studies and films",
            StudyCharts.SweepCurves(sweep, DesignNumber.Voltage, DesignNumber.Lead),
            StudyCharts.Map(sweep, DesignNumber.Lead, DesignNumber.Voltage),
            StudyCharts.Histogram(tolerances, 2.MetersPerSecond()),
            StudyCharts.Shares(tolerances),
            StudyCharts.Front(TradeOff.Of(sweep, [Goal.ExitSpeed, Goal.PeakCurrent], onlyWithinLimits: false), among: sweep),
            MeasurementCharts.Smoothed(comparison.Measured),
            MeasurementCharts.AgainstPredicted(comparison),
            MeasurementCharts.Residuals(comparison));
        foreach ((int width, int height) in new[] { (1100, 900), (390, 844) })
        {
            await using Browser browser = await Browser.OpenAsync(path, width, height);
            int[] counts = await CountsAsync(browser);
            Assert.Equal(8, counts.Length);
            Assert.True(counts.Zip([4, 3, 1, 1, 1, 3, 2, 2]).All(pair => pair.First >= pair.Second), string.Join(' ', counts));

            // Bands and the ground of the histogram are shapes of some size.
            int[] fills = [.. (await browser.ValueAsync("""
                [...document.querySelectorAll('.magrail-plot')].map(plot => [...plot.querySelectorAll('.scatterlayer path.js-fill')].filter(path => {
                  const box = path.getBoundingClientRect(); return box.width > 20 && box.height > 2; }).length)
                """)).EnumerateArray().Select(count => count.GetInt32())];
            Assert.True(fills[2] >= 1 && fills[5] >= 2 && fills[6] >= 1 && fills[7] >= 2, string.Join(' ', fills));
            Assert.True((await browser.ValueAsync("document.documentElement.scrollWidth")).GetDouble() <= width, "The page is wider than its window.");
            NothingFromOutside(browser, path);
            string shots = Path.Combine(Checkout.Root, "artifacts");
            Directory.CreateDirectory(shots);
            await browser.ScreenshotAsync(Path.Combine(shots, $"studies-{width}.png"));
        }
    }

    [BrowserFact]
    public async Task Sliders_and_slow_motion_work_by_keys_and_clicks_on_a_desk_and_on_a_telephone()
    {
        (string Label, LaunchResult Launch)[] launches =
            [.. Enumerable.Range(2, 3).Select(i => ($"{4 * i} V", DesignNumber.Voltage.With(StudyLaunchers.Small, (4 * i).Volts()).Launch()))];
        SliderChart slider = LaunchCharts.Slider("voltage", launches);
        using var folder = new TemporaryFolder();
        string path = folder.In("moving.html");
        ChartPage.Save(path, "What moves", LaunchCharts.Animation(launches[1].Launch, slowedBy: 100), slider);
        foreach ((int width, int height) in new[] { (1100, 900), (390, 844) })
        {
            await using Browser browser = await Browser.OpenAsync(path, width, height);
            async Task DoAsync(string expression) => await browser.ValueAsync($"({expression}, true)");
            async Task<string> WordsAsync(string expression) => (await browser.ValueAsync(expression)).GetString()!;
            const string Lines = "[...document.querySelectorAll('.magrail-plot path.js-line')].map(line => line.getAttribute('d')).join('|')";
            const string Ranges = "JSON.stringify(['xaxis', 'yaxis', 'yaxis2', 'yaxis3'].map(axis => document.querySelector('.magrail-plot')._fullLayout[axis].range))";

            // The slider: each press of an arrow key is another launch on the same axes.
            await DoAsync("document.querySelector('.magrail-control output').closest('.magrail-control').querySelector('input').focus()");
            string ranges = await WordsAsync(Ranges);
            var seen = new HashSet<string> { await WordsAsync(Lines) };
            for (int i = 0; i < launches.Length; i++)
            {
                Assert.Equal(launches[i].Label, await WordsAsync("document.querySelector('.magrail-control output').textContent"));
                Assert.Equal(launches[i].Label, await WordsAsync("document.activeElement.getAttribute('aria-valuetext')"));
                Assert.Equal(slider.Frames[i].Words, await WordsAsync("document.querySelector('.magrail-frame-words').textContent"));
                Assert.Equal(slider.Frames[i].Chart.Description, await WordsAsync("document.querySelector('.magrail-plot').getAttribute('aria-label')"));
                Assert.Equal(ranges, await WordsAsync(Ranges));
                if (i + 1 < launches.Length)
                {
                    await browser.PressAsync("ArrowRight", 39);
                    await Task.Delay(200);
                    Assert.True(seen.Add(await WordsAsync(Lines)), "The lines did not change.");
                }
            }

            // The slow motion: still until it is started; then the track moves past the sled, until it is stopped.
            const string Track = "document.querySelector('[data-part=track]').getAttribute('transform')";
            const string Play = "document.querySelector('[data-part=play]')";
            string still = await WordsAsync(Track);
            await Task.Delay(400);
            Assert.Equal(still, await WordsAsync(Track));
            Assert.Equal(2, (await browser.ValueAsync("[...document.querySelectorAll('[data-part=leg] circle:first-child')].filter(circle => circle.getBoundingClientRect().width > 3).length")).GetInt32());
            await DoAsync($"{Play}.click()");
            await Task.Delay(700);
            Assert.Equal("Pause", await WordsAsync($"{Play}.textContent"));
            string first = await WordsAsync(Track);
            await Task.Delay(500);
            Assert.NotEqual(first, await WordsAsync(Track));
            await DoAsync($"{Play}.click()");
            string stopped = await WordsAsync(Track);
            await Task.Delay(300);
            Assert.Equal(stopped, await WordsAsync(Track));
            Assert.Equal("Play", await WordsAsync($"{Play}.textContent"));

            // From the start, from contact to contact: current the other way round than the one before.
            async Task MoveToAsync(int place) => await DoAsync($"(() => {{ const range = document.querySelector('.magrail-launch input'); range.value = {place}; range.dispatchEvent(new Event('input')); }})()");
            await MoveToAsync(0);
            var signs = new List<string>();
            for (int i = 0; i < 6; i++)
            {
                await DoAsync("document.querySelector('[data-part=next]').click()");
                string reads = await WordsAsync("document.querySelector('[data-part=reads]').textContent");
                if (reads.Contains("driven", StringComparison.Ordinal))
                {
                    signs.Add(await WordsAsync("document.querySelector('[data-part=leg]').getAttribute('class')"));
                }
            }

            Assert.True(signs.Count >= 2 && signs.Zip(signs.Skip(1)).All(pair => pair.First != pair.Second), string.Join(' ', signs));

            // To the end by the slider: the last speed is the exit speed.
            await MoveToAsync(1000);
            string last = await WordsAsync("document.querySelector('[data-part=reads]').textContent");
            Assert.Contains(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"speed {launches[1].Launch.ExitSpeed.MetersPerSecond:F2} m/s"), last, StringComparison.Ordinal);

            Assert.True((await browser.ValueAsync("document.documentElement.scrollWidth")).GetDouble() <= width, "The page is wider than its window.");
            NothingFromOutside(browser, path);
            string shots = Path.Combine(Checkout.Root, "artifacts");
            Directory.CreateDirectory(shots);
            await browser.ScreenshotAsync(Path.Combine(shots, $"moving-{width}.png"));
        }
    }

    [BrowserFact]
    public async Task Reports_are_drawn_without_any_request_on_a_desk_and_on_a_telephone()
    {
        foreach (string notebook in Checkout.Notebooks)
        {
            (ProgramRun run, string report) = await AnsweredReport.OfAsync(Path.GetFileName(notebook));
            Assert.True(run.ExitCode == 0, run.Everything);
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
