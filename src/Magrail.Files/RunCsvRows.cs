using System.Globalization;
using Sylvan.Data.Csv;
using UnitsNet;

namespace Magrail.Files;

/// <summary>Takes rows one by one into room that does not grow with their number.</summary>
internal sealed class RunCsvRows(RunCsvOptions options)
{
    private const int MostNotes = 20;
    private const int LongestNote = 200;

    // A frame is missing where times are further apart than this many usual steps.
    private const double GapSteps = 1.5;

    private readonly List<string> notes = [];
    private readonly List<Row> kept = [];
    private RunCsvColumn? time;
    private RunCsvColumn? position;
    private int fields;
    private char decimalMark;
    private int decimalLine;

    private long rows;
    private int firstLine;
    private int lastLine;
    private Count lost;
    private Count late;
    private Count backward;
    private double greatestTime = double.NegativeInfinity;
    private double previousTime = double.NegativeInfinity;
    private double leastTime = double.PositiveInfinity;
    private double deepest;
    private int deepestLine;

    // Rows that are being merged into one.
    private int merge = 1;
    private int gathered;
    private double timeSum;
    private double positionSum;

    public void Take(CsvDataReader csv, int line, char separator)
    {
        if (csv.RowFieldCount == 0 || (csv.RowFieldCount == 1 && csv.GetFieldSpan(0).Trim().Length == 0))
        {
            return;
        }

        ReadOnlySpan<char> first = csv.GetFieldSpan(0).Trim();
        if (first.Length > 0 && first[0] == '#')
        {
            Note(csv.GetRawRecordSpan());
            return;
        }

        if (time is null || position is null)
        {
            if (!(first.StartsWith("sep=", StringComparison.OrdinalIgnoreCase) && csv.RowFieldCount <= 2))
            {
                Head(csv, line);
            }

            return;
        }

        lastLine = line;
        firstLine = firstLine == 0 ? line : firstLine;
        rows++;
        if (csv.RowFieldCount != fields)
        {
            string hint = separator == ',' && csv.RowFieldCount > fields ? "; decimal commas need semicolons or tabs between the fields" : "";
            if (csv.RowFieldCount <= Math.Max(time.Index, position.Index) || csv.RowFieldCount > fields)
            {
                throw new RunCsvException(string.Create(CultureInfo.InvariantCulture, $"the line has {csv.RowFieldCount} fields and the headings {fields}{hint}."), line);
            }
        }

        bool hasTime = Parse(csv.GetFieldSpan(time.Index), time, line, separator, out double t);
        bool hasPosition = Parse(csv.GetFieldSpan(position.Index), position, line, separator, out double x);
        if (!hasTime || !hasPosition)
        {
            lost.Add(line);
            return;
        }

        Take(t * time.Factor, x * position.Factor, line);
    }

