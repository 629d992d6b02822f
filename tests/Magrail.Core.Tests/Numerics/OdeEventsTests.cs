using Magrail.Numerics;
using Xunit.Abstractions;

namespace Magrail.Tests.Numerics;

/// <summary>Located events, each against a closed form. Integration runs forward in time only.</summary>
public class OdeEventsTests(ITestOutputHelper output)
{
    private const double G = 9.80665;

    private static readonly AccuracyRow Impacts = new("bouncing ball, times of all impacts before 20 s", "closed form", 5e-13, "s");

    private static readonly Tolerances Usual = new(1e-9, 1e-9);

    [Fact]
    public void Bouncing_ball_meets_its_closed_form()
    {
        // From 10 m, restitution 0.9: impacts at τ, 2·0.9 τ later, 2·0.9² τ later, …, τ = √(2h/g). The first five, in seconds:
        double[] expected = [1.4280869812290, 3.9986435474413, 6.3121444570323, 8.3942952756643, 10.268231012433];
        OdeSolution solution = BouncingBall(0.9, 20);

        Assert.Equal(OdeOutcome.ReachedEnd, solution.Outcome);
        double fall = Math.Sqrt(20 / G);
        double impact = fall;
        double worst = 0;
        for (int n = 0; n < solution.Crossings.Count; n++)
        {
            OdeCrossing crossing = solution.Crossings[n];
            if (n < expected.Length)
            {
                Assert.Equal(expected[n], crossing.Time, 1e-12);
            }

            worst = Math.Max(worst, Math.Abs(crossing.Time - impact));
            double speed = G * fall * Math.Pow(0.9, n);
            Assert.Equal(-speed, crossing.Before[1], 1e-11);
            Assert.Equal(0.9 * speed, crossing.After[1], 1e-11);
            Assert.Equal(0, crossing.Before[0], 1e-12);
            impact += 2 * fall * Math.Pow(0.9, n + 1);
        }

        output.WriteLine($"{solution.Crossings.Count} impacts, worst time error {worst:G3} s");

        // The loop has left the next impact in the closed form: all before 20 s were found, and no more.
        Assert.True(impact > 20);
        Impacts.Hold(worst);

        // In flight, too: a quarter of the way through the second flight.
        double t = expected[1] + 0.7;
        double v = G * fall * Math.Pow(0.9, 2);
        Assert.Equal((v * 0.7) - (0.5 * G * 0.49), solution.At(t)[0], 1e-11);
    }

    [Theory]
    [InlineData(0.9, 27.133652643352)]
    [InlineData(0.5, 4.28426094368704)]
    [InlineData(0.2, 2.14213047184352)]
    public void Bouncing_ball_that_comes_to_rest_ends_as_chattering(double restitution, double limit)
    {
        // Impacts pile up at τ (1 + e)/(1 - e): without end, and no solver can go past that place.
        Assert.Equal(Math.Sqrt(20 / G) * (1 + restitution) / (1 - restitution), limit, 1e-11);
        OdeSolution solution = BouncingBall(restitution, 30);
        output.WriteLine($"e = {restitution}: {solution.Outcome} at {solution.EndTime:R} after {solution.Crossings.Count} impacts");
        Assert.Equal(OdeOutcome.Chattering, solution.Outcome);
        Assert.Equal(limit, solution.EndTime, 1e-11);
        Assert.InRange(solution.EndState[0], -1e-20, 1e-20);
    }

