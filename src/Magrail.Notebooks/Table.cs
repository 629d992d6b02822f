using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using System.Text;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks;

/// <summary>A result with several figures a row: aligned columns in text, a table on a page, with lines of words below.</summary>
/// <param name="Heads">Words above the columns.</param>
/// <param name="Rows">The rows, as many cells each as there are heads; the first cell names the row.</param>
/// <param name="Remarks">Lines below the table.</param>
internal sealed record Table(IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows, IReadOnlyList<string> Remarks)
{
    /// <summary>Of a long list, how many rows of its head and of its end are shown.</summary>
    private const int HeadRows = 8;
    private const int EndRows = 3;

    private const string None = "\u2013";

    public static Table Of(LimitTable limits) => new(
        // What matters most stands first, where a narrow page shows it.
        ["limit", "margin", "reached", "allowed"],
        [
            .. limits.Limits.Select(limit => (string[])
            [
                limit.Name,
                LimitCharts.Percent(limit.Margin) + (limit.IsBroken ? ", BROKEN" : string.Empty),
                LimitCharts.Words(limit.Reached),
                (limit.MustReach ? "≥ " : "≤ ") + LimitCharts.Words(limit.Allowed),
            ]),
        ],
        [.. limits.Limits.Where(limit => limit.IsBroken).Select(limit => $"{limit.Name}: {limit.Advice}"), .. limits.Cautions]);

    public static Table Of(IReadOnlyList<ContactBreak> breaks)
    {
        if (breaks.Count == 0)
        {
            return new Table([], [], ["No contact parted under current."]);
        }

        int arcs = breaks.Count(one => one.Duration.Seconds > 0);
        int flashes = breaks.Count(one => one.FlashOverPosition is not null);
        string all = string.Create(
            CultureInfo.InvariantCulture,
            $"{breaks.Count} {(breaks.Count == 1 ? "break" : "breaks")}, {arcs} with an arc: {QuantityText.Of(Energy.FromJoules(breaks.Sum(one => one.Energy.Joules)))} at the contacts, {QuantityText.Of(ElectricCharge.FromCoulombs(breaks.Sum(one => one.Charge.Coulombs)))} through arcs.");
        string[] remarks = flashes == 0 ? [all] : [all, string.Create(CultureInfo.InvariantCulture, $"At {flashes} the arc reached the other rail.")];
        return new Table(
            ["position", "current", "energy", "arc", "greatest coil voltage", "ended by"],
            Shortened(breaks, one =>
            [
                QuantityText.Of(one.Position),
                QuantityText.Of(UnitMath.Abs(one.Current)),
                QuantityText.Of(one.Energy),
                one.Duration.Seconds > 0 ? QuantityText.Of(one.Duration) : None,
                one.PeakCoilVoltage is ElectricPotential peak ? QuantityText.Of(peak) : "no bound",
                EndingOf(one),
            ]),
            remarks);
    }

    public static Table Of(EffectCosts costs) => new(
        ["effect", "without it", "costs", "it alone", "costs alone"],
        [
            .. costs.Rows.Select(row => (string[])
                [LimitCharts.Name(row.Effect), row.Without.ToString(), Difference(row.Cost), row.Alone.ToString(), Difference(row.CostAlone)]),
        ],
        [$"Exit speed as described: {costs.Described}; ideal: {costs.Ideal}.", "The costs do not add up: one effect hides another. Below zero is a gain."]);

    public static Table Of(LaunchSeriesResult series)
    {
        string verdict = series.FirstAboveClass is int first
            ? string.Create(CultureInfo.InvariantCulture, $"Launch {first} is the first above {series.Series.Insulation}.")
            : $"All within {series.Series.Insulation}.";
        return new Table(
            ["launch", "coil before", "coil after", "exit speed", "greatest current"],
            Shortened(series.Launches, launch =>
            [
                launch.Number.ToString(CultureInfo.InvariantCulture),
                QuantityText.Of(launch.HottestStart),
                QuantityText.Of(launch.HottestPeak),
                launch.Outcome == LaunchOutcome.Released ? QuantityText.Of(launch.EndSpeed) : "not released",
                QuantityText.Of(launch.PeakCurrent),
            ]),
            [$"{series.Series}.", verdict, $"{series.Cause}."]);
    }

