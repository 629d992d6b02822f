using UnitsNet;

namespace Magrail;

/// <summary>The magnetic flux density B at a point, by its components in the track's frame.</summary>
/// <param name="Along">Bx, along the track.</param>
/// <param name="Across">By, across the gap.</param>
/// <param name="Up">Bz, upward.</param>
public readonly record struct FluxDensity(MagneticField Along, MagneticField Across, MagneticField Up)
{
    /// <summary>|B|.</summary>
    public MagneticField Magnitude => MagneticField.FromTeslas(ToSi().Length);

    /// <inheritdoc/>
    public override string ToString()
        => $"B = ({Show.Quantity(Along)} along, {Show.Quantity(Across)} across, {Show.Quantity(Up)} up)";

    internal static FluxDensity FromSi(Vector3D b)
        => new(MagneticField.FromTeslas(b.X), MagneticField.FromTeslas(b.Y), MagneticField.FromTeslas(b.Z));

    internal Vector3D ToSi() => new(Along.Teslas, Across.Teslas, Up.Teslas);
}
