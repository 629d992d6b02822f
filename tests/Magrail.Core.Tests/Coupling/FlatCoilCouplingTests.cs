using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Magrail.Numerics;
using Magrail.Sources;
using Magrail.Tests.ReferenceData;
using static Magrail.Tests.Coupling.GeneratedLayouts;

namespace Magrail.Tests.Coupling;

public sealed class FlatCoilCouplingTests
{
    private const double Millimeter = 1e-3;

    private const string DlCrossB = "NumPy quadrature of dl × B over the winding (script committed)";
    private static readonly AccuracyRow Direct = new("force per ampere of three flat coils over a facing pair, direct", DlCrossB, 1e-12, "of the peak");
    private static readonly AccuracyRow Compiled = new("force per ampere of three flat coils, compiled at the default accuracy", DlCrossB, 1e-7, "of the peak");
    private static readonly AccuracyRow CompiledBound = new("force per ampere of three flat coils, against the bound that the curve states", DlCrossB, 1, "of the bound");
    private static readonly AccuracyRow CompiledFine = new("force per ampere of three flat coils, compiled to 1e-11", DlCrossB, 1e-11, "of the peak");
    private static readonly AccuracyRow ThinGaps = new("curves of generated coils over facing pairs, clearance from 0.2 mm, at 50 places each", "our own integral with twice the digits", 1, "of the error stated (1e-7 of the peak at most)");
    private static readonly AccuracyRow Corners = new("quadrature over the corners of such coils", "our own integral with twice the digits", 1e-8, "of the peak");
    private static readonly AccuracyRow Linkage = new("force per ampere as the derivative of the flux linkage", "area integral of B over the turns, differentiated", 1e-9, "of the peak");
    private static readonly AccuracyRow AnyCoil = new("force per ampere of generated flat coils over generated pairs", "line integral of B turn by turn", 1e-10, "of the peak");
    private static readonly AccuracyRow ThirdLaw = new("force of a flat coil on generated pairs against theirs on it", "Biot and Savart's law on the pole faces", 1e-7, "of the peak");

    [Fact]
    public void Force_constant_of_three_coils_meets_quadrature_of_dl_cross_B()
    {
        foreach (IGrouping<string, ReferenceTable.Row> rows in ReferenceTable.Read("flat-coil-coupling.csv").Rows.GroupBy(row => row.Text("name")))
        {
            CoilSi coil = CoilOf(rows.First());
            StationSi station = StationOf(rows.First());
            var curve = StationCurve.Of(coil, station, 1e-7);
            var fine = StationCurve.Of(coil, station, 1e-11);
            double worstDirect = 0;
            double worstCurve = 0;
            double worstFine = 0;
            foreach (ReferenceTable.Row row in rows)
            {
                double d = row.Number("d") * Millimeter;
                double expected = row.Number("k") * Millimeter;
                worstDirect = Math.Max(worstDirect, Math.Abs(FlatCoilIntegral.PerTurn(coil, station, d, 14) - expected));
                worstCurve = Math.Max(worstCurve, Math.Abs(curve.At(d) - expected));
                worstFine = Math.Max(worstFine, Math.Abs(fine.At(d) - expected));
            }

            Direct.Hold(worstDirect / curve.Peak, rows.Key);
            Compiled.Hold(worstCurve / curve.Peak, rows.Key);
            CompiledBound.Hold(worstCurve / curve.ErrorBound, rows.Key);
            CompiledFine.Hold(worstFine / curve.Peak, rows.Key);
        }
    }

    [Fact]
    public void Force_constant_is_the_derivative_of_the_flux_linkage()
    {
        // λ per turn = area integral of By over the loop, averaged over the winding section; nothing of it is shared with K.
        StationSi station = Pair(6, 3, 10, 10);
        var coil = new CoilSi(6 * Millimeter, 9 * Millimeter, 3 * Millimeter, new(0, 4 * Millimeter, -3.5 * Millimeter, 3.5 * Millimeter, 180), default);
        var curve = StationCurve.Of(coil, station, 1e-10);
        foreach (double d in new[] { 2.0, 8.0, 13.0 })
        {
            // Sixth-order central difference of λ.
            const double Step = 0.15 * Millimeter;
            double LinkageAt(int n) => FluxLinkage(coil, station, (d * Millimeter) + (n * Step));
            double derivative = ((45 * (LinkageAt(1) - LinkageAt(-1))) - (9 * (LinkageAt(2) - LinkageAt(-2))) + LinkageAt(3) - LinkageAt(-3)) / (60 * Step);
            double error = Math.Abs(curve.At(d * Millimeter) - derivative) / curve.Peak;
            Linkage.Hold(error, $"{d} mm");
        }
    }

