using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The resistance of a brush on a strip and what it is made of: the constriction of the current to the touching spots, the film on them,
/// and the body of the brush.
/// </summary>
/// <remarks>
/// The force F is borne by spots that yield at the hardness H of the softer member: area F/H, and as one round spot of radius
/// a = √(F/(π H)). Each member then adds the constriction ρ/(4 a), both together (ρ₁ + ρ₂)/4 · √(π H/F), which is ρ/2 · √(π H/F) where
/// they are alike. The film adds its resistance times area, over F/H; of two films the worse one counts. The body adds ρ l/A.
/// One spot is the most that the constriction can be: many spots apart from each other lower it. Spots so small that
/// electrons fly through them raise it. Take it as right to a factor of two. Source: R. Holm, Electric Contacts, 4th edition.
/// </remarks>
public sealed record ContactResistance
{
    /// <summary>States the parts of a resistance, such as measured ones.</summary>
    /// <param name="constriction">Constriction at full overlap, zero or above.</param>
    /// <param name="film">Film at full overlap, zero or above.</param>
    /// <param name="body">Body of the brush, zero or above; zero by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is below zero or not finite.</exception>
    public ContactResistance(ElectricResistance constriction, ElectricResistance film, ElectricResistance? body = null)
    {
        Constriction = Require.NotNegative(constriction, "a contact dissipates, it does not drive");
        Film = Require.NotNegative(film, "a film dissipates, it does not drive");
        Body = Require.NotNegative(body ?? ElectricResistance.Zero, "a brush dissipates, it does not drive", nameof(body));
    }

    /// <summary>The resistance of one material pressed on another, from typical values.</summary>
    /// <param name="brush">Material of the brush.</param>
    /// <param name="strip">Material of the strip.</param>
    /// <param name="force">Force between them, above zero.</param>
    /// <exception cref="ArgumentNullException">A material is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The force is not above zero, or not finite.</exception>
    public static ContactResistance Between(ContactMaterial brush, ContactMaterial strip, Force force)
    {
        ArgumentNullException.ThrowIfNull(brush);
        ArgumentNullException.ThrowIfNull(strip);
        double newtons = Require.Positive(force, "parts that do not touch do not conduct").Newtons;
        return Of(
            brush.Resistivity.Typical.OhmMeters + strip.Resistivity.Typical.OhmMeters,
            Math.Max(FilmOhmSquareMeters(brush.FilmResistanceOfSquareMillimeter.Typical), FilmOhmSquareMeters(strip.FilmResistanceOfSquareMillimeter.Typical)),
            Math.Min(brush.Hardness.Typical.Pascals, strip.Hardness.Typical.Pascals),
            newtons);
    }

    /// <summary>The same with everything at its least, typical and greatest: how well the sum of constriction and film is known.</summary>
    /// <param name="brush">Material of the brush.</param>
    /// <param name="strip">Material of the strip.</param>
    /// <param name="force">Force between them, above zero.</param>
    /// <returns>Constriction and film, without the body.</returns>
    /// <exception cref="ArgumentNullException">A material is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The force is not above zero, or not finite.</exception>
    public static PropertyRange<ElectricResistance> RangeBetween(ContactMaterial brush, ContactMaterial strip, Force force)
    {
        ElectricResistance typical = Between(brush, strip, force).Total;
        double newtons = force.Newtons;
        ContactResistance least = Of(
            brush.Resistivity.Least.OhmMeters + strip.Resistivity.Least.OhmMeters,
            Math.Max(FilmOhmSquareMeters(brush.FilmResistanceOfSquareMillimeter.Least), FilmOhmSquareMeters(strip.FilmResistanceOfSquareMillimeter.Least)),
            Math.Min(brush.Hardness.Least.Pascals, strip.Hardness.Least.Pascals),
            newtons);
        ContactResistance greatest = Of(
            brush.Resistivity.Greatest.OhmMeters + strip.Resistivity.Greatest.OhmMeters,
            Math.Max(FilmOhmSquareMeters(brush.FilmResistanceOfSquareMillimeter.Greatest), FilmOhmSquareMeters(strip.FilmResistanceOfSquareMillimeter.Greatest)),
            Math.Min(brush.Hardness.Greatest.Pascals, strip.Hardness.Greatest.Pascals),
            newtons);
        return new PropertyRange<ElectricResistance>(least.Total, typical, greatest.Total);
    }

