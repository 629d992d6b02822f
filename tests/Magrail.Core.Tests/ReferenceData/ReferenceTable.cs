using System.Globalization;

namespace Magrail.Tests.ReferenceData;

/// <summary>A reference table: a CSV file whose first lines, marked with #, say where it comes from.</summary>
public sealed class ReferenceTable
{
    private readonly Dictionary<string, int> columns;

    private ReferenceTable(IReadOnlyList<string> notes, string[] names, IReadOnlyList<string[]> rows)
    {
        Notes = notes;
        columns = names.Select((name, index) => (name, index)).ToDictionary(x => x.name, x => x.index);
        Rows = [.. rows.Select(cells => new Row(this, cells))];
    }

    public IReadOnlyList<string> Notes { get; }

    public IReadOnlyList<Row> Rows { get; }

    /// <summary>Reads a file of ReferenceData by its name.</summary>
    public static ReferenceTable Read(string file)
    {
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "ReferenceData", file));
        string[] notes = [.. lines.TakeWhile(line => line.StartsWith('#'))];
        string[] names = lines[notes.Length].Split(',');
        string[][] rows = [.. lines.Skip(notes.Length + 1).Where(line => line.Length > 0).Select(line => line.Split(','))];
        Assert.NotEmpty(rows);
        Assert.All(rows, row => Assert.Equal(names.Length, row.Length));
        return new(notes, names, rows);
    }

    public sealed class Row(ReferenceTable table, string[] cells)
    {
        public string Text(string column) => cells[table.columns[column]];

        public double Number(string column) => double.Parse(Text(column), CultureInfo.InvariantCulture);

        /// <summary>The same row with every number times the factor of its column.</summary>
        public Row Times(Func<string, double> factor) => new(
            table,
            [.. table.columns.OrderBy(column => column.Value).Select(column => factor(column.Key) is double by and not 1 ? (Number(column.Key) * by).ToString("R", CultureInfo.InvariantCulture) : cells[column.Value])]);

        public override string ToString() => string.Join(", ", cells);
    }
}
