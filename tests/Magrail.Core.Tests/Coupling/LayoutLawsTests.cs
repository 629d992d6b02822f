using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace Magrail.Tests.Coupling;

/// <summary>
/// Laws that hold for every magnet, station and coil, over generated ones of all shapes and layouts: no flux out of a closed surface,
/// no circulation in air, the dipole far away, the scale of lengths, mirror images, and action and reaction.
/// </summary>
[Properties(Arbitrary = [typeof(GeneratedLayouts)])]
public sealed class LayoutLawsTests
{
    private const double Millimeter = 1e-3;

    private static readonly AccuracyRow Flux = new("flux out of generated spheres about, between and inside magnets of all shapes", "zero", 1e-9, "of the flux through them");
    private static readonly AccuracyRow CutFlux = new("flux out of generated cylinders that cut discs and rings", "zero", 1e-12, "of the flux through them");
    private static readonly AccuracyRow Circulation = new("circulation around generated circles in the air about magnets of all shapes", "zero", 1e-12, "of what it sums");
    private static readonly AccuracyRow Dipole = new("generated stations of all shapes 10 000 sizes away", "their dipoles", 1e-7, "of their sizes");
    private static readonly AccuracyRow FieldScale = new("B of generated stations of all shapes, lengths scaled by 0.1 to 10", "itself", 1e-13, "T");
    private static readonly AccuracyRow ForceScale = new("three forces per ampere in generated layouts, lengths scaled by 0.1 to 10", "s times themselves", 1e-11, "of the magnets' greatest");
    private static readonly AccuracyRow Mirrors = new("three forces per ampere in generated layouts, mirrored in three planes", "themselves", 1e-11, "of the magnets' greatest");
    private static readonly AccuracyRow ThirdLaw = new("three forces on the coil in generated layouts of all shapes against those on the magnets", "Biot and Savart's law on the surfaces of the magnets", 1e-8, "of the magnets' greatest");

    /// <summary>Law 3: spheres around all magnets, around one, in the air, and inside a magnet.</summary>
    [RepeatableProperty]
    public Property No_flux_leaves_a_sphere(Layout layout)
        => Prop.ForAll(Points(40).ToArbitrary(), point =>
        {
            // About everything, or as large as the nearest surface allows.
            StationSi station = layout.Station;
            double around = FluxOf(station, 0.3 * point, 1.4 * (station.Radius + (0.3 * point.Length)));
            double gap = Math.Abs(LayoutLaws.Gap(station, point));
            BodySi first = station.Bodies[0];
            double inside = FluxOf(station, first.Center, 0.4 * Math.Abs(LayoutLaws.Gap(station, first.Center)));
            double beside = FluxOf(station, point, 0.6 * gap);
            return Flux.Holds(Math.Max(around, Math.Max(inside, beside)))
                .Label($"around everything {around:E2}, at the middle of a body {inside:E2}, beside or inside {beside:E2}");
        });

    /// <summary>Law 3 where the surface cuts the magnet: cylinders about the axis of a disc or a ring.</summary>
    [RepeatableProperty]
    public Property No_flux_leaves_a_cylinder_that_cuts_a_ring()
        => Prop.ForAll(Cuts().ToArbitrary(), cut =>
        {
            (BodySi ring, double radius, double low, double high) = cut;
            return CutFlux.Holds(FluxOutOf(p => BodyField.FluxDensity(ring, p), cut)).Label($"{ring}, radius {radius}, {low} to {high}");
        });

    /// <summary>Law 3: circles in the air, through bores and around magnets too.</summary>
    [RepeatableProperty(150)]
    public Property No_circulation_around_a_circle_in_air(Layout layout)
        => Prop.ForAll(Circles(layout.Station).ToArbitrary(), circle =>
        {
            double error = LayoutLaws.CirculationOfCircle(layout.Station.FluxDensity, circle);
            return Circulation.Holds(error).Label($"{error:E2}");
        });

