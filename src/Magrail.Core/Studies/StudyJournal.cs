using System.Collections;
using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Text;

namespace Magrail;

/// <summary>
/// The file of finished points: one line each with a checksum at its end, appended as points are finished, in any order. What a kill left half written does
/// not pass its checksum and is cut off.
/// </summary>
/// <remarks>Numbers are written with as many digits as bring the same bits back.</remarks>
internal sealed class StudyJournal : IDisposable
{
    private const string Head = "magrail study";

    private readonly FileStream file;
    private readonly ConcurrentDictionary<int, StudyPoint> points = new();
    private readonly BitArray finished;
    private readonly int from;
    private readonly int to;
    private readonly Lock gate = new();
    private long flushed = Stopwatch.GetTimestamp();

    private StudyJournal(FileStream file, int from, int to)
    {
        this.file = file;
        this.from = from;
        this.to = to;
        finished = new BitArray(to - from);
    }

    /// <summary>Opens the file, or begins one.</summary>
    /// <exception cref="InvalidDataException">It is of another study or part, or none at all.</exception>
    public static StudyJournal Open(string path, string fingerprint, Study study, StudyPart part, Func<StudyPoint, bool>? keeps)
    {
        string head = string.Create(CultureInfo.InvariantCulture, $"{Head}\t{fingerprint}\t{study.PointCount}\t{part.Number}\t{part.Count}");
        var file = new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read);
        try
        {
            (int from, int to) = part.Of(study.PointCount);
            var journal = new StudyJournal(file, from, to);
            journal.Read(path, head, study, keeps);
            return journal;
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    /// <summary>The figures of a launch as text; each number brings the same bits back.</summary>
    public static string Text(in LaunchSummary summary)
    {
        var text = new StringBuilder();
        text.Append(summary.Outcome.ToString());
        foreach ((StudyColumn _, Func<LaunchSummary, double> value) in SummaryColumns.Numbers)
        {
            text.Append('\t').Append(value(summary).ToString("R", CultureInfo.InvariantCulture));
        }

        foreach ((StudyColumn _, Func<LaunchSummary, int> value) in SummaryColumns.Counts)
        {
            text.Append('\t').Append(value(summary).ToString(CultureInfo.InvariantCulture));
        }

        return text.Append('\t').Append(summary.NearestLimit).ToString();
    }

    /// <summary>Whether a point was finished in an earlier run.</summary>
    public bool IsFinished(int index) => finished[index - from];

    /// <summary>Such a point, where it is to be kept; handed out once, so that there is no second copy.</summary>
    public StudyPoint? Take(int index) => points.TryRemove(index, out StudyPoint? point) ? point : null;

    /// <summary>Writes finished points down. At the latest after a second they are on the disk.</summary>
    public void Append(IReadOnlyList<StudyPoint> fresh)
    {
        if (fresh.Count == 0)
        {
            return;
        }

        var text = new StringBuilder();
        foreach (StudyPoint point in fresh)
        {
            text.Append(Sealed($"{point.Index.ToString(CultureInfo.InvariantCulture)}\t{(point.Summary is LaunchSummary summary ? Text(summary) : $"{SummaryColumns.NotLaunched}\t{Escaped(point.Fault!)}")}"));
        }

        byte[] bytes = Encoding.UTF8.GetBytes(text.ToString());
        lock (gate)
        {
            file.Write(bytes);
            bool toDisk = Stopwatch.GetElapsedTime(flushed).TotalSeconds >= 1;
            file.Flush(toDisk);
            flushed = toDisk ? Stopwatch.GetTimestamp() : flushed;
        }
    }

    public void Dispose()
    {
        file.Flush(flushToDisk: true);
        file.Dispose();
    }

    private void Read(string path, string head, Study study, Func<StudyPoint, bool>? keeps)
    {
        long good = 0;
        bool headed = false;
        foreach (string? body in Lines(file))
        {
            if (body is null)
            {
                break;
            }

            if (!headed)
            {
                headed = body == head ? true : throw new InvalidDataException(
                    body.StartsWith(Head, StringComparison.Ordinal)
                        ? $"{path} holds finished points of another study or part; name another file, or delete it."
                        : $"{path} is no file of finished points; name another one.");
            }
            else if (Parse(body, study) is StudyPoint point && point.Index >= from && point.Index < to)
            {
                if (!finished[point.Index - from] && (keeps?.Invoke(point) ?? true))
                {
                    points[point.Index] = point;
                }

                finished[point.Index - from] = true;
            }
            else
            {
                break;
            }

            // Body, a tab, eight digits, the end of the line.
            good += Encoding.UTF8.GetByteCount(body) + 10;
        }

        if (!headed && file.Length > 0 && !IsBeginningOf(Sealed(head)))
        {
            throw new InvalidDataException($"{path} is no file of finished points; name another one.");
        }

        file.SetLength(good);
        file.Seek(0, SeekOrigin.End);
        if (!headed)
        {
            file.Write(Encoding.UTF8.GetBytes(Sealed(head)));
            file.Flush(flushToDisk: true);
        }
    }

    /// <summary>Whether the file is the beginning of a text: a head that a kill left half written.</summary>
    private bool IsBeginningOf(string text)
    {
        byte[] whole = Encoding.UTF8.GetBytes(text);
        if (file.Length >= whole.Length)
        {
            return false;
        }

        byte[] found = new byte[file.Length];
        file.Seek(0, SeekOrigin.Begin);
        file.ReadExactly(found);
        return whole.AsSpan().StartsWith(found);
    }

    /// <summary>The lines that pass their checksum, without it; then null where one does not.</summary>
    private static IEnumerable<string?> Lines(FileStream file)
    {
        file.Seek(0, SeekOrigin.Begin);
        var line = new List<byte>();
        byte[] buffer = new byte[1 << 16];
        int count;
        while ((count = file.Read(buffer)) > 0)
        {
            for (int i = 0; i < count; i++)
            {
                if (buffer[i] != (byte)'\n')
                {
                    line.Add(buffer[i]);
                    continue;
                }

                int length = line.Count - 9;
                string? body = length > 0 ? Encoding.UTF8.GetString([.. line.Take(length)]) : null;
                if (body is null || !Sealed(body).AsSpan().TrimEnd('\n').SequenceEqual(Encoding.UTF8.GetString([.. line])))
                {
                    yield return null;
                    yield break;
                }

                line.Clear();
                yield return body;
            }
        }
    }

    private static StudyPoint? Parse(string body, Study study)
    {
        string[] fields = body.Split('\t');
        if (!int.TryParse(fields[0], NumberStyles.None, CultureInfo.InvariantCulture, out int index) || index >= study.PointCount || fields.Length < 3)
        {
            return null;
        }

        if (fields[1] == SummaryColumns.NotLaunched)
        {
            return new StudyPoint(study.Columns, index, study.ValuesAt(index), null, Unescaped(fields[2]));
        }

        int numbers = SummaryColumns.Numbers.Count;
        int counts = SummaryColumns.Counts.Count;
        if (fields.Length != numbers + counts + 3 || !(Enum.TryParse(fields[1], out LaunchOutcome outcome) && Enum.IsDefined(outcome)))
        {
            return null;
        }

        double[] values = new double[numbers];
        int[] whole = new int[counts];
        for (int i = 0; i < numbers; i++)
        {
            if (!double.TryParse(fields[2 + i], NumberStyles.Float, CultureInfo.InvariantCulture, out values[i]))
            {
                return null;
            }
        }

        for (int i = 0; i < counts; i++)
        {
            if (!int.TryParse(fields[2 + numbers + i], NumberStyles.None, CultureInfo.InvariantCulture, out whole[i]))
            {
                return null;
            }
        }

        string limit = fields[^1];
        return SummaryColumns.Make(outcome, values, whole, limit.Length == 0 ? null : string.IsInterned(limit) ?? limit) is LaunchSummary summary
            ? new StudyPoint(study.Columns, index, study.ValuesAt(index), summary, null)
            : null;
    }

    /// <summary>A line: the body, a tab, its checksum, the end of the line.</summary>
    internal static string Sealed(string body) => $"{body}\t{Checksum(body):x8}\n";

    /// <summary>FNV-1a of 32 bits.</summary>
    private static uint Checksum(string body)
    {
        uint hash = 2166136261;
        foreach (byte one in Encoding.UTF8.GetBytes(body))
        {
            hash = unchecked((hash ^ one) * 16777619);
        }

        return hash;
    }

    private static string Escaped(string text)
        => text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\t", "\\t", StringComparison.Ordinal)
            .Replace("\n", "\\n", StringComparison.Ordinal).Replace("\r", "\\r", StringComparison.Ordinal);

    private static string Unescaped(string text)
    {
        var plain = new StringBuilder();
        for (int i = 0; i < text.Length; i++)
        {
            plain.Append(text[i] != '\\' || i + 1 == text.Length ? text[i] : text[++i] switch { 't' => '\t', 'n' => '\n', 'r' => '\r', var other => other });
        }

        return plain.ToString();
    }
}
