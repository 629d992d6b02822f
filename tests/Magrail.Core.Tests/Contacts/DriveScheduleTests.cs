using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Contacts;

/// <summary>What the contacts connect, against layouts drawn by hand.</summary>
public class DriveScheduleTests
{
    /// <summary>Forward, reverse, shorted, dead and plain gap, in one row: edges lie half a brush outside each strip.</summary>
    [Fact]
    public void A_row_drawn_by_hand()
    {
        DriveSchedule schedule = DriveSchedule.Of(
            LaunchBench.Commutator(
                2,
                (0, 10, Bus.Plus, Bus.Minus),
                (20, 30, Bus.Minus, Bus.Plus),
                (40, 50, Bus.Plus, Bus.Plus),
                (60, 70, Bus.Minus, Bus.Minus),
                (80, 90, Bus.Dead, Bus.Plus),
                (100, 110, Bus.Plus, Bus.Dead)),
            0);
        Check(
            schedule,
            (-1, CoilDrive.Forward), (11, CoilDrive.Open),
            (19, CoilDrive.Reverse), (31, CoilDrive.Open),
            (39, CoilDrive.Shorted), (51, CoilDrive.Open),
            (59, CoilDrive.Shorted), (71, CoilDrive.Open),
            (79, CoilDrive.Open), (91, CoilDrive.Open),
            (99, CoilDrive.Open), (111, CoilDrive.Open));
        Assert.Empty(schedule.Bridges);
    }

