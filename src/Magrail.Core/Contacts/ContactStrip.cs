using UnitsNet;

namespace Magrail;

/// <summary>One conducting strip of a contact line: from where to where along the track, and what it is wired to.</summary>
public sealed record ContactStrip
{
    /// <summary>Describes a strip.</summary>
    /// <param name="start">Where it begins, x in the track's frame.</param>
    /// <param name="end">Where it ends, beyond <paramref name="start"/>.</param>
    /// <param name="bus">What it is wired to.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite, or the end does not lie beyond the start.</exception>
    public ContactStrip(Length start, Length end, Bus bus)
    {
        Start = Require.Finite(start, "a strip has a place on the track");
        End = Require.Finite(end, "a strip has a place on the track");
        Bus = Require.Defined(bus, "a strip is wired to a rail or to nothing");
        if (End.Meters <= Start.Meters)
        {
            throw Require.Fault(nameof(end), Show.Quantity(end), $"beyond the start, {Show.Quantity(start)}", "a strip has a length");
        }
    }

    /// <summary>Where the strip begins, x in the track's frame.</summary>
    public Length Start { get; }

    /// <summary>Where the strip ends, x in the track's frame.</summary>
    public Length End { get; }

    /// <summary>What the strip is wired to.</summary>
    public Bus Bus { get; }

    /// <summary>The strip's length.</summary>
    public Length Length => End - Start;

    /// <summary>The strip in words.</summary>
    public override string ToString() => $"{Bus} strip {Show.Quantity(Start)} to {Show.Quantity(End)}";
}
