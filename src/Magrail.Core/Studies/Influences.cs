using System.Collections.Immutable;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// What limits a launch: how strongly its exit speed follows each design number, the strongest first.
/// </summary>
/// <remarks>
/// The elasticity of the exit speed v to a number p is d(ln v)/d(ln p): what a percent more of p does to v, in percent. It is a central difference. The step balances
/// the error of the launches (a hundred times their tolerance, see <see cref="LaunchOptions.RelativeTolerance"/>) against that of the difference; numbers that count
/// go one up and one down, wire goes to the next sizes of its series. A launcher that only just gets through some place may jump between two values; no difference
/// tells that.
/// </remarks>
public sealed class Influences
{
    private Influences(Speed exitSpeed, ImmutableArray<Influence> all)
    {
        ExitSpeed = exitSpeed;
        All = all;
    }

    /// <summary>The exit speed of the launcher as it is.</summary>
    public Speed ExitSpeed { get; }

    /// <summary>The influences, the strongest first; those that could not be found last.</summary>
    public ImmutableArray<Influence> All { get; }

    /// <summary>Finds the influences.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="numbers">The design numbers to vary; <see cref="DesignNumber.AllOf"/> where null. Numbers that are zero have no elasticity and are left out, but for the lead, which goes against the pitch.</param>
    /// <param name="options">How accurately; by default with a relative tolerance of 1e-9.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="LauncherDescriptionException">The launcher cannot be launched.</exception>
    /// <exception cref="InvalidOperationException">It does not release its payload, so that there is no exit speed.</exception>
    public static Influences Of(Launcher launcher, IReadOnlyList<DesignNumber>? numbers = null, LaunchOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        var study = new StudyOptions { Launch = options ?? new LaunchOptions { RelativeTolerance = 1e-9 }, FindsLimits = false };
        Speed speed = launcher.Launch(study.Launch).ExitSpeed;
        Influence[] found = [.. (numbers ?? DesignNumber.AllOf(launcher)).AsParallel().AsOrdered().Select(number => Find(launcher, number, speed, study)).OfType<Influence>()];
        return new Influences(speed, [.. found.OrderByDescending(influence => double.IsNaN(influence.Elasticity) ? -1 : Math.Abs(influence.Elasticity))]);
    }

    /// <summary>The influences in words, a line each.</summary>
    public override string ToString()
        => string.Join(Environment.NewLine, All.Select(influence => influence.ToString()).Prepend($"What limits this launch of {Show.Quantity(ExitSpeed)}, the strongest first:"));

    private static Influence? Find(Launcher launcher, DesignNumber number, Speed speed, StudyOptions options)
    {
        double value = number.Read(launcher);
        double scale = number == DesignNumber.Lead ? launcher.Track.Pitch.Meters : Math.Abs(value);
        if (!double.IsFinite(value) || scale == 0)
        {
            return null;
        }

        double noise = 100 * options.Launch.RelativeTolerance;
        double step = Math.Cbrt(noise);
        bool steps = number.Neighbors(value) is not null;
        (double below, double above) = number.Neighbors(value) ?? (value - (step * scale), value + (step * scale));
        double centre = Math.Log(speed.MetersPerSecond);
        (double low, string? lowFault) = LogSpeed(launcher, number, below, options);
        (double high, string? highFault) = LogSpeed(launcher, number, above, options);
        if (lowFault is not null && highFault is not null)
        {
            return new Influence(number, value, value, value, double.NaN, double.NaN, $"neither less nor more of it can be launched: {highFault}");
        }

        string? note = lowFault is not null ? $"less of it cannot be launched: {lowFault}" : highFault is not null ? $"more of it cannot be launched: {highFault}" : null;
        (low, below) = lowFault is not null ? (centre, value) : (low, below);
        (high, above) = highFault is not null ? (centre, value) : (high, above);

        // The lead against the pitch, everything else against itself.
        double Apart(double a, double b) => number == DesignNumber.Lead ? (b - a) / scale : Math.Log(b / a);
        double elasticity = (high - low) / Apart(below, above);
        double error = noise / Math.Abs(Apart(below, above));
        if (!steps && note is null)
        {
            // Twice the step has four times the error of the difference.
            (double lower, string? f1) = LogSpeed(launcher, number, value - (2 * step * scale), options);
            (double higher, string? f2) = LogSpeed(launcher, number, value + (2 * step * scale), options);
            error += f1 is null && f2 is null
                ? Math.Abs(((higher - lower) / Apart(value - (2 * step * scale), value + (2 * step * scale))) - elasticity)
                : 0;
        }
        else
        {
            // How much the two sides differ, where both are there.
            error += note is null ? 0.5 * Math.Abs(((high - centre) / Apart(value, above)) - ((centre - low) / Apart(below, value))) : 0;
        }

        return new Influence(number, value, below, above, elasticity, error, note);
    }

    private static (double LogSpeed, string? Fault) LogSpeed(Launcher launcher, DesignNumber number, double value, StudyOptions options)
    {
        (LaunchSummary? summary, string? fault) = StudyRun.Launch(() => number.Apply(launcher, value), options);
        return summary is LaunchSummary { Outcome: LaunchOutcome.Released } launch && launch.EndSpeed.MetersPerSecond > 0
            ? (Math.Log(launch.EndSpeed.MetersPerSecond), null)
            : (double.NaN, fault ?? $"the sled {summary!.Value.Outcome.InWords()}");
    }
}

/// <summary>How strongly the exit speed follows one design number.</summary>
public sealed class Influence
{
    private readonly double value;
    private readonly double below;
    private readonly double above;

    internal Influence(DesignNumber number, double value, double below, double above, double elasticity, double error, string? note)
    {
        Number = number;
        this.value = value;
        this.below = below;
        this.above = above;
        Elasticity = elasticity;
        Error = error;
        Note = note;
    }

    /// <summary>The design number.</summary>
    public DesignNumber Number { get; }

    /// <summary>
    /// d(ln v)/d(ln p): what a percent more does to the exit speed, in percent; of the lead, what a percent of the pitch does. NaN where it could not be found.
    /// </summary>
    [Dimensionless]
    public double Elasticity { get; }

    /// <summary>How far the elasticity may be off: what the launches' error and the step leave; where the number goes in steps, half the difference of its two sides.</summary>
    [Dimensionless]
    public double Error { get; }

    /// <summary>What stood in the way, such as a side on which nothing can be launched; null where nothing did.</summary>
    public string? Note { get; }

    /// <summary>The value of the design number as people write it.</summary>
    internal string ValueText => Number.Text(value);

    /// <summary>The influence in words.</summary>
    public override string ToString()
    {
        if (double.IsNaN(Elasticity))
        {
            return $"{Number.Name} ({Number.Text(value)}): {Note}";
        }

        string effect = Show.Number(Math.Abs(Elasticity));
        string head = Number == DesignNumber.Lead
            ? $"lead ({Number.Text(value)}): 1 % of the pitch more makes the payload {effect} % {(Elasticity >= 0 ? "faster" : "slower")}"
            : Math.Abs(Elasticity) <= Error
                ? $"{Number.Name} ({Number.Text(value)}): next to none"
                : $"{Number.Name} ({Number.Text(value)}): 1 % more makes the payload {effect} % {(Elasticity >= 0 ? "faster" : "slower")}";
        string between = Number.Neighbors(value) is null ? "" : $", taken between {Number.Text(below)} and {Number.Text(above)}";
        return head + between + (Note is null ? "" : $"; {Note}");
    }
}
