using System.Globalization;
using FsCheck;
using FsCheck.Fluent;
using Magrail.Numerics;
using Magrail.Sources;
using Magrail.Tests.ReferenceData;
using Magrail.Units;
using UnitsNet;
using static Magrail.Tests.Coupling.GeneratedLayouts;

namespace Magrail.Tests.Coupling;

/// <summary>Coils and stations of every layout against independent quadrature, published values and laws.</summary>
public sealed class LayoutCouplingTests
{
    private const double Millimeter = 1e-3;

    private const string DlCrossB = "NumPy quadrature of dl × B over the winding (script committed)";
    private static readonly AccuracyRow Along = new("force per ampere in thirteen layouts: discs, rings, blocks, off centre, both coil axes", DlCrossB, 1, "of the accuracy asked for (1e-7, where no closed form holds 1e-6)");
    private static readonly AccuracyRow AlongBound = new("force per ampere in thirteen layouts, against the bound that the curve states", DlCrossB, 1, "of the bound");
    private static readonly AccuracyRow Lateral = new("lateral force per ampere off centre, at 1e-4", DlCrossB, 1e-4, "of the greatest force");
    private static readonly AccuracyRow LateralBlocks = new("lateral force per ampere off centre between blocks, at 1e-8", DlCrossB, 1e-8, "of the greatest force");
    private static readonly AccuracyRow ThickCoil = new("force of a thick coil on a cylinder magnet, 2.454443830090 N", "W. Robertson, PhD thesis (Adelaide 2013), two methods to ten digits", 5e-10, "of it");
    private static readonly AccuracyRow ThinCoil = new("force of a coil of 0.2 mm wall on the same magnet, between the two values printed", "the code published with the thesis", 1, "of half their distance");
    private static readonly AccuracyRow ThickCoils = new("force of six thick coils on the same magnet", "SciPy quadrature of Maxwell's mutual inductance over the section (script committed)", 2e-9, "of it");
    private static readonly AccuracyRow Loop = new("force of a loop on a cylinder magnet, five places", "A. Zolfaghari, H. Ebrahimi and others, Actuators 14(3):128 (2025), finite elements", 1.6e-3, "of it");
    private static readonly AccuracyRow LoopExact = new("force of a loop on a cylinder magnet, exactly", "mutual inductance of circles, J. C. Maxwell, Treatise, art. 701", 1e-5, "of it");
    private static readonly AccuracyRow ThirdLawRing = new("force of a coil along the track on a ring against its on the coil", "Biot and Savart's law on the pole faces", 2e-6, "of the peak");
    private static readonly AccuracyRow Earnshaw = new("three stiffnesses add up to zero, curl of the force vanishes, at generated places", "A. Earnshaw's theorem", 1e-5, "of their sizes");

    [Fact]
    public void Force_constants_of_thirteen_layouts_meet_quadrature_of_dl_cross_B()
    {
        ReferenceTable table = ReferenceTable.Read("layout-coupling.csv");
        Assert.Equal(13, table.Rows.Select(row => row.Text("name")).Distinct().Count());
        foreach (ReferenceTable.Row row in table.Rows)
        {
            CoilSi coil = CoilOf(row);
            StationSi station = StationOf(row);
            double across = row.Number("across") * Millimeter;
            double up = row.Number("up") * Millimeter;
            double d = row.Number("d") * Millimeter;
            double accuracy = row.Text("name") is "ring-coaxial-rect" or "ring-coaxial-off" or "magnetized-along" or "magnetized-up-off" ? 1e-6 : 1e-7;
            var curve = StationCurve.Of(coil, station, accuracy, TrackAxis.Along, across, up);
            double error = Math.Abs(curve.At(d) - (row.Number("kx") * Millimeter));
            Along.Hold(error / (accuracy * curve.Peak), $"{row.Text("name")} at {row.Text("d")} mm");
            AlongBound.Hold(error / curve.ErrorBound, $"{row.Text("name")} at {row.Text("d")} mm");
        }
    }

