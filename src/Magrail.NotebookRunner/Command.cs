using System.Diagnostics;
using System.Globalization;
using System.Text;

namespace Magrail.NotebookRunner;

/// <summary>The command: reads its arguments, runs notebooks, writes reports, says what happened.</summary>
internal static class Command
{
    private const int AllWell = 0;
    private const int CellFailed = 1;
    private const int WrongCall = 2;

    private const string Usage = """
        Runs notebooks without a browser.

          magrail-notebook first-launch.ipynb
              runs one notebook and writes artifacts/first-launch.html, a page that needs no network

          magrail-notebook --check *.ipynb
              runs several and prints a line for each; writes no page (cells may write files of their own)

        In a checkout, dotnet run -c Release --project src/Magrail.NotebookRunner -- stands for magrail-notebook.

        Options:
          --out FOLDER          where reports go (artifacts)
          --time-limit SECONDS  for each notebook (180)
        """;

    public static async Task<int> RunAsync(string[] arguments, TextWriter output, TextWriter errors)
    {
        var notebooks = new List<string>();
        bool check = false;
        string folder = "artifacts";
        var limit = TimeSpan.FromSeconds(180);
        for (int i = 0; i < arguments.Length; i++)
        {
            switch (arguments[i])
            {
                case "--check":
                    check = true;
                    break;
                case "--out" when i + 1 < arguments.Length:
                    folder = arguments[++i];
                    break;
                case "--time-limit" when i + 1 < arguments.Length
                    && double.TryParse(arguments[i + 1], NumberStyles.Float, CultureInfo.InvariantCulture, out double seconds)
                    && seconds is > 0 and < 1e6:
                    limit = TimeSpan.FromSeconds(seconds);
                    i++;
                    break;
                case "-h" or "--help":
                    await output.WriteLineAsync(Usage);
                    return AllWell;
                case var word when word.StartsWith('-'):
                    await errors.WriteLineAsync($"The option {word} is not known or lacks its value.\n\n{Usage}");
                    return WrongCall;
                default:
                    notebooks.Add(arguments[i]);
                    break;
            }
        }

        if (notebooks.Count == 0)
        {
            await errors.WriteLineAsync($"No notebook is named.\n\n{Usage}");
            return WrongCall;
        }

        if (notebooks.FirstOrDefault(path => !File.Exists(path)) is string missing)
        {
            await errors.WriteLineAsync($"There is no notebook at {missing} (looked in {Environment.CurrentDirectory}).");
            return WrongCall;
        }

        int worst = AllWell;
        foreach (string path in notebooks)
        {
            worst = Math.Max(worst, await OneAsync(path, check ? null : folder, limit, output, errors));
        }

        return worst;
    }

