using Magrail.Numerics;
using static Magrail.Numerics.GradedRule;

namespace Magrail;

/// <summary>
/// The force constant of a flat coil (axis y) over discs and rings whose axis and magnetization lie along y, by direct evaluation
/// of K = ∮ By nx dl averaged over the turns.
/// </summary>
/// <remarks>
/// By averaged over the axial position is the difference of the scalar potential at the winding's two ends over its length:
/// closed form, see <see cref="ChargedDisc"/>. The path and the depth are integrated with nodes graded about the places
/// where a turn passes over a rim of a disc. The discs' potential is even in x, so that K(d) = H(d) - H(-d) with H the integral over the half of the
/// coil at x above 0.
/// </remarks>
internal static class FlatCoilOverDiscs
{
    /// <summary>The part of K in m per turn that belongs to one disc or ring.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="body">The disc or ring.</param>
    /// <param name="d">The coil's displacement from the station's origin, m.</param>
    /// <param name="digits">Decimal digits wanted.</param>
    public static double PerTurn(in CoilSi coil, in BodySi body, double d, double digits)
    {
        double turns = coil.Turns;
        double sum = 0;
        foreach (WindingBlockSi block in (ReadOnlySpan<WindingBlockSi>)[coil.Full, coil.Last])
        {
            if (block.Turns > 0)
            {
                double t = d - body.Center.X;
                double section = (block.OuterDepth - block.InnerDepth) * (block.AxialTo - block.AxialFrom);
                sum += block.Turns / turns * body.Remanence / (4 * Math.PI * section)
                    * (HalfCoil(coil, block, body, t, digits) - HalfCoil(coil, block, body, -t, digits));
            }
        }

        return sum;
    }

    private static double HalfCoil(in CoilSi coil, in WindingBlockSi block, in BodySi body, double t, double digits)
    {
        double leg = coil.HalfHeight - coil.Corner;
        double x0 = t + coil.HalfWidth - coil.Corner;
        double z0 = body.Center.Z;
        double clearance = double.PositiveInfinity;
        foreach (double end in (ReadOnlySpan<double>)[block.AxialFrom, block.AxialTo])
        {
            clearance = Math.Min(clearance, Math.Abs(Math.Abs(end - body.Center.Y) - body.HalfAcross));
        }

        clearance = Math.Max(clearance, 1e-4 * body.OuterRadius);
        Span<double> radii = stackalloc double[Capacity];
        Span<double> shares = stackalloc double[Capacity];
        Span<double> places = stackalloc double[Capacity];
        Span<double> weights = stackalloc double[Capacity];
        ReadOnlySpan<double> rims = body.InnerRadius > 0 ? [body.OuterRadius, body.InnerRadius] : [body.OuterRadius];

        // Radii of the corner (turns at a depth) at which a leg touches a rim, its end meets it, or the arc touches it.
        Span<Feature> features = stackalloc Feature[GreatestCount];
        int count = 0;
        foreach (double rim in rims)
        {
            Note(features, ref count, rim - x0, clearance);
            for (int up = z0 == 0 ? 1 : -1; up <= 1; up += 2)
            {
                double high = leg - (up * z0);
                double reach = Math.Sqrt((x0 * x0) + (high * high));
                Note(features, ref count, Math.Sqrt(Math.Max(0, (rim * rim) - (high * high))) - x0, clearance);
                Note(features, ref count, Math.Sqrt(Math.Max(0, (rim * rim) - (x0 * x0))) - high, clearance);
                Note(features, ref count, Math.Abs(rim - reach), clearance);
            }
        }

        int circles = Build(coil.Corner + block.InnerDepth, coil.Corner + block.OuterDepth, features[..count], digits, radii, shares);
        double sum = 0;
        for (int i = 0; i < circles; i++)
        {
            double r = radii[i];
            double x = x0 + r;
            double turn = 0;
            bool level = z0 == 0;
            if (leg > 0)
            {
                count = 0;
                foreach (double rim in rims)
                {
                    // (z - z0)² = (rim ± i clearance)² - x².
                    (double real, double imaginary) = Root((rim * rim) - (clearance * clearance) - (x * x), 2 * rim * clearance);
                    features[count++] = new(z0 + real, imaginary);
                    features[count++] = new(z0 - real, imaginary);
                }

                int legs = Build(level ? 0 : -leg, leg, features[..count], digits, places, weights);
                for (int k = 0; k < legs; k++)
                {
                    turn += (level ? 2 : 1) * weights[k] * Drop(block, body, x, places[k] - z0);
                }
            }

            for (int up = level ? 1 : -1; up <= 1; up += 2)
            {
                // The arc's center from the disc's, in its own quadrant.
                double cx = x0;
                double cz = leg - (up * z0);
                double c = Math.Sqrt((cx * cx) + (cz * cz));
                double towards = Math.Atan2(cz, cx);
                count = 0;
                foreach (double rim in rims)
                {
                    double scale = 2 * r * Math.Max(c, 1e-9 * r);
                    Feature crossing = Crossing(
                        ((rim * rim) - (clearance * clearance) - (c * c) - (r * r)) / scale, 2 * rim * clearance / scale);
                    features[count++] = crossing with { At = towards + crossing.At };
                    features[count++] = crossing with { At = towards - crossing.At };
                }

                int arcs = Build(0, 0.5 * Math.PI, features[..count], digits, places, weights);
                double arc = 0;
                for (int k = 0; k < arcs; k++)
                {
                    (double sine, double cosine) = Math.SinCos(places[k]);
                    arc += weights[k] * cosine * Drop(block, body, cx + (r * cosine), cz + (r * sine));
                }

                turn += (level ? 2 : 1) * r * arc;
            }

            sum += shares[i] * turn;
        }

        return sum;
    }

    private static void Note(Span<Feature> features, ref int count, double at, double width)
    {
        if (at > 0 && count < features.Length)
        {
            features[count++] = new(at, width);
        }
    }

    /// <summary>4π/J times ∫ By dy over the winding's length: the drop of the potential from its lower end to its upper.</summary>
    private static double Drop(in WindingBlockSi block, in BodySi body, double x, double z)
    {
        double rho = Math.Sqrt((x * x) + (z * z));
        double lower = block.AxialFrom - body.Center.Y;
        double upper = block.AxialTo - body.Center.Y;
        double outer = Ends(rho, lower, upper, body.HalfAcross, body.OuterRadius);
        return body.InnerRadius > 0 ? outer - Ends(rho, lower, upper, body.HalfAcross, body.InnerRadius) : outer;
    }

    private static double Ends(double rho, double lower, double upper, double half, double radius)
        => ChargedDisc.Potential(rho, lower - half, radius) - ChargedDisc.Potential(rho, lower + half, radius)
            - ChargedDisc.Potential(rho, upper - half, radius) + ChargedDisc.Potential(rho, upper + half, radius);

    /// <summary>The root of x + iy with both parts positive.</summary>
    private static (double Real, double Imaginary) Root(double x, double y)
    {
        double size = Math.Sqrt((x * x) + (y * y));
        double real = Math.Sqrt(Math.Max(0, 0.5 * (size + x)));
        double imaginary = Math.Sqrt(Math.Max(0, 0.5 * (size - x)));
        return (real, Math.Max(imaginary, 1e-9 * real));
    }
}
