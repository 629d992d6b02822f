using Magrail.Numerics;

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
/// section with no quadrature at all. The corners are integrated by Gauss-Legendre over depth and angle, split where
/// a turn passes over an edge of a magnet: there the integrand has its narrow features, at a distance of the clearance.
/// </para>
/// <para>
/// The coil is its own mirror image in x, and A is odd in U. So one function of one edge of the block does for both halves
/// of the coil and both edges: with <see cref="Edge"/> = E(t), K(d) = E(d + a) - E(d - a), d measured from the block's middle.
/// </para>
/// </remarks>
internal static class FlatCoilIntegral
{
    private const double FourPi = 4 * Math.PI;

    /// <summary>K per turn and per tesla, in m, with the coil's middle at displacement d from the station's origin.</summary>
    /// <param name="coil">The coil; its blocks' turns weigh their parts.</param>
    /// <param name="station">The station, remanences in T.</param>
    /// <param name="d">Displacement along x, m.</param>
    /// <param name="order">Gauss-Legendre nodes on each piece of depth and of angle.</param>
    public static double PerTurn(in CoilSi coil, StationSi station, double d, int order)
    {
        double sum = 0;
        foreach (ref readonly BodySi body in station.Bodies)
        {
            double place = d - body.Center.X;
            sum += Edge(coil, body, place + body.HalfAlong, order) - Edge(coil, body, place - body.HalfAlong, order);
        }

        return sum;
    }

    /// <summary>
    /// E(t): the part of K, in m per turn, that belongs to the edge of a block at the distance t behind the coil's middle; an even
    /// function of t. It knows of the block's width and height alone: blocks of any length along the track share it.
    /// </summary>
    public static double Edge(in CoilSi coil, in BodySi body, double t, int order)
    {
        double turns = coil.Turns;
        double sum = 0;
        if (coil.Full.Turns > 0)
        {
            sum += coil.Full.Turns / turns * EdgeOfBlock(coil, coil.Full, body, t, order);
        }

        if (coil.Last.Turns > 0)
        {
            sum += coil.Last.Turns / turns * EdgeOfBlock(coil, coil.Last, body, t, order);
        }

        return sum;
    }

    private static double EdgeOfBlock(in CoilSi coil, in WindingBlockSi block, in BodySi body, double t, int order)
    {
        double section = (block.OuterDepth - block.InnerDepth) * (block.AxialTo - block.AxialFrom);
        return body.Remanence / (FourPi * section)
            * (HalfCoil(coil, block, body, t, order) + HalfCoil(coil, block, body, -t, order));
    }

    /// <summary>The integral of Σ± A nx over the half of the winding at x above 0, with U = x + t.</summary>
    private static double HalfCoil(in CoilSi coil, in WindingBlockSi block, in BodySi body, double t, int order)
    {
        double half = coil.HalfHeight - coil.Corner;
        double centerX = coil.HalfWidth - coil.Corner;
        double sum = 0;
        if (half > 0)
        {
            double inner = t + coil.HalfWidth + block.InnerDepth;
            double outer = t + coil.HalfWidth + block.OuterDepth;
            sum = Planes(outer, half, block, body) - Planes(inner, half, block, body);
        }

        if (body.Center.Z == 0)
        {
            return sum + (2 * Corner(coil.Corner, block, body, t + centerX, -half, order));
        }

        BodySi mirrored = body with { Center = body.Center with { Z = -body.Center.Z } };
        return sum + Corner(coil.Corner, block, body, t + centerX, -half, order)
            + Corner(coil.Corner, block, mirrored, t + centerX, -half, order);
    }

    private static double Planes(double u, double half, in WindingBlockSi block, in BodySi body)
    {
        double sum = 0;
        for (int j = -1; j <= 1; j += 2)
        {
            double upper = half - body.Center.Z + (j * body.HalfUp);
            double lower = -half - body.Center.Z + (j * body.HalfUp);
            for (int k = -1; k <= 1; k += 2)
            {
                // The face at +b bears the charge +J and has W = y - b: k = -1 carries the plus sign.
                double to = block.AxialTo - body.Center.Y + (k * body.HalfAcross);
                double from = block.AxialFrom - body.Center.Y + (k * body.HalfAcross);
                sum -= j * k * (Triple(u, upper, to) - Triple(u, upper, from) - Triple(u, lower, to) + Triple(u, lower, from));
            }
        }

        return sum;
    }

