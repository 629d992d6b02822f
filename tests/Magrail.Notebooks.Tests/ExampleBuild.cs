using System.Text;

namespace Magrail.Notebooks.Tests;

/// <summary>
/// The example programs, compiled together: a project is written around each, with the references that its first line names, and one build makes them all. So each is
/// compiled as <c>dotnet run</c> compiles it, without paying for seven builds; that the command itself works is tested on the first launch and on the README's program.
/// </summary>
public sealed class ExampleBuild : IAsyncLifetime
{
    private string _folder = string.Empty;
    private ProgramRun? _build;

    /// <summary>The programs that are built here.</summary>
    public static IReadOnlyList<string> Programs { get; } = ["gap", "turns", "strips", "source", "payload", "tolerances", "film"];

    public async Task InitializeAsync()
    {
        // Inside the checkout, so that its house rules hold here too.
        _folder = Path.Combine(Checkout.Root, "artifacts", $"examples-{Guid.NewGuid():N}");
        Directory.CreateDirectory(_folder);
        var all = new StringBuilder("<Project DefaultTargets=\"Build\">\n<ItemGroup>\n");
        foreach (string name in Programs)
        {
            string program = Assert.Single(Directory.EnumerateFiles(Path.Combine(Checkout.Root, "docs", "examples"), $"{name}.cs", SearchOption.AllDirectories));
            string directive = File.ReadLines(program).First();
            Assert.StartsWith("#:project ", directive, StringComparison.Ordinal);
            string reference = Path.GetFullPath(Path.Combine(Path.GetDirectoryName(program)!, directive["#:project ".Length..].Trim()));
            string folder = Path.Combine(_folder, name);
            Directory.CreateDirectory(folder);
            await File.WriteAllTextAsync(Path.Combine(folder, $"{name}.csproj"), $"""
                <Project Sdk="Microsoft.NET.Sdk">
                  <PropertyGroup>
                    <OutputType>Exe</OutputType>
                    <EnableDefaultCompileItems>false</EnableDefaultCompileItems>
                    <Features>$(Features);FileBasedProgram</Features>
                    <RestorePackagesWithLockFile>false</RestorePackagesWithLockFile>
                  </PropertyGroup>
                  <ItemGroup>
                    <Compile Include="{program}" />
                    <ProjectReference Include="{Path.Combine(reference, Path.GetFileName(reference) + ".csproj")}" />
                  </ItemGroup>
                </Project>
                """);
            all.Append($"<Project Include=\"{name}/{name}.csproj\" />\n");
        }

        all.Append("</ItemGroup>\n<Target Name=\"Restore\"><MSBuild Projects=\"@(Project)\" Targets=\"Restore\" Properties=\"MSBuildRestoreSessionId=1\" /></Target>\n");
        all.Append("<Target Name=\"Build\"><MSBuild Projects=\"@(Project)\" Targets=\"Build\" BuildInParallel=\"true\" /></Target>\n</Project>\n");
        string project = Path.Combine(_folder, "all.proj");
        await File.WriteAllTextAsync(project, all.ToString());
        string configuration = AppContext.BaseDirectory.Contains($"{Path.DirectorySeparatorChar}Debug{Path.DirectorySeparatorChar}", StringComparison.Ordinal) ? "Debug" : "Release";
        _build = await Checkout.RunAsync(_folder, "dotnet", "build", project, "-c", configuration, "-v", "quiet", "-nologo", "--nodereuse:false");
        Assert.True(_build.ExitCode == 0, _build.Everything);
    }

    public Task DisposeAsync()
    {
        Directory.Delete(_folder, recursive: true);
        return Task.CompletedTask;
    }

    /// <summary>Runs a program and gives what it printed.</summary>
    public async Task<string> RunAsync(string name, params string[] arguments)
    {
        string program = Directory.EnumerateFiles(Path.Combine(_folder, name, "bin"), $"{name}.dll", SearchOption.AllDirectories).First();
        ProgramRun run = await Checkout.RunAsync(_folder, "dotnet", [program, .. arguments]);
        Assert.True(run.ExitCode == 0, run.Everything);
        return run.Output;
    }
}