    [Fact]
    public void Simultaneous_events_fire_together_in_declared_order_once_each()
    {
        // One position, four functions that are zero at the same place with different steepness, and one that is zero elsewhere.
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = 0.3,
            0,
            [0.0],
            3,
            Usual,
            [
                Restart("first", y => y - 0.5),
                Restart("elsewhere", y => y - 0.6),
                Restart("second", y => 1000 * (y - 0.5)),
                Restart("third", y => (y * y) - 0.25),
                Restart("fourth", y => 0.5 - y),
            ]);
        Assert.Equal(["first", "second", "third", "fourth", "elsewhere"], solution.Crossings.Select(c => c.Name));
        Assert.All(solution.Crossings.Take(4), c => Assert.Equal(solution.Crossings[0].Time, c.Time));
        Assert.Equal(5.0 / 3, solution.Crossings[0].Time, 1e-14);
        Assert.Equal(2, solution.Restarts);
    }

    [Fact]
    public void Events_on_one_place_all_fire_at_any_speed_and_place()
    {
        // At a low speed one rounding of the position is many roundings of time: an event may be on its zero at once and not
        // be found within the time tolerance of the first. It must not be lost by starting on its zero.
        int apart = 0;
        for (int i = 0; i < 500; i++)
        {
            double speed = 1e-5 * Math.Pow(1.03, i);
            double edge = 1000 + (i * 1e-3);
            OdeSolution solution = OdeSolver.Solve(
                (t, y, d) =>
                {
                    d[0] = speed;
                    d[1] = -y[1] * speed;
                },
                0,
                [999.0, 1.0],
                3 / speed,
                new Tolerances(1e-6, 1e-6),
                [
                    new OdeEvent("a", (t, y) => y[0] - edge, Response: EventResponse.Restart),
                    new OdeEvent("b", (t, y) => (y[0] - edge) * (1 + (y[0] / 7)), Response: EventResponse.Restart),
                    new OdeEvent("c", (t, y) => (3 * y[0]) - (3 * edge), Response: EventResponse.Restart),
                ]);
            Assert.Equal(["a", "b", "c"], solution.Crossings.Select(c => c.Name).Order());
            Assert.All(solution.Crossings, c => Assert.Equal((edge - 999) / speed, c.Time, 1e-12 / speed));
            apart += solution.Restarts > 1 ? 1 : 0;
        }

        output.WriteLine($"{apart} of 500 needed more than one restart");
    }

    [Theory]
    [InlineData(CrossingDirection.Either, 2)]
    [InlineData(CrossingDirection.NegativeToPositive, 1)]
    [InlineData(CrossingDirection.PositiveToNegative, 1)]
    public void Double_crossing_inside_one_step_is_found(CrossingDirection direction, int count)
    {
        // y = t (1 - t) is a parabola, so the whole run is a few steps; it exceeds 0.25 - 1e-6 from 0.499 to 0.501 only.
        var solution = Parabola(0.25 - 1e-6, direction);
        Assert.Equal(count, solution.Crossings.Count);
        Assert.InRange(solution.StepsAccepted, 1, 20);
        double[] all = [0.499, 0.501];
        double[] expected = direction switch
        {
            CrossingDirection.NegativeToPositive => [all[0]],
            CrossingDirection.PositiveToNegative => [all[1]],
            _ => all,
        };

        // The slope at the crossing is 0.002: a rounding of y is 500 roundings of t.
        Assert.All(solution.Crossings.Zip(expected), pair => Assert.Equal(pair.Second, pair.First.Time, 1e-12));
    }

    [Fact]
    public void Double_crossing_downward_is_found_too()
    {
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = (2 * t) - 1, 0, [0.0], 1, Usual, [new OdeEvent("dip", (t, y) => y[0] + 0.25 - 1e-6, Response: EventResponse.Record)]);
        Assert.Equal(2, solution.Crossings.Count);
        Assert.Equal(0.499, solution.Crossings[0].Time, 1e-12);
        Assert.Equal(0.501, solution.Crossings[1].Time, 1e-12);
    }

    [Fact]
    public void Grazing_without_crossing_does_not_fire()
    {
        Assert.Empty(Parabola(0.25 + 1e-12, CrossingDirection.Either).Crossings);
        Assert.Empty(Parabola(0.25 + 1e-6, CrossingDirection.Either).Crossings);
    }

    [Fact]
    public void Event_that_starts_on_its_zero_fires_only_when_it_returns()
    {
        // y = sin t; zeros at 0 (the start), π, 2π, 3π.
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) =>
            {
                d[0] = y[1];
                d[1] = -y[0];
            },
            0,
            [0.0, 1.0],
            10,
            new Tolerances(1e-12, 1e-12),
            [new OdeEvent("zero", (t, y) => y[0], Response: EventResponse.Record)]);
        Assert.Equal(3, solution.Crossings.Count);
        for (int i = 0; i < 3; i++)
        {
            Assert.Equal((i + 1) * Math.PI, solution.Crossings[i].Time, 1e-10);
        }
    }

    [Fact]
    public void Event_that_starts_on_its_zero_and_returns_at_once_fires()
    {
        // Thrown up at 1 µm/s: back after 0.2 µs, far less than a step's thousandth. Then it falls away.
        const double Speed = 1e-6;
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) =>
            {
                d[0] = y[1];
                d[1] = -G;
            },
            0,
            [0.0, Speed],
            10,
            Usual,
            [new OdeEvent("back", (t, y) => y[0], Response: EventResponse.Stop)]);
        Assert.Equal(OdeOutcome.StoppedByEvent, solution.Outcome);
        Assert.Equal(2 * Speed / G, solution.EndTime, 1e-15);
    }

    [Fact]
    public void Several_events_in_one_step_fire_in_order_of_time()
    {
        // A straight line is one step however long: ten edges in it, declared in a shuffled order.
        double[] edges = [0.7, 0.1, 0.9, 0.3, 0.2, 1.0, 0.5, 0.8, 0.4, 0.6];
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = 1, 0, [0.0], 1.5, Usual, [.. edges.Select(edge => Record($"{edge}", y => y - edge))]);
        Assert.Equal(edges.Order(), solution.Crossings.Select(c => double.Parse(c.Name, System.Globalization.CultureInfo.CurrentCulture)));
        Assert.All(solution.Crossings, c => Assert.Equal(edges[c.Event], c.Time, 1e-15));
        Assert.All(solution.Crossings, c => Assert.Equal(edges[c.Event], c.Before[0], 1e-15));
        Assert.Equal(1.5, solution.EndState[0], 1e-14);
    }

    [Fact]
    public void Two_events_a_hair_apart_fire_one_after_the_other()
    {
        const double Hair = 1e-13;
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = 1, 0, [0.0], 2, Usual, [Restart("late", y => y - (1 + Hair)), Restart("early", y => y - 1)]);
        Assert.Equal(["early", "late"], solution.Crossings.Select(c => c.Name));
        Assert.Equal(Hair, solution.Crossings[1].Time - solution.Crossings[0].Time, 4e-15);
    }

    [Fact]
    public void Event_at_the_end_time_fires_and_the_state_is_that_of_the_end()
    {
        // The second function is looked at inside the step after the first has been found at its end.
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = 1,
            0,
            [0.0],
            3,
            Usual,
            [new OdeEvent("end", (t, y) => t - 3), new OdeEvent("dip", (t, y) => 1 + ((t - 2.5) * (t - 2.5)))]);
        Assert.Equal(OdeOutcome.StoppedByEvent, solution.Outcome);
        Assert.Equal(3, solution.EndTime);
        Assert.Equal(3, solution.EndState[0], 1e-15);
        Assert.Equal(3, solution.Crossings.Single().Before[0], 1e-15);
    }

    [Fact]
    public void Looking_for_events_leaves_the_result_alone()
    {
        OdeFunction function = (t, y, d) => d[0] = Math.Cos(t);
        OdeSolution plain = OdeSolver.Solve(function, 0, [0.0], 5, Usual);
        OdeSolution watched = OdeSolver.Solve(
            function, 0, [0.0], 5, Usual, [new OdeEvent("near miss", (t, y) => 1e-4 + ((t - 4.9) * (t - 4.9)))]);
        Assert.Empty(watched.Crossings);
        Assert.Equal(plain.EndState, watched.EndState);
        Assert.Equal(plain.StepTimes, watched.StepTimes);
        Assert.Equal(Math.Sin(5), watched.EndState[0], 1e-8);
    }

    [Fact]
    public void State_handed_over_is_that_of_the_right_limit()
    {
        // Every event has crossed, never a hair short: an index may be moved by the crossing's direction alone.
        for (int i = 1; i < 200; i++)
        {
            double edge = i * 0.00731;
            OdeSolution solution = OdeSolver.Solve(
                (t, y, d) =>
                {
                    d[0] = y[1];
                    d[1] = 1 - y[1];
                },
                0,
                [0.0, 0.0],
                10,
                new Tolerances(1e-6, 1e-6),
                [new OdeEvent("edge", (t, y) => y[0] - edge)]);
            Assert.Equal(OdeOutcome.StoppedByEvent, solution.Outcome);
            Assert.InRange(solution.EndState[0] - edge, 0, 1e-14);
        }
    }

    [Fact]
    public void Event_whose_state_jumps_away_is_armed_at_once()
    {
        // Integrate and fire: y' = 3, at 1 back to 0. Thirty times in ten seconds.
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = 3,
            0,
            [0.0],
            10.1,
            Usual,
            [new OdeEvent("fire", (t, y) => y[0] - 1, CrossingDirection.Either, EventResponse.Restart, (t, y) => y[0] = 0)]);
        Assert.Equal(30, solution.Crossings.Count);
        for (int n = 0; n < 30; n++)
        {
            Assert.Equal((n + 1) / 3.0, solution.Crossings[n].Time, 1e-13);
        }

        // Just before and just after the jump, from the continuous extension.
        double at = solution.Crossings[4].Time;
        Assert.Equal(1, solution.At(Math.BitDecrement(at))[0], 1e-12);
        Assert.Equal(0, solution.At(at)[0]);
    }

    [Fact]
    public void State_at_the_end_is_the_one_after_the_last_jump()
    {
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = 1,
            0,
            [0.0],
            5,
            Usual,
            [new OdeEvent("stop", (t, y) => y[0] - 2, CrossingDirection.Either, EventResponse.Stop, (t, y) => y[0] = -7)]);
        Assert.Equal(-7, solution.EndState[0]);
        Assert.Equal(-7, solution.At(solution.EndTime)[0]);
        Assert.Equal(2, solution.At(Math.BitDecrement(solution.EndTime))[0], 1e-14);
    }

    [Fact]
    public void Located_switching_keeps_the_accuracy_of_smooth_integration()
    {
        // A motor whose drive is reversed at every tenth of a turn, x'' = s - x', s = ±1. Between switches the closed form
        // v = s + (v0 - s) e^-t, x = x0 + s t + (v0 - s)(1 - e^-t) is followed switch by switch (Newton's method).
        const int Edges = 10;
        double sense = 1;
        var times = new List<double>();
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) =>
            {
                d[0] = y[1];
                d[1] = sense + 1.5 - y[1];
            },
            0,
            [0.0, 0.0],
            100,
            new Tolerances(1e-12, 1e-12),
            [.. Enumerable.Range(1, Edges).Select(i => new OdeEvent(
                $"edge {i}",
                (t, y) => y[0] - (i * 0.1),
                CrossingDirection.NegativeToPositive,
                i < Edges ? EventResponse.Restart : EventResponse.Stop,
                (t, y) =>
                {
                    times.Add(t);
                    sense = -sense;
                }))]);
        Assert.Equal(Edges, times.Count);

        double time = 0, x0 = 0, v0 = 0, drive = 2.5;
        for (int i = 1; i <= Edges; i++)
        {
            double dt = 0.1;
            for (int iteration = 0; iteration < 60; iteration++)
            {
                double x = x0 + (drive * dt) + ((v0 - drive) * -Expm1(-dt));
                double v = drive + ((v0 - drive) * Math.Exp(-dt));
                dt -= (x - (i * 0.1)) / v;
            }

            time += dt;
            v0 = drive + ((v0 - drive) * Math.Exp(-dt));
            x0 = i * 0.1;
            drive = 3 - drive;
            Assert.Equal(time, times[i - 1], 2e-12);
        }

        output.WriteLine($"last switch at {times[^1]:R}, error {times[^1] - time:G3}; speed error {solution.EndState[1] - v0:G3}");
        Assert.Equal(v0, solution.EndState[1], 2e-12);
        Assert.InRange(solution.StepsRejected, 0, Edges);

        static double Expm1(double x) => Math.Abs(x) < 1e-5 ? x + (x * x / 2) + (x * x * x / 6) : Math.Exp(x) - 1;
    }

    [Fact]
    public void Events_without_end_at_one_place_are_chattering()
    {
        // Two one-way events on one zero, each sending the state back to the other: a relay without a dead band.
        double mode = -1;
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = mode * (1 + (0.3 * y[1])) + 0 * (d[1] = -y[1]),
            0,
            [0.7, 1.0],
            10,
            Usual,
            [
                new OdeEvent("down", (t, y) => y[0], CrossingDirection.PositiveToNegative, EventResponse.Restart, (t, y) => mode = 1),
                new OdeEvent("up", (t, y) => y[0], CrossingDirection.NegativeToPositive, EventResponse.Restart, (t, y) => mode = -1),
            ]);
        output.WriteLine($"{solution.Outcome} at {solution.EndTime:R}, y = {solution.EndState[0]:G3}, {solution.Crossings.Count} crossings");
        Assert.Equal(OdeOutcome.Chattering, solution.Outcome);
        Assert.Equal(solution.Crossings[0].Time, solution.EndTime, 1e-5);
    }

    [Fact]
    public void An_event_that_is_not_armed_does_not_fire()
    {
        OdeSolution solution = OdeSolver.Solve(
            (t, y, d) => d[0] = 1, 0, [0.0], 3, Usual, [Record("never", y => double.NaN), Record("two", y => y - 2)]);
        Assert.Equal(["two"], solution.Crossings.Select(c => c.Name));
    }

    [Fact]
    public void A_recorded_event_does_not_change_the_solution()
    {
        static void f(double t, ReadOnlySpan<double> y, Span<double> d) => d[0] = y[0] * Math.Cos(t);
        OdeSolution plain = OdeSolver.Solve(f, 0, [1.0], 20, Usual);
        OdeSolution recorded = OdeSolver.Solve(f, 0, [1.0], 20, Usual, [Record("one", y => y - 1)]);

        // e^(sin t) = 1 at π, 2π, …, 6π; the start does not count.
        Assert.Equal(6, recorded.Crossings.Count);
        Assert.All(recorded.Crossings.Select((c, i) => (c, i)), x => Assert.Equal((x.i + 1) * Math.PI, x.c.Time, 1e-8));
        Assert.Equal(plain.EndState[0], recorded.EndState[0], 1e-7);
    }

    [Fact]
    public void Steps_join_without_a_gap_and_the_solution_is_continuous()
    {
        OdeSolution solution = BouncingBall(0.9, 20);
        Assert.Equal(0, solution.StepTimes[0]);
        foreach (double time in solution.StepTimes.Skip(1))
        {
            double[] before = solution.At(Math.BitDecrement(time));
            double[] after = solution.At(time);
            Assert.Equal(before[0], after[0], 1e-11);
            if (!solution.Crossings.Any(c => c.Time == time))
            {
                Assert.Equal(before[1], after[1], 1e-11);
            }
        }
    }

    private static OdeSolution BouncingBall(double restitution, double endTime)
        => OdeSolver.Solve(
            (t, y, d) =>
            {
                d[0] = y[1];
                d[1] = -G;
            },
            0,
            [10.0, 0.0],
            endTime,
            Usual,
            [new OdeEvent("ground", (t, y) => y[0], CrossingDirection.PositiveToNegative, EventResponse.Restart, (t, y) => y[1] *= -restitution)]);

    private static OdeSolution Parabola(double level, CrossingDirection direction)
        => OdeSolver.Solve(
            (t, y, d) => d[0] = 1 - (2 * t), 0, [0.0], 1, Usual, [new OdeEvent("level", (t, y) => y[0] - level, direction, EventResponse.Record)]);

    private static OdeEvent Restart(string name, Func<double, double> value)
        => new(name, (t, y) => value(y[0]), Response: EventResponse.Restart);

    private static OdeEvent Record(string name, Func<double, double> value)
        => new(name, (t, y) => value(y[0]), Response: EventResponse.Record);
}
