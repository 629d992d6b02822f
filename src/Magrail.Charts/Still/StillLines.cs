namespace Magrail.Charts;

/// <summary>Draws a <see cref="LineChart"/> on a sheet.</summary>
internal static class StillLines
{
    private const double Left = 58;
    private const double Right = 16;
    private const double PanelHeight = 150;
    private const double RibbonHeight = 16;

    public static void Draw(LineChart chart, SvgSheet sheet)
    {
        (ChartSeries Series, int Panel)[] all = [.. chart.PanelsFromTop.SelectMany((panel, index) => panel.Series.Select(series => (series, index)))];
        ChartTone[] tones = Palette.Tones(all.Select(each => each.Series.Tone));
        string DashOf(int i) => chart.PanelsFromTop[all[i].Panel].Series.Count == 1 ? string.Empty : DashArray(Palette.Dash(tones[i]));

        if (chart.PanelsFromTop.Any(panel => panel.Series.Count > 1))
        {
            Key(sheet, all, tones, DashOf);
        }

        double from = all.Min(each => each.Series.X.Min());
        double to = all.Max(each => each.Series.X.Max());
        double margin = all.Any(each => each.Series.Points) ? 0.03 * (to - from) : 0;
        (from, to) = to > from ? (from - margin, to + margin) : (from - 0.5, to + 0.5);
        double right = sheet.Width - Right;
        double X(double value) => Left + ((value - from) / (to - from) * (right - Left));
        Ticks across = Ticks.Between(from, to, (int)Math.Clamp((right - Left) / 75, 3, 10));
        double placesTop = sheet.Bottom;
        for (int p = 0; p < chart.PanelsFromTop.Count; p++)
        {
            ChartPanel panel = chart.PanelsFromTop[p];
            sheet.Open("panel", panel.Vertical.Title);
            double top = sheet.Bottom + 24;
            double bottom = top + PanelHeight;
            placesTop = p == 0 ? top : placesTop;
            (double low, double high) = Reach(panel);
            double Y(double value) => bottom - ((value - low) / (high - low) * PanelHeight);
            sheet.Text(8, top - 8, panel.Vertical.Title, 13);
            Grid(sheet, across, X, top, bottom);
            VerticalAxis(sheet, Ticks.Between(low, high, 5), Y, right);
            sheet.Line(Left, top, Left, bottom, SvgSheet.AxisInk);
            for (int i = 0; i < all.Length; i++)
            {
                if (all[i].Panel == p)
                {
                    Series(sheet, all[i].Series, tones[i], DashOf(i), X, Y, Math.Clamp(0, low, high));
                }
            }

            foreach (ChartMark level in panel.Levels)
            {
                Level(sheet, level, low, high, Y, right);
            }

            sheet.Bottom = bottom + (p == chart.PanelsFromTop.Count - 1 ? 0 : 14);
            sheet.Close();
        }

        Places(sheet, chart.Places, from, to, X, placesTop);
        if (chart.Ribbon.Count > 0)
        {
            Ribbon(sheet, chart.Ribbon, from, to, X);
        }

        sheet.Open("horizontal", chart.Horizontal.Title);
        sheet.Line(Left, sheet.Bottom, right, sheet.Bottom, SvgSheet.AxisInk);
        foreach ((double value, string words) in across.Values.Zip(across.Words))
        {
            sheet.Open("tick", string.Empty);
            sheet.Line(X(value), sheet.Bottom, X(value), sheet.Bottom + 4, SvgSheet.AxisInk);
            sheet.Text(X(value), sheet.Bottom + 17, words, 12, "middle");
            sheet.Close();
        }

        sheet.Text(0.5 * (Left + right), sheet.Bottom + 37, chart.Horizontal.Title, 13, "middle");
        sheet.Close();
        sheet.Bottom += 46;
    }

    /// <summary>A dash pattern in pixels, by plotly's word for it.</summary>
    internal static string DashArray(string word) => word switch
    {
        "longdash" => "10,5",
        "dot" => "2,3",
        "dashdot" => "7,3,2,3",
        "dash" => "5,4",
        "longdashdot" => "11,3,2,3",
        _ => string.Empty,
    };

    private static (double Low, double High) Reach(ChartPanel panel)
    {
        double low = double.PositiveInfinity;
        double high = double.NegativeInfinity;
        foreach (ChartSeries series in panel.Series)
        {
            for (int i = 0; i < series.Y.Count; i++)
            {
                double half = series.HalfWidths?[i] ?? 0;
                low = Math.Min(low, series.Y[i] - half);
                high = Math.Max(high, series.Y[i] + half);
            }
        }

        if (panel.FromZero || panel.Series.Any(series => series.Filled))
        {
            low = Math.Min(low, 0);
            high = Math.Max(high, 0);
        }

        double span = high - low;
        if (!(span > 1e-12 * Math.Max(Math.Abs(low), Math.Abs(high))))
        {
            double around = low == 0 ? 1 : 0.1 * Math.Abs(low);
            return (low - around, high + around);
        }

        // A guide line not far off is drawn where it stands; one beyond is named at the edge.
        foreach (ChartMark level in panel.Levels.Where(level => level.Value > low - span && level.Value < high + span))
        {
            low = Math.Min(low, level.Value);
            high = Math.Max(high, level.Value);
        }

        span = high - low;
        bool standsOnZero = (panel.FromZero || panel.Series.Any(series => series.Filled)) && low == 0;
        return (standsOnZero ? 0 : low - (0.05 * span), high + (0.07 * span));
    }

