using FsCheck;
using FsCheck.Fluent;
using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Contacts;

/// <summary>Strips laid out by a rule lie where the rule says, and never short the source.</summary>
public class StripLayoutTests
{
    private static readonly Coil Coil = LaunchBench.Coil;

    /// <summary>Every layout either has its edges where the formula says and never bridges, or is refused for the reason that the formula gives.</summary>
    [RepeatableProperty(150)]
    public Property Strips_lie_where_the_formula_says_and_never_bridge()
    {
        Gen<Case> cases =
            from byGap in Gen.Elements(false, true)
            from part in Gen.Choose(5, 99)
            from brush in Gen.Choose(2, 60)
            from offset in Gen.Choose(-40, 40)
            from stations in Gen.Choose(2, 12)
            from lead in Gen.Choose(-60, 60)
            from time in Gen.Choose(0, 12)
            from exit in Gen.Choose(1, 20)
            select new Case(byGap, part / 100.0, (brush + 0.37) / 10, offset / 10.0, stations, lead / 10.0, time / 10.0, exit);
        return Prop.ForAll(Arb.From(cases), one =>
        {
            Track track = LaunchBench.TrackOf(one.Stations);
            double length = 20.0 * (one.Stations - 1);
            var brush = new Brush(one.Brush.Millimeters(), offset: one.Offset.Millimeters());
            StripLayout layout = (one.ByGap ? StripLayout.OfGap((20 * one.Part).Millimeters()) : StripLayout.OfDwell(one.Part)) with
            {
                Lead = StripLead.Growing(one.Lead.Millimeters(), one.Time.Milliseconds(), ExpectedSpeed.Accelerated(one.Exit.MetersPerSecond(), Length.Zero, length.Millimeters())),
            };

            // By hand, in millimeters and milliseconds: m/s are mm/ms.
            double strip = one.ByGap ? 20 * (1 - one.Part) : (20 * one.Part) - one.Brush;
            double[] leads = [.. Enumerable.Range(0, one.Stations - 1).Select(k => one.Lead + (one.Time * one.Exit * Math.Sqrt(20 * (k + 0.5) / length)))];
            double[] gaps = [.. leads.Zip(leads.Skip(1), (before, after) => 20 - strip - (after - before))];
            bool possible = strip > 0 && leads.All(lead => Math.Abs(lead) < 10) && gaps.Append(20 - strip).All(gap => gap > one.Brush);
            if (!possible)
            {
                ArgumentOutOfRangeException fault = Assert.Throws<ArgumentOutOfRangeException>(() => ContactCommutator.For(track, Coil, layout, brush));
                Assert.Contains(fault.ParamName, (string[])["gap", "lead", "brush"]);
                return;
            }

            ContactCommutator contacts = ContactCommutator.For(track, Coil, layout, brush);
            Assert.Equal(one.Stations - 1, contacts.Upper.Strips.Length);
            for (int k = 0; k < one.Stations - 1; k++)
            {
                double middle = (20 * (k + 0.5)) - leads[k] + one.Offset;
                foreach (ContactStrip laid in (ContactStrip[])[contacts.Upper.Strips[k], contacts.Lower.Strips[k]])
                {
                    Assert.Equal(middle - (0.5 * strip), laid.Start.Millimeters, 1e-9);
                    Assert.Equal(middle + (0.5 * strip), laid.End.Millimeters, 1e-9);
                }

                Assert.NotEqual(contacts.Upper.Strips[k].Bus, contacts.Lower.Strips[k].Bus);
            }

            Assert.All(contacts.Upper.Strips.Zip(contacts.Upper.Strips.Skip(1)), pair =>
            {
                Assert.True(pair.Second.Start.Meters - pair.First.End.Meters > brush.Length.Meters);
                Assert.NotEqual(pair.First.Bus, pair.Second.Bus);
            });
            Assert.Empty(DriveSchedule.Of(contacts, 0).Bridges);
            if (gaps.Length > 0)
            {
                Assert.Equal(gaps.Min(), contacts.LongestBrush!.Value.Millimeters, 1e-9);
            }

        });
    }

    /// <summary>The longest brush is what it says: a hair shorter never bridges, a hair longer does.</summary>
    [Fact]
    public void The_longest_brush_is_the_longest()
    {
        ContactCommutator contacts = ContactCommutator.For(
            LaunchBench.TrackOf(8),
            Coil,
            StripLayout.OfGap(6.Millimeters()) with { Lead = StripLead.Growing(0.2.Millimeters(), 0.3.Milliseconds(), ExpectedSpeed.Accelerated(10.MetersPerSecond(), Length.Zero, 140.Millimeters())) },
            new Brush(3.Millimeters()));
        Length longest = contacts.LongestBrush!.Value;
        Assert.InRange(longest.Millimeters, 3.001, 5.999);
        Assert.Empty(DriveSchedule.Of(With(longest - 0.001.Millimeters()), 0).Bridges);
        Assert.NotEmpty(DriveSchedule.Of(With(longest + 0.001.Millimeters()), 0).Bridges);

        ContactCommutator With(Length brush) => new(contacts.Upper, contacts.Lower, new Brush(brush));
    }

