using Magrail.Numerics;
using Magrail.Sources;

namespace Magrail.Tests.Coupling;

/// <summary>Laws of fields and forces, held against any field given as a function: each returns by how much it fails, as a part of what it sums.</summary>
internal static class LayoutLaws
{
    /// <summary>The flux out of a sphere, as a part of all the flux through it.</summary>
    public static double FluxOutOfSphere(Func<Vector3D, Vector3D> b, Vector3D center, double radius)
    {
        const int Around = 96;
        GaussNodes heights = GaussNodes.OfOrder(48);
        double net = 0;
        double gross = 0;
        for (int i = 0; i < heights.Weights.Length; i++)
        {
            double up = heights.Abscissas[i];
            double level = Math.Sqrt((1 - up) * (1 + up));
            for (int k = 0; k < Around; k++)
            {
                (double sine, double cosine) = Math.SinCos(2 * Math.PI * (k + 0.25) / Around);
                var normal = new Vector3D(level * cosine, level * sine, up);
                double flux = heights.Weights[i] * normal.Dot(b(center + (radius * normal)));
                net += flux;
                gross += Math.Abs(flux);
            }
        }

        return gross == 0 ? 0 : Math.Abs(net) / gross;
    }

    /// <summary>The flux out of a cylinder about z that may cut a ring about z: radii and heights at which B may jump are given.</summary>
    public static double FluxOutOfCylinder(Func<Vector3D, Vector3D> b, double radius, double low, double high, double[] radii, double[] heights)
    {
        GaussNodes nodes = GaussNodes.OfOrder(32);
        double net = 0;
        double gross = 0;
        void Add(double flux)
        {
            net += flux;
            gross += Math.Abs(flux);
        }

        foreach ((double from, double to) in Pieces(0, radius, radii))
        {
            for (int i = 0; i < nodes.Weights.Length; i++)
            {
                double rho = (0.5 * (from + to)) + (0.5 * (to - from) * nodes.Abscissas[i]);
                double area = Math.PI * rho * (to - from) * nodes.Weights[i];
                Add(area * b(new(rho, 0, high)).Z);
                Add(-area * b(new(rho, 0, low)).Z);
            }
        }

        foreach ((double from, double to) in Pieces(low, high, heights))
        {
            for (int i = 0; i < nodes.Weights.Length; i++)
            {
                double z = (0.5 * (from + to)) + (0.5 * (to - from) * nodes.Abscissas[i]);
                Add(Math.PI * radius * (to - from) * nodes.Weights[i] * b(new(radius, 0, z)).X);
            }
        }

        return Math.Abs(net) / gross;
    }

    /// <summary>The circulation around a circle, as a part of the path's ∫ |B·dl|.</summary>
    public static double CirculationOfCircle(Func<Vector3D, Vector3D> b, IReadOnlyList<(Vector3D Place, Vector3D Tangent)> circle)
    {
        double net = 0;
        double gross = 0;
        foreach ((Vector3D place, Vector3D tangent) in circle)
        {
            double part = tangent.Dot(b(place));
            net += part;
            gross += Math.Abs(part);
        }

        return gross == 0 ? 0 : Math.Abs(net) / gross;
    }

    public static (Vector3D Place, Vector3D Tangent)[] Circle(Vector3D center, double radius, Vector3D normal)
    {
        const int Points = 1024;
        Vector3D axis = 1 / normal.Length * normal;
        Vector3D other = Math.Abs(axis.X) < 0.7 ? new(1, 0, 0) : new(0, 1, 0);
        Vector3D u = other - (other.Dot(axis) * axis);
        u = 1 / u.Length * u;
        var v = new Vector3D((axis.Y * u.Z) - (axis.Z * u.Y), (axis.Z * u.X) - (axis.X * u.Z), (axis.X * u.Y) - (axis.Y * u.X));
        return [.. Enumerable.Range(0, Points).Select(k =>
        {
            (double sine, double cosine) = Math.SinCos(2 * Math.PI * k / Points);
            return (center + (radius * ((cosine * u) + (sine * v))), (cosine * v) - (sine * u));
        })];
    }