    [RepeatableProperty(25)]
    public Property Any_coil_over_any_blocks_meets_the_line_integral_of_the_field() => Prop.ForAll(Cases(), test =>
    {
        // K = ∮ By nx dl turn by turn with the field of the station, no closed form along the legs and no edge function.
        (CoilSi coil, StationSi station, double d) = test;
        double expected = LineIntegral(coil, station, d);
        double direct = FlatCoilIntegral.PerTurn(coil, station, d, 14);
        var curve = StationCurve.Of(coil, station, 1e-8);
        double error = Math.Abs(direct - expected) / curve.Peak;
        double fitted = Math.Abs(curve.At(d) - expected) / curve.Peak;
        return (AnyCoil.Holds(error) && fitted < 3e-8).Label($"direct {error:E2}, curve {fitted:E2} of the peak at {d / Millimeter} mm");
    });

    [RepeatableProperty(40)]
    public Property Curve_of_any_coil_over_a_facing_pair_keeps_its_stated_error() => Prop.ForAll(PairCases(), test =>
    {
        // The curve against the integral that it stands for, with twice the digits, over the whole near part: no more than the error that
        // it states, and that within what was asked for. Thin gaps, round and sharp corners, incomplete layers.
        (CoilSi coil, StationSi station, int seed) = test;
        var curve = StationCurve.Of(coil, station, 1e-7);
        var random = new Random(seed);
        double worst = 0;
        double at = 0;
        for (int i = 0; i < 50; i++)
        {
            double d = ((2 * random.NextDouble()) - 1) * curve.NearLimit * (i % 2 == 0 ? 1 : 0.4);
            double error = Math.Abs(curve.At(d) - FlatCoilIntegral.PerTurn(coil, station, d, 14));
            (worst, at) = error > worst ? (error, d) : (worst, at);
        }

        return (ThinGaps.Holds(worst / curve.ErrorBound) && curve.ErrorBound <= 1e-7 * curve.Peak)
            .Label($"{worst / curve.Peak:E2} of the peak at {at / Millimeter} mm, stated {curve.ErrorBound / curve.Peak:E2}");
    });

    /// <summary>
    /// Where the last coefficients of a cell vanish by aliasing, what it leaves out had been taken for nothing: 1.26e-7 of the peak where 8.4e-8
    /// was stated, and 1e-7 asked for; 9.2e-8 where 6.2e-8 was stated. The third has a bend in the midst of a wide cell, where the corners begin:
    /// 4.6e-8 where 4.5e-8 was stated.
    /// </summary>
    [Theory]
    [InlineData(12.803156, 19.460190, 11.9405075, 2.343, 3.985416, -0.8479371, 2.4534600, 4.3710450, 37.624600, 8.8774895)]
    [InlineData(8.079008, 14.428375, 7.56008200, 1.606744, 2.820664, -1.2601446, 3.0468900, 2.0609800, 23.271449, 5.2140908)]
    [InlineData(9.263125, 23.134660, 7.70442174, 4.245096, 3.838012, 0, 11.960180, 2.0242550, 23.391477, 6.1856482)]
    public void Curve_whose_last_coefficients_vanish_keeps_its_stated_error(
        double halfWidth, double halfHeight, double corner, double depth, double axial, double part, double along, double across, double up, double middle)
    {
        var coil = new CoilSi(
            halfWidth * Millimeter,
            halfHeight * Millimeter,
            corner * Millimeter,
            new(0, depth * Millimeter, -axial * Millimeter, axial * Millimeter, 90),
            part == 0 ? default : new(depth * Millimeter, (depth + 0.5) * Millimeter, -axial * Millimeter, part * Millimeter, 7));
        HoldsItsError(coil, Pair(along, across, up, middle), "last coefficients that vanish");
    }

    [RepeatableProperty(40)]
    public Property Integral_over_the_corners_keeps_the_digits_asked_for() => Prop.ForAll(PairCases(), Keeps);

