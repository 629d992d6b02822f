using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Magrail.Numerics;

/// <summary>Fills in the residuals that belong to parameters.</summary>
/// <param name="parameters">The parameters.</param>
/// <param name="residuals">Takes the residuals, each divided by its standard deviation where that is known.</param>
public delegate void ResidualFunction(ReadOnlySpan<double> parameters, Span<double> residuals);

/// <summary>A curve with parameters.</summary>
/// <param name="x">Where.</param>
/// <param name="parameters">The parameters.</param>
/// <returns>The curve's value there.</returns>
public delegate double FittedCurve(double x, ReadOnlySpan<double> parameters);

/// <summary>
/// Nonlinear least squares with bounds: Levenberg and Marquardt's damped Gauss-Newton step in Moré's form, its length held within a radius in
/// units of each parameter's size, and projected on the bounds.
/// </summary>
/// <remarks>
/// <para>
/// The step δ solves min ‖J δ + r‖² with ‖D δ‖ no longer than the radius, by orthogonal factors, never by JᵀJ, so that no digits are lost to its
/// squared condition. The radius follows the ratio of the decrease found to the decrease foretold. Slopes are central differences of the fourth
/// order. D holds the sizes of the parameters, not Moré's greatest lengths of the columns of slopes: those never forget a start where a slope
/// is a million times too steep, and then creep.
/// </para>
/// <para>
/// It finds a least value near its start, not the least of all. Residuals that are not finite turn a step back; at the start they are an error.
/// </para>
/// <para>
/// D. W. Marquardt, J. SIAM 11 (1963) 431; J. J. Moré, The Levenberg-Marquardt algorithm: implementation and theory, Lecture Notes in
/// Mathematics 630 (1978) 105; C. Kanzow, N. Yamashita, M. Fukushima,
/// J. Comput. Appl. Math. 172 (2004) 375 (projection). From memory.
/// </para>
/// </remarks>
public static class LeastSquares
{
    /// <summary>Finds parameters that make a sum of squares least.</summary>
    /// <param name="residuals">Fills in the residuals.</param>
    /// <param name="observations">How many residuals there are, no fewer than parameters.</param>
    /// <param name="start">Where to begin, within the bounds.</param>
    /// <param name="options">Bounds, steps and when to stop; the defaults where null.</param>
    /// <exception cref="ArgumentNullException"><paramref name="residuals"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">There are fewer residuals than parameters, no parameter, or the start is not finite or beyond a bound.</exception>
    /// <exception cref="ArgumentException">Bounds or scales are not one for each parameter, or a residual is not finite at the start.</exception>
    public static LeastSquaresFit Minimize(
        ResidualFunction residuals, int observations, ReadOnlySpan<double> start, LeastSquaresOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(residuals);
        var search = new Search(residuals, observations, start.ToArray(), options ?? LeastSquaresOptions.Default);
        return search.Run();
    }

    /// <summary>Fits a curve to points.</summary>
    /// <param name="curve">The curve.</param>
    /// <param name="x">Where the points are.</param>
    /// <param name="y">Their values, as many.</param>
    /// <param name="start">Where to begin, within the bounds.</param>
    /// <param name="options">Bounds, steps and when to stop; the defaults where null.</param>
    /// <param name="weights">The weight of each point, 1/σ² up to a common factor, zero or above; empty for equal weights.</param>
    /// <returns>The fit; its residuals are (curve − y) √weight.</returns>
    /// <exception cref="ArgumentNullException"><paramref name="curve"/> is null.</exception>
    /// <exception cref="ArgumentException">Points and weights are not as many.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A weight is below zero or not finite, or as in <see cref="Minimize"/>.</exception>
    public static LeastSquaresFit Fit(
        FittedCurve curve,
        ReadOnlySpan<double> x,
        ReadOnlySpan<double> y,
        ReadOnlySpan<double> start,
        LeastSquaresOptions? options = null,
        ReadOnlySpan<double> weights = default)
    {
        ArgumentNullException.ThrowIfNull(curve);
        if (x.Length != y.Length || (weights.Length != 0 && weights.Length != x.Length))
        {
            throw new ArgumentException($"there are {x.Length} x, {y.Length} y and {weights.Length} weights; each point has one of each (or no weights at all).", nameof(y));
        }

        double[] at = x.ToArray();
        double[] values = y.ToArray();
        double[] roots = new double[at.Length];
        Array.Fill(roots, 1);
        for (int i = 0; i < weights.Length; i++)
        {
            roots[i] = Math.Sqrt(Require.InRange(weights[i], 0, double.MaxValue, "a point counts or does not", nameof(weights)));
        }

        return Minimize(
            (parameters, found) =>
            {
                for (int i = 0; i < at.Length; i++)
                {
                    found[i] = roots[i] * (curve(at[i], parameters) - values[i]);
                }
            },
            at.Length,
            start,
            options);
    }

