namespace Magrail.Notebooks.Tests;

public sealed class ExampleTests(ExampleBuild build) : IClassFixture<ExampleBuild>
{
    /// <summary>Every program is in the table of tests below, or has a test of its own; each is short enough to be read at a sitting.</summary>
    [Fact]
    public void Every_example_is_run_and_short()
    {
        string[] programs = [.. Directory.EnumerateFiles(Path.Combine(Checkout.Root, "docs", "examples"), "*.cs", SearchOption.AllDirectories).Order(StringComparer.Ordinal)];
        string[] tested = [.. ExampleBuild.Programs, "first-launch", "limits", "study-part", "workshop-sheet"];
        Assert.All(programs.Select(path => Path.GetFileNameWithoutExtension(path)), name => Assert.Contains(name, tested));
        Assert.All(programs, path => Assert.True(File.ReadAllLines(path).Length <= 65, $"{path} has more than 65 lines."));
    }

    [Fact]
    public async Task Gap_finds_the_gap_of_notebook_02()
    {
        string output = await build.RunAsync("gap");
        Assert.Matches(@"(?m)^gap 7 mm: [0-9.]+ mT, \d+ turns, [0-9.]+ N/A, [0-9.]+ N²/W$", output);
        Assert.Matches(@"(?m)^most force for the heat: 10 mm$", output);
    }

    [Fact]
    public async Task Turns_finds_the_coil_for_each_supply()
    {
        string output = await build.RunAsync("turns");
        Assert.Matches(@"(?m)^10 V: 45 turns are fastest, 5\.8\d+ m/s, 0\.22 V a turn$", output);
        Assert.Matches(@"(?m)^20 V: 112 turns are fastest, 6\.5\d+ m/s, 0\.18 V a turn$", output);
        Assert.Matches(@"(?m)^40 V: 228 turns are fastest, 6\.5\d+ m/s, 0\.18 V a turn$", output);
    }

    [Fact]
    public async Task Strips_finds_dwell_and_lead()
    {
        using var folder = new TemporaryFolder();
        string output = await build.RunAsync("strips", folder.Path);
        Assert.Matches(@"(?m)^best: dwell 0\.98, lead 2\.5 mm: 10\.8\d* m/s$", output);
        Assert.Matches(@"(?m)^the same dwell without lead: 10\.3\d* m/s$", output);
        Assert.Matches(@"(?m)^never leaves: dwell 0\.9\d*, lead 4 mm: not released, the sled ran back$", output);
        Assert.True(new FileInfo(folder.In("strips.html")).Length > 1_000_000, "The chart page must carry its drawing script.");
    }

    [Fact]
    public async Task Source_compares_three_sources_of_the_same_volts()
    {
        using var folder = new TemporaryFolder();
        string output = await build.RunAsync("source", folder.Path);
        Assert.Matches(@"(?m)^bench supply: 9\.09\d* m/s, at most 15 A, at least 7\.\d+ V between the rails, 13\.\d+ J drawn$", output);
        Assert.Matches(@"(?m)^battery pack: 11\.1\d* m/s, at most 39\.\d+ A", output);
        Assert.Matches(@"(?m)^capacitor bank: 7\.1\d* m/s", output);
        Assert.True(new FileInfo(folder.In("source.html")).Length > 1_000_000, "The chart page must carry its drawing script.");
    }

    [Fact]
    public async Task Payload_tells_which_glider_flies_and_what_to_keep_clear()
    {
        string output = await build.RunAsync("payload");
        Assert.Equal(["flies", "flies", "flies", "too slow", "too slow"], output.Split('\n').Where(line => line.Contains(" g: needs ", StringComparison.Ordinal)).Select(line => line.Trim().Split(": ")[^1]));
        Assert.Matches(@"(?m)^without a wing: 6\.3\d* m in ", output);
        Assert.Matches(@"(?m)^keep clear 13\.\d+ m ahead, 8\.\d+ m to either side, 5\.3\d* m behind$", output);
    }

    [Fact]
    public async Task Tolerances_tells_how_sure_and_what_to_tighten()
    {
        using var folder = new TemporaryFolder();
        string output = await build.RunAsync("tolerances", folder.Path);
        Assert.Matches(@"(?m)^exit speed 11\.\d+ m/s, standard deviation 0\.1\d+ m/s; ", output);
        Assert.Matches(@"(?m)^voltage: 7\d", output);
        Assert.Matches(@"(?m)^the cheapest tolerance to tighten: voltage$", output);
        Assert.Matches(@"(?m)^reach 11 m/s: 7\d", output);
        Assert.True(new FileInfo(folder.In("tolerances.html")).Length > 1_000_000, "The chart page must carry its drawing script.");
    }

