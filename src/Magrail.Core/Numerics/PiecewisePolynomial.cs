using System.Globalization;
using System.Runtime.CompilerServices;
using MathNet.Numerics;

namespace Magrail.Numerics;

/// <summary>Fills <paramref name="values"/> with a function's values at <paramref name="points"/>, in the same order.</summary>
internal delegate void BatchSampler(ReadOnlySpan<double> points, Span<double> values);

/// <summary>
/// A smooth function on [<see cref="From"/>, <see cref="To"/>] as one polynomial of degree 11 on each of a row of equal cells.
/// </summary>
/// <remarks>
/// <para>
/// Each cell interpolates at the twelve Chebyshev-Lobatto points cos(jπ/11), so neighboring cells share their border sample
/// and the whole is continuous to rounding. The interpolant is kept in powers of the cell's own variable s in [-1, 1]
/// (converted from Chebyshev coefficients, which costs at most about four digits of the smallest terms, never of the sum:
/// the high terms of a resolved function are small).
/// </para>
/// <para>
/// <see cref="ErrorBound"/> is twice the greatest error seen at points between the nodes, where the error of Lobatto
/// interpolation peaks, plus the rounding of values and of places. It is an observation, not a proof: a feature narrower than about a
/// tenth of a cell that falls between all points stays unseen. Choose <c>leastCells</c> so that no cell is wider than
/// the function's own scale.
/// </para>
/// </remarks>
internal sealed class PiecewisePolynomial
{
    /// <summary>The degree of the polynomial of a cell.</summary>
    public const int Degree = 11;

    private const int Stride = Degree + 1;

    /// <summary>The error is measured here in every cell: angles half-way between nodes, in the middle and towards both ends.</summary>
    private const int ChecksPerCell = 3;

    /// <summary>Room for the points that are not looked at.</summary>
    private const double Safety = 2;

    /// <summary>Rounding of sampling, conversion and evaluation, in units of 2^-52 of a cell's sum of absolute coefficients.</summary>
    private const double RoundingUlps = 4;

    private const double Epsilon = 2.220446049250313e-16;

    private static readonly double[] Nodes = LobattoNodes();
    private static readonly double[] Checks = [.. new[] { 9, 5, 1 }.Select(j => Math.Cos((j + 0.5) * Math.PI / Degree))];
    private static readonly double[] ToChebyshev = LobattoTransform();
    private static readonly double[] ToPowers = ChebyshevPowers();

    private readonly double[] coefficients;
    private readonly double from;
    private readonly double cellsPerLength;
    private readonly double cellCount;

    private PiecewisePolynomial(double from, double to, int cells, double[] coefficients, double errorBound, double peak)
    {
        this.from = from;
        this.coefficients = coefficients;
        cellCount = cells;
        cellsPerLength = cells / (to - from);
        To = to;
        CellCount = cells;
        ErrorBound = errorBound;
        Peak = peak;
    }

    /// <summary>The lower end.</summary>
    public double From => from;

    /// <summary>The upper end.</summary>
    public double To { get; }

    /// <summary>How many cells share the interval.</summary>
    public int CellCount { get; }

    /// <summary>The absolute error that <see cref="At"/> keeps within, as observed: see the remarks of the class.</summary>
    public double ErrorBound { get; }

    /// <summary>The greatest absolute value among all samples.</summary>
    public double Peak { get; }

    /// <summary>Fits a function given point by point. See <see cref="Fit(BatchSampler, double, double, double, int, int)"/>.</summary>
    public static PiecewisePolynomial Fit(
        Func<double, double> f, double from, double to, double absoluteTolerance, int maxCells = 4096, int leastCells = 8)
    {
        ArgumentNullException.ThrowIfNull(f);
        return Fit(
            (points, values) =>
            {
                for (int i = 0; i < points.Length; i++)
                {
                    values[i] = f(points[i]);
                }
            },
            from,
            to,
            absoluteTolerance,
            maxCells,
            leastCells);
    }

