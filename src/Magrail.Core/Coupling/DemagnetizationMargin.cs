using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>The worst point of one magnet.</summary>
/// <param name="Station">The number of its station, from 0.</param>
/// <param name="Magnet">Its number in the station, from 0.</param>
/// <param name="Body">The magnet.</param>
/// <param name="Along">The worst point from the station's origin, along the track.</param>
/// <param name="Across">The same, across the gap.</param>
/// <param name="Up">The same, upward.</param>
/// <param name="MagnetsField">Field strength against the magnetization there by all magnets, its own included.</param>
/// <param name="CoilField">Field strength against the magnetization there that the coil adds at its worst place and sense.</param>
/// <param name="IntrinsicCoercivity">The grade's guaranteed intrinsic coercivity at the temperature.</param>
public sealed record DemagnetizationMargin(
    int Station,
    int Magnet,
    MagnetBody Body,
    Length Along,
    Length Across,
    Length Up,
    Magnetization MagnetsField,
    Magnetization CoilField,
    Magnetization IntrinsicCoercivity)
{
    /// <summary>Field strength against the magnetization in all.</summary>
    public Magnetization Field => Magnetization.FromAmperesPerMeter(MagnetsField.AmperesPerMeter + CoilField.AmperesPerMeter);

    /// <summary>What is left: 1 - field over intrinsic coercivity. One where nothing opposes the magnet, zero at the coercivity, negative beyond.</summary>
    [Dimensionless]
    public double Margin => 1 - (Field.AmperesPerMeter / IntrinsicCoercivity.AmperesPerMeter);

    /// <inheritdoc/>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"magnet {Station + 1}{(char)('a' + Math.Min(Magnet, 25))} stands {Show.Quantity(Field)} of its {Show.Quantity(IntrinsicCoercivity)} ({Show.Quantity(CoilField)} from the coil), margin {Margin:P0}");
}
