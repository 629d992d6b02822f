using System.Diagnostics;
using System.Reflection;
using System.Text.Json;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.Scripting;
using Microsoft.DotNet.Interactive;
using Microsoft.DotNet.Interactive.Commands;
using Microsoft.DotNet.Interactive.CSharp;
using Microsoft.DotNet.Interactive.Events;
using Microsoft.DotNet.Interactive.PackageManagement;

namespace Magrail.NotebookRunner;

/// <summary>The process that runs the cells of one notebook, and writes down each event as a line of JSON at once.</summary>
internal static class CellProcess
{
    public static async Task<int> RunAsync(string notebookPath, string recordPath)
    {
        Notebook notebook = Notebook.Read(notebookPath);
        Environment.CurrentDirectory = Path.GetDirectoryName(Path.GetFullPath(notebookPath))!;
        using var record = new RecordWriter(recordPath);
        using var csharp = new CSharpKernel();
        csharp.UseKernelHelpers().UseWho().UseValueSharing();
        csharp.UseNugetDirective((loading, packages) =>
        {
            loading.AddAssemblyReferences(packages.SelectMany(package => package.AssemblyPaths));
            return Task.CompletedTask;
        });
        using var kernel = new CompositeKernel { DefaultKernelName = csharp.Name };
        kernel.Add(csharp, ["c#", "C#"]);

        int current = 0;
        string diagnostics = string.Empty;
        int diagnosticLine = 0;
        using IDisposable watch = kernel.KernelEvents.Subscribe(new Watcher(produced =>
        {
            // The console belongs to the kernel while a cell runs: writing to it here would loop.
            switch (produced)
            {
                case StandardOutputValueProduced text:
                    record.Output(current, "console", string.Empty, text);
                    break;
                case StandardErrorValueProduced text:
                    record.Output(current, "console-error", string.Empty, text);
                    break;
                case DisplayedValueUpdated updated:
                    record.Output(current, "value", updated.ValueId ?? string.Empty, updated);
                    break;
                case ErrorProduced:
                    break;
                case DisplayEvent shown:
                    record.Output(current, "value", shown.ValueId ?? string.Empty, shown);
                    break;
                case DiagnosticsProduced found when found.Diagnostics.Any(each => each.Severity == DiagnosticSeverity.Error):
                    var errors = found.Diagnostics.Where(each => each.Severity == DiagnosticSeverity.Error).ToList();
                    diagnosticLine = errors[0].LinePositionSpan.Start.Line + 1;
                    diagnostics = string.Join('\n', errors.Select(each => $"{each.Code}: {each.Message}"));
                    break;
                default:
                    break;
            }
        }));

        foreach (NotebookCell cell in notebook.Cells.Where(each => each.Kind == CellKind.Code))
        {
            current = cell.Number;
            diagnostics = string.Empty;
            record.Begin(current);
            if (string.IsNullOrWhiteSpace(cell.Source))
            {
                continue;
            }

            KeepLineNumbers(csharp, current);
            KernelCommandResult result = await kernel.SendAsync(new SubmitCode(cell.Source));
            if (result.Events.OfType<CommandFailed>().FirstOrDefault() is CommandFailed failed)
            {
                (int line, string message) = diagnostics.Length > 0
                    ? (diagnosticLine, diagnostics)
                    : (LineOf(failed.Exception, current), Words(failed));
                record.Failed(current, line, message);
                return 1;
            }
        }

        record.Finished();
        return 0;
    }

    private static string Words(CommandFailed failed)
    {
        if (failed.Exception is not Exception exception)
        {
            return failed.Message;
        }

        var words = new List<string>();
        for (Exception? each = exception; each is not null; each = each.InnerException)
        {
            words.Add($"{each.GetType().Name}: {each.Message}");
        }

        return string.Join("\n  because of ", words);
    }

    private static int LineOf(Exception? exception, int cell)
    {
        for (Exception? each = exception; each is not null; each = each.InnerException)
        {
            foreach (StackFrame frame in new StackTrace(each, fNeedFileInfo: true).GetFrames())
            {
                if (frame.GetFileName() is string file && file.EndsWith(FileOf(cell), StringComparison.Ordinal))
                {
                    return frame.GetFileLineNumber();
                }
            }
        }

        return 0;
    }

    private static string FileOf(int cell) => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"code-cell-{cell}.csx");

    /// <summary>
    /// Has the cell compiled with its line numbers, so that an exception can say where it came from. The kernel has no public
    /// switch for it; its version is pinned and it gets no more changes. Without it only the line would be missing.
    /// </summary>
    private static void KeepLineNumbers(CSharpKernel kernel, int cell)
    {
        FieldInfo? field = typeof(CSharpKernel).GetField("_scriptOptions", BindingFlags.Instance | BindingFlags.NonPublic);
        if (field?.GetValue(kernel) is ScriptOptions options)
        {
            field.SetValue(kernel, options.WithEmitDebugInformation(true).WithFilePath(Path.Combine(Environment.CurrentDirectory, FileOf(cell))).WithFileEncoding(System.Text.Encoding.UTF8));
        }
    }

    private sealed class Watcher(Action<KernelEvent> seen) : IObserver<KernelEvent>
    {
        public void OnCompleted()
        {
        }

        public void OnError(Exception error)
        {
        }

        public void OnNext(KernelEvent value) => seen(value);
    }

    /// <summary>Writes each entry through to the file at once: the process may be ended at any time.</summary>
    private sealed class RecordWriter(string path) : IDisposable
    {
        private readonly FileStream _file = new(path, FileMode.Create, FileAccess.Write, FileShare.ReadWrite);
        private readonly Lock _gate = new();

        public void Begin(int cell) => Write(cell, "begin", _ => { });

        public void Finished() => Write(0, "finished", _ => { });

        public void Failed(int cell, int line, string message) => Write(cell, "failed", json =>
        {
            json.WriteNumber("line", line);
            json.WriteString("message", message);
        });

        public void Output(int cell, string kind, string id, DisplayEvent shown) => Write(cell, "output", json =>
        {
            json.WriteString("kind", kind);
            json.WriteString("id", id);
            json.WriteStartObject("forms");
            foreach (var form in shown.FormattedValues.DistinctBy(each => each.MimeType))
            {
                json.WriteString(form.MimeType, form.Value);
            }

            json.WriteEndObject();
        });

        public void Dispose() => _file.Dispose();

        private void Write(int cell, string what, Action<Utf8JsonWriter> more)
        {
            lock (_gate)
            {
                using (var json = new Utf8JsonWriter(_file))
                {
                    json.WriteStartObject();
                    json.WriteNumber("cell", cell);
                    json.WriteString("what", what);
                    more(json);
                    json.WriteEndObject();
                }

                _file.WriteByte((byte)'\n');
                _file.Flush();
            }
        }
    }
}
