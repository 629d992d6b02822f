namespace Magrail.Numerics;

/// <summary>
/// Smoothing and derivatives by a polynomial fitted to the points in a window: for even spacing the filters of Savitzky and Golay, for any
/// spacing and any weights the same by local regression.
/// </summary>
/// <remarks>
/// The fit is written in polynomials orthogonal over the points themselves (G. E. Forsythe, J. SIAM 5 (1957) 74, from memory), so that no normal
/// equations are solved and some fifteen digits are kept at any window.
/// </remarks>
public static class LocalPolynomial
{
    /// <summary>The greatest degree.</summary>
    private const int GreatestDegree = 12;

    /// <summary>
    /// The factors on evenly spaced values (spacing 1) whose sum is the fitted polynomial, or a derivative of it, at one of the points.
    /// </summary>
    /// <param name="points">How many values the window holds, more than the degree.</param>
    /// <param name="degree">Degree of the polynomial, 0 to 12.</param>
    /// <param name="derivative">0 for the value, 1 for the first derivative, up to the degree. For a spacing h divide by its power.</param>
    /// <param name="position">At which point, from 0; the middle one where left out (then <paramref name="points"/> is odd).</param>
    /// <returns>One factor a value.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of its range, or no position is given for an even number of points.</exception>
    /// <remarks>A. Savitzky, M. J. E. Golay, Anal. Chem. 36 (1964) 1627, with the corrections of J. Steinier et al., Anal. Chem. 44 (1972) 1906.</remarks>
    public static double[] SavitzkyGolay(int points, int degree, int derivative = 0, int? position = null)
    {
        Require.InRange(degree, 0, GreatestDegree, "higher degrees follow the noise");
        Require.InRange(points, degree + 1, int.MaxValue, "a polynomial needs a point more than its degree");
        Require.InRange(derivative, 0, degree, "higher derivatives of the polynomial are zero");
        if (position is null && points % 2 == 0)
        {
            throw Require.Fault(nameof(points), points.ToString(System.Globalization.CultureInfo.InvariantCulture), "odd", "an even window has no middle point; give the position");
        }

        int at = position ?? (points / 2);
        Require.InRange(at, 0, points - 1, "points count from 0", nameof(position));
        double[] x = new double[points];
        double[] weights = new double[points];
        for (int i = 0; i < points; i++)
        {
            x[i] = i - at;
            weights[i] = 1;
        }

        double[] factors = new double[points];
        double unit = Math.Max(1, 0.5 * (points - 1));
        Factors(x, weights, 0, unit, degree, derivative, factors);
        return factors;
    }

    /// <summary>
    /// The factors on values at any places whose sum is the polynomial of least weighted squares, or a derivative of it, at a place.
    /// </summary>
    /// <param name="x">Where the values are.</param>
    /// <param name="weights">The weight of each in the fit, zero or above; more than <paramref name="degree"/> of them above zero, at different places.</param>
    /// <param name="at">Where the polynomial is wanted.</param>
    /// <param name="unit">About the width of the window, so that numbers are of the size one; above zero.</param>
    /// <param name="degree">Degree of the polynomial, 0 to 12.</param>
    /// <param name="derivative">0 for the value, 1 for the first derivative, up to the degree.</param>
    /// <param name="factors">Takes one factor a value.</param>
    /// <exception cref="ArgumentException">The spans are not equally long, or too few different places carry weight.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of its range.</exception>
    public static void Factors(
        ReadOnlySpan<double> x, ReadOnlySpan<double> weights, double at, double unit, int degree, int derivative, Span<double> factors)
    {
        Require.InRange(degree, 0, GreatestDegree, "higher degrees follow the noise");
        Require.InRange(derivative, 0, degree, "higher derivatives of the polynomial are zero");
        if (!(unit > 0 && double.IsFinite(unit)))
        {
            throw Require.Fault(nameof(unit), Show.Number(unit), "above zero and finite", "it is a width");
        }

        int n = x.Length;
        if (weights.Length != n || factors.Length != n)
        {
            throw new ArgumentException($"there are {n} places, {weights.Length} weights and room for {factors.Length} factors; each place has one of each.", nameof(weights));
        }

        // p(j+1) = (u − a_j) p_j − b_j p(j−1), with u = (x − at)/unit; its m-th derivative at u = 0 follows the same recurrence.
        double[] room = System.Buffers.ArrayPool<double>.Shared.Rent(2 * n);
        Span<double> current = room.AsSpan(0, n);
        Span<double> before = room.AsSpan(n, n);
        Span<double> derivatives = stackalloc double[GreatestDegree + 1];
        Span<double> derivativesBefore = stackalloc double[GreatestDegree + 1];
        current.Fill(1);
        before.Clear();
        derivatives.Clear();
        derivativesBefore.Clear();
        derivatives[0] = 1;
        factors.Clear();
        double normBefore = 0, first = 0;
        for (int j = 0; j <= degree; j++)
        {
            double norm = 0, moment = 0;
            for (int i = 0; i < n; i++)
            {
                double square = weights[i] * current[i] * current[i];
                norm += square;
                moment += square * ((x[i] - at) / unit);
            }

            first = j == 0 ? norm : first;
            if (!(norm > 1e-26 * first))
            {
                System.Buffers.ArrayPool<double>.Shared.Return(room);
                throw new ArgumentException($"fewer than {degree + 1} different places carry weight; a polynomial of degree {degree} needs that many.", nameof(x));
            }

            double share = derivatives[derivative] / norm;
            for (int i = 0; i < n; i++)
            {
                factors[i] += weights[i] * share * current[i];
            }

            if (j == degree)
            {
                break;
            }

            double a = moment / norm;
            double b = j == 0 ? 0 : norm / normBefore;
            for (int i = 0; i < n; i++)
            {
                double next = ((((x[i] - at) / unit) - a) * current[i]) - (b * before[i]);
                before[i] = current[i];
                current[i] = next;
            }

            for (int m = derivative; m >= 0; m--)
            {
                double next = (-a * derivatives[m]) + (m > 0 ? m * derivatives[m - 1] : 0) - (b * derivativesBefore[m]);
                derivativesBefore[m] = derivatives[m];
                derivatives[m] = next;
            }

            normBefore = norm;
        }

        System.Buffers.ArrayPool<double>.Shared.Return(room);
        double scale = Math.Pow(unit, -derivative);
        for (int i = 0; i < n; i++)
        {
            factors[i] *= scale;
        }
    }
}
