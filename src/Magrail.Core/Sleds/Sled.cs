using System.Collections.Immutable;
using UnitsNet;

namespace Magrail;

/// <summary>The moving part: a carriage with its coils.</summary>
public sealed record Sled
{
    /// <summary>A sled with one coil at its mark.</summary>
    /// <param name="mass">Mass of the carriage with its brushes, without coils and payload; above zero.</param>
    /// <param name="coil">The coil.</param>
    /// <exception cref="ArgumentNullException"><paramref name="coil"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The mass is not above zero, or not finite.</exception>
    public Sled(Mass mass, Coil coil)
        : this(mass, [new CoilMount(coil, Length.Zero)])
    {
    }

    /// <summary>A sled with several coils.</summary>
    /// <param name="mass">Mass of the carriage with its brushes, without coils and payload; above zero.</param>
    /// <param name="coils">The mounted coils, one or more; the numbers of their circuits are 0, 1, 2, … without a gap.</param>
    /// <exception cref="ArgumentNullException"><paramref name="coils"/> or one of them is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The mass is not above zero, there is no coil, or a circuit number is left out.</exception>
    public Sled(Mass mass, IEnumerable<CoilMount> coils)
    {
        ArgumentNullException.ThrowIfNull(coils);
        Mass = Require.Positive(mass, "a carriage has a mass");
        Coils = [.. coils];
        foreach (CoilMount mount in Coils)
        {
            ArgumentNullException.ThrowIfNull(mount, nameof(coils));
        }

        if (Coils.Length == 0)
        {
            throw Require.Fault(nameof(coils), "empty", "one coil or more", "without a coil nothing pushes");
        }

        int[] circuits = [.. Coils.Select(mount => mount.Circuit).Distinct().Order()];
        if (circuits[^1] != circuits.Length - 1)
        {
            throw Require.Fault(nameof(coils), $"circuits {string.Join(", ", circuits)}", "circuits 0, 1, 2, … without a gap", "each number is one pair of brushes");
        }

        CircuitCount = circuits.Length;
    }

    /// <summary>Mass of the carriage with its brushes, without coils and payload.</summary>
    public Mass Mass { get; }

    /// <summary>The mounted coils.</summary>
    public ImmutableArray<CoilMount> Coils { get; }

    /// <summary>How many circuits the coils form.</summary>
    public int CircuitCount { get; }

    /// <summary>Friction in the guide; none by default.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public GuideFriction Friction { get; init => field = Require.Present(value, nameof(Friction)); } = GuideFriction.None;

    /// <summary>How far the coils run off the middle of their path, across, as a guide out of line makes them; zero by default.</summary>
    /// <remarks>Off the middle the magnets draw the coil sideways, which loads the guide: see <see cref="LateralForce"/>.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Set to a value that is not finite.</exception>
    public Length OffsetAcross
    {
        get;
        init => field = Require.Finite(value, "the coils have a place", nameof(OffsetAcross));
    } = Length.Zero;

    /// <summary>How far the coils run off the middle of their path, upward; zero by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to a value that is not finite.</exception>
    public Length OffsetUp
    {
        get;
        init => field = Require.Finite(value, "the coils have a place", nameof(OffsetUp));
    } = Length.Zero;

    /// <summary>Drag area Cd · A of sled and payload in the air; zero by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below zero, or not finite.</exception>
    public Area DragArea
    {
        get;
        init => field = Require.NotNegative(value, "drag opposes motion", nameof(DragArea));
    } = Area.Zero;

    /// <summary>Mass of carriage and coils, without payload.</summary>
    public Mass MassWithCoils => Mass + Mass.FromKilograms(Coils.Sum(mount => mount.Coil.Mass.Kilograms));

    /// <summary>Two sleds are equal where all their parts are.</summary>
    /// <param name="other">Another sled.</param>
    public bool Equals(Sled? other)
        => other is not null && Mass.Kilograms.Equals(other.Mass.Kilograms) && Friction == other.Friction
            && DragArea.SquareMeters.Equals(other.DragArea.SquareMeters) && OffsetAcross.Meters.Equals(other.OffsetAcross.Meters)
            && OffsetUp.Meters.Equals(other.OffsetUp.Meters) && Coils.AsSpan().SequenceEqual(other.Coils.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Mass.Kilograms, Friction, DragArea.SquareMeters, Coils.Length);

    /// <summary>The sled in words.</summary>
    public override string ToString()
        => $"sled of {Show.Quantity(MassWithCoils)} with {Coils.Length} {(Coils.Length == 1 ? "coil" : "coils")}";
}