    /// <summary>A case in which the circles of the corner had one digit too few: 1.02e-8 of the peak where 1e-8 is put down.</summary>
    [Property(Replay = "3740025771040036581,1781671148801200495,9", MaxTest = 1)]
    public Property Integral_over_the_corners_had_lost_a_digit() => Prop.ForAll(PairCases(), Keeps);

    /// <summary>A thin layer on its own had too few angles: 1.46e-8 of the peak, found among ten thousand cases.</summary>
    [Property(Replay = "1589162151797873123,4666695095137658761,7", MaxTest = 1)]
    public Property Integral_over_the_corners_had_too_few_angles() => Prop.ForAll(PairCases(), Keeps);

    /// <summary>The same for winding depths of thirty clearances and more: 2.4e-8 of the peak with the ellipses of the stretched variable not held within its strip.</summary>
    [Fact]
    public void Integral_over_the_corners_of_a_deep_winding_close_to_its_magnets()
    {
        var coil = new CoilSi(4.3 * Millimeter, 8.8 * Millimeter, 4.3 * Millimeter, new(0, 8.2 * Millimeter, -2.5 * Millimeter, 2.5 * Millimeter, 90), default);
        StationSi station = Pair(3.8, 5, 5.4, 2.5 + 0.21 + 5);
        double peak = StationCurve.Of(coil, station, 1e-7).Peak;
        double worst = 0;
        for (double t = 0; t < 40 * Millimeter; t += 0.02 * Millimeter)
        {
            worst = Math.Max(worst, Math.Abs(FlatCoilIntegral.Edge(coil, station.Bodies, t, 7 + StationCurve.MoreDigits) - FlatCoilIntegral.Edge(coil, station.Bodies, t, 14)));
        }

        Corners.Hold(worst / peak, "deep winding, 0.21 mm");
    }

    /// <summary>
    /// A corner of the magnet passes over the arc of the inmost turn at the very end of a wide cell of the fit: the step to the next cell showed it, and that
    /// cell was halved in vain until the curve was refused as known to 1.5e-7 of its peak. The wider of the two is halved now.
    /// </summary>
    [Fact]
    public void Curve_with_a_feature_at_the_end_of_a_wide_cell_was_refused()
    {
        var coil = new CoilSi(7.518514 * Millimeter, 9.718201 * Millimeter, 7.518514 * Millimeter, new(0, 4.616832 * Millimeter, -1.189752 * Millimeter, 1.189752 * Millimeter, 90), default);
        HoldsItsError(coil, Pair(4.52989, 5.79126, 6.799234, 7.1945968), "feature at the end of a cell");
    }

    /// <summary>Against the integral at places close to each other over the near part.</summary>
    private static void HoldsItsError(CoilSi coil, StationSi station, string what)
    {
        var curve = StationCurve.Of(coil, station, 1e-7);
        double worst = 0;
        for (double d = 0; d < curve.NearLimit; d += 0.05 * Millimeter)
        {
            worst = Math.Max(worst, Math.Abs(curve.At(d) - FlatCoilIntegral.PerTurn(coil, station, d, 14)));
        }

        ThinGaps.Hold(worst / curve.ErrorBound, what);
        Assert.InRange(curve.ErrorBound / curve.Peak, 0, 1e-7);
    }

    /// <summary>The quadrature alone: a curve asks for a little more digits than its accuracy has and puts down a tenth of the accuracy for this error.</summary>
    private static Property Keeps((CoilSi Coil, StationSi Station, int Seed) test)
    {
        (CoilSi coil, StationSi station, int seed) = test;
        double peak = StationCurve.Of(coil, station, 1e-7).Peak;
        double most = station.Radius + (4 * coil.HalfWidth);
        var random = new Random(seed);
        double worst = 0;
        double at = 0;
        for (int i = 0; i < 40; i++)
        {
            double t = most * random.NextDouble();
            double error = Math.Abs(FlatCoilIntegral.Edge(coil, station.Bodies, t, 7 + StationCurve.MoreDigits) - FlatCoilIntegral.Edge(coil, station.Bodies, t, 14));
            (worst, at) = error > worst ? (error, t) : (worst, at);
        }

        return Corners.Holds(worst / peak).Label($"{worst / peak:E2} of the peak at {at / Millimeter} mm");
    }

