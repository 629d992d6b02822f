using System.Collections.Immutable;
using System.Globalization;
using Sylvan.Data.Csv;

namespace Magrail.Files;

/// <summary>Results of studies as CSV: a line that tells study and part, headings with SI units in brackets, a row a point.</summary>
/// <remarks>Numbers have as many digits as bring the same bits back. Rows can be read by any spreadsheet that takes a first line to skip.</remarks>
public static class StudyCsv
{
    private const string Head = "# study ";

    /// <summary>Writes a result; a file that is there is replaced once the new one is whole.</summary>
    /// <param name="result">The result.</param>
    /// <param name="path">The file.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public static void Write(StudyResult result, string path)
        => WholeFile.Write(path, stream =>
        {
            using var writer = new StreamWriter(stream, leaveOpen: true);
            Write(result, writer);
        });

    /// <summary>Writes a result.</summary>
    /// <param name="result">The result.</param>
    /// <param name="writer">Where to.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static void Write(StudyResult result, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(writer);
        writer.Write(string.Create(CultureInfo.InvariantCulture, $"{Head}{result.Fingerprint} of {result.Total} points, part {result.Part.Number} of {result.Part.Count}\n"));
        writer.Write(string.Join(',', StudyTable.Headings(result.Columns).Select(Quoted)) + "\n");
        foreach (StudyPoint point in result.Points)
        {
            writer.Write(point.Index.ToString(CultureInfo.InvariantCulture));
            foreach (double value in point.Values)
            {
                writer.Write(',');
                writer.Write(value.ToString("R", CultureInfo.InvariantCulture));
            }

            writer.Write(',');
            writer.Write(StudyTable.OutcomeOf(point));
            foreach ((StudyColumn _, Func<LaunchSummary, double> value) in SummaryColumns.Numbers)
            {
                writer.Write(',');
                writer.Write(point.Summary is LaunchSummary summary ? value(summary).ToString("R", CultureInfo.InvariantCulture) : "");
            }

            foreach ((StudyColumn _, Func<LaunchSummary, int> value) in SummaryColumns.Counts)
            {
                writer.Write(',');
                writer.Write(point.Summary is LaunchSummary summary ? value(summary).ToString(CultureInfo.InvariantCulture) : "");
            }

            writer.Write($",{Quoted(point.Summary?.NearestLimit ?? "")},{Quoted(point.Fault ?? "")}\n");
        }
    }

    /// <summary>Reads a result back.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    /// <exception cref="StudyFileException">The file is no result of a study; says where and why.</exception>
    public static StudyResult Read(string path)
    {
        using var reader = new StreamReader(path);
        return Read(reader);
    }

    /// <summary>Reads a result back.</summary>
    /// <param name="reader">Where from.</param>
    /// <exception cref="ArgumentNullException">The reader is null.</exception>
    /// <exception cref="StudyFileException">The text is no result of a study; says where and why.</exception>
    public static StudyResult Read(TextReader reader)
    {
        ArgumentNullException.ThrowIfNull(reader);
        string head = reader.ReadLine() ?? "";
        string[] words = head.StartsWith(Head, StringComparison.Ordinal) ? head[Head.Length..].Split([' ', ','], StringSplitOptions.RemoveEmptyEntries) : [];
        if (words is not [var fingerprint, "of", var total, "points", "part", var number, "of", var count])
        {
            throw new StudyFileException($"it must begin with {Head}…: the file is no result of a study.", 1);
        }

        try
        {
            using CsvDataReader csv = CsvDataReader.Create(reader, new CsvDataReaderOptions { Delimiter = ',', BufferSize = 1 << 16, MaxBufferSize = 1 << 24, ResultSetMode = ResultSetMode.SingleResult });
            string[] headings = [.. Enumerable.Range(0, csv.FieldCount).Select(csv.GetName)];
            ImmutableArray<StudyColumn> columns = StudyTable.DesignOf(headings, 2);
            var points = ImmutableArray.CreateBuilder<StudyPoint>();
            while (csv.Read())
            {
                points.Add(Point(csv, headings, columns));
            }

            return StudyTable.Result(fingerprint, total, number, count, columns, points.DrainToImmutable());
        }
        catch (Exception fault) when (fault is CsvFormatException or CsvRecordTooLargeException)
        {
            throw new StudyFileException(fault.Message, fault);
        }
    }

    private static StudyPoint Point(CsvDataReader csv, string[] headings, ImmutableArray<StudyColumn> columns)
    {
        // The line of the study's description comes before the reader's first.
        int line = csv.RowNumber + 2;
        if (csv.RowFieldCount != headings.Length)
        {
            throw new StudyFileException($"it has {csv.RowFieldCount} fields and needs {headings.Length}.", line);
        }

        int field = 0;
        int index = Count();
        double[] values = new double[columns.Length];
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = Number();
        }

        string outcome = csv.GetString(field++);
        bool launched = outcome != SummaryColumns.NotLaunched;
        double[] numbers = new double[StudyTable.Numbers.Count];
        int[] counts = new int[StudyTable.Counts.Count];
        for (int i = 0; i < numbers.Length; i++)
        {
            numbers[i] = launched ? Number() : Skipped();
        }

        for (int i = 0; i < counts.Length; i++)
        {
            counts[i] = launched ? Count() : Skipped();
        }

        string limit = csv.GetString(field++);
        string fault = csv.GetString(field);
        return StudyTable.Point(columns, index, values, outcome, numbers, counts, limit, launched ? null : fault, line);

        int Skipped()
        {
            field++;
            return 0;
        }

        double Number()
        {
            string text = csv.GetString(field);
            return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
                ? Next(value)
                : throw new StudyFileException($"'{text}' is no number.", line, headings[field]);
        }

        int Count()
        {
            string text = csv.GetString(field);
            return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int value)
                ? Next(value)
                : throw new StudyFileException($"'{text}' is no count.", line, headings[field]);
        }

        T Next<T>(T value)
        {
            field++;
            return value;
        }
    }

    /// <summary>A field as RFC 4180 has it: in quotes where it holds a separator, a quote or the end of a line.</summary>
    private static string Quoted(string text)
        => text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
