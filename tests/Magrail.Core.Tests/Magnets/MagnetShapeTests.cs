using Magrail.Numerics;
using Magrail.Sources;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Magnets;

/// <summary>Sizes, words and symmetries of magnets and stations, where bodies end, and the potential of a charged disc.</summary>
public sealed class MagnetShapeTests
{
    private static readonly BlockMagnet Block = new(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
    private static readonly MagnetStation Pair = MagnetStation.FacingPair(Block, 10.Millimeters());

    [Theory]
    [InlineData(TrackAxis.Along, 8, 20, 20)]
    [InlineData(TrackAxis.Across, 20, 8, 20)]
    [InlineData(TrackAxis.Up, 20, 20, 8)]
    public void A_disc_and_a_ring_are_as_long_as_they_are_thick_along_their_axis(TrackAxis axis, double along, double across, double up)
    {
        foreach (MagnetBody body in (MagnetBody[])[new DiscMagnet(20.Millimeters(), 8.Millimeters(), MagnetGrade.N42, axis), new RingMagnet(20.Millimeters(), 5.Millimeters(), 8.Millimeters(), MagnetGrade.N42, axis)])
        {
            Assert.Equal((along, across, up), (Round(body.SizeAlong), Round(body.SizeAcross), Round(body.SizeUp)));
            Assert.Equal(axis, body.Magnetization);
            BodySi si = body.ToSi(default, -1);
            Assert.Equal((10, 4), (Math.Round(1e3 * si.OuterRadius, 9), Math.Round(1e3 * si.HalfLength, 9)));
            Assert.Equal(Math.Sqrt(116), 1e3 * si.Radius, 1e-9);
            Assert.Equal(-MagnetGrade.N42.Remanence.Teslas, si.Remanence);
            Assert.Equal(new Vector3D(axis == TrackAxis.Along ? 1 : 0, axis == TrackAxis.Across ? 1 : 0, axis == TrackAxis.Up ? 1 : 0), BodyField.Direction(si));
        }
    }

    [Fact]
    public void A_block_has_its_volume_and_its_mass()
    {
        Assert.Equal(1440, Block.Volume.CubicMillimeters, 1e-9);
        Assert.Equal(1.44e-6 * MagnetGrade.N42.Density.KilogramsPerCubicMeter, Block.Mass.Kilograms, 1e-15);
        Assert.Equal((12, 6, 20), (Round(Block.SizeAlong), Round(Block.SizeAcross), Round(Block.SizeUp)));
    }

    [Fact]
    public void Magnitudes_are_the_lengths_of_their_vectors()
    {
        // 3, 4 and 12 make 13.
        Assert.Equal(13, FluxDensity.FromSi(new(3, 4, 12)).Magnitude.Teslas, 1e-12);
        Assert.Equal(13, FieldStrength.FromSi(new(3, 4, 12)).Magnitude.AmperesPerMeter, 1e-12);
        Assert.Equal(new Vector3D(3, 4, 12), FieldStrength.FromSi(new(3, 4, 12)).ToSi());
        Assert.Equal(25, new Vector3D(1, 2, 3).Dot(new(4, 3, 5)));
    }

    [Fact]
    public void The_field_of_a_station_is_that_of_its_magnets_in_B_and_in_H()
    {
        Length x = 2.Millimeters(), y = 1.Millimeters(), z = 4.Millimeters();
        FluxDensity b = Pair.FluxDensityAt(x, y, z);
        FieldStrength h = Pair.FieldStrengthAt(x, y, z);
        Assert.Equal(b.Across.Teslas, PhysicalConstants.VacuumPermeability * h.Across.AmperesPerMeter, 1e-15);
        Assert.Equal(b.Along.Teslas, PhysicalConstants.VacuumPermeability * h.Along.AmperesPerMeter, 1e-15);

        // Inside a magnet they differ by the remanence.
        double inside = Pair.FluxDensityAt(x, 8.Millimeters(), z).Across.Teslas - (PhysicalConstants.VacuumPermeability * Pair.FieldStrengthAt(x, 8.Millimeters(), z).Across.AmperesPerMeter);
        Assert.Equal(MagnetGrade.N42.Remanence.Teslas, inside, 1e-14);
    }

    /// <summary>Where two bodies touch they are allowed, and a ten-thousandth of a millimeter nearer they are refused: each pair of shapes, each direction in which they can meet.</summary>
    public static TheoryData<string, double, double, double> Touching => new()
    {
        { "block block", 12, 0, 0 },
        { "block block", 0, 6, 0 },
        { "block block", 0, 0, 20 },
        { "block block", -12, 5.9, -19.9 },
        { "block rolled", 0, 13, 0 },
        { "block rolled", 0, 0, 13 },
        { "block rolled", 12, 3, 3 },
        { "disc disc", 20, 0, 0 },
        { "disc disc", 12, 0, 16 },
        { "disc disc", 3, 8, 4 },
        { "disc disc", -3, -8, 4 },
        { "disc block", 16, 0, 0 },
        { "disc block", 0, 0, 20 },
        { "disc block", 0, 7, 0 },
        { "disc block", 12, 0, 18 },
        { "disc block", -12, 2, -18 },
        { "block disc", 16, 0, 0 },
        { "disc along block", 10, 0, 0 },
        { "disc along block", 0, 13, 0 },
        { "disc along block", 0, 0, 20 },
        { "disc along block", 1, 9, 18 },
        { "disc up block", 16, 0, 0 },
        { "disc up block", 0, 13, 0 },
        { "disc up block", 0, 0, 14 },
        { "disc up block", 12, 11, 2 },
    };

    [Theory]
    [MemberData(nameof(Touching))]
    public void Bodies_may_touch_and_no_more(string pair, double along, double across, double up)
    {
        BodySi One(string name) => (name switch
        {
            "block" => Block,
            "rolled" => Block,
            "disc along" => new DiscMagnet(20.Millimeters(), 8.Millimeters(), MagnetGrade.N42, TrackAxis.Along),
            "disc up" => new DiscMagnet(20.Millimeters(), 8.Millimeters(), MagnetGrade.N42, TrackAxis.Up),
            _ => (MagnetBody)new DiscMagnet(20.Millimeters(), 8.Millimeters(), MagnetGrade.N42),
        }).ToSi(default, 1) with { Roll = name == "rolled" ? Math.PI / 2 : 0 };
        int cut = pair.LastIndexOf(' ');
        BodySi first = One(pair[..cut]), second = One(pair[(cut + 1)..]);
        BodySi Placed(double part) => second with { Center = 1e-3 * part * new Vector3D(along, across, up) };

        Assert.False(BodyOverlap.Between(first, Placed(1 + 1e-6)), "a gap of a millionth");
        Assert.False(BodyOverlap.Between(first, Placed(1)), "touching");
        Assert.True(BodyOverlap.Between(first, Placed(1 - 1e-5)), "sunk in by a hundred-thousandth");
        Assert.True(BodyOverlap.Between(Placed(1 - 1e-5), first), "the other way round");

        // Nor does it matter where both stand.
        var shift = new Vector3D(0.05, -0.03, 0.02);
        BodySi Moved(BodySi body) => body with { Center = body.Center + shift };
        Assert.True(BodyOverlap.Between(Moved(first), Moved(Placed(1 - 1e-5))), "elsewhere");
        Assert.False(BodyOverlap.Between(Moved(first), Moved(Placed(1 + 1e-6))), "elsewhere, apart");
        Assert.False(BodyOverlap.Between(Placed(1 + 1e-6), first), "the other way round, apart");
    }

    /// <summary>A ring about another, about a disc and about a block: what passes through the bore is allowed.</summary>
    [Fact]
    public void What_fits_into_the_bore_is_allowed()
    {
        BodySi ring = new RingMagnet(40.Millimeters(), 26.Millimeters(), 8.Millimeters(), MagnetGrade.N42).ToSi(default, 1);
        BodySi Inner(double outer) => new RingMagnet(outer.Millimeters(), 2.Millimeters(), 8.Millimeters(), MagnetGrade.N42).ToSi(default, 1);
        Assert.False(BodyOverlap.Between(ring, Inner(26)));
        Assert.True(BodyOverlap.Between(ring, Inner(26.001)));
        Assert.False(BodyOverlap.Between(Inner(26), ring));
        Assert.True(BodyOverlap.Between(Inner(26.001), ring));

        // Off the middle by 3 mm, a ring of 20 mm just fits.
        Assert.False(BodyOverlap.Between(ring, Inner(20) with { Center = new(0, 0.0018, -0.0024) }));
        Assert.True(BodyOverlap.Between(ring, Inner(20.001) with { Center = new(0, 0.0018, -0.0024) }));

        // A block of 10 mm × 24 mm has the diagonal of 26 mm.
        BodySi Bar(double height) => new BlockMagnet(30.Millimeters(), 10.Millimeters(), height.Millimeters(), MagnetGrade.N42).ToSi(default, 1);
        Assert.False(BodyOverlap.Between(ring, Bar(24)));
        Assert.True(BodyOverlap.Between(ring, Bar(24.001)));
        Assert.True(BodyOverlap.Between(ring, Bar(22) with { Center = new(0, 0.001, 0.002) }));
        Assert.False(BodyOverlap.Between(ring, Bar(22) with { Center = new(0, 0.0001, 0.0001) }));
        Assert.False(BodyOverlap.Between(ring, Bar(24) with { Roll = 0.4 }));

        // Beyond its end the wall is no longer there.
        Assert.False(BodyOverlap.Between(ring, Bar(30) with { Center = new(0.019, 0, 0) }));
        Assert.True(BodyOverlap.Between(ring, Bar(30) with { Center = new(0.01899, 0, 0) }));
    }

    /// <summary>Axes that stand askew are tried by points: a disc that goes through another one, and one that stands clear of it.</summary>
    [Fact]
    public void Askew_discs_are_tried_by_points()
    {
        BodySi flat = new DiscMagnet(20.Millimeters(), 8.Millimeters(), MagnetGrade.N42).ToSi(default, 1);
        BodySi upright = new DiscMagnet(10.Millimeters(), 30.Millimeters(), MagnetGrade.N42, TrackAxis.Along).ToSi(default, 1);
        Assert.True(BodyOverlap.Between(flat, upright));
        Assert.True(BodyOverlap.Between(flat, upright with { Center = new(0, 0.008, 0) }));
        Assert.False(BodyOverlap.Between(flat, upright with { Center = new(0, 0.0095, 0) }));
        Assert.True(BodyOverlap.Between(upright with { Center = new(0.023, 0, 0) }, flat));
        Assert.False(BodyOverlap.Between(upright with { Center = new(0.026, 0, 0) }, flat));

        // A block turned by 30° beside a disc that lies across.
        BodySi tilted = Block.ToSi(default, 1) with { Roll = Math.PI / 6 };
        Assert.True(BodyOverlap.Between(flat, tilted));
        Assert.False(BodyOverlap.Between(flat, tilted with { Center = new(0, 0.0125, 0) }));
        Assert.True(BodyOverlap.Between(flat, tilted with { Center = new(0, 0.0105, 0) }));
    }

    /// <summary>Blocks turned by any angles: they overlap where a point of the one's outline lies in the other, found by walking along both outlines; nearer to touching than the walk can tell is left out.</summary>
    [Fact]
    public void Turned_blocks_overlap_where_their_outlines_say()
    {
        var random = new Random(20261129);
        int met = 0, apart = 0;
        for (int i = 0; i < 3000; i++)
        {
            BodySi Block(double x) => new(
                0.5, 0.3 + random.NextDouble(), 0.3 + random.NextDouble(), new(x, 5 + (2.6 * (random.NextDouble() - 0.5)), -3 + (2.6 * (random.NextDouble() - 0.5))), TrackAxis.Along, 1)
            {
                Roll = 7 * (random.NextDouble() - 0.5),
            };
            BodySi a = Block(2), b = Block(2.3);
            double deepest = Math.Max(Deepest(a, b), Deepest(b, a));
            if (Math.Abs(deepest) < 0.02)
            {
                continue;
            }

            Assert.True(deepest > 0 == BodyOverlap.Between(a, b), $"{deepest}: {a}, {b}");
            _ = deepest > 0 ? met++ : apart++;
            Assert.False(BodyOverlap.Between(a, b with { Center = b.Center with { X = 3.001 } }));
        }

        Assert.True(met > 500 && apart > 500);

        // How deep a point of one outline lies in the other; below zero where all are outside.
        static double Deepest(BodySi outline, BodySi other)
        {
            double deepest = double.NegativeInfinity;
            for (int k = 0; k < 400; k++)
            {
                double along = (k % 100 / 50.0) - 1;
                (double y, double z) = (k / 100) switch { 0 => (along, 1.0), 1 => (along, -1.0), 2 => (1.0, along), _ => (-1.0, along) };
                double sine = Math.Sin(outline.Roll), cosine = Math.Cos(outline.Roll);
                (y, z) = (y * outline.HalfAcross, z * outline.HalfUp);
                (y, z) = (outline.Center.Y + (cosine * y) - (sine * z) - other.Center.Y, outline.Center.Z + (sine * y) + (cosine * z) - other.Center.Z);
                (sine, cosine) = (Math.Sin(other.Roll), Math.Cos(other.Roll));
                (y, z) = ((cosine * y) + (sine * z), (cosine * z) - (sine * y));
                deepest = Math.Max(deepest, Math.Min(other.HalfAcross - Math.Abs(y), other.HalfUp - Math.Abs(z)));
            }

            return deepest;
        }
    }

    [Fact]
    public void Stations_that_cannot_be_are_refused()
    {
        var along = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 10.Millimeters(), MagnetGrade.N42, TrackAxis.Along);
        Assert.Contains("axis is Across; it must be Along", Assert.Throws<ArgumentException>(
            () => MagnetStation.Coaxial(new RingMagnet(40.Millimeters(), 22.Millimeters(), 8.Millimeters(), MagnetGrade.N42, TrackAxis.Across))).Message, StringComparison.Ordinal);
        Assert.Contains("count is 1; it must be 2 to 100", Assert.Throws<ArgumentOutOfRangeException>(() => MagnetStation.Coaxial(along, 1, 40.Millimeters())).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>("count", () => MagnetStation.Coaxial(along, 101, 1.Meters()));
        Assert.Equal(100, MagnetStation.Coaxial(along, 100, 1.Meters()).Magnets.Length);

        // Two stand opposite each other, however narrow the bore.
        Assert.Equal(2, MagnetStation.Coaxial(along, 2, 1.Millimeters()).Magnets.Length);
        Assert.Contains("at least one magnet", Assert.Throws<ArgumentException>(() => MagnetStation.Of()).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentNullException>("magnets", () => MagnetStation.Of(Pair.Magnets[0], null!));
        Assert.Throws<ArgumentNullException>("places", () => Track.Of(new StationPlace(Pair, Length.Zero), null!));
        Assert.Equal(TrackAxis.Up, new DiscMagnet(20.Millimeters(), 6.Millimeters(), MagnetGrade.N42, TrackAxis.Across, TrackAxis.Up).Magnetization);
        Assert.Equal(TrackAxis.Up, new RingMagnet(20.Millimeters(), 5.Millimeters(), 6.Millimeters(), MagnetGrade.N42, TrackAxis.Across, TrackAxis.Up).Magnetization);
        Assert.Contains("facing pair, gap 10 mm: 2 × block", Pair.ToString(), StringComparison.Ordinal);
        string one = MagnetStation.SingleSided(Block, 5.Millimeters()).ToString();
        Assert.StartsWith("single-sided station: block", one, StringComparison.Ordinal);
        Assert.Contains("; back iron 4 mm", MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(4.Millimeters())).ToString(), StringComparison.Ordinal);
    }

    /// <summary>A body elsewhere and turned has the same field around it, holds the same points, and far away its dipoles give the same as its closed form.</summary>
    [Theory]
    [InlineData("block")]
    [InlineData("disc")]
    [InlineData("ring")]
    public void A_body_elsewhere_has_its_field_about_it(string shape)
    {
        MagnetBody body = shape switch
        {
            "block" => new BlockMagnet(4.Meters(), 2.Meters(), 6.Meters(), MagnetGrade.N42),
            "disc" => new DiscMagnet(6.Meters(), 2.Meters(), MagnetGrade.N42),
            _ => new RingMagnet(6.Meters(), 5.Meters(), 2.Meters(), MagnetGrade.N42, TrackAxis.Across),
        };
        var center = new Vector3D(30, -20, 10);
        BodySi here = body.ToSi(default, 1), there = body.ToSi(center, 1) with { Roll = 0.3 };
        foreach (Vector3D point in (Vector3D[])[new(1.9, 0.9, 0.2), new(0.1, 0.2, 2.9), new(2.7, 0.3, 0.2), new(4, 3, 2), new(-2, 5, 1)])
        {
            Vector3D at = center + there.FromOwn(point);
            Assert.Equal(0, (BodyField.FluxDensity(there, at) - there.FromOwn(BodyField.FluxDensity(here, point))).Length, 1e-13);
            Assert.Equal(0, (BodyField.MagneticFieldTimesPermeability(there, at) - there.FromOwn(BodyField.MagneticFieldTimesPermeability(here, point))).Length, 1e-13);
            Assert.Equal(BodyField.Contains(here, point), BodyField.Contains(there, at));
            double radius = double.Hypot(point.X, point.Z);
            bool inside = Math.Abs(point.Y) < 1 && (shape == "block" ? Math.Abs(point.X) < 2 && Math.Abs(point.Z) < 3 : radius < 3 && (shape == "disc" || radius > 2.5));
            Assert.Equal(inside, BodyField.Contains(here, point));
        }

        Vector3D away = new(60, 35, -20);
        Vector3D near = BodyField.FluxDensity(there, center + away);
        foreach ((double digits, double error) in ((double, double)[])[(17, 1e-12), (8, 1e-7), (4, 1e-3)])
        {
            Assert.InRange((BodyField.Far(there, center + away, digits) - near).Length / near.Length, 0, error);
        }
    }

    [Fact]
    public void A_station_is_mirrored_where_each_magnet_has_its_like_on_the_other_side()
    {
        StationSi pair = Pair.ToSi();
        Assert.True(pair.IsMirrored(TrackAxis.Across, TrackAxis.Across));
        Assert.True(pair.IsMirrored(TrackAxis.Across, TrackAxis.Up));
        Assert.False(pair.IsMirrored(TrackAxis.Along, TrackAxis.Up));

        StationSi single = MagnetStation.SingleSided(Block, 5.Millimeters()).ToSi();
        Assert.False(single.IsMirrored(TrackAxis.Across, TrackAxis.Across));
        Assert.True(single.IsMirrored(TrackAxis.Across, TrackAxis.Up));

        MagnetStation Two(double height, double up, Polarity polarity, double roll) => MagnetStation.Of(
            new PlacedMagnet(Block, Length.Zero, 8.Millimeters(), 1.Millimeters()),
            new PlacedMagnet(
                new BlockMagnet(12.Millimeters(), 6.Millimeters(), height.Millimeters(), MagnetGrade.N42), Length.Zero, (-8).Millimeters(), up.Millimeters(), polarity, roll.Degrees()));
        Assert.True(Two(20, 1, Polarity.Positive, 0).ToSi().IsMirrored(TrackAxis.Across, TrackAxis.Across));
        Assert.False(Two(20, 1, Polarity.Positive, 0).ToSi().IsMirrored(TrackAxis.Across, TrackAxis.Up));
        Assert.False(Two(20, -1, Polarity.Positive, 0).ToSi().IsMirrored(TrackAxis.Across, TrackAxis.Across));
        Assert.False(Two(19, 1, Polarity.Positive, 0).ToSi().IsMirrored(TrackAxis.Across, TrackAxis.Across));
        Assert.False(Two(20, 1, Polarity.Negative, 0).ToSi().IsMirrored(TrackAxis.Across, TrackAxis.Across));
        Assert.False(Two(20, 1, Polarity.Positive, 180).ToSi().IsMirrored(TrackAxis.Across, TrackAxis.Across));

        // Blocks around the path that are magnetized along it: an even number has each its like, five have one up and down alone.
        StationSi Around(int count) => MagnetStation.Coaxial(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 10.Millimeters(), MagnetGrade.N42, TrackAxis.Along), count, 40.Millimeters()).ToSi();
        Assert.True(Around(6).IsMirrored(TrackAxis.Along, TrackAxis.Across));
        Assert.True(Around(6).IsMirrored(TrackAxis.Along, TrackAxis.Up));
        Assert.False(Around(5).IsMirrored(TrackAxis.Along, TrackAxis.Across));
        Assert.True(Around(5).IsMirrored(TrackAxis.Along, TrackAxis.Up));
    }

