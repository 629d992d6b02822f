using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Magrail.Numerics;
using Magrail.Sources;
using Magrail.Tests.ReferenceData;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Magnets;

public sealed class BlockFieldTests
{
    private const double Millimeter = 1e-3;

    private static readonly AccuracyRow OnAxis = new("block on its axis, 1 nm to 90 mm from the pole face", "closed form, e-magnetica.pl", 1e-15, "T");
    private static readonly AccuracyRow AtPoints = new("B and H of a block at 50 points inside and outside", "SciPy quadrature of the surface charge (script committed)", 1e-14, "T");
    private static readonly AccuracyRow FarAway = new("block up to 100 000 sizes away", "mpmath quadrature of the surface charge, 40 digits (script committed)", 2e-12, "of it");
    private static readonly AccuracyRow InPlanes = new("block in the planes of its faces and on the lines of its edges, against 8 places 9e-9 sizes away", "limit", 1e-7, "of Br");
    private static readonly AccuracyRow ThroughFaces = new("block: B through a pole face, H through a side, 1e-12 sizes either way", "limit", 1e-10, "T");

    // 12 mm along × 6 mm across × 20 mm high, 1.3 T across: u = x, v = z, w = y of the reference tables.
    private static readonly BodySi Block = new(6 * Millimeter, 3 * Millimeter, 10 * Millimeter, default, TrackAxis.Across, 1.3);

    [Fact]
    public void Field_on_the_axis_meets_the_closed_form()
    {
        // H(x) = Br/(πμ0) [atan(ab/(2x√(4x²+a²+b²))) - atan(ab/(2(x+t)√(4(x+t)²+a²+b²)))], full sides a and b, thickness t, distance x
        // from the pole face: common closed form, e.g. e-magnetica.pl, "Calculator of magnetic field of a block magnet".
        var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
        double br = MagnetGrade.N42.Remanence.Teslas;
        double Term(double x) => Math.Atan(12 * 20 / (2 * x * Math.Sqrt((4 * x * x) + (12 * 12) + (20 * 20))));
        foreach (double x in new[] { 1e-6, 0.01, 0.5, 1, 3, 10, 30, 90 })
        {
            double expected = br / Math.PI * (Term(x) - Term(x + 6));
            FluxDensity b = magnet.FluxDensityAt(Length.Zero, (3 + x).Millimeters(), Length.Zero);
            OnAxis.HoldDifference(expected, b.Across.Teslas, 1, $"{x} mm");
            Assert.Equal(0, b.Along.Teslas, 1e-16);
            Assert.Equal(0, b.Up.Teslas, 1e-16);
        }
    }

    [Fact]
    public void Field_at_fifty_random_points_meets_quadrature_of_the_surface_charges()
    {
        ReferenceTable table = ReferenceTable.Read("block-field.csv");
        Assert.Equal(50, table.Rows.Count);
        double worst = 0;
        foreach (ReferenceTable.Row row in table.Rows)
        {
            Vector3D point = Millimeter * new Vector3D(row.Number("u"), row.Number("w"), row.Number("v"));
            Vector3D h = BodyField.MagneticFieldTimesPermeability(Block, point);
            Vector3D b = BodyField.FluxDensity(Block, point);
            double jump = row.Number("inside") * 1.3;
            worst = Math.Max(worst, Math.Abs(h.X - row.Number("hu")));
            worst = Math.Max(worst, Math.Abs(h.Z - row.Number("hv")));
            worst = Math.Max(worst, Math.Abs(h.Y - row.Number("hw")));
            worst = Math.Max(worst, Math.Abs(b.X - row.Number("hu")));
            worst = Math.Max(worst, Math.Abs(b.Z - row.Number("hv")));
            worst = Math.Max(worst, Math.Abs(b.Y - row.Number("hw") - jump));
        }

        AtPoints.Hold(worst);
    }

