namespace Magrail.Tests.Rules;

/// <summary>The files of the repository, found by walking up from the test assembly.</summary>
public static class Repository
{
    private static readonly string[] NotOurs = ["bin", "obj", ".git", "artifacts", "TestResults", "BenchmarkDotNet.Artifacts", "__pycache__"];

    private static readonly string[] TextKinds =
        [".cs", ".csproj", ".props", ".targets", ".sln", ".json", ".md", ".txt", ".csv", ".py", ".ipynb", ".yml", ".sh", ".editorconfig", ""];

    /// <summary>The folder that holds the solution.</summary>
    public static string Root { get; } = FindRoot(AppContext.BaseDirectory);

    /// <summary>Text files below a folder of the repository, paths relative to the root and with forward slashes, in order.</summary>
    public static IReadOnlyList<string> TextFiles(string folder = "")
    {
        string start = Path.Combine(Root, folder);
        return Directory.Exists(start)
            ? [.. Below(start).Where(file => TextKinds.Contains(Path.GetExtension(file)) || TextKinds.Contains(Path.GetFileName(file)))
                .Select(file => Path.GetRelativePath(Root, file).Replace('\\', '/')).Order(StringComparer.Ordinal)]
            : [];
    }

    public static string Read(string relativePath) => File.ReadAllText(Path.Combine(Root, relativePath));

    private static IEnumerable<string> Below(string folder)
        => Directory.EnumerateFiles(folder).Concat(
            Directory.EnumerateDirectories(folder).Where(sub => !NotOurs.Contains(Path.GetFileName(sub))).SelectMany(Below));

    private static string FindRoot(string from)
    {
        for (DirectoryInfo? folder = new(from); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Magrail.Core.sln")))
            {
                return folder.FullName;
            }
        }

        throw new DirectoryNotFoundException($"No Magrail.Core.sln above {from}: run the tests from a build inside the repository.");
    }
}
