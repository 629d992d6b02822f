using System.Runtime.Intrinsics;
using Magrail.Numerics;
using Magrail.Tests.ReferenceData;

namespace Magrail.Tests.Numerics;

/// <summary>Ensembles in the lanes of a vector, against closed forms.</summary>
public class SeriesIntegratorTests
{
    private static readonly AccuracyRow Turns = new("eight oscillators by power series, times at which they pass zero, tolerance 1e-10", "whole turns", 1e-8, "of a turn");
    private static readonly AccuracyRow Sines = new("sin(π x) of eight numbers at once", "mpmath at 60 digits (script committed)", 3e-16, "");

    /// <summary>Oscillators of different frequency: each passes zero every half turn, in time n π/ω − φ/ω, whatever the lanes beside it do.</summary>
    [Fact]
    public void Marks_are_met_at_their_times()
    {
        const int Members = 21;
        var system = new Oscillators(Members, passes: 12);
        var integrator = new SeriesIntegrator<Oscillators>(system, new Tolerances(1e-10, 1e-10));
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

        // No step is refused: each has at most as many coefficients as the tolerance asks for.
        Assert.InRange(integrator.Evaluations, 6 * integrator.Steps, 16 * integrator.Steps);
    }

    /// <summary>A member's course is its own: in an ensemble and alone the same to the tolerance, and from run to run to the last bit.</summary>
    [Fact]
    public void A_member_has_the_same_course_alone_and_in_an_ensemble()
    {
        var together = new Oscillators(30, passes: 5);
        new SeriesIntegrator<Oscillators>(together, new Tolerances(1e-8, 1e-8)).Run(30, 1000);
        var again = new Oscillators(30, passes: 5);
        new SeriesIntegrator<Oscillators>(again, new Tolerances(1e-8, 1e-8)).Run(30, 1000);
        for (int member = 0; member < 30; member++)
        {
            var alone = new Oscillators(30, passes: 5, only: member);
            new SeriesIntegrator<Oscillators>(alone, new Tolerances(1e-8, 1e-8)).Run(1, 1000);
            Assert.Equal(together.Times[member], again.Times[member]);
            Assert.Equal(5, alone.Times[member].Count);
            Assert.All(alone.Times[member].Zip(together.Times[member]), pair => Assert.Equal(pair.First, pair.Second, 1e-7 * pair.First));
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
        new SeriesIntegrator<Oscillators>(system, new Tolerances(tolerance, tolerance)).Run(8, 1000);
        double worst = Enumerable.Range(0, 8).Max(member => Math.Abs((system.Times[member][^1] * Oscillators.Frequency(member)) - (11.5 * Math.PI)));
        Assert.InRange(worst, 0, 100 * tolerance);
    }

    /// <summary>
    /// x = t − t²: moves away from a mark below it, turns round, and passes it. A mark at the start is met again on the way back, and one just under the top on the way up, though the series is exact
    /// and a single step might leap over all of it. A mark above the top is not met, the first below zero is.
    /// </summary>
    [Theory]
    [InlineData(-0.01)]
    [InlineData(0)]
    [InlineData(-3)]
    [InlineData(0.1)]
    [InlineData(0.2499)]
    public void A_mark_is_met_where_the_component_turns_round(double mark)
    {
        var thrown = new SeriesIntegrator<Thrown>(new Thrown(mark), new Tolerances(1e-9, 1e-9));
        thrown.Run(1, 50);
        Assert.Equal(OdeOutcome.StoppedByEvent, thrown.System.Outcome);
        double half = Math.Sqrt(1 - (4 * mark)) / 2;
        Assert.Equal(mark > 0 ? 0.5 - half : 0.5 + half, thrown.System.Time, 1e-12);
    }

    [Fact]
    public void A_mark_above_the_top_is_not_met()
    {
        var thrown = new SeriesIntegrator<Thrown>(new Thrown(0.2501), new Tolerances(1e-9, 1e-9));
        thrown.Run(1, 50);
        Assert.Equal((OdeOutcome.ReachedEnd, 50), (thrown.System.Outcome, thrown.System.Time));
    }

    /// <summary>
    /// Two marks within one step of which a straight line to the step's end puts the wrong one first: y = t⁴ comes to 1/16 at ½, x = t to 0.4 at 0.4 and to 0.6 at 0.6. It had cost the last step of a launch nine digits.
    /// </summary>
    [Theory]
    [InlineData(0.4, 0)]
    [InlineData(0.6, 1)]
    public void Of_two_marks_in_one_step_the_first_is_met(double place, int met)
    {
        var race = new SeriesIntegrator<Race>(new Race(place), new Tolerances(1e-9, 1e-9));
        race.Run(1, 1);
        Assert.Equal((OdeOutcome.StoppedByEvent, met), (race.System.Outcome, race.System.Met));
        Assert.Equal(Math.Min(place, 0.5), race.System.Time, 1e-14);
    }

    /// <summary>Marks of two components, or two of one, at the same instant: each is told, whichever comes first in the list. One of them had been passed unseen.</summary>
    [Theory]
    [InlineData(0.5, 1.0, false)]
    [InlineData(1.0, 0.5, true)]
    public void Marks_at_one_instant_are_all_told(double first, double second, bool swapped)
    {
        var both = new SeriesIntegrator<Together>(new Together(swapped ? [1, 0] : [0, 1], first, second), new Tolerances(1e-9, 1e-9));
        both.Run(1, 1);
        Assert.Equal((OdeOutcome.ReachedEnd, 3), (both.System.Outcome, both.System.Told));
        var same = new SeriesIntegrator<Together>(new Together([0, 0], 0.3, 0.3), new Tolerances(1e-9, 1e-9));
        same.Run(1, 1);
        Assert.Equal((OdeOutcome.ReachedEnd, 3), (same.System.Outcome, same.System.Told));
    }

    /// <summary>y'' = −t² y from 1 at rest has every fourth power alone: two empty orders had been taken for the end of the series. SciPy DOP853 at 1e-13 (solve_ivp).</summary>
    [Fact]
    public void Gaps_in_a_series_are_not_its_end()
    {
        var swing = new SeriesIntegrator<Swing>(new Swing(), new Tolerances(1e-10, 1e-10));
        swing.Run(1, 2);
        Assert.Equal(OdeOutcome.ReachedEnd, swing.System.Outcome);
        Assert.Equal(0.004395466316, swing.System.Place, 1e-8);
    }

    /// <summary>x' = x (1 − x) from ½ is ½ (1 + tanh(t/2)): a product of a component with itself, and an auxiliary component e = exp(−t) beside it.</summary>
    [Theory]
    [InlineData(1e-4)]
    [InlineData(1e-8)]
    [InlineData(1e-12)]
    public void Products_and_auxiliary_components_give_the_logistic_curve(double tolerance)
    {
        var growth = new SeriesIntegrator<Growth>(new Growth(), new Tolerances(tolerance, tolerance));
        growth.Run(1, 6);
        Assert.Equal(OdeOutcome.ReachedEnd, growth.System.Outcome);
        Assert.Equal(0.5 * (1 + Math.Tanh(3)), growth.System.Size, 5 * tolerance);
        Assert.Equal(1 - Math.Exp(-6), growth.System.Decayed, 5 * tolerance);
    }

    /// <summary>Powers of exp(−t): each the product of the first and the one before, with the first factors alike or not, and one product more than go at once.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Products_are_those_of_their_components_in_either_order(bool alike)
    {
        var powers = new SeriesIntegrator<Powers>(new Powers(alike), new Tolerances(1e-11, 1e-13));
        powers.Run(9, 1.5);
        Assert.Equal(OdeOutcome.ReachedEnd, powers.System.Outcome);
        for (int n = 1; n <= 5; n++)
        {
            Assert.Equal(Math.Exp(-1.5 * n), powers.System.Values[n - 1], 1e-11);
        }

        Assert.Equal(Math.Exp(-6.0), powers.System.Values[5], 1e-11);
    }

    [Fact]
    public void A_run_allocates_nothing()
    {
        var integrator = new SeriesIntegrator<Falling>(new Falling(), new Tolerances(1e-9, 1e-9));
        integrator.Run(20, 1);
        Assert.Equal(0, Allocation.LeastOf(() => integrator.Run(20, 1)));
    }

    [Fact]
    public void What_ends_without_a_mark_tells_how()
    {
        var falling = new SeriesIntegrator<Falling>(new Falling(), new Tolerances(1e-9, 1e-9));
        falling.Run(3, 0.25);
        Assert.Equal((OdeOutcome.ReachedEnd, 0.25), (falling.System.Outcome, falling.System.Time));
        Assert.Equal(-0.5 * 9.81 * 0.0625, falling.System.Place, 1e-12);

        var many = new SeriesIntegrator<Bursting>(new Bursting(1), new Tolerances(1e-9, 1e-9));
        many.Run(3, 2, stepLimit: 4);
        Assert.Equal(OdeOutcome.StepLimit, many.System.Outcome);
        Assert.Equal(3 * 4, many.Steps);

        // x' = x² from 1 is infinite at t = 1; a derivative that is no number from the start.
        var bursting = new SeriesIntegrator<Bursting>(new Bursting(1), new Tolerances(1e-9, 1e-9));
        bursting.Run(1, 2);
        Assert.Contains(bursting.System.Outcome, (OdeOutcome[])[OdeOutcome.StepTooSmall, OdeOutcome.NotFinite]);
        Assert.Equal(1, bursting.System.Time, 1e-3);
        var wrong = new SeriesIntegrator<Bursting>(new Bursting(double.NaN), new Tolerances(1e-9, 1e-9));
        wrong.Run(1, 2);
        Assert.Equal(OdeOutcome.NotFinite, wrong.System.Outcome);
    }

    [Fact]
    public void Bad_input_is_refused()
    {
        var integrator = new SeriesIntegrator<Falling>(new Falling(), new Tolerances(1e-9, 1e-9));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, 1, stepLimit: 0));
        Assert.Throws<ArgumentNullException>(() => new SeriesIntegrator<Falling>(new Falling(), null!));
        Assert.Contains("a product is of components that are there", Assert.Throws<ArgumentOutOfRangeException>(() => new SeriesIntegrator<Growth>(new Growth { Wrong = 3 }, new Tolerances(1e-9, 1e-9))).Message, StringComparison.Ordinal);
        Assert.Contains("a mark is of a component of the state", Assert.Throws<ArgumentOutOfRangeException>(() => new SeriesIntegrator<Growth>(new Growth { Marked = 2 }, new Tolerances(1e-9, 1e-9))).Message, StringComparison.Ordinal);
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
    private sealed class Oscillators(int members, int passes, int only = -1) : IQuadraticSystem
    {
        private readonly double[] squares = new double[SeriesIntegrator<Oscillators>.LaneCount];
        private readonly int[] membersOfLanes = new int[SeriesIntegrator<Oscillators>.LaneCount];

