using System.Text.Json;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

public sealed class FieldChartTests
{
    private static readonly BlockMagnet Block = new(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
    private static readonly Track Six = Track.OfFacingPairs(Block, gap: 10.Millimeters(), stations: 6, pitch: 20.Millimeters());
    private static readonly MapPlane Level = MapPlane.AtHeight(Length.Zero);

    [Theory]
    [InlineData(FieldComponent.Magnitude)]
    [InlineData(FieldComponent.Along)]
    [InlineData(FieldComponent.Across)]
    [InlineData(FieldComponent.Up)]
    public void Every_node_of_a_level_map_is_the_tracks_own_flux_density(FieldComponent component)
    {
        HeatMap map = FieldCharts.FieldMap(Six, MapPlane.AtHeight(2.Millimeters()).Within(0.Millimeters(), 40.Millimeters(), -12.Millimeters(), 12.Millimeters()), component);
        Assert.Equal([0.0, 40], [map.Columns[0], map.Columns[^1]]);
        Assert.Equal([-12.0, 12], [map.Rows[0], map.Rows[^1]]);
        Assert.InRange(map.Columns.Count * map.Rows.Count, 8_000, 16_000);
        foreach ((int row, int column) in new[] { (0, 0), (17, 40), (map.Rows.Count - 1, 3), (30, map.Columns.Count - 1) })
        {
            FluxDensity b = Six.FluxDensityAt(Length.FromMillimeters(map.Columns[column]), Length.FromMillimeters(map.Rows[row]), 2.Millimeters());
            double expected = component switch
            {
                FieldComponent.Along => b.Along.Teslas,
                FieldComponent.Across => b.Across.Teslas,
                FieldComponent.Up => b.Up.Teslas,
                _ => b.Magnitude.Teslas,
            };
            Assert.Equal(expected, map.Values[row][column], 1e-12);
        }

        Assert.Equal(component != FieldComponent.Magnitude, map.PartsAtZero);
        Assert.Equal("T", map.Value.Unit);
        Assert.Equal("position along the track (mm)", map.Horizontal.Title);
        Assert.Equal("position across the gap (mm)", map.Vertical.Title);
    }

    [Fact]
    public void Upright_and_oblique_planes_show_the_field_of_their_own_points()
    {
        HeatMap side = FieldCharts.FieldMap(Six, MapPlane.AtOffset(1.Millimeters()).Within(10.Millimeters(), 30.Millimeters(), 0.Millimeters(), 10.Millimeters()), FieldComponent.Across);
        Same(side, 5, 7, (u, v) => (u, 1, v), b => b.Across.Teslas);
        HeatMap end = FieldCharts.FieldMap(Six, MapPlane.AtPosition(33.Millimeters()).Within(-10.Millimeters(), 10.Millimeters(), -5.Millimeters(), 5.Millimeters()));
        Same(end, 11, 4, (u, v) => (33, u, v), b => b.Magnitude.Teslas);
        Assert.Equal("position across the gap (mm)", end.Horizontal.Title);
        Assert.Equal("height (mm)", end.Vertical.Title);

        // 3-4-5: the first direction is (0.6, 0, 0.8); of the second only what stands upright on it counts, which is y.
        MapPlane plane = MapPlane.Through((20.Millimeters(), 0.Millimeters(), 1.Millimeters()), (3, 0, 4), (0.3, 2, 0.4));
        HeatMap oblique = FieldCharts.FieldMap(Six, plane.Within(-8.Millimeters(), 8.Millimeters(), -6.Millimeters(), 6.Millimeters()));
        Same(oblique, 20, 9, (u, v) => (20 + (0.6 * u), v, 1 + (0.8 * u)), b => b.Magnitude.Teslas);
        Assert.Equal("distance in direction (0.6, 0, 0.8) (mm)", oblique.Horizontal.Title);

        static void Same(HeatMap map, int row, int column, Func<double, double, (double X, double Y, double Z)> place, Func<FluxDensity, double> part)
        {
            (double x, double y, double z) = place(map.Columns[column], map.Rows[row]);
            FluxDensity b = Six.FluxDensityAt(Length.FromMillimeters(x), Length.FromMillimeters(y), Length.FromMillimeters(z));
            Assert.Equal(part(b), map.Values[row][column], 1e-12);
        }
    }

    [Fact]
    public void Magnets_are_outlined_where_the_plane_cuts_them()
    {
        HeatMap map = FieldCharts.FieldMap(MagnetStation.FacingPair(Block, 10.Millimeters()), Level);
        ChartOutline magnets = map.Outlines.Single(outline => outline.Name == "magnets");
        double[] x = [.. magnets.X.Where(double.IsFinite)];
        double[] y = [.. magnets.Y.Where(double.IsFinite)];
        Assert.Equal([-6.0, 6], [x.Min(), x.Max()]);
        Assert.Equal([-11.0, -5, 5, 11], y.Select(each => Math.Round(each, 9)).Distinct().Order());
        Assert.Contains("The plane cuts 2 magnets.", map.Description, StringComparison.Ordinal);
        Assert.Contains("infinite", map.Note, StringComparison.Ordinal);

        // In the middle of the gap nothing is cut, and no edge is near.
        HeatMap between = FieldCharts.FieldMap(MagnetStation.FacingPair(Block, 10.Millimeters()), MapPlane.AtOffset(Length.Zero));
        Assert.DoesNotContain(between.Outlines, outline => outline.Name == "magnets");
        Assert.DoesNotContain("infinite", between.Note!, StringComparison.Ordinal);
    }

    [Fact]
    public void A_disc_is_cut_into_a_circle_and_a_ring_into_two_walls()
    {
        var disc = new DiscMagnet(15.Millimeters(), 5.Millimeters(), MagnetGrade.N42);
        ChartOutline circle = FieldCharts.FieldMap(MagnetStation.FacingPair(disc, 8.Millimeters()), MapPlane.AtOffset(5.Millimeters()))
            .Outlines.Single(outline => outline.Name == "magnets");
        Assert.All(circle.X.Zip(circle.Y).Where(p => double.IsFinite(p.First)), p => Assert.Equal(7.5, Math.Sqrt((p.First * p.First) + (p.Second * p.Second)), 0.01));

        MagnetStation ring = MagnetStation.Coaxial(new RingMagnet(40.Millimeters(), 24.Millimeters(), 8.Millimeters(), MagnetGrade.N42));
        ChartOutline walls = FieldCharts.FieldMap(ring, Level).Outlines.Single(outline => outline.Name == "magnets");
        double[] y = [.. walls.Y.Where(double.IsFinite)];
        Assert.Equal([-20.0, -12, 12, 20], y.Select(each => Math.Round(each, 3)).Distinct().Order());
        Assert.Equal(1, walls.X.Count(double.IsNaN));
        Assert.DoesNotContain(y, each => Math.Abs(each) < 11.9);
    }

    [Fact]
    public void Rolled_blocks_stand_where_they_are_rolled_to()
    {
        // Four blocks around the path, one at each quarter: the level plane cuts the two at its sides.
        MagnetStation station = MagnetStation.Coaxial(Block, 4, 30.Millimeters());
        ChartOutline cut = FieldCharts.FieldMap(station, Level).Outlines.Single(outline => outline.Name == "magnets");
        Assert.Equal([-21.0, -15, 15, 21], cut.Y.Where(double.IsFinite).Select(each => Math.Round(each, 6)).Distinct().Order());

        // The one above lies on its side: across the track it is as wide as it was high.
        ChartOutline end = FieldCharts.FieldMap(station, MapPlane.AtPosition(Length.Zero)).Outlines.Single(outline => outline.Name == "magnets");
        double[] widths = [.. end.X.Zip(end.Y).Where(p => p.Second > 14.9).Select(p => p.First)];
        Assert.Equal(10, widths.Max(), 6);
    }

    [Fact]
    public void Needles_point_along_the_field()
    {
        HeatMap map = FieldCharts.FieldMap(Six, Level.Within(15.Millimeters(), 25.Millimeters(), -2.Millimeters(), 2.Millimeters()));
        ChartOutline needles = map.Outlines.Single(outline => outline.Pen == ChartPen.Needle);
        Assert.True(needles.X.Count(double.IsNaN) > 150, "two strokes to a needle");
        for (int i = 0; i + 1 < needles.X.Count; i += 7)
        {
            // A stroke of two points, then the three points of its head.
            Assert.True(double.IsNaN(needles.X[i + 2]));
            (double dx, double dy) = (needles.X[i + 1] - needles.X[i], needles.Y[i + 1] - needles.Y[i]);
            FluxDensity b = Six.FluxDensityAt(
                Length.FromMillimeters(0.5 * (needles.X[i] + needles.X[i + 1])), Length.FromMillimeters(0.5 * (needles.Y[i] + needles.Y[i + 1])), Length.Zero);
            double cosine = ((dx * b.Along.Teslas) + (dy * b.Across.Teslas)) / (Math.Sqrt((dx * dx) + (dy * dy)) * b.Magnitude.Teslas);
            Assert.Equal(1, cosine, 1e-9);
        }
    }

    [Fact]
    public void Back_iron_is_left_blank()
    {
        MagnetStation station = MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(4.Millimeters()));
        HeatMap map = FieldCharts.FieldMap(station, Level.Within(bottom: -14.Millimeters(), top: 14.Millimeters()));
        for (int row = 0; row < map.Rows.Count; row++)
        {
            Assert.Equal(Math.Abs(map.Rows[row]) > 11, map.Values[row].All(double.IsNaN));
        }

        Assert.Contains("Grey is back iron", map.Note, StringComparison.Ordinal);
        ChartOutline face = map.Outlines.Single(outline => outline.Name == "face of the back iron");
        Assert.All(face.Y, y => Assert.Equal(-11, y, 9));
    }

