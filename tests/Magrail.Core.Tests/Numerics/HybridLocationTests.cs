using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>
/// Where, in which order and with how many looks events are found inside a step, told by a system that writes down all it is asked. The state is a clock that
/// runs evenly, so that a whole run is one step unless an event cuts it; the events are functions of time, and their zeros are known without any integration.
/// </summary>
public sealed class HybridLocationTests
{
    /// <summary>So wide that the step is bounded by the run alone: no error matters, and a straight line has none.</summary>
    private static readonly Tolerances Wide = new(0.1, 1e4);

    [Theory]
    [InlineData(EventResponse.Record, EventResponse.Record, OdeOutcome.ReachedEnd)]
    [InlineData(EventResponse.Record, EventResponse.Restart, OdeOutcome.ReachedEnd)]
    [InlineData(EventResponse.Restart, EventResponse.Record, OdeOutcome.ReachedEnd)]
    [InlineData(EventResponse.Record, EventResponse.Stop, OdeOutcome.StoppedByEvent)]
    [InlineData(EventResponse.Restart, EventResponse.Stop, OdeOutcome.StoppedByEvent)]
    [InlineData(EventResponse.Stop, EventResponse.Record, OdeOutcome.StoppedByEvent)]
    public void An_event_at_the_time_of_a_stop_is_handed_over_first_and_either_may_end_the_run(EventResponse first, EventResponse second, OdeOutcome outcome)
    {
        var course = new Course(t => t - 0.5) { NextStop = t => t < 0.5 ? 0.5 : double.PositiveInfinity, Answer = fired => fired.Length > 0 ? first : second };
        HybridIntegrator<Course> integrator = course.Run(0, 1, outcome);
        Assert.Equal(outcome == OdeOutcome.ReachedEnd ? 1 : 0.5, integrator.Time);
        Assert.Equal(first == EventResponse.Stop ? ["0.5: 0"] : ["0.5: 0", "0.5: "], course.Told);
    }

    [Fact]
    public void A_stop_at_the_end_is_the_last_that_happens()
    {
        var course = new Course(t => t - 3) { NextStop = t => t < 1 ? 1 : double.PositiveInfinity };
        HybridIntegrator<Course> integrator = course.Run(0, 1);
        Assert.Equal(["1: "], course.Told);
        Assert.Equal([(0.0, 1.0)], course.Steps.Select(step => (step.Start, step.End)));
        Assert.Equal(1, integrator.Restarts);
    }

    /// <summary>What an edge watches turns round in the step and passes the edge again: both passages are told, in their order with the turning point between, although the edge's sign is the same at both ends of the step.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void An_edge_passed_before_and_after_a_turning_point_is_told_both_times(bool edgeFirst)
    {
        // x = t (1 - t): the edge at 0.16 is passed at 0.2 and at 0.8, the speed is zero at 0.5.
        Func<double, double> edge = t => (t * (1 - t)) - 0.16, speed = t => 1 - (2 * t);
        var course = new Course(edgeFirst ? [edge, speed] : [speed, edge]);
        course.Run(0, 1);
        int e = edgeFirst ? 0 : 1;
        Assert.Equal([e, 1 - e, e], course.Handed.Select(handed => handed.Fired.Single()));
        Assert.Equal([0.2, 0.5, 0.8], course.Handed.Select(handed => handed.Time), (a, b) => Math.Abs(a - b) < 1e-14);
    }

