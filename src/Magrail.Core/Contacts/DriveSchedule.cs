using System.Collections.Concurrent;
using System.Runtime.CompilerServices;

namespace Magrail;

/// <summary>
/// The contact state of one coil circuit against the sled's position, worked out from the geometry alone: edges where a brush
/// meets or leaves a strip, and what is connected between them.
/// </summary>
internal sealed class DriveSchedule
{
    /// <summary>
    /// The least part of a brush's length that is taken to touch: on less than that the last spots melt and the contact parts, so its
    /// resistance is held there.
    /// </summary>
    public const double LeastOverlap = 0.02;

    private static readonly ConditionalWeakTable<ContactCommutator, ConcurrentDictionary<double, DriveSchedule>> Known = new();

    // Edges of the two lines closer than this are one edge: far below what anybody can build.
    private const double SameEdge = 1e-9;

    private DriveSchedule(double[] edges, CoilDrive[] drives, BrushContact[] upper, BrushContact[] lower, IReadOnlyList<Bridge> bridges)
    {
        Edges = edges;
        Drives = drives;
        Upper = upper;
        Lower = lower;
        Bridges = bridges;
    }

    /// <summary>Sled positions at which the state may change, ascending, m.</summary>
    public double[] Edges { get; }

    /// <summary>The state before the first edge, between each two, and after the last.</summary>
    public CoilDrive[] Drives { get; }

    /// <summary>What the upper brush lies on in each stretch.</summary>
    public BrushContact[] Upper { get; }

    /// <summary>What the lower brush lies on in each stretch.</summary>
    public BrushContact[] Lower { get; }

    /// <summary>Stretches over which one brush lies on strips of opposite rails.</summary>
    public IReadOnlyList<Bridge> Bridges { get; }

    /// <summary>
    /// The schedule for brushes whose coil lies a given distance ahead of the sled's mark; worked out once for the life of a commutator, so that launchers
    /// which share one share it.
    /// </summary>
    /// <param name="contacts">Strips and brushes.</param>
    /// <param name="coilOffset">How far the coil lies ahead of the mark, m.</param>
    public static DriveSchedule Of(ContactCommutator contacts, double coilOffset)
    {
        ConcurrentDictionary<double, DriveSchedule> known = Known.GetValue(contacts, static _ => new());
        return known.TryGetValue(coilOffset, out DriveSchedule? schedule) ? schedule : known.GetOrAdd(coilOffset, WorkOut(contacts, coilOffset));
    }

