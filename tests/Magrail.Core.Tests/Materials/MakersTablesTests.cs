using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Materials;

/// <summary>
/// Rows of makers' tables lie in the ranges of our grades: remanence from its least to its greatest value, and what a maker
/// guarantees of the coercivities among the guarantees that we know of. Makers differ, so these are ranges on both sides.
/// </summary>
public class MakersTablesTests
{
    private const double VacuumPermeability = 1.25663706127e-6;

    /// <summary>
    /// Sintered neodymium: remanence in mT, H_cB and H_cJ in kA/m, energy product in kJ/m³ (chinamagnetfactory.com, Magnet Standards).
    /// An ideal magnet has B_r²/(4 μ₀); real ones come up to it and to 4 % below.
    /// </summary>
    [Theory]
    [InlineData("N35", 1170, 1220, 868, 955, 263, 287)]
    [InlineData("N38", 1220, 1250, 899, 955, 287, 310)]
    [InlineData("N40", 1250, 1280, 907, 955, 302, 326)]
    [InlineData("N42", 1280, 1320, 915, 955, 318, 342)]
    [InlineData("N45", 1320, 1380, 923, 955, 342, 366)]
    [InlineData("N48", 1380, 1420, 923, 876, 366, 390)]      // H_cB above H_cJ cannot be: B is zero before the magnetization is
    [InlineData("N50", 1400, 1450, 796, 876, 382, 406)]
    [InlineData("N52", 1430, 1480, 796, 876, 398, 422)]
    [InlineData("N42H", 1280, 1320, 955, 1353, 318, 342)]
    public void Sintered_neodymium(string name, double least, double greatest, double normal, double intrinsic, double lowProduct, double highProduct)
    {
        MagnetGrade grade = Spans(name, least, greatest, normal, intrinsic);
        Assert.InRange(lowProduct / Ideal(least), 0.96, 1.001);
        Assert.InRange(highProduct / Ideal(greatest), 0.96, 1.001);
        Assert.True(grade.NormalCoercivity <= grade.IntrinsicCoercivity);
    }

    /// <summary>Other makers of N42 and N45: 1.29 T to 1.33 T (duramag.com); H_cB 923 kA/m and 875 kA/m (a maker's data page, read once).</summary>
    [Fact]
    public void Makers_differ()
    {
        Spans("N42", 1290, 1330, 923, 955);
        Spans("N45", 1320, 1380, 875, 955);
    }

    /// <summary>en.shanghaimagnet.com: 7.50 g/cm³, recoil 1.05, −0.12 %/K and −0.76 %/K (N); the H and SH kinds lose their coercivity more slowly (−0.68 %/K is M).</summary>
    [Fact]
    public void Neodymium_physical_properties()
    {
        MagnetGrade grade = MagnetGrade.N42;
        Assert.Equal(7.50, grade.Density.GramsPerCubicCentimeter, 1e-9);
        Assert.Equal(1.05, grade.RecoilPermeability);
        Assert.Equal(-0.12e-2, grade.RemanenceCoefficient.PerKelvin, 1e-12);
        Assert.Equal(-0.76e-2, grade.IntrinsicCoercivityCoefficient.PerKelvin, 1e-12);
        Assert.True(MagnetGrade.N42H.IntrinsicCoercivityCoefficient.PerKelvin > -0.68e-2);
    }

    /// <summary>1 MGOe = 100/(4π) kJ/m³ = 7.957747 kJ/m³; B_r = 2 √(N/100) T: 1.1832 T, 1.2961 T, 1.4422 T (W. Robertson, magnet theory).</summary>
    [Fact]
    public void Megagauss_oersted()
    {
        Assert.Equal(7.957747, 100 / (4 * Math.PI), 5e-7);
        foreach ((double product, double teslas) in new[] { (35, 1.1832), (42, 1.2961), (52, 1.4422) })
        {
            Assert.Equal(teslas, 2 * Math.Sqrt(product / 100), 5e-5);
            Assert.Equal(product * 100 / (4 * Math.PI), Ideal(1e3 * teslas), 0.01 * product);
        }
    }

