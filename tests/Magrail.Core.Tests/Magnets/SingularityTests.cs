using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Magnets;

/// <summary>Block, disc and ring where their formulas have removable or true singularities, and far away, where they would cancel.</summary>
public sealed class SingularityTests
{
    private const double J = 1.3;

    private static readonly AccuracyRow PoleFaces = new("disc and ring: B through a pole face and a side, H along them, 1e-11 sizes either way", "conditions at a surface: J. D. Jackson, Classical Electrodynamics (from memory)", 1e-9, "T");
    private static readonly AccuracyRow Noise = new("disc, ring and block at 10 000 sizes: departure from the dipole against that at 1000, times distance squared", "next multipole", 1e-11, "of the field");

    /// <summary>Each shape with its axis along z, magnetized along it and across it.</summary>
    public static TheoryData<string, int> Shapes
    {
        get
        {
            TheoryData<string, int> data = [];
            foreach (string shape in new[] { "block", "disc", "ring" })
            {
                foreach (TrackAxis axis in Enum.GetValues<TrackAxis>())
                {
                    data.Add(shape, (int)axis);
                }
            }

            return data;
        }
    }

    private static BodySi Body(string shape, TrackAxis magnetization) => shape switch
    {
        "block" => new(1, 0.8, 0.5, default, magnetization, J),
        "disc" => new BodySi(1, 1, 0.5, default, magnetization, J) { Shape = BodyShape.Ring, Axis = TrackAxis.Up },
        _ => new BodySi(1, 1, 0.5, default, magnetization, J) { Shape = BodyShape.Ring, Axis = TrackAxis.Up, InnerRadius = 0.4 },
    };

    /// <summary>Through any face B·n and n × H go on; B − μ₀H is J inside and zero outside.</summary>
    [Theory]
    [MemberData(nameof(Shapes))]
    public void At_faces_B_normal_and_H_tangential_go_on(string shape, int magnetization)
    {
        const double Step = 1e-11;
        BodySi body = Body(shape, (TrackAxis)magnetization);
        Vector3D axis = BodyField.Direction(body);
        var faces = new List<(Vector3D Place, Vector3D Normal)>
        {
            (new(0.5, 0.3, 0.5), new(0, 0, 1)),
            (new(-0.45, 0.1, -0.5), new(0, 0, -1)),
        };
        if (shape == "block")
        {
            faces.AddRange([(new(1, 0.3, -0.2), new(1, 0, 0)), (new(0.2, -0.8, 0.1), new(0, -1, 0))]);
        }
        else
        {
            faces.Add((new(0.6, 0.8, 0.2), new(0.6, 0.8, 0)));
        }

        if (shape == "ring")
        {
            faces.Add((new(0.4 * 0.8, -0.4 * 0.6, -0.1), new(-0.8, 0.6, 0)));
        }

        foreach ((Vector3D place, Vector3D normal) in faces)
        {
            Vector3D outside = place + (Step * normal);
            Vector3D inside = place - (Step * normal);
            Vector3D b = BodyField.FluxDensity(body, outside) - BodyField.FluxDensity(body, inside);
            Vector3D h = BodyField.MagneticFieldTimesPermeability(body, outside) - BodyField.MagneticFieldTimesPermeability(body, inside);
            PoleFaces.Hold(Math.Abs(b.Dot(normal)), $"{shape} {axis} at {place}: B·n");
            PoleFaces.Hold((h - (h.Dot(normal) * normal)).Length, $"{shape} {axis} at {place}: H");

            // The normal part of μ₀H jumps by the pole charge J·n, the tangential part of B by that of J.
            PoleFaces.Hold(Math.Abs(h.Dot(normal) - (J * axis.Dot(normal))), $"{shape} {axis} at {place}: pole charge");
            Assert.Equal(0, (BodyField.FluxDensity(body, outside) - BodyField.MagneticFieldTimesPermeability(body, outside)).Length, 1e-15);
            Assert.Equal(0, (BodyField.FluxDensity(body, inside) - BodyField.MagneticFieldTimesPermeability(body, inside) - (J * axis)).Length, 1e-15);
        }
    }

