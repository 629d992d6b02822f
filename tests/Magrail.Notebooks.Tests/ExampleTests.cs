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
