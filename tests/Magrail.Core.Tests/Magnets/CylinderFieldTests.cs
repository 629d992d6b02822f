using FsCheck;
using FsCheck.Fluent;
using Magrail.Numerics;
using Magrail.Sources;
using Magrail.Tests.ReferenceData;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Magnets;

public sealed class CylinderFieldTests
{
    private const double Millimeter = 1e-3;

    private static readonly AccuracyRow AtPoints = new("B and H of a disc and a ring at 76 points inside and outside, along and across, three axes", "SciPy quadrature of the surface charge (script committed)", 1e-13, "T");
    private static readonly AccuracyRow OnAxis = new("disc on its axis, inside, on the face, to 300 mm", "closed form of the solenoid", 1e-13, "of it");
    private static readonly AccuracyRow TwoCylinders = new("force between two coaxial cylinder magnets, 265.537 N", "W. Robertson, force code published with his thesis (Adelaide 2013), testcyl01", 5e-4, "N");
    private static readonly AccuracyRow Sphere = new("4001 discs stacked to a sphere: 2/3 J inside, a dipole outside", "J. D. Jackson, Classical Electrodynamics, section 5.10 (from memory)", 1e-4, "of J");
    private static readonly AccuracyRow FarDipole = new("disc and ring 10 000 sizes away", "dipole", 3e-8, "of it");

    [Fact]
    public void Fields_of_disc_and_ring_meet_quadrature_of_the_surface_charges()
    {
        ReferenceTable table = ReferenceTable.Read("cylinder-field.csv");
        Assert.Equal((76, 25), (table.Rows.Count, table.Rows.Count(row => row.Text("inside") == "1")));
        double worst = 0;
        foreach (ReferenceTable.Row row in table.Rows)
        {
            // The table's (u, v, w) for each axis of the cylinder in the track's frame: (y, z, x), (x, z, y), (x, y, z).
            foreach (TrackAxis axis in Enum.GetValues<TrackAxis>())
            {
                Vector3D point = Millimeter * Place(axis, row.Number("u"), row.Number("v"), row.Number("w"));
                BodySi along = Ring(row.Number("inner"), row.Number("outer"), row.Number("half"), axis, axis);
                BodySi across = along with { Magnetization = axis == TrackAxis.Along ? TrackAxis.Across : TrackAxis.Along };
                worst = Math.Max(worst, Error(along, point, Place(axis, row.Number("au"), row.Number("av"), row.Number("aw")), row.Number("inside")));
                worst = Math.Max(worst, Error(across, point, Place(axis, row.Number("du"), row.Number("dv"), row.Number("dw")), row.Number("inside")));
            }
        }

        AtPoints.Hold(worst);

        static double Error(BodySi body, Vector3D point, Vector3D expected, double inside)
        {
            Vector3D h = BodyField.MagneticFieldTimesPermeability(body, point);
            Vector3D b = BodyField.FluxDensity(body, point);
            return Math.Max((h - expected).Length, (b - expected - (inside * BodyField.Direction(body))).Length);
        }
    }

    [Fact]
    public void Field_on_the_axis_of_a_disc_meets_the_closed_form()
    {
        // B = Br/2 [(z + t)/√(R² + (z + t)²) - z/√(R² + z²)], z from the pole face: textbook form of the solenoid.
        var disc = new DiscMagnet(20.Millimeters(), 6.Millimeters(), MagnetGrade.N42);
        double br = MagnetGrade.N42.Remanence.Teslas;
        foreach (double z in new[] { -3.0, -1, 0, 1e-6, 2, 10, 80, 300 })
        {
            double far = z + 6;
            double toFar = Math.Sqrt(100 + (far * far));
            double toNear = Math.Sqrt(100 + (z * z));

            // Outside, the same difference brought to one fraction, so that the reference itself does not cancel.
            double expected = 0.5 * br * (z > 0 ? 100 * 6 * (far + z) / (toFar * toNear * ((far * toNear) + (z * toFar))) : (far / toFar) - (z / toNear));
            OnAxis.HoldRatio(expected, disc.FluxDensityAt(Length.Zero, (3 + z).Millimeters(), Length.Zero).Across.Teslas, $"{z} mm");
        }
    }

