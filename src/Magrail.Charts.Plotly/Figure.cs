using System.Reflection;
using DynamicObj;
using Plotly.NET;
using Plotly.NET.LayoutObjects;
using BarKeys = Plotly.NET.CSharp.Optional<System.Collections.Generic.IEnumerable<string>>;
using CSharpChart = Plotly.NET.CSharp.Chart;

namespace Magrail.Charts.Plotly;

/// <summary>
/// The far side of the door: plain strings and arrays in, a plotly figure as JSON out. <c>Magrail.Charts</c> calls these
/// methods by name, in a load context of their own, so that no type of this side is ever seen by the caller.
/// </summary>
public static class Figure
{
    private const string Ink = "#1C2530";
    private const string GridInk = "#DCE1E6";
    private const string FontFamily = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Noto Sans', sans-serif";
    private const string ScriptResource = "Plotly.NET.plotly-2.28.0.min.js";

    private static readonly string[][] ModeBarButtons = [["toImage", "zoom2d", "resetScale2d"]];

    /// <summary>Height of one panel of lines, in CSS pixels.</summary>
    private const int PanelHeight = 190;

    /// <summary>Height over width of a map whose axes have scales of their own.</summary>
    private const double FreeAspect = 0.6;

    /// <summary>Height of the ribbon below the panels, in CSS pixels.</summary>
    private const int RibbonHeight = 16;

    /// <summary>The source text of plotly.js, and below it its licence.</summary>
    /// <returns>Two texts.</returns>
    public static string[] Script()
    {
        Assembly carrier = typeof(Trace).Assembly;
        return [Read(carrier, ScriptResource), Read(carrier, ScriptResource + ".LICENSE.txt")];
    }