    /// <summary>Lines shifted against each other: only where both brushes touch does current flow.</summary>
    [Fact]
    public void Shifted_lines_overlap()
    {
        var contacts = new ContactCommutator(
            new ContactLine([new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Plus)]),
            new ContactLine([new ContactStrip(4.Millimeters(), 14.Millimeters(), Bus.Minus)]),
            new Brush(2.Millimeters()));
        Check(DriveSchedule.Of(contacts, 0), (-1, CoilDrive.Open), (3, CoilDrive.Forward), (11, CoilDrive.Open), (15, CoilDrive.Open));
    }

    /// <summary>A coil ahead of the mark, and a brush ahead of its coil, meet every edge earlier by as much.</summary>
    [Fact]
    public void Offsets_of_coil_and_brush_add_up()
    {
        var contacts = new ContactCommutator(
            new ContactLine([new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Plus)]),
            new ContactLine([new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Minus)]),
            new Brush(2.Millimeters(), offset: 1.5.Millimeters()));
        Check(DriveSchedule.Of(contacts, 0.004), (-6.5, CoilDrive.Forward), (5.5, CoilDrive.Open));
    }

    /// <summary>A long brush joins strips of the same rail; over opposite ones it bridges, and the place is known.</summary>
    [Fact]
    public void A_long_brush_joins_or_bridges()
    {
        DriveSchedule joined = DriveSchedule.Of(LaunchBench.Commutator(8, (0, 10, Bus.Plus, Bus.Minus), (15, 25, Bus.Plus, Bus.Minus)), 0);
        Assert.Empty(joined.Bridges);
        Assert.All(joined.Drives.Skip(1).SkipLast(1), drive => Assert.Equal(CoilDrive.Forward, drive));

        DriveSchedule bridged = DriveSchedule.Of(LaunchBench.Commutator(8, (0, 10, Bus.Plus, Bus.Minus), (15, 25, Bus.Minus, Bus.Plus)), 0);
        Assert.Equal([true, false], bridged.Bridges.Select(bridge => bridge.Upper));
        Assert.All(bridged.Bridges, bridge =>
        {
            Assert.Equal(11e-3, bridge.From, 1e-12);
            Assert.Equal(14e-3, bridge.To, 1e-12);
        });
    }

    [Fact]
    public void The_side_of_an_edge_goes_by_the_direction()
    {
        DriveSchedule schedule = DriveSchedule.Of(LaunchBench.Commutator(2, (0, 10, Bus.Plus, Bus.Minus)), 0);
        Assert.Equal(CoilDrive.Forward, schedule.Drives[schedule.IndexAt(-1e-3, 1)]);
        Assert.Equal(CoilDrive.Open, schedule.Drives[schedule.IndexAt(-1e-3, -1)]);
        Assert.Equal(CoilDrive.Open, schedule.Drives[schedule.IndexAt(11e-3, 1)]);
        Assert.Equal(CoilDrive.Forward, schedule.Drives[schedule.IndexAt(11e-3, -1)]);
    }

    /// <summary>The longest brush is the shortest gap between neighbours of opposite rails, dead strips left out.</summary>
    [Fact]
    public void Longest_brush()
    {
        Assert.Equal(5, LaunchBench.Commutator(1, (0, 10, Bus.Plus, Bus.Minus), (15, 25, Bus.Minus, Bus.Plus), (32, 40, Bus.Plus, Bus.Minus)).LongestBrush!.Value.Millimeters, 1e-9);
        Assert.Equal(20, LaunchBench.Commutator(1, (0, 10, Bus.Plus, Bus.Minus), (15, 25, Bus.Dead, Bus.Dead), (30, 40, Bus.Minus, Bus.Plus)).LongestBrush!.Value.Millimeters, 1e-9);
        Assert.Null(LaunchBench.Commutator(1, (0, 10, Bus.Plus, Bus.Minus), (15, 25, Bus.Plus, Bus.Minus)).LongestBrush);

        // Out of order, the gap is still the distance between neighbours along the track.
        Assert.Equal(5, LaunchBench.Commutator(1, (15, 25, Bus.Minus, Bus.Plus), (0, 10, Bus.Plus, Bus.Minus)).LongestBrush!.Value.Millimeters, 1e-9);
    }

    /// <summary>A layout for a track: fed over dwell times pitch, shifted by the lead, never bridging, always pushing forward in the middle.</summary>
    [RepeatableProperty(60)]
    public Property A_layout_for_a_track_has_its_dwell_and_lead_and_never_bridges()
    {
        Gen<(double Dwell, double Lead, double Brush, double Offset, int Stations)> layouts =
            from dwell in Gen.Choose(20, 98)
            from lead in Gen.Choose(-80, 80)
            from brush in Gen.Choose(2, 30)
            from offset in Gen.Choose(-40, 40)
            from stations in Gen.Choose(2, 12)
            select (dwell / 100.0, lead / 10.0, brush / 10.0, offset / 10.0, stations);
        return Prop.ForAll(Arb.From(layouts), layout =>
        {
            Track track = LaunchBench.TrackOf(layout.Stations);
            var brush = new Brush(layout.Brush.Millimeters(), offset: layout.Offset.Millimeters());
            ContactCommutator contacts = ContactCommutator.For(track, LaunchBench.Coil, layout.Dwell, layout.Lead.Millimeters(), brush);
            DriveSchedule schedule = DriveSchedule.Of(contacts, 0);
            Assert.Empty(schedule.Bridges);
            Assert.Equal(layout.Stations - 1, contacts.Upper.Strips.Length);
            if (contacts.LongestBrush is Length longest)
            {
                Assert.True(brush.Length < longest);
            }

            CircuitCurve curve = CircuitCurve.Compile(track, [new CircuitCoil(LaunchBench.Coil, 0, 1)], 0, 0.02 * layout.Stations, 1e-4);
            for (int k = 0; k + 1 < layout.Stations; k++)
            {
                double middle = (20 * (k + 0.5)) - layout.Lead;
                Assert.Equal(middle - (10 * layout.Dwell), 1e3 * schedule.Edges[2 * k], 1e-9);
                Assert.Equal(middle + (10 * layout.Dwell), 1e3 * schedule.Edges[(2 * k) + 1], 1e-9);
                CoilDrive drive = schedule.Drives[(2 * k) + 1];
                int sense = drive == CoilDrive.Forward ? 1 : -1;
                Assert.True(drive is CoilDrive.Forward or CoilDrive.Reverse);
                Assert.True(sense * curve.At(0.02 * (k + 0.5)) > 0);
            }
        });
    }

    /// <summary>Whatever the strips: the state at any place is what the brushes touch there.</summary>
    [RepeatableProperty(200)]
    public Property The_state_is_what_the_brushes_touch()
    {
        Gen<(int Gap, int Length, Bus Bus)> strip =
            from gap in Gen.Choose(5, 40)
            from length in Gen.Choose(5, 60)
            from bus in Gen.Elements(Bus.Plus, Bus.Minus, Bus.Dead)
            select (gap, length, bus);
        return Prop.ForAll(Arb.From(Gen.NonEmptyListOf(strip)), Arb.From(Gen.NonEmptyListOf(strip)), Arb.From(Gen.Choose(1, 30)), (upper, lower, brush) =>
        {
            ContactLine top = Line(upper), bottom = Line(lower);
            var contacts = new ContactCommutator(top, bottom, new Brush(((brush / 10.0) + 0.03).Millimeters()));
            DriveSchedule schedule = DriveSchedule.Of(contacts, 0);
            for (int i = 0; i < 200; i++)
            {
                double x = ((0.37 * i) + 0.0123) * 1e-3;
                HashSet<Bus> up = Touched(top, x, contacts.UpperBrush), down = Touched(bottom, x, contacts.LowerBrush);
                CoilDrive drive = schedule.Drives[schedule.IndexAt(x, 1)];
                if (up.Count == 2 || down.Count == 2)
                {
                    Assert.Contains(schedule.Bridges, bridge => x >= bridge.From && x <= bridge.To);
                    continue;
                }

                CoilDrive expected = up.Count == 0 || down.Count == 0 ? CoilDrive.Open
                    : up.Single() == down.Single() ? CoilDrive.Shorted
                    : up.Single() == Bus.Plus ? CoilDrive.Forward : CoilDrive.Reverse;
                Assert.Equal(expected, drive);
            }
        });
    }

    private static ContactLine Line(IEnumerable<(int Gap, int Length, Bus Bus)> strips)
    {
        List<ContactStrip> made = [];
        double at = 0;
        foreach ((int gap, int length, Bus bus) in strips)
        {
            double from = at + (gap / 10.0);
            at = from + (length / 10.0);
            made.Add(new ContactStrip(from.Millimeters(), at.Millimeters(), bus));
        }

        return new ContactLine(made);
    }

    private static HashSet<Bus> Touched(ContactLine line, double x, Brush brush)
        => [.. line.Strips.Where(s => s.Bus != Bus.Dead && s.Start.Meters < x + (0.5 * brush.Length.Meters) && s.End.Meters > x - (0.5 * brush.Length.Meters)).Select(s => s.Bus)];

    private static void Check(DriveSchedule schedule, params (double Edge, CoilDrive After)[] expected)
    {
        Assert.Equal(expected.Length, schedule.Edges.Length);
        Assert.Equal(CoilDrive.Open, schedule.Drives[0]);
        for (int i = 0; i < expected.Length; i++)
        {
            Assert.Equal(expected[i].Edge, 1e3 * schedule.Edges[i], 1e-9);
            Assert.Equal(expected[i].After, schedule.Drives[i + 1]);
        }
    }
}