    [Fact]
    public void A_station_seen_from_elsewhere_and_per_tesla_is_the_same_station()
    {
        StationSi pair = MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(4.Millimeters())).ToSi();
        Vector3D point = new(0.003, 0.001, 0.002), shift = new(0, 0.0012, -0.0034);
        Vector3D expected = pair.FluxDensity(point + shift);
        StationSi seen = pair.SeenFrom(shift.Y, shift.Z);
        Assert.Equal(0, (seen.FluxDensity(point) - expected).Length, 1e-14);
        Assert.Equal(pair.PlateDistance, seen.PlateDistance);
        Assert.Same(pair, pair.SeenFrom(0, 0));
        Assert.NotSame(pair, pair.SeenFrom(1e-3, 0));
        Assert.NotSame(pair, pair.SeenFrom(0, 1e-3));

        StationSi unit = pair.PerTesla();
        Assert.Equal(1, unit.Remanence, 1e-15);
        Assert.Equal(pair.PlateDistance, unit.PlateDistance);
        Assert.Equal(0, ((MagnetGrade.N42.Remanence.Teslas * unit.FluxDensity(point)) - pair.FluxDensity(point)).Length, 1e-14);
        Assert.Equal(0.022, pair.PlateDistance, 1e-15);
    }

    [Fact]
    public void Stations_are_equal_by_bodies_and_iron()
    {
        StationSi pair = Pair.ToSi();
        Assert.True(pair.Equals((object)MagnetStation.FacingPair(Block, 1.Centimeters()).ToSi()));
        Assert.Equal(pair.GetHashCode(), MagnetStation.FacingPair(Block, 1.Centimeters()).ToSi().GetHashCode());
        Assert.False(pair.Equals(MagnetStation.FacingPair(Block, 11.Millimeters()).ToSi()));
        Assert.False(pair.Equals(null));
        Assert.False(pair.Equals("pair"));
        Assert.False(pair.Equals(new StationSi([.. pair.Bodies]) { PlateDistance = 0.03 }));

        // The farthest place of a magnet from the middle: its own middle and the half diagonal.
        Assert.Equal(0.008 + (1e-3 * Math.Sqrt(36 + 9 + 100)), pair.Radius, 1e-12);

        MagnetStation iron = MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(4.Millimeters()));
        Assert.NotEqual(Pair, iron);
        Assert.Equal(iron, MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(4.Millimeters())));
        Assert.NotEqual(iron, MagnetStation.FacingPair(Block, 10.Millimeters(), new BackIron(5.Millimeters())));
        Assert.NotEqual(Pair, MagnetStation.Of([.. Pair.Magnets]));
        Assert.NotEqual(Pair, MagnetStation.FacingPair(Block, 11.Millimeters()));
        Assert.False(Pair.Equals(null));
        Assert.Equal(Pair.GetHashCode(), MagnetStation.FacingPair(Block, 1.Centimeters()).GetHashCode());
    }

    [Fact]
    public void Tracks_differ_in_number_place_polarity_and_kind()
    {
        Track Make(int stations = 4, double pitch = 20, double gap = 10, params Polarity[] polarity)
            => Track.OfFacingPairs(Block, gap.Millimeters(), stations, pitch.Millimeters(), polarity.Length == 0 ? null : polarity);
        Assert.Equal(Make(), Make());
        Assert.NotEqual(Make(), Make(stations: 5));
        Assert.NotEqual(Make(), Make(pitch: 21));
        Assert.NotEqual(Make(), Make(gap: 11));
        Assert.NotEqual(Make(), Make(polarity: [Polarity.Positive, Polarity.Negative, Polarity.Negative, Polarity.Positive]));
        Assert.Equal(Make(), Make(polarity: [Polarity.Positive, Polarity.Negative]));
        Assert.False(Make().Equals(null));

        // Fewer polarities than stations are repeated from the start.
        Assert.Equal(
            [Polarity.Positive, Polarity.Positive, Polarity.Negative, Polarity.Positive, Polarity.Positive],
            Make(stations: 5, polarity: [Polarity.Positive, Polarity.Positive, Polarity.Negative]).Polarities.ToArray());
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(polarity: (Polarity)7));
        Assert.Throws<ArgumentOutOfRangeException>(() => Make(stations: 0));
    }

    [Fact]
    public void Places_of_stations_and_their_mean_pitch()
    {
        MagnetStation wide = MagnetStation.FacingPair(Block, 14.Millimeters());
        Track track = Track.Of(new StationPlace(wide, 5.Millimeters()), new StationPlace(Pair, 30.Millimeters(), Polarity.Negative), new StationPlace(Pair, 65.Millimeters()));
        Assert.Equal(30, track.Pitch.Millimeters, 1e-9);
        Assert.Equal(60, track.Span.Millimeters, 1e-9);
        Assert.Equal(10, track.Gap!.Value.Millimeters, 1e-9);
        Assert.Equal(30, track.PositionOf(1).Millimeters, 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => track.PositionOf(3));
        Assert.Throws<ArgumentOutOfRangeException>(() => track.PositionOf(-1));
        Assert.Null(Track.Of(new StationPlace(MagnetStation.SingleSided(Block, 5.Millimeters()), Length.Zero)).Gap);

        // One station alone: as far as the next could stand, which is the length of its magnets.
        Assert.Equal(12, Track.Of(new StationPlace(Pair, Length.Zero)).Pitch.Millimeters, 1e-9);

        // Exactly one magnet's length apart they touch, which is allowed; of the same place there is but one.
        Assert.Equal(2, Track.OfStations(Pair, 2, 12.Millimeters()).StationCount);
        Assert.Equal(2, Track.Of(new StationPlace(Pair, Length.Zero), new StationPlace(Pair, 12.Millimeters())).StationCount);
        Assert.Contains("ascend", Assert.Throws<ArgumentException>(() => Track.Of(new StationPlace(Pair, Length.Zero), new StationPlace(wide, Length.Zero))).Message, StringComparison.Ordinal);

        // The third overlaps the first, not the second, whose magnets stand farther apart.
        MagnetStation far = MagnetStation.FacingPair(Block, 30.Millimeters());
        ArgumentException overlap = Assert.Throws<ArgumentException>(
            () => Track.Of(new StationPlace(Pair, Length.Zero), new StationPlace(far, 5.Millimeters()), new StationPlace(Pair, 11.Millimeters())));
        Assert.Contains("stations 0 and 2, at 0 m and 11 mm, overlap", overlap.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Iron_runs_behind_all_stations_at_one_distance()
    {
        MagnetStation Iron(double gap, double thickness) => MagnetStation.FacingPair(Block, gap.Millimeters(), new BackIron(thickness.Millimeters()));
        Track Both(MagnetStation first, MagnetStation second) => Track.Of(new StationPlace(first, Length.Zero), new StationPlace(second, 20.Millimeters()));
        Assert.Equal(2, Both(Iron(10, 4), Iron(10, 4)).StationCount);
        foreach ((MagnetStation first, MagnetStation second) in ((MagnetStation, MagnetStation)[])[(Iron(10, 4), Iron(10, 5)), (Iron(10, 4), Iron(11, 4)), (Iron(10, 4), Pair), (Pair, Iron(10, 4))])
        {
            Assert.Contains("station 1 differs from station 0 in back iron", Assert.Throws<ArgumentException>(() => Both(first, second)).Message, StringComparison.Ordinal);
        }

        // Without iron the gaps may differ.
        Assert.Equal(2, Both(Pair, MagnetStation.FacingPair(Block, 11.Millimeters())).StationCount);
        Assert.False(Both(Pair, Pair).IronIsSaturated);
    }

    [Fact]
    public void Plates_have_a_height_of_their_own_and_mild_steel_by_default()
    {
        var plain = new BackIron(4.Millimeters());
        Assert.Null(plain.Height);
        Assert.Equal(1.6, plain.Saturation.Teslas, 1e-15);
        Assert.Equal(15, new BackIron(4.Millimeters(), 15.Millimeters()).Height!.Value.Millimeters, 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => new BackIron(4.Millimeters(), Length.Zero));
        Assert.Throws<ArgumentOutOfRangeException>(() => new BackIron(4.Millimeters(), null, MagneticField.FromTeslas(0.4)));
        Assert.Equal(0.5, new BackIron(4.Millimeters(), null, MagneticField.FromTeslas(0.5)).Saturation.Teslas, 1e-15);
    }

    /// <summary>
    /// One station of wide magnets over a narrow gap: half of a magnet's flux Br·A goes each way, over the section of the plate. Within a twentieth, as the gap is an eightieth
    /// of the magnets' length and the field fringes by about as much.
    /// </summary>
    [Fact]
    public void Half_of_one_magnets_flux_goes_each_way()
    {
        var magnet = new BlockMagnet(40.Millimeters(), 10.Millimeters(), 400.Millimeters(), MagnetGrade.N42);
        MagneticField In(double thickness, Length? height = null) => Track.OfFacingPairs(
            magnet, 0.5.Millimeters(), 1, 40.Millimeters(), null, new BackIron(thickness.Millimeters(), height)).FluxDensityInIron();
        double b = In(20).Teslas;
        double expected = MagnetGrade.N42.Remanence.Teslas * (20 / 20.5) * (20.0 / 20);
        Assert.InRange(b / expected, 0.95, 1.02);
        Assert.Equal(b / 2, In(40).Teslas, 1e-9);

        // The whole flux over half the height is about twice as dense.
        Assert.InRange(In(20, 200.Millimeters()).Teslas / b, 1, 2.02);
    }

    /// <summary>∫ dA/D over a disc by plain quadrature in r and φ, at places off the disc; on its axis 2π(√(z² + R²) − |z|), in its middle 2πR, far away πR²/D.</summary>
    [Fact]
    public void Potential_of_a_charged_disc()
    {
        const double R = 0.8;
        foreach (double z in (double[])[-3, -0.5, 0, 1e-9, 0.2, 7])
        {
            Assert.Equal(2 * Math.PI * (Math.Sqrt((z * z) + (R * R)) - Math.Abs(z)), ChargedDisc.Potential(0, z, R), 1e-13);
        }

        // On the rim of the disc: 4R (closed form, the chord's length summed over all directions).
        Assert.Equal(4 * R, ChargedDisc.Potential(R, 0, R), 1e-13);
        Assert.Equal(Math.PI * R * R / 1e4, ChargedDisc.Potential(1e4, 0, R), 1e-12);

        GaussNodes nodes = GaussNodes.OfOrder(48);
        foreach ((double rho, double z) in ((double, double)[])[(0.3, 0.5), (0.3, -0.5), (0.8, 0.6), (1.4, 0), (1.4, 0.3), (2, -1)])
        {
            double sum = 0;
            const int Angles = 160;
            for (int k = 0; k < Angles; k++)
            {
                double cosine = Math.Cos(2 * Math.PI * (k + 0.5) / Angles);
                for (int i = 0; i < nodes.Weights.Length; i++)
                {
                    double r = 0.5 * R * (1 + nodes.Abscissas[i]);
                    sum += 2 * Math.PI / Angles * 0.5 * R * nodes.Weights[i] * r / Math.Sqrt((r * r) + (rho * rho) - (2 * r * rho * cosine) + (z * z));
                }
            }

            Assert.Equal(sum, ChargedDisc.Potential(rho, z, R), 1e-8);
        }

        // Straight above the rim the two branches meet.
        Assert.Equal(ChargedDisc.Potential(R * (1 + 1e-9), 0.4, R), ChargedDisc.Potential(R, 0.4, R), 1e-8);
        Assert.Equal(ChargedDisc.Potential(R * (1 - 1e-9), 0.4, R), ChargedDisc.Potential(R, 0.4, R), 1e-8);
    }

    private static double Round(Length length) => Math.Round(length.Millimeters, 9);
}
