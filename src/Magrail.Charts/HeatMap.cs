using System.Globalization;
using System.Text;

namespace Magrail.Charts;

/// <summary>
/// Numbers over a plane as colors with contour lines, at equal scale both ways (unless <see cref="ToScale"/> says otherwise), with outlines drawn over them. Colors go
/// from light to dark in even steps of lightness, so that the map reads the same in grey.
/// </summary>
public sealed record HeatMap : Chart
{
    private const int TableColumns = 7;
    private const int TableRows = 7;

    /// <summary>A map of numbers on a grid.</summary>
    /// <param name="title">What the map shows.</param>
    /// <param name="horizontal">The horizontal axis.</param>
    /// <param name="vertical">The vertical axis.</param>
    /// <param name="value">What the colors show.</param>
    /// <param name="columns">Ascending places along the horizontal axis, in its unit.</param>
    /// <param name="rows">Ascending places along the vertical axis, in its unit.</param>
    /// <param name="values">The numbers: one list for each of <paramref name="rows"/>, with one number for each of <paramref name="columns"/>; <see cref="double.NaN"/> where there is none.</param>
    /// <exception cref="ArgumentException">A count does not fit, there are fewer than two rows or columns, places do not ascend, or no number is finite.</exception>
    public HeatMap(
        string title,
        ChartAxis horizontal,
        ChartAxis vertical,
        ChartAxis value,
        IReadOnlyList<double> columns,
        IReadOnlyList<double> rows,
        IReadOnlyList<IReadOnlyList<double>> values)
        : base(title)
    {
        ArgumentNullException.ThrowIfNull(horizontal);
        ArgumentNullException.ThrowIfNull(vertical);
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(rows);
        ArgumentNullException.ThrowIfNull(values);
        if (columns.Count < 2 || rows.Count < 2 || values.Count != rows.Count || values.Any(row => row.Count != columns.Count))
        {
            throw new ArgumentException(
                $"The map '{title}' has {columns.Count} columns, {rows.Count} rows and {values.Count} lists of numbers: it needs two of each at least, a list for each row, and a number for each column.",
                nameof(values));
        }

        if (!Ascends(columns) || !Ascends(rows))
        {
            throw new ArgumentException($"The places of the map '{title}' do not ascend: columns and rows are given from the least to the greatest.", nameof(columns));
        }

        double[] finite = [.. values.SelectMany(row => row).Where(double.IsFinite)];
        if (finite.Length == 0)
        {
            throw new ArgumentException($"The map '{title}' has no finite number: there is nothing to draw.", nameof(values));
        }

        Horizontal = horizontal;
        Vertical = vertical;
        Value = value;
        Columns = columns;
        Rows = rows;
        Values = values;
        Least = finite.Min();
        Greatest = finite.Max();
        PartsAtZero = Least < 0;
        Limit = Scale.LimitFor(finite);
    }

    /// <summary>The horizontal axis.</summary>
    public ChartAxis Horizontal { get; }

    /// <summary>The vertical axis.</summary>
    public ChartAxis Vertical { get; }

    /// <summary>What the colors show.</summary>
    public ChartAxis Value { get; }

    /// <summary>Places along the horizontal axis, ascending.</summary>
    public IReadOnlyList<double> Columns { get; }

    /// <summary>Places along the vertical axis, ascending.</summary>
    public IReadOnlyList<double> Rows { get; }

    /// <summary>The numbers, one list for each row; not a number where there is none.</summary>
    public IReadOnlyList<IReadOnlyList<double>> Values { get; }

    /// <summary>The least number on the map.</summary>
    public double Least { get; }

    /// <summary>The greatest number on the map.</summary>
    public double Greatest { get; }

    /// <summary>
    /// Whether the colors part at zero into two kinds, negative numbers with broken contour lines; by default where a
    /// number is negative.
    /// </summary>
    public bool PartsAtZero { get; init; }

    /// <summary>
    /// Where the colors end: from zero, or from minus this number where the map is signed. By default a round number that
    /// ninety-nine in a hundred of the numbers do not exceed. What exceeds it takes the last color.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to a number that is not finite or not above zero.</exception>
    public double Limit
    {
        get;
        init => field = double.IsFinite(value) && value > 0
            ? value
            : throw new ArgumentOutOfRangeException(nameof(Limit), value, "Colors end at a finite number above zero.");
    }

    /// <summary>
    /// Where the colors of a map without signs begin; zero by default. A map of numbers far from zero that differ little shows more from a start of
    /// its own. What is less takes the first color.
    /// </summary>
    public double ColorsFrom { get; init; }

    /// <summary>Whether both axes share one scale, as they must where both are lengths of one picture; yes by default.</summary>
    public bool ToScale { get; init; } = true;

    /// <summary>Contour lines stand at multiples of this, a round number.</summary>
    public double ContourStep => Scale.StepFor(PartsAtZero ? Limit : Limit - ColorsFrom);

    /// <summary>Outlines drawn over the colors, such as magnets.</summary>
    public IReadOnlyList<ChartOutline> Outlines { get; init; } = [];

