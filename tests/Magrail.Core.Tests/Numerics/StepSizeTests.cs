using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>How long the stepper makes its first step, how its steps grow and shrink, where they end, and what lies inside them when there are more components than one vector holds.</summary>
public sealed class StepSizeTests
{
    /// <summary>
    /// The first guess is that of E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, section II.4: h₀ = 0.01 |y|/|f|, an Euler step of h₀ to estimate
    /// |y''|, h₁ = (0.01/max(|f|, |y''|))^(1/5), and the smaller of 100 h₀ and h₁, sizes in units of the tolerance. Worked out here for y' = y² + t² from y(1) = 1 with a unit of one.
    /// </summary>
    [Fact]
    public void The_first_step_is_the_guess_of_the_book()
    {
        // f = 2, so h₀ = 0.005; the Euler step leads to y = 1.01 at t = 1.005.
        double bend = ((1.01 * 1.01) + (1.005 * 1.005) - 2) / 0.005;
        Assert.Equal(Math.Pow(0.01 / bend, 0.2), FirstTried((t, y) => (y * y) + (t * t), 1, 1, 100, new Tolerances(0.1, 0.9)), 1e-12);

        // Where the slope is more than its change, it decides: y' = 2 from 10, in units of 0.01 · 10 + 0.9 = 1.
        Assert.Equal(Math.Pow(0.01 / 2, 0.2), FirstTried((t, y) => 2, 1, 10, 100, new Tolerances(0.01, 0.9)), 1e-12);

        // The hundredfold of h₀ where that is less: y = 1/1000, y' = 1, in units of 1, so h = |y|/|f| = 1/1000.
        Assert.Equal(1e-3, FirstTried((t, y) => 1, 1, 1e-3, 100, new Tolerances(1e-13, 1)), 1e-12);
    }

    [Fact]
    public void The_first_step_from_nothing_is_small_and_fixed()
    {
        var unit = new Tolerances(1e-6, 1);

        // No state to compare with: h₀ is a millionth, and a hundred of it is the bound.
        Assert.Equal(1e-4, FirstTried((t, y) => 1, 0, 0, 100, unit), 1e-15);

        // No slope either, or none that changes: a millionth.
        Assert.Equal(1e-6, FirstTried((t, y) => 0, 0, 5, 100, unit), 1e-17);
        Assert.Equal(1e-6, FirstTried((t, y) => 0, 0, 0, 100, unit), 1e-17);

        // Where the trial for the guess leads to no number or to infinity, a millionth too, and never more than the span.
        Assert.Equal(1e-6, FirstTried((t, y) => t > 0 ? double.NaN : 1, 0, 1, 100, unit), 1e-17);
        Assert.Equal(1e-6, FirstTried((t, y) => t > 0 ? double.PositiveInfinity : 1, 0, 1, 100, unit), 1e-17);
        Assert.Equal(1e-8, FirstTried((t, y) => t > 0 ? double.NaN : 1, 0, 1, 1e-8, unit), 1e-19);
    }

