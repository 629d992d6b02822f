using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>Least squares at bounds, on functions that cannot be improved, and its errors with some parameters known.</summary>
public sealed class LeastSquaresCornerTests
{
    private static readonly double[] X = [0, 1, 2, 4, 7];
    private static readonly double[] Y = [1.1, 2.9, 5.2, 8.8, 15.3];
    private static readonly FittedCurve Line = (x, p) => p[0] + (p[1] * x);

    /// <summary>Closed forms of a line y = a + b x with unit weights: with a known, var b = s²/Σx²; with b known, var a = s²/n.</summary>
    [Fact]
    public void Errors_with_the_others_known()
    {
        LeastSquaresFit fit = LeastSquares.Fit(Line, X, Y, [0, 0]);
        double variance = fit.SumOfSquares / 3, squares = X.Sum(x => x * x), mean = X.Average(), spread = X.Sum(x => (x - mean) * (x - mean));
        Assert.Equal(Math.Sqrt(variance / squares), fit.StandardErrorAmong(1, [1]), 1e-10);
        Assert.Equal(Math.Sqrt(variance / 5), fit.StandardErrorAmong(0, [0]), 1e-10);
        Assert.Equal(Math.Sqrt(variance / spread), fit.StandardErrorAmong(1, [0, 1]), 1e-10);
        Assert.Equal(fit.StandardErrors[0], fit.StandardErrorAmong(0, [1, 0]), 1e-10);
        double[,] both = fit.CovarianceAmong([0, 1]);
        Assert.Equal(-mean * variance / spread, both[0, 1], 1e-10);
        Assert.Equal(both[0, 1], fit.Covariance(0, 1), 1e-10);
        Assert.Equal(variance / spread, fit.Covariance(1, 1), 1e-10);
        Assert.Empty(fit.CovarianceAmong([]));
        Assert.Equal(Math.Sqrt(variance), fit.ResidualDeviation, 1e-12);

        // Known deviations: the variance is one.
        LeastSquaresFit known = LeastSquares.Fit(Line, X, Y, [0, 0], new() { DeviationsAreKnown = true });
        Assert.Equal(Math.Sqrt(1 / squares), known.StandardErrorAmong(1, [1]), 1e-10);
    }

    /// <summary>Two-sided quantiles: normal 90 % 1.644854 and 99 % 2.575829, Student's t with 3 degrees 90 % 2.353363 and 99 % 5.840909 (any table).</summary>
    [Fact]
    public void Half_widths_by_the_confidence_asked_for()
    {
        LeastSquaresFit scatter = LeastSquares.Fit(Line, X, Y, [0, 0]), known = LeastSquares.Fit(Line, X, Y, [0, 0], new() { DeviationsAreKnown = true });
        Assert.Equal(2.353363, scatter.HalfWidth(0, 0.9) / scatter.StandardErrors[0], 1e-5);
        Assert.Equal(5.840909, scatter.HalfWidth(0, 0.99) / scatter.StandardErrors[0], 1e-5);
        Assert.Equal(1.644854, known.HalfWidth(0, 0.9) / known.StandardErrors[0], 1e-5);
        Assert.Equal(2.575829, known.HalfWidth(0, 0.99) / known.StandardErrors[0], 1e-5);

        // Through as many points as parameters there is no scatter to judge by: normal, and of no known size.
        LeastSquaresFit through = LeastSquares.Fit(Line, X.AsSpan(0, 2), Y.AsSpan(0, 2), [0, 0]);
        Assert.Equal(0, through.DegreesOfFreedom);
        Assert.True(double.IsNaN(through.StandardErrors[0]));
        Assert.Equal(1.644854, through.Quantile(0.9), 1e-5);
        Assert.Equal(1, scatter.Correlation(1, 1));
        Assert.StartsWith("Converged: ", scatter.ToString(), StringComparison.Ordinal);
        foreach (Action wrong in (Action[])[() => scatter.Correlation(0, 2), () => scatter.Correlation(-1, 0), () => scatter.Covariance(2, 0), () => scatter.Covariance(0, -1), () => scatter.HalfWidth(2), () => scatter.HalfWidth(0, 0.4), () => scatter.HalfWidth(0, 1)])
        {
            Assert.Throws<ArgumentOutOfRangeException>(wrong);
        }
    }

