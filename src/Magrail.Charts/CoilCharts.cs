using System.Globalization;
using UnitsNet;

namespace Magrail.Charts;

/// <summary>Pictures of a coil: its winding turn by turn, and the forces on it over the magnets.</summary>
public static class CoilCharts
{
    /// <summary>More circles than this would be a grey patch.</summary>
    private const int MostTurnsDrawn = 5_000;

    /// <summary>More turns than this are not drawn one by one in the face view.</summary>
    private const int MostLayersDrawn = 60;

    /// <summary>A curve is shown as far as it stays above this share of its greatest size.</summary>
    private const double ShareShown = 1e-2;

    private const int CurvePoints = 600;

    private static readonly ChartAxis Displacement = new("coil's middle from the station's middle", "mm");

    /// <summary>
    /// The winding cut through, turn by turn and to scale, and beside it the coil's face. Each turn is a circle of the
    /// conductor inside a circle of the enamel; layers are deep and pale copper in turn.
    /// </summary>
    /// <param name="coil">The coil.</param>
    /// <returns>The drawing.</returns>
    /// <exception cref="ArgumentException">The coil has more turns than can be told apart in a drawing.</exception>
    public static Drawing CrossSection(Coil coil)
    {
        ArgumentNullException.ThrowIfNull(coil);
        if (coil.Turns > MostTurnsDrawn)
        {
            throw new ArgumentException(
                string.Create(CultureInfo.InvariantCulture, $"The coil has {coil.Turns} turns: up to {MostTurnsDrawn} can be drawn one by one."), nameof(coil));
        }

        string wire = string.Create(
            CultureInfo.InvariantCulture, $"wire {Show.Quantity(coil.Wire.BareDiameter)} bare, {Show.Quantity(coil.Wire.OverallDiameter)} overall");
        string wild = coil.Style.Pattern is WindingPattern.Wild or WindingPattern.WildToTheEdge
            ? " A wild winding has no order of its own: the turns are spread evenly over their space, as they are for the computation."
            : string.Empty;
        return new Drawing($"A coil of {Turns(coil.Turns)}", Section(coil), Face(coil))
        {
            Note = $"To scale, {wire}. The walls of the former are drawn freely.{wild}",
        };
    }

    /// <summary>Force per ampere of a coil over one station, against its place; the same numbers are its back-EMF per speed.</summary>
    /// <param name="curve">The curve.</param>
    /// <returns>The chart.</returns>
    public static LineChart Coupling(CouplingCurve curve)
    {
        ArgumentNullException.ThrowIfNull(curve);
        double reach = ReachOf(x => curve.At(x).NewtonsPerAmpere, curve.Reach.Meters);
        double[] x = Spread(reach);
        double[] k = [.. x.Select(at => curve.At(Length.FromMeters(at)).NewtonsPerAmpere)];
        var chart = new LineChart(
            "Force per ampere over one station",
            Displacement,
            new ChartPanel(new ChartAxis("force per ampere", "N/A"), LaunchCharts.Thinned("force per ampere", Millimeters(x), k)));
        return OverStation(chart, curve.Station, reach) with
        {
            Description = $"{chart.Description} Greatest {curve.Peak} at {Show.Quantity(curve.PeakAt)}; computed to within {curve.ErrorBound}.",
        };
    }

