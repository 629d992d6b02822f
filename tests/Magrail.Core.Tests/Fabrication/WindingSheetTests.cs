using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Fabrication;

public sealed class WindingSheetTests
{
    public static TheoryData<int, string> Coils
    {
        get
        {
            var coils = new TheoryData<int, string>();
            foreach (int turns in (ReadOnlySpan<int>)[1, 13, 14, 160, 180])
            {
                coils.Add(turns, "layered");
                coils.Add(turns, "orthocyclic");
                coils.Add(turns, "wild");
            }

            return coils;
        }
    }

    [Theory]
    [MemberData(nameof(Coils))]
    public void Turns_by_layer_make_the_coil_and_its_wire(int turns, string style)
    {
        Coil coil = Wound(turns, style);
        WindingSheet sheet = WindingSheet.Of(coil);
        Assert.Equal(turns, sheet.Layers.Sum(layer => layer.Turns));
        Assert.Equal(turns, sheet.Layers[^1].TurnsSoFar);
        double wire = sheet.Layers.Sum(layer => layer.Turns * layer.TurnLength.Meters);
        Assert.Equal(coil.WireLength.Meters - coil.Leads.Meters, wire, 1e-9 * wire);
        int soFar = 0;
        foreach (WindingLayer layer in sheet.Layers)
        {
            soFar += layer.Turns;
            Assert.Equal(soFar, layer.TurnsSoFar);
        }

        if (style != "wild")
        {
            Assert.Equal(coil.Layers, sheet.Layers.Length);
            Assert.All(sheet.Layers.Zip(sheet.Layers.Skip(1)), pair => Assert.True(pair.First.TurnLength < pair.Second.TurnLength && pair.First.TowardFarFlange != pair.Second.TowardFarFlange));
        }
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(5, 150)]
    [InlineData(12.5, 80)]
    public void The_wire_to_cut_is_the_coils_and_the_allowance(double percent, double tail)
    {
        var options = new WorkshopOptions { WireAllowance = Ratio.FromPercent(percent), WireTail = tail.Millimeters() };
        WindingSheet sheet = WindingSheet.Of(LaunchBench.Coil, options);
        Assert.Equal((LaunchBench.Coil.WireLength.Meters * (1 + (percent / 100))) + (2e-3 * tail), sheet.CutLength.Meters, 12);
    }