    private static async Task<int> OneAsync(string path, string? folder, TimeSpan limit, TextWriter output, TextWriter errors)
    {
        Notebook notebook;
        try
        {
            notebook = Notebook.Read(path);
        }
        catch (InvalidDataException wrong)
        {
            await errors.WriteLineAsync($"{path} cannot be read as a notebook: {wrong.Message}");
            return WrongCall;
        }

        RunRecord record = await RunCellsAsync(notebook, limit);
        string name = Path.GetFileName(path);
        int cells = notebook.Cells.Count(cell => cell.Kind == CellKind.Code);
        string time = record.Time.TotalSeconds.ToString("F1", CultureInfo.InvariantCulture);
        string? report = folder is null ? null : ReportPage.Write(notebook, record, folder);
        if (record.Failure is RunFailure failure)
        {
            string place = failure.Line > 0
                ? string.Create(CultureInfo.InvariantCulture, $"code cell {failure.Cell}, line {failure.Line}")
                : string.Create(CultureInfo.InvariantCulture, $"code cell {failure.Cell}");
            await errors.WriteLineAsync($"FAILED  {name}: {place} ({time} s)");
            if (SourceLine(notebook, failure) is string line)
            {
                await errors.WriteLineAsync($"  {line.Trim()}");
            }

            await errors.WriteLineAsync($"  {failure.Message.ReplaceLineEndings("\n  ")}");
            if (report is not null)
            {
                await errors.WriteLineAsync($"  what ran before it: {report}");
            }

            return CellFailed;
        }

        if (report is null)
        {
            await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"ok      {name}: {cells} code cells ({time} s)"));
            return AllWell;
        }

        await output.WriteLineAsync(report);
        foreach (string figures in KeyFigures(notebook, record))
        {
            await output.WriteLineAsync();
            await output.WriteLineAsync(figures);
        }

        await output.WriteLineAsync();
        await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"{cells} code cells ran in {time} s. Open the page in a browser; it needs no network."));
        return AllWell;
    }

    /// <summary>Plain text of the outputs of each cell with the tag <c>key-figures</c>.</summary>
    internal static IEnumerable<string> KeyFigures(Notebook notebook, RunRecord record)
        => notebook.Cells
            .Where(cell => cell.Tags.Contains("key-figures") && record.Outputs.ContainsKey(cell.Number))
            .Select(cell => string.Join('\n', record.Outputs[cell.Number]
                .Select(output => output.Forms.GetValueOrDefault("text/plain")?.TrimEnd())
                .Where(text => !string.IsNullOrEmpty(text))))
            .Where(text => text.Length > 0);

    internal static string? SourceLine(Notebook notebook, RunFailure failure)
        => failure.Line > 0
            ? notebook.Cells.First(cell => cell.Number == failure.Cell).Source.Split('\n').ElementAtOrDefault(failure.Line - 1)
            : null;

    private static async Task<RunRecord> RunCellsAsync(Notebook notebook, TimeSpan limit)
    {
        string recordPath = Path.Combine(Path.GetTempPath(), $"notebook-run-{Guid.NewGuid():N}.jsonl");
        var clock = Stopwatch.StartNew();
        try
        {
            var start = new ProcessStartInfo(Environment.ProcessPath!)
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
                RedirectStandardInput = true,
                StandardOutputEncoding = Encoding.UTF8,
                StandardErrorEncoding = Encoding.UTF8,
            };
            if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet")
            {
                start.ArgumentList.Add(typeof(Command).Assembly.Location);
            }

            start.ArgumentList.Add("--cells-of");
            start.ArgumentList.Add(Path.GetFullPath(notebook.Path));
            start.ArgumentList.Add(recordPath);
            using Process process = Process.Start(start) ?? throw new InvalidOperationException("The cell process did not start.");
            process.StandardInput.Close();
            Task<string> said = process.StandardOutput.ReadToEndAsync();
            Task<string> complained = process.StandardError.ReadToEndAsync();
            bool inTime = true;
            using (var timer = new CancellationTokenSource(limit))
            {
                try
                {
                    await process.WaitForExitAsync(timer.Token);
                }
                catch (OperationCanceledException)
                {
                    inTime = false;
                    process.Kill(entireProcessTree: true);
                    await process.WaitForExitAsync();
                }
            }

            RunRecord record = RunRecord.Read(recordPath);
            record.Time = clock.Elapsed;
            if (!inTime)
            {
                record.Failure = new RunFailure(
                    Math.Max(1, record.LastBegun),
                    0,
                    string.Create(CultureInfo.InvariantCulture, $"The notebook was still running after {limit.TotalSeconds:G4} s and was stopped (--time-limit)."));
            }
            else if (record.Failure is null && !(record.Finished && process.ExitCode == 0))
            {
                string words = (await Task.WhenAll(said, complained)) is [string first, string second] ? (second + "\n" + first).Trim() : string.Empty;
                record.Failure = new RunFailure(
                    Math.Max(1, record.LastBegun),
                    0,
                    string.Create(CultureInfo.InvariantCulture, $"The process of the notebook ended with code {process.ExitCode}.\n{Shortened(words)}").TrimEnd());
            }

            return record;
        }
        finally
        {
            File.Delete(recordPath);
        }
    }

    private static string Shortened(string words) => words.Length <= 2000 ? words : words[..2000] + " …";
}
