using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// What the arcs of a launch take from a contact, and how many launches it lasts: mass = erosion figure × charge through the arc.
/// </summary>
/// <remarks>
/// Erosion figures of one material differ by a factor of several between sources, with gap, current and polarity; least and
/// greatest here are that honest. All the loss is counted on one member. Rubbing wear is not counted; where
/// launches are few and arcs strong it is the smaller part.
/// </remarks>
public sealed record ContactWear
{
    /// <summary>Wear by arcs.</summary>
    /// <param name="material">Material of the member that wears.</param>
    /// <param name="arcCharge">Charge that the arcs of one launch carry, their sizes added; zero or above.</param>
    /// <exception cref="ArgumentNullException"><paramref name="material"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The charge is below zero or not finite.</exception>
    public ContactWear(ContactMaterial material, ElectricCharge arcCharge)
    {
        ArgumentNullException.ThrowIfNull(material);
        Material = material;
        ArcCharge = Require.NotNegative(arcCharge, "the charges of all arcs are added by size");
        double coulombs = ArcCharge.Coulombs;
        MassLost = Scaled(material.ErosionPerCoulomb, coulombs);
    }

    /// <summary>Material of the member that wears.</summary>
    public ContactMaterial Material { get; }

    /// <summary>Charge that the arcs of one launch carry.</summary>
    public ElectricCharge ArcCharge { get; }

    /// <summary>Mass lost in one launch.</summary>
    public PropertyRange<Mass> MassLost { get; }

    /// <summary>Volume lost in one launch: mass over density, the spread of both taken together.</summary>
    public PropertyRange<Volume> VolumeLost => new(
        Volume.FromCubicMeters(MassLost.Least.Kilograms / Material.Density.Greatest.KilogramsPerCubicMeter),
        Volume.FromCubicMeters(MassLost.Typical.Kilograms / Material.Density.Typical.KilogramsPerCubicMeter),
        Volume.FromCubicMeters(MassLost.Greatest.Kilograms / Material.Density.Least.KilogramsPerCubicMeter));

    /// <summary>How many launches a contact lasts that may lose a volume.</summary>
    /// <param name="sacrificial">Volume that may go before the contact is spent, above zero.</param>
    /// <returns>Launches: least, typical, greatest.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The volume is not above zero, or not finite.</exception>
    public ContactLife LifeOf(Volume sacrificial)
    {
        double cubicMeters = Require.Positive(sacrificial, "a contact with nothing to lose is spent").CubicMeters;
        PropertyRange<Volume> lost = VolumeLost;
        return new ContactLife(
            cubicMeters / lost.Greatest.CubicMeters,
            cubicMeters / lost.Typical.CubicMeters,
            cubicMeters / lost.Least.CubicMeters);
    }

    /// <summary>The wear in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"{Material} loses {MassLost} a launch";

    private static PropertyRange<Mass> Scaled(PropertyRange<Mass> perCoulomb, double coulombs)
        => new(perCoulomb.Least * coulombs, perCoulomb.Typical * coulombs, perCoulomb.Greatest * coulombs);
}

/// <summary>A number of launches, with the range that wear is known to; infinite where nothing wears.</summary>
/// <param name="Least">The least.</param>
/// <param name="Typical">The typical number.</param>
/// <param name="Greatest">The greatest.</param>
[Dimensionless]
public sealed record ContactLife(double Least, double Typical, double Greatest)
{
    /// <summary>The numbers, two digits each: more is not known.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => double.IsFinite(Greatest) ? $"{Round(Typical)} launches ({Round(Least)} to {Round(Greatest)})" : "any number of launches";

    private static string Round(double launches)
    {
        CultureInfo plain = CultureInfo.InvariantCulture;
        return launches < 1 ? "less than one" : double.Parse(launches.ToString("E1", plain), plain).ToString("#,0", plain);
    }
}
