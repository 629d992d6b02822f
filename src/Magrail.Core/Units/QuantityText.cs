using UnitsNet;

namespace Magrail.Units;

/// <summary>Prints quantities as a workshop writes them: <c>12.5 mm</c>, <c>1.2 kA</c>.</summary>
public static class QuantityText
{
    /// <summary>The quantity with up to four significant digits, in the unit and prefix that fit its size.</summary>
    /// <param name="quantity">Any quantity of UnitsNet.</param>
    /// <returns>A number, a space and a unit.</returns>
    /// <exception cref="ArgumentNullException"><paramref name="quantity"/> is null.</exception>
    public static string Of(IQuantity quantity)
    {
        ArgumentNullException.ThrowIfNull(quantity);
        return Show.Quantity(quantity);
    }
}
