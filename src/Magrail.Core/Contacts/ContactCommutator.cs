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
        return For(track, coil, StripLayout.OfDwell(dwell) with { Lead = StripLead.Constant(lead) }, brush);
    }

    /// <summary>
    /// Lays strips out for a track by a rule: between every two stations of opposite polarity one strip on each line, wired so that it pushes
    /// forward. Every circuit whose brushes sit at its coil finds the strips in the same place, so that one layout serves coils anywhere on the sled.
    /// </summary>
    /// <param name="track">The track.</param>
    /// <param name="coil">The coil, alone on its brushes.</param>
    /// <param name="layout">Dwell or gap, and lead.</param>
    /// <param name="brush">The brush, on both lines.</param>
    /// <remarks>
    /// What results never bridges: the brush is shorter than every gap between strips. How long a brush could be at most is <see cref="LongestBrush"/>. How
    /// well it fits the coils is <see cref="StripCheck"/>.
    /// </remarks>
    /// <exception cref="ArgumentNullException">A part is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">
    /// A value is out of its range: nothing is left of a strip, a lead is half a pitch or more, or the brush would bridge a gap, because it is too long or because the lead
    /// grows too fast.
    /// </exception>
    public static ContactCommutator For(Track track, Coil coil, StripLayout layout, Brush brush)
    {
        ArgumentNullException.ThrowIfNull(track);
        ArgumentNullException.ThrowIfNull(coil);
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(brush);
        Require.InRange(track.StationCount, 2, int.MaxValue, "the coil is driven between two stations", "track.StationCount");
        if (layout.Gap is Length wide && wide.Meters <= brush.Length.Meters)
        {
            throw Require.Fault("gap", Show.Quantity(wide), $"longer than the brush, {Show.Quantity(brush.Length)}", "a brush that reaches from strip to strip shorts the source");
        }

        double first = track.Positions[0].Meters;
        double last = track.Positions[track.StationCount - 1].Meters;
        CircuitCurve curve = CircuitCurve.Compile(track, [new CircuitCoil(coil, 0, 1)], first, last, CircuitCurve.LayoutAccuracy);
        List<ContactStrip> upper = [];
        List<ContactStrip> lower = [];
        Length leadBefore = Length.Zero;
        for (int k = 0; k + 1 < track.StationCount; k++)
        {
            double a = track.Positions[k].Meters;
            double pitch = track.Positions[k + 1].Meters - a;
            Length lead = layout.Lead.At(Length.FromMeters(a + (0.5 * pitch)));
            if (Math.Abs(lead.Meters) >= 0.5 * pitch)
            {
                throw Require.Fault(nameof(lead), Show.Quantity(lead), $"less than half the pitch, {Show.Quantity(Length.FromMeters(0.5 * pitch))}, either way", "beyond that the strip feeds the wrong pair");
            }

            double strip = layout.StripMeters(pitch, brush);
            if (track.Polarities[k] == track.Polarities[k + 1])
            {
                // Two stations of the same polarity: the push between them is a leftover that changes sign, so nothing is fed there.
                continue;
            }

            double middle = a + (0.5 * pitch) - lead.Meters + brush.Offset.Meters;
            var start = Length.FromMeters(middle - (0.5 * strip));
            var end = Length.FromMeters(middle + (0.5 * strip));
            if (upper.Count > 0 && start.Meters - upper[^1].End.Meters <= brush.Length.Meters)
            {
                double most = start.Meters - upper[^1].End.Meters + lead.Meters - leadBefore.Meters - brush.Length.Meters;
                throw Require.Fault(
                    nameof(lead),
                    $"{Show.Quantity(leadBefore)}, then {Show.Quantity(lead)} at {Show.Quantity(Length.FromMeters(a + (0.5 * pitch)))}",
                    $"growing by less than {Show.Quantity(Length.FromMeters(most))} from strip to strip",
                    $"the brush of {Show.Quantity(brush.Length)} would bridge what is left of the gap");
            }

            leadBefore = lead;
            bool forward = curve.At(a + (0.5 * pitch)) > 0;
            upper.Add(new ContactStrip(start, end, forward ? Bus.Plus : Bus.Minus));
            lower.Add(new ContactStrip(start, end, forward ? Bus.Minus : Bus.Plus));
        }

        if (upper.Count == 0)
        {
            throw Require.Fault(nameof(track), "without a neighbouring pair of opposite polarity", "a track that pushes somewhere", "between stations of the same polarity a coil feels no force");
        }

        return new ContactCommutator(new ContactLine(upper), new ContactLine(lower), brush) { Layout = layout };
    }

    /// <summary>The same strips under other brushes.</summary>
    internal ContactCommutator WithBrushes(Brush upper, Brush lower) => new(Upper, Lower, upper, lower) { Layout = Layout };

    /// <summary>The same strips with each brush changed.</summary>
    internal ContactCommutator WithBrushes(Func<Brush, Brush> change) => WithBrushes(change(UpperBrush), change(LowerBrush));

    /// <summary>All strips moved forward by a length, as a line that was mounted out of place.</summary>
    internal ContactCommutator Shifted(Length shift)
    {
        ContactLine Moved(ContactLine line) => new(line.Strips.Select(strip => new ContactStrip(strip.Start + shift, strip.End + shift, strip.Bus)));
        return new(Moved(Upper), Moved(Lower), UpperBrush, LowerBrush);
    }

    /// <summary>How many strips there are on both lines.</summary>
    internal int StripCount => Upper.Strips.Length + Lower.Strips.Length;

    /// <summary>Each strip moved forward by a length of its own, those of the upper line first, meters.</summary>
    internal ContactCommutator Shifted(ReadOnlySpan<double> shifts)
    {
        double[] meters = shifts.ToArray();
        ContactLine Moved(ContactLine line, int first) => new(line.Strips.Select((strip, i) =>
        {
            var shift = Length.FromMeters(meters[first + i]);
            return new ContactStrip(strip.Start + shift, strip.End + shift, strip.Bus);
        }));
        return new(Moved(Upper, 0), Moved(Lower, Upper.Strips.Length), UpperBrush, LowerBrush);
    }

    /// <summary>The commutator in words.</summary>
    public override string ToString() => $"upper line {Upper}; lower line {Lower}; {UpperBrush}";
}
