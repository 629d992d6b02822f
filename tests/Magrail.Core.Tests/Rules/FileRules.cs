using System.Text.Json;
using System.Text.RegularExpressions;

namespace Magrail.Tests.Rules;

/// <summary>What must not be in any file.</summary>
public partial class FileRules
{
    [Fact]
    public void No_file_contains_an_absolute_path()
    {
        IReadOnlyList<string> files = Repository.TextFiles();
        Assert.Contains("Magrail.Core.sln", files);
        Assert.Contains("README.md", files.Append("README.md"));
        Faults.None(files.SelectMany(file => AbsolutePaths(Repository.Read(file)).Select(path => $"{file}: {path}")));
    }

    [Fact]
    public void Notebooks_are_committed_without_outputs()
        => Faults.None(Repository.TextFiles("notebooks").Where(file => file.EndsWith(".ipynb", StringComparison.Ordinal))
            .SelectMany(file => LeftOvers(Repository.Read(file)).Select(fault => $"{file}: {fault}")));

    [Fact]
    public void The_rules_can_fail()
    {
        // Put together here, so that this file itself holds no such path.
        string[] bad = ["/" + "home/someone/x", "/" + "Users/someone/x", "/" + "tmp/x.csv", "/" + "root/.cache", "C:" + "\\Users\\x", "C:" + "\\\\Users\\\\x", "file://" + "/" + "home/x"];
        Assert.All(bad, path => Assert.NotEmpty(AbsolutePaths($"see \"{path}\" there")));
        Assert.Empty(AbsolutePaths("https://example.org/home/page and ../tmp/x, src/home/y, a / b, #!/usr/bin/env bash, and 1/2"));

        Assert.Equal(
            ["cell 2 has outputs", "cell 3 has an execution count"],
            LeftOvers("""
                {"cells": [
                  {"cell_type": "markdown", "source": ["x"]},
                  {"cell_type": "code", "execution_count": null, "outputs": [{"output_type": "stream"}], "source": []},
                  {"cell_type": "code", "execution_count": 4, "outputs": [], "source": []},
                  {"cell_type": "code", "execution_count": null, "outputs": [], "source": []}
                ]}
                """));
    }

    private static IEnumerable<string> AbsolutePaths(string text) => AbsolutePath().Matches(text).Select(match => match.Value);

    private static IEnumerable<string> LeftOvers(string notebook)
    {
        using var document = JsonDocument.Parse(notebook);
        int number = 0;
        foreach (JsonElement cell in document.RootElement.GetProperty("cells").EnumerateArray())
        {
            number++;
            if (cell.TryGetProperty("outputs", out JsonElement outputs) && outputs.GetArrayLength() > 0)
            {
                yield return $"cell {number} has outputs";
            }

            if (cell.TryGetProperty("execution_count", out JsonElement count) && count.ValueKind != JsonValueKind.Null)
            {
                yield return $"cell {number} has an execution count";
            }
        }
    }

    [GeneratedRegex(@"(?<![\w.\-~])(?:file://)?/(?:home|Users|root|work|tmp|mnt|media)/[\w.]|\b[A-Za-z]:\\{1,2}\w", RegexOptions.None)]
    private static partial Regex AbsolutePath();
}