    /// <summary>How far a field is from that of the bodies' dipoles at a point, as a part of the sum of their sizes.</summary>
    public static double FromDipoles(Func<Vector3D, Vector3D> b, StationSi station, Vector3D point)
    {
        Vector3D sum = default;
        double size = 0;
        foreach (BodySi body in station.Bodies)
        {
            Vector3D axis = BodyField.Direction(body);
            Vector3D r = point - body.Center;
            double length = r.Length;
            Vector3D unit = 1 / length * r;
            double strength = body.Remanence * Volume(body) / (4 * Math.PI * Math.Pow(length, 3));
            sum += strength * ((3 * unit.Dot(axis) * unit) - axis);
            size += Math.Abs(strength);
        }

        return (b(point) - sum).Length / size;
    }

    /// <summary>The force on all magnets in a field, Σ (J·n) B dA / μ₀ over their surfaces.</summary>
    public static Vector3D ForceOnMagnets(StationSi station, Func<Vector3D, Vector3D> field, double clearance)
    {
        Vector3D sum = default;
        foreach (BodySi body in station.Bodies)
        {
            foreach ((Vector3D place, double charge) in PoleSurface(body, clearance))
            {
                sum += charge / PhysicalConstants.VacuumPermeability * field(place);
            }
        }

        return sum;
    }

    /// <summary>How far a point is from a body's surface: above zero outside, below zero inside.</summary>
    public static double Gap(in BodySi body, Vector3D point)
    {
        Vector3D p = body.ToOwn(point - body.Center);
        if (body.Shape == BodyShape.Block)
        {
            var beyond = new Vector3D(Math.Abs(p.X) - body.HalfAlong, Math.Abs(p.Y) - body.HalfAcross, Math.Abs(p.Z) - body.HalfUp);
            double most = Math.Max(beyond.X, Math.Max(beyond.Y, beyond.Z));
            return most < 0 ? most : new Vector3D(Math.Max(0, beyond.X), Math.Max(0, beyond.Y), Math.Max(0, beyond.Z)).Length;
        }

        (double u, double v, double w) = Own(body, p);
        double rho = Math.Sqrt((u * u) + (v * v));
        double side = Math.Max(rho - body.OuterRadius, body.InnerRadius > 0 ? body.InnerRadius - rho : double.NegativeInfinity);
        double end = Math.Abs(w) - body.HalfLength;
        double greater = Math.Max(side, end);
        return greater < 0 ? greater : Math.Sqrt(Math.Pow(Math.Max(0, side), 2) + Math.Pow(Math.Max(0, end), 2));
    }

    /// <summary>The least distance of a point from any surface of a station, inside or outside.</summary>
    public static double Gap(StationSi station, Vector3D point)
    {
        double least = double.PositiveInfinity;
        foreach (BodySi body in station.Bodies)
        {
            double gap = Gap(body, point);
            least = Math.Abs(gap) < Math.Abs(least) ? gap : least;
        }

        return least;
    }

    private static double Volume(in BodySi body) => body.Shape == BodyShape.Block
        ? 8 * body.HalfAlong * body.HalfAcross * body.HalfUp
        : 2 * Math.PI * body.HalfLength * ((body.OuterRadius * body.OuterRadius) - (body.InnerRadius * body.InnerRadius));