    [RepeatableProperty(20)]
    public Property Lengths_scaled_by_s_at_equal_turns_scale_the_force_constant_by_s() => Prop.ForAll(
        Cases(),
        Gen.Choose(-100, 100).Select(n => Math.Pow(10, n / 100.0)).ToArbitrary(),
        (test, s) =>
        {
            (CoilSi coil, StationSi station, double d) = test;
            double plain = FlatCoilIntegral.PerTurn(coil, station, d, 10);
            double scaled = FlatCoilIntegral.PerTurn(Scale(coil, s), Scale(station, s), s * d, 10);
            double error = Math.Abs(scaled - (s * plain)) / (s * coil.HalfWidth);
            return (error < 1e-11).Label($"{error:E2}");
        });

    [RepeatableProperty(20)]
    public Property Mirror_images_have_mirrored_force_constants() => Prop.ForAll(Cases(), test =>
    {
        (CoilSi coil, StationSi station, double d) = test;
        double k = FlatCoilIntegral.PerTurn(coil, station, d, 10);

        // Mirrored along the track: x → -x keeps By and turns K round. Up: z → -z changes nothing. Across: y → -y turns nothing of By round
        // as magnetization along y keeps its sense in a mirror across y.
        double along = FlatCoilIntegral.PerTurn(coil, Mirror(station, new(-1, 1, 1)), -d, 10);
        double up = FlatCoilIntegral.PerTurn(coil, Mirror(station, new(1, 1, -1)), d, 10);
        CoilSi turned = coil with { Full = Turn(coil.Full), Last = Turn(coil.Last) };
        double across = FlatCoilIntegral.PerTurn(turned, Mirror(station, new(1, -1, 1)), d, 10);
        double tolerance = 1e-12 * coil.HalfWidth;
        return (Math.Abs(along + k) < tolerance && Math.Abs(up - k) < tolerance && Math.Abs(across - k) < tolerance)
            .Label($"{k:E3}: along {along + k:E2}, up {up - k:E2}, across {across - k:E2}");
    });

    [RepeatableProperty(12)]
    public Property Any_coil_pushes_a_facing_pair_as_hard_as_it_is_pushed() => Prop.ForAll(
        (from width in Between(4, 12)
         from height in Between(4, 12)
         from round in Between(0.2, 0.9)
         from depth in Between(1, 3)
         from axial in Between(1, 3)
         from along in Between(3, 8)
         from across in Between(1, 5)
         from up in Between(4, 12)
         from clearance in Between(3, 6)
         from d in Between(-30, 30)
         select (
             Coil: new CoilSi(
                 width * Millimeter,
                 height * Millimeter,
                 round * Math.Min(width, height) * Millimeter,
                 new(0, depth * Millimeter, -axial * Millimeter, axial * Millimeter, 1),
                 default),
             Station: Pair(along, across, up, axial + clearance + across),
             D: d * Millimeter)).ToArbitrary(),
        test =>
        {
            // Newton's third law: K i on the coil against the coil's Biot-Savart field on the pole faces. Both by quadrature of
            // smooth integrands at 3 mm and more; the coarser one (seven points across the winding) decides the tolerance.
            double onMagnets = ForceOnMagnets(test.Coil, test.Station, test.D);
            double onCoil = FlatCoilIntegral.PerTurn(test.Coil, test.Station, test.D, 14);
            double error = Math.Abs(onMagnets + onCoil) / Math.Abs(StationCurve.Of(test.Coil, test.Station, 1e-7).Peak);
            return ThirdLaw.Holds(error).Label($"{test.D / Millimeter} mm: {onCoil:E6} against {onMagnets:E6}, {error:E2} of the peak");
        });

    [Fact]
    public void Coil_pushes_the_magnets_as_hard_as_they_push_the_coil()
    {
        // The coil's field by Biot and Savart's law, turn by turn; the force on a magnet is its pole charge times that field, J/μ0 ∮ Bx dA.
        StationSi station = Pair(6, 3, 10, 9);
        var coil = new CoilSi(6 * Millimeter, 8 * Millimeter, 2 * Millimeter, new(0, 4 * Millimeter, -3 * Millimeter, 3 * Millimeter, 1), default);
        foreach (double d in new[] { 4.0, 10.0, 17.0 })
        {
            double onMagnets = ForceOnMagnets(coil, station, d * Millimeter);
            double onCoil = FlatCoilIntegral.PerTurn(coil, station, d * Millimeter, 14);
            double error = Math.Abs(onMagnets + onCoil) / Math.Abs(StationCurve.Of(coil, station, 1e-7).Peak);
            ThirdLaw.Hold(error, $"{d} mm: {onCoil:E6} against {onMagnets:E6}");
        }
    }

