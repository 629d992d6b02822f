using System.Text;
using System.Text.RegularExpressions;

namespace Magrail.Notebooks.Tests.Docs;

/// <summary>
/// The programs of all pages, compiled into one and run one after the other: the blocks of a page are the body of one method, with the directives of their lines, so that the
/// compiler names page and line of a fault. A page that goes on from another has blocks of that page before its own.
/// </summary>
public sealed partial class SnippetBuild : IAsyncLifetime
{
    private const string PageMark = "<<<page>>>";
    private const string BlockMark = "<<<block>>>";

    /// <summary>Where the program of a page that this one goes on from leaves what it writes.</summary>
    private const string Before = "before";

    private readonly Dictionary<string, IReadOnlyList<string>> _outputs = [];
    private string _folder = string.Empty;

    internal static IReadOnlyList<DocPage> Pages { get; } = [.. DocPage.All.Where(page => page.Snippets.Count > 0)];

    public async Task InitializeAsync()
    {
        // Inside the checkout, so that its house rules hold here too.
        _folder = Path.Combine(Checkout.Root, "artifacts", $"pages-{Guid.NewGuid():N}");
        Directory.CreateDirectory(_folder);
        await File.WriteAllTextAsync(Path.Combine(_folder, "pages.csproj"), $"""
            <Project Sdk="Microsoft.NET.Sdk">
              <PropertyGroup>
                <OutputType>Exe</OutputType>
                <RestorePackagesWithLockFile>false</RestorePackagesWithLockFile>
              </PropertyGroup>
              <ItemGroup>
                <ProjectReference Include="{Path.Combine(Checkout.Root, "src", "Magrail.Charts", "Magrail.Charts.csproj")}" />
                <ProjectReference Include="{Path.Combine(Checkout.Root, "src", "Magrail.Files", "Magrail.Files.csproj")}" />
                <ProjectReference Include="{Path.Combine(Checkout.Root, "src", "Magrail.Laws", "Magrail.Laws.csproj")}" />
              </ItemGroup>
            </Project>
            """);
        for (int i = 0; i < Pages.Count; i++)
        {
            await File.WriteAllTextAsync(Path.Combine(_folder, $"Page{i}.cs"), ProgramOf(Pages[i], i));
            Directory.CreateDirectory(Path.Combine(FolderOf(Pages[i]), "pictures"));
            Directory.CreateDirectory(Path.Combine(FolderOf(Pages[i]), Before, "pictures"));
        }

        string calls = string.Concat(Pages.Select((page, i) => $"Console.Write(\"{PageMark}\");\nPage{i}.Run();\n"));
        await File.WriteAllTextAsync(Path.Combine(_folder, "Program.cs"), calls);
        ProgramRun build = await Checkout.RunAsync(_folder, "dotnet", "build", "-c", Checkout.Configuration, "-v", "quiet", "-nologo", "--nodereuse:false");
        Assert.True(build.ExitCode == 0, build.Everything);
        ProgramRun run = await Checkout.RunAsync(_folder, "dotnet", Path.Combine(_folder, "bin", Checkout.Configuration, "net10.0", "pages.dll"));
        Assert.True(run.ExitCode == 0, run.Everything);

        string[] pages = run.Output.ReplaceLineEndings("\n").Split(PageMark)[1..];
        foreach ((DocPage page, string printed) in Pages.Zip(pages))
        {
            // What stands before the last marks, one for each block, belongs to the page that this one goes on from.
            _outputs[page.Name] = [.. printed.Split(BlockMark)[^page.Snippets.Count..].Select(output => output.TrimEnd())];
        }
    }

    public Task DisposeAsync()
    {
        Directory.Delete(_folder, recursive: true);
        return Task.CompletedTask;
    }

    /// <summary>What each block of a page printed.</summary>
    internal IReadOnlyList<string> OutputsOf(DocPage page) => _outputs[page.Name];

    /// <summary>The pictures that a page's program wrote, name and text.</summary>
    internal IReadOnlyDictionary<string, string> PicturesOf(DocPage page)
        => Directory.EnumerateFiles(Path.Combine(FolderOf(page), "pictures")).ToDictionary(file => Path.GetFileName(file), File.ReadAllText);

    private string ProgramOf(DocPage page, int number)
    {
        var usings = new SortedSet<string>(StringComparer.Ordinal);
        var body = new StringBuilder();
        foreach (DocPage part in page.GoesOnFrom is { } before ? [before, page] : new[] { page })
        {
            body.Append($"Directory.SetCurrentDirectory(@\"{(part == page ? FolderOf(page) : Path.Combine(FolderOf(page), Before))}\");\n");
            foreach (Snippet snippet in part == page ? part.Snippets : part.SnippetsToGoOnFrom)
            {
                body.Append($"Console.Write(\"{BlockMark}\");\n#line {snippet.Line} \"{Path.Combine(Checkout.Root, part.Name)}\"\n");
                foreach (string line in snippet.Code.Split('\n'))
                {
                    bool isUsing = UsingDirective().IsMatch(line);
                    _ = isUsing && usings.Add(line.Trim());
                    body.Append(isUsing ? "\n" : line + "\n");
                }

                body.Append("#line default\n");
            }
        }

        return $"{string.Join('\n', usings)}\ninternal static class Page{number}\n{{\npublic static void Run()\n{{\n{body}}}\n}}\n";
    }

    private string FolderOf(DocPage page) => Path.Combine(_folder, "run", page.Name.Replace('/', '-'));

    [GeneratedRegex(@"^using [\w.]+;\s*$")]
    private static partial Regex UsingDirective();
}
