using Magrail.Numerics;
using MathNet.Numerics;
using Xunit.Abstractions;

namespace Magrail.Tests.Numerics;

public class PiecewisePolynomialTests(ITestOutputHelper output)
{
    private static readonly AccuracyRow OwnBound = new("piecewise polynomials of eight functions, 97 places in each cell", "the functions themselves", 1, "of the bound stated");

    public static TheoryData<string, double, double, double> Functions => new()
    {
        { "sine", 0, 20, 1e-7 },
        { "sine", 0, 20, 1e-13 },
        { "runge", -1, 1, 1e-7 },
        { "runge", -1, 1, 1e-12 },
        { "exponential", -3, 5, 1e-9 },
        { "dipole", -0.4, 0.4, 1e-7 },
        { "dipole", -0.4, 0.4, 1e-11 },
        { "sharp", -1, 1, 1e-7 },
        { "constant", 5, 6, 1e-14 },
        { "tiny", 1e-9, 3e-9, 1e-10 },
        { "far", 1e6, 1e6 + 1, 1e-8 },
    };

    private static Func<double, double> Named(string name) => name switch
    {
        "sine" => Math.Sin,
        "runge" => x => 1 / (1 + (25 * x * x)),
        "exponential" => Math.Exp,

        // The shape of a coupling curve: odd, two lobes, a tail as x^-4 (here with 1 cm as its scale), peak about 1.
        "dipole" => x => 3.5 * (x / 0.01) / Math.Pow(1 + (x * x / 1e-4), 2.5),
        "sharp" => x => Math.Tanh(200 * (x - 0.1234)),
        "constant" => _ => 0.7,
        "tiny" => x => Math.Cos(x * 1e9),
        "far" => x => Math.Sin(10 * (x - 1e6)),
        _ => throw new ArgumentOutOfRangeException(nameof(name)),
    };

    [Theory]
    [MemberData(nameof(Functions))]
    public void Keeps_within_its_error_bound_everywhere(string name, double from, double to, double tolerance)
    {
        Func<double, double> f = Named(name);
        var fit = PiecewisePolynomial.Fit(f, from, to, tolerance);

        Assert.InRange(fit.ErrorBound, 0, tolerance);
        double worst = 0;
        double worstAt = 0;

        // About 97 points in each cell, none of them on the fit's own points: the golden ratio never falls into step with them.
        int points = fit.CellCount * 97;
        for (int i = 0; i < points; i++)
        {
            double x = from + ((to - from) * (i * 0.6180339887498949 % 1));
            double error = Math.Abs(fit.At(x) - f(x));
            if (error > worst)
            {
                (worst, worstAt) = (error, x);
            }
        }

        output.WriteLine($"{name}: {fit.CellCount} cells, bound {fit.ErrorBound:G3}, worst error {worst:G3} at {worstAt:G6} (tolerance {tolerance:G2})");
        OwnBound.Hold(worst == 0 ? 0 : worst / fit.ErrorBound, name);
    }

    [Fact]
    public void Error_falls_as_the_twelfth_power_of_the_cell_width()
    {
        // sin(x) on [0, 8π]: the interpolation error of degree 11 is proportional to h^12 (Chebyshev-Lobatto remainder).
        double coarse = WorstOfSine(8);
        double fine = WorstOfSine(16);
        double order = Math.Log2(coarse / fine);
        output.WriteLine($"errors {coarse:G4}, {fine:G4}: order {order:F2}");
        Assert.InRange(order, 11.5, 12.5);

        static double WorstOfSine(int cells)
        {
            var fit = PiecewisePolynomial.Fit(Math.Sin, 0, 8 * Math.PI, 1, maxCells: cells, leastCells: cells);
            Assert.Equal(cells, fit.CellCount);
            return Enumerable.Range(0, 20000).Max(i =>
            {
                double x = 8 * Math.PI * i / 20000;
                return Math.Abs(fit.At(x) - Math.Sin(x));
            });
        }
    }

