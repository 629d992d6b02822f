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
}
