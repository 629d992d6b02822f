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

    public static string Color(ChartBarKind kind) => kind switch
    {
        ChartBarKind.Plain => "#8FB0CF",
        ChartBarKind.Gain => "#17365D",
        ChartBarKind.Loss => "#F0C9B2",
        ChartBarKind.Kept => "#2FA39E",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of bar."),
    };

    public static string Pattern(ChartBarKind kind) => kind switch
    {
        ChartBarKind.Loss => "/",
        ChartBarKind.Kept => "x",
        _ => string.Empty,
    };

    public static string Color(ChartShade shade) => shade switch
    {
        ChartShade.Light => "#F4F6F8",
        ChartShade.Middle => "#B9C3CD",
        ChartShade.Dark => "#5F7183",
        _ => throw new ArgumentOutOfRangeException(nameof(shade), shade, "No such shade."),
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
}