    [Fact]
    public void Lateral_forces_meet_quadrature_of_dl_cross_B()
    {
        foreach (ReferenceTable.Row row in ReferenceTable.Read("layout-coupling.csv").Rows.Where(row => row.Text("name") is "magnetized-along" or "ring-over-flat" || row.Text("name").EndsWith("-off", StringComparison.Ordinal)))
        {
            CoilSi coil = CoilOf(row);
            StationSi station = StationOf(row);
            double across = row.Number("across") * Millimeter;
            double up = row.Number("up") * Millimeter;
            double d = row.Number("d") * Millimeter;
            foreach ((TrackAxis component, string column) in new[] { (TrackAxis.Across, "ky"), (TrackAxis.Up, "kz") })
            {
                var curve = StationCurve.Of(coil, station, 1e-4, component, across, up);
                double error = Math.Abs(curve.At(d) - (row.Number(column) * Millimeter));
                Lateral.Hold(error / curve.Scale, $"{row.Text("name")} {column} at {row.Text("d")} mm");
                Assert.True(error <= curve.ErrorBound, $"{row.Text("name")} {column} at {row.Text("d")} mm: {error:E2} beyond {curve.ErrorBound:E2}");
            }
        }
    }

    [Fact]
    public void Lateral_forces_of_blocks_are_as_exact_as_the_force_along()
    {
        foreach (ReferenceTable.Row row in ReferenceTable.Read("layout-coupling.csv").Rows.Where(row => row.Text("name") == "pair-off"))
        {
            CoilSi coil = CoilOf(row);
            StationSi station = StationOf(row);
            foreach ((TrackAxis component, string column) in new[] { (TrackAxis.Across, "ky"), (TrackAxis.Up, "kz") })
            {
                var curve = StationCurve.Of(coil, station, 1e-8, component, row.Number("across") * Millimeter, row.Number("up") * Millimeter);
                double error = Math.Abs(curve.At(row.Number("d") * Millimeter) - (row.Number(column) * Millimeter));
                LateralBlocks.Hold(error / curve.Scale, $"{column} at {row.Text("d")} mm");
            }
        }
    }

    [Theory]
    // W. Robertson, PhD thesis (University of Adelaide, 2013), table of forces between a thick coil and a cylinder magnet (ten digits from two methods): magnet
    // R = 9 mm, L = 10 mm, Br = 1 T; coil bore 10 mm, wall 1 mm, length 20 mm, 400 turns, 1 A; centers 10 mm apart: 2.454443830090 N, attraction.
    [InlineData(1.0, 400, 2.454443830, 2.454443831)]
    // The same magnet; coil wall 0.2 mm, 100 turns: the code published with the thesis gives 0.6427600455 N by one formula and 0.6427656226 N by another,
    // which it calls less precise.
    [InlineData(0.2, 100, 0.6427600455, 0.6427656226)]
    public void Force_of_a_thick_coil_on_a_cylinder_magnet_is_the_published_one(double wall, int turns, double least, double greatest)
    {
        var coil = new CoilSi(
            10 * Millimeter, 10 * Millimeter, 10 * Millimeter, new(0, wall * Millimeter, -10 * Millimeter, 10 * Millimeter, turns), default)
        {
            Axis = TrackAxis.Along,
        };
        var curve = StationCurve.Of(coil, Rod(9, 5), 1e-9);

        // A current right-handed about the magnetization draws the coil back over the magnet.
        double force = -turns * curve.At(0.010);
        if (wall == 1)
        {
            Assert.InRange(force, least, greatest);
            ThickCoil.HoldRatio(2.454443830090, force);
        }
        else
        {
            ThinCoil.Hold(Math.Abs(force - (0.5 * (least + greatest))) / (0.5 * (greatest - least)));
        }
    }

