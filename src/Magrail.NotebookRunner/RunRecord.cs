using System.Text.Json;

namespace Magrail.NotebookRunner;

/// <summary>What one run of a notebook gave: outputs of each code cell, and how it ended.</summary>
internal sealed class RunRecord
{
    public Dictionary<int, List<CellOutput>> Outputs { get; } = [];

    /// <summary>The last cell that began.</summary>
    public int LastBegun { get; private set; }

    /// <summary>Whether all cells ran to their end.</summary>
    public bool Finished { get; private set; }

    /// <summary>What went wrong, if anything did.</summary>
    public RunFailure? Failure { get; set; }

    /// <summary>Time of the whole run, process start included.</summary>
    public TimeSpan Time { get; set; }

    /// <summary>Reads what the cell process wrote; a last line cut short by its end, and what follows one that says nothing, is left out.</summary>
    public static RunRecord Read(string path)
    {
        var record = new RunRecord();
        if (!File.Exists(path))
        {
            return record;
        }

        foreach (string line in File.ReadLines(path))
        {
            try
            {
                using JsonDocument document = JsonDocument.Parse(line);
                record.Take(document.RootElement);
            }
            catch (Exception cut) when (cut is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException)
            {
                break;
            }
        }

        return record;
    }

    private static string Text(JsonElement entry, string name) => entry.GetProperty(name).GetString() ?? throw new JsonException($"{name} is null.");

    private void Take(JsonElement entry)
    {
        int cell = entry.GetProperty("cell").GetInt32();
        switch (entry.GetProperty("what").GetString())
        {
            case "begin":
                LastBegun = cell;
                Outputs[cell] = [];
                break;
            case "output":
                var forms = entry.GetProperty("forms").EnumerateObject().ToDictionary(form => form.Name, form => form.Value.GetString() ?? string.Empty);
                var output = new CellOutput(Text(entry, "kind"), Text(entry, "id"), forms);
                List<CellOutput> outputs = Outputs[cell];
                int old = output.Id.Length == 0 ? -1 : outputs.FindIndex(each => each.Id == output.Id);
                if (old >= 0)
                {
                    outputs[old] = output;
                }
                else
                {
                    outputs.Add(output);
                }

                break;
            case "failed":
                Failure = new RunFailure(cell, entry.GetProperty("line").GetInt32(), Text(entry, "message"));
                break;
            case "finished":
                Finished = true;
                break;
            default:
                break;
        }
    }
}

/// <summary>One output of a cell, in one form or several (MIME type and text).</summary>
internal sealed record CellOutput(string Kind, string Id, IReadOnlyDictionary<string, string> Forms);

/// <summary>Where a run failed: code cell from 1, line in the cell from 1 (0 if it is not known), and the words of the error.</summary>
internal sealed record RunFailure(int Cell, int Line, string Message);
