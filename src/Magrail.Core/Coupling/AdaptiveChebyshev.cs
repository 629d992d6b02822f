using MathNet.Numerics;

namespace Magrail;

/// <summary>
/// A smooth function on an interval by Chebyshev series of degree 13 on cells of unequal width, each halved until its
/// last coefficients fall below the tolerance. For functions that are costly to sample and looked up rarely.
/// </summary>
internal sealed class AdaptiveChebyshev
{
    private const int Order = 14;
    private const double Safety = 4;

    private static readonly double[] Nodes = [.. Enumerable.Range(0, Order).Select(j => Math.Cos(Math.PI * (j + 0.5) / Order))];
    private static readonly double[] Transform = MakeTransform();

    /// <summary>Where the fit is looked at: near both ends, and where a polynomial that vanishes at all nodes is greatest.</summary>
    private static readonly double[] Checks = [-Math.Cos(2 * Math.PI / Order), Math.Cos(2 * Math.PI / Order)];

    private readonly double[] borders;
    private readonly double[] coefficients;

    private AdaptiveChebyshev(double[] borders, double[] coefficients, double errorBound)
    {
        this.borders = borders;
        this.coefficients = coefficients;
        ErrorBound = errorBound;
    }

    /// <summary>
    /// The greatest error: what the series of a cell leaves out if its coefficients go on falling as the last four do, times four; twice the
    /// error seen at two places between the nodes, as the coefficients at hand may vanish where the next ones do not; or twice the step from
    /// cell to cell, where a feature beyond its end shows most. An observation, not a proof.
    /// </summary>
    public double ErrorBound { get; }

    /// <summary>How many samples it took.</summary>
    public int SampleCount { get; private init; }

    /// <summary>How many cells there are.</summary>
    public int CellCount => borders.Length - 1;

    /// <summary>The least width of a cell.</summary>
    public double LeastWidth
    {
        get
        {
            double least = double.PositiveInfinity;
            for (int i = 1; i < borders.Length; i++)
            {
                least = Math.Min(least, borders[i] - borders[i - 1]);
            }

            return least;
        }
    }

    /// <summary>Fits a function.</summary>
    /// <param name="f">The function.</param>
    /// <param name="start">First borders of cells, ascending.</param>
    /// <param name="absoluteTolerance">The error aimed at; <see cref="ErrorBound"/> may exceed it where the samples are too rough.</param>
    /// <param name="noise">Rounding of the samples: what differs by less is taken as equal.</param>
    /// <param name="parallel">Whether the samples of a cell are shared among threads.</param>
    /// <exception cref="NonConvergenceException">A sample is not finite.</exception>
    public static AdaptiveChebyshev Fit(
        Func<double, double> f, ReadOnlySpan<double> start, double absoluteTolerance, double noise = 0, bool parallel = false)
    {
        var pending = new Stack<Cell>();
        for (int i = start.Length - 1; i > 0; i--)
        {
            pending.Push(new(start[i - 1], start[i], double.PositiveInfinity, false));
        }

        var accepted = new List<Cell>();
        var values = new double[Order + Checks.Length];
        int samples = 0;
        while (pending.TryPop(out Cell? cell))
        {
            if (!cell.IsSampled)
            {
                samples += cell.Sample(f, absoluteTolerance, noise, parallel, values);
            }

            if (cell.IsToBeHalved(cell.Error, absoluteTolerance))
            {
                Halve(cell, cell.Error);
                continue;
            }

            if (accepted.Count > 0)
            {
                // A feature that hides beside the end of a cell shows in the step to the next one. The wider of the two hides it.
                Cell before = accepted[^1];
                double step = 2 * Math.Max(0, Math.Abs(cell.Begin - before.End) - noise);
                Cell wider = before.Width > cell.Width ? before : cell;
                if (wider.IsToBeHalved(step, absoluteTolerance))
                {
                    if (wider == before)
                    {
                        accepted.RemoveAt(accepted.Count - 1);
                        pending.Push(cell);
                    }

                    Halve(wider, step);
                    continue;
                }

                cell.Step = step;
            }

            accepted.Add(cell);
        }

        return new(
            [start[0], .. accepted.Select(cell => cell.To)],
            [.. accepted.SelectMany(cell => cell.Series)],
            accepted.Max(cell => Math.Max(cell.Error, cell.Step))) { SampleCount = samples };

        void Halve(Cell cell, double error)
        {
            double middle = 0.5 * (cell.From + cell.To);
            bool stalled = cell.IsStalled(error, absoluteTolerance);
            pending.Push(new(middle, cell.To, error, stalled));
            pending.Push(new(cell.From, middle, error, stalled));
        }
    }

