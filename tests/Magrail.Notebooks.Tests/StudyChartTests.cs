using System.Text.Json;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

/// <summary>Charts of studies: names, units and values are those of the study.</summary>
public sealed class StudyChartTests
{
    private static readonly Study Grid = new(
        StudyLaunchers.Small,
        DesignNumber.Voltage.Over(8.Volts(), 12.Volts()),
        DesignNumber.Lead.Over(0.2.Millimeters(), 0.8.Millimeters(), 1.4.Millimeters()));

    private static readonly StudyResult Result = Grid.Run();

    private static readonly ToleranceResult Tolerances = new ToleranceStudy(
        StudyLaunchers.Small, Spread.Normal(DesignNumber.Voltage, 12.Volts(), 0.3.Volts()), Spread.Normal(DesignNumber.PayloadMass, 40.Grams(), 1.Grams())).Run(60, seed: 3);

    [Fact]
    public void A_sweep_has_a_line_for_each_value_and_its_numbers_in_a_handy_unit()
    {
        LineChart chart = StudyCharts.SweepCurves(Result, DesignNumber.Lead, DesignNumber.Voltage);
        Assert.Equal("lead (mm)", chart.Horizontal.Title);
        ChartPanel panel = Assert.Single(chart.PanelsFromTop);
        Assert.Equal("exit speed (m/s)", panel.Vertical.Title);
        ChartSeries[] lines = [.. panel.Series.Where(series => !series.Points)];
        Assert.Equal(["8 V", "12 V"], lines.Select(line => line.Name));
        Assert.Equal([0.2, 0.8, 1.4], lines[1].X.Select(x => Math.Round(x, 9)));
        Assert.Equal(Result.Points[4].ExitSpeed!.Value.MetersPerSecond, lines[1].Y[1]);
        Assert.Equal(Result.Points.Count(point => point.Summary!.Value.LeastMargin < 0), panel.Series.Where(series => series.Points).Sum(series => series.X.Count));
        Assert.Contains("changed", Assert.Throws<ArgumentException>(() => StudyCharts.SweepCurves(Result, DesignNumber.Turns)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => StudyCharts.SweepCurves(Result, DesignNumber.Lead));
    }

    [Fact]
    public void Points_that_break_a_limit_are_marked_and_those_not_released_are_counted()
    {
        Launcher hot = StudyLaunchers.Small with { Ratings = new Ratings { BrushCurrent = 0.01.Amperes() } };
        StudyResult broken = new Study(hot, DesignNumber.Voltage.Over(0.01.Volts(), 12.Volts())).Run();
        LineChart chart = StudyCharts.SweepCurves(broken, DesignNumber.Voltage);
        ChartSeries mark = chart.PanelsFromTop[0].Series.Single(series => series.Points);
        Assert.Equal("breaks a limit", mark.Name);
        Assert.Equal(12, mark.X.Single());
        Assert.StartsWith("1 of 2 points were not released", chart.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void The_map_has_the_speed_of_each_point_and_a_cross_at_the_best()
    {
        HeatMap map = StudyCharts.Map(Result, DesignNumber.Lead, DesignNumber.Voltage);
        Assert.Equal(["lead (mm)", "voltage (V)", "exit speed (m/s)"], new[] { map.Horizontal.Title, map.Vertical.Title, map.Value.Title });
        Assert.Equal(2, map.Values.Count);
        Assert.Equal(Result.Points[5].ExitSpeed!.Value.MetersPerSecond, map.Values[1][2]);
        StudyPoint best = Result.Fastest!;
        ChartOutline cross = Assert.Single(map.Outlines);
        Assert.Equal(1e3 * best.Value(DesignNumber.Lead).Meters, 0.5 * (cross.X[0] + cross.X[1]), 9);
        Assert.Equal(best.Value(DesignNumber.Voltage).Volts, cross.Y[0], 9);
        Assert.StartsWith("best: ", cross.Name, StringComparison.Ordinal);
        Assert.Contains("Best: ", map.Description, StringComparison.Ordinal);
        Assert.True(map.ColorsFrom > 0 && map.ColorsFrom <= map.Least && map.Limit >= map.Greatest);

        // Volts and millimeters share no scale.
        JsonElement figure = HeatMapTests.Figure(map);
        Assert.False(figure.GetProperty("layout").GetProperty("yaxis").TryGetProperty("scaleanchor", out _));
        Assert.Equal(map.ColorsFrom, figure.GetProperty("data")[0].GetProperty("zmin").GetDouble());
    }

    [Fact]
    public void The_histogram_counts_every_launcher_once_and_names_percentiles_and_need()
    {
        LineChart chart = StudyCharts.Histogram(Tolerances, 3.MetersPerSecond());
        ChartSeries steps = chart.PanelsFromTop[0].Series.Single();
        Assert.True(steps.Filled);
        Assert.Equal("exit speed (m/s)", chart.Horizontal.Title);
        Assert.Equal(60, Enumerable.Range(0, (steps.X.Count - 2) / 2).Sum(bin => steps.Y[(2 * bin) + 1]));
        Assert.Equal(["5 % are slower", "50 % are slower", "95 % are slower", "needed: 3 m/s"], chart.Places.Select(place => place.Name));
        Assert.Equal(Tolerances.Percentile(0.95).MetersPerSecond, chart.Places[2].Value);
        Assert.Contains(Tolerances.ProbabilityOf(3.MetersPerSecond()).ToString(), chart.Description, StringComparison.Ordinal);
    }

    [Fact]
    public void Shares_are_in_percent_the_greatest_first()
    {
        BarChart chart = StudyCharts.Shares(Tolerances);
        Assert.Equal("share of the variance (%)", chart.Axis.Title);
        Assert.Equal(["voltage", "payload", "not explained by straight lines"], chart.BarsFromTop.Select(bar => bar.Name));
        Assert.Equal(100 * Tolerances.Shares[0].Share, chart.BarsFromTop[0].To, 12);
        Assert.Contains("voltage", chart.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void The_front_has_units_of_its_goals_and_its_points()
    {
        TradeOff tradeOff = TradeOff.Of(Result, [Goal.ExitSpeed, Goal.PeakCurrent], onlyWithinLimits: false);
        LineChart chart = StudyCharts.Front(tradeOff, among: Result);
        Assert.Equal("peak current (A)", chart.Horizontal.Title);
        Assert.Equal("exit speed (m/s)", chart.PanelsFromTop[0].Vertical.Title);
        Assert.Equal(tradeOff.Front.Max(point => point.ExitSpeed!.Value.MetersPerSecond), chart.PanelsFromTop[0].Series[0].Y.Max());
        Assert.Equal(Result.Points.Length - tradeOff.Front.Length, chart.PanelsFromTop[0].Series.Skip(2).Sum(series => series.X.Count));
        TradeOff own = TradeOff.Of(Result, [Goal.ExitSpeed, Goal.LeastNumber("price", point => point.Index)], onlyWithinLimits: false);
        Assert.Contains("price", Assert.Throws<ArgumentException>(() => StudyCharts.Front(own)).Message, StringComparison.Ordinal);
        Assert.Equal("price (EUR)", StudyCharts.Front(own, secondUnit: "EUR").Horizontal.Title);
    }

    [Fact]
    public void Scales_that_do_not_begin_at_zero_are_round_and_hold_both_ends()
    {
        foreach ((double least, double most) in new[] { (8.23, 11.4), (0.0, 3.0), (10.95, 11.02), (4.0, 9.0) })
        {
            (double from, double to) = Scale.Around(least, most);
            Assert.True(from <= least + 1e-9 && to >= most - 1e-9 && to - from < 2.5 * (most - least), $"{from} {to}");
            double marks = (to - from) / (2 * Scale.StepFor(to - from));
            Assert.Equal(Math.Round(marks), marks, 6);
        }
    }
}
