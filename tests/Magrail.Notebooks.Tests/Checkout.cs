using System.Diagnostics;
using System.Text;

namespace Magrail.Notebooks.Tests;

/// <summary>The checkout these tests were built from, and the programs in it.</summary>
internal static class Checkout
{
    public static string Root { get; } = FindRoot();

    /// <summary>The configuration of these tests, and so of all that was built with them.</summary>
    public static string Configuration { get; } =
        AppContext.BaseDirectory.Contains($"{Path.DirectorySeparatorChar}Debug{Path.DirectorySeparatorChar}", StringComparison.Ordinal) ? "Debug" : "Release";

    /// <summary>Whether what an ordinary run does for some is to be done for all: <c>MAGRAIL_LONG=1</c>.</summary>
    public static bool IsLongRun { get; } = Environment.GetEnvironmentVariable("MAGRAIL_LONG") == "1";

    public static IEnumerable<string> Notebooks
        => Directory.EnumerateFiles(Path.Combine(Root, "notebooks"), "*.ipynb").Order(StringComparer.Ordinal);

    /// <summary>Runs the notebook runner of the same configuration as these tests.</summary>
    public static Task<ProgramRun> RunNotebookRunnerAsync(string folder, params string[] arguments)
    {
        string runner = Path.Combine(Root, "src", "Magrail.NotebookRunner", "bin", Configuration, "net10.0", "Magrail.NotebookRunner.dll");
        return RunAsync(folder, "dotnet", [runner, .. arguments]);
    }

    public static Task<ProgramRun> RunAsync(string folder, string program, params string[] arguments)
        => RunAsync(folder, new Dictionary<string, string>(), TimeSpan.FromMinutes(5), program, arguments);

    /// <summary>Runs a program to its end, or to that of a time limit, with some settings of its environment replaced.</summary>
    public static async Task<ProgramRun> RunAsync(string folder, IReadOnlyDictionary<string, string> environment, TimeSpan limit, string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments)
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = Encoding.UTF8,
            StandardErrorEncoding = Encoding.UTF8,
        };

        // The test host's own settings would otherwise reach the program and its build.
        foreach (string name in start.Environment.Keys.Where(key => key.StartsWith("MSBUILD", StringComparison.OrdinalIgnoreCase)).ToList())
        {
            start.Environment.Remove(name);
        }

        foreach ((string name, string value) in environment)
        {
            start.Environment[name] = value;
        }

        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Task<string> errors = process.StandardError.ReadToEndAsync();
        using var stop = new CancellationTokenSource(limit);
        try
        {
            await process.WaitForExitAsync(stop.Token);
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException($"{program} {string.Join(' ', arguments)} was still running after {limit.TotalMinutes} minutes.");
        }

        return new ProgramRun(process.ExitCode, await output, await errors);
    }

    private static string FindRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Magrail.Core.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("These tests run from a checkout.");
    }
}

internal sealed record ProgramRun(int ExitCode, string Output, string Errors)
{
    /// <summary>Both streams, for the message of a failing test.</summary>
    public string Everything => $"exit code {ExitCode}\n{Output}\n{Errors}";
}
