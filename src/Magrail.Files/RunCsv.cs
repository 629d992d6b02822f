using System.Globalization;
using Sylvan.Data.Csv;
using UnitsNet;

namespace Magrail.Files;

/// <summary>Reads filmed runs from CSV: time and position, their units in the headings.</summary>
/// <remarks>
/// <para>
/// The separator is a tab, a semicolon or a comma, whichever the line of headings has, in this order. Headings carry units in brackets or behind
/// a stroke: <c>time [ms]</c>, <c>x (px)</c>, <c>s/cm</c>; time in s, ms, µs or frames, position in m, cm, mm, µm, in or px. Lines that begin with # are kept
/// as notes. Decimal points or, where the separator is no comma, decimal commas.
/// </para>
/// <para>
/// Rows out of order are sorted, rows that repeat a time are dropped, rows without a number in either column are left out, and gaps are
/// found: each is told in <see cref="FilmedRun.Notes"/> with its place. Anything else stops with line and column: text where a number belongs, a line of
/// too few fields, a time that starts anew as if two runs stood in one file, headings without units.
/// </para>
/// </remarks>
public static class RunCsv
{
    /// <summary>The longest line, in characters.</summary>
    private const int LongestLine = 1 << 18;

    /// <summary>Reads a file.</summary>
    /// <param name="path">The file; text in UTF-8, or in UTF-16 with its mark.</param>
    /// <param name="options">What the file does not say; the defaults where null.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    /// <exception cref="RunCsvException">The file is no filmed run; says where and why.</exception>
    public static FilmedRun Read(string path, RunCsvOptions? options = null)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        using var reader = new StreamReader(path);
        return Read(reader, options);
    }

    /// <summary>Reads text.</summary>
    /// <param name="reader">Where the text comes from; read in pieces, and left open.</param>
    /// <param name="options">What the text does not say; the defaults where null.</param>
    /// <exception cref="ArgumentNullException"><paramref name="reader"/> is null.</exception>
    /// <exception cref="RunCsvException">The text is no filmed run; says where and why.</exception>
    public static FilmedRun Read(TextReader reader, RunCsvOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(reader);
        var start = new RunCsvStart(reader);
        var read = new RunCsvRows(options ?? RunCsvOptions.Default);
        using CsvDataReader csv = Open(start);
        int line = 1;
        try
        {
            while (csv.Read())
            {
                int next = line + Lines(csv.GetRawRecordSpan());
                read.Take(csv, line, start.Separator);
                line = next;
            }
        }
        catch (CsvRecordTooLargeException e)
        {
            throw new RunCsvException($"the line is longer than {LongestLine} characters; a run has short lines.", line, innerException: e);
        }
        catch (CsvFormatException e)
        {
            throw new RunCsvException("the quotes do not match.", line, e.FieldOrdinal + 1, innerException: e);
        }

        return read.Finish();
    }

    /// <summary>
    /// Writes a run as CSV that <see cref="Read(string, RunCsvOptions)"/> reads back to the bit: notes behind #, seconds and meters. It is written beside the
    /// target first and then moved into place, so that an interrupted writing leaves no half file.
    /// </summary>
    /// <param name="run">The run; how many frames were merged into each is not kept.</param>
    /// <param name="path">The file to write; replaced where it exists.</param>
    /// <exception cref="ArgumentNullException"><paramref name="run"/> is null.</exception>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public static void Save(FilmedRun run, string path)
    {
        ArgumentNullException.ThrowIfNull(run);
        WholeFile.Write(path, stream =>
        {
            using var writer = new StreamWriter(stream, leaveOpen: true) { NewLine = "\n" };
            foreach (string note in run.Notes)
            {
                writer.WriteLine("# " + note.ReplaceLineEndings(" "));
            }

            writer.WriteLine("time [s],position [m]");
            for (int i = 0; i < run.FrameCount; i++)
            {
                writer.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{run.TimeSeconds[i]:R},{run.PositionMeters[i]:R}"));
            }
        });
    }

    private static CsvDataReader Open(RunCsvStart start)
        => CsvDataReader.Create(start, new CsvDataReaderOptions
        {
            HasHeaders = false,
            Delimiter = start.Separator,

            // Notes are told apart here, so that their lines are counted.
            Comment = '\uFFFF',
            CsvStyle = CsvStyle.Lax,
            BufferSize = 1 << 16,
            MaxBufferSize = LongestLine,
            OwnsReader = false,
        });

    private static int Lines(ReadOnlySpan<char> record)
    {
        int lines = 0;
        for (int i = 0; i < record.Length; i++)
        {
            if (record[i] == '\n' || (record[i] == '\r' && (i + 1 == record.Length || record[i + 1] != '\n')))
            {
                lines++;
            }
        }

        return lines;
    }
}

/// <summary>A reader that has looked at its beginning to find the separator, and gives everything from the beginning.</summary>
internal sealed class RunCsvStart : TextReader
{
    private readonly TextReader rest;
    private readonly char[] start = new char[1 << 14];
    private readonly int length;
    private int taken;

    public RunCsvStart(TextReader rest)
    {
        this.rest = rest;
        length = rest.ReadBlock(start, 0, start.Length);
        Separator = Find(start.AsSpan(0, length));
    }

    /// <summary>The separator.</summary>
    public char Separator { get; }

    public override int Peek() => taken < length ? start[taken] : rest.Peek();

    public override int Read() => taken < length ? start[taken++] : rest.Read();

    public override int Read(char[] buffer, int index, int count)
    {
        if (taken < length)
        {
            int now = Math.Min(count, length - taken);
            Array.Copy(start, taken, buffer, index, now);
            taken += now;
            return now;
        }

        return rest.Read(buffer, index, count);
    }

    private static char Find(ReadOnlySpan<char> text)
    {
        foreach (ReadOnlySpan<char> raw in text.EnumerateLines())
        {
            ReadOnlySpan<char> line = raw.Trim();
            if (line.Length == 0 || line[0] == '#' || line.StartsWith("sep=", StringComparison.OrdinalIgnoreCase))
            {
                continue;
            }

            return line.Contains('\t') || raw.Contains('\t') ? '\t' : line.Contains(';') ? ';' : ',';
        }

        return ',';
    }
}
