using System.Text.Json;
using Magrail.Charts;

namespace Magrail.Notebooks.Tests;

public sealed class ChartTests
{
    private static readonly ChartAxis Position = new("position", "m");
    private static readonly ChartAxis SpeedAxis = new("speed", "m/s");
    private static readonly double[] Places = [0, 0.25, 0.5, 0.75, 1];

    [Fact]
    public void Axis_titles_carry_the_unit()
    {
        Assert.Equal("speed (m/s)", SpeedAxis.Title);
        Assert.Equal("share", new ChartAxis("share", string.Empty).Title);
    }

    [Fact]
    public void Each_series_becomes_one_trace_with_its_name_and_all_its_points()
    {
        LineChart chart = Chart.Lines("Two", Position, SpeedAxis, new ChartSeries("24 V", Places, [0, 1, 2, 3, 4]), new ChartSeries("36 V", [0, 1], [0, 5]));
        JsonElement data = Figure(chart).GetProperty("data");
        Assert.Equal(["24 V", "36 V"], data.EnumerateArray().Select(trace => trace.GetProperty("name").GetString()));
        Assert.Equal([5, 2], data.EnumerateArray().Select(trace => trace.GetProperty("x").GetArrayLength()));
        Assert.Equal([0.0, 1, 2, 3, 4], data[0].GetProperty("y").EnumerateArray().Select(number => number.GetDouble()));
        Assert.Equal(2, data.EnumerateArray().Select(trace => trace.GetProperty("line").GetProperty("dash").GetString()).Distinct().Count());
    }

    [Fact]
    public void A_shared_horizontal_axis_keeps_its_title_and_each_panel_its_own()
    {
        LineChart chart = Chart.Panels(
            "Three",
            Position,
            new ChartPanel(SpeedAxis, new ChartSeries("speed", Places, [0, 1, 2, 3, 4])),
            new ChartPanel(new ChartAxis("current", "A"), new ChartSeries("current", Places, [9, 8, 7, 6, 5])),
            new ChartPanel(new ChartAxis("force", "N"), new ChartSeries("force", Places, [3, 3, 2, 2, 1])));
        JsonElement figure = Figure(chart);
        JsonElement layout = figure.GetProperty("layout");
        Assert.Equal("position (m)", layout.GetProperty("xaxis").GetProperty("title").GetProperty("text").GetString());
        Assert.Equal(["y", "y2", "y3"], figure.GetProperty("data").EnumerateArray().Select(trace => trace.GetProperty("yaxis").GetString()));
        Assert.All(figure.GetProperty("data").EnumerateArray(), trace => Assert.Equal("x", trace.GetProperty("xaxis").GetString()));
        Assert.Equal(
            ["speed (m/s)", "current (A)", "force (N)"],
            layout.GetProperty("annotations").EnumerateArray()
                .Where(note => note.TryGetProperty("name", out JsonElement name) && name.GetString() == "vertical-title")
                .Select(note => note.GetProperty("text").GetString()));
    }

    [Fact]
    public void A_ledger_steps_down_from_what_came_in_to_what_is_kept()
    {
        BarChart chart = Chart.Ledger(
            "Energy", new ChartAxis("energy", "J"), [("drawn", 10)], [("coil", 6), ("friction", 1)], [("motion", 3)]);
        Assert.Equal([0.0, 4, 3, 0], chart.BarsFromTop.Select(bar => bar.From));
        Assert.Equal([10.0, 10, 4, 3], chart.BarsFromTop.Select(bar => bar.To));
        JsonElement trace = Figure(chart).GetProperty("data")[0];
        Assert.Equal([10.0, 6, 1, 3], trace.GetProperty("x").EnumerateArray().Select(number => number.GetDouble()));
        Assert.Equal([0.0, 4, 3, 0], trace.GetProperty("base").EnumerateArray().Select(number => number.GetDouble()));
        Assert.Equal(["drawn", "coil", "friction", "motion"], trace.GetProperty("y").EnumerateArray().Select(name => name.GetString()));
    }

