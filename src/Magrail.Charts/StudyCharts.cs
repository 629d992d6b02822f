using System.Globalization;
using UnitsNet;

namespace Magrail.Charts;

/// <summary>The charts of studies: one call each, with axis titles, units and a text that says the same.</summary>
public static class StudyCharts
{
    private static readonly ChartAxis SpeedAxis = new("exit speed", "m/s");
    private static readonly double[] PartsShown = [0.05, 0.5, 0.95];

    /// <summary>Exit speed against one design number, a line for each value of another where the study changed two.</summary>
    /// <param name="result">The study.</param>
    /// <param name="along">The design number along the horizontal axis.</param>
    /// <param name="curves">The design number of which each value has a line; null where the study changed one alone.</param>
    /// <returns>The chart. Points that were not released have no place on it; a note counts them. Those that break a limit carry a mark.</returns>
    /// <exception cref="ArgumentException">The study changed other design numbers, or nothing was released.</exception>
    public static LineChart SweepCurves(StudyResult result, DesignNumber along, DesignNumber? curves = null)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(along);
        int x = ColumnOf(result, along);
        int? family = curves is null ? null : ColumnOf(result, curves);
        Changed(result, curves is null ? 1 : 2);
        StudyPoint[] released = Released(result);
        (ChartAxis axis, double factor) = AxisOf(along, released.Select(point => point.Values[x]));
        List<ChartSeries> lines =
        [
            .. released.GroupBy(point => family is int column ? point.Values[column] : 0).Select(group =>
            {
                StudyPoint[] row = [.. group.OrderBy(point => point.Values[x])];
                return new ChartSeries(
                    curves is null ? "exit speed" : curves.Text(group.Key),
                    [.. row.Select(point => factor * point.Values[x])],
                    [.. row.Select(point => point.ExitSpeed!.Value.MetersPerSecond)]);
            }),
        ];
        StudyPoint[] broken = [.. released.Where(Breaks)];
        string? note = Missing(result, released.Length);
        if (broken.Length > 0)
        {
            lines.Add(new ChartSeries(
                "breaks a limit", [.. broken.Select(point => factor * point.Values[x])], [.. broken.Select(point => point.ExitSpeed!.Value.MetersPerSecond)])
            {
                Points = true,
                Tone = ChartTone.Slate,
            });
        }