    [Fact]
    public void A_long_track_shows_four_stations_in_its_middle_unless_told()
    {
        Track track = Track.OfFacingPairs(Block, gap: 10.Millimeters(), stations: 14, pitch: 20.Millimeters());
        HeatMap map = FieldCharts.FieldMap(track, Level);
        Assert.InRange(map.Columns[0], 85, 94);
        Assert.InRange(map.Columns[^1], 166, 175);
        HeatMap told = FieldCharts.FieldMap(track, Level.Within(95.Millimeters(), 125.Millimeters()), limit: 0.7.Teslas());
        Assert.Equal(0.7, told.Limit);
        Assert.Equal([95.0, 125], [told.Columns[0], told.Columns[^1]]);
        Assert.Contains("The plane cuts 4 magnets.", told.Description, StringComparison.Ordinal);
    }

    [Fact]
    public void A_map_of_a_very_long_track_misses_nothing_that_shows()
    {
        Track track = Track.OfFacingPairs(Block, gap: 10.Millimeters(), stations: 1000, pitch: 20.Millimeters());
        HeatMap map = FieldCharts.FieldMap(track, Level.Within(9_950.Millimeters(), 10_000.Millimeters()));
        foreach ((int row, int column) in new[] { (0, 0), (40, 70), (map.Rows.Count - 1, map.Columns.Count - 1) })
        {
            double whole = track.FluxDensityAt(Length.FromMillimeters(map.Columns[column]), Length.FromMillimeters(map.Rows[row]), Length.Zero).Magnitude.Teslas;
            Assert.Equal(whole, map.Values[row][column], 1e-3);
        }
    }

