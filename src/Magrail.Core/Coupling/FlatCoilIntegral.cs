using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Magrail.Numerics;
using static Magrail.Numerics.GradedRule;

namespace Magrail;

/// <summary>
/// The force constant of a flat coil (axis y) over blocks magnetized along y by direct evaluation of K = ∮ By nx dl, averaged
/// over the turns: the x component of dl × B summed along each turn, nx being the outward normal of the turn's outline.
/// </summary>
/// <remarks>
/// <para>
/// With U = x ∓ a, V = z ∓ c, W = y ∓ b measured from a corner of the block, 4π By/J is a signed sum of
/// A = atan(UV/(WR)) over the eight corners. Integrating by parts, with Lu = artanh(U/R) and Lv = artanh(V/R),
/// </para>
/// <para>∫ A dW = W A - V Lu - U Lv,</para>
/// <para>∭ A dU dV dW = UVW A + U(W² - V²) Lu/2 + V(W² - U²) Lv/2 + R(U² + V² - 2W²)/6.</para>
/// <para>
/// The first averages over the axial position everywhere; the second gives the straight legs along z over the whole winding
/// section with no quadrature at all. The corners are integrated over depth and angle, with nodes graded about the
/// places where a turn passes over an edge of the magnet: there the integrand has features as narrow as the clearance.
/// </para>
/// <para>
/// The coil is its own mirror image in x, and A is odd in U. So one function of one edge of the block does for both halves
/// of the coil and both edges: with <see cref="Edge"/> = E(t), K(d) = E(d + a) - E(d - a), d measured from the block's middle.
/// </para>
/// </remarks>
internal static class FlatCoilIntegral
{
    private const double FourPi = 4 * Math.PI;

    /// <summary>Squares of lengths, m², below which a logarithm's argument is held: its factor vanishes there.</summary>
    private const double Floor = 1e-50;

    [ThreadStatic]
    private static Workspace? workspace;

    /// <summary>K per turn and per tesla, in m, with the coil's middle at displacement d from the station's origin.</summary>
    /// <param name="coil">The coil; its blocks' turns weigh their parts.</param>
    /// <param name="station">The station, remanences in T.</param>
    /// <param name="d">Displacement along x, m.</param>
    /// <param name="digits">Decimal digits asked of the quadrature in the corners.</param>
    public static double PerTurn(in CoilSi coil, StationSi station, double d, double digits)
    {
        double sum = 0;
        for (int i = 0; i < station.Bodies.Length; i++)
        {
            ReadOnlySpan<BodySi> body = station.Bodies.Slice(i, 1);
            double place = d - body[0].Center.X;
            sum += Edge(coil, body, place + body[0].HalfAlong, digits) - Edge(coil, body, place - body[0].HalfAlong, digits);
        }

        return sum;
    }

    /// <summary>
    /// E(t): the part of K, in m per turn, that belongs to the edges of blocks at the distance t behind the coil's middle; an even
    /// function of t. It knows of the blocks' widths, heights and places across: blocks of any length along the track share it.
    /// </summary>
    public static double Edge(in CoilSi coil, ReadOnlySpan<BodySi> bodies, double t, double digits)
    {
        double turns = coil.Turns;
        double sum = 0;
        if (coil.Full.Turns > 0)
        {
            sum += coil.Full.Turns / turns * EdgeOfBlock(coil, coil.Full, bodies, t, digits);
        }

        if (coil.Last.Turns > 0)
        {
            sum += coil.Last.Turns / turns * EdgeOfBlock(coil, coil.Last, bodies, t, digits);
        }

        return sum;
    }

    private static double EdgeOfBlock(
        in CoilSi coil, in WindingBlockSi block, ReadOnlySpan<BodySi> bodies, double t, double digits)
    {
        bool symmetric = block.AxialFrom == -block.AxialTo;
        double sum = 0;
        for (int i = 0; i < bodies.Length; i++)
        {
            BodySi body = bodies[i];
            if (body.Magnetization != TrackAxis.Across)
            {
                throw new NotSupportedException("The closed forms of a flat coil are those of blocks magnetized across the gap.");
            }

            // A winding that is symmetric about y = 0 sees the two magnets of a pair alike.
            double factor = 1;
            if (symmetric && body.Center.Y != 0)
            {
                BodySi mirrored = body with { Center = body.Center with { Y = -body.Center.Y } };
                if (bodies[..i].Contains(mirrored))
                {
                    continue;
                }

                factor = bodies[(i + 1)..].Contains(mirrored) ? 2 : 1;
            }

            sum += factor * body.Remanence * (HalfCoil(coil, block, body, t, digits) + HalfCoil(coil, block, body, -t, digits));
        }

        double section = (block.OuterDepth - block.InnerDepth) * (block.AxialTo - block.AxialFrom);
        return sum / (FourPi * section);
    }