    [Fact]
    public void Forces_of_thick_coils_on_a_cylinder_magnet_meet_quadrature()
    {
        foreach (ReferenceTable.Row row in ReferenceTable.Read("thick-coil-force.csv").Rows)
        {
            double inner = row.Number("inner") * Millimeter;
            double half = 0.5 * row.Number("length") * Millimeter;
            double turns = row.Number("turns");
            var coil = new CoilSi(inner, inner, inner, new(0, row.Number("wall") * Millimeter, -half, half, turns), default) { Axis = TrackAxis.Along };
            var curve = StationCurve.Of(coil, Rod(9, 5), 1e-10);
            ThickCoils.HoldRatio(row.Number("force"), -turns * curve.At(row.Number("distance") * Millimeter), row.ToString());
        }
    }

    [Fact]
    public void A_thick_coil_is_not_its_ten_layers()
    {
        // W. Robertson's thesis prints 2.454751529717687 N for the thick coil taken as ten thin layers: 1.3e-4 off the ten digits of its own two exact methods.
        var coil = new CoilSi(10 * Millimeter, 10 * Millimeter, 10 * Millimeter, new(0, 1 * Millimeter, -10 * Millimeter, 10 * Millimeter, 400), default) { Axis = TrackAxis.Along };
        Assert.Equal(1.25e-4, (2.454751529717687 / (-400 * StationCurve.Of(coil, Rod(9, 5), 1e-9).At(0.010))) - 1, 1e-6);

        // The same ten layers, each a sheet in the middle of its part of the wall, by our own formula: close to that value, and as far from the exact one.
        double layers = 0;
        for (int i = 0; i < 10; i++)
        {
            double radius = (10 + (i / 9.0)) * Millimeter;
            var sheet = new CoilSi(radius, radius, radius, new(0, 1e-9, -10 * Millimeter, 10 * Millimeter, 40), default) { Axis = TrackAxis.Along };
            layers += -40 * StationCurve.Of(sheet, Rod(9, 5), 1e-7).At(0.010);
        }

        Assert.Equal(2.454751529717687, layers, 1e-6);
    }

    [Theory]
    // A. Zolfaghari, H. Ebrahimi et al., Actuators 14(3):128 (2025), data repository, finite-element values of the force of a loop of radius 5 mm on a magnet R = 4.8 mm, length
    // 20 mm, Br = 1 T; z from the loop's plane to the near pole face, negative inside. They lie 0.06 % to 0.14 % from the exact values.
    [InlineData(0, 1.5949e-2)]
    [InlineData(-1, 8.1089e-3)]
    [InlineData(1, 8.1172e-3)]
    [InlineData(-5, 1.6661e-3)]
    [InlineData(5, 1.8143e-3)]
    public void Force_of_a_loop_on_a_magnet_meets_finite_elements(double z, double newtonsPerAmpere)
    {
        var loop = new CoilSi(
            4.995 * Millimeter, 4.995 * Millimeter, 4.995 * Millimeter, new(0, 0.01 * Millimeter, -0.005 * Millimeter, 0.005 * Millimeter, 1), default)
        {
            Axis = TrackAxis.Along,
        };
        var curve = StationCurve.Of(loop, Rod(4.8, 10), 1e-6);
        double force = Math.Abs(curve.At((10 + z) * Millimeter));
        Loop.HoldRatio(newtonsPerAmpere, force, $"{z} mm");

        // Exactly: (Br/μ0)[M(z) - M(z + h)], M the mutual inductance of two circles (J. C. Maxwell, Treatise, art. 701), here through K and E.
        double exact = Math.Abs(Circles(5, 4.8, z) - Circles(5, 4.8, z + 20));
        LoopExact.HoldRatio(exact, force, $"{z} mm");
    }

