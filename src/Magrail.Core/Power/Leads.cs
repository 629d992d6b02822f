using UnitsNet;

namespace Magrail;

/// <summary>The wiring from the source to the strips and back, as one resistance.</summary>
/// <remarks>The inductance of the leads is neglected: a meter of cable has about a microhenry, a coil hundreds.</remarks>
public sealed record Leads
{
    /// <summary>Describes leads by their resistance.</summary>
    /// <param name="resistance">Resistance there and back, zero or above.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is negative or not finite.</exception>
    public Leads(ElectricResistance resistance)
        => Resistance = Require.NotNegative(resistance, "leads dissipate, they do not drive");

    /// <summary>Leads without resistance.</summary>
    public static Leads Ideal { get; } = new(ElectricResistance.Zero);

    /// <summary>Resistance there and back.</summary>
    public ElectricResistance Resistance { get; }

    /// <summary>Copper section, from which it follows how hot they get; null where the leads are described by their resistance alone.</summary>
    public Area? Section { get; private init; }

    /// <summary>Copper leads at 20 °C.</summary>
    /// <param name="length">Length of cable there and back, above zero.</param>
    /// <param name="section">Copper section, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static Leads OfCopper(Length length, Area section)
    {
        double meters = Require.Positive(length, "leads have a length").Meters;
        double squareMeters = Require.Positive(section, "a cable has a section").SquareMeters;
        return new Leads(ElectricResistance.FromOhms(Conductor.Copper.Resistivity.OhmMeters * meters / squareMeters)) { Section = Area.FromSquareMeters(squareMeters) };
    }

    /// <summary>The leads in words.</summary>
    public override string ToString() => $"leads of {Show.Quantity(Resistance)}";
}
