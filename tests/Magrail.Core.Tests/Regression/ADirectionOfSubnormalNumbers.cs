namespace Magrail.Tests.Regression;

/// <summary>
/// 1e-160 m beside the axis of a disc the squares of the coordinates are subnormal, and the direction from the axis came out by a part in 10⁴ too
/// long or short: the field across was off by as much of itself.
/// </summary>
public sealed class ADirectionOfSubnormalNumbers
{
    [Fact]
    public void NextToTheAxisTheFieldIsThatOfTheAxis()
    {
        var disc = new BodySi(1, 1, 0.5, default, TrackAxis.Along, 1.3) { Shape = BodyShape.Ring, Axis = TrackAxis.Up };
        Vector3D exact = BodyField.FluxDensity(disc, new(0, 0, -3));
        for (double step = 1e-300; step < 1e-20; step *= 7)
        {
            Assert.True((BodyField.FluxDensity(disc, new(0.6 * step, -0.8 * step, -3)) - exact).Length < 1e-15, $"{step}");
        }
    }
}