    [Fact]
    public void Axial_force_between_two_cylinder_magnets_is_the_published_one()
    {
        // W. Robertson, force code published with his PhD thesis (University of Adelaide, 2013), test case testcyl01: coaxial cylinders
        // R = 20 mm, h = 40 mm, J = 1.3 T, centers 50 mm apart: 265.537 N. Here: pole charges of one in the field of the other.
        BodySi one = Ring(0, 20, 20, TrackAxis.Along, TrackAxis.Along) with { Remanence = 1.3 };
        double force = 0;
        GaussNodes nodes = GaussNodes.OfOrder(40);
        foreach ((double face, double charge) in new[] { (0.030, -1.3), (0.070, 1.3) })
        {
            for (int i = 0; i < nodes.Weights.Length; i++)
            {
                // Nodes thicken toward the rim: r = R sin(θ).
                double theta = Math.PI / 4 * (1 + nodes.Abscissas[i]);
                double r = 0.020 * Math.Sin(theta);
                double ring = 2 * Math.PI * r * Math.PI / 4 * nodes.Weights[i] * 0.020 * Math.Cos(theta);
                force += charge * ring * BodyField.FluxDensity(one, new(face, r, 0)).X / PhysicalConstants.VacuumPermeability;
            }
        }

        // Attraction is toward the first, negative.
        TwoCylinders.HoldDifference(-265.537, force);
    }

    [Fact]
    public void Discs_stacked_to_a_sphere_have_its_uniform_field()
    {
        // B = 2/3 J everywhere inside a uniformly magnetized sphere, a pure dipole outside (J. D. Jackson, Classical Electrodynamics, section 5.10, from memory).
        const int Slices = 4001;
        foreach (TrackAxis magnetization in new[] { TrackAxis.Up, TrackAxis.Along })
        {
            var slices = new BodySi[Slices];
            for (int i = 0; i < Slices; i++)
            {
                double w = (((2 * i) + 1.0) / Slices) - 1;
                slices[i] = Ring(0, 10 * Math.Sqrt(1 - (w * w)), 10.0 / Slices, TrackAxis.Up, magnetization) with { Center = Millimeter * new Vector3D(0, 0, 10 * w) };
            }

            Vector3D axis = BodyField.Direction(slices[0]);
            Vector3D Total(Vector3D p) => slices.Aggregate(default(Vector3D), (sum, slice) => sum + BodyField.FluxDensity(slice, p));
            foreach (Vector3D point in new Vector3D[] { default, new(0.003, 0.001, 0.0021012), new(0.0011, -0.005, -0.0040287) })
            {
                Sphere.Hold((Total(point) - (2.0 / 3 * axis)).Length, $"{magnetization}, inside at {point}");
            }

            var outside = new Vector3D(0.006, -0.009, 0.013);
            double r = outside.Length;
            Vector3D unit = 1 / r * outside;
            double moment = Math.Pow(0.01 / r, 3) / 3;
            Sphere.Hold((Total(outside) - (moment * ((3 * unit.Dot(axis) * unit) - axis))).Length, $"{magnetization}, outside");
        }
    }

