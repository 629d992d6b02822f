using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Magnets;

/// <summary>
/// What cannot be built is refused in words: the parameter, its value with unit, the range that holds, and why. Overlapping bodies, magnets in
/// the coil's way, no thickness, a gauge that does not exist, a grade above its service temperature.
/// </summary>
public sealed class BadInputTests
{
    private static readonly BlockMagnet Block = new(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
    private static readonly DiscMagnet Disc = new(10.Millimeters(), 6.Millimeters(), MagnetGrade.N42);
    private static readonly Wire Half = Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2);
    private static readonly Coil Flat = Coil.Wind(Half, CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), 120);
    private static readonly Coil Along = Coil.Wind(Half, CoilFormer.Round(16.Millimeters(), 8.Millimeters()), 90, axis: TrackAxis.Along);
    private static readonly MagnetStation Pair = MagnetStation.FacingPair(Block, 10.Millimeters());
    private static readonly Track Track = Track.OfFacingPairs(Block, 10.Millimeters(), 3, 20.Millimeters());

    private static readonly (string What, string Message, Func<object> Make)[] Rows =
    [
        // No thickness.
        ("block along", "along is 0 m; it must be above zero: a magnet has a size along the track", () => new BlockMagnet(Length.Zero, 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42)),
        ("block across", "across is 0 m; it must be above zero: ", () => new BlockMagnet(12.Millimeters(), Length.Zero, 20.Millimeters(), MagnetGrade.N42)),
        ("block height", "height is -1 mm; it must be above zero: a magnet has a height", () => new BlockMagnet(12.Millimeters(), 6.Millimeters(), (-1).Millimeters(), MagnetGrade.N42)),
        ("disc thickness", "thickness is 0 m; it must be above zero: a disc has a thickness", () => new DiscMagnet(10.Millimeters(), Length.Zero, MagnetGrade.N42)),
        ("disc diameter", "diameter is 0 m; it must be above zero: a disc has a diameter", () => new DiscMagnet(Length.Zero, 6.Millimeters(), MagnetGrade.N42)),
        ("ring length", "length is 0 m; it must be above zero: a ring has a length", () => new RingMagnet(20.Millimeters(), 10.Millimeters(), Length.Zero, MagnetGrade.N42)),
        ("ring wall", "innerDiameter is 20 mm; it must be below 20 mm: ", () => new RingMagnet(20.Millimeters(), 20.Millimeters(), 5.Millimeters(), MagnetGrade.N42)),
        ("ring bore", "innerDiameter is 0 m; it must be above zero: a ring has a bore; a solid one is a DiscMagnet", () => new RingMagnet(20.Millimeters(), Length.Zero, 5.Millimeters(), MagnetGrade.N42)),
        ("iron plate", "thickness is 0 m; it must be above zero: a plate has a thickness", () => new BackIron(Length.Zero)),
        ("gap", "gap is 0 m; it must be above zero: the coil runs between the two magnets", () => MagnetStation.FacingPair(Block, Length.Zero)),
        ("clearance", "clearance is 0 m; it must be above zero: the coil runs past the magnet", () => MagnetStation.SingleSided(Block, Length.Zero)),

        // Bodies that overlap.
        ("free bodies", "magnets 0 and 1 of the station overlap: block 12 mm along × 6 mm across × 20 mm high, N42, magnetized across the gap at (0 m, 0 m, 0 m) and disc 10 mm diameter × 6 mm, N42, axis across the gap, magnetized across the gap at (5 mm, 3 mm, 0 m); two bodies cannot share space", () => MagnetStation.Of(
            new PlacedMagnet(Block, Length.Zero, Length.Zero, Length.Zero), new PlacedMagnet(Disc, 5.Millimeters(), 3.Millimeters(), Length.Zero))),
        ("pitch", "pitch is 11 mm; it must be 12 mm or more: the magnets of neighboring stations would overlap", () => Track.OfFacingPairs(Block, 10.Millimeters(), 4, 11.Millimeters())),
        ("stations", "stations 0 and 1, at 0 m and 11 mm, overlap; two magnets cannot share space", () => Track.Of(new StationPlace(Pair, Length.Zero), new StationPlace(Pair, 11.Millimeters()))),
        ("blocks around the path", "bore is 17 mm; it must be 17.32 mm or more: 6 blocks 10 mm wide would overlap in a smaller ring", () => MagnetStation.Coaxial(
            new BlockMagnet(12.Millimeters(), 6.Millimeters(), 10.Millimeters(), MagnetGrade.N42, TrackAxis.Along), 6, 17.Millimeters())),

        // Magnets in the coil's way.
        ("blocks in the way", "its winding overlaps the block 12 mm along × 6 mm across × 20 mm high, N42, magnetized across the gap by 0.896 mm on its way; the path must be clear", () => CouplingCurve.Of(Flat, MagnetStation.FacingPair(Block, 5.Millimeters()))),
        ("discs in the way", "its winding overlaps the disc 10 mm diameter × 6 mm, N42, axis across the gap, magnetized across the gap by 0.896 mm on its way; the path must be clear", () => CouplingCurve.Of(Flat, MagnetStation.FacingPair(Disc, 5.Millimeters()))),
        ("a block beside it in the way", "by 0.396 mm on its way; the path must be clear", () => CouplingCurve.Of(Flat, MagnetStation.SingleSided(Block, 3.Millimeters()))),
        ("a ring in the way", "its winding overlaps the ring 40 mm outside, 22 mm bore × 8 mm, N42, axis along the track, magnetized along the track by 0.962 mm on its way; the path must be clear", () => CouplingCurve.Of(
            Along, MagnetStation.Coaxial(new RingMagnet(40.Millimeters(), 22.Millimeters(), 8.Millimeters(), MagnetGrade.N42)))),
        ("blocks around it in the way", "by 1.962 mm on its way; the path must be clear", () => CouplingCurve.Of(
            Along, MagnetStation.Coaxial(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 8.Millimeters(), MagnetGrade.N42, TrackAxis.Along), 5, 20.Millimeters()))),
        ("above the middle in the way", "by 6.396 mm on its way; the path must be clear", () => CouplingCurve.Of(Flat, MagnetStation.Of(new PlacedMagnet(Block, Length.Zero, Length.Zero, 15.Millimeters())))),
        ("held off its path", "by 2.396 mm on its way; the path must be clear", () => LateralForce.Of(Flat, Pair, 4.Millimeters(), Length.Zero)),
        ("a stiffness", "by 0.896 mm on its way; the path must be clear", () => LateralForce.Stiffness(Flat, MagnetStation.FacingPair(Block, 5.Millimeters()), Length.Zero, 1.Amperes())),

        // Gauges that do not exist.
        ("AWG 45", "number is 45; it must be -3 to 44: American wire gauges run from 4/0, written -3, to 44", () => WireGauge.Awg(45)),
        ("AWG 5/0", "number is -4; it must be -3 to 44: American wire gauges run from 4/0, written -3, to 44", () => WireGauge.Awg(-4)),
        ("13 mm", "bareDiameter is 13 mm; it must be 0.01 mm to 12 mm: round winding wire is drawn in this range, given as the diameter without enamel", () => WireGauge.Metric(13.Millimeters())),
        ("no wire", "bareDiameter is 0 m; it must be 0.01 mm to 12 mm: ", () => WireGauge.Metric(Length.Zero)),

        // Above the service temperature of the grade.
        ("remanence at 90 °C", "temperature is 90 °C; it must be -40 °C to 80 °C: the linear law of N42 holds no further, and above its service temperature it loses remanence for good", () => MagnetGrade.N42.RemanenceAt(90.DegreesCelsius())),
        ("coercivity at 130 °C", "temperature is 130 °C; it must be -40 °C to 120 °C: the linear law of N42H holds no further", () => MagnetGrade.N42H.IntrinsicCoercivityAt(130.DegreesCelsius())),
        ("demagnetization at 120 °C", "temperature is 120 °C; it must be -40 °C to 80 °C: the linear law of N42", () => Demagnetization.Of(Track, 120.DegreesCelsius())),
        ("a curve at 120 °C", "temperature is 120 °C; it must be -40 °C to 80 °C: the linear law of N42", () => CircuitCurve.Compile(Track, [new CircuitCoil(Flat, 0, 1)], 0, 0.04, magnets: 120.DegreesCelsius())),
    ];

    public static TheoryData<int, string> Cases
    {
        get
        {
            var data = new TheoryData<int, string>();
            for (int i = 0; i < Rows.Length; i++)
            {
                data.Add(i, Rows[i].What);
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Is_refused_with_value_range_and_reason(int index, string what)
    {
        (_, string message, Func<object> make) = Rows[index];
        ArgumentException error = Assert.ThrowsAny<ArgumentException>(make);
        Assert.True(error.Message.Contains(message, StringComparison.Ordinal), $"{what}: {error.Message}");
        Assert.False(string.IsNullOrEmpty(error.ParamName), what);
    }
}