    /// <summary>Hard ferrite, mT and kA/m, least and typical value (metalmat.net).</summary>
    [Theory]
    [InlineData("Y30", 380, 385, 191, 210, 199, 220)]
    [InlineData("Y35", 400, 410, 175, 195, 180, 200)]
    [InlineData("C8", 385, 390, 235, 255, 242, 265)]
    public void Hard_ferrite(string name, double least, double typical, double normalLeast, double normalTypical, double intrinsicLeast, double intrinsicTypical)
    {
        Spans(name, least, typical, normalLeast, intrinsicLeast);
        Spans(name, least, typical, normalTypical, intrinsicTypical);
    }

    /// <summary>jingxin-magnet.com: −0.20 %/K, +0.2 %/K to +0.5 %/K, 4.8 g/cm³ to 5.0 g/cm³, 460 °C, recoil 1.05 to 1.3.</summary>
    [Fact]
    public void Ferrite_physical_properties()
    {
        MagnetGrade grade = MagnetGrade.Y30;
        Assert.Equal(-0.20e-2, grade.RemanenceCoefficient.PerKelvin, 1e-12);
        Assert.InRange(grade.IntrinsicCoercivityCoefficient.PerKelvin, 0.2e-2, 0.5e-2);
        Assert.Equal((4.8, 5.0), (grade.DensityRange.Least.GramsPerCubicCentimeter, grade.DensityRange.Greatest.GramsPerCubicCentimeter));
        Assert.Equal(460, grade.CurieTemperatureRange!.Typical.DegreesCelsius, 1e-9);
        Assert.InRange(grade.RecoilPermeability, 1.05, 1.3);
    }

    /// <summary>Samarium-cobalt as printed, in gauss and oersted (magnetsales.com): 1 G = 0.1 mT, 1 Oe = 79.5775 A/m.</summary>
    [Theory]
    [InlineData("SmCo18", 8600, 7200, 9000)]
    [InlineData("SmCo26", 10500, 9200, 10000)]
    [InlineData("SmCo28", 10700, 10300, 18000)]
    [InlineData("SmCo32H", 11600, 9500, 14000)]
    public void Samarium_cobalt_in_gauss_and_oersted(string name, double gauss, double normalOersted, double intrinsicOersted)
    {
        MagnetGrade grade = Named(name);
        Assert.Equal(1e-4 * gauss, grade.Remanence.Teslas, 1e-9);
        Assert.Equal(79.5775 * normalOersted, grade.NormalCoercivity.AmperesPerMeter, 500.0);
        Assert.Equal(79.5775 * intrinsicOersted, grade.IntrinsicCoercivity.AmperesPerMeter, 500.0);
    }

    /// <summary>YXG28H (1030 mT to 1080 mT, 756 kA/m to 812 kA/m, at least 1990 kA/m, −0.035 %/K) and YX16 (750 mT to 880 mT, 597 ± 40 kA/m, at least 1591 kA/m, 127 ± 16 kJ/m³): makers' pages.</summary>
    [Fact]
    public void Samarium_cobalt_by_other_makers()
    {
        Spans("SmCo28H", 1030, 1080, 756, 1990);
        Spans("SmCo28H", 1030, 1080, 812, 1990);
        Assert.Equal(-0.035e-2, MagnetGrade.SmCo28H.RemanenceCoefficient.PerKelvin, 1e-12);
        Spans("SmCo16", 750, 880, 557, 1591);
        Spans("SmCo16", 750, 880, 637, 1591);
        Assert.InRange(Ideal(MagnetGrade.SmCo16.Remanence.Milliteslas), 127 - 16, 127 + 16);
    }

    /// <summary>magnetsales.com, 1-5 and 2-17: 8.2 g/cm³ and 8.4 g/cm³, −0.043 %/K and −0.03 %/K, 750 °C and 825 °C, recoil 1.05.</summary>
    [Theory]
    [InlineData("SmCo18", 8.2, -0.043, 750)]
    [InlineData("SmCo28", 8.4, -0.03, 825)]
    public void Samarium_cobalt_physical_properties(string name, double density, double percentPerKelvin, double curie)
    {
        MagnetGrade grade = Named(name);
        Assert.Equal(density, grade.Density.GramsPerCubicCentimeter, 1e-9);
        Assert.Equal(0.01 * percentPerKelvin, grade.RemanenceCoefficient.PerKelvin, 1e-12);
        Assert.Equal(curie, grade.CurieTemperatureRange!.Typical.DegreesCelsius, 1e-9);
        Assert.Equal(1.05, grade.RecoilPermeability);
    }

