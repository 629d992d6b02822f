using System.Globalization;
using UnitsNet;

namespace Magrail.Charts;

/// <summary>Pictures of magnets and their field: one call each, with axis titles, units and a text that says the same.</summary>
public static class FieldCharts
{
    /// <summary>About so many points make a map.</summary>
    private const double MapPoints = 12_000;

    /// <summary>About so many needles lie on a map.</summary>
    private const double MapNeedles = 230;

    /// <summary>A needle is left out where less than this share of the field lies in the plane.</summary>
    private const double NeedleShare = 0.2;

    /// <summary>Stations are left out of a map that change it by less than this share: a tenth of what a color can show.</summary>
    private const double FarShare = 3e-4;

    /// <summary>So many stations are shown where nothing else is asked for.</summary>
    private const int StationsShown = 4;

    /// <summary>Flux density of one station on a plane; the station stands at x = 0.</summary>
    /// <param name="station">The station.</param>
    /// <param name="plane">The plane, and the part of it to show.</param>
    /// <param name="component">What to show of the flux density; its magnitude, with needles along the field, by default.</param>
    /// <param name="coil">A coil to be drawn where the plane cuts it; none by default.</param>
    /// <param name="coilAt">x of the coil's middle; zero by default.</param>
    /// <param name="limit">Where the colors end, to compare maps; a round number that nearly no point exceeds by default.</param>
    /// <returns>The map.</returns>
    /// <exception cref="ArgumentException">The part to be shown has no width or no height.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The limit is not above zero.</exception>
    public static HeatMap FieldMap(
        MagnetStation station,
        MapPlane plane,
        FieldComponent component = FieldComponent.Magnitude,
        Coil? coil = null,
        Length? coilAt = null,
        MagneticField? limit = null)
    {
        ArgumentNullException.ThrowIfNull(station);
        return FieldMap(Track.Of(new StationPlace(station, Length.Zero)), plane, component, coil, coilAt, limit);
    }

    /// <summary>
    /// Flux density of a whole track on a plane, with the outlines of all magnets that the plane cuts. All stations count
    /// for the field, but for those so far away that no color could show it; where the plane says nothing else, up to four stations in the middle of the track are shown.
    /// </summary>
    /// <param name="track">The track.</param>
    /// <param name="plane">The plane, and the part of it to show.</param>
    /// <param name="component">What to show of the flux density; its magnitude, with needles along the field, by default.</param>
    /// <param name="coil">A coil to be drawn where the plane cuts it; none by default.</param>
    /// <param name="coilAt">x of the coil's middle; the middle of the stations shown by default.</param>
    /// <param name="limit">Where the colors end, to compare maps; a round number that nearly no point exceeds by default.</param>
    /// <returns>The map.</returns>
    /// <remarks>
    /// Points that lie in back iron are left blank, since the field there is not computed. On sharp edges the field of a
    /// uniformly magnetized body is infinite; the colors end at a round number below the greatest sizes on the map, and the
    /// text says so.
    /// </remarks>
    /// <exception cref="ArgumentException">The part to be shown has no width or no height.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The limit is not above zero.</exception>
    public static HeatMap FieldMap(
        Track track,
        MapPlane plane,
        FieldComponent component = FieldComponent.Magnitude,
        Coil? coil = null,
        Length? coilAt = null,
        MagneticField? limit = null)
    {
        ArgumentNullException.ThrowIfNull(track);
        ArgumentNullException.ThrowIfNull(plane);
        Solid? winding = null;
        if (coil is not null)
        {
            (int first, int last) = Frame.Shown(track, plane);
            winding = Solid.Of(coil, coilAt?.Meters ?? (0.5 * (track.Positions[first].Meters + track.Positions[last].Meters)));
        }

        Frame frame = Frame.Of(track, plane, winding);
        double cell = Math.Sqrt(frame.Width * frame.Height / MapPoints);
        double[] columns = Steps(frame.Left, frame.Right, (int)Math.Clamp(Math.Round(frame.Width / cell), 40, 400));
        double[] rows = Steps(frame.Bottom, frame.Top, (int)Math.Clamp(Math.Round(frame.Height / cell), 30, 300));
        double? iron = IronFace(track);
        Track near = Near(track, plane, frame);
        double[] Row(double v) =>
        [
            .. columns.Select(u =>
            {
                SpacePoint p = plane.At(u, v);
                return Math.Abs(p.Y) > iron ? double.NaN : Part(near, p, component);
            }),
        ];
        double[][] values = [.. rows.AsParallel().AsOrdered().Select(Row)];

        var outlines = new List<ChartOutline>();
        if (component == FieldComponent.Magnitude)
        {
            outlines.Add(Needles(near, plane, frame, iron));
        }

        int cut = AddMagnets(outlines, frame);
        if (winding is not null)
        {
            (double[] x, double[] y) = Pieces(winding.CutBy(plane));
            outlines.Add(new ChartOutline("winding of the coil", x, y) { Pen = ChartPen.Dashed });
        }

        if (iron is { } face)
        {
            outlines.AddRange(IronLines(plane, frame, face));
        }

        var map = new HeatMap(
            $"{Title(component)} at {plane.Place}",
            new ChartAxis(plane.HorizontalTitle, "mm"),
            new ChartAxis(plane.VerticalTitle, "mm"),
            new ChartAxis(Quantity(component), "T"),
            [.. columns.Select(u => 1e3 * u)],
            [.. rows.Select(v => 1e3 * v)],
            values)
        {
            Outlines = outlines,
        };
        map = map with { PartsAtZero = component != FieldComponent.Magnitude, Limit = limit?.Teslas ?? map.Limit };
        string words = map.Description;
        if (cut > 0)
        {
            words += string.Create(CultureInfo.InvariantCulture, $" The plane cuts {cut} magnets.");
        }

        return map with { Description = words, Note = NoteOf(map, component, cut, iron is not null) };
    }

