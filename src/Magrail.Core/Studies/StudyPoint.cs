using System.Collections.Immutable;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A design number as a column of a result.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Unit">The SI unit in which files keep it; empty for a plain number.</param>
public sealed record StudyColumn(string Name, string Unit)
{
    /// <summary>The column in words.</summary>
    public override string ToString() => Unit.Length == 0 ? Name : $"{Name} ({Unit})";
}

/// <summary>One point of a study: the values of its design numbers, and what came of the launch.</summary>
public sealed class StudyPoint
{
    private readonly double[] values;

    internal StudyPoint(ImmutableArray<StudyColumn> columns, int index, double[] values, LaunchSummary? summary, string? fault)
    {
        Columns = columns;
        Index = index;
        this.values = values;
        Summary = summary;
        Fault = fault;
    }

    /// <summary>The design numbers.</summary>
    public ImmutableArray<StudyColumn> Columns { get; }

    /// <summary>Its place in the study, from 0.</summary>
    public int Index { get; }

    /// <summary>The figures of the launch, released or not; null where the launcher could not be launched.</summary>
    public LaunchSummary? Summary { get; }

    /// <summary>Why the launcher could not be launched; null where it could.</summary>
    public string? Fault { get; }

    /// <summary>The exit speed; null where no payload was released.</summary>
    public Speed? ExitSpeed => Summary is { Outcome: LaunchOutcome.Released } summary ? summary.EndSpeed : null;

    /// <summary>Whether the payload was released with every stated limit kept.</summary>
    public bool Holds => Summary is { Holds: true };

    /// <summary>The value of a design number.</summary>
    /// <param name="number">One of those that the study changed.</param>
    /// <typeparam name="T">The type of its values.</typeparam>
    /// <exception cref="ArgumentNullException">The number is null.</exception>
    /// <exception cref="ArgumentException">The study did not change it.</exception>
    [return: Dimensionless]
    public T Value<T>(DesignNumber<T> number)
        where T : notnull
    {
        ArgumentNullException.ThrowIfNull(number);
        for (int i = 0; i < Columns.Length; i++)
        {
            if (Columns[i].Name == number.Name && Columns[i].Unit == number.Unit)
            {
                return number.Typed(values[i]);
            }
        }

        throw new ArgumentException($"The study did not change the {number.Name}; it changed {string.Join(", ", Columns)}.", nameof(number));
    }

    /// <summary>The point in words.</summary>
    public override string ToString()
    {
        string head = string.Join(", ", Columns.Select((column, i) => $"{column.Name} {ValueText(i)}"));
        string end = Summary is not LaunchSummary summary ? $"not launched: {Fault}"
            : summary.Outcome != LaunchOutcome.Released ? $"not released, the sled {summary.Outcome.InWords()}"
            : summary.NearestLimit is not string limit ? Show.Quantity(summary.EndSpeed)
            : $"{Show.Quantity(summary.EndSpeed)}, {Limit.InWords(limit, summary.LeastMargin)}";
        return $"{head}: {end}";
    }

    internal ReadOnlySpan<double> Values => values;

    /// <summary>The value in a column as people write it.</summary>
    internal string ValueText(int column) => Columns[column].Unit switch
    {
        "" => Show.Number(values[column]),
        "m" => Show.Quantity(Length.FromMeters(values[column])),
        "kg" => Show.Quantity(Mass.FromKilograms(values[column])),
        "s" => Show.Quantity(Duration.FromSeconds(values[column])),
        "ohm" => Show.Quantity(ElectricResistance.FromOhms(values[column])),
        "F" => Show.Quantity(ElectricCapacitance.FromFarads(values[column])),
        string unit => $"{Show.Number(values[column])} {unit}",
    };

    /// <summary>The same point with the columns of another array, so that a result keeps one.</summary>
    internal StudyPoint Under(ImmutableArray<StudyColumn> columns) => new(columns, Index, values, Summary, Fault);
}