    public static Table Of(StudyResult study)
    {
        bool limits = study.Points.Any(point => point.Summary?.NearestLimit is not null);
        StudyPoint[] released = [.. study.Points.Where(point => point.ExitSpeed is not null).OrderByDescending(point => point.ExitSpeed!.Value.MetersPerSecond)];
        int held = released.Count(point => point.Holds);
        var remarks = new List<string>
        {
            string.Create(
                CultureInfo.InvariantCulture,
                $"{study.Points.Length} of {study.Total} points, {released.Length} released{(limits ? $", {held} within every limit" : ", limits not looked at")}. Shown are the fastest."),
        };
        StudyPoint[] others = [.. study.Points.Where(point => point.ExitSpeed is null)];
        if (others.Length > 0)
        {
            remarks.Add($"Not released, for example: {others[0]}.");
        }

        return Points(study.Columns, [.. released.Take(HeadRows)], limits, remarks);
    }

    public static Table Of(TradeOff front)
    {
        bool limits = front.Front.Any(point => point.Summary?.NearestLimit is not null);
        string remark = string.Create(
            CultureInfo.InvariantCulture,
            $"{string.Join(" against ", front.Goals)}: {front.Front.Length} points that no other beats in one without losing in another.");
        return front.Front.IsEmpty
            ? new Table([], [], ["No point is released within its limits: there is nothing to trade."])
            : Points(front.Front[0].Columns, front.Front, limits, [remark], [.. front.Goals.Where(goal => goal != Goal.ExitSpeed)]);
    }

    public static Table Of(ToleranceResult result) => new(
        ["cause", "share of the variance", "one standard deviation"],
        [
            .. result.Shares.Select(share => (string[])
            [
                share.Spread.Number.Name,
                string.Create(CultureInfo.InvariantCulture, $"{100 * share.Share:F1} % ± {100 * share.StandardError:F1} %"),
                Signed(share.PerDeviation),
            ]),
        ],
        [
            string.Create(CultureInfo.InvariantCulture, $"{result.Points.Points.Length} launchers: exit speed {QuantityText.Of(result.Mean)} ± {QuantityText.Of(result.StandardDeviation)} (one standard deviation)."),
            $"Nine in ten lie between {QuantityText.Of(result.Percentile(0.05))} and {QuantityText.Of(result.Percentile(0.95))}.",
            string.Create(CultureInfo.InvariantCulture, $"Not explained by straight lines: {100 * result.Unexplained:F1} % of the variance."),
            $"The cheapest tolerance to tighten: {result.Cheapest.Spread.Number.Name}.",
        ]);

    public static Table Of(Influences influences) => new(
        ["design number", "is", "1 % more gives"],
        [
            .. influences.All.Select(one => (string[])
            [
                one.Number.Name,
                one.ValueText,
                double.IsNaN(one.Elasticity) ? None : string.Create(CultureInfo.InvariantCulture, $"{one.Elasticity:+0.###;\u2212#.###;0} %"),
            ]),
        ],
        [$"Exit speed as it is: {QuantityText.Of(influences.ExitSpeed)}. Of the lead, what a percent of the pitch gives.", .. influences.All.Where(one => one.Note is not null).Select(one => $"{one.Number.Name}: {one.Note}.")]);

    private static Table Points(ImmutableArray<StudyColumn> columns, IReadOnlyList<StudyPoint> points, bool limits, IReadOnlyList<string> remarks, params IReadOnlyList<Goal> goals)
    {
        string[] heads =
        [
            columns[0].Name, "exit speed", .. goals.Select(goal => goal.Name), .. columns.Skip(1).Select(column => column.Name),
            .. limits ? (string[])["nearest limit", "margin"] : [],
        ];
        return new Table(
            heads,
            [
                .. points.Select(point => (string[])
                [
                    point.ValueText(0),
                    QuantityText.Of(point.ExitSpeed!.Value),
                    .. goals.Select(goal => goal.WordsOf(point)),
                    .. Enumerable.Range(1, columns.Length - 1).Select(point.ValueText),
                    .. limits
                        ? (string[])[point.Summary!.Value.NearestLimit ?? None, point.Summary.Value.NearestLimit is null ? None : LimitCharts.Percent(point.Summary.Value.LeastMargin)]
                        : [],
                ]),
            ],
            remarks);
    }

