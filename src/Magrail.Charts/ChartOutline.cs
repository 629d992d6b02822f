namespace Magrail.Charts;

/// <summary>A line, or a filled shape, drawn to scale in a map or a drawing.</summary>
public sealed record ChartOutline
{
    /// <summary>A line through places; <see cref="double.NaN"/> in both lists lifts the pen.</summary>
    /// <param name="name">What it is, for the key of the chart; empty for a line that needs no key.</param>
    /// <param name="x">Places along the horizontal axis, in its unit.</param>
    /// <param name="y">Places along the vertical axis, in its unit; as many as <paramref name="x"/>.</param>
    /// <exception cref="ArgumentException">The counts differ, or only one coordinate of a place is a number.</exception>
    public ChartOutline(string name, IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(x);
        ArgumentNullException.ThrowIfNull(y);
        if (x.Count != y.Count)
        {
            throw new ArgumentException($"Outline '{name}' has {x.Count} numbers along and {y.Count} up: it needs as many of both.", nameof(y));
        }

        for (int i = 0; i < x.Count; i++)
        {
            if (double.IsInfinity(x[i]) || double.IsInfinity(y[i]) || double.IsNaN(x[i]) != double.IsNaN(y[i]))
            {
                throw new ArgumentException($"Outline '{name}' has a place that is not finite at point {i}: only finite places can be drawn.", nameof(y));
            }
        }

        Name = name;
        X = x;
        Y = y;
    }

    /// <summary>What it is; empty for a line that needs no key.</summary>
    public string Name { get; }

    /// <summary>Places along the horizontal axis, in its unit; not a number where the pen is lifted.</summary>
    public IReadOnlyList<double> X { get; }

    /// <summary>Places along the vertical axis, in its unit; not a number where the pen is lifted.</summary>
    public IReadOnlyList<double> Y { get; }

    /// <summary>How the line is drawn; plain by default.</summary>
    public ChartPen Pen { get; init; } = ChartPen.Plain;

    /// <summary>How each closed piece is filled; not at all by default.</summary>
    public ChartFill Fill { get; init; } = ChartFill.None;
}

/// <summary>How a line of a drawing is drawn.</summary>
public enum ChartPen
{
    /// <summary>A dark line.</summary>
    Plain,

    /// <summary>A strong dark line with a white seam, to be seen on any ground.</summary>
    Bold,

    /// <summary>A broken dark line with a white seam.</summary>
    Dashed,

    /// <summary>A thin dark line with a white seam, for needles.</summary>
    Needle,

    /// <summary>A thin grey line.</summary>
    Fine,
}

/// <summary>How a shape of a drawing is filled; each kind has a lightness of its own.</summary>
public enum ChartFill
{
    /// <summary>Not at all.</summary>
    None,

    /// <summary>Nearly white.</summary>
    Light,

    /// <summary>Middle grey.</summary>
    Middle,

    /// <summary>Dark.</summary>
    Dark,

    /// <summary>Copper, deep.</summary>
    Copper,

    /// <summary>Copper, pale.</summary>
    PaleCopper,

    /// <summary>White, to cut a hole.</summary>
    White,
}
