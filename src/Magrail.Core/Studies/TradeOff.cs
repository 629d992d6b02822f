using System.Collections.Immutable;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>What a designer wants more or less of: one side of a trade-off.</summary>
public sealed class Goal
{
    private Goal(string name, int sense, Func<StudyPoint, double> value, Func<StudyPoint, string> words)
    {
        Name = name;
        Sense = sense;
        Of = value;
        WordsOf = words;
    }

    /// <summary>More exit speed.</summary>
    public static Goal ExitSpeed { get; } = Greatest("exit speed", point => point.Summary!.Value.EndSpeed);

    /// <summary>Less current through the coil.</summary>
    public static Goal PeakCurrent { get; } = Least("peak current", point => point.Summary!.Value.PeakCurrent);

    /// <summary>Less current from the source.</summary>
    public static Goal PeakSourceCurrent { get; } = Least("peak source current", point => point.Summary!.Value.PeakSourceCurrent);

    /// <summary>Less energy from the source.</summary>
    public static Goal EnergyDrawn { get; } = Least("energy drawn", point => point.Summary!.Value.EnergyDrawn);

    /// <summary>A gentler launch.</summary>
    public static Goal PeakAcceleration { get; } = Least("peak acceleration", point => point.Summary!.Value.PeakAcceleration);

    /// <summary>Its name.</summary>
    public string Name { get; }

    /// <summary>+1 for more, −1 for less.</summary>
    internal int Sense { get; }

    internal Func<StudyPoint, double> Of { get; }

    /// <summary>The figure of a point as people write it.</summary>
    internal Func<StudyPoint, string> WordsOf { get; }

    /// <summary>More of a figure of your own.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The figure of a released point, such as a mass of <see cref="Study.LauncherAt"/>.</param>
    /// <typeparam name="T">The quantity.</typeparam>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static Goal Greatest<T>(string name, Func<StudyPoint, T> value)
        where T : IQuantity
        => Make(name, 1, value);

    /// <summary>Less of a figure of your own.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The figure of a released point, such as a mass of <see cref="Study.LauncherAt"/>.</param>
    /// <typeparam name="T">The quantity.</typeparam>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static Goal Least<T>(string name, Func<StudyPoint, T> value)
        where T : IQuantity
        => Make(name, -1, value);

    /// <summary>Less of a plain number of your own, such as a price.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="value">The number of a released point.</param>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static Goal LeastNumber(string name, [Dimensionless] Func<StudyPoint, double> value)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(value);
        return new Goal(name, -1, value, point => Show.Number(value(point)));
    }

    /// <summary>The goal in words.</summary>
    public override string ToString() => $"{(Sense > 0 ? "more" : "less")} {Name}";

    private static Goal Make<T>(string name, int sense, Func<StudyPoint, T> value)
        where T : IQuantity
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(value);
        return new Goal(name, sense, point => (double)Require.InBaseUnit(value(point)).Value, point => Show.Quantity(value(point)));
    }
}

/// <summary>The trade-off front of a study: the points that no other point beats in every goal (the Pareto set).</summary>
public sealed class TradeOff
{
    private TradeOff(ImmutableArray<Goal> goals, ImmutableArray<StudyPoint> front)
    {
        Goals = goals;
        Front = front;
    }

    /// <summary>What is traded against what.</summary>
    public ImmutableArray<Goal> Goals { get; }

    /// <summary>The points of the front, the best in the first goal first.</summary>
    public ImmutableArray<StudyPoint> Front { get; }

    /// <summary>Finds the front among the released points of a study.</summary>
    /// <param name="result">The study.</param>
    /// <param name="goals">Two goals or more.</param>
    /// <param name="onlyWithinLimits">Whether points that break a limit are left out; true by default.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentException">There are fewer than two goals.</exception>
    public static TradeOff Of(StudyResult result, IReadOnlyList<Goal> goals, bool onlyWithinLimits = true)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(goals);
        if (goals.Count < 2)
        {
            throw new ArgumentException("A trade-off has two goals or more.", nameof(goals));
        }

        (StudyPoint Point, double[] Worth)[] all =
        [
            .. result.Points.Where(point => onlyWithinLimits ? point.Holds : point.ExitSpeed is not null)
                .Select(point => (point, goals.Select(goal => goal.Sense * goal.Of(point)).ToArray()))
                .OrderByDescending(one => one.Item2[0]).ThenBy(one => one.point.Index),
        ];

        // A point can be beaten only by one that is as good in the first goal, and what beats a beaten one beats it too: those before it, and those level with it.
        var front = new List<(StudyPoint Point, double[] Worth)>();
        foreach ((StudyPoint Point, double[] Worth) one in all)
        {
            if (!front.Exists(other => Beats(other.Worth, one.Worth)))
            {
                front.RemoveAll(other => Beats(one.Worth, other.Worth));
                front.Add(one);
            }
        }

        return new TradeOff([.. goals], [.. front.Select(one => one.Point)]);
    }

    /// <summary>The front in words, a line a point.</summary>
    public override string ToString()
        => string.Join(Environment.NewLine, Front.Select(point => point.ToString()).Prepend($"{string.Join(", ", Goals)}: {Front.Length} points"));

    private static bool Beats(double[] a, double[] b)
    {
        bool better = false;
        for (int i = 0; i < a.Length; i++)
        {
            if (a[i] < b[i])
            {
                return false;
            }

            better |= a[i] > b[i];
        }

        return better;
    }
}