    [Fact]
    public void The_text_names_first_last_and_greatest()
    {
        LineChart chart = Chart.Lines("Current", Position, new ChartAxis("current", "A"), new ChartSeries("current", Places, [1, 9, 4, -2, 3]));
        Assert.Equal("current (A) against position (m): 1 at 0, 3 at 1; greatest 9 at 0.25; least -2 at 0.75.", chart.Description);
        Assert.Contains("Current", chart.ToText(), StringComparison.Ordinal);
        Assert.EndsWith(": 0 at 0, 3 at 1.", Chart.Lines("Rounding", Position, SpeedAxis, new ChartSeries("speed", [0, 1], [-1e-17, 3])).Description, StringComparison.Ordinal);
    }

    [Fact]
    public void A_description_of_ones_own_takes_its_place()
        => Assert.Equal("mine", (Chart.Bars("B", SpeedAxis, ("a", 1.0)) with { Description = "mine" }).Description);

    [Fact]
    public void Wrong_numbers_are_refused_with_words()
    {
        Assert.Contains("finite", Assert.Throws<ArgumentException>(() => new ChartSeries("s", [0, 1], [0, double.NaN])).Message, StringComparison.Ordinal);
        Assert.Contains("3 numbers along and 2 up", Assert.Throws<ArgumentException>(() => new ChartSeries("s", [0, 1, 2], [0, 1])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => new ChartSeries("s", [], []));
        Assert.Throws<ArgumentException>(() => new ChartPanel(SpeedAxis));
        Assert.Throws<ArgumentException>(() => Chart.Panels("none", Position));
        Assert.Throws<ArgumentException>(() => Chart.Bars("B", SpeedAxis, ("a", double.PositiveInfinity)));
        Assert.Throws<ArgumentException>(() => Chart.Bars("B", SpeedAxis));
    }

    [Fact]
    public void Any_two_tones_differ_in_dashes_and_nearly_all_in_lightness()
    {
        ChartTone[] tones = Enum.GetValues<ChartTone>();
        Assert.Equal(tones.Length, tones.Select(Palette.Dash).Distinct().Count());
        double[] lightness = [.. tones.Select(tone => Lightness(Palette.Color(tone))).Order()];

        // On grey paper neighbours that are near in lightness still differ in dashes; on white all must stand out.
        Assert.True(lightness[^1] - lightness[0] > 40);
        Assert.All(lightness, each => Assert.InRange(each, 10, 72));
    }

    [Fact]
    public void Nothing_that_is_public_shows_the_drawing_library()
    {
        // The drawing side stays in its own load context: not one assembly of it is seen from here.
        _ = Chart.Bars("B", SpeedAxis, ("a", 1.0)).ToHtml();
        string[] seen = [.. typeof(Chart).Assembly.GetReferencedAssemblies().Select(name => name.Name!)];
        Assert.DoesNotContain(seen, name => name.StartsWith("Plotly", StringComparison.Ordinal) || name.StartsWith("FSharp", StringComparison.Ordinal));
        Assert.DoesNotContain(
            System.Runtime.Loader.AssemblyLoadContext.Default.Assemblies,
            assembly => assembly.GetName().Name!.StartsWith("Plotly", StringComparison.Ordinal));
    }

    private static JsonElement Figure(Chart chart)
    {
        using JsonDocument document = JsonDocument.Parse(chart.FigureJson());
        return document.RootElement.Clone();
    }

    /// <summary>CIE lightness L* of an sRGB color (IEC 61966-2-1 and CIE 15).</summary>
    internal static double Lightness(string hex)
    {
        double Linear(int at)
        {
            double value = Convert.ToInt32(hex.Substring(at, 2), 16) / 255.0;
            return value <= 0.04045 ? value / 12.92 : Math.Pow((value + 0.055) / 1.055, 2.4);
        }

        double luminance = (0.2126 * Linear(1)) + (0.7152 * Linear(3)) + (0.0722 * Linear(5));
        return luminance <= 0.008856 ? 903.3 * luminance : (116 * Math.Cbrt(luminance)) - 16;
    }
}
