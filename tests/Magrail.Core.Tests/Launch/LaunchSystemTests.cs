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

    /// <summary>10 and 30 mΩ at 5 A are 50 and 150 mV; an open or a held circuit has none, whatever current its coil still carries.</summary>
    [Fact]
    public void A_contact_has_the_voltage_of_its_own_resistance()
    {
        CircuitSi fed = LaunchBench.Circuit(_ => 1, 1) with { UpperBrush = new BrushSi(0.01), LowerBrush = new BrushSi(0.03) };
        CircuitSi idle = LaunchBench.Circuit(_ => 1, 1, Never) with { UpperBrush = new BrushSi(0.01), LowerBrush = new BrushSi(0.03) };
        LaunchSystem two = Begun(Si(idle, fed), out double[] state);
        (state[2], state[3]) = (7, -5);
        two.Electrics(state);
        Assert.Equal(0.05, two.ContactVolts(state, 1, upper: true), 1e-12);
        Assert.Equal(0.15, two.ContactVolts(state, 1, upper: false), 1e-12);
        Assert.Equal(0, two.ContactVolts(state, 0, upper: true));
        Assert.Equal(0, two.ContactVolts(state, 0, upper: false));
        LaunchSystem held = Begun(Si(fed with { UpperBrush = new BrushSi(0.01, Drop: 13) }), out state);
        state[2] = 5;
        held.Electrics(state);
        Assert.Equal(0, held.ContactVolts(state, 0, upper: true));
    }

    /// <summary>
    /// One coil at 5 A on 12 V behind 0.1 Ω, with 1 Ω and 1 mH, going at 2 m/s in 1 N/A: (11.5 − 5 − 2) V/1 mH = 4500 A/s. An open one beside it, of 3 N/A, with 0.2 mH between them, shows 6 V by its motion and 0.9 V by
    /// induction; as seen from its ends, both push the current that would flow the other way.
    /// </summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void An_open_coil_shows_its_motion_and_what_its_neighbor_induces(int open)
    {
        CircuitSi fed = LaunchBench.Circuit(_ => 1, 1), idle = LaunchBench.Circuit(_ => 3, 1, Never);
        LauncherSi si = Si(open == 0 ? [idle, fed] : [fed, idle]) with { Inductances = [1e-3, 2e-4, 2e-4, 1e-3] };
        LaunchSystem system = Begun(si, out double[] state);
        state[1] = 2;
        state[3 - open] = 5;
        Assert.Equal(6.9, system.CoilVolts(state, open), 1e-9);
        system.Electrics(state);
        Assert.Equal(11.5, system.CoilVolts(state, 1 - open), 1e-12);
        Assert.Equal(11.5, system.Rail, 1e-12);

        // A clamp of 48 V is 41.1 V away.
        LaunchSystem clamped = Begun(si with { Suppressor = SuppressorSi.None with { ClampVolts = 48 } }, out _);
        Assert.Equal(41.1, clamped.EventValue(10 + (4 * open), 0, state), 1e-9);
    }

    /// <summary>Strips that end at 10 mm: on both lines, or on one.</summary>
    private static DriveSchedule Ending(bool upper, bool lower)
    {
        ContactLine Line(bool ends, Bus bus) => new([new ContactStrip((-100).Meters(), ends ? 9.5.Millimeters() : 100.Meters(), bus)]);
        return DriveSchedule.Of(new ContactCommutator(Line(upper, Bus.Plus), Line(lower, Bus.Minus), new Brush(1.Millimeters())), 0);
    }

    /// <summary>A system whose only circuit has just parted from its strips with a current.</summary>
    private static LaunchSystem Parted(Func<LauncherSi, LauncherSi> change, double current, out double[] state, bool upper = true, bool lower = true)
    {
        LauncherSi si = change(Si(LaunchBench.Circuit(_ => 1, 1, Ending(upper, lower))) with { SourceResistance = 0, Source = new SourceSi(12, 0, Inf, Inf) });
        LaunchSystem system = Begun(si, out state);
        Assert.Equal(CircuitConnection.Forward, system.Connections[0]);
        (state[0], state[1], state[2]) = (0.01, 2, current);
        system.OnEvent(0.001, state, [7]);
        return system;
    }

    [Theory]
    [InlineData(5.0)]
    [InlineData(-5.0)]
    public void A_clamp_takes_a_current_until_it_is_zero(double current)
    {
        LaunchSystem system = Parted(si => si with { Suppressor = SuppressorSi.None with { ClampVolts = 48 } }, current, out double[] state);
        Assert.Equal(CircuitConnection.Clamped, system.Connections[0]);
        system.Electrics(state);
        Assert.Equal(-Math.Sign(current) * 48, system.CoilVolts(state, 0));
        Assert.Equal(0, system.LineCurrent(state, 0));
        Assert.Equal(5, system.EventValue(9, 0.001, state), 1e-12);
        Assert.Equal(BreakEnding.Suppressed, system.Recorder.Breaks[0].Ending);
        state[2] *= 1e-12;
        system.OnEvent(0.002, state, [9]);
        Assert.Equal(CircuitConnection.Open, system.Connections[0]);
        Assert.Equal(0, state[2]);
        Assert.True(double.IsNaN(system.EventValue(9, 0.002, state)));

        // 2 m/s in 1 N/A: 46 V away from opening the clamp again.
        Assert.Equal(46, system.EventValue(10, 0.002, state), 1e-12);
        Assert.Equal(
            [(CircuitConnection.Forward, CircuitConnection.Clamped, current, current), (CircuitConnection.Clamped, CircuitConnection.Open, current * 1e-12, 0)],
            system.Recorder.Crossings[^2..].ToArray().Select(one => (one.Before, one.After, one.CurrentBefore, one.CurrentAfter)));
    }

    /// <summary>An arc of 10 V a contact with the source of 12 V in the loop: the coil has 12 V less the arcs' and is so far from its clamp; what lies across it takes or gives its part.</summary>
    [Theory]
    [InlineData(5.0, true, false)]
    [InlineData(5.0, false, true)]
    [InlineData(5.0, true, true)]
    [InlineData(-5.0, true, false)]
    public void An_arc_lies_in_the_loop(double current, bool upper, bool lower)
    {
        int contacts = (upper ? 1 : 0) + (lower ? 1 : 0), sign = Math.Sign(current);
        double across = 12 - (sign * 10 * contacts);
        var arc = new ArcSi(10, 0, 0, 0, 0, 0.1);
        LaunchSystem system = Parted(si => si with { Arc = arc, Suppressor = SuppressorSi.None with { ClampVolts = 48 } }, current, out double[] state, upper, lower);
        Assert.Equal(CircuitConnection.Arcing, system.Connections[0]);
        system.Electrics(state);
        Assert.Equal(across, system.CoilVolts(state, 0), 1e-12);
        Assert.Equal(current, system.LineCurrent(state, 0));
        Assert.Equal(5, system.EventValue(9, 0.001, state), 1e-12);
        Assert.Equal(48 + (sign * across), system.EventValue(10, 0.001, state), 1e-12);
        Assert.Equal(contacts, system.Recorder.Breaks[0].Contacts);
        Assert.Equal(current, system.Recorder.Breaks[0].Current);
        Assert.False(system.MayCrossTwice(9, state, state));

        // 0.1 S across the coil carries a tenth of its volts, through the same contacts.
        LaunchSystem shunted = Parted(si => si with { Arc = arc, Suppressor = new SuppressorSi(Inf, 0.1, Inf) }, current, out state, upper, lower);
        Assert.Equal(CircuitConnection.Arcing, shunted.Connections[0]);
        shunted.Electrics(state);
        Assert.Equal(current + (0.1 * across), shunted.LineCurrent(state, 0), 1e-12);
        Assert.Equal(sign * (current + (0.1 * across)), shunted.EventValue(9, 0.001, state), 1e-12);
        Assert.True(shunted.MayCrossTwice(9, state, state));

        // Before it parted there was no arc in the loop.
        Assert.Equal(current + 1.2, shunted.Recorder.Breaks[0].Current, 1e-12);

        // It dies at zero, and the coil is left to itself.
        state[2] = -0.1 * across;
        shunted.OnEvent(0.002, state, [9]);
        Assert.Equal(CircuitConnection.Suppressed, shunted.Connections[0]);
        Assert.Equal(BreakEnding.DiedOut, shunted.Recorder.Breaks[0].Ending);
        Assert.Equal((CircuitConnection.Arcing, CircuitConnection.Suppressed), (shunted.Recorder.Crossings[^1].Before, shunted.Recorder.Crossings[^1].After));
    }

    /// <summary>A current below what an arc needs, or a contact that would have less than an arc's least volts to bear, parts without one.</summary>
    [Fact]
    public void Not_every_break_draws_an_arc()
    {
        var arc = new ArcSi(10, 0, 0, 0, 0, 0.5);
        SuppressorSi resistor = new(Inf, 1, Inf), clamp = SuppressorSi.None with { ClampVolts = 48 };
        Parts(CircuitConnection.Open, si => si with { Arc = arc }, 0.4);
        Parts(CircuitConnection.Arcing, si => si with { Arc = arc }, 0.6);
        Parts(CircuitConnection.Clamped, si => si with { Arc = arc, Suppressor = clamp }, -0.4);

        // 12 V and the clamp's 48 V: an arc of 59 V burns, of 61 V not, each contact of two has half of them. Against a current that flows back into the source 48 V less 12 V.
        Parts(CircuitConnection.Arcing, si => si with { Arc = arc with { Fall = 59 }, Suppressor = clamp }, 5, lower: false);
        Parts(CircuitConnection.Clamped, si => si with { Arc = arc with { Fall = 61 }, Suppressor = clamp }, 5, lower: false);
        Parts(CircuitConnection.Arcing, si => si with { Arc = arc with { Fall = 29 }, Suppressor = clamp }, 5);
        Parts(CircuitConnection.Clamped, si => si with { Arc = arc with { Fall = 31 }, Suppressor = clamp }, 5);
        Parts(CircuitConnection.Arcing, si => si with { Arc = arc with { Fall = 35 }, Suppressor = clamp }, -5, lower: false);
        Parts(CircuitConnection.Clamped, si => si with { Arc = arc with { Fall = 37 }, Suppressor = clamp }, -5, lower: false);

        // With 1 S across, the coil's 5 A make 5 V there: 17 V in all.
        Parts(CircuitConnection.Arcing, si => si with { Arc = arc with { Fall = 16.5 }, Suppressor = resistor }, 5, lower: false);
        Parts(CircuitConnection.Suppressed, si => si with { Arc = arc with { Fall = 17.5 }, Suppressor = resistor }, 5, lower: false);

        // Nothing at all across it: no bound, whatever the arc's volts.
        Parts(CircuitConnection.Arcing, si => si with { Arc = arc with { Fall = 1e6 } }, 5);

        // At once: not by way of an arc that the clamp or the resistor then puts out.
        static void Parts(CircuitConnection to, Func<LauncherSi, LauncherSi> change, double current, bool lower = true)
        {
            LaunchSystem system = Parted(change, current, out double[] state, lower: lower);
            Assert.Equal(to, system.Connections[0]);
            Assert.Equal(to, system.Recorder.Crossings.ToArray().First(one => one.Before == CircuitConnection.Forward).After);
            Assert.Equal(current, system.Recorder.Crossings[^1].CurrentBefore);
            Assert.Equal(to == CircuitConnection.Open ? 0 : current, state[2]);
        }
    }

    /// <summary>Held by a drop of 13 V on 12 V: 1 V short. With something across the coil its own current counts there: 0.3 A in 0.1 S make 3 V more, and what flows is 2 V beyond.</summary>
    [Fact]
    public void What_a_held_circuit_is_offered()
    {
        CircuitSi dropping = LaunchBench.Circuit(_ => 1, 1) with { UpperBrush = new BrushSi(0, Drop: 13) };
        LauncherSi si = Si(dropping) with { SourceResistance = 0, Source = new SourceSi(12, 0, Inf, Inf) };
        LaunchSystem held = Begun(si, out double[] state);
        Assert.Equal(1, held.EventValue(9, 0, state), 1e-12);
        state[1] = 0.25;
        Assert.Equal(1.25, held.EventValue(9, 0, state), 1e-12);
        Assert.Equal(0, held.LineCurrent(state, 0));

        // Braked from outside it would be driven: at −1.5 m/s 13.5 V are offered.
        state[1] = -1.5;
        Assert.Equal(-0.5, held.EventValue(9, 0, state), 1e-12);
        held.OnEvent(0.001, state, [9]);
        state[2] = 0.5;
        held.Electrics(state);
        Assert.Equal(0.5, held.LineCurrent(state, 0));
        Assert.Equal(0.5, held.EventValue(9, 0, state), 1e-12);

        LaunchSystem shunted = Begun(si with { Suppressor = new SuppressorSi(Inf, 0.1, Inf) }, out state);
        state[2] = 0.05;
        Assert.Equal(13 - 12.5, shunted.EventValue(9, 0, state), 1e-12);
        shunted.Electrics(state);
        Assert.Equal(-0.5, shunted.CoilVolts(state, 0), 1e-12);
        state[2] = 0.3;
        Assert.Equal(13 - 15, shunted.EventValue(9, 0, state), 1e-12);
        shunted.OnEvent(0.001, state, [9]);
        shunted.Electrics(state);
        Assert.Equal(0.3 + (0.1 * (12 - 13)), shunted.LineCurrent(state, 0), 1e-12);
        Assert.Equal(0.2, shunted.EventValue(9, 0, state), 1e-12);
        Assert.Equal(-1, shunted.CoilVolts(state, 0), 1e-12);
    }

    /// <summary>A brush meets its strip again while its coil still carries 5 A: the current goes on the way it flowed, against the drop; with 0.1 S across the coil, what the source offers decides.</summary>
    [Theory]
    [InlineData(5.0)]
    [InlineData(-5.0)]
    public void A_coil_is_met_with_the_current_it_has(double current)
    {
        LauncherSi Dropping(LauncherSi si) => si with { Circuits = [si.Circuits[0] with { UpperBrush = new BrushSi(0, Drop: 0.5) }] };
        int sign = Math.Sign(current);
        var arc = new ArcSi(10, 0, 0, 0, 0, 0.1);
        foreach (Func<LauncherSi, LauncherSi> change in (Func<LauncherSi, LauncherSi>[])
        [
            si => Dropping(si) with { Suppressor = SuppressorSi.None with { ClampVolts = 48 } },
            si => Dropping(si) with { Suppressor = SuppressorSi.None with { ClampVolts = 48 }, Arc = arc },
            si => Dropping(si) with { Arc = arc },
        ])
        {
            LaunchSystem system = Parted(change, current, out double[] state);
            system.OnEvent(0.002, state, [8]);
            Assert.Equal(CircuitConnection.Forward, system.Connections[0]);
            Assert.Equal(current, state[2]);
            system.Electrics(state);
            Assert.Equal(current, system.LineCurrent(state, 0));
            Assert.Equal(12 - (0.5 * sign), system.CoilVolts(state, 0), 1e-12);
            Assert.Equal(5, system.EventValue(9, 0.002, state), 1e-12);
        }

        // −5 A in 0.1 S hold the coil at 50 V, which would drive 38 V backward through the brush.
        LaunchSystem shunted = Parted(si => Dropping(si) with { Suppressor = new SuppressorSi(Inf, 0.1, Inf) }, current, out double[] met);
        Assert.Equal(CircuitConnection.Suppressed, shunted.Connections[0]);
        shunted.OnEvent(0.002, met, [8]);
        Assert.Equal(CircuitConnection.Forward, shunted.Connections[0]);
        shunted.Electrics(met);
        Assert.Equal(12 - (0.5 * sign), shunted.CoilVolts(met, 0), 1e-12);
        Assert.Equal(current + (0.1 * (12 - (0.5 * sign))), shunted.LineCurrent(met, 0), 1e-12);
    }

    /// <summary>A supply of 12 V and 10 A behind 0.1 Ω, as its switch closes on a coil that carries a current already.</summary>
    private static LaunchSystem Closed(double current, double siemens, double speed, out double[] state)
    {
        LauncherSi si = Si(LaunchBench.Circuit(_ => 1, 1)) with
        {
            Source = new SourceSi(12, 0.1, 10, Inf),
            SourceResistance = 0.1,
            SwitchTimes = [0.001, 0.002],
            Suppressor = siemens > 0 ? new SuppressorSi(Inf, siemens, Inf) : SuppressorSi.None with { ClampVolts = 48 },
        };
        LaunchSystem system = Begun(si, out state);
        system.OnEvent(0.001, state, []);
        (state[0], state[1], state[2]) = (0.01, speed, current);
        system.OnEvent(0.002, state, []);
        Assert.Equal(CircuitConnection.Forward, system.Connections[0]);
        system.Electrics(state);
        return system;
    }

    /// <summary>
    /// With 0.5 S across the coil its current follows the voltage at once. At 3 A: (12 − 0.3)/1.05 V. At 5 A that would be 10.5 A: 10 A are held, at 10 V. At 10.2 A no more than −0.4 V hold it, which the supply still
    /// makes, 0.6 V before its resistance. At 12 A it is down at zero, and 11.4 A flow back.
    /// </summary>
    [Theory]
    [InlineData(3, 11.7 / 1.05, 3 + (0.5 * 11.7 / 1.05), double.NaN)]
    [InlineData(5, 10, 10, 11)]
    [InlineData(10.2, -0.4, 10, 0.6)]
    [InlineData(12, -1.2 / 1.05, 12 - (0.6 / 1.05), double.NaN)]
    public void A_supply_at_its_limit_with_something_across_the_coil(double current, double rail, double bus, double held)
    {
        const int High = 4, Low = 5;
        LaunchSystem system = Closed(current, 0.5, 0, out double[] state);
        Assert.Equal(rail, system.Rail, 1e-12);
        Assert.Equal(bus, system.BusCurrent, 1e-12);
        Assert.Equal(double.IsNaN(held) ? (bus > 10 ? 0 : 12 * bus) : held * 10, system.SourcePower, 1e-9);
        Assert.False(system.BusIsPlain);
        if (!double.IsNaN(held))
        {
            Assert.Equal(held - 12, system.EventValue(High, 0.002, state), 1e-12);
            Assert.Equal(held, system.EventValue(Low, 0.002, state), 1e-12);
            Assert.True(system.MayCrossTwice(High, state, state) && system.MayCrossTwice(Low, state, state));
        }
        else
        {
            Assert.Equal(bus - 10, system.EventValue(bus > 10 ? Low : High, 0.002, state), 1e-12);
            Assert.True(double.IsNaN(system.EventValue(bus > 10 ? High : Low, 0.002, state)));
        }
    }

    /// <summary>
    /// A coil alone keeps its current: below the limit the supply gives its 12 V, above nothing. Right at it, it holds it where that takes between nothing and 12 V: 11 V at rest; with 5 V of back-EMF 16 V are too many, and
    /// pulled along at −12 V it would have to be −1 V.
    /// </summary>
    [Theory]
    [InlineData(3, 0, 12, 3)]
    [InlineData(12, 0, 0, 12)]
    [InlineData(10, 0, 11, 10)]
    [InlineData(10, 0.5, 11.5, 10)]
    [InlineData(10, 5, 12, 10)]
    [InlineData(10, -12, 0, 10)]
    public void A_supply_at_its_limit_with_a_coil_alone(double current, double speed, double source, double bus)
    {
        const int High = 4, Low = 5;
        LaunchSystem system = Closed(current, 0, speed, out double[] state);
        Assert.Equal(source - (0.1 * bus), system.Rail, 1e-9);
        Assert.Equal(bus, system.BusCurrent, 1e-12);
        Assert.Equal(source * bus, system.SourcePower, 1e-9);
        bool holds = source is > 0 and < 12;
        if (holds)
        {
            Assert.Equal(source - 12, system.EventValue(High, 0.002, state), 1e-9);
            Assert.Equal(source, system.EventValue(Low, 0.002, state), 1e-9);

            // Held no longer, it gives all, or nothing.
            system.OnEvent(0.003, state, [High]);
            system.Electrics(state);
            Assert.Equal(12 - 1, system.Rail, 1e-12);
            LaunchSystem other = Closed(current, 0, speed, out double[] low);
            other.OnEvent(0.003, low, [Low]);
            other.Electrics(low);
            Assert.Equal(-1, other.Rail, 1e-12);
        }
        else
        {
            Assert.Equal(bus - 10, system.EventValue(source > 0 ? High : Low, 0.002, state), 1e-12);
            Assert.True(double.IsNaN(system.EventValue(source > 0 ? Low : High, 0.002, state)));
        }
    }

    /// <summary>The limit is met from below and from above: held, where it can be, and straight through where not.</summary>
    [Theory]
    [InlineData(3, 0, 10, 0, 11)]
    [InlineData(3, 0, 10, -12, 0)]
    [InlineData(12, 0, 10, 0, 11)]
    [InlineData(12, 0, 10, 5, 12)]
    public void The_limit_is_met(double before, double speedBefore, double current, double speed, double source)
    {
        LaunchSystem system = Closed(before, 0, speedBefore, out double[] state);
        (state[1], state[2]) = (speed, current);
        system.OnEvent(0.003, state, [before < 10 ? 4 : 5]);
        system.Electrics(state);
        Assert.Equal(source - 1, system.Rail, 1e-9);
    }
}
