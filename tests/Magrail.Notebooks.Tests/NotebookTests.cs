using System.Text.Json.Nodes;

namespace Magrail.Notebooks.Tests;

public sealed class NotebookTests
{
    public static TheoryData<string> All => [.. Checkout.Notebooks.Select(path => Path.GetFileName(path))];

    [Theory]
    [MemberData(nameof(All))]
    public async Task Every_cell_runs_and_the_closing_checks_hold(string name)
    {
        using var folder = new TemporaryFolder();
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(Checkout.Root, Path.Combine("notebooks", name), "--out", folder.Path);
        Assert.True(run.ExitCode == 0, run.Everything);
        string report = Path.Combine(folder.Path, Path.ChangeExtension(name, ".html"));
        Assert.StartsWith(report, run.Output, StringComparison.Ordinal);
        Assert.True(File.Exists(report), "The report whose path was printed is not there.");

        // The closing cell prints a line for each check that holds: as many as it states.
        var closing = Assert.Single(NotebookText.CellsOf(Path.Combine(Checkout.Root, "notebooks", name)), cell => cell.Tags.Contains("closing-checks"));
        int stated = closing.Source.Split(".That(").Length - 1;
        Assert.True(stated >= 3, "A notebook closes with at least three checks.");
        Assert.Contains($"{stated} checks hold:", await File.ReadAllTextAsync(report), StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Is_kept_without_outputs(string name)
    {
        foreach (JsonNode cell in NotebookText.CellsOf(Path.Combine(Checkout.Root, "notebooks", name)).Where(cell => cell.Kind == "code").Select(cell => cell.Cell))
        {
            Assert.Empty(cell["outputs"]!.AsArray());
            Assert.Null(cell["execution_count"]);
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Opens_with_a_heading_and_names_key_figures(string name)
    {
        var cells = NotebookText.CellsOf(Path.Combine(Checkout.Root, "notebooks", name));
        Assert.Equal("markdown", cells[0].Kind);
        Assert.StartsWith("# ", cells[0].Source, StringComparison.Ordinal);
        Assert.Contains(cells, cell => cell.Tags.Contains("key-figures"));
        Assert.Equal("closing-checks", cells.Last(cell => cell.Kind == "code").Tags.Single());
    }

    [Fact]
    public void There_is_a_notebook() => Assert.NotEmpty(Checkout.Notebooks);
}
