using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Each limit against figures made up by hand: what is reached, what is allowed, what is left, and when there is none.</summary>
public class LimitRulesTests
{
    private static readonly Launcher Whole = LaunchBench.Whole(3);

    private static readonly Launcher Stated = LimitTests.Stated;

    private static readonly LaunchFigures Figures = new()
    {
        Outcome = LaunchOutcome.Released,
        EndSpeed = 8,
        EndTime = 0.04,
        EndPosition = 0.2,
        PeakAcceleration = 300,
        PeakCurrent = 18,
        PeakContactCurrent = 20,
        RmsCurrent = 12,
        PeakSourceCurrent = 24,
        ChargeDrawn = -36,
        HottestCoil = 273.15 + 65,
        ArcCharge = 0.1,
        Arced = true,
        LongestArc = 0.001,
        FlashedOver = false,
        Braking = BrakingOutcome.Stopped,
        BrakingDistance = 0.1,
        BrakingEndSpeed = 0,
        EnergyDrawn = 20,
        RelativeResidual = 1e-9,
        Steps = 100,
        Evaluations = 700,
    };

    private static Launcher With(Brush upper, Brush lower) => Stated with { Contacts = new ContactCommutator(Stated.Contacts.Upper, Stated.Contacts.Lower, upper, lower) };

    private static Limit Row(Launcher launcher, LaunchFigures figures, string name) => LimitRules.Of(launcher).Rows(figures).Single(row => row.Name == name);

    private static string[] Names(Launcher launcher, LaunchFigures figures) => [.. LimitRules.Of(launcher).Rows(figures).Select(row => row.Name).Order(StringComparer.Ordinal)];