    /// <summary>Lines in one or more panels above one shared horizontal axis.</summary>
    /// <param name="horizontalTitle">Title of the shared axis, with its unit.</param>
    /// <param name="horizontalRange">Where the shared axis begins and ends; empty for as the numbers do.</param>
    /// <param name="verticalRanges">The same for the vertical axis of each panel; empty for all as their numbers do.</param>
    /// <param name="panelTitles">Title of each panel's vertical axis, with its unit, from the top down.</param>
    /// <param name="panelsFromZero">Whether each panel's vertical axis is drawn from zero.</param>
    /// <param name="seriesNames">Name of each series.</param>
    /// <param name="seriesPanels">Panel of each series, counted from zero.</param>
    /// <param name="xs">Horizontal numbers of each series.</param>
    /// <param name="ys">Vertical numbers of each series.</param>
    /// <param name="colors">Line color of each series.</param>
    /// <param name="dashes">Dash pattern of each series, in plotly's words.</param>
    /// <param name="symbols">Mark of each series that is drawn as points, in plotly's words; empty for a line.</param>
    /// <param name="filled">Whether the ground between each line and zero is filled.</param>
    /// <param name="halfWidths">Half widths of the band around each series; empty for no band.</param>
    /// <param name="levelNames">Names of horizontal guide lines.</param>
    /// <param name="levelPanels">Panel of each guide line.</param>
    /// <param name="levels">Height of each guide line.</param>
    /// <param name="placeNames">Names of vertical guide lines.</param>
    /// <param name="places">Position of each vertical guide line.</param>
    /// <param name="ribbonNames">Words below each band of the ribbon; empty for no ribbon.</param>
    /// <param name="ribbonFrom">Where each band begins.</param>
    /// <param name="ribbonTo">Where each band ends.</param>
    /// <param name="ribbonColors">Fill of each band.</param>
    /// <returns>The figure as JSON with data, layout and config.</returns>
    public static string Lines(
        string horizontalTitle,
        double[] horizontalRange,
        double[][] verticalRanges,
        string[] panelTitles,
        bool[] panelsFromZero,
        string[] seriesNames,
        int[] seriesPanels,
        double[][] xs,
        double[][] ys,
        string[] colors,
        string[] dashes,
        string[] symbols,
        bool[] filled,
        double[][] halfWidths,
        string[] levelNames,
        int[] levelPanels,
        double[] levels,
        string[] placeNames,
        double[] places,
        string[] ribbonNames,
        double[] ribbonFrom,
        double[] ribbonTo,
        string[] ribbonColors)
    {
        int panels = panelTitles.Length;
        bool ribbon = ribbonNames.Length > 0;
        bool legend = seriesPanels.GroupBy(panel => panel).Any(group => group.Count() > 1);
        int top = (legend ? 34 : 8) + 24;
        const int Gap = 40;
        int plotHeight = (panels * PanelHeight) + ((panels - 1) * Gap) + (ribbon ? RibbonHeight + 10 : 0);
        int bottom = 56;

        var charts = new List<GenericChart>();
        for (int i = 0; i < seriesNames.Length; i++)
        {
            if (halfWidths[i].Length > 0)
            {
                // A closed line: along the upper edge, and back along the lower.
                double[] upper = [.. ys[i].Zip(halfWidths[i], (y, half) => y + half)];
                double[] lower = [.. ys[i].Zip(halfWidths[i], (y, half) => y - half)];
                Trace band = Trace("scatter");
                band.SetProperty("mode", "lines");
                band.SetProperty("name", $"band of {seriesNames[i]}");
                band.SetProperty("x", (double[])[.. xs[i], .. xs[i].Reverse()]);
                band.SetProperty("y", (double[])[.. upper, .. lower.Reverse()]);
                band.SetProperty("xaxis", "x");
                band.SetProperty("yaxis", AxisName("y", seriesPanels[i]));
                band.SetProperty("fill", "toself");
                band.SetProperty("fillcolor", Pale(colors[i]));
                band.SetProperty("line", Object(("width", 0)));
                band.SetProperty("hoverinfo", "skip");
                band.SetProperty("showlegend", false);
                charts.Add(GenericChart.ofTraceObject(false, band));
            }

            GenericChart chart = CSharpChart.Line<double, double, string>(
                xs[i],
                ys[i],
                ShowMarkers: false,
                Name: seriesNames[i],
                LineColor: Color.fromString(colors[i]),
                LineDash: Dash(dashes[i]),
                LineWidth: 2.0,
                UseDefaults: false);
            Trace trace = GenericChart.getTraces(chart).Head;
            trace.SetProperty("yaxis", AxisName("y", seriesPanels[i]));
            trace.SetProperty("xaxis", "x");
            // A line alone in its panel is named by the panel's title.
            trace.SetProperty("showlegend", legend && seriesPanels.Count(panel => panel == seriesPanels[i]) > 1);
            trace.SetProperty("hovertemplate", "%{x:.4g}, %{y:.4g}<extra>%{fullData.name}</extra>");
            if (filled[i])
            {
                trace.SetProperty("fill", "tozeroy");
                trace.SetProperty("fillcolor", Pale(colors[i]));
            }

            if (symbols[i].Length > 0)
            {
                trace.SetProperty("mode", "markers");
                trace.SetProperty("marker", Object(("symbol", symbols[i]), ("size", 8), ("color", colors[i])));
            }

            charts.Add(chart);
        }

        Layout layout = CommonLayout(top + plotHeight + bottom, top, bottom, left: 56, right: 14);
        layout.SetProperty("showlegend", legend);
        layout.SetProperty("legend", Object(
            ("orientation", "h"), ("x", 0), ("xanchor", "left"), ("y", 1 + (34.0 / plotHeight)), ("yanchor", "bottom"), ("font", FontOf(13))));

        LinearAxis horizontal = Axis();
        horizontal.SetProperty("title", Object(("text", horizontalTitle), ("standoff", 10), ("font", FontOf(14))));
        horizontal.SetProperty("anchor", ribbon ? "free" : AxisName("y", panels - 1));
        if (ribbon)
        {
            horizontal.SetProperty("position", 0);
        }

        if (horizontalRange.Length > 0)
        {
            horizontal.SetProperty("range", horizontalRange);
        }

        horizontal.SetProperty("showspikes", true);
        horizontal.SetProperty("spikemode", "across");
        horizontal.SetProperty("spikethickness", 1);
        horizontal.SetProperty("spikedash", "solid");
        horizontal.SetProperty("spikecolor", "#8A94A0");
        layout.SetProperty("xaxis", horizontal);

        var notes = new List<DynamicObj.DynamicObj>();
        var shapes = new List<DynamicObj.DynamicObj>();
        for (int panel = 0; panel < panels; panel++)
        {
            double panelTop = 1 - ((panel * (PanelHeight + Gap)) / (double)plotHeight);
            double panelBottom = panelTop - (PanelHeight / (double)plotHeight);
            LinearAxis vertical = Axis();
            vertical.SetProperty("domain", new[] { Math.Max(0, panelBottom), panelTop });
            vertical.SetProperty("anchor", "x");
            vertical.SetProperty("nticks", 6);
            if (verticalRanges.Length > 0)
            {
                vertical.SetProperty("range", verticalRanges[panel]);
            }

            vertical.SetProperty("rangemode", panelsFromZero[panel] ? "tozero" : "normal");
            vertical.SetProperty("zeroline", true);
            vertical.SetProperty("zerolinecolor", "#8A94A0");
            vertical.SetProperty("zerolinewidth", 1);
            // The title reads across, above its panel: it needs no turned head and no width on a narrow page.
            notes.Add(Object(
                ("text", panelTitles[panel]), ("xref", "paper"), ("x", 0), ("xanchor", "left"), ("xshift", -46),
                ("yref", "paper"), ("y", panelTop), ("yanchor", "bottom"), ("yshift", 3),
                ("showarrow", false), ("font", FontOf(14)), ("name", "vertical-title")));
            layout.SetProperty(AxisKey("yaxis", panel), vertical);
        }

        for (int i = 0; i < levels.Length; i++)
        {
            shapes.Add(Object(
                ("type", "line"), ("xref", "paper"), ("x0", 0), ("x1", 1), ("yref", AxisName("y", levelPanels[i])), ("y0", levels[i]), ("y1", levels[i]),
                ("line", Object(("color", "#5A6672"), ("width", 1.2), ("dash", "4px,3px")))));
            notes.Add(Object(
                ("text", levelNames[i]), ("xref", "paper"), ("x", 0), ("xanchor", "left"), ("xshift", 4),
                ("yref", AxisName("y", levelPanels[i])), ("y", levels[i]), ("yanchor", "bottom"), ("showarrow", false), ("font", FontOf(12, "#45505C")),
                ("bgcolor", "rgba(255,255,255,0.75)"), ("borderpad", 1)));
        }

        // The words of a place stand to the side where there is room for them.
        double middle = 0.5 * (xs.Min(x => x.Min()) + xs.Max(x => x.Max()));
        double placesBottom = ribbon ? (RibbonHeight + 10.0) / plotHeight : 0;
        for (int i = 0; i < places.Length; i++)
        {
            shapes.Add(Object(
                ("type", "line"), ("xref", "x"), ("x0", places[i]), ("x1", places[i]), ("yref", "paper"), ("y0", placesBottom), ("y1", 1),
                ("line", Object(("color", "#5A6672"), ("width", 1.2), ("dash", "2px,2px")))));
            notes.Add(Object(
                ("text", placeNames[i]), ("xref", "x"), ("x", places[i]), ("xanchor", places[i] < middle ? "left" : "right"), ("yref", "paper"), ("y", placesBottom), ("yanchor", "bottom"), ("yshift", 17 * i),
                ("showarrow", false), ("font", FontOf(12, "#45505C")), ("bgcolor", "rgba(255,255,255,0.75)"), ("borderpad", 1)));
        }

        for (int i = 0; i < ribbonNames.Length; i++)
        {
            shapes.Add(Object(
                ("type", "rect"), ("xref", "x"), ("x0", ribbonFrom[i]), ("x1", ribbonTo[i]), ("yref", "paper"), ("y0", 0), ("y1", RibbonHeight / (double)plotHeight),
                ("fillcolor", ribbonColors[i]), ("line", Object(("width", 0.8), ("color", Ink)))));
            if (ribbonNames[i].Length > 0)
            {
                notes.Add(Object(
                    ("text", ribbonNames[i]), ("xref", "x"), ("x", 0.5 * (ribbonFrom[i] + ribbonTo[i])), ("xanchor", "center"),
                    ("yref", "paper"), ("y", 0.5 * RibbonHeight / plotHeight), ("yanchor", "middle"), ("showarrow", false), ("font", FontOf(10))));
            }
        }

        layout.SetProperty("annotations", notes);
        layout.SetProperty("shapes", shapes);
        return Json(GenericChart.setLayout(layout, CSharpChart.Combine(charts)));
    }

