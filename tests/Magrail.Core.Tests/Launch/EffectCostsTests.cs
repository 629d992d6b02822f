using FsCheck;
using FsCheck.Fluent;
using Magrail.Laws;
using Magrail.Sources;
using Magrail.Tests.Laws;
using Magrail.Units;
using UnitsNet;
using Xunit.Abstractions;

namespace Magrail.Tests.Launch;

/// <summary>What each effect costs: against closed forms where a sled coasts, against direct launches everywhere.</summary>
public class EffectCostsTests(ITestOutputHelper output)
{
    private const double G = PhysicalConstants.StandardGravity;

    /// <summary>A sled that coasts over dead strips from 5 m/s: mass, way and loads are known, and no current flows.</summary>
    private static Launcher Coasting(GuideFriction friction, double dragSquareCentimeters = 0, double slopeDegrees = 0)
    {
        Track track = LaunchBench.TrackOf(10);
        var dead = new ContactLine([new ContactStrip(0.Millimeters(), 180.Millimeters(), Bus.Dead)]);
        return new Launcher(
            track,
            new Sled(25.Grams(), LaunchBench.Coil) { Friction = friction, DragArea = dragSquareCentimeters.SquareCentimeters() },
            new ContactCommutator(dead, dead, new Brush(3.Millimeters(), 0.Milliohms(), 0.8.Newtons())),
            new BenchSupply(20.Volts()),
            new Payload(40.Grams()))
        {
            Start = 0.Millimeters(),
            Release = 180.Millimeters(),
            StartSpeed = 5.MetersPerSecond(),
            Slope = slopeDegrees.Degrees(),
        };
    }

    /// <summary>
    /// Each alone in closed form: dry friction and slope v² = v₀² − 2 F s/m, viscous v = v₀ − c s/m, drag v = v₀ exp(−ρ Cd A s/(2 m)). Dry friction
    /// and drag together: v² = (v₀² + F/k) exp(−2 k s/m) − F/k. Newton's law integrated over the way.
    /// </summary>
    [Fact]
    public void Losses_of_a_coasting_sled_are_those_of_closed_form()
    {
        Launcher launcher = Coasting(new GuideFriction(0.12, 0.18, 0.05.Newtons()), 12, 20);
        EffectCosts costs = EffectCosts.Of(launcher, LaunchBench.Fine);
        output.WriteLine(costs.ToString());
        Assert.Equal(
            [LaunchEffect.DryFriction, LaunchEffect.ViscousFriction, LaunchEffect.Drag, LaunchEffect.Slope],
            costs.Rows.Select(row => row.Effect).Order());
        Assert.Equal(5, costs.Ideal.ExitSpeed!.Value.MetersPerSecond, 1e-10);

        double m = launcher.MovingMass.Kilograms;
        const double S = 0.18;
        double angle = 20 * Math.PI / 180;
        double friction = 0.12 * ((m * G) + 1.6);
        double k = 0.5 * PhysicalConstants.StandardAirDensity * 12e-4;
        double dry = Math.Sqrt(25 - (2 * friction * S / m));
        Check(LaunchEffect.DryFriction, dry);
        Check(LaunchEffect.ViscousFriction, 5 - (0.05 * S / m));
        Check(LaunchEffect.Drag, 5 * Math.Exp(-k * S / m));
        Check(LaunchEffect.Slope, Math.Sqrt(25 - (2 * G * Math.Sin(angle) * S)));

        double both = Math.Sqrt(((25 + (friction / k)) * Math.Exp(-2 * k * S / m)) - (friction / k));
        EffectCosts pair = EffectCosts.Of(launcher.WithOnly(LaunchEffect.DryFriction, LaunchEffect.Drag), LaunchBench.Fine);
        Assert.Equal(both, pair.Described.ExitSpeed!.Value.MetersPerSecond, 1e-9);
        Assert.Equal(dry - both, pair[LaunchEffect.Drag]!.Cost!.Value.MetersPerSecond, 1e-9);

        void Check(LaunchEffect effect, double speed)
        {
            EffectCost row = costs[effect]!;
            Assert.Equal(speed, row.Alone.ExitSpeed!.Value.MetersPerSecond, 1e-9);
            Assert.Equal(5 - speed, row.CostAlone!.Value.MetersPerSecond, 1e-9);
        }
    }

