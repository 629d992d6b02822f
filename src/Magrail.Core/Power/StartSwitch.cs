using System.Collections.Immutable;
using UnitsNet;

namespace Magrail;

/// <summary>The switch that starts the launch: closed from time zero on, or bouncing first.</summary>
/// <remarks>
/// While the switch is open, every coil circuit is cut off from the source; what its current does then is decided by the
/// launcher's <see cref="Suppressor"/>, as at a strip's end.
/// </remarks>
public sealed record StartSwitch
{
    /// <summary>Describes a switch.</summary>
    /// <param name="resistance">Resistance when closed, zero or above.</param>
    /// <param name="bounce">
    /// The times after the first touch at which it opens, closes, opens, … ; ascending, above zero, and an even number, so
    /// that it ends closed. None by default.
    /// </param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range, the times do not ascend, or their number is odd.</exception>
    public StartSwitch(ElectricResistance resistance, IEnumerable<Duration>? bounce = null)
    {
        Resistance = Require.NotNegative(resistance, "a contact dissipates, it does not drive");
        Bounce = [.. (bounce ?? []).Select(time => Require.Positive(time, "the switch first touches at time zero", nameof(bounce)))];
        if (Bounce.Length % 2 != 0)
        {
            throw Require.Fault(nameof(bounce), $"{Bounce.Length} times", "an even number of times", "the switch ends closed, so each opening is followed by a closing");
        }

        for (int i = 1; i < Bounce.Length; i++)
        {
            if (Bounce[i].Seconds <= Bounce[i - 1].Seconds)
            {
                throw Require.Fault(nameof(bounce), Show.Quantity(Bounce[i]), $"later than {Show.Quantity(Bounce[i - 1])}", "the times ascend");
            }
        }
    }

    /// <summary>A switch without resistance that closes at once and stays closed.</summary>
    public static StartSwitch Ideal { get; } = new(ElectricResistance.Zero);

    /// <summary>Resistance when closed.</summary>
    public ElectricResistance Resistance { get; }

    /// <summary>Times after the first touch at which the switch opens, closes, opens, …</summary>
    public ImmutableArray<Duration> Bounce { get; }

    /// <summary>Two switches are equal where resistance and every bounce time are.</summary>
    /// <param name="other">Another switch.</param>
    public bool Equals(StartSwitch? other)
        => other is not null && Resistance.Ohms.Equals(other.Resistance.Ohms)
            && Bounce.Select(t => t.Seconds).SequenceEqual(other.Bounce.Select(t => t.Seconds));

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Resistance.Ohms, Bounce.Length);

    /// <summary>The switch in words.</summary>
    public override string ToString()
        => Bounce.Length == 0 ? $"switch of {Show.Quantity(Resistance)}" : $"switch of {Show.Quantity(Resistance)} that opens {Bounce.Length / 2} times until {Show.Quantity(Bounce[^1])}";
}