    /// <summary>Events that are back on their first side by the end of the step, and even before the time of the next earlier one, come to light one after the other: each shortens what is looked at.</summary>
    [Fact]
    public void Each_earlier_event_brings_still_earlier_ones_to_light()
    {
        // Events above zero in an interval each. Only the first is to be seen at 1; at 0.8 the second, at 0.3 the third.
        AssertIntervals([(0.8, 2), (0.3, 0.9), (0.1, 0.5)]);
        AssertIntervals([(0.1, 0.5), (0.3, 0.9), (0.8, 2)]);

        // Two come to light at 0.9, the later one first, and at the earlier one's 0.3 yet another.
        AssertIntervals([(0.9, 2), (0.6, 0.95), (0.3, 0.97), (0.1, 0.5)]);
        AssertIntervals([(0.1, 0.5), (0.3, 0.97), (0.6, 0.95), (0.9, 2)]);

        // Two earlier ones come to light at 0.8, of which the first is the earlier.
        AssertIntervals([(0.8, 2), (0.2, 0.9), (0.4, 0.85)]);

        static void AssertIntervals((double From, double To)[] intervals)
        {
            foreach (int sign in new[] { 1, -1 })
            {
                var course = new Course([.. intervals.Select(interval => (Func<double, double>)(t => sign * (t - interval.From) * (interval.To - t)))]);
                course.Run(0, 1);
                (double Time, int Event)[] expected = [.. intervals.SelectMany((x, i) => new[] { (x.From, i), (x.To, i) }).Where(x => x.Item1 < 1).Order()];
                Assert.Equal(expected.Select(x => x.Event), course.Handed.Select(handed => handed.Fired.Single()));
                Assert.Equal(expected.Select(x => x.Time), course.Handed.Select(handed => handed.Time), (a, b) => Math.Abs(a - b) < 1e-14);
                AssertJoined(course, 0, 1);

                // Each step was taken again to just beyond the first of them all, not to one that came to light on the way.
                Assert.All(course.Steps.SkipLast(1), step => Assert.InRange(step.Length, step.End - step.Start, (step.End - step.Start) * 1.001));
            }
        }
    }

    [Theory]
    [InlineData(2, true)]
    [InlineData(4, true)]
    [InlineData(40, false)]
    public void Events_a_few_roundings_of_time_apart_fire_together_where_all_have_crossed(int roundings, bool together)
    {
        double early = 0.7, late = 0.7 + (roundings * (Math.BitIncrement(0.7) - 0.7));
        foreach (bool earlyFirst in new[] { true, false })
        {
            int e = earlyFirst ? 0 : 1;
            var course = new Course(earlyFirst ? [t => t - early, t => t - late] : [t => t - late, t => t - early]);
            course.Run(0, 1);
            Assert.Equal(together ? 1 : 2, course.Handed.Count);
            Assert.Equal(together ? [0, 1] : [e], course.Handed[0].Fired);
            Assert.InRange(course.Handed[^1].Time, late, late + 1e-15);
        }
    }

    /// <summary>A distance that is rounded is zero for a while: here for hundred thousands of roundings of time. Another event falls into that while; the first is on its zero then, and must be told with it or it never will.</summary>
    [Fact]
    public void An_event_already_on_its_zero_fires_with_another()
    {
        for (int i = -4; i <= 4; i++)
        {
            double other = 0.5 + (i * 1e-11);
            var course = new Course(t => t - other, t => 1000 + ((t - 0.5) * 1e-3) - 1000);
            course.Run(0, 1);
            Assert.Equal([0, 1], course.Handed.SelectMany(handed => handed.Fired).Order());
        }
    }

    /// <summary>The same where it comes to its zero between two that fire together: it is on its zero at the later of them, and a search of the whole step finds a zero farther on.</summary>
    [Fact]
    public void An_event_that_comes_to_its_zero_between_two_others_fires_with_them()
    {
        double rounding = Math.BitIncrement(0.7) - 0.7, edge = 0.7 + (2 * rounding);
        foreach (int sign in new[] { 1, -1 })
        {
            var course = new Course(t => t - 0.7, t => t - 0.7 - (4 * rounding), t => sign * (t < edge ? t - edge : Math.Max(0, t - edge - 1e-3)));
            course.Run(0, 1);
            Assert.Equal([0, 1, 2], course.Handed.Single().Fired);
            Assert.Equal(0.7 + (4 * rounding), course.Handed[0].Time);
        }
    }

    /// <summary>
    /// Which side a zero is left to takes three looks: at the start, just after it, and on the tangent there. With those at both ends that is all, whether the event leaves slowly or fast, stays on its zero, or
    /// has another zero far ahead that a tangent too long would reach.
    /// </summary>
    [Fact]
    public void Leaving_a_zero_takes_three_looks()
    {
        Course[] courses =
        [
            new Course(t => t),
            new Course(t => -1e-3 * t),
            new Course(t => 0),
            new Course() { Position = (1e-4, 0), StateEvent = y => y * (1e-4 - y) },
            new Course() { Position = (-10, 0), StateEvent = y => y * (20 + y) },
        ];
        foreach (Course course in courses)
        {
            course.Run(0, 0.5);
            Assert.Empty(course.Handed);
            Assert.Equal(5, course.Looks.Count);
            Assert.Single(course.Steps);
        }
    }

