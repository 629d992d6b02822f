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
/// <para>
/// The force across the gap, averaged over the axial position, is the flux through the turn at one end of the winding less that at the
/// other, over its length; the flux is ∮ nx ∫ By dx dl with ∫ A dU = U A + W Lv, so that it differs in the form of the terms alone:
/// </para>
/// </remarks>
internal static class FlatCoilIntegral
{
    private const double FourPi = 4 * Math.PI;

    /// <summary>Squares of lengths, m², below which a logarithm's argument is held: its factor vanishes there.</summary>
    private const double Floor = 1e-50;

    /// <summary>The features of a circle and its radius are listed one and all; what is left is that orders are whole numbers.</summary>
    private const double FastestOverRadius = 30;

    /// <summary>The same over the angle: its sine and cosine grow exponentially in imaginary directions.</summary>
    private const double FastestOverAngle = 6;

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
        => EdgeOf(coil, bodies, t, digits, false);

    /// <summary>
    /// The same for the force across the gap; an odd function of t. Blocks at ±y do not count alike here.
    /// </summary>
    public static double EdgeAcross(in CoilSi coil, ReadOnlySpan<BodySi> bodies, double t, double digits)
        => EdgeOf(coil, bodies, t, digits, true);

    private static double EdgeOf(in CoilSi coil, ReadOnlySpan<BodySi> bodies, double t, double digits, bool across)
    {
        double turns = coil.Turns;
        double sum = 0;
        if (coil.Full.Turns > 0)
        {
            sum += coil.Full.Turns / turns * EdgeOfBlock(coil, coil.Full, bodies, t, Needed(digits, coil.Full.Turns / turns), across);
        }

        if (coil.Last.Turns > 0)
        {
            sum += coil.Last.Turns / turns * EdgeOfBlock(coil, coil.Last, bodies, t, Needed(digits, coil.Last.Turns / turns), across);
        }

        return sum;
    }

    /// <summary>
    /// A small share of the turns needs fewer digits, but not all that it is smaller by: the edge of a magnet is sharper to a thin layer,
    /// which averages over less depth.
    /// </summary>
    private static double Needed(double digits, double share) => Math.Max(2, digits + (0.5 * Math.Log10(share)));

    private static double EdgeOfBlock(
        in CoilSi coil, in WindingBlockSi block, ReadOnlySpan<BodySi> bodies, double t, double digits, bool across)
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

            // A winding that is symmetric about y = 0 sees the two magnets of a pair alike; any other sees the second as its mirror image would
            // see the first.
            double factor = 1;
            WindingBlockSi image = default;
            if (!across && body.Center.Y != 0)
            {
                BodySi mirrored = body with { Center = body.Center with { Y = -body.Center.Y } };
                if (bodies[..i].Contains(mirrored))
                {
                    continue;
                }

                if (bodies[(i + 1)..].Contains(mirrored))
                {
                    factor = symmetric ? 2 : 1;
                    image = symmetric ? default : block with { AxialFrom = -block.AxialTo, AxialTo = -block.AxialFrom, Turns = 1 };
                }
            }

