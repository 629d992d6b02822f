using Magrail.Numerics;
using Xunit.Abstractions;

namespace Magrail.Tests.Numerics;

/// <summary>Smooth problems with known solutions. The tolerances on errors are ratchets: what was measured, with a little room.</summary>
public class OdeProblemsTests(ITestOutputHelper output)
{
    private const string Hull = "T. E. Hull and others, SIAM J. Numer. Anal. 9 (1972) 603; closed forms, DOP853";
    private const string Hairer = "E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, p. 129";

    private static readonly AccuracyRow Detest = new("DETEST problems A1 to A5, B1, B2 at tolerance 1e-10, end value", Hull, 10, "tolerances");
    private static readonly AccuracyRow DetestInside = new("DETEST problems with closed forms at tolerance 1e-8, 21 places in each step", Hull, 10, "tolerances");
    private static readonly AccuracyRow Arenstorf = new("Arenstorf's orbit, gap after one period at tolerance 1e-13", Hairer, 5e-11, "");
    private static readonly AccuracyRow DragFall = new("fall with quadratic drag at tolerance 1e-11, time and speed", "closed form", 1e-10, "s and m/s");
    private static readonly AccuracyRow Orders = new("local orders of a step's end, inside and slope against 6, 5 and 4", "E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, II.5 and II.6", 0.3, "");

    // T. E. Hull, W. H. Enright, B. M. Fellen, A. E. Sedgwick, Comparing numerical methods for ordinary differential equations, SIAM
    // J. Numer. Anal. 9 (1972) 603-637, classes A and B. Closed forms of A1 to A4 as coded in PETSc (ts/tutorials/ex31.c); B2 from the
    // eigenvalues 0, -1, -3 of its matrix.
    private static readonly Dictionary<string, Problem> Problems = new()
    {
        // y' = -y: y = e^-t.
        ["A1"] = new([1], (t, y, d) => d[0] = -y[0], t => [Math.Exp(-t)]),

        // y' = -y³/2: y = 1/√(t + 1).
        ["A2"] = new([1], (t, y, d) => d[0] = -y[0] * y[0] * y[0] / 2, t => [1 / Math.Sqrt(t + 1)]),

        // y' = y cos t: y = e^(sin t).
        ["A3"] = new([1], (t, y, d) => d[0] = y[0] * Math.Cos(t), t => [Math.Exp(Math.Sin(t))]),

        // y' = (y/4)(1 - y/20): y = 20/(1 + 19 e^(-t/4)).
        ["A4"] = new([1], (t, y, d) => d[0] = y[0] / 4 * (1 - (y[0] / 20)), t => [20 / (1 + (19 * Math.Exp(-t / 4)))]),

        // y' = (y - t)/(y + t); at t = 20 by DOP853 (SciPy) with a relative tolerance of 1e-13.
        ["A5"] = new([4], (t, y, d) => d[0] = (y[0] - t) / (y[0] + t), null, [-0.788782668896]),

        // y1' = 2 (y1 - y1 y2), y2' = -(y2 - y1 y2); at t = 20 by DOP853 (SciPy) with a relative tolerance of 1e-13.
        ["B1"] = new(
            [1, 3],
            (t, y, d) =>
            {
                d[0] = 2 * (y[0] - (y[0] * y[1]));
                d[1] = -(y[1] - (y[0] * y[1]));
            },
            null,
            [0.676187600858, 0.186081609964]),

        // A linear chemical reaction: y = (1, 1, 1) + (1, 0, -1) e^-t/2 + (1, -2, 1) e^-3t/2.
        ["B2"] = new(
            [2, 0, 1],
            (t, y, d) =>
            {
                d[0] = -y[0] + y[1];
                d[1] = y[0] - (2 * y[1]) + y[2];
                d[2] = y[1] - y[2];
            },
            t =>
            [
                1 + (0.5 * Math.Exp(-t)) + (0.5 * Math.Exp(-3 * t)),
                1 - Math.Exp(-3 * t),
                1 - (0.5 * Math.Exp(-t)) + (0.5 * Math.Exp(-3 * t)),
            ]),
    };