    /// <summary>
    /// A sled that coasts is one equation in v alone, so what slows it more everywhere ends slower: to take a loss away never slows it. (With a current that is
    /// not so: a slower sled leaves it more time to turn round.)
    /// </summary>
    [RepeatableProperty(25)]
    public Property Taking_a_loss_from_a_coasting_sled_never_slows_it()
    {
        Gen<Launcher> launchers =
            from sliding in Gen.Choose(0, 30)
            from viscous in Gen.Choose(0, 30)
            from drag in Gen.Choose(0, 30)
            from slope in Gen.Choose(0, 40)
            select Coasting(new GuideFriction(sliding / 100.0, viscousAtOneMeterPerSecond: (viscous / 100.0).Newtons()), drag, slope);
        return Prop.ForAll(Arb.From(launchers), launcher =>
        {
            EffectCosts costs = EffectCosts.Of(launcher);
            Assert.Equal(launcher.Effects(), costs.Rows.Select(row => row.Effect).Order());
            Assert.All(costs.Rows, row =>
            {
                Assert.True(row.Cost!.Value.MetersPerSecond > 0, row.ToString());
                Assert.True(row.CostAlone!.Value.MetersPerSecond > 0, row.ToString());
            });
        });
    }

    /// <summary>Every effect on: each number of the table is that of a launch made directly, and every row that can be is there.</summary>
    [Fact]
    public void Every_number_is_that_of_a_direct_launch()
    {
        Launcher launcher = Everything();
        EffectCosts costs = EffectCosts.Of(launcher);
        output.WriteLine(costs.ToString());
        LaunchEffect[] missing = [LaunchEffect.BankDischarge, LaunchEffect.CurrentLimit];
        Assert.Equal(LaunchEffects.All.Except(missing), costs.Rows.Select(row => row.Effect).Order());
        Same(launcher, costs.Described);
        Same(launcher.Ideal(), costs.Ideal);
        Assert.All(costs.Rows, row =>
        {
            Same(launcher.Without(row.Effect), row.Without);
            Assert.Equal(row.Without.ExitSpeed!.Value.MetersPerSecond - costs.Described.ExitSpeed!.Value.MetersPerSecond, row.Cost!.Value.MetersPerSecond, 1e-12);
            Launcher alone = row.Effect switch
            {
                LaunchEffect.ContactOverlap => launcher.WithOnly(LaunchEffect.ContactResistance, LaunchEffect.ContactOverlap),
                LaunchEffect.LateralFriction => launcher.WithOnly(LaunchEffect.DryFriction, LaunchEffect.LateralFriction),
                _ => launcher.WithOnly(row.Effect),
            };
            Same(alone, row.Alone);
            Assert.Contains(row.Effect, alone.Effects());
            Assert.Equal(row.Before.ExitSpeed!.Value.MetersPerSecond - row.Alone.ExitSpeed!.Value.MetersPerSecond, row.CostAlone!.Value.MetersPerSecond, 1e-12);
        });
        Assert.Equal(costs.Rows, costs.Rows.OrderByDescending(row => row.Cost!.Value.MetersPerSecond));

        static void Same(Launcher direct, EffectLaunch row)
        {
            Assert.Equal(direct, row.Launcher);
            Assert.Equal(direct.Prepare().RunSummary(), row.Summary);

            // A run that goes on into the brake takes other steps; both are good to 100 times the tolerance.
            double speed = LaunchBench.Launch(direct).ExitSpeed.MetersPerSecond;
            Assert.Equal(speed, row.ExitSpeed!.Value.MetersPerSecond, 100 * LaunchOptions.Default.RelativeTolerance * speed);
        }
    }

    /// <summary>A taken-away effect leaves nothing of itself in the ledger or in the figures, and the others stay.</summary>
    [Fact]
    public void What_is_taken_away_is_gone()
    {
        Launcher launcher = Everything().Without(LaunchEffect.ViscousFriction);
        Gone(LaunchEffect.DryFriction, ledger => ledger.Friction.Joules);
        Gone(LaunchEffect.Drag, ledger => ledger.Drag.Joules);
        Gone(LaunchEffect.Arc, ledger => ledger.Arcs.Joules);

        // Beside the arc the clamp has nothing to do: the arc dies before the coil's voltage gets there.
        launcher = launcher.Without(LaunchEffect.Arc);
        Gone(LaunchEffect.Suppressor, ledger => ledger.Suppressed.Joules);
        Gone(LaunchEffect.Slope, ledger => ledger.Potential.Joules);
        Assert.True(LaunchBench.Launch(launcher).PeakLateralForce.Newtons > 0);
        Assert.Equal(0, LaunchBench.Launch(launcher.Without(LaunchEffect.LateralFriction)).PeakLateralForce.Newtons);
        Assert.Equal(0, LaunchBench.Launch(launcher.Ideal()).Ledger.OtherHeat.Joules, 1e-12);

        void Gone(LaunchEffect effect, Func<EnergyLedger, double> part)
        {
            Assert.True(Math.Abs(part(LaunchBench.Launch(launcher).Ledger)) > 1e-6, effect.ToString());
            Assert.Equal(0, part(LaunchBench.Launch(launcher.Without(effect)).Ledger), 1e-12);
        }
    }