    [Fact]
    public void Tail_is_followed_to_any_distance()
    {
        StationSi station = Pair(6, 3, 10, 8);
        var coil = new CoilSi(6 * Millimeter, 9 * Millimeter, 3 * Millimeter, new(0, 6.75 * Millimeter, -3.5 * Millimeter, 3.5 * Millimeter, 180), default);
        var curve = StationCurve.Of(coil, station, 1e-7);

        // Both sides of the joint, and far out the force between two dipoles side by side: By = -μ0 m/(4π d³), so that
        // K = A dBy/dx = 3 A J V/(4π d⁴) with A the mean area of a turn.
        double joint = Math.Abs(curve.At(curve.NearLimit * (1 - 1e-9)) - curve.At(curve.NearLimit * (1 + 1e-9)));
        Assert.True(joint < curve.ErrorBound, $"{joint:E2}");
        var fine = StationCurve.Of(coil, station, 1e-11);
        double area = MeanArea(coil);
        double volume = 2 * 12 * 6 * 20 * Math.Pow(Millimeter, 3);
        foreach (double d in new[] { 10.0, 1000.0 })
        {
            double expected = 3 * area * volume / (4 * Math.PI * Math.Pow(d, 4));
            Assert.Equal(1, fine.At(d) / expected, 1e-9 + (1e-4 * Math.Pow(10 / d, 2)));
            Assert.Equal(-1, fine.At(-d) / expected, 1e-9 + (1e-4 * Math.Pow(10 / d, 2)));
        }

        for (double d = 1.001 * curve.NearLimit; d < 2 * curve.Reach; d *= 1.3)
        {
            Assert.True(Math.Abs(curve.At(d)) <= curve.TailStrength / Math.Pow(d, 4));
            double far = WindingElements.Far(coil, d - station.Radius - 0.02, 16, TrackAxis.Along).ForceByDipoles(station, new(d, 0, 0), 16).X;
            Assert.True(Math.Abs(curve.At(d) - far) < 1e-8 * curve.Peak);
            Assert.True(Math.Abs(fine.At(d) - far) < 1e-12 * curve.Peak);
        }

        Assert.True(Math.Abs(curve.At(curve.Reach)) < 1.01e-7 * curve.Peak);
    }

    [Fact]
    public void Turns_and_remanence_at_one_geometry_share_one_curve()
    {
        var coil = new CoilSi(6 * Millimeter, 9 * Millimeter, 3 * Millimeter, new(0, 6.75 * Millimeter, -3.5 * Millimeter, 3.5 * Millimeter, 180), default);
        StationSi station = Pair(6, 3, 10, 8);
        var curve = StationCurve.Of(coil, station, 1e-7);
        CoilSi other = coil with { Full = coil.Full with { Turns = 45 } };
        Assert.Same(curve, StationCurve.Of(other, station, 1e-7));
        StationSi weaker = new([.. station.Bodies.ToArray().Select(body => body with { Remanence = 0.75 * body.Remanence })]);
        Assert.Same(curve, StationCurve.Of(coil, weaker, 1e-7));
    }

    internal static StationSi Pair(double a, double b, double c, double yc, double remanence = 1) => new(
        new BodySi(a * Millimeter, b * Millimeter, c * Millimeter, new(0, -yc * Millimeter, 0), TrackAxis.Across, remanence),
        new BodySi(a * Millimeter, b * Millimeter, c * Millimeter, new(0, yc * Millimeter, 0), TrackAxis.Across, remanence));

    private static CoilSi CoilOf(ReferenceTable.Row row) => new(
        row.Number("hw") * Millimeter,
        row.Number("hh") * Millimeter,
        row.Number("corner") * Millimeter,
        new(row.Number("d0") * Millimeter, row.Number("d1") * Millimeter, row.Number("y0") * Millimeter, row.Number("y1") * Millimeter, row.Number("turns")),
        new(row.Number("ld0") * Millimeter, row.Number("ld1") * Millimeter, row.Number("ly0") * Millimeter, row.Number("ly1") * Millimeter, row.Number("lturns")));

