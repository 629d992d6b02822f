using System.Net;
using System.Text.RegularExpressions;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

public sealed partial class LauncherReportTests
{
    [Fact]
    public void The_report_says_what_the_result_says()
    {
        LaunchResult launch = SparkLaunches.Launch;
        string page = launch.ToReport("Bench thrower");
        string words = Words(page);
        Assert.Contains("<title>Bench thrower</title>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Not a whole launch", words, StringComparison.Ordinal);
        Row(page, "exit speed", QuantityText.Of(launch.ExitSpeed));
        Row(page, "time to release", QuantityText.Of(launch.ExitTime));
        Row(page, "speed the payload needs", QuantityText.Of(launch.Launcher.Payload.NeededSpeed!));
        Row(page, "greatest coil current", $"{QuantityText.Of(launch.PeakCurrent)} at {QuantityText.Of(launch.PeakCurrentPosition)}");
        Row(page, "greatest current of the source", QuantityText.Of(launch.PeakSourceCurrent));
        Row(page, "coil temperature at the end", QuantityText.Of(launch.CoilTemperatures[0]));
        Row(page, "drawn from the source", QuantityText.Of(launch.Ledger.Drawn));
        foreach ((string name, Energy value) in launch.Ledger.Entries)
        {
            // What is left out must be nothing but rounding.
            if (Math.Abs(value.Joules) > 1e-14 * launch.Ledger.Drawn.Joules)
            {
                Row(page, name, QuantityText.Of(value));
            }
        }

        Assert.Contains(QuantityText.Of(launch.Ledger.Residual) + ", ", Cell(page, "residual (what does not close)"), StringComparison.Ordinal);
        Row(page, "source", launch.Launcher.Source.ToString()!);
        Row(page, "brake", launch.Launcher.Brake!.ToString()!);
        Row(page, "resistance at 20 °C", QuantityText.Of(launch.Launcher.Sled.Coils[0].Coil.Resistance));

        // Every limit in its order, with its figures; the broken ones with advice.
        string[] limits = [.. Rows(Section(page, "Limits, the nearest first")).Select(row => row[0])];
        Assert.Equal(launch.Limits.Limits.Select(limit => limit.Name), limits.Skip(1));
        Assert.True(launch.Limits.Limits.Count(limit => limit.IsBroken) >= 2, "This launcher is there to break limits.");
        foreach (Limit limit in launch.Limits.Limits)
        {
            string[] row = Rows(Section(page, "Limits, the nearest first")).Single(each => each[0] == limit.Name);
            Assert.Equal(QuantityText.Of(limit.Reached), row[1]);
            Assert.Equal($"{(limit.MustReach ? "≥" : "≤")} {QuantityText.Of(limit.Allowed)}", row[2]);
            Assert.Equal(limit.IsBroken, row[3].StartsWith("BROKEN", StringComparison.Ordinal));
            Assert.Equal(limit.IsBroken, words.Contains($"{limit.Name} is broken: {limit.Advice}", StringComparison.Ordinal));
        }

        foreach (string caution in launch.Limits.Cautions)
        {
            Assert.Contains(caution, words, StringComparison.Ordinal);
        }

        // Cautions come before the first figure of the tables, and what was left out is named.
        Assert.True(page.IndexOf("Cautions first", StringComparison.Ordinal) < page.IndexOf("<h2>Predictions", StringComparison.Ordinal));
        Assert.Contains("The rails between supply and strips have no resistance.", words, StringComparison.Ordinal);
        Assert.DoesNotContain("no arc is described", words, StringComparison.Ordinal);
        Assert.DoesNotContain("Coils keep the resistance", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Effects_that_are_described_leave_the_list_of_what_was_left_out()
    {
        string plain = Words(StudyLaunchers.Small.Launch().ToReport());
        Assert.Contains("no arc is described", plain, StringComparison.Ordinal);
        Assert.Contains("Coils keep the resistance they have at 20 °C", plain, StringComparison.Ordinal);
        Assert.Contains("No brake is described", plain, StringComparison.Ordinal);
        Assert.Contains("The air does not brake the sled.", plain, StringComparison.Ordinal);
        Assert.DoesNotContain("The guide has no friction.", plain, StringComparison.Ordinal);
    }

    [Fact]
    public void Tolerances_give_the_speed_a_range()
    {
        ToleranceResult tolerances = new ToleranceStudy(StudyLaunchers.Small, Spread.Normal(DesignNumber.Voltage, 12.Volts(), 0.3.Volts())).Run(40);
        string page = StudyLaunchers.Small.Launch().ToReport("With tolerances", tolerances);
        Assert.Contains(
            $"of 40 launchers drawn within the tolerances, nine in ten leave at {QuantityText.Of(tolerances.Percentile(0.05))} to {QuantityText.Of(tolerances.Percentile(0.95))}", Words(page), StringComparison.Ordinal);
    }

    [Fact]
    public void A_launch_that_did_not_release_says_so_on_top_and_has_no_exit_speed()
    {
        Launcher weak = StudyLaunchers.Small with { Slope = 80.Degrees(), Source = new BenchSupply(0.5.Volts(), 20.Amperes()) };
        LaunchResult launch = weak.Launch();
        Assert.NotEqual(LaunchOutcome.Released, launch.Outcome);
        string page = launch.ToReport("Too weak");
        string words = Words(page);
        Assert.Contains("<title>Not a whole launch: Too weak</title>", page, StringComparison.Ordinal);
        Assert.Contains("<body class=\"unfinished\">", page, StringComparison.Ordinal);
        int stop = page.IndexOf("The payload was not released.", StringComparison.Ordinal);
        Assert.True(stop > 0 && stop < page.IndexOf("<section", StringComparison.Ordinal), "It stands above everything else.");
        Assert.Contains(launch.Cause[1..].TrimEnd('.'), words, StringComparison.Ordinal);
        Assert.DoesNotContain(">exit speed<", page, StringComparison.Ordinal);
        Assert.DoesNotContain(">time to release<", page, StringComparison.Ordinal);
        Assert.DoesNotContain("the payload leaves", words, StringComparison.Ordinal);
        Assert.DoesNotContain("<h2>Predictions", page, StringComparison.Ordinal);
        Row(page, "speed when the run ended", QuantityText.Of(launch.EndSpeed));
        Assert.DoesNotContain("Infinity", words, StringComparison.Ordinal);
        Assert.Equal("BROKEN", Rows(page).Single(row => row[0] == "release speed")[3]);
        Assert.Equal(3, Regex.Count(page, ", up to the moment it ended</h2>"));
    }

    [Fact]
    public void The_file_is_whole_holds_no_script_and_keeps_hostile_words_as_words()
    {
        using var folder = new TemporaryFolder();
        string path = folder.In("new/report.html");
        StudyLaunchers.Small.Launch().SaveReport(path, "<script>alert('x')</script> & \"more\"");
        Assert.Equal([path], Directory.EnumerateFiles(folder.In("new")));
        string page = File.ReadAllText(path);
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("<h1>&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;more&quot;</h1>", page, StringComparison.Ordinal);
        Assert.True(page.Length < 1_500_000, $"{page.Length} characters");
        Assert.Throws<ArgumentException>(() => StudyLaunchers.Small.Launch().ToReport(" "));
        Assert.Throws<ArgumentException>(() => StudyLaunchers.Small.Launch().SaveReport(""));
    }

    [BrowserFact]
    public async Task The_report_is_drawn_on_a_desk_a_telephone_and_paper_without_any_request()
    {
        using var folder = new TemporaryFolder();
        string shots = Path.Combine(Checkout.Root, "artifacts");
        Directory.CreateDirectory(shots);
        Launcher weak = StudyLaunchers.Small with { Slope = 80.Degrees(), Source = new BenchSupply(0.5.Volts(), 20.Amperes()) };
        foreach ((string name, LaunchResult launch, string title) in new[] { ("report", SparkLaunches.Launch, "Bench thrower with a brake"), ("report-unfinished", weak.Launch(), "Bench thrower, too weak") })
        {
            string path = folder.In($"{name}.html");
            launch.SaveReport(path, title);
            foreach ((int width, int height) in new[] { (1100, 900), (390, 844) })
            {
                await using Browser browser = await Browser.OpenAsync(path, width, height);
                Assert.Equal([new Uri(path).AbsoluteUri], browser.Requests.Where(address => !address.StartsWith("data:", StringComparison.Ordinal)));
                Assert.Empty(browser.Complaints);
                Assert.True((await browser.ValueAsync("document.documentElement.scrollWidth")).GetDouble() <= width, "The page is wider than its window.");
                int[] shapes = [.. (await browser.ValueAsync("""
                    [...document.querySelectorAll('figure')].map(figure => [...figure.querySelectorAll('.series path, .bar rect, .outline path')].filter(shape => {
                      const box = shape.getBoundingClientRect(); return box.width > 1 && box.height > 1; }).length)
                    """)).EnumerateArray().Select(count => count.GetInt32())];
                Assert.True(shapes.Length >= 4 && shapes.All(count => count > 0), string.Join(' ', shapes));

                // Each chart shows once, with words large enough to read.
                double least = (await browser.ValueAsync("""
                    Math.min(...[...document.querySelectorAll('figure svg[role=img]')].filter(sheet => sheet.getBoundingClientRect().width > 0).map(sheet =>
                      sheet.getBoundingClientRect().width / sheet.viewBox.baseVal.width * 12))
                    """)).GetDouble();
                Assert.InRange(least, 11, 13);
                int seen = (await browser.ValueAsync("[...document.querySelectorAll('figure svg[role=img]')].filter(sheet => sheet.getBoundingClientRect().width > 0).length")).GetInt32();
                Assert.Equal(shapes.Length, seen);
                await browser.ScreenshotAsync(Path.Combine(shots, $"{name}-{width}.png"));
                if (width > 1000)
                {
                    string sheet = Path.Combine(shots, $"{name}.pdf");
                    byte[] pages = await browser.PrintAsync();
                    await File.WriteAllBytesAsync(sheet, pages);
                    string printed = System.Text.Encoding.Latin1.GetString(pages);
                    Assert.InRange(Regex.Count(printed, @"/Type\s*/Page[^s]"), 3, 12);
                    Assert.Matches(@"/MediaBox\s*\[0 0 59[45](\.\d+)? 84[12](\.\d+)?\]", printed);
                }
            }
        }
    }

    private static string Words(string page) => WebUtility.HtmlDecode(Tag().Replace(page, string.Empty));

    private static void Row(string page, string name, string value) => Assert.Equal(string.Concat(value.Split('\r', '\n')), Cell(page, name));

    private static string Cell(string page, string name) => Rows(page).First(row => row[0] == name)[1];

    private static string Section(string page, string heading)
    {
        int start = page.IndexOf($"<h2>{heading}", StringComparison.Ordinal);
        Assert.True(start > 0, $"There is no section '{heading}'.");
        return page[start..page.IndexOf("</section>", start, StringComparison.Ordinal)];
    }

    private static IEnumerable<string[]> Rows(string page)
        => TableRow().Matches(page).Select(row => TableCell().Matches(row.Value).Select(cell => Words(cell.Groups[1].Value)).ToArray()).Where(row => row.Length > 1);

    [GeneratedRegex("<[^>]*>")]
    private static partial Regex Tag();

    [GeneratedRegex("<tr.*?</tr>", RegexOptions.Singleline)]
    private static partial Regex TableRow();

    [GeneratedRegex("<t[hd][^>]*>(.*?)</t[hd]>", RegexOptions.Singleline)]
    private static partial Regex TableCell();
}
