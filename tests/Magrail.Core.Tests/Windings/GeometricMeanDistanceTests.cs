using Magrail.Sources;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Windings;

/// <summary>Geometric mean distance of rectangles, and its place in the inductance of a large ring.</summary>
public class GeometricMeanDistanceTests
{
    private static readonly AccuracyRow Table = new("mean distances of seven rectangles", "T. R. Lyle, Phil. Trans. 1914, Table 1, quoted by D. Garnier", 1.1, "of the last digit (1e-6)");
    private static readonly AccuracyRow Ring = new("large rings of rectangular section", "μ₀ a (ln(8 a/g) − 2), error of order (section/a)²", 3e-6, "of it");

    /// <summary>g/(b + c), T. R. Lyle, Phil. Trans. R. Soc. 1914, Table 1, as quoted in D. Garnier's tests of the open inductance package.</summary>
    [Theory]
    [InlineData(0, 0.223130, 5e-7)]
    [InlineData(0.05, 0.223455, 6e-7)]
    [InlineData(0.10, 0.223599, 6e-7)]
    [InlineData(0.25, 0.223686, 1.1e-6)]      // exact 0.223687
    [InlineData(0.50, 0.223601, 6e-7)]
    [InlineData(0.75, 0.223540, 6e-7)]
    [InlineData(1.00, 0.223525, 6e-7)]
    public void Lyles_table(double ratio, double table, double tolerance)
    {
        double ours = GeometricMeanDistance.OfRectangle((10 * ratio).Millimeters(), 10.Millimeters()).Millimeters / (10 * (1 + ratio));
        Assert.Equal(table, ours, tolerance);
        Table.HoldDifference(table, ours, 1e-6, $"{ratio}");
    }

    [Fact]
    public void Sides_may_be_swapped_and_scaled()
    {
        double g = GeometricMeanDistance.OfRectangle(2.Millimeters(), 7.Millimeters()).Meters;
        Assert.Equal(g, GeometricMeanDistance.OfRectangle(7.Millimeters(), 2.Millimeters()).Meters, 1e-18);
        Assert.Equal(10, GeometricMeanDistance.OfRectangle(2.Centimeters(), 7.Centimeters()).Meters / g, 1e-12);
    }

    /// <summary>The closed form and the first order meet where one takes over from the other.</summary>
    [Fact]
    public void Thin_rectangles_are_continuous()
    {
        double below = GeometricMeanDistance.OfRectangle(0.99999e-5, 1);
        double above = GeometricMeanDistance.OfRectangle(1.00001e-5, 1);
        Assert.Equal(Math.PI / 3 * 0.00002e-5, Math.Log(above / below), 1e-9);
    }

    /// <summary>L = μ₀ a (ln(8 a/g) − 2) for a ≫ section: the Neumann integral must tend to it, with an error of order (section/a)².</summary>
    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 4)]
    [InlineData(4, 1)]
    public void Large_ring(double depth, double length)
    {
        double radius = 1000;
        double inner = radius - (0.5 * depth);
        CoilSi ring = new(inner, inner, inner, new WindingBlockSi(0, depth, -0.5 * length, 0.5 * length, 1), default);
        double expected = PhysicalConstants.VacuumPermeability * radius
            * (Math.Log(8 * radius / GeometricMeanDistance.OfRectangle(depth, length)) - 2);
        Ring.HoldRatio(expected, SelfInductance.Compute(ring), $"{depth} × {length}");
    }

    [Fact]
    public void A_point_is_an_error()
        => Assert.Throws<ArgumentOutOfRangeException>(() => GeometricMeanDistance.OfRectangle(Length.Zero, Length.Zero));
}
