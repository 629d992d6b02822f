using System.Globalization;
using System.Net;
using System.Text;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Charts;

/// <summary>
/// A report of a launcher and its launch as one page: cautions first, then predictions with how far to trust each, the limits in order, charts, the energy
/// ledger, the parts, and what was left out. It holds no script, asks for nothing from a network, reads on a telephone and prints on A4.
/// </summary>
public static class LauncherReport
{
    private const double Wide = 660;
    private const double Narrow = 344;

    /// <summary>Writes the report to a file.</summary>
    /// <param name="launch">The launch, whole or not; one that did not release its payload says so on top of its report.</param>
    /// <param name="path">Where to write it; an old file is replaced once the new one is whole.</param>
    /// <param name="title">What the launcher is called; <c>A launcher and its launch</c> by default.</param>
    /// <param name="tolerances">What the same launcher does within the tolerances of its parts, so that the speed gets a range; none by default.</param>
    /// <exception cref="ArgumentException">The path or the title is blank.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public static void SaveReport(this LaunchResult launch, string path, string title = "A launcher and its launch", ToleranceResult? tolerances = null)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        WholeFile.WriteText(path, ToReport(launch, title, tolerances));
    }

    /// <summary>The report as the text of one page of HTML.</summary>
    /// <param name="launch">The launch, whole or not; one that did not release its payload says so on top of its report.</param>
    /// <param name="title">What the launcher is called; <c>A launcher and its launch</c> by default.</param>
    /// <param name="tolerances">What the same launcher does within the tolerances of its parts, so that the speed gets a range; none by default.</param>
    /// <returns>HTML.</returns>
    /// <exception cref="ArgumentException">The title is blank.</exception>
    public static string ToReport(this LaunchResult launch, string title = "A launcher and its launch", ToleranceResult? tolerances = null)
    {
        ArgumentNullException.ThrowIfNull(launch);
        ArgumentException.ThrowIfNullOrWhiteSpace(title);
        bool whole = launch.Outcome == LaunchOutcome.Released;
        var page = new StringBuilder();
        string heading = whole ? title : $"Not a whole launch: {title}";
        page.Append("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n");
        page.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        page.Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\">\n");
        page.Append("<title>").Append(Encode(heading)).Append("</title>\n<style>").Append(ChartPage.Resource("report.css")).Append("</style></head>\n");
        page.Append("<body class=\"").Append(whole ? "whole" : "unfinished").Append("\"><main>\n<h1>").Append(Encode(heading)).Append("</h1>\n");
        if (!whole)
        {
            page.Append("<p class=\"stop\" role=\"alert\"><strong>The payload was not released.</strong> ").Append(Encode(Sentence(launch.Cause)))
                .Append(" There is no exit speed, and every figure below holds only up to that moment: ")
                .Append(Encode($"{QuantityText.Of(launch.EndTime)} after the start, at {QuantityText.Of(launch.EndPosition)}")).Append(".</p>\n");
        }

        Summary(page, launch, whole);
        Cautions(page, launch);
        Predictions(page, launch, whole, tolerances);
        Limits(page, launch, whole);
        Course(page, launch, whole);
        Ledger(page, launch, whole);
        Parts(page, launch.Launcher);
        LeftOut(page, launch);
        page.Append("</main></body></html>\n");
        return page.ToString();
    }

    private static void Summary(StringBuilder page, LaunchResult launch, bool whole)
    {
        Limit[] broken = [.. launch.Limits.Limits.Where(limit => limit.IsBroken)];
        page.Append("<p class=\"lead\">");
        if (whole)
        {
            page.Append("Computed: the payload leaves at <strong>").Append(Encode(QuantityText.Of(launch.ExitSpeed))).Append("</strong> after ")
                .Append(Encode(QuantityText.Of(launch.ExitTime))).Append(". ");
        }

        page.Append(broken.Length switch
        {
            0 when launch.Limits.Limits.Length == 0 => "No limit is stated for its parts.",
            0 => Encode($"All {launch.Limits.Limits.Length} stated limits hold; the nearest is {launch.Limits.Binding!.Name}."),
            _ => $"<strong class=\"broken\">{Encode($"{Count(broken.Length, "limit is", "limits are")} broken: {string.Join(", ", broken.Select(limit => limit.Name))}.")}</strong>",
        });
        page.Append("</p>\n");
    }

    private static void Cautions(StringBuilder page, LaunchResult launch)
    {
        page.Append("<section class=\"cautions\"><h2>Cautions first</h2><ul>\n");
        foreach (string caution in launch.Limits.Cautions)
        {
            page.Append("<li>").Append(Encode(caution)).Append("</li>\n");
        }

        page.Append("</ul></section>\n");
    }

    private static void Predictions(StringBuilder page, LaunchResult launch, bool whole, ToleranceResult? tolerances)
    {
        const string Computed = "";
        const string Bound = "an upper bound: no heat is taken to leave the winding during the launch";
        var rows = new List<(string Name, string Value, string Trust)>();
        if (whole)
        {
            string range = tolerances is null
                ? Computed
                : $"of {tolerances.Points.Points.Length} launchers drawn within the tolerances, nine in ten leave at {QuantityText.Of(tolerances.Percentile(0.05))} to {QuantityText.Of(tolerances.Percentile(0.95))}";
            rows.Add(("exit speed", QuantityText.Of(launch.ExitSpeed), range));
            if (launch.Launcher.Payload.NeededSpeed is Speed needed)
            {
                rows.Add(("speed the payload needs", QuantityText.Of(needed), "given"));
            }

            rows.Add(("time to release", QuantityText.Of(launch.ExitTime), Computed));
        }
        else
        {
            rows.Add(("speed when the run ended", QuantityText.Of(launch.EndSpeed), "not an exit speed"));
            rows.Add(("time when the run ended", QuantityText.Of(launch.EndTime), "not a time to release"));
            rows.Add(("position when the run ended", QuantityText.Of(launch.EndPosition), Computed));
        }

        rows.Add(("greatest acceleration", $"{QuantityText.Of(launch.PeakAcceleration)} ({Three(launch.PeakGs)} g) at {QuantityText.Of(launch.PeakAccelerationPosition)}", Computed));
        rows.Add(("mean acceleration", $"{QuantityText.Of(launch.MeanAcceleration)} ({Three(launch.MeanGs)} g)", Computed));
        rows.Add(("greatest coil current", $"{QuantityText.Of(launch.PeakCurrent)} at {QuantityText.Of(launch.PeakCurrentPosition)}", Computed));
        rows.Add(("coil current, root mean square", QuantityText.Of(launch.RmsCurrent), Computed));
        rows.Add(("greatest current of the source", QuantityText.Of(launch.PeakSourceCurrent), Computed));
        rows.Add(("energy drawn", QuantityText.Of(launch.Ledger.Drawn), Computed));
        rows.Add(("kinetic energy gained", $"{QuantityText.Of(launch.Ledger.Kinetic)} ({Three(100 * launch.Efficiency)} %)", Computed));
        for (int i = 0; i < launch.CoilTemperatures.Length; i++)
        {
            string which = launch.CoilTemperatures.Length == 1 ? "coil temperature at the end" : string.Create(CultureInfo.InvariantCulture, $"temperature of coil {i + 1} at the end");
            rows.Add((which, QuantityText.Of(launch.CoilTemperatures[i]), Bound));
        }

        if (launch.BrushWear is ContactWear wear)
        {
            rows.Add(("brush wear", wear.ToString(), "rates of wear spread widely: the range is what the sources give"));
        }

        if (launch.BrushLife is ContactLife life)
        {
            rows.Add(("brush life", life.ToString(), "rates of wear spread widely: the range is what the sources give"));
        }

        if (launch.Braking is BrakingResult braking)
        {
            rows.Add(("after the release", $"the sled {braking}", Computed));
        }

        page.Append("<section><h2>").Append(whole ? "Predictions" : "What was reached before it ended").Append("</h2>\n<table class=\"facts\"><thead><tr><th scope=\"col\"></th><th scope=\"col\">computed</th><th scope=\"col\">how far to trust it</th></tr></thead><tbody>\n");
        foreach ((string name, string value, string trust) in rows)
        {
            page.Append("<tr><th scope=\"row\">").Append(Encode(name)).Append("</th><td>").Append(Encode(value)).Append("</td><td class=\"trust\">").Append(Encode(trust)).Append("</td></tr>\n");
        }

        page.Append("</tbody></table>\n<p>").Append(Encode(string.Create(
            CultureInfo.InvariantCulture,
            $"Where nothing stands beside it, a figure follows from the equations and is as good as the parts are described. The arithmetic is the smallest doubt: the run asked for a relative error of {Show.SmallShare(launch.Options.RelativeTolerance)} and its energy ledger closes to {Show.SmallShare(launch.Ledger.RelativeResidual)}. Magnets of one grade differ from piece to piece{Remanence(launch.Launcher)}, friction and contact resistance by far more, and the model leaves things out (last section). Film a launch and compare before you rely on a figure.")))
            .Append("</p></section>\n");
    }

    private static void Limits(StringBuilder page, LaunchResult launch, bool whole)
    {
        page.Append("<section><h2>Limits, the nearest first").Append(Until(whole)).Append("</h2>\n");
        if (launch.Limits.Limits.IsEmpty)
        {
            page.Append("<p>No part and no rating states what it bears.</p></section>\n");
            return;
        }

        page.Append("<table class=\"limits\"><thead><tr><th scope=\"col\"></th><th scope=\"col\">reached</th><th scope=\"col\">limit</th><th scope=\"col\">margin</th></tr></thead><tbody>\n");
        foreach (Limit limit in launch.Limits.Limits)
        {
            page.Append(limit.IsBroken ? "<tr class=\"broken\">" : "<tr>").Append("<th scope=\"row\">").Append(Encode(limit.Name)).Append("</th><td>").Append(Encode(QuantityText.Of(limit.Reached)))
                .Append("</td><td>").Append(limit.MustReach ? "≥ " : "≤ ").Append(Encode(QuantityText.Of(limit.Allowed))).Append("</td><td>")
                .Append(limit.IsBroken ? "BROKEN" : string.Empty).Append(limit.IsBroken && double.IsFinite(limit.Margin) ? ", " : string.Empty)
                .Append(double.IsFinite(limit.Margin) ? Encode(Percent(limit.Margin)) : string.Empty).Append("</td></tr>\n");
        }

        page.Append("</tbody></table>\n");
        foreach (Limit limit in launch.Limits.Limits.Where(limit => limit.IsBroken))
        {
            page.Append("<p class=\"advice\"><strong>").Append(Encode(limit.Name)).Append("</strong> is broken: ").Append(Encode(limit.Advice)).Append("</p>\n");
        }

        Picture(page, LimitCharts.Limits(launch));
        page.Append("</section>\n");
    }

    private static void Course(StringBuilder page, LaunchResult launch, bool whole)
    {
        page.Append("<section><h2>The course of the launch").Append(Until(whole)).Append("</h2>\n");
        Picture(page, LaunchCharts.Overview(launch));
        if (launch.Breaks.Any(one => one.Energy.Joules > 0))
        {
            Picture(page, LimitCharts.Breaks(launch));
        }

        if (launch.Braking is not null)
        {
            Picture(page, LimitCharts.Braking(launch));
        }

        page.Append("</section>\n");
    }

    private static void Ledger(StringBuilder page, LaunchResult launch, bool whole)
    {
        page.Append("<section><h2>Where the energy went").Append(Until(whole)).Append("</h2>\n");

        // What is only rounding beside the rest is not an entry.
        double rounding = 1e-15 * launch.Ledger.Entries.Max(entry => Math.Abs(entry.Value.Joules));
        Facts(page,
        [
            ("drawn from the source", QuantityText.Of(launch.Ledger.Drawn)),
            .. launch.Ledger.Entries.Where(entry => Math.Abs(entry.Value.Joules) > rounding).Select(entry => (entry.Name, QuantityText.Of(entry.Value))),
            ("residual (what does not close)", $"{QuantityText.Of(launch.Ledger.Residual)}, {Show.SmallShare(launch.Ledger.RelativeResidual)} of the greatest entry"),
        ]);
        Picture(page, LaunchCharts.EnergyLedger(launch));
        page.Append("</section>\n");
    }

    private static void Parts(StringBuilder page, Launcher launcher)
    {
        page.Append("<section><h2>Parts</h2>\n");
        var facts = new List<(string, string)>
        {
            ("track", launcher.Track.ToString()),
            ("sled", launcher.Sled.ToString()),
            ("contacts", launcher.Contacts.ToString()),
            ("source", launcher.Source.ToString()!),
            ("payload", launcher.Payload.ToString()),
            ("moving mass", QuantityText.Of(launcher.MovingMass)),
            ("leads", launcher.Leads.ToString()),
            ("start switch", launcher.Switch.ToString()),
            ("across the coil", launcher.Suppressor.ToString()!),
        };
        foreach ((string name, object? part) in ((string, object?)[])[("bus bars", launcher.BusBars), ("arc", launcher.Arc), ("brake", launcher.Brake)])
        {
            if (part is not null)
            {
                facts.Add((name, part.ToString()!));
            }
        }

        facts.Add(("slope", QuantityText.Of(launcher.Slope)));
        facts.Add(("coils at the start", QuantityText.Of(launcher.CoilTemperature)));
        facts.Add(("magnets", QuantityText.Of(launcher.MagnetTemperature)));
        facts.Add(("air", QuantityText.Of(launcher.AirDensity)));
        Facts(page, facts);
        Coil[] coils = [.. launcher.Sled.Coils.Select(mount => mount.Coil)];
        foreach ((Coil coil, int count) in coils.GroupBy(coil => coil.ToString()).Select(alike => (alike.First(), alike.Count())))
        {
            page.Append("<h3>").Append(count == 1 ? "Coil" : string.Create(CultureInfo.InvariantCulture, $"{count} coils alike")).Append("</h3>\n");
            Facts(page,
            [
                ("wire", coil.Wire.ToString()),
                ("turns", string.Create(CultureInfo.InvariantCulture, $"{coil.Turns} in {coil.Layers} layers of {coil.TurnsPerLayer}")),
                ("outside", $"{QuantityText.Of(coil.OuterWidth)} wide, {QuantityText.Of(coil.OuterHeight)} high, {QuantityText.Of(coil.Former.Length)} thick"),
                ("wire length", QuantityText.Of(coil.WireLength)),
                ("mass", QuantityText.Of(coil.Mass)),
                ("resistance at 20 °C", QuantityText.Of(coil.Resistance)),
                ("inductance", QuantityText.Of(coil.Inductance)),
            ]);
            Picture(page, CoilCharts.CrossSection(coil));
        }

        Picture(page, FieldCharts.MagnetOrientation(launcher.Track));
        page.Append("</section>\n");
    }

    private static void LeftOut(StringBuilder page, LaunchResult launch)
    {
        Launcher launcher = launch.Launcher;
        var items = new List<string>
        {
            "Magnets are rigid and uniformly magnetized; back iron, where there is any, is a plane mirror that does not saturate.",
            "The track is straight, and the sled keeps to its path; it neither tilts nor bounces, and nothing bends.",
            "Metal near the coil carries no eddy currents, except in a brake that works by them.",
            "The figures are of one launch of one launcher, with parts exactly as described.",
        };
        if (launcher.Arc is null)
        {
            items.Add("Contacts part without an arc: no arc is described, so sparks cost nothing here.");
        }

        if (launcher.Suppressor is IdealBreakSuppressor)
        {
            items.Add("A coil whose contact opens loses its current at once; its field energy stands on the ledger as lost at the contact, or in the arc.");
        }

        if (!launcher.CoilsWarmUp)
        {
            items.Add($"Coils keep the resistance they have at {QuantityText.Of(launcher.CoilTemperature)}; warming up would lower current and speed.");
        }

        if (launcher.BusBars is null)
        {
            items.Add("The rails between supply and strips have no resistance.");
        }

        if (launcher.Leads.Resistance.Ohms == 0)
        {
            items.Add("The leads have no resistance.");
        }

        if (launcher.Switch.Resistance.Ohms == 0 && launcher.Switch.Bounce.IsEmpty)
        {
            items.Add("The start switch has no resistance and does not bounce.");
        }

        if (launcher.Sled.Friction == GuideFriction.None)
        {
            items.Add("The guide has no friction.");
        }

        if (launcher.Sled.DragArea.SquareMeters == 0)
        {
            items.Add("The air does not brake the sled.");
        }

        if (launcher.Source is BenchSupply)
        {
            items.Add("The supply follows its set voltage and its limit without delay, and takes current back where the coil drives it.");
        }

        if (launcher.Brake is null)
        {
            items.Add("No brake is described: nothing is computed after the release.");
        }

        page.Append("<section><h2>Assumed, and left out</h2><ul>\n");
        foreach (string item in items)
        {
            page.Append("<li>").Append(Encode(item)).Append("</li>\n");
        }

        page.Append("</ul>\n<p class=\"foot\">").Append(Encode($"Made by Magrail {typeof(LauncherReport).Assembly.GetName().Version?.ToString(3)}.")).Append("</p></section>\n");
    }

    /// <summary>A chart twice: for a desk and for paper, and for a telephone; the style shows one of them.</summary>
    private static void Picture(StringBuilder page, Chart chart)
    {
        page.Append("<figure><figcaption>").Append(Encode(chart.Title)).Append("</figcaption>\n<div class=\"wide\">").Append(chart.Still(Wide, headed: false))
            .Append("</div>\n<div class=\"narrow\">").Append(chart.Still(Narrow, headed: false)).Append("</div>\n");
        if (chart.Note is not null)
        {
            page.Append("<p class=\"note\">").Append(Encode(chart.Note)).Append("</p>");
        }

        page.Append("</figure>\n");
    }

    private static void Facts(StringBuilder page, IEnumerable<(string Name, string Value)> facts)
    {
        page.Append("<table class=\"facts\"><tbody>\n");
        foreach ((string name, string value) in facts)
        {
            page.Append("<tr><th scope=\"row\">").Append(Encode(name)).Append("</th><td>")
                .Append(string.Join("<br>", value.Split(['\r', '\n'], StringSplitOptions.RemoveEmptyEntries).Select(Encode))).Append("</td></tr>\n");
        }

        page.Append("</tbody></table>\n");
    }

    private static string Remanence(Launcher launcher)
    {
        MagnetGrade grade = launcher.Track.Stations[0].Magnets[0].Body.Grade;
        return grade.RemanenceLeast.Teslas == grade.RemanenceGreatest.Teslas
            ? string.Empty
            : $" ({grade.Name}: {QuantityText.Of(grade.RemanenceLeast)} to {QuantityText.Of(grade.RemanenceGreatest)})";
    }

    private static string Until(bool whole) => whole ? string.Empty : ", up to the moment it ended";

    private static string Sentence(string words) => $"{char.ToUpperInvariant(words[0])}{words[1..].TrimEnd('.')}.";

    private static string Count(int count, string one, string several) => string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : several)}");

    private static string Percent(double share) => string.Create(CultureInfo.InvariantCulture, $"{Math.Round(100 * share, 1):0.#} %").Replace('-', '−');

    private static string Three(double value) => value.ToString("G3", CultureInfo.InvariantCulture);

    private static string Encode(string text) => WebUtility.HtmlEncode(text);
}
