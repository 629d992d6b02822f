using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Materials;

/// <summary>Magnet grades against makers' tables and the meaning of their names.</summary>
public class MagnetGradeTests
{
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
    [InlineData("N42H", 42)]
    public void Remanence_agrees_with_the_name(string name, int energyProduct)
    {
        MagnetGrade grade = Named(name);
        Assert.Equal(name, grade.Name);
        Assert.Equal(1, grade.Remanence.Teslas / (2 * Math.Sqrt(energyProduct / 100.0)), 0.012);
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

    private static MagnetGrade Named(string name)
        => (MagnetGrade)typeof(MagnetGrade).GetProperty(name)!.GetValue(null)!;
}