    [Fact]
    public void Every_call_of_the_residuals_is_counted_and_the_limit_of_steps_holds()
    {
        int calls = 0;
        FittedCurve counted = (x, p) =>
        {
            calls += x == 0 ? 1 : 0;
            return p[0] * Math.Exp(p[1] * x);
        };
        double[] y = [.. X.Select(x => 2 * Math.Exp(0.3 * x))];
        LeastSquaresFit whole = LeastSquares.Fit(counted, X, y, [1, 0.1]);
        Assert.Equal(calls, whole.Evaluations);
        Assert.Equal(LeastSquaresOutcome.Converged, whole.Outcome);
        Assert.InRange(whole.Iterations, 3, 20);

        LeastSquaresFit cut = LeastSquares.Fit(counted, X, y, [1, 0.1], new() { IterationLimit = 2 });
        Assert.Equal((LeastSquaresOutcome.IterationLimit, 2), (cut.Outcome, cut.Iterations));
        Assert.True(cut.SumOfSquares > whole.SumOfSquares);

        // A line is met in one step once the radius allows it: from close by, in one step and one to see that it is there.
        LeastSquaresFit line = LeastSquares.Fit(Line, X, Y, [0.9, 2.05]);
        Assert.InRange(line.Iterations, 1, 4);
    }

    [Fact]
    public void A_loose_tolerance_ends_sooner_and_a_loose_sum_at_once()
    {
        double[] y = [.. X.Select(x => (2 * Math.Exp(0.3 * x)) + (0.1 * Math.Sin(5 * x)))];
        FittedCurve curve = (x, p) => p[0] * Math.Exp(p[1] * x);
        LeastSquaresFit tight = LeastSquares.Fit(curve, X, y, [1, 0.1]), loose = LeastSquares.Fit(curve, X, y, [1, 0.1], new() { StepTolerance = 1e-2 });
        Assert.True(loose.Iterations < tight.Iterations);
        Assert.Equal(tight.Parameters[0], loose.Parameters[0], 1e-3);
        LeastSquaresFit sum = LeastSquares.Fit(curve, X, y, [1.9, 0.31], new() { SumTolerance = 1e3 });
        Assert.Equal((LeastSquaresOutcome.Converged, 1), (sum.Outcome, sum.Iterations));

        // The plain differences of second order lead to the same place.
        LeastSquaresFit second = LeastSquares.Fit(curve, X, y, [1, 0.1], new() { FourthOrder = false });
        Assert.Equal(tight.Parameters[0], second.Parameters[0], 1e-6);
        Assert.Equal(tight.Parameters[1], second.Parameters[1], 1e-6);
        Assert.Equal(1, second.StandardErrors[1] / tight.StandardErrors[1], 1e-4);
        Assert.True(second.Evaluations < tight.Evaluations + (4 * second.Iterations));
    }

