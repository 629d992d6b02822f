using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>What the table of limits says: its rows, what is broken, and the cautions that a launcher's dangers call for.</summary>
public class LimitTableTests
{
    private static readonly Launcher Whole = LaunchBench.Whole(3);

    private static string[] Cautions(Launcher launcher, string begins)
        => [.. launcher.Launch().Limits.Cautions.Where(caution => caution.StartsWith(begins, StringComparison.Ordinal))];

    [Fact]
    public void Rows_are_in_words_and_the_broken_ones_are_marked()
    {
        Launcher launcher = Whole with { Payload = new Payload(40.Grams(), 40.MetersPerSecond(), 5000.MetersPerSecondSquared()) };
        LimitTable table = launcher.Launch().Limits;
        string[] lines = table.ToString().Split(Environment.NewLine);
        Assert.Equal("limit reached limit margin", string.Join(' ', lines[0].Split(' ', StringSplitOptions.RemoveEmptyEntries)));
        foreach ((Limit limit, string line) in table.Limits.Zip(lines.Skip(1)))
        {
            Assert.StartsWith($"{limit.Name} ", line, StringComparison.Ordinal);
            Assert.Contains($"{(limit.MustReach ? "≥" : "≤")} {Show.Quantity(limit.Allowed)}", line, StringComparison.Ordinal);
            Assert.Contains($" {Show.Number(Math.Round(100 * limit.Margin, 1))} %", line, StringComparison.Ordinal);
            Assert.Equal(limit.Name == "release speed", line.EndsWith("  broken", StringComparison.Ordinal));
        }

        string[] rest = lines[(1 + table.Limits.Length)..];
        Assert.Equal([$"! release speed: {table.Find("release speed")!.Advice}", .. table.Cautions.Select(caution => $"! {caution}")], rest);
        Assert.Same(table.Limits[0], table.Binding);
        Assert.False(table.Holds);
        Assert.Null(table.Find("no such limit"));
    }

    /// <summary>60 V of direct current is commonly taken for extra-low; above it bare strips may kill.</summary>
    [Theory]
    [InlineData(50, 60, "")]
    [InlineData(60, 60, "")]
    [InlineData(50, 65, "Electric shock: 65 V at the clamp when a contact breaks lies above 60 V")]
    [InlineData(70, 90, "Electric shock: 90 V from the source lies above 60 V")]
    [InlineData(70, 0, "Electric shock: 70 V from the source lies above 60 V")]
    [InlineData(50, 0, "")]
    public void Volts_that_may_kill_are_told(double source, double clamp, string expected)
    {
        Launcher launcher = Whole with
        {
            Source = new BatteryPack(source.Volts(), 45.Milliohms(), 2.AmpereHours()),
            Suppressor = clamp > source ? Suppressor.Clamp(clamp.Volts()) : Suppressor.IdealBreak,
        };
        string[] told = Cautions(launcher, "Electric shock");
        Assert.Equal(expected.Length > 0 ? 1 : 0, told.Length);
        Assert.All(told, caution => Assert.StartsWith(expected, caution, StringComparison.Ordinal));
        Assert.All(told, caution => Assert.Contains("follow local codes", caution, StringComparison.Ordinal));
    }

    [Fact]
    public void A_coil_that_burns_skin_is_told()
    {
        Assert.Empty(Cautions(Whole with { CoilTemperature = 40.DegreesCelsius() }, "Hot coil"));
        LaunchResult launch = (Whole with { CoilTemperature = 70.DegreesCelsius() }).Launch();
        Assert.Contains(launch.Limits.Cautions, caution => caution.StartsWith($"Hot coil: {Show.Quantity(launch.CoilTemperatures[0])} ", StringComparison.Ordinal));
    }

