using UnitsNet;

namespace Magrail;

/// <summary>A charged capacitor bank with its equivalent series resistance.</summary>
/// <remarks>
/// Its voltage is a state of the launch: du/dt = −i/C. Not modeled: leakage, dielectric absorption, and the reverse voltage
/// limit of electrolytic capacitors.
/// A charged bank is stored energy (½ C V²): it can deliver all of it in milliseconds into a short circuit, and keeps it long after the plug is out.
/// </remarks>
public sealed record CapacitorBank : PowerSource
{
    /// <summary>Describes a bank.</summary>
    /// <param name="capacitance">Capacitance of the whole bank, above zero.</param>
    /// <param name="initialVolts">Voltage at the start of the launch, above zero.</param>
    /// <param name="seriesResistance">Equivalent series resistance of the whole bank, zero or above.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public CapacitorBank(ElectricCapacitance capacitance, ElectricPotential initialVolts, ElectricResistance seriesResistance)
    {
        Capacitance = Require.Positive(capacitance, "a bank of no capacitance holds nothing");
        InitialVolts = Require.Positive(initialVolts, "polarity is set by the strips, and an empty bank drives nothing");
        SeriesResistance = Require.NotNegative(seriesResistance, "a capacitor does not amplify its own current");
    }

    /// <summary>Capacitance of the whole bank.</summary>
    public ElectricCapacitance Capacitance { get; }

    /// <summary>Voltage at the start of the launch.</summary>
    public ElectricPotential InitialVolts { get; }

    /// <summary>Equivalent series resistance of the whole bank.</summary>
    public ElectricResistance SeriesResistance { get; }

    /// <summary>Energy stored at the start, ½ C V².</summary>
    public Energy StoredEnergy => Energy.FromJoules(0.5 * Capacitance.Farads * InitialVolts.Volts * InitialVolts.Volts);

    /// <summary>The bank in words.</summary>
    public override string ToString()
        => $"capacitor bank {Show.Quantity(Capacitance)} at {Show.Quantity(InitialVolts)} ({Show.Quantity(StoredEnergy)} stored)";

    internal override SourceSi ToSi()
        => new(InitialVolts.Volts, SeriesResistance.Ohms, double.PositiveInfinity, Capacitance.Farads);
}