    [Theory]
    [InlineData("A1", 1e-10, 0.05)]
    [InlineData("A2", 1e-10, 0.3)]
    [InlineData("A3", 1e-10, 3)]
    [InlineData("A4", 1e-10, 0.1)]
    [InlineData("A5", 1e-10, 6)]
    [InlineData("B1", 1e-10, 10)]
    [InlineData("B2", 1e-10, 0.1)]
    public void Detest_end_value_is_met(string name, double tolerance, double ratchet)
    {
        Problem problem = Problems[name];
        OdeSolution solution = problem.Solve(tolerance);
        double error = Greatest(solution.EndState, problem.End());
        output.WriteLine($"{name}: error {error:G3} = {error / tolerance:F2} tolerances, {solution.StepsAccepted} steps, {solution.Evaluations} evaluations");
        Assert.InRange(error, 0, ratchet * tolerance);
        Detest.Hold(error / tolerance, name);
    }

    [Theory]
    [InlineData("A1")]
    [InlineData("A2")]
    [InlineData("A3")]
    [InlineData("A4")]
    [InlineData("B2")]
    public void Continuous_extension_is_right_inside_every_step(string name)
    {
        const double Tolerance = 1e-8;
        Problem problem = Problems[name];
        OdeSolution solution = problem.Solve(Tolerance);
        double worst = 0;
        double worstAtStep = 0;
        for (int i = 0; i < solution.StepTimes.Count; i++)
        {
            double start = solution.StepTimes[i];
            double end = i + 1 < solution.StepTimes.Count ? solution.StepTimes[i + 1] : solution.EndTime;
            for (int j = 0; j <= 20; j++)
            {
                double time = start + ((end - start) * j / 21);
                double error = Greatest(solution.At(time), problem.Exact!(time));
                worst = Math.Max(worst, error);
                worstAtStep = j == 0 ? Math.Max(worstAtStep, error) : worstAtStep;
            }
        }

        // The extension is of order 4 within a step whose end is of order 5: somewhat worse inside, never by much.
        output.WriteLine($"{name}: worst inside {worst:G3}, at steps {worstAtStep:G3}, {solution.StepTimes.Count} steps");
        DetestInside.Hold(worst / Tolerance, name);
    }

    [Theory]
    [InlineData("A1")]
    [InlineData("A3")]
    [InlineData("A4")]
    [InlineData("B1")]
    public void Error_is_proportional_to_tolerance(string name)
    {
        // The reference of B1 has twelve digits, so no tighter than 1e-10 there.
        Problem problem = Problems[name];
        double[] tolerances = [1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10];
        double[] ratios = [.. tolerances.Select(tolerance =>
        {
            // The greatest error over the run, or at its end where only that is known.
            OdeSolution solution = problem.Solve(tolerance);
            double error = problem.Exact is null
                ? Greatest(solution.EndState, problem.End())
                : solution.StepTimes.Max(time => Greatest(solution.At(time), problem.Exact(time)));
            return error / tolerance;
        })];
        double slope = 1 + MathNet.Numerics.Fit.Line(
            [.. tolerances.Select(Math.Log10)], [.. ratios.Select(ratio => Math.Log10(ratio))]).B;
        output.WriteLine($"{name}: errors over tolerance {string.Join(", ", ratios.Select(r => r.ToString("G3", System.Globalization.CultureInfo.InvariantCulture)))}; slope {slope:F3}");
        Assert.InRange(slope, 0.85, 1.1);
        Assert.All(ratios, ratio => Assert.InRange(ratio, 1e-3, 100));
    }

