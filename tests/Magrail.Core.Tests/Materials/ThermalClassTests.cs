using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Materials;

/// <summary>Thermal classes and guide materials against their published tables.</summary>
public class ThermalClassTests
{
    /// <summary>IEC 60085: Y 90, A 105, E 120, B 130, F 155, H 180, then 200, 220, 250 °C.</summary>
    [Fact]
    public void The_classes_of_the_standard()
        => Assert.Equal(
            "Y 90, A 105, E 120, B 130, F 155, H 180, 200 200, 220 220, 250 250",
            string.Join(", ", ThermalClass.All.Select(one => $"{one.Designation} {Math.Round(one.Limit.DegreesCelsius, 9)}")));

    [Fact]
    public void The_class_for_a_temperature()
    {
        Assert.Equal(ThermalClass.F, ThermalClass.For(130.1.DegreesCelsius()));
        Assert.Equal(ThermalClass.B, ThermalClass.For(130.DegreesCelsius()));
        Assert.Equal(ThermalClass.Y, ThermalClass.For(20.DegreesCelsius()));
        Assert.Null(ThermalClass.For(251.DegreesCelsius()));
        Assert.Equal(25, ThermalClass.F.MarginAt(130.DegreesCelsius()).Kelvins, 1e-9);
        Assert.Equal(-20, ThermalClass.F.MarginAt(175.DegreesCelsius()).Kelvins, 1e-9);
        Assert.Equal("thermal class H (180 °C)", ThermalClass.H.ToString());
    }

    /// <summary>Coefficients of friction on steel (CRC Materials Science and Engineering Handbook, Table 399; vendors' tables for PTFE and UHMW polyethylene).</summary>
    [Theory]
    [InlineData("acetal homopolymer", 0.1, 0.3)]
    [InlineData("acetal copolymer", 0.15, 0.15)]
    [InlineData("acetal with PTFE", 0.05, 0.15)]
    [InlineData("nylon 6/6", 0.04, 0.13)]
    [InlineData("cast nylon 6", 0.32, 0.32)]
    [InlineData("polyester", 0.13, 0.14)]
    [InlineData("polycarbonate", 0.52, 0.52)]
    [InlineData("PTFE", 0.05, 0.10)]
    [InlineData("UHMW polyethylene", 0.15, 0.20)]
    public void Friction_of_guides(string name, double least, double greatest)
    {
        GuideMaterial[] all =
        [
            GuideMaterial.AcetalHomopolymer, GuideMaterial.AcetalCopolymer, GuideMaterial.AcetalWithPtfe, GuideMaterial.Nylon66, GuideMaterial.CastNylon,
            GuideMaterial.Polyester, GuideMaterial.Polycarbonate, GuideMaterial.Ptfe, GuideMaterial.UhmwPolyethylene,
        ];
        GuideMaterial material = all.Single(m => m.Name == name);
        Assert.Equal(least, material.FrictionOnSteel.Least.DecimalFractions, 1e-12);
        Assert.Equal(greatest, material.FrictionOnSteel.Greatest.DecimalFractions, 1e-12);
        GuideFriction friction = GuideFriction.OnSteel(material);
        Assert.Equal((least + greatest) / 2, friction.Sliding, 1e-12);
        Assert.Equal(greatest, friction.AtRest, 1e-12);
    }

    [Fact]
    public void Ranges_read_well_and_wrong_values_are_refused()
    {
        Assert.Equal("PTFE, friction 0.075 (0.05 to 0.1) on steel", GuideMaterial.Ptfe.ToString());
        var high = new PropertyRange<Ratio>(Ratio.Zero, Ratio.FromDecimalFractions(1), Ratio.FromDecimalFractions(3));
        Assert.Throws<ArgumentOutOfRangeException>(() => new GuideMaterial("tar", high));
        Assert.Throws<ArgumentNullException>(() => new GuideMaterial("none", null!));
        Assert.Throws<ArgumentNullException>(() => GuideFriction.OnSteel(null!));
    }
}
