using System.Collections.Immutable;
using System.Globalization;
using Parquet;
using Parquet.Meta;
using Parquet.Schema;

namespace Magrail.Files;

/// <summary>Results of studies as Parquet: a column a design number and figure, headings with SI units in brackets; study and part in the file's metadata.</summary>
/// <remarks>Numbers keep their bits. Figures of launchers that could not be launched are null.</remarks>
public static class StudyParquet
{
    private const int RowsInGroup = 1 << 16;

    // Points that could not be launched, all for one reason, take five bytes each. What claims far more of them is damaged, and is not to fill the memory.
    private const int MostRowsPerByte = 8;
    private const string Fingerprint = "study";
    private const string Total = "points";
    private const string Number = "part";
    private const string Parts = "parts";

    /// <summary>Writes a result; a file that is there is replaced once the new one is whole.</summary>
    /// <param name="result">The result.</param>
    /// <param name="path">The file.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public static void Write(StudyResult result, string path)
    {
        ArgumentNullException.ThrowIfNull(result);
        WholeFile.Write(path, stream => WriteAsync(result, stream).GetAwaiter().GetResult());
    }

    /// <summary>Writes a result.</summary>
    /// <param name="result">The result.</param>
    /// <param name="stream">Where to; it must be able to seek.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static async Task WriteAsync(StudyResult result, Stream stream)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(stream);
        DataField[] fields = FieldsOf(result.Columns);
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream).ConfigureAwait(false);
        writer.CustomMetadata = new Dictionary<string, string>
        {
            [Fingerprint] = result.Fingerprint,
            [Total] = Text(result.Total),
            [Number] = Text(result.Part.Number),
            [Parts] = Text(result.Part.Count),
        };
        for (int first = 0; first < result.Points.Length; first += RowsInGroup)
        {
            StudyPoint[] rows = [.. result.Points.Skip(first).Take(RowsInGroup)];
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            int field = 0;
            await group.WriteAsync<int>(fields[field++], rows.Select(row => row.Index).ToArray()).ConfigureAwait(false);
            for (int i = 0; i < result.Columns.Length; i++)
            {
                int column = i;
                await group.WriteAsync<double>(fields[field++], rows.Select(row => row.Values[column]).ToArray()).ConfigureAwait(false);
            }

            await group.WriteAsync(fields[field++], rows.Select(StudyTable.OutcomeOf).ToArray()).ConfigureAwait(false);
            foreach ((StudyColumn _, Func<LaunchSummary, double> value) in SummaryColumns.Numbers)
            {
                await group.WriteAsync<double>(fields[field++], rows.Select(row => row.Summary is LaunchSummary summary ? value(summary) : (double?)null).ToArray()).ConfigureAwait(false);
            }

            foreach ((StudyColumn _, Func<LaunchSummary, int> value) in SummaryColumns.Counts)
            {
                await group.WriteAsync<int>(fields[field++], rows.Select(row => row.Summary is LaunchSummary summary ? value(summary) : (int?)null).ToArray()).ConfigureAwait(false);
            }

            await group.WriteAsync(fields[field++], rows.Select(row => row.Summary?.NearestLimit ?? "").ToArray()).ConfigureAwait(false);
            await group.WriteAsync(fields[field], rows.Select(row => row.Fault ?? "").ToArray()).ConfigureAwait(false);
            group.CompleteValidate();
        }
    }

    /// <summary>Reads a result back.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    /// <exception cref="StudyFileException">The file is no result of a study.</exception>
    public static StudyResult Read(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return ReadAsync(stream).GetAwaiter().GetResult();
    }

    /// <summary>Reads a result back.</summary>
    /// <param name="stream">Where from; it must be able to seek.</param>
    /// <exception cref="ArgumentNullException">The stream is null.</exception>
    /// <exception cref="StudyFileException">The stream holds no result of a study.</exception>
    public static async Task<StudyResult> ReadAsync(Stream stream)
    {
        ArgumentNullException.ThrowIfNull(stream);
        try
        {
            ParquetCheck.Check(stream);
            await using ParquetReader reader = await ParquetReader.CreateAsync(stream).ConfigureAwait(false);
            DataField[] fields = reader.Schema.GetDataFields();
            ImmutableArray<StudyColumn> columns = StudyTable.DesignOf([.. fields.Select(field => field.Name)], 0);
            var points = ImmutableArray.CreateBuilder<StudyPoint>();
            long rows = 0;
            for (int i = 0; i < reader.RowGroupCount; i++)
            {
                using ParquetRowGroupReader group = reader.OpenRowGroupReader(i);
                rows += group.RowCount;
                if (group.RowCount < 0 || rows > MostRowsPerByte * stream.Length)
                {
                    throw new StudyFileException($"the file is damaged: in {stream.Length.ToString(CultureInfo.InvariantCulture)} bytes it claims {rows.ToString(CultureInfo.InvariantCulture)} points.", 0);
                }

                foreach (ColumnChunk chunk in reader.Metadata!.RowGroups[i].Columns)
                {
                    ColumnMetaData about = chunk.MetaData!;
                    ParquetCheck.CheckPages(stream, about.DictionaryPageOffset is long first && first > 0 ? Math.Min(first, about.DataPageOffset) : about.DataPageOffset, about.NumValues, about.Codec == CompressionCodec.SNAPPY);
                }

                await ReadGroup(group, fields, columns, points).ConfigureAwait(false);
            }

            Dictionary<string, string> words = reader.CustomMetadata;
            return StudyTable.Result(
                words.GetValueOrDefault(Fingerprint), words.GetValueOrDefault(Total), words.GetValueOrDefault(Number), words.GetValueOrDefault(Parts), columns, points.DrainToImmutable());
        }
        catch (Exception fault) when (fault is not (StudyFileException or OutOfMemoryException))
        {
            // Whatever the library below throws at bytes that are no Parquet.
            throw new StudyFileException($"the file is no result of a study, or is damaged: {fault.Message}", fault);
        }
    }

    private static async Task ReadGroup(ParquetRowGroupReader group, DataField[] fields, ImmutableArray<StudyColumn> columns, ImmutableArray<StudyPoint>.Builder points)
    {
        int rows = checked((int)group.RowCount);
        int field = 0;
        int[] indices = await Whole<int>(group, fields[field++], rows).ConfigureAwait(false);
        double[][] values = new double[columns.Length][];
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = await Whole<double>(group, fields[field++], rows).ConfigureAwait(false);
        }

        string?[] outcomes = new string?[rows];
        await group.ReadAsync(fields[field++], outcomes.AsMemory()).ConfigureAwait(false);
        double?[][] numbers = new double?[StudyTable.Numbers.Count][];
        for (int i = 0; i < numbers.Length; i++)
        {
            numbers[i] = new double?[rows];
            await group.ReadAsync<double>(fields[field++], numbers[i].AsMemory()).ConfigureAwait(false);
        }

        int?[][] counts = new int?[StudyTable.Counts.Count][];
        for (int i = 0; i < counts.Length; i++)
        {
            counts[i] = new int?[rows];
            await group.ReadAsync<int>(fields[field++], counts[i].AsMemory()).ConfigureAwait(false);
        }

        string?[] limits = new string?[rows];
        string?[] faults = new string?[rows];
        await group.ReadAsync(fields[field++], limits.AsMemory()).ConfigureAwait(false);
        await group.ReadAsync(fields[field], faults.AsMemory()).ConfigureAwait(false);
        for (int row = 0; row < rows; row++)
        {
            int at = row;
            points.Add(StudyTable.Point(
                columns,
                indices[row],
                [.. values.Select(column => column[at])],
                outcomes[row] ?? "",
                [.. numbers.Select(column => column[at] ?? 0)],
                [.. counts.Select(column => column[at] ?? 0)],
                limits[row],
                faults[row],
                0));
        }
    }

    /// <summary>A column without gaps. Other programs write every column as one that may have some.</summary>
    private static async Task<T[]> Whole<T>(ParquetRowGroupReader group, DataField field, int rows)
        where T : struct
    {
        if (!field.IsNullable)
        {
            var values = new T[rows];
            await group.ReadAsync<T>(field, values.AsMemory()).ConfigureAwait(false);
            return values;
        }

        var some = new T?[rows];
        await group.ReadAsync<T>(field, some.AsMemory()).ConfigureAwait(false);
        return [.. some.Select(value => value ?? throw new StudyFileException($"column {field.Name} lacks a value."))];
    }

    private static DataField[] FieldsOf(ImmutableArray<StudyColumn> design) =>
    [
        new DataField<int>(StudyTable.Index),
        .. design.Select(column => new DataField<double>(StudyTable.Heading(column))),
        new DataField(StudyTable.Outcome, typeof(string), isNullable: false),
        .. StudyTable.Numbers.Select(column => new DataField<double>(StudyTable.Heading(column), nullable: true)),
        .. StudyTable.Counts.Select(column => new DataField<int>(StudyTable.Heading(column), nullable: true)),
        new DataField(StudyTable.NearestLimit, typeof(string), isNullable: false),
        new DataField(StudyTable.Fault, typeof(string), isNullable: false),
    ];

    private static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);
}