    [Fact]
    public void Arenstorf_orbit_closes()
    {
        // E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, p. 129: a satellite passes between
        // earth and moon and returns to its start.
        const double Moon = 0.012277471, Earth = 1 - Moon, Period = 17.0652165601579625588917206249;
        double[] start = [0.994, 0, 0, -2.00158510637908252240537862224];
        static void orbit(double t, ReadOnlySpan<double> y, Span<double> d)
        {
            double d1 = Math.Pow(((y[0] + Moon) * (y[0] + Moon)) + (y[1] * y[1]), 1.5);
            double d2 = Math.Pow(((y[0] - Earth) * (y[0] - Earth)) + (y[1] * y[1]), 1.5);
            d[0] = y[2];
            d[1] = y[3];
            d[2] = y[0] + (2 * y[3]) - (Earth * (y[0] + Moon) / d1) - (Moon * (y[0] - Earth) / d2);
            d[3] = y[1] - (2 * y[2]) - (Earth * y[1] / d1) - (Moon * y[1] / d2);
        }

        // Passes close by the moon amplify an error made before them: some hundred tolerances are left of a full turn.
        foreach ((double tolerance, double budget) in new[] { (1e-7, 2e-5), (1e-9, 3e-7), (1e-11, 4e-9), (1e-13, 5e-11) })
        {
            OdeSolution solution = OdeSolver.Solve(orbit, 0, start, Period, new Tolerances(tolerance, tolerance));
            double gap = Math.Max(Math.Abs(solution.EndState[0] - start[0]), Math.Abs(solution.EndState[1] - start[1]));
            output.WriteLine($"tolerance {tolerance:G1}: gap {gap:G3}, {solution.StepsAccepted} steps, {solution.StepsRejected} rejected");
            Assert.Equal(OdeOutcome.ReachedEnd, solution.Outcome);
            Assert.InRange(gap, 0, budget);
            if (tolerance == 1e-13)
            {
                Arenstorf.Hold(gap);
            }
        }
    }

