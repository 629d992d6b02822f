using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>Smoothing filters against the published tables, and local regression against what it must reproduce.</summary>
public class LocalPolynomialTests
{
    private static readonly AccuracyRow Filters = new(
        "smoothing filters of 5 to 17 points, value, first and second derivative, 12 rows",
        "A. Savitzky, M. J. E. Golay, Anal. Chem. 36 (1964) 1627, corrected by J. Steinier and others, Anal. Chem. 44 (1972) 1906",
        1e-13,
        "");

    // A. Savitzky, M. J. E. Golay, Anal. Chem. 36 (1964) 1627, tables I to V with J. Steinier's corrections (1972), as integers over a norm.
    public static TheoryData<int, int, int, double, double[]> Published => new()
    {
        { 5, 2, 0, 35, [-3, 12, 17, 12, -3] },
        { 7, 2, 0, 21, [-2, 3, 6, 7, 6, 3, -2] },
        { 9, 2, 0, 231, [-21, 14, 39, 54, 59, 54, 39, 14, -21] },
        { 11, 2, 0, 429, [-36, 9, 44, 69, 84, 89, 84, 69, 44, 9, -36] },
        { 13, 2, 0, 143, [-11, 0, 9, 16, 21, 24, 25, 24, 21, 16, 9, 0, -11] },
        { 15, 2, 0, 1105, [-78, -13, 42, 87, 122, 147, 162, 167, 162, 147, 122, 87, 42, -13, -78] },
        { 17, 2, 0, 323, [-21, -6, 7, 18, 27, 34, 39, 42, 43, 42, 39, 34, 27, 18, 7, -6, -21] },
        { 5, 2, 1, 10, [-2, -1, 0, 1, 2] },
        { 5, 3, 1, 12, [1, -8, 0, 8, -1] },
        { 7, 3, 1, 252, [22, -67, -58, 0, 58, 67, -22] },
        { 5, 2, 2, 7, [2, -1, -2, -1, 2] },
        { 7, 2, 2, 42, [5, 0, -3, -4, -3, 0, 5] },
    };

    [Theory]
    [MemberData(nameof(Published))]
    public void Filters_are_the_published_ones(int points, int degree, int derivative, double norm, double[] integers)
    {
        double[] factors = LocalPolynomial.SavitzkyGolay(points, degree, derivative);
        Assert.Equal(points, integers.Length);
        for (int i = 0; i < points; i++)
        {
            Filters.HoldDifference(integers[i] / norm, factors[i]);
        }

        // A value is unchanged by the next odd degree, a slope by the next even one: symmetry about the middle.
        double[] next = LocalPolynomial.SavitzkyGolay(points, derivative == 1 ? degree - (degree % 2 == 0 ? 1 : 0) + 1 : degree + 1, derivative);
        if (derivative != 1 || degree % 2 == 1)
        {
            Assert.All(factors.Zip(next), pair => Assert.Equal(pair.First, pair.Second, 1e-13));
        }
    }

    [Fact]
    public void A_row_that_circulates_as_the_17_point_filter_is_five_times_too_large()
    {
        // A public code prints a 17-point row that begins −105, −30, 35, 90. The published one begins −21, −6, 7, 18 over 323: with that norm, the printed
        // one makes five of every one. The tests above could not pass with it.
        double[] factors = LocalPolynomial.SavitzkyGolay(17, 2);
        double[] printed = [-105, -30, 35, 90];
        for (int i = 0; i < printed.Length; i++)
        {
            Assert.Equal(5, printed[i] / 323 / factors[i], 1e-10);
        }

        Assert.Equal(1, factors.Sum(), 1e-13);
    }

    [RepeatableProperty]
    public void A_polynomial_of_its_degree_comes_back_with_its_derivatives(int seed)
    {
        var random = new Random(seed);
        int degree = random.Next(0, 6), n = random.Next(degree + 1, 60);
        double[] x = [.. Enumerable.Range(0, n).Select(i => 0.01 * (i + (0.8 * random.NextDouble()))).Select(v => v + 3)];
        double[] weights = [.. x.Select(_ => 0.1 + random.NextDouble())];
        double[] c = [.. Enumerable.Range(0, degree + 1).Select(_ => random.NextDouble() - 0.5)];
        double at = x[0] + (random.NextDouble() * (x[^1] - x[0])), unit = Math.Max(x[^1] - x[0], 0.01);
        double[] y = [.. x.Select(v => c.Select((cj, j) => cj * Math.Pow((v - 3) / unit, j)).Sum())];
        for (int m = 0; m <= degree; m++)
        {
            double[] factors = new double[n];
            LocalPolynomial.Factors(x, weights, at, unit, degree, m, factors);
            double found = factors.Zip(y, (a, b) => a * b).Sum();
            double expected = c.Select((cj, j) => j < m ? 0 : cj * Falling(j, m) * Math.Pow((at - 3) / unit, j - m)).Sum() / Math.Pow(unit, m);

            // Rounding grows with the factors themselves.
            double allowed = 1e-12 * (factors.Zip(y, (a, b) => Math.Abs(a * b)).Sum() + Math.Abs(expected));
            Assert.Equal(expected, found, Math.Max(allowed, 1e-300));
        }
    }

