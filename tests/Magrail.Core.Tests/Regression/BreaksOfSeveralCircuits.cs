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
