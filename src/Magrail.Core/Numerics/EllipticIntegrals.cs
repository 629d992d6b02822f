namespace Magrail.Numerics;

/// <summary>
/// Complete elliptic integrals of the first and second kind, K and E, and Bulirsch's general complete integral cel.
/// </summary>
/// <remarks>
/// <para>
/// Three arguments are in use for the same thing and are easily confused, so each method says which one it takes: the modulus k,
/// the parameter m = k², the complementary modulus k_c = √(1 - k²). Near k = 1 only the last keeps its digits (K grows
/// as ln(4/k_c)): work it out from the geometry without subtracting, where that can be done.
/// </para>
/// <para>
/// Every method allocates nothing and keeps within a few units in the last place (ulp) over the whole stated range: K 3 ulp,
/// E 4 ulp, cel 6 ulp of its greater part. The parts of cel are a cel(k_c, p, 1, 0) and b cel(k_c, p, 0, 1); they have opposite
/// signs, and may cancel, where a and b have opposite signs and p &gt; 0, or equal signs and p &lt; 0.
/// </para>
/// </remarks>
public static class EllipticIntegrals
{
    /// <summary>The loops stop when two means agree to this; the error left over is its square divided by 16.</summary>
    private const double MeansAgree = 1e-8;

    /// <summary>Complete elliptic integral of the first kind, K = ∫ dφ/√(1 - k² sin²φ) over 0 to π/2, by the modulus k.</summary>
    /// <param name="k">Modulus, -1 &lt; k &lt; 1; K is even in k.</param>
    /// <returns>K, π/2 at k = 0 and without bound as k goes to ±1.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="k"/> is not inside (-1, 1).</exception>
    public static double KFromModulus(double k)
        => Math.Abs(k) < 1
            ? K(Math.Sqrt((1 - k) * (1 + k)))
            : throw Require.Fault(nameof(k), Show.Number(k), "between -1 and 1, ends excluded", "K is infinite at a modulus of 1 and complex beyond");

    /// <summary>Complete elliptic integral of the first kind, K = ∫ dφ/√(1 - m sin²φ) over 0 to π/2, by the parameter m = k².</summary>
    /// <param name="m">Parameter, below 1; it may be negative.</param>
    /// <returns>K, π/2 at m = 0 and without bound as m goes to 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="m"/> is not finite or not below 1.</exception>
    public static double KFromParameter(double m)
        => m < 1 && double.IsFinite(m)
            ? K(Math.Sqrt(1 - m))
            : throw Require.Fault(nameof(m), Show.Number(m), "a finite number below 1", "K is infinite at a parameter of 1 and complex beyond");

    /// <summary>
    /// Complete elliptic integral of the first kind, K = ∫ dφ/√(cos²φ + k_c² sin²φ) over 0 to π/2, by the complementary modulus.
    /// </summary>
    /// <param name="kc">Complementary modulus k_c = √(1 - k²), not zero; above 1 it stands for a negative parameter. K is even in k_c.</param>
    /// <returns>K, about ln(4/k_c) for small k_c.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="kc"/> is zero or not finite.</exception>
    public static double KFromComplement(double kc)
        => kc != 0 && double.IsFinite(kc)
            ? K(Math.Abs(kc))
            : throw Require.Fault(nameof(kc), Show.Number(kc), "a finite number other than zero", "K is infinite at a complementary modulus of 0");

    /// <summary>Complete elliptic integral of the second kind, E = ∫ √(1 - k² sin²φ) dφ over 0 to π/2, by the modulus k.</summary>
    /// <param name="k">Modulus, -1 to 1; E is even in k.</param>
    /// <returns>E, π/2 at k = 0 and 1 at k = ±1.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="k"/> is not inside [-1, 1].</exception>
    public static double EFromModulus(double k)
        => Math.Abs(k) <= 1
            ? E(Math.Sqrt((1 - k) * (1 + k)))
            : throw Require.Fault(nameof(k), Show.Number(k), "-1 to 1", "E is complex at a modulus beyond 1");

    /// <summary>Complete elliptic integral of the second kind, E = ∫ √(1 - m sin²φ) dφ over 0 to π/2, by the parameter m = k².</summary>
    /// <param name="m">Parameter, 1 or below; it may be negative.</param>
    /// <returns>E, π/2 at m = 0 and 1 at m = 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="m"/> is not finite or is above 1.</exception>
    public static double EFromParameter(double m)
        => m <= 1 && double.IsFinite(m)
            ? E(Math.Sqrt(1 - m))
            : throw Require.Fault(nameof(m), Show.Number(m), "a finite number of 1 or below", "E is complex at a parameter beyond 1");

    /// <summary>
    /// Complete elliptic integral of the second kind, E = ∫ √(cos²φ + k_c² sin²φ) dφ over 0 to π/2, by the complementary modulus.
    /// </summary>
    /// <param name="kc">Complementary modulus k_c = √(1 - k²); above 1 it stands for a negative parameter. E is even in k_c.</param>
    /// <returns>E, 1 at k_c = 0.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="kc"/> is not finite.</exception>
    public static double EFromComplement(double kc)
        => double.IsFinite(kc)
            ? E(Math.Abs(kc))
            : throw Require.Fault(nameof(kc), Show.Number(kc), "a finite number", "E needs a complementary modulus");

