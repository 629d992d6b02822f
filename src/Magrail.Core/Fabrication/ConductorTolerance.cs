using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>By how much the diameter of a round winding wire may differ from its nominal one, either way.</summary>
internal static class ConductorTolerance
{
    // Thinner wires are bought by their resistance limits, not by their diameter.
    private const double Thinnest = 0.071;
    private const double ShareOfThinWire = 0.03;

    // Nominal diameter, tolerance either way; millimeters.
    [Source("TRANSWIRE", "tolerance on nominal diameter of conductor: metric sizes; sizes between take that of the next larger one")]
    private static readonly double[] Rows =
    [
        0.224, 0.003, 0.355, 0.004, 0.500, 0.005, 0.630, 0.006, 0.710, 0.007, 0.800, 0.008, 0.900, 0.009, 1.000, 0.010, 1.120, 0.011, 1.250, 0.013,
        1.320, 0.014, 1.600, 0.016, 1.800, 0.018, 2.000, 0.020, 2.240, 0.022, 2.500, 0.025, 2.800, 0.028, 3.150, 0.032, 3.550, 0.036, 4.000, 0.040,
        5.000, 0.050,
    ];

    /// <summary>The tolerance and where it comes from.</summary>
    public static (Length Tolerance, string Source) Of(WireGauge gauge)
    {
        double bare = gauge.BareDiameter.Millimeters;
        if (bare < Thinnest * (1 - 1e-9))
        {
            return (Length.FromMillimeters(ShareOfThinWire * bare), "3 % of the diameter, common practice, no source: wires this thin are sold by resistance");
        }

        for (int row = 0; row < Rows.Length; row += 2)
        {
            if (bare <= Rows[row] * (1 + 1e-9))
            {
                return (Length.FromMillimeters(Rows[row + 1]), "a maker's table of conductor tolerances (TRANSWIRE)");
            }
        }

        return (Length.FromMillimeters(0.01 * bare), "1 % of the diameter, from memory");
    }
}
