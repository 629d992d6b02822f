using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// How hot the touching spots of a contact get: the voltage-temperature relation V² = 4 L₀ (T_max² − T₀²) between the voltage across a
/// contact and its hottest spot, whatever its shape.
/// </summary>
/// <remarks>
/// Holds in the steady state, which a spot of some tens of micrometers reaches in microseconds, where heat and current flow by the same paths and both
/// members are metals that follow Wiedemann and Franz: within 5 % in voltage for copper, silver, gold, tin and tungsten, 18 % low
/// for nickel, and not at all for carbon. T₀ is the temperature of the bulk of the contact, not of the room.
/// Source: R. Holm, Electric Contacts, 4th edition.
/// </remarks>
public static class ContactTemperature
{
    /// <summary>Temperature of the hottest spot, T_max = √(T₀² + V²/(4 L₀)).</summary>
    /// <param name="voltage">Voltage across the contact, either sign.</param>
    /// <param name="bulk">Temperature of the bulk, above −273.15 °C; 20 °C by default.</param>
    /// <returns>The temperature. Above the melting point it only says that the spot melts.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static Temperature HottestSpot(ElectricPotential voltage, Temperature? bulk = null)
    {
        double volts = Require.Finite(voltage, "a contact has a voltage").Volts;
        return Temperature.FromKelvins(HottestKelvins(volts, Bulk(bulk)));
    }

    /// <summary>Voltage across the contact at which its hottest spot reaches a temperature, V = 2 √(L₀ (T_max² − T₀²)).</summary>
    /// <param name="hottest">Temperature of the hottest spot, the bulk's or above.</param>
    /// <param name="bulk">Temperature of the bulk, above −273.15 °C; 20 °C by default.</param>
    /// <returns>The voltage.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static ElectricPotential VoltageFor(Temperature hottest, Temperature? bulk = null)
    {
        double cold = Bulk(bulk);
        double hot = Require.InRange(hottest, Temperature.FromKelvins(cold), Temperature.FromKelvins(1e5), "a contact is hotter than its surroundings").Kelvins;
        return ElectricPotential.FromVolts(2 * Math.Sqrt(PhysicalConstants.LorenzNumber * ((hot * hot) - (cold * cold))));
    }

    /// <summary>
    /// Current that brings a contact to a voltage, such as its softening or melting voltage, as its resistance rises with its heat:
    /// I = 2 √L₀ T₀ arccos(T₀/T_max) / R₀.
    /// </summary>
    /// <remarks>
    /// Resistivity in proportion to absolute temperature is assumed, which is what Wiedemann and Franz leave for a constant thermal conductivity. Dividing the
    /// voltage by the cold resistance would allow a current too high, by 40 % at copper's softening and threefold at its melting. In turn it
    /// lets the spot keep its size; real spots that soften spread, resist less, and bear somewhat more.
    /// </remarks>
    /// <param name="voltage">The voltage, above zero.</param>
    /// <param name="coldResistance">Constriction resistance of the contact at the bulk's temperature, above zero.</param>
    /// <param name="bulk">Temperature of the bulk, above −273.15 °C; 20 °C by default.</param>
    /// <returns>The current.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static ElectricCurrent CurrentAt(ElectricPotential voltage, ElectricResistance coldResistance, Temperature? bulk = null)
    {
        double volts = Require.Positive(voltage, "no heat without a voltage").Volts;
        double ohms = Require.Positive(coldResistance, "no heat without a resistance").Ohms;
        double cold = Bulk(bulk);

        // φ measured from the hottest surface: L₀ T² = L₀ T_max² − φ², and i R₀/2 = ∫ (ρ₀/ρ) dφ from 0 to V/2 with ρ/ρ₀ = T/T₀.
        // arccos(T₀/T_max) = atan(V / (2 √L₀ T₀)), which keeps its digits for small voltages.
        double unit = 2 * Math.Sqrt(PhysicalConstants.LorenzNumber) * cold;
        return ElectricCurrent.FromAmperes(unit * Math.Atan(volts / unit) / ohms);
    }

    /// <summary>T_max in kelvins from volts and T₀ in kelvins.</summary>
    internal static double HottestKelvins(double volts, double bulkKelvins)
        => Math.Sqrt((bulkKelvins * bulkKelvins) + (volts * volts / (4 * PhysicalConstants.LorenzNumber)));

    private static double Bulk(Temperature? bulk)
    {
        double kelvins = Require.Finite(bulk ?? Temperature.FromDegreesCelsius(20), "a contact has a temperature", nameof(bulk)).Kelvins;
        return kelvins > 0 ? kelvins : throw Require.Fault(nameof(bulk), Show.Quantity(Temperature.FromKelvins(kelvins)), "above -273.15 °C", "nothing is colder");
    }
}