    /// <summary>An event that is on its zero at the start leaves it, passes zero again and again: only the passages in the direction that counts are told, at any time and with any length of step.</summary>
    [Theory]
    [InlineData(0, 1)]
    [InlineData(1000, 1e-3)]
    [InlineData(-1000, 1e-3)]
    [InlineData(-2, 2)]
    public void An_event_that_starts_on_its_zero_fires_when_it_is_back_and_no_other_event_brings_it_forward(double start, double span)
    {
        foreach (int sign in new[] { 1, -1 })
        {
            foreach (CrossingDirection direction in Enum.GetValues<CrossingDirection>())
            {
                var course = new Course(
                    t => sign * Part(t) * (Part(t) - 0.3) * (Part(t) - 0.6),
                    t => Part(t) - 0.2999,
                    t => Part(t) - 0.45)
                {
                    Direction = index => index == 0 ? direction : CrossingDirection.Either,
                    Twice = index => index == 0,
                };
                course.Run(start, start + span);
                bool down = direction == CrossingDirection.Either || (direction == CrossingDirection.PositiveToNegative) == (sign > 0);
                bool up = direction == CrossingDirection.Either || !down;
                List<(int Event, double Part)> expected = [(1, 0.2999), (0, 0.3), (2, 0.45), (0, 0.6)];
                expected.RemoveAll(x => (x.Part == 0.3 && !down) || (x.Part == 0.6 && !up));
                Assert.Equal(expected.Select(x => x.Event), course.Handed.Select(handed => handed.Fired.Single()));
                Assert.Equal(expected.Select(x => x.Part), course.Handed.Select(handed => Part(handed.Time)), (a, b) => Math.Abs(a - b) < 1e-9);
            }
        }

        double Part(double t) => (t - start) / span;
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(1000, 1e-3)]
    [InlineData(-1000, 1e-3)]
    [InlineData(-2, 2)]
    public void An_event_that_leaves_its_zero_is_told_when_it_is_back_within_the_same_step(double start, double span)
    {
        foreach (double back in new[] { 0.01, 0.5, 0.99 })
        {
            foreach (int sign in new[] { 1, -1 })
            {
                var course = new Course(t => sign * Part(t) * (back - Part(t)));
                course.Run(start, start + span);
                Assert.Equal(back, Part(course.Handed.Single().Time), 1e-9);
            }
        }

        double Part(double t) => (t - start) / span;
    }

    /// <summary>A clock of coarse digits, for a distance of the state's: just after the start it has not moved by one of its roundings yet.</summary>
    [Fact]
    public void A_zero_of_a_coarse_state_is_left_although_time_resolves_more()
    {
        // The second component is 10⁶ + t (0.5 - t): a rounding of it is 1e-10, and it is back on its start at 0.5.
        var course = new Course() { Position = (0.5, -2), StateEvent = y => y - 1e6 };
        course.Run(10, 11, start: 1e6);
        Assert.Equal(10.5, course.Handed.Single().Time, 1e-9);
    }

    /// <summary>y (1 − y) is zero at the start and again far ahead: it leaves its zero upward, whatever the tangent may say farther on.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(-1)]
    public void A_second_zero_far_ahead_is_not_met_at_the_start(int sign)
    {
        var course = new Course() { Position = (1, 0), StateEvent = y => sign * y * (1 - y) };
        course.Run(3, 3.5, start: 0);
        Assert.Empty(course.Handed);

        var farther = new Course() { Position = (1, 0), StateEvent = y => sign * y * (1 - y) };
        farther.Run(3, 4.5, start: 0);
        Assert.Equal(4, farther.Handed.Single().Time, 1e-14);
    }

