using System.Text.RegularExpressions;

namespace Magrail.Notebooks.Tests.Docs;

/// <summary>The documentation site is built by the command that contributors are given, without a warning; its links lead somewhere and it asks no network for anything.</summary>
[Collection(OneBuildAtATime.Name)]
public sealed partial class SiteTests
{
    private static readonly string Site = Path.Combine(Checkout.Root, "artifacts", "site");

    [SiteFact]
    public async Task The_site_is_built_without_a_warning_and_asks_no_network_for_anything()
    {
        string command = File.ReadLines(Path.Combine(Checkout.Root, "DEVELOPERS.md")).First(line => line.StartsWith("dotnet msbuild docs/", StringComparison.Ordinal)).Split('#')[0].Trim();
        Assert.Equal("dotnet msbuild docs/site.proj -v:m", command);
        if (Directory.Exists(Site))
        {
            Directory.Delete(Site, recursive: true);
        }

        ProgramRun run = await Checkout.RunAsync(Checkout.Root, "dotnet", command.Split(' ')[1..]);
        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.Contains("0 warning(s)", run.Output, StringComparison.Ordinal);

        Dictionary<string, string> pages = Directory.EnumerateFiles(Site, "*.html", SearchOption.AllDirectories)
            .ToDictionary(file => Path.GetRelativePath(Site, file).Replace('\\', '/'), File.ReadAllText, StringComparer.Ordinal);
        Assert.All(
            ["index.html", "tour.html", "accuracy.html", "concepts/force-constant.html", "api/Magrail.Coil.html", "api/Magrail.Files.RunCsv.html", "api/Magrail.Charts.LaunchCharts.html", "api/Magrail.Notebooks.Setup.html", "api/Magrail.Laws.LaunchLaws.html"],
            page => Assert.Contains(page, pages.Keys));
        Assert.Empty(pages.SelectMany(page => FaultsOf(page.Key, page.Value, pages)));
        Assert.DoesNotContain(pages.Values, text => text.Contains(Checkout.Root, StringComparison.Ordinal));

        using var server = new SiteServer(Site);
        foreach ((string page, int width) in new[] { ("index.html", 390), ("concepts/force-constant.html", 1280), ("api/Magrail.Coil.html", 390) })
        {
            await using Browser browser = await Browser.OpenAsync(new Uri(server.Address, page), width, 844, "document.readyState === 'complete' && document.querySelector('#navbar a, #toc a')");
            Assert.All(browser.Requests, asked => Assert.True(asked.StartsWith(server.Address.AbsoluteUri, StringComparison.Ordinal) || asked.StartsWith("data:", StringComparison.Ordinal), $"{page} asks for {asked}"));
            Assert.Empty(browser.Complaints);
            Assert.True((await browser.ValueAsync($"document.documentElement.scrollWidth <= {width}")).GetBoolean(), $"{page} is wider than {width} pixels.");
            await browser.ScreenshotAsync(Path.Combine(Checkout.Root, "artifacts", $"site-{Path.GetFileNameWithoutExtension(page)}-{width}.png"));
        }
    }

    [Fact]
    public void The_rules_can_fail()
    {
        var pages = new Dictionary<string, string> { ["a/one.html"] = """<h2 id="here">x</h2>""", ["two.html"] = string.Empty };
        const string Page = """
            <a href="one.html#here"><a href="one.html#there"><a href="../two.html"><a href="three.html"><img src="no.svg">
            <script src="https://example.org/x.js"></script><link rel="stylesheet" href="//example.org/x.css"><a href="https://example.org/">
            """;
        Assert.Equal(
            ["a/page.html: one.html#there", "a/page.html: three.html", "a/page.html: no.svg", "a/page.html fetches https://example.org/x.js", "a/page.html fetches //example.org/x.css"],
            FaultsOf("a/page.html", Page, pages));
    }

    /// <summary>Links of a page that lead nowhere, and what it fetches from elsewhere.</summary>
    private static IEnumerable<string> FaultsOf(string page, string text, Dictionary<string, string> pages)
    {
        foreach (Match found in Address().Matches(text))
        {
            string address = System.Net.WebUtility.HtmlDecode(found.Groups["address"].Value);
            if (address.Contains("//", StringComparison.Ordinal))
            {
                if (!found.Value.StartsWith("<a ", StringComparison.Ordinal))
                {
                    yield return $"{page} fetches {address}";
                }
            }
            else if (address.Length > 0 && !address.StartsWith("data:", StringComparison.Ordinal))
            {
                string[] parts = address.Split('#', 2);
                string file = parts[0].Split('?')[0];
                string target = file.Length == 0 ? page : Path.GetRelativePath(Site, Path.GetFullPath(Path.Combine(Site, Path.GetDirectoryName(page)!, Uri.UnescapeDataString(file)))).Replace('\\', '/');
                bool isThere = pages.TryGetValue(target, out string? there) || target == page || File.Exists(Path.Combine(Site, target));
                bool hasAnchor = parts.Length == 1 || parts[1].Length == 0 || (target == page ? text : there)?.Contains($"id=\"{Uri.UnescapeDataString(parts[1])}\"", StringComparison.Ordinal) == true;
                if (!isThere || !hasAnchor)
                {
                    yield return $"{page}: {address}";
                }
            }
        }
    }

    [GeneratedRegex("""<(?:a|img|script|link|source|iframe)\b[^>]*?\s(?:href|src)="(?<address>[^"]*)"[^>]*>""")]
    private static partial Regex Address();
}