    /// <summary>Cast AlNiCo (tmcmagnetics.com): mT, kA/m, −0.02 %/K, 850 °C, recoil 3.6, 7.3 g/cm³; sintered nominal (duramag.com).</summary>
    [Fact]
    public void Alnico()
    {
        foreach (double normal in new[] { 47.7, 52.5 })
        {
            SpansNormal("Alnico5", 1250, 1300, normal);
        }

        foreach (double normal in new[] { 110.0, 123 })
        {
            SpansNormal("Alnico8", 830, 900, normal);
        }

        MagnetGrade cast = MagnetGrade.Alnico5;
        Assert.Equal(-0.02e-2, cast.RemanenceCoefficient.PerKelvin, 1e-12);
        Assert.Equal(-0.02e-2, MagnetGrade.Alnico8.RemanenceCoefficient.PerKelvin, 1e-12);
        Assert.Equal(850, cast.CurieTemperatureRange!.Typical.DegreesCelsius, 1e-9);
        Assert.Equal(3.6, cast.RecoilPermeability);
        Assert.Equal(7.3, cast.Density.GramsPerCubicCentimeter, 1e-9);

        // The energy product falls far short of B_r²/(4 μ₀), since the curve is bent: 38.2 kJ/m³ to 43.8 kJ/m³.
        Assert.True(43.8 < 0.2 * Ideal(1250));
        Spans("Alnico5Sintered", 1100, 1100, 48, 48);
        Spans("Alnico8Sintered", 880, 880, 121, 127);
    }

    /// <summary>
    /// mpcomagnetics.com prints under BNP-6 650 mT to 700 mT, 456 kA/m to 512 kA/m, 600 kA/m to 720 kA/m, 80 kJ/m³ to 96 kJ/m³: numbers that stand
    /// above its own BNP-7, and are those of BNP-10, where we have them. 5.6 g/cm³ to 6.0 g/cm³, recoil 1.20.
    /// </summary>
    [Fact]
    public void Bonded_neodymium()
    {
        Spans("Bnp10", 650, 700, 456, 600);
        Spans("Bnp10", 650, 700, 512, 720);
        Assert.True(MagnetGrade.Bnp6.Remanence.Milliteslas < 650);
        Assert.Equal(1.2, MagnetGrade.Bnp6.RecoilPermeability);
        Assert.InRange(MagnetGrade.Bnp6.Density.GramsPerCubicCentimeter, 5.6, 6.0);
    }

    /// <summary>B_r²/(4 μ₀) in kJ/m³ of a remanence in mT.</summary>
    private static double Ideal(double milliteslas) => 1e-9 * milliteslas * milliteslas / (4 * VacuumPermeability);

    private static MagnetGrade Spans(string name, double least, double greatest, double normal, double intrinsic)
    {
        MagnetGrade grade = SpansNormal(name, least, greatest, normal);
        InRange(intrinsic, grade.IntrinsicCoercivityRange, $"{name}: H_cJ");
        return grade;
    }

    private static MagnetGrade SpansNormal(string name, double least, double greatest, double normal)
    {
        MagnetGrade grade = Named(name);
        Assert.InRange(least, grade.RemanenceLeast.Milliteslas - 1e-9, grade.RemanenceGreatest.Milliteslas + 1e-9);
        Assert.InRange(greatest, grade.RemanenceLeast.Milliteslas - 1e-9, grade.RemanenceGreatest.Milliteslas + 1e-9);
        InRange(normal, grade.NormalCoercivityRange, $"{name}: H_cB");
        return grade;
    }

    private static void InRange(double kiloamperesPerMeter, PropertyRange<Magnetization> range, string what)
        => Assert.True(
            kiloamperesPerMeter >= (1e-3 * range.Least.AmperesPerMeter) - 1e-6 && kiloamperesPerMeter <= (1e-3 * range.Greatest.AmperesPerMeter) + 1e-6,
            $"{what} {kiloamperesPerMeter} kA/m is outside {range.Least} to {range.Greatest}");

    private static MagnetGrade Named(string name) => (MagnetGrade)typeof(MagnetGrade).GetProperty(name)!.GetValue(null)!;
}