    /// <summary>The integral of Σ± A nx over the half of the winding at x above 0, with U = x + t.</summary>
    private static double HalfCoil(in CoilSi coil, in WindingBlockSi block, in BodySi body, double t, double digits)
    {
        double half = coil.HalfHeight - coil.Corner;
        double sum = 0;
        if (half > 0)
        {
            double inner = t + coil.HalfWidth + block.InnerDepth;
            double outer = t + coil.HalfWidth + block.OuterDepth;
            Vector256<double> planes = Planes(outer, half, block, body) - Planes(inner, half, block, body);
            sum = Vector256.Sum(planes);
        }

        double x1 = -(t + coil.HalfWidth - coil.Corner);
        double upper = Corner(coil.Corner, block, body, x1, body.Center.Z - half, digits);
        double lower = body.Center.Z == 0 ? upper : Corner(coil.Corner, block, body, x1, -body.Center.Z - half, digits);
        return sum + upper + lower;
    }

    /// <summary>
    /// Distances from the two charged faces to the two ends of the winding; a sum over them with <see cref="Signs"/> is the field of
    /// both faces integrated over the axial position.
    /// </summary>
    private static Vector256<double> AxialLimits(in WindingBlockSi block, in BodySi body)
    {
        double to = block.AxialTo - body.Center.Y;
        double from = block.AxialFrom - body.Center.Y;
        return Vector256.Create(to - body.HalfAcross, from - body.HalfAcross, to + body.HalfAcross, from + body.HalfAcross);
    }

    /// <summary>The upper face bears the charge +J, the lower -J.</summary>
    private static Vector256<double> Signs => Vector256.Create(1.0, -1, -1, 1);

    /// <summary>The signed terms of ∭ A dU dV dW at one u, over the height of a leg and both edges in z.</summary>
    private static Vector256<double> Planes(double u, double half, in WindingBlockSi block, in BodySi body)
    {
        Vector256<double> w = AxialLimits(block, body);
        double shift = body.Center.Z;
        Vector256<double> sum;
        if (shift == 0)
        {
            // The form is even in V.
            sum = 2 * (Triple(u, half + body.HalfUp, w) - Triple(u, half - body.HalfUp, w));
        }
        else
        {
            sum = Triple(u, half - shift + body.HalfUp, w) - Triple(u, -half - shift + body.HalfUp, w)
                - Triple(u, half - shift - body.HalfUp, w) + Triple(u, -half - shift - body.HalfUp, w);
        }

        return Signs * sum;
    }

    /// <summary>∭ atan(UV/(WR)) dU dV dW at four W.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static Vector256<double> Triple(double u, double v, Vector256<double> w)
    {
        double uu = u * u;
        double vv = v * v;
        Vector256<double> ww = w * w;
        Vector256<double> r2 = Vector256.Create(uu + vv) + ww;
        Vector256<double> r = Vector256.Sqrt(r2);
        Vector256<double> size = Vector256.Abs(w);
        Vector256<double> angle = VectorMath.Atan2(Vector256.Create(u * v), size * r);
        Vector256<double> logU = LogOfSize(Math.Abs(u), r, Vector256.Create(vv) + ww);
        Vector256<double> logV = LogOfSize(Math.Abs(v), r, Vector256.Create(uu) + ww);
        return (u * v * size * angle)
            + (0.25 * Math.Abs(u) * (ww - Vector256.Create(vv)) * logU)
            + (0.25 * Math.Abs(v) * (ww - Vector256.Create(uu)) * logV)
            + (r * (r2 - (3 * ww)) / 6);
    }

    /// <summary>2 artanh(|U|/R) = ln((|U| + R)²/q), q = R² - U².</summary>
    private static Vector256<double> LogOfSize(double size, Vector256<double> r, Vector256<double> q)
    {
        Vector256<double> p = Vector256.Create(size) + r;
        return Vector256.Log(p * p / Vector256.Max(q, Vector256.Create(Floor)));
    }

