using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Regression;

/// <summary>Breaks of several circuits, and of contacts with a resistance, that were told wrongly. All launchers are invented.</summary>
public class BreaksOfSeveralCircuits
{
    private const double Inf = double.PositiveInfinity;

    /// <summary>While one circuit's arc burned, what another lost at an ideal break was counted to both.</summary>
    [Fact]
    public void An_ideal_break_during_anothers_arc_costs_that_arc_nothing()
    {
        LaunchResult result = LaunchBench.Launch(Pair(0, leadOfSmall: 1e-3), Until(0.06));

        Assert.Equal([BreakEnding.DiedOut, BreakEnding.Lost], result.Breaks.Select(one => one.Ending));
        Assert.True(result.Ledger.Breaks.Joules > 0);
        Assert.Equal(result.Ledger.Arcs.Joules + result.Ledger.Breaks.Joules, result.Breaks.Sum(one => one.Energy.Joules), 1e-9);
        Assert.Equal(result.Ledger.Arcs.Joules, result.Breaks[0].Energy.Joules, 1e-9);
    }

    /// <summary>
    /// A current below the arc's minimum dies at once and its flux moves to a coupled coil whose arc is about to die: where that turned its current round, the arc was ended
    /// with the current set to zero and its energy on no entry.
    /// </summary>
    [Theory]
    [InlineData(1e-6)]
    [InlineData(3e-6)]
    [InlineData(6e-6)]
    [InlineData(9e-6)]
    public void An_arc_whose_current_another_break_turns_round_ends_on_the_ledger(double before)
    {
        const double M = 0.8e-3;
        double dies = LaunchBench.Launch(Pair(M, leadOfSmall: 4), Until(0.06)).Breaks[0].Duration.Seconds;
        LaunchResult result = LaunchBench.Launch(Pair(M, leadOfSmall: 4 * (dies - before)), Until(0.06));

        Assert.Equal(2, result.Breaks.Length);
        Assert.Equal(BreakEnding.DiedOut, result.Breaks[0].Ending);
        Assert.InRange(result.Breaks[0].Duration.Seconds, dies - 1.1 * before, dies - 0.9 * before);
        Assert.InRange(result.Ledger.RelativeResidual, 0, 1e-9);
        Assert.Equal(result.Ledger.Arcs.Joules + result.Ledger.Breaks.Joules, result.Breaks.Sum(one => one.Energy.Joules), 1e-9);
    }

    /// <summary>An arc that still burned as the run ended had a gap and an energy, but no duration, and the table of limits passed it over.</summary>
    [Fact]
    public void An_unfinished_arc_has_burned_until_the_end()
    {
        LaunchResult result = LaunchBench.Launch(Pair(0, leadOfSmall: 4), Until(0.0503));

        Assert.Equal(BreakEnding.Unfinished, result.Breaks[0].Ending);
        Assert.Equal(3e-4, result.Breaks[0].Duration.Seconds, 1e-9);
        Assert.Equal(3e-4 * 4, result.Breaks[0].Gap.Meters, 1e-9);
    }

