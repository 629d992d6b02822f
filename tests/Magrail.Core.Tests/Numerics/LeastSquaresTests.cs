using System.Globalization;
using System.Text.RegularExpressions;
using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>Least squares against certified regressions and closed forms.</summary>
public partial class LeastSquaresTests
{
    private const string Nist = "NIST/ITL Statistical Reference Datasets, nonlinear regression: Misra1a, DanWood, MGH10, BoxBOD";
    private static readonly AccuracyRow Parameters = new("certified nonlinear regressions, parameters, from both starts", Nist, 3e-9, "of it");
    private static readonly AccuracyRow Deviations = new("the same, standard errors", Nist, 1e-7, "of it");
    private static readonly AccuracyRow Sums = new("the same, residual sum of squares", Nist, 3e-10, "of it");

    // NIST/ITL StRD, nonlinear regression: certified values to 11 digits (files in ReferenceData/nist).
    [Theory]
    [InlineData("Misra1a", 0)]
    [InlineData("Misra1a", 1)]
    [InlineData("DanWood", 0)]
    [InlineData("DanWood", 1)]
    [InlineData("MGH10", 0)]
    [InlineData("MGH10", 1)]
    [InlineData("BoxBOD", 0)]
    [InlineData("BoxBOD", 1)]
    public void Certified_regressions_from_both_starts(string name, int start)
    {
        Dataset set = Dataset.Read(name);
        LeastSquaresFit fit = LeastSquares.Fit(ModelOf(name), set.X, set.Y, set.Starts[start]);
        Assert.Equal(LeastSquaresOutcome.Converged, fit.Outcome);
        for (int j = 0; j < set.Certified.Length; j++)
        {
            Parameters.HoldRatio(set.Certified[j], fit.Parameters[j], $"{name} b{j + 1}");
            Deviations.HoldRatio(set.Deviations[j], fit.StandardErrors[j], $"{name} b{j + 1}");
        }

        Sums.HoldRatio(set.SumOfSquares, fit.SumOfSquares, name);
        Sums.HoldRatio(set.ResidualDeviation, fit.ResidualDeviation, name);
        Assert.Equal(set.X.Length - set.Certified.Length, fit.DegreesOfFreedom);
    }

    [Fact]
    public void A_straight_line_has_the_errors_of_the_textbook()
    {
        // Closed form of a weighted straight line y = a + b x: var b = 1/Σw(x − x̄)², var a = 1/Σw + x̄² var b, cov = −x̄ var b.
        double[] x = [0, 1, 2, 4, 7], y = [1.1, 2.9, 5.2, 8.8, 15.3], w = [1, 4, 2, 1, 0.5];
        double sw = w.Sum(), mean = w.Zip(x, (a, b) => a * b).Sum() / sw, meanY = w.Zip(y, (a, b) => a * b).Sum() / sw;
        double sxx = Enumerable.Range(0, 5).Sum(i => w[i] * (x[i] - mean) * (x[i] - mean));
        double b = Enumerable.Range(0, 5).Sum(i => w[i] * (x[i] - mean) * (y[i] - meanY)) / sxx;
        var options = new LeastSquaresOptions { DeviationsAreKnown = true };
        LeastSquaresFit fit = LeastSquares.Fit((at, p) => p[0] + (p[1] * at), x, y, [0, 0], options, w);
        Assert.Equal(b, fit.Parameters[1], 1e-11);
        Assert.Equal(meanY - (b * mean), fit.Parameters[0], 1e-11);
        double varB = 1 / sxx, varA = (1 / sw) + (mean * mean * varB);
        Assert.Equal(Math.Sqrt(varB), fit.StandardErrors[1], 1e-11);
        Assert.Equal(Math.Sqrt(varA), fit.StandardErrors[0], 1e-11);
        Assert.Equal(-mean * varB / Math.Sqrt(varA * varB), fit.Correlation(0, 1), 1e-11);
        Assert.Equal(1.959963984540054 * Math.Sqrt(varB), fit.HalfWidth(1), 1e-11);

        // Of two columns with correlation c between them, the condition is √((1 + |c|)/(1 − |c|)); c of the slopes is minus that of the errors.
        double c = Math.Abs(fit.Correlation(0, 1));
        Assert.Equal(Math.Sqrt((1 + c) / (1 - c)), fit.Condition, 1e-9);
    }