    private sealed class Search
    {
        // The first step reaches no farther than this part of the parameters' sizes.
        private const double StartRadius = 0.1;

        // Below this part of the sum of squares a change of it is rounding.
        private const double Rounding = 1e-13;

        private readonly ResidualFunction residuals;
        private readonly LeastSquaresOptions options;
        private readonly int m;
        private readonly int n;
        private readonly double[] p;
        private readonly double[] lower;
        private readonly double[] upper;
        private readonly double[] scales;
        private readonly double[] r;
        private readonly double[] trial;
        private readonly double[] trialResiduals;
        private readonly double[][] differences;
        private readonly Matrix<double> jacobian;
        private readonly double[] damping;
        private readonly double[] greatest;
        private int evaluations;

        public Search(ResidualFunction residuals, int observations, double[] start, LeastSquaresOptions options)
        {
            this.residuals = residuals;
            this.options = options;
            p = start;
            n = Require.InRange(start.Length, 1, int.MaxValue, "without a parameter there is nothing to fit", nameof(start));
            m = Require.InRange(observations, n, int.MaxValue, "fewer observations than parameters fix nothing");
            lower = OnePerParameter(options.Lower, double.NegativeInfinity, nameof(options.Lower));
            upper = OnePerParameter(options.Upper, double.PositiveInfinity, nameof(options.Upper));
            scales = OnePerParameter(options.Scales, 0, nameof(options.Scales));
            for (int j = 0; j < n; j++)
            {
                if (!(lower[j] < upper[j]) || !double.IsFinite(p[j]) || p[j] < lower[j] || p[j] > upper[j])
                {
                    throw Require.Fault(nameof(start), Show.Number(p[j]), $"finite and from {Show.Number(lower[j])} to {Show.Number(upper[j])}", $"those are the bounds of parameter {j}, the lower below the upper");
                }
            }

            r = new double[m];
            trial = new double[n];
            trialResiduals = new double[m];
            differences = [new double[m], new double[m], new double[m], new double[m]];
            jacobian = new DenseMatrix(m, n);
            damping = new double[n];
            greatest = new double[n];
        }