    [Fact]
    public void Side_axis_and_planes_of_faces_take_the_limit()
    {
        const double Step = 1e-9;
        foreach (TrackAxis magnetization in new[] { TrackAxis.Up, TrackAxis.Along })
        {
            foreach (double inner in new[] { 0.0, 5.0 })
            {
                BodySi body = Ring(inner, 10, 4, TrackAxis.Up, magnetization);
                foreach (double rho in new[] { 0, 1e-9, 1.2499999, 2.5, 5, 7, 10, 13, 79.99999, 80.00001 })
                {
                    foreach (double z in new[] { -9, -4, -1.5, 0, 1.5, 4, 9 })
                    {
                        bool onEdge = Math.Abs(z) == 4 && (rho is 10 || (rho is 5 && inner > 0));
                        bool onSurface = (Math.Abs(z) <= 4 && (rho is 10 || (rho is 5 && inner > 0))) || (Math.Abs(z) == 4 && rho < 10 && (rho > inner || inner == 0));
                        Vector3D point = Millimeter * new Vector3D(0.6 * rho, 0.8 * rho, z);
                        Vector3D exact = BodyField.FluxDensity(body, point);
                        Assert.True(double.IsFinite(exact.Length) && exact.Length < 12, $"rho {rho}, z {z}: {exact}");
                        if (onEdge || onSurface)
                        {
                            continue;
                        }

                        for (int corner = 0; corner < 8; corner++)
                        {
                            var shift = new Vector3D((corner & 1) - 0.5, ((corner >> 1) & 1) - 0.5, (corner >> 2) - 0.5);
                            Vector3D beside = BodyField.FluxDensity(body, point + (Step * Millimeter * shift));
                            Assert.True((beside - exact).Length < 3 * Step + 1e-13, $"{magnetization}, bore {inner}, rho {rho}, z {z}: {(beside - exact).Length:E2}");
                        }
                    }
                }
            }
        }
    }

    [Fact]
    public void On_the_side_H_is_the_limit_from_outside_the_magnet()
    {
        const double Step = 1e-12;
        foreach (TrackAxis magnetization in new[] { TrackAxis.Up, TrackAxis.Along, TrackAxis.Across })
        {
            BodySi body = Ring(5, 10, 4, TrackAxis.Up, magnetization);
            foreach (double z in new[] { -2.0, 0, 3.1 })
            {
                Vector3D Outer(double factor) => Millimeter * new Vector3D(10 * factor, 0, z);
                Vector3D Bore(double factor) => Millimeter * new Vector3D(0, 5 * factor, z);
                Vector3D outside = BodyField.MagneticFieldTimesPermeability(body, Outer(1));
                Assert.True((outside - BodyField.MagneticFieldTimesPermeability(body, Outer(1 + Step))).Length < 1e-10);
                Vector3D within = BodyField.MagneticFieldTimesPermeability(body, Bore(1));
                Assert.True((within - BodyField.MagneticFieldTimesPermeability(body, Bore(1 - Step))).Length < 1e-10);

                // Across the side the part of B normal to it does not jump.
                Vector3D normal = BodyField.FluxDensity(body, Outer(1 - Step)) - BodyField.FluxDensity(body, Outer(1 + Step));
                Assert.Equal(0, normal.X, 1e-10);
            }
        }
    }

    [RepeatableProperty(150)]
    public Property Divergence_of_B_and_curl_of_H_vanish() => Prop.ForAll(Cases(), test =>
    {
        (BodySi body, Vector3D point) = test;
        double step = 0.02 * Clearance(body, point);
        Vector3D Derivative(Vector3D axis)
        {
            Vector3D At(int n) => BodyField.MagneticFieldTimesPermeability(body, point + (n * step * axis));
            return 1 / (60 * step) * ((45 * (At(1) - At(-1))) - (9 * (At(2) - At(-2))) + (At(3) - At(-3)));
        }

        Vector3D dx = Derivative(new(1, 0, 0));
        Vector3D dy = Derivative(new(0, 1, 0));
        Vector3D dz = Derivative(new(0, 0, 1));
        double size = Math.Max(dx.Length, Math.Max(dy.Length, dz.Length));
        double noise = 1e-13 / step;
        double divergence = dx.X + dy.Y + dz.Z;
        var curl = new Vector3D(dy.Z - dz.Y, dz.X - dx.Z, dx.Y - dy.X);
        return (Math.Abs(divergence) < (1e-6 * size) + noise && curl.Length < (1e-6 * size) + noise)
            .Label($"{body}, {point}: div {divergence:E2}, curl {curl.Length:E2}, gradient {size:E2}, noise {noise:E2}");
    });

