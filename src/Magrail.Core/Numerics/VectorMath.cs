using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Magrail.Numerics;

/// <summary>Elementary functions of four numbers at once, where the runtime brings none.</summary>
internal static class VectorMath
{
    // Economized polynomial of atan(y)/y in y² for |y| ≤ tan(π/8); greatest relative error 1.3e-18 before rounding (mpmath, chebyfit).
    private const double A1 = -0.33333333333333120948;
    private const double A2 = 0.19999999999940837328;
    private const double A3 = -0.14285714279244968487;
    private const double A4 = 0.11111110744657099602;
    private const double A5 = -0.090908968014728134434;
    private const double A6 = 0.07692045194561481467;
    private const double A7 = -0.06662950246036791267;
    private const double A8 = 0.058468667522751389837;
    private const double A9 = -0.050350497953124393166;
    private const double A10 = 0.037963903161110833033;
    private const double A11 = -0.017803896394812563193;

    // Economized polynomial of artanh(s)/s in s² for |s| ≤ (√2 - 1)/(√2 + 1).
    private const double L1 = 0.3333333333333332919;
    private const double L2 = 0.20000000000003749635;
    private const double L3 = 0.14285714284408764795;
    private const double L4 = 0.1111111133858113726;
    private const double L5 = 0.090908868598663313469;
    private const double L6 = 0.07693580858531021658;
    private const double L7 = 0.066243726799412823338;
    private const double L8 = 0.066311321465030584803;

    // ln 2 in two parts, the first with 21 zero bits at its end so that its multiples are exact.
    private const double Ln2High = 0.69314718036912381649;
    private const double Ln2Low = 1.9082149292705877e-10;

    /// <summary>The bits of √½.</summary>
    private const long RootOfHalf = 0x3FE6A09E667F3BCD;

    private const double TangentOfEighth = 0.41421356237309503;

    /// <summary>
    /// The angle of the points (x, y), within -π to π; 0 at (0, 0). Error below 5e-16 absolute; magnitudes between 1e-150 and 1e150.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Atan2(Vector256<double> y, Vector256<double> x)
    {
        Vector256<double> ay = Vector256.Abs(y);
        Vector256<double> ax = Vector256.Abs(x);
        Vector256<double> steep = Vector256.GreaterThan(ay, ax);
        Vector256<double> small = Vector256.ConditionalSelect(steep, ax, ay);
        Vector256<double> great = Vector256.ConditionalSelect(steep, ay, ax);

        // atan(s/g) = π/8·2 + atan((s - g)/(s + g)) above the eighth of a turn, so that the polynomial's argument stays below tan(π/8).
        Vector256<double> far = Vector256.GreaterThan(small, TangentOfEighth * great);
        Vector256<double> numerator = Vector256.ConditionalSelect(far, small - great, small);
        Vector256<double> denominator = Vector256.ConditionalSelect(far, small + great, great);
        denominator = Vector256.ConditionalSelect(Vector256.Equals(denominator, Vector256<double>.Zero), Vector256<double>.One, denominator);
        Vector256<double> t = numerator / denominator;
        Vector256<double> z = t * t;
        Vector256<double> z2 = z * z;
        Vector256<double> z4 = z2 * z2;
        Vector256<double> p0 = Fma(Fma(Constant(A3), z, Constant(A2)), z2, Fma(Constant(A1), z, Vector256<double>.One));
        Vector256<double> p1 = Fma(Fma(Constant(A7), z, Constant(A6)), z2, Fma(Constant(A5), z, Constant(A4)));
        Vector256<double> p2 = Fma(Fma(Constant(A11), z, Constant(A10)), z2, Fma(Constant(A9), z, Constant(A8)));
        Vector256<double> angle = t * Fma(Fma(p2, z4, p1), z4, p0);
        angle += Vector256.ConditionalSelect(far, Constant(Math.PI / 4), Vector256<double>.Zero);
        angle = Vector256.ConditionalSelect(steep, Constant(Math.PI / 2) - angle, angle);
        angle = Vector256.ConditionalSelect(Vector256.LessThan(x, Vector256<double>.Zero), Constant(Math.PI) - angle, angle);
        return Vector256.CopySign(angle, y);
    }

