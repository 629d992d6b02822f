using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>The driver below <see cref="OdeSolver"/>: time stops, failures, bad input, allocation.</summary>
public class HybridIntegratorTests
{
    private static readonly Tolerances Usual = new(1e-9, 1e-9);

    [Fact]
    public void No_step_spans_a_time_stop()
    {
        // y' = 1 up to each stop and then the other sign; stops at 0.25, 0.5, 0.75: y is a triangle, exact to rounding.
        var system = new Triangle([0.25, 0.5, 0.75]);
        var integrator = new HybridIntegrator<Triangle>(system, Usual);
        Assert.Equal(OdeOutcome.ReachedEnd, integrator.Run(0, [0.0], 1));
        Assert.Equal(0, integrator.State[0], 1e-15);
        Assert.Equal([0.25, 0.5, 0.75], system.Stops);
        Assert.Equal([0.25, 0.0, 0.25], system.StatesAtStops, (a, b) => Math.Abs(a - b) < 1e-15);
        Assert.All(system.Steps, step => Assert.DoesNotContain(system.Stops, stop => step.Start < stop && step.End > stop));
        Assert.Equal(0, system.Steps[0].Start);
        Assert.All(system.Steps.Zip(system.Steps.Skip(1)), pair => Assert.Equal(pair.First.End, pair.Second.Start));
        Assert.Equal(1, system.Steps[^1].End);
    }

    [Fact]
    public void An_event_at_the_time_of_a_stop_loses_neither()
    {
        // The event is one of time itself, so that no rounding of the state parts it from the stop.
        var system = new Triangle([0.5]) { Edge = 0.5, EdgeIsATime = true };
        var integrator = new HybridIntegrator<Triangle>(system, Usual);
        Assert.Equal(OdeOutcome.ReachedEnd, integrator.Run(0, [0.0], 1));
        Assert.Equal([0.5], system.Stops);
        Assert.Equal([0.5], system.EdgeTimes);
        Assert.Equal(0, integrator.State[0], 1e-15);
    }

    [Fact]
    public void A_time_stop_at_the_end_is_handed_over()
    {
        var system = new Triangle([1.0]);
        var integrator = new HybridIntegrator<Triangle>(system, Usual);
        Assert.Equal(OdeOutcome.ReachedEnd, integrator.Run(0, [0.0], 1));
        Assert.Equal([1.0], system.Stops);
    }

    [Fact]
    public void An_index_that_stands_for_the_next_edge_is_armed_at_once()
    {
        // Edges every 1e-4 on a straight line that is one step: an event's index moves on to the next edge when it fires.
        var system = new Ladder(1e-4);
        var integrator = new HybridIntegrator<Ladder>(system, Usual);
        Assert.Equal(OdeOutcome.ReachedEnd, integrator.Run(0, [0.0], 0.1));
        Assert.InRange(system.Times.Count, 999, 1000);
        for (int i = 0; i < system.Times.Count; i++)
        {
            Assert.Equal((i + 1) * 1e-4, system.Times[i], 1e-15);
        }
    }

    [Fact]
    public void Step_limit_is_an_outcome_with_its_time()
    {
        OdeSolution solution = OdeSolver.Solve((t, y, d) => d[0] = y[0] * Math.Cos(t), 0, [1.0], 20, new Tolerances(1e-10, 1e-10), stepLimit: 10);
        Assert.Equal(OdeOutcome.StepLimit, solution.Outcome);
        Assert.Equal(10, solution.StepsAccepted);
        Assert.InRange(solution.EndTime, 1e-3, 5);

        // What was integrated is whole and right.
        Assert.Equal(Math.Exp(Math.Sin(solution.EndTime)), solution.EndState[0], 1e-8);
        Assert.Throws<ArgumentOutOfRangeException>(() => solution.At(20));
    }

    [Fact]
    public void A_pole_is_a_step_too_small_with_its_time()
    {
        // y' = y², y(0) = 1: y = 1/(1 - t).
        OdeSolution solution = OdeSolver.Solve((t, y, d) => d[0] = y[0] * y[0], 0, [1.0], 2, Usual);
        Assert.Equal(OdeOutcome.StepTooSmall, solution.Outcome);
        Assert.Equal(1, solution.EndTime, 1e-9);
        Assert.True(solution.EndState[0] > 1e9);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(1.7)]
    public void A_derivative_that_is_not_finite_is_an_outcome_with_its_time(double from)
    {
        foreach (double bad in new[] { double.NaN, double.PositiveInfinity, double.NegativeInfinity })
        {
            OdeSolution solution = OdeSolver.Solve((t, y, d) => d[0] = t > from ? bad : 1, 0, [0.0], 3, Usual);
            Assert.Equal(OdeOutcome.NotFinite, solution.Outcome);
            Assert.Equal(from, solution.EndTime, 1e-12);
            Assert.Equal(from, solution.EndState[0], 1e-12);
        }
    }

