using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>Where least squares evaluates the residuals: the points of the differences, the length of each step, and what is left alone.</summary>
public sealed class LeastSquaresPathTests
{
    private const double None = double.NegativeInfinity;
    private const double All = double.PositiveInfinity;

    /// <summary>
    /// Differences at p = 4 with a step of a sixteenth of it, h = 1/4: -2h, -h, h, 2h for the fourth order, -h, h for the second; h, 2h into the room where a bound is in the way,
    /// which may be touched; and shorter ones where the room between the bounds is less than both sides want. Of the cubic p³ the slope is 3p² = 48, its error 0, h² and -2h² for the
    /// three formulas: their first terms in Taylor's series, and the last for a cubic.
    /// </summary>
    [Theory]
    [InlineData(true, None, All, new[] { -0.5, -0.25, 0.25, 0.5 }, 0)]
    [InlineData(true, 3, 6, new[] { -0.5, -0.25, 0.25, 0.5 }, 0)]
    [InlineData(true, 3.5, 4.5, new[] { -0.5, -0.25, 0.25, 0.5 }, 0)]
    [InlineData(true, 3.6, All, new[] { 0.25, 0.5 }, -0.125)]
    [InlineData(true, None, 4.4, new[] { -0.25, -0.5 }, -0.125)]
    [InlineData(true, 3.75, 4.25, new[] { -0.125, -0.0625, 0.0625, 0.125 }, 0)]
    [InlineData(true, 3.90625, 4.40625, new[] { 0.0625, 0.125 }, -0.0078125)]
    [InlineData(false, None, All, new[] { -0.25, 0.25 }, 0.0625)]
    [InlineData(false, 2, 7, new[] { -0.25, 0.25 }, 0.0625)]
    [InlineData(false, 3.75, 4.25, new[] { -0.25, 0.25 }, 0.0625)]
    [InlineData(false, 3.6, All, new[] { -0.25, 0.25 }, 0.0625)]
    [InlineData(false, 3.8, All, new[] { 0.25, 0.5 }, -0.125)]
    [InlineData(false, None, 4.2, new[] { -0.25, -0.5 }, -0.125)]
    [InlineData(false, 3.875, 4.125, new[] { -0.0625, 0.0625 }, 0.00390625)]
    [InlineData(false, 3.90625, 4.15625, new[] { -0.0625, 0.0625 }, 0.00390625)]
    public void Slopes_are_taken_at_the_points_of_their_formula(bool fourth, double lower, double upper, double[] offsets, double error)
    {
        (LeastSquaresFit fit, double[] points) = Trace(p => (p * p * p) - 64, 4, new() { Lower = [lower], Upper = [upper], FourthOrder = fourth, RelativeStep = 0.0625 });
        double[] slopes = [.. offsets.Select(offset => 4 + offset)];

        // The start is the least already: slopes there, the step of no length that polishes, and the slopes of the result.
        Assert.Equal([4, .. slopes, 4, .. slopes], points);
        Assert.Equal(48 + error, fit.Slopes[0, 0], 1e-11);
        Assert.Equal((LeastSquaresOutcome.Converged, 1, points.Length), (fit.Outcome, fit.Iterations, fit.Evaluations));
        Assert.Equal(0, fit.Bounds[0]);
    }

    /// <summary>The error of the fourth-order formula is -h⁴ f⁽⁵⁾/30, of p⁵ -4h⁴ and no more.</summary>
    [Fact]
    public void The_slope_of_a_fifth_power_is_off_by_four_times_the_fourth_power_of_the_step()
    {
        (LeastSquaresFit fit, _) = Trace(p => Math.Pow(p, 5) - 1024, 4, new() { RelativeStep = 0.0625 });
        Assert.Equal(1280 - (4.0 / 256), fit.Slopes[0, 0], 1e-10);
    }