    /// <summary>
    /// The natural logarithm of positive normal numbers. Error below 2 ulp of the greater of the logarithm and 1/8; nothing is checked.
    /// </summary>
    /// <remarks>x = 2ᵉ m with m from √½ to √2, ln m = 2 artanh((m - 1)/(m + 1)) by an economized polynomial (mpmath, chebyfit: 8e-21).</remarks>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Log(Vector256<double> x)
    {
        Vector256<long> bits = x.AsInt64();
        Vector256<long> biased = Vector256.ShiftRightLogical(bits + Vector256.Create(0x3FF0000000000000 - RootOfHalf), 52);
        Vector256<double> m = (bits - Vector256.ShiftLeft(biased - Vector256.Create(1023L), 52)).AsDouble();

        // A whole number below 2^52 in the low bits of 2^52 is that sum.
        Vector256<double> e = (biased | Vector256.Create(0x4330000000000000)).AsDouble() - Constant(4503599627370496.0 + 1023);
        Vector256<double> s = (m - Vector256<double>.One) / (m + Vector256<double>.One);
        Vector256<double> z = s * s;
        Vector256<double> z2 = z * z;
        Vector256<double> z4 = z2 * z2;
        Vector256<double> p0 = Fma(Fma(Constant(L3), z, Constant(L2)), z2, Fma(Constant(L1), z, Vector256<double>.One));
        Vector256<double> p1 = Fma(Fma(Constant(L7), z, Constant(L6)), z2, Fma(Constant(L5), z, Constant(L4)));
        Vector256<double> polynomial = Fma(Fma(Constant(L8), z4, p1), z4, p0);
        return Fma(e, Constant(Ln2High), Fma(s + s, polynomial, e * Constant(Ln2Low)));
    }

    /// <summary>The exponential of numbers from -700 to 700. Relative error below 4e-16; nothing is checked.</summary>
    /// <remarks>x = k ln 2 + r with r within half of ln 2, and an economized polynomial of eʳ (mpmath, chebyfit: 3.2e-18).</remarks>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Exp(Vector256<double> x)
    {
        // Adding 1.5·2^52 rounds to a whole number and leaves it in the low bits.
        Vector256<double> shifted = Fma(x, Constant(1.4426950408889634), Constant(6755399441055744.0));
        Vector256<double> k = shifted - Constant(6755399441055744.0);
        Vector256<double> r = Fma(k, Constant(-Ln2Low), Fma(k, Constant(-Ln2High), x));
        Vector256<double> r2 = r * r;
        Vector256<double> r4 = r2 * r2;
        Vector256<double> p0 = Fma(Fma(Constant(0.1666666666666668082), r, Constant(0.50000000000000184039)), r2, Vector256<double>.One + r);
        Vector256<double> p1 = Fma(Fma(Constant(0.00019841269890076402829), r, Constant(0.0013888888952352862866)), r2, Fma(Constant(0.0083333333333195896163), r, Constant(0.04166666666648795252)));
        Vector256<double> p2 = Fma(Fma(Constant(2.5110049204818659793e-8), r, Constant(2.763265472252779189e-7)), r2, Fma(Constant(2.7557240887228989e-6), r, Constant(2.4801485441561312966e-5)));
        Vector256<double> value = Fma(Fma(p2, r4, p1), r4, p0);
        return (value.AsInt64() + Vector256.ShiftLeft(shifted.AsInt64(), 52)).AsDouble();
    }

    /// <summary>Sine and cosine of angles from 0 to a quarter turn. Error below 3e-16 absolute.</summary>
    /// <remarks>From the middle, φ = θ - π/4, by the series of sin φ and cos φ to φ¹⁷.</remarks>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static (Vector256<double> Sine, Vector256<double> Cosine) SinCosOfQuarter(Vector256<double> angle)
    {
        Vector256<double> phi = angle - Constant(Math.PI / 4);
        Vector256<double> z = phi * phi;
        Vector256<double> sine = Constant(1.0 / 355687428096000);
        sine = Fma(sine, z, Constant(-1.0 / 1307674368000));
        sine = Fma(sine, z, Constant(1.0 / 6227020800));
        sine = Fma(sine, z, Constant(-1.0 / 39916800));
        sine = Fma(sine, z, Constant(1.0 / 362880));
        sine = Fma(sine, z, Constant(-1.0 / 5040));
        sine = Fma(sine, z, Constant(1.0 / 120));
        sine = Fma(sine, z, Constant(-1.0 / 6));
        sine = phi * Fma(sine, z, Vector256<double>.One);
        Vector256<double> cosine = Constant(1.0 / 20922789888000);
        cosine = Fma(cosine, z, Constant(-1.0 / 87178291200));
        cosine = Fma(cosine, z, Constant(1.0 / 479001600));
        cosine = Fma(cosine, z, Constant(-1.0 / 3628800));
        cosine = Fma(cosine, z, Constant(1.0 / 40320));
        cosine = Fma(cosine, z, Constant(-1.0 / 720));
        cosine = Fma(cosine, z, Constant(1.0 / 24));
        cosine = Fma(cosine, z, Constant(-0.5));
        cosine = Fma(cosine, z, Vector256<double>.One);
        Vector256<double> half = Constant(0.70710678118654752);
        return (half * (cosine + sine), half * (cosine - sine));
    }

    /// <summary>a b + c.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector256<double> Fma(Vector256<double> a, Vector256<double> b, Vector256<double> c)
        => Vector256.MultiplyAddEstimate(a, b, c);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<double> Constant(double value) => Vector256.Create(value);
}
