using UnitsNet;

namespace Magrail;

/// <summary>Which way round a sheet of A4 is printed.</summary>
public enum PaperOrientation
{
    /// <summary>210 mm wide, 297 mm high.</summary>
    Portrait,

    /// <summary>297 mm wide, 210 mm high: fewer sheets for a track.</summary>
    Landscape,
}

/// <summary>What a template shows beyond the launcher, and the paper it is printed on: A4, 210 mm × 297 mm.</summary>
/// <remarks>A4 is a size of ISO 216.</remarks>
public sealed record TemplateOptions
{
    internal const double A4Short = 210;
    internal const double A4Long = 297;

    /// <summary>The defaults of every property.</summary>
    public static TemplateOptions Default { get; } = new();

    /// <summary>Width of the strips, across the track, above zero to 100 mm; 6 mm by default (common practice, no source).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public Length StripWidth { get; init => field = Between(value, 0.5, 100, "a brush needs a strip to slide on", nameof(StripWidth)); } = Length.FromMillimeters(6);

    /// <summary>
    /// From the middle of the track to the middle of each pick-up line, up to 500 mm; null (the default) for just beyond the magnets. The upper line is drawn on the +y side, the lower one on the −y side.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public Length? LineDistance { get; init => field = value is Length given ? Between(given, 0, 500, "the lines lie beside the track", nameof(LineDistance)) : null; }

    /// <summary>Diameter of the fastening holes, 0.5 mm to 50 mm; 3.4 mm by default (clears an M3 screw, ISO 273 medium, from memory).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public Length HoleDiameter { get; init => field = Between(value, 0.5, 50, "a screw goes through", nameof(HoleDiameter)); } = Length.FromMillimeters(3.4);

    /// <summary>Distance of the fastening holes along the track, 5 mm to 1 m; 60 mm by default (common practice, no source). The first stand at the first station.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public Length HoleSpacing { get; init => field = Between(value, 5, 1000, "holes need wood between them", nameof(HoleSpacing)); } = Length.FromMillimeters(60);

    /// <summary>From the middle of the track to the middle of the fastening holes, up to 600 mm; null (the default) for just beyond the lines.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public Length? HoleDistance { get; init => field = value is Length given ? Between(given, 0, 600, "the holes lie beside the track", nameof(HoleDistance)) : null; }

    /// <summary>Which way round the paper is; portrait by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to no orientation.</exception>
    public PaperOrientation Paper { get; init => field = Require.Defined(value, "a sheet is upright or lies on its side", nameof(Paper)); } = PaperOrientation.Portrait;

    /// <summary>Edge of the paper that a printer leaves white, 0 to 40 mm; 10 mm by default (common practice, no source).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range: what is left would be too narrow for the bar of 100 mm.</exception>
    public Length Margin { get; init => field = Between(value, 0, 40, "what a wider margin leaves of A4 is too narrow for the bar of 100 mm", nameof(Margin)); } = Length.FromMillimeters(10);

    /// <summary>By how much neighboring sheets show the same, 4 mm to 40 mm; 10 mm by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set outside that range.</exception>
    public Length Overlap { get; init => field = Between(value, 4, 40, "sheets are glued where they overlap, by the crosses in the middle of it", nameof(Overlap)); } = Length.FromMillimeters(10);

    internal double PageWidth => Paper == PaperOrientation.Portrait ? A4Short : A4Long;

    internal double PageHeight => Paper == PaperOrientation.Portrait ? A4Long : A4Short;

    /// <summary>Paper and holes.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => $"A4 {(Paper == PaperOrientation.Portrait ? "portrait" : "landscape")}, margin {Show.Quantity(Margin)}, overlap {Show.Quantity(Overlap)}; strips {Show.Quantity(StripWidth)} wide, holes {Show.Quantity(HoleDiameter)} every {Show.Quantity(HoleSpacing)}";

    private static Length Between(Length value, double least, double greatest, string why, string name)
        => Require.InRange(value, Length.FromMillimeters(least), Length.FromMillimeters(greatest), why, name);
}
