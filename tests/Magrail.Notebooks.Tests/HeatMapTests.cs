using System.Globalization;
using System.Text.Json;
using Magrail.Charts;

namespace Magrail.Notebooks.Tests;

public sealed class HeatMapTests
{
    private static readonly ChartAxis X = new("position along", "mm");
    private static readonly ChartAxis Y = new("position across", "mm");
    private static readonly ChartAxis B = new("flux density", "T");

    [Fact]
    public void Numbers_axes_and_colors_reach_the_figure()
    {
        HeatMap map = Ramp();
        JsonElement figure = Figure(map);
        JsonElement trace = figure.GetProperty("data")[0];
        Assert.Equal("contour", trace.GetProperty("type").GetString());
        Assert.Equal([0.0, 1, 2], trace.GetProperty("x").EnumerateArray().Select(each => each.GetDouble()));
        Assert.Equal([10.0, 20], trace.GetProperty("y").EnumerateArray().Select(each => each.GetDouble()));
        Assert.Equal(0.5, trace.GetProperty("z")[1][2].GetDouble());
        Assert.Equal(JsonValueKind.Null, trace.GetProperty("z")[0][1].ValueKind);
        Assert.Equal(["position across (mm)", "position along (mm)", "flux density (T)"], Notes(figure));
        Assert.Equal("x", figure.GetProperty("layout").GetProperty("yaxis").GetProperty("scaleanchor").GetString());
        Assert.Contains("mm", trace.GetProperty("hovertemplate").GetString(), StringComparison.Ordinal);
        Assert.Equal(5.0, figure.GetProperty("layout").GetProperty("meta").GetProperty("aspect").GetDouble(), 12);
    }

    [Fact]
    public void Negative_contour_lines_are_broken_and_colors_reach_alike_to_both_sides()
    {
        var map = new HeatMap("signed", X, Y, B, [0, 1], [0, 1], [[-0.3, 0.1], [0.9, 0]]);
        Assert.True(map.PartsAtZero);
        JsonElement data = Figure(map).GetProperty("data");
        Assert.Equal(2, data.GetArrayLength());
        Assert.Equal(-map.Limit, data[0].GetProperty("zmin").GetDouble());
        Assert.Equal(map.Limit, data[0].GetProperty("zmax").GetDouble());
        Assert.Contains("px", data[1].GetProperty("line").GetProperty("dash").GetString(), StringComparison.Ordinal);
        Assert.Equal(-map.ContourStep, data[1].GetProperty("contours").GetProperty("end").GetDouble());
    }

    [Theory]
    [InlineData(0.97, 1, 0.1)]
    [InlineData(1.24, 1.6, 0.2)]
    [InlineData(0.5, 0.5, 0.05)]
    [InlineData(470, 500, 50)]
    [InlineData(0.0031, 0.004, 0.0005)]
    public void Scales_end_at_round_numbers(double most, double limit, double step)
    {
        double found = Scale.LimitFor([.. Enumerable.Repeat(most, 100)]);
        Assert.True(found >= most && found <= 1.6 * most);
        double marks = found / (2 * Scale.StepFor(found));
        Assert.Equal(Math.Round(marks), marks, 9);
        Assert.Equal(limit, found, 1e-12);
        Assert.Equal(step, Scale.StepFor(found), 1e-12);
        Assert.Equal(found, Scale.TicksTo(found)[^1], 1e-12);
    }

    [Fact]
    public void A_single_great_number_takes_the_last_color_and_the_scale_says_so()
    {
        double[] row = [.. Enumerable.Range(0, 200).Select(i => i / 200.0)];
        double[] high = [.. row.Select((each, i) => i == 100 ? 40 : each)];
        var map = new HeatMap("peak", X, Y, B, [.. Enumerable.Range(0, 200).Select(i => (double)i)], [0, 1], [row, high]);
        Assert.Equal(1, map.Limit);
        Assert.Equal(40, map.Greatest);
        JsonElement bar = Figure(map).GetProperty("data")[0].GetProperty("colorbar");
        Assert.StartsWith("≥", bar.GetProperty("ticktext").EnumerateArray().Last().GetString(), StringComparison.Ordinal);
        Assert.Contains("greatest 40 at (100 mm, 1 mm); colors end at 1", map.Description, StringComparison.Ordinal);
    }