    [Fact]
    public void Coil_along_the_track_pushes_a_ring_as_hard_as_it_is_pushed()
    {
        // Biot and Savart's law on the pole faces of the ring.
        BodySi ring = new BodySi(5 * Millimeter, 20 * Millimeter, 20 * Millimeter, default, TrackAxis.Along, 1)
        {
            Shape = BodyShape.Ring,
            Axis = TrackAxis.Along,
            InnerRadius = 14 * Millimeter,
        };
        var coil = new CoilSi(7 * Millimeter, 9 * Millimeter, 3 * Millimeter, new(0, 2 * Millimeter, -4 * Millimeter, 4 * Millimeter, 1), default) { Axis = TrackAxis.Along };
        WindingElements winding = WindingElements.Near(coil, 3 * Millimeter, 7);
        var curve = StationCurve.Of(coil, new StationSi(ring), 1e-6);
        GaussNodes radii = GaussNodes.OfOrder(16);
        const int Around = 48;
        foreach (double d in new[] { 3.0, 8.0 })
        {
            double force = 0;
            foreach (double face in new[] { -5.0, 5.0 })
            {
                for (int i = 0; i < radii.Weights.Length; i++)
                {
                    double r = 17 + (3 * radii.Abscissas[i]);
                    for (int k = 0; k < Around; k++)
                    {
                        (double sine, double cosine) = Math.SinCos(2 * Math.PI * (k + 0.5) / Around);
                        double area = 3 * radii.Weights[i] * r * 2 * Math.PI / Around * Millimeter * Millimeter;
                        Vector3D at = Millimeter * new Vector3D(face - d, r * cosine, r * sine);
                        force += Math.Sign(face) * area * winding.FluxDensity(at, 1).X / PhysicalConstants.VacuumPermeability;
                    }
                }
            }

            ThirdLawRing.HoldDifference(-curve.At(d * Millimeter), force, curve.Peak, $"{d} mm");
        }
    }

    [RepeatableProperty(20)]
    public Property The_three_stiffnesses_of_a_current_add_up_to_zero() => Prop.ForAll(Offsets(), test =>
    {
        // Flux linkage is a harmonic function of the coil's place: ∂Kx/∂x + ∂Ky/∂y + ∂Kz/∂z = 0 (Earnshaw). Each force has a formula of its own here.
        (double x, double y, double z) = test;
        StationSi station = FlatCoilCouplingTests.Pair(6, 3, 10, 9);
        var coil = new CoilSi(6 * Millimeter, 9 * Millimeter, 3 * Millimeter, new(0, 4 * Millimeter, -3 * Millimeter, 3 * Millimeter, 10), new(4 * Millimeter, 4.5 * Millimeter, -3 * Millimeter, 1 * Millimeter, 1));
        const double Step = 0.1 * Millimeter;
        double Force(TrackAxis component, double dx, double dy, double dz)
        {
            StationKernel kernel = Assert.Single(StationKernel.For(coil, station.SeenFrom(y + dy, z + dz), component));
            double at = x + dx - kernel.Center;
            return kernel.IsEdge ? kernel.Value(at + kernel.Half, 13) - kernel.Value(at - kernel.Half, 13) : kernel.Value(at, 13);
        }

        double Slope(Func<double, double> f) => ((8 * (f(Step) - f(-Step))) - f(2 * Step) + f(-2 * Step)) / (12 * Step);
        double xx = Slope(h => Force(TrackAxis.Along, h, 0, 0));
        double yy = Slope(h => Force(TrackAxis.Across, 0, h, 0));
        double zz = Slope(h => Force(TrackAxis.Up, 0, 0, h));
        double size = Math.Abs(xx) + Math.Abs(yy) + Math.Abs(zz);

        // And the curl of the force vanishes.
        double xy = Slope(h => Force(TrackAxis.Along, 0, h, 0));
        double yx = Slope(h => Force(TrackAxis.Across, h, 0, 0));
        double xz = Slope(h => Force(TrackAxis.Along, 0, 0, h));
        double zx = Slope(h => Force(TrackAxis.Up, h, 0, 0));
        return Earnshaw.Holds(Math.Max(Math.Abs(xx + yy + zz), Math.Max(Math.Abs(xy - yx), Math.Abs(xz - zx))) / size)
            .Label($"{xx:E6} + {yy:E6} + {zz:E6} = {xx + yy + zz:E2}; {xy:E6} {yx:E6}; {xz:E6} {zx:E6}");
    });

