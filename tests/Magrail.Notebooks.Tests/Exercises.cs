using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;

namespace Magrail.Notebooks.Tests;

/// <summary>
/// The exercises of the course as a reader enters them: into the line with the arrow, in the form of the example that stands there. The right answers are those of the launcher of
/// each notebook; where a closed form gives them, it is named.
/// </summary>
internal static partial class Exercises
{
    private const string Unanswered = "No answer yet";

    private static readonly Dictionary<string, Exercise[]> All = new()
    {
        ["01-first-launch.ipynb"] = [new("at36", "15.1.MetersPerSecond()", "Less"), new("percentSlower", "8.3", "Less"), new("at120", "13.5.MetersPerSecond()", "More")],
        ["02-magnets-and-gap.ipynb"] = [new("halfGap", "16.3.Millimeters()", "More"), new("percentMore", "31", "Less")],
        ["03-how-many-turns.ipynb"] = [new("turnsAtThirty", "170", "Less"), new("percentLess", "4.7", "Less")],

        // L and R both go with the square of the turns.
        ["04-where-do-the-strips-go.ipynb"] = [new("factor", "1", "Less"), new("percentLess", "4.5", "Less")],

        // V²/4R = 24²/(4 · 0.12).
        ["05-which-source.ipynb"] = [new("most", "1200.Watts()", "More"), new("millifarads", "120", "Less"), new("launches", "7000", "More")],
        ["06-what-the-spark-costs.ipynb"] = [new("resistor", "0.72.Ohms()", "Less"), new("clampVolts", "15.5.Volts()", "Less"), new("millicoulombs", "2.8", "Less")],

        // 2 m g 1.2²/(ρ C v²), with the 7.64 m/s of 200 g.
        ["07-payload-and-speed.ipynb"] = [new("inWind", "210.Grams()", "More"), new("wing", "718.SquareCentimeters()", "More"), new("farther", "1.3", "Less")],

        // One over the root of the count: 400 · 4².
        ["08-how-sure-am-i.ipynb"] = [new("knob", "24.5.Volts()", "Less"), new("samples", "6400", "More")],
        ["09-does-my-film-agree.ipynb"] = [new("factor", "2.06", "Less"), new("cured", "11.08.MetersPerSecond()", "Less")],

        // 3 % of the end of the last strip, (46.5 · 20 − 0.5 + 6.5) mm; 1.36/(1 + 0.00393 · 8) ohm; (1919 + 10)/180 sheets, rounded up.
        ["10-the-workshop-sheet.ipynb"] = [new("off", "28.Millimeters()", "More"), new("at20", "1.32.Ohms()", "Less"), new("sheets", "11", "More")],
    };

    public static Exercise[] Of(string name) => All.GetValueOrDefault(name, []);

    /// <summary>The variables that the exercises of a notebook ask for, in order.</summary>
    public static string[] VariablesOf(string path)
        => [.. NotebookText.CellsOf(path).Select(cell => AnswerLine().Match(cell.Source)).Where(match => match.Success).Select(match => match.Groups["variable"].Value)];

    /// <summary>
    /// Writes the notebook with two more cells after each exercise: the same cell with the right answer, and with the example that stands in its line, which is not to be right.
    /// </summary>
    public static string Answered(string name)
    {
        JsonNode notebook = JsonNode.Parse(File.ReadAllText(Path.Combine(Checkout.Root, "notebooks", name)))!;
        JsonArray cells = notebook["cells"]!.AsArray();
        for (int i = cells.Count - 1; i >= 0; i--)
        {
            string source = string.Concat(cells[i]!["source"]!.AsArray().Select(line => line!.GetValue<string>()));
            Match line = AnswerLine().Match(source);
            if (cells[i]!["cell_type"]!.GetValue<string>() != "code" || !line.Success)
            {
                continue;
            }

            Exercise exercise = Of(name).Single(each => each.Variable == line.Groups["variable"].Value);
            foreach (string answer in new[] { line.Groups["example"].Value, exercise.Right })
            {
                JsonNode copy = cells[i]!.DeepClone();
                copy["source"] = new JsonArray($"{line.Groups["type"].Value} {exercise.Variable} = {answer};{source[line.Length..]}");
                copy.AsObject().Remove("id");
                cells.Insert(i + 1, copy);
            }
        }

        // One folder beside the notebooks, so that what they load is found; films lie in the notebooks' own.
        string folder = Path.Combine(Checkout.Root, "artifacts");
        Directory.CreateDirectory(folder);
        string path = Path.Combine(folder, $"answered-{name}");
        File.WriteAllText(path, notebook.ToJsonString().Replace("\\u0022data/", "\\u0022../notebooks/data/", StringComparison.Ordinal));
        return path;
    }

    /// <summary>The report of the answered notebook: no answer, then right, then not yet, for each exercise.</summary>
    public static void AreJudged(string name, string report)
    {
        string[] judgements = [.. Judgement().Matches(report).Select(match => WebUtility.HtmlDecode(match.Groups[1].Value))];
        Exercise[] exercises = Of(name);
        Assert.Equal(3 * exercises.Length, judgements.Length);
        for (int i = 0; i < exercises.Length; i++)
        {
            string all = $"{exercises[i].Variable}: {string.Join(" | ", judgements.Skip(3 * i).Take(3))}";
            Assert.True(judgements[3 * i].StartsWith(Unanswered, StringComparison.Ordinal), all);
            Assert.True(judgements[(3 * i) + 1].StartsWith("Right: it is ", StringComparison.Ordinal), all);
            Assert.True(judgements[(3 * i) + 2] == $"Not yet: it is {exercises[i].ThanExample.ToLowerInvariant()} than that.", all);
        }
    }

    [GeneratedRegex(@"^(?<type>\S+\?) (?<variable>\w+) = null;\s+// ← your answer, for example (?<example>[^\n]+)")]
    private static partial Regex AnswerLine();

    [GeneratedRegex("<div class=\"out\">((?:No answer yet|Right: it is|Not yet: it is)[^<]*)</div>")]
    private static partial Regex Judgement();

    /// <summary>One exercise.</summary>
    /// <param name="Variable">What the reader sets.</param>
    /// <param name="Right">The right answer, as a reader writes it.</param>
    /// <param name="ThanExample">Whether the right answer is "More" or "Less" than the example in the line.</param>
    public sealed record Exercise(string Variable, string Right, string ThanExample);
}
