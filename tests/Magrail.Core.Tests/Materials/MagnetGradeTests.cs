using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Materials;

/// <summary>Magnet grades against makers' tables and the meaning of their names.</summary>
public class MagnetGradeTests
{
    private static readonly AccuracyRow Names = new("remanence of 20 neodymium grades", "2 √(N/100) T, ideal magnet of the energy product N in MGOe", 0.015, "of it");

    /// <summary>The number of a neodymium grade is its energy product in MGOe: B_r ≈ 2 √(N/100) T (1 MGOe = 100/(4π) kJ/m³, ideal magnet).</summary>
    [Theory]
    [InlineData("N35", 35)]
    [InlineData("N38", 38)]
    [InlineData("N40", 40)]
    [InlineData("N42", 42)]
    [InlineData("N45", 45)]
    [InlineData("N48", 48)]
    [InlineData("N50", 50)]
    [InlineData("N52", 52)]
    [InlineData("N35H", 35)]
    [InlineData("N38H", 38)]
    [InlineData("N40H", 40)]
    [InlineData("N42H", 42)]
    [InlineData("N45H", 45)]
    [InlineData("N48H", 48)]
    [InlineData("N35SH", 35)]
    [InlineData("N38SH", 38)]
    [InlineData("N40SH", 40)]
    [InlineData("N42SH", 42)]
    [InlineData("N45SH", 45)]
    [InlineData("N48SH", 48)]
    public void Remanence_agrees_with_the_name(string name, int energyProduct)
    {
        MagnetGrade grade = Named(name);
        Assert.Equal(name, grade.Name);
        Names.HoldRatio(2 * Math.Sqrt(energyProduct / 100.0), grade.Remanence.Teslas, name);
        Assert.True(grade.RemanenceLeast <= grade.Remanence && grade.Remanence <= grade.RemanenceGreatest);

        // The guaranteed normal coercivity is below B_r/μ₀ of an ideal magnet, and below the intrinsic one unless that is lower still.
        Assert.True(grade.NormalCoercivity.AmperesPerMeter < grade.Remanence.Teslas / 1.25663706127e-6);
        Assert.True(grade.NormalCoercivityRange.Least <= grade.IntrinsicCoercivityRange.Least);
    }

    /// <summary>Rows of makers' tables: Br least and greatest in mT (en.shanghaimagnet.com, NdFeB Performance Parameter Table) lie in our ranges.</summary>
    [Theory]
    [InlineData("N35", 1170, 1220)]
    [InlineData("N38", 1220, 1250)]
    [InlineData("N40", 1250, 1280)]
    [InlineData("N42", 1280, 1320)]
    [InlineData("N45", 1320, 1370)]
    [InlineData("N48", 1370, 1420)]
    [InlineData("N50", 1390, 1440)]
    [InlineData("N52", 1420, 1460)]
    public void Ranges_span_the_makers_table(string name, double least, double greatest)
    {
        MagnetGrade grade = Named(name);
        Assert.InRange(least, grade.RemanenceLeast.Milliteslas - 1e-9, grade.Remanence.Milliteslas);
        Assert.InRange(greatest, grade.Remanence.Milliteslas, grade.RemanenceGreatest.Milliteslas + 1e-9);
    }

    [Fact]
    public void Remanence_falls_with_temperature()
    {
        Assert.Equal(1.30, MagnetGrade.N42.RemanenceAt(20.DegreesCelsius()).Teslas, 1e-12);
        Assert.Equal(1.30 * (1 - (0.0012 * 50)), MagnetGrade.N42.RemanenceAt(70.DegreesCelsius()).Teslas, 1e-12);
        Assert.Equal(955e3 * (1 - (0.0076 * 50)), MagnetGrade.N42.IntrinsicCoercivityAt(70.DegreesCelsius()).AmperesPerMeter, 1e-6);
    }

