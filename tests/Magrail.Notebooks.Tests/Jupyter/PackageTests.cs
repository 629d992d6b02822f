using System.Text.Json.Nodes;

namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>Packs the libraries, and runs every notebook as one that knows nothing of the checkout and takes them from a folder of packages, without a network.</summary>
[Collection(OneJupyterAtATime.Name)]
public sealed class PackageTests
{
    private const string FromCheckout = "#r \"../src/Magrail.Notebooks/bin/Release/net10.0/Magrail.Notebooks.dll\"";

    [JupyterFact]
    public async Task Notebooks_that_load_the_package_run_and_draw()
    {
        using Workplace place = await Workplace.MakeAsync();

        // A version of its own: a package of a version that was seen before would come from a cache.
        string version = $"0.0.1-test.{Guid.NewGuid():N}";
        string feed = place.In("feed");
        ProgramRun packed = await PackAsync(feed, version);
        Assert.True(packed.ExitCode == 0, packed.Everything);
        Assert.Equal(
            ["Magrail.Charts", "Magrail.Core", "Magrail.Files", "Magrail.Laws", "Magrail.Notebooks"],
            Directory.EnumerateFiles(feed, "*.nupkg").Select(path => Path.GetFileName(path).Replace($".{version}.nupkg", string.Empty, StringComparison.Ordinal)).Order(StringComparer.Ordinal));

        // The one source is the folder; what the libraries depend on was restored to build them, and lies in the user's packages.
        string config = place.In("nuget.config");
        string packages = place.In("packages");
        await File.WriteAllTextAsync(config, $"""
            <configuration>
              <packageSources><clear /><add key="feed" value="{feed}" /></packageSources>
              <fallbackPackageFolders><clear /><add key="restored" value="{await UserPackagesAsync()}" /></fallbackPackageFolders>
            </configuration>
            """);
        place.Environment["RestoreConfigFile"] = config;
        place.Environment["NUGET_PACKAGES"] = packages;

        string[] notebooks = [.. Directory.EnumerateFiles(place.Notebooks, "*.ipynb").Order(StringComparer.Ordinal)];
        foreach (string notebook in notebooks)
        {
            JsonNode cells = JsonNode.Parse(await File.ReadAllTextAsync(notebook))!;
            JsonNode setUp = Assert.Single(cells["cells"]!.AsArray(), cell => SourceOf(cell!).StartsWith(FromCheckout, StringComparison.Ordinal))!;
            setUp["source"] = SourceOf(setUp).Replace(FromCheckout, $"#r \"nuget: Magrail.Notebooks, {version}\"", StringComparison.Ordinal);
            await File.WriteAllTextAsync(notebook, cells.ToJsonString());
        }

        Directory.Delete(place.In("src"));

        foreach (string notebook in notebooks)
        {
            ProgramRun run = await place.RunAsync("jupyter-nbconvert", "--to", "html", "--execute", "--output-dir", place.In("pages"), notebook);
            Assert.True(run.ExitCode == 0, run.Everything);
            Assert.Contains("checks hold:", await File.ReadAllTextAsync(PageOf(notebook)), StringComparison.Ordinal);
        }

        Assert.True(Directory.Exists(Path.Combine(packages, "magrail.charts", version)), "The libraries must have come from the folder of packages.");
        await NbconvertTests.LookAtAsync(PageOf(notebooks[0]), "from-package");

        string PageOf(string notebook) => place.In($"pages/{Path.GetFileNameWithoutExtension(notebook)}.html");
    }

    /// <summary>The command of the README, without building anew, since other tests use what is built.</summary>
    private static Task<ProgramRun> PackAsync(string feed, string version)
        => Checkout.RunAsync(Checkout.Root, "dotnet", "pack", "Magrail.Core.sln", "-c", Checkout.Configuration, "-o", feed, "--no-build", $"-p:PackageVersion={version}");

    private static async Task<string> UserPackagesAsync()
    {
        ProgramRun asked = await Checkout.RunAsync(Checkout.Root, "dotnet", "nuget", "locals", "global-packages", "--list");
        Assert.True(asked.ExitCode == 0, asked.Everything);
        return asked.Output.Trim()["global-packages: ".Length..];
    }

    private static string SourceOf(JsonNode cell)
        => cell["source"] is JsonArray lines ? string.Concat(lines.Select(line => line!.GetValue<string>())) : cell["source"]!.GetValue<string>();
}