    /// <summary>A start on a bound where nothing can be better stays there, known without error; one-sided slopes at the start and for the result, and no step.</summary>
    [Theory]
    [InlineData(4, All, 0.25, -1)]
    [InlineData(None, 4, -0.25, 1)]
    public void On_a_bound_at_the_least_nothing_is_tried(double lower, double upper, double side, int bound)
    {
        (LeastSquaresFit fit, double[] points) = Trace(p => (p * p * p) - 64, 4, new() { Lower = [lower], Upper = [upper], RelativeStep = 0.0625 });
        Assert.Equal([4, 4 + side, 4 + side + side, 4 + side, 4 + side + side], points);
        Assert.Equal(48 - 0.125, fit.Slopes[0, 0], 1e-11);
        Assert.Equal((LeastSquaresOutcome.Converged, bound, 0.0, 1), (fit.Outcome, fit.Bounds[0], fit.StandardErrors[0], fit.DegreesOfFreedom));
    }

    /// <summary>Where the residuals have no value, the other side is looked at, unless a bound forbids that, and then a tenth as far.</summary>
    [Theory]
    [InlineData(4, All, None, All, new[] { -0.5, 0.25, 0.5 })]
    [InlineData(None, 4, None, All, new[] { -0.5, -0.25, 0.25, 0.25, -0.25, -0.5 })]
    [InlineData(None, 4, 3.5, All, new[] { -0.5, -0.25, 0.25, 0.25, -0.25, -0.5 })]
    [InlineData(3.99, 4.01, None, All, new[] { -0.5, 0.25, -0.25, -0.025, 0.025, 0.0025, 0.005 })]
    [InlineData(3.9, 4.01, 3.9, All, new[] { 0.25, 0.025, 0.0025, 0.005 })]
    [InlineData(3.99, 4.1, None, 4.1, new[] { -0.25, -0.025, -0.0025, -0.005 })]
    public void Slopes_look_for_values_where_there_are_any(double least, double greatest, double lower, double upper, double[] offsets)
    {
        (LeastSquaresFit fit, double[] points) = Trace(p => p < least || p > greatest ? double.NaN : (p * p * p) - 64, 4, new() { Lower = [lower], Upper = [upper], RelativeStep = 0.0625 });
        double[] slopes = [.. offsets.Select(offset => 4 + offset)], expected = [4, .. slopes, 4, .. slopes];
        Assert.Equal(expected.Length, points.Length);
        Assert.All(expected.Zip(points), pair => Assert.Equal(pair.First, pair.Second, 1e-12));
        Assert.All(points, p => Assert.InRange(p, lower, upper));

        // One-sided differences over s and 2s are off by s² f'''/3.
        double s = offsets[^1] / 2;
        Assert.Equal(48 - (2 * s * s), fit.Slopes[0, 0], 1e-9);
    }

    /// <summary>
    /// A least a million sizes away: the first step is a tenth of the parameter's size, and each that meets what the slopes foretold doubles the next. With one parameter 1/‖D δ(λ)‖ is a
    /// straight line, so that the damping that makes a step as long as the radius is met exactly.
    /// </summary>
    [Fact]
    public void Steps_double_on_the_way_to_a_far_least()
    {
        (_, double[] points) = Trace(p => p - 1e6, 1, new() { IterationLimit = 8 });
        double[] expected = [1, .. Enumerable.Range(1, 8).Select(k => Enumerable.Range(0, k).Aggregate(1.0, (p, i) => p * (1 + (0.1 * (1 << i)))))];
        double[] trials = [.. Trials(points)];
        Assert.Equal(expected.Length, trials.Length);
        Assert.All(expected.Zip(trials), pair => Assert.Equal(1, pair.Second / pair.First, 1e-9));
    }

    /// <summary>A straight line's least is met in one step if no more than a tenth beyond the radius of a tenth, else the step is as long as the radius.</summary>
    [Theory]
    [InlineData(1.02, 1.02)]
    [InlineData(1.1, 1.1)]
    [InlineData(1.105, 1.105)]
    [InlineData(0.895, 0.895)]
    [InlineData(1.115, 1.1)]
    [InlineData(1.2, 1.1)]
    [InlineData(1.5, 1.1)]
    [InlineData(10, 1.1)]
    [InlineData(-3, 0.9)]
    public void The_first_step_ends_at_the_least_or_at_the_radius(double least, double expected)
    {
        (LeastSquaresFit fit, double[] points) = Trace(p => 7 * (p - least), 1, new());
        Assert.Equal(expected, Trials(points)[1], 1e-9);
        Assert.Equal(least, fit.Parameters[0], 1e-11);
    }

