using System.Globalization;
using System.Reflection;
using Magrail.Tests.Rules;

namespace Magrail.Tests;

/// <summary>The tables of docs/accuracy.md: read for the check that they are not stale, written where MAGRAIL_ACCURACY names the file.</summary>
internal static class AccuracyTable
{
    public const string Variable = "MAGRAIL_ACCURACY";

    private const string Heading = "| quantity | reference | worst error seen | held to |";

    private const string End = "<!-- end of rows -->";

    public const string ContactsHeatFlight = "Contacts, heat, flight";

    private static readonly string[] Layers = ["Numerics", "Materials", "Magnets", "Windings", "Coupling", "Contacts", "Power", "Sleds", "Launch", "Measurement", "Fabrication"];

    private static readonly string[] Order = ["Numerics", "Magnets, coupling, coils", ContactsHeatFlight, "Launch", "Measurement", "Fabrication"];

    /// <summary>All rows by the section that they stand in, in the order of the layers, of the classes and of their fields.</summary>
    public static IReadOnlyList<(string Section, IReadOnlyList<AccuracyRow> Rows)> Sections { get; } = Find(typeof(AccuracyTable).Assembly);

    /// <summary>Whether this run is to write the table.</summary>
    public static bool IsAskedFor => Environment.GetEnvironmentVariable(Variable) is { Length: > 0 };

    /// <summary>Writes the worst errors of this run, if a file is named, every row was measured, and every bound was kept.</summary>
    public static void WriteIfAsked()
    {
        if (Environment.GetEnvironmentVariable(Variable) is not { Length: > 0 } file)
        {
            return;
        }

        string path = Path.Combine(Repository.Root, file);
        string text = Replaced(File.ReadAllText(path), Sections);
        string beside = path + ".new";
        File.WriteAllText(beside, text);
        File.Move(beside, path, overwrite: true);
    }

    /// <summary>A text with the rows between its markers replaced.</summary>
    public static string Replaced(string text, IEnumerable<(string Section, IReadOnlyList<AccuracyRow> Rows)> sections)
    {
        foreach ((string section, IReadOnlyList<AccuracyRow> rows) in sections)
        {
            string[] faults = [.. rows.Where(row => !(row.Worst <= row.Bound)).Select(row => $"{row.Quantity}: {row.WorstText}, held to {row.BoundText}")];
            if (faults.Length > 0)
            {
                throw new InvalidOperationException($"The table is not written. It takes a whole run whose bounds are kept; not so for {string.Join("; ", faults)}");
            }

            (int from, int to) = Between(text, section);
            IEnumerable<string> lines = rows.Select(row => $"| {row.Quantity} | {row.Reference} | {row.WorstText} | {row.BoundText} |");
            text = string.Concat(text.AsSpan(0, from), string.Join('\n', ["", Heading, "|---|---|---|---|", .. lines, ""]), text.AsSpan(to));
        }

        return text;
    }

    /// <summary>In what a text's tables differ from the rows that the tests hold; rounding of the errors apart.</summary>
    public static IEnumerable<string> Faults(string text, IEnumerable<(string Section, IReadOnlyList<AccuracyRow> Rows)> sections)
    {
        foreach ((string section, IReadOnlyList<AccuracyRow> rows) in sections)
        {
            (int from, int to) = Between(text, section);
            string[][] cells = [.. text[from..to].Split('\n').Where(line => line.StartsWith('|')).Skip(2)
                .Select(line => line.Trim().Trim('|').Split('|').Select(cell => cell.Trim()).ToArray())];
            string[] committed = [.. cells.Select(row => row.Length == 4 ? $"{row[0]} | {row[1]} | {row[3]}" : string.Join(" | ", row))];
            string[] held = [.. rows.Select(row => $"{row.Quantity} | {row.Reference} | {row.BoundText}")];
            foreach (string line in held.Except(committed))
            {
                yield return $"{section}: missing: {line}";
            }

            foreach (string line in committed.Except(held))
            {
                yield return $"{section}: no test has: {line}";
            }

            if (committed.Length != held.Length)
            {
                yield return $"{section}: {committed.Length} rows, the tests have {held.Length}";
            }

            foreach (string[] row in cells.Where(row => row.Length == 4))
            {
                AccuracyRow? match = rows.FirstOrDefault(each => each.Quantity == row[0] && each.Reference == row[1]);
                string number = row[2].Split(' ')[0];
                if (match is not null && !(double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double worst) && worst <= match.Bound))
                {
                    yield return $"{section}: {row[0]}: {row[2]} is beyond {match.BoundText}";
                }
            }
        }
    }

    private static (int From, int To) Between(string text, string section)
    {
        string start = $"<!-- rows of {section}, written by the tests -->";
        int from = text.IndexOf(start, StringComparison.Ordinal);
        int to = from < 0 ? -1 : text.IndexOf(End, from, StringComparison.Ordinal);
        return to >= 0
            ? (from + start.Length, to)
            : throw new InvalidDataException($"The text lacks \"{start}\" followed by \"{End}\".");
    }

    private static (string, IReadOnlyList<AccuracyRow>)[] Find(Assembly assembly)
        => [.. assembly.GetTypes()
            .SelectMany(type => type.GetFields(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly))
            .Where(field => field.FieldType == typeof(AccuracyRow))
            .GroupBy(field => ((AccuracyRow)field.GetValue(null)!).Section ?? Section(Layer(field)))
            .OrderBy(group => Array.IndexOf(Order, group.Key))
            .Select(group => (
                group.Key,
                (IReadOnlyList<AccuracyRow>)[.. group
                    .OrderBy(field => Array.IndexOf(Layers, Layer(field)))
                    .ThenBy(field => field.DeclaringType!.FullName, StringComparer.Ordinal)
                    .ThenBy(field => field.MetadataToken)
                    .Select(field => (AccuracyRow)field.GetValue(null)!)]))];

    private static string Layer(FieldInfo field) => field.DeclaringType!.Namespace!.Split('.')[^1];

    private static string Section(string layer)
        => layer switch
        {
            "Numerics" or "Launch" or "Measurement" or "Fabrication" => layer,
            "Contacts" or "Power" or "Sleds" => ContactsHeatFlight,
            _ => "Magnets, coupling, coils",
        };
}
