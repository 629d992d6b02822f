using System.Text.RegularExpressions;

namespace Magrail.Notebooks.Tests.Docs;

/// <summary>Every link of a page leads to a file of the checkout and, where it names one, to a heading there. Addresses elsewhere are listed and not asked for.</summary>
public sealed partial class LinkTests
{
    private static readonly string[] PartsOfConcept = ["<p class=\"equation\">", "```csharp", "**Assumption.**", "**Where it breaks.**", "**Sources.**"];

    [Fact]
    public void Every_link_between_pages_leads_somewhere()
        => Assert.Empty(DocPage.All.SelectMany(page => page.Links.Where(IsHere).SelectMany(link => FaultsOf(page, link))));

    [Fact]
    public void Every_page_of_the_table_of_contents_is_there_and_every_page_is_in_one()
    {
        string docs = Path.Combine(Checkout.Root, "docs");
        string[] named =
        [
            .. Directory.EnumerateFiles(docs, "toc.yml", SearchOption.AllDirectories).SelectMany(toc => File.ReadLines(toc)
                .Select(line => line.Trim()).Where(line => line.StartsWith("href: ", StringComparison.Ordinal) && !line.EndsWith('/'))
                .Select(line => Path.GetRelativePath(Checkout.Root, Path.Combine(Path.GetDirectoryName(toc)!, line["href: ".Length..])).Replace('\\', '/'))),
        ];
        Assert.Equal(named.Order(StringComparer.Ordinal), DocPage.All.Where(page => !IsOfNamespaces(page)).Select(page => page.Name).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Every_concept_has_its_equation_assumption_limits_code_and_sources()
    {
        string references = File.ReadAllText(Path.Combine(Checkout.Root, "docs", "references.md"));
        DocPage[] concepts = [.. DocPage.All.Where(page => page.Name.StartsWith("docs/concepts/", StringComparison.Ordinal) && !page.Name.EndsWith("/index.md", StringComparison.Ordinal))];
        Assert.Equal(13, concepts.Length);
        Assert.All(concepts, page => Assert.All(PartsOfConcept, part => Assert.Contains(part, page.Text, StringComparison.Ordinal)));

        string[] keys = [.. concepts.SelectMany(page => Key().Matches(page.Text[page.Text.LastIndexOf("**Sources.**", StringComparison.Ordinal)..])).Select(match => match.Value)];
        Assert.Contains("HOLM", keys);
        Assert.All(keys, key => Assert.Contains($"**{key}**", references, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_example_program_is_on_their_page()
    {
        DocPage page = DocPage.All.Single(page => page.Name == "docs/examples/README.md");
        Assert.Equal(
            Directory.EnumerateFiles(Path.Combine(Checkout.Root, "docs", "examples"), "*.cs", SearchOption.AllDirectories).Select(Path.GetFileName).Order(StringComparer.Ordinal),
            page.Links.Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Links_elsewhere_are_listed()
    {
        string[] elsewhere = [.. DocPage.All.SelectMany(page => page.Links).Where(link => link.Contains("://", StringComparison.Ordinal)).Distinct().Order(StringComparer.Ordinal)];
        Assert.NotEmpty(elsewhere);
        Assert.All(elsewhere, link => Assert.True(Uri.TryCreate(link, UriKind.Absolute, out Uri? address) && address.Scheme is "http" or "https", link));
        Directory.CreateDirectory(Path.Combine(Checkout.Root, "artifacts"));
        await File.WriteAllLinesAsync(Path.Combine(Checkout.Root, "artifacts", "links-elsewhere.txt"), elsewhere);
    }

    [Fact]
    public void The_rules_can_fail()
    {
        var page = new DocPage("docs/made.md", "# One\n\n## Two words\n\n[a](accuracy.md) [b](accuracy.md#speed-of-light) [c](nowhere.md) [d](#two-words) [e](#three) ![f](pictures/none.svg)\n\n```csharp\nnot[a](link.md)\n```\n");
        Assert.Equal(["one", "two-words"], page.Anchors);
        Assert.Equal(
            ["docs/made.md: accuracy.md#speed-of-light has no such heading", "docs/made.md: nowhere.md is not there", "docs/made.md: #three has no such heading", "docs/made.md: pictures/none.svg is not there"],
            page.Links.Where(IsHere).SelectMany(link => FaultsOf(page, link)));
    }

    /// <summary>What the pages of the namespaces say at their top; it has no page of its own.</summary>
    private static bool IsOfNamespaces(DocPage page) => page.Text.StartsWith("---\nuid: ", StringComparison.Ordinal);

    private static bool IsHere(string link) => !link.Contains("://", StringComparison.Ordinal) && !link.StartsWith("xref:", StringComparison.Ordinal);

    private static IEnumerable<string> FaultsOf(DocPage page, string link)
    {
        string[] parts = link.Split('#', 2);
        bool isOwn = parts[0].Length == 0;
        string target = isOwn ? page.Name : page.Beside(Uri.UnescapeDataString(parts[0]));
        if (!isOwn && !File.Exists(Path.Combine(Checkout.Root, target)))
        {
            yield return $"{page.Name}: {link} is not there";
        }
        else if (parts.Length == 2 && (isOwn ? page : DocPage.All.FirstOrDefault(one => one.Name == target))?.Anchors.Contains(parts[1]) != true)
        {
            yield return $"{page.Name}: {link} has no such heading";
        }
    }

    [GeneratedRegex(@"\b[A-Z][A-Z0-9]{2,}\b")]
    private static partial Regex Key();
}
