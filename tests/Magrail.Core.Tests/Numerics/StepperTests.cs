using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>One step after the other: what the stepper refuses, how long it makes its steps, and what lies inside them, with more than one component.</summary>
public sealed class StepperTests
{
    private static readonly Tolerances Usual = new(1e-8, 1e-8);

    /// <summary>x'' = −x from (0, 1), with a third component x''' that vectors of four leave room beside: each component has its own value and slope inside a step.</summary>
    [Fact]
    public void Inside_a_step_each_component_has_its_own_value_and_slope()
    {
        var stepper = new DormandPrince54<Swing>(new Swing(), Usual);
        Assert.True(stepper.Start(0.5, [Math.Sin(0.5), Math.Cos(0.5), -Math.Sin(0.5)], 10));
        double[] state = new double[3];
        while (stepper.Time < 2)
        {
            Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(2));
            DenseStep step = stepper.LastStep;
            Assert.Equal((stepper.StepStart, stepper.Time), (step.Start, step.End));
            for (int i = 0; i <= 8; i++)
            {
                double t = step.Start + ((step.End - step.Start) * i / 8);
                step.Values(t, state);
                double[] exact = [Math.Sin(t), Math.Cos(t), -Math.Sin(t)], slopes = [Math.Cos(t), -Math.Sin(t), -Math.Cos(t)];
                for (int component = 0; component < 3; component++)
                {
                    Assert.Equal(exact[component], state[component], 1e-6);
                    Assert.Equal(state[component], step.Value(component, t), 1e-15);
                    Assert.Equal(slopes[component], step.Slope(component, t), 1e-4);
                }
            }

            Assert.Equal([Math.Cos(stepper.Time), -Math.Sin(stepper.Time), -Math.Cos(stepper.Time)], stepper.Slopes.ToArray(), (a, b) => Math.Abs(a - b) < 1e-6);
            Assert.Equal([Math.Cos(stepper.StepStart), -Math.Sin(stepper.StepStart), -Math.Cos(stepper.StepStart)], stepper.StartSlopes.ToArray(), (a, b) => Math.Abs(a - b) < 1e-6);
        }

