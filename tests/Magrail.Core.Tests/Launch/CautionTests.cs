using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>What a result says about its own magnets: margins, and warnings where the figures are not to be trusted.</summary>
public class CautionTests
{
    [Fact]
    public void Cold_magnets_of_a_good_grade_give_no_caution_and_a_margin()
    {
        LaunchResult result = LaunchBench.Launch(LaunchBench.Whole(3));

        Assert.Empty(result.Cautions);
        Assert.True(result.Demagnetization.IsSafe);
        Assert.InRange(result.Demagnetization.Worst.Margin, 0.1, 0.9);
        Assert.True(result.Demagnetization.Worst.CoilField.AmperesPerMeter > 0, "the coil's field counts");
    }

    [Fact]
    public void A_thin_magnet_near_its_service_temperature_is_told()
    {
        LaunchResult result = LaunchBench.Launch(WithMagnet(MagnetGrade.N42, thickness: 2) with { MagnetTemperature = 80.DegreesCelsius() });

        Assert.False(result.Demagnetization.IsSafe);
        string caution = Assert.Single(result.Cautions);
        Assert.Contains("Demagnetization", caution);
        Assert.Contains("kA/m", caution);
    }

    [Fact]
    public void A_material_that_the_rigid_model_does_not_describe_is_told()
    {
        LaunchResult result = LaunchBench.Launch(WithMagnet(MagnetGrade.Alnico5, thickness: 6));

        Assert.Contains(result.Cautions, caution => caution.Contains("bent", StringComparison.Ordinal));
    }

    [Fact]
    public void A_thin_iron_plate_is_told()
    {
        Launcher whole = LaunchBench.Whole(3);
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        Launcher Backed(double plate) => whole with
        {
            Track = Track.OfStations(MagnetStation.FacingPair(magnet, 10.Millimeters(), new BackIron(plate.Millimeters())), 3, 20.Millimeters()),
        };

        Assert.Contains(LaunchBench.Launch(Backed(1)).Cautions, caution => caution.StartsWith("Back iron", StringComparison.Ordinal));
        Assert.DoesNotContain(LaunchBench.Launch(Backed(12)).Cautions, caution => caution.StartsWith("Back iron", StringComparison.Ordinal));
    }

    [Fact]
    public void Magnets_above_their_service_temperature_are_a_fault_that_names_both()
    {
        LauncherFault fault = Assert.Single((LaunchBench.Whole(3) with { MagnetTemperature = 120.DegreesCelsius() }).Validate());

        Assert.Contains("120 °C", fault.Message);
        Assert.Contains("80 °C", fault.Message);
        Assert.Contains("N42", fault.Message);
    }

    private static Launcher WithMagnet(MagnetGrade grade, double thickness)
        => LaunchBench.Whole(3) with
        {
            Track = Track.OfFacingPairs(new BlockMagnet(12.Millimeters(), thickness.Millimeters(), 20.Millimeters(), grade), 10.Millimeters(), 10, 20.Millimeters()),
        };
}
