using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Magrail.Numerics;

/// <summary>
/// Quadrature of functions that are smooth but for a few sharp features: Gauss-Legendre in a variable stretched about each feature.
/// </summary>
/// <remarks>
/// A feature at α of width β is a pair of singularities at α ± iβ of the function's continuation. In τ with
/// x = α + β sinh τ they lie at ±iπ/2 however small β is, so that the nodes needed grow with ln(1/β) instead of 1/β. With the
/// Bernstein ellipse through the nearest singularity having the sum ρ of its half axes, n Gauss nodes err by about ρ^-2n.
/// </remarks>
internal static class GradedRule
{
    /// <summary>Features as far away as this (by ρ) need no stretching.</summary>
    private const double Plain = 3.5;

    /// <summary>Not to rely on faster convergence than this: other features are not listed.</summary>
    private const double Fastest = 5;

    private const int GreatestOrder = 64;

    /// <summary>The most features of a rule.</summary>
    public const int GreatestCount = 12;

    /// <summary>The most nodes that a rule may need, and room for the rest of a vector of four.</summary>
    public const int Capacity = (GreatestCount * GreatestOrder) + 4;

    /// <summary>A feature: its place and its half width.</summary>
    internal readonly record struct Feature(double At, double Width);

    /// <summary>Fills in nodes and weights for the integral from a to b.</summary>
    /// <param name="a">Lower end.</param>
    /// <param name="b">Upper end.</param>
    /// <param name="features">Up to twelve features, in any order; sorted in place.</param>
    /// <param name="digits">Decimal digits wanted.</param>
    /// <param name="nodes">Room for <see cref="Capacity"/> nodes.</param>
    /// <param name="weights">Room for as many weights.</param>
    /// <returns>The number of nodes.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int Build(double a, double b, Span<Feature> features, double digits, Span<double> nodes, Span<double> weights)
    {
        double middle = 0.5 * (a + b);
        double half = 0.5 * (b - a);
        int relevant = 0;
        double slowest = Fastest;
        for (int i = 0; i < features.Length; i++)
        {
            Feature feature = features[i];
            double rho = Ellipse((feature.At - middle) / half, feature.Width / half);
            if (rho < Plain)
            {
                features[relevant++] = feature;
            }
            else
            {
                slowest = Math.Min(slowest, rho);
            }
        }

        if (relevant == 0)
        {
            GaussNodes rule = GaussNodes.OfOrder(Order(slowest, digits));
            for (int i = 0; i < rule.Weights.Length; i++)
            {
                nodes[i] = middle + (half * rule.Abscissas[i]);
                weights[i] = half * rule.Weights[i];
            }

            return rule.Weights.Length;
        }

        Sort(features[..relevant]);
        int count = 0;
        double from = a;
        for (int i = 0; i < relevant; i++)
        {
            // Each feature has the stretch up to the middle between it and the next.
            double to = i + 1 < relevant ? Math.Clamp(0.5 * (features[i].At + features[i + 1].At), from, b) : b;
            if (to > from)
            {
                count += Stretched(from, to, features[..relevant], i, slowest, digits, nodes[count..], weights[count..]);
                from = to;
            }
        }

        return count;
    }

    /// <summary>Where cos φ = x ± iy: the place of a feature in the angle, and its width.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static Feature Crossing(double x, double y)
    {
        double yy = y * y;
        double far = Math.Sqrt(((x + 1) * (x + 1)) + yy);
        double near = Math.Sqrt(((x - 1) * (x - 1)) + yy);
        double axis = 0.5 * (far + near);
        double angle = Math.Acos(Math.Clamp(0.5 * (far - near), -1, 1));
        return new(angle, Math.Log(axis + Math.Sqrt(Math.Max(0, (axis * axis) - 1))) + 1e-12);
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
        ReadOnlySpan<Feature> features,
        int chosen,
        double slowest,
        double digits,
        Span<double> nodes,
        Span<double> weights)
    {
        Feature feature = features[chosen];
        double low = Math.Asinh((from - feature.At) / feature.Width);
        double high = Math.Asinh((to - feature.At) / feature.Width);
        double middle = 0.5 * (low + high);
        double half = 0.5 * (high - low);
        double rho = Math.Min(Ellipse(-middle / half, 0.5 * Math.PI / half), slowest);
        for (int i = 0; i < features.Length; i++)
        {
            if (i != chosen)
            {
                // The other features as they lie in the stretched variable: sinh τ = x + iy, so that cosh(Re τ) and sin(Im τ) are half
                // the sum and half the difference of the distances from ±i.
                double x = (features[i].At - feature.At) / feature.Width;
                double y = features[i].Width / feature.Width;
                double above = Math.Sqrt((x * x) + ((y + 1) * (y + 1)));
                double below = Math.Sqrt((x * x) + ((y - 1) * (y - 1)));
                double cosh = Math.Max(1, 0.5 * (above + below));
                double real = Math.Log(cosh + Math.Sqrt((cosh * cosh) - 1));
                double imaginary = Math.Asin(Math.Min(1, 0.5 * (above - below)));
                rho = Math.Min(rho, Ellipse(((x < 0 ? -real : real) - middle) / half, imaginary / half));
            }
        }

        GaussNodes rule = GaussNodes.OfOrder(Order(rho, digits));
        Vector256<double> width = Vector256.Create(0.5 * feature.Width);
        for (int i = 0; i < rule.PaddedWeights.Length; i += 4)
        {
            Vector256<double> grown = VectorMath.Exp(Vector256.Create(middle) + (half * Vector256.Create(rule.PaddedAbscissas, i)));
            Vector256<double> shrunk = Vector256<double>.One / grown;
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
