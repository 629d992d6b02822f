using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>The limits table: every limit that is stated, the value reached, the margin, in the order in which they bind.</summary>
public class LimitTests
{
    /// <summary>A launcher that states a limit of every kind but those of a supply and of iron.</summary>
    internal static Launcher Stated => LaunchBench.Whole(3) with
    {
        Payload = new Payload(40.Grams(), 5.MetersPerSecond(), 900.MetersPerSecondSquared()),
        Brake = SledBrake.Friction(5.Millimeters(), 0.5.Meters(), 20.Newtons()),
        Leads = Leads.OfCopper(2.Meters(), Area.FromSquareMillimeters(2.5)),
        Arc = ArcCharacteristic.Of(ContactMaterial.SilverGraphite),
        Ratings = new Ratings
        {
            BrushMaterial = ContactMaterial.SilverGraphite,
            StripMaterial = ContactMaterial.Copper,
            BrushCurrent = 30.Amperes(),
            BrushVolume = Volume.FromCubicMillimeters(20),
            Braid = Area.FromSquareMillimeters(0.5),
            SourceCurrent = 60.Amperes(),
        },
    };

    [Fact]
    public void Every_stated_limit_has_its_row_and_the_nearest_comes_first()
    {
        LaunchResult launch = LaunchBench.Launch(Stated);
        LimitTable table = launch.Limits;

        string[] names =
        [
            "release speed", "payload acceleration", "coil insulation", "demagnetization", "brush current", "contact softening", "contact melting", "arc length",
            "braid fusing", "lead fusing", "battery charge", "source current", "braking room",
        ];
        Assert.Equal(names.Order(), table.Limits.Select(limit => limit.Name).Order());
        Assert.Equal(table.Limits.Select(limit => limit.Margin).Order(), table.Limits.Select(limit => limit.Margin));
        Assert.Same(table.Limits[0], table.Binding);
        foreach (string name in names)
        {
            Assert.Contains(name, table.ToString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Margins_are_what_is_left()
    {
        LaunchResult launch = LaunchBench.Launch(Stated);
        LimitTable table = launch.Limits;

        Assert.Equal(1 - (5 / launch.ExitSpeed.MetersPerSecond), table.Find("release speed")!.Margin, 1e-12);
        Assert.Equal(1 - (launch.PeakAcceleration.MetersPerSecondSquared / 900), table.Find("payload acceleration")!.Margin, 1e-12);
        Assert.Equal((155 - launch.CoilTemperatures[0].DegreesCelsius) / 135, table.Find("coil insulation")!.Margin, 1e-9);
        Assert.Equal(1 - (launch.PeakCurrent.Amperes / 30), table.Find("brush current")!.Margin, 1e-12);
        Assert.Equal(1 - (launch.Braking!.Distance.Meters / 0.505), table.Find("braking room")!.Margin, 1e-9);
        Assert.Equal(1 - (launch.ChargeDrawn.Coulombs / 7200), table.Find("battery charge")!.Margin, 1e-12);
        double onderdonk = FusingCurrent.Onderdonk(Area.FromSquareMillimeters(2.5), launch.EndTime, 20.DegreesCelsius()).Amperes;
        Assert.Equal(1 - (launch.PeakSourceCurrent.Amperes / onderdonk), table.Find("lead fusing")!.Margin, 1e-12);
        DemagnetizationMargin worst = launch.Demagnetization.Worst;
        Assert.Equal(1 - (worst.Field.AmperesPerMeter / (0.9 * worst.IntrinsicCoercivity.AmperesPerMeter)), table.Find("demagnetization")!.Margin, 1e-12);
        ElectricCurrent softens = ContactTemperature.CurrentAt(ContactMaterial.Copper.SofteningVoltage!.Typical, 4.Milliohms());
        Assert.True(table.Find("contact softening")!.Margin <= 1 - (launch.PeakCurrent / softens) + 1e-12, "the weaker of the pair counts");
        Assert.True(table.Find("contact softening")!.Margin < table.Find("contact melting")!.Margin);
    }

    [Fact]
    public void A_broken_limit_says_so_and_what_helps()
    {
        Launcher weak = Stated with
        {
            Payload = new Payload(40.Grams(), 50.MetersPerSecond(), 100.MetersPerSecondSquared()),
            Brake = SledBrake.Friction(0.Meters(), 5.Millimeters(), 1.Newtons()),
        };
        LimitTable table = LaunchBench.Launch(weak).Limits;

        Assert.False(table.Holds);
        foreach (string name in (string[])["release speed", "payload acceleration", "braking room"])
        {
            Assert.True(table.Find(name)!.IsBroken, name);
            Assert.Contains($"! {name}: {table.Find(name)!.Advice}", table.ToString(), StringComparison.Ordinal);
        }

        Assert.Contains(table.Cautions, caution => caution.StartsWith("Moving sled", StringComparison.Ordinal) && caution.Contains("leaves the track", StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_not_stated_has_no_row()
    {
        LimitTable table = LaunchBench.Launch(LaunchBench.Whole(3)).Limits;

        Assert.Equal((string[])["battery charge", "coil insulation", "demagnetization"], table.Limits.Select(limit => limit.Name).Order());
        Assert.True(table.Holds);
        Assert.Null(table.Find("braking room"));
    }

    [Fact]
    public void A_launch_that_stalls_breaks_its_needed_speed()
    {
        Launcher stuck = LaunchBench.Whole(3) with
        {
            Payload = new Payload(40.Grams(), 5.MetersPerSecond()),
            Sled = new Sled(25.Grams(), LaunchBench.Coil) { Friction = new GuideFriction(1.9) },
            Source = new BenchSupply(1.Volts()),
        };
        LimitTable table = stuck.Launch().Limits;

        Assert.True(table.Find("release speed")!.IsBroken);
        Assert.Equal("release speed", table.Binding!.Name);
    }

    [Fact]
    public void The_hazards_of_what_a_launcher_holds_are_told()
    {
        Launcher bank = LaunchBench.Whole(3) with
        {
            Source = new CapacitorBank(ElectricCapacitance.FromMillifarads(20), 50.Volts(), 20.Milliohms()),
            Suppressor = Suppressor.IdealBreak,
            Arc = ArcCharacteristic.Of(ContactMaterial.Copper),
        };
        LimitTable table = LaunchBench.Launch(bank).Limits;

        foreach (string hazard in (string[])["Stored energy", "Current", "Sparks", "Magnets", "Projectile", "Moving sled"])
        {
            Assert.Contains(table.Cautions, caution => caution.StartsWith(hazard, StringComparison.Ordinal));
        }

        Assert.Contains("local codes", table.Cautions[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void Contacts_carry_what_lies_across_the_coil_as_well()
    {
        Launcher shunted = Stated with { Suppressor = Suppressor.Resistor(8.Ohms()), Arc = null };
        LaunchResult launch = LaunchBench.Launch(shunted);

        Assert.True(launch.PeakContactCurrent.Amperes > launch.PeakCurrent.Amperes + 3, $"{launch.PeakContactCurrent} against {launch.PeakCurrent}");
        Assert.Equal(launch.PeakSourceCurrent.Amperes, launch.PeakContactCurrent.Amperes, 1e-9);
        Assert.Equal(1 - (launch.PeakContactCurrent.Amperes / 30), launch.Limits.Find("brush current")!.Margin, 1e-12);
        LaunchResult plain = LaunchBench.Launch(Stated);
        Assert.Equal(plain.PeakCurrent, plain.PeakContactCurrent);
    }

    [Fact]
    public void A_sled_that_does_not_stay_where_it_stops_is_told()
    {
        Launcher spring = LaunchBench.Whole(3) with { Brake = SledBrake.Spring(0.Meters(), 0.5.Meters(), ForcePerLength.FromNewtonsPerMeter(200)) };
        Assert.Contains(LaunchBench.Launch(spring).Limits.Cautions, caution => caution.Contains("throws it back", StringComparison.Ordinal));
        Launcher latched = spring with { Brake = SledBrake.Spring(0.Meters(), 0.5.Meters(), ForcePerLength.FromNewtonsPerMeter(200), latched: true) };
        Assert.DoesNotContain(LaunchBench.Launch(latched).Limits.Cautions, caution => caution.StartsWith("Moving sled", StringComparison.Ordinal));
        Launcher steep = latched with { Slope = 20.Degrees() };
        Assert.Contains(LaunchBench.Launch(steep).Limits.Cautions, caution => caution.Contains("slope", StringComparison.Ordinal));
    }

    [Fact]
    public void A_brush_that_arcs_wears_and_its_life_is_a_range()
    {
        LaunchResult launch = LaunchBench.Launch(Stated with { Suppressor = Suppressor.IdealBreak });

        Assert.True(launch.ArcCharge.Coulombs > 0);
        Assert.Equal(launch.Breaks.Sum(one => one.Charge.Coulombs), launch.ArcCharge.Coulombs, 1e-12);
        ContactLife life = launch.BrushLife!;
        Assert.True(life.Least < life.Typical && life.Typical < life.Greatest);
        Assert.True(life.Greatest / life.Least > 5, "honest about the spread");
    }

    [Fact]
    public void Recoil_is_the_momentum_of_sled_and_payload()
    {
        LaunchResult launch = LaunchBench.Launch(LaunchBench.Whole(3));
        double mass = LaunchBench.Whole(3).MovingMass.Kilograms;

        Assert.Equal(mass * launch.ExitSpeed.MetersPerSecond, launch.Recoil.Impulse.NewtonSeconds, 1e-12);
        Assert.Equal(launch.Recoil.Impulse.NewtonSeconds / 4, launch.Recoil.SpeedOf(4.Kilograms()).MetersPerSecond, 1e-12);

        // ½ m u² = µ m g s.
        double u = launch.Recoil.SpeedOf(4.Kilograms()).MetersPerSecond;
        Assert.Equal(u * u / (2 * 0.3 * 9.80665), launch.Recoil.SlideOf(4.Kilograms(), 0.3).Meters, 1e-12);
    }
}