    /// <summary>A zero at the very end of a step is a crossing in its direction: the interval is closed there.</summary>
    [Theory]
    [InlineData(CrossingDirection.Either, 1, true)]
    [InlineData(CrossingDirection.Either, -1, true)]
    [InlineData(CrossingDirection.NegativeToPositive, 1, true)]
    [InlineData(CrossingDirection.NegativeToPositive, -1, false)]
    [InlineData(CrossingDirection.PositiveToNegative, 1, false)]
    [InlineData(CrossingDirection.PositiveToNegative, -1, true)]
    public void A_zero_at_the_end_is_a_crossing_in_its_direction(CrossingDirection direction, int sign, bool counts)
    {
        var course = new Course(t => sign > 0 ? t - 2 : 2 - t) { Direction = _ => direction };
        course.Run(0, 2);
        Assert.Equal(counts ? ["2: 0"] : [], course.Told);
        Assert.Empty(course.Asked);
        Assert.Equal([(0.0, 2.0)], course.Steps.Select(step => (step.Start, step.End)));
    }

    /// <summary>Two crossings inside one step, wherever they lie, however near to each other, however steep, at any time and in both senses: the ones that count are found.</summary>
    [Theory]
    [InlineData(0, 1)]
    [InlineData(1000, 1e-3)]
    [InlineData(-1000, 1e-3)]
    [InlineData(1, 2)]
    public void A_dip_is_found_wherever_it_is(double start, double span)
    {
        foreach (double middle in new[] { 0.05, 0.2, 0.38, 0.5, 0.62, 0.8, 0.95 })
        {
            foreach (double half in new[] { 0.03, 1e-3, 2e-6 })
            {
                foreach (double scale in new[] { 1.0, -1.0, 100.0, -1e-2 })
                {
                    foreach (CrossingDirection direction in Enum.GetValues<CrossingDirection>())
                    {
                        // A parabola in the state itself, over parts of the span, is on its lowest place at the middle.
                        var course = new Course() { Position = (-2 * middle / span, 2 / (span * span)), StateEvent = y => scale * y, Twice = _ => true, Direction = _ => direction };
                        course.Run(start, start + span, start: (middle * middle) - (half * half));
                        bool down = direction != (scale > 0 ? CrossingDirection.NegativeToPositive : CrossingDirection.PositiveToNegative);
                        bool up = direction != (scale > 0 ? CrossingDirection.PositiveToNegative : CrossingDirection.NegativeToPositive);
                        double[] expected = [.. down ? [middle - half] : Array.Empty<double>(), .. up ? [middle + half] : Array.Empty<double>()];
                        Assert.Equal(expected, course.Handed.Select(handed => (handed.Time - start) / span), (a, b) => Math.Abs(a - b) < 1e-8);
                    }

                    // A wedge has no rounded bottom; the first side of it.
                    var wedge = new Course(t => scale * (Math.Abs(((t - start) / span) - middle) - half)) { Twice = _ => true, Answer = _ => EventResponse.Stop };
                    wedge.Run(start, start + span, OdeOutcome.StoppedByEvent);
                    Assert.Equal(middle - half, (wedge.Handed.Single().Time - start) / span, 1e-8);
                }
            }
        }
    }

    /// <summary>A touch is no crossing, wherever in the step it is, not even where the search happens to look at the very place.</summary>
    [Fact]
    public void A_touch_does_not_fire()
    {
        const double Golden = 0.6180339887498949;
        foreach (double middle in new[] { 1 - Golden, Golden, 0.3, 0.437, 0.5, 0.8 })
        {
            foreach (int sign in new[] { 1, -1 })
            {
                var course = new Course(t => sign * (t - middle) * (t - middle)) { Twice = _ => true };
                course.Run(0, 1);
                Assert.Empty(course.Handed);

                // Golden section down to a thousand-millionth takes 43 looks, and six are made before.
                Assert.InRange(course.Looks.Count, 10, 50);
            }
        }
    }

