using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>The international standard atmosphere up to 11 km: temperature, pressure, density and speed of sound by altitude.</summary>
/// <remarks>
/// T = 288.15 K − 6.5 K/km · h, p = 101.325 kPa (T/288.15 K)^5.2559, ρ = p/(R T) with R = 287.05287 J/(kg K), dry air. Altitude is taken
/// as geopotential, which is less than the height above the sea by 0.02 % at 1.5 km and 0.2 % at 11 km. Real air differs by some percent with the
/// weather: use <see cref="DensityOf"/> for a measured day. Source: ISO 2533:1975.
/// </remarks>
public static class StandardAtmosphere
{
    private const double SeaLevelKelvins = 288.15;
    private const double SeaLevelPascals = 101325;
    private const double KelvinsPerMeter = 0.0065;
    private const double GasConstant = 287.05287;
    private const double HeatRatio = 1.4;

    /// <summary>Temperature at an altitude.</summary>
    /// <param name="altitude">−2 km to 11 km.</param>
    /// <exception cref="ArgumentOutOfRangeException">The altitude is outside that range.</exception>
    public static Temperature TemperatureAt(Length altitude) => Temperature.FromKelvins(Kelvins(altitude));

    /// <summary>Pressure at an altitude.</summary>
    /// <param name="altitude">−2 km to 11 km.</param>
    /// <exception cref="ArgumentOutOfRangeException">The altitude is outside that range.</exception>
    public static Pressure PressureAt(Length altitude)
        => Pressure.FromPascals(SeaLevelPascals * Math.Pow(Kelvins(altitude) / SeaLevelKelvins, PhysicalConstants.StandardGravity / (GasConstant * KelvinsPerMeter)));

    /// <summary>Density at an altitude.</summary>
    /// <param name="altitude">−2 km to 11 km.</param>
    /// <exception cref="ArgumentOutOfRangeException">The altitude is outside that range.</exception>
    public static Density DensityAt(Length altitude) => DensityOf(PressureAt(altitude), TemperatureAt(altitude));

    /// <summary>Speed of sound at an altitude, √(1.4 R T).</summary>
    /// <param name="altitude">−2 km to 11 km.</param>
    /// <exception cref="ArgumentOutOfRangeException">The altitude is outside that range.</exception>
    public static Speed SpeedOfSoundAt(Length altitude) => Speed.FromMetersPerSecond(Math.Sqrt(HeatRatio * GasConstant * Kelvins(altitude)));

    /// <summary>Density of dry air of a pressure and temperature, ρ = p/(R T). Moist air is lighter, by 1 % at 20 °C and full humidity.</summary>
    /// <param name="pressure">Absolute pressure (not reduced to sea level), above zero.</param>
    /// <param name="temperature">−100 °C to 100 °C.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static Density DensityOf(Pressure pressure, Temperature temperature)
    {
        double pascals = Require.Positive(pressure, "air has a pressure").Pascals;
        double kelvins = Require.InRange(temperature, Temperature.FromDegreesCelsius(-100), Temperature.FromDegreesCelsius(100), "that is the air people launch in").Kelvins;
        return Density.FromKilogramsPerCubicMeter(pascals / (GasConstant * kelvins));
    }

    private static double Kelvins(Length altitude)
        => SeaLevelKelvins - (KelvinsPerMeter * Require.InRange(altitude, Length.FromKilometers(-2), Length.FromKilometers(11), "above 11 km the temperature falls no further").Meters);
}
