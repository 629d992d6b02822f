using System.Runtime.Intrinsics;
using Magrail.Numerics;
using Magrail.Tests.ReferenceData;
using Lanes = System.Runtime.Intrinsics.Vector512<double>;

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
        Quadratic thrown = Thrown(mark);
        thrown.Run(1, 50);
        Assert.Equal(OdeOutcome.StoppedByEvent, thrown.Outcome);
        double half = Math.Sqrt(1 - (4 * mark)) / 2;
        Assert.Equal(mark > 0 ? 0.5 - half : 0.5 + half, thrown.Time, 1e-12);
    }

    [Fact]
    public void A_mark_above_the_top_is_not_met()
    {
        Quadratic thrown = Thrown(0.2501);
        thrown.Run(1, 50);
        Assert.Equal((OdeOutcome.ReachedEnd, 50), (thrown.Outcome, thrown.Time));
    }

    /// <summary>
    /// Two marks within one step of which a straight line to the step's end puts the wrong one first: y = t⁴ comes to 1/16 at ½, x = t to 0.4 at 0.4 and to 0.6 at 0.6. It had cost the last step of a launch nine digits.
    /// </summary>
    [Theory]
    [InlineData(0.4, 0)]
    [InlineData(0.6, 1)]
    public void Of_two_marks_in_one_step_the_first_is_met(double place, int met)
    {
        var race = new Quadratic(3, FourthPower) { Products = [(0, 2)], MarkedComponents = [0, 1], Marks = [place, 1.0 / 16] };
        race.Run(1, 1);
        Assert.Equal(OdeOutcome.StoppedByEvent, race.Outcome);
        Assert.Equal(met, Assert.Single(race.Met).Mark);
        Assert.Equal(Math.Min(place, 0.5), race.Time, 1e-14);
    }

    /// <summary>
    /// x = t, y = t⁴ and z = t², with marks on each of them, all within the reach of one series: each is met in its order and at its time. A mark that is met goes out of the way and the others stay.
    /// </summary>
    [Fact]
    public void Many_marks_of_several_components_are_met_in_their_order()
    {
        (int Component, double Value, double Time)[] marks = [(1, 0.0016, 0.2), (0, 0.9, 0.9), (2, 0.01, 0.1), (2, 0.25, 0.5), (0, 0.3, 0.3), (1, 0.4096, 0.8), (2, 0.49, 0.7), (0, 0.6, 0.6)];
        var many = new Quadratic(3, FourthPower)
        {
            Products = [(0, 2)],
            MarkedComponents = [.. marks.Select(mark => mark.Component)],
            Marks = [.. marks.Select(mark => mark.Value)],
            OnMet = static (system, mark, _) =>
            {
                system.Marks[mark] = double.NaN;
                return EventResponse.Restart;
            },
        };
        many.Run(1, 1);
        Assert.Equal((OdeOutcome.ReachedEnd, 1), (many.Outcome, many.Time));
        Assert.Equal(Enumerable.Range(0, marks.Length).OrderBy(mark => marks[mark].Time), many.Met.Select(met => met.Mark));
        Assert.All(many.Met, met => Assert.Equal(marks[met.Mark].Time, met.Time, 1e-13));
    }

    /// <summary>Marks of two components, or two of one, at the same instant: each is told, whichever comes first in the list. One of them had been passed unseen.</summary>
    [Theory]
    [InlineData(0.5, 1.0, false)]
    [InlineData(1.0, 0.5, true)]
    public void Marks_at_one_instant_are_all_told(double first, double second, bool swapped)
    {
        Quadratic both = Together(swapped ? [1, 0] : [0, 1], first, second);
        both.Run(1, 1);
        Assert.Equal(OdeOutcome.ReachedEnd, both.Outcome);
        Assert.Equal([0, 1], both.Met.Select(met => met.Mark).Order());
        Assert.All(both.Met, met => Assert.Equal(0.5, met.Time, 1e-14));
        Quadratic same = Together([0, 0], 0.3, 0.3);
        same.Run(1, 1);
        Assert.Equal(OdeOutcome.ReachedEnd, same.Outcome);
        Assert.Equal([0, 1], same.Met.Select(met => met.Mark).Order());

        // Two of one component at different places are two instants; so are equal values of two components.
        foreach (Quadratic apart in (Quadratic[])[Together([0, 0], 0.3, 0.6), Together([0, 1], 0.6, 0.6)])
        {
            apart.Run(1, 1);
            Assert.Equal([0.3, 0.6], apart.Met.Select(met => Math.Round(met.Time, 12)));
        }

        // Where the first of two at one instant stops it, the other is not told.
        Quadratic stopped = Together([0, 1], 0.5, 1.0);
        stopped.OnMet = static (_, _, _) => EventResponse.Stop;
        stopped.Run(1, 1);
        Assert.Equal((OdeOutcome.StoppedByEvent, 1), (stopped.Outcome, stopped.Met.Count));
    }

    /// <summary>
    /// A ball let fall from h = 1 onto a floor that takes a part of its speed and comes down by a tenth at each bounce: what is made of the state at a mark holds, and the mark is asked for anew. With speed u upward, a ball falls to a floor
    /// s lower in the time (u + √(u² + 2 g s))/g.
    /// </summary>
    [Fact]
    public void A_state_that_jumps_and_a_mark_that_moves_at_a_mark_hold()
    {
        const double G = 9.81, Kept = 0.8, Down = 0.1;
        var ball = new Quadratic(2, Fall)
        {
            MarkedComponents = [0],
            Marks = [0],
            Start = [1, 0],
            OnMet = static (system, _, state) =>
            {
                state[1] *= -Kept;
                system.Marks[0] -= Down;
                return system.Met.Count == 6 ? EventResponse.Stop : EventResponse.Restart;
            },
        };
        ball.Run(1, 100);
        Assert.Equal(6, ball.Met.Count);
        double time = Math.Sqrt(2 / G), speed = G * time;
        foreach ((_, double met) in ball.Met)
        {
            Assert.Equal(time, met, 1e-12);
            speed *= Kept;
            double falling = Math.Sqrt((speed * speed) + (2 * G * Down));
            time += (speed + falling) / G;
            speed = falling;
        }
    }

    /// <summary>y'' = −t² y from 1 at rest has every fourth power alone: two empty orders had been taken for the end of the series. SciPy DOP853 at 1e-13 (solve_ivp).</summary>
    [Fact]
    public void Gaps_in_a_series_are_not_its_end()
    {
        var swing = new Quadratic(4, static (state, products, one, slopes) => (slopes[0], slopes[1], slopes[2], slopes[3]) = (one, 2.0 * state[0], state[3], -products[0])) { Products = [(1, 2)], Start = [0, 0, 1, 0] };
        swing.Run(1, 2, 1e-10);
        Assert.Equal(OdeOutcome.ReachedEnd, swing.Outcome);
        Assert.Equal(0.004395466316, swing.End[2], 1e-8);
    }

    /// <summary>x' = x (1 − x) from ½ is ½ (1 + tanh(t/2)): a product of a component with itself, and an auxiliary component e = exp(−t) beside it.</summary>
    [Theory]
    [InlineData(1e-4)]
    [InlineData(1e-8)]
    [InlineData(1e-12)]
    public void Products_and_auxiliary_components_give_the_logistic_curve(double tolerance)
    {
        Quadratic growth = Growth();
        growth.Run(1, 6, tolerance);
        Assert.Equal(OdeOutcome.ReachedEnd, growth.Outcome);
        Assert.Equal(0.5 * (1 + Math.Tanh(3)), growth.End[0], 5 * tolerance);
        Assert.Equal(1 - Math.Exp(-6), growth.End[1], 5 * tolerance);
    }

    /// <summary>Powers a^n of a = exp(−t), each by −n times the product of two lower ones, in any order of the two and however many have a first one in common; three, four and five products.</summary>
    [Theory]
    [InlineData("00 01 02 03 11")]
    [InlineData("00 10 20 30 11")]
    [InlineData("00 01 20 03")]
    [InlineData("00 10 02 03")]
    [InlineData("00 01 02 30")]
    [InlineData("00 01 11")]
    public void Products_are_those_of_their_components_in_either_order(string pairs)
    {
        (int First, int Second)[] products = [.. pairs.Split(' ').Select(pair => (pair[0] - '0', pair[1] - '0'))];

        // The power of each component.
        int[] powers = new int[products.Length + 1];
        powers[0] = 1;
        foreach ((int n, (int first, int second)) in products.Index())
        {
            powers[n + 1] = powers[first] + powers[second];
        }

        var system = new Quadratic(powers.Length, (state, found, _, slopes) =>
        {
            slopes[0] = -state[0];
            for (int n = 1; n < powers.Length; n++)
            {
                slopes[n] = -powers[n] * found[n - 1];
            }
        })
        {
            Products = products,
            Start = [.. powers.Select(_ => 1.0)],
        };
        system.Run(9, 1.5, 1e-11);
        Assert.Equal(OdeOutcome.ReachedEnd, system.Outcome);
        Assert.All(powers.Index(), power => Assert.Equal(Math.Exp(-1.5 * power.Item), system.End[power.Index], 1e-10));
    }

    /// <summary>A step takes as many coefficients as it needs: all that the tolerance asks for (six and one for each digit) where the way is free, six where the next mark or the end is near.</summary>
    [Fact]
    public void A_step_to_a_near_mark_takes_few_coefficients()
    {
        Quadratic free = Circle();
        SeriesIntegrator<Quadratic> integrator = free.Run(1, 200, 1e-10);
        Assert.InRange(integrator.Evaluations, (16 * integrator.Steps) - 10, 16 * integrator.Steps);
        Assert.InRange(integrator.Steps, 60, 250);

        // Marks every hundredth of a second, in time itself.
        Quadratic near = Circle();
        near.MarkedComponents = [2];
        near.Marks = [0.01];
        near.OnMet = static (system, _, _) =>
        {
            system.Marks[0] += 0.01;
            return system.Met.Count == 500 ? EventResponse.Stop : EventResponse.Restart;
        };
        integrator = near.Run(1, 200, 1e-10);
        Assert.Equal((500, 6 * 500), (integrator.Steps, integrator.Evaluations));
        Assert.Equal(5, near.Time, 1e-12);
        Assert.Equal(Math.Cos(5), near.End[0], 1e-9);

        // A mark that the state moves away from is no reason to stop short; the end is.
        integrator = Away().Run(1, 0.01, 1e-10);
        Assert.Equal((1, 6), (integrator.Steps, integrator.Evaluations));
        integrator = Away().Run(1, 200, 1e-10);
        Assert.InRange(integrator.Evaluations, (16 * integrator.Steps) - 10, 16 * integrator.Steps);

        static Quadratic Circle() => new(3, static (state, _, one, slopes) => (slopes[0], slopes[1], slopes[2]) = (state[1], -state[0], one)) { Start = [1, 0, 0] };

        static Quadratic Away()
        {
            Quadratic away = Circle();
            away.MarkedComponents = [2];
            away.Marks = [-0.01];
            return away;
        }
    }

    /// <summary>Beside a slow member a faster one takes its own steps, ten times as many, and costs nobody else any.</summary>
    [Fact]
    public void Each_lane_has_steps_of_its_own()
    {
        long slow = StepsOf(1), fast = StepsOf(10);
        Assert.InRange(fast, 8 * slow, 12 * slow);
        Assert.InRange(StepsOf(1, 10, 10, 1), (2 * slow) + (2 * fast) - 4, (2 * slow) + (2 * fast) + 4);
        Assert.InRange(StepsOf(1, 1, 1, 1, 1, 10, 1, 1, 1, 1, 10), (9 * slow) + (2 * fast) - 11, (9 * slow) + (2 * fast) + 11);

        static long StepsOf(params double[] rates)
        {
            var system = new Quadratic(2, static (state, _, _, slopes) => slopes[0] = state[1]) { Start = [1, 0], Rates = rates };
            return system.Run(rates.Length, 20).Steps;
        }
    }

    /// <summary>Lanes without a member of their own go through the motions of the first, whose number they are given, and are never ended.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(8)]
    [InlineData(11)]
    public void Only_members_that_are_there_are_begun_and_each_is_ended_once(int members)
    {
        Quadratic thrown = Thrown(-1);
        thrown.Run(members, 50);
        Assert.All(thrown.Begun, member => Assert.InRange(member, 0, members - 1));
        Assert.Equal(Math.Max(members, 8), thrown.Begun.Count);
        Assert.Equal(Enumerable.Range(0, members), thrown.Outcomes.Keys.Order());
    }

    [Fact]
    public void A_run_allocates_nothing()
    {
        var falling = new Quadratic(2, Fall) { IsSilent = true };
        var integrator = new SeriesIntegrator<Quadratic>(falling, new Tolerances(1e-9, 1e-9));
        integrator.Run(20, 1);
        Assert.Equal(0, Allocation.LeastOf(() => integrator.Run(20, 1)));
    }

    [Fact]
    public void What_ends_without_a_mark_tells_how()
    {
        var falling = new Quadratic(2, Fall);
        falling.Run(3, 0.25);
        Assert.Equal((OdeOutcome.ReachedEnd, 0.25), (falling.Outcome, falling.Time));
        Assert.Equal(-0.5 * 9.81 * 0.0625, falling.End[0], 1e-12);

        Quadratic many = Bursting(1);
        Assert.Equal(3 * 4, many.Run(3, 2, stepLimit: 4).Steps);
        Assert.Equal(OdeOutcome.StepLimit, many.Outcome);

        // x' = x² from 1 is infinite at t = 1; a derivative that is no number from the start.
        Quadratic bursting = Bursting(1);
        bursting.Run(1, 2);
        Assert.Contains(bursting.Outcome, (OdeOutcome[])[OdeOutcome.StepTooSmall, OdeOutcome.NotFinite]);
        Assert.Equal(1, bursting.Time, 1e-3);
        Quadratic wrong = Bursting(double.NaN);
        wrong.Run(1, 2);
        Assert.Equal(OdeOutcome.NotFinite, wrong.Outcome);

        // Only one member's second component is none: the others end as they would.
        var one = new Quadratic(2, static (_, _, one, slopes) => slopes[0] = one) { Start = [1, 0], Rates = [1, double.NaN, 1] };
        one.Run(3, 2);
        Assert.Equal([OdeOutcome.ReachedEnd, OdeOutcome.NotFinite, OdeOutcome.ReachedEnd], Enumerable.Range(0, 3).Select(member => one.Outcomes[member]));
    }

    [Fact]
    public void Bad_input_is_refused()
    {
        var falling = new Quadratic(2, Fall);
        var integrator = new SeriesIntegrator<Quadratic>(falling, new Tolerances(1e-9, 1e-9));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => integrator.Run(1, 1, stepLimit: 0));
        Assert.Throws<ArgumentNullException>("system", () => new SeriesIntegrator<Quadratic>(null!, new Tolerances(1e-9, 1e-9)));
        Assert.Throws<ArgumentNullException>("tolerances", () => new SeriesIntegrator<Quadratic>(falling, null!));
        Quadratic product = Growth(), mark = Growth();
        product.Products = [(0, 3)];
        mark.MarkedComponents = [2];
        Assert.Contains("a product is of components that are there", Assert.Throws<ArgumentOutOfRangeException>(() => product.Run(1, 1)).Message, StringComparison.Ordinal);
        Assert.Contains("a mark is of a component of the state", Assert.Throws<ArgumentOutOfRangeException>(() => mark.Run(1, 1)).Message, StringComparison.Ordinal);
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

    /// <summary>x'' = −2 from x = 0 with v = 1, to a mark.</summary>
    private static Quadratic Thrown(double mark)
        => new(2, static (state, _, one, slopes) => (slopes[0], slopes[1]) = (state[1], -2.0 * one)) { Start = [0, 1], MarkedComponents = [0], Marks = [mark] };

    /// <summary>x = t and y = 2 t, with two marks.</summary>
    private static Quadratic Together(int[] components, double first, double second)
        => new(2, static (_, _, one, slopes) => (slopes[0], slopes[1]) = (one, 2.0 * one)) { MarkedComponents = components, Marks = [first, second], OnMet = static (_, _, _) => EventResponse.Restart };

    /// <summary>x' = x (1 − x) from ½; and n = 1 − exp(−t) with n' = e, the auxiliary component e = 1 − n.</summary>
    private static Quadratic Growth()
        => new(2, static (state, products, _, slopes) => (slopes[0], slopes[1], slopes[2]) = (state[0] - products[0], state[2], -state[2]))
        {
            Start = [0.5, 0],
            AuxiliaryCount = 1,
            Products = [(0, 0)],
            Auxiliary = static state => state[2] = Lanes.One - state[1],
        };

    /// <summary>x' = k x² from 1.</summary>
    private static Quadratic Bursting(double factor)
        => new(1, (_, products, _, slopes) => slopes[0] = factor * products[0]) { Start = [1], Products = [(0, 0)] };

    private static void Fall(ReadOnlySpan<Lanes> state, ReadOnlySpan<Lanes> products, Lanes one, Span<Lanes> slopes)
    {
        slopes[0] = state[1];
        slopes[1] = -9.81 * one;
    }

    /// <summary>x = t, y = t⁴ and z = t².</summary>
    private static void FourthPower(ReadOnlySpan<Lanes> state, ReadOnlySpan<Lanes> products, Lanes one, Span<Lanes> slopes)
    {
        slopes[0] = one;
        slopes[1] = 4.0 * products[0];
        slopes[2] = 2.0 * state[0];
    }

    private delegate void Slopes(ReadOnlySpan<Lanes> state, ReadOnlySpan<Lanes> products, Lanes one, Span<Lanes> slopes);

    private delegate void Completion(Span<Lanes> state);

    private delegate EventResponse Meeting(Quadratic system, int mark, Span<double> state);

    /// <summary>A system of a few lines, which remembers what it was told. With rates, one for each member, the slope of the second component is −rate² times the first.</summary>
    private sealed class Quadratic(int dimension, Slopes slopes) : IQuadraticSystem
    {
        private readonly double[] squares = new double[8];

        public int Dimension => dimension;

        public int AuxiliaryCount { get; init; }

        public IReadOnlyList<(int First, int Second)> Products { get; set; } = [];

        public IReadOnlyList<int> MarkedComponents { get; set; } = [];

        public double[] Marks { get; set; } = [];

        public double[] Start { get; init; } = new double[dimension];

        public double[] Rates { get; init; } = [];

        public Completion Auxiliary { get; init; } = static _ => { };

        public Meeting OnMet { get; set; } = static (_, _, _) => EventResponse.Stop;

        public bool IsSilent { get; init; }

        /// <summary>The marks that the first lane has met.</summary>
        public List<(int Mark, double Time)> Met { get; } = [];

        public List<int> Begun { get; } = [];

        public Dictionary<int, OdeOutcome> Outcomes { get; } = [];

        public OdeOutcome Outcome { get; private set; }

        public double Time { get; private set; }

        public double[] End { get; private set; } = [];

        public SeriesIntegrator<Quadratic> Run(int members, double endTime, double tolerance = 1e-9, int stepLimit = 1_000_000)
        {
            var integrator = new SeriesIntegrator<Quadratic>(this, new Tolerances(tolerance, tolerance));
            integrator.Run(members, endTime, stepLimit);
            return integrator;
        }

        public void Derivatives(ReadOnlySpan<Lanes> state, ReadOnlySpan<Lanes> products, Lanes one, Span<Lanes> derivatives)
        {
            slopes(state, products, one, derivatives);
            if (Rates.Length > 0)
            {
                derivatives[1] = -Vector512.Create(squares) * state[0];
            }
        }

        public void Complete(Span<Lanes> state) => Auxiliary(state);

        public void Begin(int lane, int member, Span<double> state)
        {
            if (Rates.Length > 0)
            {
                squares[lane] = Rates[member] * Rates[member];
            }

            Start.CopyTo(state);
            if (!IsSilent)
            {
                Begun.Add(member);
            }
        }

        public double Mark(int lane, int mark) => Marks[mark];

        public EventResponse OnMark(int lane, int mark, double time, Span<double> state)
        {
            if (lane == 0)
            {
                Met.Add((mark, time));
            }

            return OnMet(this, mark, state);
        }

        public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state)
        {
            if (!IsSilent)
            {
                (Outcome, Time, End) = (outcome, time, state.ToArray());
                Outcomes.Add(member, outcome);
            }
        }
    }
}
