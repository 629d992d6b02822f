namespace Magrail.Notebooks.Tests;

/// <summary>In a class of its own: it waits, and the other tests of the runner need not wait with it.</summary>
public sealed class RunnerTimeLimitTests
{
    [Fact]
    public async Task An_endless_cell_is_stopped_at_the_time_limit_and_named()
    {
        // The limit counts from the start of the process, which on a busy machine takes seconds before the first cell runs.
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(folder.In("endless.ipynb"), NotebookText.Of("int a = 1;", "while (true) { System.Threading.Thread.Sleep(20); }"));
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(folder.Path, "--check", "--time-limit", "25", "endless.ipynb");
        Assert.Equal(1, run.ExitCode);
        Assert.Contains("code cell 2", run.Errors, StringComparison.Ordinal);
        Assert.Contains("still running after 25 s", run.Errors, StringComparison.Ordinal);
    }
}
