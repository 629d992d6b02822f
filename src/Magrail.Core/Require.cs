using System.Globalization;
using System.Runtime.CompilerServices;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The one place where a description is checked. Each check returns the value re-expressed in its base unit, so that
/// records compare by size and not by the unit somebody typed; each message names the parameter, the value with its unit,
/// the allowed range and the reason.
/// </summary>
internal static class Require
{
    /// <summary>Any finite value.</summary>
    public static T Finite<T>(T value, string why, [CallerArgumentExpression(nameof(value))] string name = "")
        where T : IQuantity
    {
        if (!double.IsFinite((double)value.Value))
        {
            throw Fault(name, Show.Quantity(value), "a finite number", why);
        }

        return InBaseUnit(value);
    }

    /// <summary>A value above zero.</summary>
    public static T Positive<T>(T value, string why, [CallerArgumentExpression(nameof(value))] string name = "")
        where T : IQuantity
    {
        T based = Finite(value, why, name);
        return (double)based.Value > 0 ? based : throw Fault(name, Show.Quantity(value), "above zero", why);
    }

    /// <summary>A value of zero or above.</summary>
    public static T NotNegative<T>(T value, string why, [CallerArgumentExpression(nameof(value))] string name = "")
        where T : IQuantity
    {
        T based = Finite(value, why, name);
        return (double)based.Value >= 0 ? based : throw Fault(name, Show.Quantity(value), "zero or above", why);
    }

    /// <summary>A value between two others, ends included.</summary>
    public static T InRange<T>(
        T value, T least, T greatest, string why, [CallerArgumentExpression(nameof(value))] string name = "")
        where T : IQuantity
    {
        T based = Finite(value, why, name);
        bool inside = (double)based.Value >= (double)InBaseUnit(least).Value
            && (double)based.Value <= (double)InBaseUnit(greatest).Value;
        return inside
            ? based
            : throw Fault(name, Show.Quantity(value), $"{Show.Quantity(least)} to {Show.Quantity(greatest)}", why);
    }

    /// <summary>A plain number between two others, ends included.</summary>
    public static double InRange(
        double value, double least, double greatest, string why, [CallerArgumentExpression(nameof(value))] string name = "")
        => value >= least && value <= greatest
            ? value
            : throw Fault(name, Show.Number(value), $"{Show.Number(least)} to {Show.Number(greatest)}", why);

    /// <summary>A count between two others, ends included.</summary>
    public static int InRange(
        int value, int least, int greatest, string why, [CallerArgumentExpression(nameof(value))] string name = "")
        => value >= least && value <= greatest
            ? value
            : throw Fault(
                name,
                value.ToString(CultureInfo.InvariantCulture),
                greatest == int.MaxValue
                    ? string.Create(CultureInfo.InvariantCulture, $"{least} or more")
                    : string.Create(CultureInfo.InvariantCulture, $"{least} to {greatest}"),
                why);

    /// <summary>A part that is there.</summary>
    public static T Present<T>(T value, string name)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(value, name);
        return value;
    }

    /// <summary>A member of an enumeration.</summary>
    public static T Defined<T>(T value, string why, [CallerArgumentExpression(nameof(value))] string name = "")
        where T : struct, Enum
        => Enum.IsDefined(value)
            ? value
            : throw Fault(name, value.ToString(), string.Join(", ", Enum.GetNames<T>()), why);

    /// <summary>The exception every check throws, for checks that need words of their own.</summary>
    public static ArgumentOutOfRangeException Fault(string name, string value, string range, string why)
        => new(name, $"{name} is {value}; it must be {range}: {why}.");

    /// <summary>The same quantity in UnitsNet's base unit.</summary>
    public static T InBaseUnit<T>(T value)
        where T : IQuantity
        => (T)value.ToUnit(value.QuantityInfo.BaseUnitInfo.Value);
}
