using System.Numerics;
using UnitsNet;

namespace Magrail.Units;

/// <summary>
/// Lets numbers be written with their unit: <c>12.Millimeters()</c>, <c>0.5.Ohms()</c>. Opt in with
/// <c>using Magrail.Units;</c>.
/// </summary>
/// <remarks>Every method throws <see cref="ArgumentException"/> for a number that is not finite.</remarks>
public static class NumberUnits
{
    /// <summary>A length in meters.</summary>
    public static Length Meters<T>(this T value) where T : INumber<T> => Length.FromMeters(double.CreateChecked(value));

    /// <summary>A length in centimeters.</summary>
    public static Length Centimeters<T>(this T value) where T : INumber<T> => Length.FromCentimeters(double.CreateChecked(value));

    /// <summary>A length in millimeters.</summary>
    public static Length Millimeters<T>(this T value) where T : INumber<T> => Length.FromMillimeters(double.CreateChecked(value));

    /// <summary>A length in micrometers.</summary>
    public static Length Micrometers<T>(this T value) where T : INumber<T> => Length.FromMicrometers(double.CreateChecked(value));

    /// <summary>A mass in kilograms.</summary>
    public static Mass Kilograms<T>(this T value) where T : INumber<T> => Mass.FromKilograms(double.CreateChecked(value));

    /// <summary>A mass in grams.</summary>
    public static Mass Grams<T>(this T value) where T : INumber<T> => Mass.FromGrams(double.CreateChecked(value));

    /// <summary>A duration in seconds.</summary>
    public static Duration Seconds<T>(this T value) where T : INumber<T> => Duration.FromSeconds(double.CreateChecked(value));

    /// <summary>A duration in milliseconds.</summary>
    public static Duration Milliseconds<T>(this T value) where T : INumber<T> => Duration.FromMilliseconds(double.CreateChecked(value));

    /// <summary>A duration in microseconds.</summary>
    public static Duration Microseconds<T>(this T value) where T : INumber<T> => Duration.FromMicroseconds(double.CreateChecked(value));

    /// <summary>A speed in meters per second.</summary>
    public static Speed MetersPerSecond<T>(this T value) where T : INumber<T> => Speed.FromMetersPerSecond(double.CreateChecked(value));

    /// <summary>An acceleration in meters per second squared.</summary>
    public static Acceleration MetersPerSecondSquared<T>(this T value) where T : INumber<T> => Acceleration.FromMetersPerSecondSquared(double.CreateChecked(value));

    /// <summary>A force in newtons.</summary>
    public static Force Newtons<T>(this T value) where T : INumber<T> => Force.FromNewtons(double.CreateChecked(value));

    /// <summary>A voltage in volts.</summary>
    public static ElectricPotential Volts<T>(this T value) where T : INumber<T> => ElectricPotential.FromVolts(double.CreateChecked(value));

    /// <summary>A voltage in millivolts.</summary>
    public static ElectricPotential Millivolts<T>(this T value) where T : INumber<T> => ElectricPotential.FromMillivolts(double.CreateChecked(value));

    /// <summary>A current in amperes.</summary>
    public static ElectricCurrent Amperes<T>(this T value) where T : INumber<T> => ElectricCurrent.FromAmperes(double.CreateChecked(value));

    /// <summary>A current in milliamperes.</summary>
    public static ElectricCurrent Milliamperes<T>(this T value) where T : INumber<T> => ElectricCurrent.FromMilliamperes(double.CreateChecked(value));

    /// <summary>A resistance in ohms.</summary>
    public static ElectricResistance Ohms<T>(this T value) where T : INumber<T> => ElectricResistance.FromOhms(double.CreateChecked(value));

    /// <summary>A resistance in milliohms.</summary>
    public static ElectricResistance Milliohms<T>(this T value) where T : INumber<T> => ElectricResistance.FromMilliohms(double.CreateChecked(value));

    /// <summary>An inductance in henries.</summary>
    public static ElectricInductance Henries<T>(this T value) where T : INumber<T> => ElectricInductance.FromHenries(double.CreateChecked(value));

    /// <summary>An inductance in millihenries.</summary>
    public static ElectricInductance Millihenries<T>(this T value) where T : INumber<T> => ElectricInductance.FromMillihenries(double.CreateChecked(value));

    /// <summary>An inductance in microhenries.</summary>
    public static ElectricInductance Microhenries<T>(this T value) where T : INumber<T> => ElectricInductance.FromMicrohenries(double.CreateChecked(value));

    /// <summary>A capacitance in farads.</summary>
    public static ElectricCapacitance Farads<T>(this T value) where T : INumber<T> => ElectricCapacitance.FromFarads(double.CreateChecked(value));

    /// <summary>A capacitance in millifarads.</summary>
    public static ElectricCapacitance Millifarads<T>(this T value) where T : INumber<T> => ElectricCapacitance.FromMillifarads(double.CreateChecked(value));

    /// <summary>A capacitance in microfarads.</summary>
    public static ElectricCapacitance Microfarads<T>(this T value) where T : INumber<T> => ElectricCapacitance.FromMicrofarads(double.CreateChecked(value));

    /// <summary>An electric charge in ampere-hours.</summary>
    public static ElectricCharge AmpereHours<T>(this T value) where T : INumber<T> => ElectricCharge.FromAmpereHours(double.CreateChecked(value));

    /// <summary>A magnetic flux density in teslas.</summary>
    public static MagneticField Teslas<T>(this T value) where T : INumber<T> => MagneticField.FromTeslas(double.CreateChecked(value));

    /// <summary>A temperature in degrees Celsius.</summary>
    public static Temperature DegreesCelsius<T>(this T value) where T : INumber<T> => Temperature.FromDegreesCelsius(double.CreateChecked(value));

    /// <summary>An angle in degrees.</summary>
    public static Angle Degrees<T>(this T value) where T : INumber<T> => Angle.FromDegrees(double.CreateChecked(value));

    /// <summary>An area in square centimeters.</summary>
    public static Area SquareCentimeters<T>(this T value) where T : INumber<T> => Area.FromSquareCentimeters(double.CreateChecked(value));

    /// <summary>An energy in joules.</summary>
    public static Energy Joules<T>(this T value) where T : INumber<T> => Energy.FromJoules(double.CreateChecked(value));

    /// <summary>A power in watts.</summary>
    public static Power Watts<T>(this T value) where T : INumber<T> => Power.FromWatts(double.CreateChecked(value));
}
