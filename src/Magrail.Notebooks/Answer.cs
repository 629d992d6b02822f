using System.Globalization;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks;

/// <summary>
/// A reader's answer to an exercise, held against the computed one. Unlike <see cref="Check"/> it never stops the
/// notebook: a missing or wrong answer is a step on the way.
/// </summary>
public sealed record Answer
{
    private readonly string _words;

    private Answer(bool? isRight, string words)
    {
        IsRight = isRight;
        _words = words;
    }

    /// <summary>Whether the answer is right; null while there is none.</summary>
    public bool? IsRight { get; }

    /// <summary>Holds a quantity against the computed one.</summary>
    /// <typeparam name="T">The quantity.</typeparam>
    /// <param name="mine">The reader's answer; null while there is none.</param>
    /// <param name="computed">The computed one.</param>
    /// <param name="within">How near counts as right, as a share of the computed one, above zero.</param>
    /// <param name="because">What there is to learn, shown once the answer is right.</param>
    /// <returns>The judgement, in words when printed.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="within"/> is not above zero.</exception>
    public static Answer Of<T>(T? mine, T computed, double within, string because)
        where T : struct, IQuantity
        => Of(mine?.As(computed.Unit), (double)computed.Value, within, because, QuantityText.Of(computed));

    /// <summary>Holds a plain number against the computed one.</summary>
    /// <param name="mine">The reader's answer; null while there is none.</param>
    /// <param name="computed">The computed one.</param>
    /// <param name="within">How near counts as right, as a share of the computed one, above zero.</param>
    /// <param name="because">What there is to learn, shown once the answer is right.</param>
    /// <returns>The judgement, in words when printed.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="within"/> is not above zero.</exception>
    public static Answer Of(double? mine, double computed, double within, string because)
        => Of(mine, computed, within, because, computed.ToString("G3", CultureInfo.InvariantCulture));

    /// <summary>The judgement in words; the computed answer is named only once it has been found.</summary>
    /// <returns>A sentence or two.</returns>
    public override string ToString() => _words;

    private static Answer Of(double? mine, double computed, double within, string because, string shown)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(within);
        ArgumentNullException.ThrowIfNull(because);
        if (mine is not { } given || double.IsNaN(given))
        {
            return new Answer(null, "No answer yet: put yours in the line with the arrow and run the cell.");
        }

        if (Math.Abs(given - computed) <= within * Math.Abs(computed))
        {
            return new Answer(true, $"Right: it is {shown}. {because}");
        }

        return new Answer(false, given < computed ? "Not yet: it is more than that." : "Not yet: it is less than that.");
    }
}
