namespace Magrail.Charts;

/// <summary>
/// A magnet or a winding as flat facets, for drawing where a plane cuts it. Round surfaces have so many facets that no
/// eye tells the difference.
/// </summary>
internal sealed class Solid
{
    private const int RoundFacets = 96;

    private readonly List<SpacePoint[]> _facets = [];

    private Solid()
    {
    }

    public IEnumerable<SpacePoint> Corners => _facets.SelectMany(facet => facet);

    /// <summary>Mid-points of the wall in the plane that holds the magnet's own axis, for arrows: one, or two for a ring.</summary>
    public IReadOnlyList<SpacePoint> Hearts { get; private init; } = [];

    /// <summary>A magnet of a station at its place along the track.</summary>
    public static Solid Of(PlacedMagnet magnet, double station)
    {
        MagnetBody body = magnet.Body;
        (double P, double Q)[] outer;
        (double P, double Q)[]? inner = null;
        TrackAxis axis;
        double half;
        double wall = 0;
        switch (body)
        {
            case RingMagnet ring:
                outer = Circle(0.5 * ring.OuterDiameter.Meters);
                inner = Circle(0.5 * ring.InnerDiameter.Meters);
                (axis, half) = (ring.Axis, 0.5 * ring.Length.Meters);
                wall = 0.25 * (ring.OuterDiameter.Meters + ring.InnerDiameter.Meters);
                break;
            case DiscMagnet disc:
                outer = Circle(0.5 * disc.Diameter.Meters);
                (axis, half) = (disc.Axis, 0.5 * disc.Thickness.Meters);
                break;
            default:
                outer = Rounded(0.5 * body.SizeAcross.Meters, 0.5 * body.SizeUp.Meters, 0, 0, 1);
                (axis, half) = (TrackAxis.Along, 0.5 * body.SizeAlong.Meters);
                break;
        }

        (double sine, double cosine) = Math.SinCos(magnet.Roll.Radians);
        SpacePoint Place(SpacePoint p) => new(
            station + magnet.Along.Meters + p.X,
            magnet.Across.Meters + (p.Y * cosine) - (p.Z * sine),
            magnet.Up.Meters + (p.Y * sine) + (p.Z * cosine));
        SpacePoint[] hearts = wall == 0
            ? [default]
            : [.. new[] { 0, 0.25, 0.5, 0.75 }.Select(turn => OnAxis(axis, wall * Math.Cos(2 * Math.PI * turn), wall * Math.Sin(2 * Math.PI * turn), 0))];
        var solid = new Solid { Hearts = [.. hearts.Select(Place)] };
        solid.Add(outer, inner, axis, half, Place);
        return solid;
    }

    /// <summary>The winding of a coil whose middle stands at a place along the track.</summary>
    public static Solid Of(Coil coil, double position)
    {
        CoilFormer former = coil.Former;
        double build = coil.Build.Meters;
        var solid = new Solid();
        solid.Add(
            FormerOutline(former, build, 12),
            FormerOutline(former, 0, 12),
            coil.Axis == TrackAxis.Across ? TrackAxis.Across : TrackAxis.Along,
            0.5 * former.Length.Meters,
            p => p with { X = position + p.X });
        return solid;
    }

    /// <summary>The core's outline, or that of a turn which lies so much outside it; width first, then height.</summary>
    public static (double P, double Q)[] FormerOutline(CoilFormer former, double outside, int perCorner)
        => Rounded(0.5 * former.Width.Meters, 0.5 * former.Height.Meters, former.Corner.Meters, outside, perCorner);

    /// <summary>Closed and open lines where the plane cuts the solid, in the plane's own two coordinates.</summary>
    public List<List<(double U, double V)>> CutBy(MapPlane plane)
    {
        SpacePoint normal = plane.Normal;
        var segments = new List<((double U, double V) A, (double U, double V) B)>();
        Span<(double U, double V)> crossings = stackalloc (double, double)[2];
        foreach (SpacePoint[] facet in _facets)
        {
            int count = 0;
            for (int i = 0; i < facet.Length && count < 2; i++)
            {
                SpacePoint a = facet[i];
                SpacePoint b = facet[(i + 1) % facet.Length];
                double da = normal.Dot(a - plane.Origin);
                double db = normal.Dot(b - plane.Origin);
                if ((da >= 0) != (db >= 0))
                {
                    crossings[count++] = plane.Of(a + ((da / (da - db)) * (b - a)));
                }
            }

            if (count == 2)
            {
                segments.Add((crossings[0], crossings[1]));
            }
        }

        return Chained(segments);
    }