    private static StationSi StationOf(ReferenceTable.Row row) => Pair(row.Number("a"), row.Number("b"), row.Number("c"), row.Number("yc"));

    private static CoilSi Scale(CoilSi coil, double s) => new(
        s * coil.HalfWidth, s * coil.HalfHeight, s * coil.Corner, Scale(coil.Full, s), Scale(coil.Last, s));

    private static WindingBlockSi Scale(WindingBlockSi block, double s)
        => new(s * block.InnerDepth, s * block.OuterDepth, s * block.AxialFrom, s * block.AxialTo, block.Turns);

    private static StationSi Scale(StationSi station, double s) => new(
        [.. station.Bodies.ToArray().Select(b => new BodySi(s * b.HalfAlong, s * b.HalfAcross, s * b.HalfUp, s * b.Center, b.Magnetization, b.Remanence))]);

    private static WindingBlockSi Turn(WindingBlockSi block) => block with { AxialFrom = -block.AxialTo, AxialTo = -block.AxialFrom };

    private static StationSi Mirror(StationSi station, Vector3D m) => new(
        [.. station.Bodies.ToArray().Select(b => b with { Center = new(m.X * b.Center.X, m.Y * b.Center.Y, m.Z * b.Center.Z) })]);

    private static double MeanArea(CoilSi coil)
    {
        GaussNodes nodes = GaussNodes.OfOrder(8);
        double sum = 0;
        for (int i = 0; i < 8; i++)
        {
            double s = 0.5 * coil.Full.OuterDepth * (1 + nodes.Abscissas[i]);
            double r = coil.Corner + s;
            sum += 0.5 * nodes.Weights[i] * ((4 * (coil.HalfWidth + s) * (coil.HalfHeight + s)) - ((4 - Math.PI) * r * r));
        }

        return sum;
    }

    /// <summary>The mean over the winding of the area integral of By over a turn.</summary>
    private static double FluxLinkage(CoilSi coil, StationSi station, double d)
    {
        GaussNodes section = GaussNodes.OfOrder(9);
        GaussNodes plane = GaussNodes.OfOrder(26);
        WindingBlockSi block = coil.Full;
        double total = 0;
        for (int i = 0; i < section.Weights.Length; i++)
        {
            double s = block.InnerDepth + (0.5 * (block.OuterDepth - block.InnerDepth) * (1 + section.Abscissas[i]));
            double r = coil.Corner + s;
            double straight = coil.HalfWidth - coil.Corner;
            double leg = coil.HalfHeight - coil.Corner;
            for (int j = 0; j < section.Weights.Length; j++)
            {
                double y = block.AxialFrom + (0.5 * (block.AxialTo - block.AxialFrom) * (1 + section.Abscissas[j]));
                double flux = 0;

                // Columns along z at each x; across the rounded ends x = straight + r sin φ and z up to leg + r cos φ.
                foreach (int piece in new[] { -1, 0, 1 })
                {
                    for (int k = 0; k < plane.Weights.Length; k++)
                    {
                        double phi = Math.PI / 4 * (1 + plane.Abscissas[k]);
                        double x = piece == 0 ? straight * plane.Abscissas[k] : piece * (straight + (r * Math.Sin(phi)));
                        double width = piece == 0 ? straight * plane.Weights[k] : Math.PI / 4 * plane.Weights[k] * r * Math.Cos(phi);
                        double top = piece == 0 ? leg + r : leg + (r * Math.Cos(phi));
                        for (int m = 0; m < plane.Weights.Length; m++)
                        {
                            double z = 0.5 * top * (1 + plane.Abscissas[m]);
                            flux += width * top * plane.Weights[m] * station.FluxDensity(new(x + d, y, z)).Y;
                        }
                    }
                }

                total += 0.25 * section.Weights[i] * section.Weights[j] * flux;
            }
        }

        return total;
    }

