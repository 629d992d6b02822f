using UnitsNet;

namespace Magrail;

/// <summary>Flat plates of mild steel behind the magnets of a facing pair, which lead the flux from one station to the next.</summary>
/// <remarks>
/// The field kernels take the iron as infinitely permeable and infinitely wide, and the magnets as standing flush on it: each plate is then a
/// mirror, and the pair an endless row of images (see <see cref="MagnetStation.FacingPair(MagnetBody, Length, BackIron?)"/>). Real
/// plates fall short of it where they end near the magnets and where they saturate:
/// <see cref="Track.FluxDensityInIron"/> estimates the flux density in the plate, to be held against <see cref="Saturation"/>. In and behind the iron
/// the field is not described.
/// </remarks>
public sealed record BackIron
{
    /// <summary>Describes the plates.</summary>
    /// <param name="thickness">Thickness of each plate, above zero.</param>
    /// <param name="height">Height of each plate, above zero; that of the magnet if left out.</param>
    /// <param name="saturation">
    /// Flux density from which the steel counts as saturated, 0.5 T to 2.4 T; 1.6 T if left out (mild steel: about 1.5 T to 2 T, common
    /// practice, no source).
    /// </param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside the range given with it.</exception>
    public BackIron(Length thickness, Length? height = null, MagneticField? saturation = null)
    {
        Thickness = Require.Positive(thickness, "a plate has a thickness");
        Height = height is null ? null : Require.Positive(height.Value, "a plate has a height", nameof(height));
        Saturation = Require.InRange(
            saturation ?? MagneticField.FromTeslas(1.6),
            MagneticField.FromTeslas(0.5),
            MagneticField.FromTeslas(2.4),
            "no iron carries more, and less is no iron",
            nameof(saturation));
    }

    /// <summary>Thickness of each plate.</summary>
    public Length Thickness { get; }

    /// <summary>Height of each plate; null for that of the magnet.</summary>
    public Length? Height { get; }

    /// <summary>Flux density from which the steel counts as saturated.</summary>
    public MagneticField Saturation { get; }

    /// <inheritdoc/>
    public override string ToString() => $"back iron {Show.Quantity(Thickness)} thick, saturated from {Show.Quantity(Saturation)}";
}
