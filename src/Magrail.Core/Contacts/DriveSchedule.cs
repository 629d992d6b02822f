namespace Magrail;

/// <summary>
/// The contact state of one coil circuit against the sled's position, worked out from the geometry alone: edges where a brush
/// meets or leaves a strip, and what is connected between them.
/// </summary>
internal sealed class DriveSchedule
{
    // Edges of the two lines closer than this are one edge: far below what anybody can build.
    private const double SameEdge = 1e-9;

    private DriveSchedule(double[] edges, CoilDrive[] drives, IReadOnlyList<Bridge> bridges)
    {
        Edges = edges;
        Drives = drives;
        Bridges = bridges;
    }

    /// <summary>Sled positions at which the state may change, ascending, m.</summary>
    public double[] Edges { get; }

    /// <summary>The state before the first edge, between each two, and after the last.</summary>
    public CoilDrive[] Drives { get; }

    /// <summary>Stretches over which one brush lies on strips of opposite rails.</summary>
    public IReadOnlyList<Bridge> Bridges { get; }

    /// <summary>Works the schedule out for brushes whose coil lies a given distance ahead of the sled's mark.</summary>
    public static DriveSchedule Of(ContactCommutator contacts, double coilOffset)
    {
        List<Touch> upper = Touches(contacts.Upper, contacts.UpperBrush, coilOffset);
        List<Touch> lower = Touches(contacts.Lower, contacts.LowerBrush, coilOffset);
        double[] edges = EdgesOf(upper, lower);
        var drives = new CoilDrive[edges.Length + 1];
        List<Bridge> bridges = [];
        for (int i = 1; i < edges.Length; i++)
        {
            double middle = 0.5 * (edges[i - 1] + edges[i]);
            Reach up = At(upper, middle);
            Reach low = At(lower, middle);
            AddBridge(bridges, edges[i - 1], edges[i], up == Reach.Both, upper: true);
            AddBridge(bridges, edges[i - 1], edges[i], low == Reach.Both, upper: false);

            drives[i] = (up, low) switch
            {
                (Reach.Plus, Reach.Minus) => CoilDrive.Forward,
                (Reach.Minus, Reach.Plus) => CoilDrive.Reverse,
                (Reach.Plus, Reach.Plus) or (Reach.Minus, Reach.Minus) => CoilDrive.Shorted,
                _ => CoilDrive.Open,
            };
        }

        return new DriveSchedule(edges, drives, bridges);
    }

    /// <summary>
    /// The index into <see cref="Drives"/> for a position; on an edge, the side towards which the sled moves.
    /// </summary>
    public int IndexAt(double position, int direction)
    {
        int index = 0;
        while (index < Edges.Length && (Edges[index] < position - SameEdge || (Math.Abs(Edges[index] - position) <= SameEdge && direction >= 0)))
        {
            index++;
        }

        return index;
    }

    private static void AddBridge(List<Bridge> bridges, double from, double to, bool bridged, bool upper)
    {
        if (!bridged)
        {
            return;
        }

        // A stretch that an edge of the other line divides is still one place.
        int last = bridges.FindLastIndex(bridge => bridge.Upper == upper);
        if (last >= 0 && bridges[last].To == from)
        {
            bridges[last] = bridges[last] with { To = to };
        }
        else
        {
            bridges.Add(new Bridge(from, to, upper));
        }
    }

    private static List<Touch> Touches(ContactLine line, Brush brush, double coilOffset)
    {
        double middle = coilOffset + brush.Offset.Meters;
        double half = 0.5 * brush.Length.Meters;
        List<Touch> touches = [];
        foreach (ContactStrip strip in line.Strips)
        {
            if (strip.Bus != Bus.Dead)
            {
                touches.Add(new Touch(strip.Start.Meters - half - middle, strip.End.Meters + half - middle, strip.Bus == Bus.Plus ? Reach.Plus : Reach.Minus));
            }
        }

        return touches;
    }

    private static double[] EdgesOf(List<Touch> upper, List<Touch> lower)
    {
        List<double> all = [];
        foreach (Touch touch in upper.Concat(lower))
        {
            all.Add(touch.From);
            all.Add(touch.To);
        }

        all.Sort();
        List<double> kept = [];
        foreach (double edge in all)
        {
            if (kept.Count == 0 || edge - kept[^1] > SameEdge)
            {
                kept.Add(edge);
            }
        }

        return [.. kept];
    }

    private static Reach At(List<Touch> touches, double position)
    {
        Reach reach = Reach.None;
        foreach (Touch touch in touches)
        {
            if (position > touch.From && position < touch.To)
            {
                reach |= touch.Rail;
            }
        }

        return reach;
    }

    /// <summary>A stretch of sled positions over which a brush shorts the source.</summary>
    internal readonly record struct Bridge(double From, double To, bool Upper);

    private readonly record struct Touch(double From, double To, Reach Rail);

    [Flags]
    private enum Reach
    {
        None = 0,
        Plus = 1,
        Minus = 2,
        Both = Plus | Minus,
    }
}