    [Fact]
    public void Fall_with_quadratic_drag_meets_its_closed_form()
    {
        // v' = g (1 - v²/v_t²), from rest: x = v_t²/g ln cosh(g t/v_t). Terminal speed 40 m/s, after 100 m (closed form).
        const double G = 9.80665, Terminal = 40, Height = 100;
        double time = Terminal / G * Math.Acosh(Math.Exp(G * Height / (Terminal * Terminal)));
        double speed = Terminal * Math.Sqrt(1 - Math.Exp(-2 * G * Height / (Terminal * Terminal)));
        Assert.Equal(4.98832041503, time, 1e-11);
        Assert.Equal(33.6210977644, speed, 1e-10);

        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) =>
            {
                d[0] = y[1];
                d[1] = G * (1 - (y[1] * y[1] / (Terminal * Terminal)));
            },
            0,
            [0.0, 0.0],
            100,
            new Tolerances(1e-11, 1e-11),
            [new OdeEvent("ground", (t, y) => y[0] - Height)]);
        output.WriteLine($"time error {solution.EndTime - time:G3} s, speed error {solution.EndState[1] - speed:G3} m/s");
        Assert.Equal(OdeOutcome.StoppedByEvent, solution.Outcome);
        DragFall.HoldDifference(time, solution.EndTime);
        DragFall.HoldDifference(speed, solution.EndState[1]);
    }

    [Fact]
    public void One_step_is_of_order_five_and_its_inside_of_order_four()
    {
        // y' = y cos t, one step of h, worst over starts (at a single start the leading error may happen to vanish): the local error is O(h^6) at the end and O(h^5) inside.
        double[] lengths = [0.2, 0.1, 0.05, 0.025];
        (double End, double Inside, double Slope)[] errors = [.. lengths.Select(h =>
        {
            (double End, double Inside, double Slope)[] starts = [.. Enumerable.Range(0, 25).Select(i => OneStep(i * 0.25, h))];
            return (starts.Max(e => e.End), starts.Max(e => e.Inside), starts.Max(e => e.Slope));
        })];
        for (int i = 1; i < errors.Length; i++)
        {
            double end = Math.Log2(errors[i - 1].End / errors[i].End);
            double inside = Math.Log2(errors[i - 1].Inside / errors[i].Inside);
            double slope = Math.Log2(errors[i - 1].Slope / errors[i].Slope);
            output.WriteLine($"h {lengths[i]}: local orders end {end:F2}, inside {inside:F2}, slope {slope:F2}");
            Assert.InRange(end, 5.9, 6.3);
            Assert.InRange(inside, 4.9, 5.1);
            Assert.InRange(slope, 3.9, 4.1);
            Orders.Hold(Math.Max(Math.Abs(end - 6), Math.Max(Math.Abs(inside - 5), Math.Abs(slope - 4))));
        }

        static (double End, double Inside, double Slope) OneStep(double start, double h)
        {
            var integrator = new DormandPrince54<Growth>(new Growth(), new Tolerances(1e-3, 1e6));
            Assert.True(integrator.Start(start, [Math.Exp(Math.Sin(start))], start + h));
            Assert.Equal(OdeOutcome.ReachedEnd, integrator.Step(start + h));
            Assert.Equal(start + h, integrator.Time);
            DenseStep step = integrator.LastStep;
            double inside = 0;
            double slope = 0;
            for (int j = 0; j <= 32; j++)
            {
                double t = start + (h * j / 32);
                double exact = Math.Exp(Math.Sin(t));
                inside = Math.Max(inside, Math.Abs(step.Value(0, t) - exact));
                slope = Math.Max(slope, Math.Abs(step.Slope(0, t) - (exact * Math.Cos(t))));
            }

            return (Math.Abs(integrator.State[0] - Math.Exp(Math.Sin(start + h))), inside, slope);
        }
    }

    [Fact]
    public void Last_stage_of_a_step_is_the_first_of_the_next()
    {
        OdeSolution solution = Problems["A3"].Solve(1e-8);
        Assert.True(solution.StepsAccepted > 50);

        // Two evaluations choose the first step; every attempt takes six more.
        Assert.Equal(2 + (6 * (solution.StepsAccepted + solution.StepsRejected)), solution.Evaluations);
    }

    [Fact]
    public void Work_grows_as_the_fifth_root_of_accuracy()
    {
        int coarse = Problems["A3"].Solve(1e-5).StepsAccepted;
        int fine = Problems["A3"].Solve(1e-10).StepsAccepted;
        double ratio = (double)fine / coarse;
        output.WriteLine($"steps {coarse} and {fine}, ratio {ratio:F2}");
        Assert.InRange(ratio, 7, 13);
    }

    [Fact]
    public void Same_input_gives_the_same_bits()
    {
        OdeSolution first = Problems["B1"].Solve(1e-9);
        OdeSolution second = Problems["B1"].Solve(1e-9);
        Assert.Equal(first.EndState, second.EndState);
        Assert.Equal(first.StepTimes, second.StepTimes);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(9)]
    public void Any_number_of_components_gives_the_same_solution(int dimension)
    {
        // The rows are padded to whole vectors: copies of one equation must not feel each other or the padding.
        double[] start = new double[dimension];
        Array.Fill(start, 1.0);
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) =>
            {
                Assert.Equal(dimension, y.Length);
                Assert.Equal(dimension, d.Length);
                for (int i = 0; i < d.Length; i++)
                {
                    d[i] = y[i] * Math.Cos(t);
                }
            },
            0,
            start,
            5,
            new Tolerances(1e-9, 1e-9));
        OdeSolution alone = OdeSolver.Solve((t, y, d) => d[0] = y[0] * Math.Cos(t), 0, [1.0], 5, new Tolerances(1e-9, 1e-9));
        Assert.All(solution.EndState, value => Assert.Equal(alone.EndState[0], value, 1e-14));
    }

    private static double Greatest(IReadOnlyList<double> a, double[] b)
    {
        Assert.Equal(a.Count, b.Length);

        // In units of the tolerance that was asked for, which is tolerance · (1 + |y|) in these tests.
        return a.Zip(b, (x, y) => Math.Abs(x - y) / (1 + Math.Abs(y))).Max();
    }

    private sealed record Problem(double[] Start, OdeFunction Function, Func<double, double[]>? Exact, double[]? AtTwenty = null)
    {
        public double[] End() => AtTwenty ?? Exact!(20);

        public OdeSolution Solve(double tolerance)
        {
            OdeSolution solution = OdeSolver.Solve(Function, 0, Start, 20, new Tolerances(tolerance, tolerance));
            Assert.Equal(OdeOutcome.ReachedEnd, solution.Outcome);
            Assert.Equal(20, solution.EndTime);
            return solution;
        }
    }

    private readonly struct Growth : IOdeSystem
    {
        public int Dimension => 1;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => derivatives[0] = state[0] * Math.Cos(time);
    }
}