    [Fact]
    public void What_cannot_reach_zero_is_given_up_early()
    {
        // Start, end, and a look beside each: still heading for zero at the end, coming from it all along, flat at the start, flat at the end.
        Func<double, double>[] plain =
        [
            t => 2 - t,
            t => 1 + t,
            t => 3 - (t * t),
            t => 1 + (Math.Max(0, t - 0.5) * Math.Max(0, t - 0.5)),
            t => 1 + (Math.Max(0, 0.5 - t) * Math.Max(0, 0.5 - t)),
            t => 1 + (t * (1 - t)),
        ];
        foreach (Func<double, double> distance in plain)
        {
            foreach (double scale in new[] { 1.0, -1.0, 1e3, -1e-3 })
            {
                var course = new Course(t => scale * distance(t)) { Twice = _ => true };
                course.Run(0, 1);
                Assert.Empty(course.Handed);
                Assert.Equal(4, course.Looks.Count);
                Assert.Equal([0], course.Asked);
            }
        }

        // A dip that ends halfway down, and one that leaves a hundredth: two looks inside, and one more for each time the bracket has to shrink.
        foreach (double scale in new[] { 1.0, -1.0, 1e6, -1e-6 })
        {
            var half = new Course(t => scale * (((t - 0.5) * (t - 0.5)) + 0.25)) { Twice = _ => true };
            half.Run(0, 1);
            Assert.Equal(6, half.Looks.Count);
            var low = new Course(t => scale * (((t - 0.45) * (t - 0.45)) + 0.0025)) { Twice = _ => true };
            low.Run(0, 1);
            Assert.InRange(low.Looks.Count, 7, 12);
        }
    }

    /// <summary>As soon as a look shows the other side, the search for the lowest place is over: what follows lies between it and the end that is left of it.</summary>
    [Theory]
    [InlineData(0.3, 0.5)]
    [InlineData(0.55, 0.7)]
    [InlineData(0.37, 0.39)]
    public void The_first_look_on_the_other_side_ends_the_search(double from, double to)
    {
        foreach (int sign in new[] { 1, -1 })
        {
            var course = new Course(t => sign * (t - from) * (t - to)) { Twice = _ => true, Answer = _ => EventResponse.Stop };
            course.Run(0, 1, OdeOutcome.StoppedByEvent);
            int seen = course.Looks.FindIndex(look => sign * look.Value < 0);
            Assert.All(course.Looks.Skip(seen + 2), look => Assert.InRange(look.Time, 0, course.Looks[seen].Time));
            Assert.Equal(from, course.Handed.Single().Time, 1e-14);
        }
    }

    /// <summary>The system is asked once for each step whether an event may cross twice, and only for one that is on the same side at both ends; the shorter stretch before another event is not a step.</summary>
    [Fact]
    public void Whether_an_event_may_cross_twice_is_asked_for_whole_steps_on_one_side_only()
    {
        var course = new Course(t => t - 0.5, t => t + 1, t => 0.7 - t)
        {
            Twice = _ => true,
            Direction = index => index == 2 ? CrossingDirection.NegativeToPositive : CrossingDirection.Either,
            Answer = _ => EventResponse.Stop,
        };
        course.Run(0, 1, OdeOutcome.StoppedByEvent);

        // The step to 1, and the same taken again to just beyond 0.5, where the last event is still on its side.
        Assert.Equal([1, 1, 2], course.Asked);
        Assert.Single(course.Steps);
    }

    /// <summary>
    /// The false position in its Illinois form is of order 1.44: from a whole step to neighbouring times in a dozen looks, where bisection needs fifty. It is done twice, in the step and in the one
    /// that is taken again to just beyond the event.
    /// </summary>
    [Theory]
    [InlineData("line", 8)]
    [InlineData("exponential", 32)]
    [InlineData("logarithm", 30)]
    [InlineData("cubic", 29)]
    [InlineData("flat", 416)]
    public void A_root_takes_few_looks(string name, int most)
    {
        (Func<double, double> distance, double root) = name switch
        {
            "line" => (t => t - 0.3, 0.3),
            "exponential" => (t => Math.Exp(5 * t) - Math.Exp(1.7), 0.34),
            "logarithm" => (t => Math.Log(t + 0.01) - Math.Log(0.6), 0.59),
            "cubic" => (t => (t * t * t) - 0.2, Math.Cbrt(0.2)),

            // So flat that the false position creeps: every fourth look halves the bracket, and it is halved fifty times.
            _ => ((Func<double, double>)(t => Math.Pow(t - 0.3, 9)), 0.3),
        };
        foreach (int sign in new[] { 1, -1 })
        {
            var course = new Course(t => sign * distance(t)) { Answer = _ => EventResponse.Stop };
            course.Run(0, 1, OdeOutcome.StoppedByEvent);
            Assert.Equal(root, course.Handed.Single().Time, 1e-15);
            Assert.InRange(course.Looks.Count, 5, most);
        }
    }

