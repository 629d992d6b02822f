using System.Collections.Concurrent;

namespace Magrail.Notebooks.Tests;

/// <summary>The reports of the notebooks with their exercises answered, each made once for all tests that look at it. They lie in <c>artifacts</c> until the next run.</summary>
/// <param name="Run">How the runner ended, and what it printed.</param>
/// <param name="Path">The page.</param>
internal sealed record AnsweredReport(ProgramRun Run, string Path)
{
    private static readonly ConcurrentDictionary<string, Lazy<Task<AnsweredReport>>> Made = new(StringComparer.Ordinal);
    private static readonly string Folder = System.IO.Path.Combine(Checkout.Root, "artifacts", "test-reports");

    /// <summary>The report of a notebook, by its file name.</summary>
    public static Task<AnsweredReport> OfAsync(string name) => Made.GetOrAdd(name, asked => new Lazy<Task<AnsweredReport>>(() => MakeAsync(asked))).Value;

    private static async Task<AnsweredReport> MakeAsync(string name)
    {
        string path = Exercises.Answered(name);
        string page = System.IO.Path.Combine(Folder, System.IO.Path.GetFileName(System.IO.Path.ChangeExtension(path, ".html")));
        Directory.CreateDirectory(Folder);
        File.Delete(page);
        try
        {
            return new AnsweredReport(await Checkout.RunNotebookRunnerAsync(Checkout.Root, path, "--out", Folder), page);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