    /// <summary>Law 4.</summary>
    [RepeatableProperty(200)]
    public Property Far_away_a_station_is_its_dipoles(Layout layout)
        => Prop.ForAll(Points(1).ToArbitrary(), direction =>
        {
            StationSi station = layout.Station;
            Vector3D point = 1e4 * station.Radius / direction.Length * direction;
            double error = LayoutLaws.FromDipoles(station.FluxDensity, station, point);
            return Dipole.Holds(error).Label($"{error:E2}");
        });

    /// <summary>Law 7, the field.</summary>
    [RepeatableProperty(200)]
    public Property Lengths_scaled_leave_B_unchanged(Layout layout)
        => Prop.ForAll(Points(30).ToArbitrary(), Scales().ToArbitrary(), (point, s) =>
        {
            StationSi scaled = Scaled(layout.Station, s);
            double error = (scaled.FluxDensity(s * point) - layout.Station.FluxDensity(point)).Length;

            // On a surface an ulp decides on which side a point lies.
            return (Math.Abs(LayoutLaws.Gap(layout.Station, point)) < 1e-9 || FieldScale.Holds(error)).Label($"{error:E2} T");
        });

    /// <summary>Law 7, the force per ampere at equal turns.</summary>
    [RepeatableProperty(40)]
    public Property Lengths_scaled_by_s_scale_the_forces_by_s(Layout layout)
        => Prop.ForAll(Scales().ToArbitrary(), s =>
        {
            double size = Greatest(layout);
            Vector3D plain = Force(layout.Coil, layout.Station, layout.Displacement);
            Vector3D scaled = Force(Scaled(layout.Coil, s), Scaled(layout.Station, s), s * layout.Displacement);
            double error = ((1 / s * scaled) - plain).Length / size;
            return ForceScale.Holds(error).Label($"{error:E2}: {plain} and {scaled} at {s}");
        });

    /// <summary>
    /// A mirror image of everything, magnetization and coil currents as the axial vectors they are, has the mirror image of the force.
    /// </summary>
    [RepeatableProperty(30)]
    public Property Mirror_images_have_mirrored_forces(Layout layout)
        => Prop.ForAll(Gen.Elements(Enum.GetValues<TrackAxis>()).ToArbitrary(), mirror =>
        {
            double size = Greatest(layout);
            Vector3D plain = Force(layout.Coil, layout.Station, layout.Displacement);
            Vector3D mirrored = Force(layout.Coil, Mirrored(layout.Station, mirror), Mirrored(layout.Displacement, mirror));

            // The image of a current about an axis in the mirror's plane runs the other way.
            double current = layout.Coil.Axis == mirror ? 1 : -1;
            double error = ((current * mirrored) - Mirrored(plain, mirror)).Length / size;
            return Mirrors.Holds(error).Label($"{mirror}: {error:E2}: {plain} and {mirrored}");
        });

    /// <summary>Every polarity turned round turns every force round.</summary>
    [RepeatableProperty(15)]
    public bool Polarity_turns_the_forces_round(Layout layout)
    {
        StationSi turned = new([.. layout.Station.Bodies.ToArray().Select(body => body with { Remanence = -body.Remanence })]);
        Vector3D sum = Force(layout.Coil, layout.Station, layout.Displacement) + Force(layout.Coil, turned, layout.Displacement);
        return sum.Length < 1e-12 * Greatest(layout);
    }

    /// <summary>Law 10: all three components, K from the formula that the engine takes for the layout, the reaction from the coil's field on the poles.</summary>
    [RepeatableProperty(40)]
    public Property Magnets_are_pushed_as_hard_as_they_push(Layout layout)
    {
        Vector3D onCoil = Force(layout.Coil, layout.Station, layout.Displacement);
        Vector3D onMagnets = Reaction(layout, 1);
        double error = (onCoil + onMagnets).Length / Greatest(layout);
        return ThirdLaw.Holds(error).Label($"{error:E2}: on the coil {onCoil}, on the magnets {onMagnets}");
    }

