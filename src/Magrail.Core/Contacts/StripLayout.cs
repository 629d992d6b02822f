using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The rule by which strips are laid out between the stations of a track: how much of the pitch is fed or how wide the gaps are, and how much the
/// strips lead.
/// </summary>
/// <remarks>
/// Between two stations at a and a + p one strip on each line: with a dwell d and a brush of length b it is d p − b long, with a gap g it is p − g; its middle
/// lies at a + p/2 − lead + the brush's offset. All strips of one pitch have one length, whatever their lead. The gaps shrink by what the lead grows from one strip to the next.
/// </remarks>
public sealed record StripLayout
{
    private StripLayout(double? dwell, Length? gap)
    {
        Dwell = dwell;
        Gap = gap;
    }

    /// <summary>Part of the pitch over which the brush touches its strip; null where the gap is given instead.</summary>
    [Dimensionless]
    public double? Dwell { get; }

    /// <summary>Clear distance from one strip to the next with a lead that does not grow; null where the dwell is given instead.</summary>
    public Length? Gap { get; }

    /// <summary>How much the strips lead; not at all by default.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public StripLead Lead { get; init => field = Require.Present(value, nameof(Lead)); } = StripLead.None;

    /// <summary>A layout by its dwell: strips follow the brush, and the brush never bridges.</summary>
    /// <param name="dwell">Part of the pitch over which the brush touches its strip, 0.05 to 0.99.</param>
    /// <exception cref="ArgumentOutOfRangeException">The dwell is out of its range.</exception>
    public static StripLayout OfDwell([Dimensionless] double dwell)
        => new(Require.InRange(dwell, 0.05, 0.99, "the rest of the pitch is the gap in which the current dies"), null);

    /// <summary>A layout by the gap between strips: the strips stay what they are for any brush, as long as it is shorter than the gap.</summary>
    /// <param name="gap">Clear distance from one strip to the next, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The gap is not above zero, or not finite.</exception>
    public static StripLayout OfGap(Length gap)
        => new(null, Require.Positive(gap, "strips of opposite rails that touch short the source"));

    /// <summary>The layout in words.</summary>
    public override string ToString() => $"{(Gap is Length gap ? $"gap {Show.Quantity(gap)}" : $"dwell {Show.Number(Dwell ?? 0)}")}, {Lead}";

    /// <summary>Length of the strip between two stations, m.</summary>
    internal double StripMeters(double pitch, Brush brush)
    {
        if (Gap is Length gap)
        {
            return gap.Meters < pitch
                ? pitch - gap.Meters
                : throw Require.Fault("gap", Show.Quantity(gap), $"shorter than the pitch, {Show.Quantity(Length.FromMeters(pitch))}", "nothing would be left of the strip");
        }

        double fed = Dwell!.Value * pitch;
        double strip = fed - brush.Length.Meters;
        return strip > 0
            ? strip
            : throw Require.Fault(nameof(brush), Show.Quantity(brush.Length), $"shorter than dwell times pitch, {Show.Quantity(Length.FromMeters(fed))}", "the fed stretch is the strip plus the brush, so nothing would be left of the strip");
    }
}
