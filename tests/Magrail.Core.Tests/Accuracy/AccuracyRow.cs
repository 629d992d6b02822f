using System.Globalization;

namespace Magrail.Tests;

/// <summary>
/// A row of docs/accuracy.md: what is compared, with what, and the bound that it is held to. Each is a static field of the
/// test class that fills it, so that the bound stands once, beside the comparison; the table is made from these fields.
/// </summary>
/// <param name="quantity">What is compared.</param>
/// <param name="reference">With what: the primary source.</param>
/// <param name="bound">The greatest error allowed.</param>
/// <param name="unit">What an error of 1 means, such as "T" or "of the peak".</param>
public sealed class AccuracyRow(string quantity, string reference, double bound, string unit)
{
    private readonly Lock door = new();

    public string Quantity { get; } = quantity;

    public string Reference { get; } = reference;

    public double Bound { get; } = bound;

    public string Unit { get; } = unit;

    /// <summary>The section of the table, where it is not that of the test class's layer.</summary>
    public string? Section { get; init; }

    /// <summary>The greatest error of this run; none until the first comparison.</summary>
    public double? Worst { get; private set; }

    public string BoundText => Text(Bound);

    public string WorstText => Worst is { } worst ? Text(worst) : "not measured";

    /// <summary>Notes an error and tells whether it is allowed.</summary>
    public bool Holds(double error)
    {
        lock (door)
        {
            // Not a number is the worst of all, and stays.
            if (!(error <= Worst))
            {
                Worst = double.IsNaN(Worst ?? 0) ? Worst : error;
            }
        }

        return error <= Bound;
    }

    /// <summary>Notes an error and fails if it is not allowed.</summary>
    public void Hold(double error, string where = "")
        => Assert.True(Holds(error), $"{Quantity}: {Text(error)}, held to {BoundText} ({Reference}) {where}");

    /// <summary>Holds |actual − expected|, as a part of <paramref name="scale"/>.</summary>
    public void HoldDifference(double expected, double actual, double scale = 1, string where = "")
        => Hold(Math.Abs(actual - expected) / scale, $"{where}: {actual:R} against {expected:R}");

    /// <summary>Holds |actual/expected − 1|.</summary>
    public void HoldRatio(double expected, double actual, string where = "")
        => Hold(Math.Abs((actual / expected) - 1), $"{where}: {actual:R} against {expected:R}");

    private string Text(double value)
    {
        double size = Math.Abs(value);
        string digits = size is 0 or (>= 0.01 and < 1e4)
            ? double.Parse(value.ToString("G2", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).ToString("0.####", CultureInfo.InvariantCulture)
            : value.ToString("0.#e-0", CultureInfo.InvariantCulture);
        return $"{digits} {Unit}".TrimEnd();
    }
}
