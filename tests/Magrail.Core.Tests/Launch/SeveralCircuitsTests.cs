using Magrail.Tests.ReferenceData;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Several circuits: those that share nothing run each as alone, and in which order they are named does not matter.</summary>
public class SeveralCircuitsTests
{
    private const double Heavy = 1e9;
    private const double Agreement = 1e-6;

    public static TheoryData<string> Rows => [.. Table.Select(row => row.Text("case"))];

    private static IReadOnlyList<ReferenceTable.Row> Table => ReferenceTable.Read("launch-effects.csv").Rows;

    /// <summary>
    /// A source without resistance and a sled too heavy to notice its coils: each circuit's currents, breaks and heat are those that it has alone, whatever lies across it, burns at its
    /// contacts or warms.
    /// </summary>
    [Theory]
    [MemberData(nameof(Rows))]
    public void Circuits_that_share_nothing_run_as_each_alone(string name)
    {
        ReferenceTable.Row row = Table.Single(row => row.Text("case") == name);
        LauncherSi first = Carried(ReferenceEffectsTests.Described(row)), second = first with { Circuits = Another(row).Circuits, Inductances = Another(row).Inductances };

        // The ledger of such a sled does not close beyond the last digits of its kinetic energy.
        LaunchResult a = Launch(first), b = Launch(second), both = Launch(Both(first, second, 0));

        Assert.True(a.PeakCurrent.Amperes > 0.05 && b.PeakCurrent.Amperes > 0.05, $"{a.PeakCurrent}, {b.PeakCurrent}");
        double amperes = Agreement * Math.Max(a.PeakCurrent.Amperes, b.PeakCurrent.Amperes), joules = Agreement * (a.Ledger.CoilHeat.Joules + b.Ledger.CoilHeat.Joules);
        for (int i = 1; i < 40; i++)
        {
            Duration time = i / 40.1 * a.EndTime;
            ElectricCurrent[] currents = [.. both.Trace.At(time).Currents];
            Assert.Equal(a.Trace.At(time).Currents[0].Amperes, currents[0].Amperes, amperes);
            Assert.Equal(b.Trace.At(time).Currents[0].Amperes, currents[1].Amperes, amperes);
        }

        foreach ((Energy together, Energy one, Energy other) in Ledgers(both, a, b))
        {
            Assert.Equal(one.Joules + other.Joules, together.Joules, joules);
        }

        foreach ((LaunchResult alone, int circuit) in new[] { (a, 0), (b, 1) })
        {
            ContactBreak[] breaks = [.. both.Breaks.Where(one => one.Circuit == circuit)];
            Assert.Equal(alone.Breaks.Select(one => one.Ending), breaks.Select(one => one.Ending));
            Assert.Equal(alone.Breaks.Select(one => one.Contacts), breaks.Select(one => one.Contacts));
            foreach ((ContactBreak expected, ContactBreak seen) in alone.Breaks.Zip(breaks))
            {
                Assert.Equal(expected.Current.Amperes, seen.Current.Amperes, amperes);
                Assert.Equal(expected.Energy.Joules, seen.Energy.Joules, joules);
                Assert.Equal(expected.Charge.Coulombs, seen.Charge.Coulombs, Agreement * a.ChargeDrawn.Coulombs);
                Assert.Equal(expected.Duration.Seconds, seen.Duration.Seconds, Agreement * a.EndTime.Seconds);
                Assert.Equal(expected.Gap.Meters, seen.Gap.Meters, Agreement * a.EndPosition.Meters);
            }

            Assert.Equal(alone.Crossings.Select(one => (one.Before, one.After)), both.Crossings.Where(one => one.Circuit == circuit).Select(one => (one.Before, one.After)));
        }

        Assert.Equal(Math.Max(a.PeakCurrent.Amperes, b.PeakCurrent.Amperes), both.PeakCurrent.Amperes, 1e-3 * both.PeakCurrent.Amperes);
        Assert.Equal(Math.Max(a.PeakContactCurrent.Amperes, b.PeakContactCurrent.Amperes), both.PeakContactCurrent.Amperes, 1e-3 * both.PeakContactCurrent.Amperes);
        Assert.Equal(Math.Max(a.RmsCurrent.Amperes, b.RmsCurrent.Amperes), both.RmsCurrent.Amperes, amperes);
        Assert.Equal(Math.Max(a.ArcCharge.Coulombs, b.ArcCharge.Coulombs), both.ArcCharge.Coulombs, Agreement * a.ChargeDrawn.Coulombs);
        Assert.Equal(a.ChargeDrawn.Coulombs + b.ChargeDrawn.Coulombs, both.ChargeDrawn.Coulombs, Agreement * both.ChargeDrawn.Coulombs);
    }

