using System.Text;

namespace Magrail.Charts;

/// <summary>Draws a <see cref="BarChart"/> on a sheet.</summary>
internal static class StillBars
{
    private const double Left = 10;
    private const double Right = 16;
    private const double BarHeight = 16;

    public static void Draw(BarChart chart, SvgSheet sheet)
    {
        double from = Math.Min(0, chart.BarsFromTop.Min(bar => Math.Min(bar.From, bar.To)));
        double to = Math.Max(0, chart.BarsFromTop.Max(bar => Math.Max(bar.From, bar.To)));
        foreach (ChartMark mark in chart.Marks)
        {
            from = Math.Min(from, mark.Value);
            to = Math.Max(to, mark.Value);
        }

        double margin = to > from ? 0.04 * (to - from) : 0.5;
        (from, to) = (from < 0 || from == to ? from - margin : 0, to > 0 || from == to ? to + margin : 0);
        double right = sheet.Width - Right;
        double X(double value) => Left + ((value - from) / (to - from) * (right - Left));
        Ticks ticks = Ticks.Between(from, to, (int)Math.Clamp((right - Left) / 75, 3, 10));
        double top = sheet.Bottom + 4;

        // Names may take more than one line: heights come first, so that the grid lies below everything.
        double room = right - Left - 4;
        string[][] names = [.. chart.BarsFromTop.Select(bar => TextWidth.Lines(bar.Name, 12.5, room).ToArray())];

        // The label stands after the name where there is room for it, and else below.
        double[] labelsAt = [.. names.Select((lines, row) =>
        {
            double after = lines.Length == 0 ? 0 : TextWidth.Of(lines[^1], 12.5) + 6;
            return after + TextWidth.Of(chart.Label(chart.BarsFromTop[row]), 13.2) <= room ? after : 0;
        })];
        int[] lineCounts = [.. names.Select((lines, row) => lines.Length + (labelsAt[row] == 0 ? 1 : 0))];
        double[] heights = [.. lineCounts.Select(count => (17 * count) + BarHeight + 9)];
        double bottom = top + heights.Sum();
        foreach (double value in ticks.Values)
        {
            sheet.Line(X(value), top, X(value), bottom, SvgSheet.GridInk);
        }

        sheet.Line(X(0), top, X(0), bottom, SvgSheet.Ink, 1.2);
        double y = top;
        for (int row = 0; row < names.Length; row++)
        {
            ChartBar bar = chart.BarsFromTop[row];
            sheet.Open("bar", bar.Name);
            double start = X(Math.Min(bar.From, bar.To));
            double end = X(Math.Max(bar.From, bar.To));
            double foot = y + heights[row] - 9;
            sheet.Rect(start, foot - BarHeight, end - start, BarHeight, Palette.Color(bar.Kind), SvgSheet.Ink);
            string hatching = Hatching(Palette.Pattern(bar.Kind), start, foot - BarHeight, end, foot);
            if (hatching.Length > 0)
            {
                sheet.Path(hatching, SvgSheet.Ink, 0.9);
            }

            sheet.Close();
            y += heights[row];
        }

        foreach (ChartMark mark in chart.Marks)
        {
            sheet.Open("mark", string.Empty);
            sheet.Line(X(mark.Value), top, X(mark.Value), bottom, SvgSheet.Ink, 1.6, "5,3");
            sheet.Text(X(mark.Value) - 4, bottom - 4, mark.Name, 12, "end", SvgSheet.SoftInk, seam: true);
            sheet.Close();
        }

        // Words come last, so that no line runs through them.
        y = top;
        for (int row = 0; row < names.Length; row++)
        {
            string label = chart.Label(chart.BarsFromTop[row]);
            sheet.Open("words", string.Empty);
            if (chart.Marks.Count > 0)
            {
                double width = Math.Max(labelsAt[row] + TextWidth.Of(label, 13.2), names[row].Select(line => TextWidth.Of(line, 12.5)).DefaultIfEmpty(0).Max());
                sheet.Rect(Left + 2, y + 1, Math.Min(width, room) + 2, (17 * lineCounts[row]) - 1, "#FFFFFF");
            }

            for (int line = 0; line < names[row].Length; line++)
            {
                sheet.Text(Left + 4, y + 13 + (17 * line), names[row][line], 12.5, seam: true);
            }

            sheet.Text(Left + 4 + labelsAt[row], y + 13 + (17 * (lineCounts[row] - 1)), label, 12.5, bold: true, seam: true);
            sheet.Close();
            y += heights[row];
        }

        sheet.Open("horizontal", chart.Axis.Title);
        sheet.Line(Left, bottom, right, bottom, SvgSheet.AxisInk);
        foreach ((double value, string words) in ticks.Values.Zip(ticks.Words))
        {
            sheet.Open("tick", string.Empty);
            sheet.Line(X(value), bottom, X(value), bottom + 4, SvgSheet.AxisInk);
            sheet.Text(X(value), bottom + 17, words, 12, value == from ? "start" : "middle");
            sheet.Close();
        }

        sheet.Text(0.5 * (Left + right), bottom + 37, chart.Axis.Title, 13, "middle");
        sheet.Close();
        sheet.Bottom = bottom + 46;
    }

    /// <summary>Slanting lines inside a rectangle, as the pattern says: one way, the other, or both.</summary>
    private static string Hatching(string pattern, double left, double top, double right, double bottom)
    {
        const double Step = 7;
        var path = new StringBuilder();
        double height = bottom - top;
        foreach (bool rising in (ReadOnlySpan<bool>)[true, false])
        {
            if (pattern != "x" && pattern != (rising ? "/" : "\\"))
            {
                continue;
            }

            // Each line leaves the foot (or the head) at an even step and climbs at 45 degrees until it meets a side.
            for (double at = left - height + Step; at < right; at += Step)
            {
                double cut = Math.Max(0, left - at);
                double length = Math.Min(height, right - at);
                if (length - cut < 0.5)
                {
                    continue;
                }

                double y0 = rising ? bottom - cut : top + cut;
                double y1 = rising ? bottom - length : top + length;
                path.Append('M').Append(SvgSheet.N(at + cut)).Append(',').Append(SvgSheet.N(y0)).Append('L').Append(SvgSheet.N(at + length)).Append(',').Append(SvgSheet.N(y1));
            }
        }

        return path.ToString();
    }
}
