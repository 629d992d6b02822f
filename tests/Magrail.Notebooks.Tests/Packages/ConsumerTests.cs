using System.Text;

namespace Magrail.Notebooks.Tests.Packages;

/// <summary>Small programs in fresh projects outside the checkout that know nothing but the packages. One build makes them all, without a network.</summary>
public sealed class ConsumerTests : IDisposable
{
    private static readonly (string Name, string Package)[] Programs =
        [("readme", "Magrail.Core"), ("core", "Magrail.Core"), ("files", "Magrail.Files"), ("charts", "Magrail.Charts"), ("laws", "Magrail.Laws")];

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Each_library_does_its_work_in_a_program_that_has_it_from_a_package()
    {
        PackedFeed feed = await PackedFeed.GetAsync();
        var all = new StringBuilder("<Project DefaultTargets=\"Build\">\n<ItemGroup>\n");
        foreach ((string name, string package) in Programs)
        {
            await WriteAsync(_folder.In(name), name, package, feed.Version, string.Empty);
            all.Append($"<Project Include=\"{name}/{name}.csproj\" />\n");
        }

        all.Append("</ItemGroup>\n<Target Name=\"Restore\"><MSBuild Projects=\"@(Project)\" Targets=\"Restore\" Properties=\"MSBuildRestoreSessionId=1\" /></Target>\n");
        all.Append("<Target Name=\"Build\"><MSBuild Projects=\"@(Project)\" Targets=\"Build\" BuildInParallel=\"true\" /></Target>\n</Project>\n");
        await File.WriteAllTextAsync(_folder.In("all.proj"), all.ToString());
        ProgramRun built = await Checkout.RunAsync(
            _folder.Path, feed.Environment(feed.Alone), TimeSpan.FromMinutes(5), "dotnet", "build", "all.proj", "-c", "Release", "-v", "quiet", "-nologo");
        Assert.True(built.ExitCode == 0, built.Everything);

        Assert.StartsWith("exit speed 15.03 m/s after 91.46 ms", await RunAsync("readme"), StringComparison.Ordinal);
        string core = await RunAsync("core");
        Assert.StartsWith("exit speed ", core, StringComparison.Ordinal);
        Assert.Contains("WINDING SHEET", core, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("3 points came back from both formats, and 20 frames were read", (await RunAsync("files")).Trim());
        Assert.StartsWith("a report, a page and a picture of a launch at ", await RunAsync("charts"), StringComparison.Ordinal);
        Assert.EndsWith("the ledger closed in 5 launches; of a law that is wrong FsCheck found a counterexample", (await RunAsync("laws")).Trim(), StringComparison.Ordinal);
    }

    /// <summary>Writes a fresh project with one package, and the program of that name.</summary>
    internal static async Task WriteAsync(string folder, string name, string package, string version, string properties)
    {
        Directory.CreateDirectory(folder);
        await File.WriteAllTextAsync(Path.Combine(folder, $"{name}.csproj"), $"""
            <Project Sdk="Microsoft.NET.Sdk">
              <PropertyGroup>
                <OutputType>Exe</OutputType>
                <TargetFramework>net10.0</TargetFramework>
                <Nullable>enable</Nullable>
                <ImplicitUsings>enable</ImplicitUsings>
                <InvariantGlobalization>true</InvariantGlobalization>
                <TreatWarningsAsErrors>true</TreatWarningsAsErrors>
                {properties}
              </PropertyGroup>
              <ItemGroup>
                <PackageReference Include="{package}" Version="{version}" />
              </ItemGroup>
            </Project>
            """);
        await File.WriteAllTextAsync(Path.Combine(folder, "Program.cs"), name == "readme"
            ? ReadmeProgram()
            : await File.ReadAllTextAsync(Path.Combine(Checkout.Root, "tests", "Magrail.Notebooks.Tests", "Packages", "Programs", $"{name}.cs")));
    }

    /// <summary>The first program that the packages' readme shows.</summary>
    private static string ReadmeProgram()
    {
        const string Fence = "```csharp\n";
        string readme = File.ReadAllText(Path.Combine(Checkout.Root, "src", "package-readme.md"));
        int start = readme.IndexOf(Fence, StringComparison.Ordinal) + Fence.Length;
        return readme[start..readme.IndexOf("```", start, StringComparison.Ordinal)];
    }

    private async Task<string> RunAsync(string name)
    {
        ProgramRun run = await Checkout.RunAsync(_folder.In(name), "dotnet", Path.Combine("bin", "Release", "net10.0", $"{name}.dll"));
        Assert.True(run.ExitCode == 0, $"{name}: {run.Everything}");
        return run.Output;
    }
}