    [Fact]
    public void Sparks_and_what_flies_are_told_with_their_energies()
    {
        LaunchResult launch = (Whole with { Suppressor = Suppressor.IdealBreak, Arc = ArcCharacteristic.Of(ContactMaterial.Copper) }).Launch();
        ContactBreak[] burning = [.. launch.Breaks.Where(one => one.Energy.Joules > 0)];
        Assert.NotEmpty(burning);
        string sparks = Assert.Single(launch.Limits.Cautions, caution => caution.StartsWith("Sparks", StringComparison.Ordinal));
        Assert.StartsWith($"Sparks: {burning.Length} breaks, up to {Show.Quantity(Energy.FromJoules(burning.Max(one => one.Energy.Joules)))} each", sparks, StringComparison.Ordinal);
        double joules = 0.5 * 0.04 * launch.ExitSpeed.MetersPerSecond * launch.ExitSpeed.MetersPerSecond;
        Assert.Contains(launch.Limits.Cautions, caution => caution.StartsWith($"Projectile: the payload leaves with {Show.Quantity(Energy.FromJoules(joules))}; ", StringComparison.Ordinal));
        Assert.Empty(Cautions(Whole with { Payload = new Payload(0.Grams()) }, "Projectile"));
        Assert.Empty(Cautions(Whole with { Source = new BenchSupply(0.5.Volts()) }, "Projectile"));
        Assert.Empty(Cautions(Whole, "Sparks"));
    }

    [Fact]
    public void What_becomes_of_the_sled_is_told()
    {
        Assert.Contains("no brake is described", Assert.Single(Cautions(Whole, "Moving sled")), StringComparison.Ordinal);
        Assert.Contains("not released, so that no stop is computed", Assert.Single(Cautions(Whole with { Source = new BenchSupply(0.5.Volts()) }, "Moving sled")), StringComparison.Ordinal);
        Assert.Empty(Cautions(Whole with { Brake = SledBrake.Friction(5.Millimeters(), 0.5.Meters(), 20.Newtons()) }, "Moving sled"));
        Assert.Contains("leaves the track", Assert.Single(Cautions(Whole with { Brake = SledBrake.Friction(0.Meters(), 2.Millimeters(), 1.Newtons()) }, "Moving sled")), StringComparison.Ordinal);
        Launcher spring = Whole with { Brake = SledBrake.Spring(0.Meters(), 0.5.Meters(), ForcePerLength.FromNewtonsPerMeter(200)) };
        Assert.Contains("throws it back", Assert.Single(Cautions(spring, "Moving sled")), StringComparison.Ordinal);

        // Stopped by friction before it comes to its spring, nothing throws it back.
        Assert.Empty(Cautions(Whole with { Brake = SledBrake.Spring(3.Meters(), 0.5.Meters(), ForcePerLength.FromNewtonsPerMeter(200)) }, "Moving sled"));
        Launcher latched = Whole with { Brake = SledBrake.Spring(0.Meters(), 0.5.Meters(), ForcePerLength.FromNewtonsPerMeter(200), latched: true) };
        Assert.Empty(Cautions(latched, "Moving sled"));

        // Friction at rest of 0.18 holds on 10.2 degrees, up and down.
        foreach (double degrees in (double[])[10, -10])
        {
            Assert.Empty(Cautions(latched with { Slope = degrees.Degrees() }, "Moving sled"));
            Assert.Contains("on this slope", Assert.Single(Cautions(latched with { Slope = (1.05 * degrees).Degrees() }, "Moving sled")), StringComparison.Ordinal);
        }
    }

    /// <summary>A coil of some 15 mm along the track: wide above one and a half pitches of magnets that alternate.</summary>
    [Fact]
    public void A_coil_too_wide_for_its_pitch_is_told()
    {
        Coil coil = LaunchBench.Coil;
        double extent = coil.ExtentAlong.Millimeters;
        var magnet = new BlockMagnet(4.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        string? Told(double pitches, int stations = 3, params Coil[] more) => LimitTable.WideCoil(Whole with
        {
            Track = Track.OfFacingPairs(magnet, 10.Millimeters(), stations, (extent / pitches).Millimeters()),
            Sled = new Sled(25.Grams(), [.. more.Prepend(coil).Select((one, i) => new CoilMount(one, (60 * i).Millimeters()))]),
        });
        Assert.Null(Told(1.49));
        string wide = Told(1.51)!;
        Assert.StartsWith($"Wide coil: {Show.Quantity(coil.ExtentAlong)} along the track at a pitch of ", wide, StringComparison.Ordinal);
        Assert.Null(Told(1.51, stations: 1));
        Coil small = Coil.Wind(coil.Wire, coil.Former, 40);
        Assert.NotNull(Told(1.51, 3, small));
        Assert.Null(Told(1.49, 3, small));
        Assert.Contains((Whole with { Track = Track.OfFacingPairs(magnet, 10.Millimeters(), 3, (extent / 1.51).Millimeters()) }).Launch().Limits.Cautions, caution => caution == wide);
    }
}