    /// <summary>With a corner at the start, the slope of the differences points to where it is worse: nothing is better, which is said.</summary>
    [Fact]
    public void What_no_step_betters_is_stuck()
    {
        LeastSquaresFit fit = LeastSquares.Minimize((p, r) => r[0] = 1 + (p[0] > 1 ? 2 * (p[0] - 1) : 1 - p[0]), 1, [1]);
        Assert.Equal(LeastSquaresOutcome.Stuck, fit.Outcome);
        Assert.Equal(1, fit.Parameters[0], 1e-12);
        Assert.Equal(1, fit.SumOfSquares, 1e-12);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_narrow_room_between_bounds_is_searched_inside(bool fourth)
    {
        // The residuals have no value outside: neither for steps nor for differences.
        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, r) =>
            {
                r[0] = p[0] is >= 1 and <= 1.00001 ? 1e3 * (p[0] - 1.000003) : double.NaN;
                r[1] = 0;
            },
            2,
            [1.000009],
            new() { Lower = [1], Upper = [1.00001], FourthOrder = fourth });
        Assert.Equal(LeastSquaresOutcome.Converged, fit.Outcome);
        Assert.Equal(1.000003, fit.Parameters[0], 1e-11);
        Assert.Equal(0, fit.Bounds[0]);
    }

    /// <summary>
    /// Differences of the second order, h = 1/4, at 4: room for one h on the other side of a bound that is nearer than that, but not for two. The residuals were once asked for beyond the bound there.
    /// </summary>
    [Theory]
    [InlineData(3.8125, 4.375)]
    [InlineData(3.625, 4.1875)]
    [InlineData(3.8125, 4.5)]
    [InlineData(3.5, 4.1875)]
    public void One_sided_differences_stay_between_the_bounds(double lower, double upper)
    {
        List<double> points = [];
        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, r) =>
            {
                points.Add(p[0]);
                r[0] = (p[0] * p[0]) - 16;
            },
            1,
            [4],
            new() { Lower = [lower], Upper = [upper], FourthOrder = false, RelativeStep = 0.0625 });
        Assert.All(points, p => Assert.InRange(p, lower, upper));

        // The start, two points for its slope (exact for a square), the last step, and two points again.
        Assert.Equal(6, points.Count);
        Assert.Equal(8, fit.Slopes[0, 0], 1e-12);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_start_on_a_bound_looks_inward(bool fourth)
    {
        // p + p² = 6 has its root at 2, −6 its own at −3; beyond the bound of zero there is no value.
        LeastSquaresFit up = LeastSquares.Minimize((p, r) => r[0] = p[0] < 0 ? double.NaN : p[0] + (p[0] * p[0]) - 6, 1, [0], new() { Lower = [0], Scales = [1], FourthOrder = fourth });
        Assert.Equal(2, up.Parameters[0], 1e-9);
        LeastSquaresFit down = LeastSquares.Minimize((p, r) => r[0] = p[0] > 0 ? double.NaN : -p[0] + (p[0] * p[0]) - 6, 1, [0], new() { Upper = [0], Scales = [1], FourthOrder = fourth });
        Assert.Equal(-2, down.Parameters[0], 1e-9);

        // Without bounds, a domain that ends beside the start is found out by itself.
        LeastSquaresFit edge = LeastSquares.Minimize((p, r) => r[0] = p[0] < 1 ? double.NaN : p[0] + (p[0] * p[0]) - 6, 1, [1.00001], new() { FourthOrder = fourth });
        Assert.Equal(2, edge.Parameters[0], 1e-9);
        LeastSquaresFit below = LeastSquares.Minimize((p, r) => r[0] = p[0] > 1 ? double.NaN : p[0] - 0.5, 1, [0.99999], new() { FourthOrder = fourth });
        Assert.Equal(0.5, below.Parameters[0], 1e-9);
        Assert.Contains("not finite beside parameter 0 = 1", Assert.Throws<ArithmeticException>(
            () => LeastSquares.Minimize((p, r) => r[0] = p[0] == 1 ? 1 : double.NaN, 1, [1], new() { FourthOrder = fourth })).Message, StringComparison.Ordinal);
    }

    /// <summary>y = a + b x with both bounded: where the best lies beyond a corner, both are held there, each at its side.</summary>
    [Fact]
    public void Held_on_either_side()
    {
        LeastSquaresFit corner = LeastSquares.Fit(Line, X, Y, [1.5, 1], new() { Lower = [1.4, 0], Upper = [3, 1.5] });
        Assert.Equal(1.5, corner.Parameters[1]);
        Assert.Equal(1, corner.Bounds[1]);
        Assert.Equal(Y.Average() - (1.5 * X.Average()), corner.Parameters[0], 1e-9);

        LeastSquaresFit low = LeastSquares.Fit(Line, X, Y, [1.5, 4], new() { Lower = [-10, 3], Upper = [10, 9] });
        Assert.Equal<int>([0, -1], low.Bounds);
        Assert.Equal(3, low.Parameters[1]);
        Assert.Equal(double.NegativeZero, low.Covariance(0, 1), 1e-15);

        LeastSquaresFit both = LeastSquares.Fit(Line, X, Y, [8, 4], new() { Lower = [7, 3], Upper = [10, 9] });
        Assert.Equal<int>([-1, -1], both.Bounds);
        Assert.Equal(LeastSquaresOutcome.Converged, both.Outcome);
        Assert.Equal(5, both.DegreesOfFreedom);
        Assert.Equal<double>([0, 0], both.StandardErrors);
    }

    [Fact]
    public void A_point_without_weight_does_not_count()
    {
        LeastSquaresFit four = LeastSquares.Fit(Line, X.AsSpan(0, 4), Y.AsSpan(0, 4), [0, 0]), weighted = LeastSquares.Fit(Line, X, [.. Y[..4], 99], [0, 0], null, [1, 1, 1, 1, 0]);
        Assert.Equal(four.Parameters[0], weighted.Parameters[0], 1e-9);
        Assert.Equal(four.Parameters[1], weighted.Parameters[1], 1e-9);
        Assert.Equal(four.SumOfSquares, weighted.SumOfSquares, 1e-9);
        Assert.Throws<ArgumentException>(() => LeastSquares.Fit(Line, X, Y, [0, 0], null, [1, 1]));
    }

    [Fact]
    public void Options_out_of_range_are_refused_by_name()
    {
        foreach ((string name, Func<LeastSquaresOptions> make) in ((string, Func<LeastSquaresOptions>)[])
        [
            ("RelativeStep", () => new() { RelativeStep = 1e-9 }),
            ("RelativeStep", () => new() { RelativeStep = 0.2 }),
            ("StepTolerance", () => new() { StepTolerance = 1e-16 }),
            ("RankTolerance", () => new() { RankTolerance = -1 }),
            ("SumTolerance", () => new() { SumTolerance = -1 }),
            ("IterationLimit", () => new() { IterationLimit = 0 }),
        ])
        {
            Assert.Throws<ArgumentOutOfRangeException>(name, make);
        }

        Assert.Throws<ArgumentOutOfRangeException>(() => LeastSquares.Fit(Line, X, Y, [0, 5], new() { Upper = [1, 4] }));
        Assert.Throws<ArgumentOutOfRangeException>(() => LeastSquares.Fit(Line, X, Y, [0, -5], new() { Lower = [-1, -4] }));
        Assert.Throws<ArgumentException>(() => LeastSquares.Fit(Line, X, Y, [0, 0], new() { Upper = [1, double.NaN] }));
    }
}