    [Fact]
    public void Every_kind_is_generated()
    {
        Layout[] some = [.. GeneratedLayouts.Any.Sample(400)];
        Assert.Equal(
            ["coaxial ring", "facing pair", "free", "ring of blocks", "single"], some.Select(each => each.Kind).Distinct().Order());
        Assert.Equal(3, some.SelectMany(each => each.Magnets.Magnets).Select(magnet => magnet.Body.GetType()).Distinct().Count());
        Assert.Equal(2, some.Select(each => each.Coil.Axis).Distinct().Count());
        Assert.Contains(some, each => each.Displacement.Y != 0 && each.Displacement.Z != 0);
        Assert.Contains(some, each => each.Station.Bodies.ToArray().Any(body => body.Shape == BodyShape.Ring && body.Axis != body.Magnetization && body.Roll != 0));
    }

    /// <summary>Each law above, held against something that breaks it by a thousandth.</summary>
    [Fact]
    public void The_laws_can_fail()
    {
        var station = MagnetStation.FacingPair(
            new DiscMagnet(UnitsNet.Length.FromMillimeters(14), UnitsNet.Length.FromMillimeters(5), MagnetGrade.N42), UnitsNet.Length.FromMillimeters(14)).ToSi();
        var coil = new CoilSi(6 * Millimeter, 8 * Millimeter, 2 * Millimeter, new(0, 2 * Millimeter, -2 * Millimeter, 2 * Millimeter, 1), default);
        var at = new Vector3D(0.005, 0.001, 0.002);

        // A field with sources, one that goes around, one a thousandth too strong.
        Vector3D Sourced(Vector3D p) => station.FluxDensity(p) + new Vector3D(0, 1e-2 * p.Y, 0);
        Vector3D Turning(Vector3D p) => station.FluxDensity(p) + (1e-3 * new Vector3D(-p.Y, p.X, 0));
        Assert.True(LayoutLaws.FluxOutOfSphere(station.FluxDensity, default, 0.003) < Flux.Bound);
        Assert.True(LayoutLaws.FluxOutOfSphere(Sourced, default, 0.003) > Flux.Bound);
        Assert.True(LayoutLaws.FluxOutOfSphere(Sourced, default, 0.03) > Flux.Bound);
        (Vector3D, Vector3D)[] circle = LayoutLaws.Circle(new(0.001, 0, 0), 0.004, new(0.2, 0.1, 1));
        Assert.True(LayoutLaws.CirculationOfCircle(station.FluxDensity, circle) < Circulation.Bound);
        Assert.True(LayoutLaws.CirculationOfCircle(Turning, circle) > Circulation.Bound);
        Vector3D far = 1e4 * station.Radius * new Vector3D(0.6, 0, 0.8);
        Assert.True(LayoutLaws.FromDipoles(station.FluxDensity, station, far) < Dipole.Bound);
        Assert.True(LayoutLaws.FromDipoles(p => 1.001 * station.FluxDensity(p), station, far) > Dipole.Bound);

        // H instead of B has its sources on the poles; B of a ring cut open has none.
        var cut = (Ring: station.Bodies[0] with { Center = default, Axis = TrackAxis.Up, Magnetization = TrackAxis.Up, HalfAcross = 0.007, HalfUp = 0.0025 }, Radius: 0.004, Low: 0.001, High: 0.006);
        Assert.True(FluxOutOf(p => BodyField.FluxDensity(cut.Ring, p), cut) < CutFlux.Bound);
        Assert.True(FluxOutOf(p => BodyField.MagneticFieldTimesPermeability(cut.Ring, p), cut) > 0.1);

        // Magnets that grow a little less than the coil.
        double size = Greatest(coil, station);
        Vector3D plain = Force(coil, station, at);
        Assert.True(((0.5 * Force(Scaled(coil, 2), Scaled(station, 2), 2 * at)) - plain).Length < ForceScale.Bound * size);
        Assert.True(((0.5 * Force(Scaled(coil, 2), Scaled(station, 1.999), 2 * at)) - plain).Length > ForceScale.Bound * size);
        Assert.True((Scaled(station, 1.999).FluxDensity(2 * at) - station.FluxDensity(at)).Length > FieldScale.Bound);

        // A mirror that takes magnetization for an ordinary vector, and a reaction a thousandth too small.
        StationSi wrong = new([.. station.Bodies.ToArray().Select(body => body with { Center = Mirrored(body.Center, TrackAxis.Along) })]);
        Assert.True(((-1 * Force(coil, wrong, Mirrored(at, TrackAxis.Along))) - Mirrored(plain, TrackAxis.Along)).Length > Mirrors.Bound * size);
        var layout = new Layout("facing pair", Placed(station), coil, 4 * Millimeter, at);
        Assert.True((plain + Reaction(layout, 1)).Length < ThirdLaw.Bound * size);
        Assert.True((plain + Reaction(layout, 0.999)).Length > ThirdLaw.Bound * size);

        static MagnetStation Placed(StationSi _) => MagnetStation.FacingPair(
            new DiscMagnet(UnitsNet.Length.FromMillimeters(14), UnitsNet.Length.FromMillimeters(5), MagnetGrade.N42), UnitsNet.Length.FromMillimeters(14));
    }

