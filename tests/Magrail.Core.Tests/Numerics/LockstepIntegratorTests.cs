using System.Reflection;
using System.Runtime.Intrinsics;
using Magrail.Numerics;
using Magrail.Tests.ReferenceData;

namespace Magrail.Tests.Numerics;

/// <summary>Ensembles in the lanes of a vector, against closed forms.</summary>
public class LockstepIntegratorTests
{
    private static readonly AccuracyRow Turns = new("eight oscillators in lockstep, times at which they pass zero, tolerance 1e-10", "whole turns", 1e-8, "of a turn");
    private static readonly AccuracyRow Sines = new("sin(π x) of eight numbers at once", "mpmath at 60 digits (script committed)", 3e-16, "");

    private static double Number(string name) => (double)(typeof(DormandPrince853Tableau).GetField(name, BindingFlags.Public | BindingFlags.Static)?.GetRawConstantValue() ?? 0.0);

    /// <summary>
    /// The order conditions of quadrature Σ b c^(q−1) = 1/q to order 8 and Σ e c^(q−1) = 0 to order 5, of the stages Σ a = c, and those with one branch Σ b_i c_i^k a_ij c_j^m = 1/((m + 1)(k + m + 2)):
    /// J. C. Butcher; E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, theorem II.2.13.
    /// </summary>
    [Fact]
    public void The_tableau_meets_the_order_conditions()
    {
        double[] c = [0, .. Enumerable.Range(2, 10).Select(i => Number($"C{i}")), 1];
        double[] b = [.. Enumerable.Range(1, 12).Select(i => Number($"B{i}"))];
        double[] e = [.. Enumerable.Range(1, 12).Select(i => Number($"E{i}"))];
        double A(int i, int j) => Number($"A{i + 1}N{j + 1}");
        for (int i = 1; i < 12; i++)
        {
            Assert.Equal(c[i], Enumerable.Range(0, i).Sum(j => A(i, j)), 1e-14);
        }

        for (int q = 1; q <= 8; q++)
        {
            Assert.Equal(1.0 / q, Enumerable.Range(0, 12).Sum(i => b[i] * Math.Pow(c[i], q - 1)), 1e-14);
        }

        for (int q = 1; q <= 5; q++)
        {
            Assert.Equal(0, Enumerable.Range(0, 12).Sum(i => e[i] * Math.Pow(c[i], q - 1)), 1e-14);
        }

        Assert.NotEqual(0, Enumerable.Range(0, 12).Sum(i => e[i] * Math.Pow(c[i], 5)), 1e-6);
        Assert.NotEqual(1.0 / 9, Enumerable.Range(0, 12).Sum(i => b[i] * Math.Pow(c[i], 8)), 1e-9);
        for (int k = 0; k <= 6; k++)
        {
            for (int m = 1; k + m + 2 <= 8; m++)
            {
                double sum = 0;
                for (int i = 1; i < 12; i++)
                {
                    for (int j = 0; j < i; j++)
                    {
                        sum += b[i] * Math.Pow(c[i], k) * A(i, j) * Math.Pow(c[j], m);
                    }
                }

                Assert.Equal(1.0 / ((m + 1) * (k + m + 2)), sum, 1e-13);
            }
        }
    }

    /// <summary>Oscillators of different frequency: each passes zero every half turn, in time n π/ω − φ/ω, whatever the lanes beside it do.</summary>
    [Fact]
    public void Marks_are_met_at_their_times()
    {
        const int Members = 21;
        var system = new Oscillators(Members, passes: 12);
        var integrator = new LockstepIntegrator<Oscillators>(system, new Tolerances(1e-10, 1e-10));
        integrator.Run(Members, 1000);
        for (int member = 0; member < Members; member++)
        {
            double omega = Oscillators.Frequency(member);
            Assert.Equal(OdeOutcome.StoppedByEvent, system.Outcomes[member]);
            Assert.Equal(12, system.Times[member].Count);
            for (int n = 0; n < 12; n++)
            {
                // From x = 1 at rest: zero at a quarter turn and every half turn after it.
                Turns.HoldDifference((0.5 + n) * Math.PI / omega, system.Times[member][n], 2 * Math.PI / omega, $"member {member}");
            }
        }

        Assert.Equal(integrator.StepsAccepted + integrator.StepsRejected, integrator.Evaluations / 12);
    }

