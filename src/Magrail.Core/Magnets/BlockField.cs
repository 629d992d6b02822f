using System.Runtime.CompilerServices;
using Magrail.Numerics;

namespace Magrail;

/// <summary>The field of a uniformly magnetized block in closed form.</summary>
/// <remarks>
/// <para>
/// A block magnetized along w with polarization J carries the charge +J on its face w = +c and -J on w = -c. With
/// U = u ± a, V = v ± b, W = w ∓ c, R = |(U, V, W)|, the field of a charged rectangle is, integrating r/r³ over it,
/// 4π Bw/J = Σ± atan(UV/(WR)) and 4π Bu/J = -Σ± ln(V + R), and likewise for v; inside the body J is added to Bw to turn
/// μ₀H into B = μ₀H + J.
/// </para>
/// <para>
/// The logarithms are taken in pairs, ln((R₁+R₂+L)/(R₁+R₂-L)) with L the length of the edge and R₁, R₂ the
/// distances from its ends, which is singular on the edge itself alone and not on its extensions. On a sharp edge Bu and Bv are
/// truly infinite (logarithmically); there the value at 1e-15 of the body's size from the edge is returned. Points on a face count as outside
/// the body: H is the limit from outside, B is the same from both sides except along the side faces, where B jumps by J.
/// </para>
/// <para>
/// Beyond eight times the half diagonal the closed form would lose digits as the cube of the distance. There the block is
/// a product Gauss-Legendre rule of point dipoles, whose error falls as (h/2r)^2n and is kept below rounding.
/// </para>
/// </remarks>
internal static class BlockField
{
    /// <summary>Closed form nearer than this many half diagonals, dipoles beyond.</summary>
    internal const double FarDiagonals = 8;

    private const double FourPi = 4 * Math.PI;

    /// <summary>B at a point relative to the station's origin, T.</summary>
    public static Vector3D FluxDensity(in BodySi body, Vector3D point)
    {
        Vector3D b = MagneticFieldTimesPermeability(body, point);
        if (!Contains(body, point))
        {
            return b;
        }

        return body.Magnetization switch
        {
            TrackAxis.Along => b with { X = b.X + body.Remanence },
            TrackAxis.Across => b with { Y = b.Y + body.Remanence },
            _ => b with { Z = b.Z + body.Remanence },
        };
    }

    /// <summary>Whether a point lies inside; a point on the surface does not.</summary>
    public static bool Contains(in BodySi body, Vector3D point)
    {
        Vector3D p = point - body.Center;
        return Math.Abs(p.X) < body.HalfAlong && Math.Abs(p.Y) < body.HalfAcross && Math.Abs(p.Z) < body.HalfUp;
    }

    /// <summary>μ₀H at a point relative to the station's origin, T.</summary>
    public static Vector3D MagneticFieldTimesPermeability(in BodySi body, Vector3D point)
    {
        Vector3D p = point - body.Center;
        double radius = body.Radius;
        bool far = p.Dot(p) > FarDiagonals * FarDiagonals * radius * radius;
        double scale = body.Remanence / FourPi;

        // The axis of magnetization takes the part of w; the form is symmetric in u and v.
        switch (body.Magnetization)
        {
            case TrackAxis.Along:
                {
                    Vector3D h = far
                        ? Dipoles(p.Y, p.Z, p.X, body.HalfAcross, body.HalfUp, body.HalfAlong)
                        : Closed(p.Y, p.Z, p.X, body.HalfAcross, body.HalfUp, body.HalfAlong);
                    return new(scale * h.Z, scale * h.X, scale * h.Y);
                }

            case TrackAxis.Across:
                {
                    Vector3D h = far
                        ? Dipoles(p.X, p.Z, p.Y, body.HalfAlong, body.HalfUp, body.HalfAcross)
                        : Closed(p.X, p.Z, p.Y, body.HalfAlong, body.HalfUp, body.HalfAcross);
                    return new(scale * h.X, scale * h.Z, scale * h.Y);
                }

            default:
                {
                    Vector3D h = far
                        ? Dipoles(p.X, p.Y, p.Z, body.HalfAlong, body.HalfAcross, body.HalfUp)
                        : Closed(p.X, p.Y, p.Z, body.HalfAlong, body.HalfAcross, body.HalfUp);
                    return scale * h;
                }
        }
    }

    /// <summary>By of a block by dipoles at any distance beyond its own size, T: no digits are lost as it falls off.</summary>
    internal static double FarAcross(in BodySi body, Vector3D point, double digits)
    {
        Vector3D p = point - body.Center;
        double scale = body.Remanence / FourPi;
        return scale * body.Magnetization switch
        {
            TrackAxis.Along => Dipoles(p.Y, p.Z, p.X, body.HalfAcross, body.HalfUp, body.HalfAlong, digits).X,
            TrackAxis.Across => Dipoles(p.X, p.Z, p.Y, body.HalfAlong, body.HalfUp, body.HalfAcross, digits).Z,
            _ => Dipoles(p.X, p.Y, p.Z, body.HalfAlong, body.HalfAcross, body.HalfUp, digits).Y,
        };
    }