    private static double FluxOf(StationSi station, Vector3D center, double radius)
        => radius < 1e-5 ? 0 : LayoutLaws.FluxOutOfSphere(station.FluxDensity, center, radius);

    private static double FluxOutOf(Func<Vector3D, Vector3D> b, (BodySi Ring, double Radius, double Low, double High) cut)
        => LayoutLaws.FluxOutOfCylinder(b, cut.Radius, cut.Low, cut.High, [cut.Ring.InnerRadius, cut.Ring.OuterRadius], [-cut.Ring.HalfLength, cut.Ring.HalfLength]);

    /// <summary>The force per ampere by the formulas that the curves are compiled from.</summary>
    private static Vector3D Force(CoilSi coil, StationSi station, Vector3D displacement)
    {
        StationSi seen = station.SeenFrom(displacement.Y, displacement.Z);
        double Component(TrackAxis axis)
        {
            double sum = 0;
            foreach (StationKernel kernel in StationKernel.For(coil, seen, axis))
            {
                double t = displacement.X - kernel.Center;
                sum += kernel.IsEdge ? kernel.Value(t + kernel.Half, 10) - kernel.Value(t - kernel.Half, 10) : kernel.Value(t, 10);
            }

            return sum;
        }

        return new(Component(TrackAxis.Along), Component(TrackAxis.Across), Component(TrackAxis.Up));
    }

    private static Vector3D Reaction(Layout layout, double share)
    {
        WindingElements winding = WindingElements.Near(layout.Coil, layout.Clearance, 9);
        return LayoutLaws.ForceOnMagnets(layout.Station, p => share * winding.FluxDensity(p - layout.Displacement, 1), layout.Clearance);
    }

    private static double Greatest(Layout layout) => Greatest(layout.Coil, layout.Station);

    /// <summary>The greatest forces of the single magnets in passing, roughly, in sum: those of a whole station may cancel.</summary>
    private static double Greatest(CoilSi coil, StationSi station)
    {
        WindingElements winding = WindingElements.Near(coil, 3 * Millimeter, 3);
        return station.Bodies.ToArray().Select(body => new StationSi(body)).Sum(
            each => Enumerable.Range(-4, 9).Max(i => winding.Force(each, new(4 * Millimeter * i, 0, 0)).Length));
    }