    [Fact]
    public void In_the_middle_of_a_symmetric_station_there_is_no_lateral_force()
    {
        (Coil coil, MagnetStation station) = Example();
        var force = LateralForce.Of(coil, station, Length.Zero, Length.Zero);
        var along = CouplingCurve.Of(coil, station);
        foreach (double d in new[] { 0.0, 5, 11 })
        {
            Assert.True(Math.Abs(force.AcrossAt(d.Millimeters()).NewtonsPerAmpere) < 1e-9 * along.Peak.NewtonsPerAmpere);
            Assert.True(Math.Abs(force.UpAt(d.Millimeters()).NewtonsPerAmpere) < 1e-9 * along.Peak.NewtonsPerAmpere);
        }
    }

    [Fact]
    public void Stiffness_is_the_slope_of_the_lateral_force()
    {
        (Coil coil, MagnetStation station) = Example();
        Length d = 4.Millimeters();
        (ForcePerLength across, ForcePerLength up) = LateralForce.Stiffness(coil, station, d, 2.Amperes());
        Length offset = 0.2.Millimeters();
        double slopeAcross = 2 * LateralForce.Of(coil, station, offset, Length.Zero, 1e-6).AcrossAt(d).NewtonsPerAmpere / offset.Meters;
        double slopeUp = 2 * LateralForce.Of(coil, station, Length.Zero, offset, 1e-6).UpAt(d).NewtonsPerAmpere / offset.Meters;
        Assert.Equal(slopeAcross, across.NewtonsPerMeter, 0.01 * Math.Abs(slopeAcross));
        Assert.Equal(slopeUp, up.NewtonsPerMeter, 0.01 * Math.Abs(slopeUp));

        // With the slope of the force along they add up to zero.
        var along = CouplingCurve.Of(coil, station, 1e-9);
        double slopeAlong = 2 * (along.At(4.01.Millimeters()).NewtonsPerAmpere - along.At(3.99.Millimeters()).NewtonsPerAmpere) / 2e-5;
        Assert.Equal(-slopeAlong, across.NewtonsPerMeter + up.NewtonsPerMeter, 1e-3 * Math.Abs(slopeAlong));
    }