    [Fact]
    public void Above_the_service_temperature_is_an_error()
    {
        ArgumentOutOfRangeException error = Assert.Throws<ArgumentOutOfRangeException>(() => MagnetGrade.N42.RemanenceAt(90.DegreesCelsius()));
        Assert.Contains("90 °C", error.Message, StringComparison.Ordinal);
        Assert.Contains("80 °C", error.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => MagnetGrade.N42.RemanenceAt((-60).DegreesCelsius()));
        Assert.True(MagnetGrade.N42H.RemanenceAt(110.DegreesCelsius()).Teslas > 1);
    }

    [Fact]
    public void A_measured_remanence_replaces_the_typical_one()
    {
        MagnetGrade measured = MagnetGrade.N42.WithRemanence(1.287.Teslas());
        Assert.Equal(1.287, measured.Remanence.Teslas, 1e-12);
        Assert.Equal(measured.RemanenceLeast, measured.RemanenceGreatest);
        Assert.Equal(MagnetGrade.N42.Density, measured.Density);
        Assert.Throws<ArgumentOutOfRangeException>(() => MagnetGrade.N42.WithRemanence(0.Teslas()));
        Assert.Throws<ArgumentOutOfRangeException>(() => MagnetGrade.N42.WithRemanence(2.1.Teslas()));
    }

    [Fact]
    public void Ranges_are_in_order()
        => Assert.Throws<ArgumentOutOfRangeException>(() => new PropertyRange<MagneticField>(1.2.Teslas(), 1.4.Teslas(), 1.3.Teslas()));

    /// <summary>
    /// Samarium-cobalt: the energy product of an ideal magnet, B_r²/(4 μ₀), is at least the printed one and no more than a sixth above it
    /// (magnetsales.com, table of properties, in MGOe; YXG28H from a maker's page: 207 kJ/m³ to 223 kJ/m³).
    /// </summary>
    [Theory]
    [InlineData("SmCo18", 18, 0.86, 573)]
    [InlineData("SmCo22", 22, 0.985, 696)]
    [InlineData("SmCo26", 26, 1.05, 732)]
    [InlineData("SmCo28", 28, 1.07, 820)]
    [InlineData("SmCo28H", 27, 1.055, 784)]
    [InlineData("SmCo32H", 31, 1.16, 756)]
    public void Samarium_cobalt(string name, double megagaussOersted, double teslas, double normalCoercivity)
    {
        MagnetGrade grade = Named(name);
        Assert.Equal(teslas, grade.Remanence.Teslas, 1e-9);
        Assert.Equal(normalCoercivity, grade.NormalCoercivity.AmperesPerMeter / 1e3, 0.5);
        double ideal = teslas * teslas / (4 * 1.25663706127e-6) / 1e3;
        double printed = megagaussOersted * 100 / (4 * Math.PI);
        Assert.InRange(ideal / printed, 1.0, 1.17);
        Assert.True(grade.GreatestServiceTemperature.DegreesCelsius >= 250);
    }

    /// <summary>
    /// magnetsales.com prints the resistivity of SmCo as "5" and "86 ohm cm". A metal conducts: it must be micro-ohm centimeters (50 to 90 at
    /// vormagelectronics.com).
    /// </summary>
    [Fact]
    public void Samarium_cobalt_is_a_metal()
    {
        Assert.InRange(MagnetGrade.SmCo18.ResistivityRange!.Typical.OhmMeters, 50e-8, 60e-8);
        Assert.InRange(MagnetGrade.SmCo28.ResistivityRange!.Typical.OhmMeters, 80e-8, 90e-8);
        Assert.True(MagnetGrade.SmCo28.ResistivityRange!.Typical.OhmMeters < 1e-4 * 0.86);      // 86 ohm cm, as printed, is 0.86 ohm m
    }