    /// <summary>Pieces of a body's surface with their pole charge J·n dA, fine enough for a field whose sources are a clearance away.</summary>
    private static IEnumerable<(Vector3D Place, double Charge)> PoleSurface(BodySi body, double clearance)
    {
        double j = body.Remanence;
        if (body.Shape == BodyShape.Block)
        {
            (double a, double b, double c) = body.Magnetization switch
            {
                TrackAxis.Along => (body.HalfAcross, body.HalfUp, body.HalfAlong),
                TrackAxis.Across => (body.HalfAlong, body.HalfUp, body.HalfAcross),
                _ => (body.HalfAlong, body.HalfAcross, body.HalfUp),
            };
            GaussNodes first = Rule(a, clearance);
            GaussNodes second = Rule(b, clearance);
            foreach (int pole in new[] { -1, 1 })
            {
                for (int i = 0; i < first.Weights.Length; i++)
                {
                    for (int k = 0; k < second.Weights.Length; k++)
                    {
                        (double s, double t, double n) = (a * first.Abscissas[i], b * second.Abscissas[k], pole * c);
                        Vector3D own = body.Magnetization switch
                        {
                            TrackAxis.Along => new(n, s, t),
                            TrackAxis.Across => new(s, n, t),
                            _ => new(s, t, n),
                        };
                        yield return (body.Center + body.FromOwn(own), pole * j * a * b * first.Weights[i] * second.Weights[k]);
                    }
                }
            }

            yield break;
        }

        int around = 16 + (2 * (int)Math.Ceiling(18 / Math.Log(1 + (clearance / body.OuterRadius)) / 2));
        if (body.Magnetization == body.Axis)
        {
            double middle = 0.5 * (body.OuterRadius + body.InnerRadius);
            double half = 0.5 * (body.OuterRadius - body.InnerRadius);
            GaussNodes radii = Rule(half, clearance);
            foreach (int pole in new[] { -1, 1 })
            {
                for (int i = 0; i < radii.Weights.Length; i++)
                {
                    double r = middle + (half * radii.Abscissas[i]);
                    for (int k = 0; k < around; k++)
                    {
                        (double sine, double cosine) = Math.SinCos(2 * Math.PI * k / around);
                        yield return (
                            body.Center + body.FromOwn(FromAxis(body, r * cosine, r * sine, pole * body.HalfLength)),
                            pole * j * half * radii.Weights[i] * r * 2 * Math.PI / around);
                    }
                }
            }

            yield break;
        }

        // Magnetized across its axis: charge J·n on the outer side and on the bore's.
        Vector3D direction = BodyField.Direction(body with { Roll = 0 });
        (double du, double dv, _) = Own(body, direction);
        GaussNodes lengths = Rule(body.HalfLength, clearance);
        foreach ((double r, int side) in new[] { (body.OuterRadius, 1), (body.InnerRadius, -1) })
        {
            for (int i = 0; r > 0 && i < lengths.Weights.Length; i++)
            {
                for (int k = 0; k < around; k++)
                {
                    (double sine, double cosine) = Math.SinCos(2 * Math.PI * k / around);
                    double charge = side * j * ((du * cosine) + (dv * sine));
                    yield return (
                        body.Center + body.FromOwn(FromAxis(body, r * cosine, r * sine, body.HalfLength * lengths.Abscissas[i])),
                        charge * body.HalfLength * lengths.Weights[i] * r * 2 * Math.PI / around);
                }
            }
        }
    }

    /// <summary>Gauss's rule for nine digits on a stretch whose field has its sources a clearance away.</summary>
    private static GaussNodes Rule(double half, double clearance)
    {
        double s = clearance / half;
        return GaussNodes.OfOrder(Math.Clamp((int)Math.Ceiling(2 + (9 * 1.151 / Math.Log(s + Math.Sqrt(1 + (s * s))))), 4, 60));
    }

    private static (double U, double V, double W) Own(in BodySi body, Vector3D p) => body.Axis switch
    {
        TrackAxis.Along => (p.Y, p.Z, p.X),
        TrackAxis.Across => (p.X, p.Z, p.Y),
        _ => (p.X, p.Y, p.Z),
    };

    private static Vector3D FromAxis(in BodySi body, double u, double v, double w) => body.Axis switch
    {
        TrackAxis.Along => new(w, u, v),
        TrackAxis.Across => new(u, w, v),
        _ => new(u, v, w),
    };

    private static IEnumerable<(double From, double To)> Pieces(double low, double high, double[] breaks)
    {
        // Graded toward each break: a corner of the magnet lies near.
        var borders = new SortedSet<double> { low, high };
        foreach (double each in breaks)
        {
            foreach (double grade in new[] { 0, 0.03, 0.1, 0.3 })
            {
                foreach (double place in new[] { each - (grade * (high - low)), each + (grade * (high - low)) })
                {
                    if (place > low && place < high)
                    {
                        borders.Add(place);
                    }
                }
            }
        }

        double[] sorted = [.. borders];
        return sorted.Zip(sorted.Skip(1));
    }
}