    /// <summary>A member's course is its own: in an ensemble and alone the same bits.</summary>
    [Fact]
    public void A_member_has_the_same_bits_alone_and_in_an_ensemble()
    {
        var together = new Oscillators(30, passes: 5);
        new LockstepIntegrator<Oscillators>(together, new Tolerances(1e-8, 1e-8)).Run(30, 1000);
        for (int member = 0; member < 30; member++)
        {
            var alone = new Oscillators(30, passes: 5, only: member);
            new LockstepIntegrator<Oscillators>(alone, new Tolerances(1e-8, 1e-8)).Run(1, 1000);
            Assert.Equal(together.Times[member], alone.Times[member]);
        }
    }

    /// <summary>Ten times tighter, ten times closer; the error stays near what is asked.</summary>
    [Theory]
    [InlineData(1e-5)]
    [InlineData(1e-7)]
    [InlineData(1e-9)]
    [InlineData(1e-11)]
    public void The_error_follows_the_tolerance(double tolerance)
    {
        var system = new Oscillators(8, passes: 12);
        new LockstepIntegrator<Oscillators>(system, new Tolerances(tolerance, tolerance)).Run(8, 1000);
        double worst = Enumerable.Range(0, 8).Max(member => Math.Abs((system.Times[member][^1] * Oscillators.Frequency(member)) - (11.5 * Math.PI)));
        Assert.InRange(worst, 0, 100 * tolerance);
    }

    /// <summary>
    /// A throw up from v₀ under a pull: the place moves away from a mark below it, turns round, and passes it in the same step, tried at steps of all lengths. It had been stepped to backward in time. And a mark that stays
    /// is met again on the way back, at 2 v₀/g.
    /// </summary>
    [Theory]
    [InlineData(1e-6)]
    [InlineData(0.3)]
    [InlineData(2.5)]
    [InlineData(40)]
    public void A_mark_is_met_where_the_component_turns_round(double firstStep)
    {
        foreach (double mark in new[] { -0.01, 0, -3 })
        {
            var thrown = new LockstepIntegrator<Thrown>(new Thrown(mark), new Tolerances(1e-9, 1e-9));
            thrown.Run(1, 50, firstStep);
            Assert.Equal(OdeOutcome.StoppedByEvent, thrown.System.Outcome);
            Assert.Equal((1 + Math.Sqrt(1 - (4 * mark))) / 2, thrown.System.Time, 1e-9);
        }
    }

    [Fact]
    public void A_run_allocates_nothing()
    {
        var integrator = new LockstepIntegrator<Falling>(new Falling(), new Tolerances(1e-9, 1e-9));
        integrator.Run(20, 1);
        Assert.Equal(0, Allocation.LeastOf(() => integrator.Run(20, 1)));
    }

    [Fact]
    public void What_ends_without_a_mark_tells_how()
    {
        var falling = new LockstepIntegrator<Falling>(new Falling(), new Tolerances(1e-9, 1e-9));
        falling.Run(3, 0.25);
        Assert.Equal((OdeOutcome.ReachedEnd, 0.25), (falling.System.Outcome, falling.System.Time));
        Assert.Equal(-0.5 * 9.81 * 0.0625, falling.System.Place, 1e-12);

        falling.Run(3, 1e6, firstStep: 1e-3, stepLimit: 4);
        Assert.Equal(OdeOutcome.StepLimit, falling.System.Outcome);

        // x' = x² from 1 is infinite at t = 1; a derivative that is no number from the start.
        var bursting = new LockstepIntegrator<Bursting>(new Bursting(1), new Tolerances(1e-9, 1e-9));
        bursting.Run(1, 2);
        Assert.Contains(bursting.System.Outcome, (OdeOutcome[])[OdeOutcome.StepTooSmall, OdeOutcome.NotFinite]);
        Assert.Equal(1, bursting.System.Time, 1e-3);
        var wrong = new LockstepIntegrator<Bursting>(new Bursting(double.NaN), new Tolerances(1e-9, 1e-9));
        wrong.Run(1, 2);
        Assert.Equal(OdeOutcome.NotFinite, wrong.System.Outcome);
    }

