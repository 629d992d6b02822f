using Magrail.Tests.Laws;
using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Fabrication;

public sealed class WiringTests
{
    public static readonly AccuracyRow Withstand = new(
        "what a conductor withstands in a short, k of I²t = k²S²",
        "IEC 60364-4-43: k = 115 and 143 for copper in PVC and cross-linked polyethylene, 76 and 94 for aluminum (IEC60364)",
        0.015,
        "of k");

    // The standard's k is rounded to whole numbers (up to 0.7 % of 76), and its aluminum takes up 2.5 MJ/(m³ K) where the library's, from memory, takes up 2.43:
    // 1.4 % in k. Copper alone is within 0.6 %.
    [Theory]
    [InlineData("copper", 70, 160, 115)]
    [InlineData("copper", 90, 250, 143)]
    [InlineData("aluminum", 70, 160, 76)]
    [InlineData("aluminum", 90, 250, 94)]
    public void Adiabatic_heating_gives_the_factors_of_the_standard(string metal, double from, double to, double k)
    {
        Conductor conductor = metal == "copper" ? Conductor.Copper : Conductor.Aluminum;
        double amperes = AdiabaticHeating.CurrentTo(
            conductor, Area.FromSquareMillimeters(1), Duration.FromSeconds(1), Temperature.FromDegreesCelsius(to), Temperature.FromDegreesCelsius(from)).Amperes;
        Withstand.HoldRatio(k, amperes, $"{metal} {from} °C to {to} °C");
    }

    [Fact]
    public void Standard_sections_resist_as_their_standard_allows()
    {
        // IEC 60228, class 5, plain copper, ohm/km at 20 °C, as tabulated on three pages (references). The standard's values lie above those of the nominal area in
        // pure copper by the fill and lay of the strands: never below, and by up to a sixth.
        (double Area, double OhmsPerKilometer)[] table = [(0.5, 39.0), (0.75, 26.0), (1, 19.5), (1.5, 13.3), (2.5, 7.98), (4, 4.95), (6, 3.30), (10, 1.91), (16, 1.21), (25, 0.780)];
        Assert.Equal(table.Select(row => row.Area), StandardSection.All.Select(section => Math.Round(section.Area.SquareMillimeters, 9)));
        foreach ((StandardSection section, (double area, double ohms)) in StandardSection.All.Zip(table))
        {
            Assert.Equal(ohms, 1e3 * section.OhmsPerMeter, 9);
            Assert.InRange(ohms / (1e9 * Conductor.Copper.Resistivity.OhmMeters / area), 1.0, 1.16);
        }

        Assert.All(StandardSection.All.Zip(StandardSection.All.Skip(1)), pair => Assert.True(pair.First.Amperes < pair.Second.Amperes));
    }

    [Fact]
    public void A_fuse_keeps_the_bounds_of_its_gates()
    {
        var fuse = new BladeFuse(10);
        Assert.Equal(double.PositiveInfinity, fuse.HoldsAction(10));
        Assert.Equal(double.PositiveInfinity, fuse.LetsThrough(13));

        // At a gate: 2 · 10 A for 0.15 s to 5 s is 60 A² s to 2000 A² s; that it holds 1.08 · 10² at six times counts there too.
        Assert.Equal(108, fuse.HoldsAction(20), 9);
        Assert.Equal(2000, fuse.LetsThrough(20), 9);
        Assert.Equal(360, fuse.LetsThrough(60), 9);
        double held = double.PositiveInfinity;
        double through = double.PositiveInfinity;
        for (double amperes = 5; amperes < 200; amperes *= 1.01)
        {
            Assert.True(fuse.HoldsAction(amperes) <= held && fuse.LetsThrough(amperes) <= through && (amperes <= 10 || fuse.HoldsAction(amperes) < fuse.LetsThrough(amperes)));
            (held, through) = (fuse.HoldsAction(amperes), fuse.LetsThrough(amperes));
        }
    }

