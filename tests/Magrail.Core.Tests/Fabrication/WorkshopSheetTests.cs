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
