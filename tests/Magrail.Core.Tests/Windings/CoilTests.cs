using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Windings;

/// <summary>Turns, layers, wire length and resistance of a wound coil.</summary>
public class CoilTests
{
    private static readonly AccuracyRow Measured = new("resistance of two coils, 783 ohm and 79.35 ohm", "measured; open repository of the energy-harvester experiment of WarmT", 0.03, "of it");

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
        Measured.HoldRatio(ohms, inSeries * coil.Resistance.Ohms);
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

    [Fact]
    public void Turns_lie_layer_by_layer()
    {
        Coil coil = Coil.Wind(HalfMillimeter, Bench(), 29);
        IReadOnlyList<TurnPosition> turns = coil.TurnPositions();
        Assert.Equal(29, turns.Count);
        AssertPlace(1, 0.283, -5.5 * 0.566, turns[0]);
        AssertPlace(1, 0.283, 5.5 * 0.566, turns[11]);

        // Back again: the second layer starts where the first one ended.
        AssertPlace(2, 3 * 0.283, 5.5 * 0.566, turns[12]);
        AssertPlace(2, 3 * 0.283, -5.5 * 0.566, turns[23]);
        AssertPlace(3, 5 * 0.283, -5.5 * 0.566, turns[24]);
        AssertPlace(3, 5 * 0.283, -1.5 * 0.566, turns[28]);
    }

