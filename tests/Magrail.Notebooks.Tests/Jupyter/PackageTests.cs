using Magrail.Notebooks.Tests.Packages;

namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>Runs every notebook as one that knows nothing of the checkout and takes them from a folder of packages, without a network.</summary>
[Collection(OneJupyterAtATime.Name)]
public sealed class PackageTests
{
    [JupyterFact]
    public async Task Notebooks_that_load_the_package_run_and_draw()
    {
        using Workplace place = await Workplace.MakeAsync();

        PackedFeed feed = await PackedFeed.GetAsync();
        foreach ((string name, string value) in feed.Environment(feed.Alone))
        {
            place.Environment[name] = value;
        }

        string[] notebooks = [.. Directory.EnumerateFiles(place.Notebooks, "*.ipynb").Order(StringComparer.Ordinal)];
        foreach (string notebook in notebooks)
        {
            await File.WriteAllTextAsync(notebook, NotebookText.FromPackage(await File.ReadAllTextAsync(notebook), feed.Version));
        }

        Directory.Delete(place.In("src"));

        foreach (string notebook in notebooks)
        {
            ProgramRun run = await place.RunAsync("jupyter-nbconvert", "--to", "html", "--execute", "--output-dir", place.In("pages"), notebook);
            Assert.True(run.ExitCode == 0, run.Everything);
            Assert.Contains("checks hold:", await File.ReadAllTextAsync(PageOf(notebook)), StringComparison.Ordinal);
        }

        Assert.True(Directory.Exists(Path.Combine(feed.Unpacked, "magrail.charts", feed.Version)), "The libraries must have come from the folder of packages.");
        await NbconvertTests.LookAtAsync(PageOf(notebooks[0]), "from-package");

        string PageOf(string notebook) => place.In($"pages/{Path.GetFileNameWithoutExtension(notebook)}.html");
    }
}
