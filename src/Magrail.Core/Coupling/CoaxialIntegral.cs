using Magrail.Numerics;
using static Magrail.Numerics.GradedRule;

namespace Magrail;

/// <summary>
/// The force constant of a coil with its axis along the track over magnets magnetized along the track, by the part of one end face:
/// with <see cref="Edge"/> = E(t), K(d) = E(d + a) - E(d - a), d measured from the magnet's middle, 2a its length.
/// </summary>
/// <remarks>
/// <para>
/// K = -∮ Bn dl for a turn right-handed about +x, Bn along the outward normal. A ring magnetized along its axis is a pair of current sheets,
/// so for a concentric circular turn E is the mutual inductance of two circles over μ₀,
/// m(r, R, ζ) = (rR/2)∮ cos ψ/D dψ = (2rR/A) cel(k, 1, -1, 1), averaged over the winding section.
/// </para>
/// <para>
/// The end face of a block, |y| ≤ b, |z| ≤ c, has 4π By/J = -Σ± artanh(w/R) with v = y ∓ b, w = z ∓ c, and its integral over the axial position is
/// ∫ artanh(w/R) dU = U artanh(w/R) + w artanh(U/R) - v atan(Uw/(vR)). Path and depth are integrated by Gauss-Legendre.
/// </para>
/// </remarks>
internal static class CoaxialIntegral
{
    /// <summary>E(t) in m per turn of a body, t the place of the coil's middle ahead of the face.</summary>
    /// <param name="coil">The coil, its axis along the track; round where the body is a ring.</param>
    /// <param name="body">A ring about the path's line, or a block with any roll, magnetized along the track.</param>
    /// <param name="clearance">The least distance between winding and block, m.</param>
    /// <param name="t">The place, m.</param>
    /// <param name="digits">Decimal digits wanted.</param>
    public static double Edge(in CoilSi coil, in BodySi body, double clearance, double t, double digits)
    {
        double turns = coil.Turns;
        double sum = 0;
        foreach (WindingBlockSi block in (ReadOnlySpan<WindingBlockSi>)[coil.Full, coil.Last])
        {
            if (block.Turns > 0)
            {
                double section = (block.OuterDepth - block.InnerDepth) * (block.AxialTo - block.AxialFrom);
                double part = body.Shape == BodyShape.Ring
                    ? Circles(coil, block, body.OuterRadius, t, digits)
                        - (body.InnerRadius > 0 ? Circles(coil, block, body.InnerRadius, t, digits) : 0)
                    : Face(coil, block, body, clearance, t, digits) / (4 * Math.PI);
                sum += block.Turns / turns * body.Remanence / section * part;
            }
        }

        return sum;
    }

    private static double Circles(in CoilSi coil, in WindingBlockSi block, double radius, double t, double digits)
    {
        Span<double> radii = stackalloc double[Capacity];
        Span<double> shares = stackalloc double[Capacity];
        Span<double> places = stackalloc double[Capacity];
        Span<double> weights = stackalloc double[Capacity];
        double least = coil.Corner + block.InnerDepth;
        double greatest = coil.Corner + block.OuterDepth;
        double off = Math.Max(0, Math.Max(block.AxialFrom + t, -t - block.AxialTo));
        double gap = Math.Max(0, Math.Max(least - radius, radius - greatest));
        Span<Feature> feature = stackalloc Feature[1];
        feature[0] = new(radius, off + (0.1 * gap) + (1e-6 * radius));
        int circles = Build(least, greatest, feature, digits, radii, shares);
        double sum = 0;
        for (int i = 0; i < circles; i++)
        {
            double r = radii[i];
            feature[0] = new(-t, Math.Abs(r - radius) + (1e-6 * radius));
            int count = Build(block.AxialFrom, block.AxialTo, feature, digits, places, weights);
            double mean = 0;
            for (int k = 0; k < count; k++)
            {
                double zeta = t + places[k];
                double total = r + radius;
                double a = Math.Sqrt((zeta * zeta) + (total * total));
                double kc = Math.Sqrt((zeta * zeta) + ((r - radius) * (r - radius))) / a;
                mean += weights[k] * EllipticIntegrals.Cel(Math.Max(kc, 1e-15), 1, -1, 1) / a;
            }

            sum += shares[i] * 2 * r * radius * mean;
        }

        return sum;
    }

