using UnitsNet;

namespace Magrail;

/// <summary>A coil on the sled: where it sits, which way it is wired, and which brushes feed it.</summary>
public sealed record CoilMount
{
    /// <summary>Describes a mounted coil.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="offset">How far its middle lies ahead of the sled's mark.</param>
    /// <param name="sense">Which way it is wired in its circuit.</param>
    /// <param name="circuit">
    /// Number of its circuit, 0 to 7: coils of the same number are in series on one pair of brushes, which sits at the first
    /// of them; each other number has brushes of its own.
    /// </param>
    /// <exception cref="ArgumentNullException"><paramref name="coil"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public CoilMount(Coil coil, Length offset, WindingSense sense = WindingSense.Plain, int circuit = 0)
    {
        ArgumentNullException.ThrowIfNull(coil);
        Coil = coil;
        Offset = Require.Finite(offset, "a coil has a place on the sled");
        Sense = Require.Defined(sense, "a coil is wired one way or the other");
        Circuit = Require.InRange(circuit, 0, 7, "a sled carries up to eight circuits");
    }

    /// <summary>The coil.</summary>
    public Coil Coil { get; }

    /// <summary>How far the coil's middle lies ahead of the sled's mark.</summary>
    public Length Offset { get; }

    /// <summary>Which way the coil is wired in its circuit.</summary>
    public WindingSense Sense { get; }

    /// <summary>Number of the circuit it belongs to.</summary>
    public int Circuit { get; }

    /// <summary>The mount in words.</summary>
    public override string ToString() => $"{Coil} at {Show.Quantity(Offset)}{(Sense == WindingSense.Crossed ? ", crossed" : "")}";
}

/// <summary>Which way a coil is wired in its circuit.</summary>
public enum WindingSense
{
    /// <summary>The start of the winding at the upper brush.</summary>
    Plain = 1,

    /// <summary>Start and end exchanged: right for a coil an odd number of pitches away from a plain one in series with it.</summary>
    Crossed = -1,
}
