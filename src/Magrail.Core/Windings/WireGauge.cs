using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A size of round wire: the diameter d of the bare conductor.</summary>
/// <remarks>Tolerances of drawn wire are neglected. The record is immutable; two gauges are equal if name and diameter are.</remarks>
public sealed record WireGauge
{
    private const double MetersPerInch = 0.0254;

    // d = 0.005 in at gauge 36, 0.46 in at 4/0, a geometric progression of 39 steps between: a ratio of 92.
    [Source("ASTMB258", "definition of the gauge by its geometric progression")]
    private const double AwgRatio = 92;

    private const int ThickestAwg = -3;
    private const int ThinnestAwg = 44;

    // Thinner than the thinnest size drawn for windings, thicker than AWG 4/0.
    private static readonly Length Thinnest = Length.FromMillimeters(0.01);
    private static readonly Length Thickest = Length.FromMillimeters(12);

    private readonly int? _awg;

    private WireGauge(string name, Length bareDiameter, int? awg)
    {
        Name = name;
        BareDiameter = bareDiameter;
        _awg = awg;
    }

    /// <summary>The preferred metric sizes of enameled wire, 0.02 mm to 5 mm (the R 20 series of IEC 60317-0-1, from memory), rising.</summary>
    public static IReadOnlyList<WireGauge> Preferred { get; }
        = [.. EnamelTable.PreferredMillimeters.Select(size => Metric(Length.FromMillimeters(size)))];

    /// <summary>The name, such as <c>0.5 mm</c> or <c>AWG 24</c>.</summary>
    public string Name { get; }

    /// <summary>Diameter of the bare conductor.</summary>
    public Length BareDiameter { get; }

    /// <summary>Section of the bare conductor, A = π d²/4.</summary>
    public Area Section => Area.FromSquareMeters(0.25 * Math.PI * BareDiameter.Meters * BareDiameter.Meters);

    /// <summary>A wire by its bare diameter. Any diameter is taken, not only the preferred sizes.</summary>
    /// <param name="bareDiameter">0.01 mm to 12 mm.</param>
    /// <returns>The gauge.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The diameter is outside that range.</exception>
    public static WireGauge Metric(Length bareDiameter)
    {
        Length diameter = Require.InRange(
            bareDiameter, Thinnest, Thickest, "round winding wire is drawn in this range, given as the diameter without enamel");
        return new WireGauge($"{Show.Number(diameter.Millimeters)} mm", diameter, null);
    }

    /// <summary>A wire by American wire gauge: d = 0.005 in · 92^((36 − n)/39).</summary>
    /// <param name="number">−3 (which is 4/0) through −2 (3/0), −1 (2/0), 0 (1/0) and 1, 2, … to 44.</param>
    /// <returns>The gauge.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There is no such gauge.</exception>
    public static WireGauge Awg(int number)
    {
        Require.InRange(
            number,
            ThickestAwg,
            ThinnestAwg,
            "American wire gauges run from 4/0, written -3, to 44");
        double diameter = 0.005 * MetersPerInch * Math.Pow(AwgRatio, (36 - number) / 39.0);
        string name = number > 0
            ? string.Create(CultureInfo.InvariantCulture, $"AWG {number}")
            : string.Create(CultureInfo.InvariantCulture, $"AWG {1 - number}/0");
        return new WireGauge(name, Length.FromMeters(diameter), number);
    }

    /// <summary>The next thicker size: one American wire gauge down, or the next preferred metric size.</summary>
    /// <returns>The gauge.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There is none in the series.</exception>
    public WireGauge NextThicker()
        => _awg is { } number
            ? Awg(number - 1)
            : Preferred.FirstOrDefault(size => size.BareDiameter.Meters > BareDiameter.Meters * (1 + 1e-9))
                ?? throw NoFurther(Name, "the thickest preferred size is 5 mm");

    /// <summary>The next thinner size: one American wire gauge up, or the next preferred metric size.</summary>
    /// <returns>The gauge.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There is none in the series.</exception>
    public WireGauge NextThinner()
        => _awg is { } number
            ? Awg(number + 1)
            : Preferred.LastOrDefault(size => size.BareDiameter.Meters < BareDiameter.Meters * (1 - 1e-9))
                ?? throw NoFurther(Name, "the thinnest preferred size is 0.02 mm");

    /// <summary>The name.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => Name;

    private static ArgumentOutOfRangeException NoFurther(string name, string why)
        => Require.Fault("gauge", name, "a size with a neighbor", why);
}
