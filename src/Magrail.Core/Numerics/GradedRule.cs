using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Magrail.Numerics;

/// <summary>
/// Quadrature of functions that are smooth but for a few sharp features: Gauss-Legendre in a variable stretched about each feature.
/// </summary>
/// <remarks>
/// A feature at α of width β is a pair of singularities at α ± iβ of the function's continuation. In τ with
/// x = α + β sinh τ they lie at ±iπ/2 however small β is, so that the nodes needed grow with ln(1/β) instead of 1/β. With the
/// Bernstein ellipse through the nearest singularity having the sum ρ of its half axes, n Gauss nodes err by about ρ^-2n. Within the strip
/// |Im τ| ≤ π/2 the stretching is one to one; beyond it the function grows and meets what lies on the other side of the feature a second
/// time. The ellipse is held within the strip.
/// </remarks>
internal static class GradedRule
{
    /// <summary>Features as far away as this (by ρ) need no stretching.</summary>
    private const double Plain = 2.6;

    /// <summary>Not to rely on faster convergence than this where a caller says no more: other features may not be listed.</summary>
    private const double Usual = 5;

    private const int GreatestOrder = 64;

    /// <summary>The most features of a rule.</summary>
    public const int GreatestCount = 12;

    /// <summary>The most nodes that a rule may need, and room for the rest of a vector of four.</summary>
    public const int Capacity = (GreatestCount * GreatestOrder) + 4;

    /// <summary>A place too far away to matter.</summary>
    public const double Nowhere = 1e100;

    /// <summary>A feature: its place and its half width.</summary>
    internal readonly record struct Feature(double At, double Width);