    /// <summary>∮ By nx dl averaged over the winding, by Gauss-Legendre all the way.</summary>
    private static double LineIntegral(CoilSi coil, StationSi station, double d)
    {
        GaussNodes section = GaussNodes.OfOrder(16);
        GaussNodes path = GaussNodes.OfOrder(40);
        double total = 0;
        foreach (WindingBlockSi block in new[] { coil.Full, coil.Last })
        {
            if (block.Turns == 0)
            {
                continue;
            }

            for (int i = 0; i < section.Weights.Length; i++)
            {
                double s = block.InnerDepth + (0.5 * (block.OuterDepth - block.InnerDepth) * (1 + section.Abscissas[i]));
                double r = coil.Corner + s;
                double straight = coil.HalfWidth - coil.Corner;
                double leg = coil.HalfHeight - coil.Corner;
                for (int j = 0; j < section.Weights.Length; j++)
                {
                    double y = block.AxialFrom + (0.5 * (block.AxialTo - block.AxialFrom) * (1 + section.Abscissas[j]));
                    double turn = 0;
                    foreach (int half in new[] { 0, 1 })
                    {
                        for (int k = 0; k < path.Weights.Length; k++)
                        {
                            // Each leg and each arc in two pieces.
                            double t = 0.5 * (path.Abscissas[k] + (half == 0 ? -1 : 1));
                            double weight = 0.5 * path.Weights[k];
                            double phi = Math.PI / 4 * (1 + t);
                            foreach (int side in new[] { -1, 1 })
                            {
                                turn += side * leg * weight * station.FluxDensity(new(d + (side * (coil.HalfWidth + s)), y, leg * t)).Y;
                                foreach (int up in new[] { -1, 1 })
                                {
                                    var at = new Vector3D(d + (side * (straight + (r * Math.Cos(phi)))), y, up * (leg + (r * Math.Sin(phi))));
                                    turn += side * Math.PI / 4 * weight * r * Math.Cos(phi) * station.FluxDensity(at).Y;
                                }
                            }
                        }
                    }

                    total += block.Turns / coil.Turns * 0.25 * section.Weights[i] * section.Weights[j] * turn;
                }
            }
        }

        return total;
    }

    /// <summary>The x component of the force on the station by one ampere in one turn, averaged over the winding.</summary>
    private static double ForceOnMagnets(CoilSi coil, StationSi station, double d)
    {
        // The winding as current elements: place, and x and z of the element, one ampere shared by the section.
        var elements = new List<(Vector3D Place, double Dx, double Dz)>();
        GaussNodes section = GaussNodes.OfOrder(7);
        GaussNodes path = GaussNodes.OfOrder(24);
        WindingBlockSi block = coil.Full;
        for (int i = 0; i < section.Weights.Length; i++)
        {
            double s = block.InnerDepth + (0.5 * (block.OuterDepth - block.InnerDepth) * (1 + section.Abscissas[i]));
            double r = coil.Corner + s;
            double straight = coil.HalfWidth - coil.Corner;
            double leg = coil.HalfHeight - coil.Corner;
            for (int j = 0; j < section.Weights.Length; j++)
            {
                double y = block.AxialFrom + (0.5 * (block.AxialTo - block.AxialFrom) * (1 + section.Abscissas[j]));
                double share = 0.25 * section.Weights[i] * section.Weights[j];
                for (int k = 0; k < path.Weights.Length; k++)
                {
                    double t = path.Abscissas[k];
                    double weight = share * path.Weights[k];
                    double phi = Math.PI / 4 * (1 + t);
                    foreach (int side in new[] { -1, 1 })
                    {
                        // Right-handed about +y: down at +x, up at -x, toward +x at the top.
                        elements.Add((new(d + (side * (coil.HalfWidth + s)), y, leg * t), 0, -side * leg * weight));
                        elements.Add((new(d + (straight * t), y, side * (coil.HalfHeight + s)), side * straight * weight, 0));
                        foreach (int up in new[] { -1, 1 })
                        {
                            var at = new Vector3D(d + (side * (straight + (r * Math.Cos(phi)))), y, up * (leg + (r * Math.Sin(phi))));
                            double arc = Math.PI / 4 * weight * r;
                            elements.Add((at, up * arc * Math.Sin(phi), -side * arc * Math.Cos(phi)));
                        }
                    }
                }
            }
        }

        GaussNodes face = GaussNodes.OfOrder(22);
        double force = 0;
        foreach (BodySi body in station.Bodies)
        {
            foreach (int pole in new[] { -1, 1 })
            {
                double y = body.Center.Y + (pole * body.HalfAcross);
                for (int i = 0; i < face.Weights.Length; i++)
                {
                    for (int j = 0; j < face.Weights.Length; j++)
                    {
                        var at = new Vector3D(body.Center.X + (body.HalfAlong * face.Abscissas[i]), y, body.Center.Z + (body.HalfUp * face.Abscissas[j]));
                        double bx = 0;
                        foreach ((Vector3D place, double dx, double dz) in elements)
                        {
                            // Bx = μ0/4π (dl × r)x/r³ = μ0/4π (dly rz - dlz ry)/r³ with dly = 0.
                            Vector3D r = at - place;
                            double r2 = r.Dot(r);
                            bx -= dz * r.Y / (r2 * Math.Sqrt(r2));
                        }

                        double charge = pole * body.Remanence * body.HalfAlong * body.HalfUp * face.Weights[i] * face.Weights[j];
                        force += charge / PhysicalConstants.VacuumPermeability * bx * PhysicalConstants.VacuumPermeability / (4 * Math.PI);
                    }
                }
            }
        }

        return force;
    }

