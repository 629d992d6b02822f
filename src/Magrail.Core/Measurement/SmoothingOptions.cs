using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>Which part of a filmed run is smoothed, by which window, and how sure the bands are.</summary>
public sealed record SmoothingOptions
{
    /// <summary>The whole run, the window chosen by the data, bands of 95 %.</summary>
    public static SmoothingOptions Default { get; } = new();

    /// <summary>The first time used; null (the default) for the first frame.</summary>
    /// <remarks>
    /// Where the push begins or ends, the acceleration has a kink that no polynomial follows: leave out the rest before the launch and the coasting
    /// after the release, or smooth each stretch by itself.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Set to a value that is not finite.</exception>
    public Duration? From
    {
        get;
        init => field = value is Duration time ? Require.Finite(time, "a film has times", nameof(From)) : null;
    }

    /// <summary>The last time used; null (the default) for the last frame.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to a value that is not finite.</exception>
    public Duration? To
    {
        get;
        init => field = value is Duration time ? Require.Finite(time, "a film has times", nameof(To)) : null;
    }

    /// <summary>How many frames the window holds, 8 or more; null (the default) where leaving one out chooses it.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below 8.</exception>
    public int? WindowFrames
    {
        get;
        init => field = value is int frames ? Require.InRange(frames, SmoothedRun.LeastWindow, int.MaxValue, "a polynomial of the fourth degree with an error needs that many", nameof(WindowFrames)) : null;
    }

    /// <summary>The probability with which each band covers the truth at one time, 0.5 to 0.9999; 0.95 by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    [Dimensionless]
    public double Confidence
    {
        get;
        init => field = Require.InRange(value, 0.5, 0.9999, "a band covers more often than not, and never always", nameof(Confidence));
    } = 0.95;

    /// <summary>The options in words.</summary>
    public override string ToString()
        => $"bands of {Show.Number(100 * Confidence)} %, {(WindowFrames is int frames ? $"windows of {frames} frames" : "window chosen by the data")}"
            + $"{(From is Duration from ? $", from {Show.Quantity(from)}" : string.Empty)}{(To is Duration to ? $", to {Show.Quantity(to)}" : string.Empty)}";
}
