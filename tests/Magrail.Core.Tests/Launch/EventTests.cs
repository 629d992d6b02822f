using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Events of a launch: rest, break-away, reversal, switch, contacts.</summary>
public class EventTests
{
    private const double Inf = double.PositiveInfinity;

    private static LaunchOptions Until(double seconds) => LaunchBench.Fine with { TimeLimit = seconds.Seconds() };

    /// <summary>The sled rests until K i exceeds the friction at rest: t = −(L/R) ln(1 − R F/(K V)), then slides against less.</summary>
    [Fact]
    public void Breaks_away_when_the_push_exceeds_friction_at_rest()
    {
        const double V = 24, R = 1, L = 1e-3, K = 0.5, Rest = 2, Sliding = 1, M = 0.1;
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => K, R)], [L], new SourceSi(V, 0, Inf, Inf), M, 10, sliding: Sliding, atRest: Rest);
        LaunchResult result = LaunchBench.Launch(si, Until(0.01));
        double away = -(L / R) * Math.Log(1 - (R * Rest / (K * V)));
        Assert.Equal(0, result.Trace.At((away * 0.999999).Seconds()).Speed.MetersPerSecond);
        Assert.Equal(0, result.Trace.At((away * 0.999999).Seconds()).Position.Meters);
        Assert.True(result.Trace.At((away * 1.0001).Seconds()).Speed.MetersPerSecond > 0);
        double first = result.Trace.At((away * (1 + 1e-9)).Seconds()).Acceleration.MetersPerSecondSquared;
        Assert.Equal((Rest - Sliding) / M, first, 1e-4);
        Assert.InRange(result.Statistics.Restarts, 1, 1);
    }

    /// <summary>A push below the friction at rest moves nothing, and nothing chatters.</summary>
    [Fact]
    public void Rests_without_chatter()
    {
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0.5, 1)], [1e-3], new SourceSi(24, 0, Inf, Inf), 0.1, 10, sliding: 11.9, atRest: 12.0001);
        LaunchResult result = LaunchBench.Launch(si, LaunchOptions.Default);
        Assert.Equal(LaunchOutcome.Stalled, result.Outcome);
        Assert.Equal(0, result.EndPosition.Meters);
        Assert.Equal(0, result.Statistics.Restarts);
        Assert.Equal(0.25, result.EndTime.Seconds, 1e-9);
    }

    /// <summary>Up a slope without drive: v² = v₀² − 2 (g sin + µ g cos) s; it stops and stays where friction at rest holds it.</summary>
    [Theory]
    [InlineData(1, false)]
    [InlineData(0.2, true)]
    public void Coasts_up_stops_and_stays_or_runs_back(double friction, bool back)
    {
        const double M = 0.1, Pull = 0.5, V0 = 2;
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, 1)], [1e-3], new SourceSi(1, 0, Inf, Inf), M, 10, startSpeed: V0, sliding: friction, slope: Pull);
        LaunchResult result = LaunchBench.Launch(si, LaunchOptions.Default);
        double top = M * V0 * V0 / (2 * (Pull + friction));
        double up = M * V0 / (Pull + friction);
        Assert.Equal(top, result.Trace.At(up.Seconds()).Position.Meters, 1e-7);
        if (!back)
        {
            Assert.Equal(LaunchOutcome.Stalled, result.Outcome);
            Assert.Equal(top, result.EndPosition.Meters, 1e-8);
            Assert.Equal(up + 0.25, result.EndTime.Seconds, 1e-8);
            Assert.Contains("rest", result.Cause, StringComparison.Ordinal);
        }
        else
        {
            // Back over the whole way and a meter beyond, with friction now the other way round.
            Assert.Equal(LaunchOutcome.RanBack, result.Outcome);
            Assert.Equal(-1, result.EndPosition.Meters, 1e-9);
            Assert.Equal(-Math.Sqrt(2 * (Pull - friction) * (top + 1) / M), result.EndSpeed.MetersPerSecond, 1e-7);
        }

        Assert.Throws<InvalidOperationException>(() => result.ExitSpeed);
        Assert.Throws<InvalidOperationException>(() => result.ExitTime);
    }

    /// <summary>A force toward a middle, K = −k x with a steady current, and friction: each turn loses 2 F/c of amplitude, until it rests.</summary>
    [Fact]
    public void Swings_to_rest()
    {
        const double Stiff = 4, Friction = 0.1, M = 0.1, I = 10;
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(x => -Stiff * x / I, 1e3)], [1], new SourceSi(1e4, 0, Inf, Inf), M, 10, start: 0.3, sliding: Friction);

        // The coil hardly feels its own back-EMF at 10 kV behind 1 kohm; the ledger closes, the rest is within the dead band.
        LaunchResult result = LaunchBench.Launch(si, LaunchBench.Fine);
        Assert.Equal(LaunchOutcome.Stalled, result.Outcome);
        Assert.InRange(Math.Abs(result.EndPosition.Meters), 0, Friction / Stiff);

        // Turning points 0.3, −0.25, 0.2, −0.15, …: four turns, then the push is below the friction.
        double lowest = result.Trace.PositionMeters.Min();
        Assert.Equal(-0.25, lowest, 2e-3);
    }

    [Fact]
    public void A_bouncing_switch_costs_speed_and_its_energy_is_on_the_ledger()
    {
        Launcher launcher = LaunchBench.Whole(6);
        LaunchResult clean = LaunchBench.Launch(launcher);
        Duration[] bounce = [0.4.Milliseconds(), 0.9.Milliseconds(), 1.3.Milliseconds(), 1.6.Milliseconds()];
        LaunchResult bouncing = LaunchBench.Launch(launcher with { Switch = new StartSwitch(6.Milliohms(), bounce) });
        LaunchResult breaking = LaunchBench.Launch(launcher with { Switch = new StartSwitch(6.Milliohms(), bounce), Suppressor = Suppressor.IdealBreak });
        Assert.Equal(LaunchOutcome.Released, bouncing.Outcome);
        Assert.True(bouncing.ExitTime > clean.ExitTime);
        Assert.True(bouncing.ExitSpeed < clean.ExitSpeed);
        Assert.Equal(0, bouncing.Ledger.Breaks.Joules);
        Assert.True(bouncing.Ledger.Suppressed > Energy.Zero);
        Assert.Equal(0, breaking.Ledger.Suppressed.Joules);
        Assert.True(breaking.Ledger.Breaks > Energy.Zero);

        // The four changes by the clock are in the record, at their times.
        foreach (Duration time in bounce)
        {
            Assert.Contains(bouncing.Crossings, crossing => Math.Abs(crossing.Time.Seconds - time.Seconds) < 1e-12);
        }
    }

    [Fact]
    public void Crossings_are_in_order_and_each_follows_on_the_one_before()
    {
        LaunchResult result = LaunchBench.Launch(LaunchBench.Whole());
        CircuitConnection connection = CircuitConnection.Open;
        double time = 0;
        foreach (ContactCrossing crossing in result.Crossings)
        {
            Assert.Equal(connection, crossing.Before);
            Assert.NotEqual(crossing.Before, crossing.After);
            Assert.True(crossing.Time.Seconds >= time);
            connection = crossing.After;
            time = crossing.Time.Seconds;
        }

        // Nine strips: each is met once, and its current ends in the clamp; the last edge is the release as well, and both fire together.
        Assert.Equal(9, result.Crossings.Count(c => c.After is CircuitConnection.Forward or CircuitConnection.Reverse));
        Assert.Equal(9, result.Crossings.Count(c => c.After == CircuitConnection.Clamped));
    }

    /// <summary>Crossings lie at the edges that the geometry gives, whatever the course.</summary>
    [Fact]
    public void Contact_edges_are_located_to_rounding()
    {
        Launcher launcher = LaunchBench.Whole();
        LaunchResult result = LaunchBench.Launch(launcher);
        double half = 0.5 * launcher.Contacts.UpperBrush.Length.Meters;
        double[] leaving = [.. launcher.Contacts.Upper.Strips.Select(strip => strip.End.Meters + half)];
        double[] seen = [.. result.Crossings.Where(c => c.After == CircuitConnection.Clamped).Select(c => c.Position.Meters)];
        Assert.Equal(leaving.Length, seen.Length);
        for (int i = 0; i < seen.Length; i++)
        {
            Assert.Equal(leaving[i], seen[i], 1e-13);
        }
    }

    /// <summary>Two coils a pitch apart on brushes of their own, edges of both at the same places: all changes are made at once.</summary>
    [Fact]
    public void Two_circuits_with_simultaneous_edges()
    {
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.4.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(8.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            100);
        Track track = LaunchBench.TrackOf(8);
        ContactCommutator contacts = ContactCommutator.For(track, coil, 0.8, 0.Millimeters(), new Brush(3.Millimeters()));
        var sled = new Sled(25.Grams(), [new CoilMount(coil, 0.Millimeters()), new CoilMount(coil, 20.Millimeters(), circuit: 1)]);
        foreach (Suppressor suppressor in (Suppressor[])[Suppressor.IdealBreak, Suppressor.Clamp(50.Volts())])
        {
            var launcher = new Launcher(track, sled, contacts, new BenchSupply(30.Volts(), 25.Amperes())) { Suppressor = suppressor };
            LaunchResult result = LaunchBench.Launch(launcher);
            Assert.Equal(LaunchOutcome.Released, result.Outcome);
            ContactCrossing[] ends = [.. result.Crossings.Where(c => c.Before is CircuitConnection.Forward or CircuitConnection.Reverse)];
            Assert.Contains(
                ends.GroupBy(c => Math.Round(c.Position.Meters, 9)),
                group => group.Select(c => c.Circuit).Distinct().Count() == 2);
            var one = new Launcher(track, new Sled(25.Grams() + coil.Mass, coil), contacts, new BenchSupply(30.Volts(), 25.Amperes())) { Suppressor = suppressor };
            Assert.True(result.ExitSpeed > LaunchBench.Launch(one).ExitSpeed);
        }
    }

    /// <summary>
    /// An open coil, fast enough to show more than its clamp's voltage from the start, brakes against it:
    /// m v' = K i, L i' = U − R i − K v, so that v falls to U/K and no further.
    /// </summary>
    [Fact]
    public void An_open_coil_above_its_clamp_voltage_brakes()
    {
        const double R = 1, K = 5, M = 0.5, V0 = 10, U = 30, L = 1e-4, T = 0.05;
        DriveSchedule open = DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-1).Meters(), 100.Meters(), Bus.Dead)]),
                new ContactLine([new ContactStrip((-1).Meters(), 100.Meters(), Bus.Dead)]),
                new Brush(1.Millimeters())),
            0);
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => K, R, open)], [L], new SourceSi(24, 0, Inf, Inf), M, 10, startSpeed: V0, clamp: U);
        LaunchResult result = LaunchBench.Launch(si, Until(T));
        Assert.Equal(ClosedFormTests.Linear(U, R, L, K, M, T, V0).V, result.EndSpeed.MetersPerSecond, 1e-9);
        Assert.True(result.Ledger.Suppressed.Joules > 0);
        Assert.Equal(CircuitConnection.Clamped, result.Crossings[0].After);
        Assert.Equal(0, result.Ledger.Drawn.Joules);
    }

    /// <summary>A fed coil whose strip ends while it runs faster than its clamp's voltage bears: the current reverses in the clamp and brakes.</summary>
    [Fact]
    public void A_spent_clamp_conducts_the_other_way_where_the_coil_drives_it()
    {
        const double R = 1, K = 5, M = 0.5, V0 = 10, U = 30, L = 1e-4;
        DriveSchedule first = DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-1).Meters(), 0.1.Meters(), Bus.Plus)]),
                new ContactLine([new ContactStrip((-1).Meters(), 0.1.Meters(), Bus.Minus)]),
                new Brush(1.Millimeters())),
            0);
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => K, R, first)], [L], new SourceSi(100, 0, Inf, Inf), M, 3, startSpeed: V0, clamp: U);
        LaunchResult result = LaunchBench.Launch(si, LaunchBench.Fine);
        ContactCrossing spent = Assert.Single(result.Crossings, c => c.Before == CircuitConnection.Open && c.After == CircuitConnection.Clamped);
        Assert.Equal(0, spent.CurrentBefore.Amperes);
        Assert.Equal(LaunchOutcome.Released, result.Outcome);

        // U/K = 6 m/s is where the braking ends; nothing else acts.
        Assert.InRange(result.EndSpeed.MetersPerSecond, 6 - 1e-6, 6.05);
    }

    /// <summary>A coil shorted on itself brakes: its kinetic energy goes into its copper.</summary>
    [Fact]
    public void A_shorted_coil_brakes()
    {
        DriveSchedule shorted = DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-1).Meters(), 100.Meters(), Bus.Minus)]),
                new ContactLine([new ContactStrip((-1).Meters(), 100.Meters(), Bus.Minus)]),
                new Brush(1.Millimeters())),
            0);
        const double R = 1, K = 1.5, M = 0.2, V0 = 3, L = 1e-4;
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => K, R, shorted)], [L], new SourceSi(24, 0, Inf, Inf), M, 10, startSpeed: V0);
        LaunchResult result = LaunchBench.Launch(si, Until(0.5));

        // L → 0: v = v₀ e^(−K² t/(R m)).
        Assert.Equal(V0 * Math.Exp(-K * K * 0.5 / (R * M)), result.EndSpeed.MetersPerSecond, 2e-4);
        Assert.Equal(0, result.Ledger.Drawn.Joules);
        Assert.Equal(-result.Ledger.Kinetic.Joules, result.Ledger.CoilHeat.Joules, 1e-5);
        Assert.True(result.Ledger.Kinetic.Joules < 0);
        Assert.Equal(CircuitConnection.Shorted, result.Trace.At(0.1.Seconds()).Connections[0]);
    }
}