    /// <summary>Coupled, on a soft source, with friction: first and second may change places.</summary>
    [Theory]
    [MemberData(nameof(Rows))]
    public void The_order_of_circuits_does_not_matter(string name)
    {
        ReferenceTable.Row row = Table.Single(row => row.Text("case") == name);
        LauncherSi si = ReferenceEffectsTests.Described(row), other = Another(row);
        double mutual = 0.3 * Math.Sqrt(si.Inductances[0] * other.Inductances[0]);
        LauncherSi forward = Both(si, si with { Circuits = other.Circuits, Inductances = other.Inductances }, mutual);
        LauncherSi backward = forward with { Circuits = [forward.Circuits[1], forward.Circuits[0]], Inductances = [forward.Inductances[3], mutual, mutual, forward.Inductances[0]] };
        LaunchResult a = LaunchBench.Launch(forward, LaunchOptions.Default), b = LaunchBench.Launch(backward, LaunchOptions.Default);

        Assert.Equal(a.EndSpeed.MetersPerSecond, b.EndSpeed.MetersPerSecond, Agreement * a.EndSpeed.MetersPerSecond);
        foreach ((Energy one, Energy same, _) in Ledgers(a, b, b))
        {
            Assert.Equal(one.Joules, same.Joules, Agreement * a.Ledger.Drawn.Joules);
        }

        // At one instant, that of the first circuit stands first.
        ContactBreak[] turned = [.. b.Breaks.OrderBy(one => -one.Circuit)];
        Assert.Equal(a.Breaks.OrderBy(one => one.Circuit).Select(one => (1 - one.Circuit, one.Ending)), turned.Select(one => (one.Circuit, one.Ending)));
        foreach ((ContactBreak one, ContactBreak same) in a.Breaks.OrderBy(one => one.Circuit).Zip(turned))
        {
            Assert.Equal(one.Time.Seconds, same.Time.Seconds, Agreement * a.EndTime.Seconds);
            Assert.Equal(one.Current.Amperes, same.Current.Amperes, 10 * Agreement * a.PeakCurrent.Amperes);
            Assert.Equal(one.Energy.Joules, same.Energy.Joules, Agreement * a.Ledger.Drawn.Joules);
        }

        HasTheSameCourse(a.Trace, b.Trace, a.PeakCurrent.Amperes);
        Assert.Equal(a.Braking is null, b.Braking is null);
        if (a.Braking is { } braking)
        {
            HasTheSameCourse(braking.Trace, b.Braking!.Trace, a.PeakCurrent.Amperes);
        }

        // Nor do the tolerances of their currents: as many steps, but for those that round-off decides.
        Assert.Equal(a.Statistics.StepsAccepted, b.Statistics.StepsAccepted, 0.01 * a.Statistics.StepsAccepted);
        Assert.Equal(a.Statistics.Evaluations, b.Statistics.Evaluations, 0.01 * a.Statistics.Evaluations);
        Assert.Equal(a.PeakCurrent.Amperes, b.PeakCurrent.Amperes, 1e-3 * a.PeakCurrent.Amperes);
        Assert.Equal(a.RmsCurrent.Amperes, b.RmsCurrent.Amperes, 10 * Agreement * a.PeakCurrent.Amperes);
    }

