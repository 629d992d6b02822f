using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using UnitsNet;

namespace Magrail;

/// <summary>
/// What every effect costs a launch: the exit speed as described, without each effect in turn, and of the ideal launcher with each alone.
/// </summary>
/// <remarks>
/// The two costs of an effect differ, and the costs do not add up: where the copper of the coil already limits the current, a source's resistance matters
/// less than alone. A cost below zero is a gain, and not only downhill: what slows the sled gives the current more time to turn round, and a contact whose resistance rises
/// as it parts has less current left to break. Each launch is followed to the release, not into the brake.
/// </remarks>
public sealed class EffectCosts
{
    private EffectCosts(EffectLaunch described, EffectLaunch ideal, ImmutableArray<EffectCost> rows)
    {
        Described = described;
        Ideal = ideal;
        Rows = rows;
    }

    /// <summary>The launch as described.</summary>
    public EffectLaunch Described { get; }

    /// <summary>The launch without any effect.</summary>
    public EffectLaunch Ideal { get; }

    /// <summary>A row for each effect that the launcher has; the one whose absence makes the fastest launch first.</summary>
    public ImmutableArray<EffectCost> Rows { get; }

    /// <summary>Launches a launcher as described, ideally, and for each of its effects without it and with it alone.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="options">How accurately and how long; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    public static EffectCosts Of(Launcher launcher, LaunchOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        EffectLaunch described = new(launcher, launcher.Prepare(options).RunSummary(), null);
        EffectLaunch ideal = Launch(launcher.Ideal(), options);
        Dictionary<LaunchEffect, EffectLaunch> alone = [];
        List<EffectCost> rows = [];
        foreach (LaunchEffect effect in launcher.Effects())
        {
            LaunchEffect? needed = LaunchEffects.NeededBy(effect);
            EffectLaunch before = needed is LaunchEffect other ? alone[other] : ideal;
            alone[effect] = Launch(needed is LaunchEffect with ? launcher.WithOnly(with, effect) : launcher.WithOnly(effect), options);
            rows.Add(new EffectCost(effect, described, Launch(launcher.Without(effect), options), before, alone[effect]));
        }

        return new EffectCosts(described, ideal, [.. rows.OrderByDescending(row => row.Without.ExitSpeed?.MetersPerSecond ?? double.NegativeInfinity)]);
    }

    /// <summary>The row of an effect; null where the launcher does not have it.</summary>
    /// <param name="effect">The effect.</param>
    public EffectCost? this[LaunchEffect effect] => Rows.FirstOrDefault(row => row.Effect == effect);

    /// <summary>The table in words: a heading, the two launches, a line an effect.</summary>
    public override string ToString()
    {
        var text = new StringBuilder();
        Line("", "exit speed", "", "", "");
        Line("as described", Described.ToString(), "", "", "");
        Line("ideal", Ideal.ToString(), "", "", "");
        text.AppendLine();
        Line("effect", "without it", "costs", "it alone", "costs alone");
        foreach (EffectCost row in Rows)
        {
            Line(LaunchEffects.NameOf(row.Effect), row.Without.ToString(), Difference(row.Cost), row.Alone.ToString(), Difference(row.CostAlone));
        }

        return text.ToString().TrimEnd();

        void Line(string name, string a, string b, string c, string d)
            => text.AppendLine(string.Create(CultureInfo.InvariantCulture, $"{name,-34}{a,14}{b,14}{c,14}{d,14}").TrimEnd());
    }

    private static string Difference(Speed? cost)
        => cost is Speed speed ? string.Create(CultureInfo.InvariantCulture, $"{Math.Round(speed.MetersPerSecond, 3):0.###} m/s") : "–";

    private static EffectLaunch Launch(Launcher launcher, LaunchOptions? options)
    {
        IReadOnlyList<LauncherFault> faults = launcher.Validate();
        return faults.Count > 0
            ? new EffectLaunch(launcher, null, string.Join(" ", faults.Select(fault => fault.ToString())))
            : new EffectLaunch(launcher, launcher.Prepare(options).RunSummary(), null);
    }
}

/// <summary>One launch of a table of effects.</summary>
/// <param name="Launcher">The launcher.</param>
/// <param name="Summary">Its figures; null where it cannot be launched.</param>
/// <param name="Fault">
/// Why it cannot be launched; null where it can. A brush that bridges strips on purpose, for one, shorts the source without a limit once its
/// resistance is taken away.
/// </param>
public sealed record EffectLaunch(Launcher Launcher, LaunchSummary? Summary, string? Fault)
{
    /// <summary>Exit speed; null where the payload was not released.</summary>
    public Speed? ExitSpeed => Summary is { Outcome: LaunchOutcome.Released } summary ? summary.EndSpeed : null;

    /// <summary>Exit speed, or how the launch ended instead.</summary>
    public override string ToString()
        => Summary is not LaunchSummary summary ? "impossible" : ExitSpeed is Speed speed ? Show.Quantity(speed) : summary.Outcome switch
        {
            LaunchOutcome.Stalled => "stalls",
            LaunchOutcome.RanBack => "runs back",
            LaunchOutcome.TimeLimit => "out of time",
            _ => summary.Outcome.ToString(),
        };
}

/// <summary>What one effect costs.</summary>
/// <param name="Effect">The effect.</param>
/// <param name="Described">The launch with all effects.</param>
/// <param name="Without">The launch with all but this one (and what needs it: <see cref="LaunchEffects.NeededBy"/>).</param>
/// <param name="Before">The ideal launch, with the effect that this one needs where it needs one.</param>
/// <param name="Alone">That launch with this effect put in.</param>
public sealed record EffectCost(LaunchEffect Effect, EffectLaunch Described, EffectLaunch Without, EffectLaunch Before, EffectLaunch Alone)
{
    /// <summary>Exit speed that the launch as described would gain without the effect; null where one of the two does not release.</summary>
    public Speed? Cost => Without.ExitSpeed - Described.ExitSpeed;

    /// <summary>Exit speed that the ideal launch loses by the effect; null where one of the two does not release.</summary>
    public Speed? CostAlone => Before.ExitSpeed - Alone.ExitSpeed;

    /// <summary>The row in words.</summary>
    public override string ToString()
        => $"{LaunchEffects.NameOf(Effect)}: {Described} with it, {Without} without; {Alone} instead of {Before} where it is put in alone";
}