    public FilmedRun Finish()
    {
        if (time is null || position is null)
        {
            throw new RunCsvException("the file is empty; it must begin with a line of headings with units, such as \"time [ms],x [mm]\".");
        }

        if (gathered > 0)
        {
            Keep(new Row(timeSum / gathered, positionSum / gathered, gathered, lastLine));
        }

        SortAndDrop(out Count repeated, out Count moved, out bool allowed);
        if (!allowed)
        {
            throw new RunCsvException(
                $"the time goes back from {Text(greatestTime)} by {Text(deepest)} and runs on from there; a file holds one run, so split it.", deepestLine, time.Index + 1, time.Heading);
        }

        lost.Tell(notes, "without a number for time or position left out");
        backward.Tell(notes, "out of order; sorted by time");
        late.Tell(notes, "out of order beyond the frames kept, dropped: a file that long is read in the order of time");
        repeated.Tell(notes, "repeating a frame dropped");
        moved.Tell(notes, "repeating a time with another position dropped; the first of them was kept");
        if (merge > 1)
        {
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"{rows} rows merged by {merge} into {kept.Count} frames"));
        }

        if (kept.Count < FilmedRun.LeastFrames)
        {
            throw new RunCsvException(
                string.Create(CultureInfo.InvariantCulture, $"{kept.Count} {(kept.Count == 1 ? "frame is" : "frames are")} left of {rows} rows; a run has {FilmedRun.LeastFrames} or more.{(notes.Count > 0 ? " " + string.Join("; ", notes) + "." : "")}"), Math.Max(lastLine, 1));
        }

        if (kept.TrueForAll(row => row.Position == kept[0].Position))
        {
            throw new RunCsvException(
                string.Create(CultureInfo.InvariantCulture, $"the position is {kept[0].Position:G6} m in every frame down to line {lastLine}; nothing moved, or it is the wrong column."), firstLine, position.Index + 1, position.Heading);
        }

        FindGaps();
        return new FilmedRun(
            kept.Select(row => new FilmedFrame(Duration.FromSeconds(row.Time), Length.FromMeters(row.Position), row.Count)), options.Errors, notes);
    }

    private static string Text(double seconds) => string.Create(CultureInfo.InvariantCulture, $"{seconds:G6} s");

    private void Note(ReadOnlySpan<char> text)
    {
        if (notes.Count < MostNotes)
        {
            ReadOnlySpan<char> trimmed = text.Trim().TrimStart('#').Trim();
            notes.Add($"the file says: {trimmed[..Math.Min(trimmed.Length, LongestNote)]}");
        }
    }

    private void Head(CsvDataReader csv, int line)
    {
        fields = csv.RowFieldCount;
        List<RunCsvColumn> times = [], positions = [];
        bool anyText = false;
        for (int i = 0; i < fields; i++)
        {
            string heading = csv.GetFieldSpan(i).Trim().ToString();
            anyText |= heading.Any(char.IsLetter);
            if (RunCsvColumn.Of(heading, i) is RunCsvColumn column)
            {
                (column.IsTime ? times : positions).Add(column);
            }
        }

        if (!anyText)
        {
            throw new RunCsvException("the first line has no headings; it must name the columns with their units, such as \"time [ms],x [mm]\".", line, 1);
        }

        time = Choose(times, options.TimeColumn, nameof(options.TimeColumn), "time", "s, ms, µs or frames", ["t", "time"], line);
        position = Choose(positions, options.PositionColumn, nameof(options.PositionColumn), "position", "m, cm, mm, µm, in or px", ["x", "position", "pos"], line);
        if (time.Unit == "frames")
        {
            double rate = options.FrameRate?.Hertz
                ?? throw new RunCsvException("the column counts frames; give their rate (RunCsvOptions.FrameRate).", line, time.Index + 1, time.Heading);
            time = time with { Factor = 1 / rate };
        }

        if (position.Unit == "px")
        {
            double scale = options.LengthPerPixel?.Meters
                ?? throw new RunCsvException("the column is in pixels; give the length of one (RunCsvOptions.LengthPerPixel).", line, position.Index + 1, position.Heading);
            position = position with { Factor = scale };
        }
    }

    private static RunCsvColumn Choose(List<RunCsvColumn> columns, string? wanted, string option, string what, string units, string[] usual, int line)
    {
        if (wanted is not null)
        {
            return columns.Find(column => string.Equals(column.Heading, wanted, StringComparison.OrdinalIgnoreCase) || string.Equals(column.Name, wanted, StringComparison.OrdinalIgnoreCase))
                ?? throw new RunCsvException($"no column of {what} is headed \"{wanted}\" with a unit ({units}).", line);
        }

        if (columns.Count == 0)
        {
            throw new RunCsvException($"no heading has a unit of {what} ({units}), as in \"{(what == "time" ? "time [ms]" : "x [mm]")}\".", line);
        }

        if (columns.Count == 1)
        {
            return columns[0];
        }

        List<RunCsvColumn> named = columns.FindAll(column => usual.Contains(column.Name, StringComparer.OrdinalIgnoreCase));
        return named.Count == 1
            ? named[0]
            : throw new RunCsvException(
                $"{columns.Count} columns hold a {what}: {string.Join(", ", columns.Select(column => $"\"{column.Heading}\""))}; name the one to take (RunCsvOptions.{option}).", line, columns[1].Index + 1, columns[1].Heading);
    }

    /// <summary>False for a cell that says nothing was read.</summary>
    private bool Parse(ReadOnlySpan<char> cell, RunCsvColumn column, int line, char separator, out double value)
    {
        cell = cell.Trim();
        value = double.NaN;
        if (cell.Length == 0 || cell is "-" || cell.Equals("nan", StringComparison.OrdinalIgnoreCase) || cell.Equals("na", StringComparison.OrdinalIgnoreCase) || cell.Equals("n/a", StringComparison.OrdinalIgnoreCase))
        {
            return false;
        }

        Span<char> plain = stackalloc char[64];
        int comma = separator == ',' ? -1 : cell.IndexOf(',');
        int point = cell.IndexOf('.');
        if (comma >= 0 || point >= 0)
        {
            char mark = comma >= 0 ? ',' : '.';
            if (comma >= 0 && point >= 0)
            {
                throw Fault($"\"{Short(cell)}\" has a comma and a point; write numbers without marks between the thousands.");
            }

            if (decimalMark == '\0')
            {
                (decimalMark, decimalLine) = (mark, line);
            }
            else if (decimalMark != mark)
            {
                throw Fault(string.Create(CultureInfo.InvariantCulture, $"\"{Short(cell)}\" has a decimal {(mark == ',' ? "comma" : "point")}, line {decimalLine} has a decimal {(mark == ',' ? "point" : "comma")}; a file has one of them."));
            }
        }

        if (cell.Length > plain.Length)
        {
            throw Fault($"\"{Short(cell)}\" is no number.");
        }

        cell.CopyTo(plain);
        if (comma >= 0)
        {
            plain[comma] = '.';
        }

        if (!double.TryParse(plain[..cell.Length], NumberStyles.Float, CultureInfo.InvariantCulture, out value))
        {
            throw Fault($"\"{Short(cell)}\" is no number; units belong in the heading, once for the whole column.");
        }

        return double.IsFinite(value) && Math.Abs(value * column.Factor) < 1e12
            ? true
            : throw Fault($"\"{Short(cell)}\" is too large to be measured.");

        RunCsvException Fault(string problem) => new(problem, line, column.Index + 1, column.Heading);
    }

    private static string Short(ReadOnlySpan<char> text) => text.Length > 40 ? string.Concat(text[..40], "…") : text.ToString();

    private void Take(double t, double x, int line)
    {
        if (t < previousTime)
        {
            double back = greatestTime - t;
            if (back > deepest)
            {
                (deepest, deepestLine) = (back, line);
            }

            if (merge > 1)
            {
                late.Add(line);
                return;
            }

            backward.Add(line);
        }

        previousTime = t;
        greatestTime = Math.Max(greatestTime, t);
        leastTime = Math.Min(leastTime, t);
        gathered++;
        timeSum += t;
        positionSum += x;
        if (gathered < merge)
        {
            return;
        }

        Keep(new Row(timeSum / gathered, positionSum / gathered, gathered, line));
        (gathered, timeSum, positionSum) = (0, 0, 0);
    }

    private void Keep(Row row)
    {
        kept.Add(row);
        if (kept.Count <= options.FrameLimit)
        {
            return;
        }

        kept.Sort();
        int half = kept.Count / 2;
        for (int i = 0; i < half; i++)
        {
            Row a = kept[2 * i], b = kept[(2 * i) + 1];
            int count = a.Count + b.Count;
            kept[i] = new Row(((a.Time * a.Count) + (b.Time * b.Count)) / count, ((a.Position * a.Count) + (b.Position * b.Count)) / count, count, a.Line);
        }

        if (kept.Count % 2 == 1)
        {
            kept[half++] = kept[^1];
        }

        kept.RemoveRange(half, kept.Count - half);
        merge *= 2;
    }

    private void SortAndDrop(out Count repeated, out Count moved, out bool allowed)
    {
        repeated = default;
        moved = default;
        kept.Sort();
        int to = 0;
        for (int i = 0; i < kept.Count; i++)
        {
            if (to > 0 && kept[i].Time == kept[to - 1].Time)
            {
                if (kept[i].Position == kept[to - 1].Position)
                {
                    repeated.Add(kept[i].Line);
                }
                else
                {
                    moved.Add(kept[i].Line);
                }

                continue;
            }

            kept[to++] = kept[i];
        }

        kept.RemoveRange(to, kept.Count - to);

        // Frames that were shuffled go back often and little; a run that begins anew goes back once, and far.
        bool anew = backward.Number > 0 && backward.Number <= Math.Max(3, rows / 100) && deepest > 0.5 * (greatestTime - leastTime) && rows > 2 * FilmedRun.LeastFrames;
        anew |= late.Number > rows / 20;
        allowed = !anew && moved.Number <= Math.Max(3, rows / 20);
    }

    private void FindGaps()
    {
        double[] steps = new double[kept.Count - 1];
        for (int i = 0; i < steps.Length; i++)
        {
            steps[i] = kept[i + 1].Time - kept[i].Time;
        }

        double[] sorted = [.. steps];
        Array.Sort(sorted);
        double usual = sorted[sorted.Length / 2];
        int gaps = 0, longest = 0;
        double missing = 0;
        for (int i = 0; i < steps.Length; i++)
        {
            if (steps[i] > GapSteps * usual)
            {
                gaps++;
                missing += Math.Round(steps[i] / usual) - 1;
                longest = steps[i] > steps[longest] || gaps == 1 ? i : longest;
            }
        }

        if (gaps > 0)
        {
            notes.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"{gaps} {(gaps == 1 ? "gap" : "gaps")} in the times, about {missing:G6} frames missing; the longest of {Text(steps[longest])} after {Text(kept[longest].Time)} (line {kept[longest].Line}), where frames are usually {Text(usual)} apart"));
        }
    }

    /// <summary>A frame or merged frames; sorts by time, then by line.</summary>
    private readonly record struct Row(double Time, double Position, int Count, int Line) : IComparable<Row>
    {
        public int CompareTo(Row other) => Time.CompareTo(other.Time) is int byTime && byTime != 0 ? byTime : Line.CompareTo(other.Line);
    }

    /// <summary>How many rows something happened to, and where first.</summary>
    private struct Count
    {
        public long Number;
        private int first;

        public void Add(int line)
        {
            Number++;
            first = first == 0 ? line : Math.Min(first, line);
        }

        public readonly void Tell(List<string> notes, string what)
        {
            if (Number > 0)
            {
                notes.Add(string.Create(CultureInfo.InvariantCulture, $"{Number} {(Number == 1 ? "row" : "rows")} {what} (the first in line {first})"));
            }
        }
    }
}