    /// <summary>Which way the magnets of a track stand: each magnet that the plane cuts, with an arrow from its south to its north pole.</summary>
    /// <param name="track">The track.</param>
    /// <param name="plane">The plane, and the part of it to show; the level plane in the middle of the path where null.</param>
    /// <returns>The drawing.</returns>
    /// <exception cref="ArgumentException">The plane cuts no magnet, or the part to be shown has no width or no height.</exception>
    public static Drawing MagnetOrientation(Track track, MapPlane? plane = null)
    {
        ArgumentNullException.ThrowIfNull(track);
        MapPlane seen = plane ?? MapPlane.AtHeight(Length.Zero);
        Frame frame = Frame.Of(track, seen);
        var dark = new List<List<(double U, double V)>>();
        var light = new List<List<(double U, double V)>>();
        var arrows = new List<List<(double U, double V)>>();
        var facts = new List<(string, string)>();
        var places = new List<DrawingPlace>();
        for (int i = frame.FirstStation; i <= frame.LastStation; i++)
        {
            bool positive = track.Polarities[i] == Polarity.Positive;
            foreach (PlacedMagnet magnet in track.Stations[i].Magnets)
            {
                Solid solid = Solid.Of(magnet, track.Positions[i].Meters);
                List<List<(double U, double V)>> cut = solid.CutBy(seen);
                if (cut.Count == 0)
                {
                    continue;
                }

                (positive ? dark : light).AddRange(cut);
                SpacePoint pole = PoleDirection(magnet, positive);
                double size = 0.32 * Math.Min(Math.Min(magnet.Body.SizeAlong.Meters, magnet.Body.SizeAcross.Meters), magnet.Body.SizeUp.Meters);
                foreach (SpacePoint heart in solid.Hearts)
                {
                    // A ring has four: those that lie in the plane are shown.
                    if (solid.Hearts.Count > 1 && Math.Abs(seen.Normal.Dot(heart - seen.Origin)) > size)
                    {
                        continue;
                    }

                    double length = solid.Hearts.Count > 1 ? 0.3 * Wall((RingMagnet)magnet.Body) : size;
                    (double u, double v) = seen.Of(heart);
                    arrows.AddRange(Arrow(u, v, pole.Dot(seen.First), pole.Dot(seen.Second), pole.Dot(seen.Normal), length));
                    places.Add(new DrawingPlace(string.Create(CultureInfo.InvariantCulture, $"station {i + 1}: north pole {Toward(pole)}"), 1e3 * u, 1e3 * v));
                }
            }

            facts.Add((
                string.Create(CultureInfo.InvariantCulture, $"station {i + 1} at {Show.Quantity(track.Positions[i])}"),
                string.Join("; ", track.Stations[i].Magnets.Select(magnet => $"north pole {Toward(PoleDirection(magnet, positive))}").Distinct())));
        }

        if (dark.Count + light.Count == 0)
        {
            throw new ArgumentException($"The plane at {seen.Place} cuts no magnet: there is nothing to show.", nameof(plane));
        }

        ChartOutline Shape(string name, List<List<(double U, double V)>> pieces, ChartPen pen, ChartFill fill)
        {
            (double[] x, double[] y) = Pieces(pieces);
            return new ChartOutline(name, x, y) { Pen = pen, Fill = fill };
        }

        const string Words = "Shades are the polarity of a station; an arrow runs from south to north pole, a dot in a circle is one toward you, a cross one away from you.";
        int shown = frame.LastStation - frame.FirstStation + 1;
        string words = string.Create(
            CultureInfo.InvariantCulture,
            $"Stations {frame.FirstStation + 1} to {frame.LastStation + 1} of {track.StationCount}, cut at {seen.Place}: {facts[0].Item1}, {facts[0].Item2}{(shown > 1 ? $"; {facts[1].Item1}, {facts[1].Item2}" : string.Empty)}.");
        var shapes = new List<ChartOutline>();
        if (dark.Count > 0)
        {
            shapes.Add(Shape("positive", dark, ChartPen.Plain, ChartFill.Middle));
        }

        if (light.Count > 0)
        {
            shapes.Add(Shape("negative", light, ChartPen.Plain, ChartFill.Light));
        }

        shapes.Add(Shape("south to north", arrows, ChartPen.Bold, ChartFill.None));
        return new Drawing(
            "How the magnets stand",
            new DrawingView("cut", words, new ChartAxis(seen.HorizontalTitle, "mm"), new ChartAxis(seen.VerticalTitle, "mm"), shapes) { Facts = facts, Places = places })
        {
            Note = shown < track.StationCount
                ? string.Create(CultureInfo.InvariantCulture, $"Shown are {shown} of {track.StationCount} stations. {Words}")
                : Words,
        };
    }

