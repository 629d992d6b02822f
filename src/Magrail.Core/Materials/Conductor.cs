using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A conductor material: resistivity ρ at 20 °C and its temperature coefficient α, density and heat capacity.
/// </summary>
/// <remarks>
/// ρ(T) = ρ(20 °C) (1 + α (T − 20 °C)), good from about −50 °C to 200 °C; heat capacity is taken constant. The record is
/// immutable.
/// </remarks>
public sealed record Conductor
{
    private const double ReferenceCelsius = 20;

    // Far below this the straight line of resistivity would cross zero; far above it, the enamel is long gone.
    private const double ColdestCelsius = -100;

    /// <summary>Describes a conductor of one's own.</summary>
    /// <param name="name">The name of the material.</param>
    /// <param name="resistivity">Resistivity at 20 °C, above zero.</param>
    /// <param name="temperatureCoefficient">Relative change of resistivity per kelvin at 20 °C, 0 to 8e-3 per kelvin.</param>
    /// <param name="density">Mass density, above zero.</param>
    /// <param name="volumetricHeatCapacity">Heat capacity per volume, above zero.</param>
    /// <param name="meltingPoint">Melting temperature, above 20 °C.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside the range given with it.</exception>
    /// <exception cref="ArgumentException"><paramref name="name"/> is empty.</exception>
    public Conductor(
        string name,
        ElectricResistivity resistivity,
        CoefficientOfThermalExpansion temperatureCoefficient,
        Density density,
        VolumetricHeatCapacity volumetricHeatCapacity,
        Temperature meltingPoint)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        Name = name;
        Resistivity = Require.Positive(resistivity, "a wire has a resistance");
        TemperatureCoefficient = Require.InRange(
            temperatureCoefficient,
            CoefficientOfThermalExpansion.Zero,
            CoefficientOfThermalExpansion.FromPerKelvin(8e-3),
            "metals at room temperature lie in this range");
        Density = Require.Positive(density, "a wire has a mass");
        VolumetricHeatCapacity = Require.Positive(volumetricHeatCapacity, "a wire takes up heat");
        MeltingPoint = Require.InRange(
            meltingPoint,
            Temperature.FromDegreesCelsius(ReferenceCelsius),
            Temperature.FromDegreesCelsius(4000),
            "a winding is solid at room temperature");
    }

    /// <summary>
    /// Annealed copper of 100 % IACS: conductivity 58 MS/m at 20 °C exactly (1.7241 µΩ·cm), α = 3.93e-3 per kelvin, 8.89 g/cm³,
    /// 3.422 J/(cm³ K).
    /// </summary>
    [Source("IEC60028", "conductivity, temperature coefficient and density of standard annealed copper")]
    [Source("IEEE80", "material table: heat capacity and fusing temperature of annealed copper")]
    public static Conductor Copper { get; } = new(
        "copper",
        ElectricResistivity.FromOhmMeters(1 / 58e6),
        CoefficientOfThermalExpansion.FromPerKelvin(3.93e-3),
        Density.FromGramsPerCubicCentimeter(8.89),
        VolumetricHeatCapacity.FromJoulesPerCubicMeterKelvin(3.422e6),
        Temperature.FromDegreesCelsius(1083));

    /// <summary>Aluminum for conductors: 2.8264 µΩ·cm, α = 4.03e-3 per kelvin, 2.703 g/cm³, 2.43 J/(cm³ K).</summary>
    [Source("IEC60287", "Table 1: resistivity (last two digits from memory) and temperature coefficient")]
    [Source("MEMORY", "density, heat capacity 900 J/(kg K) and melting point 660 °C: from memory")]
    public static Conductor Aluminum { get; } = new(
        "aluminum",
        ElectricResistivity.FromOhmMeters(2.8264e-8),
        CoefficientOfThermalExpansion.FromPerKelvin(4.03e-3),
        Density.FromGramsPerCubicCentimeter(2.703),
        VolumetricHeatCapacity.FromJoulesPerCubicMeterKelvin(2703 * 900),
        Temperature.FromDegreesCelsius(660));

    /// <summary>
    /// Copper-clad aluminum with 15 % of its section copper: 2.676 µΩ·cm, α = 4.0e-3 per kelvin, 3.63 g/cm³, 2.58 J/(cm³ K); the aluminum core
    /// melts at 660 °C.
    /// </summary>
    [Source("MEMORY", "resistivity and density of class 15A after ASTM B566: from memory; heat capacity by the mixing rule")]
    public static Conductor CopperCladAluminum { get; } = new(
        "copper-clad aluminum",
        ElectricResistivity.FromOhmMeters(2.676e-8),
        CoefficientOfThermalExpansion.FromPerKelvin(4.0e-3),
        Density.FromGramsPerCubicCentimeter(3.63),
        VolumetricHeatCapacity.FromJoulesPerCubicMeterKelvin((0.15 * 3.422e6) + (0.85 * 2703 * 900)),
        Temperature.FromDegreesCelsius(660));

    /// <summary>Silver: 1.587 µΩ·cm, α = 3.8e-3 per kelvin, 10.49 g/cm³, 2.47 J/(cm³ K).</summary>
    [Source("MEMORY", "all values: from memory (handbook values of pure silver at 20 °C)")]
    public static Conductor Silver { get; } = new(
        "silver",
        ElectricResistivity.FromOhmMeters(1.587e-8),
        CoefficientOfThermalExpansion.FromPerKelvin(3.8e-3),
        Density.FromGramsPerCubicCentimeter(10.49),
        VolumetricHeatCapacity.FromJoulesPerCubicMeterKelvin(10490 * 235),
        Temperature.FromDegreesCelsius(962));

    /// <summary>The name of the material.</summary>
    public string Name { get; }

    /// <summary>Resistivity ρ at 20 °C.</summary>
    public ElectricResistivity Resistivity { get; }

    /// <summary>Relative change of resistivity per kelvin, α, referred to 20 °C.</summary>
    public CoefficientOfThermalExpansion TemperatureCoefficient { get; }

    /// <summary>Mass density.</summary>
    public Density Density { get; }

    /// <summary>Heat capacity per volume, taken constant.</summary>
    public VolumetricHeatCapacity VolumetricHeatCapacity { get; }

    /// <summary>Specific heat capacity, per mass.</summary>
    public SpecificEntropy SpecificHeatCapacity
        => SpecificEntropy.FromJoulesPerKilogramKelvin(
            VolumetricHeatCapacity.JoulesPerCubicMeterKelvin / Density.KilogramsPerCubicMeter);

    /// <summary>Melting temperature.</summary>
    public Temperature MeltingPoint { get; }

    /// <summary>Resistivity at a temperature, ρ(T) = ρ(20 °C) (1 + α (T − 20 °C)).</summary>
    /// <param name="temperature">−100 °C to the melting point; the straight line is good to about 200 °C.</param>
    /// <returns>The resistivity.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside that range.</exception>
    public ElectricResistivity ResistivityAt(Temperature temperature)
        => ElectricResistivity.FromOhmMeters(Resistivity.OhmMeters * ResistanceFactorAt(temperature));

    /// <summary>The name.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => Name;

    /// <summary>ρ(T)/ρ(20 °C).</summary>
    internal double ResistanceFactorAt(Temperature temperature)
    {
        Temperature inside = Require.InRange(
            temperature,
            Temperature.FromDegreesCelsius(ColdestCelsius),
            MeltingPoint,
            $"the linear law of {Name} holds no further");
        return 1 + (TemperatureCoefficient.PerKelvin * (inside.DegreesCelsius - ReferenceCelsius));
    }
}
