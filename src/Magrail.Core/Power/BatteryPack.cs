using UnitsNet;

namespace Magrail;

/// <summary>A battery pack: open-circuit voltage behind an internal resistance.</summary>
/// <remarks>
/// The open-circuit voltage is constant over a launch, which holds while the charge drawn (the energy drawn over that
/// voltage) is a small part of the capacity. A launch draws far less than a hundredth of an ampere-hour.
/// </remarks>
public sealed record BatteryPack : PowerSource
{
    /// <summary>Describes a battery pack.</summary>
    /// <param name="openCircuitVolts">Voltage without load, above zero.</param>
    /// <param name="internalResistance">Internal resistance of the whole pack, above zero.</param>
    /// <param name="capacity">Charge it holds, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public BatteryPack(ElectricPotential openCircuitVolts, ElectricResistance internalResistance, ElectricCharge capacity)
    {
        OpenCircuitVolts = Require.Positive(openCircuitVolts, "polarity is set by the strips, and zero volts drive nothing");
        InternalResistance = Require.Positive(internalResistance, "every battery has some, and it decides the current of a launcher");
        Capacity = Require.Positive(capacity, "an empty pack drives nothing");
    }

    /// <summary>Voltage without load.</summary>
    public ElectricPotential OpenCircuitVolts { get; }

    /// <summary>Internal resistance of the whole pack.</summary>
    public ElectricResistance InternalResistance { get; }

    /// <summary>Charge the pack holds.</summary>
    public ElectricCharge Capacity { get; }

    /// <summary>
    /// The most that the pack can give to what is connected to it, V²/(4 R): at half its voltage, with a load of its own internal resistance, and as much heat inside it.
    /// </summary>
    public Power GreatestPower => OpenCircuitVolts * (OpenCircuitVolts / (4 * InternalResistance));

    /// <summary>The pack in words.</summary>
    public override string ToString() => $"battery pack {Show.Quantity(OpenCircuitVolts)}, {Show.Quantity(InternalResistance)}";

    internal override SourceSi ToSi()
        => new(OpenCircuitVolts.Volts, InternalResistance.Ohms, double.PositiveInfinity, double.PositiveInfinity);
}