    /// <summary>Horizontal bars, each from one number to another, from the top down.</summary>
    /// <param name="axisTitle">Title of the number axis, with its unit.</param>
    /// <param name="names">Words beside each bar.</param>
    /// <param name="from">Where each bar begins.</param>
    /// <param name="to">Where each bar ends.</param>
    /// <param name="labels">Words at the end of each bar.</param>
    /// <param name="colors">Fill of each bar.</param>
    /// <param name="patterns">Hatching of each bar, in plotly's words; empty for none.</param>
    /// <param name="markNames">Words at the foot of each vertical guide line.</param>
    /// <param name="marks">Where each guide line stands.</param>
    /// <returns>The figure as JSON with data, layout and config.</returns>
    public static string Bars(
        string axisTitle, string[] names, double[] from, double[] to, string[] labels, string[] colors, string[] patterns, string[] markNames, double[] marks)
    {
        double[] lengths = [.. to.Zip(from, (end, start) => end - start)];
        GenericChart chart = CSharpChart.Bar<double, string, string>(
            lengths, Keys: new BarKeys(names, true), Name: axisTitle, UseDefaults: false);
        Trace trace = GenericChart.getTraces(chart).Head;
        trace.SetProperty("base", from);
        trace.SetProperty("text", labels);
        trace.SetProperty("textposition", "none");
        trace.SetProperty("showlegend", false);
        trace.SetProperty("hovertemplate", "%{y}: %{text}<extra></extra>");
        trace.SetProperty("marker", Object(
            ("color", colors),
            ("line", Object(("color", Ink), ("width", 1))),
            ("pattern", Object(("shape", patterns), ("fgcolor", Ink), ("fgopacity", 0.55), ("fillmode", "overlay"), ("size", 7), ("solidity", 0.18)))));

        // Names stand above their bar, so that a long name costs no width on a narrow page.
        const int RowHeight = 42;
        const int Top = 28;
        const int Bottom = 52;
        Layout layout = CommonLayout(Top + Bottom + (RowHeight * names.Length), Top, Bottom, left: 10, right: 14);
        layout.SetProperty("showlegend", false);
        layout.SetProperty("bargap", 0.6);
        LinearAxis horizontal = Axis();
        horizontal.SetProperty("title", Object(("text", axisTitle), ("standoff", 8), ("font", FontOf(14))));
        horizontal.SetProperty("zeroline", true);
        horizontal.SetProperty("zerolinecolor", Ink);
        layout.SetProperty("xaxis", horizontal);
        LinearAxis vertical = Axis();
        vertical.SetProperty("type", "category");
        vertical.SetProperty("autorange", "reversed");
        vertical.SetProperty("showticklabels", false);
        vertical.SetProperty("ticks", string.Empty);
        vertical.SetProperty("showgrid", false);
        layout.SetProperty("yaxis", vertical);
        IEnumerable<DynamicObj.DynamicObj> notes = names.Select((name, row) => Object(
            ("text", $"{name}  <b>{labels[row]}</b>"), ("xref", "paper"), ("x", 0), ("xanchor", "left"),
            ("yref", "y"), ("y", row), ("yanchor", "bottom"), ("yshift", 8), ("showarrow", false), ("font", FontOf(13)),
            ("bgcolor", marks.Length > 0 ? "#FFFFFF" : "rgba(255,255,255,0.8)"), ("borderpad", 1)));
        layout.SetProperty("annotations", notes.Concat(marks.Select((mark, i) => Object(
            // At the foot, away from the buttons of the chart; bars in falling order are shortest there.
            ("text", markNames[i]), ("xref", "x"), ("x", mark), ("xanchor", "right"), ("xshift", -3), ("yref", "paper"), ("y", 0), ("yanchor", "bottom"),
            ("showarrow", false), ("font", FontOf(12, "#45505C")), ("bgcolor", "rgba(255,255,255,0.75)"), ("borderpad", 1)))).ToList());
        layout.SetProperty("shapes", marks.Select(mark => Object(
            ("type", "line"), ("xref", "x"), ("x0", mark), ("x1", mark), ("yref", "paper"), ("y0", 0), ("y1", 1),
            ("line", Object(("color", Ink), ("width", 1.6), ("dash", "5px,3px"))))).ToList());
        return Json(GenericChart.setLayout(layout, chart));
    }

