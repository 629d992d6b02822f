using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A contact material, of a strip or a brush: what it takes to draw an arc from it, what it takes to soften and melt it, and what its
/// contact resistance comes from.
/// </summary>
/// <remarks>
/// Contact data scatter more than bulk data: with the finish, the atmosphere, the history of the surface. Each value is a typical one with the
/// range over sources; where a source was not read, the entry says "from memory". The record is immutable.
/// </remarks>
public sealed record ContactMaterial
{
    /// <summary>Describes a material of one's own.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="minimumArcVoltage">Voltage below which no arc burns between contacts of it, above zero.</param>
    /// <param name="minimumArcCurrent">Current below which no arc forms when they part, above zero.</param>
    /// <param name="resistivity">Resistivity at 20 °C, above zero.</param>
    /// <param name="hardness">Contact hardness: the pressure at which the touching spots yield, above zero.</param>
    /// <param name="meltingPoint">Melting (or sublimation) temperature, above 20 °C.</param>
    /// <param name="density">Mass density, above zero.</param>
    /// <param name="erosionPerCoulomb">Mass lost for each coulomb through the arc, zero or above.</param>
    /// <param name="filmResistanceOfSquareMillimeter">Resistance that the surface film puts on one square millimeter of touching area, zero or above; by default that of clean metal, 1 µohm.</param>
    /// <param name="softeningVoltage">Contact voltage at which the touching spots soften; leave it out if it is not known.</param>
    /// <param name="meltingVoltage">Contact voltage at which they melt; leave it out if it is not known.</param>
    /// <exception cref="ArgumentNullException">A range that is needed is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside the range given with it.</exception>
    /// <exception cref="ArgumentException"><paramref name="name"/> is empty.</exception>
    public ContactMaterial(
        string name,
        PropertyRange<ElectricPotential> minimumArcVoltage,
        PropertyRange<ElectricCurrent> minimumArcCurrent,
        PropertyRange<ElectricResistivity> resistivity,
        PropertyRange<Pressure> hardness,
        Temperature meltingPoint,
        PropertyRange<Density> density,
        PropertyRange<Mass> erosionPerCoulomb,
        PropertyRange<ElectricResistance>? filmResistanceOfSquareMillimeter = null,
        PropertyRange<ElectricPotential>? softeningVoltage = null,
        PropertyRange<ElectricPotential>? meltingVoltage = null)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        Name = name;
        MinimumArcVoltage = Positive(minimumArcVoltage, "an arc needs its electrode falls", nameof(minimumArcVoltage));
        MinimumArcCurrent = Positive(minimumArcCurrent, "an arc needs a current", nameof(minimumArcCurrent));
        Resistivity = Positive(resistivity, "a contact resists", nameof(resistivity));
        Hardness = Positive(hardness, "a contact bears its force on spots that yield", nameof(hardness));
        MeltingPoint = Require.InRange(
            meltingPoint, Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(4500), "a contact is solid at room temperature");
        Density = Positive(density, "a contact has a mass", nameof(density));
        ErosionPerCoulomb = Present(erosionPerCoulomb, nameof(erosionPerCoulomb));
        Require.NotNegative(ErosionPerCoulomb.Least, "an arc takes metal away", nameof(erosionPerCoulomb));
        FilmResistanceOfSquareMillimeter = filmResistanceOfSquareMillimeter ?? CleanMetal;
        Require.NotNegative(FilmResistanceOfSquareMillimeter.Least, "a film resists", nameof(filmResistanceOfSquareMillimeter));
        SofteningVoltage = softeningVoltage is null ? null : Positive(softeningVoltage, "heat comes from a voltage", nameof(softeningVoltage));
        MeltingVoltage = meltingVoltage is null ? null : Positive(meltingVoltage, "heat comes from a voltage", nameof(meltingVoltage));
    }

    /// <summary>Fine silver.</summary>
    [Source("HOLM", "minimum arc voltage 11 V to 12.5 V (quoted in a secondary source)")]
    [Source("BRUSH1983", "film of metal on metal")]
    [Source("MEMORY", "minimum arc current, softening and melting voltage, resistivity, hardness, melting point, density: from memory; erosion: from memory, good to a factor of five")]
    public static ContactMaterial Silver { get; } = new(
        "silver",
        Volts(11, 12, 12.5),
        Amperes(0.3, 0.4, 0.45),
        OhmMeters(1.59e-8, 1.6e-8, 1.7e-8),
        Megapascals(250, 400, 900),
        Temperature.FromDegreesCelsius(962),
        GramsPerCubicCentimeter(10.4, 10.49, 10.5),
        Micrograms(2, 10, 50),
        softeningVoltage: Volts(0.09, 0.09, 0.09),
        meltingVoltage: Volts(0.37, 0.37, 0.375));

    /// <summary>Silver-graphite, the usual brush for low voltage drop; about four fifths silver by weight.</summary>
    /// <remarks>
    /// Its film has two regimes: a lubricating one of silver and graphite grains (3e-11 ohm m², friction 0.15 to 0.2), and bare
    /// sintered silver (1e-12 ohm m²) once that has been lost to heat. It erodes several times faster than silver and does not weld.
    /// </remarks>
    [Source("BRUSH1983", "film resistance times area in both regimes")]
    [Source("MEMORY", "everything else: from memory, and it depends on the graphite content; erosion: from memory, good to a factor of five")]
    public static ContactMaterial SilverGraphite { get; } = new(
        "silver-graphite",
        Volts(11, 12, 20),
        Amperes(0.03, 0.4, 0.45),
        OhmMeters(4e-8, 1e-7, 3e-7),
        Megapascals(100, 200, 400),
        Temperature.FromDegreesCelsius(962),
        GramsPerCubicCentimeter(5, 7, 9),
        Micrograms(6, 30, 150),
        filmResistanceOfSquareMillimeter: OhmSquareMeters(1e-12, 3e-11, 3e-11),
        softeningVoltage: Volts(0.09, 0.09, 0.09),
        meltingVoltage: Volts(0.37, 0.37, 0.375));

    /// <summary>Silver-nickel with a tenth nickel: silver that wears and welds less.</summary>
    [Source("BRUSH1983", "film of metal on metal")]
    [Source("MEMORY", "everything else: from memory, taken near silver; erosion: from memory, good to a factor of five")]
    public static ContactMaterial SilverNickel { get; } = new(
        "silver-nickel",
        Volts(11, 12, 13),
        Amperes(0.3, 0.4, 0.5),
        OhmMeters(1.8e-8, 1.9e-8, 2.1e-8),
        Megapascals(500, 700, 1000),
        Temperature.FromDegreesCelsius(962),
        GramsPerCubicCentimeter(10.0, 10.3, 10.3),
        Micrograms(1, 5, 25),
        softeningVoltage: Volts(0.09, 0.10, 0.12),
        meltingVoltage: Volts(0.37, 0.37, 0.4));

    /// <summary>Copper, as drawn strip or wire.</summary>
    /// <remarks>Clean copper: in air it grows an oxide film, which a sliding brush scrapes off and a resting contact does not.</remarks>
    [Source("IEC60028", "resistivity and density of annealed copper; hard-drawn copper resists some percent more")]
    [Source("IEEE80", "fusing temperature")]
    [Source("BRUSH1983", "film of metal on metal")]
    [Source("MEMORY", "minimum arc voltage and current, softening and melting voltage, hardness: from memory; erosion: from memory, good to a factor of five")]
    public static ContactMaterial Copper { get; } = new(
        "copper",
        Volts(12, 13, 14),
        Amperes(0.4, 0.43, 0.45),
        OhmMeters(1 / 58e6, 1 / 58e6, 1.8e-8),
        Megapascals(400, 500, 900),
        Temperature.FromDegreesCelsius(1083),
        GramsPerCubicCentimeter(8.89, 8.89, 8.96),
        Micrograms(2, 10, 50),
        softeningVoltage: Volts(0.12, 0.12, 0.12),
        meltingVoltage: Volts(0.41, 0.43, 0.43));

    /// <summary>Brass with about two fifths zinc.</summary>
    /// <remarks>Zinc boils out before the copper melts, so its arcs burn at a lower voltage and its melting voltage is lower than its melting point suggests.</remarks>
    [Source("BRUSH1983", "film of metal on metal")]
    [Source("MEMORY", "everything else: from memory; erosion: from memory, good to a factor of five")]
    public static ContactMaterial Brass { get; } = new(
        "brass",
        Volts(10, 12, 13),
        Amperes(0.1, 0.3, 0.43),
        OhmMeters(6.0e-8, 6.4e-8, 7.5e-8),
        Megapascals(800, 1000, 1600),
        Temperature.FromDegreesCelsius(900),
        GramsPerCubicCentimeter(8.3, 8.4, 8.6),
        Micrograms(3, 15, 75),
        meltingVoltage: Volts(0.2, 0.2, 0.36));

    /// <summary>Copper-graphite, a brush for higher currents; about two thirds copper by weight.</summary>
    [Source("MEMORY", "all values: from memory, and they depend on the graphite content; erosion: from memory, good to a factor of five")]
    public static ContactMaterial CopperGraphite { get; } = new(
        "copper-graphite",
        Volts(12, 13, 20),
        Amperes(0.03, 0.43, 0.45),
        OhmMeters(5e-8, 1.5e-7, 2e-6),
        Megapascals(100, 200, 400),
        Temperature.FromDegreesCelsius(1083),
        GramsPerCubicCentimeter(3.5, 5, 6.5),
        Micrograms(6, 30, 150),
        filmResistanceOfSquareMillimeter: OhmSquareMeters(1e-11, 5e-11, 5e-10),
        softeningVoltage: Volts(0.12, 0.12, 0.12),
        meltingVoltage: Volts(0.41, 0.43, 0.43));

    /// <summary>Electrographite (carbon): the brush of ordinary motors. It does not melt; it sublimes near 3650 °C, and has no softening voltage.</summary>
    /// <remarks>
    /// Its contact drop is about 1 V ± 0.2 V and hardly rises with current: the film is not ohmic. The film given here, in proportion to
    /// current, is set so that film and constriction together give 1 V on copper at 10 A/cm² and 20 kPa; at other loads it is a stand-in.
    /// </remarks>
    [Source("SLADE", "contact drop of electrographite brushes, from which the film is worked out")]
    [Source("MEMORY", "everything else: from memory; erosion: from memory, good to a factor of five")]
    public static ContactMaterial Electrographite { get; } = new(
        "electrographite",
        Volts(15, 20, 22),
        Amperes(0.01, 0.03, 0.03),
        OhmMeters(1e-5, 2e-5, 6e-5),
        Megapascals(100, 200, 400),
        Temperature.FromDegreesCelsius(3650),
        GramsPerCubicCentimeter(1.5, 1.6, 1.75),
        Micrograms(2, 10, 50),
        filmResistanceOfSquareMillimeter: OhmSquareMeters(1e-12, 1e-10, 1e-9));

    /// <summary>Tungsten: hard, arc-proof, and a poor conductor under its oxide.</summary>
    [Source("HOLM", "melting voltage 1.10 V (quoted in a secondary source)")]
    [Source("BRUSH1983", "film of metal on metal")]
    [Source("MEMORY", "everything else: from memory; erosion: from memory, good to a factor of five")]
    public static ContactMaterial Tungsten { get; } = new(
        "tungsten",
        Volts(14, 15, 15),
        Amperes(0.9, 1.0, 1.1),
        OhmMeters(5.3e-8, 5.5e-8, 6e-8),
        Megapascals(2500, 3500, 4500),
        Temperature.FromDegreesCelsius(3422),
        GramsPerCubicCentimeter(19.2, 19.3, 19.3),
        Micrograms(1, 5, 25),
        softeningVoltage: Volts(0.4, 0.5, 0.6),
        meltingVoltage: Volts(1.0, 1.1, 1.15));

    /// <summary>Gold.</summary>
    [Source("HOLM", "minimum arc voltage 15 V and current 0.38 A, softening voltage 0.08 V, melting voltage 0.43 V (quoted in secondary sources, the last two of which were themselves from memory)")]
    [Source("BRUSH1983", "film of metal on metal")]
    [Source("MEMORY", "everything else: from memory; erosion: from memory, good to a factor of five")]
    public static ContactMaterial Gold { get; } = new(
        "gold",
        Volts(12.5, 15, 15),
        Amperes(0.35, 0.38, 0.42),
        OhmMeters(2.2e-8, 2.2e-8, 2.4e-8),
        Megapascals(200, 300, 700),
        Temperature.FromDegreesCelsius(1064),
        GramsPerCubicCentimeter(19.3, 19.3, 19.3),
        Micrograms(2, 10, 50),
        softeningVoltage: Volts(0.08, 0.08, 0.08),
        meltingVoltage: Volts(0.41, 0.43, 0.45));

    /// <summary>Nickel. Being magnetic, it does not follow the voltage-temperature relation well: use its own voltages.</summary>
    [Source("BRUSH1983", "film of metal on metal")]
    [Source("MEMORY", "everything else: from memory; erosion: from memory, good to a factor of five")]
    public static ContactMaterial Nickel { get; } = new(
        "nickel",
        Volts(13, 14, 14.5),
        Amperes(0.4, 0.5, 0.5),
        OhmMeters(6.8e-8, 7e-8, 8e-8),
        Megapascals(700, 1200, 2000),
        Temperature.FromDegreesCelsius(1455),
        GramsPerCubicCentimeter(8.9, 8.9, 8.91),
        Micrograms(2, 10, 50),
        softeningVoltage: Volts(0.16, 0.22, 0.23),
        meltingVoltage: Volts(0.53, 0.65, 0.65));

    // Metal on metal, 1e-12 ohm m² (BRUSH1983): a layer a few atoms thick through which electrons tunnel.
    private static PropertyRange<ElectricResistance> CleanMetal => OhmSquareMeters(1e-12, 1e-12, 1e-12);

    /// <summary>The name of the material.</summary>
    public string Name { get; }

    /// <summary>Minimum arc voltage: where the circuit offers less, no arc burns, however short the gap.</summary>
    public PropertyRange<ElectricPotential> MinimumArcVoltage { get; }

    /// <summary>Minimum arc current: a contact that parts with less draws no arc.</summary>
    public PropertyRange<ElectricCurrent> MinimumArcCurrent { get; }

    /// <summary>Resistivity at 20 °C.</summary>
    public PropertyRange<ElectricResistivity> Resistivity { get; }

    /// <summary>Contact hardness H: the pressure at which touching spots yield, so that they grow until force over area is H.</summary>
    public PropertyRange<Pressure> Hardness { get; }

    /// <summary>Melting temperature; of electrographite, the temperature at which it sublimes.</summary>
    public Temperature MeltingPoint { get; }

    /// <summary>Mass density.</summary>
    public PropertyRange<Density> Density { get; }

    /// <summary>Mass lost for each coulomb that the arc carries. Published figures differ by a factor of several; so does this range.</summary>
    public PropertyRange<Mass> ErosionPerCoulomb { get; }

    /// <summary>
    /// Resistance of the surface film on one square millimeter of truly touching area (resistance times area, 1e-12 ohm m² = 1 µohm mm²).
    /// </summary>
    public PropertyRange<ElectricResistance> FilmResistanceOfSquareMillimeter { get; }

    /// <summary>Contact voltage at which the touching spots soften and the contact sticks or smears; null where not known.</summary>
    public PropertyRange<ElectricPotential>? SofteningVoltage { get; }

    /// <summary>Contact voltage at which the touching spots melt and the contact welds or throws metal; null where not known.</summary>
    public PropertyRange<ElectricPotential>? MeltingVoltage { get; }

    /// <summary>The name.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => Name;

    private static PropertyRange<T> Positive<T>(PropertyRange<T> range, string why, string name)
        where T : IQuantity
    {
        Require.Positive(Present(range, name).Least, why, name);
        return range;
    }

    private static PropertyRange<T> Present<T>(PropertyRange<T> range, string name)
        where T : IQuantity
        => Require.Present(range, name);

    private static PropertyRange<ElectricPotential> Volts(double least, double typical, double greatest)
        => new(ElectricPotential.FromVolts(least), ElectricPotential.FromVolts(typical), ElectricPotential.FromVolts(greatest));

    private static PropertyRange<ElectricCurrent> Amperes(double least, double typical, double greatest)
        => new(ElectricCurrent.FromAmperes(least), ElectricCurrent.FromAmperes(typical), ElectricCurrent.FromAmperes(greatest));

    private static PropertyRange<ElectricResistivity> OhmMeters(double least, double typical, double greatest)
        => new(ElectricResistivity.FromOhmMeters(least), ElectricResistivity.FromOhmMeters(typical), ElectricResistivity.FromOhmMeters(greatest));

    private static PropertyRange<Pressure> Megapascals(double least, double typical, double greatest)
        => new(Pressure.FromMegapascals(least), Pressure.FromMegapascals(typical), Pressure.FromMegapascals(greatest));

    private static PropertyRange<Density> GramsPerCubicCentimeter(double least, double typical, double greatest)
        => new(
            UnitsNet.Density.FromGramsPerCubicCentimeter(least),
            UnitsNet.Density.FromGramsPerCubicCentimeter(typical),
            UnitsNet.Density.FromGramsPerCubicCentimeter(greatest));

    private static PropertyRange<Mass> Micrograms(double least, double typical, double greatest)
        => new(Mass.FromMicrograms(least), Mass.FromMicrograms(typical), Mass.FromMicrograms(greatest));

    // Resistance times area, stated for one square millimeter.
    private static PropertyRange<ElectricResistance> OhmSquareMeters(double least, double typical, double greatest)
        => new(ElectricResistance.FromOhms(1e6 * least), ElectricResistance.FromOhms(1e6 * typical), ElectricResistance.FromOhms(1e6 * greatest));
}
