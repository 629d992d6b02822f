using System.Globalization;
using Magrail.Sources;

namespace Magrail;

/// <summary>What somebody asks for a part: an amount and a currency, as the user gives it.</summary>
public sealed record Price
{
    /// <summary>Describes a price.</summary>
    /// <param name="amount">The amount for one piece, or for one meter of what is sold by length; zero or above.</param>
    /// <param name="currency">The currency as it is to be printed, such as <c>EUR</c>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The amount is below zero.</exception>
    /// <exception cref="ArgumentException">The currency is empty.</exception>
    public Price([Dimensionless] decimal amount, string currency)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(currency);
        Amount = amount >= 0
            ? amount
            : throw Require.Fault(nameof(amount), amount.ToString(CultureInfo.InvariantCulture), "zero or above", "nobody pays for taking a part");
        Currency = currency.Trim();
    }

    /// <summary>The amount.</summary>
    [Dimensionless]
    public decimal Amount { get; }

    /// <summary>The currency.</summary>
    public string Currency { get; }

    /// <summary>Amount and currency, such as <c>0.45 EUR</c>.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => Words(Amount, Currency);

    internal static string Words(decimal amount, string currency)
        => string.Create(CultureInfo.InvariantCulture, $"{amount:0.00##} {currency}");
}