    /// <summary>Numbers on a grid as colors with contour lines, and outlines over them, at equal scale both ways.</summary>
    /// <param name="titles">Titles of the horizontal axis, the vertical axis and the colors, with their units.</param>
    /// <param name="units">The same three units.</param>
    /// <param name="columns">Places along the horizontal axis.</param>
    /// <param name="rows">Places along the vertical axis.</param>
    /// <param name="values">The numbers, one array for each row; not a number for none.</param>
    /// <param name="bothSigns">Whether negative contour lines are broken.</param>
    /// <param name="scale">Where the colors begin and end, and the step of the contour lines.</param>
    /// <param name="ticks">Numbers beside the colors.</param>
    /// <param name="tickWords">Words for these numbers.</param>
    /// <param name="colors">The colors, evenly spaced.</param>
    /// <param name="toScale">Whether both axes share one scale.</param>
    /// <param name="lineNames">Name of each outline.</param>
    /// <param name="lineXs">Horizontal places of each outline; not a number lifts the pen.</param>
    /// <param name="lineYs">Vertical places of each outline.</param>
    /// <param name="lineColors">Color of each outline.</param>
    /// <param name="lineWidths">Width of each outline, in CSS pixels.</param>
    /// <param name="lineDashes">Dash pattern of each outline.</param>
    /// <param name="lineSeams">Whether each outline has a white seam.</param>
    /// <param name="lineFills">Fill of each outline; empty for none.</param>
    /// <returns>The figure as JSON with data, layout and config.</returns>
    public static string Map(
        string[] titles,
        string[] units,
        double[] columns,
        double[] rows,
        double[][] values,
        bool bothSigns,
        double[] scale,
        double[] ticks,
        string[] tickWords,
        string[] colors,
        bool toScale,
        string[] lineNames,
        double[][] lineXs,
        double[][] lineYs,
        string[] lineColors,
        double[] lineWidths,
        string[] lineDashes,
        bool[] lineSeams,
        string[] lineFills)
    {
        (double from, double to, double step) = (scale[0], scale[1], scale[2]);
        double?[][] numbers = [.. values.Select(Gaps)];
        object[][] steps = [.. colors.Select((color, i) => new object[] { i / (colors.Length - 1.0), color })];
        Trace map = Trace("contour");
        map.SetProperty("name", titles[2]);
        map.SetProperty("x", columns);
        map.SetProperty("y", rows);
        map.SetProperty("z", numbers);
        map.SetProperty("zauto", false);
        map.SetProperty("zmin", from);
        map.SetProperty("zmax", to);
        map.SetProperty("colorscale", steps);
        map.SetProperty("connectgaps", false);
        map.SetProperty("contours", Object(
            ("coloring", "heatmap"), ("showlines", true), ("start", bothSigns ? step : from + step), ("end", to), ("size", step),
            ("showlabels", false)));
        map.SetProperty("line", Object(("color", "rgba(28,37,48,0.55)"), ("width", 0.7), ("smoothing", 0.6)));
        map.SetProperty("hovertemplate", $"%{{x:.4g}} {units[0]}, %{{y:.4g}} {units[1]}: %{{z:.3g}} {units[2]}<extra></extra>");
        map.SetProperty("colorbar", Object(
            ("orientation", "h"), ("y", 1), ("yanchor", "bottom"), ("ypad", 24), ("xpad", 0), ("x", 0), ("xanchor", "left"), ("len", 1), ("thickness", 12),
            ("outlinewidth", 1), ("outlinecolor", "#5A6672"), ("ticks", "outside"), ("ticklen", 4), ("tickvals", ticks), ("ticktext", tickWords), ("tickfont", FontOf(12)), ("tickangle", 0)));
        var charts = new List<GenericChart> { GenericChart.ofTraceObject(false, map) };
        if (bothSigns)
        {
            Trace negative = Trace("contour");
            negative.SetProperty("name", "negative");
            negative.SetProperty("x", columns);
            negative.SetProperty("y", rows);
            negative.SetProperty("z", numbers);
            negative.SetProperty("showscale", false);
            negative.SetProperty("contours", Object(("coloring", "none"), ("start", from), ("end", -step), ("size", step)));
            negative.SetProperty("line", Object(("color", "rgba(28,37,48,0.75)"), ("width", 0.8), ("dash", "3px,2px"), ("smoothing", 0.6)));
            negative.SetProperty("hoverinfo", "skip");
            negative.SetProperty("showlegend", false);
            charts.Add(GenericChart.ofTraceObject(false, negative));
        }

        charts.AddRange(Outlines(lineNames, lineXs, lineYs, lineColors, lineWidths, lineDashes, lineSeams, lineFills));
        // Where nothing is to scale, a margin leaves room for what is drawn at the edge.
        double marginX = toScale ? 0 : 0.03 * (columns[^1] - columns[0]);
        double marginY = toScale ? 0 : 0.05 * (rows[^1] - rows[0]);
        Layout layout = ToScale(titles, [columns[0] - marginX, columns[^1] + marginX, rows[0] - marginY, rows[^1] + marginY], 86, 24, lineNames.Count(name => name.Length > 0), toScale);
        layout.SetProperty("plot_bgcolor", "#DDE2E7");
        return Json(GenericChart.setLayout(layout, CSharpChart.Combine(charts)));
    }

