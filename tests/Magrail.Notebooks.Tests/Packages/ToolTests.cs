using System.IO.Compression;
using System.Text.Json.Nodes;

namespace Magrail.Notebooks.Tests.Packages;

/// <summary>The notebook runner as a .NET tool, installed from the folder of packages into a folder that knows nothing of the checkout, without a network.</summary>
public sealed class ToolTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Installed_it_runs_a_notebook_of_the_course_that_names_the_package()
    {
        PackedFeed feed = await PackedFeed.GetAsync();
        Dictionary<string, string> environment = feed.Environment(feed.Alone);
        environment["DOTNET_CLI_HOME"] = _folder.In("home");
        ProgramRun installed = await Checkout.RunAsync(
            _folder.Path, environment, TimeSpan.FromMinutes(2), "dotnet", "tool", "install", "Magrail.NotebookRunner", "--version", feed.Version, "--tool-path", _folder.In("tools"), "--configfile", feed.Alone);
        Assert.True(installed.ExitCode == 0, installed.Everything);

        const string Name = "01-first-launch.ipynb";
        string notebook = _folder.In(Name);
        await File.WriteAllTextAsync(notebook, NotebookText.FromPackage(await File.ReadAllTextAsync(Path.Combine(Checkout.Root, "notebooks", Name)), feed.Version));
        ProgramRun run = await Checkout.RunAsync(_folder.Path, environment, TimeSpan.FromMinutes(3), _folder.In("tools/magrail-notebook"), notebook, "--out", _folder.In("pages"));
        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.Contains("exit speed: 11.15 m/s", run.Output, StringComparison.Ordinal);
        Assert.Contains("checks hold:", await File.ReadAllTextAsync(_folder.In("pages/01-first-launch.html")), StringComparison.Ordinal);
        Assert.True(Directory.Exists(Path.Combine(feed.Unpacked, "magrail.charts", feed.Version)), "The libraries must have come from the folder of packages.");
    }

    /// <summary>A copy of the library beside the tool would be loaded in place of the one that a notebook names.</summary>
    [Fact]
    public async Task It_carries_no_copy_of_the_library_and_names_all_that_it_carries()
    {
        PackedFeed feed = await PackedFeed.GetAsync();
        await using ZipArchive package = await ZipFile.OpenReadAsync(feed.Package("Magrail.NotebookRunner"));
        string[] names = [.. package.Entries.Select(entry => entry.FullName).Where(name => name.EndsWith(".dll", StringComparison.Ordinal))];
        Assert.Equal(["tools/net10.0/any/Magrail.NotebookRunner.dll"], names.Where(name => Path.GetFileName(name).StartsWith("Magrail.", StringComparison.Ordinal)));
        Assert.DoesNotContain(names, name => Path.GetFileName(name) is "UnitsNet.dll" or "MathNet.Numerics.dll" or "Plotly.NET.dll");

        await using Stream stream = await package.GetEntry("tools/net10.0/any/Magrail.NotebookRunner.deps.json")!.OpenAsync();
        var carried = new SortedSet<(string File, string Package)>();
        foreach ((string library, JsonNode? parts) in (await JsonNode.ParseAsync(stream))!["targets"]!.AsObject().Single().Value!.AsObject().Where(each => !each.Key.StartsWith("Magrail.", StringComparison.Ordinal)))
        {
            foreach (string part in (string[])["runtime", "runtimeTargets"])
            {
                carried.UnionWith((parts![part]?.AsObject() ?? []).Select(file => (Path.GetFileName(file.Key), library.Replace('/', ' '))));
            }
        }

        Assert.Equal(names.Select(name => Path.GetFileName(name)).Distinct().Count() - 1, carried.Count);
        string[] notices = await File.ReadAllLinesAsync(Path.Combine(Checkout.Root, "src", "Magrail.NotebookRunner", "THIRD-PARTY-NOTICES.md"));
        string[] lines = [.. notices.Where(line => line.StartsWith("| `", StringComparison.Ordinal))];
        Assert.All(carried, each => Assert.Contains(lines, line => line.StartsWith($"| `{each.File}` | {each.Package} | ", StringComparison.Ordinal)));
        Assert.Equal(carried.Count, lines.Length);
    }
}