    /// <summary>Force per ampere of a coil along a whole track: the sum over its stations.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="track">The track.</param>
    /// <param name="from">Where to begin; a pitch before the first station where null.</param>
    /// <param name="to">Where to end; a pitch past the last station where null.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The end does not lie beyond the beginning, or the coil runs into a magnet.</exception>
    public static LineChart CouplingAlongTrack(Coil coil, Track track, Length? from = null, Length? to = null)
    {
        ArgumentNullException.ThrowIfNull(coil);
        ArgumentNullException.ThrowIfNull(track);
        double start = (from ?? track.Positions[0] - track.Pitch).Meters;
        double end = (to ?? track.Positions[^1] + track.Pitch).Meters;
        if (!(end > start))
        {
            throw new ArgumentException($"The chart would end at {Show.Number(end)} m and begin at {Show.Number(start)} m: it must end beyond its beginning.", nameof(to));
        }

        var curves = new Dictionary<MagnetStation, CouplingCurve>();
        foreach (MagnetStation station in track.Stations.Where(station => !curves.ContainsKey(station)))
        {
            curves[station] = CouplingCurve.Of(coil, station);
        }

        double[] positions = [.. track.Positions.Select(position => position.Meters)];
        double reach = curves.Values.Max(curve => curve.Reach.Meters);
        int count = (int)Math.Clamp(Math.Ceiling((end - start) / track.Pitch.Meters * 40), 200, 20_000);
        double[] x = [.. Enumerable.Range(0, count + 1).Select(i => start + ((end - start) * i / count))];
        double[] k = new double[x.Length];
        double bound = 0;
        for (int i = 0; i < x.Length; i++)
        {
            double within = 0;
            for (int station = FirstWithin(positions, x[i] - reach); station < positions.Length && positions[station] <= x[i] + reach; station++)
            {
                CouplingCurve curve = curves[track.Stations[station]];
                int sign = track.Polarities[station] == Polarity.Positive ? 1 : -1;
                k[i] += sign * curve.At(Length.FromMeters(x[i] - positions[station])).NewtonsPerAmpere;
                within += curve.ErrorBound.NewtonsPerAmpere;
            }

            bound = Math.Max(bound, within);
        }

        var chart = new LineChart(
            "Force per ampere along the track",
            new ChartAxis("position of the coil's middle", "m"),
            new ChartPanel(new ChartAxis("force per ampere", "N/A"), LaunchCharts.Thinned("force per ampere", x, k)));
        return LaunchCharts.WithRibbon(chart, track, Length.FromMeters(start), Length.FromMeters(end)) with
        {
            Description = $"{chart.Description} Computed to within {ForceConstant.FromNewtonsPerAmpere(bound)}.",
        };
    }

    /// <summary>
    /// Sideways force per ampere on a coil that runs off its path, against its place over one station: across the gap and
    /// upward. A component that stays below a thousandth of the other is left out.
    /// </summary>
    /// <param name="force">The force.</param>
    /// <returns>The chart.</returns>
    public static LineChart LateralForce(LateralForce force)
    {
        ArgumentNullException.ThrowIfNull(force);
        double size = force.Station.Magnets.Max(magnet => Math.Abs(magnet.Along.Meters) + (0.5 * magnet.Body.SizeAlong.Meters)) + force.Coil.ExtentAlong.Meters;
        double reach = ReachOf(at => Math.Max(Math.Abs(force.AcrossAt(at).NewtonsPerAmpere), Math.Abs(force.UpAt(at).NewtonsPerAmpere)), 6 * size);
        double[] x = Spread(reach);
        double[] across = [.. x.Select(at => force.AcrossAt(Length.FromMeters(at)).NewtonsPerAmpere)];
        double[] up = [.. x.Select(at => force.UpAt(Length.FromMeters(at)).NewtonsPerAmpere)];
        double least = 1e-3 * Math.Max(across.Max(Math.Abs), up.Max(Math.Abs));
        var series = new List<ChartSeries>();
        if (across.Max(Math.Abs) > least || least == 0)
        {
            series.Add(LaunchCharts.Thinned("across the gap", Millimeters(x), across) with { Tone = ChartTone.Ink });
        }

        if (up.Max(Math.Abs) > least)
        {
            series.Add(LaunchCharts.Thinned("upward", Millimeters(x), up) with { Tone = ChartTone.Rust });
        }

        string which = series.Count == 1 ? $" {series[0].Name}" : string.Empty;
        var chart = new LineChart(
            $"Sideways force of a coil {Show.Quantity(force.OffsetAcross)} across and {Show.Quantity(force.OffsetUp)} up off its path",
            Displacement,
            new ChartPanel(new ChartAxis($"sideways force per ampere{which}", "N/A"), series));
        return OverStation(chart, force.Station, reach) with
        {
            Description = $"{chart.Description} Computed to within {force.ErrorBound}.",
        };
    }

