using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Windings;

/// <summary>Laws of inductance that hold for every coil, over generated windings from a thin ring to a thick pancake.</summary>
[Properties(Arbitrary = [typeof(GeneratedWindings)], MaxTest = 40)]
public class InductanceLawTests
{
    private static readonly AccuracyRow FinerSelf = new("inductance of generated coils", "our own integral with twice the nodes", 1e-6, "of L");
    private static readonly AccuracyRow FinerMutual = new("mutual inductance of generated pairs", "our own integral with twice the nodes", 1e-6, "of √(L₁ L₂)");

    /// <summary>The everyday rules against twice the nodes: the stated error of a self-inductance, 1e-6.</summary>
    [RepeatableProperty]
    public bool Twice_the_nodes_change_nothing(Winding winding)
        => FinerSelf.Holds(Math.Abs((SelfInductance.Compute(winding.Coil) / SelfInductance.Compute(winding.Coil, NeumannIntegral.Fine)) - 1));

    /// <summary>The same for two coils at any offset, against √(L₁ L₂).</summary>
    [RepeatableProperty]
    public bool Twice_the_nodes_change_no_mutual_inductance(PlacedPair pair)
        => FinerMutual.Holds(Math.Abs(pair.Mutual - MutualInductance.Between(pair.A, pair.B, pair.Offset, NeumannIntegral.Fine)) / pair.Scale);

    /// <summary>All lengths times s: L times s.</summary>
    [RepeatableProperty]
    public bool Inductance_scales_with_length(Winding winding, PositiveInt scale)
    {
        CoilSi coil = winding.Coil;
        double s = 0.1 + (0.37 * (scale.Get % 50));
        return Math.Abs((SelfInductance.Compute(Scaled(coil, s)) / (s * SelfInductance.Compute(coil))) - 1) < 1e-9;
    }

    /// <summary>
    /// Found among ten thousand cases: turns with sharp corners in a section some thirty times as deep as it is long were 1.15e-6 and 1.03e-6 off, one cut in two as well; two such that lie 10 µm apart, shifted
    /// against each other, up to 2.4e-6 of √(L₁ L₂).
    /// </summary>
    [Fact]
    public void Flat_pancakes_keep_the_stated_error()
    {
        CoilSi Pancake(double halfWidth, double halfHeight, double corner, double depth, double halfLength)
            => new(halfWidth, halfHeight, corner, new WindingBlockSi(0, depth, -halfLength, halfLength, 1), default);
        CoilSi wide = Pancake(0.017461321603755058, 0.01503257833465063, 0, 0.012277331852109085, 0.00018831775105307078);
        CoilSi narrow = Pancake(0.014155326719169876, 0.0016219223741396629, 0, 0.0110423601508104, 0.00021276062580012831);
        CoilSi tall = Pancake(0.0072448911665783915, 0.022022255063884742, 0.0011246059471786973, 0.011815553984454469, 0.0002426002583699776);
        Assert.All(new[] { wide, narrow, tall }, coil =>
        {
            Assert.True(Twice_the_nodes_change_nothing(new Winding(coil)), $"{coil}");
            Assert.True(A_winding_may_be_cut(new Winding(coil), PositiveInt.NewPositiveInt(1)), $"{coil}, cut");
        });
        foreach (double aside in (double[])[0.001, 0.003, 0.005, 0.0075, 0.009532912568521651, 0.012, 0.02])
        {
            Assert.True(Twice_the_nodes_change_no_mutual_inductance(new PlacedPair(tall, tall, new Vector3D(aside, 0.0004959604887608345, 0))), $"{aside} m aside");
        }
    }

    /// <summary>M between two coils is one number, whichever carries the current.</summary>
    [RepeatableProperty]
    public bool Mutual_inductance_is_mutual(PlacedPair pair)
        => Math.Abs(pair.Mutual - MutualInductance.Between(pair.B, pair.A, -1 * pair.Offset)) < 1e-6 * pair.Scale;

    /// <summary>No current pair stores negative energy: the matrix of two coils is positive definite, |k| &lt; 1.</summary>
    [RepeatableProperty]
    public bool Two_coils_store_positive_energy(PlacedPair pair)
        => Math.Abs(pair.Mutual) < pair.Scale;