    private static void Key(SvgSheet sheet, (ChartSeries Series, int Panel)[] all, ChartTone[] tones, Func<int, string> dashOf)
    {
        sheet.Open("key", string.Empty);
        double x = 8;
        sheet.Bottom += 18;
        for (int i = 0; i < all.Length; i++)
        {
            double width = 38 + TextWidth.Of(all[i].Series.Name, 12);
            if (x > 8 && x + width > sheet.Width - 8)
            {
                x = 8;
                sheet.Bottom += 18;
            }

            if (all[i].Series.Points)
            {
                sheet.Mark(Palette.Symbol(tones[i]), x + 13, sheet.Bottom - 4, Palette.Color(tones[i]));
            }
            else
            {
                sheet.Line(x, sheet.Bottom - 4, x + 26, sheet.Bottom - 4, Palette.Color(tones[i]), 2, dashOf(i));
            }

            sheet.Text(x + 32, sheet.Bottom, all[i].Series.Name, 12);
            x += width + 14;
        }

        sheet.Bottom += 4;
        sheet.Close();
    }

    private static void Grid(SvgSheet sheet, Ticks across, Func<double, double> toX, double top, double bottom)
    {
        foreach (double value in across.Values)
        {
            sheet.Line(toX(value), top, toX(value), bottom, SvgSheet.GridInk);
        }
    }

    private static void VerticalAxis(SvgSheet sheet, Ticks ticks, Func<double, double> toY, double right)
    {
        foreach ((double value, string words) in ticks.Values.Zip(ticks.Words))
        {
            sheet.Open("tick", string.Empty);
            sheet.Line(Left - 4, toY(value), right, toY(value), value == 0 ? "#8A94A0" : SvgSheet.GridInk);
            sheet.Text(Left - 8, toY(value) + 4, words, 12, "end");
            sheet.Close();
        }
    }

    private static void Series(SvgSheet sheet, ChartSeries series, ChartTone tone, string dash, Func<double, double> toX, Func<double, double> toY, double ground)
    {
        string color = Palette.Color(tone);
        sheet.Open("series", series.Name);
        if (series.HalfWidths is { } widths)
        {
            double[] upper = [.. series.Y.Zip(widths, (y, half) => y + half)];
            double[] lower = [.. series.Y.Zip(widths, (y, half) => y - half)];
            sheet.Open("band", string.Empty);
            sheet.Path(SvgSheet.Pieces([.. series.X, .. series.X.Reverse()], [.. upper, .. lower.Reverse()], toX, toY, closed: true), "none", fill: color, fillOpacity: 0.24);
            sheet.Close();
        }

        if (series.Filled)
        {
            sheet.Open("ground", string.Empty);
            sheet.Path(SvgSheet.Pieces([series.X[0], .. series.X, series.X[^1]], [ground, .. series.Y, ground], toX, toY, closed: true), "none", fill: color, fillOpacity: 0.24);
            sheet.Close();
        }

        if (series.Points)
        {
            for (int i = 0; i < series.X.Count; i++)
            {
                sheet.Mark(Palette.Symbol(tone), toX(series.X[i]), toY(series.Y[i]), color);
            }
        }
        else
        {
            sheet.Path(SvgSheet.Pieces(series.X, series.Y, toX, toY), color, 1.8, dash);
        }

        sheet.Close();
    }

    private static void Level(SvgSheet sheet, ChartMark level, double low, double high, Func<double, double> toY, double right)
    {
        sheet.Open("level", string.Empty);
        double y = toY(Math.Clamp(level.Value, low, high));
        if (level.Value >= low && level.Value <= high)
        {
            sheet.Line(Left, y, right, y, SvgSheet.AxisInk, 1.2, "4,3");
            sheet.Text(Left + 5, y - 4 < toY(high) + 10 ? y + 13 : y - 4, level.Name, 12, color: SvgSheet.SoftInk, seam: true);
        }
        else
        {
            bool above = level.Value > high;
            sheet.Text(Left + 5, above ? y + 12 : y - 4, $"{(above ? '↑' : '↓')} {level.Name}", 12, color: SvgSheet.SoftInk, seam: true);
        }

        sheet.Close();
    }

    private static void Places(SvgSheet sheet, IReadOnlyList<ChartMark> places, double from, double to, Func<double, double> toX, double top)
    {
        for (int i = 0; i < places.Count; i++)
        {
            if (places[i].Value < from || places[i].Value > to)
            {
                continue;
            }

            double x = toX(places[i].Value);
            bool leftHalf = places[i].Value < 0.5 * (from + to);
            sheet.Open("place", string.Empty);
            sheet.Line(x, top, x, sheet.Bottom, SvgSheet.AxisInk, 1.2, "2,2");
            sheet.Text(x + (leftHalf ? 4 : -4), sheet.Bottom - 5 - (16 * i), places[i].Name, 12, leftHalf ? "start" : "end", SvgSheet.SoftInk, seam: true);
            sheet.Close();
        }
    }

    private static void Ribbon(SvgSheet sheet, IReadOnlyList<ChartBand> ribbon, double from, double to, Func<double, double> toX)
    {
        sheet.Open("ribbon", string.Empty);
        double top = sheet.Bottom + 8;
        foreach (ChartBand band in ribbon.Where(band => band.To > from && band.From < to))
        {
            double left = toX(Math.Max(band.From, from));
            double right = toX(Math.Min(band.To, to));
            sheet.Rect(left, top, right - left, RibbonHeight, Palette.Color(band.Shade), SvgSheet.Ink, 0.8);
            if (band.Name.Length > 0)
            {
                sheet.Text(0.5 * (left + right), top + 12, band.Name, 10, "middle", band.Shade == ChartShade.Dark ? "#FFFFFF" : SvgSheet.Ink);
            }
        }

        sheet.Bottom = top + RibbonHeight;
        sheet.Close();
    }
}
