using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Magnets;

public sealed class StationTests
{
    private static readonly BlockMagnet Block = new(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);

    [Fact]
    public void Facing_pair_adds_the_fields_of_two_placed_magnets()
    {
        var station = MagnetStation.FacingPair(Block, 10.Millimeters());
        Length x = 2.Millimeters();
        Length y = 1.5.Millimeters();
        Length z = -3.Millimeters();
        double expected = Block.FluxDensityAt(x, y - 8.Millimeters(), z).Across.Teslas + Block.FluxDensityAt(x, y + 8.Millimeters(), z).Across.Teslas;
        Assert.Equal(expected, station.FluxDensityAt(x, y, z).Across.Teslas, 1e-15);
        Assert.Equal(10, station.Gap!.Value.Millimeters, 1e-12);
    }

    [Fact]
    public void A_track_adds_its_stations_with_their_polarities()
    {
        var track = Track.OfFacingPairs(Block, 10.Millimeters(), 3, 20.Millimeters());
        MagnetStation station = track.Stations[0];
        (Length y, Length z) = (1.Millimeters(), 3.Millimeters());
        FluxDensity here = station.FluxDensityAt(17.Millimeters(), y, z), behind = station.FluxDensityAt((-3).Millimeters(), y, z), far = station.FluxDensityAt((-23).Millimeters(), y, z);
        FluxDensity seen = track.FluxDensityAt(17.Millimeters(), y, z);
        Assert.Equal(here.Along.Teslas - behind.Along.Teslas + far.Along.Teslas, seen.Along.Teslas, 1e-15);
        Assert.Equal(here.Across.Teslas - behind.Across.Teslas + far.Across.Teslas, seen.Across.Teslas, 1e-15);
        Assert.Equal(here.Up.Teslas - behind.Up.Teslas + far.Up.Teslas, seen.Up.Teslas, 1e-15);

        // None of them is zero by symmetry.
        Assert.All(new[] { seen.Along, seen.Across, seen.Up }, part => Assert.True(Math.Abs(part.Teslas) > 1e-3, $"{part}"));

        // Polarities of one's own choice count as they are given.
        Track alike = Track.OfFacingPairs(Block, 10.Millimeters(), 3, 20.Millimeters(), [Polarity.Positive]);
        Assert.Equal(here.Across.Teslas + behind.Across.Teslas + far.Across.Teslas, alike.FluxDensityAt(17.Millimeters(), y, z).Across.Teslas, 1e-15);
        Assert.Equal(40, track.Span.Millimeters, 1e-12);
    }

    [Fact]
    public void Blocks_around_the_path_have_the_symmetry_of_their_number()
    {
        var block = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 10.Millimeters(), MagnetGrade.N42, TrackAxis.Along);
        StationSi station = MagnetStation.Coaxial(block, 5, 30.Millimeters()).ToSi();
        foreach ((double x, double r, double angle) in new[] { (0.001, 0.006, 0.3), (0.009, 0.012, -1.1), (-0.02, 0.03, 2.0) })
        {
            Vector3D At(double turn) => station.FluxDensity(new(x, r * Math.Cos(angle + turn), r * Math.Sin(angle + turn)));
            Vector3D first = At(0);
            Vector3D second = At(2 * Math.PI / 5);
            Assert.Equal(first.X, second.X, 1e-15);
            double Radial(Vector3D b, double turn) => (b.Y * Math.Cos(angle + turn)) + (b.Z * Math.Sin(angle + turn));
            Assert.Equal(Radial(first, 0), Radial(second, 2 * Math.PI / 5), 1e-15);
        }

