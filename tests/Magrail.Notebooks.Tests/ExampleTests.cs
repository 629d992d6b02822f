namespace Magrail.Notebooks.Tests;

public sealed class ExampleTests
{
    [Fact]
    public async Task The_plain_program_launches_what_the_notebook_launches()
    {
        using var folder = new TemporaryFolder();
        string program = Path.Combine(Checkout.Root, "docs", "examples", "first-launch.cs");
        Assert.True((await File.ReadAllLinesAsync(program)).Length < 40, "The program is to stay under 40 lines.");

        ProgramRun run = await Checkout.RunAsync(Checkout.Root, "dotnet", "run", "-c", "Release", program, "--", folder.Path);
        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.StartsWith("time [s],position [m],speed [m/s],force [N],current 0 [A]", await File.ReadAllTextAsync(folder.In("first-launch.csv")), StringComparison.Ordinal);
        Assert.True(new FileInfo(folder.In("first-launch-chart.html")).Length > 1_000_000, "The chart page must carry its drawing script.");

        ProgramRun notebook = await Checkout.RunNotebookRunnerAsync(Checkout.Root, "notebooks/01-first-launch.ipynb", "--out", folder.Path);
        string speed = notebook.Output.Split('\n').Single(line => line.StartsWith("exit speed: ", StringComparison.Ordinal))["exit speed: ".Length..].Trim();
        Assert.StartsWith($"exit speed {speed} after ", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_program_of_limits_tells_what_binds_and_what_each_suppressor_leaves()
    {
        using var folder = new TemporaryFolder();
        ProgramRun run = await Checkout.RunAsync(Checkout.Root, "dotnet", "run", "-c", "Release", Path.Combine(Checkout.Root, "docs", "examples", "limits.cs"), "--", folder.Path);
        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.StartsWith("exit speed ", run.Output, StringComparison.Ordinal);
        Assert.Matches("(?m)^contact softening .* broken", run.Output);
        string[] lines = [.. run.Output.Split('\n').Select(line => line.Trim())];
        string Tail(string head) => lines.Single(line => line.StartsWith(head + ": ", StringComparison.Ordinal))[(head.Length + 2)..];

        // A clamp that the arc never reaches changes nothing; one below what two arcs need, with the source, leaves none.
        Assert.Equal(Tail("the arc alone"), Tail("clamp at 33 V"));
        Assert.EndsWith("14 V across the coil, brushes last any number of launches", Tail("clamp at 14 V"), StringComparison.Ordinal);
        Assert.Matches(@"brushes last [\d,]+ launches \([\d,]+ to [\d,]+\)$", Tail("the arc alone"));
        Assert.True(new FileInfo(folder.In("limits.html")).Length > 1_000_000, "The chart page must carry its drawing script.");
    }

    [Fact]
    public async Task The_workshop_program_writes_sheets_and_a_template()
    {
        using var folder = new TemporaryFolder();
        ProgramRun run = await Checkout.RunAsync(Checkout.Root, "dotnet", "run", "-c", "Release", WorkshopProgram, "--", folder.Path);
        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.StartsWith("exit speed ", run.Output, StringComparison.Ordinal);
        Assert.Contains("strips: 94 × 13 mm; a brush of up to 7 mm never bridges", run.Output, StringComparison.Ordinal);
        Assert.Contains("template: 6 sheets of A4", run.Output, StringComparison.Ordinal);
        Assert.Contains("blade fuse of 5 A", run.Output, StringComparison.Ordinal);
        Assert.Equal(6, Directory.GetFiles(folder.Path, "template-*.svg").Length);
        string page = await File.ReadAllTextAsync(folder.In("workshop-sheet.html"));
        Assert.Contains("<h1>Seed-ball thrower: workshop sheet</h1>", page, StringComparison.Ordinal);
        Assert.Equal(6, page.Split("<section class=\"tile\">").Length - 1);
    }

    [Fact]
    public async Task The_lines_at_the_top_of_the_workshop_program_are_all_that_a_variant_changes()
    {
        // What a reader does: other numbers in those lines, nothing else.
        using var folder = new TemporaryFolder();
        string text = (await File.ReadAllTextAsync(WorkshopProgram)).Replace("#:project ../../", $"#:project {Checkout.Root}/", StringComparison.Ordinal);
        string variant = Changed(
            text,
            ("title = \"Seed-ball thrower\"", "title = \"Our own\""), ("stations = 48", "stations = 20"), ("turns = 160", "turns = 120"), ("wireDiameter = 0.45", "wireDiameter = 0.5"), ("stripWidth = 6", "stripWidth = 8"));
        string program = folder.In("variant.cs");
        await File.WriteAllTextAsync(program, variant);
        ProgramRun run = await Checkout.RunAsync(folder.Path, "dotnet", "run", program);
        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.Contains("strips: 38 × 13 mm", run.Output, StringComparison.Ordinal);
        Assert.Contains("Our own: workshop sheet", await File.ReadAllTextAsync(folder.In(Path.Combine("artifacts", "workshop-sheet", "workshop-sheet.html"))), StringComparison.Ordinal);

        // Numbers that do not go together are answered with a reason, not with a stack of calls.
        await File.WriteAllTextAsync(program, Changed(text, ("windowLength = 7", "windowLength = 11")));
        ProgramRun wrong = await Checkout.RunAsync(folder.Path, "dotnet", "run", program);
        Assert.Equal(1, wrong.ExitCode);
        Assert.StartsWith("These numbers do not go together:", wrong.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", wrong.Everything, StringComparison.Ordinal);
    }

    private static string WorkshopProgram => Path.Combine(Checkout.Root, "docs", "examples", "workshop-sheet.cs");

    private static string Changed(string text, params (string From, string To)[] lines)
    {
        foreach ((string from, string to) in lines)
        {
            Assert.Contains(from, text, StringComparison.Ordinal);
            text = text.Replace(from, to, StringComparison.Ordinal);
        }

        return text;
    }

    [Fact]
    public async Task The_readme_says_what_compiles_and_launches()
    {
        string readme = await File.ReadAllTextAsync(Path.Combine(Checkout.Root, "README.md"));
        const string Fence = "```csharp\n";
        int start = readme.IndexOf(Fence, StringComparison.Ordinal) + Fence.Length;
        string snippet = readme[start..readme.IndexOf("```", start, StringComparison.Ordinal)];
        using var folder = new TemporaryFolder();
        string program = folder.In("readme.cs");
        await File.WriteAllTextAsync(program, $"#:project {Path.Combine(Checkout.Root, "src", "Magrail.Core")}\n{snippet}");

        ProgramRun run = await Checkout.RunAsync(folder.In(""), "dotnet", "run", program);

        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.StartsWith("exit speed ", run.Output, StringComparison.Ordinal);
        Assert.Contains("residual", run.Output, StringComparison.Ordinal);
        Assert.StartsWith("time [s],", await File.ReadAllTextAsync(folder.In("launch.csv")), StringComparison.Ordinal);
    }
}