    /// <summary>
    /// Fits a function sampled in batches (one batch for each attempt), with as many cells as it takes to bring
    /// <see cref="ErrorBound"/> within the tolerance.
    /// </summary>
    /// <param name="sample">The function; it may fill its batch in any order and on any number of threads.</param>
    /// <param name="from">Lower end.</param>
    /// <param name="to">Upper end, above <paramref name="from"/>.</param>
    /// <param name="absoluteTolerance">Greatest allowed <see cref="ErrorBound"/>, in the function's unit.</param>
    /// <param name="maxCells">Give up beyond this many cells.</param>
    /// <param name="leastCells">Start with this many cells.</param>
    /// <exception cref="ArgumentOutOfRangeException">An end is not finite, the ends are not in order, the tolerance is not above zero, or a count is out of range.</exception>
    /// <exception cref="NonConvergenceException">A sample is not finite, or the tolerance is out of reach with <paramref name="maxCells"/> cells.</exception>
    public static PiecewisePolynomial Fit(
        BatchSampler sample, double from, double to, double absoluteTolerance, int maxCells = 4096, int leastCells = 8)
    {
        ArgumentNullException.ThrowIfNull(sample);
        Require.InRange(from, -double.MaxValue, double.MaxValue, "the interval has finite ends");
        Require.InRange(to, Math.BitIncrement(from), double.MaxValue, "the interval ends above where it starts");
        Require.InRange(absoluteTolerance, double.Epsilon, double.MaxValue, "a fit needs an error that it may make");
        Require.InRange(maxCells, 1, 1 << 24, "cells take memory");
        Require.InRange(leastCells, 1, maxCells, "a fit starts with at least one cell and at most the greatest count");

        int cells = leastCells;
        while (true)
        {
            (PiecewisePolynomial fit, double worstAt) = Attempt(sample, from, to, cells);
            if (fit.ErrorBound <= absoluteTolerance)
            {
                return fit;
            }

            if (cells == maxCells)
            {
                throw new NonConvergenceException(string.Create(
                    CultureInfo.InvariantCulture,
                    $"The fit over {from:G6} to {to:G6} keeps within {fit.ErrorBound:G4} with {cells} cells, not within {absoluteTolerance:G4}; the worst place is {worstAt:G9}."));
            }

            // The error falls as the twelfth power of the cell's width once the function is resolved; before that, at most double.
            double growth = 1.1 * Math.Pow(fit.ErrorBound / absoluteTolerance, 1.0 / Stride);
            cells = Math.Min(maxCells, (int)Math.Ceiling(cells * Math.Clamp(growth, 1.25, 2)));
        }
    }

    /// <summary>The same function times a constant.</summary>
    public PiecewisePolynomial Scaled(double factor)
    {
        Require.InRange(factor, -double.MaxValue, double.MaxValue, "a function is scaled by a finite number");
        double size = Math.Abs(factor);
        return new(
            From, To, CellCount, Array.ConvertAll(coefficients, c => factor * c), size * ErrorBound, size * Peak);
    }

    /// <summary>The function's value; outside the interval, the value at the nearer end; NaN at NaN. Allocates nothing.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double At(double x)
    {
        double u = Math.Min(Math.Max((x - from) * cellsPerLength, 0), cellCount);
        int cell = Math.Min((int)u, CellCount - 1);
        double s = (2 * (u - cell)) - 1;
        return Evaluate(coefficients.AsSpan(cell * Stride, Stride), s);
    }