    private static SpacePoint OnAxis(TrackAxis axis, double p, double q, double w) => axis switch
    {
        TrackAxis.Along => new(w, p, q),
        TrackAxis.Across => new(p, w, q),
        _ => new(p, q, w),
    };

    private static (double P, double Q)[] Circle(double radius)
        => [.. Enumerable.Range(0, RoundFacets).Select(i => Math.SinCos(2 * Math.PI * i / RoundFacets)).Select(t => (radius * t.Cos, radius * t.Sin))];

    /// <summary>A rounded rectangle, moved outward; with a number of facets to each corner.</summary>
    private static (double P, double Q)[] Rounded(double halfP, double halfQ, double corner, double outside, int perCorner)
    {
        var points = new List<(double, double)>();
        double radius = corner + outside;
        for (int quarter = 0; quarter < 4; quarter++)
        {
            (double sideP, double sideQ) = quarter switch { 0 => (1.0, 1.0), 1 => (-1.0, 1.0), 2 => (-1.0, -1.0), _ => (1.0, -1.0) };
            double middleP = sideP * (halfP - corner);
            double middleQ = sideQ * (halfQ - corner);
            if (radius == 0 || perCorner == 1)
            {
                points.Add((middleP + (sideP * radius), middleQ + (sideQ * radius)));
                continue;
            }

            for (int i = 0; i <= perCorner; i++)
            {
                (double sine, double cosine) = Math.SinCos(0.5 * Math.PI * (quarter + (i / (double)perCorner)));
                points.Add((middleP + (radius * cosine), middleQ + (radius * sine)));
            }
        }

        return [.. points];
    }

    /// <summary>Joins pieces at common ends, so that corners are drawn as corners.</summary>
    private static List<List<(double U, double V)>> Chained(List<((double U, double V) A, (double U, double V) B)> segments)
    {
        const double Near = 1e-9;
        static bool Same((double U, double V) a, (double U, double V) b) => Math.Abs(a.U - b.U) < Near && Math.Abs(a.V - b.V) < Near;
        var chains = new List<List<(double U, double V)>>();
        segments.RemoveAll(segment => Same(segment.A, segment.B));
        while (segments.Count > 0)
        {
            List<(double U, double V)> chain = [segments[^1].A, segments[^1].B];
            segments.RemoveAt(segments.Count - 1);
            int next;
            while ((next = segments.FindIndex(segment => Same(segment.A, chain[^1]) || Same(segment.B, chain[^1]))) >= 0)
            {
                chain.Add(Same(segments[next].A, chain[^1]) ? segments[next].B : segments[next].A);
                segments.RemoveAt(next);
            }

            chains.Add(chain);
        }

        return chains;
    }

    private void Add((double P, double Q)[] outer, (double P, double Q)[]? inner, TrackAxis axis, double half, Func<SpacePoint, SpacePoint> place)
    {
        int last = outer.Length;
        SpacePoint At((double P, double Q) point, double w) => place(OnAxis(axis, point.P, point.Q, w));
        for (int i = 0; i < last; i++)
        {
            int j = (i + 1) % last;
            _facets.Add([At(outer[i], -half), At(outer[j], -half), At(outer[j], half), At(outer[i], half)]);
            if (inner is null)
            {
                continue;
            }

            // A former without rounded corners has four points where its winding has many.
            (double P, double Q) a = inner[i * inner.Length / last];
            (double P, double Q) b = inner[j * inner.Length / last];
            _facets.Add([At(a, -half), At(b, -half), At(b, half), At(a, half)]);
            foreach (double end in (ReadOnlySpan<double>)[-half, half])
            {
                _facets.Add([At(outer[i], end), At(outer[j], end), At(b, end), At(a, end)]);
            }
        }

        if (inner is null)
        {
            foreach (double end in (ReadOnlySpan<double>)[-half, half])
            {
                _facets.Add([.. outer.Select(point => At(point, end))]);
            }
        }
    }
}