    /// <summary>
    /// The stations that count for a map: all but those so far from it that the rest differs from the whole by less than
    /// <see cref="FarShare"/> of the greatest field, at points all round the edge of the map. The field of far magnets is harmonic
    /// there, so that inside the map it is no greater than on its edge.
    /// </summary>
    private static Track Near(Track track, MapPlane plane, Frame frame)
    {
        const int Side = 6;
        SpacePoint[] edge =
        [
            .. Enumerable.Range(0, Side + 1).Select(i => i / (double)Side).SelectMany(share => new[]
            {
                plane.At(frame.Left + (share * frame.Width), frame.Bottom),
                plane.At(frame.Left + (share * frame.Width), frame.Top),
                plane.At(frame.Left, frame.Bottom + (share * frame.Height)),
                plane.At(frame.Right, frame.Bottom + (share * frame.Height)),
            }),
        ];
        double from = edge.Min(point => point.X);
        double to = edge.Max(point => point.X);
        int first = Enumerable.Range(0, track.StationCount).FirstOrDefault(i => track.Positions[i].Meters >= from, track.StationCount - 1);
        int last = Enumerable.Range(0, track.StationCount).LastOrDefault(i => track.Positions[i].Meters <= to);
        FluxDensity[]? whole = null;
        for (int more = 4; first - more > 0 || last + more < track.StationCount - 1; more *= 2)
        {
            whole ??= [.. edge.Select(point => Field(track, point))];
            int begin = Math.Max(0, first - more);
            int end = Math.Min(track.StationCount - 1, last + more);
            Track part = Track.Of([.. Enumerable.Range(begin, end - begin + 1).Select(i => new StationPlace(track.Stations[i], track.Positions[i], track.Polarities[i]))]);
            double most = whole.Max(b => b.Magnitude.Teslas);
            double missing = whole.Zip(edge, (b, point) =>
            {
                FluxDensity c = Field(part, point);
                return Math.Max(Math.Abs(b.Along.Teslas - c.Along.Teslas), Math.Max(Math.Abs(b.Across.Teslas - c.Across.Teslas), Math.Abs(b.Up.Teslas - c.Up.Teslas)));
            }).Max();
            if (missing <= FarShare * most)
            {
                return part;
            }
        }

        return track;
    }

    private static double Wall(RingMagnet ring) => 0.5 * Math.Min(ring.OuterDiameter.Meters - ring.InnerDiameter.Meters, ring.Length.Meters);

