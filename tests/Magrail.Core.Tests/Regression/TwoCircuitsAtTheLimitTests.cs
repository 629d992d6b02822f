using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Regression;

public class TwoCircuitsAtTheLimitTests
{
    /// <summary>
    /// Two circuits whose contacts part at one place, on a supply at its limit, with resistances that follow the overlap: steps shrink to a few roundings of time, and the
    /// search for a double crossing inside one asked for a part of it that time cannot tell, without end.
    /// </summary>
    [Fact(Timeout = 60_000)]
    public async Task A_double_crossing_is_looked_for_only_as_close_as_time_can_tell()
    {
        Track track = Track.OfFacingPairs(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N52), 10.Millimeters(), 10, 20.Millimeters());
        var coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade1), CoilFormer.Rounded(8.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), 84);
        var contact = new ContactResistance(0.9008.Milliohms(), 0.2702.Milliohms(), 0.4504.Milliohms());
        var launcher = new Launcher(
            track,
            new Sled(75.06.Grams(), [new CoilMount(coil, Length.Zero), new CoilMount(coil, 30.Millimeters(), circuit: 1)]) { Friction = new GuideFriction(0, 0.0951) },
            new ContactCommutator(Line(Bus.Minus, Bus.Plus), Line(Bus.Plus, Bus.Minus), new Brush(2.302.Millimeters(), contact, 1.Newtons())),
            new BenchSupply(54.276.Volts(), 23.508.Amperes(), 0.066.Ohms()),
            new Payload(18.97.Grams()))
        {
            Slope = 8.715.Degrees(),
            CoilTemperature = 35.44.DegreesCelsius(),
        };
        LaunchResult result = await Task.Run(() => LaunchBench.Launch(launcher));
        Assert.Equal(LaunchOutcome.Released, result.Outcome);

        static ContactLine Line(Bus even, Bus odd)
            => new(Enumerable.Range(0, 9).Select(k => new ContactStrip((4.467 + (20 * k)).Millimeters(), (14.069 + (20 * k)).Millimeters(), k % 2 == 0 ? even : odd)));
    }
}