    /// <summary>What the slopes foretold of a step of part of the way counts that the slopes of the square fall on that way: a line does all it foretells, and the radius doubles.</summary>
    [Fact]
    public void A_line_keeps_what_its_slopes_foretell()
    {
        (LeastSquaresFit fit, double[] points) = Trace(p => p - 1.25, 1, new());
        double[] trials = [.. Trials(points).Take(3)];
        Assert.Equal(1.1, trials[1], 1e-9);
        Assert.Equal(1.25, trials[2], 1e-9);
        Assert.Equal(1.25, fit.Parameters[0], 1e-12);
    }

    /// <summary>
    /// From 1 to 1.1 the slopes foretell that r = 10.05 falls to 9.95; with a slope of k beyond 1.05, it does not. The next step is half as long after a bad one, a tenth after one that is
    /// worse by more than was foretold or has no value, both from where the last was and with its slopes; and from the new place half as long after a poor one, as long after a fair one, and twice
    /// after a good one. Lengths count in the sizes of the parameter, 1 and 1.1.
    /// </summary>
    [Theory]
    [InlineData(2, 1.05, 11)]
    [InlineData(20, 1.01, 11)]
    [InlineData(double.NaN, 1.01, 11)]
    [InlineData(0.6, 1.1 - (0.05 * 1.1), 15)]
    [InlineData(-0.1, 1.1 + (0.1 * 1.1), 15)]
    [InlineData(-0.9, 1.1 + (0.2 * 1.1), 15)]
    public void The_radius_follows_what_a_step_was_worth(double k, double next, int evaluations)
    {
        (LeastSquaresFit fit, double[] points) = Trace(p => 10 + (p <= 1.05 ? 1.05 - p : k * (p - 1.05)), 1, new() { RelativeStep = 1e-5, IterationLimit = 2 });
        double[] trials = [.. Trials(points).Take(3)];
        Assert.Equal(1.1, trials[1], 1e-6);
        Assert.Equal(next, trials[2], 1e-6);

        // The start, its slopes, two trials, the slopes of the result; and those at 1.1 where that was taken.
        Assert.Equal(evaluations, fit.Evaluations);
        Assert.Equal(evaluations, points.Length);
    }

    /// <summary>A first step to the least of the slopes, shorter than the radius, that turns out bad: the next is half as long, or a tenth, of that step and not of the radius.</summary>
    [Theory]
    [InlineData(0.0245, 1.01)]
    [InlineData(0.1, 1.002)]
    [InlineData(double.NaN, 1.002)]
    public void A_short_first_step_shortens_the_radius(double beyond, double next)
    {
        (_, double[] points) = Trace(p => p < 1.015 ? 1.02 - p : beyond, 1, new() { RelativeStep = 1e-5, IterationLimit = 2 });
        double[] trials = [.. Trials(points).Take(3)];
        Assert.Equal(1.02, trials[1], 1e-9);
        Assert.Equal(next, trials[2], 1e-9);
    }

    /// <summary>A step much shorter than the radius, to where there is no value: the radius does not keep its length, and the next other trial is a tenth as far.</summary>
    [Fact]
    public void A_radius_much_longer_than_a_refused_step_is_forgotten()
    {
        // The line to 1.1 doubles the radius to 0.2; from there a steep one has its least at 1.10995, beyond the end of the residuals.
        (_, double[] points) = Trace(p => p > 1.105 ? double.NaN : p <= 1.05 ? 11.05 - p : 9.95 + (1000 * (1.1 - p)), 1, new() { RelativeStep = 1e-5, IterationLimit = 8 });
        double[] trials = [.. Trials(points).Select(p => Math.Round(p, 7)).Distinct().Take(4)];
        Assert.Equal([1, 1.1, 1.10995], trials[..3]);
        Assert.Equal(1.1 + 0.000995, trials[3], 1e-6);
    }

    /// <summary>With n parameters each as far away the radius is a tenth times √n, a tenth for each, kept to a tenth of itself.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(9)]
    public void The_first_radius_is_a_tenth_of_each_size(int n)
    {
        List<double[]> points = [];
        LeastSquares.Minimize(
            (p, r) =>
            {
                points.Add(p.ToArray());
                for (int j = 0; j < p.Length; j++)
                {
                    r[j] = p[j] - 1000;
                }
            },
            n,
            [.. Enumerable.Repeat(1.0, n)],
            new() { IterationLimit = 1 });
        double[] trial = Trial(points);
        Assert.All(trial, p => Assert.InRange(p, 1.09, 1.11));
    }