    [Fact]
    public void Ranges_follow_from_diameter_and_turn()
    {
        // By hand for 0.5 mm ± 0.005 mm (1 %) and turns ± 2 %: R/R₀ from 0.98/1.01² to 1.02/0.99², m/m₀ from 0.98 · 0.99² to 1.02 · 1.01².
        WindingSheet sheet = WindingSheet.Of(LaunchBench.Coil);
        Assert.Equal(5, sheet.DiameterTolerance.Micrometers, 9);
        Assert.Equal(0.960690, sheet.Resistance.Least / sheet.Resistance.Expected, 5e-7);
        Assert.Equal(1.040710, sheet.Resistance.Greatest / sheet.Resistance.Expected, 5e-7);
        Assert.Equal(0.960498, sheet.Mass.Least / sheet.Mass.Expected, 5e-7);
        Assert.Equal(1.040502, sheet.Mass.Greatest / sheet.Mass.Expected, 5e-7);
        Assert.Equal(0.96, sheet.Inductance.Least.Henries / sheet.Inductance.Expected.Henries, 12);
        Assert.True(sheet.Resistance.Accepts(LaunchBench.Coil.Resistance) && sheet.Mass.Accepts(LaunchBench.Coil.Mass));
        Assert.False(sheet.Resistance.Accepts(1.05 * LaunchBench.Coil.Resistance));

        // A coil of ten turns less shows by its resistance.
        Assert.False(sheet.Resistance.Accepts(LaunchBench.Coil.WithTurns(170).Resistance));

        // The range holds what wires at either end of the tolerance give.
        Coil thin = Coil.Wind(Wire.Copper(WireGauge.Metric(0.495.Millimeters()), EnamelGrade.Bare), LaunchBench.Coil.Former, 10);
        Coil drawn = Coil.Wind(Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Bare), LaunchBench.Coil.Former, 10);
        Assert.True(WindingSheet.Of(drawn).Resistance.Accepts(thin.Resistance));
    }

    [Theory]
    [InlineData(0.1, 3)]
    [InlineData(0.224, 3)]
    [InlineData(0.25, 4)]
    [InlineData(0.315, 4)]
    [InlineData(0.45, 5)]
    [InlineData(0.51, 6)]
    [InlineData(0.71, 7)]
    [InlineData(1, 10)]
    [InlineData(2, 20)]
    [InlineData(5, 50)]
    public void Tolerances_are_those_of_the_table(double millimeters, double micrometers)
    {
        // Transwire, general engineering data: tolerance on nominal diameter of conductor; between sizes the next larger one counts.
        (Length tolerance, string source) = ConductorTolerance.Of(WireGauge.Metric(millimeters.Millimeters()));
        Assert.Equal(micrometers, tolerance.Micrometers, 9);
        Assert.Contains("TRANSWIRE", source, StringComparison.Ordinal);
    }

    [Fact]
    public void Wires_outside_the_table_say_where_their_tolerance_comes_from()
    {
        Assert.Contains("no source", ConductorTolerance.Of(WireGauge.Metric(0.05.Millimeters())).Source, StringComparison.Ordinal);
        Assert.Contains("from memory", ConductorTolerance.Of(WireGauge.Metric(6.Millimeters())).Source, StringComparison.Ordinal);
        WindingSheet given = WindingSheet.Of(LaunchBench.Coil, new WorkshopOptions { DiameterTolerance = 20.Micrometers() });
        Assert.Contains("wire ± 0.02 mm (as given)", given.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Coils_of_one_kind_share_a_sheet_that_tells_where_each_goes()
    {
        WindingSheet sheet = Assert.Single(WindingSheet.Of(Benches.Series.Sled));
        Assert.Equal(2, sheet.Count);
        Assert.Contains("crossed: end of winding at the upper brush", sheet.ToString(), StringComparison.Ordinal);
        Sled mixed = new(40.Grams(), [new CoilMount(LaunchBench.Coil, Length.Zero), new CoilMount(LaunchBench.Coil.WithTurns(90), 60.Millimeters(), circuit: 1)]);
        Assert.Equal([1, 1], WindingSheet.Of(mixed).Select(each => each.Count));
    }

    [Fact]
    public void The_sheet_reads()
    {
        string text = WindingSheet.Of(LaunchBench.Coil).ToString();
        Assert.Contains("wire: copper, 0.5 mm bare, enamel grade 2, 0.566 mm overall at most", text, StringComparison.Ordinal);
        Assert.Contains("former: core 12 mm × 18 mm, corners 3 mm, 7 mm between the flanges", text, StringComparison.Ordinal);
        Assert.Contains("counterclockwise seen from the +y side", text, StringComparison.Ordinal);
        Assert.Contains("wire ± 5 µm", text, StringComparison.Ordinal);
        Assert.Contains("common practice, no source", WorkshopText("WorkshopOptions.cs"), StringComparison.Ordinal);
        string wild = WindingSheet.Of(Wound(100, "wild")).ToString();
        Assert.Contains("A wild winding has no layers: count the turns.", wild, StringComparison.Ordinal);
        Assert.Contains("turns: 100, wild winding of fill 0.6", wild, StringComparison.Ordinal);
        Assert.Contains("AWG 26 = 0.4049 mm bare", WindingSheet.Of(Benches.Coaxial.Sled)[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Bad_options_say_what_is_wrong()
    {
        StripTemplateTests.Says("WireAllowance is -0.05; it must be 0 to 1", () => new WorkshopOptions { WireAllowance = Ratio.FromPercent(-5) });
        StripTemplateTests.Says("WireTail is -10 mm", () => new WorkshopOptions { WireTail = -10.Millimeters() });
        StripTemplateTests.Says("TurnTolerance is 0.5", () => new WorkshopOptions { TurnTolerance = Ratio.FromPercent(50) });
        StripTemplateTests.Says("SawCut is -1 mm", () => new WorkshopOptions { SawCut = -1.Millimeters() });
        StripTemplateTests.Says("WireWarming is", () => new WorkshopOptions { WireWarming = TemperatureDelta.Zero });
        StripTemplateTests.Says("DiameterTolerance is 0 m", () => new WorkshopOptions { DiameterTolerance = Length.Zero });
        StripTemplateTests.Says("below half the wire's diameter", () => WindingSheet.Of(LaunchBench.Coil, new WorkshopOptions { DiameterTolerance = 0.3.Millimeters() }));
        Assert.Throws<ArgumentException>(() => new WorkshopOptions { Title = " " });
        Assert.Throws<ArgumentNullException>(() => WindingSheet.Of((Coil)null!));
        Assert.Throws<ArgumentNullException>(() => WindingSheet.Of((Sled)null!));
    }

    private static string WorkshopText(string file) => Rules.Repository.Read($"src/Magrail.Core/Fabrication/{file}");

    private static Coil Wound(int turns, string style)
    {
        WindingStyle pattern = style switch
        {
            "layered" => WindingStyle.Layered,
            "orthocyclic" => WindingStyle.Orthocyclic,
            _ => WindingStyle.Wild(0.6),
        };
        return Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.45.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            turns,
            pattern,
            leads: 40.Millimeters());
    }
}