    /// <summary>The polynomial of one cell, twelve ascending coefficients, at s in [-1, 1].</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static double Evaluate(ReadOnlySpan<double> c, double s)
    {
        // Estrin's scheme: the shortest chain of dependent operations, with the accuracy of Horner's for |s| <= 1.
        double s2 = s * s;
        double s4 = s2 * s2;
        double p0 = Fma(Fma(c[3], s, c[2]), s2, Fma(c[1], s, c[0]));
        double p1 = Fma(Fma(c[7], s, c[6]), s2, Fma(c[5], s, c[4]));
        double p2 = Fma(Fma(c[11], s, c[10]), s2, Fma(c[9], s, c[8]));
        return Fma(Fma(p2, s4, p1), s4, p0);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double Fma(double a, double b, double c) => Math.FusedMultiplyAdd(a, b, c);

    private static (PiecewisePolynomial Fit, double WorstAt) Attempt(BatchSampler sample, double from, double to, int cells)
    {
        int nodes = (cells * Degree) + 1;
        var points = new double[nodes + (cells * ChecksPerCell)];
        var values = new double[points.Length];
        double width = (to - from) / cells;
        for (int cell = 0; cell < cells; cell++)
        {
            double middle = from + ((cell + 0.5) * width);
            for (int i = 1; i < Degree; i++)
            {
                points[(cell * Degree) + i] = middle + (0.5 * width * Nodes[i]);
            }

            points[cell * Degree] = from + (cell * width);
            for (int i = 0; i < ChecksPerCell; i++)
            {
                points[nodes + (cell * ChecksPerCell) + i] = middle + (0.5 * width * Checks[i]);
            }
        }

        points[nodes - 1] = to;
        sample(points, values);

        double peak = 0;
        for (int i = 0; i < values.Length; i++)
        {
            if (!double.IsFinite(values[i]))
            {
                throw new NonConvergenceException(string.Create(
                    CultureInfo.InvariantCulture, $"The function to fit is {values[i]} at {points[i]:G17}."));
            }

            peak = Math.Max(peak, Math.Abs(values[i]));
        }

        var coefficients = new double[cells * Stride];
        double heaviest = 0;
        for (int cell = 0; cell < cells; cell++)
        {
            Span<double> powers = coefficients.AsSpan(cell * Stride, Stride);
            Interpolate(values.AsSpan(cell * Degree, Stride), powers);
            double weight = 0;
            foreach (double power in powers)
            {
                weight += Math.Abs(power);
            }

            heaviest = Math.Max(heaviest, weight);
        }

        var trial = new PiecewisePolynomial(from, to, cells, coefficients, 0, peak);
        double worst = 0;
        double worstAt = from;
        for (int i = nodes; i < points.Length; i++)
        {
            double error = Math.Abs(trial.At(points[i]) - values[i]);
            if (error > worst)
            {
                worst = error;
                worstAt = points[i];
            }
        }

        // Far from zero, points are rounded before the function sees them; and u = (x - from)/width is rounded in At.
        double steepest = 0;
        for (int i = 1; i < nodes; i++)
        {
            steepest = Math.Max(steepest, Math.Abs((values[i] - values[i - 1]) / (points[i] - points[i - 1])));
        }

        double shift = Epsilon * (Math.Max(Math.Abs(from), Math.Abs(to)) + (to - from));
        double bound = (Safety * worst) + (RoundingUlps * Epsilon * heaviest) + (steepest * shift);
        return (new PiecewisePolynomial(from, to, cells, coefficients, bound, peak), worstAt);
    }

    /// <summary>The places in [-1, 1] where a cell is sampled, ascending from -1 to 1.</summary>
    internal static ReadOnlySpan<double> CellNodes => Nodes;

    /// <summary>The places in [-1, 1] where the error of a cell peaks: where to look at it.</summary>
    internal static ReadOnlySpan<double> CellChecks => Checks;

    /// <summary>The ascending coefficients of one cell from its samples at <see cref="CellNodes"/>.</summary>
    internal static void Interpolate(ReadOnlySpan<double> samples, Span<double> powers)
    {
        powers.Clear();
        for (int k = 0; k < Stride; k++)
        {
            double chebyshev = 0;
            for (int j = 0; j < Stride; j++)
            {
                chebyshev += ToChebyshev[(k * Stride) + j] * samples[j];
            }

            for (int p = k & 1; p <= k; p += 2)
            {
                powers[p] += ToPowers[(k * Stride) + p] * chebyshev;
            }
        }
    }

    /// <summary>The twelve points from -1 to 1, symmetric to the last bit.</summary>
    private static double[] LobattoNodes()
    {
        var nodes = new double[Stride];
        for (int i = 0; i < Stride; i++)
        {
            nodes[i] = Math.Sin(((2 * i) - Degree) * Math.PI / (2 * Degree));
        }

        return nodes;
    }

    /// <summary>Row k gives the coefficient of T_k from the samples at ascending Lobatto points (discrete cosine transform I).</summary>
    private static double[] LobattoTransform()
    {
        var matrix = new double[Stride * Stride];
        for (int k = 0; k < Stride; k++)
        {
            for (int j = 0; j < Stride; j++)
            {
                // Ascending order: the point with index j is cos((n - j)π/n); the integer angle is reduced before it is rounded.
                int turns = (Degree - j) * k % (2 * Degree);
                double half = (k is 0 or Degree ? 0.5 : 1) * (j is 0 or Degree ? 0.5 : 1);
                matrix[(k * Stride) + j] = half * 2.0 / Degree * Math.Cos(turns * Math.PI / Degree);
            }
        }

        return matrix;
    }

    /// <summary>Row k holds the power coefficients of T_k: T_0 = 1, T_1 = s, T_k = 2 s T_(k-1) - T_(k-2); exact integers.</summary>
    private static double[] ChebyshevPowers()
    {
        var matrix = new double[Stride * Stride];
        matrix[0] = 1;
        matrix[Stride + 1] = 1;
        for (int k = 2; k < Stride; k++)
        {
            for (int p = 0; p <= k; p++)
            {
                double shifted = p == 0 ? 0 : matrix[((k - 1) * Stride) + p - 1];
                matrix[(k * Stride) + p] = (2 * shifted) - matrix[((k - 2) * Stride) + p];
            }
        }

        return matrix;
    }
}