    /// <summary>With a resistor across the coil, the current just before a break was computed without the resistance of the contact that was about to part.</summary>
    [Fact]
    public void The_current_broken_is_that_through_the_contact_as_it_was()
    {
        const double V = 12, Rb = 1, R = 1, Rp = 1;
        DriveSchedule schedule = DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-1).Meters(), 0.199.Meters(), Bus.Plus)]),
                new ContactLine([new ContactStrip((-1).Meters(), 10.Meters(), Bus.Minus)]),
                new Brush(2.Millimeters(), Rb.Ohms())),
            0);
        CircuitSi circuit = LaunchBench.Circuit(_ => 0, R, schedule) with { UpperBrush = new BrushSi(Rb), LowerBrush = new BrushSi(0) };
        LauncherSi si = LaunchBench.Si([circuit], [1e-3], new SourceSi(V, 0, Inf, Inf), 1e6, 5, startSpeed: 4) with
        {
            Suppressor = SuppressorSi.None with { Conductance = 1 / Rp },
        };
        ContactBreak broken = Assert.Single(LaunchBench.Launch(si, Until(0.06)).Breaks);

        // A voltage divider: 1 ohm, and two of 1 ohm in parallel.
        Assert.Equal(V / (Rb + (R * Rp / (R + Rp))), broken.Current.Amperes, 1e-7);
    }

    /// <summary>
    /// With the switch open, a coil whose brush bridges the rails was taken off them with its current standing in it and its energy on no entry. The bridging brush
    /// closes the coil on itself: i = I₀ exp(−(R + Rb) t/L).
    /// </summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_bridged_coil_keeps_its_way_when_the_switch_opens(bool arcs)
    {
        const double V = 12, R = 1, L = 2e-3, Rb = 5e-3, Opens = 0.02, T = 1e-3;
        var upper = new ContactLine([new ContactStrip((-20).Millimeters(), (-1).Millimeters(), Bus.Plus), new ContactStrip(1.Millimeters(), 20.Millimeters(), Bus.Minus)]);
        var lower = new ContactLine([new ContactStrip((-20).Millimeters(), 20.Millimeters(), Bus.Minus)]);
        DriveSchedule schedule = DriveSchedule.Of(new ContactCommutator(upper, lower, new Brush(4.Millimeters(), Rb.Ohms()), new Brush(1.Millimeters(), 0.Ohms())), 0);
        CircuitSi circuit = LaunchBench.Circuit(_ => 0, R, schedule) with { UpperBrush = new BrushSi(Rb) };
        LauncherSi si = LaunchBench.Si([circuit], [L], new SourceSi(V, 0.1, Inf, Inf), 1, 3, atRest: 1, switchTimes: [Opens, 1], patience: 10) with
        {
            Arc = arcs ? ArcCharacteristic.Column(12.Volts(), ElectricField.Zero, 0.1.Amperes()).ToSi() : null,
        };
        LaunchResult result = LaunchBench.Launch(si, Until(Opens + T));

        double i0 = result.Trace.At(Opens.Seconds()).Currents[0].Amperes;
        Assert.True(i0 > 0.5);
        Assert.Equal(i0 * Math.Exp(-(R + Rb) * T / L), result.Trace.At(result.Trace.End).Currents[0].Amperes, 1e-8);
        Assert.Empty(result.Breaks);
    }

    /// <summary>The switch arcs as both brushes come to bridge: the current then has a way without the source, and was lost.</summary>
    [Fact]
    public void An_arc_at_the_switch_ends_where_the_brushes_bridge()
    {
        ContactLine Line(Bus first, Bus second) => new([new ContactStrip((-1).Meters(), 0.1.Meters(), first), new ContactStrip(0.101.Meters(), 10.Meters(), second)]);
        DriveSchedule schedule = DriveSchedule.Of(new ContactCommutator(Line(Bus.Plus, Bus.Minus), Line(Bus.Minus, Bus.Plus), new Brush(4.Millimeters(), 5.Milliohms())), 0);
        CircuitSi circuit = LaunchBench.Circuit(_ => 0, 1, schedule) with { UpperBrush = new BrushSi(5e-3), LowerBrush = new BrushSi(5e-3) };

        // The brush touches the second strip at 99 mm and leaves the first at 102 mm; the switch opens at 98.8 mm and closes at 100 mm.
        LauncherSi si = LaunchBench.Si([circuit], [5e-3], new SourceSi(24, 0.05, Inf, Inf), 1e6, 5, startSpeed: 4, switchTimes: [0.0988 / 4, 0.025]) with
        {
            Arc = ArcCharacteristic.Column(12.Volts(), ElectricField.Zero, 0.5.Amperes()).ToSi(),
        };
        LaunchResult result = LaunchBench.Launch(si, Until(0.025));

        ContactBreak spark = Assert.Single(result.Breaks);
        Assert.Equal(0.2e-3 / 4, spark.Duration.Seconds, 1e-9);
        double before = result.Trace.At((0.099 / 4).Seconds()).Currents[0].Amperes;
        Assert.Equal(before * Math.Exp(-1.01 * 0.25e-3 / 5e-3), result.Trace.At(result.Trace.End).Currents[0].Amperes, 1e-6);
    }

    private static LaunchOptions Until(double seconds) => LaunchBench.Fine with { TimeLimit = seconds.Seconds() };

    /// <summary>A circuit that breaks 12 A at 0.2 m, and one driven the other way that breaks 0.4 A later; 4 m/s.</summary>
    private static LauncherSi Pair(double mutual, double leadOfSmall)
    {
        static DriveSchedule Leaves(double place, Bus upper, Bus lower) => DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-1).Meters(), (place - 1e-3).Meters(), upper)]),
                new ContactLine([new ContactStrip((-1).Meters(), 10.Meters(), lower)]),
                new Brush(2.Millimeters(), 0.Ohms())),
            0);
        return LaunchBench.Si(
            [
                LaunchBench.Circuit(_ => 0, 1, Leaves(0.2, Bus.Plus, Bus.Minus)),
                LaunchBench.Circuit(_ => 0, 30, Leaves(0.2 + leadOfSmall, Bus.Minus, Bus.Plus)),
            ],
            [1e-3, mutual, mutual, 1e-3],
            new SourceSi(12, 0, Inf, Inf),
            1e6,
            9,
            startSpeed: 4) with
        {
            Arc = ArcCharacteristic.Column(20.Volts(), ElectricField.Zero, 0.5.Amperes()).ToSi(),
        };
    }
}