        string title = curves is null ? $"Exit speed against {along.Name}" : $"Exit speed against {along.Name}, for each {curves.Name}";
        return new LineChart(title, axis, new ChartPanel(SpeedAxis, lines)) { Note = note };
    }

    /// <summary>Exit speed over two design numbers as colors, with the best point.</summary>
    /// <param name="result">A study over a grid of two design numbers.</param>
    /// <param name="horizontal">The design number along the horizontal axis.</param>
    /// <param name="vertical">The design number along the vertical axis.</param>
    /// <returns>The map. The cross stands at the fastest point that keeps every limit, or, where none does, at the fastest of all, and says which.</returns>
    /// <exception cref="ArgumentException">The study changed other design numbers, has fewer than two values of one, or nothing was released.</exception>
    public static HeatMap Map(StudyResult result, DesignNumber horizontal, DesignNumber vertical)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(horizontal);
        ArgumentNullException.ThrowIfNull(vertical);
        int x = ColumnOf(result, horizontal);
        int y = ColumnOf(result, vertical);
        Changed(result, 2);
        StudyPoint[] released = Released(result);
        double[] columns = [.. result.Points.Select(point => point.Values[x]).Distinct().Order()];
        double[] rows = [.. result.Points.Select(point => point.Values[y]).Distinct().Order()];
        (ChartAxis across, double xFactor) = AxisOf(horizontal, columns);
        (ChartAxis up, double yFactor) = AxisOf(vertical, rows);
        double[][] values = [.. rows.Select(_ => Enumerable.Repeat(double.NaN, columns.Length).ToArray())];
        foreach (StudyPoint point in released)
        {
            values[Array.IndexOf(rows, point.Values[y])][Array.IndexOf(columns, point.Values[x])] = point.ExitSpeed!.Value.MetersPerSecond;
        }

        StudyPoint best = released.Where(point => !Breaks(point)).MaxBy(point => point.ExitSpeed!.Value.MetersPerSecond) ?? released.MaxBy(point => point.ExitSpeed!.Value.MetersPerSecond)!;
        double bestX = xFactor * best.Values[x];
        double bestY = yFactor * best.Values[y];
        double armX = 0.025 * xFactor * (columns[^1] - columns[0]);
        double armY = 0.04 * yFactor * (rows[^1] - rows[0]);
        string name = $"{(Breaks(best) ? "fastest, breaks a limit" : "best")}: {Show.Quantity(best.ExitSpeed!.Value)}";
        string words = $"{name} at {horizontal.Name} {horizontal.Text(best.Values[x])}, {vertical.Name} {vertical.Text(best.Values[y])}";
        double most = released.Max(point => point.ExitSpeed!.Value.MetersPerSecond);
        double least = released.Min(point => point.ExitSpeed!.Value.MetersPerSecond);
        (double from, double to) = Scale.Around(least, most);
        var map = new HeatMap(
            $"Exit speed over {horizontal.Name} and {vertical.Name}", across, up, SpeedAxis, [.. columns.Select(value => xFactor * value)], [.. rows.Select(value => yFactor * value)], values)
        {
            ToScale = false,
            ColorsFrom = from,
            Limit = to,
            Outlines =
            [
                new ChartOutline(name, [bestX - armX, bestX + armX, double.NaN, bestX, bestX], [bestY, bestY, double.NaN, bestY - armY, bestY + armY]) { Pen = ChartPen.Bold },
            ],
            Note = $"{char.ToUpperInvariant(words[0])}{words[1..]}. {Missing(result, released.Length)}".TrimEnd(),
        };
        return map with { Description = $"{map.Description} {char.ToUpperInvariant(words[0])}{words[1..]}." };
    }

    /// <summary>How the exit speeds of a tolerance study spread: a histogram with its percentiles and the needed speed.</summary>
    /// <param name="result">The tolerance study.</param>
    /// <param name="needed">The speed that is needed; no line where null.</param>
    /// <returns>The chart. Launchers that were not released are counted in the note.</returns>
    /// <exception cref="ArgumentException">Nothing was released.</exception>
    public static LineChart Histogram(ToleranceResult result, Speed? needed = null)
    {
        ArgumentNullException.ThrowIfNull(result);
        double[] speeds = [.. Released(result.Points).Select(point => point.ExitSpeed!.Value.MetersPerSecond).Order()];
        double least = speeds[0];
        double most = speeds[^1];

        // D. Freedman, P. Diaconis, Z. Wahrscheinlichkeitstheorie 57 (1981) 453 (from memory): twice the middle half over the cube root of the count.
        double width = 2 * (ToleranceResult.Quantile(speeds, 0.75) - ToleranceResult.Quantile(speeds, 0.25)) / Math.Cbrt(speeds.Length);
        int bins = width > 0 && most > least ? (int)Math.Clamp(Math.Ceiling((most - least) / width), 1, 60) : 1;
        width = most > least ? (most - least) / bins : Math.Max(1e-3, 1e-3 * most);
        int[] counts = new int[bins];
        foreach (double speed in speeds)
        {
            counts[Math.Min(bins - 1, (int)((speed - least) / width))]++;
        }

        var x = new List<double> { least };
        var y = new List<double> { 0 };
        for (int bin = 0; bin < bins; bin++)
        {
            x.AddRange([least + (bin * width), least + ((bin + 1) * width)]);
            y.AddRange([counts[bin], counts[bin]]);
        }

        x.Add(least + (bins * width));
        y.Add(0);
        List<ChartMark> places =
        [
            .. PartsShown.Select(part => new ChartMark(
                string.Create(CultureInfo.InvariantCulture, $"{100 * part:G3} % are slower"), result.Percentile(part).MetersPerSecond)),
        ];
        if (needed is Speed speedNeeded)
        {
            places.Add(new ChartMark($"needed: {Show.Quantity(speedNeeded)}", speedNeeded.MetersPerSecond));
        }

        int all = result.Points.Points.Length;
        var panel = new ChartPanel(new ChartAxis($"launchers of {all.ToString(CultureInfo.InvariantCulture)}, in each {Show.Number(width)} m/s", string.Empty), new ChartSeries("launchers", x, y) { Filled = true, Tone = ChartTone.Ink })
        {
            FromZero = true,
        };
        string chance = needed is Speed must ? $" {Show.Quantity(must)} or more is reached by {result.ProbabilityOf(must)}." : string.Empty;
        return new LineChart("Exit speeds within the tolerances", SpeedAxis, panel)
        {
            Places = places,
            Note = Missing(result.Points, speeds.Length),
            Description = $"Histogram of the exit speeds of {all} launchers, {Show.Number(least)} to {Show.Number(most)} m/s: {string.Join(", ", places.Take(3).Select(place => $"{place.Name} than {Show.Number(place.Value)} m/s"))}.{chance}",
        };
    }

    /// <summary>The share of each tolerance in the variance of the exit speed, the greatest first.</summary>
    /// <param name="result">The tolerance study.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The exit speeds do not vary, so that there are no shares.</exception>
    public static BarChart Shares(ToleranceResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        if (!double.IsFinite(result.Unexplained))
        {
            throw new ArgumentException("The exit speeds do not vary, or too few were released: there are no shares.", nameof(result));
        }

        return new BarChart(
            "What the spread comes from",
            new ChartAxis("share of the variance", "%"),
            [
                .. result.Shares.Select(share => new ChartBar(share.Spread.Number.Name, 0, 100 * share.Share, ChartBarKind.Plain)
                {
                    Words = string.Create(CultureInfo.InvariantCulture, $"{100 * share.Share:F1} ± {100 * share.StandardError:G2} %"),
                }),
                new ChartBar("not explained by straight lines", 0, 100 * result.Unexplained, ChartBarKind.Loss)
                {
                    Words = string.Create(CultureInfo.InvariantCulture, $"{100 * result.Unexplained:F1} %"),
                },
            ])
        {
            Note = $"± is one standard error. Cheapest to tighten: {result.Cheapest.Spread.Number.Name}.",
        };
    }

    /// <summary>A trade-off front: what more of the one costs of the other.</summary>
    /// <param name="tradeOff">The front, of two goals.</param>
    /// <param name="firstUnit">Unit of the first goal in the SI, such as <c>kg</c>; null for goals that come with the library.</param>
    /// <param name="secondUnit">Unit of the second goal in the SI; null for goals that come with the library.</param>
    /// <param name="among">The study, to show the points that are beaten too; null for the front alone.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There are more than two goals, the front is empty, or a unit is not known.</exception>
    public static LineChart Front(TradeOff tradeOff, string? firstUnit = null, string? secondUnit = null, StudyResult? among = null)
    {
        ArgumentNullException.ThrowIfNull(tradeOff);
        if (tradeOff.Goals.Length != 2 || tradeOff.Front.IsEmpty)
        {
            throw new ArgumentException($"The front has {tradeOff.Goals.Length} goals and {tradeOff.Front.Length} points: a picture needs two goals and some point.", nameof(tradeOff));
        }

        Goal first = tradeOff.Goals[0];
        Goal second = tradeOff.Goals[1];
        StudyPoint[] row = [.. tradeOff.Front.OrderBy(second.Of)];
        ChartSeries Series(string name, IReadOnlyList<StudyPoint> points) => new(name, [.. points.Select(second.Of)], [.. points.Select(first.Of)]);
        var series = new List<ChartSeries>
        {
            Series("front", row) with { Tone = ChartTone.Ink },
            Series("its designs", row) with { Tone = ChartTone.Ink, Points = true },
        };
        if (among?.Points.Where(point => point.ExitSpeed is not null && !tradeOff.Front.Contains(point)).ToArray() is { Length: > 0 } beaten)
        {
            series.Add(Series("beaten, or beyond a limit", beaten) with { Tone = ChartTone.Ochre, Points = true });
        }

        return new LineChart(
            $"Trade-off: {first} against {second}",
            new ChartAxis(second.Name, secondUnit ?? UnitOf(second)),
            new ChartPanel(new ChartAxis(first.Name, firstUnit ?? UnitOf(first)), series));
    }

    private static string UnitOf(Goal goal)
        => goal == Goal.ExitSpeed ? "m/s"
            : goal == Goal.PeakCurrent || goal == Goal.PeakSourceCurrent ? "A"
            : goal == Goal.EnergyDrawn ? "J"
            : goal == Goal.PeakAcceleration ? "m/s²"
            : throw new ArgumentException($"The unit of the goal '{goal.Name}' is not known: name it.", nameof(goal));

    private static int ColumnOf(StudyResult result, DesignNumber number)
    {
        for (int i = 0; i < result.Columns.Length; i++)
        {
            if (result.Columns[i].Name == number.Name && result.Columns[i].Unit == number.Unit)
            {
                return i;
            }
        }

        throw new ArgumentException($"The study did not change the {number.Name}; it changed {string.Join(", ", result.Columns)}.", nameof(number));
    }

    /// <summary>Whether a limit is broken; where limits were not looked at, none is known to be.</summary>
    private static bool Breaks(StudyPoint point) => point.Summary is { LeastMargin: < 0 };

    private static void Changed(StudyResult result, int count)
    {
        if (result.Columns.Length != count)
        {
            throw new ArgumentException($"The study changed {string.Join(", ", result.Columns)}: this picture has room for {count}.", nameof(result));
        }
    }

    private static StudyPoint[] Released(StudyResult result)
    {
        StudyPoint[] released = [.. result.Points.Where(point => point.ExitSpeed is not null)];
        return released.Length > 0 ? released : throw new ArgumentException("No point of the study was released: there is nothing to show.", nameof(result));
    }

    private static string? Missing(StudyResult result, int released)
        => released == result.Points.Length ? null : $"{result.Points.Length - released} of {result.Points.Length} points were not released; they are left out.";

    /// <summary>An axis in a handy unit, and what SI numbers are multiplied by.</summary>
    private static (ChartAxis Axis, double Factor) AxisOf(DesignNumber number, IEnumerable<double> values)
    {
        double most = values.Max(Math.Abs);
        return (number.Unit, most) switch
        {
            ("m", < 0.5) => (new ChartAxis(number.Name, "mm"), 1e3),
            ("s", < 0.5) => (new ChartAxis(number.Name, "ms"), 1e3),
            ("kg", < 1) => (new ChartAxis(number.Name, "g"), 1e3),
            ("Ω", < 1) => (new ChartAxis(number.Name, "mΩ"), 1e3),
            _ => (new ChartAxis(number.Name, number.Unit), 1),
        };
    }
}
