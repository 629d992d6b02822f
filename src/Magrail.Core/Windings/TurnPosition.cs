using UnitsNet;

namespace Magrail;

/// <summary>Where a turn lies in the winding section: its layer, and the center of its wire.</summary>
public sealed record TurnPosition
{
    internal TurnPosition(int layer, double depth, double axial)
    {
        Layer = layer;
        Depth = Length.FromMeters(depth);
        Axial = Length.FromMeters(axial);
    }

    /// <summary>The layer, 1 at the core.</summary>
    public int Layer { get; }

    /// <summary>Center of the wire above the core's surface.</summary>
    public Length Depth { get; }

    /// <summary>Center of the wire along the coil's axis, from the middle of the coil.</summary>
    public Length Axial { get; }

    /// <summary>Layer and place.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => FormattableString.Invariant($"layer {Layer}, depth {Show.Quantity(Depth)}, axial {Show.Quantity(Axial)}");
}