    private static Arbitrary<(CoilSi Coil, StationSi Station, int Seed)> PairCases()
        => (from hw in Between(3, 14)
            from hh in Between(3, 40)
            from round in Gen.Frequency((1, Gen.Constant(1.0)), (1, Gen.Constant(0.02)), (2, Between(0.05, 1)))
            from depth in Between(1, 9)
            from axial in Between(1, 5)
            from part in Between(-0.9, 0.9)
            from incomplete in Gen.Elements(0, 7)
            from a in Between(2, 12)
            from b in Between(1, 6)
            from c in Between(3, 40)
            from clearance in Gen.Frequency((1, Between(0.2, 0.6)), (2, Between(0.5, 5)))
            from seed in Gen.Choose(0, 1_000_000)
            select (
                Coil: new CoilSi(
                    hw * Millimeter,
                    hh * Millimeter,
                    round * Math.Min(hw, hh) * Millimeter,
                    new(0, depth * Millimeter, -axial * Millimeter, axial * Millimeter, 90),
                    incomplete == 0 ? default : new(depth * Millimeter, (depth + 0.5) * Millimeter, -axial * Millimeter, part * axial * Millimeter, incomplete)),
                Station: Pair(a, b, c, axial + clearance + b),
                Seed: seed))
            .ToArbitrary();

    private static Arbitrary<(CoilSi Coil, StationSi Station, double D)> Cases()
        => (from hw in Between(3, 12)
            from hh in Between(3, 15)
            from round in Between(0, 1)
            from depth in Between(1, 6)
            from axial in Between(1, 4)
            from part in Between(-1, 1)
            from a in Between(3, 10)
            from b in Between(1, 6)
            from c in Between(3, 15)
            from clearance in Between(2, 5)
            from offX in Between(-4, 4)
            from offZ in Between(-4, 4)
            from single in Gen.Elements(0, 1, 2)
            from d in Between(-40, 40)
            select (
                Coil: new CoilSi(
                    hw * Millimeter,
                    hh * Millimeter,
                    round * Math.Min(hw, hh) * Millimeter,
                    new(0, depth * Millimeter, -axial * Millimeter, axial * Millimeter, 90),
                    new(depth * Millimeter, (depth + 0.6) * Millimeter, -axial * Millimeter, part * axial * 0.9 * Millimeter, 7)),
                Station: single switch
                {
                    0 => Pair(a, b, c, axial + clearance + b),
                    1 => new StationSi(new BodySi(a * Millimeter, b * Millimeter, c * Millimeter, new(offX * Millimeter, (axial + clearance + b) * Millimeter, offZ * Millimeter), TrackAxis.Across, 1)),
                    _ => new StationSi(
                        new BodySi(a * Millimeter, b * Millimeter, c * Millimeter, new(offX * Millimeter, (axial + clearance + b) * Millimeter, 0), TrackAxis.Across, 1),
                        new BodySi(c * Millimeter, b * Millimeter, a * Millimeter, new(0, -(axial + clearance + b) * Millimeter, offZ * Millimeter), TrackAxis.Across, -0.7)),
                },
                D: d * Millimeter))
            .ToArbitrary();
}