    /// <summary>Turning the picture by a quarter (width and height exchanged) changes nothing, nor does its mirror image.</summary>
    [RepeatableProperty]
    public bool Pictures_may_be_turned(PlacedPair pair)
    {
        double turned = MutualInductance.Between(Turned(pair.A), Turned(pair.B), new Vector3D(pair.Offset.Z, pair.Offset.Y, -pair.Offset.X));
        double mirrored = MutualInductance.Between(pair.A, pair.B, new Vector3D(-pair.Offset.X, -pair.Offset.Y, pair.Offset.Z));
        return Math.Abs(pair.Mutual - turned) < 1e-7 * pair.Scale && Math.Abs(pair.Mutual - mirrored) < 1e-7 * pair.Scale;
    }

    /// <summary>A winding cut in two blocks in series is the winding: L = L₁ + L₂ + 2 M, turns shared by length.</summary>
    [RepeatableProperty]
    public bool A_winding_may_be_cut(Winding winding, PositiveInt where)
    {
        CoilSi coil = winding.Coil;
        double part = (0.5 + (where.Get % 20)) / 20;
        WindingBlockSi whole = coil.Full;
        double cut = whole.AxialFrom + (part * (whole.AxialTo - whole.AxialFrom));
        CoilSi axially = coil with
        {
            Full = whole with { AxialTo = cut, Turns = part },
            Last = whole with { AxialFrom = cut, Turns = 1 - part },
        };
        double depth = whole.OuterDepth * part;
        CoilSi radially = coil with
        {
            Full = whole with { OuterDepth = depth, Turns = part },
            Last = whole with { InnerDepth = depth, Turns = 1 - part },
        };
        double value = SelfInductance.Compute(coil);
        return Math.Abs((SelfInductance.Compute(axially) / value) - 1) < 1e-6 && Math.Abs((SelfInductance.Compute(radially) / value) - 1) < 1e-6;
    }

    /// <summary>
    /// Law of scale for a wound coil: all lengths times s at equal turns gives L times s and R through s, mass times s³ (the enamel too: bare wire here).
    /// </summary>
    [RepeatableProperty]
    public bool A_wound_coil_scales(PositiveInt scale, PositiveInt turns)
    {
        double s = 0.5 + (0.1 * (scale.Get % 40));
        int n = 1 + (turns.Get % 300);
        Coil Wound(double f) => Coil.Wind(
            Wire.Copper(WireGauge.Metric((0.4 * f).Millimeters()), EnamelGrade.Bare),
            CoilFormer.Rounded((12 * f).Millimeters(), (18 * f).Millimeters(), (3 * f).Millimeters(), (7 * f).Millimeters()),
            n);
        Coil small = Wound(1);
        Coil large = Wound(s);
        return small.Layers == large.Layers
            && Math.Abs((large.Inductance.Henries / (s * small.Inductance.Henries)) - 1) < 1e-6
            && Math.Abs((large.Resistance.Ohms * s / small.Resistance.Ohms) - 1) < 1e-9
            && Math.Abs((large.Mass.Kilograms / (s * s * s * small.Mass.Kilograms)) - 1) < 1e-9;
    }

    /// <summary>Far apart, coils are dipoles: M → −μ₀ m₁ m₂/(4π d³) side by side, +2 μ₀ m₁ m₂/(4π d³) on one axis, m the mean area of a turn.</summary>
    [RepeatableProperty]
    public bool Far_apart_coils_are_dipoles(Winding winding)
    {
        CoilSi coil = winding.Coil;
        double distance = 300 * (coil.HalfWidth + coil.HalfHeight + coil.Full.OuterDepth + coil.Full.AxialTo);
        double moment = MeanArea(coil);
        double unit = 1e-7 * moment * moment / (distance * distance * distance);
        double beside = MutualInductance.Between(coil, coil, new Vector3D(distance, 0, 0));
        double above = MutualInductance.Between(coil, coil, new Vector3D(0, distance, 0));
        return Math.Abs((beside / -unit) - 1) < 2e-4 && Math.Abs((above / (2 * unit)) - 1) < 2e-4;
    }

