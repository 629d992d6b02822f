using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>How one design number varies from one built launcher to the next: a cause in a <see cref="ToleranceStudy"/>.</summary>
public sealed class Spread
{
    private readonly double first;
    private readonly double second;
    private readonly bool isNormal;

    private Spread(DesignNumber number, double first, double second, bool isNormal)
    {
        Number = number;
        this.first = first;
        this.second = second;
        this.isNormal = isNormal;
    }

    /// <summary>The design number.</summary>
    public DesignNumber Number { get; }

    /// <summary>
    /// What it costs to halve the spread, in any one currency; one unless <see cref="At"/> says otherwise, which makes all spreads equally dear.
    /// </summary>
    [Dimensionless]
    public double CostOfHalving
    {
        get;
        private init => field = Require.InRange(value, double.Epsilon, double.MaxValue, "what costs nothing needs no study", "costOfHalving");
    } = 1;

    /// <summary>Evenly between two values.</summary>
    /// <param name="number">The design number.</param>
    /// <param name="least">The least value.</param>
    /// <param name="greatest">The greatest, above the least.</param>
    /// <typeparam name="T">The type of its values.</typeparam>
    /// <exception cref="ArgumentNullException">The number is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The greatest value is not above the least.</exception>
    public static Spread Uniform<T>(DesignNumber<T> number, T least, T greatest)
        where T : notnull
    {
        ArgumentNullException.ThrowIfNull(number);
        double from = number.InSiUnits(least);
        double to = number.InSiUnits(greatest);
        return to > from
            ? new Spread(number, from, to, isNormal: false)
            : throw Require.Fault(nameof(greatest), number.Text(to), $"above {number.Text(from)}", "without a width nothing varies");
    }

    /// <summary>Evenly over the range of a property, such as the remanence of a grade.</summary>
    /// <param name="number">The design number.</param>
    /// <param name="range">Its range.</param>
    /// <typeparam name="T">The quantity.</typeparam>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The range has no width.</exception>
    public static Spread Uniform<T>(DesignNumber<T> number, PropertyRange<T> range)
        where T : IQuantity
    {
        ArgumentNullException.ThrowIfNull(range);
        return Uniform(number, range.Least, range.Greatest);
    }

    /// <summary>Normally distributed.</summary>
    /// <remarks>Far out, a normal distribution reaches values that no part can have; such samples count as launchers that do not launch.</remarks>
    /// <param name="number">The design number.</param>
    /// <param name="mean">The mean.</param>
    /// <param name="standardDeviation">The standard deviation, above zero.</param>
    /// <typeparam name="T">The type of its values.</typeparam>
    /// <exception cref="ArgumentNullException">The number is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The standard deviation is not above zero.</exception>
    public static Spread Normal<T>(DesignNumber<T> number, T mean, T standardDeviation)
        where T : notnull
    {
        ArgumentNullException.ThrowIfNull(number);
        double deviation = number.InSiUnits(standardDeviation);
        return deviation > 0
            ? new Spread(number, number.InSiUnits(mean), deviation, isNormal: true)
            : throw Require.Fault(nameof(standardDeviation), number.Text(deviation), "above zero", "without a width nothing varies");
    }

    /// <summary>Every strip of both contact lines out of place on its own, along the track, normally distributed about where it belongs.</summary>
    /// <remarks>
    /// In place of a value, each sample tells what its strips alone do to the exit speed of the launcher as drawn, which takes a launch more. A straight line would not do: a coil is fed
    /// while both its brushes touch, so that the later of two strips sets the start and the earlier the end, and an error of either sign costs. A strip that comes so close to the
    /// next that the brush bridges the two makes a launcher that cannot be launched. Whole lines out of place are <see cref="DesignNumber.StripShift"/>.
    /// </remarks>
    /// <param name="standardDeviation">The standard deviation of each strip's place, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The standard deviation is not above zero.</exception>
    public static Spread EachStrip(Length standardDeviation)
        => new(DesignNumber.StripPlacement, 0, Require.Positive(standardDeviation, "without a width nothing varies").Meters, isNormal: true);

    /// <summary>The same spread at a price.</summary>
    /// <param name="costOfHalving">See <see cref="CostOfHalving"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The cost is not above zero, or not finite.</exception>
    public Spread At([Dimensionless] double costOfHalving) => new(Number, first, second, isNormal) { CostOfHalving = costOfHalving };

    /// <summary>The spread in words.</summary>
    public override string ToString()
        => IsEachStrip ? $"{Number.Name}, each strip on its own, standard deviation {Show.Quantity(Length.FromMeters(second))}"
            : isNormal
            ? $"{Number.Name} {Number.Text(first)}, normal, standard deviation {Number.Text(second)}"
            : $"{Number.Name} {Number.Text(first)} to {Number.Text(second)}, even";

    /// <summary>Whether it is many lengths, one for each strip.</summary>
    internal bool IsEachStrip => ReferenceEquals(Number, DesignNumber.StripPlacement);

    /// <summary>Whether it moves strips that were laid out before, so that it must come after what lays them out.</summary>
    internal bool MovesStrips => IsEachStrip || ReferenceEquals(Number, DesignNumber.StripShift);

    /// <summary>Mean, SI.</summary>
    internal double Mean => isNormal ? first : 0.5 * (first + second);

    /// <summary>Standard deviation, SI.</summary>
    internal double Deviation => isNormal ? second : (second - first) / Math.Sqrt(12);

    /// <summary>The value below which a part of all values lies, SI.</summary>
    internal double Quantile(double part) => isNormal ? first + (second * Normal(part)) : first + ((second - first) * part);

    private static double Normal(double part) => MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, part);
}
