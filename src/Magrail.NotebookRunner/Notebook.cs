using System.Text.Json;

namespace Magrail.NotebookRunner;

/// <summary>A notebook file: its cells in order.</summary>
internal sealed record Notebook(string Path, IReadOnlyList<NotebookCell> Cells)
{
    /// <summary>Text of the first heading, or the file's name.</summary>
    public string Title
        => Cells
            .Where(cell => cell.Kind == CellKind.Words)
            .SelectMany(cell => cell.Source.Split('\n'))
            .Where(line => line.StartsWith('#'))
            .Select(line => line.TrimStart('#').Trim())
            .FirstOrDefault(line => line.Length > 0)
            ?? System.IO.Path.GetFileNameWithoutExtension(Path);

    /// <summary>Reads an .ipynb file (nbformat 4).</summary>
    /// <exception cref="IOException">The file cannot be read.</exception>
    /// <exception cref="InvalidDataException">The file is no notebook; says why.</exception>
    public static Notebook Read(string path) => Parse(path, File.ReadAllText(path));

    /// <summary>Takes the text of such a file.</summary>
    /// <exception cref="InvalidDataException">It is no notebook; says why.</exception>
    public static Notebook Parse(string path, string text)
    {
        try
        {
            return Cellwise(path, text);
        }
        catch (Exception fault) when (fault is JsonException or KeyNotFoundException or InvalidOperationException)
        {
            throw new InvalidDataException(fault.Message, fault);
        }
    }

    private static Notebook Cellwise(string path, string text)
    {
        using JsonDocument document = JsonDocument.Parse(text);
        if (document.RootElement.ValueKind != JsonValueKind.Object || !document.RootElement.TryGetProperty("cells", out JsonElement cells) || cells.ValueKind != JsonValueKind.Array)
        {
            throw new InvalidDataException("it has no list of cells, as a notebook of format 4 has.");
        }

        var read = new List<NotebookCell>();
        int code = 0;
        foreach (JsonElement cell in cells.EnumerateArray())
        {
            string source = Text(cell.GetProperty("source"));
            string[] tags = cell.TryGetProperty("metadata", out JsonElement metadata) && metadata.TryGetProperty("tags", out JsonElement list)
                ? [.. list.EnumerateArray().Select(tag => tag.GetString() ?? string.Empty)]
                : [];
            switch (cell.GetProperty("cell_type").GetString())
            {
                case "code":
                    read.Add(new NotebookCell(CellKind.Code, ++code, source, tags));
                    break;
                case "markdown":
                    read.Add(new NotebookCell(CellKind.Words, 0, source, tags));
                    break;
                default:
                    break;
            }
        }

        return new Notebook(path, read);
    }

    private static string Text(JsonElement source)
        => source.ValueKind == JsonValueKind.Array
            ? string.Concat(source.EnumerateArray().Select(line => line.GetString()))
            : source.GetString() ?? string.Empty;
}

internal enum CellKind
{
    Words,
    Code,
}

/// <summary>A cell; code cells are counted from 1, as a notebook page does when it is run from the top.</summary>
internal sealed record NotebookCell(CellKind Kind, int Number, string Source, IReadOnlyList<string> Tags);
