using System.Globalization;
using System.Text.Json;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

public sealed class LimitChartTests
{
    private static readonly LaunchResult Launch = SparkLaunches.Launch;

    [Fact]
    public void Limits_are_bars_in_the_order_of_the_table_with_the_limit_at_a_hundred_percent()
    {
        BarChart chart = LimitCharts.Limits(Launch);
        Assert.Equal("part of the limit used (%)", chart.Axis.Title);
        Assert.Equal(Launch.Limits.Limits.Select(limit => limit.Name), chart.BarsFromTop.Select(bar => bar.Name));
        Assert.Equal(100, chart.Marks.Single().Value);
        ChartBar brush = chart.BarsFromTop.Single(bar => bar.Name == "brush current");
        Assert.Equal(100 * Launch.PeakCurrent.Amperes / 60, brush.To, 9);
        Assert.Equal(0, brush.From);
        Assert.EndsWith(" left", brush.Words, StringComparison.Ordinal);

        // Of a speed that must be reached, the part is the needed one over the reached.
        ChartBar speed = chart.BarsFromTop.Single(bar => bar.Name == "release speed");
        Assert.Equal(Math.Min(200, 100 * 8 / Launch.ExitSpeed.MetersPerSecond), speed.To, 9);
        Assert.Contains(" of 8 m/s needed, ", speed.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_broken_limit_differs_in_hatching_and_in_words_and_a_long_bar_is_cut()
    {
        BarChart chart = LimitCharts.Limits(Launch);
        Assert.Equal(
            Launch.Limits.Limits.Where(limit => limit.IsBroken).Select(limit => limit.Name),
            chart.BarsFromTop.Where(bar => bar.Kind == ChartBarKind.Broken).Select(bar => bar.Name));
        ChartBar[] broken = [.. chart.BarsFromTop.Where(bar => bar.Kind == ChartBarKind.Broken)];
        Assert.Contains("release speed", broken.Select(bar => bar.Name));
        Assert.Contains("contact softening", broken.Select(bar => bar.Name));
        Assert.All(broken, bar => Assert.EndsWith("BROKEN", bar.Words, StringComparison.Ordinal));
        Assert.NotEqual(Palette.Pattern(ChartBarKind.Plain), Palette.Pattern(ChartBarKind.Broken));
        Assert.True(
            Math.Abs(ChartTests.Lightness(Palette.Color(ChartBarKind.Plain)) - ChartTests.Lightness(Palette.Color(ChartBarKind.Broken))) > 25,
            "On grey paper a broken bar stands out.");
        Assert.All(chart.BarsFromTop, bar => Assert.InRange(bar.To, 0, 200));
        Assert.StartsWith($"{broken.Length} of {chart.BarsFromTop.Count} limits are broken; the nearest is {Launch.Limits.Limits[0].Name}.", chart.Description, StringComparison.Ordinal);
        Assert.Contains("guide line at 100: limit", chart.ToText(), StringComparison.Ordinal);

        LaunchResult stuck = (SparkLaunches.Launcher with { Slope = Angle.FromDegrees(80), Payload = new Payload(3.Kilograms(), neededSpeed: 8.MetersPerSecond()) }).Launch();
        Assert.NotEqual(LaunchOutcome.Released, stuck.Outcome);
        BarChart cut = LimitCharts.Limits(stuck);
        Assert.Equal(200, cut.BarsFromTop.Single(bar => bar.Name == "release speed").To);
        Assert.Equal("Bars end at 200 %.", cut.Note);
    }

    [Fact]
    public void Limits_reach_the_drawing_with_hatching_words_and_the_line_at_the_limit()
    {
        BarChart chart = LimitCharts.Limits(Launch);
        using JsonDocument figure = JsonDocument.Parse(chart.FigureJson());
        JsonElement trace = figure.RootElement.GetProperty("data")[0];
        string?[] hatching = [.. trace.GetProperty("marker").GetProperty("pattern").GetProperty("shape").EnumerateArray().Select(shape => shape.GetString())];
        Assert.Equal(chart.BarsFromTop.Select(bar => bar.Kind == ChartBarKind.Broken ? "\\" : string.Empty), hatching);
        Assert.Equal(chart.BarsFromTop.Select(bar => bar.Words), trace.GetProperty("text").EnumerateArray().Select(words => words.GetString()));
        JsonElement layout = figure.RootElement.GetProperty("layout");
        Assert.Equal(100, layout.GetProperty("shapes").EnumerateArray().Single().GetProperty("x0").GetDouble());
        Assert.Equal("limit", layout.GetProperty("annotations").EnumerateArray().Last().GetProperty("text").GetString());
    }

    [Fact]
    public void Every_break_is_a_point_with_its_current_energy_and_voltage()
    {
        LineChart chart = LimitCharts.Breaks(Launch);
        Assert.Equal("position (m)", chart.Horizontal.Title);
        Assert.Equal(["current broken (A)", "energy at the contact (mJ)", "greatest voltage across the coil (V)"], chart.PanelsFromTop.Select(panel => panel.Vertical.Title));
        Assert.NotEmpty(Launch.Breaks);
        Assert.All(chart.PanelsFromTop, panel => Assert.Equal(Launch.Breaks.Length, panel.Series.Single().X.Count));
        ContactBreak third = Launch.Breaks[2];
        Assert.Equal(third.Position.Meters, chart.PanelsFromTop[0].Series[0].X[2]);
        Assert.Equal(Math.Abs(third.Current.Amperes), chart.PanelsFromTop[0].Series[0].Y[2]);
        Assert.Equal(1000 * third.Energy.Joules, chart.PanelsFromTop[1].Series[0].Y[2], 9);
        Assert.Equal(Math.Abs(third.PeakCoilVoltage!.Value.Volts), chart.PanelsFromTop[2].Series[0].Y[2]);
        string highest = QuantityText.Of(ElectricPotential.FromVolts(Launch.Breaks.Max(one => Math.Abs(one.PeakCoilVoltage!.Value.Volts))));
        Assert.Contains($"The coil sees up to {highest}, at ", chart.Description, StringComparison.Ordinal);
        Assert.StartsWith(string.Create(CultureInfo.InvariantCulture, $"{Launch.Breaks.Length} contacts part under current, {Launch.Breaks.Length} of them with an arc."), chart.Description, StringComparison.Ordinal);

        using JsonDocument figure = JsonDocument.Parse(chart.FigureJson());
        JsonElement[] traces = [.. figure.RootElement.GetProperty("data").EnumerateArray()];
        Assert.All(traces, trace => Assert.Equal("markers", trace.GetProperty("mode").GetString()));
        Assert.Equal(3, traces.Select(trace => trace.GetProperty("marker").GetProperty("symbol").GetString()).Distinct().Count());
    }

    [Fact]
    public void Flash_overs_have_marks_of_their_own_and_ideal_breaks_no_voltage()
    {
        Launcher strong = SparkLaunches.Launcher with { Source = new BatteryPack(40.Volts(), 40.Milliohms(), ElectricCharge.FromAmpereHours(5)) };
        LaunchResult flashed = strong.Launch();
        int count = flashed.Breaks.Count(one => one.FlashOverPosition is not null);
        Assert.InRange(count, 1, flashed.Breaks.Length);
        LineChart chart = LimitCharts.Breaks(flashed);
        ChartSeries marked = chart.PanelsFromTop[1].Series.Single(series => series.Name == "energy, with flash-over");
        Assert.Equal(count, marked.X.Count);
        Assert.Equal(flashed.Breaks.Length, chart.PanelsFromTop[1].Series.Sum(series => series.X.Count));
        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $"At {count} the arc reaches the other rail"), chart.Description, StringComparison.Ordinal);

        LineChart ideal = LimitCharts.Breaks((SparkLaunches.Launcher with { Arc = null }).Launch());
        Assert.Equal(2, ideal.PanelsFromTop.Count);
        Assert.Contains("no bound on the voltage", ideal.Description, StringComparison.Ordinal);
    }