    /// <inheritdoc/>
    public override string ToText()
    {
        var text = new StringBuilder();
        text.Append(Title).Append('\n');
        text.Append("  ").Append(Description).Append('\n');
        string[] heads = [.. Places(Columns, TableColumns).Select(column => Show.Number(Columns[column]))];
        text.Append(CultureInfo.InvariantCulture, $"  {Value.Title}; columns: {Horizontal.Title}, rows: {Vertical.Title}\n  {string.Empty,9}");
        foreach (string head in heads)
        {
            text.Append(CultureInfo.InvariantCulture, $"{head,10}");
        }

        foreach (int row in Places(Rows, TableRows).Reverse())
        {
            text.Append(CultureInfo.InvariantCulture, $"\n  {Show.Number(Rows[row]),9}");
            foreach (int column in Places(Columns, TableColumns))
            {
                text.Append(CultureInfo.InvariantCulture, $"{Cell(row, column),10}");
            }
        }

        return text.ToString();
    }

    /// <summary>Where the colors begin and end, and the numbers beside them with their words.</summary>
    internal (double From, double To, double[] Ticks, string[] Words) ColorScale()
    {
        if (!PartsAtZero && !(ColorsFrom < Limit))
        {
            throw new InvalidOperationException($"The colors of the map '{Title}' would begin at {Show.Number(ColorsFrom)} and end at {Show.Number(Limit)}: they must begin below their end.");
        }

        double from = PartsAtZero ? -Limit : ColorsFrom;
        double[] ticks = PartsAtZero ? [-Limit, -0.5 * Limit, 0, 0.5 * Limit, Limit] : [.. Scale.TicksTo(Limit - from).Select(at => from + at)];
        string[] words = [.. ticks.Select(at => Scale.Signed(at))];
        if (Greatest > Limit * (1 + 1e-9))
        {
            words[^1] = "≥\u2009" + words[^1];
        }

        if ((PartsAtZero || ColorsFrom != 0) && Least < from - (1e-9 * Math.Abs(from)))
        {
            words[0] = "≤\u2009" + words[0];
        }

        return (from, Limit, ticks, words);
    }

    internal override string FigureJson()
    {
        (double from, double to, double[] ticks, string[] words) = ColorScale();
        return FigureDoor.Map(
            [Horizontal.Title, Vertical.Title, Value.Title],
            [Horizontal.Unit, Vertical.Unit, Value.Unit],
            [.. Columns.Select(Scale.SixDigits)],
            [.. Rows.Select(Scale.SixDigits)],
            [.. Values.Select(row => row.Select(Scale.FourDigits).ToArray())],
            PartsAtZero,
            [from, to, ContourStep],
            ticks,
            words,
            PartsAtZero ? Palette.Diverging : Palette.Sequential,
            ToScale,
            OutlineArrays.Of(Outlines));
    }

    private protected override void DrawStill(SvgSheet sheet) => StillPlane.Draw(this, sheet);

    private protected override string Describe()
    {
        (int leastRow, int leastColumn) = PlaceOf(Least);
        (int mostRow, int mostColumn) = PlaceOf(Greatest);
        string unit = Horizontal.Unit.Length == 0 ? string.Empty : " " + Horizontal.Unit;
        string upUnit = Vertical.Unit.Length == 0 ? string.Empty : " " + Vertical.Unit;
        string At(int row, int column) => $"({Show.Number(Columns[column])}{unit}, {Show.Number(Rows[row])}{upUnit})";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Value.Title} over {Horizontal.Title}, {Show.Number(Columns[0])} to {Show.Number(Columns[^1])}, and {Vertical.Title}, {Show.Number(Rows[0])} to {Show.Number(Rows[^1])}: least {Show.Number(Least)} at {At(leastRow, leastColumn)}, greatest {Show.Number(Greatest)} at {At(mostRow, mostColumn)}; {(PartsAtZero || ColorsFrom == 0 ? string.Empty : $"colors begin at {Show.Number(ColorsFrom)}, ")}colors end at {(PartsAtZero ? "±" : string.Empty)}{Show.Number(Limit)}, contour lines every {Show.Number(ContourStep)}.");
    }

    private protected override string TableHtml()
    {
        var html = new StringBuilder();
        html.Append("<table><caption>").Append(Encode($"{Value.Title}: columns {Horizontal.Title}, rows {Vertical.Title}"))
            .Append("</caption><thead><tr><th></th>");
        foreach (int column in Places(Columns, TableColumns))
        {
            html.Append("<th scope=\"col\">").Append(Show.Number(Columns[column])).Append("</th>");
        }

        html.Append("</tr></thead><tbody>");
        foreach (int row in Places(Rows, TableRows).Reverse())
        {
            html.Append("<tr><th scope=\"row\">").Append(Show.Number(Rows[row])).Append("</th>");
            foreach (int column in Places(Columns, TableColumns))
            {
                html.Append("<td>").Append(Cell(row, column)).Append("</td>");
            }

            html.Append("</tr>");
        }

        return html.Append("</tbody></table>").ToString();
    }

    private static bool Ascends(IReadOnlyList<double> places)
        => double.IsFinite(places[0]) && double.IsFinite(places[^1]) && Enumerable.Range(1, places.Count - 1).All(i => places[i] > places[i - 1]);

    private static IEnumerable<int> Places(IReadOnlyList<double> places, int count)
        => Enumerable.Range(0, count).Select(i => (int)Math.Round(i * (places.Count - 1) / (double)(count - 1))).Distinct();

    private string Cell(int row, int column)
        => double.IsFinite(Values[row][column]) ? Values[row][column].ToString("G3", CultureInfo.InvariantCulture) : "–";

    private (int Row, int Column) PlaceOf(double value)
    {
        for (int row = 0; row < Rows.Count; row++)
        {
            for (int column = 0; column < Columns.Count; column++)
            {
                if (Values[row][column] == value)
                {
                    return (row, column);
                }
            }
        }

        return (0, 0);
    }
}
