using Magrail.Laws;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Studies;

/// <summary>
/// How many turns? As the trade tells it (common practice, no source): of four coils of 100, 200, 300 and 400 turns of one wire on one former, at 16, 32 and 48 V, a middle one
/// is fastest at every voltage, the largest pulls hardest, the smallest draws the most current.
/// </summary>
public class TurnsQuestionTests
{
    private static readonly int[] Turns = [100, 200, 300, 400];
    private static readonly double[] Volts = [16, 32, 48];

    /// <summary>A launcher of our own whose source, leads and brushes have about as much resistance as its coils.</summary>
    private static Launcher WeaklyFed
    {
        get
        {
            var magnet = new BlockMagnet(18.Millimeters(), 8.Millimeters(), 30.Millimeters(), MagnetGrade.N42);
            Track track = Track.OfFacingPairs(magnet, 12.Millimeters(), 10, 30.Millimeters());
            Coil coil = Coil.Wind(
                Wire.Copper(WireGauge.Metric(0.4.Millimeters()), EnamelGrade.Grade1), CoilFormer.Rounded(12.Millimeters(), 24.Millimeters(), 4.Millimeters(), 9.Millimeters()), 200);
            return new Launcher(
                track,
                new Sled(150.Grams(), coil) { Friction = new GuideFriction(0.1) },
                ContactCommutator.For(track, coil, 0.8, 0.5.Millimeters(), new Brush(4.Millimeters(), 10.Milliohms())),
                new BatteryPack(32.Volts(), 2.Ohms(), 2.AmpereHours()),
                new Payload(20.Grams()))
            {
                Suppressor = Suppressor.Clamp(150.Volts()),
            };
        }
    }

    [Fact]
    public void A_middle_coil_is_fastest_the_largest_pulls_hardest_the_smallest_draws_most()
    {
        foreach (double volts in Volts)
        {
            LaunchResult[] launches = [.. Turns.Select(turns => DesignNumber.Voltage.With(DesignNumber.Turns.With(WeaklyFed, turns), volts.Volts()).Launch())];
            double[] speeds = [.. launches.Select(launch => launch.ExitSpeed.MetersPerSecond)];
            double[] forces = [.. launches.Select(launch => launch.Trace.ForceNewtons.Max())];
            double[] currents = [.. launches.Select(launch => launch.PeakCurrent.Amperes)];
            Assert.Equal(1, Array.IndexOf(speeds, speeds.Max()));
            Assert.Equal(forces.Order(), forces);
            Assert.Equal(currents.OrderDescending(), currents);
        }
    }

    /// <summary>
    /// Why: the pull of a coil that stands, K V/(R outside + R coil), grows with the turns as long as the resistance outside is no small part, for K and the coil's own
    /// resistance grow together; and the speed at which the back-EMF has eaten the voltage, V/K, falls with them. Few turns lack push, many lack speed. Without the
    /// resistance outside, more turns of one wire only lose: the smallest is the fastest.
    /// </summary>
    [Fact]
    public void The_resistance_outside_the_coil_makes_the_middle_best()
    {
        (double Pull, double TopSpeed)[] coils = [.. Turns.Select(turns =>
        {
            LaunchResult launch = DesignNumber.Turns.With(WeaklyFed, turns).Launch();
            double peak = Enumerable.Range(0, 200).Max(i => Math.Abs(launch.ForceConstantAt((0.15 + (0.0003 * i)).Meters()).NewtonsPerAmpere));
            return (peak * 32 / (2.02 + launch.Launcher.Sled.Coils[0].Coil.Resistance.Ohms), 32 / peak);
        })];
        Assert.Equal(coils.Select(coil => coil.Pull).Order(), coils.Select(coil => coil.Pull));
        Assert.Equal(coils.Select(coil => coil.TopSpeed).OrderDescending(), coils.Select(coil => coil.TopSpeed));

        Launcher stiff = DesignNumber.ContactResistance.With(DesignNumber.SourceResistance.With(WeaklyFed, 1.Milliohms()), ElectricResistance.Zero);
        foreach (double volts in Volts)
        {
            double[] speeds = [.. Speeds(stiff, volts)];
            Assert.Equal(speeds.OrderDescending(), speeds);
        }
    }

    /// <summary>
    /// Where it reverses: the same copper in the same room, nothing outside the coil, the ideal break. Then only volts per turn count (law 6): the smallest is the fastest at every
    /// voltage, and 100 turns at 16 V, 200 at 32 V and 300 at 48 V are one and the same launch, with the same ampere turns.
    /// </summary>
    [Fact]
    public void With_equal_copper_and_nothing_outside_turns_only_match_the_source()
    {
        Launcher[] rewound = [.. Turns.Select((_, i) => LaunchLaws.AtVoltsPerTurn(DesignNumber.Turns.With(WeaklyFed, 100), i + 1))];
        Assert.Equal(Turns, rewound.Select(launcher => launcher.Sled.Coils[0].Coil.Turns));
        foreach (double volts in Volts)
        {
            double[] speeds = [.. rewound.Select(launcher => DesignNumber.Voltage.With(launcher, volts.Volts()).Launch().ExitSpeed.MetersPerSecond)];
            Assert.Equal(speeds.OrderDescending(), speeds);
        }

        LaunchResult[] same = [.. Volts.Select((volts, i) => DesignNumber.Voltage.With(rewound[i], volts.Volts()).Launch())];
        foreach ((LaunchResult launch, int i) in same.Select((launch, i) => (launch, i)))
        {
            Assert.Equal(same[0].ExitSpeed.MetersPerSecond, launch.ExitSpeed.MetersPerSecond, 1e-8);
            Assert.Equal(100 * same[0].PeakCurrent.Amperes, Turns[i] * launch.PeakCurrent.Amperes, 1e-5 * 100 * same[0].PeakCurrent.Amperes);
        }
    }

    private static IEnumerable<double> Speeds(Launcher launcher, double volts)
        => new Study(launcher, DesignNumber.Voltage.Over(volts.Volts()), DesignNumber.Turns.Over(Turns))
            .Run(new StudyOptions { FindsLimits = false }).Points.Select(point => point.ExitSpeed!.Value.MetersPerSecond);
}