        Assert.Equal(2, stepper.Time);
    }

    [Fact]
    public void A_state_or_a_slope_that_is_no_number_does_not_start()
    {
        var stepper = new DormandPrince54<Swing>(new Swing(), Usual);
        Assert.False(stepper.Start(0, [double.NaN, 0, 0], 1));
        Assert.False(stepper.Start(0, [0, 0, double.PositiveInfinity], 1));

        // The third component's slope alone.
        var wrong = new DormandPrince54<Swing>(new Swing(double.NaN), Usual);
        Assert.False(wrong.Start(0, [0, 1, 0], 1));

        // The second component takes no part in a slope here: a state that is no number is refused although every slope is one.
        var still = new DormandPrince54<Still>(new Still(), Usual);
        Assert.False(still.Start(0, [double.NaN], 1));
        Assert.True(still.Start(0, [1], 1));
        Assert.Throws<ArgumentNullException>("tolerances", () => new DormandPrince54<Still>(new Still(), null!));
        Assert.Throws<ArgumentNullException>("system", () => new DormandPrince54<IOdeSystem>(null!, Usual));
    }

    /// <summary>The first step is no longer than the span, whatever time it begins at, and what is still has the longest.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1000)]
    [InlineData(-1000)]
    public void The_first_step_fits_the_span(double time)
    {
        var still = new DormandPrince54<Still>(new Still(), Usual);
        Assert.True(still.Start(time, [1], time + 0.25));
        Assert.Equal(OdeOutcome.ReachedEnd, still.Step(time + 0.25));
        Assert.InRange(still.Time, time + 1e-7, time + 0.25);

        // A swing of size one: the first step of order a tenth of a percent to a tenth, so that it is neither refused nor wasted.
        var swing = new DormandPrince54<Swing>(new Swing(), Usual);
        Assert.True(swing.Start(time, [0, 1, 0], time + 10));
        Assert.Equal(OdeOutcome.ReachedEnd, swing.Step(time + 10));
        Assert.Equal(0, swing.StepsRejected);
        Assert.InRange(swing.Time - time, 1e-3, 0.2);
    }

    /// <summary>
    /// What the tolerance costs: the local error goes as h⁵ for the step control, so that a thousandth of the tolerance takes 1000^(1/5) = 4 times the steps; few steps are refused; and each is
    /// at most ten times the last and no shorter than a fifth.
    /// </summary>
    [Fact]
    public void Steps_are_as_long_as_the_tolerance_allows()
    {
        (int Accepted, int Rejected, List<double> Lengths) Over(double tolerance)
        {
            var stepper = new DormandPrince54<Swing>(new Swing(), new Tolerances(tolerance, tolerance));
            Assert.True(stepper.Start(0, [0, 1, 0], 60));
            List<double> lengths = [];
            while (stepper.Time < 60)
            {
                Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(60));
                lengths.Add(stepper.Time - stepper.StepStart);
            }

            Assert.Equal(2 + (6 * (stepper.StepsAccepted + stepper.StepsRejected)), stepper.Evaluations);
            Assert.Equal(lengths.Count, stepper.StepsAccepted);

            // The bound of the error is kept: it grows with the time at most.
            Assert.Equal(Math.Sin(60), stepper.State[0], 100 * tolerance);
            stepper.ResetCounters();
            Assert.Equal((0, 0, 0), (stepper.StepsAccepted, stepper.StepsRejected, stepper.Evaluations));
            return (lengths.Count, stepper.StepsRejected, lengths);
        }

        (int loose, int looseRejected, List<double> lengths) = Over(1e-6);
        (int tight, int tightRejected, _) = Over(1e-9);
        Assert.InRange((double)tight / loose, 3.2, 4.8);
        Assert.InRange(looseRejected + tightRejected, 0, (loose + tight) / 20);

        // Of an even swing the steps are even, but for the first ones and the last two.
        Assert.All(lengths.Zip(lengths.Skip(1)).Skip(4).SkipLast(3), pair => Assert.InRange(pair.Second / pair.First, 0.5, 2));
        Assert.InRange(lengths[^2], 0.4 * lengths[^4], 1.1 * lengths[^4]);
        Assert.InRange(lengths[^1], 0.4 * lengths[^4], 1.1 * lengths[^4]);
    }

    /// <summary>x' = −300 (x − cos t) settles in a three-hundredth and then follows slowly: steps begin short, grow by no more than ten times at once, and stay where stability keeps them.</summary>
    [Fact]
    public void Steps_grow_when_it_is_quiet_and_stay_within_stability()
    {
        var stepper = new DormandPrince54<Follower>(new Follower(), Usual);
        Assert.True(stepper.Start(0, [0], 3));
        List<double> lengths = [];
        while (stepper.Time < 3)
        {
            int refused = stepper.StepsRejected;
            Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(3));
            double length = stepper.Time - stepper.StepStart;
            if (lengths.Count > 0)
            {
                Assert.InRange(length / lengths[^1], 0.03, stepper.StepsRejected > refused ? 1 : 10 + 1e-9);
            }

            lengths.Add(length);
        }

        // x = (k² cos t + k sin t)/(k² + 1) when all else has died.
        Assert.Equal(((90000 * Math.Cos(3)) + (300 * Math.Sin(3))) / 90001, stepper.State[0], 1e-7);

        // The pair is stable up to about 3.3 over the rate (E. Hairer, G. Wanner, Solving Ordinary Differential Equations II, figure IV.2.1, from memory).
        Assert.InRange(lengths.Max(), 2.0 / 300, 4.0 / 300);
        Assert.InRange(lengths.Count, 3 * 300 / 4, 4 * 300);
        Assert.True(stepper.StepsRejected < lengths.Count / 2);
    }

    /// <summary>A step that is taken again to an earlier end has the state of that time and keeps the count; one of no length is not taken again.</summary>
    [Fact]
    public void A_step_is_taken_again_to_an_earlier_end()
    {
        var stepper = new DormandPrince54<Swing>(new Swing(), new Tolerances(1e-6, 1e-6));
        Assert.True(stepper.Start(0, [0, 1, 0], 10));
        for (int i = 0; i < 5; i++)
        {
            stepper.Step(10);
        }

        (double start, double end, int steps, int evaluations) = (stepper.StepStart, stepper.Time, stepper.StepsAccepted, stepper.Evaluations);
        double middle = start + (0.3 * (end - start));
        Assert.True(stepper.Retake(middle));
        Assert.Equal((start, middle, steps, evaluations + 6), (stepper.StepStart, stepper.Time, stepper.StepsAccepted, stepper.Evaluations));
        Assert.Equal(Math.Sin(middle), stepper.State[0], 1e-6);
        Assert.Equal(Math.Cos(middle), stepper.Slopes[0], 1e-6);
        Assert.Equal(Math.Sin(start + (0.1 * (end - start))), stepper.LastStep.Value(0, start + (0.1 * (end - start))), 1e-6);
        Assert.False(stepper.Retake(start + (1e4 * (Math.BitIncrement(start) - start))));
        Assert.Equal(middle, stepper.Time);
    }

    /// <summary>x'' = −x and the slope of the velocity as a third component.</summary>
    private sealed class Swing(double factor = 1) : IOdeSystem
    {
        public int Dimension => 3;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives)
        {
            derivatives[0] = state[1];
            derivatives[1] = -state[0];
            derivatives[2] = -factor * state[1];
        }
    }

    private sealed class Still : IOdeSystem
    {
        public int Dimension => 1;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => derivatives[0] = 0;
    }

    private sealed class Follower : IOdeSystem
    {
        public int Dimension => 1;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => derivatives[0] = -300 * (state[0] - Math.Cos(time));
    }
}