    /// <summary>∭ atan(UV/(WR)) dU dV dW.</summary>
    private static double Triple(double u, double v, double w)
    {
        double uu = u * u;
        double vv = v * v;
        double ww = w * w;
        double r = Math.Sqrt(uu + vv + ww);
        return (u * v * w * Arc(u * v, w * r))
            + (0.5 * u * (ww - vv) * Log(u, r, vv + ww))
            + (0.5 * v * (ww - uu) * Log(v, r, uu + ww))
            + (r * (uu + vv - (2 * ww)) / 6);
    }

    /// <summary>One corner; at the angle φ and radius r from its center, U = u0 + r cos φ and z = r sin φ - below.</summary>
    private static double Corner(
        double radius, in WindingBlockSi block, in BodySi body, double u0, double below, int order)
    {
        double w1To = block.AxialTo - body.Center.Y - body.HalfAcross;
        double w1From = block.AxialFrom - body.Center.Y - body.HalfAcross;
        double w2To = block.AxialTo - body.Center.Y + body.HalfAcross;
        double w2From = block.AxialFrom - body.Center.Y + body.HalfAcross;
        double least = radius + block.InnerDepth;
        double greatest = radius + block.OuterDepth;

        // Edges of the magnet from the corner's center.
        double x1 = -u0;
        double z1 = body.Center.Z - body.HalfUp + below;
        double z2 = body.Center.Z + body.HalfUp + below;

        // Radii at which a turn meets an edge at the end of its arc or meets a corner of the magnet.
        Span<double> radii = stackalloc double[8];
        int count = 0;
        radii[count++] = least;
        Split(radii, ref count, x1, least, greatest);
        Split(radii, ref count, z1, least, greatest);
        Split(radii, ref count, z2, least, greatest);
        SplitCorner(radii, ref count, x1, z1, least, greatest);
        SplitCorner(radii, ref count, x1, z2, least, greatest);
        radii[count++] = greatest;
        radii[..count].Sort();

        GaussNodes nodes = GaussNodes.OfOrder(order);
        Span<double> angles = stackalloc double[5];
        double sum = 0;
        for (int piece = 1; piece < count; piece++)
        {
            double half = 0.5 * (radii[piece] - radii[piece - 1]);
            double middle = 0.5 * (radii[piece] + radii[piece - 1]);
            if (half <= 1e-14 * greatest)
            {
                continue;
            }

            for (int n = 0; n < order; n++)
            {
                double r = middle + (half * nodes.Abscissas[n]);
                int pieces = 0;
                angles[pieces++] = 0;
                SplitAngle(angles, ref pieces, Math.Acos(x1 / r));
                SplitAngle(angles, ref pieces, Math.Asin(z1 / r));
                SplitAngle(angles, ref pieces, Math.Asin(z2 / r));
                angles[pieces++] = 0.5 * Math.PI;
                angles[..pieces].Sort();
                double arc = 0;
                for (int a = 1; a < pieces; a++)
                {
                    double halfAngle = 0.5 * (angles[a] - angles[a - 1]);
                    double middleAngle = 0.5 * (angles[a] + angles[a - 1]);
                    double part = 0;
                    for (int m = 0; m < order; m++)
                    {
                        (double sine, double cosine) = Math.SinCos(middleAngle + (halfAngle * nodes.Abscissas[m]));
                        double u = u0 + (r * cosine);
                        double z = r * sine;
                        double field = Column(u, z - z1, w1From, w1To) - Column(u, z - z2, w1From, w1To)
                            - Column(u, z - z1, w2From, w2To) + Column(u, z - z2, w2From, w2To);
                        part += nodes.Weights[m] * cosine * field;
                    }

                    arc += halfAngle * part;
                }

                sum += half * nodes.Weights[n] * r * arc;
            }
        }

        return sum;
    }

    private static void Split(Span<double> places, ref int count, double place, double least, double greatest)
    {
        if (place > least && place < greatest)
        {
            places[count++] = place;
        }
    }