    [RepeatableProperty(60)]
    public Property Closed_form_and_dipoles_agree_where_one_takes_over() => Prop.ForAll(Cases(), test =>
    {
        (BodySi body, Vector3D point) = test;
        Vector3D at = body.Center + (BlockField.FarDiagonals * body.Radius * 0.9999 / (point - body.Center).Length * (point - body.Center));
        Vector3D near = BodyField.FluxDensity(body, at);
        Vector3D far = BodyField.Far(body, at, BlockField.AllDigits);
        return ((near - far).Length < 2e-10 * far.Length).Label($"{body}: {(near - far).Length / far.Length:E2}");
    });

    [RepeatableProperty(60)]
    public Property Far_away_it_is_a_dipole_and_scale_does_not_matter() => Prop.ForAll(Cases(), test =>
    {
        (BodySi body, Vector3D point) = test;
        Vector3D r = 1e4 * body.Radius / (point - body.Center).Length * (point - body.Center);
        double volume = Math.PI * ((body.OuterRadius * body.OuterRadius) - (body.InnerRadius * body.InnerRadius)) * 2 * body.HalfLength;
        Vector3D axis = BodyField.Direction(body);
        Vector3D unit = 1 / r.Length * r;
        Vector3D dipole = body.Remanence * volume / (4 * Math.PI * Math.Pow(r.Length, 3)) * ((3 * unit.Dot(axis) * unit) - axis);
        Vector3D b = BodyField.FluxDensity(body, body.Center + r);
        BodySi scaled = new BodySi(
            7 * body.HalfAlong, 7 * body.HalfAcross, 7 * body.HalfUp, 7 * body.Center, body.Magnetization, body.Remanence)
        {
            Shape = BodyShape.Ring,
            Axis = body.Axis,
            InnerRadius = 7 * body.InnerRadius,
            Roll = body.Roll,
        };
        double change = (BodyField.FluxDensity(scaled, 7 * point) - BodyField.FluxDensity(body, point)).Length;
        return (FarDipole.Holds((b - dipole).Length / dipole.Length) && change < 1e-12)
            .Label($"{body}: {(b - dipole).Length / dipole.Length:E2}, scaled {change:E2}");
    });

    [Fact]
    public void Two_half_rings_of_wall_make_a_whole_one()
    {
        // A ring is the ring inside plus the ring outside that share a wall.
        BodySi whole = Ring(4, 10, 3, TrackAxis.Across, TrackAxis.Across);
        BodySi inner = Ring(4, 7, 3, TrackAxis.Across, TrackAxis.Across);
        BodySi outer = Ring(7, 10, 3, TrackAxis.Across, TrackAxis.Across);
        foreach (TrackAxis axis in Enum.GetValues<TrackAxis>())
        {
            foreach (Vector3D point in new Vector3D[] { new(0.001, 0.004, 0.002), new(0.005, 0.001, 0.001), new(0.02, 0, 0.01), new(0.0085, 0.0029, 0) })
            {
                Vector3D sum = BodyField.FluxDensity(inner with { Magnetization = axis }, point) + BodyField.FluxDensity(outer with { Magnetization = axis }, point);
                Assert.True((BodyField.FluxDensity(whole with { Magnetization = axis }, point) - sum).Length < 1e-14);
            }
        }
    }