    /// <summary>The same launch with and without bounce side by side is one row: a bounce in the first millimeters costs speed at the exit.</summary>
    [Fact]
    public void A_bounce_is_one_row()
    {
        Launcher plain = LaunchBench.Whole(4);
        Launcher bouncing = plain with { Switch = new StartSwitch(plain.Switch.Resistance, [0.3.Milliseconds(), 4.Milliseconds(), 4.5.Milliseconds(), 9.Milliseconds()]) };
        EffectCost row = EffectCosts.Of(bouncing)[LaunchEffect.SwitchBounce]!;
        output.WriteLine(row.ToString());
        Assert.Equal(plain.Switch, row.Without.Launcher.Switch);
        Assert.Equal(LaunchBench.Launch(plain).ExitSpeed.MetersPerSecond, row.Without.ExitSpeed!.Value.MetersPerSecond, 1e-9);
        Assert.Equal(LaunchBench.Launch(bouncing).ExitSpeed.MetersPerSecond, row.Described.ExitSpeed!.Value.MetersPerSecond, 1e-9);
        Assert.Null(EffectCosts.Of(plain)[LaunchEffect.SwitchBounce]);
    }

    /// <summary>Whatever the launcher: gone once is gone, twice changes nothing, order does not matter, and the ideal one is its own ideal.</summary>
    [LawProperty]
    public void Effects_are_taken_away_once_and_in_any_order(Launcher launcher)
    {
        Launcher ideal = launcher.Ideal();
        Assert.Empty(ideal.Effects());
        Assert.Same(ideal, ideal.Ideal());
        Assert.Empty(ideal.Validate());
        Assert.Equal(ideal, LaunchEffects.All.Reverse().Aggregate(launcher, LaunchEffects.Without));
        Assert.Equal(launcher, launcher.WithOnly(LaunchEffects.All));
        foreach (LaunchEffect effect in LaunchEffects.All)
        {
            Launcher without = launcher.Without(effect);
            Assert.False(without.Has(effect));
            Assert.Same(without, without.Without(effect));
            if (!launcher.Has(effect))
            {
                Assert.Same(launcher, without);
                continue;
            }

            Assert.NotEqual(launcher, without);
            Assert.Empty(without.Validate());
            Assert.Equal(launcher.Effects().Where(other => other != effect && LaunchEffects.NeededBy(other) != effect), without.Effects());
            Assert.All(launcher.Effects(), other => Assert.Equal(without.Without(other), launcher.Without(other).Without(effect)));
        }
    }

    /// <summary>Every launch of a table, with any effect gone or alone, is computed to its end and closes its ledger.</summary>
    [LawProperty(10)]
    public void Every_launch_of_a_table_closes_its_ledger(Launcher launcher)
    {
        EffectCosts costs = EffectCosts.Of(launcher, new LaunchOptions { TimeLimit = 2.Seconds() });
        Assert.Equal(launcher.Effects(), costs.Rows.Select(row => row.Effect).Order());
        Assert.All(costs.Rows.SelectMany(row => new[] { row.Without, row.Alone, row.Before }).Append(costs.Described).Append(costs.Ideal), launch =>
        {
            LaunchSummary summary = launch.Summary!.Value;
            Assert.True(summary.Outcome is LaunchOutcome.Released or LaunchOutcome.Stalled or LaunchOutcome.RanBack or LaunchOutcome.TimeLimit, $"{summary.Outcome}: {launch.Launcher}");
            Assert.InRange(summary.RelativeResidual, 0, LaunchBench.LedgerLimit);
        });
    }

    /// <summary>Sources of every kind become a constant voltage.</summary>
    [Fact]
    public void The_ideal_source_is_a_constant_voltage()
    {
        Launcher whole = LaunchBench.Whole(3);
        PowerSource[] sources =
        [
            new BatteryPack(30.Volts(), 50.Milliohms(), 2.AmpereHours()),
            new CapacitorBank(10.Millifarads(), 30.Volts(), 20.Milliohms()),
            new BenchSupply(30.Volts(), 12.Amperes(), 10.Milliohms()),
        ];
        Assert.All(sources, source => Assert.Equal(new BenchSupply(30.Volts()), (whole with { Source = source }).Ideal().Source));
        Assert.Equal(new CapacitorBank(10.Millifarads(), 30.Volts(), 0.Ohms()), (whole with { Source = sources[1] }).Without(LaunchEffect.SourceResistance).Source);
        Assert.Equal(new BenchSupply(30.Volts(), outputResistance: 20.Milliohms()), (whole with { Source = sources[1] }).Without(LaunchEffect.BankDischarge).Source);
        Assert.Equal(new BenchSupply(30.Volts(), outputResistance: 10.Milliohms()), (whole with { Source = sources[2] }).Without(LaunchEffect.CurrentLimit).Source);
    }