    /// <summary>Of all steps of its length, counted in sizes, the damped step makes the sum of squares of the linear model least: no angle in steps of a tenth of a degree does better.</summary>
    [Theory]
    [InlineData(500, -300, 90)]
    [InlineData(30, 4, 60)]
    [InlineData(-40, 1, 11)]
    [InlineData(27.5, -1.2, 11.6)]
    public void The_damped_step_is_the_best_of_its_length(double b0, double b1, double b2)
    {
        double[] start = [2, 0.5];
        List<double[]> points = [];
        ResidualFunction model = (p, r) =>
        {
            points.Add(p.ToArray());
            r[0] = (3 * p[0]) + (40 * p[1]) - b0;
            r[1] = p[0] - (7 * p[1]) - b1;
            r[2] = (0.5 * p[0]) + (20 * p[1]) - b2;
        };
        LeastSquares.Minimize(model, 3, start, new() { IterationLimit = 1 });
        double[] trial = Trial(points), r = new double[3];
        double SumAt(double x, double y)
        {
            model([start[0] * (1 + x), start[1] * (1 + y)], r);
            return r.Sum(v => v * v);
        }

        double dx = (trial[0] / start[0]) - 1, dy = (trial[1] / start[1]) - 1, length = Math.Sqrt((dx * dx) + (dy * dy)), found = SumAt(dx, dy);
        Assert.InRange(length, 0.09 * Math.Sqrt(2), 0.11 * Math.Sqrt(2));
        double best = Enumerable.Range(0, 3600).Min(k => SumAt(length * Math.Cos(k * Math.PI / 1800), length * Math.Sin(k * Math.PI / 1800)));
        Assert.InRange(found, 0, best * (1 + 1e-12));
    }

    /// <summary>A step counts in the size of its parameter: one of a millionth is met to as many digits as one of a million.</summary>
    [Theory]
    [InlineData(1e-6)]
    [InlineData(1)]
    [InlineData(1e6)]
    public void Small_and_large_parameters_have_as_many_digits(double size)
    {
        (LeastSquaresFit fit, double[] points) = Trace(p => (p / size * (p / size)) - 1, size * 1.001, new());
        Assert.Equal(LeastSquaresOutcome.Converged, fit.Outcome);
        Assert.Equal(1, fit.Parameters[0] / size, 1e-12);
        Assert.Equal(fit.Evaluations, points.Length);
        Assert.InRange(fit.Iterations, 2, 4);
    }

    /// <summary>
    /// A start within the tolerance of the least: the start, its slopes, the undamped step, which is taken, and the slopes of the result. Newton's step from 1 + e to √1 ends at 1 + e²/2.
    /// </summary>
    [Fact]
    public void The_last_step_is_taken_and_the_slopes_belong_to_its_end()
    {
        (LeastSquaresFit fit, double[] points) = Trace(p => (p * p) - 1, 1.005, new() { StepTolerance = 1e-2 });
        Assert.Equal((LeastSquaresOutcome.Converged, 1, 10), (fit.Outcome, fit.Iterations, fit.Evaluations));
        Assert.Equal(10, points.Length);
        Assert.Equal(1 + (0.5 * 0.005 * 0.005), fit.Parameters[0], 1e-7);
        Assert.Equal(2 * fit.Parameters[0], fit.Slopes[0, 0], 1e-10);
        Assert.Equal((fit.Parameters[0] * fit.Parameters[0]) - 1, fit.Residuals[0]);
    }

    [Fact]
    public void A_last_step_that_is_worse_is_not_taken()
    {
        (LeastSquaresFit fit, _) = Trace(p => p < 1.001 ? 1.005 - p : 1, 1, new() { RelativeStep = 1e-5, StepTolerance = 1e-2 });
        Assert.Equal((LeastSquaresOutcome.Converged, 1.0), (fit.Outcome, fit.Parameters[0]));
        Assert.Equal(0.005 * 0.005, fit.SumOfSquares, 1e-12);
        Assert.Equal(-1, fit.Slopes[0, 0], 1e-8);
    }