    [Fact]
    public void A_limit_of_ones_own_ends_the_scale()
    {
        JsonElement trace = Figure(Ramp() with { Limit = 0.35 }).GetProperty("data")[0];
        Assert.Equal(0.35, trace.GetProperty("zmax").GetDouble());
        Assert.Equal([0, 0.1, 0.2, 0.35], trace.GetProperty("colorbar").GetProperty("tickvals").EnumerateArray().Select(each => Math.Round(each.GetDouble(), 9)));
        Assert.Throws<ArgumentOutOfRangeException>(() => Ramp() with { Limit = 0 });
        Assert.Throws<ArgumentOutOfRangeException>(() => Ramp() with { Limit = double.NaN });
    }

    [Fact]
    public void Both_color_scales_have_even_steps_of_lightness()
    {
        double[] one = [.. Palette.Sequential.Select(ChartTests.Lightness)];
        Assert.Equal(11, one.Length);
        for (int i = 1; i < one.Length; i++)
        {
            Assert.Equal((one[^1] - one[0]) / 10, one[i] - one[i - 1], 0.8);
        }

        double[] two = [.. Palette.Diverging.Select(ChartTests.Lightness)];
        Assert.Equal(11, two.Length);
        for (int i = 0; i < 5; i++)
        {
            Assert.Equal(two[i], two[10 - i], 1.0);
            Assert.Equal(13.4, two[i + 1] - two[i], 1.0);
        }
    }

    [Fact]
    public void The_text_and_the_table_hold_numbers_of_the_map()
    {
        HeatMap map = Ramp();
        Assert.Contains("flux density (T); columns: position along (mm), rows: position across (mm)", map.ToText(), StringComparison.Ordinal);
        Assert.Contains("<td>0.5</td>", map.ToHtml(), StringComparison.Ordinal);
        Assert.Contains("<td>–</td>", map.ToHtml(), StringComparison.Ordinal);
    }

    [Fact]
    public void Wrong_grids_are_refused_with_words()
    {
        Assert.Contains("a number for each column", Assert.Throws<ArgumentException>(() => new HeatMap("m", X, Y, B, [0, 1], [0, 1], [[1, 2], [3]])).Message, StringComparison.Ordinal);
        Assert.Contains("ascend", Assert.Throws<ArgumentException>(() => new HeatMap("m", X, Y, B, [1, 0], [0, 1], [[1, 2], [3, 4]])).Message, StringComparison.Ordinal);
        Assert.Contains("no finite number", Assert.Throws<ArgumentException>(() => new HeatMap("m", X, Y, B, [0, 1], [0, 1], [[double.NaN, double.NaN], [double.NaN, double.NaN]])).Message, StringComparison.Ordinal);
        Assert.Contains("finite", Assert.Throws<ArgumentException>(() => new ChartOutline("o", [0, double.NaN], [0, 1])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => new ChartOutline("o", [0], [0, 1]));
        Assert.Throws<ArgumentException>(() => new DrawingView("v", "words", X, Y));
        Assert.Throws<ArgumentException>(() => new Drawing("d"));
    }

    internal static string[] Notes(JsonElement figure)
        => [.. figure.GetProperty("layout").GetProperty("annotations").EnumerateArray().Select(note => note.GetProperty("text").GetString()!)];

    internal static JsonElement Figure(Chart chart, int view = 0)
    {
        using JsonDocument document = JsonDocument.Parse(chart.Figures()[view].Json);
        return document.RootElement.Clone();
    }

    private static HeatMap Ramp() => new("ramp", X, Y, B, [0, 1, 2], [10, 20], [[0, double.NaN, 0.2], [0.3, 0.4, 0.5]]);
}
