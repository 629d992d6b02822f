using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A thermal class of electrical insulation: the temperature at which it lasts its usual life (some 20 000 h).</summary>
/// <remarks>
/// The class is a rating for years of service. A launch that goes above it for seconds ages the enamel, at about twice the rate for every
/// 8 K to 10 K (common practice, no source), and does not destroy it at once; its softening temperature does.
/// </remarks>
public sealed record ThermalClass
{
    private ThermalClass(string designation, double celsius)
    {
        Designation = designation;
        Limit = Require.InBaseUnit(Temperature.FromDegreesCelsius(celsius));
    }

    /// <summary>Class Y, 90 °C: untreated cotton, paper, plain thermoplastics.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass Y { get; } = new("Y", 90);

    /// <summary>Class A, 105 °C: impregnated cotton and paper.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass A { get; } = new("A", 105);

    /// <summary>Class E, 120 °C.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass E { get; } = new("E", 120);

    /// <summary>Class B, 130 °C: solderable polyurethane enamel of the usual kind.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass B { get; } = new("B", 130);

    /// <summary>Class F, 155 °C: modified polyurethane enamel.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass F { get; } = new("F", 155);

    /// <summary>Class H, 180 °C: polyester-imide enamel.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass H { get; } = new("H", 180);

    /// <summary>Class 200, 200 °C: polyester-imide under polyamide-imide enamel.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass Class200 { get; } = new("200", 200);

    /// <summary>Class 220, 220 °C: polyamide-imide enamel.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass Class220 { get; } = new("220", 220);

    /// <summary>Class 250, 250 °C and above: polyimide enamel reaches 240 °C.</summary>
    [Source("IEC60085", "thermal classes")]
    public static ThermalClass Class250 { get; } = new("250", 250);

    /// <summary>All classes, from the coolest on.</summary>
    public static IReadOnlyList<ThermalClass> All { get; } = [Y, A, E, B, F, H, Class200, Class220, Class250];

    /// <summary>Its letter; above H, its number.</summary>
    public string Designation { get; }

    /// <summary>The temperature it is rated for.</summary>
    public Temperature Limit { get; }

    /// <summary>The lowest class that is rated for a temperature; null above 250 °C.</summary>
    /// <param name="temperature">The hottest temperature of the winding.</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is not finite.</exception>
    public static ThermalClass? For(Temperature temperature)
    {
        Temperature hottest = Require.Finite(temperature, "a winding has a temperature");
        return All.FirstOrDefault(one => one.Limit.Kelvins >= hottest.Kelvins);
    }

    /// <summary>How far a temperature lies below the limit; below zero: above it.</summary>
    /// <param name="temperature">The hottest temperature of the winding.</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is not finite.</exception>
    public TemperatureDelta MarginAt(Temperature temperature)
        => TemperatureDelta.FromKelvins(Limit.Kelvins - Require.Finite(temperature, "a winding has a temperature").Kelvins);

    /// <summary>The class in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"thermal class {Designation} ({Show.Quantity(Limit)})";
}