    /// <summary>Magnetized across, a field along the axis of symmetry is the limit of that beside it, in the magnet, in the bore and outside.</summary>
    [Theory]
    [MemberData(nameof(Shapes))]
    public void The_axis_is_the_limit_of_places_beside_it(string shape, int magnetization)
    {
        BodySi body = Body(shape, (TrackAxis)magnetization);
        foreach (double z in new[] { -30.0, -3, -0.500001, -0.4, 0, 0.2, 0.499999, 0.7, 12, 1e4 })
        {
            Vector3D exact = BodyField.FluxDensity(body, new(0, 0, z));
            foreach (double step in new[] { 1e-300, 1e-160, 1e-30, 1e-16, 1e-12, 1e-9 })
            {
                Vector3D beside = BodyField.FluxDensity(body, new(0.6 * step, -0.8 * step, z));
                Assert.True((beside - exact).Length <= (3 * step) + (1e-13 * exact.Length), $"{shape} {z} {step}: {(beside - exact).Length:E2}");
            }
        }
    }

    /// <summary>
    /// Toward a sharp edge of charge J the field along the charged face grows as J/(2π) per factor e of the distance, toward a right corner of
    /// a charged face as J/(4π): the field of a half plane and of a quarter plane (by integration of the surface charge).
    /// </summary>
    [Theory]
    [InlineData("block edge", 1 / (2 * Math.PI))]
    [InlineData("block corner", 1 / (4 * Math.PI))]
    [InlineData("disc rim", 1 / (2 * Math.PI))]
    [InlineData("disc rim across", 1 / (2 * Math.PI))]
    [InlineData("ring rim", 1 / (2 * Math.PI))]
    [InlineData("ring bore", -1 / (2 * Math.PI))]
    public void Toward_edges_and_corners_the_field_grows_as_the_logarithm(string where, double slope)
    {
        double At(double d)
        {
            double diagonal = d / Math.Sqrt(2);
            double third = d / Math.Sqrt(3);
            return where switch
            {
                "block edge" => BodyField.FluxDensity(Body("block", TrackAxis.Up), new(1 + diagonal, 0.1, 0.5 + diagonal)).X,
                "block corner" => BodyField.FluxDensity(Body("block", TrackAxis.Up), new(1 + third, 0.8 + third, 0.5 + third)).X,
                "disc rim" => BodyField.FluxDensity(Body("disc", TrackAxis.Up), new(1 + diagonal, 0, 0.5 + diagonal)).X,
                "disc rim across" => BodyField.FluxDensity(Body("disc", TrackAxis.Along), new(1 + diagonal, 0, 0.5 + diagonal)).Z,
                "ring rim" => BodyField.FluxDensity(Body("ring", TrackAxis.Up), new(1 + diagonal, 0, 0.5 + diagonal)).X,
                _ => BodyField.FluxDensity(Body("ring", TrackAxis.Up), new(0.4 - diagonal, 0, 0.5 + diagonal)).X,
            };
        }

        foreach (double distance in new[] { 1e-4, 1e-6, 1e-8, 1e-10, 1e-12 })
        {
            double growth = (At(distance / 10) - At(distance)) / Math.Log(10) / J;
            Assert.Equal(slope, growth, Math.Max(20 * distance, 5e-3 * Math.Abs(slope)));
        }
    }

    /// <summary>No place in, on or near an edge, corner or axis gives anything but a number, and one of the size of J.</summary>
    [Theory]
    [MemberData(nameof(Shapes))]
    public void Everywhere_the_field_is_a_number(string shape, int magnetization)
    {
        BodySi body = Body(shape, (TrackAxis)magnetization);
        double[] places = [-1, -0.8, -0.5, -0.4, 0, 0.4, 0.5, 0.8, 1];
        double[] steps = [-1e-7, -1e-15, 0, 1e-300, 1e-12];
        foreach (double x in places)
        {
            foreach (double y in places)
            {
                foreach (double z in places)
                {
                    foreach (double step in steps)
                    {
                        Vector3D b = BodyField.FluxDensity(body, new(x + step, y - step, z + step));
                        Vector3D h = BodyField.MagneticFieldTimesPermeability(body, new(x + step, y - step, z + step));
                        Assert.True(b.Length < 15 * J && h.Length < 15 * J, $"{shape} ({x}, {y}, {z}) + {step}: {b}, {h}");
                    }
                }
            }
        }
    }

