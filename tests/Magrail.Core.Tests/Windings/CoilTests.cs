using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Windings;

/// <summary>Turns, layers, wire length and resistance of a wound coil.</summary>
public class CoilTests
{
    private static readonly Wire HalfMillimeter = Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2);

    private static CoilFormer Bench(double? depthMillimeters = null)
        => CoilFormer.Rounded(
            12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters(), depthMillimeters is { } d ? d.Millimeters() : null);

    /// <summary>180 turns of 0.566 mm in a 7 mm window: 12 a layer, 15 layers; every length by hand.</summary>
    [Fact]
    public void Layered_coil_by_hand()
    {
        Coil coil = Coil.Wind(HalfMillimeter, Bench(), 180);
        Assert.Equal(12, coil.TurnsPerLayer);
        Assert.Equal(15, coil.Layers);
        Assert.Equal(12, coil.TurnsInLastLayer);
        Assert.Equal(15 * 0.566, coil.Build.Millimeters, 1e-9);

        // Straight parts 2 · 6 + 2 · 12, corners a circle of 3 mm plus the layer's depth; the mean depth is half the build.
        double meanTurn = 36 + (2 * Math.PI * (3 + (7.5 * 0.566)));
        Assert.Equal(meanTurn, coil.MeanTurnLength.Millimeters, 1e-9);
        Assert.Equal(180 * meanTurn, coil.WireLength.Millimeters, 1e-6);
        Assert.Equal(0.18 * meanTurn / (58e6 * Math.PI * 0.25e-6 / 4), coil.Resistance.Ohms, 1e-12);
        Assert.Equal(12 + (30 * 0.566), coil.OuterWidth.Millimeters, 1e-9);
        Assert.Equal(18 + (30 * 0.566), coil.OuterHeight.Millimeters, 1e-9);
        Assert.Equal(180 * Math.PI * 0.25 / 4 / (7 * 15 * 0.566), coil.FillFactor, 1e-12);
        Assert.Equal(HalfMillimeter.MassOf(coil.WireLength).Grams, coil.Mass.Grams, 1e-12);
        Assert.Equal(1 + (3.93e-3 * 60), coil.ResistanceAt(80.DegreesCelsius()) / coil.Resistance, 1e-12);
    }

    [Fact]
    public void Incomplete_last_layer_by_hand()
    {
        Coil coil = Coil.Wind(HalfMillimeter, Bench(), 29);
        Assert.Equal((3, 5), (coil.Layers, coil.TurnsInLastLayer));
        double length = 0;
        for (int layer = 0; layer < 3; layer++)
        {
            length += (layer == 2 ? 5 : 12) * (36 + (2 * Math.PI * (3 + ((layer + 0.5) * 0.566))));
        }

        Assert.Equal(length, coil.WireLength.Millimeters, 1e-9);

        CoilSi si = coil.ToSi();
        Assert.Equal(29, si.Turns);
        Assert.Equal(24, si.Full.Turns);
        Assert.Equal(0, si.Full.InnerDepth, 1e-15);
        Assert.Equal(2 * 0.566e-3, si.Full.OuterDepth, 1e-12);
        Assert.Equal(-6 * 0.566e-3, si.Full.AxialFrom, 1e-12);
        Assert.Equal(6 * 0.566e-3, si.Full.AxialTo, 1e-12);

        // The third layer starts again at the lower flange.
        Assert.Equal(5, si.Last.Turns);
        Assert.Equal(2 * 0.566e-3, si.Last.InnerDepth, 1e-12);
        Assert.Equal(3 * 0.566e-3, si.Last.OuterDepth, 1e-12);
        Assert.Equal(-6 * 0.566e-3, si.Last.AxialFrom, 1e-12);
        Assert.Equal(-1 * 0.566e-3, si.Last.AxialTo, 1e-12);
    }

    /// <summary>Equal section of copper, other turns: the kernels see the same block (then only the turns differ).</summary>
    [Fact]
    public void Equal_section_gives_equal_blocks()
    {
        CoilFormer former = CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 8.Millimeters());
        CoilSi thick = Coil.Wind(Wire.Copper(WireGauge.Metric(1.Millimeters()), EnamelGrade.Bare), former, 32).ToSi();
        CoilSi thin = Coil.Wind(Wire.Copper(WireGauge.Metric(0.25.Millimeters()), EnamelGrade.Bare), former, 512).ToSi();
        Assert.Equal(thick.Full with { Turns = 0 }, thin.Full with { Turns = 0 });
        Assert.Equal(default, thin.Last);
        Assert.Equal(256, SelfInductance.Of(thin) / SelfInductance.Of(thick), 1e-9);
    }

    [Fact]
    public void Orthocyclic_layers_lie_in_grooves()
    {
        // 7 mm hold 12 turns of 0.566 mm (6.792 mm) and no half diameter more: layers of 12 and 11 in turn.
        Coil coil = Coil.Wind(HalfMillimeter, Bench(), 12 + 11 + 12 + 11, WindingStyle.Orthocyclic);
        Assert.Equal((12, 4, 11), (coil.TurnsPerLayer, coil.Layers, coil.TurnsInLastLayer));
        double pitch = 0.566 * Math.Sqrt(3) / 2;
        Assert.Equal(0.566 + (3 * pitch), coil.Build.Millimeters, 1e-9);
        Assert.True(coil.Build < Coil.Wind(HalfMillimeter, Bench(), 46).Build);
        CoilSi si = coil.ToSi();
        Assert.Equal(46, si.Full.Turns);
        Assert.Equal(default, si.Last);
        Assert.Equal(4 * pitch * 1e-3, si.Full.OuterDepth - si.Full.InnerDepth, 1e-12);
        Assert.Equal(coil.Build.Meters / 2, 0.5 * (si.Full.OuterDepth + si.Full.InnerDepth), 1e-12);

        // With the half diameter to spare, all layers have 12.
        CoilFormer wider = CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.1.Millimeters());
        Assert.Equal(4, Coil.Wind(HalfMillimeter, wider, 48, WindingStyle.Orthocyclic).Layers);
        Assert.Equal(5, Coil.Wind(HalfMillimeter, Bench(), 48, WindingStyle.Orthocyclic).Layers);
    }

    [Fact]
    public void Wild_winding_follows_its_fill()
    {
        Coil coil = Coil.Wind(HalfMillimeter, Bench(), 180, WindingStyle.Wild(0.65));
        double build = 180 * Math.PI * 0.566 * 0.566 / 4 / (0.65 * 7);
        Assert.Equal(build, coil.Build.Millimeters, 1e-9);
        Assert.Equal(36 + (2 * Math.PI * (3 + (build / 2))), coil.MeanTurnLength.Millimeters, 1e-9);
        Assert.Equal(180, coil.ToSi().Turns);
        Assert.Equal(0.0035, coil.ToSi().Full.AxialTo, 1e-12);
    }

    /// <summary>
    /// Two measured coils of the energy-harvester experiment of WarmT (EM_harvester_simulation, published with its data): 2 × 3000 turns of 100 µm
    /// between 12.05 mm and 25.8 mm, 6.0 mm long, 783 ohm in series; 1351 turns of 150 µm to 25.6 mm, 6.2 mm long, 79.35 ohm. So many
    /// turns of fine wire are wound wild, so they are taken to fill the window evenly; temperature at the measurement is not given.
    /// </summary>
    [Theory]
    [InlineData(0.100, 3000, 25.8, 6.0, 2, 783)]
    [InlineData(0.150, 1351, 25.6, 6.2, 1, 79.35)]
    public void Measured_coils(double wireMillimeters, int turns, double outer, double length, int inSeries, double ohms)
    {
        CoilFormer former = CoilFormer.Round(12.05.Millimeters(), length.Millimeters(), (0.5 * (outer - 12.05)).Millimeters());
        Wire wire = Wire.Copper(WireGauge.Metric(wireMillimeters.Millimeters()), EnamelGrade.Grade1);
        Coil coil = Coil.Wind(wire, former, turns, WindingStyle.WildToTheEdge);
        Assert.Equal(outer, coil.OuterWidth.Millimeters, 1e-9);
        Assert.Equal(1, inSeries * coil.Resistance.Ohms / ohms, 0.03);
    }

    [Fact]
    public void Leads_add_resistance_and_no_turns()
    {
        Coil plain = Coil.Wind(HalfMillimeter, Bench(), 180);
        Coil withLeads = Coil.Wind(HalfMillimeter, Bench(), 180, leads: 300.Millimeters());
        Assert.Equal(HalfMillimeter.ResistanceOf(300.Millimeters()).Ohms, (withLeads.Resistance - plain.Resistance).Ohms, 1e-12);
        Assert.Equal(plain.MeanTurnLength, withLeads.MeanTurnLength);
        Assert.Equal(plain.Inductance, withLeads.Inductance);
    }

    [Fact]
    public void What_does_not_fit_says_how_many_turns_would()
    {
        // 3 mm deep: five layers of twelve.
        ArgumentOutOfRangeException error = Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(3), 180));
        Assert.Contains("turns is 180", error.Message, StringComparison.Ordinal);
        Assert.Contains("60 turns would fit", error.Message, StringComparison.Ordinal);
        Assert.Equal(60, Coil.Wind(HalfMillimeter, Bench(3), 60).Turns);

        // In grooves one layer more: 0.566 + 5 · 0.4902 = 3.017 mm does not, 4 · 0.4902 does: five layers, 12 + 11 + 12 + 11 + 12.
        Assert.Contains(
            "58 turns would fit",
            Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(3), 59, WindingStyle.Orthocyclic)).Message,
            StringComparison.Ordinal);
        int most = (int)(0.65 * 21 / (Math.PI * 0.566 * 0.566 / 4));
        Assert.Contains(
            $"{most} turns would fit",
            Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(3), 180, WindingStyle.Wild(0.65))).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Bad_descriptions_are_errors()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(), 0));
        Assert.Contains(
            "not a single turn fits",
            Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(0.5), 1)).Message,
            StringComparison.Ordinal);
        Assert.Contains(
            "not a single turn fits",
            Assert.Throws<ArgumentOutOfRangeException>(
                () => Coil.Wind(HalfMillimeter, CoilFormer.Round(10.Millimeters(), 0.5.Millimeters()), 1)).Message,
            StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(), 10, WindingStyle.WildToTheEdge));
        Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(), 10, leads: (-1).Millimeters()));
        Assert.Throws<ArgumentOutOfRangeException>(() => WindingStyle.Wild(0.95));
        Assert.Throws<ArgumentOutOfRangeException>(() => WindingStyle.Wild(double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(
            () => Coil.Wind(HalfMillimeter, CoilFormer.Round(10.Millimeters(), 0.6.Millimeters()), 2, WindingStyle.Orthocyclic));

        ArgumentOutOfRangeException corner = Assert.Throws<ArgumentOutOfRangeException>(
            () => CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 7.Millimeters(), 7.Millimeters()));
        Assert.Contains("corner is 7 mm; it must be zero to 6 mm", corner.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => CoilFormer.Rounded(Length.Zero, 1.Millimeters(), Length.Zero, 1.Millimeters()));
        Assert.Throws<ArgumentOutOfRangeException>(() => CoilFormer.Round(1.Millimeters(), Length.Zero));
        Assert.Throws<ArgumentOutOfRangeException>(() => CoilFormer.Round(1.Millimeters(), 1.Millimeters(), Length.Zero));
    }

    [Fact]
    public void Formers_are_special_cases_of_one_shape()
    {
        CoilFormer round = CoilFormer.Round(10.Millimeters(), 5.Millimeters());
        Assert.Equal(CoilFormer.Racetrack(10.Millimeters(), 10.Millimeters(), 5.Millimeters()), round);
        Assert.Equal(CoilFormer.Rounded(1.Centimeters(), 1.Centimeters(), 5.Millimeters(), 5.Millimeters()), round);
        Assert.Equal(Math.PI * 12, round.TurnLengthAt(1.Millimeters()).Millimeters, 1e-9);
        Assert.Equal(
            60 + (2 * Math.PI),
            CoilFormer.Rectangular(10.Millimeters(), 20.Millimeters(), 5.Millimeters()).TurnLengthAt(1.Millimeters()).Millimeters,
            1e-9);
    }
}