    [Fact]
    public void Bad_input_is_refused()
    {
        var integrator = new LockstepIntegrator<Falling>(new Falling(), new Tolerances(1e-9, 1e-9));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, 1, firstStep: -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, 1, stepLimit: 0));
        Assert.Throws<ArgumentNullException>(() => new LockstepIntegrator<Falling>(new Falling(), null!));
    }

    [Fact]
    public void Sine_of_pi_x_is_within_3e_16()
    {
        ReferenceTable table = ReferenceTable.Read("vector-math.csv");
        int count = 0;
        foreach (ReferenceTable.Row row in table.Rows.Where(row => row.Text("function") == "sinpi"))
        {
            Sines.HoldDifference(row.Number("value"), LaneMath.SinPi(Vector512.Create(row.Number("x")))[3], 1, row.Text("x"));
            count++;
        }

        Assert.True(count > 150);
        Assert.Equal(0, LaneMath.SinPi(Vector512.Create(7.0))[0]);
    }

    /// <summary>x'' = −ω² x from x = 1 at rest, one frequency a member; stops after so many passes of zero.</summary>
    private sealed class Oscillators(int members, int passes, int only = -1) : ILockstepSystem
    {
        private readonly double[] squares = new double[LockstepIntegrator<Oscillators>.LaneCount];
        private readonly int[] membersOfLanes = new int[LockstepIntegrator<Oscillators>.LaneCount];

        public List<double>[] Times { get; } = [.. Enumerable.Range(0, members).Select(_ => new List<double>())];

        public OdeOutcome[] Outcomes { get; } = new OdeOutcome[members];

        public int Dimension => 2;

        public int MarkCount => 1;

        public int ModeCount => 1;

        public static double Frequency(int member) => 1 + (0.37 * member);

        public int Mode(int lane) => 0;

        public void Derivatives(ReadOnlySpan<Vector512<double>> state, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = state[1];
            derivatives[1] = -Vector512.Create(squares) * state[0];
        }

        public void Begin(int lane, int member, Span<double> state)
        {
            membersOfLanes[lane] = only >= 0 ? only : member;
            double omega = Frequency(membersOfLanes[lane]);
            squares[lane] = omega * omega;
            state[0] = 1;
            state[1] = 0;
        }

        public LockstepMark Mark(int lane, int mark) => new(0, 0);

        public EventResponse OnMark(int lane, int mark, double time, Span<double> state)
        {
            Assert.Equal(0, state[0]);
            List<double> times = Times[membersOfLanes[lane]];
            times.Add(time);
            return times.Count == passes ? EventResponse.Stop : EventResponse.Restart;
        }

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => Outcomes[membersOfLanes[lane]] = outcome;
    }

    /// <summary>A free fall, without a mark.</summary>
    private struct Falling : ILockstepSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double Time { get; private set; }

        public double Place { get; private set; }

        public readonly int Dimension => 2;

        public readonly int MarkCount => 0;

        public readonly int ModeCount => 1;

        public readonly int Mode(int lane) => 0;

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = state[1];
            derivatives[1] = Vector512.Create(-9.81);
        }

        public readonly void Begin(int lane, int member, Span<double> state) => state.Clear();

        public readonly LockstepMark Mark(int lane, int mark) => LockstepMark.None;

        public readonly EventResponse OnMark(int lane, int mark, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Time, Place) = (outcome, time, state[0]);
    }

    /// <summary>x'' = −2 from x = 0 with v = 1, to a mark at zero or below.</summary>
    private struct Thrown(double mark) : ILockstepSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double Time { get; private set; }

        public readonly int Dimension => 2;

        public readonly int MarkCount => 1;

        public readonly int ModeCount => 1;

        public readonly int Mode(int lane) => 0;

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = state[1];
            derivatives[1] = Vector512.Create(-2.0);
        }

        public readonly void Begin(int lane, int member, Span<double> state) => (state[0], state[1]) = (0, 1);

        public readonly LockstepMark Mark(int lane, int number) => new(0, mark);

        public readonly EventResponse OnMark(int lane, int number, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Time) = (outcome, time);
    }

    /// <summary>x' = k x² from 1.</summary>
    private struct Bursting(double factor) : ILockstepSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double Time { get; private set; }

        public readonly int Dimension => 1;

        public readonly int MarkCount => 1;

        public readonly int ModeCount => 1;

        public readonly int Mode(int lane) => 0;

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, Span<Vector512<double>> derivatives) => derivatives[0] = factor * state[0] * state[0];

        public readonly void Begin(int lane, int member, Span<double> state) => state[0] = 1;

        public readonly LockstepMark Mark(int lane, int mark) => LockstepMark.None;

        public readonly EventResponse OnMark(int lane, int mark, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Time) = (outcome, time);
    }
}
