using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A grade of permanent magnet: remanence B_r, coercivities H_cB and H_cJ, their temperature coefficients, density and
/// greatest service temperature, each with the range over batches and makers.
/// </summary>
/// <remarks>
/// Values hold at 20 °C. The field kernels use the rigid model (recoil permeability 1, magnetization M = B_r/μ₀ whatever the
/// outer field): good to a few percent for sintered neodymium, samarium-cobalt and ferrite, wrong for AlNiCo, whose
/// demagnetization curve is bent. Makers guarantee a least coercivity and give no greatest; the range of a coercivity here is that
/// of the guarantees of different makers. The record is immutable.
/// </remarks>
public sealed record MagnetGrade
{
    // The coefficients are slopes of a straight line that makers fit between 20 °C and the service temperature; below this
    // the line is an extrapolation nobody vouches for.
    private const double ColdestCelsius = -40;

    private const double ReferenceCelsius = 20;

    /// <summary>Describes a grade of one's own, such as one that was measured.</summary>
    /// <param name="name">The maker's name of the grade.</param>
    /// <param name="family">The material family.</param>
    /// <param name="remanence">Remanence B_r at 20 °C, above 0 T and at most 2 T.</param>
    /// <param name="normalCoercivity">Normal coercivity H_cB at 20 °C, the guaranteed least value.</param>
    /// <param name="intrinsicCoercivity">Intrinsic coercivity H_cJ at 20 °C, the guaranteed least value.</param>
    /// <param name="remanenceCoefficient">Relative change of remanence per kelvin, −1 %/K to 0.</param>
    /// <param name="intrinsicCoercivityCoefficient">Relative change of intrinsic coercivity per kelvin, −2 %/K to +2 %/K.</param>
    /// <param name="density">Mass density.</param>
    /// <param name="serviceTemperature">Greatest service temperature, above 20 °C.</param>
    /// <param name="recoilPermeability">Relative recoil permeability, 1 to 10.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside the range given with it.</exception>
    /// <exception cref="ArgumentException"><paramref name="name"/> is empty.</exception>
    public MagnetGrade(
        string name,
        MagnetFamily family,
        PropertyRange<MagneticField> remanence,
        PropertyRange<Magnetization> normalCoercivity,
        PropertyRange<Magnetization> intrinsicCoercivity,
        PropertyRange<CoefficientOfThermalExpansion> remanenceCoefficient,
        PropertyRange<CoefficientOfThermalExpansion> intrinsicCoercivityCoefficient,
        PropertyRange<Density> density,
        PropertyRange<Temperature> serviceTemperature,
        double recoilPermeability)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        ArgumentNullException.ThrowIfNull(remanence);
        ArgumentNullException.ThrowIfNull(normalCoercivity);
        ArgumentNullException.ThrowIfNull(intrinsicCoercivity);
        ArgumentNullException.ThrowIfNull(remanenceCoefficient);
        ArgumentNullException.ThrowIfNull(intrinsicCoercivityCoefficient);
        ArgumentNullException.ThrowIfNull(density);
        ArgumentNullException.ThrowIfNull(serviceTemperature);

