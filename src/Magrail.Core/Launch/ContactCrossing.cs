using UnitsNet;

namespace Magrail;

/// <summary>A change of the electrical connection of one coil circuit: at a contact edge, at the switch, or as a current ends.</summary>
/// <param name="Time">When.</param>
/// <param name="Position">Where the sled's mark was.</param>
/// <param name="Speed">How fast the sled was.</param>
/// <param name="Circuit">Which circuit.</param>
/// <param name="Before">Its connection just before.</param>
/// <param name="After">Its connection just after.</param>
/// <param name="CurrentBefore">Coil current just before.</param>
/// <param name="CurrentAfter">Coil current just after; differs only in an ideal break.</param>
public sealed record ContactCrossing(
    Duration Time,
    Length Position,
    Speed Speed,
    int Circuit,
    CircuitConnection Before,
    CircuitConnection After,
    ElectricCurrent CurrentBefore,
    ElectricCurrent CurrentAfter)
{
    /// <summary>The crossing in words.</summary>
    public override string ToString()
        => $"{Show.Quantity(Time)}, {Show.Quantity(Position)}: circuit {Circuit} from {Before} to {After} at {Show.Quantity(CurrentBefore)}";
}

/// <summary>What a coil circuit is connected to.</summary>
public enum CircuitConnection
{
    /// <summary>To nothing, without current.</summary>
    Open,

    /// <summary>To the source, upper brush on plus.</summary>
    Forward,

    /// <summary>To the source, upper brush on minus.</summary>
    Reverse,

    /// <summary>To itself: both brushes on one rail.</summary>
    Shorted,

    /// <summary>To its clamp, which takes its current after a break.</summary>
    Clamped,

    /// <summary>To the resistor, or the resistor and capacitor, across it, with its contacts open.</summary>
    Suppressed,

    /// <summary>To the source through arcs at contacts that have parted.</summary>
    Arcing,

    /// <summary>To the source through a brush that bridges strips of opposite rails.</summary>
    Bridged,
}
