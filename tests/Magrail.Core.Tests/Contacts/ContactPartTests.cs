using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Contacts;

/// <summary>Brushes, strips and lines as parts: what is kept when one is changed, what is equal, what is refused, and the overlap that a schedule tells.</summary>
public sealed class ContactPartTests
{
    private static readonly ContactResistance Parts = new(1.Milliohms(), 2.Milliohms(), 5.Milliohms());
    private static readonly Brush Plain = new(3.Millimeters(), 4.Milliohms(), 0.8.Newtons(), 1.5.Millimeters()) { Drop = 0.3.Volts() };
    private static readonly Brush Real = new(3.Millimeters(), Parts, 0.8.Newtons(), 1.5.Millimeters()) { Drop = 0.3.Volts() };

    [Fact]
    public void A_brush_has_the_stated_values_by_default()
    {
        var brush = new Brush(3.Millimeters());
        Assert.Equal(5, brush.Resistance.Milliohms, 1e-12);
        Assert.Equal(1, brush.Force.Newtons, 1e-12);
        Assert.Equal(0, brush.Offset.Meters);
        Assert.Equal(0, brush.Drop.Volts);
        Assert.False(brush.FollowsOverlap);
        Assert.DoesNotContain("drop", brush.ToString(), StringComparison.Ordinal);
        Assert.Contains("4 mohm and a drop of 300 mV", Plain.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_brush_keeps_what_is_not_changed()
    {
        Assert.True(Real.FollowsOverlap);
        Assert.Equal(8, Real.Resistance.Milliohms, 1e-12);
        foreach (Brush other in (Brush[])[Real.AtFullOverlap(), Real.WithoutResistance(), Real.WithResistance(16.Milliohms()), Plain.WithResistance(16.Milliohms()), Plain.WithResistance(ElectricResistance.Zero)])
        {
            Assert.Equal((3, 0.8, 1.5, 0.3), (Math.Round(other.Length.Millimeters, 9), other.Force.Newtons, Math.Round(other.Offset.Millimeters, 9), other.Drop.Volts));
        }

        Assert.Equal(8, Real.AtFullOverlap().Resistance.Milliohms, 1e-12);
        Assert.False(Real.AtFullOverlap().FollowsOverlap);
        Assert.Equal(0, Real.WithoutResistance().Resistance.Ohms);
        Assert.Equal(16, Plain.WithResistance(16.Milliohms()).Resistance.Milliohms, 1e-12);

        // Twice the whole is twice each part.
        ContactResistance twice = Real.WithResistance(16.Milliohms()).Contact!;
        Assert.Equal((2, 4, 10), (Math.Round(twice.Constriction.Milliohms, 9), Math.Round(twice.Film.Milliohms, 9), Math.Round(twice.Body.Milliohms, 9)));

        // Nothing cannot be scaled to something: then the resistance is one.
        var none = new Brush(3.Millimeters(), new ContactResistance(0.Ohms(), 0.Ohms()), 0.8.Newtons());
        Assert.Equal(6, none.WithResistance(6.Milliohms()).Resistance.Milliohms, 1e-12);
        Assert.Null(none.WithResistance(6.Milliohms()).Contact);
    }

    [Fact]
    public void A_brush_in_numbers_follows_its_overlap_or_does_not()
    {
        // 1 mΩ by the root and 7 mΩ by the overlap: at a quarter 2 mΩ and 28 mΩ.
        BrushSi si = Real.ToSi();
        Assert.Equal(8e-3, si.Full, 1e-15);
        Assert.Equal(30e-3, si.At(new BrushContact(Rails.Plus, 0.25, 0), 0), 1e-15);
        Assert.Equal(0.3, si.Drop, 1e-15);
        Assert.Equal(4e-3, Plain.ToSi().Full, 1e-15);
        Assert.Equal(4e-3, Plain.ToSi().At(new BrushContact(Rails.Plus, 0.25, 0), 0), 1e-15);

        // Held between a fiftieth and the whole.
        var rising = new BrushContact(Rails.Plus, 0.5, 100);
        Assert.Equal(0.6, rising.OverlapAt(0.001), 1e-12);
        Assert.Equal(DriveSchedule.LeastOverlap, rising.OverlapAt(-1));
        Assert.Equal(1, rising.OverlapAt(1));
    }

    [Fact]
    public void Sides_and_touches_go_by_the_rails()
    {
        Assert.Equal((0.5, -0.5, 0.0, 0.0), (BrushContact.SideOf(Rails.Plus), BrushContact.SideOf(Rails.Minus), BrushContact.SideOf(Rails.None), BrushContact.SideOf(Rails.Both)));
        Assert.Equal(-0.5, new BrushContact(Rails.Minus, 1, 0).Side);
        Assert.True(new BrushContact(Rails.Both, 1, 0).Touches);
        Assert.False(new BrushContact(Rails.None, 1, 0).Touches);
    }

    /// <summary>
    /// A brush of 4 mm over a strip of 10 mm: from nothing to the whole over its own length, whole over 6 mm, and down again; edges where 2 % are reached. Over a strip of 1 mm it
    /// never lies on more than a quarter.
    /// </summary>
    [Fact]
    public void Overlap_rises_stays_and_falls()
    {
        DriveSchedule Over(double strip) => DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip(0.Millimeters(), strip.Millimeters(), Bus.Plus)]),
                new ContactLine([new ContactStrip((-100).Millimeters(), 100.Millimeters(), Bus.Minus)]),
                new Brush(4.Millimeters(), Parts, 1.Newtons()),
                new Brush(4.Millimeters())),
            0);
        DriveSchedule wide = Over(10);
        double[] inner = [.. wide.Edges.Select(edge => Math.Round(1e3 * edge, 9)).Where(edge => Math.Abs(edge) < 50)];
        Assert.Equal([-2, -1.92, 2, 8, 11.92, 12], inner);
        double At(DriveSchedule schedule, double x) => schedule.Upper[schedule.IndexAt(1e-3 * x, 1)].OverlapAt(1e-3 * x);
        foreach ((double x, double overlap) in ((double, double)[])[(-1.5, 0.125), (0, 0.5), (1, 0.75), (2, 1), (5, 1), (8, 1), (9, 0.75), (11, 0.25), (11.99, 0.02)])
        {
            Assert.Equal(overlap, At(wide, x), 1e-9);
        }

        DriveSchedule narrow = Over(1);
        foreach ((double x, double overlap) in ((double, double)[])[(-1.5, 0.125), (-1, 0.25), (0.5, 0.25), (2, 0.25), (2.5, 0.125)])
        {
            Assert.Equal(overlap, At(narrow, x), 1e-9);
        }

        // The brush below rests on its strip all the way and knows no overlap.
        Assert.All(wide.Lower.Skip(1).SkipLast(1), contact => Assert.Equal(Rails.Minus, contact.Rails));
        Assert.Equal(1, wide.Lower[2].OverlapAt(0.003), 1e-12);
    }

    [Fact]
    public void Edges_nearer_than_a_nanometer_are_one()
    {
        DriveSchedule Two(double apart) => DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Plus)]),
                new ContactLine([new ContactStrip(Length.FromMeters(apart), Length.FromMeters(0.01 + apart), Bus.Minus)]),
                new Brush(2.Millimeters())),
            0);
        Assert.Equal(2, Two(0.5e-9).Edges.Length);
        Assert.Equal(4, Two(2e-9).Edges.Length);

        // On an edge to within a nanometer the direction decides; beyond that the position does.
        DriveSchedule schedule = Two(0);
        Assert.Equal((0, 1), (schedule.IndexAt(-1e-3 + 0.5e-9, -1), schedule.IndexAt(-1e-3 + 0.5e-9, 1)));
        Assert.Equal((0, 1), (schedule.IndexAt(-1e-3 - 0.5e-9, -1), schedule.IndexAt(-1e-3 - 0.5e-9, 0)));
        Assert.Equal((1, 0), (schedule.IndexAt(-1e-3 + 2e-9, -1), schedule.IndexAt(-1e-3 - 2e-9, 1)));
        Assert.Equal((2, 1), (schedule.IndexAt(1, -1), schedule.IndexAt(5e-3, 1)));

        // Worked out once for a commutator and an offset.
        ContactCommutator same = LaunchBench.Commutator(2, (0, 10, Bus.Plus, Bus.Minus));
        Assert.Same(DriveSchedule.Of(same, 0), DriveSchedule.Of(same, 0));
        Assert.NotSame(DriveSchedule.Of(same, 0), DriveSchedule.Of(same, 1e-3));
    }

    /// <summary>A bridge that an edge of the other line cuts in two is one bridge; two places are two.</summary>
    [Fact]
    public void A_bridge_is_one_place()
    {
        var contacts = new ContactCommutator(
            new ContactLine([new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Plus), new ContactStrip(14.Millimeters(), 24.Millimeters(), Bus.Minus), new ContactStrip(28.Millimeters(), 40.Millimeters(), Bus.Plus)]),
            new ContactLine([new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Minus), new ContactStrip(20.Millimeters(), 40.Millimeters(), Bus.Minus)]),
            new Brush(8.Millimeters()),
            new Brush(3.Millimeters()));
        DriveSchedule schedule = DriveSchedule.Of(contacts, 0);
        Assert.Equal(
            [(10.0, 14.0, true), (24.0, 28.0, true)],
            schedule.Bridges.Select(bridge => (Math.Round(1e3 * bridge.From, 9), Math.Round(1e3 * bridge.To, 9), bridge.Upper)));
        Assert.Equal(CoilDrive.Open, schedule.Drives[schedule.IndexAt(0.013, 1)]);
        Assert.Equal(CoilDrive.Bridged, schedule.Drives[schedule.IndexAt(0.026, 1)]);
    }

    [Fact]
    public void Lines_are_equal_by_their_strips_in_order()
    {
        ContactStrip first = new(0.Millimeters(), 10.Millimeters(), Bus.Plus), second = new(20.Millimeters(), 30.Millimeters(), Bus.Minus);
        Assert.Equal(new ContactLine([first, second]), new ContactLine([new ContactStrip(0.Centimeters(), 1.Centimeters(), Bus.Plus), second]));
        Assert.Equal(new ContactLine([first, second]).GetHashCode(), new ContactLine([first, second]).GetHashCode());
        Assert.NotEqual(new ContactLine([first, second]), new ContactLine([second, first]));
        Assert.NotEqual(new ContactLine([first, second]), new ContactLine([first]));
        Assert.False(new ContactLine([first]).Equals(null));
        Assert.Contains("strips is empty", Assert.Throws<ArgumentOutOfRangeException>(() => new ContactLine([])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentNullException>(() => new ContactLine([first, null!]));
        Assert.Equal((10, 10), (Math.Round(first.Length.Millimeters, 9), Math.Round(second.Length.Millimeters, 9)));
        Assert.Equal("2 strips, 0 m to 30 mm", new ContactLine([first, second]).ToString());
    }

    [Fact]
    public void A_strip_has_a_length_and_a_rail()
    {
        ArgumentOutOfRangeException none = Assert.Throws<ArgumentOutOfRangeException>(() => new ContactStrip(5.Millimeters(), 5.Millimeters(), Bus.Plus));
        Assert.Contains("end is 5 mm; it must be beyond the start, 5 mm", none.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => new ContactStrip(5.Millimeters(), 4.Millimeters(), Bus.Plus));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ContactStrip(5.Millimeters(), 6.Millimeters(), (Bus)9));
    }

    [Fact]
    public void Shifted_strips_keep_their_brushes_and_rails()
    {
        var contacts = new ContactCommutator(
            new ContactLine([new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Plus), new ContactStrip(20.Millimeters(), 30.Millimeters(), Bus.Minus)]),
            new ContactLine([new ContactStrip(1.Millimeters(), 11.Millimeters(), Bus.Minus)]),
            Plain,
            Real);
        Assert.Equal(3, contacts.StripCount);
        foreach (ContactCommutator moved in (ContactCommutator[])[contacts.Shifted(2.Millimeters()), contacts.Shifted([0.002, 0.002, 0.002])])
        {
            Assert.Equal([(2.0, 12.0, Bus.Plus), (22.0, 32.0, Bus.Minus)], moved.Upper.Strips.Select(Told));
            Assert.Equal([(3.0, 13.0, Bus.Minus)], moved.Lower.Strips.Select(Told));
            Assert.Equal((Plain, Real), (moved.UpperBrush, moved.LowerBrush));
        }

        ContactCommutator each = contacts.Shifted([0.001, -0.001, 0.003]);
        Assert.Equal([(1.0, 11.0, Bus.Plus), (19.0, 29.0, Bus.Minus), (4.0, 14.0, Bus.Minus)], each.Upper.Strips.Concat(each.Lower.Strips).Select(Told));

        // One brush for both lines unless there are two; each is changed by itself.
        Assert.Same(Plain, new ContactCommutator(contacts.Upper, contacts.Lower, Plain).LowerBrush);
        ContactCommutator changed = contacts.WithBrushes(brush => brush.WithResistance(16.Milliohms()));
        Assert.Null(changed.UpperBrush.Contact);
        Assert.NotNull(changed.LowerBrush.Contact);

        // A line without opposite neighbors leaves the limit to the other.
        Assert.Equal(10, contacts.LongestBrush!.Value.Millimeters, 1e-9);
        Assert.Equal(10, new ContactCommutator(contacts.Lower, contacts.Upper, Plain).LongestBrush!.Value.Millimeters, 1e-9);

        // Of two lines the shorter gap counts.
        ContactLine closer = new([new ContactStrip(0.Millimeters(), 10.Millimeters(), Bus.Plus), new ContactStrip(17.Millimeters(), 30.Millimeters(), Bus.Minus)]);
        Assert.Equal(7, new ContactCommutator(contacts.Upper, closer, Plain).LongestBrush!.Value.Millimeters, 1e-9);
        Assert.Equal(7, new ContactCommutator(closer, contacts.Upper, Plain).LongestBrush!.Value.Millimeters, 1e-9);

        static (double, double, Bus) Told(ContactStrip strip) => (Math.Round(strip.Start.Millimeters, 9), Math.Round(strip.End.Millimeters, 9), strip.Bus);
    }

    [Fact]
    public void Expected_speeds_are_equal_by_what_they_expect()
    {
        ExpectedSpeed even = ExpectedSpeed.Accelerated(8.MetersPerSecond(), 0.Millimeters(), 100.Millimeters());
        ExpectedSpeed Through(double last) => ExpectedSpeed.Through([(0.Millimeters(), Speed.Zero), (100.Millimeters(), last.MetersPerSecond())]);
        Assert.Equal(even.GetHashCode(), ExpectedSpeed.Accelerated(8.MetersPerSecond(), 0.Millimeters(), 10.Centimeters()).GetHashCode());
        Assert.NotEqual(even, Through(8));
        Assert.Equal(Through(8), Through(8));
        Assert.NotEqual(Through(8), Through(9));
        Assert.NotEqual(even, ExpectedSpeed.Accelerated(9.MetersPerSecond(), 0.Millimeters(), 100.Millimeters()));
        Assert.False(even.Equals(null));
        Assert.Equal("8 m/s at 100 mm by one acceleration", even.ToString());
        Assert.Equal("8 m/s at 100 mm", Through(8).ToString());
        Assert.Equal(1, ExpectedSpeed.Through([(0.Millimeters(), 1.MetersPerSecond())]).At(5.Millimeters()).MetersPerSecond, 1e-15);
    }

    [Fact]
    public void A_layout_of_one_polarity_feeds_nothing_and_one_station_is_too_few()
    {
        Track same = Track.OfFacingPairs((BlockMagnet)LaunchBench.TrackOf(1).Stations[0].Magnets[0].Body, 10.Millimeters(), 3, 20.Millimeters(), [Polarity.Positive]);
        Assert.Contains("opposite polarity", Assert.Throws<ArgumentOutOfRangeException>(() => ContactCommutator.For(same, LaunchBench.Coil, 0.8, Length.Zero, Plain)).Message, StringComparison.Ordinal);
        Assert.Contains("stations", Assert.Throws<ArgumentOutOfRangeException>(() => ContactCommutator.For(LaunchBench.TrackOf(1), LaunchBench.Coil, 0.8, Length.Zero, Plain)).Message, StringComparison.OrdinalIgnoreCase);

        // A lead of half a pitch is refused either way, a hair less is not.
        Assert.Throws<ArgumentOutOfRangeException>(() => ContactCommutator.For(LaunchBench.TrackOf(3), LaunchBench.Coil, 0.5, 10.Millimeters(), Plain));
        Assert.Throws<ArgumentOutOfRangeException>(() => ContactCommutator.For(LaunchBench.TrackOf(3), LaunchBench.Coil, 0.5, (-10).Millimeters(), Plain));
        Assert.Equal(2, ContactCommutator.For(LaunchBench.TrackOf(3), LaunchBench.Coil, 0.5, 9.99.Millimeters(), Plain).Upper.Strips.Length);

        // What was laid by a rule knows it; what was placed by hand or moved does not.
        ContactCommutator laid = ContactCommutator.For(LaunchBench.TrackOf(3), LaunchBench.Coil, 0.5, 1.Millimeters(), Plain);
        Assert.Equal((0.5, 1), (laid.Layout!.Dwell, Math.Round(laid.Layout.Lead.AtRest.Millimeters, 9)));
        Assert.Equal(laid.Layout, laid.WithBrushes(Real, Plain).Layout);
        Assert.Null(laid.Shifted(1.Millimeters()).Layout);
        Assert.Throws<ArgumentNullException>("places", () => ExpectedSpeed.Through(null!));

        // A gap as long as the brush shorts, one a hair longer does not.
        Assert.Throws<ArgumentOutOfRangeException>(() => ContactCommutator.For(LaunchBench.TrackOf(3), LaunchBench.Coil, StripLayout.OfGap(3.Millimeters()), Plain));
        Assert.Equal(2, ContactCommutator.For(LaunchBench.TrackOf(3), LaunchBench.Coil, StripLayout.OfGap(3.001.Millimeters()), Plain).Upper.Strips.Length);
    }

    [Fact]
    public void Ranges_of_a_contact_come_from_the_ranges_of_its_materials()
    {
        // ρ/2 √(π H/F) and film H/F with all values at one end, by hand.
        ContactMaterial brush = ContactMaterial.SilverGraphite, strip = ContactMaterial.Copper;
        static double Of(double resistivities, double filmA, double filmB, double hardnessA, double hardnessB, double force)
        {
            double hardness = Math.Min(hardnessA, hardnessB);
            return (0.25 * resistivities * Math.Sqrt(Math.PI * hardness / force)) + (1e-6 * Math.Max(filmA, filmB) * hardness / force);
        }

        PropertyRange<ElectricResistance> range = ContactResistance.RangeBetween(brush, strip, 2.Newtons());
        double least = Of(
            brush.Resistivity.Least.OhmMeters + strip.Resistivity.Least.OhmMeters, brush.FilmResistanceOfSquareMillimeter.Least.Ohms, strip.FilmResistanceOfSquareMillimeter.Least.Ohms,
            brush.Hardness.Least.Pascals, strip.Hardness.Least.Pascals, 2);
        double greatest = Of(
            brush.Resistivity.Greatest.OhmMeters + strip.Resistivity.Greatest.OhmMeters, brush.FilmResistanceOfSquareMillimeter.Greatest.Ohms,
            strip.FilmResistanceOfSquareMillimeter.Greatest.Ohms, brush.Hardness.Greatest.Pascals, strip.Hardness.Greatest.Pascals, 2);
        double typical = Of(
            brush.Resistivity.Typical.OhmMeters + strip.Resistivity.Typical.OhmMeters, brush.FilmResistanceOfSquareMillimeter.Typical.Ohms,
            strip.FilmResistanceOfSquareMillimeter.Typical.Ohms, brush.Hardness.Typical.Pascals, strip.Hardness.Typical.Pascals, 2);
        Assert.Equal(1, range.Typical.Ohms / typical, 1e-12);
        Assert.Equal(1, ContactResistance.Between(strip, brush, 2.Newtons()).Total.Ohms / typical, 1e-12);
        Assert.NotEqual(brush.FilmResistanceOfSquareMillimeter.Typical, strip.FilmResistanceOfSquareMillimeter.Typical);
        Assert.Equal(1, range.Least.Ohms / least, 1e-12);
        Assert.Equal(1, range.Greatest.Ohms / greatest, 1e-12);
        Assert.Equal(1, new ContactResistance(1.Milliohms(), 2.Milliohms()).At(1).Milliohms / 3, 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => Parts.At(1.0001));
        Assert.Equal(0, new ContactResistance(1.Milliohms(), 2.Milliohms()).Body.Ohms);
    }

    [Fact]
    public void Lost_volume_is_lost_mass_over_density_at_opposite_ends()
    {
        ContactMaterial silver = ContactMaterial.Silver;
        var wear = new ContactWear(silver, ElectricCharge.FromCoulombs(2));
        Assert.Equal(1, 2 * silver.ErosionPerCoulomb.Least.Kilograms / silver.Density.Greatest.KilogramsPerCubicMeter / wear.VolumeLost.Least.CubicMeters, 1e-12);
        Assert.Equal(1, 2 * silver.ErosionPerCoulomb.Typical.Kilograms / silver.Density.Typical.KilogramsPerCubicMeter / wear.VolumeLost.Typical.CubicMeters, 1e-12);
        Assert.Equal(1, 2 * silver.ErosionPerCoulomb.Greatest.Kilograms / silver.Density.Least.KilogramsPerCubicMeter / wear.VolumeLost.Greatest.CubicMeters, 1e-12);
    }

    /// <summary>The voltage of an arc: none of its parts is lost, in sign or in size.</summary>
    [Fact]
    public void An_arc_is_the_sum_of_its_parts()
    {
        var arc = new ArcSi(10, 1000, 20, 3000, 0, 0.5);
        Assert.False(arc.IsColumn);
        Assert.Equal(10 + 2 + ((20 + 6) / 4.0), arc.VoltageAt(0.002, 4), 1e-12);
        Assert.Equal(arc.VoltageAt(0.002, 4), arc.VoltageAt(0.002, -4), 1e-15);
        Assert.Equal(10 + 2 + ((20 + 6) / 0.5), arc.VoltageAt(0.002, 0.1), 1e-12);
        Assert.Equal(12 * Math.Pow(4, 0.12), new ArcSi(10, 1000, 0, 0, 0.12, 1).VoltageAt(0.002, 4), 1e-12);
        Assert.True(new ArcSi(10, 1000, 0, 0, 0, 0.5).IsColumn);
        Assert.False(new ArcSi(10, 1000, 0, 0, 0.1, 0.5).IsColumn);
        Assert.False(new ArcSi(10, 1000, 0, 1, 0, 0.5).IsColumn);
        Assert.False(new ArcSi(10, 1000, 1, 0, 0, 0.5).IsColumn);
    }
}
