using Magrail.Numerics;
using Magrail.Units;

namespace Magrail.Tests.Launch;

/// <summary>What the equations tell the integrator, state by state: the longest step, forces aside, events that may come and go within a step.</summary>
public class LaunchSystemTests
{
    private const double Inf = double.PositiveInfinity;

    private static readonly DriveSchedule Never = DriveSchedule.Of(
        new ContactCommutator(
            new ContactLine([new ContactStrip(900.Meters(), 901.Meters(), Bus.Plus)]), new ContactLine([new ContactStrip(900.Meters(), 901.Meters(), Bus.Minus)]), new Brush(1.Millimeters())),
        0);

    private static LaunchSystem Begun(LauncherSi si, out double[] state)
    {
        var system = new LaunchSystem(si, new LaunchRecorder(keepsTrace: false), brakes: true);
        system.Recorder.Clear(system.CircuitCount);
        state = new double[system.Dimension];
        system.Begin(state);
        return system;
    }

    private static LauncherSi Si(params CircuitSi[] circuits)
    {
        double[] inductances = new double[circuits.Length * circuits.Length];
        for (int k = 0; k < circuits.Length; k++)
        {
            inductances[(k * circuits.Length) + k] = 1e-3;
        }

        return LaunchBench.Si(circuits, inductances, new SourceSi(12, 0.1, Inf, Inf), 0.1, 1) with { BackLimit = -0.02 };
    }

    /// <summary>An eighth of the pitch (here 20 mm) where a coil conducts; a fifth where none does and the back-EMF, 4 N/A times the speed, may come above the clamp's 48 V within a quarter.</summary>
    [Fact]
    public void A_step_is_no_longer_than_what_may_happen_within()
    {
        CircuitSi fed = LaunchBench.Circuit(_ => 4, 1), idle = LaunchBench.Circuit(_ => 4, 1, Never);
        Assert.Equal(0.02 / 8 / 2, Longest(Si(fed), 2), 1e-15);
        Assert.Equal(0.02 / 8 / 2, Longest(Si(fed), -2), 1e-15);
        Assert.Equal(0.02 / 8 / 2, Longest(Si(idle, fed), 2), 1e-15);
        Assert.Equal(0.02 / 8 / 2, Longest(Si(fed, idle), 2), 1e-15);
        Assert.Equal(Inf, Longest(Si(fed), 0));
        Assert.Equal(Inf, Longest(Si(idle), 100));
        LauncherSi clamped = Si(idle) with { Suppressor = SuppressorSi.None with { ClampVolts = 48 } };
        Assert.Equal(Inf, Longest(clamped, 2.9));
        Assert.Equal(0.02 / 5 / 3.1, Longest(clamped, 3.1), 1e-15);
        Assert.Equal(0.02 / 5 / 3.1, Longest(clamped, -3.1), 1e-15);
        Assert.Equal(0.02 / 8 / 3.1, Longest(Si(idle, fed) with { Suppressor = SuppressorSi.None with { ClampVolts = 48 } }, 3.1), 1e-15);

        static double Longest(LauncherSi si, double speed)
        {
            LaunchSystem system = Begun(si, out double[] state);
            state[1] = speed;
            return system.LongestStep(state);
        }
    }

    /// <summary>3 and 4 N/A aside at 2 A make 10 N, whatever their signs; the circuits' add before.</summary>
    [Fact]
    public void Forces_aside_add_as_vectors()
    {
        Assert.Equal(10, Aside((3, 4)), 1e-12);
        Assert.Equal(10, Aside((-3, 4)), 1e-12);
        Assert.Equal(6, Aside((3, null)), 1e-12);
        Assert.Equal(6, Aside((-3, null)), 1e-12);
        Assert.Equal(8, Aside((null, -4)), 1e-12);
        Assert.Equal(0, Aside((null, null)));
        Assert.Equal(10, Aside((3, null), (null, 4)), 1e-12);
        Assert.Equal(Math.Sqrt((12 * 12) + (4 * 4)), Aside((3, 4), (3, -2)), 1e-12);
        Assert.Equal(0, Aside((3, -4), (-3, 4)), 1e-12);

        static double Aside(params (double? Across, double? Up)[] forces)
        {
            LaunchSystem system = Begun(
                Si([.. forces.Select(force => LaunchBench.Circuit(_ => 1, 1) with { Across = Constant(force.Across), Up = Constant(force.Up) })]), out double[] state);
            Assert.Equal(forces.Any(force => force.Across is not null || force.Up is not null), system.HasSideForce);
            for (int k = 0; k < forces.Length; k++)
            {
                state[2 + k] = 2;
            }

            return system.SideForce(state);
        }

        static CircuitCurve? Constant(double? value) => value is double force ? CircuitCurve.OfFunction(_ => force, -10, 1000, 1) : null;
    }

    /// <summary>
    /// Event by event: whether a step that begins with one slope and ends with another may hold two crossings. A sled that is slowed and then sped up may have stood in between; one that is sped up
    /// all the way, or slowed all the way, has not.
    /// </summary>
    [Theory]
    [InlineData(-1, 1, true)]
    [InlineData(1, -1, false)]
    [InlineData(1, 1, false)]
    [InlineData(-1, -1, false)]
    public void A_sled_stands_twice_only_where_it_is_slowed_and_then_sped_up(double start, double end, bool may)
    {
        LaunchSystem system = Begun(Si(LaunchBench.Circuit(_ => 1, 1)) with { StartSpeed = 1 }, out double[] state);
        double[] first = new double[state.Length], last = new double[state.Length];
        (first[1], last[1]) = (start, end);
        const int Motion = 2, Backward = 3;
        Assert.Equal(may, system.MayCrossTwice(Motion, first, last));
        Assert.False(system.MayCrossTwice(Backward, first, last));
        foreach (int once in new[] { 0, 1, 6 })
        {
            Assert.False(system.MayCrossTwice(once, first, last));
        }
    }

