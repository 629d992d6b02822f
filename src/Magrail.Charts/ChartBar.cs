namespace Magrail.Charts;

/// <summary>One horizontal bar.</summary>
/// <param name="Name">The words beside it.</param>
/// <param name="From">Where it begins, in the unit of the axis.</param>
/// <param name="To">Where it ends, in the unit of the axis.</param>
/// <param name="Kind">What it stands for, which sets its color and hatching.</param>
public sealed record ChartBar(string Name, double From, double To, ChartBarKind Kind)
{
    /// <summary>The words after the name, where they say more than the length of the bar; made from its numbers where null.</summary>
    public string? Words { get; init; }
}

/// <summary>What a bar stands for.</summary>
public enum ChartBarKind
{
    /// <summary>A plain number.</summary>
    Plain,

    /// <summary>Something that came in.</summary>
    Gain,

    /// <summary>Something taken off and lost.</summary>
    Loss,

    /// <summary>What is left and kept.</summary>
    Kept,

    /// <summary>Something beyond its limit: dark and hatched, so that it stands out on grey paper too.</summary>
    Broken,
}
