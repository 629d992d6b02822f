using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>Metals for which a fusing constant is published.</summary>
public enum FusingMetal
{
    /// <summary>Copper.</summary>
    Copper,

    /// <summary>Aluminum.</summary>
    Aluminum,

    /// <summary>Platinum.</summary>
    Platinum,

    /// <summary>German silver (copper, nickel, zinc).</summary>
    GermanSilver,

    /// <summary>Platinoid (German silver with a little tungsten).</summary>
    Platinoid,

    /// <summary>Iron.</summary>
    Iron,

    /// <summary>Tin.</summary>
    Tin,

    /// <summary>Tin-lead solder.</summary>
    TinLead,

    /// <summary>Lead.</summary>
    Lead,
}

/// <summary>
/// The current that melts a wire: for good, in free air (W. H. Preece), and within a short time (I. M. Onderdonk).
/// </summary>
/// <remarks>Either is a limit at which the wire is lost, not one to work at.</remarks>
public static class FusingCurrent
{
    // One circular mil is the area of a circle of a thousandth of an inch.
    private const double CircularMil = 0.25 * Math.PI * 25.4e-6 * 25.4e-6;
    private const double CopperMeltsAtCelsius = 1083;

    /// <summary>Preece: the steady current that melts a wire in free air, I = C d^1.5.</summary>
    /// <remarks>For round wires long against their diameter in still air; short or enclosed or bundled ones differ by a factor of two. Source: W. H. Preece, as tabulated by NESS Engineering.</remarks>
    /// <param name="metal">The metal.</param>
    /// <param name="diameter">Diameter of the bare wire, above zero.</param>
    /// <returns>The fusing current.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static ElectricCurrent Preece(FusingMetal metal, Length diameter)
    {
        double inches = Require.Positive(diameter, "a wire has a diameter").Meters / 0.0254;
        return ElectricCurrent.FromAmperes(Constant(metal) * inches * Math.Sqrt(inches));
    }

    /// <summary>The diameter of a wire that a steady current melts in free air, after Preece.</summary>
    /// <param name="metal">The metal.</param>
    /// <param name="current">The current, above zero.</param>
    /// <returns>The diameter.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static Length PreeceDiameter(FusingMetal metal, ElectricCurrent current)
    {
        double ratio = Require.Positive(current, "a wire melts by a current").Amperes / Constant(metal);
        return Length.FromMeters(0.0254 * Math.Cbrt(ratio * ratio));
    }

    /// <summary>
    /// Onderdonk: the current that melts a copper wire within a time, I = A √(log₁₀((T_m − T_a)/(234 + T_a) + 1)/(33 t)), A in circular mils,
    /// T_m = 1083 °C.
    /// </summary>
    /// <remarks>
    /// No heat leaves the wire: good up to about 10 s for thick wire, a tenth of that for thin. Printed copies with 234 − T_a are wrong.
    /// <see cref="AdiabaticHeating"/> does the same for other metals and from material data. Source: as quoted in handbooks.
    /// </remarks>
    /// <param name="section">Section of the wire, above zero.</param>
    /// <param name="time">How long the current flows, above zero.</param>
    /// <param name="start">Temperature at the start, −100 °C to below 1083 °C; 25 °C by default.</param>
    /// <returns>The fusing current.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static ElectricCurrent Onderdonk(Area section, Duration time, Temperature? start = null)
    {
        double mils = Require.Positive(section, "a wire has a section").SquareMeters / CircularMil;
        double seconds = Require.Positive(time, "in no time nothing melts").Seconds;
        return ElectricCurrent.FromAmperes(mils * Math.Sqrt(Logarithm(start) / (33 * seconds)));
    }

    /// <summary>Onderdonk: the time in which a current melts a copper wire.</summary>
    /// <param name="section">Section of the wire, above zero.</param>
    /// <param name="current">The current, above zero.</param>
    /// <param name="start">Temperature at the start, −100 °C to below 1083 °C; 25 °C by default.</param>
    /// <returns>The time.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static Duration OnderdonkTime(Area section, ElectricCurrent current, Temperature? start = null)
    {
        double mils = Require.Positive(section, "a wire has a section").SquareMeters / CircularMil;
        double ratio = mils / Require.Positive(current, "a wire melts by a current").Amperes;
        return Duration.FromSeconds(Logarithm(start) / 33 * ratio * ratio);
    }

    private static double Logarithm(Temperature? start)
    {
        double celsius = Require.InRange(
            start ?? Temperature.FromDegreesCelsius(25),
            Temperature.FromDegreesCelsius(-100),
            Temperature.FromDegreesCelsius(CopperMeltsAtCelsius - 1),
            "the wire is solid to begin with",
            nameof(start)).DegreesCelsius;
        return Math.Log10(((CopperMeltsAtCelsius - celsius) / (234 + celsius)) + 1);
    }

    // Amperes per inch^1.5 (W. H. Preece, as tabulated by NESS Engineering).
    private static double Constant(FusingMetal metal) => Require.Defined(metal, "its constant is published") switch
    {
        FusingMetal.Copper => 10244,
        FusingMetal.Aluminum => 7585,
        FusingMetal.Platinum => 5172,
        FusingMetal.GermanSilver => 5230,
        FusingMetal.Platinoid => 4750,
        FusingMetal.Iron => 3148,
        FusingMetal.Tin => 1642,
        FusingMetal.TinLead => 1318,
        _ => 1379,
    };
}
