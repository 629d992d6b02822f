using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A round winding wire: conductor, gauge and enamel.</summary>
/// <remarks>
/// Current is taken as spread evenly over the section: skin and proximity effect are neglected. The overall diameter is
/// the greatest that the standard allows for the grade, so what fits by it fits in the workshop. The record is immutable.
/// </remarks>
public sealed record Wire
{
    /// <summary>Density of enamel, kg/m³.</summary>
    [Source("MEMORY", "polyester-imide and polyurethane enamels lie between 1.2 and 1.45 g/cm³: from memory")]
    internal const double EnamelDensity = 1350;

    private Wire(Conductor conductor, WireGauge gauge, EnamelGrade enamel, Length overallDiameter)
    {
        Conductor = conductor;
        Gauge = gauge;
        Enamel = enamel;
        OverallDiameter = overallDiameter;
    }

    /// <summary>The conductor material.</summary>
    public Conductor Conductor { get; }

    /// <summary>The size of the bare conductor.</summary>
    public WireGauge Gauge { get; }

    /// <summary>The grade of the enamel.</summary>
    public EnamelGrade Enamel { get; }

    /// <summary>Diameter of the bare conductor.</summary>
    public Length BareDiameter => Gauge.BareDiameter;

    /// <summary>
    /// Greatest overall diameter with enamel, after IEC 60317-0-1 Table 1; between two preferred sizes with the enamel of the thicker.
    /// </summary>
    [Source("IEC60317", "Table 1, greatest overall diameters: from memory")]
    [Source("AVANTI", "all rows from 0.1 mm to 3.15 mm: read, agrees")]
    public Length OverallDiameter { get; }

    /// <summary>Section of the conductor.</summary>
    public Area ConductorSection => Gauge.Section;

    /// <summary>
    /// The frequency at which the skin depth δ = √(ρ/(π f μ₀)) equals the radius of the conductor at 20 °C: f = ρ/(π μ₀ r²).
    /// </summary>
    /// <remarks>
    /// A hint, no limit. Well below it a single straight wire carries its current evenly, and resistance and inductance are those of direct
    /// current. In a coil of m layers the neighbors' field (proximity effect) raises the resistance from a frequency about m times lower.
    /// A launch switches within milliseconds: what matters is about 1/(2π) of the reciprocal of the shortest rise time.
    /// </remarks>
    public Frequency SkinEffectFrequency
    {
        get
        {
            double radius = 0.5 * BareDiameter.Meters;
            return Frequency.FromHertz(
                Conductor.Resistivity.OhmMeters / (Math.PI * PhysicalConstants.VacuumPermeability * radius * radius));
        }
    }

    /// <summary>Enameled copper wire.</summary>
    /// <param name="gauge">The size of the bare conductor.</param>
    /// <param name="enamel">The grade of the enamel.</param>
    /// <returns>The wire.</returns>
    /// <exception cref="ArgumentOutOfRangeException">No enameled wire of that size and grade is made.</exception>
    public static Wire Copper(WireGauge gauge, EnamelGrade enamel) => Of(Conductor.Copper, gauge, enamel);

    /// <summary>Wire of any conductor.</summary>
    /// <param name="conductor">The conductor material.</param>
    /// <param name="gauge">The size of the bare conductor; 0.02 mm to 5 mm for an enameled wire.</param>
    /// <param name="enamel">The grade of the enamel.</param>
    /// <returns>The wire.</returns>
    /// <exception cref="ArgumentOutOfRangeException">No enameled wire of that size and grade is made.</exception>
    public static Wire Of(Conductor conductor, WireGauge gauge, EnamelGrade enamel)
    {
        ArgumentNullException.ThrowIfNull(conductor);
        ArgumentNullException.ThrowIfNull(gauge);
        Require.Defined(enamel, "it sets the overall diameter");
        double bare = gauge.BareDiameter.Meters;
        if (enamel != EnamelGrade.Bare)
        {
            Require.InRange(
                gauge.BareDiameter,
                Length.FromMeters(EnamelTable.Thinnest),
                Length.FromMeters(EnamelTable.Thickest),
                "enameled round wire is standardized in this range of bare diameters; take EnamelGrade.Bare outside it",
                nameof(gauge));
        }

        return new Wire(conductor, gauge, enamel, Length.FromMeters(EnamelTable.OverallDiameter(bare, enamel)));
    }

    /// <summary>Resistance of a length of wire at 20 °C, R = ρ l/A.</summary>
    /// <param name="length">Zero or above.</param>
    /// <returns>The resistance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The length is negative or not finite.</exception>
    public ElectricResistance ResistanceOf(Length length)
        => ElectricResistance.FromOhms(OhmsPerMeter * Require.NotNegative(length, "a wire has a length").Meters);

    /// <summary>Resistance of a length of wire at a temperature, R = ρ(T) l/A.</summary>
    /// <param name="length">Zero or above.</param>
    /// <param name="temperature">−100 °C to the conductor's melting point.</param>
    /// <returns>The resistance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range.</exception>
    public ElectricResistance ResistanceOf(Length length, Temperature temperature)
        => ElectricResistance.FromOhms(ResistanceOf(length).Ohms * Conductor.ResistanceFactorAt(temperature));

    /// <summary>Mass of a length of wire, conductor and enamel (1.35 g/cm³, as thick as the overall diameter says).</summary>
    /// <param name="length">Zero or above.</param>
    /// <returns>The mass.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The length is negative or not finite.</exception>
    public Mass MassOf(Length length)
    {
        double overall = OverallDiameter.Meters;
        double enamelSection = (0.25 * Math.PI * overall * overall) - ConductorSection.SquareMeters;
        return ConductorMassOf(length) + Mass.FromKilograms(EnamelDensity * enamelSection * length.Meters);
    }

    /// <summary>Mass of the conductor alone in a length of wire.</summary>
    /// <param name="length">Zero or above.</param>
    /// <returns>The mass.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The length is negative or not finite.</exception>
    public Mass ConductorMassOf(Length length)
        => Mass.FromKilograms(
            Conductor.Density.KilogramsPerCubicMeter
            * ConductorSection.SquareMeters
            * Require.NotNegative(length, "a wire has a length").Meters);

    /// <summary>Conductor, gauge and enamel, such as <c>copper 0.5 mm Grade2</c>.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"{Conductor.Name} {Gauge.Name} {Enamel}";

    private double OhmsPerMeter => Conductor.Resistivity.OhmMeters / ConductorSection.SquareMeters;
}
