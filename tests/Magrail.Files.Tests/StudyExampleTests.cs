using System.Diagnostics;

namespace Magrail.Files.Tests;

/// <summary>The example that a batch system runs: its parts, one of them killed and run again, and their merging.</summary>
public sealed class StudyExampleTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory().FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task Parts_run_and_merge()
    {
        // As docs/studies.md says. It had failed: programs of one file are published ahead of time, which the Parquet library does not bear.
        Assert.Contains("dotnet publish -c Release docs/examples/study-part/study-part.cs --output /shared/study", await File.ReadAllTextAsync(Path.Combine(Root, "docs", "studies.md")), StringComparison.Ordinal);
        await Start("dotnet", "publish", "-c", "Release", "docs/examples/study-part/study-part.cs", "--output", Path.Combine(folder, "published"));
        foreach (string part in (string[])["1", "2", "3"])
        {
            await Run(part, "3", folder);
        }

        // As if part 2 had been killed while it wrote a point down.
        string journal = Path.Combine(folder, "part-2-of-3.txt");
        byte[] finished = await File.ReadAllBytesAsync(journal);
        await File.WriteAllBytesAsync(journal, finished[..(finished.Length / 2)]);
        StudyResult before = StudyParquet.Read(Path.Combine(folder, "part-2-of-3.parquet"));
        await Run("2", "3", folder);
        Assert.Equal(finished.Length, (await File.ReadAllBytesAsync(journal)).Length);
        Assert.Equal(before.Points.Select(point => point.Summary), StudyParquet.Read(Path.Combine(folder, "part-2-of-3.parquet")).Points.Select(point => point.Summary));

        string said = await Run("merge", "3", folder);
        Assert.StartsWith("693 points of 693 over turns, lead (m), voltage (V): ", said, StringComparison.Ordinal);
        StudyResult merged = StudyCsv.Read(Path.Combine(folder, "study.csv"));
        Assert.Equal(Enumerable.Range(0, 693), merged.Points.Select(point => point.Index));
        Assert.Contains(merged.Points, point => point.Holds);
        Assert.Equal(merged.Points.Select(point => point.Summary), StudyParquet.Read(Path.Combine(folder, "study.parquet")).Points.Select(point => point.Summary));
    }

    private static string Root { get; } = FindRoot();

    private static string FindRoot()
    {
        string root = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(root, "Magrail.Core.sln")))
        {
            root = Path.GetDirectoryName(root) ?? throw new DirectoryNotFoundException("The tests run from a build within the repository.");
        }

        return root;
    }

    private Task<string> Run(params string[] arguments) => Start(Path.Combine(folder, "published", "study-part"), arguments);

    private static async Task<string> Start(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            WorkingDirectory = Root,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.True(process.ExitCode == 0, output + await errors);
        return output;
    }
}
