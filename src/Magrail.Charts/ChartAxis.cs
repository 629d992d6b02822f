namespace Magrail.Charts;

/// <summary>An axis: what is shown, and the unit in which its numbers are given.</summary>
public sealed record ChartAxis
{
    /// <summary>An axis of a quantity in a unit.</summary>
    /// <param name="quantity">What is shown, for example <c>speed</c>.</param>
    /// <param name="unit">The unit of the numbers, for example <c>m/s</c>; empty for a plain number.</param>
    /// <exception cref="ArgumentException">The quantity has no name.</exception>
    public ChartAxis(string quantity, string unit)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(quantity);
        ArgumentNullException.ThrowIfNull(unit);
        Quantity = quantity;
        Unit = unit;
    }

    /// <summary>What is shown.</summary>
    public string Quantity { get; }

    /// <summary>The unit of the numbers; empty for a plain number.</summary>
    public string Unit { get; }

    /// <summary>The words along the axis: the quantity, and the unit in brackets.</summary>
    public string Title => Unit.Length == 0 ? Quantity : $"{Quantity} ({Unit})";
}
