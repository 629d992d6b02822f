using System.Collections.Immutable;
using UnitsNet;

namespace Magrail;

/// <summary>A pick-up line: a row of contact strips along the track on which one brush of each coil slides.</summary>
/// <remarks>
/// A line may be described with strips out of order or overlapping; <see cref="Launcher.Validate"/> reports that together
/// with every other fault between the parts.
/// </remarks>
public sealed record ContactLine
{
    /// <summary>Describes a line.</summary>
    /// <param name="strips">Its strips, in the order of travel; one or more.</param>
    /// <exception cref="ArgumentNullException"><paramref name="strips"/> or one of them is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">There is no strip.</exception>
    public ContactLine(IEnumerable<ContactStrip> strips)
    {
        ArgumentNullException.ThrowIfNull(strips);
        Strips = [.. strips];
        foreach (ContactStrip strip in Strips)
        {
            ArgumentNullException.ThrowIfNull(strip, nameof(strips));
        }

        if (Strips.Length == 0)
        {
            throw Require.Fault(nameof(strips), "empty", "one strip or more", "a line without a strip feeds nothing");
        }
    }

    /// <summary>The strips in the order of travel.</summary>
    public ImmutableArray<ContactStrip> Strips { get; }

    /// <summary>
    /// The shortest gap between neighbouring strips of opposite rails: a brush longer than this bridges them and
    /// shorts the source. Null where no such neighbours exist.
    /// </summary>
    public Length? ShortestOppositeGap
    {
        get
        {
            double? shortest = null;
            ContactStrip? before = null;
            foreach (ContactStrip strip in Strips.OrderBy(strip => strip.Start.Meters))
            {
                if (strip.Bus == Bus.Dead)
                {
                    continue;
                }

                if (before is not null && before.Bus != strip.Bus)
                {
                    double gap = strip.Start.Meters - before.End.Meters;
                    shortest = shortest is double least ? Math.Min(least, gap) : gap;
                }

                before = strip;
            }

            return shortest is double meters ? Length.FromMeters(meters) : null;
        }
    }

    /// <summary>Two lines are equal where all their strips are.</summary>
    /// <param name="other">Another line.</param>
    public bool Equals(ContactLine? other) => other is not null && Strips.AsSpan().SequenceEqual(other.Strips.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Strips.Length, Strips[0], Strips[^1]);

    /// <summary>The line in words.</summary>
    public override string ToString() => $"{Strips.Length} strips, {Show.Quantity(Strips[0].Start)} to {Show.Quantity(Strips[^1].End)}";
}