    /// <summary>The function's value; the place is held within the interval.</summary>
    public double At(double x)
    {
        int found = Array.BinarySearch(borders, x);
        int cell = Math.Clamp(found >= 0 ? found : ~found - 1, 0, CellCount - 1);
        double from = borders[cell];
        double to = borders[cell + 1];
        return Clenshaw(coefficients.AsSpan(cell * Order, Order), ((2 * x) - from - to) / (to - from));
    }

    private static double Clenshaw(ReadOnlySpan<double> c, double s)
    {
        double b1 = 0;
        double b2 = 0;
        for (int k = Order - 1; k > 0; k--)
        {
            (b1, b2) = ((2 * s * b1) - b2 + c[k], b1);
        }

        return (s * b1) - b2 + c[0];
    }

    private static double[] MakeTransform()
    {
        var matrix = new double[Order * Order];
        for (int k = 0; k < Order; k++)
        {
            for (int j = 0; j < Order; j++)
            {
                matrix[(k * Order) + j] = (k == 0 ? 1.0 : 2.0) / Order * Math.Cos(Math.PI * k * (j + 0.5) / Order);
            }
        }

        return matrix;
    }

    /// <summary>A cell with its series; its parent's error, and whether that was no better than the grandparent's.</summary>
    private sealed class Cell(double from, double to, double parent, bool parentStalled)
    {
        public double From => from;

        public double To => to;

        public double Width => to - from;

        public double[] Series { get; } = new double[Order];

        public bool IsSampled { get; private set; }

        /// <summary>What the cell itself shows of its error.</summary>
        public double Error { get; private set; }

        /// <summary>What the step from the cell before shows.</summary>
        public double Step { get; set; }

        /// <summary>The series at the lower end.</summary>
        public double Begin { get; private set; }

        /// <summary>The series at the upper end.</summary>
        public double End { get; private set; }

        public bool IsStalled(double error, double tolerance) => error > 0.3 * parent && parent < 1e3 * tolerance;

        /// <summary>Where halving a cell twice did not help, the samples are no better than that: the bound says so.</summary>
        public bool IsToBeHalved(double error, double tolerance) => error > tolerance && !(parentStalled && IsStalled(error, tolerance));

        /// <summary>Fits the series; returns how many samples that took.</summary>
        public int Sample(Func<double, double> f, double tolerance, double noise, bool parallel, double[] values)
        {
            double middle = 0.5 * (from + to);
            double half = 0.5 * (to - from);
            int samples = parallel ? values.Length : Order;
            if (parallel)
            {
                Parallel.For(0, samples, Evaluate);
            }
            else
            {
                for (int j = 0; j < samples; j++)
                {
                    Evaluate(j);
                }
            }

            for (int k = 0; k < Order; k++)
            {
                double c = 0;
                for (int j = 0; j < Order; j++)
                {
                    c += Transform[(k * Order) + j] * values[j];
                }

                Series[k] = c;
                Begin += (k & 1) == 0 ? c : -c;
                End += c;
            }

            // The coefficients fall by a steady ratio: two by two, as a function that is nearly even or odd has every other one small.
            double last = Math.Abs(Series[Order - 1]) + Math.Abs(Series[Order - 2]);
            double before = Math.Abs(Series[Order - 3]) + Math.Abs(Series[Order - 4]);
            double error = Safety * last * Math.Min(1, last / before);
            error = double.IsNaN(error) ? Safety * last : error;
            if (!double.IsFinite(error))
            {
                throw new NonConvergenceException($"The function to fit is not finite near {middle:G9}.");
            }

            if (error <= tolerance || parallel)
            {
                for (int j = samples; j < values.Length; j++)
                {
                    Evaluate(j);
                }

                samples = values.Length;
                for (int j = 0; j < Checks.Length; j++)
                {
                    error = Math.Max(error, 2 * Math.Max(0, Math.Abs(Clenshaw(Series, Checks[j]) - values[Order + j]) - noise));
                }
            }

            Error = error;
            IsSampled = true;
            return samples;

            void Evaluate(int j) => values[j] = f(middle + (half * (j < Order ? Nodes[j] : Checks[j - Order])));
        }
    }
}
