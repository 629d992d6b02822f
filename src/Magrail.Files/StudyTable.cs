using System.Collections.Immutable;
using System.Globalization;

namespace Magrail.Files;

/// <summary>The columns of a study's result, for every format alike.</summary>
internal static class StudyTable
{
    public const string Index = "index";
    public const string Outcome = "outcome";
    public const string NearestLimit = "nearest limit";
    public const string Fault = "fault";

    /// <summary>Names of the figures, in order.</summary>
    public static IReadOnlyList<StudyColumn> Numbers { get; } = [.. SummaryColumns.Numbers.Select(number => number.Column)];

    public static IReadOnlyList<StudyColumn> Counts { get; } = [.. SummaryColumns.Counts.Select(count => count.Column)];

    /// <summary>A heading: the name, and the unit in brackets.</summary>
    public static string Heading(StudyColumn column) => column.Unit.Length == 0 ? column.Name : $"{column.Name} [{column.Unit}]";

    public static StudyColumn ColumnOf(string heading)
    {
        int bracket = heading.EndsWith(']') ? heading.LastIndexOf(" [", StringComparison.Ordinal) : -1;
        return bracket < 0 ? new StudyColumn(heading, "") : new StudyColumn(heading[..bracket], heading[(bracket + 2)..^1]);
    }

    /// <summary>All headings of a result.</summary>
    public static string[] Headings(ImmutableArray<StudyColumn> design) =>
    [
        Index,
        .. design.Select(Heading),
        Outcome,
        .. Numbers.Select(Heading),
        .. Counts.Select(Heading),
        NearestLimit,
        Fault,
    ];

    /// <summary>The design columns among headings.</summary>
    /// <exception cref="StudyFileException">The headings are not those of a study.</exception>
    public static ImmutableArray<StudyColumn> DesignOf(IReadOnlyList<string> headings, int line)
    {
        int outcome = headings.ToList().IndexOf(Outcome);
        ImmutableArray<StudyColumn> design = outcome < 2 ? [] : [.. headings.Skip(1).Take(outcome - 1).Select(ColumnOf)];
        return headings.SequenceEqual(Headings(design))
            ? design
            : throw new StudyFileException($"the headings are not those of a study; they must be {string.Join(", ", Headings([new("design numbers", "unit")]))}.", line);
    }

    public static string OutcomeOf(StudyPoint point) => point.Summary?.Outcome.ToString() ?? SummaryColumns.NotLaunched;

    /// <summary>A point from its columns.</summary>
    /// <exception cref="StudyFileException">There is no such outcome, or a figure is no finite number.</exception>
    public static StudyPoint Point(
        ImmutableArray<StudyColumn> columns, int index, double[] values, string outcome, ReadOnlySpan<double> numbers, ReadOnlySpan<int> counts, string? limit, string? fault, int line)
    {
        if (outcome == SummaryColumns.NotLaunched)
        {
            return new StudyPoint(columns, index, values, null, fault ?? "");
        }

        if (!(Enum.TryParse(outcome, out LaunchOutcome known) && Enum.IsDefined(known)))
        {
            throw new StudyFileException($"there is no outcome {outcome}.", line, Outcome);
        }

        return SummaryColumns.Make(known, numbers, counts, string.IsNullOrEmpty(limit) ? null : string.IsInterned(limit) ?? limit) is LaunchSummary summary
            ? new StudyPoint(columns, index, values, summary, null)
            : throw new StudyFileException($"point {index.ToString(CultureInfo.InvariantCulture)} has a figure that is no finite number.", line);
    }

    /// <summary>A result from its description and points.</summary>
    /// <exception cref="StudyFileException">The description is none.</exception>
    public static StudyResult Result(string? fingerprint, string? total, string? number, string? count, ImmutableArray<StudyColumn> columns, ImmutableArray<StudyPoint> points)
    {
        bool good = int.TryParse(total, NumberStyles.None, CultureInfo.InvariantCulture, out int all)
            & int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out int i)
            & int.TryParse(count, NumberStyles.None, CultureInfo.InvariantCulture, out int n);
        return good && n >= 1 && i >= 1 && i <= n && !string.IsNullOrEmpty(fingerprint)
            ? new StudyResult(fingerprint, columns, all, new StudyPart(i, n), points)
            : throw new StudyFileException("the file does not tell which study and part it is of.");
    }
}
