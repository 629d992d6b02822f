using System.Text.Json;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

public sealed class LaunchChartTests
{
    private static readonly LaunchResult Launch = Small().Launch();

    [Fact]
    public void Speed_current_and_force_have_titles_with_units_and_end_where_the_launch_ends()
    {
        LineChart chart = LaunchCharts.Overview(Launch);
        Assert.Equal("position (m)", chart.Horizontal.Title);
        Assert.Equal(["speed (m/s)", "current (A)", "magnetic force (N)"], chart.PanelsFromTop.Select(panel => panel.Vertical.Title));
        ChartSeries speed = chart.PanelsFromTop[0].Series.Single();
        Assert.Equal(Launch.EndPosition.Meters, speed.X[^1], 12);
        Assert.Equal(Launch.EndSpeed.MetersPerSecond, speed.Y[^1], 12);
        ChartSeries current = chart.PanelsFromTop[1].Series.Single();
        Assert.Equal(Launch.PeakCurrent.Amperes, current.Y.Max(Math.Abs), 0.01 * Launch.PeakCurrent.Amperes);
        Assert.Equal("needed: 2 m/s", chart.PanelsFromTop[0].Levels.Single().Name);
    }

    [Fact]
    public void The_ribbon_has_a_band_for_each_station_in_reach_in_turn_dark_and_light()
    {
        ChartBand[] bands = [.. LaunchCharts.FluxDensityAlongTrack(Launch.Launcher.Track).Ribbon];
        Assert.Equal(6, bands.Length);
        Assert.Equal(0.012, bands[2].To - bands[2].From, 12);
        Assert.Equal(0.040, 0.5 * (bands[2].To + bands[2].From), 12);
        Assert.Equal([ChartShade.Dark, ChartShade.Light], bands.Take(2).Select(band => band.Shade));
    }

    [Fact]
    public void A_close_look_stays_inside_its_stretch_and_refuses_one_where_the_sled_never_was()
    {
        LineChart chart = LaunchCharts.Overview(Launch, 20.Millimeters(), 60.Millimeters());
        Assert.All(chart.PanelsFromTop.SelectMany(panel => panel.Series).SelectMany(series => series.X), x => Assert.InRange(x, 0.020, 0.060));
        Assert.Contains("lies outside", Assert.Throws<ArgumentException>(() => LaunchCharts.Overview(Launch, 2.Meters(), 3.Meters())).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => LaunchCharts.FluxDensityAlongTrack(Launch.Launcher.Track, 1.Meters(), 0.5.Meters()));
    }

    [Fact]
    public void The_ledger_chart_adds_up_to_what_was_drawn()
    {
        BarChart chart = LaunchCharts.EnergyLedger(Launch);
        Assert.Equal("energy (J)", chart.Axis.Title);
        double Sum(ChartBarKind kind) => chart.BarsFromTop.Where(bar => bar.Kind == kind).Sum(bar => bar.To - bar.From);
        Assert.Equal(Launch.Ledger.Drawn.Joules, Sum(ChartBarKind.Gain), 12);
        Assert.Equal(Launch.Ledger.Kinetic.Joules, Sum(ChartBarKind.Kept), 12);
        Assert.Equal(Sum(ChartBarKind.Gain), Sum(ChartBarKind.Loss) + Sum(ChartBarKind.Kept), 1e-5 * Sum(ChartBarKind.Gain));
        Assert.Contains(chart.BarsFromTop, bar => bar.Name == "motion of the payload");
    }

    [Fact]
    public void Back_emf_is_the_coupling_times_the_speed()
    {
        LineChart chart = LaunchCharts.VoltsAlongTrack(Launch);
        ChartSeries emf = chart.PanelsFromTop[0].Series.Single(series => series.Name == "back-EMF");
        LaunchSample sample = Launch.Trace.AtPosition(Length.FromMeters(emf.X[^1]));
        Assert.Equal(Math.Abs(Launch.ForceConstantAt(sample.Position).NewtonsPerAmpere * sample.Speed.MetersPerSecond), emf.Y[^1], 9);
        Assert.Equal("voltage between stations (V)", chart.PanelsFromTop[0].Vertical.Title);
        Assert.Equal(12, chart.PanelsFromTop[0].Levels.Single().Value);
    }

    [Fact]
    public void Coupling_is_in_newtons_per_ampere_and_speeds_keep_the_names_they_are_given()
    {
        Assert.Equal("force per ampere (N/A)", LaunchCharts.CouplingAlongTrack(Launch).PanelsFromTop.Single().Vertical.Title);
        LineChart compared = LaunchCharts.SpeedsCompared(("one", Launch), ("two", Launch));
        using JsonDocument figure = JsonDocument.Parse(compared.FigureJson());
        LineChart close = LaunchCharts.SpeedsCompared(20.Millimeters(), 60.Millimeters(), ("one", Launch), ("two", Launch));
        Assert.Equal(2, close.PanelsFromTop.Single().Series.Count);
        Assert.All(close.PanelsFromTop.Single().Series.SelectMany(series => series.X), x => Assert.InRange(x, 0.020, 0.060));
        Assert.Equal(["one", "two"], figure.RootElement.GetProperty("data").EnumerateArray().Select(trace => trace.GetProperty("name").GetString()));
    }

