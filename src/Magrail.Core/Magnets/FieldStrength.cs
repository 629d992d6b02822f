using UnitsNet;

namespace Magrail;

/// <summary>The magnetic field strength H at a point in A/m, by its components in the track's frame.</summary>
/// <remarks>UnitsNet has no quantity of its own for H; its <see cref="Magnetization"/> has the same unit, A/m.</remarks>
/// <param name="Along">Hx, along the track.</param>
/// <param name="Across">Hy, across the gap.</param>
/// <param name="Up">Hz, upward.</param>
public readonly record struct FieldStrength(Magnetization Along, Magnetization Across, Magnetization Up)
{
    /// <summary>|H|.</summary>
    public Magnetization Magnitude => Magnetization.FromAmperesPerMeter(ToSi().Length);

    /// <inheritdoc/>
    public override string ToString()
        => $"H = ({Show.Quantity(Along)} along, {Show.Quantity(Across)} across, {Show.Quantity(Up)} up)";

    internal static FieldStrength FromSi(Vector3D h) => new(
        Magnetization.FromAmperesPerMeter(h.X), Magnetization.FromAmperesPerMeter(h.Y), Magnetization.FromAmperesPerMeter(h.Z));

    internal Vector3D ToSi() => new(Along.AmperesPerMeter, Across.AmperesPerMeter, Up.AmperesPerMeter);
}
