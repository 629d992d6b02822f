using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Materials;

/// <summary>The standard atmosphere against its tables.</summary>
public class StandardAtmosphereTests
{
    private static readonly AccuracyRow SeaLevel = new("standard atmosphere at sea level, density", "ISO 2533:1975, 1.225 kg/m³", 1e-5, "kg/m³") { Section = AccuracyTable.ContactsHeatFlight };
    private static readonly AccuracyRow Higher = new("standard atmosphere at 1524 m, pressure and density ratio", "table after ISO 2533", 1e-4, "") { Section = AccuracyTable.ContactsHeatFlight };

    /// <summary>Sea level: 288.15 K, 101.325 kPa, 1.225 kg/m³, 340.3 m/s (ISO 2533:1975).</summary>
    [Fact]
    public void Sea_level()
    {
        Assert.Equal(288.15, StandardAtmosphere.TemperatureAt(Length.Zero).Kelvins, 1e-9);
        Assert.Equal(101325, StandardAtmosphere.PressureAt(Length.Zero).Pascals, 1e-6);
        SeaLevel.HoldDifference(1.225, StandardAtmosphere.DensityAt(Length.Zero).KilogramsPerCubicMeter);
        Assert.Equal(340.294, StandardAtmosphere.SpeedOfSoundAt(Length.Zero).MetersPerSecond, 1e-3);
        Assert.Equal(Magrail.Sources.PhysicalConstants.StandardAirDensity, StandardAtmosphere.DensityAt(Length.Zero).KilogramsPerCubicMeter, 1e-5);
    }

    /// <summary>5000 ft = 1524 m: p/p₀ 0.8320, ρ/ρ₀ 0.8617, 334.4 m/s (table after ISO 2533).</summary>
    [Fact]
    public void Five_thousand_feet()
    {
        Length altitude = 1524.Meters();
        Higher.HoldDifference(0.8320, StandardAtmosphere.PressureAt(altitude).Pascals / 101325);
        Higher.HoldDifference(0.8617, StandardAtmosphere.DensityAt(altitude).KilogramsPerCubicMeter / 1.225, 0.5);
        Assert.Equal(334.4, StandardAtmosphere.SpeedOfSoundAt(altitude).MetersPerSecond, 0.05);
    }

    /// <summary>The air bears its own weight: dp/dh = −ρ g, by differences.</summary>
    [RepeatableProperty]
    public void Hydrostatic(ushort a)
    {
        double h = -1900 + (12800 * a / 65535.0);
        double slope = (StandardAtmosphere.PressureAt((h + 1).Meters()).Pascals - StandardAtmosphere.PressureAt((h - 1).Meters()).Pascals) / 2;
        Assert.Equal(1, slope / (-9.80665 * StandardAtmosphere.DensityAt(h.Meters()).KilogramsPerCubicMeter), 1e-7);
    }

    [Fact]
    public void Wrong_values_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => StandardAtmosphere.DensityAt(12000.Meters()));
        Assert.Throws<ArgumentOutOfRangeException>(() => StandardAtmosphere.DensityOf(Pressure.Zero, 20.DegreesCelsius()));
        Assert.Throws<ArgumentOutOfRangeException>(() => StandardAtmosphere.DensityOf(Pressure.FromKilopascals(100), 200.DegreesCelsius()));
    }
}