    /// <summary>
    /// A step with an event inside is taken again to just beyond the event (a thousandth of the way), where the solution is of order five: the event's time is as good as the ends of steps are. Every
    /// step is handed over, cut at the event, and they join.
    /// </summary>
    [Fact]
    public void A_step_with_an_event_inside_is_taken_again_to_just_beyond_it()
    {
        for (int i = 1; i < 40; i++)
        {
            double edge = 0.5 + (i * 0.012);
            var course = new Course() { Swings = true, StateEvent = y => y - edge };
            HybridIntegrator<Course> integrator = course.Run(0, 21.9, start: 0, tolerances: new Tolerances(1e-7, 1e-7));
            double first = Math.Asin(edge);

            // The time is off by what the state is off, over the speed there, which is no less than 0.24.
            Assert.Equal(8, course.Handed.Count);
            for (int n = 0; n < 8; n++)
            {
                double exact = ((n / 2) * 2 * Math.PI) + (n % 2 == 0 ? first : Math.PI - first);
                Assert.Equal(exact, course.Handed[n].Time, 1e-6);
            }

            AssertJoined(course, 0, 21.9);
            foreach ((double start, double end, double length) in course.Steps.Where(step => course.Handed.Exists(handed => handed.Time == step.End)))
            {
                Assert.InRange(length, end - start, (end - start) * 1025.5 / 1024);
            }

            Assert.Equal(21.9, integrator.Time);
        }
    }