    private static double Part(Track track, SpacePoint p, FieldComponent component)
    {
        FluxDensity b = Field(track, p);
        return component switch
        {
            FieldComponent.Along => b.Along.Teslas,
            FieldComponent.Across => b.Across.Teslas,
            FieldComponent.Up => b.Up.Teslas,
            _ => b.Magnitude.Teslas,
        };
    }

    private static FluxDensity Field(Track track, SpacePoint p)
        => track.FluxDensityAt(Length.FromMeters(p.X), Length.FromMeters(p.Y), Length.FromMeters(p.Z));

    /// <summary>Both plates' inner faces are the outer faces of the magnets; beyond them nothing is computed.</summary>
    private static double? IronFace(Track track)
        => track.Stations[0] is { BackIron: not null, Gap: Length gap } station
            ? (0.5 * gap.Meters) + station.Magnets[0].Body.SizeAcross.Meters
            : null;

    private static IEnumerable<ChartOutline> IronLines(MapPlane plane, Frame frame, double face)
    {
        // y = ±face is a line of the plane, unless the plane runs along the plates.
        (double a, double b) = (plane.First.Y, plane.Second.Y);
        foreach (double side in (double[])[-face, face])
        {
            double rest = side - plane.Origin.Y;
            if (Math.Abs(b) > 1e-9 && Math.Abs(b) >= Math.Abs(a))
            {
                double[] x = [frame.Left, frame.Right];
                yield return Line(x, [.. x.Select(u => (rest - (a * u)) / b)], side < 0);
            }
            else if (Math.Abs(a) > 1e-9)
            {
                double[] y = [frame.Bottom, frame.Top];
                yield return Line([.. y.Select(v => (rest - (b * v)) / a)], y, side < 0);
            }
        }

        static ChartOutline Line(double[] x, double[] y, bool named)
            => new(named ? "face of the back iron" : string.Empty, [.. x.Select(u => 1e3 * u)], [.. y.Select(v => 1e3 * v)]) { Pen = ChartPen.Bold };
    }

    private static int AddMagnets(List<ChartOutline> outlines, Frame frame)
    {
        var cuts = new List<List<(double U, double V)>>();
        int count = 0;
        foreach (Solid solid in frame.Solids)
        {
            List<List<(double U, double V)>> cut = solid.CutBy(frame.Plane);
            bool seen = cut.SelectMany(chain => chain).Any(point => point.U > frame.Left && point.U < frame.Right && point.V > frame.Bottom && point.V < frame.Top);
            if (seen)
            {
                count++;
                cuts.AddRange(cut);
            }
        }

        if (count > 0)
        {
            (double[] x, double[] y) = Pieces(cuts);
            outlines.Add(new ChartOutline("magnets", x, y) { Pen = ChartPen.Bold });
        }

        return count;
    }

    private static ChartOutline Needles(Track track, MapPlane plane, Frame frame, double? iron)
    {
        double spacing = Math.Sqrt(frame.Width * frame.Height / MapNeedles);
        int across = (int)Math.Max(1, Math.Round(frame.Width / spacing));
        int up = (int)Math.Max(1, Math.Round(frame.Height / spacing));
        var needles = new List<List<(double U, double V)>>();
        for (int row = 0; row < up; row++)
        {
            for (int column = 0; column < across; column++)
            {
                double u = frame.Left + ((column + 0.5) * frame.Width / across);
                double v = frame.Bottom + ((row + 0.5) * frame.Height / up);
                SpacePoint p = plane.At(u, v);
                if (Math.Abs(p.Y) > iron - (0.33 * spacing))
                {
                    continue;
                }

                FluxDensity b = Field(track, p);
                SpacePoint field = new(b.Along.Teslas, b.Across.Teslas, b.Up.Teslas);
                double first = field.Dot(plane.First);
                double second = field.Dot(plane.Second);
                double inPlane = Math.Sqrt((first * first) + (second * second));
                if (inPlane > NeedleShare * field.Size)
                {
                    needles.AddRange(Arrow(u, v, first / inPlane, second / inPlane, 0, 0.33 * spacing));
                }
            }
        }

        (double[] x, double[] y) = Pieces(needles);
        return new ChartOutline(string.Empty, x, y) { Pen = ChartPen.Needle };
    }