    private static DrawingView Section(Coil coil)
    {
        IReadOnlyList<TurnPosition> turns = coil.TurnPositions();
        double half = 500 * coil.Former.Length.Meters;
        double build = 1e3 * coil.Build.Meters;
        double edge = Math.Max(build, 1e3 * (coil.Former.Depth?.Meters ?? coil.Build.Meters));
        double wall = 0.06 * Math.Max(2 * half, edge);
        int corners = turns.Count <= 600 ? 32 : 16;
        double bare = 500 * coil.Wire.BareDiameter.Meters;
        double overall = 500 * coil.Wire.OverallDiameter.Meters;
        bool layered = coil.Style.Pattern is WindingPattern.Layered or WindingPattern.Orthocyclic;
        string row = layered ? "layers" : "rows";
        var outlines = new List<ChartOutline>
        {
            new(
                "former",
                [-half - wall, -half - wall, half + wall, half + wall, half, half, -half, -half, -half - wall],
                [edge, -wall, -wall, edge, edge, 0, 0, edge, edge])
            { Fill = ChartFill.Middle },
            Circles(string.Empty, turns, overall, corners) with { Pen = ChartPen.Fine, Fill = ChartFill.Light },
            Circles($"odd {row}", [.. turns.Where(turn => turn.Layer % 2 == 1)], bare, corners) with { Fill = ChartFill.Copper },
        };
        if (turns.Any(turn => turn.Layer % 2 == 0))
        {
            outlines.Add(Circles($"even {row}", [.. turns.Where(turn => turn.Layer % 2 == 0)], bare, corners) with { Fill = ChartFill.PaleCopper });
        }

        int[] counts = [.. turns.GroupBy(turn => turn.Layer).OrderBy(group => group.Key).Select(group => group.Count())];
        string inLayers = string.Create(CultureInfo.InvariantCulture, $"{counts.Length} {row}, {Turns(counts[0])} in the first and {counts[^1]} in the last");
        string words = string.Create(
            CultureInfo.InvariantCulture,
            $"The winding cut through: {Turns(coil.Turns)} of wire {Show.Quantity(coil.Wire.BareDiameter)} bare and {Show.Quantity(coil.Wire.OverallDiameter)} overall in {inLayers}, {Show.Quantity(coil.Build)} high between flanges {Show.Quantity(coil.Former.Length)} apart{(coil.Former.Depth is { } depth ? $" and {Show.Quantity(depth)} high" : string.Empty)}, {Pattern(coil)}.");
        return new DrawingView("Cut through the winding", words, new ChartAxis("along the coil's axis", "mm"), new ChartAxis("depth above the core", "mm"), outlines)
        {
            Places =
            [
                .. turns.Select((turn, i) => new DrawingPlace(
                    string.Create(CultureInfo.InvariantCulture, $"turn {i + 1}, {row[..^1]} {turn.Layer}"), 1e3 * turn.Axial.Meters, 1e3 * turn.Depth.Meters)),
            ],
            Facts =
            [
                ("style", Pattern(coil)),
                .. turns.GroupBy(turn => turn.Layer).OrderBy(group => group.Key).Select(group => (
                    string.Create(CultureInfo.InvariantCulture, $"{row[..^1]} {group.Key}"),
                    string.Create(CultureInfo.InvariantCulture, $"{Turns(group.Count())} at {Show.Quantity(group.First().Depth)} above the core"))),
            ],
        };
    }

