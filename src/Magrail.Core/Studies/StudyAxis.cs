using System.Collections.Immutable;

namespace Magrail;

/// <summary>A design number and the values of it that a study tries; made by <see cref="DesignNumber{T}.Over"/> or <see cref="DesignNumber{T}.FromTo"/>.</summary>
public sealed class StudyAxis
{
    private readonly ImmutableArray<double> values;
    private readonly Func<Launcher, int, Launcher> apply;

    internal StudyAxis(DesignNumber number, ImmutableArray<double> values, Func<Launcher, int, Launcher> apply)
    {
        if (values.IsEmpty)
        {
            throw new ArgumentException($"No value of {number.Name}; a study tries one or more.", nameof(values));
        }

        Number = number;
        this.values = values;
        this.apply = apply;
    }

    /// <summary>The design number.</summary>
    public DesignNumber Number { get; }

    /// <summary>How many values.</summary>
    public int Count => values.Length;

    /// <summary>The axis in words.</summary>
    public override string ToString()
        => Count == 1 ? $"{Number.Name} {Number.Text(values[0])}" : $"{Number.Name}, {Count} values from {Number.Text(values[0])} to {Number.Text(values[^1])}";

    internal double Value(int index) => values[index];

    internal Launcher Apply(Launcher launcher, int index) => apply(launcher, index);
}