    /// <summary>Every strip of one pitch has one length, so that one cutting list serves: a lead moves strips and does not shorten them.</summary>
    [Fact]
    public void A_dwell_and_its_gap_are_one_layout()
    {
        // Dwell 0.8 of 20 mm with a brush of 3 mm: strips of 13 mm, gaps of 7 mm.
        var brush = new Brush(3.Millimeters());
        Track track = LaunchBench.TrackOf(6);
        ContactCommutator byDwell = ContactCommutator.For(track, Coil, 0.8, 0.5.Millimeters(), brush);
        ContactCommutator byGap = ContactCommutator.For(track, Coil, StripLayout.OfGap(7.Millimeters()) with { Lead = StripLead.Constant(0.5.Millimeters()) }, brush);
        Assert.All(byDwell.Upper.Strips.Zip(byGap.Upper.Strips), pair =>
        {
            Assert.Equal(pair.First.Start.Millimeters, pair.Second.Start.Millimeters, 1e-12);
            Assert.Equal(pair.First.End.Millimeters, pair.Second.End.Millimeters, 1e-12);
            Assert.Equal(pair.First.Bus, pair.Second.Bus);
        });
    }

    /// <summary>Pitches that differ: each strip goes by its own pitch, and between stations of one polarity lies none.</summary>
    [Fact]
    public void Pitches_may_differ_and_a_pair_may_be_missing()
    {
        MagnetStation station = LaunchBench.TrackOf(2).Stations[0];
        Track track = Track.Of(
            new StationPlace(station, 0.Millimeters(), Polarity.Positive),
            new StationPlace(station, 20.Millimeters(), Polarity.Negative),
            new StationPlace(station, 44.Millimeters(), Polarity.Negative),
            new StationPlace(station, 72.Millimeters(), Polarity.Positive));
        ContactCommutator contacts = ContactCommutator.For(track, Coil, StripLayout.OfGap(8.Millimeters()), new Brush(2.Millimeters()));
        Assert.Equal([(4.0, 16.0), (48.0, 68.0)], contacts.Upper.Strips.Select(strip => (Math.Round(strip.Start.Millimeters, 9), Math.Round(strip.End.Millimeters, 9))));
    }

    [Fact]
    public void Expected_speeds()
    {
        // v = 8 √((x − 10)/(110 − 10)): 4 m/s after a quarter of the way.
        ExpectedSpeed even = ExpectedSpeed.Accelerated(8.MetersPerSecond(), 10.Millimeters(), 110.Millimeters());
        Assert.Equal([0, 0, 4, 8, 8], new[] { -5, 10, 35, 110, 200 }.Select(x => Math.Round(even.At(x.Millimeters()).MetersPerSecond, 12)));
        ExpectedSpeed known = ExpectedSpeed.Through([(0.Millimeters(), 1.MetersPerSecond()), (10.Millimeters(), 2.MetersPerSecond()), (30.Millimeters(), 6.MetersPerSecond())]);
        Assert.Equal([1, 1.5, 2, 4, 6], new[] { -5, 5, 10, 20, 31 }.Select(x => Math.Round(known.At(x.Millimeters()).MetersPerSecond, 12)));
        Assert.Equal(even, ExpectedSpeed.Accelerated(Speed.FromCentimetersPerSecond(800), 1.Centimeters(), 11.Centimeters()));
        Assert.NotEqual(even, ExpectedSpeed.Accelerated(8.MetersPerSecond(), 10.Millimeters(), 111.Millimeters()));

        // 0.5 mm and 0.25 ms at 4 m/s: 1.5 mm.
        Assert.Equal(1.5, StripLead.Growing(0.5.Millimeters(), 0.25.Milliseconds(), even).At(35.Millimeters()).Millimeters, 1e-12);
        Assert.Equal(0.5, StripLead.Constant(0.5.Millimeters()).At(35.Millimeters()).Millimeters, 1e-12);
        Assert.Equal(
            LaunchBench.Coil.Inductance.Henries / (LaunchBench.Coil.Resistance.Ohms + 0.3), StripLead.TurningTime(LaunchBench.Coil, 0.3.Ohms()).Seconds, 1e-15);
    }

