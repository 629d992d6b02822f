using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Faults between the parts are found before the run, all together.</summary>
public class LauncherFaultTests
{
    [Fact]
    public void A_sound_launcher_has_no_fault() => Assert.Empty(LaunchBench.Whole().Validate());

    /// <summary>Brush longer than the gap, coil wider than the gap, strips out of order, coil starting outside the track: one exception tells all four.</summary>
    [Fact]
    public void All_faults_are_reported_together()
    {
        Track track = Track.OfFacingPairs(
            new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), 5.Millimeters(), 6, 20.Millimeters());
        ContactCommutator contacts = LaunchBench.Commutator(
            6, (3, 17, Bus.Minus, Bus.Plus), (23, 37, Bus.Plus, Bus.Minus), (63, 77, Bus.Plus, Bus.Minus), (41, 57, Bus.Minus, Bus.Plus));
        var launcher = new Launcher(track, new Sled(25.Grams(), LaunchBench.Coil), contacts, new BenchSupply(36.Volts(), outputResistance: 0.1.Ohms()))
        {
            Start = (-50).Millimeters(),
            Release = 100.Millimeters(),
        };
        LauncherDescriptionException error = Assert.Throws<LauncherDescriptionException>(() => launcher.Launch());
        string[] faults = [.. error.Faults.Select(fault => fault.ToString())];
        Assert.Contains(faults, f => f.Contains("upper brush of 6 mm bridges", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.Contains("lower brush of 6 mm bridges", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.Contains("7 mm long across a gap of 5 mm", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.Contains("strips 2 and 3 are out of order", StringComparison.Ordinal));
        Assert.Contains(faults, f => f.Contains("starts outside the track", StringComparison.Ordinal) && f.Contains("-50 mm", StringComparison.Ordinal));
        Assert.All(error.Faults, fault => Assert.Contains(fault.Message, error.Message, StringComparison.Ordinal));
        Assert.Contains($"({error.Faults.Count} faults)", error.Message, StringComparison.Ordinal);
        Assert.Equal(error.Faults, launcher.Validate());
    }

    /// <summary>A bridging brush is told with its place, its current (V over source, and twice each of two half contacts) and the greatest length.</summary>
    [Fact]
    public void A_bridging_brush_is_told_with_place_and_current()
    {
        ContactCommutator contacts = LaunchBench.Commutator(8, (0, 12, Bus.Minus, Bus.Plus), (17, 32, Bus.Plus, Bus.Minus));
        var launcher = new Launcher(LaunchBench.TrackOf(4), new Sled(25.Grams(), LaunchBench.Coil), contacts, new BatteryPack(36.Volts(), 80.Milliohms(), 2.AmpereHours()));
        LauncherFault[] faults = [.. launcher.Validate()];
        Assert.Equal(2, faults.Length);
        Assert.All(faults, fault =>
        {
            // 36 V over 80 mohm + 4 × 5 mohm = 360 A; the brush meets the second strip at 17 − 4 = 13 mm.
            Assert.Contains("360 A", fault.Message, StringComparison.Ordinal);
            Assert.Contains("sled at 13 mm", fault.Message, StringComparison.Ordinal);
            Assert.Contains("shorter than the shortest such gap, 5 mm", fault.Message, StringComparison.Ordinal);
        });
    }

    [Fact]
    public void A_brush_as_long_as_the_longest_touches_both_in_one_point_only()
    {
        ContactCommutator contacts = LaunchBench.Commutator(5, (0, 12, Bus.Minus, Bus.Plus), (17, 32, Bus.Plus, Bus.Minus));
        Assert.Equal(5, contacts.LongestBrush!.Value.Millimeters, 1e-9);
        Assert.Empty(DriveSchedule.Of(contacts, 0).Bridges);
        Assert.NotEmpty(DriveSchedule.Of(LaunchBench.Commutator(5.01, (0, 12, Bus.Minus, Bus.Plus), (17, 32, Bus.Plus, Bus.Minus)), 0).Bridges);
    }

    [Fact]
    public void Coils_that_overlap_and_a_release_before_the_start()
    {
        Launcher whole = LaunchBench.Whole();
        Launcher overlapping = whole with { Sled = new Sled(25.Grams(), [new CoilMount(LaunchBench.Coil, 0.Millimeters()), new CoilMount(LaunchBench.Coil, 20.Millimeters(), circuit: 1)]) };
        Assert.Contains(overlapping.Validate(), fault => fault.Message.Contains("overlap", StringComparison.Ordinal) && fault.Message.Contains("28.98 mm", StringComparison.Ordinal));
        Launcher behind = whole with { Release = 1.Millimeters() };
        Assert.Contains(behind.Validate(), fault => fault.Message.Contains("release at 1 mm", StringComparison.Ordinal));
        Launcher unfed = whole with { Start = 20.Millimeters() };
        Assert.Contains(unfed.Validate(), fault => fault.Message.Contains("no coil is fed", StringComparison.Ordinal));
        Assert.Empty((unfed with { StartSpeed = 1.MetersPerSecond() }).Validate());
    }
}
