using Magrail.Charts;
using Magrail.Units;
using Microsoft.DotNet.Interactive.Formatting;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

public sealed class FormatterTests
{
    public FormatterTests() => Setup.Register();

    [Fact]
    public void Quantities_print_with_four_digits_and_a_fitting_unit()
    {
        Assert.Equal("12.5 mm", 0.0125.Meters().ToDisplayString(PlainTextFormatter.MimeType));
        Assert.Equal("1.235 kA", 1234.56.Amperes().ToDisplayString(HtmlFormatter.MimeType));
        Assert.Equal("36 V", ((IQuantity)36.Volts()).ToDisplayString(PlainTextFormatter.MimeType));
    }

    [Theory]
    [InlineData(3.14159265, "3.142")]
    [InlineData(12345.4, "12345")]
    [InlineData(0, "0")]
    [InlineData(-0.00012345, "-0.0001234")]
    public void Plain_numbers_print_with_four_digits_or_whole(double value, string text) => Assert.Equal(text, Setup.NumberText(value));

    [Fact]
    public void Quantities_inside_a_table_print_alike()
        => Assert.Contains("12.5 mm", new[] { new { Size = 12.5.Millimeters() } }.ToDisplayString(HtmlFormatter.MimeType), StringComparison.Ordinal);

    [Fact]
    public void A_chart_has_a_plain_form_and_a_drawn_one()
    {
        LineChart chart = Chart.Lines("T", new ChartAxis("position", "m"), new ChartAxis("speed", "m/s"), new ChartSeries("s", [0, 1], [0, 2]));
        Assert.Equal(chart.ToText(), chart.ToDisplayString(PlainTextFormatter.MimeType));
        Assert.Contains("magrail-plot", chart.ToDisplayString(HtmlFormatter.MimeType), StringComparison.Ordinal);
        Assert.Equal([HtmlFormatter.MimeType, PlainTextFormatter.MimeType], Formatter.GetPreferredMimeTypesFor(chart.GetType()).ToArray());
    }