    /// <summary>An arrow about a point; where it stands on the plane, a dot in a circle or a cross.</summary>
    internal static IEnumerable<List<(double U, double V)>> Arrow(double u, double v, double first, double second, double normal, double half)
    {
        if (Math.Abs(normal) > 0.9)
        {
            if (normal > 0)
            {
                yield return Ring(u, v, 0.6 * half);
                yield return Ring(u, v, 0.12 * half);
            }
            else
            {
                double arm = 0.5 * half;
                yield return [(u - arm, v - arm), (u + arm, v + arm)];
                yield return [(u - arm, v + arm), (u + arm, v - arm)];
            }

            yield break;
        }

        (double U, double V) tip = (u + (half * first), v + (half * second));
        (double U, double V) Barb(double angle)
        {
            (double sine, double cosine) = Math.SinCos(angle);
            double length = 0.7 * half;
            return (tip.U - (length * ((first * cosine) - (second * sine))), tip.V - (length * ((second * cosine) + (first * sine))));
        }

        yield return [(u - (half * first), v - (half * second)), tip];
        yield return [Barb(0.45), tip, Barb(-0.45)];
    }

    private static List<(double U, double V)> Ring(double u, double v, double radius)
        => [.. Enumerable.Range(0, 25).Select(i => Math.SinCos(2 * Math.PI * i / 24)).Select(t => (u + (radius * t.Cos), v + (radius * t.Sin)))];

    internal static SpacePoint PoleDirection(PlacedMagnet magnet, bool positive)
    {
        double sign = (magnet.Polarity == Polarity.Positive) == positive ? 1 : -1;
        (double sine, double cosine) = Math.SinCos(magnet.Roll.Radians);
        return magnet.Body.Magnetization switch
        {
            TrackAxis.Along => new(sign, 0, 0),
            TrackAxis.Across => new(0, sign * cosine, sign * sine),
            _ => new(0, -sign * sine, sign * cosine),
        };
    }

    private static string Toward(SpacePoint direction)
    {
        (double size, string name)[] parts = [(direction.X, "x"), (direction.Y, "y"), (direction.Z, "z")];
        (double most, string axis) = parts.MaxBy(part => Math.Abs(part.size));
        return Math.Abs(most) > 0.999 ? $"toward {(most > 0 ? "+" : "\u2212")}{axis}" : $"toward {direction}";
    }

    /// <summary>Millimeters of all pieces, with the pen lifted between them.</summary>
    private static (double[] X, double[] Y) Pieces(List<List<(double U, double V)>> pieces)
    {
        var x = new List<double>();
        var y = new List<double>();
        foreach (List<(double U, double V)> piece in pieces)
        {
            if (x.Count > 0)
            {
                x.Add(double.NaN);
                y.Add(double.NaN);
            }

            x.AddRange(piece.Select(point => 1e3 * point.U));
            y.AddRange(piece.Select(point => 1e3 * point.V));
        }

        return ([.. x], [.. y]);
    }

    private static double[] Steps(double from, double to, int count)
        => [.. Enumerable.Range(0, count + 1).Select(i => Math.Round(from + ((to - from) * i / count), 12))];

    private static string Title(FieldComponent component) => component switch
    {
        FieldComponent.Along => "Field along the track",
        FieldComponent.Across => "Field across the gap",
        FieldComponent.Up => "Upward field",
        _ => "The field",
    };

    private static string Quantity(FieldComponent component) => component switch
    {
        FieldComponent.Along => "flux density along the track",
        FieldComponent.Across => "flux density across the gap",
        FieldComponent.Up => "flux density upward",
        _ => "flux density",
    };

    private static string NoteOf(HeatMap map, FieldComponent component, int cut, bool iron)
    {
        var note = new List<string>();
        if (component == FieldComponent.Magnitude)
        {
            note.Add("Needles point along the part of the field that lies in the plane; there is none where the field stands nearly upright on it.");
        }
        else
        {
            note.Add("Broken contour lines are negative.");
        }

        note.Add(string.Create(CultureInfo.InvariantCulture, $"A contour line every {Show.Number(map.ContourStep)} T."));
        double most = Math.Max(map.Greatest, -map.Least);
        if (most > map.Limit * (1 + 1e-9))
        {
            note.Add(string.Create(CultureInfo.InvariantCulture, $"Colors and lines end at {Show.Number(map.Limit)} T; the greatest size at a point of this map is {Show.Number(most)} T."));
        }

        if (cut > 0)
        {
            note.Add("On the sharp edges of a magnet the field of the model is infinite, so no map shows its greatest value; a real edge is worn and saturates.");
        }

        if (iron)
        {
            note.Add("Grey is back iron, where nothing is computed.");
        }

        return string.Join(' ', note);
    }

