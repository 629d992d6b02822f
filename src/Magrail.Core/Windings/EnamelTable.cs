namespace Magrail;

/// <summary>
/// Greatest overall diameters of enameled round wire after IEC 60317-0-1, Table 1. Written down from memory; the increases agree with
/// Avanti Conductor's table after IS 13730-0-1 (the same standard) from 0.1 mm to 3.15 mm, the other rows are from memory alone.
/// </summary>
/// <remarks>
/// A size between two rows takes the increase of the thicker one, as that table does for its sizes by standard wire gauge: up to 1 µm or 2 µm
/// more than some tables of intermediate sizes allow.
/// </remarks>
internal static class EnamelTable
{
    // Bare diameter, then overall diameter of grade 1, 2, 3; millimeters. Grade 3 below 0.071 mm is an estimate: continued smoothly.
    private static readonly double[] Rows =
    [
        0.020, 0.024, 0.027, 0.030,
        0.025, 0.031, 0.034, 0.037,
        0.032, 0.039, 0.043, 0.047,
        0.040, 0.049, 0.054, 0.058,
        0.050, 0.060, 0.066, 0.072,
        0.063, 0.076, 0.083, 0.088,
        0.071, 0.084, 0.091, 0.097,
        0.080, 0.094, 0.101, 0.108,
        0.090, 0.105, 0.113, 0.120,
        0.100, 0.117, 0.125, 0.132,
        0.112, 0.130, 0.139, 0.147,
        0.125, 0.144, 0.154, 0.163,
        0.140, 0.160, 0.171, 0.181,
        0.160, 0.182, 0.194, 0.205,
        0.180, 0.204, 0.217, 0.229,
        0.200, 0.226, 0.239, 0.252,
        0.224, 0.252, 0.266, 0.280,
        0.250, 0.281, 0.297, 0.312,
        0.280, 0.312, 0.329, 0.345,
        0.315, 0.349, 0.367, 0.384,
        0.355, 0.392, 0.411, 0.428,
        0.400, 0.439, 0.459, 0.478,
        0.450, 0.491, 0.513, 0.533,
        0.500, 0.544, 0.566, 0.587,
        0.560, 0.606, 0.630, 0.653,
        0.630, 0.679, 0.704, 0.728,
        0.710, 0.762, 0.789, 0.814,
        0.800, 0.855, 0.884, 0.911,
        0.900, 0.959, 0.989, 1.018,
        1.000, 1.062, 1.094, 1.124,
        1.120, 1.184, 1.217, 1.248,
        1.250, 1.316, 1.349, 1.381,
        1.400, 1.468, 1.502, 1.535,
        1.600, 1.670, 1.706, 1.740,
        1.800, 1.872, 1.909, 1.944,
        2.000, 2.074, 2.112, 2.148,
        2.240, 2.316, 2.355, 2.392,
        2.500, 2.578, 2.618, 2.656,
        2.800, 2.880, 2.922, 2.961,
        3.150, 3.233, 3.276, 3.316,
        3.550, 3.635, 3.679, 3.721,
        4.000, 4.088, 4.133, 4.176,
        4.500, 4.591, 4.637, 4.681,
        5.000, 5.093, 5.141, 5.186,
    ];

    private const int Columns = 4;

    /// <summary>Thinnest bare diameter of the table, in meters.</summary>
    public static double Thinnest => 1e-3 * Rows[0];

    /// <summary>Thickest bare diameter of the table, in meters.</summary>
    public static double Thickest => 1e-3 * Rows[^Columns];

    /// <summary>The bare diameters of the table, in millimeters: the preferred sizes.</summary>
    public static IEnumerable<double> PreferredMillimeters => Enumerable.Range(0, Rows.Length / Columns).Select(row => Rows[row * Columns]);

    /// <summary>Overall diameter in meters of a bare diameter in meters, which lies inside the table unless the grade is bare.</summary>
    public static double OverallDiameter(double bareDiameter, EnamelGrade grade)
    {
        if (grade == EnamelGrade.Bare)
        {
            return bareDiameter;
        }

        double bare = 1e3 * bareDiameter;
        int row = 0;
        while (row < Rows.Length - Columns && Rows[row] < bare * (1 - 1e-9))
        {
            row += Columns;
        }

        return bareDiameter + (1e-3 * (Rows[row + (int)grade] - Rows[row]));
    }
}