    /// <summary>
    /// Bulirsch's general complete elliptic integral,
    /// cel(k_c, p, a, b) = ∫ (a cos²φ + b sin²φ) / ((cos²φ + p sin²φ) √(cos²φ + k_c² sin²φ)) dφ over 0 to π/2;
    /// the Cauchy principal value where p is negative.
    /// </summary>
    /// <remarks>
    /// K = cel(k_c, 1, 1, 1), E = cel(k_c, 1, 1, k_c²), Π(n, k) = cel(k_c, 1 - n, 1, 1). For p &lt; 0 the integral is carried over to
    /// p₁² = (k_c² - p)/(1 - p), a₁ = (a - b)/(1 - p), b₁ = (a k_c² - b)/((1 - p) p₁), which is Bulirsch's transformation
    /// multiplied out so that nothing cancels but a against b.
    /// </remarks>
    /// <param name="kc">Complementary modulus, 1e-300 to 1e100 in size (even); zero is allowed where <paramref name="b"/> is zero.</param>
    /// <param name="p">Characteristic, 1e-150 to 1e150 in size, of either sign (p = 1 - n in terms of Legendre's third kind).</param>
    /// <param name="a">Weight of cos²φ, finite.</param>
    /// <param name="b">Weight of sin²φ, finite.</param>
    /// <returns>The integral.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range, or the integral is infinite (k_c = 0 with b ≠ 0).</exception>
    public static double Cel(double kc, double p, double a, double b)
    {
        double e = Math.Abs(kc);
        double size = Math.Abs(p);
        if (!(e is >= LeastComplement and <= GreatestComplement && size is >= LeastCharacteristic and <= GreatestCharacteristic)
            || !double.IsFinite(a) || !double.IsFinite(b))
        {
            e = CheckCel(e, kc, p, a, b);
        }

        if (p > 0)
        {
            double root = Math.Sqrt(p);
            return Descend(e, root, a, b / root);
        }

        double g = 1 - p;
        double positive = Math.Sqrt(((e * e) - p) / g);
        return Descend(e, positive, (a - b) / g, ((a * e * e) - b) / (g * positive));
    }

    // Beyond these, intermediate products overflow although the integral does not.
    private const double LeastComplement = 1e-300;
    private const double GreatestComplement = 1e100;
    private const double LeastCharacteristic = 1e-150;
    private const double GreatestCharacteristic = 1e150;

    private static double CheckCel(double e, double kc, double p, double a, double b)
    {
        Require.InRange(a, -double.MaxValue, double.MaxValue, "a weighs cos² in the integrand");
        Require.InRange(b, -double.MaxValue, double.MaxValue, "b weighs sin² in the integrand");
        Require.InRange(
            Math.Abs(p), LeastCharacteristic, GreatestCharacteristic, "the integral is infinite at p = 0", nameof(p));
        if (e == 0 && b == 0)
        {
            // The limit exists, and at this k_c it differs from the integral by far less than rounding.
            return LeastComplement;
        }

        Require.InRange(
            e, LeastComplement, GreatestComplement, "the integral is infinite at a complementary modulus of 0 unless b is 0", nameof(kc));
        return e;
    }

    /// <summary>K by the arithmetic-geometric mean: K = π/(2 agm(1, k_c)).</summary>
    private static double K(double kc)
    {
        double arithmetic = 1;
        double geometric = kc;
        while (Math.Abs(arithmetic - geometric) > MeansAgree * arithmetic)
        {
            double next = 0.5 * (arithmetic + geometric);
            geometric = Math.Sqrt(arithmetic * geometric);
            arithmetic = next;
        }

        return Math.PI / (arithmetic + geometric);
    }

    /// <summary>
    /// E = cel(k_c, 1, 1, k_c²), a sum of positive terms, for k_c up to 1; beyond, E(k_c) = k_c E(1/k_c); and for small k_c
    /// E = 1 + k_c²/2 (ln(4/k_c) - 1/2) + 3 k_c⁴/16 (ln(4/k_c) - 13/12) + O(k_c⁶ ln k_c) (DLMF 19.12.2).
    /// </summary>
    private static double E(double kc)
    {
        if (kc > 1)
        {
            return kc * E(1 / kc);
        }

        double square = kc * kc;
        if (kc > 1e-3)
        {
            return Descend(kc, 1, 1, square);
        }

        double log = kc > 0 ? Math.Log(4 / kc) : 0;
        return 1 + (0.5 * square * (log - 0.5 + (0.375 * square * (log - (13.0 / 12)))));
    }

    /// <summary>
    /// Bulirsch's descending Landen transformation for p &gt; 0, started with √p and b/√p (Numer. Math. 13 (1969) 305, section 4).
    /// </summary>
    private static double Descend(double kc, double p, double a, double b)
    {
        double e = kc;
        double m = 1;
        while (true)
        {
            double f = a;
            a = (b / p) + a;
            double g = e / p;
            b = 2 * Math.FusedMultiplyAdd(f, g, b);
            p = g + p;
            g = m;
            m = kc + m;
            if (Math.Abs(g - kc) <= g * MeansAgree)
            {
                return 0.5 * Math.PI * (Math.FusedMultiplyAdd(a, m, b) / (m * (m + p)));
            }

            kc = 2 * Math.Sqrt(e);
            e = kc * m;
        }
    }
}