    [Fact]
    public void Far_field_keeps_its_digits_to_a_hundred_thousand_sizes()
    {
        double worst = 0;
        foreach (ReferenceTable.Row row in ReferenceTable.Read("block-far-field.csv").Rows)
        {
            Vector3D point = Millimeter * new Vector3D(row.Number("u"), row.Number("w"), row.Number("v"));
            Vector3D b = BodyField.FluxDensity(Block, point);
            var expected = new Vector3D(row.Number("bu"), row.Number("bw"), row.Number("bv"));
            worst = Math.Max(worst, (b - expected).Length / expected.Length);
        }

        FarAway.Hold(worst);
    }

    [Fact]
    public void Closed_form_and_dipoles_agree_where_one_takes_over_from_the_other()
    {
        var random = new Random(11);
        for (int i = 0; i < 200; i++)
        {
            var direction = new Vector3D(random.NextDouble() - 0.5, random.NextDouble() - 0.5, random.NextDouble() - 0.5);
            Vector3D p = BlockField.FarDiagonals * Block.Radius / direction.Length * direction;
            Vector3D near = BlockField.Closed(p.X, p.Z, p.Y, Block.HalfAlong, Block.HalfUp, Block.HalfAcross);
            Vector3D far = BlockField.Dipoles(p.X, p.Z, p.Y, Block.HalfAlong, Block.HalfUp, Block.HalfAcross);
            Assert.True((near - far).Length < 1e-11 * far.Length, $"{(near - far).Length / far.Length:E2}");
        }
    }

    [Fact]
    public void Far_away_a_block_is_its_dipole()
    {
        // B = (3 (m·r̂) r̂ - m) μ0/(4π r³), m = J V/μ0; the next term of a block is smaller by (size/r)².
        double volume = 8 * Block.HalfAlong * Block.HalfAcross * Block.HalfUp;
        var axis = new Vector3D(0, 1, 0);
        foreach (double distance in new[] { 1.0, 10, 100 })
        {
            Vector3D unit = 1 / Math.Sqrt(14) * new Vector3D(1, -2, 3);
            Vector3D expected = 1.3 * volume / (4 * Math.PI * Math.Pow(distance, 3)) * ((3 * unit.Dot(axis) * unit) - axis);
            Vector3D b = BodyField.FluxDensity(Block, distance * unit);
            double next = Math.Pow(0.02 / distance, 2);
            Assert.True((b - expected).Length < next * expected.Length, $"{distance} m: {(b - expected).Length / expected.Length:E2}");
        }
    }

    [Fact]
    public void No_point_gives_anything_but_a_finite_field()
    {
        double[] places = [-3, -2, -1, -0.3, 0, 0.3, 1, 2, 3];
        foreach (TrackAxis axis in Enum.GetValues<TrackAxis>())
        {
            var body = new BodySi(1, 2, 3, default, axis, 1);
            foreach (double x in places)
            {
                foreach (double y in places)
                {
                    foreach (double z in places)
                    {
                        Vector3D b = BodyField.FluxDensity(body, new(x, 2 * y, 3 * z));
                        Assert.True(double.IsFinite(b.Length), $"({x}, {2 * y}, {3 * z}), {axis}: {b}");
                        Assert.True(b.Length < 12, $"({x}, {2 * y}, {3 * z}), {axis}: {b}");
                    }
                }
            }
        }
    }

    [Fact]
    public void Planes_of_faces_and_extensions_of_edges_take_the_limit()
    {
        // Every point of a lattice that lies in the plane of a face or on the line of an edge, but neither on the surface nor inside.
        double[] places = [-2, -1, -0.4, 0, 0.4, 1, 2];
        const double Step = 1e-8;
        int seen = 0;
        foreach (double x in places)
        {
            foreach (double y in places)
            {
                foreach (double z in places)
                {
                    if (Math.Max(Math.Abs(x), Math.Max(Math.Abs(y), Math.Abs(z))) <= 1)
                    {
                        continue;
                    }

                    var body = new BodySi(1, 1, 1, default, TrackAxis.Across, 1);
                    Vector3D exact = BodyField.FluxDensity(body, new(x, y, z));
                    for (int corner = 0; corner < 8; corner++)
                    {
                        var shift = new Vector3D((corner & 1) - 0.5, ((corner >> 1) & 1) - 0.5, (corner >> 2) - 0.5);
                        Vector3D beside = BodyField.FluxDensity(body, new Vector3D(x, y, z) + (Step * shift));
                        InPlanes.Hold((beside - exact).Length, $"({x}, {y}, {z})");
                    }

                    seen++;
                }
            }
        }

        Assert.True(seen > 200);
    }

