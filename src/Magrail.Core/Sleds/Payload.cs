using UnitsNet;

namespace Magrail;

/// <summary>What the launcher throws: carried on the sled to the release.</summary>
public sealed record Payload
{
    /// <summary>Describes a payload.</summary>
    /// <param name="mass">Its mass, zero or above (zero: the sled runs empty).</param>
    /// <param name="neededSpeed">The release speed it needs, above zero; not stated by default.</param>
    /// <param name="accelerationLimit">The acceleration it bears, above zero; not stated by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public Payload(Mass mass, Speed? neededSpeed = null, Acceleration? accelerationLimit = null)
    {
        Mass = Require.NotNegative(mass, "a mass is not below zero");
        NeededSpeed = neededSpeed is Speed speed ? Require.Positive(speed, "a payload that needs no speed needs no launcher", nameof(neededSpeed)) : null;
        AccelerationLimit = accelerationLimit is Acceleration limit ? Require.Positive(limit, "a payload that bears no acceleration cannot be launched", nameof(accelerationLimit)) : null;
    }

    /// <summary>No payload: the sled runs empty.</summary>
    public static Payload None { get; } = new(Mass.Zero);

    /// <summary>Mass.</summary>
    public Mass Mass { get; }

    /// <summary>The release speed it needs; null where not stated.</summary>
    public Speed? NeededSpeed { get; }

    /// <summary>The acceleration it bears; null where not stated.</summary>
    public Acceleration? AccelerationLimit { get; }

    /// <summary>The payload in words.</summary>
    public override string ToString() => $"payload of {Show.Quantity(Mass)}";
}
