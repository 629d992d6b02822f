using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>How accurately and how long a launch is computed.</summary>
public sealed record LaunchOptions
{
    /// <summary>The defaults.</summary>
    public static LaunchOptions Default { get; } = new();

    /// <summary>Relative tolerance of the integration, 1e-13 to 1e-2; 1e-8 by default.</summary>
    /// <remarks>
    /// It bounds the error of each step. What adds up over a launch with its dozens of commutations is more: the end speed is
    /// good to 100 times the tolerance, as a part of the greatest speed (the worst of some 10 000 generated launchers, at 1e-8,
    /// was 51 times; nine in ten are below 2). It does not hold where the launch turns on a knife's edge, such as a sled
    /// that only just does not stall.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    [Dimensionless]
    public double RelativeTolerance
    {
        get;
        init => field = Require.InRange(value, 1e-13, 1e-2, "below, rounding decides; above, the result means little", nameof(RelativeTolerance));
    } = 1e-8;

    /// <summary>Error allowed in the force per ampere against its peak, 1e-11 to 1e-3; 1e-7 by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    [Dimensionless]
    public double CouplingAccuracy
    {
        get;
        init => field = Require.InRange(value, 1e-11, 1e-3, "below, the field itself is not known better; above, the force would show steps", nameof(CouplingAccuracy));
    } = 1e-7;

    /// <summary>Time after which an unfinished run is given up, above zero; 5 s by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public Duration TimeLimit
    {
        get;
        init => field = Require.Positive(value, "a launch takes time", nameof(TimeLimit));
    } = Duration.FromSeconds(5);

    /// <summary>How long a sled may rest, with the switch done bouncing, before it counts as stalled; 0.25 s by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public Duration StallPatience
    {
        get;
        init => field = Require.Positive(value, "a sled rests until the current has risen", nameof(StallPatience));
    } = Duration.FromSeconds(0.25);

    /// <summary>The most steps to take, 1 or more; a million by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below 1.</exception>
    public int StepLimit
    {
        get;
        init => field = Require.InRange(value, 1, int.MaxValue, "a run takes steps", nameof(StepLimit));
    } = 1_000_000;

    /// <summary>The options in words.</summary>
    public override string ToString()
        => $"relative tolerance {Show.Number(RelativeTolerance)}, coupling to {Show.Number(CouplingAccuracy)}, at most {Show.Quantity(TimeLimit)} and {Show.Number(StepLimit)} steps";
}
