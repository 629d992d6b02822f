using Magrail.Units;

namespace Magrail.Tests.Units;

/// <summary>Numbers with their unit, against the definition of each unit in SI.</summary>
public class NumberUnitsTests
{
    [Fact]
    public void Each_method_is_its_unit()
    {
        Assert.Equal(2, 2.Meters().Meters, 1e-15);
        Assert.Equal(0.02, 2.Centimeters().Meters, 1e-15);
        Assert.Equal(0.002, 2.Millimeters().Meters, 1e-15);
        Assert.Equal(2e-6, 2.Micrometers().Meters, 1e-18);
        Assert.Equal(2, 2.Kilograms().Kilograms, 1e-15);
        Assert.Equal(0.0025, 2.5.Grams().Kilograms, 1e-15);
        Assert.Equal(2, 2.Seconds().Seconds, 1e-15);
        Assert.Equal(0.002, 2.Milliseconds().Seconds, 1e-15);
        Assert.Equal(2e-6, 2.Microseconds().Seconds, 1e-18);
        Assert.Equal(3, 3.MetersPerSecond().MetersPerSecond, 1e-15);
        Assert.Equal(3, 3.MetersPerSecondSquared().MetersPerSecondSquared, 1e-15);
        Assert.Equal(3, 3.Newtons().Newtons, 1e-15);
        Assert.Equal(3, 3.Volts().Volts, 1e-15);
        Assert.Equal(0.003, 3.Millivolts().Volts, 1e-15);
        Assert.Equal(3, 3.Amperes().Amperes, 1e-15);
        Assert.Equal(0.003, 3.Milliamperes().Amperes, 1e-15);
        Assert.Equal(3, 3.Ohms().Ohms, 1e-15);
        Assert.Equal(0.003, 3.Milliohms().Ohms, 1e-15);
        Assert.Equal(3, 3.Henries().Henries, 1e-15);
        Assert.Equal(0.003, 3.Millihenries().Henries, 1e-15);
        Assert.Equal(3e-6, 3.Microhenries().Henries, 1e-18);
        Assert.Equal(3, 3.Farads().Farads, 1e-15);
        Assert.Equal(0.003, 3.Millifarads().Farads, 1e-15);
        Assert.Equal(3e-6, 3.Microfarads().Farads, 1e-18);

        // UnitsNet keeps twelve digits of 1/3600.
        Assert.Equal(3600, 1.AmpereHours().Coulombs, 1e-7);
        Assert.Equal(1.3, 1.3.Teslas().Teslas, 1e-15);
        Assert.Equal(293.15, 20.DegreesCelsius().Kelvins, 1e-12);
        Assert.Equal(Math.PI, 180.Degrees().Radians, 1e-12);
        Assert.Equal(1e-4, 1.SquareCentimeters().SquareMeters, 1e-18);
        Assert.Equal(5, 5.Joules().Joules, 1e-15);
        Assert.Equal(5, (double)5.Watts().Watts, 1e-15);
    }

    [Fact]
    public void Every_kind_of_number_will_do()
    {
        Assert.Equal(0.5, 0.5f.Meters().Meters, 1e-15);
        Assert.Equal(0.5, 0.5m.Meters().Meters, 1e-15);
        Assert.Equal(7, ((byte)7).Meters().Meters, 1e-15);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Not_a_number_is_no_quantity(double value)
    {
        Assert.ThrowsAny<ArgumentException>(() => value.Meters());
        Assert.ThrowsAny<ArgumentException>(() => value.Volts());
        Assert.ThrowsAny<ArgumentException>(() => value.DegreesCelsius());
    }
}
