using Magrail.Sources;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Coupling;

public sealed class DemagnetizationTests
{
    private static readonly Temperature Room = Temperature.FromDegreesCelsius(20);

    [Fact]
    public void A_long_rod_stands_its_own_field_in_the_middle_and_half_its_magnetization_at_the_ends()
    {
        // The pole face of a long rod sees half a solid angle of its own charge: H = -M/2 (textbook).
        var rod = new DiscMagnet(4.Millimeters(), 60.Millimeters(), MagnetGrade.N42);
        var track = Track.OfStations(MagnetStation.SingleSided(rod, 5.Millimeters()), 1, 100.Millimeters());
        DemagnetizationMargin worst = Demagnetization.Of(track, Room).Worst;
        double magnetization = MagnetGrade.N42.Remanence.Teslas / PhysicalConstants.VacuumPermeability;
        Assert.Equal(0.5 * magnetization, worst.Field.AmperesPerMeter, 0.01 * magnetization);
        Assert.Equal(1 - (worst.Field.AmperesPerMeter / MagnetGrade.N42.IntrinsicCoercivityAt(Room).AmperesPerMeter), worst.Margin, 1e-12);
        Assert.Equal(0, worst.CoilField.AmperesPerMeter);
    }

    [Fact]
    public void A_thin_plate_of_a_soft_grade_is_in_danger_and_a_hard_grade_is_not()
    {
        static Track Of(MagnetGrade grade) => Track.OfStations(
            MagnetStation.SingleSided(new BlockMagnet(40.Millimeters(), 1.Millimeters(), 40.Millimeters(), grade), 5.Millimeters()), 1, 60.Millimeters());

        // H comes near -M = 1034 kA/m in the middle of a plate; N42 is guaranteed 955 kA/m, N42SH 1592 kA/m.
        Demagnetization soft = Demagnetization.Of(Of(MagnetGrade.N42), Room);
        Demagnetization hard = Demagnetization.Of(Of(MagnetGrade.N42SH), Room);
        Assert.False(soft.IsSafe);
        Assert.True(hard.IsSafe);
        Assert.InRange(soft.Worst.Field.AmperesPerMeter, 950e3, 1035e3);
        Assert.True(Demagnetization.Of(Of(MagnetGrade.N42SH), Temperature.FromDegreesCelsius(140)).Worst.Margin < hard.Worst.Margin);
    }

    [Fact]
    public void Partners_across_the_gap_help_and_the_coil_opposes()
    {
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        var pairs = Track.OfFacingPairs(magnet, 10.Millimeters(), 7, 20.Millimeters());
        var single = Track.OfStations(MagnetStation.SingleSided(magnet, 5.Millimeters()), 7, 20.Millimeters());
        double facing = Demagnetization.Of(pairs, Room).Worst.Field.AmperesPerMeter;
        double alone = Demagnetization.Of(single, Room).Worst.Field.AmperesPerMeter;
        Assert.True(facing < alone, $"{facing} against {alone}");

        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            120);
        Demagnetization some = Demagnetization.Of(pairs, Room, coil, 20.Amperes());
        Demagnetization more = Demagnetization.Of(pairs, Room, coil, (-200).Amperes());
        Assert.True(some.Worst.CoilField.AmperesPerMeter > 0);
        Assert.Equal(10 * some.Worst.CoilField.AmperesPerMeter, more.Magnets.Max(each => each.CoilField.AmperesPerMeter), 0.3 * more.Worst.CoilField.AmperesPerMeter);
        Assert.True(more.Worst.Margin < some.Worst.Margin);

        // The ends of a track and its middle are different situations; a long alternating track has few of them.
        Assert.InRange(some.Magnets.Length, 2, 14);
        Assert.Equal(14, Demagnetization.Of(Track.OfFacingPairs(magnet, 10.Millimeters(), 200, 20.Millimeters()), Room).Magnets.Length);
    }

    [Fact]
    public void Beyond_its_service_temperature_a_grade_is_refused()
    {
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        var track = Track.OfFacingPairs(magnet, 10.Millimeters(), 3, 20.Millimeters());
        Assert.Throws<ArgumentOutOfRangeException>(() => Demagnetization.Of(track, Temperature.FromDegreesCelsius(120)));
    }
}
