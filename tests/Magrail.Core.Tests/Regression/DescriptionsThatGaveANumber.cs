using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Regression;

/// <summary>Descriptions of what cannot be that were taken without a word.</summary>
public sealed class DescriptionsThatGaveANumber
{
    /// <summary>A coil held so far off its path that it overlaps a magnet: the closed forms of blocks went on computing.</summary>
    [Fact]
    public void ACoilHeldInsideAMagnet()
    {
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            120);
        MagnetStation station = MagnetStation.FacingPair(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), 10.Millimeters());

        // Twelve turns of 0.566 mm reach 3.396 mm; 4 mm off the middle they stand 2.396 mm in a magnet whose face is at 5 mm.
        foreach (double side in new[] { -4.0, 4 })
        {
            ArgumentException refused = Assert.Throws<ArgumentException>(() => LateralForce.Of(coil, station, side.Millimeters(), Length.Zero));
            Assert.Contains("the coil runs into a magnet", refused.Message, StringComparison.Ordinal);
            Assert.Contains("by 2.396 mm on its way; the path must be clear", refused.Message, StringComparison.Ordinal);
        }

        Assert.NotNull(LateralForce.Of(coil, station, 1.5.Millimeters(), 30.Millimeters()));
    }
}
