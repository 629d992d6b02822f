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

    /// <summary>
    /// Every part and every result says in words of its own what it is: a record left to itself would print the tree of its members.
    /// </summary>
    [Fact]
    public void Everything_public_prints_in_words_of_its_own()
    {
        string[] without =
        [
            .. new[] { typeof(Launcher).Assembly, typeof(Files.RunCsv).Assembly }.SelectMany(assembly => assembly.GetExportedTypes())
                .Where(type => type.Namespace is "Magrail" or "Magrail.Files")
                .Where(type => !type.IsEnum && !type.IsInterface && !type.IsAbstract && !typeof(Exception).IsAssignableFrom(type) && !typeof(Attribute).IsAssignableFrom(type) && !typeof(Delegate).IsAssignableFrom(type))
                .Where(type => type.GetMethod(nameof(ToString), Type.EmptyTypes)! is var method
                    && (method.DeclaringType == typeof(object) || method.DeclaringType == typeof(ValueType) || method.IsDefined(typeof(System.Runtime.CompilerServices.CompilerGeneratedAttribute), inherit: false)))
                .Select(type => type.Name),
        ];
        Assert.Equal([], without);
    }

    [Fact]
    public void Studies_print_their_fastest_points_and_what_limits_them()
    {
        StudyResult sweep = new Study(
            StudyLaunchers.Small, DesignNumber.Voltage.Over(8.Volts(), 12.Volts(), 16.Volts()), DesignNumber.Lead.FromTo(0.Millimeters(), 1.5.Millimeters(), 4)).Run();
        string text = sweep.ToDisplayString(PlainTextFormatter.MimeType);
        StudyPoint fastest = sweep.Points.MaxBy(point => point.ExitSpeed!.Value.MetersPerSecond)!;
        string[] lines = text.Split('\n');
        Assert.Matches("^voltage +exit speed +lead +nearest limit +margin$", lines[0]);
        Assert.Matches($"^16 V +{QuantityText.Of(fastest.ExitSpeed!.Value)} ", lines[1]);
        Assert.Contains("12 of 12 points, 12 released, ", text, StringComparison.Ordinal);
        Assert.Equal(8, Count(sweep.ToDisplayString(HtmlFormatter.MimeType), "<th scope=\"row\">"));
        NoTree(sweep.ToDisplayString(HtmlFormatter.MimeType));

        TradeOff front = TradeOff.Of(sweep, [Goal.ExitSpeed, Goal.PeakCurrent], onlyWithinLimits: false);
        string trade = front.ToDisplayString(PlainTextFormatter.MimeType);
        Assert.Contains($"{front.Front.Length} points that no other beats", trade, StringComparison.Ordinal);
        Assert.Matches(@"(?m)^voltage +exit speed +peak current +lead", trade);
        Assert.Equal(front.Front.Length, Count(front.ToDisplayString(HtmlFormatter.MimeType), "<th scope=\"row\">"));
    }

    [Fact]
    public void Tolerances_and_influences_print_a_row_for_each_cause()
    {
        ToleranceResult result = new ToleranceStudy(
            StudyLaunchers.Small, Spread.Normal(DesignNumber.Voltage, 12.Volts(), 0.3.Volts()), Spread.Normal(DesignNumber.Friction, 0.15, 0.02)).Run(40);
        string text = result.ToDisplayString(PlainTextFormatter.MimeType);
        Assert.Matches(@"(?m)^voltage +[0-9.]+ % ± [0-9.]+ % +\+[0-9.]+ m/s$", text);
        Assert.Matches(@"(?m)^friction +[0-9.]+ % ± [0-9.]+ % +\u2212[0-9.]+ m/s$", text);
        Assert.Contains($"40 launchers: exit speed {QuantityText.Of(result.Mean)} ± {QuantityText.Of(result.StandardDeviation)}", text, StringComparison.Ordinal);
        NoTree(result.ToDisplayString(HtmlFormatter.MimeType));

        Influences influences = Influences.Of(StudyLaunchers.Small, [DesignNumber.Voltage, DesignNumber.Friction]);
        string rows = influences.ToDisplayString(PlainTextFormatter.MimeType);
        Assert.Matches(@"(?m)^voltage +12 V +\+[0-9.]+ %$", rows);
        Assert.Matches(@"(?m)^friction +0.15 +\u2212[0-9.]+ %$", rows);
        Assert.Equal(2, Count(influences.ToDisplayString(HtmlFormatter.MimeType), "<th scope=\"row\">"));
    }

    [Fact]
    public void Fits_optima_and_comparisons_print_as_lines_without_trees()
    {
        LaunchResult drawn = StudyLaunchers.Small.Launch();
        SmoothedRun film = StudyLaunchers.Film(drawn).Smooth();
        RunComparison comparison = RunComparison.Between(film, drawn, start: Duration.Zero);
        Optimum best = new OptimumSearch(StudyLaunchers.Small, DesignNumber.Lead.Between(0.Millimeters(), 2.Millimeters())) { FirstPoints = 4, Starts = 1 }.Find();
        CalibrationResult fit = Calibration.Fit(
            [CalibrationUnknown.SlidingFriction()], [new CalibrationRun(StudyLaunchers.Small, StudyLaunchers.Film(StudyLaunchers.Make(0.3).Launch()), Duration.Zero)]);
        Assert.Matches("sliding friction 0.[0-9]{1,4} ± ", fit.ToDisplayString(PlainTextFormatter.MimeType));
        Assert.Matches("^lead [0-9.]+ mm: [0-9.]+ m/s|^None found", best.ToDisplayString(PlainTextFormatter.MimeType));
        Assert.StartsWith("Film and computed launch ", comparison.ToDisplayString(PlainTextFormatter.MimeType), StringComparison.Ordinal);
        Assert.StartsWith("0 s: 4.5 mm, 0 m/s", drawn.Trace.Samples(2)[0].ToDisplayString(PlainTextFormatter.MimeType), StringComparison.Ordinal);
        foreach (object result in new object[] { fit, best, comparison, film, drawn.Trace, StudyLaunchers.Small.Prepare().RunSummary(), fit.SlidingFriction! })
        {
            string html = result.ToDisplayString(HtmlFormatter.MimeType);
            NoTree(html);
            Assert.DoesNotMatch(@"[1-9]\d*\.\d{5,}|0\.0*[1-9]\d{5,}", html);
        }
    }

    private static int Count(string text, string part) => text.Split(part).Length - 1;

    private static void NoTree(string html)
    {
        Assert.DoesNotContain("<details", html, StringComparison.Ordinal);
        Assert.DoesNotContain("dni-treeview", html, StringComparison.Ordinal);
    }
}