    /// <summary>Shapes at equal scale both ways.</summary>
    /// <param name="titles">Titles of the horizontal and the vertical axis, with their units.</param>
    /// <param name="frame">Left, right, lower and upper end of what is shown.</param>
    /// <param name="lineNames">Name of each outline.</param>
    /// <param name="lineXs">Horizontal places of each outline; not a number lifts the pen.</param>
    /// <param name="lineYs">Vertical places of each outline.</param>
    /// <param name="lineColors">Color of each outline.</param>
    /// <param name="lineWidths">Width of each outline, in CSS pixels.</param>
    /// <param name="lineDashes">Dash pattern of each outline.</param>
    /// <param name="lineSeams">Whether each outline has a white seam.</param>
    /// <param name="lineFills">Fill of each outline; empty for none.</param>
    /// <param name="placeNames">Words shown where a place is pointed at.</param>
    /// <param name="placeXs">Where, horizontally.</param>
    /// <param name="placeYs">Where, vertically.</param>
    /// <returns>The figure as JSON with data, layout and config.</returns>
    public static string Drawing(
        string[] titles,
        double[] frame,
        string[] lineNames,
        double[][] lineXs,
        double[][] lineYs,
        string[] lineColors,
        double[] lineWidths,
        string[] lineDashes,
        bool[] lineSeams,
        string[] lineFills,
        string[] placeNames,
        double[] placeXs,
        double[] placeYs)
    {
        List<GenericChart> charts = Outlines(lineNames, lineXs, lineYs, lineColors, lineWidths, lineDashes, lineSeams, lineFills);
        if (placeNames.Length > 0)
        {
            Trace places = Trace("scatter");
            places.SetProperty("mode", "markers");
            places.SetProperty("name", "places");
            places.SetProperty("x", placeXs);
            places.SetProperty("y", placeYs);
            places.SetProperty("text", placeNames);
            places.SetProperty("marker", Object(("size", 8), ("color", "rgba(0,0,0,0)")));
            places.SetProperty("hovertemplate", "%{text}<extra></extra>");
            places.SetProperty("showlegend", false);
            charts.Add(GenericChart.ofTraceObject(false, places));
        }

        Layout layout = ToScale(titles, frame, 28, 14, lineNames.Count(name => name.Length > 0));
        return Json(GenericChart.setLayout(layout, CSharpChart.Combine(charts)));
    }