    [Fact]
    public void A_derivative_that_is_not_finite_at_the_start_is_an_outcome()
    {
        OdeSolution solution = OdeSolver.Solve((t, y, d) => d[0] = double.NaN, 1, [5.0], 3, Usual);
        Assert.Equal(OdeOutcome.NotFinite, solution.Outcome);
        Assert.Equal(1, solution.EndTime);
        Assert.Equal(5, solution.EndState[0]);
        Assert.Equal(0, solution.StepsAccepted);

        Assert.Equal(OdeOutcome.NotFinite, OdeSolver.Solve((t, y, d) => d[0] = 1, 0, [double.NaN], 3, Usual).Outcome);
    }

    [Fact]
    public void A_hole_in_the_domain_is_stepped_around_where_the_solution_does_not_enter_it()
    {
        // y' = -√y has no value below zero; from 1 it arrives there at t = 2, and until then must not be called a failure.
        OdeSolution solution = OdeSolver.Solve((t, y, d) => d[0] = -Math.Sqrt(y[0]), 0, [1.0], 1.99, Usual);
        Assert.Equal(OdeOutcome.ReachedEnd, solution.Outcome);
        Assert.Equal(0.005 * 0.005, solution.EndState[0], 1e-8);
    }

    [Fact]
    public void Nothing_is_allocated_once_an_integrator_is_made()
    {
        var system = new Ladder(1e-3) { Keeps = false };
        var integrator = new HybridIntegrator<Ladder>(system, Usual);
        double[] start = [0.0];
        OdeOutcome outcome = integrator.Run(0, start, 1);
        long allocated = Allocation.LeastOf(() =>
        {
            system.Reset();
            outcome = integrator.Run(0, start, 1);
        });
        Assert.Equal(OdeOutcome.ReachedEnd, outcome);
        Assert.True(integrator.Restarts > 990 && integrator.StepsAccepted > 990);
        Assert.Equal(0, allocated);
    }

    [Fact]
    public void A_struct_without_state_of_its_own_serves_as_a_system()
    {
        var integrator = new DormandPrince54<Decay>(new Decay(), Usual);
        Assert.True(integrator.Start(0, [1.0], 1));
        while (integrator.Time < 1)
        {
            Assert.Equal(OdeOutcome.ReachedEnd, integrator.Step(1));
        }

        Assert.Equal(Math.Exp(-1), integrator.State[0], 1e-9);
        Assert.Equal(-Math.Exp(-1), integrator.Slopes[0], 1e-9);
    }

    [Fact]
    public void An_integrator_serves_many_runs_with_the_same_bits()
    {
        var system = new Triangle([0.25, 0.5]);
        var integrator = new HybridIntegrator<Triangle>(system, Usual);
        integrator.Run(0, [0.0], 1);
        double first = integrator.State[0];
        int evaluations = integrator.Evaluations;
        system.Reset();
        integrator.Run(0, [0.0], 1);
        Assert.Equal(first, integrator.State[0]);
        Assert.Equal(evaluations, integrator.Evaluations);
    }

