using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A measured quantity with its error: the value, and how far off it may be.</summary>
/// <remarks>
/// The interval combines the random part (times Student's factor) and the systematic part (times the normal one) under the root. It holds for
/// this one quantity: many intervals side by side do not all cover at once.
/// </remarks>
/// <typeparam name="T">The quantity.</typeparam>
public sealed record Measured<T>
    where T : struct, IQuantity
{
    /// <summary>From plain numbers in the base unit.</summary>
    internal Measured(double value, double random, double systematic, double halfWidth, double confidence, Func<double, T> make)
    {
        Value = make(value);
        RandomError = make(random);
        SystematicError = make(systematic);
        HalfWidth = make(halfWidth);
        Low = make(value - halfWidth);
        High = make(value + halfWidth);
        Confidence = confidence;
    }

    /// <summary>The value.</summary>
    public T Value { get; }

    /// <summary>Standard error from the scatter of the readings.</summary>
    public T RandomError { get; }

    /// <summary>Standard error from what is the same in every reading: scale, frame rate, mass.</summary>
    public T SystematicError { get; }

    /// <summary>Half the width of the interval that covers the true value with the stated confidence.</summary>
    public T HalfWidth { get; }

    /// <summary>The lower end of that interval.</summary>
    public T Low { get; }

    /// <summary>The upper end of that interval.</summary>
    public T High { get; }

    /// <summary>The probability with which the interval covers.</summary>
    [Dimensionless]
    public double Confidence { get; }

    /// <summary>Value, interval and parts in words.</summary>
    public override string ToString()
        => string.Create(
            CultureInfo.InvariantCulture,
            $"{Show.Quantity(Value)} ± {Show.Quantity(HalfWidth)} ({100 * Confidence:G4} %; standard errors: scatter {Show.Quantity(RandomError)}, scale, time and mass {Show.Quantity(SystematicError)})");
}
