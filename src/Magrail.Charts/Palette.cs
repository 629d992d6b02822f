namespace Magrail.Charts;

/// <summary>
/// The colors, dash patterns and hatchings of all charts. They were chosen so that each pair differs in lightness or in
/// pattern: a chart on grey paper, or seen without red or green, still tells its lines apart.
/// </summary>
internal static class Palette
{
    public static string Color(ChartTone tone) => tone switch
    {
        ChartTone.Ink => "#17365D",
        ChartTone.Rust => "#C2501C",
        ChartTone.Ochre => "#D79B00",
        ChartTone.Plum => "#6F3A72",
        ChartTone.Teal => "#1E9490",
        ChartTone.Slate => "#59636E",
        _ => throw new ArgumentOutOfRangeException(nameof(tone), tone, "No such tone."),
    };

    public static string Dash(ChartTone tone) => tone switch
    {
        ChartTone.Ink => "solid",
        ChartTone.Rust => "longdash",
        ChartTone.Ochre => "dot",
        ChartTone.Plum => "dashdot",
        ChartTone.Teal => "dash",
        ChartTone.Slate => "longdashdot",
        _ => throw new ArgumentOutOfRangeException(nameof(tone), tone, "No such tone."),
    };

    /// <summary>The mark of a point: no two tones share one.</summary>
    public static string Symbol(ChartTone tone) => tone switch
    {
        ChartTone.Ink => "circle",
        ChartTone.Rust => "diamond-open",
        ChartTone.Ochre => "square",
        ChartTone.Plum => "x",
        ChartTone.Teal => "triangle-up",
        ChartTone.Slate => "cross",
        _ => throw new ArgumentOutOfRangeException(nameof(tone), tone, "No such tone."),
    };

    public static string Color(ChartBarKind kind) => kind switch
    {
        ChartBarKind.Plain => "#8FB0CF",
        ChartBarKind.Gain => "#17365D",
        ChartBarKind.Loss => "#F0C9B2",
        ChartBarKind.Kept => "#2FA39E",
        ChartBarKind.Broken => "#A8430F",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of bar."),
    };

    public static string Pattern(ChartBarKind kind) => kind switch
    {
        ChartBarKind.Loss => "/",
        ChartBarKind.Kept => "x",
        ChartBarKind.Broken => "\\",
        _ => string.Empty,
    };

    public static string Color(ChartShade shade) => shade switch
    {
        ChartShade.Light => "#F4F6F8",
        ChartShade.Middle => "#B9C3CD",
        ChartShade.Dark => "#5F7183",
        _ => throw new ArgumentOutOfRangeException(nameof(shade), shade, "No such shade."),
    };

    /// <summary>Eleven colors from nearly white to ink, in even steps of CIE lightness.</summary>
    public static string[] Sequential { get; } = Between((97, -2, 4), (70, -22, -6), (43, -8, -30), (16, 6, -24));

    /// <summary>
    /// Eleven colors from dark rust through nearly white to dark blue, alike in lightness on both sides of zero; orange and
    /// blue stay apart for those who do not tell red from green.
    /// </summary>
    public static string[] Diverging { get; } =
        [.. Between((30, 32, 38), (64, 26, 44), (97, 0, 3)).Where((_, i) => i % 2 == 0), .. Between((97, 0, 3), (64, -10, -26), (30, 0, -36)).Where((_, i) => i % 2 == 0).Skip(1)];

    public static string Color(ChartPen pen) => pen switch
    {
        ChartPen.Fine => "#7C8894",
        _ => "#1C2530",
    };

    public static double Width(ChartPen pen) => pen switch
    {
        ChartPen.Plain => 1.4,
        ChartPen.Bold => 2.2,
        ChartPen.Dashed => 1.8,
        ChartPen.Needle => 1.2,
        ChartPen.Fine => 0.8,
        _ => throw new ArgumentOutOfRangeException(nameof(pen), pen, "No such pen."),
    };

    /// <summary>The color of a filling; empty for none.</summary>
    public static string Color(ChartFill fill) => fill switch
    {
        ChartFill.None => string.Empty,
        ChartFill.Light => Color(ChartShade.Light),
        ChartFill.Middle => Color(ChartShade.Middle),
        ChartFill.Dark => Color(ChartShade.Dark),
        ChartFill.Copper => "#B4481A",
        ChartFill.PaleCopper => "#F0BE94",
        ChartFill.White => "#FFFFFF",
        _ => throw new ArgumentOutOfRangeException(nameof(fill), fill, "No such filling."),
    };

    /// <summary>The tones asked for, and the next free ones in turn where none was.</summary>
    public static ChartTone[] Tones(IEnumerable<ChartTone?> asked)
    {
        ChartTone?[] wanted = [.. asked];
        ChartTone[] all = Enum.GetValues<ChartTone>();
        ChartTone[] free = [.. all.Except(wanted.OfType<ChartTone>())];
        free = free.Length == 0 ? all : free;
        int next = 0;
        return [.. wanted.Select(tone => tone ?? free[next++ % free.Length])];
    }

    /// <summary>Eleven colors in even steps through points of the CIE L*a*b* space.</summary>
    private static string[] Between(params (double L, double A, double B)[] points)
    {
        string[] colors = new string[11];
        for (int i = 0; i < colors.Length; i++)
        {
            double place = i / 10.0 * (points.Length - 1);
            int first = Math.Min((int)place, points.Length - 2);
            double share = place - first;
            ((double L, double A, double B) from, (double L, double A, double B) to) = (points[first], points[first + 1]);
            colors[i] = FromLab(from.L + (share * (to.L - from.L)), from.A + (share * (to.A - from.A)), from.B + (share * (to.B - from.B)));
        }

        return colors;
    }

    /// <summary>An sRGB color of CIE L*a*b* under D65 (CIE 15; IEC 61966-2-1).</summary>
    private static string FromLab(double l, double a, double b)
    {
        double fy = (l + 16) / 116;
        double x = 0.95047 * Inverse(fy + (a / 500));
        double y = Inverse(fy);
        double z = 1.08883 * Inverse(fy - (b / 200));
        int red = Channel((3.2406 * x) - (1.5372 * y) - (0.4986 * z));
        int green = Channel((-0.9689 * x) + (1.8758 * y) + (0.0415 * z));
        int blue = Channel((0.0557 * x) - (0.2040 * y) + (1.0570 * z));
        return $"#{red:X2}{green:X2}{blue:X2}";

        static double Inverse(double f) => f > 6.0 / 29 ? f * f * f : 3 * 36.0 / 841 * (f - (4.0 / 29));

        static int Channel(double linear)
        {
            double value = linear <= 0.0031308 ? 12.92 * linear : (1.055 * Math.Pow(linear, 1 / 2.4)) - 0.055;
            return (int)Math.Round(255 * Math.Clamp(value, 0, 1));
        }
    }
}
