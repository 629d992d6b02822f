using UnitsNet;

namespace Magrail;

/// <summary>
/// How hot a current makes a braid, lead or wire from which no heat leaves: c dT/dt = ρ(T) (i/A)², in closed form for a resistivity that rises
/// in a straight line.
/// </summary>
/// <remarks>
/// With θ = T − 20 °C + 1/α: θ = θ₀ exp(ρ₂₀ α/(c A²) · ∫ i² dt). Good for times short against those in which heat leaves (seconds for a
/// braid). The straight line of resistivity is good to about 200 °C, and some 15 % too low near copper's melting point; heat capacity rises too, so that the
/// errors cancel in part (both from memory). Take a melting limit as good to a tenth in current.
/// </remarks>
public static class AdiabaticHeating
{
    /// <summary>Temperature after a current has flowed for a time.</summary>
    /// <param name="conductor">The metal.</param>
    /// <param name="section">Section of metal, above zero.</param>
    /// <param name="current">Current by its root mean square over the time.</param>
    /// <param name="time">The time, zero or above.</param>
    /// <param name="start">Temperature at the start, −100 °C to the melting point; 20 °C by default.</param>
    /// <returns>The temperature; above the melting point it says that the metal melts.</returns>
    /// <exception cref="ArgumentNullException"><paramref name="conductor"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static Temperature After(Conductor conductor, Area section, ElectricCurrent current, Duration time, Temperature? start = null)
    {
        ArgumentNullException.ThrowIfNull(conductor);
        double squareMeters = Require.Positive(section, "a lead has a section").SquareMeters;
        double amperes = Require.Finite(current, "a lead carries a current").Amperes;
        double seconds = Require.NotNegative(time, "heat comes with time").Seconds;
        double celsius = Start(conductor, start);
        return Temperature.FromDegreesCelsius(Celsius(conductor, squareMeters, amperes * amperes * seconds, celsius));
    }

    /// <summary>The time in which a current brings a conductor to a temperature.</summary>
    /// <param name="conductor">The metal.</param>
    /// <param name="section">Section of metal, above zero.</param>
    /// <param name="current">Current by its root mean square, not zero.</param>
    /// <param name="limit">The temperature, from the start's to the melting point; the melting point by default.</param>
    /// <param name="start">Temperature at the start, −100 °C to the melting point; 20 °C by default.</param>
    /// <returns>The time.</returns>
    /// <exception cref="ArgumentNullException"><paramref name="conductor"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static Duration TimeTo(Conductor conductor, Area section, ElectricCurrent current, Temperature? limit = null, Temperature? start = null)
    {
        ArgumentNullException.ThrowIfNull(conductor);
        double amperes = Require.Finite(current, "a lead carries a current").Amperes;
        return amperes != 0
            ? Duration.FromSeconds(Action(conductor, section, limit, start) / (amperes * amperes))
            : throw Require.Fault(nameof(current), Show.Quantity(current), "other than zero", "without a current it stays cold");
    }

    /// <summary>The current that brings a conductor to a temperature within a time.</summary>
    /// <param name="conductor">The metal.</param>
    /// <param name="section">Section of metal, above zero.</param>
    /// <param name="time">The time, above zero.</param>
    /// <param name="limit">The temperature, from the start's to the melting point; the melting point by default.</param>
    /// <param name="start">Temperature at the start, −100 °C to the melting point; 20 °C by default.</param>
    /// <returns>The current by its root mean square.</returns>
    /// <exception cref="ArgumentNullException"><paramref name="conductor"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static ElectricCurrent CurrentTo(Conductor conductor, Area section, Duration time, Temperature? limit = null, Temperature? start = null)
    {
        ArgumentNullException.ThrowIfNull(conductor);
        double seconds = Require.Positive(time, "in no time nothing warms").Seconds;
        return ElectricCurrent.FromAmperes(Math.Sqrt(Action(conductor, section, limit, start) / seconds));
    }

    /// <summary>°C after ∫ i² dt in ampere-squared seconds.</summary>
    internal static double Celsius(Conductor conductor, double squareMeters, double action, double startCelsius)
    {
        double alpha = conductor.TemperatureCoefficient.PerKelvin;
        double perAction = conductor.Resistivity.OhmMeters / (conductor.VolumetricHeatCapacity.JoulesPerCubicMeterKelvin * squareMeters * squareMeters);
        double resistance = 1 + (alpha * (startCelsius - 20));
        double exponent = alpha * perAction * action;

        // (e^x − 1)/α, which is x/α for no α at all.
        double rise = alpha == 0 ? perAction * action : double.ExpM1(exponent) / alpha;
        return startCelsius + (resistance * rise);
    }

    // ∫ i² dt from start to limit.
    private static double Action(Conductor conductor, Area section, Temperature? limit, Temperature? start)
    {
        double squareMeters = Require.Positive(section, "a lead has a section").SquareMeters;
        double from = Start(conductor, start);
        double to = Require.InRange(limit ?? conductor.MeltingPoint, Temperature.FromDegreesCelsius(from), conductor.MeltingPoint, "a current warms, and what has melted is gone", nameof(limit)).DegreesCelsius;
        double alpha = conductor.TemperatureCoefficient.PerKelvin;
        double rise = (to - from) / (1 + (alpha * (from - 20)));
        double perAction = conductor.Resistivity.OhmMeters / (conductor.VolumetricHeatCapacity.JoulesPerCubicMeterKelvin * squareMeters * squareMeters);
        return (alpha == 0 ? rise : double.LogP1(alpha * rise) / alpha) / perAction;
    }

    private static double Start(Conductor conductor, Temperature? start)
        => Require.InRange(start ?? Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(-100), conductor.MeltingPoint, "the metal is solid to begin with", nameof(start)).DegreesCelsius;
}