    /// <summary>Departure from the dipole times the square of the distance tends to a constant, the next multipole: noise would show as its scatter.</summary>
    [Theory]
    [MemberData(nameof(Shapes))]
    public void Ten_thousand_sizes_away_nothing_but_the_next_multipole_is_left(string shape, int magnetization)
    {
        BodySi body = Body(shape, (TrackAxis)magnetization);
        double volume = shape switch
        {
            "block" => 8 * 1 * 0.8 * 0.5,
            "disc" => Math.PI,
            _ => Math.PI * (1 - 0.16),
        };
        Vector3D axis = BodyField.Direction(body);
        foreach (Vector3D direction in new Vector3D[] { new(0.48, 0.6, 0.64), new(0, 0, 1), new(1, 0, 0), new(-0.6, 0.8, 1e-6) })
        {
            Vector3D Departure(double distance)
            {
                double strength = J * volume / (4 * Math.PI * Math.Pow(distance, 3));
                Vector3D unit = 1 / direction.Length * direction;
                Vector3D dipole = strength * ((3 * unit.Dot(axis) * unit) - axis);
                return 1 / strength * (BodyField.FluxDensity(body, distance * unit) - dipole);
            }

            // The octupole falls by a hundred from 1e3 to 1e4 sizes, and what follows it is smaller again by a million.
            Noise.Hold((Departure(1e4) - (0.01 * Departure(1e3))).Length, $"{shape} {axis}, toward {direction}");
        }
    }

    /// <summary>B and H of the public nouns: inside B = μ₀H + J, whichever shape; a plate has H = −M and hardly any B.</summary>
    [Fact]
    public void Public_shapes_tell_B_from_H()
    {
        double mu0 = Sources.PhysicalConstants.VacuumPermeability;
        double br = MagnetGrade.N42.Remanence.Teslas;
        foreach (MagnetBody magnet in new MagnetBody[]
        {
            new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42),
            new DiscMagnet(20.Millimeters(), 6.Millimeters(), MagnetGrade.N42),
            new RingMagnet(20.Millimeters(), 2.Millimeters(), 6.Millimeters(), MagnetGrade.N42, TrackAxis.Across),
        })
        {
            Length x = 3.Millimeters();
            Length y = 1.Millimeters();
            FluxDensity b = magnet.FluxDensityAt(x, y, Length.Zero);
            FieldStrength h = magnet.FieldStrengthAt(x, y, Length.Zero);
            Assert.Equal(b.Across.Teslas, (mu0 * h.Across.AmperesPerMeter) + br, 1e-14);
            Assert.Equal(b.Along.Teslas, mu0 * h.Along.AmperesPerMeter, 1e-14);
            Assert.True(h.Across.AmperesPerMeter < 0 && b.Across.Teslas > 0, "H opposes the magnetization in a magnet, B follows it");
            b = magnet.FluxDensityAt(x, 7.Millimeters(), Length.Zero);
            Assert.Equal(b.Across.Teslas, mu0 * magnet.FieldStrengthAt(x, 7.Millimeters(), Length.Zero).Across.AmperesPerMeter, 1e-14);
        }

        foreach (MagnetBody plate in new MagnetBody[]
        {
            new DiscMagnet(2.Meters(), 0.1.Millimeters(), MagnetGrade.N42),
            new RingMagnet(2.Meters(), 0.1.Millimeters(), 0.1.Millimeters(), MagnetGrade.N42, TrackAxis.Across),
        })
        {
            Assert.Equal(0, plate.FluxDensityAt(0.3.Meters(), Length.Zero, Length.Zero).Across.Teslas, 1e-3);
            Assert.Equal(-br, mu0 * plate.FieldStrengthAt(0.3.Meters(), Length.Zero, Length.Zero).Across.AmperesPerMeter, 1e-3);
        }
    }
}