    [Fact]
    public async Task Film_finds_what_the_simulated_films_were_made_with()
    {
        string output = await build.RunAsync("film", Path.Combine(Checkout.Root, "notebooks", "data"));
        Assert.Matches("(?m)^Film and computed launch agree up to ", output);
        Assert.Matches(@"(?m)^contact resistance 4\d(\.\d+)? mohm ± 1\.\d+ mohm \(95 %\)$", output);
        Assert.Matches(@"(?m)^sliding friction 0\.2[34]\d* ± ", output);
        Assert.Matches("(?m)^Film and computed launch agree within the bands all the way", output);
    }

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
        Assert.Contains("strips, laid out anew for this brush: 94 × 13 mm; a brush of up to 7 mm never bridges them", run.Output, StringComparison.Ordinal);
        Assert.Contains("template: 6 sheets of A4", run.Output, StringComparison.Ordinal);
        Assert.Contains("5 A blade fuse", run.Output, StringComparison.Ordinal);
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
        Assert.Contains("strips, laid out anew for this brush: 38 × 13 mm", run.Output, StringComparison.Ordinal);
        Assert.Contains("Our own: workshop sheet", await File.ReadAllTextAsync(folder.In(Path.Combine("artifacts", "workshop-sheet", "workshop-sheet.html"))), StringComparison.Ordinal);

        // Numbers that do not go together are answered with a reason, not with a stack of calls.
        await File.WriteAllTextAsync(program, Changed(text, ("windowLength = 7", "windowLength = 11")));
        ProgramRun wrong = await Checkout.RunAsync(folder.Path, "dotnet", "run", program);
        Assert.Equal(1, wrong.ExitCode);
        Assert.StartsWith("These numbers do not go together:", wrong.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", wrong.Everything, StringComparison.Ordinal);

        // A slip of the decimal point: wire of 4 mm makes a coil of more than a meter.
        await File.WriteAllTextAsync(program, Changed(text, ("wireDiameter = 0.45", "wireDiameter = 4")));
        ProgramRun thick = await Checkout.RunAsync(folder.Path, "dotnet", "run", program);
        Assert.Equal(1, thick.ExitCode);
        Assert.StartsWith("These numbers do not go together:", thick.Output, StringComparison.Ordinal);
        Assert.Contains("take thinner wire or fewer turns", thick.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", thick.Everything, StringComparison.Ordinal);

        // The shortest track has one strip a line, so that no brush is too long.
        await File.WriteAllTextAsync(program, Changed(text, ("stations = 48", "stations = 2")));
        ProgramRun shortest = await Checkout.RunAsync(folder.Path, "dotnet", "run", program);
        Assert.True(shortest.ExitCode == 0, shortest.Everything);
        Assert.Contains("a brush of any length never bridges them", shortest.Output, StringComparison.Ordinal);
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
        string program = folder.In("mine.cs");

        // The first line that the README names, from another folder.
        const string FirstLine = "#:project src/Magrail.Charts";
        Assert.Contains($"`mine.cs` whose first line is `{FirstLine}`", readme, StringComparison.Ordinal);
        Assert.Contains("`dotnet run -c Release mine.cs`", readme, StringComparison.Ordinal);
        await File.WriteAllTextAsync(program, $"{FirstLine.Replace(" src/", $" {Checkout.Root}/src/", StringComparison.Ordinal)}\n{snippet}");

        ProgramRun run = await Checkout.RunAsync(folder.In(""), "dotnet", "run", "-c", "Release", "mine.cs");

        Assert.True(run.ExitCode == 0, run.Everything);
        Assert.StartsWith("exit speed ", run.Output, StringComparison.Ordinal);
        Assert.Contains("residual", run.Output, StringComparison.Ordinal);
        Assert.StartsWith("time [s],", await File.ReadAllTextAsync(folder.In("artifacts/launch.csv")), StringComparison.Ordinal);
        Assert.Contains("drawn from the source", await File.ReadAllTextAsync(folder.In("artifacts/report.html")), StringComparison.Ordinal);
        Assert.True(new FileInfo(folder.In("artifacts/launch.html")).Length > 1_000_000, "The chart page must carry its drawing script.");
        Assert.Contains("</svg>", await File.ReadAllTextAsync(folder.In("artifacts/launch.svg")), StringComparison.Ordinal);
    }
}
