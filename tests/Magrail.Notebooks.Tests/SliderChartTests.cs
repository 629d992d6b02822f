using System.Text.Json;
using Magrail.Charts;
using Magrail.Units;

namespace Magrail.Notebooks.Tests;

public sealed class SliderChartTests
{
    private static readonly (string Label, LaunchResult Launch)[] Launches =
        [.. new[] { 8, 12, 16 }.Select(volts => ($"{volts} V", DesignNumber.Voltage.With(StudyLaunchers.Small, volts.Volts()).Launch()))];

    [Fact]
    public void Every_position_has_its_launch_and_the_axes_of_all_are_one()
    {
        SliderChart slider = LaunchCharts.Slider("voltage", Launches);
        Assert.Equal(["8 V", "12 V", "16 V"], slider.Frames.Select(frame => frame.Label));
        Assert.Equal("voltage", slider.Number);
        for (int i = 0; i < Launches.Length; i++)
        {
            LaunchResult launch = Launches[i].Launch;
            LineChart chart = slider.Frames[i].Chart;
            Assert.Equal(["speed (m/s)", "current (A)", "magnetic force (N)"], chart.PanelsFromTop.Select(panel => panel.Vertical.Title));
            Assert.Equal(launch.EndSpeed.MetersPerSecond, chart.PanelsFromTop[0].Series.Single().Y[^1], 1e-12);
            Assert.Contains($"exit speed {QuantityText.Of(launch.ExitSpeed)}", slider.Frames[i].Words, StringComparison.Ordinal);
            Assert.Contains($"greatest current {QuantityText.Of(launch.PeakCurrent)}", slider.Frames[i].Words, StringComparison.Ordinal);

            // The axes hold every number of every position.
            for (int panel = 0; panel < 3; panel++)
            {
                (double from, double to) = slider.VerticalRanges[panel];
                Assert.All(chart.PanelsFromTop[panel].Series.Single().Y, y => Assert.InRange(y, from, to));
            }
        }

        Assert.Equal(0, slider.VerticalRanges[0].From);
        double top = Launches[^1].Launch.EndSpeed.MetersPerSecond;
        Assert.InRange(slider.VerticalRanges[0].To, top, 1.1 * top);

        // What the page is given: as many frames, each with a line for every panel, on the ranges of the slider.
        string html = slider.ToHtml();
        using JsonDocument figure = JsonDocument.Parse(slider.FigureJson());
        Assert.Equal(slider.VerticalRanges[1].To, figure.RootElement.GetProperty("layout").GetProperty("yaxis2").GetProperty("range")[1].GetDouble(), 1e-9);
        string frames = System.Net.WebUtility.HtmlDecode(html.Split("data-frames='")[1].Split('\'')[0]);
        using JsonDocument all = JsonDocument.Parse(frames);
        Assert.Equal(3, all.RootElement.GetArrayLength());
        Assert.All(all.RootElement.EnumerateArray(), frame => Assert.Equal(3, frame.GetProperty("data").GetArrayLength()));
        Assert.Equal("12 V", all.RootElement[1].GetProperty("label").GetString());
        Assert.Contains("<input type=\"range\" min=\"0\" max=\"2\" step=\"1\" value=\"0\"", html, StringComparison.Ordinal);
    }

    [Fact]
    public void The_text_tells_the_figures_of_every_position()
    {
        SliderChart slider = LaunchCharts.Slider("voltage", Launches) with { Start = 1 };
        string text = slider.ToText();
        foreach (SliderFrame frame in slider.Frames)
        {
            Assert.Contains($"\n  {frame.Label}: {frame.Words}", text, StringComparison.Ordinal);
            Assert.Contains($"at {frame.Label} {frame.Words}", slider.Description, StringComparison.Ordinal);
            Assert.Contains($"<th scope=\"row\">{frame.Label}</th>", slider.ToHtml(), StringComparison.Ordinal);
        }

        Assert.Contains("value=\"1\"", slider.ToHtml(), StringComparison.Ordinal);
    }

    /// <summary>On paper nothing moves: the still is that of the position at which the slider stands.</summary>
    [Fact]
    public void A_still_names_its_position_and_draws_it()
    {
        SliderChart slider = LaunchCharts.Slider("voltage", Launches) with { Start = 1 };
        string still = slider.ToSvg();
        Assert.Contains("voltage: 12 V.", still, StringComparison.Ordinal);
        Assert.Contains("magnetic force (N)", still, StringComparison.Ordinal);
        Assert.Contains("magnetic force (N)", LaunchCharts.Animation(Launches[1].Launch).ToSvg(), StringComparison.Ordinal);
    }

    [Fact]
    public void Charts_that_cannot_take_each_others_place_are_refused()
    {
        LineChart speed = LaunchCharts.SpeedAgainstPosition(Launches[0].Launch);
        LineChart current = LaunchCharts.CurrentAgainstPosition(Launches[0].Launch);
        Assert.Contains("other axes at 'b'", Assert.Throws<ArgumentException>(() => new SliderChart("t", "n", new SliderFrame("a", "w", speed), new SliderFrame("b", "w", current))).Message, StringComparison.Ordinal);
        Assert.Contains("two at least", Assert.Throws<ArgumentException>(() => new SliderChart("t", "n", new SliderFrame("a", "w", speed))).Message, StringComparison.Ordinal);
        Assert.Contains("'a'", Assert.Throws<ArgumentException>(() => new SliderChart("t", "n", new SliderFrame("a", "w", speed), new SliderFrame("a", "w", speed))).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => LaunchCharts.Slider("voltage", Launches) with { Start = 3 });
        Assert.Throws<ArgumentException>(() => new SliderFrame("a", " ", speed));
    }
}