    [Fact]
    public void Launches_in_a_row_show_temperatures_before_and_after_against_the_thermal_class()
    {
        LaunchSeriesResult series = SparkLaunches.Series;
        LineChart chart = LimitCharts.LaunchesInARow(series);
        Assert.Equal("number of the launch", chart.Horizontal.Title);
        Assert.Equal(["temperature of the hottest coil (°C)", "exit speed (m/s)"], chart.PanelsFromTop.Select(panel => panel.Vertical.Title));
        ChartSeries after = chart.PanelsFromTop[0].Series.Single(line => line.Name == "after the launch");
        Assert.Equal(Enumerable.Range(1, 15).Select(number => (double)number), after.X);
        Assert.Equal(series.Launches[4].HottestPeak.DegreesCelsius, after.Y[4]);
        Assert.Equal(series.Launches[4].HottestStart.DegreesCelsius, chart.PanelsFromTop[0].Series.Single(line => line.Name == "before it").Y[4]);
        Assert.Equal(series.Launches[14].EndSpeed.MetersPerSecond, chart.PanelsFromTop[1].Series.Single().Y[14]);
        Assert.All(chart.PanelsFromTop.SelectMany(panel => panel.Series), line => Assert.True(line.Points));
        Assert.Contains("15 launches, 30 s apart.", chart.Description, StringComparison.Ordinal);

        // The class far above is named, not drawn; one that is crossed is drawn.
        Assert.Empty(chart.PanelsFromTop[0].Levels);
        Assert.Equal("All stay within thermal class F (155 °C).", chart.Note);
        Launcher warm = SparkLaunches.Launcher with { CoilTemperature = Temperature.FromDegreesCelsius(150) };
        LineChart near = LimitCharts.LaunchesInARow(new LaunchSeries(warm, 1.Seconds(), 180.Seconds()).Run(4));
        Assert.Equal(155, near.PanelsFromTop[0].Levels.Single().Value, 9);
        Assert.Matches("Launch [234] is the first above thermal class F", near.Description);
    }

