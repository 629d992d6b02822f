namespace Magrail.Charts;

/// <summary>Draws maps and drawings, whose axes span a plane, on a sheet.</summary>
internal static class StillPlane
{
    private const double Left = 52;
    private const double Right = 24;
    private const double FreeAspect = 0.6;

    public static void Draw(HeatMap map, SvgSheet sheet)
    {
        (double from, double to, double[] ticks, string[] words) = map.ColorScale();
        string[] colors = map.PartsAtZero ? Palette.Diverging : Palette.Sequential;
        ColorBar(sheet, map.Value.Title, from, to, ticks, words, colors);
        double marginX = map.ToScale ? 0 : 0.03 * (map.Columns[^1] - map.Columns[0]);
        double marginY = map.ToScale ? 0 : 0.05 * (map.Rows[^1] - map.Rows[0]);
        Frame frame = Open(
            sheet, 0, sheet.Width, map.Horizontal, map.Vertical, map.Columns[0] - marginX, map.Columns[^1] + marginX, map.Rows[0] - marginY, map.Rows[^1] + marginY, map.ToScale, "#DDE2E7");
        double x = frame.X(map.Columns[0]);
        double y = frame.Y(map.Rows[^1]);
        double width = frame.X(map.Columns[^1]) - x;
        double height = frame.Y(map.Rows[0]) - y;
        sheet.Open("colors", map.Value.Title);
        sheet.Image(x, y, width, height, MapImage.Png(map, from, to, colors, (int)Math.Ceiling(width), (int)Math.Ceiling(height)));
        sheet.Close();
        double step = map.ContourStep;
        double first = map.PartsAtZero ? step : from + step;
        for (double level = first; level <= to * (1 + 1e-9); level += step)
        {
            Contour(sheet, map, level, frame, 0.7, string.Empty);
        }

        for (double level = -step; map.PartsAtZero && level >= from * (1 + 1e-9); level -= step)
        {
            Contour(sheet, map, level, frame, 0.8, "3,2");
        }

        Outlines(sheet, map.Outlines, frame);
        frame.Close();
        Key(sheet, map.Outlines, 0, sheet.Width);
    }

    public static void Draw(Drawing drawing, SvgSheet sheet)
    {
        // Views stand side by side where there is room for two.
        int columns = drawing.Views.Count > 1 && sheet.Width >= 560 ? 2 : 1;
        double width = sheet.Width / columns;
        double rowTop = sheet.Bottom;
        double rowBottom = rowTop;
        for (int i = 0; i < drawing.Views.Count; i++)
        {
            DrawingView view = drawing.Views[i];
            double left = i % columns * width;
            rowTop = i % columns == 0 ? rowBottom : rowTop;
            sheet.Bottom = rowTop;
            sheet.Open("view", view.Title);
            if (drawing.Views.Count > 1)
            {
                sheet.Paragraph(left + 8, width - 16, view.Title, 13);
                sheet.Bottom += 4;
            }

            (double x0, double x1, double y0, double y1) = view.Frame();
            Frame frame = Open(sheet, left, width, view.Horizontal, view.Vertical, x0, x1, y0, y1, toScale: true, "#FFFFFF");
            Outlines(sheet, view.Outlines, frame);
            foreach (DrawingPlace place in view.Places)
            {
                sheet.Whisper(frame.X(place.X), frame.Y(place.Y), place.Name);
            }

            frame.Close();
            Key(sheet, view.Outlines, left, width);
            sheet.Close();
            rowBottom = Math.Max(rowBottom, sheet.Bottom);
        }

        sheet.Bottom = rowBottom;
    }

    private static void ColorBar(SvgSheet sheet, string title, double from, double to, double[] ticks, string[] words, string[] colors)
    {
        double right = sheet.Width - Right;
        double X(double value) => Left + ((value - from) / (to - from) * (right - Left));
        sheet.Open("scale", title);
        sheet.Text(8, sheet.Bottom + 14, title, 13);
        double top = sheet.Bottom + 20;
        const int Steps = 110;
        for (int i = 0; i < Steps; i++)
        {
            double start = Left + ((right - Left) * i / Steps);
            sheet.Rect(start, top, ((right - Left) / Steps) + (i == Steps - 1 ? 0 : 0.5), 12, MapImage.Color(colors, (i + 0.5) / Steps));
        }

        sheet.Rect(Left, top, right - Left, 12, "none", SvgSheet.AxisInk);
        for (int i = 0; i < ticks.Length; i++)
        {
            sheet.Open("tick", string.Empty);
            sheet.Line(X(ticks[i]), top + 12, X(ticks[i]), top + 16, SvgSheet.AxisInk);
            sheet.Text(X(ticks[i]), top + 29, words[i], 12, "middle");
            sheet.Close();
        }

        sheet.Bottom = top + 36;
        sheet.Close();
    }

