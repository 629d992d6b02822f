using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>What results say of themselves, and the figures that are made of others.</summary>
public sealed class LaunchWordsTests
{
    private static readonly Lazy<LaunchResult> Braked = new(() => LaunchBench.Checked((LaunchBench.Whole(4) with
    {
        StartSpeed = 0.5.MetersPerSecond(),
        Arc = ArcCharacteristic.Of(ContactMaterial.Copper),
        Brake = SledBrake.Friction(20.Millimeters(), 300.Millimeters(), 20.Newtons()),
    }).Launch()));

    /// <summary>A supply holds its current at its limit to round-off. A study had called such a point broken, and the launch of the same launcher had called the limit kept.</summary>
    [Fact]
    public void A_margin_within_round_off_is_kept_in_a_study_as_in_a_launch()
    {
        LaunchSummary summary = LaunchBench.Whole(4).Prepare().RunSummary() with { Outcome = LaunchOutcome.Released, NearestLimit = "leads" };
        Limit limit = LaunchBench.Whole(4).Launch().Limits.Binding!;
        foreach (double margin in (double[])[1, 0.25, 0, -1e-16, -0.9e-9, -1.1e-9, -0.25])
        {
            bool kept = margin > -1e-9;
            Assert.Equal(kept, (summary with { LeastMargin = margin }).Holds);
            Assert.Equal(kept, !(limit with { Margin = margin }).IsBroken);
            Assert.Equal(kept, !(limit with { Margin = margin }).ToString().Contains("BROKEN", StringComparison.Ordinal));
            Assert.Equal(kept, (summary with { LeastMargin = margin }).ToString().Contains("; leads nearest with ", StringComparison.Ordinal));
            Assert.Equal(!kept, (summary with { LeastMargin = margin }).ToString().Contains("; leads broken by ", StringComparison.Ordinal));
        }

        Assert.EndsWith("; leads broken by 25 %", (summary with { LeastMargin = -0.25 }).ToString(), StringComparison.Ordinal);
        Assert.Contains("margin -25 % BROKEN", (limit with { Margin = -0.25 }).ToString(), StringComparison.Ordinal);
        Assert.False((summary with { LeastMargin = double.NaN, NearestLimit = null }).Holds);
        Assert.DoesNotContain("leads", (summary with { LeastMargin = double.NaN, NearestLimit = null }).ToString(), StringComparison.Ordinal);
        LaunchSummary stalled = summary with { Outcome = LaunchOutcome.Stalled, LeastMargin = 1 };
        Assert.False(stalled.Holds);
        Assert.StartsWith("not released", stalled.ToString(), StringComparison.Ordinal);
        Assert.StartsWith("exit speed", summary.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_ledger_lists_what_is_not_zero_and_its_residual()
    {
        EnergyLedger ledger = Braked.Value.Ledger;
        string[] lines = ledger.ToString().Split(Environment.NewLine);
        (string Name, Energy Value)[] listed = [.. ledger.Entries.Where(entry => entry.Value.Joules != 0)];
        Assert.InRange(listed.Length, 5, ledger.Entries.Count - 1);
        Assert.Equal(["drawn from the source", .. listed.Select(entry => entry.Name), "residual"], lines.Select(line => line[..36].Trim()));
        Assert.Contains(Show.Quantity(ledger.Drawn), lines[0], StringComparison.Ordinal);
        Assert.Equal(ledger.Drawn.Joules - listed.Sum(entry => entry.Value.Joules), ledger.Residual.Joules, 1e-9);
        Assert.Equal(Math.Abs(ledger.Residual.Joules) / Math.Max(ledger.Drawn.Joules, listed.Max(entry => Math.Abs(entry.Value.Joules))), ledger.RelativeResidual, 1e-12);

        // By hand: 10 J drawn, 4 + 5 + 2 − 2 J spent: 1 J is missing, of 10. Where an entry is greater than what was drawn, of that.
        Energy none = Energy.Zero;
        var made = new EnergyLedger(Of(10), Of(4), Of(5), none, none, none, none, none, none, Of(2), none, Of(-2));
        Assert.Equal(1, made.Residual.Joules, 1e-12);
        Assert.Equal(0.1, made.RelativeResidual, 1e-12);
        Assert.Equal(0.5, (made with { Drawn = Of(-10), Kinetic = none, CoilHeat = Of(-20), OtherHeat = none, Potential = none }).RelativeResidual, 1e-12);
        Assert.Equal(0, new EnergyLedger(none, none, none, none, none, none, none, none, none, none, none, none).RelativeResidual);

        static Energy Of(double joules) => Energy.FromJoules(joules);
    }

    [Fact]
    public void A_break_tells_its_arc_or_what_was_lost()
    {
        ContactBreak one = Braked.Value.Breaks[0] with { FlashOverPosition = null };
        string arc = (one with { Duration = 20.Microseconds(), Energy = Energy.FromMillijoules(3) }).ToString();
        Assert.Contains("A broken, arc of 20 µs, 3 mJ", arc, StringComparison.Ordinal);
        string lost = (one with { Duration = 0.Microseconds(), Energy = Energy.FromMillijoules(3) }).ToString();
        Assert.EndsWith(" broken, 3 mJ lost", lost, StringComparison.Ordinal);
        Assert.EndsWith(" broken", (one with { Duration = 0.Microseconds(), Energy = Energy.Zero }).ToString(), StringComparison.Ordinal);
        Assert.EndsWith(" broken, flash-over at 12 mm", (one with { Duration = 0.Microseconds(), Energy = Energy.Zero, FlashOverPosition = 12.Millimeters() }).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Ratings_name_what_is_stated()
    {
        Assert.Equal($"insulation {Ratings.Default.Insulation}", new Ratings().ToString());
        var all = new Ratings
        {
            BrushMaterial = ContactMaterial.CopperGraphite,
            StripMaterial = ContactMaterial.Brass,
            BrushCurrent = 10.Amperes(),
            BrushVolume = Volume.FromCubicMillimeters(50),
            Braid = Area.FromSquareMillimeters(1.5),
            SourceCurrent = 30.Amperes(),
        };
        Assert.Equal(
            $"insulation {all.Insulation}, brushes of {ContactMaterial.CopperGraphite.Name}, strips of {ContactMaterial.Brass.Name}, brush current 10 A, brush volume {Show.Quantity(all.BrushVolume.Value)}, braid {Show.Quantity(all.Braid.Value)}, source current 30 A",
            all.ToString());
    }

    [Fact]
    public void Braking_and_recoil_add_up()
    {
        LaunchResult launch = Braked.Value;
        BrakingResult braking = launch.Braking!;
        Assert.Equal(BrakingOutcome.Stopped, braking.Outcome);
        Assert.Contains($"{Show.Quantity(braking.Room - braking.Distance)} before the end of the track", braking.ToString(), StringComparison.Ordinal);
        Assert.Equal(320, braking.Room.Millimeters, 1e-6);
        Assert.Equal(launch.EndPosition.Meters + braking.Distance.Meters, braking.StopPosition.Meters, 1e-12);

        // What the sled and its payload gain in momentum, the base gains the other way.
        double mass = launch.Launcher.MovingMass.Kilograms;
        Assert.Equal(mass * (launch.ExitSpeed.MetersPerSecond - 0.5), launch.Recoil.Impulse.NewtonSeconds, 1e-12);
        Assert.Equal(mass * launch.PeakAcceleration.MetersPerSecondSquared, launch.Recoil.PeakForce.Newtons, 1e-9);
        Assert.Equal(launch.PeakAcceleration.MetersPerSecondSquared / 9.80665, launch.PeakGs, 1e-12);
        Assert.Equal(launch.MeanAcceleration.MetersPerSecondSquared / 9.80665, launch.MeanGs, 1e-12);
        Assert.Equal((launch.ExitSpeed.MetersPerSecond - 0.5) / launch.ExitTime.Seconds, launch.MeanAcceleration.MetersPerSecondSquared, 1e-9);
    }

    /// <summary>Beyond its end a launch is followed at the end's speed, before its start it stands at the start, and inside it is the trace.</summary>
    [Fact]
    public void Motion_is_known_at_any_time()
    {
        LaunchTrace trace = Braked.Value.Trace;
        double end = trace.End.Seconds;
        (double last, double speed) = trace.MotionAt(end);
        Assert.Equal(Braked.Value.EndPosition.Meters, last, 1e-12);
        Assert.Equal(Braked.Value.EndSpeed.MetersPerSecond, speed, 1e-12);
        Assert.Equal(last + (speed * 0.01), trace.MotionAt(end + 0.01).PositionMeters, 1e-12);
        Assert.Equal(speed, trace.MotionAt(end + 0.01).SpeedMetersPerSecond, 1e-12);
        foreach (double part in (double[])[0, 0.001, 0.1, 0.3456, 0.9999])
        {
            LaunchSample sample = trace.At((part * end).Seconds());
            Assert.Equal(sample.Position.Meters, trace.MotionAt(part * end).PositionMeters, 1e-14);
            Assert.Equal(sample.Speed.MetersPerSecond, trace.MotionAt(part * end).SpeedMetersPerSecond, 1e-12);
        }

        // At the very edge of a step both steps say the same.
        foreach (double edge in trace.TimeSeconds.Skip(4).Take(40))
        {
            Assert.Equal(trace.At(edge.Seconds()).Position.Meters, trace.MotionAt(edge).PositionMeters, 1e-14);
        }

        Assert.StartsWith($"{trace.TimeSeconds.Length} rows from 0 s to ", trace.ToString(), StringComparison.Ordinal);
    }
}
