using System.Text.Json;
using System.Text.Json.Nodes;

namespace Magrail.Notebooks.Tests;

/// <summary>Makes small notebooks, and reads the cells of those in the checkout.</summary>
internal static class NotebookText
{
    private const string FromCheckout = "#r \"../src/Magrail.Notebooks/bin/Release/net10.0/Magrail.Notebooks.dll\"";

    public static string Of(params string[] codeCells)
    {
        var cells = new JsonArray();
        foreach (string code in codeCells)
        {
            cells.Add(new JsonObject
            {
                ["cell_type"] = "code",
                ["execution_count"] = null,
                ["metadata"] = new JsonObject(),
                ["outputs"] = new JsonArray(),
                ["source"] = code,
            });
        }

        return new JsonObject { ["cells"] = cells, ["metadata"] = new JsonObject(), ["nbformat"] = 4, ["nbformat_minor"] = 5 }.ToJsonString();
    }

    public static List<(string Kind, string Source, string[] Tags, JsonNode Cell)> CellsOf(string path)
    {
        JsonNode notebook = JsonNode.Parse(File.ReadAllText(path))!;
        return
        [
            .. notebook["cells"]!.AsArray().Select(cell => (
                cell!["cell_type"]!.GetValue<string>(),
                SourceOf(cell),
                cell["metadata"]?["tags"]?.AsArray().Select(tag => tag!.GetValue<string>()).ToArray() ?? [],
                cell)),
        ];
    }

    /// <summary>The same notebook, as one that takes the library from a package and not from the checkout.</summary>
    public static string FromPackage(string text, string version)
    {
        JsonNode notebook = JsonNode.Parse(text)!;
        JsonNode setUp = Assert.Single(notebook["cells"]!.AsArray(), cell => SourceOf(cell!).StartsWith(FromCheckout, StringComparison.Ordinal))!;
        setUp["source"] = SourceOf(setUp).Replace(FromCheckout, $"#r \"nuget: Magrail.Notebooks, {version}\"", StringComparison.Ordinal);
        return notebook.ToJsonString();
    }

    private static string SourceOf(JsonNode cell)
        => cell["source"] is JsonArray lines ? string.Concat(lines.Select(line => line!.GetValue<string>())) : cell["source"]!.GetValue<string>();
}
