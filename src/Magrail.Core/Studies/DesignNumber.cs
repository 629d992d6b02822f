using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A number of a design that a study changes: turns, volts, pitch, … or one of your own. It knows how to give a launcher another value, and, where
/// it can, which value a launcher has.
/// </summary>
/// <remarks>
/// What depends on the number follows: a coil is wound anew, strips that <see cref="ContactCommutator.For(Track, Coil, StripLayout, Brush)"/> laid are laid anew with the same dwell and
/// lead. Strips that were placed one by one do not follow; numbers that would have to move them refuse.
/// </remarks>
public abstract partial class DesignNumber
{
    private protected DesignNumber(string name, string unit, bool isWhole)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        Name = name;
        Unit = unit;
        IsWhole = isWhole;
    }

    /// <summary>Its name, such as <c>voltage</c>.</summary>
    public string Name { get; }

    /// <summary>The unit in which files and fits keep it, such as <c>V</c>: that of the SI; empty for a plain number.</summary>
    public string Unit { get; }

    /// <summary>Whether it counts whole things.</summary>
    public bool IsWhole { get; }

    /// <summary>A design number of your own that has a unit.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="with">Gives a launcher another value.</param>
    /// <param name="of">The value a launcher has; null where nothing can tell.</param>
    /// <typeparam name="T">The quantity.</typeparam>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentNullException">The name or <paramref name="with"/> is null.</exception>
    public static DesignNumber<T> Of<T>(string name, Func<Launcher, T, Launcher> with, Func<Launcher, T>? of = null)
        where T : struct, IQuantity
    {
        ArgumentNullException.ThrowIfNull(with);
        Func<Launcher, double>? read = of is null ? null : launcher => InSi(of(launcher));
        return new(name, UnitOf<T>.Text, isWhole: false, with, InSi, FromSi<T>, read);
    }

    /// <summary>A design number of your own without a unit.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="with">Gives a launcher another value.</param>
    /// <param name="of">The value a launcher has; null where nothing can tell.</param>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentNullException">The name or <paramref name="with"/> is null.</exception>
    [Dimensionless]
    public static DesignNumber<double> OfNumber(string name, Func<Launcher, double, Launcher> with, Func<Launcher, double>? of = null)
    {
        ArgumentNullException.ThrowIfNull(with);
        return new(name, "", isWhole: false, with, value => value, value => value, of);
    }

    /// <summary>A design number of your own that counts.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="with">Gives a launcher another value.</param>
    /// <param name="of">The value a launcher has; null where nothing can tell.</param>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentNullException">The name or <paramref name="with"/> is null.</exception>
    public static DesignNumber<int> OfCount(string name, Func<Launcher, int, Launcher> with, Func<Launcher, int>? of = null)
    {
        ArgumentNullException.ThrowIfNull(with);
        Func<Launcher, double>? read = of is null ? null : launcher => of(launcher);
        return new(name, "", isWhole: true, with, value => value, value => (int)Math.Round(value), read);
    }

    /// <summary>The name with its unit.</summary>
    public override string ToString() => Unit.Length == 0 ? Name : $"{Name} ({Unit})";

    /// <summary>The launcher with a value in SI units.</summary>
    internal abstract Launcher Apply(Launcher launcher, double value);

    /// <summary>The value of a launcher in SI units; NaN where nothing can tell.</summary>
    internal abstract double Read(Launcher launcher);

    /// <summary>A value in SI units in words.</summary>
    internal abstract string Text(double value);

    /// <summary>The next values below and above, of numbers that go in steps; null for others.</summary>
    internal virtual (double Below, double Above)? Neighbors(double value) => IsWhole ? (value - 1, value + 1) : null;

    private protected static double InSi<T>(T value)
        where T : struct, IQuantity
        => (double)Require.Finite(value, "a design number is a number", nameof(value)).Value;

    private protected static T FromSi<T>(double value)
        where T : struct, IQuantity
        => (T)Quantity.From(value, UnitOf<T>.Base);

    private static class UnitOf<T>
        where T : struct, IQuantity
    {
        public static Enum Base { get; } = default(T).QuantityInfo.BaseUnitInfo.Value;

        public static string Text { get; } = Show.Unit(Base);
    }
}