    [Fact]
    public void Reproduces_a_polynomial_of_degree_eleven_to_rounding()
    {
        // T_11 by its cosine form; |T_11| <= 1, so the rounding of the cell's powers is what is seen here.
        static double f(double x) => Math.Cos(11 * Math.Acos(Math.Clamp(x, -1, 1)));
        var fit = PiecewisePolynomial.Fit(f, -1, 1, 1e-11, maxCells: 1, leastCells: 1);
        double worst = Enumerable.Range(0, 5001).Max(i => Math.Abs(fit.At(-1 + (i / 2500.0)) - f(-1 + (i / 2500.0))));
        output.WriteLine($"T_11 on one cell: {worst:G3}, bound {fit.ErrorBound:G3}");
        Assert.InRange(worst, 0, fit.ErrorBound);
        Assert.InRange(worst, 0, 2e-12);
    }

    [Fact]
    public void Is_continuous_over_cell_borders_and_meets_its_samples_there()
    {
        static double f(double x) => 1 / (1 + (25 * x * x));
        var fit = PiecewisePolynomial.Fit(f, -1, 1, 1e-3, leastCells: 8);
        for (int border = 1; border < fit.CellCount; border++)
        {
            double x = -1 + (2.0 * border / fit.CellCount);
            Assert.Equal(fit.At(Math.BitDecrement(x)), fit.At(Math.BitIncrement(x)), 1e-14);
            Assert.Equal(f(x), fit.At(x), 1e-14);
        }

        Assert.Equal(f(-1), fit.At(-1), 1e-15);
        Assert.Equal(f(1), fit.At(1), 1e-15);
    }

    [Fact]
    public void Holds_its_end_values_outside_and_passes_NaN_through()
    {
        var fit = PiecewisePolynomial.Fit(Math.Exp, 0, 1, 1e-9);
        Assert.Equal(fit.At(0), fit.At(-5));
        Assert.Equal(fit.At(1), fit.At(7));
        Assert.Equal(fit.At(0), fit.At(double.NegativeInfinity));
        Assert.Equal(fit.At(1), fit.At(double.PositiveInfinity));
        Assert.Equal(1, fit.At(0), fit.ErrorBound);
        Assert.Equal(Math.E, fit.At(1), fit.ErrorBound);
        Assert.True(double.IsNaN(fit.At(double.NaN)));
    }

    [Fact]
    public void Batch_and_single_sampling_give_the_same_bits()
    {
        var single = PiecewisePolynomial.Fit(Math.Sin, 0, 10, 1e-10);
        var batch = PiecewisePolynomial.Fit(
            (points, values) =>
            {
                for (int i = points.Length - 1; i >= 0; i--)
                {
                    values[i] = Math.Sin(points[i]);
                }
            },
            0,
            10,
            1e-10);
        Assert.Equal(single.CellCount, batch.CellCount);
        for (int i = 0; i <= 1000; i++)
        {
            Assert.Equal(single.At(i * 0.01), batch.At(i * 0.01));
        }
    }

    [Fact]
    public void Scaling_scales_values_bound_and_peak()
    {
        var fit = PiecewisePolynomial.Fit(Math.Sin, 0, 3, 1e-10);
        PiecewisePolynomial scaled = fit.Scaled(-2);
        Assert.Equal(-2 * fit.At(1.1), scaled.At(1.1));
        Assert.Equal(2 * fit.ErrorBound, scaled.ErrorBound);
        Assert.Equal(2 * fit.Peak, scaled.Peak);
        Assert.Throws<ArgumentOutOfRangeException>(() => fit.Scaled(double.NaN));
    }

    [Fact]
    public void A_kink_on_a_cell_border_is_no_trouble()
    {
        // With 10 cells, 0.3 is a border, and |x - 0.3| is a straight line on either side of it.
        var fit = PiecewisePolynomial.Fit(x => Math.Abs(x - 0.3), 0, 1, 1e-14, maxCells: 10, leastCells: 10);
        Assert.Equal(0.05, fit.At(0.25), 1e-15);
        Assert.Equal(0.05, fit.At(0.35), 1e-15);
    }

