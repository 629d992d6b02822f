using UnitsNet;

namespace Magrail;

/// <summary>
/// A material property as makers state it: a typical value and the range in which it lies. Records compare by size, the
/// values are kept in their base unit.
/// </summary>
/// <remarks>
/// The range is the spread of one grade over batches and makers, not a confidence interval: nothing is said about how the
/// values lie inside it. Tolerance studies draw from it evenly unless told otherwise.
/// </remarks>
/// <typeparam name="T">The quantity.</typeparam>
public sealed record PropertyRange<T>
    where T : IQuantity
{
    /// <summary>States a range.</summary>
    /// <param name="least">The least value.</param>
    /// <param name="typical">The typical value, from <paramref name="least"/> to <paramref name="greatest"/>.</param>
    /// <param name="greatest">The greatest value.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite, or the three are not in rising order.</exception>
    public PropertyRange(T least, T typical, T greatest)
    {
        Least = Require.Finite(least, "a material property is a number");
        Greatest = Require.Finite(greatest, "a material property is a number");
        Typical = Require.InRange(typical, Least, Greatest, "the typical value lies inside the range");
    }

    /// <summary>The least value.</summary>
    public T Least { get; }

    /// <summary>The typical value.</summary>
    public T Typical { get; }

    /// <summary>The greatest value.</summary>
    public T Greatest { get; }

    /// <summary>Typical value and range, such as <c>1.3 T (1.28 T to 1.33 T)</c>.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => $"{Show.Quantity(Typical)} ({Show.Quantity(Least)} to {Show.Quantity(Greatest)})";
}
