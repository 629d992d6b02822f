using Magrail.Tests.Launch;
using Magrail.Tests.Laws;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Fabrication;

public sealed class WorkshopSheetTests
{
    [Theory]
    [MemberData(nameof(Benches.Names), MemberType = typeof(Benches))]
    public void One_call_makes_every_sheet_as_text_and_page(string name)
    {
        WorkshopSheet sheet = WorkshopSheet.Of(Benches.Named(name), new WorkshopOptions { Title = "Thrower <2>", Date = new DateOnly(2026, 5, 4) });
        string text = sheet.ToString();
        string html = sheet.ToHtml();
        Assert.StartsWith("Thrower <2>: workshop sheet, 2026-05-04", text, StringComparison.Ordinal);
        Assert.Contains("<h1>Thrower &lt;2&gt;: workshop sheet, 2026-05-04</h1>", html, StringComparison.Ordinal);
        foreach (string title in new[] { "Check list", "Winding sheet", "Strip cut list", "Magnet orientation map", "Wiring list", "Parts list", "Template" })
        {
            Assert.Contains(Environment.NewLine + title, text, StringComparison.Ordinal);
            Assert.Contains($"<h2>{title}", html, StringComparison.Ordinal);
        }

        Assert.Contains("Local codes and licensed practice come first.", text, StringComparison.Ordinal);
        Assert.Contains("class=\"caution\"", html, StringComparison.Ordinal);
        Assert.Equal(sheet.Template.Tiles.Length, html.Split("<section class=\"tile\">").Length - 1);
        foreach (string bad in new[] { "NaN", "Infinity", "∞", "System.", "Magrail.", "<script", "https://", "src=" })
        {
            Assert.DoesNotContain(bad, text, StringComparison.Ordinal);
            Assert.DoesNotContain(bad, html, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Checks_come_in_order_with_figures_to_find()
    {
        CheckList list = CheckList.Of(Benches.SuppliedLaunch);
        Assert.Equal(Enumerable.Range(1, list.Steps.Length), list.Steps.Select(step => step.Number));
        Assert.Equal(list.Steps.Select(step => step.Phase).Order(), list.Steps.Select(step => step.Phase));
        Assert.Equal(Benches.SuppliedLaunch.Limits.Cautions, list.Cautions);
        string text = list.ToString();
        Assert.Contains(WindingSheet.Of(LaunchBench.Coil).Resistance.ToString(), text, StringComparison.Ordinal);
        Assert.Contains("Source: 24 V, current limit set to 20 A", text, StringComparison.Ordinal);
        Assert.Contains("faces toward the path N S N S N S … S", text, StringComparison.Ordinal);
        Assert.Contains("100.0 mm, and 220.0 mm", text, StringComparison.Ordinal);
        Assert.Contains(list.ClearZone!.ToString(), text, StringComparison.Ordinal);
        Assert.Contains("Eye protection, of everybody in the room: on", text, StringComparison.Ordinal);
        Assert.Contains("something soft that stops", text, StringComparison.Ordinal);

        // The push at the first strip is K at the start times the amperes.
        double push = Math.Abs(Benches.SuppliedLaunch.ForceConstantAt(Benches.SuppliedLaunch.Launcher.TravelEnds().Start).NewtonsPerAmpere);
        Assert.Contains($"with about {QuantityText.Of(Force.FromNewtons(push))} at 1 A", text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_clear_zone_takes_height_margin_and_slope()
    {
        Launcher steep = Benches.Supplied with { Slope = 40.Degrees() };
        LaunchResult launch = steep.Launch();
        CheckList list = CheckList.Of(launch, new WorkshopOptions { ReleaseHeight = 2.Meters(), ClearMargin = 8.Meters() });
        ClearZone zone = ClearZone.Of(steep.Payload.Mass, Area.Zero, launch.EndSpeed, 40.Degrees(), 2.Meters(), 8.Meters());
        Assert.Equal(zone.Ahead.Meters, list.ClearZone!.Ahead.Meters, 12);
        Assert.True(list.ClearZone.Ahead > CheckList.Of(launch).ClearZone!.Ahead);
        Assert.Null(CheckList.Of((Benches.Plain with { Payload = Payload.None }).Launch()).ClearZone);
    }

    [Fact]
    public void Banks_brakes_stalls_and_broken_limits_are_told()
    {
        string bank = CheckList.Of(Benches.Banked.Launch()).ToString();
        Assert.Contains("charged to 40 V (16 J) only when all else is done; bleeder fitted", bank, StringComparison.Ordinal);
        string braked = CheckList.Of((Benches.Plain with { Brake = SledBrake.Friction(Length.Zero, 400.Millimeters(), 40.Newtons()) }).Launch()).ToString();
        Assert.Contains("Brake: friction brake of 40 N over 400 mm; computed to use ", braked, StringComparison.Ordinal);
        WorkshopSheet stalled = WorkshopSheet.Of(Benches.Plain with { Source = new BatteryPack(1.Volts(), 2.Ohms(), 2.AmpereHours()), Slope = 60.Degrees() });
        Assert.NotEqual(LaunchOutcome.Released, stalled.Launch.Outcome);
        Assert.Contains("NOT RELEASED: ", stalled.ToString(), StringComparison.Ordinal);
        Assert.Contains("NOT COMPUTED: the computed launch does not reach its release", stalled.ToString(), StringComparison.Ordinal);
        WorkshopSheet fast = WorkshopSheet.Of(Benches.Plain with { Payload = new Payload(40.Grams(), neededSpeed: 90.MetersPerSecond()) });
        Assert.Contains("BROKEN: release speed", fast.ToString(), StringComparison.Ordinal);
        Assert.Contains("NOT TO BE LAUNCHED AS DESCRIBED: release speed", fast.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Everything_is_written_to_a_folder()
    {
        string folder = Path.Combine(Directory.CreateTempSubdirectory("magrail-sheet-").FullName, "new");
        try
        {
            WorkshopSheet sheet = WorkshopSheet.Of(Benches.PlainLaunch);
            IReadOnlyList<string> files = sheet.Save(folder);
            Assert.Equal(
                ["workshop-sheet.html", "template.html", "template.svg", "template-01-of-02.svg", "template-02-of-02.svg", "magnet-map.svg"],
                files.Select(Path.GetFileName));
            Assert.Equal(files.Order(), Directory.GetFiles(folder).Order());
            Assert.Equal(sheet.ToHtml(), File.ReadAllText(files[0]));
            Assert.Throws<ArgumentException>(() => sheet.Save(""));
            sheet.Save(folder);
            Assert.Equal(files.Order(), Directory.GetFiles(folder).Order());
        }
        finally
        {
            Directory.Delete(Path.GetDirectoryName(folder)!, recursive: true);
        }
    }

    [Fact]
    public void A_launch_that_is_not_released_is_refused_at_the_head_and_in_the_check_list()
    {
        WorkshopSheet sheet = WorkshopSheet.Of(Benches.Plain with { Source = new BatteryPack(1.Volts(), 2.Ohms(), 2.AmpereHours()), Slope = 60.Degrees() });
        Assert.Equal("NOT TO BE LAUNCHED", sheet.CoverFacts().First().Name);
        Assert.Contains("does not reach its release", sheet.CoverFacts().First().Value, StringComparison.Ordinal);
        string text = sheet.ToString();
        Assert.DoesNotContain("every limit that is stated holds", text, StringComparison.Ordinal);
        Assert.DoesNotContain("something soft that stops", text, StringComparison.Ordinal);
        Assert.DoesNotContain("m/s, and no brake", text, StringComparison.Ordinal);
        Assert.DoesNotContain(sheet.Checks.Steps, step => step.What == "Sled at the start");
        Assert.Contains(sheet.Checks.Steps, step => step.What == "NOT TO BE LAUNCHED");

        WorkshopSheet broken = WorkshopSheet.Of(Benches.Plain with { Payload = new Payload(40.Grams(), neededSpeed: 90.MetersPerSecond()) });
        Assert.Equal("it breaks release speed", broken.Checks.Refusal);
        Assert.Equal("NOT TO BE LAUNCHED", broken.CoverFacts().First().Name);

        Assert.Null(CheckList.Of(Benches.SuppliedLaunch).Refusal);
        Assert.Contains("every limit that is stated holds", WorkshopSheet.Of(Benches.SuppliedLaunch).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_slope_and_what_holds_the_sled_on_it_are_told()
    {
        WorkshopSheet steep = WorkshopSheet.Of(Benches.Plain with { Slope = 40.Degrees() });
        Assert.Contains(steep.CoverFacts(), fact => fact.Name == "slope" && fact.Value.StartsWith("40 ° uphill", StringComparison.Ordinal) && fact.Value.Contains("rest or latch must hold it", StringComparison.Ordinal));
        Assert.Contains("rest or latch must hold it", steep.Checks.Steps.Single(step => step.What == "Sled at the start").Expect, StringComparison.Ordinal);
        WorkshopSheet gentle = WorkshopSheet.Of(Benches.Plain with { Slope = (-1).Degrees() });
        Assert.Contains(gentle.CoverFacts(), fact => fact.Name == "slope" && fact.Value == "1 ° downhill; friction at rest holds the sled");
        Assert.DoesNotContain(WorkshopSheet.Of(Benches.PlainLaunch).CoverFacts(), fact => fact.Name == "slope");
        Assert.Contains("outside the clear zone", steep.Checks.Steps.Single(step => step.What == "Operator").Expect, StringComparison.Ordinal);
        Assert.DoesNotContain("ClearZone", steep.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Unlike_brushes_and_their_places_and_a_suppressor_are_listed()
    {
        ContactCommutator contacts = Benches.TwoCircuits.Contacts;
        Launcher unlike = Benches.TwoCircuits with
        {
            Contacts = new ContactCommutator(contacts.Upper, contacts.Lower, contacts.UpperBrush, new Brush(contacts.UpperBrush.Length, force: 2.Newtons(), offset: 0.5.Millimeters())),
            Suppressor = Suppressor.Clamp(70.Volts()),
        };
        WorkshopSheet sheet = WorkshopSheet.Of(unlike);
        Assert.Contains("Each lower brush: moves freely, pressed with 2 N", sheet.ToString(), StringComparison.Ordinal);
        Assert.Contains("Middle of the brushes of circuit 2, ahead of the sled's mark: upper 50.0 mm, lower 50.5 mm", sheet.ToString(), StringComparison.Ordinal);
        Assert.Equal(2, sheet.Parts.Parts.Count(part => part.Name is "upper brush" or "lower brush"));
        Assert.Contains(PartsList.Of(Benches.Plain).Parts, part => part.Name == "brush");
        Assert.Equal(2, sheet.Wiring.Conductors.Count(each => each.To.StartsWith("suppressor (clamp at 70 V), to lower brush", StringComparison.Ordinal)));
        Assert.DoesNotContain(WiringList.Of((Benches.Plain with { Suppressor = Suppressor.IdealBreak }).Launch()).Conductors, each => each.To.StartsWith("suppressor", StringComparison.Ordinal));

        // The clamp, not the source, is above 60 V here.
        Assert.Contains(sheet.Checks.Cautions, caution => caution.StartsWith("Electric shock: 70 V at the clamp", StringComparison.Ordinal));
        Assert.Contains("Electric shock: 61 V from the source", WorkshopSheet.Of(Benches.Plain with { Source = new BenchSupply(61.Volts(), 20.Amperes()), Suppressor = Suppressor.IdealBreak }).Checks.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain(WorkshopSheet.Of(Benches.Plain with { Source = new BenchSupply(60.Volts(), 20.Amperes()), Suppressor = Suppressor.IdealBreak }).Checks.Cautions, caution => caution.StartsWith("Electric shock", StringComparison.Ordinal));
    }

    [Fact]
    public void A_coil_over_its_neighbors_magnets_is_told()
    {
        Assert.Null(LimitTable.WideCoil(Benches.Plain));
        Launcher close = Benches.Plain with { Track = Track.OfStations(Benches.Plain.Track.Stations[0], 12, LaunchBench.Coil.ExtentAlong / 1.6) };
        Assert.StartsWith("Wide coil: ", LimitTable.WideCoil(close), StringComparison.Ordinal);
        Launcher far = Benches.Plain with { Track = Track.OfStations(Benches.Plain.Track.Stations[0], 12, LaunchBench.Coil.ExtentAlong / 1.4) };
        Assert.Null(LimitTable.WideCoil(far));
    }

    [Fact]
    public void A_demagnetization_margin_names_its_magnet_as_the_map_does()
    {
        Launcher launcher = Benches.Plain;
        MagnetBody body = launcher.Track.Stations[1].Magnets[1].Body;
        var field = Magnetization.FromAmperesPerMeter(1e5);
        var margin = new DemagnetizationMargin(1, 1, body, Length.Zero, Length.Zero, Length.Zero, field, field, Magnetization.FromAmperesPerMeter(1e6));
        MappedMagnet mapped = MagnetMap.Of(launcher.Track).Magnets.Where(magnet => magnet.Station == 2).ElementAt(1);
        Assert.StartsWith($"magnet {mapped.Mark} stands", margin.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Sheets_of_an_earlier_template_do_not_stay_beside_the_new_ones()
    {
        string folder = Directory.CreateTempSubdirectory("magrail-stale-").FullName;
        try
        {
            string[] kept = ["template-notes.svg", "template-01-of-02.svg.bak", "my-template-03-of-03.svg", "template-1-of-3.svg"];
            foreach (string name in kept.Concat(["template-01-of-03.svg", "template-003-of-120.svg"]))
            {
                File.WriteAllText(Path.Combine(folder, name), "x");
            }

            WorkshopSheet.Of(Benches.PlainLaunch).Template.SaveTiles(folder);
            Assert.Equal(kept.Concat(["template-01-of-02.svg", "template-02-of-02.svg"]).Order(), Directory.GetFiles(folder).Select(file => Path.GetFileName(file)!).Order());
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void A_launcher_with_faults_has_no_sheets()
    {
        Assert.Throws<LauncherDescriptionException>(() => WorkshopSheet.Of(Benches.Plain with { Contacts = LaunchBench.Commutator(9, (0, 10, Bus.Plus, Bus.Minus), (15, 25, Bus.Minus, Bus.Plus)) }));
        Assert.Throws<ArgumentNullException>(() => WorkshopSheet.Of((Launcher)null!));
        Assert.Throws<ArgumentNullException>(() => WorkshopSheet.Of((LaunchResult)null!));
    }

    [LawProperty(10)]
    public void Every_launcher_gets_its_sheets(Launcher launcher)
    {
        WorkshopSheet sheet = WorkshopSheet.Of(launcher.Launch(new LaunchOptions { TimeLimit = Duration.FromSeconds(2) }));
        string html = sheet.ToHtml();
        Assert.Equal(sheet.Template.Tiles.Length, html.Split("<section class=\"tile\">").Length - 1);
        Assert.DoesNotContain("NaN", html, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", html, StringComparison.Ordinal);
        Assert.True(sheet.ToString().Length > 3000);
    }
}