        public LeastSquaresFit Run()
        {
            double sum = Evaluate(p, r);
            if (!double.IsFinite(sum))
            {
                throw new ArgumentException("a residual is not finite at the start; begin where the model has a value.", nameof(r));
            }

            double radius = StartRadius * Math.Sqrt(n), lastNewton = double.PositiveInfinity;
            var outcome = LeastSquaresOutcome.IterationLimit;
            int iteration = 0;
            bool fresh = true;
            int[] free = [];
            Factors? factors = null;
            while (iteration < options.IterationLimit)
            {
                iteration++;
                if (fresh)
                {
                    FillJacobian();
                    free = FreeParameters();
                    if (free.Length == 0)
                    {
                        outcome = LeastSquaresOutcome.Converged;
                        break;
                    }

                    factors = new Factors(this, free);
                    // The undamped step tells how far the least is, whatever the damping.
                    Vector<double> full = factors.Full;
                    double newton = RelativeSize(free, full);
                    if (newton < options.StepTolerance || factors.Foretold(full) < options.SumTolerance)
                    {
                        TakePolishingStep(free, full, ref sum);
                        outcome = LeastSquaresOutcome.Converged;
                        break;
                    }

                    // Near the least the sum of squares no longer tells better from worse: go by the step itself.
                    if (factors.Foretold(full) < Rounding * sum)
                    {
                        bool shrinks = newton < 0.5 * lastNewton;
                        lastNewton = newton;
                        if (shrinks && TakePolishingStep(free, full, ref sum))
                        {
                            continue;
                        }

                        outcome = LeastSquaresOutcome.Converged;
                        break;
                    }
                }

                Vector<double> step = factors!.StepWithin(radius, out bool isFull);
                Vector<double> taken = Project(free, step);
                double length = factors.Length(taken);
                if (iteration == 1)
                {
                    radius = Math.Min(radius, length);
                }

                double foretold = factors.Foretold(taken);
                double found = Evaluate(trial, trialResiduals);
                double ratio = double.IsFinite(found) && foretold > 0 ? (sum - found) / foretold : -1;
                if (ratio <= 0.25)
                {
                    radius = Math.Min(radius, 10 * length) * (ratio > -1 ? 0.5 : 0.1);
                }
                else if (ratio >= 0.75 || isFull)
                {
                    radius = 2 * length;
                }

                fresh = ratio > 1e-4;
                if (fresh)
                {
                    sum = found;
                    Accept();
                }
                else if (RelativeSize(free, taken) < 1e-16)
                {
                    outcome = LeastSquaresOutcome.Stuck;
                    break;
                }
            }

            return Result(outcome, iteration, sum);
        }

        private double[] OnePerParameter(ImmutableArray<double> values, double otherwise, string name)
        {
            if (values.IsDefaultOrEmpty)
            {
                double[] filled = new double[n];
                Array.Fill(filled, otherwise);
                return filled;
            }

            return values.Length == n && !values.Any(double.IsNaN)
                ? [.. values]
                : throw new ArgumentException($"{name} has {values.Length} values for {n} parameters; give one number for each, or none.", name);
        }

        private double Evaluate(double[] at, double[] into)
        {
            evaluations++;
            residuals(at, into);
            double sum = 0;
            foreach (double value in into)
            {
                sum += value * value;
            }

            return sum;
        }

        private double Size(int j) => Math.Max(Math.Abs(p[j]), scales[j]) is var size && size > 0 ? size : 1;

        private double RelativeSize(int[] free, Vector<double> step)
        {
            double worst = 0;
            for (int k = 0; k < free.Length; k++)
            {
                worst = Math.Max(worst, Math.Abs(step[k]) / Size(free[k]));
            }

            return worst;
        }

        /// <summary>Slopes by central differences; one-sided ones where a bound is in the way.</summary>
        private void FillJacobian()
        {
            Array.Copy(p, trial, n);
            for (int j = 0; j < n; j++)
            {
                double h = options.RelativeStep * Size(j);

                // The step as it is in floating point.
                h = (p[j] + h) - p[j];
                double reach = options.FourthOrder ? 2 * h : h;
                if (upper[j] - lower[j] < 2 * reach)
                {
                    h *= (upper[j] - lower[j]) / (4 * reach);
                    reach = options.FourthOrder ? 2 * h : h;
                }

                bool ok = p[j] - reach >= lower[j] && p[j] + reach <= upper[j];
                if (ok)
                {
                    ok = options.FourthOrder
                        ? Differences(j, [-2 * h, -h, h, 2 * h], [1 / (12 * h), -8 / (12 * h), 8 / (12 * h), -1 / (12 * h)])
                        : Differences(j, [-h, h], [-0.5 / h, 0.5 / h]);
                }

                if (!ok)
                {
                    // Into the room there is: (−3 f0 + 4 f1 − f2)/(2 h), second order; shorter where even that has no value.
                    double side = p[j] + reach <= upper[j] ? h : -h;
                    if (p[j] + side + side < lower[j] || p[j] + side + side > upper[j])
                    {
                        // Of the second order, reach is one step, and two may not fit between narrow bounds: two halves do.
                        side *= 0.5;
                    }

                    for (int attempt = 0; !ok && attempt < 20; attempt++, side *= attempt % 2 == 1 && p[j] - side - side >= lower[j] && p[j] - side - side <= upper[j] ? -1 : 0.1)
                    {
                        ok = Differences(j, [0, side, 2 * side], [-1.5 / side, 2 / side, -0.5 / side]);
                    }

                    if (!ok)
                    {
                        throw new ArithmeticException($"the residuals are not finite beside parameter {j} = {Show.Number(p[j])}; keep the bounds inside the model's range.");
                    }
                }

                trial[j] = p[j];
            }

            for (int j = 0; j < n; j++)
            {
                greatest[j] = Math.Max(greatest[j], Math.Abs(p[j]));
                damping[j] = 1 / Math.Max(Size(j), 1e-3 * greatest[j]);
            }
        }

