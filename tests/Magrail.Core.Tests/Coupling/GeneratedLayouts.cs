using FsCheck;
using FsCheck.Fluent;
using UnitsNet;

namespace Magrail.Tests.Coupling;

/// <summary>A coil beside a station, both of any kind, and where the coil stands.</summary>
public sealed record Layout
{
    internal Layout(string kind, MagnetStation station, CoilSi coil, double clearance, Vector3D displacement)
    {
        Kind = kind;
        Magnets = station;
        Station = station.ToSi();
        Coil = coil;
        Clearance = clearance;
        Displacement = displacement;
    }

    public string Kind { get; }

    public MagnetStation Magnets { get; }

    internal StationSi Station { get; }

    internal CoilSi Coil { get; }

    /// <summary>No piece of wire comes nearer to a magnet, m.</summary>
    internal double Clearance { get; }

    /// <summary>The coil's middle from the station's origin.</summary>
    internal Vector3D Displacement { get; }

    public override string ToString() => $"{Kind}: {Coil} at {Displacement} by {string.Join("; ", Magnets.Magnets)}";
}

/// <summary>
/// Layouts of every kind: blocks, discs and rings, their axes and their magnetization along each axis of the track; in facing
/// pairs, single, coaxial, in rings of blocks, and free in twos, turned and of mixed shape; coils across and along the track, off centre.
/// </summary>
public static class GeneratedLayouts
{
    private const double Millimeter = 1e-3;

    private static readonly TrackAxis[] Axes = Enum.GetValues<TrackAxis>();

    public static Arbitrary<Layout> Layouts() => Any.ToArbitrary();

    internal static Gen<Layout> Any => Gen.OneOf(Facing, Single, CoaxialRing, CoaxialBlocks, Free);

    internal static Gen<double> Between(double least, double greatest)
        => Gen.Choose(0, 1_000_000).Select(n => least + ((greatest - least) * n / 1_000_000));

    private static Gen<MagnetBody> Body => Gen.OneOf(Block, Disc, Ring);

    private static Gen<MagnetGrade> Grade => Gen.Elements(MagnetGrade.N35, MagnetGrade.N42, MagnetGrade.N52, MagnetGrade.SmCo28, MagnetGrade.Y30);

    private static Gen<MagnetBody> Block
        => from along in Between(6, 18)
           from across in Between(3, 10)
           from up in Between(6, 18)
           from axis in Gen.Elements(Axes)
           from grade in Grade
           select (MagnetBody)new BlockMagnet(Mm(along), Mm(across), Mm(up), grade, axis);

    private static Gen<MagnetBody> Disc
        => from diameter in Between(6, 18)
           from thickness in Between(3, 10)
           from axis in Gen.Elements(Axes)
           from magnetization in Gen.Elements(Axes)
           from grade in Grade
           select (MagnetBody)new DiscMagnet(Mm(diameter), Mm(thickness), grade, axis, magnetization);

    private static Gen<MagnetBody> Ring
        => from outer in Between(8, 18)
           from bore in Between(0.2, 0.8)
           from length in Between(3, 10)
           from axis in Gen.Elements(Axes)
           from magnetization in Gen.Elements(Axes)
           from grade in Grade
           select (MagnetBody)new RingMagnet(Mm(outer), Mm(bore * outer), Mm(length), grade, axis, magnetization);

    /// <summary>A flat coil of one turn spread over its section, the same on both sides of its middle.</summary>
    private static Gen<CoilSi> Flat
        => from width in Between(3, 9)
           from height in Between(3, 9)
           from round in Between(0.2, 1)
           from depth in Between(1, 4)
           from axial in Between(1, 3)
           select new CoilSi(
               width * Millimeter,
               height * Millimeter,
               round * Math.Min(width, height) * Millimeter,
               new(0, depth * Millimeter, -axial * Millimeter, axial * Millimeter, 1),
               default);

    private static Gen<CoilSi> AlongTrack
        => from coil in Flat
           from circle in Gen.Elements(true, false)
           select (circle ? coil with { HalfHeight = coil.HalfWidth, Corner = coil.HalfWidth } : coil) with { Axis = TrackAxis.Along };

    private static Gen<double> Clear => Between(4, 7);

    private static Gen<Vector3D> Place
        => from x in Between(-20, 20)
           from centered in Gen.Elements(true, false)
           from y in Between(-1.5, 1.5)
           from z in Between(-3, 3)
           select Millimeter * new Vector3D(x, centered ? 0 : y, centered ? 0 : z);