    /// <summary>Hard ferrite in kJ/m³, least and typical (metalmat.net): Y30 26 and 28, Y35 30 and 32, C8 27.8 and 30; ideal B_r²/(4 μ₀) lies just above.</summary>
    [Theory]
    [InlineData("Y30", 28)]
    [InlineData("Y35", 32)]
    [InlineData("C8", 30)]
    public void Ferrite(string name, double energyProduct)
    {
        MagnetGrade grade = Named(name);
        double ideal = grade.Remanence.Teslas * grade.Remanence.Teslas / (4 * 1.25663706127e-6) / 1e3;
        Assert.InRange(ideal / energyProduct, 1.0, 1.07);

        // It loses remanence when warm, and coercivity when cold.
        Assert.Equal(0.8 * grade.Remanence.Teslas, grade.RemanenceAt(120.DegreesCelsius()).Teslas, 1e-9);
        Assert.True(grade.IntrinsicCoercivityAt((-20).DegreesCelsius()) < grade.IntrinsicCoercivityAt(20.DegreesCelsius()));
    }

    [Fact]
    public void Alnico_carries_a_caution()
    {
        foreach (MagnetGrade grade in new[] { MagnetGrade.Alnico5, MagnetGrade.Alnico8, MagnetGrade.Alnico5Sintered, MagnetGrade.Alnico8Sintered })
        {
            Assert.False(grade.RigidModelHolds);
            Assert.Contains("far too high", grade.Caution, StringComparison.Ordinal);
        }

        Assert.Contains("up to 20 %", MagnetGrade.Bnp8.Caution, StringComparison.Ordinal);
        Assert.True(MagnetGrade.Bnp8.RigidModelHolds);
        Assert.Null(MagnetGrade.N42.Caution);
        Assert.Null(MagnetGrade.SmCo28.Caution);
        Assert.Null(MagnetGrade.Y30.Caution);
    }

    /// <summary>mpcomagnetics.com prints 650 mT to 700 mT for BNP-6, between BNP-5 (to 550) and BNP-7 (550 to 650): a row of another grade.</summary>
    [Fact]
    public void Bonded_neodymium_rises_with_its_number()
    {
        Assert.True(MagnetGrade.Bnp6.Remanence < MagnetGrade.Bnp8.Remanence && MagnetGrade.Bnp8.Remanence < MagnetGrade.Bnp10.Remanence);
        Assert.True(MagnetGrade.Bnp6.Remanence.Milliteslas < 650);

        // hgtmagnets.com: BN8 62 kJ/m³ to 70 kJ/m³. An isotropic bonded magnet falls short of the ideal B_r²/(4 μ₀) by a quarter or so.
        double ideal = MagnetGrade.Bnp8.Remanence.Teslas * MagnetGrade.Bnp8.Remanence.Teslas / (4 * 1.25663706127e-6) / 1e3;
        Assert.InRange(66 / ideal, 0.7, 0.9);
    }

    /// <summary>Everything public and static is a grade whose typical values lie in their ranges and whose members are told apart by name.</summary>
    [Fact]
    public void All_grades_are_well_formed()
    {
        List<MagnetGrade> all = typeof(MagnetGrade).GetProperties(System.Reflection.BindingFlags.Public | System.Reflection.BindingFlags.Static)
            .Select(property => (MagnetGrade)property.GetValue(null)!)
            .ToList();
        Assert.Equal(37, all.Count);
        Assert.Equal(all.Count, all.Select(grade => grade.Name).Distinct().Count());
        foreach (MagnetGrade grade in all)
        {
            Assert.InRange(grade.Density.GramsPerCubicCentimeter, 4.8, 8.5);
            Assert.True(grade.RemanenceAt(grade.GreatestServiceTemperature).Teslas > 0.5 * grade.Remanence.Teslas, grade.Name);
            Assert.True(grade.IntrinsicCoercivityAt(grade.GreatestServiceTemperature).AmperesPerMeter > 0, grade.Name);
        }
    }

    private static MagnetGrade Named(string name)
        => (MagnetGrade)typeof(MagnetGrade).GetProperty(name)!.GetValue(null)!;
}
