using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>An entry of the parts list: so many pieces, or so many meters, of one thing.</summary>
public sealed record ListedPart
{
    private ListedPart(string name, string description, int count, Length? length, Mass? mass, Price? price)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(description);
        Name = name.Trim();
        Description = description;
        Count = Require.InRange(count, 1, int.MaxValue, "a part that is not needed is not listed");
        Length = length is Length given ? Require.Positive(given, "what is sold by length has a length", nameof(length)) : null;
        Mass = mass is Mass heavy ? Require.NotNegative(heavy, "a part does not float", nameof(mass)) : null;
        Price = price;
    }

    /// <summary>The name, by which prices are given.</summary>
    public string Name { get; }

    /// <summary>What it is.</summary>
    public string Description { get; }

    /// <summary>How many pieces; 1 for what is sold by length.</summary>
    public int Count { get; }

    /// <summary>How much of what is sold by length; null for pieces.</summary>
    public Length? Length { get; }

    /// <summary>Mass of all pieces, or of the whole length; null where it is not known.</summary>
    public Mass? Mass { get; }

    /// <summary>Price of one piece, or of one meter; null where it is not given.</summary>
    public Price? Price { get; init; }

    /// <summary>Pieces of one kind.</summary>
    /// <param name="name">The name.</param>
    /// <param name="count">How many, one or more.</param>
    /// <param name="description">What it is; nothing by default.</param>
    /// <param name="massEach">Mass of one piece; not known by default.</param>
    /// <param name="price">Price of one piece; not given by default.</param>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The count is below one, or the mass is below zero.</exception>
    public static ListedPart Pieces(string name, int count, string description = "", Mass? massEach = null, Price? price = null)
        => new(name, description, count, null, massEach is Mass each ? Magrail.Require.InBaseUnit(each) * count : null, price);

    /// <summary>A length of something.</summary>
    /// <param name="name">The name.</param>
    /// <param name="length">How much, above zero.</param>
    /// <param name="description">What it is; nothing by default.</param>
    /// <param name="mass">Mass of the whole length; not known by default.</param>
    /// <param name="price">Price of one meter; not given by default.</param>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The length is not above zero, or the mass is below zero.</exception>
    public static ListedPart ByLength(string name, Length length, string description = "", Mass? mass = null, Price? price = null)
        => new(name, description, 1, length, mass, price);

    /// <summary>What all pieces, or the whole length, cost, in the currency of the price; null where there is no price.</summary>
    internal decimal? Cost => Price is Price price ? price.Amount * (Length is Length meters ? (decimal)meters.Meters : Count) : null;

    /// <summary>How much is needed.</summary>
    internal string Amount => Length is Length meters ? Show.Quantity(meters) : Count.ToString(CultureInfo.InvariantCulture);

    /// <summary>The entry in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => Length is null ? $"{Amount} × {Name}" : $"{Amount} of {Name}";
}
