using System.Security;

namespace Magrail.Notebooks.Tests.Packages;

/// <summary>
/// All packages, packed once for all tests by the README's command, without building anew, since other tests use what is built; and the settings with which a program
/// of the SDK finds packages there. They lie in <c>artifacts</c> until the next run: a test process that has run its tests is given no time to clear so much away.
/// </summary>
internal sealed class PackedFeed
{
    private static readonly Lazy<Task<PackedFeed>> Packed = new(PackAsync);
    private readonly string _folder = Path.Combine(Checkout.Root, "artifacts", "test-packages");

    private PackedFeed()
    {
        if (Directory.Exists(_folder))
        {
            Directory.Delete(_folder, recursive: true);
        }

        Directory.CreateDirectory(_folder);
    }

    /// <summary>The six packages, in order.</summary>
    public static string[] Names { get; } = ["Magrail.Charts", "Magrail.Core", "Magrail.Files", "Magrail.Laws", "Magrail.NotebookRunner", "Magrail.Notebooks"];

    /// <summary>A version of its own: a package of a version that was seen before would come from a cache.</summary>
    public string Version { get; } = $"0.0.1-test.{Guid.NewGuid():N}";

    /// <summary>The folder of packages.</summary>
    public string Folder => Path.Combine(_folder, "feed");

    /// <summary>NuGet settings whose one source is that folder; what the libraries depend on was restored to build them, and lies in the user's packages.</summary>
    public string Alone => Path.Combine(_folder, "alone.config");

    /// <summary>NuGet settings by which Magrail comes from that folder alone, and what the SDK needs to trim and to compile natively from where the user gets packages.</summary>
    public string WithSources => Path.Combine(_folder, "sources.config");

    /// <summary>What is unpacked in restoring goes here, and not among the user's packages.</summary>
    public string Unpacked => Path.Combine(_folder, "packages");

    public static Task<PackedFeed> GetAsync() => Packed.Value;

    /// <summary>Settings of the environment by which restoring goes by one of the two.</summary>
    public Dictionary<string, string> Environment(string config) => new(StringComparer.Ordinal)
    {
        ["RestoreConfigFile"] = config,
        ["NUGET_PACKAGES"] = Unpacked,
        ["MSBUILDDISABLENODEREUSE"] = "1",
    };

    public string Package(string name, string ending = "nupkg") => Path.Combine(Folder, $"{name}.{Version}.{ending}");

    private static async Task<PackedFeed> PackAsync()
    {
        var feed = new PackedFeed();
        await Checked(Checkout.RunAsync(
            Checkout.Root, "dotnet", "pack", "Magrail.Core.sln", "-c", Checkout.Configuration, "-o", feed.Folder, "--no-build", $"-p:PackageVersion={feed.Version}"));
        string restored = (await Checked(Checkout.RunAsync(Checkout.Root, "dotnet", "nuget", "locals", "global-packages", "--list"))).Output.Trim()["global-packages: ".Length..];
        string fallback = $"<fallbackPackageFolders><clear /><add key=\"restored\" value=\"{SecurityElement.Escape(restored)}\" /></fallbackPackageFolders>";
        await File.WriteAllTextAsync(feed.Alone, $"""
            <configuration>
              <packageSources><clear /><add key="feed" value="{SecurityElement.Escape(feed.Folder)}" /></packageSources>
              {fallback}
            </configuration>
            """);

        // An enabled source is listed as "E address".
        string[] sources =
        [
            .. (await Checked(Checkout.RunAsync(Checkout.Root, "dotnet", "nuget", "list", "source", "--format", "Short"))).Output
                .Split('\n').Where(line => line.StartsWith('E')).Select(line => line[(line.IndexOf(' ', StringComparison.Ordinal) + 1)..].Trim()),
        ];
        await File.WriteAllTextAsync(feed.WithSources, $"""
            <configuration>
              <packageSources><clear /><add key="feed" value="{SecurityElement.Escape(feed.Folder)}" />{string.Concat(sources.Select((source, i) => $"<add key=\"source{i}\" value=\"{SecurityElement.Escape(source)}\" />"))}</packageSources>
              <packageSourceMapping>
                <clear />
                <packageSource key="feed"><package pattern="Magrail.*" /></packageSource>
                {string.Concat(sources.Select((_, i) => $"<packageSource key=\"source{i}\"><package pattern=\"*\" /></packageSource>"))}
              </packageSourceMapping>
              {fallback}
            </configuration>
            """);
        return feed;

        static async Task<ProgramRun> Checked(Task<ProgramRun> running)
        {
            ProgramRun run = await running;
            Assert.True(run.ExitCode == 0, run.Everything);
            return run;
        }
    }
}