    [Fact]
    public void Layouts_read_as_people_read_them()
    {
        StripLayout layout = StripLayout.OfGap(7.Millimeters()) with
        {
            Lead = StripLead.Growing(0.5.Millimeters(), 0.25.Milliseconds(), ExpectedSpeed.Accelerated(8.MetersPerSecond(), Length.Zero, 110.Millimeters())),
        };
        Assert.Equal("gap 7 mm, lead 0.5 mm and 250 µs of travel at the expected speed, 8 m/s at 110 mm by one acceleration", layout.ToString());
        Assert.Equal("dwell 0.8, lead 0 m", StripLayout.OfDwell(0.8).ToString());
    }

    [Fact]
    public void What_cannot_be_is_refused_with_value_range_and_reason()
    {
        Track track = LaunchBench.TrackOf(5);
        var brush = new Brush(3.Millimeters());
        ExpectedSpeed fast = ExpectedSpeed.Accelerated(20.MetersPerSecond(), Length.Zero, 80.Millimeters());
        (string Name, string Value, string Range, string Why, Func<object> Make)[] rows =
        [
            ("dwell", "1", "0.05 to 0.99", "the gap in which the current dies", () => StripLayout.OfDwell(1)),
            ("gap", "0 m", "above zero", "short the source", () => StripLayout.OfGap(Length.Zero)),
            ("gap", "3 mm", "longer than the brush, 3 mm", "shorts the source", () => ContactCommutator.For(track, Coil, StripLayout.OfGap(3.Millimeters()), brush)),
            ("gap", "20 mm", "shorter than the pitch, 20 mm", "nothing would be left", () => ContactCommutator.For(track, Coil, StripLayout.OfGap(20.Millimeters()), brush)),
            ("brush", "3 mm", "shorter than dwell times pitch, 2 mm", "nothing would be left", () => ContactCommutator.For(track, Coil, StripLayout.OfDwell(0.1), brush)),
            ("lead", "13.23 mm", "less than half the pitch, 10 mm", "wrong pair", () => ContactCommutator.For(track, Coil, StripLayout.OfDwell(0.5) with { Lead = StripLead.Growing(Length.Zero, 1.08.Milliseconds(), fast) }, brush)),
            ("lead", "3.536 mm, then 6.124 mm at 30 mm", "growing by less than 2 mm from strip to strip", "the brush of 3 mm would bridge", () => ContactCommutator.For(track, Coil, StripLayout.OfDwell(0.9) with { Lead = StripLead.Growing(Length.Zero, 0.5.Milliseconds(), fast) }, brush)),
            ("time", "-1 ms", "zero or above", "after it is told to", () => StripLead.Growing(Length.Zero, (-1).Milliseconds(), fast)),
            ("elsewhere", "-1 ohm", "zero or above", "does not drive", () => StripLead.TurningTime(Coil, (-1).Ohms())),
            ("exit", "0 m/s", "above zero", "ends in motion", () => ExpectedSpeed.Accelerated(Speed.Zero, Length.Zero, 1.Meters())),
            ("to", "10 mm", "beyond the start, 10 mm", "over a way", () => ExpectedSpeed.Accelerated(1.MetersPerSecond(), 10.Millimeters(), 10.Millimeters())),
            ("places", "empty", "one place or more", "none is expected", () => ExpectedSpeed.Through([])),
            ("places", "5 mm", "beyond the one before, 5 mm", "ascend", () => ExpectedSpeed.Through([(5.Millimeters(), Speed.Zero), (5.Millimeters(), Speed.Zero)])),
            ("places", "-1 m/s", "zero or above", "forward", () => ExpectedSpeed.Through([(5.Millimeters(), (-1).MetersPerSecond())])),
        ];
        Assert.All(rows, row =>
        {
            ArgumentOutOfRangeException fault = Assert.Throws<ArgumentOutOfRangeException>(row.Make);
            Assert.Equal(row.Name, fault.ParamName);
            Assert.Contains($"{row.Name} is {row.Value}; it must be {row.Range}", fault.Message, StringComparison.Ordinal);
            Assert.Contains(row.Why, fault.Message, StringComparison.Ordinal);
        });
        Assert.Throws<ArgumentNullException>(() => StripLead.Growing(Length.Zero, Duration.Zero, null!));
        Assert.Throws<ArgumentNullException>(() => StripLayout.OfDwell(0.5) with { Lead = null! });
        Assert.Throws<ArgumentNullException>(() => ContactCommutator.For(track, Coil, null!, brush));
    }

    private sealed record Case(bool ByGap, double Part, double Brush, double Offset, int Stations, double Lead, double Time, double Exit);
}
