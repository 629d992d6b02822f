using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The force constant K of a coil in a field: force along the track per ampere, in N/A, and back-EMF per speed, in V·s/m.
/// Both are one number, K = dλ/dx, because the power i·K·v taken from the circuit is the power F·v given to the sled.
/// </summary>
/// <remarks>Positive K pushes a positive current toward +x.</remarks>
[Sources.UnitInName]
public readonly record struct ForceConstant : IComparable<ForceConstant>
{
    private ForceConstant(double newtonsPerAmpere) => NewtonsPerAmpere = newtonsPerAmpere;

    /// <summary>K = 0.</summary>
    public static ForceConstant Zero => default;

    /// <summary>K in N/A.</summary>
    public double NewtonsPerAmpere { get; }

    /// <summary>K in V·s/m, the same number.</summary>
    public double VoltSecondsPerMeter => NewtonsPerAmpere;

    /// <summary>A force constant from its value in N/A.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    public static ForceConstant FromNewtonsPerAmpere(double newtonsPerAmpere)
        => new(Require.InRange(newtonsPerAmpere, -double.MaxValue, double.MaxValue, "a force constant is a finite number"));

    /// <summary>The force on a coil that carries a current.</summary>
    public static Force operator *(ForceConstant constant, ElectricCurrent current)
        => Force.FromNewtons(constant.NewtonsPerAmpere * current.Amperes);

    /// <summary>The size of the back-EMF of a coil that moves along the track.</summary>
    public static ElectricPotential operator *(ForceConstant constant, Speed speed)
        => ElectricPotential.FromVolts(constant.NewtonsPerAmpere * speed.MetersPerSecond);

    /// <summary>The force on a coil that carries a current.</summary>
    public static Force Multiply(ForceConstant constant, ElectricCurrent current) => constant * current;

    /// <summary>The size of the back-EMF of a coil that moves along the track.</summary>
    public static ElectricPotential Multiply(ForceConstant constant, Speed speed) => constant * speed;

    /// <summary>Whether the left one is smaller.</summary>
    public static bool operator <(ForceConstant left, ForceConstant right) => left.CompareTo(right) < 0;

    /// <summary>Whether the left one is greater.</summary>
    public static bool operator >(ForceConstant left, ForceConstant right) => left.CompareTo(right) > 0;

    /// <summary>Whether the left one is smaller or equal.</summary>
    public static bool operator <=(ForceConstant left, ForceConstant right) => left.CompareTo(right) <= 0;

    /// <summary>Whether the left one is greater or equal.</summary>
    public static bool operator >=(ForceConstant left, ForceConstant right) => left.CompareTo(right) >= 0;

    /// <inheritdoc/>
    public int CompareTo(ForceConstant other) => NewtonsPerAmpere.CompareTo(other.NewtonsPerAmpere);

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{NewtonsPerAmpere:G4} N/A");
}