        private bool Differences(int j, ReadOnlySpan<double> offsets, ReadOnlySpan<double> factors)
        {
            for (int k = 0; k < offsets.Length; k++)
            {
                if (offsets[k] == 0)
                {
                    Array.Copy(r, differences[k], m);
                    continue;
                }

                trial[j] = p[j] + offsets[k];
                if (!double.IsFinite(Evaluate(trial, differences[k])))
                {
                    return false;
                }
            }

            for (int i = 0; i < m; i++)
            {
                double slope = 0;
                for (int k = 0; k < offsets.Length; k++)
                {
                    // The factors sum to zero: against the middle, a residual without the parameter has the slope zero to the last bit.
                    slope += factors[k] * (differences[k][i] - r[i]);
                }

                jacobian[i, j] = slope;
            }

            return true;
        }

        /// <summary>All but those on a bound that the slope pushes further out, and those that nothing depends on.</summary>
        /// <remarks>
        /// The slope counts that is left once the others have gone to their own least: where causes look alike, the slope of one says as much of the others, and would hold it
        /// on its bound for nothing.
        /// </remarks>
        private int[] FreeParameters()
        {
            int[] felt = [.. Enumerable.Range(0, n).Where(j => jacobian.Column(j).L2Norm() > 0)];
            int[] inside = [.. felt.Where(j => p[j] > lower[j] && p[j] < upper[j])];
            if (inside.Length == felt.Length)
            {
                return inside;
            }

            Vector<double> left = new DenseVector((double[])r.Clone());
            if (inside.Length > 0)
            {
                Matrix<double> columns = Columns(inside);
                for (int k = 0; k < inside.Length; k++)
                {
                    columns.SetColumn(k, columns.Column(k).Normalize(2));
                }

                var svd = columns.Svd();
                for (int k = 0; k < inside.Length; k++)
                {
                    Vector<double> direction = svd.U.Column(k);
                    left -= svd.S[k] > options.RankTolerance * svd.S[0] ? direction * direction.DotProduct(left) : direction * 0;
                }
            }

            return
            [
                .. felt.Where(j =>
                {
                    double slope = jacobian.Column(j).DotProduct(left);
                    bool held = (p[j] <= lower[j] && slope >= 0) || (p[j] >= upper[j] && slope <= 0);
                    return !held;
                }),
            ];
        }

        private Matrix<double> Columns(int[] free)
            => DenseMatrix.OfColumnVectors(free.Select(j => jacobian.Column(j)));

        /// <summary>Sets the trial and returns the step that is left after the bounds.</summary>
        private Vector<double> Project(int[] free, Vector<double> step)
        {
            Array.Copy(p, trial, n);
            Vector<double> taken = step.Clone();
            for (int k = 0; k < free.Length; k++)
            {
                int j = free[k];
                trial[j] = Math.Clamp(p[j] + step[k], lower[j], upper[j]);
                taken[k] = trial[j] - p[j];
            }

            return taken;
        }

        private bool TakePolishingStep(int[] free, Vector<double> full, ref double sum)
        {
            Project(free, full);
            double found = Evaluate(trial, trialResiduals);
            if (!(found <= sum * (1 + (10 * Rounding))))
            {
                return false;
            }

            sum = found;
            Accept();
            return true;
        }

