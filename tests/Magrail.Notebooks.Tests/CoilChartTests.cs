using System.Text.Json;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

public sealed class CoilChartTests
{
    private static readonly Wire Wire = Magrail.Wire.Copper(WireGauge.Metric(0.45.Millimeters()), EnamelGrade.Grade2);
    private static readonly BlockMagnet Block = new(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
    private static readonly MagnetStation Pair = MagnetStation.FacingPair(Block, 10.Millimeters());

    [Fact]
    public void Every_turn_is_two_circles_to_scale_at_its_place()
    {
        Coil coil = Coil(165);
        DrawingView view = CoilCharts.CrossSection(coil).Views[0];
        IReadOnlyList<TurnPosition> turns = coil.TurnPositions();
        List<(double X, double Y, double Radius)> enamel = CirclesOf(view.Outlines[1]);
        Assert.Equal(165, enamel.Count);
        for (int i = 0; i < turns.Count; i++)
        {
            Assert.Equal(turns[i].Axial.Millimeters, enamel[i].X, 1e-9);
            Assert.Equal(turns[i].Depth.Millimeters, enamel[i].Y, 1e-9);
            Assert.Equal(0.5 * Wire.OverallDiameter.Millimeters, enamel[i].Radius, 1e-9);
        }

        // 13 layers of 13; the last, an odd one, holds the 9 that are left.
        List<(double X, double Y, double Radius)> odd = CirclesOf(view.Outlines.Single(outline => outline.Name == "odd layers"));
        List<(double X, double Y, double Radius)> even = CirclesOf(view.Outlines.Single(outline => outline.Name == "even layers"));
        Assert.Equal((6 * 13) + 9, odd.Count);
        Assert.Equal(6 * 13, even.Count);
        Assert.All(odd.Concat(even), circle => Assert.Equal(0.225, circle.Radius, 1e-9));
        Assert.Equal(9, odd.Count(circle => circle.Y > coil.Build.Millimeters - 0.3));
        Assert.Equal("turn 14, layer 2", view.Places[13].Name);
        Assert.Contains("13 layers, 13 turns in the first and 9 in the last", view.Words, StringComparison.Ordinal);
        Assert.Equal(("layer 13", "9 turns at 6.412 mm above the core"), view.Facts[^1]);
    }

    [Fact]
    public void The_former_ends_at_its_flange_edge_and_the_winding_at_its_build()
    {
        Coil coil = Magrail.Coil.Wind(Wire, CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters(), depth: 9.Millimeters()), 100);
        DrawingView view = CoilCharts.CrossSection(coil).Views[0];
        Assert.Equal("former", view.Outlines[0].Name);
        Assert.Equal(9, view.Outlines[0].Y.Max(), 9);
        Assert.Contains(view.Outlines[0].X, x => Math.Abs(x - 3.5) < 1e-9);
        Assert.Equal("along the coil's axis (mm)", view.Horizontal.Title);
        Assert.Equal("depth above the core (mm)", view.Vertical.Title);
        JsonElement axes = HeatMapTests.Figure(CoilCharts.CrossSection(coil)).GetProperty("layout");
        Assert.Equal("x", axes.GetProperty("yaxis").GetProperty("scaleanchor").GetString());
        Assert.Equal(1, axes.GetProperty("yaxis").GetProperty("scaleratio").GetDouble());
    }

    [Fact]
    public void Orthocyclic_turns_lie_in_the_grooves_and_wild_ones_are_said_to_be_spread()
    {
        Coil grooved = Magrail.Coil.Wind(Wire, CoilFormer.Round(12.Millimeters(), 7.Millimeters()), 60, WindingStyle.Orthocyclic);
        List<(double X, double Y, double Radius)> circles = CirclesOf(CoilCharts.CrossSection(grooved).Views[0].Outlines[1]);
        double[] apart = [.. circles.Skip(20).Select(c => circles.Where(other => other != c).Min(other => Math.Sqrt(Math.Pow(c.X - other.X, 2) + Math.Pow(c.Y - other.Y, 2))))];
        Assert.All(apart, each => Assert.Equal(Wire.OverallDiameter.Millimeters, each, 1e-6));

        Drawing wild = CoilCharts.CrossSection(Magrail.Coil.Wind(Wire, CoilFormer.Round(12.Millimeters(), 7.Millimeters()), 60, WindingStyle.Wild(0.6)));
        Assert.Contains("no order of its own", wild.Note, StringComparison.Ordinal);
        Assert.Contains("rows", wild.Views[0].Words, StringComparison.Ordinal);
        Assert.Equal(60, CirclesOf(wild.Views[0].Outlines[1]).Count);
    }