    [Fact]
    public void Across_a_pole_face_B_is_continuous_and_along_a_side_H_is()
    {
        const double Step = 1e-12;
        var body = new BodySi(1, 1, 1, default, TrackAxis.Across, 1.3);
        foreach ((double a, double b) in new[] { (0.0, 0.0), (0.3, -0.6), (0.9, 0.2) })
        {
            foreach (double side in new[] { -1.0, 1.0 })
            {
                var pole = new Vector3D(a, side, b);
                Vector3D onPole = BodyField.FluxDensity(body, pole);
                foreach (double step in new[] { -Step, Step })
                {
                    ThroughFaces.Hold((BodyField.FluxDensity(body, pole with { Y = side + step }) - onPole).Length);
                }

                var flank = new Vector3D(side, a, b);
                Vector3D onFlank = BodyField.MagneticFieldTimesPermeability(body, flank);
                Vector3D inside = BodyField.FluxDensity(body, flank with { X = side * (1 - Step) });
                Vector3D outside = BodyField.FluxDensity(body, flank with { X = side * (1 + Step) });
                foreach (double step in new[] { -Step, Step })
                {
                    Vector3D h = BodyField.MagneticFieldTimesPermeability(body, flank with { X = side + step });
                    ThroughFaces.Hold((h - onFlank).Length);
                }

                Assert.Equal(1.3, (inside - outside).Y, 1e-10);
            }
        }
    }

    [Fact]
    public void Near_a_sharp_edge_the_field_grows_as_the_logarithm_of_the_distance()
    {
        // Beside a straight edge of a surface charge σ = J the field component along the face grows as J/(2π) ln(1/distance) for the
        // two-sided limit of one charged half plane: the charge ends at the edge.
        var body = new BodySi(1, 1, 1, default, TrackAxis.Across, 1);
        double Before(double distance) => BodyField.FluxDensity(body, new(1 + (distance / Math.Sqrt(2)), 1 + (distance / Math.Sqrt(2)), 0.1)).X;
        foreach (double distance in new[] { 1e-3, 1e-6, 1e-9, 1e-12 })
        {
            double growth = (Before(distance / 10) - Before(distance)) / Math.Log(10);
            Assert.Equal(1 / (2 * Math.PI), growth, 2 * Math.Max(distance, 1e-4));
        }

        // On the edge itself the documented convention: the value a hair's breadth away.
        double onEdge = BodyField.FluxDensity(body, new(1, 1, 0.1)).X;
        Assert.InRange(onEdge, Before(1e-12), Before(1e-12) + 4);
    }

    [RepeatableProperty(200)]
    public Property Divergence_of_B_and_curl_of_H_vanish() => Prop.ForAll(Cases(), test =>
    {
        // Sixth-order central differences at a step of 1e-2 of the distance to the surface.
        (BodySi body, Vector3D point) = test;
        double clear = Clearance(body, point);
        double step = 0.03 * clear;
        Vector3D Derivative(Vector3D axis)
        {
            Vector3D At(int n) => BodyField.MagneticFieldTimesPermeability(body, point + (n * step * axis));
            return 1 / (60 * step) * ((45 * (At(1) - At(-1))) - (9 * (At(2) - At(-2))) + (At(3) - At(-3)));
        }

        Vector3D dx = Derivative(new(1, 0, 0));
        Vector3D dy = Derivative(new(0, 1, 0));
        Vector3D dz = Derivative(new(0, 0, 1));
        double size = Math.Max(dx.Length, Math.Max(dy.Length, dz.Length));
        double noise = 1e-14 / step;
        double divergence = dx.X + dy.Y + dz.Z;
        var curl = new Vector3D(dy.Z - dz.Y, dz.X - dx.Z, dx.Y - dy.X);
        return (Math.Abs(divergence) < (1e-6 * size) + noise && curl.Length < (1e-6 * size) + noise)
            .Label($"div {divergence:E2}, curl {curl.Length:E2}, gradient {size:E2}, noise {noise:E2}");
    });

