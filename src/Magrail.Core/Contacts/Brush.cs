using UnitsNet;

namespace Magrail;

/// <summary>A sliding contact on the sled: it conducts while any part of its length lies on a strip.</summary>
/// <remarks>
/// The contact resistance is one constant number, at full overlap; it does not rise as the brush leaves a strip.
/// </remarks>
public sealed record Brush
{
    /// <summary>Describes a brush.</summary>
    /// <param name="length">Its length along the track, above zero.</param>
    /// <param name="resistance">Resistance from strip to lead: constriction, film and the body of the brush; zero or above, 5 mohm by default (common practice, no source).</param>
    /// <param name="force">Force that presses it on the strip, zero or above, 1 N by default (common practice, no source).</param>
    /// <param name="offset">How far its middle lies ahead of the middle of its coil; zero by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public Brush(Length length, ElectricResistance? resistance = null, Force? force = null, Length? offset = null)
    {
        Length = Require.Positive(length, "a brush of no length touches nothing");
        Resistance = Require.NotNegative(resistance ?? ElectricResistance.FromMilliohms(5), "a contact dissipates, it does not drive", nameof(resistance));
        Force = Require.NotNegative(force ?? Force.FromNewtons(1), "a spring presses the brush on the strip", nameof(force));
        Offset = Require.Finite(offset ?? Length.Zero, "a brush has a place on the sled", nameof(offset));
    }

    /// <summary>Length along the track.</summary>
    public Length Length { get; }

    /// <summary>Resistance from strip to lead at full overlap.</summary>
    public ElectricResistance Resistance { get; }

    /// <summary>Force that presses the brush on the strip.</summary>
    public Force Force { get; }

    /// <summary>How far the brush's middle lies ahead of the middle of its coil.</summary>
    public Length Offset { get; }

    /// <summary>The brush in words.</summary>
    public override string ToString() => $"brush {Show.Quantity(Length)} long, {Show.Quantity(Resistance)}, pressed with {Show.Quantity(Force)}";
}
