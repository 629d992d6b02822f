using System.Globalization;

namespace Magrail;

/// <summary>When a check is due.</summary>
public enum CheckPhase
{
    /// <summary>With no source connected.</summary>
    BeforePower,

    /// <summary>The first time under power, at a low current.</summary>
    FirstPower,

    /// <summary>Before each launch.</summary>
    EachLaunch,
}

/// <summary>A step of the check list.</summary>
/// <param name="Number">Its number, from 1 through all phases.</param>
/// <param name="Phase">When it is due.</param>
/// <param name="What">What to check.</param>
/// <param name="Expect">What to find.</param>
public sealed record CheckStep(int Number, CheckPhase Phase, string What, string Expect)
{
    /// <summary>The step in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Number}. {What}: {Expect}");
}