    private static CoilSi Scaled(CoilSi coil, double s) => new(
        s * coil.HalfWidth,
        s * coil.HalfHeight,
        s * coil.Corner,
        new(s * coil.Full.InnerDepth, s * coil.Full.OuterDepth, s * coil.Full.AxialFrom, s * coil.Full.AxialTo, coil.Full.Turns),
        default)
    {
        Axis = coil.Axis,
    };

    private static StationSi Scaled(StationSi station, double s) => new([.. station.Bodies.ToArray().Select(body => body with
    {
        HalfAlong = s * body.HalfAlong,
        HalfAcross = s * body.HalfAcross,
        HalfUp = s * body.HalfUp,
        InnerRadius = s * body.InnerRadius,
        Center = s * body.Center,
    })]);

    private static Vector3D Mirrored(Vector3D v, TrackAxis mirror) => mirror switch
    {
        TrackAxis.Along => v with { X = -v.X },
        TrackAxis.Across => v with { Y = -v.Y },
        _ => v with { Z = -v.Z },
    };

    private static StationSi Mirrored(StationSi station, TrackAxis mirror) => new([.. station.Bodies.ToArray().Select(body => body with
    {
        Center = Mirrored(body.Center, mirror),
        Roll = mirror == TrackAxis.Along ? body.Roll : -body.Roll,
        Remanence = body.Magnetization == mirror ? body.Remanence : -body.Remanence,
    })]);

    /// <summary>Places in a cube of so many millimeters either way, all different from zero.</summary>
    private static Gen<Vector3D> Points(double millimeters)
        => from x in GeneratedLayouts.Between(-millimeters, millimeters)
           from y in GeneratedLayouts.Between(-millimeters, millimeters)
           from z in GeneratedLayouts.Between(0.01 * millimeters, millimeters)
           select Millimeter * new Vector3D(x, y, z);

    private static Gen<double> Scales() => GeneratedLayouts.Between(-1, 1).Select(power => Math.Pow(10, power));

    private static Gen<(Vector3D Place, Vector3D Tangent)[]> Circles(StationSi station)
        => (from center in Points(25)
            from radius in GeneratedLayouts.Between(1, 25)
            from normal in Points(1)
            select LayoutLaws.Circle(center, radius * Millimeter, normal))
            .Where(circle => circle.All(point => LayoutLaws.Gap(station, point.Place) > 0.8 * Millimeter));

    /// <summary>A ring or disc about z, and a cylinder that keeps clear of its edges and may cut it anywhere else.</summary>
    private static Gen<(BodySi Ring, double Radius, double Low, double High)> Cuts()
        => (from outer in GeneratedLayouts.Between(5, 10)
            from bore in Gen.OneOf(Gen.Constant(0.0), GeneratedLayouts.Between(0.3, 0.7))
            from half in GeneratedLayouts.Between(2, 6)
            from radius in GeneratedLayouts.Between(1, 15)
            from low in GeneratedLayouts.Between(-12, 10)
            from length in GeneratedLayouts.Between(2, 15)
            select (
                Ring: new BodySi(outer * Millimeter, outer * Millimeter, half * Millimeter, default, TrackAxis.Up, 1.3)
                {
                    Shape = BodyShape.Ring,
                    Axis = TrackAxis.Up,
                    InnerRadius = bore * outer * Millimeter,
                },
                Radius: radius * Millimeter,
                Low: low * Millimeter,
                High: (low + length) * Millimeter))
            .Where(cut =>
                Apart(cut.Radius, cut.Ring.OuterRadius) && (cut.Ring.InnerRadius == 0 || Apart(cut.Radius, cut.Ring.InnerRadius))
                && Apart(Math.Abs(cut.Low), cut.Ring.HalfLength) && Apart(Math.Abs(cut.High), cut.Ring.HalfLength));

    private static bool Apart(double a, double b) => Math.Abs(a - b) > 0.6 * Millimeter;
}