    [Fact]
    public void Margins_by_hand()
    {
        Assert.Equal(1 - (5.0 / 8), Row(Stated, Figures, "release speed").Margin, 1e-12);
        Assert.True(Row(Stated, Figures, "release speed").MustReach);
        Assert.Equal(double.NegativeInfinity, Row(Stated, Figures with { Outcome = LaunchOutcome.Stalled }, "release speed").Margin);
        Assert.Equal(double.NegativeInfinity, Row(Stated, Figures with { EndSpeed = 0 }, "release speed").Margin);
        Assert.Equal(1 - (300.0 / 900), Row(Stated, Figures, "payload acceleration").Margin, 1e-12);
        Assert.False(Row(Stated, Figures, "payload acceleration").MustReach);
        Assert.Equal((155.0 - 65) / (155 - 20), Row(Stated, Figures, "coil insulation").Margin, 1e-12);
        Assert.Equal(-1, Row(Stated with { CoilTemperature = 160.DegreesCelsius() }, Figures, "coil insulation").Margin);
        Assert.Equal(-1, Row(Stated with { CoilTemperature = 155.DegreesCelsius() }, Figures, "coil insulation").Margin);
        Assert.Equal(1 - (20.0 / 30), Row(Stated, Figures, "brush current").Margin, 1e-12);
        Assert.Equal(1 - (36.0 / 7200), Row(Stated, Figures, "battery charge").Margin, 1e-12);
        Assert.Equal(1 - (24.0 / 60), Row(Stated, Figures, "source current").Margin, 1e-12);

        // Room of 5 mm and 0.5 m.
        Assert.Equal(1 - (0.1 / 0.505), Row(Stated, Figures, "braking room").Margin, 1e-12);
        foreach (BrakingOutcome other in (BrakingOutcome[])[BrakingOutcome.LeftTrack, BrakingOutcome.Unfinished])
        {
            Limit left = Row(Stated, Figures with { Braking = other, BrakingEndSpeed = 3 }, "braking room");
            Assert.Equal(-1, left.Margin);
            Assert.Contains("at 3 m/s", left.Advice, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("m/s", Row(Stated, Figures, "braking room").Advice, StringComparison.Ordinal);
        Assert.DoesNotContain("braking room", Names(Stated, Figures with { Braking = null }));
    }

    /// <summary>Time to melt goes as one over the square of the current: in 40 ms five times what melts it in a second.</summary>
    [Fact]
    public void Conductors_that_melt_bear_more_for_less_time()
    {
        double braid = AdiabaticHeating.CurrentTo(Conductor.Copper, Area.FromSquareMillimeters(0.5), 1.Seconds()).Amperes;
        Limit row = Row(Stated, Figures, "braid fusing");
        Assert.Equal(5 * braid, ((ElectricCurrent)row.Allowed).Amperes, 1e-9 * braid);
        Assert.Equal(12, ((ElectricCurrent)row.Reached).Amperes, 1e-12);
        double leads = FusingCurrent.Onderdonk(Area.FromSquareMillimeters(2.5), 1.Seconds(), 20.DegreesCelsius()).Amperes;
        Assert.Equal(1 - (24 / (5 * leads)), Row(Stated, Figures, "lead fusing").Margin, 1e-12);
        string[] none = Names(Stated, Figures with { EndTime = 0 });
        Assert.DoesNotContain("braid fusing", none);
        Assert.DoesNotContain("lead fusing", none);
    }

    /// <summary>Of both materials the one that softens or melts first, at the contact of the two that is worse.</summary>
    [Fact]
    public void The_weaker_of_the_pair_at_the_worse_contact_counts()
    {
        double softens = Math.Min(ContactMaterial.Copper.SofteningVoltage!.Typical.Volts, ContactMaterial.SilverGraphite.SofteningVoltage?.Typical.Volts ?? double.PositiveInfinity);
        double melts = Math.Min(ContactMaterial.Copper.MeltingVoltage!.Typical.Volts, ContactMaterial.SilverGraphite.MeltingVoltage?.Typical.Volts ?? double.PositiveInfinity);
        ElectricCurrent At(double volts, double milliohms) => ContactTemperature.CurrentAt(volts.Volts(), milliohms.Milliohms());
        Assert.Equal(1 - (20 / At(softens, 4).Amperes), Row(Stated, Figures, "contact softening").Margin, 1e-12);
        Assert.Equal(1 - (20 / At(melts, 4).Amperes), Row(Stated, Figures, "contact melting").Margin, 1e-12);
        foreach ((double upper, double lower) in new[] { (4.0, 9.0), (9.0, 4.0), (9.0, 0.0) })
        {
            var brush = new Brush(3.Millimeters(), upper.Milliohms(), 0.8.Newtons());
            Launcher uneven = With(brush, new Brush(3.Millimeters(), lower.Milliohms(), 0.8.Newtons()));
            Assert.Equal(1 - (20 / At(softens, 9).Amperes), Row(uneven, Figures, "contact softening").Margin, 1e-12);
        }

        // Constriction and film melt; the body of the brush does not.
        var parts = new ContactResistance(3.Milliohms(), 2.Milliohms());
        Launcher inParts = With(new Brush(3.Millimeters(), parts, 0.8.Newtons()), new Brush(3.Millimeters(), parts, 0.8.Newtons()));
        Assert.Equal(1 - (20 / At(softens, (parts.Constriction + parts.Film).Milliohms).Amperes), Row(inParts, Figures, "contact softening").Margin, 1e-12);
        var none = new Brush(3.Millimeters(), 0.Ohms(), 0.8.Newtons());
        Assert.DoesNotContain("contact softening", Names(With(none, none), Figures));
        Assert.DoesNotContain("contact melting", Names(Stated with { Ratings = new Ratings() }, Figures));
        Assert.Contains("contact melting", Names(Stated with { Ratings = new Ratings { StripMaterial = ContactMaterial.Copper } }, Figures));
    }

    [Fact]
    public void An_arc_has_the_gap_less_the_longer_brush()
    {
        double way = (Stated.Contacts.LongestBrush!.Value - 3.Millimeters()).Meters;
        Assert.Equal(way, ((Length)Row(Stated, Figures, "arc length").Allowed).Meters, 1e-12);
        Assert.Equal(1 - (0.001 / way), Row(Stated, Figures, "arc length").Margin, 1e-12);
        Assert.Equal(-1, Row(Stated, Figures with { FlashedOver = true }, "arc length").Margin);
        Assert.DoesNotContain("arc length", Names(Stated, Figures with { Arced = false }));
        Assert.DoesNotContain("arc length", Names(Stated with { Arc = null }, Figures));
        Launcher uneven = With(Stated.Contacts.UpperBrush, new Brush(4.Millimeters(), 4.Milliohms(), 0.8.Newtons()));
        Assert.Equal((uneven.Contacts.LongestBrush!.Value - 4.Millimeters()).Meters, ((Length)Row(uneven, Figures, "arc length").Allowed).Meters, 1e-12);
    }

    /// <summary>A supply that holds its limit reaches it to round-off: margin zero, not broken. Beyond a millionth it is another matter.</summary>
    [Theory]
    [InlineData(20, 1 - (20.0 / 40))]
    [InlineData(40, 0)]
    [InlineData(40 * (1 + 1e-9), 0)]
    [InlineData(40 * (1 + 0.9e-6), 0)]
    [InlineData(40 * (1 + 1.1e-6), -1.1e-6)]
    [InlineData(50, 1 - (50.0 / 40))]
    public void A_supply_at_its_limit_is_not_beyond(double amperes, double margin)
    {
        Launcher supplied = Stated with { Source = new BenchSupply(36.Volts(), limit: 40.Amperes()) };
        Limit row = Row(supplied, Figures with { PeakSourceCurrent = amperes }, "supply current limit");
        Assert.Equal(margin, row.Margin, 1e-12);
        Assert.Equal(margin < -1e-9, row.IsBroken);
        Assert.DoesNotContain("battery charge", Names(supplied, Figures));
        Assert.DoesNotContain("supply current limit", Names(Stated with { Source = new BenchSupply(36.Volts()) }, Figures));
    }

    [Fact]
    public void The_nearest_is_the_least_margin_of_those_that_apply()
    {
        LimitRules rules = LimitRules.Of(Stated);
        foreach (LaunchFigures figures in (LaunchFigures[])
        [
            Figures, Figures with { EndSpeed = 5.1 }, Figures with { PeakAcceleration = 890 }, Figures with { HottestCoil = 425 }, Figures with { FlashedOver = true, Arced = false }, Figures with { BrakingDistance = 0.5 },
            Figures with { FlashedOver = true }, Figures with { PeakContactCurrent = 31 }, Figures with { Outcome = LaunchOutcome.Stalled },
        ])
        {
            Limit least = rules.Rows(figures).MinBy(row => row.Margin)!;
            Assert.Equal((least.Margin, least.Name), rules.Nearest(figures));
        }

        Assert.Equal("payload acceleration", rules.Nearest(Figures with { PeakAcceleration = 899, PeakContactCurrent = 1 }).Name);
        Assert.Equal("release speed", rules.Nearest(Figures with { EndSpeed = 4 }).Name);
    }

    [Fact]
    public void Only_what_is_stated_is_a_limit()
    {
        Assert.Equal(["battery charge", "coil insulation", "demagnetization"], Names(Whole, Figures));
        Assert.Equal(
            ["arc length", "battery charge", "braid fusing", "braking room", "brush current", "coil insulation", "contact melting", "contact softening", "demagnetization", "lead fusing", "payload acceleration", "release speed", "source current"],
            Names(Stated, Figures));
    }

    /// <summary>Of two coils the one whose field comes nearer to what the magnets bear.</summary>
    [Fact]
    public void Of_several_coils_the_worse_counts()
    {
        Coil few = Coil.Wind(LaunchBench.Coil.Wire, LaunchBench.Coil.Former, 40);
        double Margin(params Coil[] coils)
        {
            Launcher launcher = Whole with { Sled = new Sled(25.Grams(), [.. coils.Select((coil, i) => new CoilMount(coil, (40 * i).Millimeters(), WindingSense.Plain, 0))]) };
            return Row(launcher, Figures, "demagnetization").Margin;
        }

        double many = Margin(LaunchBench.Coil), less = Margin(few);
        Assert.True(many < less, $"{many} against {less}");
        Assert.Equal(many, Margin(LaunchBench.Coil, few));
        Assert.Equal(many, Margin(few, LaunchBench.Coil));
        Limit row = Row(Whole, Figures, "demagnetization");
        Assert.Equal(1 - (((Magnetization)row.Reached).AmperesPerMeter / ((Magnetization)row.Allowed).AmperesPerMeter), row.Margin, 1e-12);
        Demagnetization known = Demagnetization.Of(Whole.Track, Whole.MagnetTemperature, LaunchBench.Coil, Figures.PeakCurrent.Amperes());
        Assert.Equal(1 - ((1 - known.Worst.Margin) / Demagnetization.Knee), row.Margin, 1e-9);
    }
}
