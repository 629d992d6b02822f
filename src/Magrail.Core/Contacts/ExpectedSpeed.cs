using System.Collections.Immutable;
using UnitsNet;

namespace Magrail;

/// <summary>The speed that a sled is expected to have along the track, before it is known: what strips with a growing lead are laid out by.</summary>
public sealed record ExpectedSpeed
{
    private readonly ImmutableArray<double> positions;
    private readonly ImmutableArray<double> speeds;
    private readonly bool accelerated;

    private ExpectedSpeed(ImmutableArray<double> positions, ImmutableArray<double> speeds, bool accelerated)
    {
        this.positions = positions;
        this.speeds = speeds;
        this.accelerated = accelerated;
    }

    /// <summary>The speed under one acceleration all the way: v² rises in proportion to the distance, v = v_exit √((x − from)/(to − from)).</summary>
    /// <param name="exit">Speed at the end, above zero.</param>
    /// <param name="from">Where the sled starts from rest.</param>
    /// <param name="to">Where it reaches the exit speed, beyond <paramref name="from"/>.</param>
    /// <remarks>Before the start the speed is zero, beyond the end that of the end.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static ExpectedSpeed Accelerated(Speed exit, Length from, Length to)
    {
        double most = Require.Positive(exit, "a launch ends in motion").MetersPerSecond;
        double start = Require.Finite(from, "a place on the track").Meters;
        double end = Require.Finite(to, "a place on the track").Meters;
        return end > start
            ? new ExpectedSpeed([start, end], [0, most], accelerated: true)
            : throw Require.Fault(nameof(to), Show.Quantity(to), $"beyond the start, {Show.Quantity(from)}", "speed is gained over a way");
    }

    /// <summary>Speeds known at places, such as those of an earlier launch; straight lines in between.</summary>
    /// <param name="places">Places in ascending order with the speed at each, zero or above; one or more.</param>
    /// <remarks>Before the first place the speed is that of the first, beyond the last that of the last.</remarks>
    /// <exception cref="ArgumentNullException"><paramref name="places"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">There is no place, a value is out of its range or not finite, or the places do not ascend.</exception>
    public static ExpectedSpeed Through(IEnumerable<(Length Position, Speed Speed)> places)
    {
        ArgumentNullException.ThrowIfNull(places);
        var positions = ImmutableArray.CreateBuilder<double>();
        var speeds = ImmutableArray.CreateBuilder<double>();
        foreach ((Length position, Speed speed) in places)
        {
            double x = Require.Finite(position, "a place on the track", nameof(places)).Meters;
            if (positions.Count > 0 && x <= positions[^1])
            {
                throw Require.Fault(nameof(places), Show.Quantity(position), $"beyond the one before, {Show.Quantity(Length.FromMeters(positions[^1]))}", "the places ascend");
            }

            positions.Add(x);
            speeds.Add(Require.NotNegative(speed, "strips are laid out for travel forward", nameof(places)).MetersPerSecond);
        }

        return positions.Count > 0
            ? new ExpectedSpeed(positions.ToImmutable(), speeds.ToImmutable(), accelerated: false)
            : throw Require.Fault(nameof(places), "empty", "one place or more", "without a speed none is expected");
    }

    /// <summary>The expected speed at a place.</summary>
    /// <param name="position">Position of the coil's middle.</param>
    /// <exception cref="ArgumentOutOfRangeException">The position is not finite.</exception>
    public Speed At(Length position)
    {
        double x = Require.Finite(position, "a place on the track").Meters;
        int index = positions.BinarySearch(x);
        if (index >= 0)
        {
            return Speed.FromMetersPerSecond(speeds[index]);
        }

        int after = ~index;
        if (after == 0 || after == positions.Length)
        {
            return Speed.FromMetersPerSecond(speeds[Math.Min(after, positions.Length - 1)]);
        }

        double part = (x - positions[after - 1]) / (positions[after] - positions[after - 1]);
        return Speed.FromMetersPerSecond(accelerated ? speeds[^1] * Math.Sqrt(part) : speeds[after - 1] + (part * (speeds[after] - speeds[after - 1])));
    }

    /// <summary>Two are equal where they give the same speeds by the same places.</summary>
    /// <param name="other">Another expected speed.</param>
    public bool Equals(ExpectedSpeed? other)
        => other is not null && accelerated == other.accelerated
            && positions.AsSpan().SequenceEqual(other.positions.AsSpan()) && speeds.AsSpan().SequenceEqual(other.speeds.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(accelerated, positions.Length, positions[^1], speeds[^1]);

    /// <summary>The expected speed in words.</summary>
    public override string ToString()
        => $"{Show.Quantity(Speed.FromMetersPerSecond(speeds[^1]))} at {Show.Quantity(Length.FromMeters(positions[^1]))}{(accelerated ? " by one acceleration" : "")}";
}