        Name = name;
        Family = Require.Defined(family, "it selects what is known of the material");
        Require.Positive(remanence.Least, "a magnet without remanence is no magnet", nameof(remanence));
        Require.InRange(
            remanence.Greatest,
            MagneticField.Zero,
            MagneticField.FromTeslas(2),
            "no permanent magnet has more",
            nameof(remanence));
        Require.Positive(normalCoercivity.Least, "a permanent magnet resists demagnetization", nameof(normalCoercivity));
        Require.Positive(intrinsicCoercivity.Least, "a permanent magnet resists demagnetization", nameof(intrinsicCoercivity));
        Require.InRange(
            normalCoercivity.Typical,
            Magnetization.Zero,
            intrinsicCoercivity.Typical,
            "B reaches zero before the magnetization does",
            nameof(normalCoercivity));
        RequireSlope(remanenceCoefficient, -0.01, 0, nameof(remanenceCoefficient));
        RequireSlope(intrinsicCoercivityCoefficient, -0.02, 0.02, nameof(intrinsicCoercivityCoefficient));
        Require.Positive(density.Least, "a magnet has a mass", nameof(density));
        Require.InRange(
            serviceTemperature.Least,
            Temperature.FromDegreesCelsius(ReferenceCelsius),
            Temperature.FromDegreesCelsius(1000),
            "the other values hold at 20 °C",
            nameof(serviceTemperature));
        RemanenceRange = remanence;
        NormalCoercivityRange = normalCoercivity;
        IntrinsicCoercivityRange = intrinsicCoercivity;
        RemanenceCoefficientRange = remanenceCoefficient;
        IntrinsicCoercivityCoefficientRange = intrinsicCoercivityCoefficient;
        DensityRange = density;
        ServiceTemperatureRange = serviceTemperature;
        RecoilPermeability = Require.InRange(recoilPermeability, 1, 10, "it is relative to vacuum");
    }

    /// <summary>Sintered neodymium-iron-boron N35: B_r 1.17 T to 1.22 T.</summary>
    [Source("SHM", "grade table, row N35")]
    [Source("CMF", "grade table, row N35")]
    public static MagnetGrade N35 { get; } = Neodymium("N35", (1.17, 1.195, 1.22), (868, 868, 923), (955, 955, 955), -0.76, (80, 80, 80));

    /// <summary>Sintered neodymium-iron-boron N38: B_r 1.22 T to 1.25 T.</summary>
    [Source("SHM", "grade table, row N38")]
    [Source("CMF", "grade table, row N38")]
    public static MagnetGrade N38 { get; } = Neodymium("N38", (1.22, 1.235, 1.25), (899, 899, 923), (955, 955, 955), -0.76, (80, 80, 80));

    /// <summary>Sintered neodymium-iron-boron N40: B_r 1.25 T to 1.28 T.</summary>
    [Source("SHM", "grade table, row N40")]
    [Source("CMF", "grade table, row N40")]
    public static MagnetGrade N40 { get; } = Neodymium("N40", (1.25, 1.265, 1.28), (907, 907, 923), (955, 955, 955), -0.76, (80, 80, 80));

    /// <summary>Sintered neodymium-iron-boron N42: B_r 1.28 T to 1.33 T, typically 1.30 T.</summary>
    [Source("SHM", "grade table, row N42")]
    [Source("CMF", "grade table, row N42")]
    [Source("DUR", "grade table, row N42: 1.29 T to 1.33 T")]
    public static MagnetGrade N42 { get; } = Neodymium("N42", (1.28, 1.30, 1.33), (915, 915, 923), (955, 955, 955), -0.76, (80, 80, 80));

    /// <summary>Sintered neodymium-iron-boron N45: B_r 1.32 T to 1.38 T.</summary>
    [Source("SHM", "grade table, row N45")]
    [Source("CMF", "grade table, row N45")]
    [Source("HCM", "grade table, row N45: H_cB 875 kA/m")]
    public static MagnetGrade N45 { get; } = Neodymium("N45", (1.32, 1.35, 1.38), (875, 892, 923), (955, 955, 955), -0.76, (80, 80, 80));

    /// <summary>Sintered neodymium-iron-boron N48: B_r 1.37 T to 1.42 T.</summary>
    [Source("SHM", "grade table, row N48")]
    [Source("CMF", "grade table, row N48: prints H_cB 923 kA/m beside H_cJ 876 kA/m, which cannot both hold; its H_cJ is our least")]
    [Source("VOR", "grade table, row N48: H_cB 836 kA/m")]
    public static MagnetGrade N48 { get; } = Neodymium("N48", (1.37, 1.40, 1.42), (836, 892, 923), (876, 955, 955), -0.76, (80, 80, 80));

    /// <summary>Sintered neodymium-iron-boron N50: B_r 1.39 T to 1.45 T.</summary>
    [Source("SHM", "grade table, row N50")]
    [Source("CMF", "grade table, row N50")]
    [Source("HGT", "grade table, row N50")]
    public static MagnetGrade N50 { get; } = Neodymium("N50", (1.39, 1.42, 1.45), (796, 859, 892), (876, 955, 955), -0.76, (70, 80, 80));

    /// <summary>Sintered neodymium-iron-boron N52: B_r 1.42 T to 1.48 T. Its coercivity is the lowest of the family.</summary>
    [Source("SHM", "grade table, row N52")]
    [Source("CMF", "grade table, row N52")]
    [Source("HGT", "grade table, row N52")]
    public static MagnetGrade N52 { get; } = Neodymium("N52", (1.42, 1.45, 1.48), (796, 836, 892), (876, 876, 955), -0.76, (70, 70, 80));

    /// <summary>Sintered neodymium-iron-boron N42H, for service to 120 °C: B_r 1.28 T to 1.32 T.</summary>
    [Source("CMF", "grade table, row N42H")]
    public static MagnetGrade N42H { get; } = Neodymium("N42H", (1.28, 1.30, 1.32), (955, 955, 955), (1353, 1353, 1353), -0.68, (120, 120, 120));

    /// <summary>The maker's name of the grade, such as <c>N42</c>.</summary>
    public string Name { get; }

    /// <summary>The material family.</summary>
    public MagnetFamily Family { get; }

    /// <summary>Remanence B_r at 20 °C, typical.</summary>
    public MagneticField Remanence => RemanenceRange.Typical;

    /// <summary>The least remanence at 20 °C that makers allow for the grade.</summary>
    public MagneticField RemanenceLeast => RemanenceRange.Least;

    /// <summary>The greatest remanence at 20 °C that makers allow for the grade.</summary>
    public MagneticField RemanenceGreatest => RemanenceRange.Greatest;

    /// <summary>Remanence B_r at 20 °C, typical and range.</summary>
    public PropertyRange<MagneticField> RemanenceRange { get; }

    /// <summary>Normal coercivity H_cB at 20 °C: the reverse field that brings B to zero, as commonly guaranteed.</summary>
    public Magnetization NormalCoercivity => NormalCoercivityRange.Typical;

    /// <summary>Normal coercivity H_cB at 20 °C: the guarantees of different makers.</summary>
    public PropertyRange<Magnetization> NormalCoercivityRange { get; }

    /// <summary>Intrinsic coercivity H_cJ at 20 °C: the reverse field that brings the magnetization to zero, as commonly guaranteed.</summary>
    public Magnetization IntrinsicCoercivity => IntrinsicCoercivityRange.Typical;

    /// <summary>Intrinsic coercivity H_cJ at 20 °C: the guarantees of different makers.</summary>
    public PropertyRange<Magnetization> IntrinsicCoercivityRange { get; }

    /// <summary>Relative change of remanence per kelvin, α(B_r), typical.</summary>
    public CoefficientOfThermalExpansion RemanenceCoefficient => RemanenceCoefficientRange.Typical;

    /// <summary>Relative change of remanence per kelvin, α(B_r), typical and range.</summary>
    public PropertyRange<CoefficientOfThermalExpansion> RemanenceCoefficientRange { get; }

    /// <summary>Relative change of intrinsic coercivity per kelvin, α(H_cJ), typical.</summary>
    public CoefficientOfThermalExpansion IntrinsicCoercivityCoefficient => IntrinsicCoercivityCoefficientRange.Typical;

    /// <summary>Relative change of intrinsic coercivity per kelvin, α(H_cJ), typical and range.</summary>
    public PropertyRange<CoefficientOfThermalExpansion> IntrinsicCoercivityCoefficientRange { get; }

    /// <summary>Mass density, typical.</summary>
    public Density Density => DensityRange.Typical;

    /// <summary>Mass density, typical and range.</summary>
    public PropertyRange<Density> DensityRange { get; }

    /// <summary>
    /// Greatest service temperature, as commonly stated. Makers state it for a stubby magnet in free air: a thin one, or one in an
    /// opposing field, loses remanence below it.
    /// </summary>
    public Temperature GreatestServiceTemperature => ServiceTemperatureRange.Typical;

    /// <summary>Greatest service temperature: the statements of different makers.</summary>
    public PropertyRange<Temperature> ServiceTemperatureRange { get; }

    /// <summary>Relative recoil permeability μ_rec. The field kernels take 1.</summary>
    public double RecoilPermeability { get; }

    /// <summary>Remanence at a temperature, B_r(T) = B_r(20 °C) (1 + α (T − 20 °C)).</summary>
    /// <remarks>Reversible change only. What a magnet loses for good depends on its working point, not on the grade alone.</remarks>
    /// <param name="temperature">−40 °C to the greatest service temperature.</param>
    /// <returns>The remanence.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside that range.</exception>
    public MagneticField RemanenceAt(Temperature temperature)
        => MagneticField.FromTeslas(Remanence.Teslas * Factor(temperature, RemanenceCoefficient));

    /// <summary>Intrinsic coercivity at a temperature, H_cJ(T) = H_cJ(20 °C) (1 + α (T − 20 °C)), from the least guarantee.</summary>
    /// <param name="temperature">−40 °C to the greatest service temperature.</param>
    /// <returns>The intrinsic coercivity.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside that range.</exception>
    public Magnetization IntrinsicCoercivityAt(Temperature temperature)
        => Magnetization.FromAmperesPerMeter(
            IntrinsicCoercivityRange.Least.AmperesPerMeter * Factor(temperature, IntrinsicCoercivityCoefficient));

    /// <summary>The same grade with a remanence that was measured, or drawn in a tolerance study.</summary>
    /// <param name="remanence">Remanence at 20 °C, above 0 T and at most 2 T.</param>
    /// <returns>The grade; its remanence has no spread.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The remanence is outside that range.</exception>
    public MagnetGrade WithRemanence(MagneticField remanence)
        => new(
            Name,
            Family,
            new PropertyRange<MagneticField>(remanence, remanence, remanence),
            NormalCoercivityRange,
            IntrinsicCoercivityRange,
            RemanenceCoefficientRange,
            IntrinsicCoercivityCoefficientRange,
            DensityRange,
            ServiceTemperatureRange,
            RecoilPermeability);

    /// <summary>Name and remanence, such as <c>N42 (1.3 T)</c>.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"{Name} ({Show.Quantity(Remanence)})";

    private static MagnetGrade Neodymium(
        string name,
        (double Least, double Typical, double Greatest) remanence,
        (double Least, double Typical, double Greatest) normalCoercivity,
        (double Least, double Typical, double Greatest) intrinsicCoercivity,
        double coercivityCoefficient,
        (double Least, double Typical, double Greatest) service)
        => new(
            name,
            MagnetFamily.SinteredNeodymium,
            Range(remanence, v => MagneticField.FromTeslas(v)),
            Range(normalCoercivity, KiloamperesPerMeter),
            Range(intrinsicCoercivity, KiloamperesPerMeter),
            Range((-0.12, -0.12, -0.095), PercentPerKelvin),          // SHM -0.12; AIC -0.095 to -0.105
            Range((coercivityCoefficient, coercivityCoefficient, -0.45), PercentPerKelvin), // SHM; AIC -0.45 to -0.60
            Range((7.3, 7.5, 7.5), v => Density.FromGramsPerCubicCentimeter(v)),                    // SHM 7.50; AIC 7.3 to 7.5
            Range(service, v => Temperature.FromDegreesCelsius(v)),
            1.05);                                                                          // SHM

    private static Magnetization KiloamperesPerMeter(double value) => Magnetization.FromAmperesPerMeter(1e3 * value);

    private static CoefficientOfThermalExpansion PercentPerKelvin(double value)
        => CoefficientOfThermalExpansion.FromPerKelvin(0.01 * value);

    private static PropertyRange<T> Range<T>((double Least, double Typical, double Greatest) values, Func<double, T> unit)
        where T : IQuantity
        => new(unit(values.Least), unit(values.Typical), unit(values.Greatest));

    private static void RequireSlope(PropertyRange<CoefficientOfThermalExpansion> slope, double least, double greatest, string name)
    {
        CoefficientOfThermalExpansion low = CoefficientOfThermalExpansion.FromPerKelvin(least);
        CoefficientOfThermalExpansion high = CoefficientOfThermalExpansion.FromPerKelvin(greatest);
        Require.InRange(slope.Least, low, high, "no magnet material changes faster", name);
        Require.InRange(slope.Greatest, low, high, "no magnet material changes faster", name);
    }

    private double Factor(Temperature temperature, CoefficientOfThermalExpansion slope)
    {
        Temperature inside = Require.InRange(
            temperature,
            Temperature.FromDegreesCelsius(ColdestCelsius),
            GreatestServiceTemperature,
            $"the linear law of {Name} holds no further, and above its service temperature it loses remanence for good");
        return 1 + (slope.PerKelvin * (inside.DegreesCelsius - ReferenceCelsius));
    }
}