    [Fact]
    public void Clearance_is_the_distance_between_winding_and_magnets()
    {
        (Coil coil, MagnetStation station) = Example();
        double length = coil.ToSi().Full.AxialTo - coil.ToSi().Full.AxialFrom;
        var track = Track.OfStations(station, 3, 20.Millimeters());
        Assert.Equal(0.5 * (0.010 - length), CoilClearance.Between(coil, track).Meters, 1e-12);

        // A rod inside a coil along the track, a ring around it, blocks around it.
        var round = new CoilSi(8 * Millimeter, 8 * Millimeter, 8 * Millimeter, new(0, 3 * Millimeter, -5 * Millimeter, 5 * Millimeter, 9), default) { Axis = TrackAxis.Along };
        Assert.Equal(2 * Millimeter, CoilClearance.Between(round, Rod(6, 10).Bodies[0]), 1e-12);
        Assert.Equal(-1 * Millimeter, CoilClearance.Between(round, Rod(9, 10).Bodies[0]), 1e-12);
        BodySi ring = Rod(20, 5).Bodies[0] with { InnerRadius = 12.5 * Millimeter };
        Assert.Equal(1.5 * Millimeter, CoilClearance.Between(round, ring), 1e-12);
        BodySi[] blocks = MagnetStation.Coaxial(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 10.Millimeters(), MagnetGrade.N42, TrackAxis.Along), 7, 28.Millimeters()).Bodies();
        foreach (BodySi block in blocks)
        {
            Assert.Equal(3 * Millimeter, CoilClearance.Between(round, block), 1e-12);
        }
    }

    [Fact]
    public void A_coil_that_cannot_pass_is_refused_in_words()
    {
        (Coil coil, _) = Example();
        var narrow = MagnetStation.FacingPair(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), 5.Millimeters());
        ArgumentException refused = Assert.Throws<ArgumentException>(() => CouplingCurve.Of(coil, narrow));
        Assert.Contains("the coil runs into a magnet", refused.Message, StringComparison.Ordinal);
        var discs = MagnetStation.FacingPair(new DiscMagnet(20.Millimeters(), 6.Millimeters(), MagnetGrade.N42), 5.Millimeters());
        Assert.Throws<ArgumentException>(() => StationCurve.Of(coil.ToSi(), discs.ToSi(), 1e-6));
    }

    [Fact]
    public void Curves_over_mixed_stations_at_unequal_pitches_add_up()
    {
        MagnetStation blocks = MagnetStation.FacingPair(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), 10.Millimeters());
        MagnetStation discs = MagnetStation.FacingPair(new DiscMagnet(16.Millimeters(), 5.Millimeters(), MagnetGrade.N35), 11.Millimeters());
        MagnetStation single = MagnetStation.SingleSided(new BlockMagnet(10.Millimeters(), 6.Millimeters(), 15.Millimeters(), MagnetGrade.N52), 5.5.Millimeters());
        var track = Track.Of(
            new StationPlace(blocks, Length.Zero),
            new StationPlace(discs, 19.Millimeters(), Polarity.Negative),
            new StationPlace(blocks, 41.Millimeters()),
            new StationPlace(single, 60.Millimeters(), Polarity.Negative),
            new StationPlace(discs, 90.Millimeters()));
        Assert.Equal(10, track.Gap!.Value.Millimeters, 1e-12);
        (Coil coil, _) = Example();
        foreach (Track each in new[] { track, track.Without(1, 3) })
        {
            var curve = CircuitCurve.Compile(each, [new CircuitCoil(coil, 0.002, 1)], -0.05, 0.12);
            for (double x = -0.05; x < 0.12; x += 0.0037)
            {
                double expected = 0;
                for (int s = 0; s < each.StationCount; s++)
                {
                    var k = CouplingCurve.Of(coil, each.Stations[s], 1e-9);
                    double value = k.At(Length.FromMeters(x + 0.002) - each.Positions[s]).NewtonsPerAmpere;
                    expected += each.Polarities[s] == Polarity.Positive ? value : -value;
                }

                Assert.Equal(expected, curve.At(x), curve.ErrorBound);
            }

            Assert.True(curve.ErrorBound < 2e-7 * curve.Peak);
        }
    }

    [Fact]
    public void A_coil_along_the_track_runs_through_rings()
    {
        var ring = new RingMagnet(40.Millimeters(), 27.Millimeters(), 8.Millimeters(), MagnetGrade.N42);
        var track = Track.OfStations(MagnetStation.Coaxial(ring), 6, 15.Millimeters());
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade1),
            CoilFormer.Round(16.Millimeters(), 8.Millimeters(), 4.Millimeters()),
            90,
            axis: TrackAxis.Along);
        var curve = CircuitCurve.Compile(track, [new CircuitCoil(coil, 0, 1)], -0.02, 0.1);
        StationSi station = track.Stations[0].ToSi();
        WindingElements winding = WindingElements.Near(coil.ToSi(), 1.5 * Millimeter, 8);
        foreach (double x in new[] { -0.006, 0.004, 0.0115, 0.041 })
        {
            double expected = 0;
            for (int s = 0; s < 6; s++)
            {
                expected += (s % 2 == 0 ? 1 : -1) * coil.Turns * winding.Force(station, new(x - (0.015 * s), 0, 0)).X;
            }

            Assert.Equal(expected, curve.At(x), 2e-7 * curve.Peak);
        }
    }

    [Fact]
    public void A_launch_through_rings_speeds_up_and_closes_its_ledger()
    {
        var ring = new RingMagnet(40.Millimeters(), 27.Millimeters(), 8.Millimeters(), MagnetGrade.N42);
        var track = Track.OfStations(MagnetStation.Coaxial(ring), 10, 22.Millimeters());
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade1),
            CoilFormer.Round(16.Millimeters(), 8.Millimeters(), 4.Millimeters()),
            90,
            axis: TrackAxis.Along);
        ContactCommutator contacts = ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.2.Millimeters(), new Brush(3.Millimeters()));
        var launcher = new Launcher(track, new Sled(25.Grams(), coil), contacts, new BenchSupply(36.Volts()));
        Assert.Empty(launcher.Validate());
        LaunchResult launch = launcher.Launch();
        Assert.True(launch.ExitSpeed.MetersPerSecond > 2, launch.ToString());
        Assert.True(Math.Abs(launch.Ledger.RelativeResidual) < 1e-6, launch.Ledger.ToString());
    }

    private static (Coil Coil, MagnetStation Station) Example()
    {
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2),
            CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()),
            120);
        return (coil, MagnetStation.FacingPair(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), 10.Millimeters()));
    }

    private static StationSi Rod(double radius, double half) => new(
        new BodySi(half * Millimeter, radius * Millimeter, radius * Millimeter, default, TrackAxis.Along, 1)
        {
            Shape = BodyShape.Ring,
            Axis = TrackAxis.Along,
        });

    /// <summary>M/μ0 of two circles of radii in mm at a distance in mm: √(ab)[(2/k - k)K - (2/k)E], in m.</summary>
    private static double Circles(double a, double b, double z)
    {
        double k = Math.Sqrt(4 * a * b / (((a + b) * (a + b)) + (z * z)));
        double value = Math.Sqrt(a * b) * ((((2 / k) - k) * EllipticIntegrals.KFromModulus(k)) - (2 / k * EllipticIntegrals.EFromModulus(k)));
        return value * Millimeter;
    }

    private static CoilSi CoilOf(ReferenceTable.Row row) => new(
        row.Number("hw") * Millimeter,
        row.Number("hh") * Millimeter,
        row.Number("corner") * Millimeter,
        new(row.Number("d0") * Millimeter, row.Number("d1") * Millimeter, row.Number("y0") * Millimeter, row.Number("y1") * Millimeter, 1),
        default)
    {
        Axis = row.Text("along") == "1" ? TrackAxis.Along : TrackAxis.Across,
    };

    private static StationSi StationOf(ReferenceTable.Row row) => new([.. row.Text("bodies").Split(';').Select(BodyOf)]);

    private static BodySi BodyOf(string text)
    {
        string[] words = text.Split(' ');
        double[] n = [.. words.Skip(2).Select(word => double.Parse(word, CultureInfo.InvariantCulture))];
        TrackAxis axis = words[1] switch { "x" => TrackAxis.Along, "y" => TrackAxis.Across, _ => TrackAxis.Up };
        Vector3D center = Millimeter * new Vector3D(n[0], n[1], n[2]);
        if (words[0] == "block")
        {
            return new BodySi(n[3] * Millimeter, n[4] * Millimeter, n[5] * Millimeter, center, axis, n[7]) { Roll = n[6] };
        }

        double outer = n[3] * Millimeter;
        double half = n[5] * Millimeter;
        return new BodySi(
            axis == TrackAxis.Along ? half : outer, axis == TrackAxis.Across ? half : outer, axis == TrackAxis.Up ? half : outer, center, axis, n[6])
        {
            Shape = BodyShape.Ring,
            Axis = axis,
            InnerRadius = n[4] * Millimeter,
        };
    }

    private static Arbitrary<(double X, double Y, double Z)> Offsets()
        => (from x in Between(-25, 25)
            from y in Between(-1.5, 1.5)
            from z in Between(-5, 5)
            select (X: x * Millimeter, Y: y * Millimeter, Z: z * Millimeter)).ToArbitrary();
}
