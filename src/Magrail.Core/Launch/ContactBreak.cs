using UnitsNet;

namespace Magrail;

/// <summary>A contact that parted under current: what it broke and what that cost at the contact.</summary>
/// <param name="Time">When the contact parted.</param>
/// <param name="Position">Where the sled's mark was.</param>
/// <param name="Speed">How fast the sled was.</param>
/// <param name="Circuit">Which circuit.</param>
/// <param name="Current">Current through the contact just before; its sign is that of the coil's.</param>
/// <param name="Contacts">How many contacts parted together, in series: both brushes at the end of a pair of strips, one, or the switch.</param>
/// <param name="Duration">How long arcs burned; zero where none did.</param>
/// <param name="Gap">How far the brush had gone from the strip as the arc ended.</param>
/// <param name="Energy">Energy of the arcs; with the ideal break, the field energy that was lost.</param>
/// <param name="Charge">Charge through the arcs: what wears the metal.</param>
/// <param name="PeakCoilVoltage">
/// The greatest voltage across the coil from the parting to the next contact, sampled at five points a step; null with the ideal break, which has no
/// bound.
/// </param>
/// <param name="Ending">What ended it.</param>
/// <param name="FlashOverPosition">Where the arc reached a strip of the other rail; null where it did not.</param>
public sealed record ContactBreak(
    Duration Time,
    Length Position,
    Speed Speed,
    int Circuit,
    ElectricCurrent Current,
    int Contacts,
    Duration Duration,
    Length Gap,
    Energy Energy,
    ElectricCharge Charge,
    ElectricPotential? PeakCoilVoltage,
    BreakEnding Ending,
    Length? FlashOverPosition)
{
    /// <summary>The break in words.</summary>
    public override string ToString()
    {
        string head = $"{Show.Quantity(Time)}, {Show.Quantity(Position)}: {Show.Quantity(Current)} broken";
        string spark = Duration.Seconds > 0 ? $", arc of {Show.Quantity(Duration)}, {Show.Quantity(Energy)}" : Energy.Joules > 0 ? $", {Show.Quantity(Energy)} lost" : "";
        return head + spark + (FlashOverPosition is Length place ? $", flash-over at {Show.Quantity(place)}" : "");
    }
}

/// <summary>What ended a break at a contact.</summary>
public enum BreakEnding
{
    /// <summary>The run ended first.</summary>
    Unfinished,

    /// <summary>The ideal break: the current died at once.</summary>
    Lost,

    /// <summary>What lies across the coil took the current over: a clamp, a resistor, a resistor and a capacitor.</summary>
    Suppressed,

    /// <summary>The arc's current came to zero.</summary>
    DiedOut,

    /// <summary>The contact closed again: the same rail, or the switch.</summary>
    Touched,

    /// <summary>The brush reached a strip of the other rail with its arc still burning.</summary>
    FlashOver,
}
