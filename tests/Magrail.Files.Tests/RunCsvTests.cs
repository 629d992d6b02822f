using System.Globalization;
using System.Text;
using Magrail.Files;
using Magrail.Tests;
using UnitsNet;

namespace Magrail.Files.Tests;

/// <summary>Filmed runs from CSV: what is read, what is dropped and said, and what is refused with line and column.</summary>
[Collection(Alone.Name)]
public class RunCsvTests
{
    [Theory]
    [InlineData("time [s],x [m]", ",", "0.001", "0.25")]
    [InlineData("time [ms];x [mm]", ";", "1", "250")]
    [InlineData("t (ms)\tposition (cm)", "\t", "1", "25")]
    [InlineData("t/µs;s/mm", ";", "1000", "250")]
    [InlineData("t [s];x [in]", ";", "0,001", "9,84251968503937")]
    [InlineData("\"time [s]\";\"x [m]\"", ";", "0,001", "0,25")]
    [InlineData("Time [ms],X [Inches]", ",", "1", "9.84251968503937")]
    public void Headings_carry_units_whatever_the_separator(string heading, string separator, string step, string length)
    {
        double dt = double.Parse(step.Replace(',', '.'), CultureInfo.InvariantCulture), dx = double.Parse(length.Replace(',', '.'), CultureInfo.InvariantCulture);
        bool comma = step.Contains(',', StringComparison.Ordinal);
        string Number(double value) => comma ? value.ToString("R", CultureInfo.InvariantCulture).Replace('.', ',') : value.ToString("R", CultureInfo.InvariantCulture);
        string text = heading + "\r\n" + string.Concat(Enumerable.Range(0, 20).Select(i => $"{Number(i * dt)}{separator}{Number(i * i * dx)}\r\n"));
        FilmedRun run = Read(text);
        Assert.Equal(20, run.FrameCount);
        Assert.Empty(run.Notes);
        Assert.Equal(0.019, run.TimeSeconds[^1], 1e-12);
        Assert.Equal(361 * 0.25, run.PositionMeters[^1], 1e-11);
    }

    [Fact]
    public void Frames_and_pixels_take_rate_and_scale()
    {
        string text = "# filmed by hand\nframe,x [px]\n" + Rows(20, i => $"{i},{i * i}");
        FilmedRun run = Read(text, new() { FrameRate = Frequency.FromHertz(240), LengthPerPixel = Length.FromMillimeters(0.5) });
        Assert.Equal(19 / 240.0, run.TimeSeconds[^1], 1e-14);
        Assert.Equal(361 * 0.5e-3, run.PositionMeters[^1], 1e-14);
        Assert.Equal("the file says: filmed by hand", Assert.Single(run.Notes));
        Assert.Contains("give their rate", Refused(text).Message, StringComparison.Ordinal);
        RunCsvException scale = Refused(text, new() { FrameRate = Frequency.FromHertz(240) });
        Assert.Contains("give the length of one", scale.Message, StringComparison.Ordinal);
        Assert.Equal((2, 2), (scale.Line, scale.Column));
    }

    [Fact]
    public void A_trace_of_our_own_is_read()
    {
        string text = "time [s],position [m],speed [m/s],force [N],current 0 [A]\n" + Rows(20, i => FormattableString.Invariant($"{i * 1e-3},{i * i * 1e-4},{i},0,1"));
        Assert.Equal(361e-4, Read(text).PositionMeters[^1], 1e-12);
    }