            double here = HalfCoil(coil, block, image, body, t, digits, across);
            double there = HalfCoil(coil, block, image, body, -t, digits, across);
            sum += factor * body.Remanence * (across ? here - there : here + there);
        }

        double section = (block.OuterDepth - block.InnerDepth) * (block.AxialTo - block.AxialFrom);
        return sum / (FourPi * section);
    }

    /// <summary>
    /// The integral of Σ± A nx over the half of the winding at x above 0, with U = x + t; of the winding's mirror image besides, if it has turns.
    /// </summary>
    private static double HalfCoil(
        in CoilSi coil, in WindingBlockSi block, in WindingBlockSi image, in BodySi body, double t, double digits, bool across)
    {
        double half = coil.HalfHeight - coil.Corner;
        double sum = 0;
        if (half > 0)
        {
            double inner = t + coil.HalfWidth + block.InnerDepth;
            double outer = t + coil.HalfWidth + block.OuterDepth;
            Vector256<double> planes = Planes(outer, half, block, body, across) - Planes(inner, half, block, body, across);
            if (image.Turns > 0)
            {
                planes += Planes(outer, half, image, body, across) - Planes(inner, half, image, body, across);
            }

            sum = Vector256.Sum(planes);
        }

        double x1 = -(t + coil.HalfWidth - coil.Corner);
        double upper = Corner(coil.Corner, block, image, body, x1, body.Center.Z - half, digits, across);
        double lower = body.Center.Z == 0 ? upper : Corner(coil.Corner, block, image, body, x1, -body.Center.Z - half, digits, across);
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
    private static Vector256<double> Planes(double u, double half, in WindingBlockSi block, in BodySi body, bool across)
    {
        Vector256<double> w = AxialLimits(block, body);
        double shift = body.Center.Z;
        Vector256<double> sum;
        if (across)
        {
            sum = TripleAcross(u, half - shift + body.HalfUp, w) - TripleAcross(u, -half - shift + body.HalfUp, w)
                - TripleAcross(u, half - shift - body.HalfUp, w) + TripleAcross(u, -half - shift - body.HalfUp, w);
        }
        else if (shift == 0)
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

    /// <summary>
    /// ∬ (UA + W Lv) dU dV at four W, the sum of V ∫ UA dU with ∫ UA dU = (U² + W²)A/2 - VW Lu/2; W ∫ U Lu dU = W(U² Lu/2 - UR/4 + (V² + W²)Lu/4);
    /// W ∫ (V Lv - R) dU = W(V(U Lv + V Lu - WA) - UR/2 - (V² + W²)Lu/2).
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static Vector256<double> TripleAcross(double u, double v, Vector256<double> w)
    {
        double uu = u * u;
        double vv = v * v;
        Vector256<double> ww = w * w;
        Vector256<double> r = Vector256.Sqrt(Vector256.Create(uu + vv) + ww);
        Vector256<double> size = Vector256.Abs(w);
        Vector256<double> angle = Vector256.ConditionalSelect(
            Vector256.LessThan(w, Vector256<double>.Zero),
            -VectorMath.Atan2(Vector256.Create(u * v), size * r),
            VectorMath.Atan2(Vector256.Create(u * v), size * r));
        Vector256<double> q = Vector256.Create(vv) + ww;
        Vector256<double> logU = (u < 0 ? -0.5 : 0.5) * LogOfSize(Math.Abs(u), r, q);
        Vector256<double> logV = (v < 0 ? -0.5 : 0.5) * LogOfSize(Math.Abs(v), r, Vector256.Create(uu) + ww);
        return (0.5 * v * (Vector256.Create(uu) - ww) * angle)
            + (u * v * w * logV)
            + (w * ((Vector256.Create((0.5 * uu) + (0.5 * vv)) - (0.25 * q)) * logU))
            - (0.75 * u * w * r);
    }

    /// <summary>2 artanh(|U|/R) = ln((|U| + R)²/q), q = R² - U².</summary>
    private static Vector256<double> LogOfSize(double size, Vector256<double> r, Vector256<double> q)
    {
        Vector256<double> p = Vector256.Create(size) + r;
        return VectorMath.Log(p * p / Vector256.Max(q, Vector256.Create(Floor)));
    }

    /// <summary>
    /// One corner; x and z from its center, the edge of the magnet at x = x1, U = x - x1, and the middle of the magnet at z = zc.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static double Corner(
        double radius, in WindingBlockSi block, in WindingBlockSi image, in BodySi body, double x1, double zc, double digits, bool across)
    {
        double least = radius + block.InnerDepth;
        double greatest = radius + block.OuterDepth;
        double z1 = zc - body.HalfUp;
        double z2 = zc + body.HalfUp;
        Vector256<double> w = AxialLimits(block, body);
        Vector256<double> mirrored = image.Turns > 0 ? AxialLimits(image, body) : w;
        Vector256<double> sizes = Vector256.Min(Vector256.Abs(w), Vector256.Abs(mirrored));
        double clearance = Math.Max(
            1e-4 * greatest, Math.Min(Math.Min(sizes[0], sizes[1]), Math.Min(sizes[2], sizes[3])));

        Workspace room = workspace ??= new Workspace();
        Span<double> radii = stackalloc double[Capacity];
        Span<double> shares = stackalloc double[Capacity];

        // A turn meets an edge of the magnet at the end of its arc, or a corner of the magnet on its way.
        Span<Feature> features =
        [
            new(x1, clearance), new(z1, clearance), new(z2, clearance),
            new(x1 > 0 && z1 > 0 ? Math.Sqrt((x1 * x1) + (z1 * z1)) : Nowhere, clearance),
            new(x1 > 0 && z2 > 0 ? Math.Sqrt((x1 * x1) + (z2 * z2)) : Nowhere, clearance),
        ];

        // A feature is a little weaker once the angle is integrated.
        int circles = Build(least, greatest, features, digits - 0.3, radii, shares, FastestOverRadius);
        Span<Feature> crossings = stackalloc Feature[6];
        Vector256<double> edges = Vector256.Create(x1, z1, z2, 0);
        int count = 0;
        for (int i = 0; i < circles; i++)
        {
            double r = radii[i];
            room.Reserve(count + Capacity);

            // An edge is met at an angle and, beyond the end of the arc, at the mirrored one; sin φ is the cosine of the rest to a quarter turn.
            (Vector256<double> at, Vector256<double> width) = Crossings(edges / r, clearance / r);
            crossings[0] = new(at[0], width[0]);
            crossings[1] = new(-at[0], width[0]);
            crossings[2] = new((0.5 * Math.PI) - at[1], width[1]);
            crossings[3] = new((0.5 * Math.PI) + at[1], width[1]);
            crossings[4] = new((0.5 * Math.PI) - at[2], width[2]);
            crossings[5] = new((0.5 * Math.PI) + at[2], width[2]);
            Span<double> weights = room.Weight.AsSpan(count);
            int angles = Build(0, 0.5 * Math.PI, crossings, digits, room.Angle.AsSpan(count), weights, FastestOverAngle);
            room.Radius.AsSpan(count, angles).Fill(r);
            double share = r * shares[i];
            for (int j = 0; j < angles; j++)
            {
                weights[j] *= share;
            }

            count += angles;
        }

        return room.Sum(count, x1, z1, z2, w, mirrored, image.Turns > 0, across);
    }

    /// <summary>
    /// Σ± ∫ A dW at four points: both charged faces, both ends of the winding, both edges in z, one edge in x.
    /// </summary>
    /// <remarks>
    /// Angles are taken in pairs of V by the difference of two tangents, logarithms of one factor as one logarithm of a product:
    /// Lu = ½ ln((|U| + R)²/(V² + W²)) with the sign of U, and Lv(V₁) - Lv(V₂) = ln((V₁ + R₁)/(V₂ + R₂)), with V + R = q/(R - V) where V is
    /// negative, q = U² + W². Faces 0 and 3 count positive, 1 and 2 negative. Written out face by face: the compiler keeps
    /// vectors of a larger structure in memory.
    /// </remarks>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static Vector256<double> Field(
        Vector256<double> u, Vector256<double> v1, Vector256<double> v2, double w0, double w1, double w2, double w3)
    {
        Vector256<double> floor = Vector256.Create(Floor);
        Vector256<double> uu = u * u;
        Vector256<double> vv1 = v1 * v1;
        Vector256<double> vv2 = v2 * v2;
        Vector256<double> ww0 = Vector256.Create(w0 * w0);
        Vector256<double> ww1 = Vector256.Create(w1 * w1);
        Vector256<double> ww2 = Vector256.Create(w2 * w2);
        Vector256<double> ww3 = Vector256.Create(w3 * w3);
        Vector256<double> square1 = uu + vv1;
        Vector256<double> square2 = uu + vv2;
        Vector256<double> r10 = Vector256.Sqrt(square1 + ww0);
        Vector256<double> r11 = Vector256.Sqrt(square1 + ww1);
        Vector256<double> r12 = Vector256.Sqrt(square1 + ww2);
        Vector256<double> r13 = Vector256.Sqrt(square1 + ww3);
        Vector256<double> r20 = Vector256.Sqrt(square2 + ww0);
        Vector256<double> r21 = Vector256.Sqrt(square2 + ww1);
        Vector256<double> r22 = Vector256.Sqrt(square2 + ww2);
        Vector256<double> r23 = Vector256.Sqrt(square2 + ww3);

        Vector256<double> sizeU = Vector256.Abs(u);
        Vector256<double> over = (sizeU + r10) * (sizeU + r13);
        Vector256<double> under = (sizeU + r11) * (sizeU + r12);
        Vector256<double> quotient = over * over * Vector256.Max(vv1 + ww1, floor) * Vector256.Max(vv1 + ww2, floor)
            / (under * under * Vector256.Max(vv1 + ww0, floor) * Vector256.Max(vv1 + ww3, floor));
        Vector256<double> alongU = v1 * VectorMath.Log(quotient);
        over = (sizeU + r20) * (sizeU + r23);
        under = (sizeU + r21) * (sizeU + r22);
        quotient = over * over * Vector256.Max(vv2 + ww1, floor) * Vector256.Max(vv2 + ww2, floor)
            / (under * under * Vector256.Max(vv2 + ww0, floor) * Vector256.Max(vv2 + ww3, floor));
        alongU = 0.5 * (alongU - (v2 * VectorMath.Log(quotient)));
        alongU = Vector256.ConditionalSelect(Vector256.LessThan(u, Vector256<double>.Zero), -alongU, alongU);

        // Where V is negative the four q belong above and below alike: each pair of faces has its q once in either.
        Vector256<double> sizeV1 = Vector256.Abs(v1);
        Vector256<double> sizeV2 = Vector256.Abs(v2);
        Vector256<double> plus1 = (sizeV1 + r10) * (sizeV1 + r13);
        Vector256<double> minus1 = (sizeV1 + r11) * (sizeV1 + r12);
        Vector256<double> plus2 = (sizeV2 + r20) * (sizeV2 + r23);
        Vector256<double> minus2 = (sizeV2 + r21) * (sizeV2 + r22);
        Vector256<double> plusQ = Vector256.Max(uu + ww0, floor) * Vector256.Max(uu + ww3, floor);
        Vector256<double> minusQ = Vector256.Max(uu + ww1, floor) * Vector256.Max(uu + ww2, floor);
        Vector256<double> below1 = Vector256.LessThan(v1, Vector256<double>.Zero);
        Vector256<double> below2 = Vector256.LessThan(v2, Vector256<double>.Zero);
        over = Vector256.ConditionalSelect(below1, plusQ * minus1, plus1) * Vector256.ConditionalSelect(below2, minusQ * plus2, minus2);
        under = Vector256.ConditionalSelect(below1, minusQ * plus1, minus1) * Vector256.ConditionalSelect(below2, plusQ * minus2, plus2);
        Vector256<double> alongV = u * VectorMath.Log(over / under);

        // W (atan(UV₁/(WR₁)) - atan(UV₂/(WR₂))).
        Vector256<double> uuvv = uu * v1 * v2;
        Vector256<double> angles = (w0 * VectorMath.Atan2(w0 * u * ((v1 * r20) - (v2 * r10)), (ww0 * r10 * r20) + uuvv))
            - (w1 * VectorMath.Atan2(w1 * u * ((v1 * r21) - (v2 * r11)), (ww1 * r11 * r21) + uuvv))
            - (w2 * VectorMath.Atan2(w2 * u * ((v1 * r22) - (v2 * r12)), (ww2 * r12 * r22) + uuvv))
            + (w3 * VectorMath.Atan2(w3 * u * ((v1 * r23) - (v2 * r13)), (ww3 * r13 * r23) + uuvv));
        return angles - alongU - alongV;
    }

    /// <summary>Σ± (UA + W Lv) at four points.</summary>
    private static Vector256<double> FieldAcross(
        Vector256<double> u, Vector256<double> v1, Vector256<double> v2, double w0, double w1, double w2, double w3)
        => Flux(u, v1, v2, w0) - Flux(u, v1, v2, w1) - Flux(u, v1, v2, w2) + Flux(u, v1, v2, w3);

    private static Vector256<double> Flux(Vector256<double> u, Vector256<double> v1, Vector256<double> v2, double distance)
    {
        Vector256<double> w = Vector256.Create(distance);
        Vector256<double> ww = w * w;
        Vector256<double> uu = u * u;
        Vector256<double> q = Vector256.Max(uu + ww, Vector256.Create(Floor));
        Vector256<double> r1 = Vector256.Sqrt(q + (v1 * v1));
        Vector256<double> r2 = Vector256.Sqrt(q + (v2 * v2));
        Vector256<double> angle = VectorMath.Atan2(u * w * ((v1 * r2) - (v2 * r1)), (ww * r1 * r2) + (uu * v1 * v2));
        Vector256<double> s1 = Vector256.Abs(v1) + r1;
        Vector256<double> s2 = Vector256.Abs(v2) + r2;
        Vector256<double> below1 = Vector256.LessThan(v1, Vector256<double>.Zero);
        Vector256<double> below2 = Vector256.LessThan(v2, Vector256<double>.Zero);
        Vector256<double> log = VectorMath.Log(
            Vector256.ConditionalSelect(below1, q, s1) * Vector256.ConditionalSelect(below2, s2, Vector256<double>.One)
            / (Vector256.ConditionalSelect(below1, s1, Vector256<double>.One) * Vector256.ConditionalSelect(below2, q, s2)));
        return (u * angle) + (w * log);
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
        public double Sum(int count, double x1, double z1, double z2, Vector256<double> w, Vector256<double> mirrored, bool both, bool across)
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
                (Vector256<double> sine, Vector256<double> cosine) = VectorMath.SinCosOfQuarter(Vector256.Create(Angle, i));
                Vector256<double> z = radius * sine;
                Vector256<double> u = (radius * cosine) - Vector256.Create(x1);
                Vector256<double> v1 = z - Vector256.Create(z1);
                Vector256<double> v2 = z - Vector256.Create(z2);
                Vector256<double> field = across ? FieldAcross(u, v1, v2, w0, w1, w2, w3) : Field(u, v1, v2, w0, w1, w2, w3);
                if (both)
                {
                    field += Field(u, v1, v2, mirrored[0], mirrored[1], mirrored[2], mirrored[3]);
                }

                sum += Vector256.Create(Weight, i) * cosine * field;
            }

            return Vector256.Sum(sum);
        }
    }
}