    private static List<GenericChart> Outlines(
        string[] names, double[][] xs, double[][] ys, string[] colors, double[] widths, string[] dashes, bool[] seams, string[] fills)
    {
        var charts = new List<GenericChart>();
        for (int i = 0; i < names.Length; i++)
        {
            foreach (bool seam in (ReadOnlySpan<bool>)(seams[i] ? [true, false] : [false]))
            {
                Trace line = Trace("scatter");
                line.SetProperty("mode", "lines");
                line.SetProperty("name", names[i]);
                line.SetProperty("x", Gaps(xs[i]));
                line.SetProperty("y", Gaps(ys[i]));
                line.SetProperty("connectgaps", false);
                line.SetProperty("hoverinfo", "skip");
                line.SetProperty("showlegend", names[i].Length > 0 && !seam);
                line.SetProperty("line", seam
                    ? Object(("color", "rgba(255,255,255,0.85)"), ("width", widths[i] + 1.8), ("simplify", false))
                    : Object(("color", colors[i]), ("width", widths[i]), ("dash", dashes[i]), ("simplify", false)));
                if (fills[i].Length > 0 && !seam)
                {
                    line.SetProperty("fill", "toself");
                    line.SetProperty("fillcolor", fills[i]);
                }

                charts.Add(GenericChart.ofTraceObject(false, line));
            }
        }

        return charts;
    }