    private static double MeanArea(CoilSi coil)
    {
        // Core, strip along the outline, corners: A(s) = A₀ + s l₀ + π s², averaged over s from 0 to D.
        double straight = 4 * (coil.HalfWidth + coil.HalfHeight - (2 * coil.Corner));
        double core = (4 * coil.HalfWidth * coil.HalfHeight) - ((4 - Math.PI) * coil.Corner * coil.Corner);
        double d = coil.Full.OuterDepth;
        return core + (0.5 * d * (straight + (2 * Math.PI * coil.Corner))) + (Math.PI * d * d / 3);
    }

    private static CoilSi Scaled(CoilSi coil, double s) => new(
        s * coil.HalfWidth,
        s * coil.HalfHeight,
        s * coil.Corner,
        new WindingBlockSi(0, s * coil.Full.OuterDepth, s * coil.Full.AxialFrom, s * coil.Full.AxialTo, coil.Full.Turns),
        default);

    private static CoilSi Turned(CoilSi coil) => coil with { HalfWidth = coil.HalfHeight, HalfHeight = coil.HalfWidth };

    /// <summary>A generated winding of one turn.</summary>
    public sealed record Winding
    {
        internal Winding(CoilSi coil) => Coil = coil;

        internal CoilSi Coil { get; }

        public override string ToString() => Coil.ToString();
    }

    /// <summary>Two coils and the place of one from the other.</summary>
    public sealed record PlacedPair
    {
        internal PlacedPair(CoilSi a, CoilSi b, Vector3D offset)
        {
            (A, B, Offset) = (a, b, offset);
            Mutual = MutualInductance.Between(a, b, offset);
            Scale = Math.Sqrt(SelfInductance.Compute(a) * SelfInductance.Compute(b));
        }

        internal CoilSi A { get; }

        internal CoilSi B { get; }

        internal Vector3D Offset { get; }

        internal double Mutual { get; }

        internal double Scale { get; }

        public override string ToString() => $"{A}, {B}, {Offset}";
    }

    /// <summary>Windings of one turn spread over a section, and pairs of them that do not share space: gaps from 0.01 mm to 50 mm.</summary>
    public static class GeneratedWindings
    {
        public static Arbitrary<Winding> Windings() => Coil.Select(coil => new Winding(coil)).ToArbitrary();

        public static Arbitrary<PlacedPair> Pairs() => (
            from a in Coil
            from b in Gen.OneOf(Gen.Constant(a), Coil)
            from gap in Between(1e-5, 0.05)
            from kind in Gen.Choose(0, 3)
            from along in Gen.Choose(0, 100)
            from up in Gen.Choose(-100, 100)
            select new PlacedPair(a, b, Place(a, b, gap, kind, 0.01 * along, 0.01 * up))).ToArbitrary();

        private static Gen<CoilSi> Coil { get; } =
            from corner in Gen.Frequency((1, Gen.Constant(0.0)), (4, Between(0.001, 0.02)))
            from straightX in Gen.Frequency((corner > 0 ? 1 : 0, Gen.Constant(0.0)), (4, Between(0.001, 0.04)))
            from straightZ in Gen.Frequency((corner > 0 ? 1 : 0, Gen.Constant(0.0)), (4, Between(0.001, 0.04)))
            from depth in Between(0.0003, 0.015)
            from length in Between(0.0003, 0.03)
            select new CoilSi(
                straightX + corner, straightZ + corner, corner, new WindingBlockSi(0, depth, -0.5 * length, 0.5 * length, 1), default);

        private static Vector3D Place(CoilSi a, CoilSi b, double gap, int kind, double along, double up)
        {
            double beside = a.HalfWidth + a.Full.OuterDepth + b.HalfWidth + b.Full.OuterDepth + gap;
            double above = a.Full.AxialTo + b.Full.AxialTo + gap;
            return kind switch
            {
                0 => new Vector3D(beside, 0, 0),
                1 => new Vector3D(0, above, 0),
                2 => new Vector3D(along * beside, above, 0),
                _ => new Vector3D(along * beside, above, up * a.HalfHeight),
            };
        }

        /// <summary>Evenly spread in the logarithm.</summary>
        private static Gen<double> Between(double least, double greatest)
            => Gen.Choose(0, 10_000).Select(k => least * Math.Pow(greatest / least, k / 1e4));
    }
}