    /// <summary>
    /// One corner; x and z from its center, the edge of the magnet at x = x1, U = x - x1, and the middle of the magnet at z = zc.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static double Corner(double radius, in WindingBlockSi block, in BodySi body, double x1, double zc, double digits)
    {
        double least = radius + block.InnerDepth;
        double greatest = radius + block.OuterDepth;
        double z1 = zc - body.HalfUp;
        double z2 = zc + body.HalfUp;
        Vector256<double> w = AxialLimits(block, body);
        Vector256<double> sizes = Vector256.Abs(w);
        double clearance = Math.Max(
            1e-4 * greatest, Math.Min(Math.Min(sizes[0], sizes[1]), Math.Min(sizes[2], sizes[3])));

        Workspace room = workspace ??= new Workspace();
        Span<double> radii = stackalloc double[Capacity];
        Span<double> shares = stackalloc double[Capacity];

        // A turn meets an edge of the magnet at the end of its arc, or a corner of the magnet on its way.
        Span<Feature> features =
        [
            new(x1, clearance), new(z1, clearance), new(z2, clearance),
            new(x1 > 0 && z1 > 0 ? Math.Sqrt((x1 * x1) + (z1 * z1)) : double.MaxValue, clearance),
            new(x1 > 0 && z2 > 0 ? Math.Sqrt((x1 * x1) + (z2 * z2)) : double.MaxValue, clearance),
        ];
        // A feature is weaker once the angle is integrated: measured, two digits fewer would do.
        int circles = Build(least, greatest, features, digits - 1, radii, shares);
        Span<Feature> crossings = stackalloc Feature[6];
        int count = 0;
        for (int i = 0; i < circles; i++)
        {
            double r = radii[i];
            room.Reserve(count + Capacity);

            // An edge is met at an angle and, beyond the end of the arc, at the mirrored one.
            crossings[0] = Crossing(x1 / r, clearance / r);
            crossings[1] = crossings[0] with { At = -crossings[0].At };
            crossings[2] = Turned(z1 / r, clearance / r);
            crossings[3] = crossings[2] with { At = Math.PI - crossings[2].At };
            crossings[4] = Turned(z2 / r, clearance / r);
            crossings[5] = crossings[4] with { At = Math.PI - crossings[4].At };
            Span<double> weights = room.Weight.AsSpan(count);
            int angles = Build(0, 0.5 * Math.PI, crossings, digits + 1, room.Angle.AsSpan(count), weights);
            room.Radius.AsSpan(count, angles).Fill(r);
            double share = r * shares[i];
            for (int j = 0; j < angles; j++)
            {
                weights[j] *= share;
            }

            count += angles;
        }

        return room.Sum(count, x1, z1, z2, w);
    }

    /// <summary>Where cos φ = x ± iy: the place of a feature in the angle, and its width.</summary>
    private static Feature Crossing(double x, double y)
    {
        double yy = y * y;
        double far = Math.Sqrt(((x + 1) * (x + 1)) + yy);
        double near = Math.Sqrt(((x - 1) * (x - 1)) + yy);
        double axis = 0.5 * (far + near);
        double angle = Math.Acos(Math.Clamp(0.5 * (far - near), -1, 1));
        return new(angle, Math.Log(axis + Math.Sqrt(Math.Max(0, (axis * axis) - 1))) + 1e-12);
    }

    /// <summary>Where sin φ = x ± iy.</summary>
    private static Feature Turned(double x, double y)
    {
        Feature crossing = Crossing(x, y);
        return crossing with { At = (0.5 * Math.PI) - crossing.At };
    }

