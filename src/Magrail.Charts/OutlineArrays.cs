namespace Magrail.Charts;

/// <summary>Outlines as plain arrays, in the form in which they pass the door.</summary>
internal sealed record OutlineArrays(
    string[] Names, double[][] Xs, double[][] Ys, string[] Colors, double[] Widths, string[] Dashes, bool[] Seams, string[] Fills)
{
    public static OutlineArrays Of(IReadOnlyList<ChartOutline> outlines) => new(
        [.. outlines.Select(outline => outline.Name)],
        [.. outlines.Select(outline => outline.X.Select(Scale.SixDigits).ToArray())],
        [.. outlines.Select(outline => outline.Y.Select(Scale.SixDigits).ToArray())],
        [.. outlines.Select(outline => Palette.Color(outline.Pen))],
        [.. outlines.Select(outline => Palette.Width(outline.Pen))],
        [.. outlines.Select(outline => outline.Pen == ChartPen.Dashed ? "5px,3px" : "solid")],
        [.. outlines.Select(outline => outline.Pen is ChartPen.Bold or ChartPen.Dashed or ChartPen.Needle)],
        [.. outlines.Select(outline => Palette.Color(outline.Fill))]);
}