    [RepeatableProperty(30)]
    public Property Flux_out_of_a_closed_box_vanishes() => Prop.ForAll(Boxes(), test =>
    {
        // The box may hold the magnet, cut it or miss it: its faces are split where they pass through the magnet's planes.
        (BodySi body, Vector3D low, Vector3D high) = test;
        double total = 0;
        double size = 0;
        foreach (double side in new[] { -1.0, 1.0 })
        {
            total += Face(body, (s, t) => new(side > 0 ? high.X : low.X, s, t), b => side * b.X, (low.Y, high.Y, body.HalfAcross), (low.Z, high.Z, body.HalfUp), ref size);
            total += Face(body, (s, t) => new(s, side > 0 ? high.Y : low.Y, t), b => side * b.Y, (low.X, high.X, body.HalfAlong), (low.Z, high.Z, body.HalfUp), ref size);
            total += Face(body, (s, t) => new(s, t, side > 0 ? high.Z : low.Z), b => side * b.Z, (low.X, high.X, body.HalfAlong), (low.Y, high.Y, body.HalfAcross), ref size);
        }

        return (Math.Abs(total) < 1e-7 * size).Label($"flux {total:E2} of {size:E2}");
    });

    [RepeatableProperty]
    public Property Lengths_scaled_at_equal_remanence_leave_B_unchanged() => Prop.ForAll(
        Cases(),
        Gen.Choose(-300, 300).Select(n => Math.Pow(10, n / 100.0)).ToArbitrary(),
        (test, scale) =>
        {
            (BodySi body, Vector3D point) = test;
            var scaled = new BodySi(scale * body.HalfAlong, scale * body.HalfAcross, scale * body.HalfUp, default, body.Magnetization, body.Remanence);
            double error = (BodyField.FluxDensity(body, point) - BodyField.FluxDensity(scaled, scale * point)).Length;
            return (error < 1e-13).Label($"{error:E2} T");
        });

