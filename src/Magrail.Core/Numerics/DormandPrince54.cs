using System.Numerics;
using System.Runtime.InteropServices;

namespace Magrail.Numerics;

/// <summary>
/// The explicit Runge-Kutta pair of Dormand and Prince, order 5 with an error estimate of order 4, seven stages of which the
/// last is the first of the next step, proportional-integral step control, and a continuous extension of order 4.
/// </summary>
/// <remarks>
/// Takes one step at a time and allocates nothing once made. Not safe for two threads at once.
/// Source: J. R. Dormand, P. J. Prince, A family of embedded Runge-Kutta formulae, J. Comput. Appl. Math. 6 (1980) 19-26;
/// step control and continuous extension after E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential
/// Equations I, sections II.4 to II.6.
/// </remarks>
/// <typeparam name="TSystem">The system; a struct is called without indirection.</typeparam>
public sealed class DormandPrince54<TSystem>
    where TSystem : IOdeSystem
{
    // Step control: h_new = h · clamp(0.9 err^(-0.7/5) err_old^(0.4/5)), section II.4 of the book named above.
    private const double Safety = 0.9;
    private const double PreviousWeight = 0.04;
    private const double ErrorWeight = 0.2 - (0.75 * PreviousWeight);
    private const double LeastShrink = 0.2;
    private const double GreatestGrowth = 10;

    // A step of fewer roundings of time than this is not taken again: its continuous extension is exact to rounding.
    private const double LeastRetaken = 1 << 20;

    private readonly TSystem system;
    private readonly Tolerances tolerances;
    private readonly int dimension;
    private readonly int stride;
    private readonly double[] absolute;
    private readonly double[] y;
    private readonly double[] next;
    private readonly double[] stage;
    private readonly double[] error;
    private readonly double[] k1;
    private readonly double[] k2;
    private readonly double[] k3;
    private readonly double[] k4;
    private readonly double[] k5;
    private readonly double[] k6;
    private readonly double[] k7;
    private readonly double[] dense;

    private double proposed;
    private double previousError;
    private bool previousRejected;
    private bool denseReady;
    private double lastStep;

    /// <summary>Makes an integrator for a system.</summary>
    /// <param name="system">The system; its dimension is read once, here.</param>
    /// <param name="tolerances">The accuracy asked for.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The system has no component, or fewer absolute tolerances than components.</exception>
    public DormandPrince54(TSystem system, Tolerances tolerances)
    {
        ArgumentNullException.ThrowIfNull(system);
        ArgumentNullException.ThrowIfNull(tolerances);
        this.system = system;
        this.tolerances = tolerances;
        dimension = Require.InRange(system.Dimension, 1, 1_000_000, "a system has at least one component", "system.Dimension");

        // Rows padded to whole vectors: the padding stays zero.
        int lanes = Vector<double>.Count;
        stride = (dimension + lanes - 1) / lanes * lanes;
        absolute = new double[stride];
        for (int i = 0; i < dimension; i++)
        {
            absolute[i] = tolerances.Absolute(i);
        }

        y = new double[stride];
        next = new double[stride];
        stage = new double[stride];
        error = new double[stride];
        k1 = new double[stride];
        k2 = new double[stride];
        k3 = new double[stride];
        k4 = new double[stride];
        k5 = new double[stride];
        k6 = new double[stride];
        k7 = new double[stride];
        dense = new double[5 * stride];
    }

    /// <summary>The time reached.</summary>
    public double Time { get; private set; }

    /// <summary>The time at which the last accepted step began.</summary>
    public double StepStart { get; private set; }

    /// <summary>The state at <see cref="Time"/>.</summary>
    public ReadOnlySpan<double> State => y.AsSpan(0, dimension);

    /// <summary>The derivatives at <see cref="Time"/>.</summary>
    public ReadOnlySpan<double> Slopes => k1.AsSpan(0, dimension);

    /// <summary>The derivatives at <see cref="StepStart"/>; valid after a step.</summary>
    public ReadOnlySpan<double> StartSlopes => k2.AsSpan(0, dimension);

    /// <summary>Steps accepted since the integrator was made.</summary>
    public int StepsAccepted { get; private set; }

    /// <summary>Steps rejected since the integrator was made.</summary>
    public int StepsRejected { get; private set; }

    /// <summary>Evaluations of the right-hand side since the integrator was made.</summary>
    public int Evaluations { get; private set; }

    /// <summary>The continuous extension of the last accepted step; valid until the next step or start.</summary>
    public DenseStep LastStep => CutAt(Time);

    /// <summary>Sets time and state, evaluates the derivatives there and chooses a first step.</summary>
    /// <param name="time">Start time.</param>
    /// <param name="state">Start state, as many values as the system has components.</param>
    /// <param name="endTime">Where the integration is going, later than <paramref name="time"/>; only bounds the first step.</param>
    /// <returns><see langword="false"/> where the state or its derivative is not finite.</returns>
    public bool Start(double time, ReadOnlySpan<double> state, double endTime)
    {
        state.CopyTo(y);
        Time = time;
        StepStart = time;
        previousError = 1e-4;
        previousRejected = false;
        denseReady = false;
        Evaluate(time, y, k1);
        if (!AllFinite(y) || !AllFinite(k1))
        {
            return false;
        }

        proposed = FirstStep(endTime - time);
        return true;
    }

    /// <summary>Restores the counters to zero, for an integrator that serves many integrations.</summary>
    public void ResetCounters()
    {
        StepsAccepted = 0;
        StepsRejected = 0;
        Evaluations = 0;
    }

    /// <summary>Takes one step that meets the tolerance and does not pass a given time.</summary>
    /// <param name="latest">The time that the step may reach but not pass; must be later than <see cref="Time"/>.</param>
    /// <returns><see cref="OdeOutcome.ReachedEnd"/> where the step was taken; else why it could not be.</returns>
    public OdeOutcome Step(double latest)
    {
        bool finite = true;
        while (true)
        {
            double h = proposed;
            double remaining = latest - Time;
            bool last = false;
            if (h >= remaining)
            {
                h = remaining;
                last = true;
            }
            else if (2 * h > remaining)
            {
                // Two even steps instead of a long one and a sliver.
                h = 0.5 * remaining;
            }

            double end = last ? latest : Time + h;
            if (!(end > Time) || h < 4 * Math.BitIncrement(Math.Abs(Time)) - (4 * Math.Abs(Time)))
            {
                if (!last)
                {
                    return finite ? OdeOutcome.StepTooSmall : OdeOutcome.NotFinite;
                }
            }

            Stages(h);
            double ratio = ErrorRatio();
            finite = double.IsFinite(ratio);
            if (!finite)
            {
                StepsRejected++;
                previousRejected = true;
                proposed = LeastShrink * h;
                continue;
            }

            double factor = Math.Pow(ratio, ErrorWeight);
            if (ratio <= 1)
            {
                double growth = Math.Clamp(Safety / factor * Math.Pow(previousError, PreviousWeight), LeastShrink, GreatestGrowth);
                if (previousRejected)
                {
                    growth = Math.Min(growth, 1);
                }

                previousError = Math.Max(ratio, 1e-4);
                previousRejected = false;
                proposed = last ? Math.Max(proposed, h * growth) : h * growth;
                Accept(h, end);
                return OdeOutcome.ReachedEnd;
            }

            StepsRejected++;
            previousRejected = true;
            proposed = h * Math.Max(LeastShrink, Safety / factor);
        }
    }

    /// <summary>
    /// Takes the last accepted step again, from the same start to an earlier end, so that what was inside it comes to lie at
    /// the end, where the solution is of order five and its error is controlled.
    /// </summary>
    /// <param name="end">The new end, inside the last step.</param>
    /// <returns>
    /// <see langword="false"/>, with nothing changed, where the new step is so short that rounding is all there is to gain.
    /// </returns>
    internal bool Retake(double end)
    {
        double start = StepStart;
        double h = end - start;
        if (!(h > LeastRetaken * (Math.BitIncrement(Math.Abs(end)) - Math.Abs(end))))
        {
            return false;
        }

        // The first row of the continuous extension is the state at the start, k2 the slopes there.
        dense.AsSpan(0, stride).CopyTo(y);
        k2.CopyTo(k1.AsSpan());
        Time = start;
        Stages(h);
        Accept(h, end);
        StepsAccepted--;
        return true;
    }

    /// <summary>The last step's continuous extension, cut at a time inside it.</summary>
    internal DenseStep CutAt(double end)
    {
        if (!denseReady)
        {
            PrepareDense();
        }

        return new DenseStep(StepStart, lastStep, end, dense, stride, dimension);
    }

    private static bool AllFinite(ReadOnlySpan<double> values)
    {
        foreach (double value in values)
        {
            if (!double.IsFinite(value))
            {
                return false;
            }
        }

        return true;
    }

    private static Span<Vector<double>> Lanes(double[] row) => MemoryMarshal.Cast<double, Vector<double>>(row.AsSpan());

    private void Evaluate(double time, double[] state, double[] derivatives)
    {
        Evaluations++;
        system.Derivatives(time, state.AsSpan(0, dimension), derivatives.AsSpan(0, dimension));
    }

    private void Stages(double h)
    {
        Span<Vector<double>> y0 = Lanes(y), w = Lanes(stage), v1 = Lanes(k1), v2 = Lanes(k2), v3 = Lanes(k3);
        Span<Vector<double>> v4 = Lanes(k4), v5 = Lanes(k5), v6 = Lanes(k6), v7 = Lanes(k7), y1 = Lanes(next), e = Lanes(error);

        double a21 = h * DormandPrinceTableau.A21;
        for (int i = 0; i < w.Length; i++)
        {
            w[i] = y0[i] + (a21 * v1[i]);
        }

        Evaluate(Time + (DormandPrinceTableau.C2 * h), stage, k2);
        double a31 = h * DormandPrinceTableau.A31, a32 = h * DormandPrinceTableau.A32;
        for (int i = 0; i < w.Length; i++)
        {
            w[i] = y0[i] + (a31 * v1[i]) + (a32 * v2[i]);
        }

        Evaluate(Time + (DormandPrinceTableau.C3 * h), stage, k3);
        double a41 = h * DormandPrinceTableau.A41, a42 = h * DormandPrinceTableau.A42, a43 = h * DormandPrinceTableau.A43;
        for (int i = 0; i < w.Length; i++)
        {
            w[i] = y0[i] + (a41 * v1[i]) + (a42 * v2[i]) + (a43 * v3[i]);
        }

        Evaluate(Time + (DormandPrinceTableau.C4 * h), stage, k4);
        double a51 = h * DormandPrinceTableau.A51, a52 = h * DormandPrinceTableau.A52;
        double a53 = h * DormandPrinceTableau.A53, a54 = h * DormandPrinceTableau.A54;
        for (int i = 0; i < w.Length; i++)
        {
            w[i] = y0[i] + (a51 * v1[i]) + (a52 * v2[i]) + (a53 * v3[i]) + (a54 * v4[i]);
        }

        Evaluate(Time + (DormandPrinceTableau.C5 * h), stage, k5);
        double a61 = h * DormandPrinceTableau.A61, a62 = h * DormandPrinceTableau.A62, a63 = h * DormandPrinceTableau.A63;
        double a64 = h * DormandPrinceTableau.A64, a65 = h * DormandPrinceTableau.A65;
        for (int i = 0; i < w.Length; i++)
        {
            w[i] = y0[i] + (a61 * v1[i]) + (a62 * v2[i]) + (a63 * v3[i]) + (a64 * v4[i]) + (a65 * v5[i]);
        }

        Evaluate(Time + h, stage, k6);
        double b1 = h * DormandPrinceTableau.B1, b3 = h * DormandPrinceTableau.B3, b4 = h * DormandPrinceTableau.B4;
        double b5 = h * DormandPrinceTableau.B5, b6 = h * DormandPrinceTableau.B6;
        for (int i = 0; i < w.Length; i++)
        {
            // The increment first: one rounding of the state a step, not five.
            y1[i] = y0[i] + ((b1 * v1[i]) + (b3 * v3[i]) + (b4 * v4[i]) + (b5 * v5[i]) + (b6 * v6[i]));
        }

        Evaluate(Time + h, next, k7);
        double e1 = h * DormandPrinceTableau.E1, e3 = h * DormandPrinceTableau.E3, e4 = h * DormandPrinceTableau.E4;
        double e5 = h * DormandPrinceTableau.E5, e6 = h * DormandPrinceTableau.E6, e7 = h * DormandPrinceTableau.E7;
        for (int i = 0; i < w.Length; i++)
        {
            e[i] = (e1 * v1[i]) + (e3 * v3[i]) + (e4 * v4[i]) + (e5 * v5[i]) + (e6 * v6[i]) + (e7 * v7[i]);
        }
    }

    /// <summary>Root mean square of error over tolerance; NaN where anything is not finite.</summary>
    private double ErrorRatio()
    {
        double sum = 0;
        double relative = tolerances.Relative;
        for (int i = 0; i < dimension; i++)
        {
            double scaled = error[i] / (absolute[i] + (relative * Math.Max(Math.Abs(y[i]), Math.Abs(next[i]))));
            sum += scaled * scaled;
        }

        return Math.Sqrt(sum / dimension);
    }

    private void Accept(double h, double end)
    {
        // r1 = y0 and r2 = y1 − y0 now, the rest when somebody asks for it: y0 and k1 are about to be overwritten.
        Span<Vector<double>> y0 = Lanes(y), y1 = Lanes(next), r = Lanes(dense);
        int n = y0.Length;
        for (int i = 0; i < n; i++)
        {
            r[i] = y0[i];
            r[n + i] = y1[i] - y0[i];
            y0[i] = y1[i];
        }

        // k2 is free after the stages: it keeps the slopes at the start, and k1 takes those at the end (first same as last).
        k1.CopyTo(k2.AsSpan());
        k7.CopyTo(k1.AsSpan());
        StepStart = Time;
        Time = end;
        lastStep = h;
        denseReady = false;
        StepsAccepted++;
    }

    private void PrepareDense()
    {
        double h = lastStep;
        Span<Vector<double>> r = Lanes(dense), v1 = Lanes(k2), v3 = Lanes(k3), v4 = Lanes(k4), v5 = Lanes(k5), v6 = Lanes(k6), v7 = Lanes(k7);
        int n = v1.Length;
        double d1 = h * DormandPrinceTableau.D1, d3 = h * DormandPrinceTableau.D3, d4 = h * DormandPrinceTableau.D4;
        double d5 = h * DormandPrinceTableau.D5, d6 = h * DormandPrinceTableau.D6, d7 = h * DormandPrinceTableau.D7;
        for (int i = 0; i < n; i++)
        {
            Vector<double> difference = r[n + i];
            Vector<double> bend = (h * v1[i]) - difference;
            r[(2 * n) + i] = bend;
            r[(3 * n) + i] = difference - (h * v7[i]) - bend;
            r[(4 * n) + i] = (d1 * v1[i]) + (d3 * v3[i]) + (d4 * v4[i]) + (d5 * v5[i]) + (d6 * v6[i]) + (d7 * v7[i]);
        }

        denseReady = true;
    }

    /// <summary>A first step from the size of y, y' and an estimate of y'' (section II.4 of the book named above).</summary>
    private double FirstStep(double span)
    {
        double sizeY = ScaledNorm(y, null, y);
        double sizeF = ScaledNorm(k1, null, y);
        double h0 = sizeY < 1e-10 || sizeF < 1e-10 ? 1e-6 : 0.01 * (sizeY / sizeF);
        h0 = Math.Min(h0, span);
        for (int i = 0; i < dimension; i++)
        {
            stage[i] = y[i] + (h0 * k1[i]);
        }

        Evaluate(Time + h0, stage, k2);
        double bend = ScaledNorm(k2, k1, y) / h0;
        double greatest = Math.Max(sizeF, bend);
        double h1 = greatest <= 1e-15 ? Math.Max(1e-6, h0 * 1e-3) : Math.Pow(0.01 / greatest, 0.2);
        double h = Math.Min(100 * h0, h1);

        // The guess may be too small for time to tell (a state near zero); only the error estimate may call a step too small.
        double least = 64 * (Math.BitIncrement(Math.Abs(Time)) - Math.Abs(Time));
        return double.IsFinite(h) && h > 0 ? Math.Min(Math.Max(h, least), span) : Math.Min(1e-6, span);
    }

    private double ScaledNorm(double[] a, double[]? minus, double[] state)
    {
        double sum = 0;
        for (int i = 0; i < dimension; i++)
        {
            double value = (a[i] - (minus is null ? 0 : minus[i])) / (absolute[i] + (tolerances.Relative * Math.Abs(state[i])));
            sum += value * value;
        }

        return Math.Sqrt(sum / dimension);
    }
}