    /// <summary>Between their steps and in their columns, with first and second in each other's places.</summary>
    private static void HasTheSameCourse(LaunchTrace a, LaunchTrace b, double peak)
    {
        (double from, double to) = (a.TimeSeconds[0], a.End.Seconds);
        for (int i = 1; i < 60; i++)
        {
            var time = Duration.FromSeconds(from + ((to - from) * i / 60.1));
            LaunchSample one = a.At(time), same = b.At(time);
            Assert.Equal(one.Connections, same.Connections.Reverse());
            Assert.Equal(one.Currents[0].Amperes, same.Currents[1].Amperes, 1e-4 * peak);
            Assert.Equal(one.Currents[1].Amperes, same.Currents[0].Amperes, 1e-4 * peak);
            Assert.Equal(one.Position.Meters, same.Position.Meters, Agreement * to);
        }

        // Columns are the samples at their times; where an event changes things, either side of it.
        foreach (LaunchTrace trace in new[] { a, b })
        {
            Assert.Equal(2, trace.CurrentAmperes.Length);
            for (int row = 1; row < trace.TimeSeconds.Length - 1; row += 11)
            {
                if (trace.TimeSeconds[row] > trace.TimeSeconds[row - 1] && trace.TimeSeconds[row + 1] > trace.TimeSeconds[row])
                {
                    LaunchSample sample = trace.At(Duration.FromSeconds(trace.TimeSeconds[row]));
                    Assert.Equal(sample.Currents.Select(current => current.Amperes), trace.CurrentAmperes.Select(column => column[row]), (x, y) => Math.Abs(x - y) <= 1e-9 * peak);
                    Assert.Equal(sample.Force.Newtons, trace.ForceNewtons[row], 1e-9 * peak);
                }
            }
        }
    }

    private static LaunchResult Launch(LauncherSi si) => LaunchBench.Simulation(si, LaunchOptions.Default).Run();

    /// <summary>A second circuit for a row: other strips, more ohms, more turns, a smaller drop.</summary>
    private static LauncherSi Another(ReferenceTable.Row row) => ReferenceEffectsTests.Described(row.Times(column => column switch
    {
        "pitch" => 0.9,
        "ohms" or "q_ohms" or "l_ohms" => 1.5,
        "k0" or "henries" or "heat_capacity" => 1.25,
        "drop" => 0.75,
        _ => 1,
    }));

    /// <summary>A launcher whose sled and source take no notice of what the coils do.</summary>
    private static LauncherSi Carried(LauncherSi si) => si with
    {
        Source = si.Source with { CurrentLimit = double.PositiveInfinity },
        SourceResistance = 0,
        BusBars = null,
        Mass = Heavy,
        StartSpeed = 3,
        SlidingFriction = 0,
        RestFriction = 0,
        Viscous = 0,
        DragFactor = 0,
        SlopeForce = 0,
        Braking = null,
    };

    private static LauncherSi Both(LauncherSi first, LauncherSi second, double mutual) => first with
    {
        Circuits = [first.Circuits[0], second.Circuits[0]],
        Inductances = [first.Inductances[0], mutual, mutual, second.Inductances[0]],
    };

    private static IEnumerable<(Energy First, Energy Second, Energy Third)> Ledgers(LaunchResult first, LaunchResult second, LaunchResult third)
    {
        foreach (Func<EnergyLedger, Energy> entry in new Func<EnergyLedger, Energy>[]
        {
            ledger => ledger.Drawn, ledger => ledger.CoilHeat, ledger => ledger.OtherHeat, ledger => ledger.Arcs, ledger => ledger.Suppressed, ledger => ledger.Breaks, ledger => ledger.Magnetic,
        })
        {
            yield return (entry(first.Ledger), entry(second.Ledger), entry(third.Ledger));
        }
    }
}
