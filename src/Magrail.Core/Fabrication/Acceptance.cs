using UnitsNet;

namespace Magrail;

/// <summary>A value to measure on a finished part, and the range in which it is accepted.</summary>
/// <typeparam name="T">The quantity.</typeparam>
/// <param name="Expected">What is computed.</param>
/// <param name="Least">The least that is accepted.</param>
/// <param name="Greatest">The greatest that is accepted.</param>
public sealed record Acceptance<T>(T Expected, T Least, T Greatest)
    where T : struct, IQuantity
{
    /// <summary>Whether a measured value is accepted, ends included.</summary>
    /// <param name="measured">The measured value.</param>
    public bool Accepts(T measured)
    {
        double value = (double)measured.As(Expected.Unit);
        return value >= (double)Least.As(Expected.Unit) && value <= (double)Greatest.As(Expected.Unit);
    }

    /// <summary>The value with its range.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"{Show.Quantity(Expected)} ({Show.Quantity(Least)} to {Show.Quantity(Greatest)})";
}