    private static string Signed(Speed speed) => $"{Math.Round(speed.MetersPerSecond, 3).ToString("+0.###;\u2212#0.###;0", CultureInfo.InvariantCulture)} m/s";

    public string ToText()
    {
        var text = new StringBuilder();
        if (Heads.Count > 0)
        {
            int[] widths = [.. Heads.Select((head, column) => Rows.Select(row => row[column].Length).Append(head.Length).Max())];
            foreach (IReadOnlyList<string> row in Rows.Prepend(Heads))
            {
                for (int column = 0; column < row.Count; column++)
                {
                    text.Append(column == 0 ? row[0].PadRight(widths[0]) : $"  {row[column].PadLeft(widths[column])}");
                }

                while (text[^1] == ' ')
                {
                    text.Length--;
                }

                text.Append('\n');
            }
        }

        return text.Append(string.Join('\n', Remarks)).ToString().TrimEnd('\n');
    }

    public string ToHtml()
    {
        var html = new StringBuilder();
        if (Heads.Count > 0)
        {
            // A number stays with its unit; what is wider than a narrow page is moved sideways, not the page.
            html.Append("<div style=\"overflow-x:auto\"><table class=\"magrail-facts\" style=\"white-space:nowrap\"><thead><tr>");
            for (int column = 0; column < Heads.Count; column++)
            {
                html.Append(column == 0 ? "<th scope=\"col\" style=\"text-align:left\">" : "<th scope=\"col\" style=\"text-align:right\">")
                    .Append(WebUtility.HtmlEncode(Heads[column])).Append("</th>");
            }

            html.Append("</tr></thead><tbody>");
            foreach (IReadOnlyList<string> row in Rows)
            {
                html.Append("<tr><th scope=\"row\">").Append(WebUtility.HtmlEncode(row[0])).Append("</th>");
                foreach (string cell in row.Skip(1))
                {
                    html.Append("<td>").Append(WebUtility.HtmlEncode(cell)).Append("</td>");
                }

                html.Append("</tr>");
            }

            html.Append("</tbody></table></div>");
        }

        if (Remarks.Count > 0)
        {
            html.Append("<ul>").AppendJoin(string.Empty, Remarks.Select(remark => $"<li>{WebUtility.HtmlEncode(remark)}</li>")).Append("</ul>");
        }

        return html.ToString();
    }

    private static IReadOnlyList<string>[] Shortened<T>(IReadOnlyList<T> all, Func<T, IReadOnlyList<string>> row)
    {
        if (all.Count <= HeadRows + EndRows + 1)
        {
            return [.. all.Select(row)];
        }

        IReadOnlyList<string> first = row(all[0]);
        return [.. all.Take(HeadRows).Select(row), [.. first.Select((_, column) => column == 0 ? "…" : string.Empty)], .. all.TakeLast(EndRows).Select(row)];
    }

    private static string EndingOf(ContactBreak one) => one.Ending switch
    {
        BreakEnding.Unfinished => "end of the run",
        BreakEnding.Lost => "ideal break",
        BreakEnding.Suppressed => "suppressor",
        BreakEnding.DiedOut => "arc died out",
        BreakEnding.Touched => "contact again",
        BreakEnding.FlashOver => "flash-over",
        _ => one.Ending.ToString(),
    };

    private static string Difference(Speed? cost)
        => cost is Speed speed ? $"{Math.Round(speed.MetersPerSecond, 3).ToString("0.###", CultureInfo.InvariantCulture).Replace('-', '\u2212')} m/s" : None;
}
