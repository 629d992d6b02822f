using Magrail.Notebooks.Tests.Packages;

namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>Runs notebooks as ones that know nothing of the checkout and take the libraries from a folder of packages, without a network: the first, one in the middle and the last; in a long run all of them.</summary>
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

        string[] all = [.. Directory.EnumerateFiles(place.Notebooks, "*.ipynb").Order(StringComparer.Ordinal)];
        string[] notebooks = Checkout.IsLongRun ? all : [all[0], all[all.Length / 2], all[^1]];
        foreach (string notebook in notebooks)
        {
            await File.WriteAllTextAsync(notebook, NotebookText.FromPackage(await File.ReadAllTextAsync(notebook), feed.Version));
        }

        Directory.Delete(place.In("src"));

        await NbconvertTests.ConvertAsync(place, [.. notebooks.Select(notebook => Path.GetFileName(notebook))]);
        Assert.True(Directory.Exists(Path.Combine(feed.Unpacked, "magrail.charts", feed.Version)), "The libraries must have come from the folder of packages.");
    }
}
