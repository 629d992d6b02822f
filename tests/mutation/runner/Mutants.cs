using System.Globalization;
using System.Text.Json;

namespace Magrail.MutantRunner;

/// <summary>A mutant of the tool's report.</summary>
/// <param name="Id">Its number.</param>
/// <param name="File">The file, from the folder of sources on.</param>
/// <param name="Line">The line.</param>
/// <param name="Kind">What kind of change it is.</param>
/// <param name="Original">The code before, on one line.</param>
/// <param name="Replacement">The code after, on one line.</param>
internal sealed record Mutant(int Id, string File, int Line, string Kind, string Original, string Replacement)
{
    /// <summary>Those of a folder that the tool neither leaves out nor could not compile, by number.</summary>
    /// <param name="report">The tool's report.</param>
    /// <param name="folder">The folder.</param>
    public static IReadOnlyList<Mutant> Of(string report, string folder)
    {
        using JsonDocument document = JsonDocument.Parse(System.IO.File.ReadAllText(report));
        var found = new List<Mutant>();
        foreach (JsonProperty file in document.RootElement.GetProperty("files").EnumerateObject())
        {
            string name = file.Name.Replace('\\', '/');
            int at = name.IndexOf($"/{folder}/", StringComparison.Ordinal);
            if (at < 0)
            {
                continue;
            }

            string[] lines = file.Value.GetProperty("source").GetString()!.Split('\n');
            foreach (JsonElement mutant in file.Value.GetProperty("mutants").EnumerateArray())
            {
                if (mutant.GetProperty("status").GetString() is "Ignored" or "CompileError")
                {
                    continue;
                }

                JsonElement start = mutant.GetProperty("location").GetProperty("start"), end = mutant.GetProperty("location").GetProperty("end");
                found.Add(new Mutant(
                    int.Parse(mutant.GetProperty("id").GetString()!, CultureInfo.InvariantCulture),
                    name[(at + 1)..],
                    start.GetProperty("line").GetInt32(),
                    mutant.GetProperty("mutatorName").GetString()!,
                    OneLine(Between(lines, start, end)),
                    OneLine(mutant.TryGetProperty("replacement", out JsonElement replacement) ? replacement.GetString() ?? "" : "")));
            }
        }

        return [.. found.OrderBy(mutant => mutant.Id)];
    }

    private static string Between(string[] lines, JsonElement start, JsonElement end)
    {
        (int line, int column) = (start.GetProperty("line").GetInt32() - 1, start.GetProperty("column").GetInt32() - 1);
        (int lastLine, int lastColumn) = (end.GetProperty("line").GetInt32() - 1, end.GetProperty("column").GetInt32() - 1);
        return line == lastLine ? lines[line][column..Math.Min(lastColumn, lines[line].Length)] : lines[line][column..] + " …";
    }

    private static string OneLine(string text)
    {
        string line = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return line.Length <= 90 ? line : line[..89] + "…";
    }
}