        private void Accept()
        {
            Array.Copy(trial, p, n);
            Array.Copy(trialResiduals, r, m);
        }

        private LeastSquaresFit Result(LeastSquaresOutcome outcome, int iterations, double sum)
        {
            FillJacobian();
            int[] free = FreeParameters();
            int[] bounds = new int[n];
            double[] errors = new double[n];
            for (int j = 0; j < n; j++)
            {
                bounds[j] = free.Contains(j) ? 0 : p[j] <= lower[j] ? -1 : p[j] >= upper[j] ? 1 : 0;
                errors[j] = bounds[j] == 0 ? double.PositiveInfinity : 0;
            }

            int degrees = m - free.Length;
            double[,] covariance = new double[n, n];
            for (int j = 0; j < n; j++)
            {
                covariance[j, j] = errors[j];
            }

            double condition = 1;
            double[] weakest = new double[n];
            if (free.Length > 0)
            {
                Matrix<double> columns = Columns(free);
                double[] lengths = [.. Enumerable.Range(0, free.Length).Select(k => columns.Column(k).L2Norm())];
                for (int k = 0; k < free.Length; k++)
                {
                    columns.SetColumn(k, columns.Column(k) / lengths[k]);
                }

                // The singular values of the small triangle are those of the tall matrix.
                var svd = columns.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin).R.Svd();
                double least = svd.S[^1];
                condition = least > 0 ? svd.S[0] / least : double.PositiveInfinity;
                double variance = options.DeviationsAreKnown ? 1 : degrees > 0 ? sum / degrees : double.NaN;
                for (int a = 0; a < free.Length; a++)
                {
                    weakest[free[a]] = svd.VT[free.Length - 1, a];
                    for (int b = 0; b < free.Length; b++)
                    {
                        double entry = 0;
                        for (int s = 0; s < free.Length; s++)
                        {
                            double singular = Math.Max(svd.S[s], 1e-16 * svd.S[0]);
                            entry += svd.VT[s, a] * svd.VT[s, b] / (singular * singular);
                        }

                        covariance[free[a], free[b]] = variance * entry / (lengths[a] * lengths[b]);
                    }

                    errors[free[a]] = Math.Sqrt(covariance[free[a], free[a]]);
                }
            }

            // Parameters that nothing depends on make the condition infinite.
            if (Enumerable.Range(0, n).Any(j => double.IsPositiveInfinity(errors[j])))
            {
                condition = double.PositiveInfinity;
            }

            return new LeastSquaresFit(covariance)
            {
                Outcome = outcome,
                Parameters = [.. p],
                Bounds = [.. bounds],
                StandardErrors = [.. errors],
                Residuals = [.. r],
                SumOfSquares = sum,
                DegreesOfFreedom = degrees,
                Condition = condition,
                WeakestDirection = [.. weakest],
                Iterations = iterations,
                Evaluations = evaluations,
                DeviationsAreKnown = options.DeviationsAreKnown,
                Slopes = jacobian.ToArray(),
            };
        }

        /// <summary>The slopes as orthogonal factors, each column in units of its damping: J D⁻¹ = Q U S Vᵀ.</summary>
        private sealed class Factors
        {
            private readonly double rank;
            private readonly double[] units;
            private readonly double[] singular;
            private readonly double[] turned;
            private readonly Matrix<double> right;

            public Factors(Search search, int[] free)
            {
                rank = search.options.RankTolerance;
                units = [.. free.Select(j => search.damping[j])];
                Matrix<double> columns = search.Columns(free);
                double[] lengths = new double[units.Length];
                for (int k = 0; k < units.Length; k++)
                {
                    lengths[k] = columns.Column(k).L2Norm() / units[k];
                    columns.SetColumn(k, columns.Column(k) / units[k]);
                }

                var qr = columns.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin);
                var svd = qr.R.Svd();
                Vector<double> residuals = qr.Q.TransposeThisAndMultiply(new DenseVector((double[])search.r.Clone()));
                turned = (-svd.U.TransposeThisAndMultiply(residuals)).ToArray();
                singular = svd.S.ToArray();
                right = svd.VT;
                Full = FullStep(qr.R, residuals, lengths);
            }