    private static DrawingView Face(Coil coil)
    {
        CoilFormer former = coil.Former;
        ChartOutline Outline(string name, double outside)
        {
            (double P, double Q)[] points = Solid.FormerOutline(former, outside, 16);
            return new ChartOutline(name, [.. points.Append(points[0]).Select(point => 1e3 * point.P)], [.. points.Append(points[0]).Select(point => 1e3 * point.Q)]);
        }

        var outlines = new List<ChartOutline> { Outline("winding", coil.Build.Meters) with { Fill = ChartFill.PaleCopper } };
        double[] depths = [.. coil.TurnPositions().Select(turn => turn.Depth.Meters).Distinct().Order()];
        if (depths.Length <= MostLayersDrawn)
        {
            outlines.AddRange(depths.Select(depth => Outline(string.Empty, depth) with { Pen = ChartPen.Fine }));
        }

        outlines.Add(Outline("core of the former", 0) with { Fill = ChartFill.Middle });
        string words = $"The coil's face: {Show.Quantity(coil.OuterWidth)} wide and {Show.Quantity(coil.OuterHeight)} high outside, the core {Show.Quantity(former.Width)} by {Show.Quantity(former.Height)} with corners of {Show.Quantity(former.Corner)}.";
        bool flat = coil.Axis == TrackAxis.Across;
        return new DrawingView("The coil's face", words, new ChartAxis(flat ? "along the track" : "across the track", "mm"), new ChartAxis("height", "mm"), outlines)
        {
            Facts =
            [
                ("outside", $"{Show.Quantity(coil.OuterWidth)} wide, {Show.Quantity(coil.OuterHeight)} high"),
                ("core", $"{Show.Quantity(former.Width)} wide, {Show.Quantity(former.Height)} high, corners {Show.Quantity(former.Corner)}"),
                ("build", Show.Quantity(coil.Build)),
                ("thickness", Show.Quantity(former.Length)),
            ],
        };
    }

    private static string Turns(int count) => count == 1 ? "1 turn" : string.Create(CultureInfo.InvariantCulture, $"{count} turns");

    private static string Pattern(Coil coil) => coil.Style.Pattern switch
    {
        WindingPattern.Layered => "wound in layers, wire upon wire",
        WindingPattern.Orthocyclic => "wound orthocyclically, each turn in the groove of two below",
        WindingPattern.Wild => "wound wild",
        _ => "wound wild up to the flange edge",
    };

    private static ChartOutline Circles(string name, IReadOnlyList<TurnPosition> turns, double radius, int corners)
    {
        var x = new List<double>();
        var y = new List<double>();
        foreach (TurnPosition turn in turns)
        {
            if (x.Count > 0)
            {
                x.Add(double.NaN);
                y.Add(double.NaN);
            }

            for (int i = 0; i <= corners; i++)
            {
                (double sine, double cosine) = Math.SinCos(2 * Math.PI * (i % corners) / corners);
                x.Add((1e3 * turn.Axial.Meters) + (radius * cosine));
                y.Add((1e3 * turn.Depth.Meters) + (radius * sine));
            }
        }

        return new ChartOutline(name, x, y) { Pen = ChartPen.Fine };
    }

    private static LineChart OverStation(LineChart chart, MagnetStation station, double reach)
    {
        ChartBand[] bands =
        [
            .. station.Magnets
                .Select(magnet => (From: magnet.Along.Meters - (0.5 * magnet.Body.SizeAlong.Meters), To: magnet.Along.Meters + (0.5 * magnet.Body.SizeAlong.Meters)))
                .Distinct()
                .Select(band => new ChartBand(string.Empty, 1e3 * Math.Max(-reach, band.From), 1e3 * Math.Min(reach, band.To), ChartShade.Dark)),
        ];
        return chart with { Ribbon = bands, Note = "The ribbon is the magnets of the station, to scale." };
    }

    /// <summary>How far from the middle a curve is worth showing, m.</summary>
    private static double ReachOf(Func<Length, double> curve, double most)
    {
        double[] x = [.. Enumerable.Range(0, CurvePoints + 1).Select(i => most * i / CurvePoints)];
        double[] size = [.. x.Select(at => Math.Max(Math.Abs(curve(Length.FromMeters(at))), Math.Abs(curve(Length.FromMeters(-at)))))];
        double least = ShareShown * size.Max();
        int last = Array.FindLastIndex(size, each => each > least);
        return last <= 0 ? most : Math.Min(most, 1.05 * x[last]);
    }

    private static double[] Spread(double reach)
        => [.. Enumerable.Range(0, CurvePoints + 1).Select(i => reach * ((2.0 * i / CurvePoints) - 1))];

    private static double[] Millimeters(double[] meters) => [.. meters.Select(each => 1e3 * each)];

    private static int FirstWithin(double[] ascending, double least)
    {
        int at = Array.BinarySearch(ascending, least);
        return at < 0 ? ~at : at;
    }
}