    [Fact]
    public void What_is_dropped_is_said_with_its_place()
    {
        var lines = Enumerable.Range(0, 40).Select(i => FormattableString.Invariant($"{i},{i * i}")).ToList();
        lines[5] = "5,";                       // line 7: lost
        lines[6] = "6,NaN";                    // line 8: lost
        (lines[10], lines[11]) = (lines[11], lines[10]); // line 13 goes back
        lines.Insert(20, lines[19]);           // line 22 repeats line 21
        lines.Insert(31, "29,0.5");            // another position at the time of 29
        lines.RemoveRange(34, 3);              // a gap
        FilmedRun run = Read("time [ms];x [mm]\n".Replace(';', ',') + string.Join('\n', lines));
        Assert.Equal(35, run.FrameCount);
        Assert.Collection(
            run.Notes,
            note => Assert.Equal("2 rows without a number for time or position left out (the first in line 7)", note),
            note => Assert.StartsWith("1 row out of order; sorted by time (the first in line 13)", note, StringComparison.Ordinal),
            note => Assert.Equal("1 row repeating a frame dropped (the first in line 22)", note),
            note => Assert.StartsWith("1 row repeating a time with another position dropped; the first of them was kept (the first in line", note, StringComparison.Ordinal),
            note => Assert.StartsWith("2 gaps in the times, about 5 frames missing; the longest of 0.004 s", note, StringComparison.Ordinal));
        Assert.All(run.TimeSeconds.Zip(run.PositionMeters), pair => Assert.Equal(pair.First * pair.First * 1e3, pair.Second, 1e-9));
    }