    /// <summary>Nothing to take away: no rows, and the launch is the ideal one.</summary>
    [Fact]
    public void An_ideal_launcher_has_no_rows()
    {
        EffectCosts costs = EffectCosts.Of(LaunchBench.Whole(3).Ideal());
        Assert.Empty(costs.Rows);
        Assert.Equal(costs.Ideal.ExitSpeed, costs.Described.ExitSpeed);
    }

    /// <summary>A bridge on purpose shorts the source through the brush; without its resistance that is no launch, and the table says so.</summary>
    [Fact]
    public void A_launch_that_cannot_be_is_a_row_that_says_so()
    {
        Launcher whole = LaunchBench.Whole(4);
        Launcher bridging = whole with
        {
            Contacts = new ContactCommutator(whole.Contacts.Upper, whole.Contacts.Lower, new Brush(8.Millimeters(), 4.Milliohms(), 0.8.Newtons())),
            LaunchesWithBridges = true,
        };
        EffectCosts costs = EffectCosts.Of(bridging);
        output.WriteLine(costs.ToString());
        EffectCost row = costs[LaunchEffect.ContactResistance]!;
        Assert.Equal("impossible", row.Without.ToString());
        Assert.Contains("shorts the source", row.Without.Fault, StringComparison.Ordinal);
        Assert.Null(row.Cost);
        Assert.Same(row, costs.Rows[^1]);
        Assert.Throws<LauncherDescriptionException>(() => EffectCosts.Of(bridging.Without(LaunchEffect.ContactResistance)));
    }

    /// <summary>A launch that stalls by its friction: the row tells that it releases without.</summary>
    [Fact]
    public void A_stall_is_shown_as_one()
    {
        Launcher whole = LaunchBench.Whole(3);
        Launcher stuck = whole with { Sled = whole.Sled with { Friction = new GuideFriction(2) }, Source = new BenchSupply(0.5.Volts()) };
        EffectCosts costs = EffectCosts.Of(stuck);
        Assert.Equal("stalls", costs.Described.ToString());
        Assert.Equal(LaunchEffect.DryFriction, costs.Rows[0].Effect);
        Assert.NotNull(costs.Rows[0].Without.ExitSpeed);
        Assert.Null(costs.Rows[0].Cost);
        Assert.Contains("stalls", costs.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_table_reads_as_people_read_it()
    {
        string[] lines = EffectCosts.Of(Coasting(new GuideFriction(0.12, 0.18, 0.05.Newtons()), 12, 20)).ToString().Split(Environment.NewLine);
        Assert.Equal("                                      exit speed", lines[0]);
        Assert.StartsWith("as described", lines[1], StringComparison.Ordinal);
        Assert.Equal("ideal                                      5 m/s", lines[2]);
        Assert.Equal("effect                                without it         costs      it alone   costs alone", lines[4]);
        Assert.Equal(9, lines.Length);
        Assert.Contains(lines, line => line.StartsWith("dry friction", StringComparison.Ordinal) && line.Split(" m/s").Length == 5);
    }

    [Fact]
    public void What_cannot_be_is_refused()
    {
        Launcher whole = LaunchBench.Whole(3);
        Assert.Throws<ArgumentOutOfRangeException>(() => whole.Without((LaunchEffect)99));
        Assert.Throws<ArgumentOutOfRangeException>(() => whole.WithOnly((LaunchEffect)99));
        Assert.Throws<ArgumentOutOfRangeException>(() => LaunchEffects.NeededBy((LaunchEffect)99));
        Assert.Throws<ArgumentNullException>(() => EffectCosts.Of(null!));
        Assert.Throws<ArgumentNullException>(() => ((Launcher)null!).Ideal());
    }

    private static Launcher Everything()
    {
        Launcher whole = LaunchBench.Whole(6);
        var brush = new Brush(3.Millimeters(), new ContactResistance(3.Milliohms(), 1.Milliohms(), 2.Milliohms()), 0.8.Newtons()) { Drop = 0.6.Volts() };
        return whole with
        {
            Sled = whole.Sled with { OffsetAcross = 0.3.Millimeters() },
            Contacts = ContactCommutator.For(whole.Track, LaunchBench.Coil, 0.8, 0.5.Millimeters(), brush),
            Switch = new StartSwitch(6.Milliohms(), [0.5.Milliseconds(), 2.Milliseconds()]),
            Arc = ArcCharacteristic.Column(12.Volts(), ElectricField.FromVoltsPerMeter(1000), 0.4.Amperes()),
            BusBars = new BusBars(10.Milliohms(), (-20).Millimeters(), 300.Millimeters()),
            CoilsWarmUp = true,
            Slope = 10.Degrees(),
            Brake = SledBrake.Friction(Length.Zero, 500.Millimeters(), 20.Newtons()),
        };
    }
}