    /// <summary>A layout whose two axes share one scale, and whose height follows the width of the page.</summary>
    private static Layout ToScale(string[] titles, double[] frame, int top, int right, int keys, bool toScale = true)
    {
        const int Left = 52;
        
        // The key stands below; on a narrow page it has two names to a line.
        int bottom = 52 + (22 * ((keys + 1) / 2));
        double aspect = toScale ? (frame[3] - frame[2]) / (frame[1] - frame[0]) : FreeAspect;
        Layout layout = CommonLayout(top + bottom + (int)Math.Clamp(aspect * 640, 90, 560), top, bottom, Left, right);
        // Colors and key have their place in the margins: nothing is to push them.
        layout.SetProperty("margin", Object(("l", Left), ("r", right), ("t", top), ("b", bottom), ("autoexpand", false)));
        layout.SetProperty("meta", Object(("aspect", aspect)));
        layout.SetProperty("showlegend", keys > 0);
        layout.SetProperty("legend", Object(
            ("orientation", "h"), ("x", 0), ("xanchor", "left"), ("yref", "container"), ("y", 0), ("yanchor", "bottom"),
            ("font", FontOf(13)), ("itemclick", false), ("itemdoubleclick", false)));
        LinearAxis horizontal = Axis();
        horizontal.SetProperty("range", new[] { frame[0], frame[1] });
        horizontal.SetProperty("constrain", "domain");
        horizontal.SetProperty("constraintoward", "left");
        horizontal.SetProperty("tickangle", 0);
        horizontal.SetProperty("showgrid", false);
        horizontal.SetProperty("nticks", 9);
        layout.SetProperty("xaxis", horizontal);
        LinearAxis vertical = Axis();
        vertical.SetProperty("range", new[] { frame[2], frame[3] });
        if (toScale)
        {
            vertical.SetProperty("scaleanchor", "x");
            vertical.SetProperty("scaleratio", 1);
        }

        vertical.SetProperty("constrain", "domain");
        vertical.SetProperty("constraintoward", "top");
        vertical.SetProperty("showgrid", false);
        vertical.SetProperty("nticks", (int)Math.Clamp(12 * aspect, 3, 9));
        layout.SetProperty("yaxis", vertical);
        // All titles read across and stand at a fixed distance from the plot, however high it is.
        var notes = new List<DynamicObj.DynamicObj> { TitleAt(titles[1], "vertical-title", -44, 1, 3), TitleAt(titles[0], "horizontal-title", 0, 0, -44) };
        if (titles.Length > 2)
        {
            notes.Add(TitleAt(titles[2], "color-title", -44, 1, 60));
        }

        layout.SetProperty("annotations", notes);
        return layout;
    }