    private static DriveSchedule WorkOut(ContactCommutator contacts, double coilOffset)
    {
        List<Touch> upper = Touches(contacts.Upper, contacts.UpperBrush, coilOffset);
        List<Touch> lower = Touches(contacts.Lower, contacts.LowerBrush, coilOffset);
        double[] edges = EdgesOf(upper, contacts.UpperBrush, lower, contacts.LowerBrush);
        int count = edges.Length + 1;
        var drives = new CoilDrive[count];
        var uppers = new BrushContact[count];
        var lowers = new BrushContact[count];
        List<Bridge> bridges = [];
        for (int i = 1; i < edges.Length; i++)
        {
            BrushContact up = uppers[i] = ContactOf(upper, contacts.UpperBrush.Length.Meters, edges[i - 1], edges[i]);
            BrushContact low = lowers[i] = ContactOf(lower, contacts.LowerBrush.Length.Meters, edges[i - 1], edges[i]);
            AddBridge(bridges, edges[i - 1], edges[i], up.Rails == Rails.Both, upper: true);
            AddBridge(bridges, edges[i - 1], edges[i], low.Rails == Rails.Both, upper: false);
            drives[i] = Drive(up.Rails, low.Rails);
        }

        return new DriveSchedule(edges, drives, uppers, lowers, bridges);
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

    private static CoilDrive Drive(Rails upper, Rails lower) => (upper, lower) switch
    {
        (Rails.None, _) or (_, Rails.None) => CoilDrive.Open,
        (Rails.Both, _) or (_, Rails.Both) => CoilDrive.Bridged,
        (Rails.Plus, Rails.Minus) => CoilDrive.Forward,
        (Rails.Minus, Rails.Plus) => CoilDrive.Reverse,
        _ => CoilDrive.Shorted,
    };

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
                touches.Add(new Touch(strip.Start.Meters - half - middle, strip.End.Meters + half - middle, strip.Bus == Bus.Plus ? Rails.Plus : Rails.Minus));
            }
        }

        return touches;
    }

    /// <summary>Where a brush meets or leaves a strip; and, where its resistance follows the overlap, where that begins or ends to change.</summary>
    private static double[] EdgesOf(List<Touch> upper, Brush upperBrush, List<Touch> lower, Brush lowerBrush)
    {
        List<double> all = [];
        Add(upper, upperBrush);
        Add(lower, lowerBrush);
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

        void Add(List<Touch> touches, Brush brush)
        {
            double length = brush.Length.Meters;
            foreach (Touch touch in touches)
            {
                all.Add(touch.From);
                all.Add(touch.To);
                if (brush.FollowsOverlap)
                {
                    double run = Math.Min(length, touch.To - touch.From - length);
                    all.Add(touch.From + (LeastOverlap * length));
                    all.Add(touch.To - (LeastOverlap * length));
                    all.Add(touch.From + run);
                    all.Add(touch.To - run);
                }
            }
        }
    }

    /// <summary>What a brush lies on between two edges, and how much of it: the overlap is linear there.</summary>
    private static BrushContact ContactOf(List<Touch> touches, double length, double from, double to)
    {
        Rails rails = Rails.None;
        double middle = 0.5 * (from + to);
        double atFrom = 0;
        double atTo = 0;
        foreach (Touch touch in touches)
        {
            if (middle > touch.From && middle < touch.To)
            {
                rails |= touch.Rail;
                atFrom += Overlap(touch, from);
                atTo += Overlap(touch, to);
            }
        }

        if (rails is Rails.None or Rails.Both)
        {
            return new BrushContact(rails, 1, 0);
        }

        double slope = (atTo - atFrom) / (to - from);
        return new BrushContact(rails, (atFrom - (slope * from)) / length, slope / length);

        double Overlap(Touch touch, double x) => Math.Max(0, Math.Min(Math.Min(x - touch.From, touch.To - x), Math.Min(length, touch.To - touch.From - length)));
    }

    /// <summary>A stretch of sled positions over which a brush shorts the source.</summary>
    internal readonly record struct Bridge(double From, double To, bool Upper);

    private readonly record struct Touch(double From, double To, Rails Rail);
}

/// <summary>What a brush lies on over a stretch of positions.</summary>
/// <param name="Rails">The rails of the strips that it touches.</param>
/// <param name="Overlap">The part of its length that touches, continued to position 0.</param>
/// <param name="OverlapSlope">How that part changes with position, 1/m.</param>
internal readonly record struct BrushContact(Rails Rails, double Overlap, double OverlapSlope)
{
    public bool Touches => Rails != Rails.None;

    /// <summary>Which side of the source the brush is on: ½ plus, −½ minus, 0 where it bridges both and takes the middle.</summary>
    public double Side => SideOf(Rails);

    public static double SideOf(Rails rails) => rails switch
    {
        Rails.Plus => 0.5,
        Rails.Minus => -0.5,
        _ => 0,
    };

    /// <summary>The part of the brush's length that touches at a position.</summary>
    public double OverlapAt(double x) => Math.Clamp(Overlap + (OverlapSlope * x), DriveSchedule.LeastOverlap, 1);
}

/// <summary>The rails that a brush touches.</summary>
[Flags]
internal enum Rails
{
    None = 0,
    Plus = 1,
    Minus = 2,
    Both = Plus | Minus,
}