    [Fact]
    public void Fuses_and_wires_grow_with_the_load()
    {
        double rating = 0;
        double section = 0;
        var seen = new HashSet<double>();
        for (double scale = 0.2; scale < 20; scale *= 1.1)
        {
            FuseChoice choice = FuseChoice.Of(Load(rms: 4 * scale, peak: 10 * scale, shorted: 1000, stall: 12 * scale));
            if (choice.Rating is not ElectricCurrent found)
            {
                rating = double.PositiveInfinity;
                continue;
            }

            Assert.True(found.Amperes >= rating, "a greater load takes no smaller fuse");
            rating = found.Amperes;
            seen.Add(rating);
            StandardSection? least = StandardSection.All.FirstOrDefault(each => choice.ProtectionOf(each.Area) is not null);
            Assert.NotNull(least);
            Assert.True(least.Area.SquareMillimeters >= section, "a greater fuse protects no thinner wire");
            section = least.Area.SquareMillimeters;
            Assert.All(StandardSection.All.Where(each => each.Area > least.Area), each => Assert.NotNull(choice.ProtectionOf(each.Area)));
        }

        Assert.True(seen.Count > 6 && double.IsPositiveInfinity(rating));

        // Longer is more too.
        double[] ratings = [.. new[] { 0.05, 0.1, 0.2, 0.5, 1, 2 }.Select(seconds => FuseChoice.Of(Load(8, 12, 500, 14, seconds)).Rating!.Value.Amperes)];
        Assert.Equal(ratings.Order(), ratings);
        Assert.True(ratings[^1] > ratings[0]);
    }

    [Fact]
    public void The_chosen_fuse_is_the_least_that_bears_the_launches()
    {
        FuseChoice choice = FuseChoice.Of(Benches.SuppliedLaunch);
        double rating = choice.Rating!.Value.Amperes;
        LaunchLoad load = choice.Load;
        Assert.True(new BladeFuse(rating).Bears(load.Rms, load.Peak, load.Action));
        Assert.DoesNotContain(BladeFuse.Ratings.Where(each => each < rating), each => new BladeFuse(each).Bears(load.Rms, load.Peak, load.Action));

        // ∫ i² dt of the source by the trapezoid over the trace, independent of the recorder's own sum.
        LaunchTrace trace = Benches.SuppliedLaunch.Trace;
        double sum = 0;
        for (int i = 1; i < trace.TimeSeconds.Length; i++)
        {
            sum += 0.5 * (trace.TimeSeconds[i] - trace.TimeSeconds[i - 1]) * ((trace.CurrentAmperes[0][i] * trace.CurrentAmperes[0][i]) + (trace.CurrentAmperes[0][i - 1] * trace.CurrentAmperes[0][i - 1]));
        }

        Assert.Equal(sum, load.Action, 0.02 * sum);
        Assert.Equal(20, choice.ShortCurrent!.Value.Amperes, 9);

        // 24 V over the leads, the brushes and the coil, by hand.
        double ohms = Benches.Supplied.Leads.Resistance.Ohms + Benches.Supplied.Switch.Resistance.Ohms + (2 * 0.004) + LaunchBench.Coil.Resistance.Ohms;
        Assert.Equal(24 / ohms, choice.StallCurrent.Amperes, 9);
        Assert.Equal(
            AdiabaticHeating.TimeTo(Conductor.Copper, LaunchBench.Coil.Wire.ConductorSection, choice.StallCurrent, Temperature.FromDegreesCelsius(155)).Seconds, choice.StallTime!.Value.Seconds, 1e-9);
    }