    /// <summary>Constriction of the current lines to the touching spots, of both members.</summary>
    public ElectricResistance Constriction { get; }

    /// <summary>Film on the touching spots.</summary>
    public ElectricResistance Film { get; }

    /// <summary>Body of the brush, from its foot to its lead.</summary>
    public ElectricResistance Body { get; }

    /// <summary>Constriction, film and body at full overlap.</summary>
    public ElectricResistance Total => Constriction + Film + Body;

    /// <summary>The same contact with the body of a brush, ρ l/A.</summary>
    /// <param name="material">Material of the brush.</param>
    /// <param name="length">From its foot to its lead, zero or above.</param>
    /// <param name="section">Its section, above zero.</param>
    /// <exception cref="ArgumentNullException"><paramref name="material"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public ContactResistance WithBody(ContactMaterial material, Length length, Area section)
    {
        ArgumentNullException.ThrowIfNull(material);
        double meters = Require.NotNegative(length, "a brush has a length").Meters;
        double squareMeters = Require.Positive(section, "a brush has a section").SquareMeters;
        return new ContactResistance(Constriction, Film, ElectricResistance.FromOhms(material.Resistivity.Typical.OhmMeters * meters / squareMeters));
    }

    /// <summary>
    /// The resistance while only a part of the brush lies on the strip: constriction/√overlap + (film + body)/overlap.
    /// </summary>
    /// <remarks>
    /// The force is taken as shared evenly over the foot of the brush, so that the strip bears the overlapping part of it: the touching area
    /// shrinks with the overlap, its radius with the root. The body is taken as conducting straight up from the overlap. Both err to the high side: a brush
    /// that tilts presses harder on its last edge, and current spreads inside it.
    /// </remarks>
    /// <param name="overlap">Part of the brush's length that lies on the strip, above 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The overlap is out of its range.</exception>
    public ElectricResistance At([Dimensionless] double overlap)
        => overlap > 0 && overlap <= 1
            ? ElectricResistance.FromOhms(ToSi().At(overlap))
            : throw Require.Fault(nameof(overlap), Show.Number(overlap), "above 0 to 1", "a brush lies on the strip with a part of its length");

    /// <summary>The resistance in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => $"{Show.Quantity(Total)} (constriction {Show.Quantity(Constriction)}, film {Show.Quantity(Film)}, body {Show.Quantity(Body)})";

    /// <summary>Plain numbers for the engine.</summary>
    internal ContactResistanceSi ToSi() => new(Constriction.Ohms, Film.Ohms + Body.Ohms);

    private static double FilmOhmSquareMeters(ElectricResistance ofSquareMillimeter) => 1e-6 * ofSquareMillimeter.Ohms;

    private static ContactResistance Of(double resistivities, double film, double hardness, double force)
        => new(
            ElectricResistance.FromOhms(0.25 * resistivities * Math.Sqrt(Math.PI * hardness / force)),
            ElectricResistance.FromOhms(film * hardness / force));
}

/// <summary>Contact resistance split by how it grows as the overlap shrinks.</summary>
/// <param name="ByRoot">The part that goes as 1/√overlap (constriction), in ohms.</param>
/// <param name="ByOverlap">The part that goes as 1/overlap (film and body), in ohms.</param>
internal readonly record struct ContactResistanceSi(double ByRoot, double ByOverlap)
{
    /// <summary>Ohms at an overlap above 0 to 1; without bound as it goes to zero.</summary>
    public double At(double overlap) => (ByRoot / Math.Sqrt(overlap)) + (ByOverlap / overlap);
}
