using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A bearing plastic for a sled's guides: its coefficient of friction on steel, dry.</summary>
/// <remarks>
/// Friction of plastics depends on pressure, speed, temperature and finish; tables do not say at which, and differ. Measure the sled's
/// own: let it slide down the track tilted until it just keeps moving, µ = tan of that angle.
/// </remarks>
public sealed record GuideMaterial
{
    /// <summary>Describes a material of one's own.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="frictionOnSteel">Coefficient of friction on steel, zero or above and at most 2.</param>
    /// <exception cref="ArgumentNullException"><paramref name="frictionOnSteel"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The coefficient is outside that range.</exception>
    /// <exception cref="ArgumentException"><paramref name="name"/> is empty.</exception>
    public GuideMaterial(string name, PropertyRange<Ratio> frictionOnSteel)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(frictionOnSteel);
        Name = name;
        FrictionOnSteel = frictionOnSteel;
        Require.NotNegative(frictionOnSteel.Least, "friction opposes motion", nameof(frictionOnSteel));
        Require.InRange(frictionOnSteel.Greatest, Ratio.Zero, Ratio.FromDecimalFractions(2), "dry pairs above 2 do not slide", nameof(frictionOnSteel));
    }

    /// <summary>Acetal (POM) homopolymer.</summary>
    [Source("SHACKELFORD", "Table 399: 0.1 to 0.3 on steel")]
    public static GuideMaterial AcetalHomopolymer { get; } = new("acetal homopolymer", Of(0.1, 0.2, 0.3));

    /// <summary>Acetal (POM) copolymer.</summary>
    [Source("SHACKELFORD", "Table 399: 0.15 on steel")]
    public static GuideMaterial AcetalCopolymer { get; } = new("acetal copolymer", Of(0.15, 0.15, 0.15));

    /// <summary>Acetal with 22 % PTFE.</summary>
    [Source("SHACKELFORD", "Table 399: 0.05 to 0.15 on steel")]
    public static GuideMaterial AcetalWithPtfe { get; } = new("acetal with PTFE", Of(0.05, 0.1, 0.15));

    /// <summary>Cast nylon 6.</summary>
    [Source("SHACKELFORD", "Table 399: 0.32, dynamic")]
    public static GuideMaterial CastNylon { get; } = new("cast nylon 6", Of(0.32, 0.32, 0.32));

    /// <summary>Nylon 6/6; the table gives it sliding on itself.</summary>
    [Source("SHACKELFORD", "Table 399: 0.04 to 0.13 on itself")]
    public static GuideMaterial Nylon66 { get; } = new("nylon 6/6", Of(0.04, 0.085, 0.13));

    /// <summary>Thermoplastic polyester.</summary>
    [Source("SHACKELFORD", "Table 399: 0.13 to 0.14 on steel")]
    public static GuideMaterial Polyester { get; } = new("polyester", Of(0.13, 0.135, 0.14));

    /// <summary>Polycarbonate: no bearing material, shown for comparison.</summary>
    [Source("SHACKELFORD", "Table 399: 0.52 on steel")]
    public static GuideMaterial Polycarbonate { get; } = new("polycarbonate", Of(0.52, 0.52, 0.52));

    /// <summary>PTFE.</summary>
    [Source("PLASTICS", "vendors' tables: 0.05 to 0.10 on polished steel")]
    public static GuideMaterial Ptfe { get; } = new("PTFE", Of(0.05, 0.075, 0.10));

    /// <summary>Polyethylene of ultra-high molecular weight.</summary>
    [Source("PLASTICS", "vendors' tables: 0.15 to 0.20 on polished steel")]
    public static GuideMaterial UhmwPolyethylene { get; } = new("UHMW polyethylene", Of(0.15, 0.175, 0.20));

    /// <summary>The name of the material.</summary>
    public string Name { get; }

    /// <summary>Coefficient of friction on steel; the typical value is the middle of the table's range.</summary>
    public PropertyRange<Ratio> FrictionOnSteel { get; }

    /// <summary>The name and its friction.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"{Name}, friction {FrictionOnSteel} on steel";

    private static PropertyRange<Ratio> Of(double least, double typical, double greatest)
        => new(Ratio.FromDecimalFractions(least), Ratio.FromDecimalFractions(typical), Ratio.FromDecimalFractions(greatest));
}
