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

        await NbconvertTests.ConvertAsync(place, [.. notebooks.Select(notebook => Path.GetFileName(notebook))]);
        Assert.True(Directory.Exists(Path.Combine(feed.Unpacked, "magrail.charts", feed.Version)), "The libraries must have come from the folder of packages.");
    }
}
