using System.Globalization;

namespace Magrail.Charts;

/// <summary>Round numbers for scales.</summary>
internal static class Scale
{
    /// <summary>A round number that ninety-nine in a hundred of the sizes do not exceed: a multiple of its own contour step.</summary>
    public static double LimitFor(IReadOnlyList<double> values)
    {
        double[] sizes = [.. values.Select(Math.Abs).Order()];
        double most = sizes[(int)Math.Floor(0.99 * (sizes.Length - 1))];
        if (most == 0)
        {
            most = sizes[^1];
        }

        if (most == 0)
        {
            return 1;
        }

        // Two contour steps make one mark of the scale, and the limit is such a mark, also by the step that belongs to it.
        double limit = most;
        double step;
        do
        {
            step = StepFor(limit);
            limit = 2 * step * Math.Ceiling((most / (2 * step)) - 1e-9);
        }
        while (StepFor(limit) > step * 1.5);
        return limit;
    }

    /// <summary>The round step that divides a limit into five to twelve.</summary>
    public static double StepFor(double limit)
    {
        double rough = limit / 12.5;
        double power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        double share = rough / power;
        double step = share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10;
        return step * power;
    }

    /// <summary>Marks from zero at every second contour step, and one at the limit itself.</summary>
    public static double[] TicksTo(double limit)
    {
        double mark = 2 * StepFor(limit);
        int whole = (int)Math.Floor((limit / mark) + 1e-9);
        // A mark close below the limit would run into it.
        int kept = limit - (whole * mark) < 1e-9 * limit || limit - (whole * mark) > 0.5 * mark ? whole : whole - 1;
        double[] ticks = [.. Enumerable.Range(0, kept + 1).Select(i => i * mark)];
        return ticks[^1] < limit * (1 - 1e-9) ? [.. ticks, limit] : ticks;
    }

    /// <summary>Round numbers below and above two others, for colors that do not begin at zero.</summary>
    public static (double From, double To) Around(double least, double most)
    {
        if (!(most > least))
        {
            return (0, most > 0 ? LimitFor([most]) : 1);
        }

        // The ends are marks of the scale, which stand at every second contour step.
        double span = most - least;
        double from;
        double to;
        double step;
        do
        {
            step = 2 * StepFor(span);
            from = step * Math.Floor((least / step) + 1e-9);
            to = step * Math.Ceiling((most / step) - 1e-9);
            span = to - from;
        }
        while (2 * StepFor(span) > step * 1.5);
        return (from, to);
    }

    /// <summary>A number for a scale, with a true minus sign.</summary>
    public static string Signed(double value)
        => (Math.Abs(value) < 1e-12 ? 0 : value).ToString("G3", CultureInfo.InvariantCulture).Replace('-', '\u2212');

    /// <summary>Rounded to six significant digits, to keep pages small.</summary>
    public static double SixDigits(double value) => Digits(value, 6);

    /// <summary>Rounded to four significant digits, finer than a color can be told.</summary>
    public static double FourDigits(double value) => Digits(value, 4);

    private static double Digits(double value, int digits)
        => double.IsFinite(value) && value != 0
            ? double.Parse(value.ToString("G" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)
            : value;
}
