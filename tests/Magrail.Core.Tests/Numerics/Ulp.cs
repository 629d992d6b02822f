using System.Globalization;
using System.Numerics;

namespace Magrail.Tests.Numerics;

/// <summary>Counts errors in units in the last place of the true value, exactly, from all the digits of a reference.</summary>
public static class Ulp
{
    /// <summary>|computed - reference| in ulp of the reference's double.</summary>
    public static double Error(double computed, string reference)
        => Error(computed, reference, Spacing(double.Parse(reference, CultureInfo.InvariantCulture)));

    /// <summary>|computed - reference| in ulp of another size, for results that are the difference of greater parts.</summary>
    public static double ErrorAtScale(double computed, string reference, double scale)
        => Error(computed, reference, Spacing(scale));

    private static double Error(double computed, string reference, double spacing)
    {
        if (!double.IsFinite(computed))
        {
            return double.PositiveInfinity;
        }

        Rational difference = Exact(computed) - Exact(reference);
        Rational ratio = difference / Exact(spacing);
        return Math.Abs((double)((ratio.Top << 20) / ratio.Bottom)) / (1 << 20);
    }

    private static double Spacing(double value)
    {
        double size = Math.Abs(value);
        return Math.BitIncrement(size) - size;
    }

    private static Rational Exact(double value)
    {
        long bits = BitConverter.DoubleToInt64Bits(value);
        int exponent = (int)((bits >> 52) & 0x7FF);
        long mantissa = (bits & 0xFFFFFFFFFFFFFL) | (exponent == 0 ? 0 : 1L << 52);
        int shift = Math.Max(exponent, 1) - 1075;
        BigInteger top = bits < 0 ? -mantissa : mantissa;
        return shift >= 0 ? new(top << shift, BigInteger.One) : new(top, BigInteger.One << -shift);
    }

    private static Rational Exact(string text)
    {
        string[] halves = text.Split('e', 'E');
        int exponent = halves.Length > 1 ? int.Parse(halves[1], CultureInfo.InvariantCulture) : 0;
        string[] digits = halves[0].Split('.');
        string fraction = digits.Length > 1 ? digits[1] : string.Empty;
        BigInteger top = BigInteger.Parse(digits[0] + fraction, CultureInfo.InvariantCulture);
        exponent -= fraction.Length;
        return exponent >= 0
            ? new(top * BigInteger.Pow(10, exponent), BigInteger.One)
            : new(top, BigInteger.Pow(10, -exponent));
    }

    private readonly record struct Rational(BigInteger Top, BigInteger Bottom)
    {
        public static Rational operator -(Rational a, Rational b) => new((a.Top * b.Bottom) - (b.Top * a.Bottom), a.Bottom * b.Bottom);

        public static Rational operator /(Rational a, Rational b) => new(a.Top * b.Bottom, a.Bottom * b.Top);
    }
}