    [Fact]
    public void Bad_sizes_and_places_are_refused_by_name()
    {
        ArgumentOutOfRangeException flat = Assert.Throws<ArgumentOutOfRangeException>(
            () => new BlockMagnet(12.Millimeters(), Length.Zero, 20.Millimeters(), MagnetGrade.N42));
        Assert.Contains("across is 0 m; it must be above zero", flat.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentNullException>(() => new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), null!));
        Assert.Throws<ArgumentOutOfRangeException>(
            () => new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42, (TrackAxis)7));
    }

    [Fact]
    public void B_and_H_are_told_apart_inside()
    {
        // A very flat plate magnetized through its thickness: B → 0 and H → -M inside (demagnetizing factor 1).
        var plate = new BlockMagnet(1.Meters(), 0.1.Millimeters(), 1.Meters(), MagnetGrade.N42);
        double br = MagnetGrade.N42.Remanence.Teslas;
        Assert.Equal(0, plate.FluxDensityAt(Length.Zero, Length.Zero, Length.Zero).Across.Teslas, 1e-3);
        Assert.Equal(
            -br / PhysicalConstants.VacuumPermeability,
            plate.FieldStrengthAt(Length.Zero, Length.Zero, Length.Zero).Across.AmperesPerMeter,
            1e-3 * br / PhysicalConstants.VacuumPermeability);

        // A cube: demagnetizing factor of its middle 1/3 by symmetry, so B = 2/3 Br.
        var cube = new BlockMagnet(1.Centimeters(), 1.Centimeters(), 1.Centimeters(), MagnetGrade.N42);
        Assert.Equal(br * 2 / 3, cube.FluxDensityAt(Length.Zero, Length.Zero, Length.Zero).Across.Teslas, 1e-14);
    }

    private static double Face(
        in BodySi body,
        Func<double, double, Vector3D> place,
        Func<Vector3D, double> normal,
        (double Low, double High, double Edge) first,
        (double Low, double High, double Edge) second,
        ref double size)
    {
        GaussNodes nodes = GaussNodes.OfOrder(24);
        double total = 0;
        foreach ((double a, double b) in Pieces(first.Low, first.High, first.Edge))
        {
            foreach ((double c, double d) in Pieces(second.Low, second.High, second.Edge))
            {
                for (int i = 0; i < nodes.Weights.Length; i++)
                {
                    for (int j = 0; j < nodes.Weights.Length; j++)
                    {
                        double s = (0.5 * (a + b)) + (0.5 * (b - a) * nodes.Abscissas[i]);
                        double t = (0.5 * (c + d)) + (0.5 * (d - c) * nodes.Abscissas[j]);
                        double flux = 0.25 * (b - a) * (d - c) * nodes.Weights[i] * nodes.Weights[j] * normal(BodyField.FluxDensity(body, place(s, t)));
                        total += flux;
                        size += Math.Abs(flux);
                    }
                }
            }
        }

        return total;
    }

    private static IEnumerable<(double From, double To)> Pieces(double low, double high, double edge)
    {
        // Geometric pieces toward the magnet's planes, where the logarithm is steep.
        double[] grades = [0, 0.02, 0.1, 0.3, 0.6];
        var borders = new SortedSet<double> { low, high };
        foreach (double plane in new[] { -edge, edge })
        {
            foreach (double grade in grades)
            {
                foreach (double place in new[] { plane - (grade * edge), plane + (grade * edge) })
                {
                    if (place > low && place < high)
                    {
                        borders.Add(place);
                    }
                }
            }
        }

        double[] sorted = [.. borders];
        return sorted.Zip(sorted.Skip(1));
    }

    private static double Clearance(in BodySi body, Vector3D p)
    {
        double x = Math.Abs(p.X) - body.HalfAlong;
        double y = Math.Abs(p.Y) - body.HalfAcross;
        double z = Math.Abs(p.Z) - body.HalfUp;
        double outside = new Vector3D(Math.Max(x, 0), Math.Max(y, 0), Math.Max(z, 0)).Length;
        return outside > 0 ? outside : -Math.Max(x, Math.Max(y, z));
    }

    private static Arbitrary<(BodySi Body, Vector3D Point)> Cases()
        => (from a in Between(0.2, 3)
            from b in Between(0.2, 3)
            from c in Between(0.2, 3)
            from axis in Gen.Elements(TrackAxis.Along, TrackAxis.Across, TrackAxis.Up)
            from x in Between(-6, 6)
            from y in Between(-6, 6)
            from z in Between(-6, 6)
            select (Body: new BodySi(a, b, c, default, axis, 1.2), Point: new Vector3D(x, y, z)))
            .Where(test => Clearance(test.Body, test.Point) > 0.05)
            .ToArbitrary();

    private static Arbitrary<(BodySi Body, Vector3D Low, Vector3D High)> Boxes()
        => (from a in Between(0.5, 2)
            from b in Between(0.5, 2)
            from c in Between(0.5, 2)
            from axis in Gen.Elements(TrackAxis.Along, TrackAxis.Across, TrackAxis.Up)
            from x in Between(-3, 0)
            from y in Between(-3, 0)
            from z in Between(-3, 0)
            from dx in Between(0.3, 5)
            from dy in Between(0.3, 5)
            from dz in Between(0.3, 5)
            select (Body: new BodySi(a, b, c, default, axis, 1.2), Low: new Vector3D(x, y, z), High: new Vector3D(x + dx, y + dy, z + dz)))
            .Where(test => Apart(test.Body.HalfAlong, test.Low.X, test.High.X) && Apart(test.Body.HalfAcross, test.Low.Y, test.High.Y) && Apart(test.Body.HalfUp, test.Low.Z, test.High.Z))
            .ToArbitrary();

    /// <summary>No face of the box within 0.05 of a face of the magnet, where the quadrature would need finer pieces.</summary>
    private static bool Apart(double half, double low, double high)
        => Math.Min(Math.Abs(Math.Abs(low) - half), Math.Abs(Math.Abs(high) - half)) > 0.05;

    private static Gen<double> Between(double least, double greatest)
        => Gen.Choose(0, 1_000_000).Select(n => least + ((greatest - least) * n / 1_000_000));
}
