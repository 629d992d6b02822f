namespace Magrail.Charts;

/// <summary>One stretch of the ribbon under a line chart, such as one magnet station along the track.</summary>
/// <param name="Name">A word or two inside the band; may be empty.</param>
/// <param name="From">Where it begins, in the unit of the horizontal axis.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Shade">How dark it is drawn.</param>
public sealed record ChartBand(string Name, double From, double To, ChartShade Shade);

/// <summary>How dark a stretch of a ribbon is drawn.</summary>
public enum ChartShade
{
    /// <summary>Nearly white.</summary>
    Light,

    /// <summary>Middle grey.</summary>
    Middle,

    /// <summary>Dark.</summary>
    Dark,
}
