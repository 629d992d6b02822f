using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A standard section of copper wire: nominal area, the greatest resistance that the standard allows, and what it carries for good.</summary>
internal sealed record StandardSection
{
    private StandardSection(double squareMillimeters, double ohmsPerKilometer, double amperes)
    {
        Area = Area.FromSquareMillimeters(squareMillimeters);
        OhmsPerMeter = 1e-3 * ohmsPerKilometer;
        Amperes = amperes;
    }

    /// <summary>The series that a workshop has, thinnest first: nominal mm², ohm/km of a flexible conductor (class 5) at 20 °C, amperes for good.</summary>
    /// <remarks>
    /// The currents are those of flexible cords of two loaded cores with PVC insulation near 30 °C: the lower of what was read and what is remembered. A
    /// local code may ask for more copper.
    /// </remarks>
    [Source("IEC60228", "nominal areas; greatest resistance at 20 °C of plain copper conductors of class 5")]
    [Source("MEMORY", "currents carried for good (flexible cords; two makers' pages agree to within a fifth up to 4 mm²)")]
    public static IReadOnlyList<StandardSection> All { get; } =
    [
        new(0.5, 39.0, 3), new(0.75, 26.0, 6), new(1, 19.5, 10), new(1.5, 13.3, 15), new(2.5, 7.98, 20), new(4, 4.95, 25), new(6, 3.30, 35), new(10, 1.91, 55),
        new(16, 1.21, 75), new(25, 0.780, 100),
    ];

    /// <summary>Nominal area.</summary>
    public Area Area { get; }

    /// <summary>Greatest resistance of a meter at 20 °C.</summary>
    public double OhmsPerMeter { get; }

    /// <summary>Current that it carries for good.</summary>
    public double Amperes { get; }

    /// <summary>The current that a section carries for good: that of the next thinner standard one; none for what is thinner than all.</summary>
    public static double AmperesOf(Area area)
        => All.LastOrDefault(section => section.Area.SquareMeters <= area.SquareMeters * (1 + 1e-9))?.Amperes ?? 0;
}