    [Fact]
    public void The_face_has_the_outside_and_the_core_of_the_coil()
    {
        Coil coil = Coil(165);
        Drawing drawing = CoilCharts.CrossSection(coil);
        DrawingView face = drawing.Views[1];
        ChartOutline outside = face.Outlines.Single(outline => outline.Name == "winding");
        Assert.Equal(0.5 * coil.OuterWidth.Millimeters, outside.X.Max(), 9);
        Assert.Equal(0.5 * coil.OuterHeight.Millimeters, outside.Y.Max(), 9);
        ChartOutline core = face.Outlines.Single(outline => outline.Name == "core of the former");
        Assert.Equal(6, core.X.Max(), 9);
        Assert.Equal(9, core.Y.Max(), 9);
        Assert.Equal("along the track (mm)", face.Horizontal.Title);
        Assert.Equal(13, face.Outlines.Count(outline => outline.Name.Length == 0));
        Assert.Equal(2, drawing.Figures().Count);
        Assert.Equal(["Cut through the winding", "The coil's face"], drawing.Figures().Select(figure => figure.Title));
        Assert.Contains("25.34 mm wide", drawing.ToText(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_coil_of_too_many_turns_to_be_told_apart_is_refused()
        => Assert.Contains(
            "5000 can be drawn",
            Assert.Throws<ArgumentException>(() => CoilCharts.CrossSection(Magrail.Coil.Wind(Wire, CoilFormer.Round(12.Millimeters(), 70.Millimeters()), 5001))).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Force_per_ampere_over_one_station_is_the_curve_with_its_error_bound()
    {
        CouplingCurve curve = CouplingCurve.Of(Coil(160), Pair);
        LineChart chart = CoilCharts.Coupling(curve);
        ChartSeries k = chart.PanelsFromTop.Single().Series.Single();
        Assert.Equal("force per ampere (N/A)", chart.PanelsFromTop.Single().Vertical.Title);
        Assert.EndsWith("(mm)", chart.Horizontal.Title, StringComparison.Ordinal);
        Assert.Equal(-k.X[0], k.X[^1], 9);
        int third = k.X.Count / 3;
        Assert.Equal(curve.At(Length.FromMillimeters(k.X[third])).NewtonsPerAmpere, k.Y[third], 1e-9);
        Assert.Equal(curve.Peak.NewtonsPerAmpere, k.Y.Max(Math.Abs), 0.002 * curve.Peak.NewtonsPerAmpere);
        Assert.Contains($"computed to within {curve.ErrorBound}", chart.Description, StringComparison.Ordinal);
        ChartBand band = Assert.Single(chart.Ribbon);
        Assert.Equal([-6.0, 6], [band.From, band.To]);
    }

    [Fact]
    public void Force_per_ampere_along_the_track_is_what_a_launch_on_it_meets()
    {
        Coil coil = Coil(160);
        Track track = Track.OfFacingPairs(Block, gap: 10.Millimeters(), stations: 6, pitch: 20.Millimeters());
        LineChart chart = CoilCharts.CouplingAlongTrack(coil, track, 10.Millimeters(), 70.Millimeters());
        var launcher = new Launcher(
            track,
            new Sled(40.Grams(), coil),
            ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters())),
            new BenchSupply(12.Volts(), 20.Amperes()),
            new Payload(40.Grams()))
        { Suppressor = Suppressor.Clamp(60.Volts()) };
        LaunchResult launch = launcher.Launch();
        ChartSeries k = chart.PanelsFromTop.Single().Series.Single();
        double peak = k.Y.Max(Math.Abs);
        foreach (int i in new[] { 0, k.X.Count / 4, k.X.Count / 2, k.X.Count - 1 })
        {
            Assert.Equal(launch.ForceConstantAt(Length.FromMeters(k.X[i])).NewtonsPerAmpere, k.Y[i], 2e-7 * peak);
        }

        Assert.Contains("Computed to within", chart.Description, StringComparison.Ordinal);
        Assert.Contains("within 1 × 10⁻⁷ of its greatest size", LaunchCharts.CouplingAlongTrack(launch).Description, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => CoilCharts.CouplingAlongTrack(coil, track, 70.Millimeters(), 10.Millimeters()));
    }

    [Fact]
    public void Sideways_force_is_drawn_for_each_direction_that_has_one()
    {
        LateralForce force = LateralForce.Of(Coil(160), Pair, 0.5.Millimeters(), Length.Zero, 1e-2);
        LineChart chart = CoilCharts.LateralForce(force);
        ChartSeries across = chart.PanelsFromTop.Single().Series.Single();
        Assert.Equal("across the gap", across.Name);
        Assert.Equal("sideways force per ampere across the gap (N/A)", chart.PanelsFromTop.Single().Vertical.Title);
        int at = across.X.Count / 2;
        Assert.Equal(force.AcrossAt(Length.FromMillimeters(across.X[at])).NewtonsPerAmpere, across.Y[at], 1e-12);
        Assert.Contains($"Computed to within {force.ErrorBound}", chart.Description, StringComparison.Ordinal);
    }

    internal static Coil Coil(int turns)
        => Magrail.Coil.Wind(Wire, CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), turns);

    private static List<(double X, double Y, double Radius)> CirclesOf(ChartOutline outline)
    {
        var circles = new List<(double, double, double)>();
        int from = 0;
        for (int i = 0; i <= outline.X.Count; i++)
        {
            if (i < outline.X.Count && !double.IsNaN(outline.X[i]))
            {
                continue;
            }

            double[] x = [.. outline.X.Skip(from).Take(i - from)];
            double[] y = [.. outline.Y.Skip(from).Take(i - from)];
            double middleX = 0.5 * (x.Min() + x.Max());
            double middleY = 0.5 * (y.Min() + y.Max());
            circles.Add((middleX, middleY, 0.5 * (x.Max() - x.Min())));
            from = i + 1;
        }

        return circles;
    }
}
