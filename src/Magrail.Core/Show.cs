using System.Globalization;
using UnitsNet;
using UnitsNet.Units;

namespace Magrail;

/// <summary>Prints quantities as people write them: up to four significant digits, a fitting prefix, a plain unit.</summary>
internal static class Show
{
    /// <summary>A plain number with up to four significant digits, or whole where it has more before the point.</summary>
    public static string Number(double value)
        => WithPower(value.ToString(Math.Abs(value) is >= 9999.5 and < 1e9 ? "F0" : "G4", CultureInfo.InvariantCulture));

    /// <summary>A small share with one digit and a power of ten: <c>9 × 10⁻¹⁰</c>; one of a tenth or more with three digits.</summary>
    public static string SmallShare(double share)
        => share is > 0 and < 0.1 ? WithPower(share.ToString("E0", CultureInfo.InvariantCulture)) : share.ToString("G3", CultureInfo.InvariantCulture);

    /// <summary>A quantity in the unit that a workshop would use for its size.</summary>
    public static string Quantity(IQuantity quantity) => quantity switch
    {
        // A workshop says 0.45 mm of wire, and micrometers only below a hundredth of a millimeter.
        Length q when Math.Abs(q.Meters) is >= 1e-5 and < 1e-3 => Plain(q.Millimeters, "mm"),
        Length q => Fit(q.Meters, "m", (1, "m"), (1e-3, "mm"), (1e-6, "µm")),
        Mass q => Fit(q.Kilograms, "kg", (1, "kg"), (1e-3, "g"), (1e-6, "mg"), (1e-9, "µg"), (1e-12, "ng")),
        Duration q => Fit(q.Seconds, "s", (1, "s"), (1e-3, "ms"), (1e-6, "µs")),
        Speed q => Plain(q.MetersPerSecond, "m/s"),
        Acceleration q => Plain(q.MetersPerSecondSquared, "m/s²"),
        Impulse q => Plain(q.NewtonSeconds, "N s"),
        Force q => Fit(q.Newtons, "N", (1e3, "kN"), (1, "N"), (1e-3, "mN")),
        Pressure q => Fit(q.Pascals, "Pa", (1e9, "GPa"), (1e6, "MPa"), (1e3, "kPa"), (1, "Pa")),
        ElectricPotential q => Fit(q.Volts, "V", (1e3, "kV"), (1, "V"), (1e-3, "mV")),
        ElectricCurrent q => Fit(q.Amperes, "A", (1e3, "kA"), (1, "A"), (1e-3, "mA")),
        ElectricResistance q => Fit(q.Ohms, "ohm", (1e6, "Mohm"), (1e3, "kohm"), (1, "ohm"), (1e-3, "mohm"), (1e-6, "µohm")),
        ElectricInductance q => Fit(q.Henries, "H", (1, "H"), (1e-3, "mH"), (1e-6, "µH"), (1e-9, "nH")),
        ElectricCapacitance q => Fit(q.Farads, "F", (1, "F"), (1e-3, "mF"), (1e-6, "µF"), (1e-9, "nF")),
        // Packs are rated in ampere hours.
        ElectricCharge q when Math.Abs(q.Coulombs) >= 3600 => Plain(q.Coulombs / 3600, "A h"),
        ElectricCharge q => Fit(q.Coulombs, "C", (1, "C"), (1e-3, "mC"), (1e-6, "µC")),
        Energy q => Fit(q.Joules, "J", (1e3, "kJ"), (1, "J"), (1e-3, "mJ"), (1e-6, "µJ"), (1e-9, "nJ")),
        Power q => Fit((double)q.Watts, "W", (1e3, "kW"), (1, "W"), (1e-3, "mW")),
        MagneticField q => Fit(q.Teslas, "T", (1, "T"), (1e-3, "mT"), (1e-6, "µT")),
        Magnetization q => Fit(q.AmperesPerMeter, "A/m", (1e3, "kA/m"), (1, "A/m")),
        Temperature q => Plain(q.DegreesCelsius, "°C"),
        Angle q => Plain(q.Degrees, "°"),
        Area q => Fit(q.SquareMeters, "m²", (1, "m²"), (1e-4, "cm²"), (1e-6, "mm²")),
        Volume q => Fit(q.CubicMeters, "m³", (1, "m³"), (1e-6, "cm³"), (1e-9, "mm³")),
        Ratio q => Number(q.DecimalFractions),
        Density q => Plain(q.KilogramsPerCubicMeter, "kg/m³"),
        _ => Plain((double)quantity.Value, Unit(quantity.Unit)),
    };

    private static string WithPower(string text)
    {
        int power = text.IndexOf('E', StringComparison.Ordinal);
        return power < 0 ? text : $"{text[..power]} × 10{Superscript(int.Parse(text.AsSpan(power + 1), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture))}";
    }

    private static string Superscript(int power)
        => string.Concat(power.ToString(CultureInfo.InvariantCulture).Select(sign => sign == '-' ? '⁻' : "⁰¹²³⁴⁵⁶⁷⁸⁹"[sign - '0']));

    private static string Plain(double value, string unit) => $"{Number(value)} {unit}";

    private static string Fit(double value, string unit, params ReadOnlySpan<(double Size, string Unit)> steps)
    {
        double size = Math.Abs(value);
        if (size == 0 || !double.IsFinite(size))
        {
            return Plain(value, unit);
        }

        foreach ((double step, string name) in steps)
        {
            // 0.99996 mm rounds to 1 mm in four digits: choose the prefix after rounding.
            if (size >= step * 0.99995)
            {
                return Plain(value / step, name);
            }
        }

        // What is far below the least prefix is better said by a power of ten than by one of a billionth.
        (double last, string lastName) = steps[^1];
        return size < 1e-3 * last ? Plain(value, unit) : Plain(value / last, lastName);
    }

    /// <summary>A unit by its sign, such as <c>V</c>.</summary>
    public static string Unit(Enum unit)
        => UnitsNetSetup.Default.UnitAbbreviations.GetDefaultAbbreviation(
            unit.GetType(), Convert.ToInt32(unit, CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