    [Fact]
    public void Intervals_from_scatter_are_Students()
    {
        // Student's t, two-sided 95 %, 3 degrees of freedom: 3.182446 (any table).
        double[] x = [0, 1, 2, 4, 7], y = [1.1, 2.9, 5.2, 8.8, 15.3];
        LeastSquaresFit fit = LeastSquares.Fit((at, p) => p[0] + (p[1] * at), x, y, [0, 0]);
        Assert.Equal(3.182446, fit.HalfWidth(1) / fit.StandardErrors[1], 1e-5);
    }

    [Fact]
    public void A_bound_holds_and_the_others_are_fitted_beside_it()
    {
        // y = a + b x with b held at most 1.5: a is then the mean of y − 1.5 x.
        double[] x = [0, 1, 2, 4, 7], y = [1.1, 2.9, 5.2, 8.8, 15.3];
        var options = new LeastSquaresOptions { Lower = [double.NegativeInfinity, 0], Upper = [double.PositiveInfinity, 1.5], Scales = [1, 1] };
        LeastSquaresFit fit = LeastSquares.Fit((at, p) => p[0] + (p[1] * at), x, y, [0, 0.2], options);
        Assert.Equal(LeastSquaresOutcome.Converged, fit.Outcome);
        Assert.Equal(1.5, fit.Parameters[1]);
        Assert.Equal<int>([0, 1], fit.Bounds);
        Assert.Equal(y.Average() - (1.5 * x.Average()), fit.Parameters[0], 1e-10);
        Assert.Equal(0, fit.StandardErrors[1]);
        Assert.Equal(4, fit.DegreesOfFreedom);
        Assert.Equal(0, fit.Correlation(0, 1));

        // A start on the bound leaves it where the slope points inward.
        LeastSquaresFit inward = LeastSquares.Fit((at, p) => p[0] + (p[1] * at), x, y, [0, 0], new() { Lower = [-10, 0], Upper = [10, 5], Scales = [1, 1] });
        Assert.Equal(2.02, inward.Parameters[1], 0.05);
        Assert.Equal<int>([0, 0], inward.Bounds);
    }

    [Fact]
    public void Causes_that_look_alike_show()
    {
        // Only the product counts: the weakest direction is p0 up, p1 down, and the condition is beyond all measure.
        double[] x = [1, 2, 3, 4], y = [6.1, 11.9, 18.2, 23.9];
        LeastSquaresFit fit = LeastSquares.Fit((at, p) => p[0] * p[1] * at, x, y, [2, 2]);
        Assert.True(fit.Condition > 1e8);
        Assert.Equal(0.5, fit.WeakestDirection[0] * fit.WeakestDirection[0], 1e-6);
        Assert.True(fit.WeakestDirection[0] * fit.WeakestDirection[1] < 0);
        Assert.Equal(-1, fit.Correlation(0, 1), 1e-6);
        Assert.True(fit.StandardErrors[0] > 1e3);

        LeastSquaresFit none = LeastSquares.Fit((at, p) => p[0] * at, x, y, [2, 2]);
        Assert.Equal(double.PositiveInfinity, none.StandardErrors[1]);
        Assert.Equal(double.PositiveInfinity, none.Condition);
        Assert.True(double.IsFinite(none.StandardErrors[0]));
    }

