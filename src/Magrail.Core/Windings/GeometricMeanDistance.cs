using UnitsNet;

namespace Magrail;

/// <summary>
/// Geometric mean distance of a winding section from itself: the distance between two thin filaments with the mutual inductance that two
/// parts of the section have on average. A ring of mean radius a ≫ section has L ≈ μ₀ N² a (ln(8 a/g) − 2).
/// </summary>
public static class GeometricMeanDistance
{
    /// <summary>Geometric mean distance g of a rectangle from itself, by Maxwell's closed form.</summary>
    /// <remarks>
    /// ln g = ½ ln(b² + c²) − b²/(12 c²) ln(1 + c²/b²) − c²/(12 b²) ln(1 + b²/c²) + (2/3) (b/c) atan(c/b) + (2/3) (c/b) atan(b/c) − 25/12. A
    /// straight line (one side zero) has g = e^(−3/2) of its length. Good to about 12 digits down to a side ratio of 1e-5, to 5 digits below.
    /// </remarks>
    /// <param name="width">One side, zero or above.</param>
    /// <param name="height">The other side, zero or above, not both zero.</param>
    /// <returns>The distance.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A side is negative or not finite, or both are zero.</exception>
    public static Length OfRectangle(Length width, Length height)
    {
        double b = Require.NotNegative(width, "a side is a length").Meters;
        double c = Require.NotNegative(height, "a side is a length").Meters;
        if (b == 0 && c == 0)
        {
            throw Require.Fault(nameof(height), Show.Quantity(height), "above zero when the width is zero", "a point has no mean distance");
        }

        return Length.FromMeters(OfRectangle(b, c));
    }

    /// <summary>The same in meters.</summary>
    internal static double OfRectangle(double b, double c)
    {
        (double small, double large) = b < c ? (b, c) : (c, b);
        double ratio = small / large;

        // Below this the third term is a difference of two that grow: take the first order, ln g = -3/2 + (π/3) ratio.
        if (ratio < 1e-5)
        {
            return large * Math.Exp(-1.5 + (Math.PI / 3 * ratio));
        }

        double square = ratio * ratio;
        double logarithm = (0.5 * LogOnePlus(square))
            - (square / 12 * Math.Log(1 + (1 / square)))
            - (LogOnePlus(square) / (12 * square))
            + (2.0 / 3 * ((ratio * Math.Atan(1 / ratio)) + (Math.Atan(ratio) / ratio)))
            - (25.0 / 12);
        return large * Math.Exp(logarithm);
    }

    private static double LogOnePlus(double x) => x < 1e-4 ? x * (1 - (x * (0.5 - (x / 3)))) : Math.Log(1 + x);
}
