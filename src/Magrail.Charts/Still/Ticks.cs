using System.Globalization;

namespace Magrail.Charts;

/// <summary>Round numbers along an axis.</summary>
internal sealed record Ticks(double[] Values, string[] Words)
{
    /// <summary>Multiples of 1, 2 or 5 times a power of ten between two numbers: not more than asked for, but two at least, as one alone gives no scale.</summary>
    public static Ticks Between(double from, double to, int most)
    {
        Ticks ticks = Of(from, to, most);
        while (ticks.Values.Length < 2)
        {
            ticks = Of(from, to, ++most);
        }

        return ticks;
    }

    private static Ticks Of(double from, double to, int most)
    {
        double span = to - from;
        double rough = span / Math.Max(1, most);
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double step = power * new[] { 1.0, 2, 5, 10 }.First(each => each * power >= rough * (1 - 1e-9));
        long first = (long)Math.Ceiling((from / step) - 1e-6);
        long last = (long)Math.Floor((to / step) + 1e-6);
        double[] values = [.. Enumerable.Range(0, (int)Math.Max(0, last - first + 1)).Select(i => (first + i) * step)];
        double size = Math.Max(Math.Abs(from), Math.Abs(to));
        int decimals = (int)Math.Max(0, -Math.Floor(Math.Log10(step) + 1e-9));
        string format = size >= 1e6 || decimals > 5 ? "0.###E+0" : "F" + decimals.ToString(CultureInfo.InvariantCulture);
        return new Ticks(values, [.. values.Select(value => value.ToString(format, CultureInfo.InvariantCulture).Replace('-', '\u2212'))]);
    }
}