    /// <summary>A straight line has no error: each step is ten times the last, from the first on.</summary>
    [Fact]
    public void Steps_without_error_grow_tenfold_from_the_first_on()
    {
        var stepper = new DormandPrince54<Slope>(new Slope((t, y) => 1), new Tolerances(1e-6, 1));
        Assert.True(stepper.Start(0, [0], 1000));
        double last = 0;
        for (int i = 0; i < 5; i++)
        {
            Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(1000));
            double length = stepper.Time - stepper.StepStart;
            Assert.Equal(i == 0 ? 1e-4 : 10 * last, length, 1e-9 * length);
            last = length;
        }
    }

    /// <summary>A slope that jumps, one that has no value beyond a wall that the solution comes back from: the step is refused, and the one after that which was then accepted is no longer than it.</summary>
    [Fact]
    public void After_a_refusal_the_next_step_is_no_longer()
    {
        Func<double, double, double>[] slopes =
        [
            (t, y) => t < 1 ? 1 : -3,
            (t, y) => t < 1 ? 1 : 1 + (100 * Math.Sqrt(t - 1)),
            (t, y) => t < 7 ? 1 : 200 * Math.Sin(40 * t),
            (t, y) => t > 1 ? double.NaN : 1,
            (t, y) => t > 1.37 ? double.PositiveInfinity : Math.Cos(3 * t),
        ];
        foreach (Func<double, double, double> slope in slopes)
        {
            var stepper = new DormandPrince54<Slope>(new Slope(slope), new Tolerances(1e-6, 1e-6));
            Assert.True(stepper.Start(0, [0], 30));
            int refusals = 0;
            double bound = double.PositiveInfinity;
            while (stepper.Time < 30)
            {
                int refused = stepper.StepsRejected;
                if (stepper.Step(30) != OdeOutcome.ReachedEnd)
                {
                    break;
                }

                double length = stepper.Time - stepper.StepStart;
                Assert.InRange(length, 0, bound * (1 + 1e-9));
                bound = stepper.StepsRejected > refused ? length : double.PositiveInfinity;
                refusals += stepper.StepsRejected - refused;
            }

            Assert.True(refusals > 1);

            // Every trial is six evaluations, whether taken, refused for its error or for having no value: and the start is two.
            Assert.Equal(2 + (6 * (stepper.StepsAccepted + stepper.StepsRejected)), stepper.Evaluations);
        }
    }

    /// <summary>y = sin t² swings ever faster: steps shrink from one to the next before their error asks for it, so that few are refused.</summary>
    [Fact]
    public void Steps_shrink_ahead_of_a_quickening_swing_with_few_refusals()
    {
        var stepper = new DormandPrince54<Slope>(new Slope((t, y) => 2 * t * Math.Cos(t * t)), new Tolerances(1e-6, 1e-6));
        Assert.True(stepper.Start(0, [0], 30));
        while (stepper.Time < 30)
        {
            Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(30));
        }

        Assert.Equal(Math.Sin(900), stepper.State[0], 1e-4);
        Assert.InRange(stepper.StepsRejected, 0, stepper.StepsAccepted / 4);
    }

    /// <summary>A pole ends in a step too small, whichever way the step becomes so; every slope and state up to there is a number.</summary>
    [Fact]
    public void A_pole_anywhere_is_a_step_too_small()
    {
        for (int i = 0; i < 60; i++)
        {
            double pole = 0.3 + (0.0317 * i);
            var stepper = new DormandPrince54<Slope>(new Slope((t, y) => y * y), new Tolerances(1e-4, 1e-4));
            Assert.True(stepper.Start(0, [1 / pole], 5));
            OdeOutcome outcome = OdeOutcome.ReachedEnd;
            while (outcome == OdeOutcome.ReachedEnd && stepper.Time < 5)
            {
                outcome = stepper.Step(5);
            }

            Assert.Equal(OdeOutcome.StepTooSmall, outcome);
            Assert.Equal(pole, stepper.Time, 1e-2);
        }
    }

    /// <summary>What is left after a step of the proposed length would be a sliver: two even steps instead, and the end is met to the bit.</summary>
    [Fact]
    public void The_rest_is_parted_evenly_and_the_end_is_met_exactly()
    {
        for (int i = 0; i < 50; i++)
        {
            DormandPrince54<Slope> Begun()
            {
                var stepper = new DormandPrince54<Slope>(new Slope((t, y) => y * Math.Cos(t)), new Tolerances(1e-8, 1e-8));
                Assert.True(stepper.Start(0.1 * i, [1], 100));
                stepper.Step(100);
                stepper.Step(100);
                return stepper;
            }

            DormandPrince54<Slope> free = Begun();
            double start = free.Time;
            Assert.Equal(OdeOutcome.ReachedEnd, free.Step(100));
            double whole = free.Time - start;

            DormandPrince54<Slope> parted = Begun();
            double end = start + (1.2 * whole);
            Assert.Equal(OdeOutcome.ReachedEnd, parted.Step(end));
            Assert.Equal(start + (0.6 * whole), parted.Time, 1e-12);
            Assert.Equal(OdeOutcome.ReachedEnd, parted.Step(end));
            Assert.Equal(end, parted.Time);

            // Within one step: to the bit, however the difference of the times rounds.
            for (int part = 1; part < 20; part++)
            {
                DormandPrince54<Slope> once = Begun();
                end = start + (whole * part / 20.7);
                Assert.Equal(OdeOutcome.ReachedEnd, once.Step(end));
                Assert.Equal(end, once.Time);
            }
        }

        // From a time that is small beside the end, where the difference has more digits than it can keep.
        for (int i = 1; i < 100; i++)
        {
            var far = new DormandPrince54<Slope>(new Slope((t, y) => 0.1), new Tolerances(0.1, 1000));
            double begin = i * 0.00713, end = 0.9 + (i / 300.0);
            Assert.True(far.Start(begin, [1], 5));
            Assert.Equal(OdeOutcome.ReachedEnd, far.Step(end));
            Assert.Equal(end, far.Time);
        }
    }

    /// <summary>A step cut short by the time that it must not pass says little of how long the next may be: the proposal made before stands, or a longer one where the short step itself gives it.</summary>
    [Fact]
    public void A_step_cut_short_does_not_shorten_the_next()
    {
        var stepper = new DormandPrince54<Slope>(new Slope((t, y) => Math.Cos(t)), new Tolerances(1e-8, 1e-8));
        Assert.True(stepper.Start(0, [1], 100));
        while (stepper.Time < 2)
        {
            stepper.Step(100);
        }

        double usual = stepper.Time - stepper.StepStart;
        Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(stepper.Time + (1e-6 * usual)));
        Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(100));
        Assert.InRange(stepper.Time - stepper.StepStart, 0.5 * usual, 2 * usual);

        // Nine tenths of what was proposed, without any error: the next is ten times that, not just what was proposed before.
        var line = new DormandPrince54<Slope>(new Slope((t, y) => 1), new Tolerances(1e-6, 1));
        Assert.True(line.Start(0, [0], 100));
        Assert.Equal(OdeOutcome.ReachedEnd, line.Step(0.9e-4));
        Assert.Equal(OdeOutcome.ReachedEnd, line.Step(100));
        Assert.Equal(9e-4, line.Time - line.StepStart, 1e-12);
    }

    /// <summary>
    /// The error is weighed against the greater of the two ends of a step. A decay by e^-100 with nothing but a relative tolerance of 5 % takes steps over which the state falls manifold; weighed against the
    /// lesser end they would be much shorter.
    /// </summary>
    [Fact]
    public void The_error_is_weighed_against_the_greater_end_of_a_step()
    {
        int Steps(double rate)
        {
            var stepper = new DormandPrince54<Slope>(new Slope((t, y) => rate * y), new Tolerances(0.05, 1e-290));
            Assert.True(stepper.Start(0, [1], 100));
            while (stepper.Time < 100)
            {
                Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(100));
            }

            return stepper.StepsAccepted;
        }

        int falling = Steps(-1), rising = Steps(1);
        // Falling, what bounds the step is stability, two of its units or so; rising, each step may be as long as five.
        Assert.InRange(falling, 45, 65);
        Assert.InRange(rising, 15, 25);
    }

    /// <summary>Swings of different frequency, more than one vector holds, and the last vector not filled: each component has its own course inside a step.</summary>
    [Theory]
    [InlineData(5)]
    [InlineData(9)]
    [InlineData(17)]
    public void Inside_a_step_every_component_is_its_own_however_many_there_are(int dimension)
    {
        var stepper = new DormandPrince54<Swings>(new Swings(dimension), new Tolerances(1e-9, 1e-9));
        double[] state = new double[dimension];
        Assert.True(stepper.Start(0, state, 3));
        while (stepper.Time < 3)
        {
            Assert.Equal(OdeOutcome.ReachedEnd, stepper.Step(3));
            DenseStep step = stepper.LastStep;
            for (int part = 0; part <= 4; part++)
            {
                double t = step.Start + ((step.End - step.Start) * part / 4);
                step.Values(t, state);
                for (int i = 0; i < dimension; i++)
                {
                    Assert.Equal(Math.Sin((i + 1) * t / 3), state[i], 1e-7);
                    Assert.Equal((i + 1) / 3.0 * Math.Cos((i + 1) * t / 3), step.Slope(i, t), 2e-5);
                }
            }
        }
    }

    /// <summary>The length of the first trial, told by the time of its second stage, a fifth into the step.</summary>
    private static double FirstTried(Func<double, double, double> slope, double time, double state, double span, Tolerances tolerances)
    {
        var times = new List<double>();
        var stepper = new DormandPrince54<Slope>(
            new Slope((t, y) =>
            {
                times.Add(t);
                return slope(t, y);
            }),
            tolerances);
        Assert.True(stepper.Start(time, [state], time + span));
        Assert.Equal(time, times[0]);
        int begun = times.Count;
        Assert.Equal(2, begun);
        stepper.Step(time + span);
        return 5 * (times[begun] - time);
    }

    private sealed class Slope(Func<double, double, double> slope) : IOdeSystem
    {
        public int Dimension => 1;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives) => derivatives[0] = slope(time, state[0]);
    }

    private sealed class Swings(int dimension) : IOdeSystem
    {
        public int Dimension => dimension;

        public void Derivatives(double time, ReadOnlySpan<double> state, Span<double> derivatives)
        {
            for (int i = 0; i < dimension; i++)
            {
                derivatives[i] = (i + 1) / 3.0 * Math.Cos((i + 1) * time / 3);
            }
        }
    }
}