    [Fact]
    public void Costs_of_effects_keep_their_order_sign_and_name()
    {
        EffectCosts costs = SparkLaunches.Costs;
        BarChart chart = LimitCharts.EffectCosts(costs);
        Assert.Equal("exit speed lost (m/s)", chart.Axis.Title);
        Assert.Equal(costs.Rows.Select(row => row.Cost!.Value.MetersPerSecond), chart.BarsFromTop.Select(bar => bar.To));
        Assert.Equal("source resistance", chart.BarsFromTop[0].Name);
        ChartBar arc = chart.BarsFromTop.Single(bar => bar.Name == "arc");
        double gain = costs[LaunchEffect.Arc]!.Cost!.Value.MetersPerSecond;
        Assert.True(gain < 0, "In this launcher the arc lets the current fall gently, and the launch is a little faster.");
        Assert.Equal(ChartBarKind.Kept, arc.Kind);
        Assert.EndsWith(", gained", arc.Words, StringComparison.Ordinal);
        BarChart alone = LimitCharts.EffectCosts(costs, alone: true);
        Assert.Equal(costs[LaunchEffect.DryFriction]!.CostAlone!.Value.MetersPerSecond, alone.BarsFromTop.Single(bar => bar.Name == "dry friction").To);
        Assert.NotEqual(chart.Title, alone.Title);
    }

    [Fact]
    public void Braking_begins_at_the_release_and_marks_the_end_of_the_track()
    {
        BrakingResult braking = Launch.Braking!;
        LineChart chart = LimitCharts.Braking(Launch);
        Assert.Equal("speed (m/s)", chart.PanelsFromTop.Single().Vertical.Title);
        ChartSeries speed = chart.PanelsFromTop.Single().Series.Single();
        Assert.Equal(Launch.EndPosition.Meters, speed.X[0], 9);
        Assert.Equal(Launch.EndSpeed.MetersPerSecond, speed.Y[0], 6);
        Assert.Equal(braking.StopPosition.Meters, speed.X[^1], 9);
        Assert.Equal((Launch.EndPosition + braking.Room).Meters, chart.Places.Single().Value, 12);
        Assert.Equal("end of the track", chart.Places.Single().Name);
        Assert.Equal(0.1, chart.Ribbon.Single().To - chart.Ribbon.Single().From, 9);
        Assert.Contains(braking.ToString(), chart.Description, StringComparison.Ordinal);
        Assert.Contains("no brake", Assert.Throws<ArgumentException>(() => LimitCharts.Braking((SparkLaunches.Launcher with { Brake = null }).Launch())).Message, StringComparison.Ordinal);
    }
}