        public List<double>[] Times { get; } = [.. Enumerable.Range(0, members).Select(_ => new List<double>())];

        public OdeOutcome[] Outcomes { get; } = new OdeOutcome[members];

        public int Dimension => 2;

        public int AuxiliaryCount => 0;

        public IReadOnlyList<(int First, int Second)> Products => [];

        public IReadOnlyList<int> MarkedComponents => [0];

        public static double Frequency(int member) => 1 + (0.37 * member);

        public void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = state[1];
            derivatives[1] = -Vector512.Create(squares) * state[0];
        }

        public void Complete(Span<Vector512<double>> state)
        {
        }

        public void Begin(int lane, int member, Span<double> state)
        {
            membersOfLanes[lane] = only >= 0 ? only : member;
            double omega = Frequency(membersOfLanes[lane]);
            squares[lane] = omega * omega;
            state[0] = 1;
            state[1] = 0;
        }

        public double Mark(int lane, int mark) => 0;

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
    private struct Falling : IQuadraticSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double Time { get; private set; }

        public double Place { get; private set; }

        public readonly int Dimension => 2;

        public readonly int AuxiliaryCount => 0;

        public readonly IReadOnlyList<(int First, int Second)> Products => [];

        public readonly IReadOnlyList<int> MarkedComponents => [];

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = state[1];
            derivatives[1] = -9.81 * one;
        }

        public readonly void Complete(Span<Vector512<double>> state)
        {
        }

        public readonly void Begin(int lane, int member, Span<double> state) => state.Clear();

        public readonly double Mark(int lane, int mark) => double.NaN;

        public readonly EventResponse OnMark(int lane, int mark, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Time, Place) = (outcome, time, state[0]);
    }

    /// <summary>x'' = −2 from x = 0 with v = 1, to a mark.</summary>
    private struct Thrown(double mark) : IQuadraticSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double Time { get; private set; }

        public readonly int Dimension => 2;

        public readonly int AuxiliaryCount => 0;

        public readonly IReadOnlyList<(int First, int Second)> Products => [];

        public readonly IReadOnlyList<int> MarkedComponents => [0];

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = state[1];
            derivatives[1] = -2.0 * one;
        }

        public readonly void Complete(Span<Vector512<double>> state)
        {
        }

        public readonly void Begin(int lane, int member, Span<double> state) => (state[0], state[1]) = (0, 1);

        public readonly double Mark(int lane, int number) => mark;

        public readonly EventResponse OnMark(int lane, int number, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Time) = (outcome, time);
    }

    /// <summary>x = t and y = t⁴, by way of z = t²: to a mark in x or to y = 1/16.</summary>
    private struct Race(double place) : IQuadraticSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double Time { get; private set; }

        public int Met { get; private set; } = -1;

        public readonly int Dimension => 3;

        public readonly int AuxiliaryCount => 0;

        public readonly IReadOnlyList<(int First, int Second)> Products => [(0, 2)];

        public readonly IReadOnlyList<int> MarkedComponents => [0, 1];

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = one;
            derivatives[1] = 4 * products[0];
            derivatives[2] = 2 * state[0];
        }

        public readonly void Complete(Span<Vector512<double>> state)
        {
        }

        public readonly void Begin(int lane, int member, Span<double> state) => state.Clear();

        public readonly double Mark(int lane, int number) => number == 0 ? place : 1.0 / 16;

        public EventResponse OnMark(int lane, int number, double time, Span<double> state)
        {
            Met = number;
            return EventResponse.Stop;
        }

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Time) = (outcome, time);
    }

    /// <summary>x = t and y = 2 t, with a mark each, or two in x; tells which were met.</summary>
    private struct Together(int[] components, double first, double second) : IQuadraticSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public int Told { get; private set; }

        public readonly int Dimension => 2;

        public readonly int AuxiliaryCount => 0;

        public readonly IReadOnlyList<(int First, int Second)> Products => [];

        public readonly IReadOnlyList<int> MarkedComponents => components;

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = one;
            derivatives[1] = 2.0 * one;
        }

        public readonly void Complete(Span<Vector512<double>> state)
        {
        }

        public readonly void Begin(int lane, int member, Span<double> state) => state.Clear();

        public readonly double Mark(int lane, int mark) => mark == 0 ? first : second;

        public EventResponse OnMark(int lane, int mark, double time, Span<double> state)
        {
            Told += 1 << mark;
            return EventResponse.Restart;
        }

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => Outcome = outcome;
    }

    /// <summary>y'' = −t² y, by way of x = t and p = t².</summary>
    private struct Swing : IQuadraticSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double Place { get; private set; }

        public readonly int Dimension => 4;

        public readonly int AuxiliaryCount => 0;

        public readonly IReadOnlyList<(int First, int Second)> Products => [(1, 2)];

        public readonly IReadOnlyList<int> MarkedComponents => [];

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = one;
            derivatives[1] = 2.0 * state[0];
            derivatives[2] = state[3];
            derivatives[3] = -products[0];
        }

        public readonly void Complete(Span<Vector512<double>> state)
        {
        }

        public readonly void Begin(int lane, int member, Span<double> state)
        {
            state.Clear();
            state[2] = 1;
        }

        public readonly double Mark(int lane, int mark) => double.NaN;

        public readonly EventResponse OnMark(int lane, int mark, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Place) = (outcome, state[2]);
    }

    /// <summary>a' = −a, and each further power by −n a · a^(n−1); the last is a⁴ by −4 a² · a².</summary>
    private struct Powers(bool alike) : IQuadraticSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double[] Values { get; } = new double[6];

        public readonly int Dimension => 6;

        public readonly int AuxiliaryCount => 0;

        public readonly IReadOnlyList<(int First, int Second)> Products => alike ? [(0, 0), (0, 1), (0, 2), (0, 3), (1, 1)] : [(0, 0), (1, 0), (2, 0), (3, 0), (1, 1)];

        public readonly IReadOnlyList<int> MarkedComponents => [];

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = -state[0];
            for (int n = 2; n <= 5; n++)
            {
                derivatives[n - 1] = -n * products[n - 2];
            }

            derivatives[5] = -4.0 * products[4];
        }

        public readonly void Complete(Span<Vector512<double>> state)
        {
        }

        public readonly void Begin(int lane, int member, Span<double> state) => state.Fill(1);

        public readonly double Mark(int lane, int mark) => double.NaN;

        public readonly EventResponse OnMark(int lane, int mark, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state)
        {
            Outcome = outcome;
            state.CopyTo(Values);
        }
    }

    /// <summary>x' = x (1 − x) from ½; and n = 1 − exp(−t) with n' = e, the auxiliary component e = 1 − n.</summary>
    private struct Growth : IQuadraticSystem
    {
        public Growth()
        {
        }

        public int Wrong { get; init; }

        public int Marked { get; init; }

        public OdeOutcome Outcome { get; private set; }

        public double Size { get; private set; }

        public double Decayed { get; private set; }

        public readonly int Dimension => 2;

        public readonly int AuxiliaryCount => 1;

        public readonly IReadOnlyList<(int First, int Second)> Products => [(0, Wrong)];

        public readonly IReadOnlyList<int> MarkedComponents => [Marked];

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
        {
            derivatives[0] = state[0] - products[0];
            derivatives[1] = state[2];
            derivatives[2] = -state[2];
        }

        public readonly void Complete(Span<Vector512<double>> state) => state[2] = Vector512<double>.One - state[1];

        public readonly void Begin(int lane, int member, Span<double> state) => (state[0], state[1]) = (0.5, 0);

        public readonly double Mark(int lane, int mark) => double.NaN;

        public readonly EventResponse OnMark(int lane, int mark, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Size, Decayed) = (outcome, state[0], state[1]);
    }

    /// <summary>x' = k x² from 1.</summary>
    private struct Bursting(double factor) : IQuadraticSystem
    {
        public OdeOutcome Outcome { get; private set; }

        public double Time { get; private set; }

        public readonly int Dimension => 1;

        public readonly int AuxiliaryCount => 0;

        public readonly IReadOnlyList<(int First, int Second)> Products => [(0, 0)];

        public readonly IReadOnlyList<int> MarkedComponents => [];

        public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
            => derivatives[0] = factor * products[0];

        public readonly void Complete(Span<Vector512<double>> state)
        {
        }

        public readonly void Begin(int lane, int member, Span<double> state) => state[0] = 1;

        public readonly double Mark(int lane, int mark) => double.NaN;

        public readonly EventResponse OnMark(int lane, int mark, double time, Span<double> state) => EventResponse.Stop;

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state) => (Outcome, Time) = (outcome, time);
    }
}