    /// <summary>
    /// Σ± ∫ A dW at four points: both charged faces, both ends of the winding, both edges in z, one edge in x.
    /// </summary>
    /// <remarks>
    /// Angles are taken in pairs of V by the difference of two tangents, logarithms of one factor as one logarithm of a product.
    /// </remarks>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> Field(
        Vector256<double> u, Vector256<double> v1, Vector256<double> v2, double w0, double w1, double w2, double w3)
    {
        Vector256<double> uu = u * u;
        Vector256<double> vv1 = v1 * v1;
        Vector256<double> vv2 = v2 * v2;
        Vector256<double> sizeU = Vector256.Abs(u);
        Face face0 = new(u, uu, sizeU, v1, vv1, v2, vv2, w0);
        Face face1 = new(u, uu, sizeU, v1, vv1, v2, vv2, w1);
        Face face2 = new(u, uu, sizeU, v1, vv1, v2, vv2, w2);
        Face face3 = new(u, uu, sizeU, v1, vv1, v2, vv2, w3);
        Vector256<double> angles = face0.Angle - face1.Angle - face2.Angle + face3.Angle;

        // Lu = ½ ln((|U| + R)²/(V² + W²)) with the sign of U.
        Vector256<double> logs1 = Vector256.Log(face0.AlongU1 * face3.AlongU1 / (face1.AlongU1 * face2.AlongU1));
        Vector256<double> logs2 = Vector256.Log(face0.AlongU2 * face3.AlongU2 / (face1.AlongU2 * face2.AlongU2));
        Vector256<double> alongU = 0.5 * ((v1 * logs1) - (v2 * logs2));
        Vector256<double> negative = Vector256.LessThan(u, Vector256<double>.Zero);
        alongU = Vector256.ConditionalSelect(negative, -alongU, alongU);

        // Lv(V1) - Lv(V2) = ln((V1 + R1)/(V2 + R2)), with V + R = q/(R - V) where V is negative, q = U² + W².
        Vector256<double> alongV = u * Vector256.Log(
            face0.AlongVOver * face3.AlongVOver * face1.AlongVUnder * face2.AlongVUnder
            / (face0.AlongVUnder * face3.AlongVUnder * face1.AlongVOver * face2.AlongVOver));
        return angles - alongU - alongV;
    }

    /// <summary>The terms that belong to one distance W from a charged face.</summary>
    private readonly ref struct Face
    {
        public readonly Vector256<double> Angle;
        public readonly Vector256<double> AlongU1;
        public readonly Vector256<double> AlongU2;
        public readonly Vector256<double> AlongVOver;
        public readonly Vector256<double> AlongVUnder;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Face(
            Vector256<double> u,
            Vector256<double> uu,
            Vector256<double> sizeU,
            Vector256<double> v1,
            Vector256<double> vv1,
            Vector256<double> v2,
            Vector256<double> vv2,
            double distance)
        {
            Vector256<double> w = Vector256.Create(distance);
            Vector256<double> ww = w * w;
            Vector256<double> floor = Vector256.Create(Floor);
            Vector256<double> q = Vector256.Max(uu + ww, floor);
            Vector256<double> q1 = Vector256.Max(vv1 + ww, floor);
            Vector256<double> q2 = Vector256.Max(vv2 + ww, floor);
            Vector256<double> r1 = Vector256.Sqrt(q1 + uu);
            Vector256<double> r2 = Vector256.Sqrt(q2 + uu);

            // W (atan(UV1/(WR1)) - atan(UV2/(WR2))).
            Angle = w * VectorMath.Atan2(u * w * ((v1 * r2) - (v2 * r1)), (ww * r1 * r2) + (uu * v1 * v2));
            Vector256<double> p1 = sizeU + r1;
            Vector256<double> p2 = sizeU + r2;
            AlongU1 = p1 * p1 / q1;
            AlongU2 = p2 * p2 / q2;
            Vector256<double> s1 = Vector256.Abs(v1) + r1;
            Vector256<double> s2 = Vector256.Abs(v2) + r2;
            Vector256<double> below1 = Vector256.LessThan(v1, Vector256<double>.Zero);
            Vector256<double> below2 = Vector256.LessThan(v2, Vector256<double>.Zero);
            AlongVOver = Vector256.ConditionalSelect(below1, q, s1) * Vector256.ConditionalSelect(below2, s2, Vector256<double>.One);
            AlongVUnder = Vector256.ConditionalSelect(below1, s1, Vector256<double>.One) * Vector256.ConditionalSelect(below2, q, s2);
        }
    }

    /// <summary>The quadrature points of a corner, kept by each thread for the next call.</summary>
    private sealed class Workspace
    {
        public double[] Radius { get; private set; } = new double[1024];

        public double[] Angle { get; private set; } = new double[1024];

        public double[] Weight { get; private set; } = new double[1024];

        public void Reserve(int size)
        {
            // Room for a whole last vector.
            if (size + 4 > Radius.Length)
            {
                Radius = Grown(Radius);
                Angle = Grown(Angle);
                Weight = Grown(Weight);
            }

            double[] Grown(double[] old)
            {
                var larger = new double[2 * (size + 4)];
                old.CopyTo(larger, 0);
                return larger;
            }
        }

        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public double Sum(int count, double x1, double z1, double z2, Vector256<double> w)
        {
            for (int i = count; i % 4 != 0; i++)
            {
                Radius[i] = Radius[0];
                Angle[i] = Angle[0];
                Weight[i] = 0;
            }

            Vector256<double> sum = Vector256<double>.Zero;
            double w0 = w[0];
            double w1 = w[1];
            double w2 = w[2];
            double w3 = w[3];
            for (int i = 0; i < count; i += 4)
            {
                Vector256<double> radius = Vector256.Create(Radius, i);
                (Vector256<double> sine, Vector256<double> cosine) = Vector256.SinCos(Vector256.Create(Angle, i));
                Vector256<double> z = radius * sine;
                Vector256<double> field = Field(
                    (radius * cosine) - Vector256.Create(x1), z - Vector256.Create(z1), z - Vector256.Create(z2), w0, w1, w2, w3);
                sum += Vector256.Create(Weight, i) * cosine * field;
            }

            return Vector256.Sum(sum);
        }
    }

    /// <summary>
    /// The same K far from the station, all of it by Gauss-Legendre over the winding and over dipoles, which keeps its relative
    /// accuracy as K falls off.
    /// </summary>
    /// <param name="coil">The coil.</param>
    /// <param name="station">The station.</param>
    /// <param name="d">Displacement, at least twice the radii that hold coil and station.</param>
    /// <param name="digits">Decimal digits wanted, relative to K itself.</param>
    public static double PerTurnFar(in CoilSi coil, StationSi station, double d, double digits)
    {
        double turns = coil.Turns;
        double sum = 0;
        if (coil.Full.Turns > 0)
        {
            sum += coil.Full.Turns / turns * FarBlock(coil, coil.Full, station, d, digits);
        }

        if (coil.Last.Turns > 0)
        {
            sum += coil.Last.Turns / turns * FarBlock(coil, coil.Last, station, d, digits);
        }

        return sum;
    }

    private static double FarBlock(in CoilSi coil, in WindingBlockSi block, StationSi station, double d, double digits)
    {
        double leg = coil.HalfHeight - coil.Corner;
        double centerX = coil.HalfWidth - coil.Corner;

        // The nearest charge is no nearer than this to any turn. The sides of a turn nearly cancel: what is left is smaller by the square of
        // the coil's size over the distance, and the nodes must do for that.
        double width = coil.HalfWidth + block.OuterDepth;
        double distance = Math.Abs(d) - station.Radius - width;
        double amplified = digits + (2 * Math.Log10(Math.Abs(d) / width));
        GaussNodes Nodes(double half) => GaussNodes.OfOrder(
            Math.Clamp((int)Math.Ceiling(amplified * 1.151 / Math.Log(2 * distance / half)), 2, 20));
        GaussNodes depths = Nodes(0.5 * (block.OuterDepth - block.InnerDepth));
        GaussNodes places = Nodes(0.5 * (block.AxialTo - block.AxialFrom));
        GaussNodes legs = Nodes(Math.Max(leg, 1e-3 * distance));
        GaussNodes arcs = GaussNodes.OfOrder(Math.Clamp((int)Math.Ceiling(2 + (0.5 * digits)), 4, 10));
        double sum = 0;
        for (int i = 0; i < depths.Weights.Length; i++)
        {
            double depth = Middle(block.InnerDepth, block.OuterDepth, depths.Abscissas[i]);
            double r = coil.Corner + depth;
            for (int j = 0; j < places.Weights.Length; j++)
            {
                double y = Middle(block.AxialFrom, block.AxialTo, places.Abscissas[j]);
                double turn = 0;
                for (int k = 0; k < legs.Weights.Length; k++)
                {
                    double z = leg * legs.Abscissas[k];
                    double x = coil.HalfWidth + depth;
                    turn += leg * legs.Weights[k] * (Across(station, d + x, y, z, digits) - Across(station, d - x, y, z, digits));
                }

                for (int k = 0; k < arcs.Weights.Length; k++)
                {
                    (double sine, double cosine) = Math.SinCos(Math.PI / 4 * (1 + arcs.Abscissas[k]));
                    double x = centerX + (r * cosine);
                    double z = leg + (r * sine);
                    turn += Math.PI / 4 * arcs.Weights[k] * r * cosine
                        * (Across(station, d + x, y, z, digits) - Across(station, d - x, y, z, digits)
                        + Across(station, d + x, y, -z, digits) - Across(station, d - x, y, -z, digits));
                }

                sum += 0.25 * depths.Weights[i] * places.Weights[j] * turn;
            }
        }

        return sum;
    }

    private static double Middle(double from, double to, double s) => (0.5 * (from + to)) + (0.5 * (to - from) * s);

    private static double Across(StationSi station, double x, double y, double z, double digits)
    {
        double sum = 0;
        foreach (ref readonly BodySi body in station.Bodies)
        {
            sum += BlockField.FarAcross(body, new(x, y, z), digits + 1);
        }

        return sum;
    }
}
