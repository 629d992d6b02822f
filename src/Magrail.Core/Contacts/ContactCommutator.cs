using UnitsNet;

namespace Magrail;

/// <summary>
/// The mechanical commutator: two pick-up lines of contact strips along the track, and a brush on each for every coil
/// circuit, so that the current turns round at every station.
/// </summary>
public sealed record ContactCommutator
{
    /// <summary>Describes a commutator whose strips are placed one by one.</summary>
    /// <param name="upper">The line under the brush at the start of the winding.</param>
    /// <param name="lower">The line under the brush at the end of the winding.</param>
    /// <param name="brush">The brush on the upper line.</param>
    /// <param name="lowerBrush">The brush on the lower line; the same kind by default.</param>
    /// <exception cref="ArgumentNullException">A part is null.</exception>
    public ContactCommutator(ContactLine upper, ContactLine lower, Brush brush, Brush? lowerBrush = null)
    {
        ArgumentNullException.ThrowIfNull(upper);
        ArgumentNullException.ThrowIfNull(lower);
        ArgumentNullException.ThrowIfNull(brush);
        Upper = upper;
        Lower = lower;
        UpperBrush = brush;
        LowerBrush = lowerBrush ?? brush;
    }

    /// <summary>The line under the brush at the start of the winding.</summary>
    public ContactLine Upper { get; }

    /// <summary>The line under the brush at the end of the winding.</summary>
    public ContactLine Lower { get; }

    /// <summary>The brush on the upper line.</summary>
    public Brush UpperBrush { get; }

    /// <summary>The brush on the lower line.</summary>
    public Brush LowerBrush { get; }

    /// <summary>The rule by which the strips were laid for their track; null where they were placed one by one.</summary>
    public StripLayout? Layout { get; private init; }

    /// <summary>
    /// The length that a brush must not exceed so that it never bridges strips of opposite rails; null where no opposite
    /// strips are neighbours.
    /// </summary>
    public Length? LongestBrush
    {
        get
        {
            Length? upper = Upper.ShortestOppositeGap;
            Length? lower = Lower.ShortestOppositeGap;
            return upper is Length a && lower is Length b ? UnitMath.Min(a, b) : upper ?? lower;
        }
    }

    /// <summary>
    /// Lays strips out for a track: between every two stations one strip on each line, so that the coil is fed over a part
    /// of the pitch (the dwell) around the place where its force per ampere is greatest, in the sense that pushes forward.
    /// </summary>
    /// <param name="track">The track.</param>
    /// <param name="coil">The coil, alone on its brushes.</param>
    /// <param name="dwell">Part of the pitch over which the brush touches its strip, 0.05 to 0.99.</param>
    /// <param name="lead">
    /// How much earlier than symmetric every strip begins and ends, so that the current has time to turn round (about L/R
    /// times the speed); less than half a pitch either way.
    /// </param>
    /// <param name="brush">The brush, on both lines.</param>
    /// <remarks>
    /// The strip is dwell · pitch − brush long. The gap to the next strip is then longer than the brush by
    /// (1 − dwell) · pitch, so that this layout never bridges.
    /// </remarks>
    /// <exception cref="ArgumentNullException">A part is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range, or the brush is as long as the fed stretch.</exception>
    public static ContactCommutator For(Track track, Coil coil, [Sources.Dimensionless] double dwell, Length lead, Brush brush)
    {
        ArgumentNullException.ThrowIfNull(track);
        ArgumentNullException.ThrowIfNull(coil);
        ArgumentNullException.ThrowIfNull(brush);
        Require.InRange(dwell, 0.05, 0.99, "the rest of the pitch is the gap in which the current dies");
        Require.InRange(track.StationCount, 2, int.MaxValue, "the coil is driven between two stations", "track.StationCount");
        double leadMeters = Require.Finite(lead, "strips have a place").Meters;
        double brushMeters = brush.Length.Meters;
        double first = track.Positions[0].Meters;
        double last = track.Positions[track.StationCount - 1].Meters;
        CircuitCurve curve = CircuitCurve.Compile(track, [new CircuitCoil(coil, 0, 1)], first, last, CircuitCurve.LayoutAccuracy);
        List<ContactStrip> upper = [];
        List<ContactStrip> lower = [];
        for (int k = 0; k + 1 < track.StationCount; k++)
        {
            double a = track.Positions[k].Meters;
            double pitch = track.Positions[k + 1].Meters - a;
            if (Math.Abs(leadMeters) >= 0.5 * pitch)
            {
                throw Require.Fault(nameof(lead), Show.Quantity(lead), $"less than half the pitch, {Show.Quantity(Length.FromMeters(0.5 * pitch))}, either way", "beyond that the strip feeds the wrong pair");
            }

            double strip = (dwell * pitch) - brushMeters;
            if (!(strip > 0))
            {
                throw Require.Fault(nameof(brush), Show.Quantity(brush.Length), $"shorter than dwell times pitch, {Show.Quantity(Length.FromMeters(dwell * pitch))}", "the fed stretch is the strip plus the brush, so nothing would be left of the strip");
            }

            double middle = a + (0.5 * pitch) - leadMeters + brush.Offset.Meters;
            if (track.Polarities[k] == track.Polarities[k + 1])
            {
                // Two stations of the same polarity: the push between them is a leftover that changes sign, so nothing is fed there.
                continue;
            }

            double force = curve.At(a + (0.5 * pitch));

            bool forward = force > 0;
            var start = Length.FromMeters(middle - (0.5 * strip));
            var end = Length.FromMeters(middle + (0.5 * strip));
            upper.Add(new ContactStrip(start, end, forward ? Bus.Plus : Bus.Minus));
            lower.Add(new ContactStrip(start, end, forward ? Bus.Minus : Bus.Plus));
        }

        if (upper.Count == 0)
        {
            throw Require.Fault(nameof(track), "without a neighbouring pair of opposite polarity", "a track that pushes somewhere", "between stations of the same polarity a coil feels no force");
        }

        return new ContactCommutator(new ContactLine(upper), new ContactLine(lower), brush)
        {
            Layout = new StripLayout(dwell, Length.FromMeters(leadMeters)),
        };
    }

    /// <summary>The same strips under other brushes.</summary>
    internal ContactCommutator WithBrushes(Brush upper, Brush lower) => new(Upper, Lower, upper, lower) { Layout = Layout };

    /// <summary>All strips moved forward by a length, as a line that was mounted out of place.</summary>
    internal ContactCommutator Shifted(Length shift)
    {
        ContactLine Moved(ContactLine line) => new(line.Strips.Select(strip => new ContactStrip(strip.Start + shift, strip.End + shift, strip.Bus)));
        return new(Moved(Upper), Moved(Lower), UpperBrush, LowerBrush);
    }

    /// <summary>The commutator in words.</summary>
    public override string ToString() => $"upper line {Upper}; lower line {Lower}; {UpperBrush}";
}