    /// <summary>The source's current may come up to its limit and fall again, or start there and come back; a current that only rises or falls may not.</summary>
    [Theory]
    [InlineData(100, -100, true)]
    [InlineData(-100, 100, true)]
    [InlineData(5, 100, true)]
    [InlineData(20, 100, false)]
    [InlineData(100, 100, false)]
    [InlineData(-100, -100, false)]
    public void A_current_meets_its_limit_twice_only_where_it_turns(double start, double end, bool may)
    {
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 1, 1)], [1e-3], new SourceSi(12, 0.1, 50, Inf), 0.1, 1);
        LaunchSystem system = Begun(si, out double[] state);
        double[] first = new double[state.Length], last = new double[state.Length];
        (first[2], last[2]) = (start, end);
        const int High = 4, Low = 5;
        Assert.Equal(may, system.MayCrossTwice(High, first, last));
        Assert.False(system.MayCrossTwice(Low, first, last));

        // Without a limit there is none to meet; with something across the coil the current jumps, and any step may.
        LaunchSystem free = Begun(si with { Source = si.Source with { CurrentLimit = Inf } }, out _);
        Assert.False(free.MayCrossTwice(High, first, last));
        double[] longer = new double[state.Length + 1];
        LaunchSystem shunted = Begun(si with { Suppressor = new SuppressorSi(Inf, 0.1, Inf) }, out _);
        Assert.True(shunted.MayCrossTwice(High, longer, longer));
    }

    /// <summary>Of a coil: its clamp may open twice within a step where the back-EMF comes near, its contact edges never; a current through brushes with a drop may die and come back.</summary>
    [Fact]
    public void What_a_coil_may_do_twice_within_a_step()
    {
        const int Ahead = 7, Behind = 8, Current = 9, Clamp = 10;
        CircuitSi fed = LaunchBench.Circuit(_ => 4, 1), idle = LaunchBench.Circuit(_ => 4, 1, Never), dropping = fed with { UpperBrush = new BrushSi(0, Drop: 0.5) };
        double[] none = new double[20], slowly = Speed(2.9), fast = Speed(3.1);
        LaunchSystem open = Begun(Si(idle) with { Suppressor = SuppressorSi.None with { ClampVolts = 48 } }, out _);
        Assert.False(open.MayCrossTwice(Ahead, fast, fast));
        Assert.False(open.MayCrossTwice(Behind, fast, fast));
        Assert.False(open.MayCrossTwice(Current, fast, fast));
        Assert.True(open.MayCrossTwice(Clamp, fast, fast));
        Assert.False(open.MayCrossTwice(Clamp, slowly, slowly));
        Assert.False(Begun(Si(fed) with { Suppressor = SuppressorSi.None with { ClampVolts = 48 } }, out _).MayCrossTwice(Clamp, fast, fast));
        Assert.False(Begun(Si(idle), out _).MayCrossTwice(Clamp, fast, fast));
        Assert.False(Begun(Si(fed), out _).MayCrossTwice(Current, none, none));

        LaunchSystem flows = Begun(Si(dropping), out _);
        Assert.True(flows.MayCrossTwice(Current, Slope(-1), Slope(1)));
        Assert.False(flows.MayCrossTwice(Current, Slope(1), Slope(-1)));
        Assert.False(flows.MayCrossTwice(Current, Slope(1), Slope(1)));
        Assert.False(flows.MayCrossTwice(Current, Slope(-1), Slope(-1)));

        // Held by a drop that is more than the source offers, or with something across the coil, it may at any time.
        Assert.True(Begun(Si(fed with { UpperBrush = new BrushSi(0, Drop: 13) }), out _).MayCrossTwice(Current, none, none));
        Assert.True(Begun(Si(dropping) with { Suppressor = new SuppressorSi(Inf, 0.1, Inf) }, out _).MayCrossTwice(Current, none, none));

        // Of a second circuit: its own slope counts.
        LaunchSystem two = Begun(Si(fed, dropping), out _);
        double[] first = new double[20], last = new double[20];
        (first[3], last[3]) = (-1, 1);
        Assert.True(two.MayCrossTwice(Current + 4, first, last));
        Assert.False(two.MayCrossTwice(Current, first, last));
        (first[2], last[2], first[3], last[3]) = (-1, 1, 1, 1);
        Assert.False(two.MayCrossTwice(Current + 4, first, last));

        static double[] Speed(double speed)
        {
            double[] slopes = new double[20];
            slopes[0] = speed;
            return slopes;
        }

        static double[] Slope(double current)
        {
            double[] slopes = new double[20];
            slopes[2] = current;
            return slopes;
        }
    }

    [Fact]
    public void Events_are_crossed_the_way_they_are_meant()
    {
        LaunchSystem system = Begun(Si(LaunchBench.Circuit(_ => 1, 1), LaunchBench.Circuit(_ => 1, 1)) with { StartSpeed = 1 }, out _);
        const CrossingDirection Up = CrossingDirection.NegativeToPositive, Down = CrossingDirection.PositiveToNegative;
        Assert.Equal([Up, Down, Down, Up, Up, Down, Up, Up, Down, Down, Down, Up, Down, Down, Down], Enumerable.Range(0, system.EventCount).Select(system.Direction));
        LaunchSystem resting = Begun(Si(LaunchBench.Circuit(_ => 1, 1)) with { SlidingFriction = 100, RestFriction = 100 }, out _);
        Assert.Equal(Up, resting.Direction(2));
    }
}