    [Fact]
    public void A_kink_or_a_jump_is_refused_with_its_place()
    {
        var kink = Assert.Throws<NonConvergenceException>(
            () => PiecewisePolynomial.Fit(x => Math.Abs(x - 0.3137), 0, 1, 1e-9, maxCells: 200));
        Assert.Contains("the worst place is 0.31", kink.Message, StringComparison.Ordinal);
        Assert.Contains("200 cells", kink.Message, StringComparison.Ordinal);

        var jump = Assert.Throws<NonConvergenceException>(
            () => PiecewisePolynomial.Fit(x => x < 0.7171 ? 0.0 : 1.0, 0, 1, 1e-3, maxCells: 200));
        Assert.Contains("the worst place is 0.71", jump.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sample_that_is_not_finite_is_refused_with_its_place()
    {
        var fault = Assert.Throws<NonConvergenceException>(
            () => PiecewisePolynomial.Fit(x => x >= 2 ? double.NaN : x, 0, 2, 1e-9));
        Assert.Contains("NaN at 2.", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(double.NaN, 1, 1e-6, 16, 4, "from")]
    [InlineData(0, double.PositiveInfinity, 1e-6, 16, 4, "to")]
    [InlineData(1, 1, 1e-6, 16, 4, "to")]
    [InlineData(1, 0, 1e-6, 16, 4, "to")]
    [InlineData(0, 1, 0, 16, 4, "absoluteTolerance")]
    [InlineData(0, 1, double.NaN, 16, 4, "absoluteTolerance")]
    [InlineData(0, 1, 1e-6, 0, 4, "maxCells")]
    [InlineData(0, 1, 1e-6, 16, 0, "leastCells")]
    [InlineData(0, 1, 1e-6, 16, 17, "leastCells")]
    public void Bad_input_names_its_parameter(double from, double to, double tolerance, int maxCells, int leastCells, string name)
        => Assert.Throws<ArgumentOutOfRangeException>(
            name, () => PiecewisePolynomial.Fit(Math.Sin, from, to, tolerance, maxCells, leastCells));

    [Fact]
    public void Evaluation_allocates_nothing()
    {
        var fit = PiecewisePolynomial.Fit(Math.Sin, 0, 10, 1e-10);
        double sum = fit.At(1);
        long allocated = Allocation.LeastOf(() =>
        {
            for (int i = 0; i < 10000; i++)
            {
                sum += fit.At(i * 0.001);
            }
        });
        Assert.Equal(0, allocated);
        Assert.True(double.IsFinite(sum));
    }

    /// <summary>
    /// Each attempt is one batch of eleven places and three checks a cell and the end. Far from the tolerance the cells double; then the twelfth power of their width tells how many it takes, and a few attempts are enough.
    /// </summary>
    [Fact]
    public void Cells_double_until_the_error_tells_how_many_it_takes()
    {
        List<int> cells = [];
        var fit = PiecewisePolynomial.Fit(
            (points, values) =>
            {
                cells.Add((points.Length - 1) / 14);
                for (int i = 0; i < points.Length; i++)
                {
                    values[i] = Math.Tanh(20 * points[i]);
                }
            },
            -1,
            1,
            1e-9);
        Assert.Equal([8, 16, 32], cells[..3]);
        Assert.Equal(fit.CellCount, cells[^1]);
        Assert.InRange(cells.Count, 4, 6);

        // The last step is as long as it needs to be, not another doubling.
        Assert.InRange(cells[^1], 1.25 * cells[^2], (2 * cells[^2]) - 1);
    }

    /// <summary>At 1e6 neighboring places are 1.2e-10 apart; where the slope is 10 the function moves by ten times that between them, which the bound counts.</summary>
    [Fact]
    public void The_bound_counts_the_rounding_of_far_places()
    {
        var far = PiecewisePolynomial.Fit(Named("far"), 1e6, 1e6 + 1, 1e-8);
        Assert.InRange(far.ErrorBound, 10 * 1.2e-10, 1e-8);
        Assert.Throws<ArgumentNullException>("f", () => PiecewisePolynomial.Fit((Func<double, double>)null!, 0, 1, 1));
        Assert.Throws<ArgumentNullException>("sample", () => PiecewisePolynomial.Fit((BatchSampler)null!, 0, 1, 1));
    }
}