    private static DynamicObj.DynamicObj TitleAt(string text, string name, int right, int paper, int up) => Object(
        ("text", text), ("xref", "paper"), ("x", 0), ("xanchor", "left"), ("xshift", right),
        ("yref", "paper"), ("y", paper), ("yanchor", "bottom"), ("yshift", up), ("showarrow", false), ("font", FontOf(14)), ("name", name));

    private static Trace Trace(string type) => new(type);

    /// <summary>A color thinned, so that lines and grid show through.</summary>
    private static string Pale(string color)
        => string.Create(
            System.Globalization.CultureInfo.InvariantCulture,
            $"rgba({Convert.ToInt32(color[1..3], 16)},{Convert.ToInt32(color[3..5], 16)},{Convert.ToInt32(color[5..7], 16)},0.24)");

    private static double?[] Gaps(double[] numbers) => [.. numbers.Select(number => double.IsNaN(number) ? (double?)null : number)];

    private static Layout CommonLayout(int height, int top, int bottom, int left, int right)
    {
        var layout = new Layout();
        layout.SetProperty("height", height);
        layout.SetProperty("autosize", true);
        layout.SetProperty("margin", Object(("l", left), ("r", right), ("t", top), ("b", bottom)));
        layout.SetProperty("font", FontOf(13));
        layout.SetProperty("paper_bgcolor", "#FFFFFF");
        layout.SetProperty("plot_bgcolor", "#FFFFFF");
        layout.SetProperty("hovermode", "closest");
        layout.SetProperty("dragmode", false);
        layout.SetProperty("modebar", Object(("bgcolor", "rgba(255,255,255,0)"), ("color", "#5A6672"), ("activecolor", Ink)));
        return layout;
    }

    private static LinearAxis Axis()
    {
        var axis = new LinearAxis();
        axis.SetProperty("automargin", false);
        axis.SetProperty("showline", true);
        axis.SetProperty("linecolor", "#5A6672");
        axis.SetProperty("gridcolor", GridInk);
        axis.SetProperty("ticks", "outside");
        axis.SetProperty("ticklen", 4);
        axis.SetProperty("tickcolor", "#5A6672");
        axis.SetProperty("zeroline", false);
        axis.SetProperty("exponentformat", "SI");
        return axis;
    }

    private static string Json(GenericChart chart)
    {
        var config = new Config();
        config.SetProperty("responsive", true);
        config.SetProperty("displaylogo", false);
        config.SetProperty("displayModeBar", "hover");
        config.SetProperty("modeBarButtons", ModeBarButtons);
        return GenericChart.toJson(GenericChart.setConfig(config, chart));
    }

    private static StyleParam.DrawingStyle Dash(string pattern) => pattern switch
    {
        "solid" => StyleParam.DrawingStyle.Solid,
        "dash" => StyleParam.DrawingStyle.Dash,
        "dot" => StyleParam.DrawingStyle.Dot,
        "dashdot" => StyleParam.DrawingStyle.DashDot,
        "longdash" => StyleParam.DrawingStyle.LongDash,
        "longdashdot" => StyleParam.DrawingStyle.LongDashDot,
        _ => throw new ArgumentException($"No dash pattern is named {pattern}.", nameof(pattern)),
    };

    private static string AxisName(string letter, int panel)
        => panel == 0 ? letter : letter + (panel + 1).ToString(System.Globalization.CultureInfo.InvariantCulture);

    private static string AxisKey(string name, int panel) => AxisName(name, panel);

    private static DynamicObj.DynamicObj FontOf(int size, string color = Ink)
        => Object(("family", FontFamily), ("size", size), ("color", color));

    private static DynamicObj.DynamicObj Object(params ReadOnlySpan<(string Name, object Value)> members)
    {
        var made = new DynamicObj.DynamicObj();
        foreach ((string name, object value) in members)
        {
            made.SetProperty(name, value);
        }

        return made;
    }

    private static string Read(Assembly carrier, string resource)
    {
        using Stream stream = carrier.GetManifestResourceStream(resource)
            ?? throw new InvalidOperationException($"Plotly.NET no longer carries {resource}.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
