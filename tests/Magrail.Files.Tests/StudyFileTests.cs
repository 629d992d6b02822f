using System.Collections.Immutable;
using System.Text;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Files.Tests;

/// <summary>Results of studies written and read back: the same bits, and clear words for anything else.</summary>
public sealed class StudyFileTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory().FullName;

    private static Study Study
    {
        get
        {
            var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
            Track track = Track.OfFacingPairs(magnet, 10.Millimeters(), 4, 20.Millimeters());
            Coil coil = Coil.Wind(
                Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2), CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), 180);
            var launcher = new Launcher(
                track,
                new Sled(25.Grams(), coil),
                ContactCommutator.For(track, coil, 0.8, 0.5.Millimeters(), new Brush(3.Millimeters())),
                new BenchSupply(36.Volts()),
                new Payload(40.Grams()));
            DesignNumber<double> mood = DesignNumber.OfNumber("mood, \"today\"", (one, value) => value > 1 ? throw new InvalidOperationException("bad, \"very\"\nbad; tab\there") : one);
            return new Study(launcher, DesignNumber.Turns.Over(100, 180), DesignNumber.Voltage.FromTo(1.Volts(), 40.Volts(), 4), mood.Over(-0.0, 2));
        }
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    public static TheoryData<string> Formats => ["csv", "parquet"];

    [Theory]
    [MemberData(nameof(Formats))]
    public void A_result_comes_back_bit_for_bit(string format)
    {
        StudyResult result = Study.Run();
        Assert.Contains(result.Points, point => point.Fault is not null);
        Assert.Contains(result.Points, point => point.ExitSpeed is not null);
        AssertSame(result, Again(result, format));
    }

    /// <summary>Numbers that lose themselves easily: not a number, both infinities, negative zero, the least and the greatest, sums that do not end in decimals.</summary>
    [Theory]
    [MemberData(nameof(Formats))]
    public void Odd_numbers_come_back_bit_for_bit(string format)
    {
        double[] odd = [double.NaN, double.PositiveInfinity, double.NegativeInfinity, -0.0, double.Epsilon, -double.MaxValue, 0.1 + 0.2, 1.0 / 3, Math.BitIncrement(1), 1e22, 123456789012345680];
        ImmutableArray<StudyColumn> columns = [new("a", "m/s²"), new("b", "")];
        ImmutableArray<StudyPoint> points =
        [
            .. odd.Select((value, i) => new StudyPoint(
                columns,
                i,
                [value, -value],
                SummaryColumns.Make((LaunchOutcome)(i % 8), [.. Enumerable.Range(0, 13).Select(j => odd[(i + j) % odd.Length] is var x && Fits(j, x) ? x : 1)], [i, int.MaxValue], i % 2 == 0 ? null : "coil insulation"),
                null)),
        ];
        var result = new StudyResult("abc", columns, 1000, new StudyPart(2, 7), points);
        AssertSame(result, Again(result, format));

        // Quantities refuse what is not finite; plain numbers do not.
        static bool Fits(int place, double x) => place is 6 or 12 || double.IsFinite(x);
    }

    [Theory]
    [MemberData(nameof(Formats))]
    public void An_empty_part_comes_back(string format)
    {
        StudyResult result = new("abc", [new("a", "m")], 1, new StudyPart(1, 2), []);
        AssertSame(result, Again(result, format));
    }

    [Theory]
    [MemberData(nameof(Formats))]
    public void Parts_from_files_merge_into_the_unsplit_result(string format)
    {
        StudyResult[] parts = [.. Enumerable.Range(1, 3).Select(i => Again(Study.Run(new StudyOptions { Part = new StudyPart(i, 3) }), format))];
        AssertSame(Study.Run(), StudyResult.Merge(parts));
    }

    [Fact]
    public void The_csv_is_what_a_spreadsheet_expects()
    {
        var writer = new StringWriter();
        StudyCsv.Write(Study.Run(), writer);
        string[] lines = writer.ToString().Split('\n');
        Assert.StartsWith("# study ", lines[0], StringComparison.Ordinal);
        Assert.EndsWith(" of 16 points, part 1 of 1", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("index,turns,voltage [V],\"mood, \"\"today\"\"\",outcome,end speed [m/s],end time [s],", lines[1], StringComparison.Ordinal);
        Assert.EndsWith(",hottest coil [K],arc charge [C],least margin,steps,evaluations,nearest limit,fault", lines[1], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "line 1")]
    [InlineData("time [s],x [mm]\n1,2\n", "line 1")]
    [InlineData("# study abc of 3 points, part 1 of 1\ntime [s],x [mm]\n1,2\n", "line 2")]
    [InlineData("# study abc of 3 points, part 4 of 1\nHEADINGS\n", "which study and part")]
    [InlineData("# study abc of 3 points, part 1 of 1\nHEADINGS\nROW,1\n", "line 3")]
    [InlineData("# study abc of 3 points, part 1 of 1\nHEADINGS\nROW\nx,1\n", "line 4")]
    [InlineData("# study abc of 3 points, part 1 of 1\nHEADINGS\nTEXT\n", "line 3, column end time [s]: 'fast' is no number")]
    [InlineData("# study abc of 3 points, part 1 of 1\nHEADINGS\nNEW\n", "line 3, column outcome: there is no outcome Flown")]
    public void What_is_no_study_is_told_with_its_line(string text, string where)
    {
        ImmutableArray<StudyColumn> columns = [new("a", "m")];
        var writer = new StringWriter();
        StudyCsv.Write(new StudyResult("abc", columns, 3, StudyPart.Whole, [new StudyPoint(columns, 0, [1], SummaryColumns.Make(LaunchOutcome.Released, new double[13], new int[2], null), null)]), writer);
        string[] lines = writer.ToString().Split('\n');
        string row = lines[2];
        text = text.Replace("HEADINGS", lines[1], StringComparison.Ordinal).Replace("ROW", row, StringComparison.Ordinal)
            .Replace("TEXT", row.Replace("Released,0,0", "Released,0,fast", StringComparison.Ordinal), StringComparison.Ordinal)
            .Replace("NEW", row.Replace("Released", "Flown", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains(where, Assert.Throws<StudyFileException>(() => StudyCsv.Read(new StringReader(text))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_no_parquet_is_told()
    {
        string path = Path.Combine(folder, "x.parquet");
        File.WriteAllText(path, "Dear Sir");
        Assert.Throws<StudyFileException>(() => StudyParquet.Read(path));
        StudyParquet.Write(Study.Run(), path);
        byte[] whole = File.ReadAllBytes(path);
        File.WriteAllBytes(path, whole[..(whole.Length / 2)]);
        Assert.Throws<StudyFileException>(() => StudyParquet.Read(path));
    }

    /// <summary>A write that fails leaves the file that was there, and nothing beside it.</summary>
    [Fact]
    public void A_file_is_whole_or_as_it_was()
    {
        string path = Path.Combine(folder, "x.csv");
        StudyCsv.Write(Study.Run(), path);
        string before = File.ReadAllText(path);
        Assert.Throws<ArgumentNullException>(() => StudyCsv.Write(null!, path));
        Assert.Equal(before, File.ReadAllText(path));
        Assert.Equal(path, Assert.Single(Directory.GetFiles(folder)));
    }

    private StudyResult Again(StudyResult result, string format)
    {
        string path = Path.Combine(folder, $"{result.Part.Number}.{format}");
        if (format == "csv")
        {
            StudyCsv.Write(result, path);
            return StudyCsv.Read(path);
        }

        StudyParquet.Write(result, path);
        return StudyParquet.Read(path);
    }

    private static void AssertSame(StudyResult expected, StudyResult actual)
    {
        Assert.Equal((expected.Fingerprint, expected.Total, expected.Part), (actual.Fingerprint, actual.Total, actual.Part));
        Assert.Equal(expected.Columns.AsEnumerable(), actual.Columns.AsEnumerable());
        Assert.Equal(expected.Points.Length, actual.Points.Length);
        foreach ((StudyPoint one, StudyPoint other) in expected.Points.Zip(actual.Points))
        {
            Assert.Equal((one.Index, one.Fault, one.Summary?.Outcome, one.Summary?.NearestLimit), (other.Index, other.Fault, other.Summary?.Outcome, other.Summary?.NearestLimit));
            Assert.Equal(Bits(one), Bits(other));
        }

        // A NaN has many bit patterns; one is as good as the other.
        static long[] Bits(StudyPoint point) =>
        [
            .. point.Values.ToArray().Concat(point.Summary is LaunchSummary summary ? SummaryColumns.Numbers.Select(number => number.Value(summary)) : []).Select(x => BitConverter.DoubleToInt64Bits(double.IsNaN(x) ? double.NaN : x)),
            .. point.Summary is LaunchSummary counted ? SummaryColumns.Counts.Select(count => (long)count.Value(counted)) : [],
        ];
    }
}