    [Fact]
    public void Bad_windows_are_refused()
    {
        Assert.Contains("no middle point", Assert.Throws<ArgumentOutOfRangeException>(() => LocalPolynomial.SavitzkyGolay(6, 2)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => LocalPolynomial.SavitzkyGolay(3, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => LocalPolynomial.SavitzkyGolay(5, 2, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => LocalPolynomial.SavitzkyGolay(5, 2, 0, 5));
        Assert.Throws<ArgumentOutOfRangeException>(() => LocalPolynomial.SavitzkyGolay(5, 13));
        double[] f = new double[3];
        Assert.Contains("fewer than 3 different places", Assert.Throws<ArgumentException>(() => LocalPolynomial.Factors([1, 1, 2], [1, 1, 1], 0, 1, 2, 0, f)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => LocalPolynomial.Factors([1, 2, 3], [1, 1], 0, 1, 1, 0, f));
        Assert.Throws<ArgumentOutOfRangeException>(() => LocalPolynomial.Factors([1, 2, 3], [1, 1, 1], 0, 0, 1, 0, f));
    }

    /// <summary>Through a point more than its degree, the highest derivative of the polynomial is the highest difference: binomial factors of alternating sign.</summary>
    [Fact]
    public void The_highest_derivative_of_the_highest_degree_is_the_difference()
    {
        double[] factors = LocalPolynomial.SavitzkyGolay(13, 12, 12);
        double binomial = 1;
        for (int k = 0; k <= 12; k++)
        {
            Assert.Equal(k % 2 == 0 ? 1 : -1, factors[k] / binomial, 1e-9);
            binomial = binomial * (12 - k) / (k + 1);
        }
    }

    /// <summary>Weights count among themselves: a common factor on all changes nothing, nor does what the room for the factors held before.</summary>
    [Theory]
    [InlineData(1e-20)]
    [InlineData(1e20)]
    public void A_common_factor_of_the_weights_changes_nothing(double common)
    {
        double[] x = [0.1, 0.4, 0.5, 0.9, 1.3], weights = [1, 2, 1.5, 1, 0.3], plain = new double[5], scaled = [7, 7, 7, 7, 7];
        LocalPolynomial.Factors(x, weights, 0.6, 1, 2, 1, plain);
        LocalPolynomial.Factors(x, [.. weights.Select(w => common * w)], 0.6, 1, 2, 1, scaled);
        Assert.All(plain.Zip(scaled), pair => Assert.Equal(pair.First, pair.Second, 1e-12));

        // The slope of x is 1, of a constant 0.
        Assert.Equal(1, plain.Zip(x, (a, b) => a * b).Sum(), 1e-12);
        Assert.Equal(0, plain.Sum(), 1e-12);

        // Three places that are two, off by rounding only, whatever the weights.
        Assert.Throws<ArgumentException>(() => LocalPolynomial.Factors([1.0 / 3, 1.0 / 3, 0.7], [common, common, common], 0.1, 0.3, 2, 0, new double[3]));
    }

    [Fact]
    public void Factors_at_any_places_are_refused_for_a_degree_or_derivative_out_of_range()
    {
        double[] x = [.. Enumerable.Range(0, 20).Select(i => (double)i)], weights = [.. x.Select(_ => 1.0)];
        foreach ((int degree, int derivative, string name) in ((int, int, string)[])[(13, 0, "degree"), (-1, 0, "degree"), (3, 4, "derivative"), (3, -1, "derivative")])
        {
            Assert.Throws<ArgumentOutOfRangeException>(name, () => LocalPolynomial.Factors(x, weights, 9, 20, degree, derivative, new double[20]));
        }
    }

    private static double Falling(int j, int m)
    {
        double product = 1;
        for (int k = 0; k < m; k++)
        {
            product *= j - k;
        }

        return product;
    }
}