    /// <summary>Fills in nodes and weights for the integral from a to b.</summary>
    /// <param name="a">Lower end.</param>
    /// <param name="b">Upper end.</param>
    /// <param name="features">Up to twelve features, in any order; sorted in place.</param>
    /// <param name="digits">Decimal digits wanted.</param>
    /// <param name="nodes">Room for <see cref="Capacity"/> nodes.</param>
    /// <param name="weights">Room for as many weights.</param>
    /// <param name="fastest">
    /// The greatest ρ to rely on: for features that are not listed, or a function that grows fast away from the interval.
    /// </param>
    /// <returns>The number of nodes.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int Build(
        double a, double b, Span<Feature> features, double digits, Span<double> nodes, Span<double> weights, double fastest = Usual)
    {
        double middle = 0.5 * (a + b);
        double half = 0.5 * (b - a);
        int relevant = 0;
        double plain = fastest;
        for (int i = 0; i < features.Length; i++)
        {
            Feature feature = features[i];
            double rho = Ellipse((feature.At - middle) / half, feature.Width / half);
            plain = Math.Min(plain, rho);
            if (rho < Plain)
            {
                (features[i], features[relevant]) = (features[relevant], feature);
                relevant++;
            }
        }

        if (relevant == 0)
        {
            GaussNodes rule = GaussNodes.OfOrder(Order(plain, digits));
            for (int i = 0; i < rule.Weights.Length; i++)
            {
                nodes[i] = middle + (half * rule.Abscissas[i]);
                weights[i] = half * rule.Weights[i];
            }

            return rule.Weights.Length;
        }

        Sort(features[..relevant]);

        // Side by side for vectors, those too that are far from the interval: stretching brings them nearer. What fills up the last vector
        // is too far away to matter.
        Span<double> places = stackalloc double[GreatestCount];
        Span<double> widths = stackalloc double[GreatestCount];
        int all = (features.Length + 3) & ~3;
        for (int i = 0; i < all; i++)
        {
            places[i] = i < features.Length ? features[i].At : Nowhere;
            widths[i] = i < features.Length ? features[i].Width : 1;
        }

        int count = 0;
        double from = a;
        for (int i = 0; i < relevant; i++)
        {
            // Each feature has the stretch up to the middle between it and the next.
            double to = i + 1 < relevant ? Math.Clamp(0.5 * (features[i].At + features[i + 1].At), from, b) : b;
            if (to > from)
            {
                count += Stretched(from, to, features[i], places[..all], widths, fastest, digits, nodes[count..], weights[count..]);
                from = to;
            }
        }

        return count;
    }

    /// <summary>Where cos φ = x ± iy: the place of a feature in the angle, and its width.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static Feature Crossing(double x, double y)
    {
        (Vector256<double> at, Vector256<double> width) = Crossings(Vector256.Create(x), y);
        return new(at[0], width[0]);
    }

    /// <summary>The same for four x at once.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (Vector256<double> At, Vector256<double> Width) Crossings(Vector256<double> x, double y)
    {
        Vector256<double> one = Vector256<double>.One;
        Vector256<double> yy = Vector256.Create(y * y);
        Vector256<double> far = Vector256.Sqrt(((x + one) * (x + one)) + yy);
        Vector256<double> near = Vector256.Sqrt(((x - one) * (x - one)) + yy);
        Vector256<double> axis = Vector256.Max(0.5 * (far + near), one);
        Vector256<double> cosine = Vector256.Min(Vector256.Max(0.5 * (far - near), -one), one);
        Vector256<double> angle = VectorMath.Atan2(Vector256.Sqrt((one - cosine) * (one + cosine)), cosine);
        Vector256<double> width = VectorMath.Log(axis + Vector256.Sqrt((axis * axis) - one));
        return (angle, width + Vector256.Create(1e-12));
    }

    /// <summary>The sum of the half axes of the ellipse with foci -1 and 1 through x + iy.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double Ellipse(double x, double y)
    {
        double yy = y * y;
        double axis = 0.5 * (Math.Sqrt(((x + 1) * (x + 1)) + yy) + Math.Sqrt(((x - 1) * (x - 1)) + yy));
        return axis + Math.Sqrt(Math.Max(0, (axis * axis) - 1));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Order(double rho, double digits)
        => Math.Clamp(1 + (int)Math.Ceiling(digits * 2.302585092994046 / (2 * Math.Log(rho))), 2, GreatestOrder);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int Stretched(
        double from,
        double to,
        Feature feature,
        ReadOnlySpan<double> places,
        ReadOnlySpan<double> widths,
        double fastest,
        double digits,
        Span<double> nodes,
        Span<double> weights)
    {
        Vector256<double> one = Vector256<double>.One;
        double inverse = 1 / feature.Width;
        double first = (from - feature.At) * inverse;
        double last = (to - feature.At) * inverse;
        Vector256<double> ends = Vector256.Create(first, last, 0, 0);
        Vector256<double> sizes = Vector256.Abs(ends);
        ends = Vector256.CopySign(VectorMath.Log(sizes + Vector256.Sqrt((sizes * sizes) + one)), ends);
        double middle = 0.5 * (ends[0] + ends[1]);
        double half = 0.5 * (ends[1] - ends[0]);

        // All features as they lie in the stretched variable: sinh τ = x + iy, so that cosh(Re τ) and sin(Im τ) are half
        // the sum and half the difference of the distances from ±i. The feature itself lies at iπ/2.
        double strip = 0.5 * Math.PI / half;
        Vector256<double> least = Vector256.Create(Math.Min(fastest, strip + Math.Sqrt((strip * strip) + 1)));
        Vector256<double> scale = Vector256.Create(1 / half);
        for (int i = 0; i < places.Length; i += 4)
        {
            Vector256<double> x = (Vector256.Create(places[i..]) - Vector256.Create(feature.At)) * inverse;
            Vector256<double> y = Vector256.Create(widths[i..]) * inverse;
            Vector256<double> xx = x * x;
            Vector256<double> above = Vector256.Sqrt(xx + ((y + one) * (y + one)));
            Vector256<double> below = Vector256.Sqrt(xx + ((y - one) * (y - one)));
            Vector256<double> cosh = Vector256.Max(one, 0.5 * (above + below));
            Vector256<double> real = Vector256.CopySign(VectorMath.Log(cosh + Vector256.Sqrt((cosh * cosh) - one)), x);
            Vector256<double> sine = Vector256.Min(one, 0.5 * (above - below));
            Vector256<double> imaginary = VectorMath.Atan2(sine, Vector256.Sqrt((one - sine) * (one + sine)));
            Vector256<double> p = (real - Vector256.Create(middle)) * scale;
            Vector256<double> q = imaginary * scale;
            q *= q;
            Vector256<double> axis = 0.5 * (Vector256.Sqrt(((p + one) * (p + one)) + q) + Vector256.Sqrt(((p - one) * (p - one)) + q));
            axis = Vector256.Max(axis, one);
            least = Vector256.Min(least, axis + Vector256.Sqrt((axis * axis) - one));
        }

        double rho = Math.Min(Math.Min(least[0], least[1]), Math.Min(least[2], least[3]));
        GaussNodes rule = GaussNodes.OfOrder(Order(rho, digits));
        Vector256<double> width = Vector256.Create(0.5 * feature.Width);
        for (int i = 0; i < rule.PaddedWeights.Length; i += 4)
        {
            Vector256<double> grown = VectorMath.Exp(Vector256.Create(middle) + (half * Vector256.Create(rule.PaddedAbscissas, i)));
            Vector256<double> shrunk = one / grown;
            (Vector256.Create(feature.At) + (width * (grown - shrunk))).CopyTo(nodes[i..]);
            (width * (grown + shrunk) * half * Vector256.Create(rule.PaddedWeights, i)).CopyTo(weights[i..]);
        }

        return rule.Weights.Length;
    }

    private static void Sort(Span<Feature> features)
    {
        for (int i = 1; i < features.Length; i++)
        {
            for (int j = i; j > 0 && features[j].At < features[j - 1].At; j--)
            {
                (features[j], features[j - 1]) = (features[j - 1], features[j]);
            }
        }
    }
}
