using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A permanent-magnet material as a maker grades it.</summary>
public sealed record MagnetGrade
{
    /// <summary>Describes a grade by its name and typical remanence at 20 °C.</summary>
    /// <param name="name">The trade name.</param>
    /// <param name="remanence">Typical remanence Br at 20 °C, above zero.</param>
    /// <exception cref="ArgumentException">The name is empty.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The remanence is not above zero or not finite.</exception>
    public MagnetGrade(string name, MagneticField remanence)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        Name = name;
        Remanence = Require.Positive(remanence, "a magnet without remanence makes no field");
    }

    /// <summary>The trade name.</summary>
    public string Name { get; }

    /// <summary>Typical remanence Br at 20 °C.</summary>
    public MagneticField Remanence { get; }

    /// <summary>Sintered neodymium-iron-boron N42.</summary>
    [Source("CMF", "grade table, N42: 1.28 T to 1.32 T")]
    public static MagnetGrade N42 { get; } = new("N42", MagneticField.FromTeslas(1.30));
}