    [Fact]
    public void A_coil_is_drawn_where_it_stands()
    {
        Coil coil = CoilChartTests.Coil(160);
        HeatMap map = FieldCharts.FieldMap(Six, Level, coil: coil, coilAt: 30.Millimeters());
        ChartOutline winding = map.Outlines.Single(outline => outline.Name == "winding of the coil");
        double[] x = [.. winding.X.Where(double.IsFinite)];
        Assert.Equal(30 + (0.5 * coil.OuterWidth.Millimeters), x.Max(), 6);
        Assert.Contains(x, each => Math.Abs(each - 24) < 1e-6);
        Assert.Equal(3.5, winding.Y.Where(double.IsFinite).Max(), 9);
    }

    [Fact]
    public void Planes_that_are_none_and_parts_without_size_are_refused()
    {
        Assert.Contains("neither zero", Assert.Throws<ArgumentException>(() => MapPlane.Through((Length.Zero, Length.Zero, Length.Zero), (0, 0, 0), (0, 1, 0))).Message, StringComparison.Ordinal);
        Assert.Contains("same way", Assert.Throws<ArgumentException>(() => MapPlane.Through((Length.Zero, Length.Zero, Length.Zero), (1, 1, 0), (2, 2, 0))).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => MapPlane.Through((Length.Zero, Length.Zero, Length.Zero), (double.NaN, 1, 0), (2, 2, 0)));
        Assert.Contains("beyond its beginning", Assert.Throws<ArgumentException>(() => FieldCharts.FieldMap(Six, Level.Within(20.Millimeters(), 10.Millimeters()))).Message, StringComparison.Ordinal);
        Assert.Contains("cuts no magnet", Assert.Throws<ArgumentException>(() => FieldCharts.MagnetOrientation(Six, MapPlane.AtHeight(50.Millimeters()))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Arrows_run_from_south_to_north_and_turn_over_from_station_to_station()
    {
        Drawing drawing = FieldCharts.MagnetOrientation(Six);
        DrawingView view = drawing.Views.Single();
        ChartOutline arrows = view.Outlines.Single(outline => outline.Name == "south to north");

        // Four stations of two magnets, each arrow a stroke of two points and a head of three.
        List<(double X, double Up)> strokes = [];
        for (int i = 0; i + 1 < arrows.X.Count; i += 7)
        {
            strokes.Add((arrows.X[i], arrows.Y[i + 1] - arrows.Y[i]));
        }

        Assert.Equal(8, strokes.Count);
        Assert.All(strokes, stroke => Assert.Equal(Math.Round(stroke.X / 20) % 2 == 0 ? 1 : -1, Math.Sign(stroke.Up)));
        Assert.Equal("north pole toward +y", view.Facts[1].Value);
        Assert.Equal("north pole toward −y", view.Facts[0].Value);
        Assert.Equal(["positive", "negative"], view.Outlines.Take(2).Select(outline => outline.Name));
        Assert.Equal(8, view.Places.Count);
    }

    [Fact]
    public void Off_the_middle_line_all_components_are_drawn_and_on_it_the_one_that_counts()
    {
        LineChart middle = LaunchCharts.FluxDensityAlongTrack(Six);
        Assert.Equal("flux density across the gap (T)", middle.PanelsFromTop.Single().Vertical.Title);
        LineChart off = LaunchCharts.FluxDensityAlongTrack(Six, across: 3.Millimeters(), up: 8.Millimeters());
        Assert.Equal(["across the gap", "along the track", "upward"], off.PanelsFromTop.Single().Series.Select(series => series.Name));
        ChartSeries along = off.PanelsFromTop.Single().Series[1];
        Assert.Equal(
            Six.FluxDensityAt(Length.FromMeters(along.X[50]), 3.Millimeters(), 8.Millimeters()).Along.Teslas, along.Y[50], 1e-12);
        MagnetStation ring = MagnetStation.Coaxial(new RingMagnet(40.Millimeters(), 24.Millimeters(), 8.Millimeters(), MagnetGrade.N42));
        Assert.Equal("flux density along the track (T)", LaunchCharts.FluxDensityAlongTrack(Track.OfStations(ring, 3, 30.Millimeters())).PanelsFromTop.Single().Vertical.Title);
    }

    [Fact]
    public void The_figure_of_a_map_has_a_trace_for_colors_and_two_for_each_line_with_a_seam()
    {
        HeatMap map = FieldCharts.FieldMap(Six, Level);
        JsonElement data = HeatMapTests.Figure(map).GetProperty("data");
        Assert.Equal(1 + (2 * map.Outlines.Count), data.GetArrayLength());
        Assert.Contains(data.EnumerateArray(), trace => trace.GetProperty("name").GetString() == "magnets" && trace.GetProperty("showlegend").GetBoolean());
        Assert.Equal(["position across the gap (mm)", "position along the track (mm)", "flux density (T)"], HeatMapTests.Notes(HeatMapTests.Figure(map)));
    }
}