    [Fact]
    public void A_launch_that_is_not_released_is_drawn_as_far_as_it_came()
    {
        LaunchResult stuck = (Small() with { Slope = Angle.FromDegrees(80), Payload = new Payload(2.Kilograms()) }).Launch();
        Assert.NotEqual(LaunchOutcome.Released, stuck.Outcome);
        Assert.Equal(3, LaunchCharts.Overview(stuck).PanelsFromTop.Count);
        Assert.Contains(Facts.Of(stuck), fact => fact.Name == "not released" && fact.Value == stuck.Cause);
    }

    [Fact]
    public void Thinning_keeps_every_line_within_an_eight_thousandth_of_its_height()
    {
        double[] x = [.. Enumerable.Range(0, 3001).Select(i => i / 3000.0)];
        double[] y = [.. x.Select(at => at < 0.5 ? Math.Sin(40 * at) : 0.2)];
        int[] kept = LineThinning.Kept(x, y);
        Assert.InRange(kept.Length, 20, 800);
        for (int i = 0; i < x.Length; i++)
        {
            int right = Array.FindIndex(kept, each => each >= i);
            double expected = kept[right] == i
                ? y[i]
                : y[kept[right - 1]] + ((y[kept[right]] - y[kept[right - 1]]) * (x[i] - x[kept[right - 1]]) / (x[kept[right]] - x[kept[right - 1]]));
            Assert.Equal(expected, y[i], 2.0 / 8000);
        }
    }

    [Fact]
    public void Curves_share_their_axis_of_position_or_time_and_carry_units()
    {
        LaunchCurve[] all = Enum.GetValues<LaunchCurve>();
        LineChart chart = LaunchCharts.Curves(Launch, LaunchAxis.Time, all);
        Assert.Equal("time (ms)", chart.Horizontal.Title);
        Assert.Equal("Speed, current, force, power, rail voltage and coil temperature against time", chart.Title);
        Assert.Equal(
            ["speed (m/s)", "current (A)", "magnetic force (N)", "power (W)", "voltage between the rails (V)", "coil temperature (°C)"],
            chart.PanelsFromTop.Select(panel => panel.Vertical.Title));
        Assert.Empty(chart.Ribbon);
        Assert.All(chart.PanelsFromTop.SelectMany(panel => panel.Series), series => Assert.Equal(Launch.EndTime.Milliseconds, series.X[^1], 9));
        Assert.Equal(["from the source", "into motion", "heat in the coil"], chart.PanelsFromTop[3].Series.Select(series => series.Name));
        Assert.Equal(Launch.CoilTemperatures[0].DegreesCelsius, chart.PanelsFromTop[5].Series.Single().Y[^1], 9);
        Assert.Equal(Launch.LeastRailVoltage.Volts, chart.PanelsFromTop[4].Series.Single().Y.Min(), 0.01);
        Assert.Equal(12, chart.PanelsFromTop[4].Levels.Single().Value);

        LineChart along = LaunchCharts.Curves(Launch, LaunchAxis.Position, LaunchCurve.Power);
        Assert.Equal("Power against position", along.Title);
        Assert.Equal("position (m)", along.Horizontal.Title);
        Assert.Equal(6, along.Ribbon.Count);
        Assert.Contains("power (W)", along.ToText(), StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => LaunchCharts.Curves(Launch, LaunchAxis.Time));
        Assert.Throws<ArgumentException>(() => LaunchCharts.Curves(Launch, LaunchAxis.Time, LaunchCurve.Speed, LaunchCurve.Speed));
    }

    [Fact]
    public void Curves_of_several_launches_keep_their_names()
    {
        LineChart chart = LaunchCharts.Compared(LaunchCurve.RailVoltage, LaunchAxis.Time, ("one", Launch), ("two", Launch));
        Assert.Equal("Rail voltage compared", chart.Title);
        Assert.Equal(["one", "two"], chart.PanelsFromTop.Single().Series.Select(series => series.Name));
        Assert.Equal("power of the source (W)", LaunchCharts.Compared(LaunchCurve.Power, LaunchAxis.Position, ("one", Launch)).PanelsFromTop.Single().Vertical.Title);
        Assert.Throws<ArgumentException>(() => LaunchCharts.Compared(LaunchCurve.Speed, LaunchAxis.Time));
    }

    private static Launcher Small()
    {
        var track = Track.OfFacingPairs(
            new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), gap: 10.Millimeters(), stations: 6, pitch: 20.Millimeters());
        var coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.45.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            turns: 160);
        return new Launcher(
            track,
            new Sled(40.Grams(), coil),
            ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters())),
            new BenchSupply(12.Volts(), 20.Amperes()),
            new Payload(40.Grams(), neededSpeed: 2.MetersPerSecond()))
        { Suppressor = Suppressor.Clamp(60.Volts()) };
    }
}
