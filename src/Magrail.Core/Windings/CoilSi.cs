namespace Magrail;

/// <summary>A coil as the field kernels see it: plain numbers in SI units.</summary>
/// <remarks>
/// The former's section is a rounded rectangle, <c>2 HalfWidth</c> along x by <c>2 HalfHeight</c> along z with corner
/// radius <c>Corner</c>, all in meters. The turn at depth s follows the outline offset outward by s: straight parts
/// unchanged, corner radius Corner + s. <c>AxialFrom/To</c> are measured from the coil's middle. All this is in the coil's own
/// frame, axis y. That is the track's frame if <c>Axis</c> is Across; a coil whose axis lies Along the track is turned by a
/// quarter about z: its own y lies along x, its own x along −y.
/// </remarks>
internal readonly record struct CoilSi(double HalfWidth, double HalfHeight, double Corner, WindingBlockSi Full, WindingBlockSi Last)
{
    /// <summary>Turns in both blocks.</summary>
    public double Turns => Full.Turns + Last.Turns;

    /// <summary>Direction of the coil's axis, Across or Along.</summary>
    public TrackAxis Axis { get; init; } = TrackAxis.Across;

    /// <summary>The same winding as if it had one turn: the geometry, and how the turns are shared out. A key for what scales with turns.</summary>
    public CoilSi AsOneTurn()
    {
        double turns = Turns;
        return this with
        {
            Full = Full with { Turns = Full.Turns / turns },
            Last = Last with { Turns = Last.Turns / turns },
        };
    }
}

/// <summary>
/// A rectangle of the winding section over which turns lie evenly: depth from the former's surface outward, axial position
/// from the coil's middle, both in meters. <c>Turns</c> is 0 for an empty block.
/// </summary>
internal readonly record struct WindingBlockSi(double InnerDepth, double OuterDepth, double AxialFrom, double AxialTo, double Turns);