    [Fact]
    public void Bad_input_names_its_parameter()
    {
        OdeFunction function = (t, y, d) => d[0] = 1;
        Assert.Throws<ArgumentOutOfRangeException>("endTime", () => OdeSolver.Solve(function, 1, [0.0], 1, Usual));
        Assert.Throws<ArgumentOutOfRangeException>("endTime", () => OdeSolver.Solve(function, 1, [0.0], 0, Usual));
        Assert.Throws<ArgumentOutOfRangeException>("endTime", () => OdeSolver.Solve(function, 0, [0.0], double.NaN, Usual));
        Assert.Throws<ArgumentOutOfRangeException>("endTime", () => OdeSolver.Solve(function, double.NaN, [0.0], 1, Usual));
        Assert.Throws<ArgumentOutOfRangeException>("stepLimit", () => OdeSolver.Solve(function, 0, [0.0], 1, Usual, stepLimit: 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => OdeSolver.Solve(function, 0, [], 1, Usual));
        Assert.Throws<ArgumentOutOfRangeException>(() => OdeSolver.Solve(function, 0, [1.0, 2.0, 3.0], 1, new Tolerances(1e-6, [1e-6, 1e-6])));
        Assert.Throws<ArgumentNullException>("function", () => OdeSolver.Solve(null!, 0, [0.0], 1, Usual));
        Assert.Throws<ArgumentNullException>("tolerances", () => OdeSolver.Solve(function, 0, [0.0], 1, null!));
        Assert.Throws<ArgumentNullException>(() => OdeSolver.Solve(function, 0, [0.0], 1, Usual, [null!]));
        Assert.Throws<ArgumentException>("events", () => OdeSolver.Solve(
            function, 0, [0.0], 1, Usual, [new OdeEvent("lost", (t, y) => 1, Response: EventResponse.Record, Jump: (t, y) => y[0] = 0)]));
    }

    [Theory]
    [InlineData(1e-14, 1e-6, "relative")]
    [InlineData(0.2, 1e-6, "relative")]
    [InlineData(double.NaN, 1e-6, "relative")]
    [InlineData(1e-6, 0, "absolute")]
    [InlineData(1e-6, -1, "absolute")]
    [InlineData(1e-6, double.NaN, "absolute")]
    [InlineData(1e-6, double.PositiveInfinity, "absolute")]
    public void Tolerances_outside_their_range_are_refused(double relative, double absolute, string name)
        => Assert.Throws<ArgumentOutOfRangeException>(name, () => new Tolerances(relative, absolute));

    [Fact]
    public void Each_component_has_its_own_absolute_tolerance()
    {
        var each = new Tolerances(1e-6, [1e-3, 1e-9]);
        Assert.Equal(1e-3, each.Absolute(0));
        Assert.Equal(1e-9, each.Absolute(1));
        Assert.Throws<ArgumentOutOfRangeException>(() => each.Absolute(2));
        Assert.Throws<ArgumentOutOfRangeException>("absolute", () => new Tolerances(1e-6, []));

        // A component that matters only to 1e-3 costs fewer steps than the same one held to 1e-9.
        static void f(double t, ReadOnlySpan<double> y, Span<double> d)
        {
            d[0] = 1e-4 * Math.Sin(50 * t);
            d[1] = 1;
        }

        int loose = OdeSolver.Solve(f, 0, [0.0, 1.0], 10, each).StepsAccepted;
        int tight = OdeSolver.Solve(f, 0, [0.0, 1.0], 10, new Tolerances(1e-6, [1e-12, 1e-9])).StepsAccepted;
        Assert.True(tight > 10 * loose, $"{tight} steps against {loose}");
    }

    /// <summary>y' = ±1, the sign turned by the clock; one event at a fixed place.</summary>
    private sealed class Triangle(double[] stops) : IHybridSystem
    {
        private int next;

        public double Edge { get; init; } = double.NaN;

        public List<double> Stops { get; } = [];

        public List<double> StatesAtStops { get; } = [];

        public List<double> EdgeTimes { get; } = [];

        public List<(double Start, double End)> Steps { get; } = [];

        public int Dimension => 1;

        public int EventCount => 1;

        public void Reset() => next = 0;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => derivatives[0] = next % 2 == 0 ? 1 : -1;

        public bool EdgeIsATime { get; init; }

        public double EventValue(int index, double time, ReadOnlySpan<double> state) => (EdgeIsATime ? time : state[0]) - Edge;

        public CrossingDirection Direction(int index) => CrossingDirection.Either;

        public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives) => true;

        public double NextTimeStop(double time) => next < stops.Length ? stops[next] : double.PositiveInfinity;

        public void OnStep(in DenseStep taken) => Steps.Add((taken.Start, taken.End));

        public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired)
        {
            if (fired.Length > 0)
            {
                EdgeTimes.Add(time);
                return EventResponse.Record;
            }

            Stops.Add(time);
            StatesAtStops.Add(state[0]);
            next++;
            return EventResponse.Restart;
        }
    }

    /// <summary>y' = 1 over edges at equal distances; the one event stands for the next edge ahead.</summary>
    private sealed class Ladder(double rung) : IHybridSystem
    {
        private int edge = 1;

        public bool Keeps { get; init; } = true;

        public List<double> Times { get; } = [];

        public int Dimension => 1;

        public int EventCount => 1;

        public void Reset() => edge = 1;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => derivatives[0] = 1;

        public double EventValue(int index, double time, ReadOnlySpan<double> state) => state[0] - (edge * rung);

        public CrossingDirection Direction(int index) => CrossingDirection.NegativeToPositive;

        public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives) => false;

        public double NextTimeStop(double time) => double.PositiveInfinity;

        public void OnStep(in DenseStep taken)
        {
        }

        public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired)
        {
            edge++;
            if (Keeps)
            {
                Times.Add(time);
            }

            return EventResponse.Restart;
        }
    }

    private readonly struct Decay : IOdeSystem
    {
        public int Dimension => 1;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => derivatives[0] = -state[0];
    }
}