        // Many thin blocks come near a ring with the same wall.
        var thin = new BlockMagnet(8.Millimeters(), 5.Millimeters(), 0.94.Millimeters(), MagnetGrade.N42, TrackAxis.Along);
        StationSi many = MagnetStation.Coaxial(thin, 100, 30.Millimeters()).ToSi();
        StationSi ring = MagnetStation.Coaxial(new RingMagnet(40.Millimeters(), 30.Millimeters(), 8.Millimeters(), MagnetGrade.N42)).ToSi();
        double share = 100 * 5 * 0.94 / (Math.PI * (400 - 225));
        Assert.Equal(share * ring.FluxDensity(new(0.003, 0, 0)).X, many.FluxDensity(new(0.003, 0, 0)).X, 0.02 * Math.Abs(ring.FluxDensity(new(0.003, 0, 0)).X));
    }

    [Fact]
    public void Bodies_that_share_space_are_refused()
    {
        var disc = new DiscMagnet(10.Millimeters(), 6.Millimeters(), MagnetGrade.N42);
        var tube = new RingMagnet(30.Millimeters(), 20.Millimeters(), 6.Millimeters(), MagnetGrade.N42, TrackAxis.Across);
        void Refused(params PlacedMagnet[] magnets)
            => Assert.Contains("overlap", Assert.Throws<ArgumentException>(() => MagnetStation.Of(magnets)).Message, StringComparison.Ordinal);
        static void Allowed(params PlacedMagnet[] magnets) => Assert.Equal(magnets.Length, MagnetStation.Of(magnets).Magnets.Length);
        PlacedMagnet At(MagnetBody body, double x, double y, double z, double roll = 0)
            => new(body, x.Millimeters(), y.Millimeters(), z.Millimeters(), Polarity.Positive, roll.Degrees());
        Refused(At(Block, 0, 0, 0), At(Block, 11.9, 5.9, 0));
        Allowed(At(Block, 0, 0, 0), At(Block, 12, 0, 0));
        Allowed(At(Block, 0, 0, 0), At(Block, 0, 13.5, 0, 90));
        Refused(At(Block, 0, 0, 0), At(Block, 0, 12.5, 0, 90));

        // A disc beside the corner of a block: its square would overlap, it does not.
        Allowed(At(Block, 0, 0, 0), At(disc, 9.7, 0, 13.7));
        Refused(At(Block, 0, 0, 0), At(disc, 9.3, 0, 13.3));

        // A disc in the bore of a ring, a disc in its wall, a ring in the bore of another.
        Allowed(At(tube, 0, 0, 0), At(disc, 4.9, 0, 0));
        Refused(At(tube, 0, 0, 0), At(disc, 5.2, 0, 0));
        Allowed(At(tube, 0, 0, 0), At(new RingMagnet(19.9.Millimeters(), 5.Millimeters(), 6.Millimeters(), MagnetGrade.N42, TrackAxis.Across), 0, 0, 0));
        Allowed(At(tube, 0, 0, 0), At(tube, 0, 6, 0));

        // Askew axes.
        Refused(At(disc, 0, 0, 0), At(new DiscMagnet(10.Millimeters(), 30.Millimeters(), MagnetGrade.N42, TrackAxis.Along), 0, 2, 0));
    }

    [Fact]
    public void Stations_that_overlap_or_stand_out_of_order_are_refused()
    {
        MagnetStation station = MagnetStation.FacingPair(Block, 10.Millimeters());
        ArgumentOutOfRangeException close = Assert.Throws<ArgumentOutOfRangeException>(() => Track.OfStations(station, 4, 11.Millimeters()));
        Assert.Contains("pitch is 11 mm; it must be 12 mm or more", close.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => Track.Of(new StationPlace(station, Length.Zero), new StationPlace(station, 11.Millimeters())));
        Assert.Throws<ArgumentException>(() => Track.Of(new StationPlace(station, 20.Millimeters()), new StationPlace(station, Length.Zero)));
        Assert.Throws<ArgumentException>(() => Track.Of());
        Assert.Throws<ArgumentException>(() => Track.OfFacingPairs(Block, 10.Millimeters(), 4, 20.Millimeters(), []));

        // A tall station beside a low one may stand nearer than their lengths, if the magnets pass each other.
        var wide = MagnetStation.FacingPair(Block, 30.Millimeters());
        Assert.Equal(2, Track.Of(new StationPlace(station, Length.Zero), new StationPlace(wide, 5.Millimeters())).StationCount);
    }

    [Fact]
    public void A_narrow_ring_of_blocks_is_refused_with_the_bore_that_would_do()
    {
        var block = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 10.Millimeters(), MagnetGrade.N42, TrackAxis.Along);
        ArgumentOutOfRangeException narrow = Assert.Throws<ArgumentOutOfRangeException>(() => MagnetStation.Coaxial(block, 6, 17.Millimeters()));
        Assert.Contains("bore is 17 mm; it must be 17.32 mm or more", narrow.Message, StringComparison.Ordinal);
        Assert.Equal(6, MagnetStation.Coaxial(block, 6, 17.33.Millimeters()).Magnets.Length);
    }

    [Fact]
    public void Stations_left_out_leave_the_others_as_they_were()
    {
        var track = Track.OfFacingPairs(Block, 10.Millimeters(), 6, 20.Millimeters());
        Track less = track.Without(0, 3);
        Assert.Equal([20, 40, 80, 100], less.Positions.Select(position => Math.Round(position.Millimeters, 9)));
        Assert.Equal([Polarity.Negative, Polarity.Positive, Polarity.Positive, Polarity.Negative], less.Polarities.ToArray());
        Assert.Throws<ArgumentOutOfRangeException>(() => track.Without(6));
        Assert.Throws<ArgumentException>(() => track.Without(0, 1, 2, 3, 4, 5));
    }

    [Fact]
    public void Equal_descriptions_are_equal()
    {
        static Track Make(Length gap) => Track.OfFacingPairs(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 2.Centimeters(), MagnetGrade.N42), gap, 4, 20.Millimeters());
        Assert.Equal(Make(10.Millimeters()), Make(1.Centimeters()));
        Assert.Equal(Make(10.Millimeters()).GetHashCode(), Make(1.Centimeters()).GetHashCode());
        Assert.NotEqual(Make(10.Millimeters()), Make(11.Millimeters()));
    }

    [Fact]
    public void Warm_magnets_have_the_remanence_of_their_grade()
    {
        var track = Track.OfFacingPairs(Block, 10.Millimeters(), 4, 20.Millimeters());
        Temperature warm = Temperature.FromDegreesCelsius(70);
        TrackSi si = track.ToSi(warm);
        Assert.Equal(MagnetGrade.N42.RemanenceAt(warm).Teslas, si.Stations[2].Remanence, 1e-15);
        Assert.Same(si.Stations[0], si.Stations[3]);
    }

    [Fact]
    public void Field_enters_the_iron_at_right_angles()
    {
        var station = MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(4.Millimeters()));
        double center = station.FluxDensityAt(Length.Zero, Length.Zero, Length.Zero).Across.Teslas;
        double plain = MagnetStation.FacingPair(Block, 10.Millimeters()).FluxDensityAt(Length.Zero, Length.Zero, Length.Zero).Across.Teslas;
        Assert.InRange(center, 1.1 * plain, 2 * plain);

        // The plates lie at y = ±11 mm, behind the magnets.
        foreach ((double x, double z) in new[] { (0.0, 0.0), (3.0, 7.0), (9.0, 0.0), (15.0, 12.0), (40.0, 3.0) })
        {
            foreach (double side in new[] { -1.0, 1.0 })
            {
                FluxDensity b = station.FluxDensityAt(x.Millimeters(), (side * 11).Millimeters(), z.Millimeters());
                Assert.Equal(0, b.Along.Teslas, 2e-7);
                Assert.Equal(0, b.Up.Teslas, 2e-7);
            }
        }

        // With a gap of no consequence the magnets close on themselves: magnet, iron, magnet, and B in the gap comes near Br.
        var tight = MagnetStation.FacingPair(new BlockMagnet(40.Millimeters(), 6.Millimeters(), 40.Millimeters(), MagnetGrade.N42), 0.1.Millimeters(), new BackIron(4.Millimeters()));
        Assert.Equal(12 / 12.1, tight.FluxDensityAt(Length.Zero, Length.Zero, Length.Zero).Across.Teslas / MagnetGrade.N42.Remanence.Teslas, 2e-3);
    }

    [Fact]
    public void More_images_change_nothing()
    {
        // The row carried on one by one to 2000 images, against twelve and one long magnet.
        var station = MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(4.Millimeters()));
        var bodies = new List<BodySi>();
        for (int k = -2000; k < 2000; k++)
        {
            bodies.Add(new BodySi(0.006, 0.006, 0.010, new(0, (k + 0.5) * 0.022, 0), TrackAxis.Across, MagnetGrade.N42.Remanence.Teslas));
        }

        var row = new StationSi([.. bodies]);
        double gradient = 0;
        foreach ((double x, double y) in new[] { (2.0, 0.0), (6.0, 3.0), (13.0, 1.0), (30.0, 0.0) })
        {
            // A far row is a constant field, which exerts no force: compare differences.
            Vector3D a = station.ToSi().FluxDensity(new(0.001 * x, 0.001 * y, 0)) - station.ToSi().FluxDensity(default);
            Vector3D b = row.FluxDensity(new(0.001 * x, 0.001 * y, 0)) - row.FluxDensity(default);
            gradient = Math.Max(gradient, (a - b).Length);
        }

        Assert.True(gradient < 1e-6, $"{gradient:E2} T");
    }

    [Fact]
    public void Iron_carries_half_of_a_magnets_flux_each_way()
    {
        // Wide magnets with hardly a gap between stations and to each other: all of the flux B·A/2 turns into the plate.
        var magnet = new BlockMagnet(40.Millimeters(), 10.Millimeters(), 400.Millimeters(), MagnetGrade.N42);
        var track = Track.OfFacingPairs(magnet, 0.5.Millimeters(), 9, 40.Millimeters(), null, new BackIron(20.Millimeters()));
        double b = track.FluxDensityInIron().Teslas;
        double expected = MagnetGrade.N42.Remanence.Teslas * 20 / 20.5 * 20 / 20;
        Assert.InRange(b, 0.80 * expected, 1.01 * expected);
        Assert.Equal(0, Track.OfFacingPairs(magnet, 0.5.Millimeters(), 9, 40.Millimeters()).FluxDensityInIron().Teslas);

        // A plate half as thick carries twice the flux density.
        var thinner = Track.OfFacingPairs(magnet, 0.5.Millimeters(), 9, 40.Millimeters(), null, new BackIron(10.Millimeters()));
        Assert.Equal(2 * b, thinner.FluxDensityInIron().Teslas, 1e-9);
        Assert.True(thinner.IronIsSaturated);
        Assert.False(track.IronIsSaturated);
    }

    [Fact]
    public void Iron_needs_poles_that_stand_on_it()
    {
        var sideways = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42, TrackAxis.Along);
        Assert.Throws<ArgumentException>(() => MagnetStation.FacingPair(sideways, 10.Millimeters(), new BackIron(4.Millimeters())));
        Assert.Throws<ArgumentOutOfRangeException>(() => new BackIron(Length.Zero));
        Assert.Throws<ArgumentOutOfRangeException>(() => new BackIron(4.Millimeters(), null, MagneticField.FromTeslas(3)));
        MagnetStation with = MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(4.Millimeters()));
        MagnetStation without = MagnetStation.FacingPair(Block, 10.Millimeters());
        Assert.Throws<ArgumentException>(() => Track.Of(new StationPlace(with, Length.Zero), new StationPlace(without, 20.Millimeters())));
    }
}