    /// <summary>With a tolerance so wide that the inside of a step is off by percents, the step that is taken again may end before the event: then the next one meets it, and none is lost or told twice.</summary>
    [Fact]
    public void An_event_that_moves_out_of_the_step_taken_again_is_met_by_the_next()
    {
        int moved = 0;
        foreach (double start in new[] { -1.1, -1, -0.7, -0.5, 0 })
        {
            for (int i = 1; i < 100; i++)
            {
                double edge = Math.Sin(start) + ((1 - Math.Sin(start)) * i / 120);
                var course = new Course() { Swings = true, StateEvent = y => y - edge, Answer = _ => EventResponse.Stop };
                course.Run(start, 1.3, OdeOutcome.StoppedByEvent, start: Math.Sin(start), tolerances: new Tolerances(0.1, 1e4));
                Assert.InRange(course.Handed.Single().State[1], edge, edge + 1e-13);
                AssertJoined(course, start, course.Handed[0].Time);
                moved += course.Steps.Count > 1 ? 1 : 0;
            }
        }

        Assert.InRange(moved, 100, 400);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Seventeen_restarts_on_the_heels_of_each_other_are_borne_and_one_more_is_chattering(int more)
    {
        // Stops by the clock two roundings of time apart: the first has nothing before it, sixteen follow at once.
        double rounding = Math.BitIncrement(1.5) - 1.5;
        int left = 17 + more;
        var course = new Course() { NextStop = t => t < 1.5 ? 1.5 : --left > 0 ? t + (2 * rounding) : double.PositiveInfinity };
        HybridIntegrator<Course> integrator = course.Run(1, 2, more == 0 ? OdeOutcome.ReachedEnd : OdeOutcome.Chattering);
        Assert.Equal(17 + more, course.Handed.Count);
        Assert.Equal(17 + more, integrator.Restarts);
    }

    /// <summary>A thousand restarts within a millionth of the span are borne, one more is chattering; but where time moves on, any number is borne.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(49)]
    [InlineData(-49)]
    public void A_thousand_restarts_in_one_place_are_borne_and_one_more_is_chattering(double start)
    {
        // A span of 100: the place is 1e-4 long. The first restart is at its start, the others 5e-8 apart.
        double place = start + 10;
        var endless = new Course() { NextStop = t => t < place ? place : t + 5e-8 };
        endless.Run(start, start + 100, OdeOutcome.Chattering);
        Assert.Equal(1 + 1001, endless.Handed.Count);

        int left = 1000;
        var enough = new Course() { NextStop = t => t < place ? place : left-- > 0 ? t + 5e-8 : double.PositiveInfinity };
        enough.Run(start, start + 100);
        Assert.Equal(1 + 1000, enough.Handed.Count);

        // Six hundred in each of five places.
        int here = 0;
        var moving = new Course() { NextStop = t => t > start + 50 ? double.PositiveInfinity : ++here % 600 == 0 ? t + 10 : t + 5e-8 };
        moving.Run(start, start + 100);
        Assert.InRange(moving.Handed.Count, 2990, 3010);
    }

    /// <summary>The second run starts a hair before the edge that ended the first, closer than anything would be moved on purpose: it is armed there like any other.</summary>
    [Fact]
    public void A_run_knows_nothing_of_the_events_of_the_run_before()
    {
        var course = new Course(t => (t * t) - 2) { Answer = _ => EventResponse.Stop };
        var integrator = new HybridIntegrator<Course>(course, Wide);
        for (int i = 0; i < 3; i++)
        {
            double start = i == 0 ? 1 : Math.Sqrt(2) - 1e-13;
            Assert.Equal(OdeOutcome.StoppedByEvent, integrator.Run(start, [10, 0, 0], 2));
            Assert.Equal(Math.Sqrt(2), integrator.Time, 1e-15);
        }
    }

    private static void AssertJoined(Course course, double start, double end)
    {
        Assert.Equal(start, course.Steps[0].Start);
        Assert.Equal(end, course.Steps[^1].End);
        Assert.All(course.Steps, step => Assert.True(step.End > step.Start));
        Assert.All(course.Steps.Zip(course.Steps.Skip(1)), pair => Assert.Equal(pair.First.End, pair.Second.Start));
        Assert.All(course.Handed, handed => Assert.Contains(course.Steps, step => step.End == handed.Time));
    }

    /// <summary>A clock from 10, a second component, at rest, thrown or swinging, and a clock from zero to throw it by; events of time alone and, as the last, one of the second component.</summary>
    private sealed class Course(params Func<double, double>[] events) : IHybridSystem
    {
        /// <summary>Speed at the start of the run and acceleration of the second component.</summary>
        public (double Speed, double Acceleration) Position { get; init; }

        /// <summary>The second component is sin t.</summary>
        public bool Swings { get; init; }

        public Func<double, double>? StateEvent { get; init; }

        public Func<int, CrossingDirection> Direction { get; init; } = _ => CrossingDirection.Either;

        public Func<int, bool> Twice { get; init; } = _ => false;

        public Func<double, double> NextStop { get; init; } = _ => double.PositiveInfinity;

        public Func<int[], EventResponse> Answer { get; init; } = _ => EventResponse.Restart;

        public List<(int Index, double Time, double Value)> Looks { get; } = [];

        public List<int> Asked { get; } = [];

        public List<(double Start, double End, double Length)> Steps { get; } = [];

        public List<(double Time, double[] State, int[] Fired)> Handed { get; } = [];

        public IEnumerable<string> Told => Handed.Select(handed => $"{Show.Number(handed.Time)}: {string.Join(' ', handed.Fired)}");

        public int Dimension => 3;

        public int EventCount => events.Length + (StateEvent is null ? 0 : 1);

        public HybridIntegrator<Course> Run(double from, double to, OdeOutcome outcome = OdeOutcome.ReachedEnd, double start = 0, Tolerances? tolerances = null)
        {
            var integrator = new HybridIntegrator<Course>(this, tolerances ?? Wide);
            Assert.Equal(outcome, integrator.Run(from, [10, start, 0], to));
            return integrator;
        }

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives)
        {
            derivatives[0] = 1;
            derivatives[1] = Swings ? Math.Cos(time) : Position.Speed + (Position.Acceleration * state[2]);
            derivatives[2] = 1;
        }

        public double EventValue(int index, double time, ReadOnlySpan<double> state)
        {
            double value = index < events.Length ? events[index](time) : StateEvent!(state[1]);
            Looks.Add((index, time, value));
            return value;
        }

        CrossingDirection IHybridSystem.Direction(int index) => Direction(index);

        public bool MayCrossTwice(int index, ReadOnlySpan<double> startDerivatives, ReadOnlySpan<double> endDerivatives)
        {
            Asked.Add(index);
            return Twice(index);
        }

        public double NextTimeStop(double time) => NextStop(time);

        public void OnStep(in DenseStep taken) => Steps.Add((taken.Start, taken.End, taken.Length));

        public EventResponse OnEvent(double time, Span<double> state, ReadOnlySpan<int> fired)
        {
            Handed.Add((time, state.ToArray(), fired.ToArray()));
            return Answer(fired.ToArray());
        }
    }
}