    /// <summary>
    /// A residual that stays makes the sum of squares blind below some 1e-7 of the parameter: the undamped step from a hundred millionth beside the least is taken because it is shorter than the last,
    /// and the least is met to all digits. The start, slopes, step, slopes, last step, slopes.
    /// </summary>
    [Fact]
    public void Where_the_sum_is_blind_the_step_decides()
    {
        int calls = 0;
        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, r) =>
            {
                calls++;
                r[0] = p[0] - 1;
                r[1] = 1;
            },
            2,
            [1 + 1e-8]);
        Assert.Equal((LeastSquaresOutcome.Converged, 2, 15), (fit.Outcome, fit.Iterations, fit.Evaluations));
        Assert.Equal(15, calls);
        Assert.Equal(1, fit.Parameters[0], 1e-15);
    }

    [Fact]
    public void Where_the_sum_is_blind_and_the_step_has_no_value_the_search_ends()
    {
        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, r) =>
            {
                r[0] = Math.Abs(p[0] - 1 - 1e-8) < 1e-9 ? double.NaN : 1 + 1e-8 - p[0];
                r[1] = 1;
            },
            2,
            [1]);
        Assert.Equal((LeastSquaresOutcome.Converged, 1, 10), (fit.Outcome, fit.Iterations, fit.Evaluations));
        Assert.Equal(1, fit.Parameters[0]);
    }

    [Fact]
    public void Stuck_is_said_as_soon_as_steps_are_below_rounding()
    {
        // A tenth of the size, each next a tenth or a half of the last, to 1e-16: 15 to 50 of them.
        (LeastSquaresFit fit, _) = Trace(p => 1 + (p > 1 ? 2 * (p - 1) : 1 - p), 1, new());
        Assert.Equal(LeastSquaresOutcome.Stuck, fit.Outcome);
        Assert.InRange(fit.Iterations, 15, 52);
    }

    /// <summary>Two columns (1, ±0.007): the difference of the parameters moves the residuals 0.007 times as far as the sum, and is left alone where that is below the tolerance.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(1000)]
    public void A_weak_direction_is_left_alone_below_the_tolerance(double weight)
    {
        foreach ((double tolerance, bool moves) in ((double, bool)[])[(1e-2, false), (5e-3, true)])
        {
            // Near: the undamped step.
            LeastSquaresFit fit = LeastSquares.Minimize(Columns(0.001, 0.02, null), 2, [1, 1], new() { RankTolerance = tolerance });
            Assert.Equal(LeastSquaresOutcome.Converged, fit.Outcome);
            Assert.Equal(moves ? 1.021 : 1.001, fit.Parameters[0], 1e-9);
            Assert.Equal(moves ? 0.981 : 1.001, fit.Parameters[1], 1e-9);

            // Far, and ten thousand times farther in the weak direction: the damped one.
            List<double[]> points = [];
            LeastSquares.Minimize(Columns(1, 1e4, points), 2, [1, 1], new() { RankTolerance = tolerance, IterationLimit = 1 });
            double[] trial = Trial(points);
            Assert.True(trial[0] > 1.01);
            if (moves)
            {
                Assert.True(trial[0] - trial[1] > 0.05);
            }
            else
            {
                Assert.Equal(trial[0], trial[1], 1e-6);
            }
        }

        ResidualFunction Columns(double along, double across, List<double[]>? points) => (p, r) =>
        {
            points?.Add(p.ToArray());
            r[0] = weight * (p[0] + p[1] - 2 - (2 * along));
            r[1] = weight * 0.007 * (p[0] - p[1] - (2 * across));
        };
    }

    [Fact]
    public void What_no_residual_tells_apart_moves_alike()
    {
        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, r) =>
            {
                r[0] = p[0] + p[1] - 2.1;
                r[1] = 0;
            },
            2,
            [1, 1]);
        Assert.Equal(LeastSquaresOutcome.Converged, fit.Outcome);
        Assert.Equal(1.05, fit.Parameters[0], 1e-10);
        Assert.Equal(1.05, fit.Parameters[1], 1e-10);
        Assert.True(fit.Condition > 1e10);
    }

    /// <summary>
    /// A line from (1, 0), its slope on the bound of zero, through points of 0.95 + 0.02 x: the slope alone would be pushed below zero, for all points lie below; but once the height has gone to its
    /// own least it points inward. It is let go at once, and one step meets both.
    /// </summary>
    [Fact]
    public void A_parameter_on_its_bound_is_judged_by_what_the_others_leave()
    {
        List<double[]> points = [];
        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, r) =>
            {
                points.Add(p.ToArray());
                for (int i = 0; i < 3; i++)
                {
                    r[i] = p[0] + (p[1] * i) - 0.95 - (0.02 * i);
                }
            },
            3,
            [1, 0],
            new() { Lower = [None, 0], Scales = [1, 1] });
        double[] trial = Trial(points);
        Assert.Equal(0.95, trial[0], 1e-9);
        Assert.Equal(0.02, trial[1], 1e-9);
        Assert.Equal(2, fit.Iterations);
        Assert.Equal<int>([0, 0], fit.Bounds);
    }

    /// <summary>The same with the line at the upper bound, seen in a mirror.</summary>
    [Fact]
    public void The_same_at_an_upper_bound()
    {
        List<double[]> points = [];
        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, r) =>
            {
                points.Add(p.ToArray());
                for (int i = 0; i < 3; i++)
                {
                    r[i] = p[0] + (p[1] * i) - 1.05 + (0.02 * i);
                }
            },
            3,
            [1, 0],
            new() { Upper = [All, 0], Scales = [1, 1] });
        double[] trial = Trial(points);
        Assert.Equal(1.05, trial[0], 1e-9);
        Assert.Equal(-0.02, trial[1], 1e-9);
        Assert.Equal(2, fit.Iterations);
    }

    /// <summary>The same line with its height in thousandths, beside a parameter that moves the residuals a million times as far: what the others leave is found whatever their units.</summary>
    [Fact]
    public void The_units_of_the_others_do_not_matter()
    {
        List<double[]> points = [];
        LeastSquares.Minimize(
            (p, r) =>
            {
                points.Add(p.ToArray());
                for (int i = 0; i < 3; i++)
                {
                    r[i] = (0.001 * p[0]) + (p[1] * i) - 0.95 - (0.02 * i);
                }

                r[3] = 1000 * (p[2] - 1);
            },
            4,
            [1000, 0, 1],
            new() { Lower = [None, 0, None], Scales = [1, 1, 1], RankTolerance = 1e-2 });
        double[] trial = Trial(points);
        Assert.Equal(950, trial[0], 1e-6);
        Assert.Equal(0.02, trial[1], 1e-9);
        Assert.Equal(1, trial[2], 1e-9);
    }

    /// <summary>
    /// The others are two columns (1, ±0.007, 0), that of the parameter on its bound is (0, 1, 1), the residuals (0, 2, -1): pushed out unless the others take the second, which only their difference can.
    /// Where that is left alone the parameter stays, where it counts the parameter goes in and meets the third.
    /// </summary>
    [Fact]
    public void What_is_left_alone_leaves_the_others_their_residuals()
    {
        ResidualFunction model = (p, r) =>
        {
            r[0] = p[0] + p[2] - 2;
            r[1] = (0.007 * (p[0] - p[2])) + p[1] + 1e-4;
            r[2] = p[1] - 0.5e-4;
        };
        LeastSquaresFit held = LeastSquares.Minimize(model, 3, [1, 0, 1], new() { Lower = [None, 0, None], Scales = [1, 1, 1], RankTolerance = 1e-2 });
        Assert.Equal(LeastSquaresOutcome.Converged, held.Outcome);
        Assert.Equal<int>([0, -1, 0], held.Bounds);
        Assert.Equal(0, held.Parameters[1]);
        Assert.Equal(1, held.Parameters[0], 1e-10);
        Assert.Equal(0, held.StandardErrors[1]);

        LeastSquaresFit free = LeastSquares.Minimize(model, 3, [1, 0, 1], new() { Lower = [None, 0, None], Scales = [1, 1, 1], RankTolerance = 1e-4 });
        Assert.Equal<int>([0, 0, 0], free.Bounds);
        Assert.Equal(0.5e-4, free.Parameters[1], 1e-10);
        Assert.Equal(-1.5e-4 / 0.007, free.Parameters[0] - free.Parameters[2], 1e-8);
    }

    /// <summary>
    /// A line leads from 1 to a billionth, by steps of a tenth, two, four and eight tenths of the size and then to its end, which was one size away: the radius is two. There the residual points back up.
    /// Steps now count in a thousandth of what the parameter once was, not in the billionth that it is, out of which it would creep.
    /// </summary>
    [Fact]
    public void A_parameter_near_zero_moves_by_thousandths_of_what_it_was()
    {
        (_, double[] points) = Trace(p => p > 1e-6 ? p - 1e-9 : 0.01 - p, 1, new() { IterationLimit = 6 });
        double[] trials = [.. Trials(points).Take(7)];
        double[] expected = [1, 0.9, 0.72, 0.432, 0.0864, 1e-9, 1e-9 + 0.002];
        Assert.All(expected.Zip(trials), pair => Assert.Equal(1, pair.Second / pair.First, 1e-3));
    }

    [Fact]
    public void What_nothing_depends_on_has_no_known_variance()
    {
        double[] x = [1, 2, 3], y = [2.1, 3.9, 6.2];
        LeastSquaresFit fit = LeastSquares.Fit((at, p) => p[0] * at, x, y, [2, 5]);
        double slope = x.Zip(y, (a, b) => a * b).Sum() / 14;
        Assert.Equal(double.PositiveInfinity, fit.Covariance(1, 1));
        Assert.Equal(5, fit.Parameters[1]);
        Assert.Equal(0, fit.Bounds[1]);

        // y = a x: var a = s²/Σx², and the parameter of no effect takes no degree of freedom.
        Assert.Equal(2, fit.DegreesOfFreedom);
        double square = x.Zip(y, (a, b) => (b - (slope * a)) * (b - (slope * a))).Sum();
        Assert.Equal(square / 2 / 14, fit.Covariance(0, 0), 1e-12);
        double[,] among = fit.CovarianceAmong([0, 1]);
        Assert.Equal(square / 2 / 14, among[0, 0], 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => fit.Covariance(0, 2));
    }

    /// <summary>Student's t with one degree of freedom is Cauchy's distribution: 95 % lie within tan(0.475 π) = 12.706.</summary>
    [Fact]
    public void One_degree_of_freedom_is_Cauchys()
    {
        double[] x = [0, 1, 2], y = [1, 3.1, 4.9];
        LeastSquaresFit fit = LeastSquares.Fit((at, p) => p[0] + (p[1] * at), x, y, [1, 2]);
        Assert.Equal(Math.Tan(0.475 * Math.PI), fit.HalfWidth(1) / fit.StandardErrors[1], 1e-6);
    }

    [Fact]
    public void Bounds_without_room_and_no_curve_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => LeastSquares.Minimize((p, r) => r[0] = p[0], 1, [1], new() { Lower = [1], Upper = [1] }));
        Assert.Throws<ArgumentNullException>("curve", () => LeastSquares.Fit(null!, [1], [1], [1]));
    }

    /// <summary>A fit of one residual in one parameter, and every point at which that is evaluated.</summary>
    private static (LeastSquaresFit Fit, double[] Points) Trace(Func<double, double> residual, double start, LeastSquaresOptions options)
    {
        List<double> points = [];
        LeastSquaresFit fit = LeastSquares.Minimize(
            (p, r) =>
            {
                points.Add(p[0]);
                r[0] = residual(p[0]);
            },
            1,
            [start],
            options);
        return (fit, [.. points]);
    }

    /// <summary>The start and the points tried, without those of the differences about them, none of which is relatively farther than the first is from the start.</summary>
    private static List<double> Trials(double[] points)
    {
        double reach = 1.01 * Math.Abs((points[1] / points[0]) - 1);
        List<double> trials = [];
        foreach (double point in points)
        {
            if (!trials.Any(trial => point != trial && Math.Abs((point / trial) - 1) < reach))
            {
                trials.Add(point);
            }
        }

        return trials;
    }

    /// <summary>The first point tried: after the start and its slopes, all of whose points differ from it in one parameter by at most 2.5 thousandths of its size or scale of 1.</summary>
    private static double[] Trial(List<double[]> points)
        => points.Skip(1).First(point =>
        {
            int[] moved = [.. Enumerable.Range(0, point.Length).Where(j => point[j] != points[0][j])];
            return moved.Length != 1 || Math.Abs(point[moved[0]] - points[0][moved[0]]) > 2.5e-3 * Math.Max(1, Math.Abs(points[0][moved[0]]));
        });
}
