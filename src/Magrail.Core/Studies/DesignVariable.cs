using System.Collections.Immutable;

namespace Magrail;

/// <summary>
/// A design number that an <see cref="OptimumSearch"/> may choose: from a range, or from a list such as standard wire sizes; made by
/// <see cref="DesignNumber{T}.Between"/> and <see cref="DesignNumber{T}.OneOf"/>.
/// </summary>
public sealed class DesignVariable
{
    private readonly ImmutableArray<double> listed;
    private readonly Func<Launcher, int, Launcher>? applyListed;
    private readonly double least;
    private readonly double greatest;

    internal DesignVariable(DesignNumber number, double least, double greatest)
    {
        Number = number;
        this.least = least;
        this.greatest = greatest >= least
            ? greatest
            : throw Require.Fault(nameof(greatest), number.Text(greatest), $"{number.Text(least)} or more", "a range goes up");
    }

    internal DesignVariable(StudyAxis values)
    {
        // In rising order, so that the neighbors in the list are neighbors in size.
        int[] order = [.. Enumerable.Range(0, values.Count).OrderBy(values.Value)];
        Number = values.Number;
        listed = [.. order.Select(values.Value)];
        applyListed = (launcher, place) => values.Apply(launcher, order[place]);
        greatest = values.Count - 1;
    }

    /// <summary>The design number.</summary>
    public DesignNumber Number { get; }

    /// <summary>The variable in words.</summary>
    public override string ToString()
        => listed.IsDefault ? $"{Number.Name}, {Number.Text(least)} to {Number.Text(greatest)}" : $"{Number.Name}, one of {string.Join(", ", listed.Select(Number.Text))}";

    // Search works on coordinates: the value itself, or the place in the list.

    /// <summary>Whether the coordinate is whole.</summary>
    internal bool IsWhole => !listed.IsDefault || Number.IsWhole;

    internal double Least => least;

    internal double Greatest => greatest;

    internal Launcher Apply(Launcher launcher, double coordinate)
        => applyListed is null ? Number.Apply(launcher, coordinate) : applyListed(launcher, (int)coordinate);

    /// <summary>The value of a coordinate, SI.</summary>
    internal double Value(double coordinate) => listed.IsDefault ? coordinate : listed[(int)coordinate];

    /// <summary>The coordinate nearest to a launcher's own value; the middle where it tells none.</summary>
    internal double CoordinateOf(Launcher launcher)
    {
        double value = Number.Read(launcher);
        double coordinate = !double.IsFinite(value) ? 0.5 * (least + greatest)
            : listed.IsDefault ? value
            : Enumerable.Range(0, listed.Length).MinBy(place => Math.Abs(listed[place] - value));
        return Held(coordinate);
    }

    /// <summary>A coordinate within the range, and whole where it must be.</summary>
    internal double Held(double coordinate)
        => Math.Clamp(IsWhole ? Math.Round(coordinate) : coordinate, IsWhole ? Math.Ceiling(least) : least, IsWhole ? Math.Floor(greatest) : greatest);
}