    [Fact]
    public void An_exact_fit_ends()
    {
        double[] x = [0, 1, 2, 3], y = [2, 2 * Math.E, 2 * Math.Exp(2), 2 * Math.Exp(3)];
        LeastSquaresFit fit = LeastSquares.Fit((at, p) => p[0] * Math.Exp(p[1] * at), x, y, [1, 0.5]);
        Assert.Equal(LeastSquaresOutcome.Converged, fit.Outcome);
        Assert.Equal(2, fit.Parameters[0], 1e-9);
        Assert.Equal(1, fit.Parameters[1], 1e-9);
    }

    [Fact]
    public void Bad_problems_are_refused_with_the_reason()
    {
        double[] x = [1, 2], y = [1, 2];
        FittedCurve line = (at, p) => p[0] + (p[1] * at);
        Assert.Contains("fewer observations than parameters", Assert.Throws<ArgumentOutOfRangeException>(() => LeastSquares.Fit((_, p) => p[0], x, y, [1, 2, 3])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => LeastSquares.Fit(line, x, y, []));
        Assert.Throws<ArgumentOutOfRangeException>(() => LeastSquares.Fit(line, x, y, [double.NaN, 0]));
        Assert.Throws<ArgumentOutOfRangeException>(() => LeastSquares.Fit(line, x, y, [0, 0], new() { Lower = [1, 1] }));
        Assert.Throws<ArgumentException>(() => LeastSquares.Fit(line, x, y, [0, 0], new() { Lower = [1] }));
        Assert.Throws<ArgumentException>(() => LeastSquares.Fit(line, x, [1], [0, 0]));
        Assert.Throws<ArgumentOutOfRangeException>(() => LeastSquares.Fit(line, x, y, [0, 0], null, [-1, 1]));
        Assert.Contains("not finite at the start", Assert.Throws<ArgumentException>(() => LeastSquares.Fit((at, p) => Math.Log(p[0]) + p[1], x, y, [-1, 0])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentNullException>(() => LeastSquares.Minimize(null!, 2, [0]));
    }

    private static FittedCurve ModelOf(string name) => name switch
    {
        "Misra1a" or "BoxBOD" => (x, b) => b[0] * (1 - Math.Exp(-b[1] * x)),
        "DanWood" => (x, b) => b[0] * Math.Pow(x, b[1]),
        _ => (x, b) => b[0] * Math.Exp(b[1] / (x + b[2])),
    };

    private sealed partial record Dataset(double[] X, double[] Y, double[][] Starts, double[] Certified, double[] Deviations, double SumOfSquares, double ResidualDeviation)
    {
        public static Dataset Read(string name)
        {
            string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "ReferenceData", "nist", name + ".dat"));
            double[][] parameters = [.. lines.Where(line => Parameter().IsMatch(line)).Select(line => Numbers(line[(line.IndexOf('=', StringComparison.Ordinal) + 1)..]))];
            double After(string what) => Numbers(lines.Single(line => line.StartsWith(what, StringComparison.Ordinal))[what.Length..])[0];
            int data = Array.FindLastIndex(lines, line => line.StartsWith("Data:", StringComparison.Ordinal));
            double[][] rows = [.. lines.Skip(data + 1).Where(line => line.Trim().Length > 0).Select(Numbers)];
            Assert.Equal((int)After("Number of Observations:"), rows.Length);
            Assert.All(parameters, row => Assert.Equal(4, row.Length));
            return new(
                [.. rows.Select(row => row[1])],
                [.. rows.Select(row => row[0])],
                [[.. parameters.Select(row => row[0])], [.. parameters.Select(row => row[1])]],
                [.. parameters.Select(row => row[2])],
                [.. parameters.Select(row => row[3])],
                After("Residual Sum of Squares:"),
                After("Residual Standard Deviation:"));
        }

        private static double[] Numbers(string text)
            => [.. text.Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries).Select(word => double.Parse(word, CultureInfo.InvariantCulture))];

        [GeneratedRegex(@"^\s+b\d\s*=\s+[\d.]")]
        private static partial Regex Parameter();
    }
}
