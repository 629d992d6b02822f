using System.Collections.Immutable;
using System.Globalization;
using MathNet.Numerics.Distributions;

namespace Magrail.Numerics;

/// <summary>How a fit ended.</summary>
public enum LeastSquaresOutcome
{
    /// <summary>The next undamped step is below the tolerance, or no longer shrinks because rounding decides.</summary>
    Converged,

    /// <summary>No step, however short, makes the sum of squares less, yet the slopes say one should: the residuals have kinks or noise.</summary>
    Stuck,

    /// <summary>The limit of iterations was reached.</summary>
    IterationLimit,
}

/// <summary>A least-squares fit with what it says of its own uncertainty.</summary>
/// <remarks>
/// Standard errors and correlations are those of the residuals made linear at the least sum of squares, (JᵀJ)⁻¹ s²; with few observations or
/// strongly curved models they are too small. A parameter on its bound counts as known there and has none.
/// </remarks>
public sealed class LeastSquaresFit
{
    private readonly double[,] covariance;

    internal LeastSquaresFit(double[,] covariance) => this.covariance = covariance;

    /// <summary>How the fit ended.</summary>
    public required LeastSquaresOutcome Outcome { get; init; }

    /// <summary>The parameters.</summary>
    public required ImmutableArray<double> Parameters { get; init; }

    /// <summary>Whether each parameter ended on its lower bound (−1), its upper bound (+1) or between (0).</summary>
    public required ImmutableArray<int> Bounds { get; init; }

    /// <summary>Standard error of each parameter; zero on a bound, infinite where the residuals do not depend on it.</summary>
    public required ImmutableArray<double> StandardErrors { get; init; }

    /// <summary>The residuals, weighted as they were given.</summary>
    public required ImmutableArray<double> Residuals { get; init; }

    /// <summary>Residual sum of squares.</summary>
    public required double SumOfSquares { get; init; }

    /// <summary>Observations less the parameters between their bounds.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>Residual standard deviation, √(RSS/degrees of freedom); not a number without degrees of freedom.</summary>
    public double ResidualDeviation => Math.Sqrt(SumOfSquares / DegreesOfFreedom);

    /// <summary>
    /// Condition number of the slopes with each parameter's column scaled to length 1: 1 where causes are told apart fully; above some 30 at
    /// least two causes look alike to these data.
    /// </summary>
    /// <remarks>D. A. Belsley, E. Kuh, R. E. Welsch, Regression Diagnostics (1980), ch. 3: 5 to 10 weak, 30 and above strong (from memory).</remarks>
    public required double Condition { get; init; }

    /// <summary>
    /// The combination of parameters that the data know least: its share of each parameter, in units in which each parameter alone moves the residuals
    /// equally far. Of length 1; zero for parameters on a bound.
    /// </summary>
    public required ImmutableArray<double> WeakestDirection { get; init; }

    /// <summary>Iterations taken.</summary>
    public required int Iterations { get; init; }

    /// <summary>Evaluations of the residuals.</summary>
    public required int Evaluations { get; init; }

    /// <summary>Correlation of two parameters, −1 to 1; zero where either is on a bound, not a number where either is unknown.</summary>
    /// <param name="first">Index of one parameter, from 0.</param>
    /// <param name="second">Index of another.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such parameter.</exception>
    public double Correlation(int first, int second)
    {
        Require.InRange(first, 0, Parameters.Length - 1, "parameters count from 0");
        Require.InRange(second, 0, Parameters.Length - 1, "parameters count from 0");
        if (first == second)
        {
            return 1;
        }

        return Bounds[first] != 0 || Bounds[second] != 0
            ? 0
            : Math.Clamp(covariance[first, second] / Math.Sqrt(covariance[first, first] * covariance[second, second]), -1, 1);
    }

    /// <summary>Covariance of two parameters.</summary>
    /// <param name="first">Index of one parameter, from 0.</param>
    /// <param name="second">Index of another, or the same.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such parameter.</exception>
    public double Covariance(int first, int second)
        => covariance[
            Require.InRange(first, 0, Parameters.Length - 1, "parameters count from 0"),
            Require.InRange(second, 0, Parameters.Length - 1, "parameters count from 0")];

    /// <summary>Half the width of the interval that covers a parameter with a probability.</summary>
    /// <remarks>Student's t with the degrees of freedom where the scatter gives the uncertainty, the normal distribution where that is known.</remarks>
    /// <param name="parameter">Index of the parameter, from 0.</param>
    /// <param name="confidence">The probability, 0.5 to 0.9999.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such parameter, or the probability is out of its range.</exception>
    public double HalfWidth(int parameter, double confidence = 0.95)
    {
        Require.InRange(parameter, 0, Parameters.Length - 1, "parameters count from 0");
        Require.InRange(confidence, 0.5, 0.9999, "an interval covers more often than not, and never always");
        return Quantile(confidence) * StandardErrors[parameter];
    }

    /// <summary>Slope of each residual (row) by each parameter (column).</summary>
    internal double[,] Slopes { get; init; } = new double[0, 0];

    /// <summary>Covariances of some parameters, were all others known; parameters on a bound count as if they were free.</summary>
    internal double[,] CovarianceAmong(IReadOnlyList<int> unknown)
    {
        int n = unknown.Count;
        double[,] found = new double[n, n];
        if (n == 0)
        {
            return found;
        }

        var columns = MathNet.Numerics.LinearAlgebra.Double.DenseMatrix.Create(Slopes.GetLength(0), n, (i, k) => Slopes[i, unknown[k]]);
        double[] lengths = new double[n];
        for (int k = 0; k < n; k++)
        {
            lengths[k] = columns.Column(k).L2Norm();
            columns.SetColumn(k, lengths[k] > 0 ? columns.Column(k) / lengths[k] : columns.Column(k));
        }

        var svd = columns.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin).R.Svd();
        double variance = DeviationsAreKnown ? 1 : SumOfSquares / DegreesOfFreedom;
        for (int a = 0; a < n; a++)
        {
            for (int b = 0; b < n; b++)
            {
                for (int s = 0; s < n; s++)
                {
                    double singular = Math.Max(svd.S[s], 1e-14 * svd.S[0]);
                    found[a, b] += variance * svd.VT[s, a] * svd.VT[s, b] / (singular * singular * Math.Max(lengths[a], 1e-300) * Math.Max(lengths[b], 1e-300));
                }
            }
        }

        return found;
    }

    /// <summary>The standard error that a parameter would have, were all but some parameters known.</summary>
    internal double StandardErrorAmong(int parameter, IReadOnlyList<int> unknown)
    {
        int at = unknown.ToList().IndexOf(parameter);
        return Math.Sqrt(CovarianceAmong(unknown)[at, at]);
    }

    /// <summary>Whether residuals were divided by known deviations.</summary>
    internal bool DeviationsAreKnown { get; init; }

    /// <summary>The factor on the standard error of an interval of a confidence.</summary>
    internal double Quantile(double confidence)
        => DeviationsAreKnown || DegreesOfFreedom < 1
            ? Normal.InvCDF(0, 1, 0.5 * (1 + confidence))
            : StudentT.InvCDF(0, 1, DegreesOfFreedom, 0.5 * (1 + confidence));

    /// <summary>The fit in one line.</summary>
    public override string ToString()
        => string.Create(
            CultureInfo.InvariantCulture,
            $"{Outcome}: {string.Join(", ", Parameters.Zip(StandardErrors, (p, e) => $"{p:G6} ± {e:G2}"))}; RSS {SumOfSquares:G4}, {DegreesOfFreedom} degrees of freedom, condition {Condition:G3}");
}