    /// <summary>The part of a plane that is shown, and the magnets that may be seen in it.</summary>
    private sealed record Frame(
        MapPlane Plane, double Left, double Right, double Bottom, double Top, int FirstStation, int LastStation, IReadOnlyList<Solid> Solids)
    {
        public double Width => Right - Left;

        public double Height => Top - Bottom;

        public static Frame Of(Track track, MapPlane plane, Solid? winding = null)
        {
            (int first, int last) = Shown(track, plane);
            List<Solid> solids = Of(track, first, last);
            (double U, double V)[] corners = [.. solids.Concat(winding is null ? [] : [winding]).SelectMany(solid => solid.Corners).Select(plane.Of)];
            double wide = corners.Max(c => c.U) - corners.Min(c => c.U);
            double high = corners.Max(c => c.V) - corners.Min(c => c.V);
            double margin = first == last ? 0.2 * Math.Max(wide, high) : 0.2 * Math.Min(wide, high);
            double left = plane.From?.Meters ?? (corners.Min(c => c.U) - margin);
            double right = plane.To?.Meters ?? (corners.Max(c => c.U) + margin);
            double bottom = plane.Bottom?.Meters ?? (corners.Min(c => c.V) - margin);
            double top = plane.Top?.Meters ?? (corners.Max(c => c.V) + margin);
            if (!(right > left) || !(top > bottom) || !double.IsFinite(right - left) || !double.IsFinite(top - bottom))
            {
                throw new ArgumentException(
                    $"The map would reach from {Show.Number(1e3 * left)} mm to {Show.Number(1e3 * right)} mm, and from {Show.Number(1e3 * bottom)} mm up to {Show.Number(1e3 * top)} mm: each end must lie beyond its beginning.",
                    nameof(plane));
            }

            // A stated stretch may show more stations than the middle ones.
            int from = Math.Max(0, first - 40);
            int to = Math.Min(track.StationCount - 1, last + 40);
            return new Frame(plane, left, right, bottom, top, first, last, Of(track, from, to));
        }

        private static List<Solid> Of(Track track, int first, int last)
            => [.. Enumerable.Range(first, last - first + 1).SelectMany(i => track.Stations[i].Magnets.Select(magnet => Solid.Of(magnet, track.Positions[i].Meters)))];

        /// <summary>The stations inside the stated stretch, or up to four in the middle.</summary>
        public static (int First, int Last) Shown(Track track, MapPlane plane)
        {
            double from = double.NegativeInfinity;
            double to = double.PositiveInfinity;
            if (plane.First == new SpacePoint(1, 0, 0))
            {
                from = plane.From?.Meters - plane.Origin.X ?? from;
                to = plane.To?.Meters - plane.Origin.X ?? to;
            }
            else
            {
                // Across the track, the stations nearest to the plane count.
                int near = Enumerable.Range(0, track.StationCount).MinBy(i => Math.Abs(track.Positions[i].Meters - plane.Origin.X));
                return plane.First.X == 0 && plane.Second.X == 0
                    ? (near, near)
                    : (Math.Max(0, near - 1), Math.Min(track.StationCount - 1, near + 1));
            }

            int[] within = [.. Enumerable.Range(0, track.StationCount).Where(i => track.Positions[i].Meters >= from && track.Positions[i].Meters <= to)];
            if (within.Length == 0)
            {
                int near = Enumerable.Range(0, track.StationCount).MinBy(i => Math.Abs(track.Positions[i].Meters - (double.IsFinite(from) ? from : to)));
                return (near, near);
            }

            if (double.IsFinite(from) && double.IsFinite(to))
            {
                return (within[0], within[^1]);
            }

            int skip = double.IsFinite(from) ? 0 : double.IsFinite(to) ? Math.Max(0, within.Length - StationsShown) : Math.Max(0, (within.Length - StationsShown) / 2);
            return (within[skip], within[Math.Min(within.Length - 1, skip + StationsShown - 1)]);
        }
    }
}