    private static Gen<Layout> Facing
        => from body in Body
           from coil in Flat
           from clear in Clear
           from at in Place
           let half = coil.Full.AxialTo + (clear * Millimeter)
           select new Layout("facing pair", MagnetStation.FacingPair(body, Length.FromMeters(2 * half)), coil, (clear - 1.5) * Millimeter, at);

    private static Gen<Layout> Single
        => from body in Body
           from coil in Flat
           from clear in Clear
           from at in Place
           let half = coil.Full.AxialTo + (clear * Millimeter)
           select new Layout("single", MagnetStation.SingleSided(body, Length.FromMeters(half)), coil, (clear - 1.5) * Millimeter, at);

    private static Gen<Layout> CoaxialRing
        => from coil in AlongTrack
           from clear in Clear
           from wall in Between(3, 8)
           from length in Between(4, 14)
           from magnetization in Gen.Frequency((3, Gen.Constant(TrackAxis.Along)), (1, Gen.Elements(TrackAxis.Across, TrackAxis.Up)))
           from grade in Grade
           from x in Between(-20, 20)
           from centered in Gen.Elements(true, false)
           from y in Between(-1, 1)
           from z in Between(-1, 1)
           let bore = Rim(coil) + (clear * Millimeter)
           select new Layout(
               "coaxial ring",
               MagnetStation.Coaxial(new RingMagnet(
                   Length.FromMeters(2 * (bore + (wall * Millimeter))), Length.FromMeters(2 * bore), Mm(length), grade, TrackAxis.Along, magnetization)),
               coil,
               (clear - 1.5) * Millimeter,
               Millimeter * new Vector3D(x, centered ? 0 : y, centered ? 0 : z));

    private static Gen<Layout> CoaxialBlocks
        => from coil in AlongTrack
           from clear in Clear
           from count in Gen.Choose(3, 7)
           from wall in Between(3, 8)
           from length in Between(4, 14)
           from magnetization in Gen.Elements(Axes)
           from grade in Grade
           from x in Between(-20, 20)
           from centered in Gen.Elements(true, false)
           from y in Between(-1, 1)
           from z in Between(-1, 1)
           let bore = Rim(coil) + (clear * Millimeter)
           let height = Math.Min(1.8 * bore * Math.Tan(Math.PI / count), 18 * Millimeter)
           select new Layout(
               "ring of blocks",
               MagnetStation.Coaxial(new BlockMagnet(Mm(length), Mm(wall), Length.FromMeters(height), grade, magnetization), count, Length.FromMeters(2 * bore)),
               coil,
               (clear - 1.5) * Millimeter,
               Millimeter * new Vector3D(x, centered ? 0 : y, centered ? 0 : z));

    private static Gen<Layout> Free
        => from first in Body
           from second in Body
           from coil in Gen.OneOf(Flat, AlongTrack)
           from clear in Clear
           from x1 in Between(-6, 6)
           from z1 in Between(-6, 6)
           from x2 in Between(-6, 6)
           from z2 in Between(-6, 6)
           from roll1 in Between(-180, 180)
           from roll2 in Between(-180, 180)
           from turned in Gen.Elements(Polarity.Positive, Polarity.Negative)
           from at in Place
           let half = (coil.Axis == TrackAxis.Across ? coil.Full.AxialTo : coil.HalfWidth + coil.Full.OuterDepth) + (clear * Millimeter)
           select new Layout(
               "free",
               MagnetStation.Of(
                   Placed(first, x1, half, z1, Polarity.Positive, roll1),
                   Placed(second, x2, -half, z2, turned, roll2)),
               coil,
               (clear - 1.5) * Millimeter,
               at);

    /// <summary>A body beyond y, however it is turned.</summary>
    private static PlacedMagnet Placed(MagnetBody body, double x, double y, double z, Polarity polarity, double roll)
    {
        double radius = body.ToSi(default, 1).Radius;
        return new(body, Mm(x), Length.FromMeters(y + (Math.Sign(y) * radius)), Mm(z), polarity, Angle.FromDegrees(roll));
    }

    private static double Rim(CoilSi coil)
        => Math.Sqrt(Math.Pow(coil.HalfWidth + coil.Full.OuterDepth, 2) + Math.Pow(coil.HalfHeight + coil.Full.OuterDepth, 2));

    private static Length Mm(double value) => Length.FromMillimeters(value);
}
