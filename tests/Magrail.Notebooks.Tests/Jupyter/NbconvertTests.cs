using System.Text.RegularExpressions;

namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>Runs every notebook through nbconvert and looks at the page that comes out.</summary>
[Collection(OneJupyterAtATime.Name)]
public sealed class NbconvertTests
{
    [JupyterFact]
    public async Task Every_notebook_runs_through_nbconvert_into_a_page_with_every_chart_drawn()
    {
        using Workplace place = await Workplace.MakeAsync();
        string[] notebooks = [.. Checkout.Notebooks.Select(path => Path.GetFileName(path))];
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
    public static async Task LookAtAsync(string page, string name)
    {
        await using Browser browser = await Browser.OpenAsync(page, 1100, 900);
        await DrawnPictures.CheckAsync(browser, name);

        // Debian's nbconvert names the scripts for formulas by their place on this machine. The kernel leaves a line in every page that
        // looks on loopback for it, where it was while the notebook ran, and for its script, should any kernel answer there.
        Assert.All(browser.Requests, address => Assert.True(
            new Uri(address) is { Scheme: "data" or "blob" or "file" } or { IsLoopback: true }, $"{name} asked for {address}"));
    }
}
