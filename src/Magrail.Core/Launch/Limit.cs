using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>One limit of a launcher and how near a launch came to it.</summary>
/// <param name="Name">What is limited.</param>
/// <param name="Reached">The value of this launch.</param>
/// <param name="Allowed">The value that it must not exceed; or must reach, where <paramref name="MustReach"/>.</param>
/// <param name="MustReach">Whether the value must reach the limit and not stay below it.</param>
/// <param name="Margin">
/// What is left, as a part of the limit: 1 − reached/allowed, or 1 − needed/reached; zero at the limit, negative beyond it. Of temperatures, the
/// part of the allowed rise that is left.
/// </param>
/// <param name="Advice">What to know and what helps.</param>
public sealed record Limit(string Name, IQuantity Reached, IQuantity Allowed, bool MustReach, [property: Dimensionless] double Margin, string Advice)
{
    // A supply holds its current at its limit to round-off.
    private const double RoundOff = 1e-9;

    /// <summary>Whether the limit is broken; a value that meets it to round-off (1e-9) is at the limit.</summary>
    public bool IsBroken => IsBrokenBy(Margin);

    /// <summary>Whether a limit with this margin is broken.</summary>
    internal static bool IsBrokenBy(double margin) => margin < -RoundOff;

    /// <summary>A limit's name and margin in words: <c>coil insulation nearest with 20 %</c>.</summary>
    internal static string InWords(string name, double margin) => $"{name} {(IsBrokenBy(margin) ? "broken by" : "nearest with")} {Show.Number(100 * Math.Abs(margin))} %";

    /// <summary>The limit in words.</summary>
    public override string ToString()
        => $"{Name}: {Show.Quantity(Reached)} of {Show.Quantity(Allowed)}, margin {Show.Number(Math.Round(100 * Margin, 1))} %{(IsBroken ? " BROKEN" : "")}";
}
