using System.Text.RegularExpressions;
using Markdig;
using Markdig.Renderers.Html;
using Markdig.Syntax;
using Markdig.Syntax.Inlines;

namespace Magrail.Notebooks.Tests.Docs;

/// <summary>A page of Markdown as the tests read it: its code with what it is to print, its links and the anchors that others may link to.</summary>
internal sealed partial class DocPage
{
    private static readonly MarkdownPipeline Pipeline = new MarkdownPipelineBuilder()
        .UsePipeTables().UseAutoLinks().UseAutoIdentifiers(Markdig.Extensions.AutoIdentifiers.AutoIdentifierOptions.GitHub).Build();

    private static readonly Lazy<IReadOnlyList<DocPage>> Read = new(() =>
    [
        .. Directory.EnumerateFiles(Path.Combine(Checkout.Root, "docs"), "*.md", SearchOption.AllDirectories)
            .Select(file => Path.GetRelativePath(Checkout.Root, file).Replace('\\', '/')).Order(StringComparer.Ordinal)
            .Concat(["README.md", "DEVELOPERS.md", "notebooks/README.md", "src/package-readme.md"])
            .Select(name => new DocPage(name, File.ReadAllText(Path.Combine(Checkout.Root, name)))),
    ]);

    private readonly MarkdownDocument _document;

    public DocPage(string name, string text)
    {
        Name = name;
        Text = text;
        _document = Markdown.Parse(text, Pipeline);
        Snippets = [.. SnippetsOf(_document)];
    }

    /// <summary>All pages that a reader of the checkout or of the site may open.</summary>
    public static IReadOnlyList<DocPage> All => Read.Value;

    /// <summary>Its path from the top of the checkout, with slashes.</summary>
    public string Name { get; }

    public string Text { get; }

    /// <summary>The blocks of C#, in order. Together they are one program.</summary>
    public IReadOnlyList<Snippet> Snippets { get; }

    /// <summary>Those of its blocks that come before the program of a page that goes on from this one: as far as a comment says, or all.</summary>
    public IEnumerable<Snippet> SnippetsToGoOnFrom
    {
        get
        {
            int end = Text.IndexOf("<!-- other pages go on from here -->", StringComparison.Ordinal);
            int lines = end < 0 ? int.MaxValue : Text[..end].Count(letter => letter == '\n');
            return Snippets.Where(snippet => snippet.Line <= lines);
        }
    }

    /// <summary>The page whose program this one goes on from, by a comment <c>&lt;!-- goes on from tour.md --&gt;</c>.</summary>
    public DocPage? GoesOnFrom
    {
        get
        {
            Match said = GoesOn().Match(Text);
            return said.Success ? All.Single(page => page.Name == Beside(said.Groups[1].Value)) : null;
        }
    }

    /// <summary>Where all links and pictures point to, as written.</summary>
    public IEnumerable<string> Links
        => _document.Descendants<LinkInline>().Select(link => link.Url ?? string.Empty).Concat(_document.Descendants<AutolinkInline>().Select(link => link.Url));

    /// <summary>The names of its headings.</summary>
    public IEnumerable<string> Anchors => _document.Descendants<HeadingBlock>().Select(heading => heading.GetAttributes().Id ?? string.Empty);

    /// <summary>A path that is written relative to this page, from the top of the checkout.</summary>
    public string Beside(string target)
        => Path.GetRelativePath(Checkout.Root, Path.GetFullPath(Path.Combine(Checkout.Root, Path.GetDirectoryName(Name)!, target))).Replace('\\', '/');

    /// <summary>The page with what its program printed in the place of what it says.</summary>
    public string WithOutputs(IReadOnlyList<string> outputs)
    {
        string text = Text;
        foreach ((Snippet snippet, string output) in Snippets.Zip(outputs).Reverse())
        {
            if (snippet.OutputSpan is SourceSpan span)
            {
                text = $"{text[..span.Start]}```text\n{output}\n```{text[(span.End + 1)..]}";
            }
        }

        return text;
    }

    public override string ToString() => Name;

    private static IEnumerable<Snippet> SnippetsOf(MarkdownDocument document)
    {
        for (int i = 0; i < document.Count; i++)
        {
            if (document[i] is FencedCodeBlock { Info: "csharp" } code && !IsFirstCell(code))
            {
                FencedCodeBlock? output = i + 1 < document.Count && document[i + 1] is FencedCodeBlock { Info: "text" } next ? next : null;
                yield return new Snippet(code.Line + 2, code.Lines.ToString(), output?.Lines.ToString().TrimEnd(), output?.Span);
            }
        }
    }

    /// <summary>The first cell of a notebook, which loads the library in a way that a program does not have; the notebooks themselves test it.</summary>
    private static bool IsFirstCell(FencedCodeBlock code) => code.Lines.ToString().StartsWith("#r ", StringComparison.Ordinal);

    [GeneratedRegex(@"<!-- goes on from (\S+) -->")]
    private static partial Regex GoesOn();
}

/// <summary>A block of C# on a page: the line it begins in, and what the block of text after it says that it prints.</summary>
internal sealed record Snippet(int Line, string Code, string? Output, SourceSpan? OutputSpan);
