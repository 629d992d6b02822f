using System.Text.Json.Nodes;

namespace Magrail.Notebooks.Tests;

public sealed class NotebookTests
{
    public static TheoryData<string> All => [.. Checkout.Notebooks.Select(path => Path.GetFileName(path))];

    [Theory]
    [MemberData(nameof(All))]
    public async Task Every_cell_runs_the_closing_checks_hold_and_exercises_judge_a_readers_answers(string name)
    {
        // One run serves both: the notebook as it is, with each exercise answered twice more where it stands.
        (ProgramRun run, string report) = await AnsweredReport.OfAsync(name);
        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.StartsWith(report, run.Output, StringComparison.Ordinal);
        Assert.True(File.Exists(report), "The report whose path was printed is not there.");

        // The closing cell prints a line for each check that holds: as many as it states.
        var closing = Assert.Single(NotebookText.CellsOf(Path.Combine(Checkout.Root, "notebooks", name)), cell => cell.Tags.Contains("closing-checks"));
        int stated = closing.Source.Split(".That(").Length - 1;
        Assert.True(stated >= 3, "A notebook closes with at least three checks.");
        string page = await File.ReadAllTextAsync(report);
        Assert.Contains($"{stated} checks hold:", page, StringComparison.Ordinal);
        Exercises.AreJudged(name, page);
    }

    /// <summary>Every exercise of every notebook is in the table of answers, and the other way round; each notebook has two at least.</summary>
    [Fact]
    public void Every_exercise_has_an_answer_to_be_tried()
    {
        foreach (string path in Checkout.Notebooks)
        {
            string name = Path.GetFileName(path);
            Assert.Equal(Exercises.VariablesOf(path), Exercises.Of(name).Select(exercise => exercise.Variable));
            Assert.True(Exercises.Of(name).Length >= 2, $"{name} has fewer than two exercises.");
        }
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
