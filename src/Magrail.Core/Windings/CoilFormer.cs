using UnitsNet;

namespace Magrail;

/// <summary>
/// What a coil is wound on: a core whose section is a rounded rectangle, and the winding window (axial length between
/// the flanges, and depth if the flanges end somewhere).
/// </summary>
/// <remarks>
/// For a flat coil (axis across the gap) the width lies along the track and the height is upright. The turn at depth s
/// follows the section offset outward by s: straight parts unchanged, corner radius <c>Corner + s</c>. The record is
/// immutable.
/// </remarks>
public sealed record CoilFormer
{
    private CoilFormer(Length width, Length height, Length corner, Length length, Length? depth)
    {
        Width = width;
        Height = height;
        Corner = corner;
        Length = length;
        Depth = depth;
    }

    /// <summary>Width of the core's section.</summary>
    public Length Width { get; }

    /// <summary>Height of the core's section.</summary>
    public Length Height { get; }

    /// <summary>Corner radius of the core's section; half of width and height for a round core.</summary>
    public Length Corner { get; }

    /// <summary>Axial length of the winding window, between the flanges.</summary>
    public Length Length { get; }

    /// <summary>Depth of the winding window, core to flange edge; <see langword="null"/> if nothing limits the winding.</summary>
    public Length? Depth { get; }

    /// <summary>A former with a rounded rectangular core.</summary>
    /// <param name="width">Width of the core, above zero.</param>
    /// <param name="height">Height of the core, above zero.</param>
    /// <param name="corner">Corner radius, zero to half of the smaller of width and height.</param>
    /// <param name="length">Axial length of the winding window, above zero.</param>
    /// <param name="depth">Depth of the winding window, above zero; leave it out if nothing limits the winding.</param>
    /// <returns>The former.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A length is outside the range given with it.</exception>
    public static CoilFormer Rounded(Length width, Length height, Length corner, Length length, Length? depth = null)
    {
        Length w = Require.Positive(width, "the core has a section");
        Length h = Require.Positive(height, "the core has a section");
        Length half = Length.FromMeters(0.5 * Math.Min(w.Meters, h.Meters));
        Length r = Require.NotNegative(corner, "a corner radius is no negative length");
        if (r.Meters > half.Meters * (1 + 1e-12))
        {
            throw Require.Fault(
                nameof(corner),
                Show.Quantity(r),
                $"zero to {Show.Quantity(half)}",
                "two corners share the shorter side, so each has half of it at most");
        }

        return new CoilFormer(
            w,
            h,
            Length.FromMeters(Math.Min(r.Meters, half.Meters)),
            Require.Positive(length, "turns need room between the flanges"),
            depth is null ? null : Require.Positive(depth.Value, "turns need room above the core", nameof(depth)));
    }

    /// <summary>A former with a round core.</summary>
    /// <param name="diameter">Diameter of the core, above zero.</param>
    /// <param name="length">Axial length of the winding window, above zero.</param>
    /// <param name="depth">Depth of the winding window, above zero; leave it out if nothing limits the winding.</param>
    /// <returns>The former.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A length is outside the range given with it.</exception>
    public static CoilFormer Round(Length diameter, Length length, Length? depth = null)
    {
        Length d = Require.Positive(diameter, "the core has a section");
        return Rounded(d, d, Length.FromMeters(0.5 * d.Meters), length, depth);
    }

    /// <summary>A former with a racetrack core: two half circles joined by straight legs (a circle if width and height are equal).</summary>
    /// <param name="width">Width of the core, above zero.</param>
    /// <param name="height">Height of the core, above zero.</param>
    /// <param name="length">Axial length of the winding window, above zero.</param>
    /// <param name="depth">Depth of the winding window, above zero; leave it out if nothing limits the winding.</param>
    /// <returns>The former.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A length is outside the range given with it.</exception>
    public static CoilFormer Racetrack(Length width, Length height, Length length, Length? depth = null)
    {
        Length w = Require.Positive(width, "the core has a section");
        Length h = Require.Positive(height, "the core has a section");
        return Rounded(w, h, Length.FromMeters(0.5 * Math.Min(w.Meters, h.Meters)), length, depth);
    }

    /// <summary>
    /// A former with a sharp-edged rectangular core. The innermost turn is taken to follow the edge; real wire bows out between
    /// the edges by a good part of its diameter.
    /// </summary>
    /// <param name="width">Width of the core, above zero.</param>
    /// <param name="height">Height of the core, above zero.</param>
    /// <param name="length">Axial length of the winding window, above zero.</param>
    /// <param name="depth">Depth of the winding window, above zero; leave it out if nothing limits the winding.</param>
    /// <returns>The former.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A length is outside the range given with it.</exception>
    public static CoilFormer Rectangular(Length width, Length height, Length length, Length? depth = null)
        => Rounded(width, height, Length.Zero, length, depth);

    /// <summary>Length of the turn at a depth: 2 (width − 2 r) + 2 (height − 2 r) + 2 π (r + depth).</summary>
    /// <param name="depth">Depth above the core, zero or above.</param>
    /// <returns>The length of one turn.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The depth is negative or not finite.</exception>
    public Length TurnLengthAt(Length depth)
        => Length.FromMeters(TurnLengthAt(Require.NotNegative(depth, "turns lie outside the core").Meters));

    /// <summary>Section and window, such as <c>12 mm × 18 mm, corner 3 mm, length 7 mm</c>.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => $"{Show.Quantity(Width)} × {Show.Quantity(Height)}, corner {Show.Quantity(Corner)}, length {Show.Quantity(Length)}"
            + (Depth is { } depth ? $", depth {Show.Quantity(depth)}" : string.Empty);

    /// <summary>Length of the turn at a depth, meters.</summary>
    internal double TurnLengthAt(double depth)
        => (2 * (Width.Meters + Height.Meters - (4 * Corner.Meters))) + (2 * Math.PI * (Corner.Meters + depth));
}
