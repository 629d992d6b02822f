using System.Text.RegularExpressions;

namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>Runs notebooks of the checkout through nbconvert and looks at the pages that come out. One does here: others run from packages, and all of them in the notebook page and in the runner.</summary>
[Collection(OneJupyterAtATime.Name)]
public sealed class NbconvertTests
{
    [JupyterFact]
    public async Task A_notebook_of_the_checkout_runs_through_nbconvert_into_a_page_with_every_chart_drawn()
    {
        using Workplace place = await Workplace.MakeAsync();
        await ConvertAsync(place, ["01-first-launch.ipynb"]);
    }

    /// <summary>Runs notebooks into pages: the closing checks hold, every chart is drawn, the compiler has nothing to say.</summary>
    internal static async Task ConvertAsync(Workplace place, IReadOnlyList<string> notebooks)
    {
        ProgramRun run = await place.RunAsync("jupyter-nbconvert", ["--to", "html", "--execute", "--output-dir", place.In("pages"), .. notebooks]);
        Assert.True(run.ExitCode == 0, run.Everything);
        var complaints = new List<string>();
        foreach (string notebook in notebooks)
        {
            string page = place.In(Path.Combine("pages", Path.ChangeExtension(notebook, ".html")));
            string text = await File.ReadAllTextAsync(page);
            var closing = Assert.Single(NotebookText.CellsOf(Path.Combine(place.Notebooks, notebook)), cell => cell.Tags.Contains("closing-checks"));
            Assert.Contains($"{closing.Source.Split(".That(").Length - 1} checks hold:", text, StringComparison.Ordinal);
            await LookAtAsync(page, notebook);

            // What the compiler warns of stands in red on the reader's page.
            complaints.AddRange(Regex.Matches(text, "data-mime-type=\"application/vnd.jupyter.stderr\"(.{0,600})", RegexOptions.Singleline).Select(error => $"{notebook}: {error.Groups[1].Value}"));
        }

        Assert.True(complaints.Count == 0, string.Join('\n', complaints));
    }

    /// <summary>Every chart of a page made by nbconvert is drawn, and nothing came from outside this machine.</summary>
    private static async Task LookAtAsync(string page, string name)
    {
        await using Browser browser = await Browser.OpenAsync(page, 1100, 900);
        await DrawnPictures.CheckAsync(browser, name);

        // Debian's nbconvert names the scripts for formulas by their place on this machine. The kernel leaves a line in every page that
        // looks on loopback for it, where it was while the notebook ran, and for its script, should any kernel answer there.
        Assert.All(browser.Requests, address => Assert.True(
            new Uri(address) is { Scheme: "data" or "blob" or "file" } or { IsLoopback: true }, $"{name} asked for {address}"));
    }
}