    [Fact]
    public void Wrong_rings_are_refused_by_name()
    {
        ArgumentOutOfRangeException wall = Assert.Throws<ArgumentOutOfRangeException>(
            () => new RingMagnet(20.Millimeters(), 20.Millimeters(), 5.Millimeters(), MagnetGrade.N42));
        Assert.Contains("innerDiameter is 20 mm; it must be below 20 mm", wall.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => new RingMagnet(20.Millimeters(), Length.Zero, 5.Millimeters(), MagnetGrade.N42));
        ArgumentOutOfRangeException thin = Assert.Throws<ArgumentOutOfRangeException>(
            () => new DiscMagnet(20.Millimeters(), Length.Zero, MagnetGrade.N42));
        Assert.Contains("thickness is 0 m; it must be above zero", thin.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Volume_and_mass_are_those_of_the_shape()
    {
        var ring = new RingMagnet(20.Millimeters(), 10.Millimeters(), 8.Millimeters(), MagnetGrade.N42);
        Assert.Equal(Math.PI * (100 - 25) * 8, ring.Volume.CubicMillimeters, 1e-9);
        Assert.Equal(ring.Volume.CubicMeters * MagnetGrade.N42.Density.KilogramsPerCubicMeter, ring.Mass.Kilograms, 1e-15);
        var disc = new DiscMagnet(20.Millimeters(), 8.Millimeters(), MagnetGrade.N42);
        Assert.Equal(Math.PI * 100 * 8, disc.Volume.CubicMillimeters, 1e-9);
    }

    private static BodySi Ring(double inner, double outer, double half, TrackAxis axis, TrackAxis magnetization)
    {
        Vector3D size = Millimeter * Place(axis, outer, outer, half);
        return new BodySi(size.X, size.Y, size.Z, default, magnetization, 1)
        {
            Shape = BodyShape.Ring,
            Axis = axis,
            InnerRadius = inner * Millimeter,
        };
    }

    private static Vector3D Place(TrackAxis axis, double u, double v, double w) => axis switch
    {
        TrackAxis.Along => new(w, u, v),
        TrackAxis.Across => new(u, w, v),
        _ => new(u, v, w),
    };

    private static double Clearance(in BodySi body, Vector3D point)
    {
        Vector3D p = body.ToOwn(point - body.Center);
        (double u, double v, double w) = body.Axis switch
        {
            TrackAxis.Along => (p.Y, p.Z, p.X),
            TrackAxis.Across => (p.X, p.Z, p.Y),
            _ => (p.X, p.Y, p.Z),
        };
        double rho = Math.Sqrt((u * u) + (v * v));
        double end = Math.Abs(Math.Abs(w) - body.HalfLength);
        double outer = Math.Abs(rho - body.OuterRadius);
        double bore = body.InnerRadius > 0 ? Math.Abs(rho - body.InnerRadius) : double.MaxValue;
        return Math.Min(end, Math.Min(outer, bore));
    }

    private static Arbitrary<(BodySi Body, Vector3D Point)> Cases()
        => (from outer in Between(0.5, 3)
            from wall in Between(0.1, 0.9)
            from bored in Gen.Elements(true, false)
            from half in Between(0.2, 3)
            from axis in Gen.Elements(TrackAxis.Along, TrackAxis.Across, TrackAxis.Up)
            from magnetization in Gen.Elements(TrackAxis.Along, TrackAxis.Across, TrackAxis.Up)
            from roll in Gen.Elements(0, 0.7)
            from x in Between(-6, 6)
            from y in Between(-6, 6)
            from z in Between(-6, 6)
            select (
                Body: Ring(bored ? wall * outer : 0, outer, half, axis, magnetization) with { Roll = roll, Center = Millimeter * new Vector3D(0.3, -0.2, 0.1) },
                Point: Millimeter * new Vector3D(x, y, z)))
            .Where(test => Clearance(test.Body, test.Point) > 0.05 * Millimeter)
            .ToArbitrary();

    private static Gen<double> Between(double least, double greatest)
        => Gen.Choose(0, 1_000_000).Select(n => least + ((greatest - least) * n / 1_000_000));
}