    [Fact]
    public void Checks_stop_at_the_first_that_does_not_hold()
    {
        Assert.Equal("2 checks hold:\n  holds: one\n  holds: two", new Check().That(true, "one").That(true, "two").ToString());
        Assert.Contains("the ledger closes", Assert.Throws<CheckFailedException>(() => new Check().That(false, "the ledger closes")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Limits_print_as_a_table_with_advice_and_cautions()
    {
        LimitTable limits = SparkLaunches.Launch.Limits;
        string text = limits.ToDisplayString(PlainTextFormatter.MimeType);
        string html = limits.ToDisplayString(HtmlFormatter.MimeType);
        Assert.Matches("(?m)^limit +margin +reached +allowed$", text);
        Assert.Matches(@"(?m)^release speed +\u2212[0-9]+ %, BROKEN +[0-9.]+ m/s +≥ 8 m/s$", text);
        Assert.Matches(@"(?m)^battery charge +100 % +[0-9.]+ m?C +≤ 5 A h$", text);
        Assert.Contains("contact softening: " + limits.Find("contact softening")!.Advice, text, StringComparison.Ordinal);
        Assert.Equal(limits.Limits.Length, Count(html, "<th scope=\"row\">"));
        Assert.Equal(limits.Limits.Count(limit => limit.IsBroken) + limits.Cautions.Length, Count(html, "<li>"));
        NoTree(html);
    }

    [Fact]
    public void Breaks_print_as_a_short_table_whatever_holds_them()
    {
        LaunchResult launch = SparkLaunches.Launch;
        string text = launch.Breaks.ToDisplayString(PlainTextFormatter.MimeType);
        ContactBreak first = launch.Breaks[0];
        Assert.Matches(@"(?m)^position +current +energy +arc +greatest coil voltage +ended by$", text);
        Assert.Contains(QuantityText.Of(first.Energy), text, StringComparison.Ordinal);
        Assert.Contains("arc died out", text, StringComparison.Ordinal);
        Assert.Contains($"{launch.Breaks.Length} breaks, {launch.Breaks.Length} with an arc: ", text, StringComparison.Ordinal);
        Assert.Equal(text, launch.Breaks.ToList().ToDisplayString(PlainTextFormatter.MimeType));
        Assert.Equal(text, launch.Breaks.Where(_ => true).ToDisplayString(PlainTextFormatter.MimeType));
        NoTree(launch.Breaks.ToDisplayString(HtmlFormatter.MimeType));
        Assert.Equal([HtmlFormatter.MimeType, PlainTextFormatter.MimeType], Formatter.GetPreferredMimeTypesFor(launch.Breaks.GetType()).ToArray());

        ContactBreak[] many = [.. Enumerable.Repeat(first, 40)];
        Assert.Equal(1 + 8 + 1 + 3, Count(many.ToDisplayString(HtmlFormatter.MimeType), "<tr>"));
        Assert.Equal("No contact parted under current.", Array.Empty<ContactBreak>().ToDisplayString(PlainTextFormatter.MimeType));
    }

    [Fact]
    public void Braking_prints_way_room_and_deceleration()
    {
        BrakingResult braking = SparkLaunches.Launch.Braking!;
        string text = braking.ToDisplayString(PlainTextFormatter.MimeType);
        Assert.Contains("after the release: the sled stops", text, StringComparison.Ordinal);
        Assert.Contains($"way: {QuantityText.Of(braking.Distance)} of {QuantityText.Of(braking.Room)}", text, StringComparison.Ordinal);
        Assert.Contains($"room left: {QuantityText.Of(braking.Room - braking.Distance)}", text, StringComparison.Ordinal);
        Assert.Contains($"greatest deceleration: {QuantityText.Of(braking.PeakDeceleration)} (", text, StringComparison.Ordinal);
        NoTree(braking.ToDisplayString(HtmlFormatter.MimeType));

        LaunchResult off = (SparkLaunches.Launcher with { Brake = SledBrake.Friction(Length.Zero, 20.Millimeters(), 1.Newtons()) }).Launch();
        string lost = off.Braking!.ToDisplayString(PlainTextFormatter.MimeType);
        Assert.Contains("LEAVES THE TRACK", lost, StringComparison.Ordinal);
        Assert.Contains($"speed then: {QuantityText.Of(off.Braking!.EndSpeed)}", lost, StringComparison.Ordinal);
    }

    [Fact]
    public void Costs_and_series_print_a_row_each()
    {
        EffectCosts costs = SparkLaunches.Costs;
        string text = costs.ToDisplayString(PlainTextFormatter.MimeType);
        Assert.Matches(@"(?m)^source resistance +[0-9.]+ m/s +[0-9.]+ m/s +[0-9.]+ m/s +[0-9.]+ m/s$", text);
        Assert.Contains($"Exit speed as described: {costs.Described}; ideal: {costs.Ideal}.", text, StringComparison.Ordinal);
        Assert.Equal(costs.Rows.Length, Count(costs.ToDisplayString(HtmlFormatter.MimeType), "<th scope=\"row\">"));

        LaunchSeriesResult series = SparkLaunches.Series;
        string launches = series.ToDisplayString(PlainTextFormatter.MimeType);
        Assert.Matches(@"(?m)^15 +[0-9.]+ °C +[0-9.]+ °C +[0-9.]+ m/s +[0-9.]+ A$", launches);
        Assert.Contains("All within thermal class F (155 °C).", launches, StringComparison.Ordinal);
        Assert.DoesNotMatch(@"(?m)^10 ", launches);
        NoTree(series.ToDisplayString(HtmlFormatter.MimeType));
    }

    private static int Count(string text, string part) => text.Split(part).Length - 1;

    private static void NoTree(string html)
    {
        Assert.DoesNotContain("<details", html, StringComparison.Ordinal);
        Assert.DoesNotContain("dni-treeview", html, StringComparison.Ordinal);
    }
}
