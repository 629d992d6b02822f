using System.Text.Json;
using Magrail.Charts;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

/// <summary>Charts of measured runs: names, units, bands and values are those of the film.</summary>
public sealed class MeasurementChartTests
{
    private static readonly LaunchResult Drawn = StudyLaunchers.Small.Launch();
    private static readonly SmoothedRun Rough = StudyLaunchers.Film(StudyLaunchers.Make(0.5).Launch()).Smooth();
    private static readonly SmoothedRun Alike = StudyLaunchers.Film(Drawn).Smooth();

    [Fact]
    public void The_smoothed_film_has_three_panels_with_their_bands()
    {
        LineChart chart = MeasurementCharts.Smoothed(Rough);
        Assert.Equal("time of the film (s)", chart.Horizontal.Title);
        Assert.Equal(["position (m)", "speed (m/s)", "acceleration (m/s²)"], chart.PanelsFromTop.Select(panel => panel.Vertical.Title));
        Assert.Equal(Rough.SpeedMetersPerSecond, chart.PanelsFromTop[1].Series.Single().Y);
        Assert.Equal(Rough.SpeedHalfWidthMetersPerSecond, chart.PanelsFromTop[1].Series.Single().HalfWidths!);
        Assert.Contains("band of ±", chart.Description, StringComparison.Ordinal);
        Assert.Contains(" ± ", chart.ToHtml(), StringComparison.Ordinal);
    }

    [Fact]
    public void Film_and_computed_launch_that_differ_part_at_a_marked_place()
    {
        RunComparison comparison = RunComparison.Between(Rough, Drawn, start: Duration.Zero);
        LineChart chart = MeasurementCharts.AgainstPredicted(comparison);
        Assert.Equal(["film", "computed"], chart.PanelsFromTop.Single().Series.Select(series => series.Name));
        ChartMark mark = Assert.Single(chart.Places);
        Assert.Equal(comparison.PartAt!.Value.Meters, mark.Value);
        Assert.Contains("part at", chart.Note, StringComparison.Ordinal);
        ChartSeries film = chart.PanelsFromTop[0].Series[0];
        ChartSeries computed = chart.PanelsFromTop[0].Series[1];
        Assert.Equal(comparison.SpeedResidualMetersPerSecond[^1], film.Y[^1] - computed.Y[^1], 9);
        Assert.Equal(6, chart.Ribbon.Count);

        LineChart residuals = MeasurementCharts.Residuals(comparison);
        Assert.Equal(["position, film less computed (mm)", "speed, film less computed (m/s)"], residuals.PanelsFromTop.Select(panel => panel.Vertical.Title));
        Assert.Equal(1e3 * comparison.PositionResidualMeters[^1], residuals.PanelsFromTop[0].Series[0].Y[^1], 9);
        Assert.Equal(1e3 * comparison.PositionHalfWidthMeters[^1], residuals.PanelsFromTop[0].Series[0].HalfWidths![^1], 9);
    }

    [Fact]
    public void Film_and_computed_launch_that_agree_have_no_mark()
    {
        LineChart chart = MeasurementCharts.AgainstPredicted(RunComparison.Between(Alike, Drawn, start: Duration.Zero));
        Assert.Empty(chart.Places);
        Assert.Contains("agree", chart.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void A_band_is_a_closed_pale_shape_under_its_line_and_needs_a_width_for_each_number()
    {
        var series = new ChartSeries("a", [0, 1, 2], [5, 6, 7]) { HalfWidths = [1, 2, 3], Tone = ChartTone.Rust };
        JsonElement data = HeatMapTests.Figure(Chart.Lines("t", new ChartAxis("x", "m"), new ChartAxis("y", "V"), series)).GetProperty("data");
        Assert.Equal(2, data.GetArrayLength());
        Assert.Equal([6.0, 8, 10, 4, 4, 4], data[0].GetProperty("y").EnumerateArray().Select(each => each.GetDouble()));
        Assert.Equal("toself", data[0].GetProperty("fill").GetString());
        Assert.StartsWith("rgba(194,80,28,", data[0].GetProperty("fillcolor").GetString(), StringComparison.Ordinal);
        Assert.False(data[0].GetProperty("showlegend").GetBoolean());
        Assert.Throws<ArgumentException>(() => new ChartSeries("a", [0, 1], [5, 6]) { HalfWidths = [1] });
        Assert.Throws<ArgumentException>(() => new ChartSeries("a", [0, 1], [5, 6]) { HalfWidths = [1, -1] });
    }

    [Fact]
    public async Task The_films_of_the_notebook_are_those_that_their_program_makes()
    {
        using var folder = new TemporaryFolder();
        string data = Path.Combine(Checkout.Root, "notebooks", "data");
        ProgramRun run = await Checkout.RunAsync(Checkout.Root, "dotnet", "run", "-c", "Release", Path.Combine(data, "make-films.cs"), "--", folder.Path);
        Assert.True(run.ExitCode == 0, run.Everything);
        string[] files = [.. Directory.EnumerateFiles(data, "*.csv").Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)];
        Assert.Equal(["simulated-film-14-volts.csv", "simulated-film-24-volts.csv"], files);
        foreach (string file in files)
        {
            string kept = await File.ReadAllTextAsync(Path.Combine(data, file));
            Assert.StartsWith("# SIMULATED, not filmed", kept, StringComparison.Ordinal);
            Assert.Equal(await File.ReadAllTextAsync(folder.In(file)), kept);
        }
    }
}