    [Fact]
    public void What_a_fuse_cannot_do_is_said_plainly()
    {
        // A supply whose limit is below what makes the fuse open.
        FuseChoice limited = FuseChoice.Of(Load(rms: 8, peak: 9, shorted: 9, stall: 9, seconds: 1));
        Assert.False(limited.OpensOnShort);
        Assert.Contains(limited.Findings, finding => finding.Contains("what protects is the limit of the source, not the fuse", StringComparison.Ordinal));
        Assert.Contains(limited.Findings, finding => finding.Contains("A fuse cannot do both here", StringComparison.Ordinal));
        Assert.Contains("for good", limited.ProtectionOf(Area.FromSquareMillimeters(1)), StringComparison.Ordinal);
        Assert.Null(limited.ProtectionOf(Area.FromSquareMillimeters(0.75)));

        // Nothing up to 40 A bears it.
        FuseChoice none = FuseChoice.Of(Load(rms: 100, peak: 150, shorted: 3000, stall: 160));
        Assert.Null(none.Rating);
        Assert.StartsWith("no blade fuse up to 40 A", none.ToString(), StringComparison.Ordinal);
        Assert.Null(none.ProtectionOf(Area.FromSquareMillimeters(25)));
        Assert.False(none.ProtectsCoil);

        // Beyond the voltage of common blade fuses.
        Assert.Contains(FuseChoice.Of(Load(5, 9, 500, 10) with { Volts = 48 }).Findings, finding => finding.Contains("made for 32 V", StringComparison.Ordinal));
        Assert.DoesNotContain(FuseChoice.Of(Load(5, 9, 500, 10)).Findings, finding => finding.Contains("made for 32 V", StringComparison.Ordinal));

        // A small bank is empty before a fuse melts, and before a wire minds.
        FuseChoice bank = FuseChoice.Of(Load(5, 9, 400, 10) with { ShortAction = 5 });
        Assert.False(bank.OpensOnShort);
        Assert.Contains(bank.Findings, finding => finding.Contains("the bank empties into the short", StringComparison.Ordinal));
        Assert.Contains("the bank is empty", bank.ProtectionOf(Area.FromSquareMillimeters(0.5)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_bank_opens_a_fuse_only_above_the_upper_bound_of_melting()
    {
        LaunchLoad load = Load(5, 9, 400, 10);
        double square = Math.Pow(FuseChoice.Of(load).Rating!.Value.Amperes, 2);

        // At six times the rating a fuse may hold 1.08 r² s and must open by 3.6 r² s: between the two nothing is promised.
        FuseChoice between = FuseChoice.Of(load with { ShortAction = 2 * square, AtSourceAction = 2 * square });
        Assert.False(between.OpensOnShort);
        Assert.Contains(between.Findings, finding => finding.Contains("the bank empties into the short", StringComparison.Ordinal));
        FuseChoice above = FuseChoice.Of(load with { ShortAction = 6 * square, AtSourceAction = 6 * square });
        Assert.True(above.OpensOnShort);
        Assert.Contains(above.Findings, finding => finding.Contains("(from memory) the fuse is sure to open within", StringComparison.Ordinal));

        // Half of the action of a decay has passed at 1/√2 of its first current.
        var fuse = new BladeFuse(10);
        Assert.Equal(360, fuse.LetsThroughOfDecay(60 * Math.Sqrt(2), 720.001), 9);
        Assert.True(fuse.LetsThroughOfDecay(60 * Math.Sqrt(2), 719) > 360);
        Assert.Equal(double.PositiveInfinity, fuse.LetsThroughOfDecay(13, 1e9));
    }

    [Fact]
    public void A_bank_that_is_empty_before_a_stalled_coil_is_hot_is_told()
    {
        LaunchLoad load = Load(5, 9, 400, 40);
        FuseChoice small = FuseChoice.Of(load with { ShortAction = 20, StallAction = 20 });
        Assert.Null(small.StallTime);
        Assert.False(small.ProtectsCoil);
        Assert.Contains(small.Findings, finding => finding.Contains("the bank is empty first", StringComparison.Ordinal));

        // A large one lasts: t = −(A/I²) ln(1 − part/A), longer than at a steady current.
        FuseChoice large = FuseChoice.Of(load with { ShortAction = 5000, StallAction = 5000 });
        double steady = FuseChoice.Of(load).StallTime!.Value.Seconds;
        Assert.Equal(-Math.Log(1 - (steady * 1600 / 5000)) * 5000 / 1600, large.StallTime!.Value.Seconds, 1e-9);
        Assert.True(large.StallTime.Value.Seconds > steady);

        // A bank's stall: 0.5 C V² over all that the current passes.
        LaunchLoad bank = LaunchLoad.Of(Benches.Banked.Launch());
        Assert.Equal(16 * bank.Stall / 40, bank.StallAction, 1e-9);
        Assert.Equal(16 / 0.05, bank.AtSourceAction, 1e-9);
        Assert.Contains("the bank is empty before the coil is at its limit", CheckList.Of((Benches.Plain with { Source = new CapacitorBank(4.Millifarads(), 30.Volts(), 50.Milliohms()) }).Launch()).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_claimed_for_a_blade_fuse_beyond_its_voltage_or_breaking_capacity()
    {
        LaunchLoad load = Load(5, 9, 500, 60);
        Assert.True(FuseChoice.Of(load).IsBladeFit);
        foreach (LaunchLoad beyond in new[] { load with { Volts = 32.5 }, load with { AtSource = 1200 }, load with { AtSource = double.PositiveInfinity, Short = double.PositiveInfinity } })
        {
            FuseChoice choice = FuseChoice.Of(beyond);
            Assert.False(choice.IsBladeFit || choice.OpensOnShort || choice.ProtectsCoil);
            Assert.Contains("NOT a blade fuse", choice.Words, StringComparison.Ordinal);
            Assert.DoesNotContain(choice.Findings, finding => finding.Contains("the fuse is sure to open", StringComparison.Ordinal));
            Assert.DoesNotContain("the fuse opens", choice.ProtectionOf(Area.FromSquareMillimeters(10)) ?? string.Empty, StringComparison.Ordinal);
        }

        Assert.Contains("above 1.2 kA", FuseChoice.Of(load with { AtSource = 1200 }).Words, StringComparison.Ordinal);
        string high = WorkshopSheet.Of(Benches.Plain with { Source = new BatteryPack(48.Volts(), 80.Milliohms(), 2.AmpereHours()) }).ToString();
        Assert.DoesNotContain("A blade fuse;", high, StringComparison.Ordinal);
        Assert.Contains("made for at least 48 V of direct current, with a breaking capacity above 600 A", high, StringComparison.Ordinal);
        WorkshopSheet fit = WorkshopSheet.Of(Benches.SuppliedLaunch);
        Assert.Contains(" A blade fuse", fit.Parts.Parts.Single(part => part.Name == "fuse with holder").Description, StringComparison.Ordinal);
        Assert.Contains("Fuse times and ratings: from memory, hold them against the maker's sheet.", fit.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_lead_before_the_fuse_is_not_called_protected_by_it()
    {
        WiringList list = WiringList.Of((Benches.Plain with { Source = new BatteryPack(24.Volts(), 80.Milliohms(), 2.AmpereHours()) }).Launch());
        Assert.Equal("nothing: keep it a hand's breadth long", list.Conductors[0].Protection);
        Assert.Equal("the fuse opens before its insulation suffers", list.Conductors[1].Protection);

        // What a bank drives through a lead is bounded by its own resistance alone.
        FuseChoice choice = FuseChoice.Of(Load(5, 9, 400, 10) with { ShortAction = 5, AtSource = 900, AtSourceAction = 1e5 });
        Area thin = Area.FromSquareMillimeters(0.5);
        Assert.Equal("the bank is empty before its insulation suffers", choice.ProtectionOf(thin));
        Assert.NotEqual("the bank is empty before its insulation suffers", choice.ProtectionOf(thin, atSource: true));
        Assert.StartsWith("nothing", choice.ProtectionBeforeFuse(thin), StringComparison.Ordinal);
    }

    [Fact]
    public void Long_opening_times_and_fuses_that_never_melt_are_put_in_words()
    {
        FuseChoice first = FuseChoice.Of(Load(5, 9, 500, 10));
        double rating = first.Rating!.Value.Amperes;
        FuseChoice slow = FuseChoice.Of(Load(5, 9, 1.5 * rating, 10));
        Assert.False(slow.OpensOnShort);
        Assert.Contains(slow.Findings, finding => finding.Contains("which the fuse may carry for 486 s: until then it protects nothing", StringComparison.Ordinal));
        FuseChoice small = FuseChoice.Of(Load(0.5, 0.8, 500, 1));
        Assert.Contains(small.Findings, finding => finding.Contains("which such a fuse carries for good", StringComparison.Ordinal));
        Assert.DoesNotContain("E+", slow.ToString() + small, StringComparison.Ordinal);
        Assert.DoesNotContain("Infinity", small.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_list_follows_the_current_round()
    {
        WiringList list = WiringList.Of(Benches.PlainLaunch);
        Assert.Equal("source +", list.Conductors[0].From);
        Assert.Equal("fuse", list.Conductors[0].To);
        Assert.Contains(list.Conductors, each => each.To == "source −");
        Assert.Equal(22, list.Conductors.Where(each => each.To.StartsWith("strips ", StringComparison.Ordinal)).Sum(each => each.Count));
        Assert.Contains(list.Conductors, each => each is { From: "upper brush", To: "start of coil" });
        Assert.All(list.Conductors, each => Assert.True(each.Rms <= each.Peak && each.MeltsAfter > Duration.Zero && each.Warming.Kelvins >= 0));
        Assert.All(list.Conductors, each => Assert.True(each.Proposed is not null && each.Protection != "NOTHING" && each.Warming.Kelvins <= 10));

        WiringList series = WiringList.Of(Benches.Series.Launch());
        Assert.Contains(series.Conductors, each => each is { From: "end of coil 1", To: "end of coil 2" });
        Assert.Contains(series.Conductors, each => each is { From: "start of coil 2", To: "lower brush" });

        WiringList two = WiringList.Of((Benches.TwoCircuits with { BusBars = new BusBars(5.Milliohms(), (-60).Millimeters(), 270.Millimeters(), BusFeed.Both) }).Launch());
        Assert.Equal(2, two.Conductors.Count(each => each.To == "source −"));
        Assert.Contains(two.Conductors, each => each.From == "upper brush of circuit 2");

        // ρ l/A of a bar of 5 mohm over 330 mm: 1.138 mm².
        Assert.Equal(1.138, two.Conductors.First(each => each.From == "plus rail, start").Described!.Value.SquareMillimeters, 1e-3);

        // Both circuits' currents go through the leads: at most the sum, at least either.
        Assert.True(two.Fuse.Load.Rms > two.Launch.RmsCurrent.Amperes && two.Fuse.Load.Rms <= 2 * two.Launch.RmsCurrent.Amperes && two.Fuse.Load.Rms <= two.Launch.PeakSourceCurrent.Amperes);
    }

    [Fact]
    public void A_lead_that_is_too_thin_is_told()
    {
        WiringList thin = WiringList.Of((Benches.Plain with { Leads = Leads.OfCopper(2.Meters(), 0.001.SquareCentimeters()) }).Launch());
        Assert.True(thin.Conductors[0].IsThin);
        Assert.Contains("TOO THIN: source + to fuse is described with 0.1 mm²; take ", thin.ToString(), StringComparison.Ordinal);
        WiringList fine = WiringList.Of(Benches.SuppliedLaunch);
        Assert.DoesNotContain("TOO THIN", fine.ToString(), StringComparison.Ordinal);
        Assert.Contains("2.5 mm² (as described)", fine.ToString(), StringComparison.Ordinal);
        Assert.Contains("7.98 mohm at 2.5 mm²", fine.ToString(), StringComparison.Ordinal);
    }

    [LawProperty(20)]
    public void Every_launcher_gets_wires_that_something_protects_or_is_told(Launcher launcher)
    {
        WiringList list = WiringList.Of(launcher.Launch(new LaunchOptions { TimeLimit = Duration.FromSeconds(2) }));
        string text = list.ToString();
        foreach (WiringConductor each in list.Conductors)
        {
            Assert.True(each.Proposed is not null || text.Contains("NO SECTION", StringComparison.Ordinal));
            Assert.True(each.Proposed is not Area proposed || list.Fuse.ProtectionOf(proposed, atSource: true) is not null || list.Fuse.ProtectionOf(proposed) is not null);
        }

        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", text, StringComparison.Ordinal);
    }

    private static LaunchLoad Load(double rms, double peak, double shorted, double stall, double seconds = 0.15)
        => new(
            rms, peak, seconds, rms, peak, 24, shorted, double.PositiveInfinity, stall, Conductor.Copper, Area.FromSquareMillimeters(0.16), Temperature.FromDegreesCelsius(20), Temperature.FromDegreesCelsius(155));
}
