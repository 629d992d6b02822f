using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>One cause to be found, with the bounds between which it lies.</summary>
public sealed record CalibrationUnknown
{
    private CalibrationUnknown(CalibrationCause cause, double? least, double? greatest)
    {
        if (least is double low && greatest is double high && !(low < high))
        {
            throw Require.Fault(nameof(greatest), Show.Number(high), $"above {Show.Number(low)}", $"the {cause} lies between the two");
        }

        Cause = cause;
        Least = least;
        Greatest = greatest;
    }

    /// <summary>The cause.</summary>
    public CalibrationCause Cause { get; }

    /// <summary>The lower bound in the base unit; null for the widest that makes sense.</summary>
    internal double? Least { get; }

    /// <summary>The upper bound in the base unit; null for the widest that makes sense.</summary>
    internal double? Greatest { get; }

    /// <summary>The resistance of each brush on its strip.</summary>
    /// <param name="least">Lower bound, zero or above; zero where null.</param>
    /// <param name="greatest">Upper bound; the resistance of the coil where null.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bound is out of its range, or the lower is not below the upper.</exception>
    public static CalibrationUnknown ContactResistance(ElectricResistance? least = null, ElectricResistance? greatest = null)
        => new(CalibrationCause.ContactResistance, NotNegative(least, nameof(least))?.Ohms, NotNegative(greatest, nameof(greatest))?.Ohms);

    /// <summary>The drop of each brush: the voltage against the current that does not depend on its size.</summary>
    /// <param name="least">Lower bound, zero or above; zero where null.</param>
    /// <param name="greatest">Upper bound; a quarter of the source's voltage where null.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bound is out of its range, or the lower is not below the upper.</exception>
    public static CalibrationUnknown BrushDrop(ElectricPotential? least = null, ElectricPotential? greatest = null)
        => new(CalibrationCause.BrushDrop, NotNegative(least, nameof(least))?.Volts, NotNegative(greatest, nameof(greatest))?.Volts);

    /// <summary>The resistance of the leads.</summary>
    /// <param name="least">Lower bound, zero or above; zero where null.</param>
    /// <param name="greatest">Upper bound; the resistance of the coil where null.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bound is out of its range, or the lower is not below the upper.</exception>
    public static CalibrationUnknown LeadResistance(ElectricResistance? least = null, ElectricResistance? greatest = null)
        => new(CalibrationCause.LeadResistance, NotNegative(least, nameof(least))?.Ohms, NotNegative(greatest, nameof(greatest))?.Ohms);

    /// <summary>The coefficient of sliding friction.</summary>
    /// <param name="least">Lower bound, zero or above; zero where null.</param>
    /// <param name="greatest">Upper bound, 2 at most; 2 where null.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bound is out of its range, or the lower is not below the upper.</exception>
    public static CalibrationUnknown SlidingFriction([Dimensionless] double? least = null, [Dimensionless] double? greatest = null)
        => new(
            CalibrationCause.SlidingFriction,
            least is double low ? Require.InRange(low, 0, 2, "friction opposes motion", nameof(least)) : null,
            greatest is double high ? Require.InRange(high, 0, 2, "dry pairs above 2 do not slide", nameof(greatest)) : null);

    /// <summary>The viscous friction, as the force at 1 m/s.</summary>
    /// <param name="least">Lower bound, zero or above; zero where null.</param>
    /// <param name="greatest">Upper bound; the weight of what moves, per m/s, where null.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bound is out of its range, or the lower is not below the upper.</exception>
    public static CalibrationUnknown ViscousFriction(Force? least = null, Force? greatest = null)
        => new(CalibrationCause.ViscousFriction, NotNegative(least, nameof(least))?.Newtons, NotNegative(greatest, nameof(greatest))?.Newtons);

    /// <summary>The remanence of the magnets at 20 °C.</summary>
    /// <param name="least">Lower bound, above zero; half of what is described where null.</param>
    /// <param name="greatest">Upper bound, 2 T at most; half more than is described where null.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bound is out of its range, or the lower is not below the upper.</exception>
    public static CalibrationUnknown Remanence(MagneticField? least = null, MagneticField? greatest = null)
        => new(
            CalibrationCause.Remanence,
            least is MagneticField low ? Require.Positive(low, "a magnet has a remanence", nameof(least)).Teslas : null,
            greatest is MagneticField high ? Require.InRange(high, MagneticField.Zero, MagneticField.FromTeslas(2), "no permanent magnet has more", nameof(greatest)).Teslas : null);

    /// <summary>The clear distance between the faces of facing pairs.</summary>
    /// <param name="least">Lower bound, above zero; what lets the coil pass where null.</param>
    /// <param name="greatest">Upper bound; half more than is described where null.</param>
    /// <exception cref="ArgumentOutOfRangeException">A bound is out of its range, or the lower is not below the upper.</exception>
    public static CalibrationUnknown Gap(Length? least = null, Length? greatest = null)
        => new(
            CalibrationCause.Gap,
            least is Length low ? Require.Positive(low, "the coil runs between the magnets", nameof(least)).Meters : null,
            greatest is Length high ? Require.Positive(high, "the coil runs between the magnets", nameof(greatest)).Meters : null);

    /// <summary>The unknown in words.</summary>
    public override string ToString() => CalibrationResult.Name(Cause);

    private static T? NotNegative<T>(T? value, string name)
        where T : struct, IQuantity
        => value is T given ? Require.NotNegative(given, "it does not drive", name) : null;
}
