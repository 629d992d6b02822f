namespace Magrail.Notebooks.Tests;

public sealed class RunnerTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task An_exception_is_reported_with_cell_line_source_and_words()
    {
        await WriteAsync("fails.ipynb", "int nothing = 0;", "Console.WriteLine(1);\n\nint share = 10 / nothing;", "Console.WriteLine(\"not reached\");");
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(_folder.Path, "fails.ipynb");
        Assert.Equal(1, run.ExitCode);
        Assert.Contains("code cell 2, line 3", run.Errors, StringComparison.Ordinal);
        Assert.Contains("int share = 10 / nothing;", run.Errors, StringComparison.Ordinal);
        Assert.Contains("DivideByZeroException", run.Errors, StringComparison.Ordinal);

        string report = await File.ReadAllTextAsync(_folder.In("artifacts/fails.html"));
        Assert.Contains("This run failed in code cell 2", report, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cell_that_does_not_compile_is_reported_with_cell_line_and_words()
    {
        await WriteAsync("wrong.ipynb", "int a = 1;\nint b = a + missing;");
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(_folder.Path, "--check", "wrong.ipynb");
        Assert.Equal(1, run.ExitCode);
        Assert.Contains("code cell 1, line 2", run.Errors, StringComparison.Ordinal);
        Assert.Contains("'missing' does not exist", run.Errors, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_folder.In("artifacts")), "--check writes no page.");
    }

    [Fact]
    public async Task A_process_that_dies_is_reported_with_the_cell_it_died_in()
    {
        await WriteAsync("dies.ipynb", "int a = 1;", "Environment.Exit(7);");
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(_folder.Path, "--check", "dies.ipynb");
        Assert.Equal(1, run.ExitCode);
        Assert.Contains("code cell 2", run.Errors, StringComparison.Ordinal);
        Assert.Contains("ended with code 7", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_notebook_that_is_not_there_is_named_before_anything_runs()
    {
        await WriteAsync("there.ipynb", "Console.WriteLine(1);");
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(_folder.Path, "there.ipynb", "missing.ipynb");
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("no notebook at missing.ipynb", run.Errors, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_folder.In("artifacts")));
    }

    [Theory]
    [InlineData("")]
    [InlineData("{\"cells\": [")]
    [InlineData("{\"worksheets\": []}")]
    [InlineData("{\"cells\": [{}]}")]
    public async Task A_file_that_is_no_notebook_is_said_to_be_none(string content)
    {
        await File.WriteAllTextAsync(_folder.In("none.ipynb"), content);
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(_folder.Path, "none.ipynb");
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("none.ipynb cannot be read as a notebook", run.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData()]
    [InlineData("--no-such-option")]
    [InlineData("--time-limit", "-3", "a.ipynb")]
    public async Task A_wrong_call_gets_the_usage(params string[] arguments)
    {
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(_folder.Path, arguments);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("--time-limit SECONDS", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Several_notebooks_are_checked_with_a_line_each_and_one_failure_fails_the_call()
    {
        await WriteAsync("good.ipynb", "Console.WriteLine(Environment.CurrentDirectory);");
        await WriteAsync("bad.ipynb", "throw new InvalidOperationException(\"on purpose\");");
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(_folder.Path, "--check", "bad.ipynb", "good.ipynb");
        Assert.Equal(1, run.ExitCode);
        Assert.Matches("ok +good.ipynb: 1 code cells", run.Output);
        Assert.Contains("bad.ipynb: code cell 1, line 1", run.Errors, StringComparison.Ordinal);
        Assert.Contains("on purpose", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Cells_run_in_the_folder_of_their_notebook_and_console_text_reaches_the_page()
    {
        Directory.CreateDirectory(_folder.In("inner"));
        await File.WriteAllTextAsync(_folder.In("inner/data.txt"), "forty grams & <clay>");
        await WriteAsync("inner/reads.ipynb", "Console.WriteLine(System.IO.File.ReadAllText(\"data.txt\"));");
        ProgramRun run = await Checkout.RunNotebookRunnerAsync(_folder.Path, "inner/reads.ipynb", "--out", "made");
        Assert.True(run.ExitCode == 0, run.Everything);
        string page = await File.ReadAllTextAsync(_folder.In("made/reads.html"));
        Assert.Contains("forty grams &amp; &lt;clay&gt;", page, StringComparison.Ordinal);
        Assert.Equal(["reads.html"], Directory.EnumerateFileSystemEntries(_folder.In("made")).Select(path => Path.GetFileName(path)));
    }

    private Task WriteAsync(string name, params string[] cells) => File.WriteAllTextAsync(_folder.In(name), NotebookText.Of(cells));
}