    /// <summary>4π/J times μ₀H by surface charges, components (u, v, w).</summary>
    internal static Vector3D Closed(double u, double v, double w, double a, double b, double c)
    {
        double floor = 1e-15 * Math.Max(a, Math.Max(b, c));
        floor *= floor;
        double hu = 0;
        double hv = 0;
        double hw = 0;
        for (int k = 0; k < 2; k++)
        {
            bool top = k == 0;
            double face = top ? w - c : w + c;
            double u1 = u - a;
            double u2 = u + a;
            double v1 = v - b;
            double v2 = v + b;
            double ww = face * face;
            double r11 = Math.Sqrt((u1 * u1) + (v1 * v1) + ww);
            double r12 = Math.Sqrt((u1 * u1) + (v2 * v2) + ww);
            double r21 = Math.Sqrt((u2 * u2) + (v1 * v1) + ww);
            double r22 = Math.Sqrt((u2 * u2) + (v2 * v2) + ww);

            double solid = SolidAngle(u2, v2, face, r22, top) - SolidAngle(u2, v1, face, r21, top)
                - SolidAngle(u1, v2, face, r12, top) + SolidAngle(u1, v1, face, r11, top);
            double alongU = EdgeLog(v1, v2, r11, r12, Math.Max((u1 * u1) + ww, floor))
                - EdgeLog(v1, v2, r21, r22, Math.Max((u2 * u2) + ww, floor));
            double alongV = EdgeLog(u1, u2, r11, r21, Math.Max((v1 * v1) + ww, floor))
                - EdgeLog(u1, u2, r12, r22, Math.Max((v2 * v2) + ww, floor));
            double charge = top ? 1 : -1;
            hw += charge * solid;
            hu += charge * alongU;
            hv += charge * alongV;
        }

        return new(hu, hv, hw);
    }

    /// <summary>
    /// atan(UV/(WR)) with the limit from outside the body on the plane W = 0: from above for the upper face, from below for the lower.
    /// </summary>
    private static double SolidAngle(double u, double v, double w, double r, bool fromAbove)
        => w > 0 || (w == 0 && fromAbove) ? Math.Atan2(u * v, w * r) : -Math.Atan2(u * v, -w * r);

    /// <summary>
    /// ln((V₂+R₂)/(V₁+R₁)) = ln((R₁+R₂+L)/(R₁+R₂-L)), the potential of a straight edge from V₁ to V₂ = V₁ + L at the squared
    /// distance q from its line. The difference below is written as a sum of positive terms.
    /// </summary>
    private static double EdgeLog(double v1, double v2, double r1, double r2, double q)
    {
        double length = v2 - v1;
        double sum = r1 + r2;
        if (2 * length < sum)
        {
            return 2 * Math.Atanh(length / sum);
        }

        double rest;
        if (v1 >= 0)
        {
            rest = (q / (r2 + v2)) + r1 + v1;
        }
        else if (v2 <= 0)
        {
            rest = (q / (r1 - v1)) + r2 - v2;
        }
        else
        {
            rest = (q / (r1 - v1)) + (q / (r2 + v2));
        }

        return Math.Log((sum + length) / rest);
    }

    /// <summary>4π/J times μ₀H by a product rule of point dipoles, components (u, v, w).</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    internal static Vector3D Dipoles(double u, double v, double w, double a, double b, double c, double digits = 17)
    {
        double r = Math.Sqrt((u * u) + (v * v) + (w * w));
        GaussNodes alongU = NodesFor(a, r, digits);
        GaussNodes alongV = NodesFor(b, r, digits);
        GaussNodes alongW = NodesFor(c, r, digits);
        double hu = 0;
        double hv = 0;
        double hw = 0;
        for (int i = 0; i < alongU.Weights.Length; i++)
        {
            double du = u - (a * alongU.Abscissas[i]);
            for (int j = 0; j < alongV.Weights.Length; j++)
            {
                double dv = v - (b * alongV.Abscissas[j]);
                double weight = alongU.Weights[i] * alongV.Weights[j];
                for (int k = 0; k < alongW.Weights.Length; k++)
                {
                    double dw = w - (c * alongW.Abscissas[k]);
                    double d2 = (du * du) + (dv * dv) + (dw * dw);
                    double f = weight * alongW.Weights[k] / (d2 * Math.Sqrt(d2));
                    double g = 3 * dw / d2 * f;
                    hu += g * du;
                    hv += g * dv;
                    hw += (g * dw) - f;
                }
            }
        }

        return a * b * c * new Vector3D(hu, hv, hw);
    }

    /// <summary>Enough nodes along a half size h for an error (h/2r)^2n below the digits wanted.</summary>
    private static GaussNodes NodesFor(double h, double r, double digits)
        => GaussNodes.OfOrder(Math.Clamp((int)Math.Ceiling(digits * 2.302585092994046 / (2 * Math.Log(2 * r / h))), 1, 12));
}