/// <summary>A <see cref="DesignNumber"/> by the type of its values.</summary>
/// <typeparam name="T">A quantity, a whole number, a plain number, or a part such as <see cref="WireGauge"/>.</typeparam>
public sealed class DesignNumber<T> : DesignNumber
    where T : notnull
{
    private readonly Func<Launcher, T, Launcher> with;
    private readonly Func<T, double> toSi;
    private readonly Func<double, T> fromSi;
    private readonly Func<Launcher, double>? read;

    internal DesignNumber(
        string name, string unit, bool isWhole, Func<Launcher, T, Launcher> with, Func<T, double> toSi, Func<double, T> fromSi, Func<Launcher, double>? read)
        : base(name, unit, isWhole)
    {
        this.with = with;
        this.toSi = toSi;
        this.fromSi = fromSi;
        this.read = read;
    }

    /// <summary>A launcher with another value.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="value">The value.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A part cannot be made so, or does not have the number.</exception>
    public Launcher With(Launcher launcher, [Dimensionless] T value)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        return with(launcher, value);
    }

    /// <summary>The value of a launcher.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="InvalidOperationException">The launcher does not have the number, or nothing can tell its value.</exception>
    [return: Dimensionless]
    public T In(Launcher launcher)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        double value = Read(launcher);
        return double.IsNaN(value) ? throw new InvalidOperationException($"This launcher tells no {Name}.") : fromSi(value);
    }

    /// <summary>The values that a study tries.</summary>
    /// <param name="values">The values, one or more, in any order.</param>
    /// <exception cref="ArgumentException">There is none.</exception>
    /// <exception cref="ArgumentNullException">The list is null.</exception>
    public StudyAxis Over([Dimensionless] params IReadOnlyList<T> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        T[] kept = [.. values];
        return new StudyAxis(this, [.. kept.Select(toSi)], (launcher, index) => with(launcher, kept[index]));
    }

    /// <summary>Values evenly spread from one to another, both included.</summary>
    /// <param name="first">The first.</param>
    /// <param name="last">The last.</param>
    /// <param name="count">How many, 1 or more; of numbers that count, those that are whole after rounding, each once.</param>
    /// <exception cref="ArgumentOutOfRangeException">The count is below one.</exception>
    public StudyAxis FromTo([Dimensionless] T first, [Dimensionless] T last, int count)
    {
        Require.InRange(count, 1, int.MaxValue, "a study tries some value");
        double from = toSi(first);
        double to = toSi(last);
        IEnumerable<double> numbers = Enumerable.Range(0, count).Select(i => i == count - 1 && count > 1 ? to : from + ((to - from) * i / Math.Max(1, count - 1)));
        return Over([.. (IsWhole ? numbers.Select(number => Math.Round(number)).Distinct() : numbers).Select(fromSi)]);
    }

    /// <summary>A variable of an <see cref="OptimumSearch"/>: any value between two.</summary>
    /// <param name="least">The least.</param>
    /// <param name="greatest">The greatest, no less than the least.</param>
    /// <exception cref="ArgumentOutOfRangeException">The greatest is below the least.</exception>
    public DesignVariable Between([Dimensionless] T least, [Dimensionless] T greatest) => new(this, toSi(least), toSi(greatest));

    /// <summary>A variable of an <see cref="OptimumSearch"/>: one of a list of values, such as the wire sizes at hand.</summary>
    /// <param name="values">The values, one or more.</param>
    /// <exception cref="ArgumentException">There is none.</exception>
    /// <exception cref="ArgumentNullException">The list is null.</exception>
    public DesignVariable OneOf([Dimensionless] params IReadOnlyList<T> values) => new(Over(values));

    internal override (double Below, double Above)? Neighbors(double value)
    {
        if (fromSi(value) is not WireGauge gauge)
        {
            return base.Neighbors(value);
        }

        try
        {
            return (gauge.NextThinner().BareDiameter.Meters, gauge.NextThicker().BareDiameter.Meters);
        }
        catch (ArgumentOutOfRangeException)
        {
            // At the end of its series.
            return null;
        }
    }

    internal override Launcher Apply(Launcher launcher, double value) => with(launcher, fromSi(value));

    internal override double Read(Launcher launcher) => read?.Invoke(launcher) ?? double.NaN;

    internal override string Text(double value)
        => fromSi(value) switch
        {
            IQuantity quantity => Show.Quantity(quantity),
            double number => Show.Number(number),
            IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
            var other => other.ToString() ?? "",
        };

    /// <summary>A value as a number in SI units.</summary>
    internal double InSiUnits(T value) => toSi(value);

    /// <summary>A number in SI units as its type.</summary>
    internal T Typed(double value) => fromSi(value);
}
