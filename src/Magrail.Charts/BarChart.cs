using System.Globalization;
using System.Text;

namespace Magrail.Charts;

/// <summary>Horizontal bars, each from one number to another.</summary>
public sealed record BarChart : Chart
{
    private const int TextBarWidth = 24;

    /// <summary>A chart of horizontal bars.</summary>
    /// <param name="title">What the chart shows.</param>
    /// <param name="axis">The axis of the numbers.</param>
    /// <param name="bars">The bars, from the top down.</param>
    /// <exception cref="ArgumentException">A text is empty, there is no bar, or a number is not finite.</exception>
    public BarChart(string title, ChartAxis axis, params IReadOnlyList<ChartBar> bars)
        : base(title)
    {
        ArgumentNullException.ThrowIfNull(axis);
        ArgumentNullException.ThrowIfNull(bars);
        if (bars.Count == 0)
        {
            throw new ArgumentException($"The chart '{title}' has no bar: it needs at least one.", nameof(bars));
        }

        if (bars.FirstOrDefault(bar => !double.IsFinite(bar.From) || !double.IsFinite(bar.To)) is ChartBar wrong)
        {
            throw new ArgumentException($"The bar '{wrong.Name}' has a number that is not finite: only finite numbers can be drawn.", nameof(bars));
        }

        Axis = axis;
        BarsFromTop = [.. bars];
    }

    /// <summary>The axis of the numbers.</summary>
    public ChartAxis Axis { get; }

    /// <summary>The bars, from the top down.</summary>
    public IReadOnlyList<ChartBar> BarsFromTop { get; }

    /// <summary>Vertical guide lines, for limits and targets, in the unit of the axis.</summary>
    public IReadOnlyList<ChartMark> Marks { get; init; } = [];

    /// <inheritdoc/>
    public override string ToText()
    {
        double reach = BarsFromTop.Max(bar => Math.Max(Math.Abs(bar.From), Math.Abs(bar.To)));
        int width = BarsFromTop.Max(bar => bar.Name.Length);
        var text = new StringBuilder();
        int labels = Math.Max(12, BarsFromTop.Max(bar => Label(bar).Length));
        text.Append(Title).Append(" (").Append(Axis.Title).Append(')');
        foreach (ChartBar bar in BarsFromTop)
        {
            double start = reach == 0 ? 0 : Math.Min(bar.From, bar.To) / reach * TextBarWidth;
            double end = reach == 0 ? 0 : Math.Max(bar.From, bar.To) / reach * TextBarWidth;
            int indent = Math.Max(0, (int)Math.Round(start));
            int length = Math.Max(0, (int)Math.Round(end) - indent);
            text.Append(CultureInfo.InvariantCulture, $"\n  {bar.Name.PadRight(width)}  {Label(bar).PadLeft(labels)}  ");
            text.Append(' ', indent).Append('#', length);
            while (text[^1] == ' ')
            {
                text.Length--;
            }
        }

        foreach (ChartMark mark in Marks)
        {
            text.Append(CultureInfo.InvariantCulture, $"\n  guide line at {Show.Number(mark.Value)}: {mark.Name}");
        }

        return text.ToString();
    }

    internal override string FigureJson()
    {
        string[] rows = [.. BarsFromTop.Select((bar, row) => string.Create(CultureInfo.InvariantCulture, $"{row + 1}. {bar.Name}"))];
        bool numbered = BarsFromTop.Select(bar => bar.Name).Distinct().Count() < BarsFromTop.Count;
        return FigureDoor.Bars(
            Axis.Title,
            numbered ? rows : [.. BarsFromTop.Select(bar => bar.Name)],
            [.. BarsFromTop.Select(bar => bar.From)],
            [.. BarsFromTop.Select(bar => bar.To)],
            [.. BarsFromTop.Select(Label)],
            [.. BarsFromTop.Select(bar => Palette.Color(bar.Kind))],
            [.. BarsFromTop.Select(bar => Palette.Pattern(bar.Kind))],
            [.. Marks.Select(mark => mark.Name)],
            [.. Marks.Select(mark => mark.Value)]);
    }

    private protected override void DrawStill(SvgSheet sheet) => StillBars.Draw(this, sheet);

    private protected override string Describe()
        => string.Join("; ", BarsFromTop.Select(bar => $"{bar.Name} {Label(bar)}")) + ".";

    private protected override string TableHtml()
    {
        var html = new StringBuilder();
        html.Append("<table><thead><tr><th scope=\"col\"></th><th scope=\"col\">").Append(Encode(Axis.Title)).Append("</th></tr></thead><tbody>");
        foreach (ChartBar bar in BarsFromTop)
        {
            html.Append("<tr><th scope=\"row\">").Append(Encode(bar.Name)).Append("</th><td>").Append(Encode(Label(bar))).Append("</td></tr>");
        }

        return html.Append("</tbody></table>").ToString();
    }

    /// <summary>The words after a bar's name.</summary>
    internal string Label(ChartBar bar)
    {
        if (bar.Words is not null)
        {
            return bar.Words;
        }

        double value = bar.To - bar.From;
        string number = (value == 0 ? 0 : bar.Kind == ChartBarKind.Loss ? -value : value).ToString("G3", CultureInfo.InvariantCulture).Replace('-', '\u2212');
        return Axis.Unit.Length == 0 ? number : $"{number} {Axis.Unit}";
    }
}