    private static double Face(in CoilSi coil, in WindingBlockSi block, in BodySi body, double clearance, double t, double digits)
    {
        GaussNodes depths = Rule(0.5 * (block.OuterDepth - block.InnerDepth), clearance, digits);
        double legY = coil.HalfWidth - coil.Corner;
        double legZ = coil.HalfHeight - coil.Corner;
        double from = t + block.AxialFrom;
        double to = t + block.AxialTo;
        double sum = 0;
        for (int i = 0; i < depths.Weights.Length; i++)
        {
            double depth = (0.5 * (block.InnerDepth + block.OuterDepth)) + (0.5 * (block.OuterDepth - block.InnerDepth) * depths.Abscissas[i]);
            double r = coil.Corner + depth;
            double turn = 0;
            for (int side = -1; side <= 1; side += 2)
            {
                turn += Line(body, side * (coil.HalfWidth + depth), 0, 0, legZ, side, 0, from, to, clearance, digits);
                turn += Line(body, 0, side * (coil.HalfHeight + depth), legY, 0, 0, side, from, to, clearance, digits);
                for (int up = -1; up <= 1; up += 2)
                {
                    turn += Arc(body, side, up, legY, legZ, r, from, to, clearance, digits);
                }
            }

            sum += 0.5 * (block.OuterDepth - block.InnerDepth) * depths.Weights[i] * turn;
        }

        return sum;
    }

    private static double Line(
        in BodySi body, double y, double z, double halfY, double halfZ, double ny, double nz, double from, double to, double clearance, double digits)
    {
        double half = halfY + halfZ;
        if (half <= 0)
        {
            return 0;
        }

        int pieces = Pieces(half, clearance);
        GaussNodes rule = Rule(half / pieces, clearance, digits);
        double sum = 0;
        for (int p = 0; p < pieces; p++)
        {
            for (int k = 0; k < rule.Weights.Length; k++)
            {
                double s = (((2 * p) + 1 + rule.Abscissas[k]) / pieces) - 1;
                sum += rule.Weights[k] * Normal(body, y + (s * halfY), z + (s * halfZ), ny, nz, from, to);
            }
        }

        return half / pieces * sum;
    }

    private static double Arc(
        in BodySi body, int side, int up, double legY, double legZ, double r, double from, double to, double clearance, double digits)
    {
        double half = 0.25 * Math.PI;
        int pieces = Pieces(half * r, clearance);
        GaussNodes rule = Rule(half * r / pieces, clearance, digits);
        double sum = 0;
        for (int p = 0; p < pieces; p++)
        {
            for (int k = 0; k < rule.Weights.Length; k++)
            {
                (double sine, double cosine) = Math.SinCos(half * (((2 * p) + 1 + rule.Abscissas[k]) / pieces));
                sum += rule.Weights[k]
                    * Normal(body, side * (legY + (r * cosine)), up * (legZ + (r * sine)), side * cosine, up * sine, from, to);
            }
        }

        return half * r / pieces * sum;
    }

    private static int Pieces(double half, double clearance) => Math.Max(1, (int)Math.Ceiling(half / (2 * clearance)));

    private static GaussNodes Rule(double half, double clearance, double digits)
    {
        double s = clearance / half;
        double rho = Math.Min(6, s + Math.Sqrt(1 + (s * s)));
        return GaussNodes.OfOrder(Math.Clamp((int)Math.Ceiling(1 + (digits * 1.151 / Math.Log(rho))), 2, 60));
    }

    /// <summary>4π/J times ∫ Bn dU of a face of even charge, at a point of the path with the outward normal n.</summary>
    private static double Normal(in BodySi body, double y, double z, double ny, double nz, double from, double to)
    {
        Vector3D p = body.ToOwn(new Vector3D(0, y, z) - (body.Center with { X = 0 }));
        Vector3D n = body.ToOwn(new(0, ny, nz));
        double sum = 0;
        for (int i = -1; i <= 1; i += 2)
        {
            double v = p.Y + (i * body.HalfAcross);
            for (int j = -1; j <= 1; j += 2)
            {
                double w = p.Z + (j * body.HalfUp);
                (double alongV, double alongW) = Corner(v, w, to);
                (double lessV, double lessW) = Corner(v, w, from);
                sum -= i * j * ((n.Y * (alongV - lessV)) + (n.Z * (alongW - lessW)));
            }
        }

        return sum;
    }

    /// <summary>∫ artanh(w/R) dU and ∫ artanh(v/R) dU.</summary>
    private static (double AlongV, double AlongW) Corner(double v, double w, double u)
    {
        double vv = v * v;
        double ww = w * w;
        double uu = u * u;
        double r = Math.Sqrt(uu + vv + ww);
        double logU = Log(u, r, vv + ww);
        double logV = Log(v, r, uu + ww);
        double logW = Log(w, r, uu + vv);
        double first = (u * logW) + (w * logU) - (v == 0 ? 0 : v * Math.Atan(u * w / (v * r)));
        double second = (u * logV) + (v * logU) - (w == 0 ? 0 : w * Math.Atan(u * v / (w * r)));
        return (first, second);
    }

    private static double Log(double u, double r, double q)
    {
        double size = Math.Log((Math.Abs(u) + r) / Math.Sqrt(Math.Max(q, 1e-50)));
        return u < 0 ? -size : size;
    }
}