    private static void SplitCorner(Span<double> places, ref int count, double x, double z, double least, double greatest)
    {
        if (x > 0 && z > 0)
        {
            Split(places, ref count, Math.Sqrt((x * x) + (z * z)), least, greatest);
        }
    }

    private static void SplitAngle(Span<double> places, ref int count, double angle)
    {
        // NaN where the turn does not reach the edge: the comparison drops it.
        if (angle > 0 && angle < 0.5 * Math.PI)
        {
            places[count++] = angle;
        }
    }

    private static double Column(double u, double v, double from, double to) => Single(u, v, to) - Single(u, v, from);

    /// <summary>∫ atan(UV/(WR)) dW.</summary>
    private static double Single(double u, double v, double w)
    {
        double uu = u * u;
        double vv = v * v;
        double ww = w * w;
        double r = Math.Sqrt(uu + vv + ww);
        return (w * Arc(u * v, w * r)) - (v * Log(u, r, vv + ww)) - (u * Log(v, r, uu + ww));
    }

    private static double Arc(double numerator, double denominator)
        => denominator == 0 ? 0 : Math.Atan(numerator / denominator);

    /// <summary>artanh(U/R) = ln((|U| + R)/√q) with the sign of U, q = R² - U²; its factor vanishes where q does.</summary>
    private static double Log(double u, double r, double q)
    {
        if (q == 0)
        {
            return 0;
        }

        double size = 0.5 * Math.Log((Math.Abs(u) + r) * (Math.Abs(u) + r) / q);
        return u < 0 ? -size : size;
    }

    /// <summary>
    /// The same K far from the station, all of it by Gauss-Legendre over the winding and over dipoles, which keeps its relative
    /// accuracy as K falls off.
    /// </summary>
    public static double PerTurnFar(in CoilSi coil, StationSi station, double d)
    {
        double turns = coil.Turns;
        double sum = 0;
        if (coil.Full.Turns > 0)
        {
            sum += coil.Full.Turns / turns * FarBlock(coil, coil.Full, station, d);
        }

        if (coil.Last.Turns > 0)
        {
            sum += coil.Last.Turns / turns * FarBlock(coil, coil.Last, station, d);
        }

        return sum;
    }

    private static double FarBlock(in CoilSi coil, in WindingBlockSi block, StationSi station, double d)
    {
        const int Section = 4;
        const int Length = 8;
        GaussNodes section = GaussNodes.OfOrder(Section);
        GaussNodes length = GaussNodes.OfOrder(Length);
        double leg = coil.HalfHeight - coil.Corner;
        double centerX = coil.HalfWidth - coil.Corner;
        double sum = 0;
        for (int i = 0; i < Section; i++)
        {
            double depth = Middle(block.InnerDepth, block.OuterDepth, section.Abscissas[i]);
            double r = coil.Corner + depth;
            for (int j = 0; j < Section; j++)
            {
                double y = Middle(block.AxialFrom, block.AxialTo, section.Abscissas[j]);
                double turn = 0;
                for (int k = 0; k < Length; k++)
                {
                    double z = leg * length.Abscissas[k];
                    double straight = leg * length.Weights[k];
                    (double sine, double cosine) = Math.SinCos(Math.PI / 4 * (1 + length.Abscissas[k]));
                    double arc = Math.PI / 4 * length.Weights[k] * r * cosine;
                    double x = centerX + (r * cosine);
                    double rise = leg + (r * sine);
                    turn += straight * (Across(station, d + coil.HalfWidth + depth, y, z) - Across(station, d - coil.HalfWidth - depth, y, z));
                    turn += arc * (Across(station, d + x, y, rise) - Across(station, d - x, y, rise)
                        + Across(station, d + x, y, -rise) - Across(station, d - x, y, -rise));
                }

                sum += 0.25 * section.Weights[i] * section.Weights[j] * turn;
            }
        }

        return sum;
    }

    private static double Middle(double from, double to, double s) => (0.5 * (from + to)) + (0.5 * (to - from) * s);

    private static double Across(StationSi station, double x, double y, double z)
    {
        double sum = 0;
        foreach (ref readonly BodySi body in station.Bodies)
        {
            sum += BlockField.FarAcross(body, new(x, y, z));
        }

        return sum;
    }
}