    private static Frame Open(
        SvgSheet sheet, double left, double width, ChartAxis horizontal, ChartAxis vertical, double x0, double x1, double y0, double y1, bool toScale, string ground)
    {
        double plotWidth = width - Left - Right;
        double aspect = toScale ? (y1 - y0) / (x1 - x0) : FreeAspect;
        double plotHeight = Math.Min(aspect * plotWidth, 560);
        if (toScale)
        {
            plotWidth = Math.Min(plotWidth, plotHeight / aspect);
        }

        sheet.Text(left + 8, sheet.Bottom + 15, vertical.Title, 13);
        double top = sheet.Bottom + 22;
        var frame = new Frame(sheet, left + Left, top, plotWidth, plotHeight, x0, x1, y0, y1);
        Ticks across = Ticks.Between(x0, x1, (int)Math.Clamp(plotWidth / 50, 2, 9));
        Ticks up = Ticks.Between(y0, y1, (int)Math.Clamp(plotHeight / 40, 2, 9));
        sheet.Open("axis", vertical.Title);
        foreach ((double value, string words) in up.Values.Zip(up.Words))
        {
            sheet.Open("tick", string.Empty);
            sheet.Line(left + Left - 4, frame.Y(value), left + Left, frame.Y(value), SvgSheet.AxisInk);
            sheet.Text(left + Left - 8, frame.Y(value) + 4, words, 12, "end");
            sheet.Close();
        }

        sheet.Close();
        sheet.Open("axis", horizontal.Title);
        double bottom = top + plotHeight;
        foreach ((double value, string words) in across.Values.Zip(across.Words))
        {
            sheet.Open("tick", string.Empty);
            sheet.Line(frame.X(value), bottom, frame.X(value), bottom + 4, SvgSheet.AxisInk);
            sheet.Text(frame.X(value), bottom + 17, words, 12, "middle");
            sheet.Close();
        }

        sheet.Text(left + Left, bottom + 36, horizontal.Title, 13);
        sheet.Close();
        sheet.Rect(left + Left, top, plotWidth, plotHeight, ground);
        sheet.OpenFrame(left + Left, top, plotWidth, plotHeight);
        return frame;
    }

    private static void Contour(SvgSheet sheet, HeatMap map, double level, Frame frame, double width, string dash)
    {
        if (level >= map.Greatest)
        {
            // It would be the point of a peak.
            return;
        }

        string path = string.Concat(ContourLines.At(map.Columns, map.Rows, map.Values, level).Select(line => SvgSheet.Pieces(line.X, line.Y, frame.X, frame.Y)));
        if (path.Length > 0)
        {
            sheet.Open("contour", Show.Number(level));
            sheet.Path(path, "#4B535C", width, dash);
            sheet.Close();
        }
    }

    private static void Outlines(SvgSheet sheet, IReadOnlyList<ChartOutline> outlines, Frame frame)
    {
        foreach (ChartOutline outline in outlines)
        {
            string fill = Palette.Color(outline.Fill);
            bool closed = fill.Length > 0;
            string path = SvgSheet.Pieces(outline.X, outline.Y, frame.X, frame.Y, closed);
            if (path.Length == 0)
            {
                continue;
            }

            double width = Palette.Width(outline.Pen);
            sheet.Open("outline", outline.Name);
            if (outline.Pen is ChartPen.Bold or ChartPen.Dashed or ChartPen.Needle)
            {
                sheet.Path(path, "#FFFFFF", width + 1.8);
            }

            sheet.Path(path, Palette.Color(outline.Pen), width, outline.Pen == ChartPen.Dashed ? "5,3" : string.Empty, closed ? fill : "none");
            sheet.Close();
        }
    }

    private static void Key(SvgSheet sheet, IReadOnlyList<ChartOutline> outlines, double left, double width)
    {
        ChartOutline[] named = [.. outlines.Where(outline => outline.Name.Length > 0)];
        if (named.Length == 0)
        {
            return;
        }

        sheet.Open("key", string.Empty);
        double x = left + 8;
        sheet.Bottom += 16;
        foreach (ChartOutline outline in named)
        {
            double entry = 36 + TextWidth.Of(outline.Name, 12);
            if (x > left + 8 && x + entry > left + width - 8)
            {
                x = left + 8;
                sheet.Bottom += 18;
            }

            string fill = Palette.Color(outline.Fill);
            if (fill.Length > 0)
            {
                sheet.Rect(x, sheet.Bottom - 11, 24, 12, fill, Palette.Color(outline.Pen), Palette.Width(outline.Pen));
            }
            else
            {
                sheet.Line(x, sheet.Bottom - 4, x + 24, sheet.Bottom - 4, Palette.Color(outline.Pen), Palette.Width(outline.Pen), outline.Pen == ChartPen.Dashed ? "5,3" : string.Empty);
            }

            sheet.Text(x + 30, sheet.Bottom, outline.Name, 12);
            x += entry + 14;
        }

        sheet.Bottom += 8;
        sheet.Close();
    }

    /// <summary>The frame of a plane: where its numbers lie on the sheet.</summary>
    private sealed class Frame(SvgSheet sheet, double left, double top, double width, double height, double x0, double x1, double y0, double y1)
    {
        public double X(double value) => left + ((value - x0) / (x1 - x0) * width);

        public double Y(double value) => top + ((y1 - value) / (y1 - y0) * height);

        public void Close()
        {
            sheet.Close();
            sheet.Rect(left, top, width, height, "none", SvgSheet.AxisInk);
            sheet.Bottom = top + height + 44;
        }
    }
}
