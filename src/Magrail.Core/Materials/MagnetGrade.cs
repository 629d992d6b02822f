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
    /// <param name="resistivity">Electrical resistivity at 20 °C, above zero; leave it out if it is not known.</param>
    /// <param name="curieTemperature">Curie temperature, above the greatest service temperature; leave it out if it is not known.</param>
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
        [Dimensionless] double recoilPermeability,
        PropertyRange<ElectricResistivity>? resistivity = null,
        PropertyRange<Temperature>? curieTemperature = null)
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
        if (resistivity is not null)
        {
            Require.Positive(resistivity.Least, "no magnet is a superconductor", nameof(resistivity));
        }

        if (curieTemperature is not null)
        {
            Require.InRange(
                curieTemperature.Least,
                serviceTemperature.Greatest,
                Temperature.FromDegreesCelsius(2000),
                "at the Curie temperature nothing is left of the magnetization",
                nameof(curieTemperature));
        }

        ResistivityRange = resistivity;
        CurieTemperatureRange = curieTemperature;
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

    /// <summary>Sintered neodymium-iron-boron N35H, for service to 120 °C: B_r 1.17 T to 1.22 T.</summary>
    [Source("CMF", "grade table, row 35H")]
    [Source("KYLE", "grade table, row N35H")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.65 %/K")]
    public static MagnetGrade N35H { get; } = Neodymium("N35H", (1.17, 1.20, 1.22), (859, 868, 868), (1353, 1353, 1353), -0.65, (120, 120, 120));

    /// <summary>Sintered neodymium-iron-boron N38H, for service to 120 °C: B_r 1.22 T to 1.26 T.</summary>
    [Source("CMF", "grade table, row 38H")]
    [Source("KYLE", "grade table, row N38H")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.65 %/K")]
    public static MagnetGrade N38H { get; } = Neodymium("N38H", (1.22, 1.24, 1.26), (899, 899, 907), (1353, 1353, 1353), -0.65, (120, 120, 120));

    /// <summary>Sintered neodymium-iron-boron N40H, for service to 120 °C: B_r 1.25 T to 1.29 T.</summary>
    [Source("CMF", "grade table, row 40H")]
    [Source("KYLE", "grade table, row N40H")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.65 %/K")]
    public static MagnetGrade N40H { get; } = Neodymium("N40H", (1.25, 1.27, 1.29), (907, 923, 923), (1353, 1353, 1353), -0.65, (120, 120, 120));

    /// <summary>Sintered neodymium-iron-boron N42H, for service to 120 °C: B_r 1.28 T to 1.33 T.</summary>
    [Source("CMF", "grade table, row 42H")]
    [Source("KYLE", "grade table, row N42H")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.65 %/K")]
    public static MagnetGrade N42H { get; } = Neodymium("N42H", (1.28, 1.30, 1.33), (907, 955, 955), (1353, 1353, 1353), -0.65, (120, 120, 120));

    /// <summary>Sintered neodymium-iron-boron N45H, for service to 120 °C: B_r 1.30 T to 1.37 T.</summary>
    [Source("CMF", "grade table, row 45H")]
    [Source("KYLE", "grade table, row N45H")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.65 %/K")]
    public static MagnetGrade N45H { get; } = Neodymium("N45H", (1.30, 1.34, 1.37), (907, 963, 963), (1353, 1353, 1353), -0.65, (120, 120, 120));

    /// <summary>Sintered neodymium-iron-boron N48H, for service to 120 °C: B_r 1.36 T to 1.43 T.</summary>
    [Source("CMF", "grade table, row 48H")]
    [Source("KYLE", "grade table, row N48H")]
    [Source("HGT", "grade table, row N48H")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.65 %/K")]
    public static MagnetGrade N48H { get; } = Neodymium("N48H", (1.36, 1.39, 1.43), (907, 955, 1019), (1273, 1353, 1353), -0.65, (120, 120, 120));

    /// <summary>Sintered neodymium-iron-boron N35SH, for service to 150 °C: B_r 1.17 T to 1.21 T.</summary>
    [Source("KYLE", "grade table, row N35SH")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.55 %/K")]
    public static MagnetGrade N35SH { get; } = Neodymium("N35SH", (1.17, 1.19, 1.21), (859, 859, 859), (1592, 1592, 1592), -0.55, (150, 150, 150));

    /// <summary>Sintered neodymium-iron-boron N38SH, for service to 150 °C: B_r 1.22 T to 1.26 T.</summary>
    [Source("KYLE", "grade table, row N38SH")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.55 %/K")]
    public static MagnetGrade N38SH { get; } = Neodymium("N38SH", (1.22, 1.24, 1.26), (907, 907, 907), (1592, 1592, 1592), -0.55, (150, 150, 150));

    /// <summary>Sintered neodymium-iron-boron N40SH, for service to 150 °C: B_r 1.26 T to 1.29 T.</summary>
    [Source("KYLE", "grade table, row N40SH")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.55 %/K")]
    public static MagnetGrade N40SH { get; } = Neodymium("N40SH", (1.26, 1.27, 1.29), (907, 907, 907), (1592, 1592, 1592), -0.55, (150, 150, 150));

    /// <summary>Sintered neodymium-iron-boron N42SH, for service to 150 °C: B_r 1.30 T to 1.33 T.</summary>
    [Source("KYLE", "grade table, row N42SH")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.55 %/K")]
    public static MagnetGrade N42SH { get; } = Neodymium("N42SH", (1.30, 1.31, 1.33), (907, 907, 907), (1592, 1592, 1592), -0.55, (150, 150, 150));

    /// <summary>Sintered neodymium-iron-boron N45SH, for service to 150 °C: B_r 1.33 T to 1.37 T.</summary>
    [Source("KYLE", "grade table, row N45SH")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.55 %/K")]
    public static MagnetGrade N45SH { get; } = Neodymium("N45SH", (1.33, 1.35, 1.37), (907, 907, 907), (1512, 1512, 1512), -0.55, (150, 150, 150));

    /// <summary>Sintered neodymium-iron-boron N48SH, for service to 150 °C: B_r 1.37 T to 1.42 T.</summary>
    [Source("HGT", "grade table, row N48SH")]
    [Source("MEMORY", "temperature coefficient of coercivity, −0.55 %/K")]
    public static MagnetGrade N48SH { get; } = Neodymium("N48SH", (1.37, 1.39, 1.42), (1019, 1019, 1019), (1592, 1592, 1592), -0.55, (150, 150, 150));

    /// <summary>Samarium-cobalt 1-5, 16 MGOe: B_r 0.75 T to 0.90 T.</summary>
    [Source("XY", "row YX16: 750 mT to 880 mT, H_cB 597 ± 40 kA/m, H_cJ at least 1591 kA/m")]
    [Source("AWORK", "rows XG-16A and XG-16B")]
    public static MagnetGrade SmCo16 { get; } = SamariumCobalt("SmCo16", MagnetFamily.SamariumCobalt15, (0.75, 0.82, 0.90), (557, 597, 692), (1432, 1591, 1989));

    /// <summary>Samarium-cobalt 1-5, 18 MGOe: B_r 0.86 T.</summary>
    [Source("MS", "table of magnetic properties, row 18, in gauss and oersted")]
    [Source("MEMORY", "range of remanence: 3 % about the one value that the maker gives")]
    public static MagnetGrade SmCo18 { get; } = SamariumCobalt("SmCo18", MagnetFamily.SamariumCobalt15, (0.83, 0.86, 0.89), (573, 573, 573), (716, 716, 716));

    /// <summary>Samarium-cobalt 1-5, 22 MGOe: B_r 0.985 T.</summary>
    [Source("MS", "table of magnetic properties, row 22, in gauss and oersted")]
    [Source("MEMORY", "range of remanence: 3 % about the one value that the maker gives")]
    public static MagnetGrade SmCo22 { get; } = SamariumCobalt("SmCo22", MagnetFamily.SamariumCobalt15, (0.95, 0.985, 1.01), (696, 696, 696), (955, 955, 955));

    /// <summary>Samarium-cobalt 2-17, 26 MGOe: B_r 1.05 T. Its coercivity is low for the family.</summary>
    [Source("MS", "table of magnetic properties, row 26, in gauss and oersted")]
    [Source("MEMORY", "range of remanence: 3 % about the one value that the maker gives")]
    public static MagnetGrade SmCo26 { get; } = SamariumCobalt("SmCo26", MagnetFamily.SamariumCobalt217, (1.02, 1.05, 1.08), (732, 732, 732), (796, 796, 796));

    /// <summary>Samarium-cobalt 2-17, 28 MGOe: B_r 1.07 T.</summary>
    [Source("MS", "table of magnetic properties, row 28, in gauss and oersted")]
    [Source("MEMORY", "range of remanence: 3 % about the one value that the maker gives")]
    public static MagnetGrade SmCo28 { get; } = SamariumCobalt("SmCo28", MagnetFamily.SamariumCobalt217, (1.04, 1.07, 1.10), (820, 820, 820), (1432, 1432, 1432));

    /// <summary>Samarium-cobalt 2-17, 28 MGOe, high coercivity: B_r 1.03 T to 1.08 T.</summary>
    [Source("MSR", "row YXG28H: 1030 mT to 1080 mT, −0.035 %/K")]
    public static MagnetGrade SmCo28H { get; } = SamariumCobalt("SmCo28H", MagnetFamily.SamariumCobalt217, (1.03, 1.055, 1.08), (756, 784, 812), (1990, 1990, 1990), -0.035);

    /// <summary>Samarium-cobalt 2-17, 31 MGOe: B_r 1.16 T.</summary>
    [Source("MS", "table of magnetic properties, row 32H, in gauss and oersted")]
    [Source("MEMORY", "range of remanence: 3 % about the one value that the maker gives")]
    public static MagnetGrade SmCo32H { get; } = SamariumCobalt("SmCo32H", MagnetFamily.SamariumCobalt217, (1.13, 1.16, 1.19), (756, 756, 756), (1114, 1114, 1114));

    /// <summary>Hard ferrite Y30 (C5): B_r 0.38 T to 0.40 T.</summary>
    [Source("METALMAT", "hard ferrite table, row Y30, least and typical value")]
    [Source("JX", "physical properties of sintered hard ferrite")]
    [Source("MEMORY", "greatest remanence")]
    public static MagnetGrade Y30 { get; } = Ferrite("Y30", (0.380, 0.385, 0.400), (191, 191, 210), (199, 199, 220));

    /// <summary>Hard ferrite Y35: B_r 0.40 T to 0.42 T.</summary>
    [Source("METALMAT", "hard ferrite table, row Y35, least and typical value")]
    [Source("JX", "physical properties of sintered hard ferrite")]
    [Source("MEMORY", "greatest remanence")]
    public static MagnetGrade Y35 { get; } = Ferrite("Y35", (0.400, 0.410, 0.420), (175, 175, 195), (180, 180, 200));

    /// <summary>Hard ferrite C8: B_r 0.38 T to 0.40 T.</summary>
    [Source("METALMAT", "hard ferrite table, row C8, least and typical value")]
    [Source("JX", "row C8A: 390 ± 10 mT, 231 ± 8 kA/m, 235 ± 8 kA/m")]
    public static MagnetGrade C8 { get; } = Ferrite("C8", (0.380, 0.390, 0.400), (223, 235, 255), (227, 242, 265));

    /// <summary>Cast AlNiCo 5: B_r 1.25 T to 1.30 T. The rigid model does not hold, see <see cref="Caution"/>.</summary>
    [Source("TMC", "column Alnico-5, casting")]
    [Source("DUR", "alnico grades: greatest service temperature")]
    [Source("MEMORY", "intrinsic coercivity about equal to the normal one, its temperature coefficient")]
    public static MagnetGrade Alnico5 { get; } = Alnico("Alnico 5 (cast)", (1.25, 1.275, 1.30), (47.7, 47.7, 52.5), (47.7, 48, 53), (6.9, 7.3, 7.3));

    /// <summary>Cast AlNiCo 8: B_r 0.83 T to 0.90 T. The rigid model does not hold, see <see cref="Caution"/>.</summary>
    [Source("TMC", "column Alnico-8, casting")]
    [Source("DUR", "alnico grades: greatest service temperature")]
    [Source("MEMORY", "intrinsic coercivity about equal to the normal one, its temperature coefficient")]
    public static MagnetGrade Alnico8 { get; } = Alnico("Alnico 8 (cast)", (0.83, 0.865, 0.90), (110, 110, 123), (110, 115, 127), (6.9, 7.3, 7.3));

    /// <summary>Sintered AlNiCo 5: B_r 1.10 T to 1.15 T. The rigid model does not hold, see <see cref="Caution"/>.</summary>
    [Source("DUR", "sintered alnico, row Alnico 5")]
    [Source("TMC", "column Alnico Sinter")]
    [Source("MEMORY", "intrinsic coercivity about equal to the normal one, its temperature coefficient")]
    public static MagnetGrade Alnico5Sintered { get; } = Alnico("Alnico 5 (sintered)", (1.10, 1.10, 1.15), (48, 48, 50), (48, 48, 50), (6.9, 7.1, 7.1));

    /// <summary>Sintered AlNiCo 8: B_r 0.88 T. The rigid model does not hold, see <see cref="Caution"/>.</summary>
    [Source("DUR", "sintered alnico, row Alnico 8")]
    [Source("MEMORY", "range of remanence: 3 % about the one value that the maker gives")]
    public static MagnetGrade Alnico8Sintered { get; } = Alnico("Alnico 8 (sintered)", (0.85, 0.88, 0.91), (121, 121, 121), (127, 127, 127), (6.9, 7.1, 7.1));

    /// <summary>Bonded neodymium BNP-6: B_r 0.53 T to 0.65 T.</summary>
    [Source("HGT", "bonded grades, row BN6")]
    [Source("RIS", "row BNP-6")]
    [Source("MPCO", "row BNP-6 prints 650 mT to 700 mT and 80 kJ/m³ to 96 kJ/m³, out of order between BNP-5 and BNP-7: not used")]
    [Source("MEMORY", "temperature coefficient of coercivity")]
    public static MagnetGrade Bnp6 { get; } = Bonded("BNP-6", (0.53, 0.59, 0.65), (295, 302, 374), (478, 597, 796));

    /// <summary>Bonded neodymium BNP-8: B_r 0.62 T to 0.68 T.</summary>
    [Source("HGT", "bonded grades, row BN8")]
    [Source("RIS", "row BNP-8")]
    [Source("MPCO", "row BNP-8")]
    [Source("MEMORY", "temperature coefficient of coercivity")]
    public static MagnetGrade Bnp8 { get; } = Bonded("BNP-8", (0.62, 0.65, 0.68), (390, 398, 462), (636, 637, 796));

    /// <summary>Bonded neodymium BNP-10: B_r 0.65 T to 0.71 T.</summary>
    [Source("HGT", "bonded grades, row BN10")]
    [Source("MPCO", "row printed as BNP-6: its energy product is that of BNP-10")]
    [Source("MEMORY", "temperature coefficient of coercivity")]
    public static MagnetGrade Bnp10 { get; } = Bonded("BNP-10", (0.65, 0.68, 0.71), (414, 414, 512), (600, 637, 796));

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

    /// <summary>Relative recoil permeability μ_rec, typical. The field kernels take 1.</summary>
    [Dimensionless]
    public double RecoilPermeability { get; }

    /// <summary>Electrical resistivity at 20 °C, typical and range; <see langword="null"/> if not known.</summary>
    public PropertyRange<ElectricResistivity>? ResistivityRange { get; }

    /// <summary>Curie temperature, typical and range; <see langword="null"/> if not known.</summary>
    public PropertyRange<Temperature>? CurieTemperatureRange { get; }

    /// <summary>
    /// Whether the rigid model of the field kernels (recoil permeability 1, straight demagnetization curve) describes the material: false
    /// for AlNiCo and for anything with a recoil permeability above 1.5.
    /// </summary>
    public bool RigidModelHolds => Family != MagnetFamily.Alnico && RecoilPermeability <= 1.5;

    /// <summary>What to know before using a field computed for this grade; <see langword="null"/> if the rigid model holds to a few percent.</summary>
    public string? Caution
        => !RigidModelHolds
            ? $"{Name}: the demagnetization curve is bent and the coercivity low, so the magnet does not keep its remanence in the open. "
                + "Fields and forces computed with rigid magnetization are far too high."
            : RecoilPermeability > 1.1
                ? $"{Name}: recoil permeability {Show.Number(RecoilPermeability)}; fields computed with rigid magnetization are too high by up to "
                    + $"{Show.Number(100 * (RecoilPermeability - 1))} %."
                : null;

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
            RecoilPermeability,
            ResistivityRange,
            CurieTemperatureRange);

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
            Range((-0.12, -0.12, -0.095), PercentPerKelvin),                                // SHM -0.12; AIC -0.095 to -0.105
            Range((coercivityCoefficient, coercivityCoefficient, -0.45), PercentPerKelvin), // SHM; AIC -0.45 to -0.60
            Range((7.3, 7.5, 7.5), v => Density.FromGramsPerCubicCentimeter(v)),            // SHM 7.50; AIC 7.3 to 7.5
            Range(service, v => Temperature.FromDegreesCelsius(v)),
            1.05,                                                                           // SHM
            Range((1.1, 1.6, 2.0), MicroohmMeters),                                         // AIC 1.14; MS 1.6 µΩ·m (it prints "160 ohm cm")
            Range((310, 312, 380), v => Temperature.FromDegreesCelsius(v)));                // AIC 310 to 340; others to 380

    private static MagnetGrade SamariumCobalt(
        string name,
        MagnetFamily family,
        (double Least, double Typical, double Greatest) remanence,
        (double Least, double Typical, double Greatest) normalCoercivity,
        (double Least, double Typical, double Greatest) intrinsicCoercivity,
        double? coefficient = null)
    {
        bool oneFive = family == MagnetFamily.SamariumCobalt15;
        double typical = coefficient ?? (oneFive ? -0.043 : -0.03);      // MS
        return new(
            name,
            family,
            Range(remanence, v => MagneticField.FromTeslas(v)),
            Range(normalCoercivity, KiloamperesPerMeter),
            Range(intrinsicCoercivity, KiloamperesPerMeter),
            Range((-0.05, typical, -0.03), PercentPerKelvin),                               // VOR -0.03 to -0.05
            Range((-0.30, oneFive ? -0.30 : -0.20, -0.15), PercentPerKelvin),               // VOR -0.15 to -0.30
            Range(oneFive ? (8.2, 8.2, 8.3) : (8.3, 8.4, 8.5), v => Density.FromGramsPerCubicCentimeter(v)),     // MS; VOR 8.2 to 8.5
            Range(oneFive ? (250, 250, 250) : (300, 300, 350), v => Temperature.FromDegreesCelsius(v)),          // MS
            1.05,                                                                           // MS
            Range(oneFive ? (0.5, 0.55, 0.6) : (0.8, 0.86, 0.9), MicroohmMeters),           // VOR 50 to 90 µΩ·cm; MS prints "ohm cm"
            Range(oneFive ? (700, 750, 750) : (800, 825, 850), v => Temperature.FromDegreesCelsius(v)));         // MS; VOR 700 to 850
    }

    private static MagnetGrade Ferrite(
        string name,
        (double Least, double Typical, double Greatest) remanence,
        (double Least, double Typical, double Greatest) normalCoercivity,
        (double Least, double Typical, double Greatest) intrinsicCoercivity)
        => new(
            name,
            MagnetFamily.HardFerrite,
            Range(remanence, v => MagneticField.FromTeslas(v)),
            Range(normalCoercivity, KiloamperesPerMeter),
            Range(intrinsicCoercivity, KiloamperesPerMeter),
            Range((-0.20, -0.20, -0.18), PercentPerKelvin),                                 // JX
            Range((0.2, 0.3, 0.5), PercentPerKelvin),                                       // JX 0.2 to 0.5: it loses coercivity in the cold
            Range((4.8, 4.9, 5.0), v => Density.FromGramsPerCubicCentimeter(v)),            // JX
            Range((250, 250, 250), v => Temperature.FromDegreesCelsius(v)),                 // JX
            1.1,                                                                            // JX 1.05 to 1.3
            null,
            Range((450, 460, 460), v => Temperature.FromDegreesCelsius(v)));                // JX

    private static MagnetGrade Alnico(
        string name,
        (double Least, double Typical, double Greatest) remanence,
        (double Least, double Typical, double Greatest) normalCoercivity,
        (double Least, double Typical, double Greatest) intrinsicCoercivity,
        (double Least, double Typical, double Greatest) density)
        => new(
            name,
            MagnetFamily.Alnico,
            Range(remanence, v => MagneticField.FromTeslas(v)),
            Range(normalCoercivity, KiloamperesPerMeter),
            Range(intrinsicCoercivity, KiloamperesPerMeter),
            Range((-0.02, -0.02, -0.01), PercentPerKelvin),                                 // TMC
            Range((-0.03, 0, 0.03), PercentPerKelvin),                                      // from memory
            Range(density, v => Density.FromGramsPerCubicCentimeter(v)),                    // TMC
            Range((450, 450, 450), v => Temperature.FromDegreesCelsius(v)),                 // DUR
            3.6,                                                                            // TMC
            Range((0.45, 0.47, 0.7), MicroohmMeters),                                       // TMC 470 nΩ·m
            Range((810, 850, 860), v => Temperature.FromDegreesCelsius(v)));                // TMC

    private static MagnetGrade Bonded(
        string name,
        (double Least, double Typical, double Greatest) remanence,
        (double Least, double Typical, double Greatest) normalCoercivity,
        (double Least, double Typical, double Greatest) intrinsicCoercivity)
        => new(
            name,
            MagnetFamily.BondedNeodymium,
            Range(remanence, v => MagneticField.FromTeslas(v)),
            Range(normalCoercivity, KiloamperesPerMeter),
            Range(intrinsicCoercivity, KiloamperesPerMeter),
            Range((-0.11, -0.11, -0.10), PercentPerKelvin),                                 // HGT, MPCO
            Range((-0.45, -0.40, -0.35), PercentPerKelvin),                                 // from memory
            Range((5.6, 5.9, 6.2), v => Density.FromGramsPerCubicCentimeter(v)),            // HGT, MPCO
            Range((100, 160, 160), v => Temperature.FromDegreesCelsius(v)),                 // HGT and MPCO 160, RIS 100
            1.2);                                                                           // MPCO

    private static ElectricResistivity MicroohmMeters(double value) => ElectricResistivity.FromOhmMeters(1e-6 * value);

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