            /// <summary>The undamped step; what the slopes do not fix stays.</summary>
            public Vector<double> Full { get; }

            private Vector<double> FullStep(Matrix<double> factor, Vector<double> residuals, double[] lengths)
            {
                // Columns of equal length, or a parameter of little effect would look like one of none.
                for (int k = 0; k < units.Length; k++)
                {
                    factor.SetColumn(k, factor.Column(k) / lengths[k]);
                }

                var svd = factor.Svd();
                Vector<double> inner = -svd.U.TransposeThisAndMultiply(residuals);
                for (int k = 0; k < units.Length; k++)
                {
                    inner[k] = svd.S[k] > rank * svd.S[0] ? inner[k] / svd.S[k] : 0;
                }

                Vector<double> step = svd.VT.TransposeThisAndMultiply(inner);
                for (int k = 0; k < units.Length; k++)
                {
                    step[k] /= lengths[k] * units[k];
                }

                return step;
            }

            /// <summary>The step of min ‖J δ + r‖² + λ ‖D δ‖².</summary>
            private Vector<double> Step(double lambda)
            {
                var inner = new DenseVector(units.Length);
                for (int k = 0; k < units.Length; k++)
                {
                    inner[k] = singular[k] > rank * singular[0] ? turned[k] * singular[k] / ((singular[k] * singular[k]) + lambda) : 0;
                }

                Vector<double> step = right.TransposeThisAndMultiply(inner);
                for (int k = 0; k < units.Length; k++)
                {
                    step[k] /= units[k];
                }

                return step;
            }

            /// <summary>The best step with ‖D δ‖ no longer than a radius (to a tenth of it).</summary>
            public Vector<double> StepWithin(double radius, out bool isFull)
            {
                isFull = Length(Full) <= 1.1 * radius;
                if (isFull)
                {
                    return Full;
                }

                // 1/‖D δ(λ)‖ is nearly a straight line (Hebden; Moré): Newton's iteration on it, kept between bounds.
                double norm = Math.Sqrt(turned.Zip(singular, (t, s) => t * s * t * s).Sum());
                double low = 0, high = norm / radius, lambda = 0.001 * high;
                for (int i = 0; i < 60; i++)
                {
                    double square = 0, slope = 0;
                    for (int k = 0; k < units.Length; k++)
                    {
                        double denominator = (singular[k] * singular[k]) + lambda;
                        double part = turned[k] * singular[k] / denominator;
                        square += part * part;
                        slope += part * part / denominator;
                    }

                    double length = Math.Sqrt(square);
                    if (Math.Abs(length - radius) <= 0.1 * radius)
                    {
                        break;
                    }

                    if (length > radius)
                    {
                        low = lambda;
                    }
                    else
                    {
                        high = lambda;
                    }

                    lambda += (length - radius) / radius * square / slope;
                    if (!(lambda > low && lambda < high))
                    {
                        lambda = Math.Max(0.001 * high, Math.Sqrt(low * high));
                    }
                }

                return Step(lambda);
            }

            /// <summary>‖D δ‖.</summary>
            public double Length(Vector<double> step)
            {
                double square = 0;
                for (int k = 0; k < units.Length; k++)
                {
                    square += step[k] * units[k] * step[k] * units[k];
                }

                return Math.Sqrt(square);
            }

            /// <summary>By how much the linear model says a step lowers the sum of squares.</summary>
            public double Foretold(Vector<double> step)
            {
                double lowered = 0;
                for (int s = 0; s < units.Length; s++)
                {
                    double moved = 0;
                    for (int k = 0; k < units.Length; k++)
                    {
                        moved += right[s, k] * units[k] * step[k];
                    }

                    moved *= singular[s];
                    lowered += moved * ((2 * turned[s]) - moved);
                }

                return lowered;
            }
        }
    }
}