    [Fact]
    public void What_is_saved_is_read_back_to_the_bit()
    {
        string folder = Directory.CreateTempSubdirectory().FullName;
        try
        {
            string path = Path.Combine(folder, "run.csv");
            var random = new Random(2);
            var run = new FilmedRun(Enumerable.Range(0, 50).Select(i => new FilmedFrame(Duration.FromSeconds(0.001 * (i + (0.1 * random.NextDouble()))), Length.FromMeters(random.NextDouble()))), null, ["made by simulation"]);
            RunCsv.Save(run, path);
            FilmedRun back = RunCsv.Read(path);
            Assert.Equal<double>(run.TimeSeconds, back.TimeSeconds);
            Assert.Equal<double>(run.PositionMeters, back.PositionMeters);
            Assert.Equal("the file says: made by simulation", Assert.Single(back.Notes));
            Assert.Equal([path], Directory.GetFiles(folder));
            Assert.ThrowsAny<IOException>(() => RunCsv.Save(run, Path.Combine(path, "run.csv")));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Shuffled_frames_are_sorted()
    {
        var random = new Random(4);
        string[] lines = [.. Enumerable.Range(0, 200).Select(i => FormattableString.Invariant($"{i},{i * i}")).OrderBy(_ => random.Next())];
        FilmedRun run = Read("t [ms],x [mm]\n" + string.Join('\n', lines));
        Assert.Equal(200, run.FrameCount);
        Assert.Contains("out of order; sorted by time", Assert.Single(run.Notes), StringComparison.Ordinal);
        Assert.All(run.TimeSeconds.Zip(run.PositionMeters), pair => Assert.Equal(pair.First * pair.First * 1e3, pair.Second, 1e-9));
    }

    // Each row: the text, the line, the column, words of the message.
    public static TheoryData<string, int, int, string> BadFiles => new()
    {
        { "", 0, 0, "the file is empty" },
        { "\n\n# nothing\n", 0, 0, "the file is empty" },
        { "t [ms],x [mm]\n", 1, 0, "0 frames are left of 0 rows" },
        { "t [ms],x [mm]\n1,2\n", 2, 0, "1 frame is left of 1 rows" },
        { "t [ms],x [mm]\n" + Rows(20, i => $"{i},7"), 2, 2, "nothing moved" },
        { "t [ms],x [mm]\n" + Rows(20, i => $"{i},{i}") + Rows(20, i => $"{i},{i * 2}"), 22, 1, "a file holds one run" },
        { "t [ms],x [mm]\n" + Rows(20, i => $"{i + 10},{i}") + Rows(20, i => FormattableString.Invariant($"{i + 0.5},{i * 2}")), 22, 1, "a file holds one run" },
        { "t [ms],x [mm]\n" + Rows(5, i => $"{i},{i}") + "5,12 mm\n", 7, 2, "units belong in the heading" },
        { "t [ms],x [mm]\n" + Rows(5, i => $"{i},{i}") + "\n\n\"x\ny\",12\n", 9, 1, "is no number" },
        { "t [ms],x [mm]\n" + Rows(5, i => $"{i},{i}") + "t [s],x [m]\n", 7, 1, "is no number" },
        { "t [ms],x [mm],y [mm],x [m]\n", 1, 3, "3 columns hold a position" },
        { "t [ms],time [s],x [mm]\n", 1, 2, "2 columns hold a time" },
        { "t,x\n1,2\n", 1, 0, "no heading has a unit of time" },
        { "t [ms],x [kg]\n1,2\n", 1, 0, "no heading has a unit of position" },
        { "0.001,0.2\n0.002,0.3\n", 1, 1, "has no headings" },
        { "t [ms],x [mm]\n0,001,0,25\n", 2, 0, "decimal commas need semicolons" },
        { "t [ms],x [mm]\n1\n", 2, 0, "the line has 1 fields and the headings 2" },
        { "t [ms];x [mm]\n1,5;2\n2.5;3\n", 3, 1, "line 2 has a decimal comma" },
        { "t [ms];x [mm]\n1.000,5;2\n", 2, 1, "a comma and a point" },
        { "t [ms],x [mm]\n1,inf\n", 2, 2, "is no number" },
        { "t [ms],x [mm]\n1,1e300\n", 2, 2, "too large to be measured" },
        { "t [ms],x [mm]\n1,\"" + new string('1', 400_000), 2, 0, "longer than" },
    };

    [Theory]
    [MemberData(nameof(BadFiles))]
    public void Bad_files_are_refused_with_line_and_column(string text, int line, int column, string words)
    {
        RunCsvException error = Refused(text);
        Assert.Contains(words, error.Message, StringComparison.Ordinal);
        Assert.Equal((line, column), (error.Line, error.Column));
        if (line > 0)
        {
            Assert.StartsWith($"line {line}", error.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_column_can_be_named()
    {
        string text = "t [ms],a [mm],b [mm]\n" + Rows(20, i => $"{i},{i},{i * i}");
        Assert.Contains("name the one to take", Refused(text).Message, StringComparison.Ordinal);
        Assert.Equal(0.361, Read(text, new() { PositionColumn = "b" }).PositionMeters[^1], 1e-12);
        Assert.Equal(0.361, Read(text, new() { PositionColumn = "B [mm]" }).PositionMeters[^1], 1e-12);
        Assert.Contains("no column of position is headed \"c\"", Refused(text, new() { PositionColumn = "c" }).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Options_out_of_range_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new RunCsvOptions { FrameRate = Frequency.Zero });
        Assert.Throws<ArgumentOutOfRangeException>(() => new RunCsvOptions { LengthPerPixel = Length.Zero });
        Assert.Throws<ArgumentOutOfRangeException>(() => new RunCsvOptions { FrameLimit = 10 });
        Assert.Throws<ArgumentNullException>(() => RunCsv.Read((TextReader)null!));
        Assert.ThrowsAny<IOException>(() => RunCsv.Read("no such file.csv"));
    }

    [RepeatableProperty(300)]
    public void Random_bytes_end_in_a_run_or_a_clear_error(int seed)
    {
        var random = new Random(seed);
        byte[] bytes = new byte[random.Next(0, 3000)];
        random.NextBytes(bytes);
        using var stream = new MemoryStream(bytes);
        using var reader = new StreamReader(stream);
        TryRead(reader);
    }

    [RepeatableProperty(500)]
    public void Spoilt_files_end_in_a_run_or_a_clear_error(int seed)
    {
        var random = new Random(seed);
        var text = new StringBuilder("time [ms];x [mm];note\n" + Rows(random.Next(0, 60), i => FormattableString.Invariant($"{i * 0.25:F2};{i * i};a")));
        const string Alphabet = "0123456789.,;\t\"\n\r#-+eE[]NaN ms\0\uFFFFé";
        for (int k = random.Next(1, 12); k > 0 && text.Length > 0; k--)
        {
            int at = random.Next(text.Length);
            switch (random.Next(4))
            {
                case 0:
                    text[at] = Alphabet[random.Next(Alphabet.Length)];
                    break;
                case 1:
                    text.Insert(at, Alphabet[random.Next(Alphabet.Length)]);
                    break;
                case 2:
                    text.Remove(at, Math.Min(random.Next(1, 5), text.Length - at));
                    break;
                default:
                    string piece = text.ToString(at, Math.Min(random.Next(1, 40), text.Length - at));
                    text.Insert(random.Next(text.Length), piece);
                    break;
            }
        }

        TryRead(new StringReader(text.ToString()));
    }

    // MAGRAIL_LONG_FILES=1 makes it 10 million rows.
    [Fact]
    public void A_long_file_takes_no_more_memory_than_a_short_one()
    {
        int most = Environment.GetEnvironmentVariable("MAGRAIL_LONG_FILES") is null ? 1_600_000 : 10_000_000;
        var options = new RunCsvOptions { FrameLimit = 20_000 };

        // Once before, for what is made once in a process.
        Measure(most / 8, options);
        (long shortAllocated, long shortHeld, _) = Measure(most / 8, options);
        (long longAllocated, long longHeld, FilmedRun run) = Measure(most, options);
        Assert.InRange(run.FrameCount, 10_000, 20_000);
        Assert.Equal(most, run.Counts.Sum());
        Assert.Contains("rows merged by", Assert.Single(run.Notes), StringComparison.Ordinal);

        // Eight times the rows: not a fifth more memory allocated in all, and no more held while reading.
        Assert.InRange(longAllocated, 0, 1.2 * shortAllocated);
        Assert.InRange(longHeld, 0, shortHeld + 8_000_000);

        // Merging has kept the course, x = t² with t in ms: the mean of neighbors lies above the course by the mean square of their spread.
        double spread = run.Counts[0] * 1e-3;
        Assert.All(Enumerable.Range(0, run.FrameCount).Where(i => i % 1000 == 0), i =>
            Assert.Equal(run.TimeSeconds[i] * run.TimeSeconds[i] * 1e3, run.PositionMeters[i], (spread * spread * 1e-3) + 1e-9));
    }

    private static (long Allocated, long Held, FilmedRun Run) Measure(int rows, RunCsvOptions options)
    {
        GC.Collect();
        long before = GC.GetAllocatedBytesForCurrentThread();
        using var reader = new ManyRows(rows);
        FilmedRun run = RunCsv.Read(reader, options);
        return (GC.GetAllocatedBytesForCurrentThread() - before, reader.MostHeld, run);
    }

    private static void TryRead(TextReader reader)
    {
        try
        {
            FilmedRun run = RunCsv.Read(reader);
            Assert.True(run.FrameCount >= FilmedRun.LeastFrames);
        }
        catch (RunCsvException e)
        {
            Assert.True(e.Message.Length is > 20 and < 1000, e.Message);
        }
    }

    private static string Rows(int count, Func<int, string> row) => string.Concat(Enumerable.Range(0, count).Select(i => row(i) + "\n"));

    private static FilmedRun Read(string text, RunCsvOptions? options = null) => RunCsv.Read(new StringReader(text), options);

    private static RunCsvException Refused(string text, RunCsvOptions? options = null) => Assert.Throws<RunCsvException>(() => Read(text, options));

    /// <summary>Text that is made as it is read: a row every microsecond, x = t².</summary>
    private sealed class ManyRows(int rows) : TextReader
    {
        private readonly char[] line = new char[100];
        private int length = -1;
        private int at;
        private int row = -1;

        public long MostHeld { get; private set; }

        public override int Read(char[] buffer, int index, int count)
        {
            int given = 0;
            while (given < count && Next())
            {
                int now = Math.Min(count - given, length - at);
                line.AsSpan(at, now).CopyTo(buffer.AsSpan(index + given));
                at += now;
                given += now;
            }

            return given;
        }

        private bool Next()
        {
            if (at < length)
            {
                return true;
            }

            if (row == rows)
            {
                return false;
            }

            at = 0;
            if (row < 0)
            {
                "t [ms],x [mm]\n".CopyTo(line);
                length = 14;
            }
            else
            {
                double t = row * 1e-3;
                // Not by interpolation, which boxes numbers until it is optimized.
                t.TryFormat(line, out length, "F3", CultureInfo.InvariantCulture);
                line[length++] = ',';
                (t * t).TryFormat(line.AsSpan(length), out int more, "F6", CultureInfo.InvariantCulture);
                length += more;
                line[length++] = '\n';
            }

            if (row % 100_000 == 0)
            {
                // What is held, not what waits to be collected: under load that had once been 13 MB more.
                MostHeld = Math.Max(MostHeld, GC.GetTotalMemory(forceFullCollection: true));
            }

            row++;
            return true;
        }
    }
}