    [Theory]
    [InlineData(46, 7.0)]       // layers of 12 and 11
    [InlineData(60, 7.0)]
    [InlineData(60, 7.1)]       // room for 12 in every layer
    [InlineData(5, 7.1)]
    public void Orthocyclic_turns_touch_and_do_not_cross(int turns, double length)
    {
        CoilFormer former = CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), length.Millimeters());
        AssertPacked(Coil.Wind(HalfMillimeter, former, turns, WindingStyle.Orthocyclic));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(12)]
    [InlineData(100)]
    public void Layered_turns_touch_and_do_not_cross(int turns) => AssertPacked(Coil.Wind(HalfMillimeter, Bench(), turns));

    /// <summary>The blocks that the kernels see have the center of gravity of the turns, and their number.</summary>
    [Theory]
    [InlineData(29, 7.0, false)]
    [InlineData(100, 7.0, false)]
    [InlineData(5, 7.0, false)]
    [InlineData(46, 7.0, true)]
    [InlineData(60, 7.0, true)]
    [InlineData(62, 7.0, true)]
    [InlineData(12, 7.1, true)]
    [InlineData(36, 7.1, true)]
    [InlineData(61, 7.1, true)]
    public void Blocks_stand_for_the_turns(int turns, double length, bool orthocyclic)
    {
        CoilFormer former = CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), length.Millimeters());
        Coil coil = Coil.Wind(HalfMillimeter, former, turns, orthocyclic ? WindingStyle.Orthocyclic : WindingStyle.Layered);
        CoilSi si = coil.ToSi();
        IReadOnlyList<TurnPosition> positions = coil.TurnPositions();
        double depth = 0;
        double axial = 0;
        foreach (WindingBlockSi block in new[] { si.Full, si.Last })
        {
            depth += block.Turns * 0.5 * (block.InnerDepth + block.OuterDepth);
            axial += block.Turns * 0.5 * (block.AxialFrom + block.AxialTo);
        }

        Assert.Equal(turns, si.Turns);
        Assert.Equal(positions.Sum(turn => turn.Axial.Meters), axial, 1e-12);

        // Orthocyclic layers of 12 and 11 are taken as one block of even density: their mean depth differs by a hair.
        Assert.Equal(positions.Average(turn => turn.Depth.Meters), depth / turns, orthocyclic ? 0.02 * coil.Build.Meters : 1e-12);
    }

    [Fact]
    public void Wild_turns_fill_the_section_evenly()
    {
        Coil coil = Coil.Wind(HalfMillimeter, Bench(5), 77, WindingStyle.WildToTheEdge);
        IReadOnlyList<TurnPosition> turns = coil.TurnPositions();
        Assert.Equal(77, turns.Count);
        Assert.All(turns, turn => Assert.InRange(turn.Depth.Millimeters, 0, 5));
        Assert.All(turns, turn => Assert.InRange(turn.Axial.Millimeters, -3.5, 3.5));
        Assert.Equal(2.5, turns.Average(turn => turn.Depth.Millimeters), 0.1);
        Assert.Equal(0, turns.Average(turn => turn.Axial.Millimeters), 0.1);
    }

    [Fact]
    public void The_next_gauge_keeps_former_and_room()
    {
        Coil coil = Coil.Wind(HalfMillimeter, Bench(), 180);
        Coil thinner = coil.WithNextThinnerWire();
        Coil thicker = coil.WithNextThickerWire();
        Assert.Equal("0.45 mm", thinner.Wire.Gauge.Name);
        Assert.Equal("0.56 mm", thicker.Wire.Gauge.Name);

        // 0.513 mm overall: 13 a layer, 16 layers in 8.49 mm; 0.630 mm: 11 a layer, 13 layers.
        Assert.Equal((13, 16, 208), (thinner.TurnsPerLayer, thinner.Layers, thinner.Turns));
        Assert.Equal((11, 13, 143), (thicker.TurnsPerLayer, thicker.Layers, thicker.Turns));
        Assert.True(thinner.Build <= coil.Build && thicker.Build <= coil.Build);
        Assert.True(thinner.Resistance > coil.Resistance && coil.Resistance > thicker.Resistance);
        Assert.Equal(coil.Turns, coil.WithGauge(coil.Wire.Gauge).Turns);
        Assert.Equal(coil, coil.WithTurns(100).WithTurns(180));

        // In one room the copper stays about the same, so resistance goes as turns squared.
        double turns = (double)thinner.Turns / coil.Turns;
        Assert.Equal(1, thinner.Resistance / coil.Resistance / (turns * turns), 0.1);
    }

    [Fact]
    public void The_next_gauge_of_american_wire_is_the_next_number()
    {
        Assert.Equal(WireGauge.Awg(25), WireGauge.Awg(24).NextThinner());
        Assert.Equal(WireGauge.Awg(23), WireGauge.Awg(24).NextThicker());
        Assert.Throws<ArgumentOutOfRangeException>(() => WireGauge.Awg(44).NextThinner());
        Assert.Throws<ArgumentOutOfRangeException>(() => WireGauge.Awg(-3).NextThicker());
        Assert.Equal("0.5 mm", WireGauge.Metric(0.49.Millimeters()).NextThicker().Name);
        Assert.Equal("0.45 mm", WireGauge.Metric(0.49.Millimeters()).NextThinner().Name);
        Assert.Throws<ArgumentOutOfRangeException>(() => WireGauge.Metric(5.Millimeters()).NextThicker());
        Assert.Throws<ArgumentOutOfRangeException>(() => WireGauge.Metric(0.02.Millimeters()).NextThinner());
        Assert.Equal(0.4 * 1.12 * 1.12, WireGauge.Preferred.Single(size => size.Name == "0.5 mm").BareDiameter.Millimeters, 0.005);
    }

    [Theory]
    [InlineData("Layered")]
    [InlineData("Orthocyclic")]
    [InlineData("Wild")]
    public void Most_turns_fit_and_one_more_does_not(string name)
    {
        WindingStyle style = name switch
        {
            "Layered" => WindingStyle.Layered,
            "Orthocyclic" => WindingStyle.Orthocyclic,
            _ => WindingStyle.Wild(0.7),
        };
        for (double depth = 0.6; depth < 6; depth += 0.173)
        {
            int most = Coil.MostTurns(HalfMillimeter, Bench(depth), style);
            Coil full = Coil.Wind(HalfMillimeter, Bench(depth), most, style);
            Assert.True(full.Build.Millimeters <= depth + 1e-9, $"{depth}");
            Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(depth), most + 1, style));
        }

        Assert.Equal(0, Coil.MostTurns(HalfMillimeter, Bench(0.5), style));
        Assert.Throws<ArgumentOutOfRangeException>(() => Coil.MostTurns(HalfMillimeter, Bench(), style));
    }

    [Fact]
    public void A_coil_along_the_track_is_turned()
    {
        Coil across = Coil.Wind(HalfMillimeter, Bench(), 180);
        Coil along = Coil.Wind(HalfMillimeter, Bench(), 180, axis: TrackAxis.Along);
        Assert.Equal(TrackAxis.Across, across.Axis);
        Assert.Equal(TrackAxis.Across, across.ToSi().Axis);
        Assert.Equal(TrackAxis.Along, along.ToSi().Axis);
        Assert.Equal((across.OuterWidth, across.Former.Length, across.OuterHeight), (across.ExtentAlong, across.ExtentAcross, across.ExtentUp));
        Assert.Equal((along.Former.Length, along.OuterWidth, along.OuterHeight), (along.ExtentAlong, along.ExtentAcross, along.ExtentUp));
        Assert.Equal(across.Inductance, along.Inductance);
        Assert.NotEqual(across, along);
        Assert.Throws<ArgumentOutOfRangeException>(() => Coil.Wind(HalfMillimeter, Bench(), 180, axis: TrackAxis.Up));
    }

    /// <summary>
    /// Widely copied American wire table (such as the one of powerstream.com, from memory of its column "maximum frequency for 100 % skin
    /// depth"): 42 kHz for gauge 22, 68 kHz for 24, 107 kHz for 26, 130 kHz for 27.
    /// </summary>
    [Theory]
    [InlineData(22, 42e3)]
    [InlineData(24, 68e3)]
    [InlineData(26, 107e3)]
    [InlineData(27, 130e3)]
    public void Skin_effect_frequency(int gauge, double hertz)
        => Assert.Equal(1, Wire.Copper(WireGauge.Awg(gauge), EnamelGrade.Grade1).SkinEffectFrequency.Hertz / hertz, 0.04);

    private static void AssertPlace(int layer, double depth, double axial, TurnPosition turn)
    {
        Assert.Equal(layer, turn.Layer);
        Assert.Equal(depth, turn.Depth.Millimeters, 1e-9);
        Assert.Equal(axial, turn.Axial.Millimeters, 1e-9);
    }

    /// <summary>No two turns closer than the overall diameter, all inside the window; every turn has a neighbor that it touches.</summary>
    private static void AssertPacked(Coil coil)
    {
        IReadOnlyList<TurnPosition> turns = coil.TurnPositions();
        Assert.Equal(coil.Turns, turns.Count);
        double half = 0.5 * coil.Former.Length.Millimeters;
        foreach (TurnPosition turn in turns)
        {
            Assert.InRange(turn.Axial.Millimeters, -half + 0.283 - 1e-6, half - 0.283 + 1e-6);
            Assert.InRange(turn.Depth.Millimeters, 0.283 - 1e-6, coil.Build.Millimeters - 0.283 + 1e-6);
            double nearest = turns.Where(other => !ReferenceEquals(other, turn))
                .Select(other => double.Hypot(other.Axial.Millimeters - turn.Axial.Millimeters, other.Depth.Millimeters - turn.Depth.Millimeters))
                .DefaultIfEmpty(0.566)
                .Min();
            Assert.Equal(0.566, nearest, 1e-6);
        }
    }
}
