namespace Magrail.Numerics;

/// <summary>
/// Drives <see cref="DormandPrince54{TSystem}"/> from event to event: every event is located on the continuous extension to
/// round-off, the rest of the step is thrown away, and integration starts anew with the mode and state the system chose there.
/// </summary>
/// <remarks>
/// Events that lie within the location tolerance of each other fire together, once each. The state handed to the system is
/// that of the right limit, where every fired event has crossed. Allocates nothing per step once made. Not safe for two
/// threads at once.
/// </remarks>
/// <typeparam name="TSystem">The system; a struct is called without indirection.</typeparam>
public sealed class HybridIntegrator<TSystem>
    where TSystem : IHybridSystem
{
    // More restarts than this within a millionth of the span asked for are called chattering; and so are this many in a row,
    // each as soon after the last as time can tell.
    private const int GreatestRestartsAtOnce = 16;
    private const int GreatestRestartsInPlace = 1000;
    private const double PlacePart = 1e-6;

    // An event function this many times farther from zero after an event than the location left it has been moved on purpose.
    private const double MovedAway = 1000;

    // How far a step that is taken again for an event reaches beyond it, as a part of the way to it.
    private const double BeyondEvent = 1.0 / 1024;

    // Where "just after the start" and "just before the end" of a step lie, as parts of it.
    private const double NearEnd = 1.0 / 1024;

    private readonly TSystem system;
    private readonly DormandPrince54<TSystem> stepper;
    private readonly int eventCount;
    private readonly double[] scratch;
    private readonly double[] startValues;
    private readonly double[] endValues;
    private readonly double[] roots;
    private readonly bool[] justFired;
    private readonly double[] firedValues;
    private readonly int[] fired;
    private double timeStop;

    /// <summary>Makes a driver for a system.</summary>
    /// <param name="system">The system; its dimension and event count are read once, here.</param>
    /// <param name="tolerances">The accuracy asked for.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The system has no component, or fewer absolute tolerances than components.</exception>
    public HybridIntegrator(TSystem system, Tolerances tolerances)
    {
        stepper = new DormandPrince54<TSystem>(system, tolerances);
        this.system = system;
        eventCount = Require.InRange(system.EventCount, 0, 1_000_000, "a system has no fewer than no events", "system.EventCount");
        scratch = new double[system.Dimension];
        startValues = new double[eventCount];
        endValues = new double[eventCount];
        roots = new double[eventCount];
        justFired = new bool[eventCount];
        firedValues = new double[eventCount];
        fired = new int[eventCount];
    }

    /// <summary>The time reached.</summary>
    public double Time { get; private set; }

    /// <summary>The state at <see cref="Time"/>.</summary>
    public ReadOnlySpan<double> State => scratch;

    /// <summary>Steps accepted in the last run.</summary>
    public int StepsAccepted => stepper.StepsAccepted;

    /// <summary>Steps rejected in the last run.</summary>
    public int StepsRejected => stepper.StepsRejected;

    /// <summary>Evaluations of the right-hand side in the last run.</summary>
    public int Evaluations => stepper.Evaluations;

    /// <summary>Restarts at events in the last run.</summary>
    public int Restarts { get; private set; }

    /// <summary>Integrates until the end time, an event that stops, or a failure.</summary>
    /// <param name="time">Start time.</param>
    /// <param name="state">Start state, as many values as the system has components.</param>
    /// <param name="endTime">End time, later than <paramref name="time"/>.</param>
    /// <param name="stepLimit">The most steps to accept, 1 or more.</param>
    /// <returns>How it ended; <see cref="Time"/> and <see cref="State"/> tell where.</returns>
    /// <exception cref="ArgumentOutOfRangeException">
    /// The state has another number of values than the system has components, or the end time is not later than the start.
    /// </exception>
    public OdeOutcome Run(double time, ReadOnlySpan<double> state, double endTime, int stepLimit = 1_000_000)
    {
        if (state.Length != scratch.Length)
        {
            throw Require.Fault(nameof(state), $"{state.Length} values", $"{scratch.Length} values", "one for each component of the system");
        }

        if (!(endTime > time) || !double.IsFinite(time) || !double.IsFinite(endTime))
        {
            throw Require.Fault(nameof(endTime), Show.Number(endTime), $"later than {Show.Number(time)} and finite", "integration runs forward in time");
        }

        Require.InRange(stepLimit, 1, int.MaxValue, "a run takes at least one step");
        stepper.ResetCounters();
        Restarts = 0;
        Time = time;
        state.CopyTo(scratch);
        Array.Clear(justFired);
        int restartsInPlace = 0;
        int hurried = 0;
        double restartTime = double.NegativeInfinity;
        double placeTime = time;

        while (true)
        {
            if (!stepper.Start(Time, scratch, endTime))
            {
                return OdeOutcome.NotFinite;
            }

            FillValues(Time, scratch, startValues);

            // A fired event that is still on its zero, and one that starts there, is armed by the first step's own course.
            // One that was moved away (by a jump, or because it now stands for another place) is armed at once.
            for (int i = 0; i < eventCount; i++)
            {
                if (justFired[i] && !(Math.Abs(startValues[i]) > MovedAway * Math.Abs(firedValues[i])))
                {
                    startValues[i] = 0;
                }
            }

            OdeOutcome? ended = RunToEvent(endTime, stepLimit, out int count);
            if (ended is OdeOutcome outcome)
            {
                return outcome;
            }

            Array.Clear(justFired);
            for (int i = 0; i < count; i++)
            {
                justFired[fired[i]] = true;
                firedValues[fired[i]] = system.EventValue(fired[i], Time, scratch);
            }

            EventResponse response = system.OnEvent(Time, scratch, fired.AsSpan(0, count));
            if (count > 0 && Time >= timeStop && response != EventResponse.Stop)
            {
                // An event at the very time of a stop by the clock: the stop is handed over as well.
                EventResponse second = system.OnEvent(Time, scratch, []);
                response = second > response ? second : response;
            }

            if (response == EventResponse.Stop)
            {
                return OdeOutcome.StoppedByEvent;
            }

            Restarts++;
            hurried = Time - restartTime <= 2 * LocationTolerance(Time) ? hurried + 1 : 0;
            restartTime = Time;
            if (hurried > GreatestRestartsAtOnce)
            {
                return OdeOutcome.Chattering;
            }

            if (Time - placeTime > PlacePart * (endTime - time))
            {
                placeTime = Time;
                restartsInPlace = 0;
            }
            else if (++restartsInPlace > GreatestRestartsInPlace)
            {
                return OdeOutcome.Chattering;
            }

            if (Time >= endTime)
            {
                return OdeOutcome.ReachedEnd;
            }
        }
    }

    private static double LocationTolerance(double time) => 8 * (Math.BitIncrement(Math.Abs(time)) - Math.Abs(time));

    /// <summary>Steps until an event fires (null; how many in <paramref name="count"/>) or the run ends.</summary>
    private OdeOutcome? RunToEvent(double endTime, int stepLimit, out int count)
    {
        count = 0;
        timeStop = system.NextTimeStop(Time);
        double latest = Math.Min(endTime, timeStop);
        while (true)
        {
            if (stepper.StepsAccepted >= stepLimit)
            {
                return Fail(OdeOutcome.StepLimit);
            }

            OdeOutcome outcome = stepper.Step(Math.Min(latest, stepper.Time + system.LongestStep(stepper.State)));
            if (outcome != OdeOutcome.ReachedEnd)
            {
                return Fail(outcome);
            }

            double end = stepper.Time;
            stepper.State.CopyTo(scratch);
            FillValues(end, scratch, endValues);
            count = Locate(end, out double at);
            if (count > 0 && at < end)
            {
                // The continuous extension tells where the event is, but its error deep inside a step is not controlled: the step
                // is taken again to just beyond the event, which then lies next to its end. Where the two differ so much that
                // the event is not in it any more, this is a step like any other and the next one meets the event.
                double closer = at + (BeyondEvent * (at - stepper.StepStart));
                if (closer < end && stepper.Retake(closer))
                {
                    end = closer;
                    stepper.State.CopyTo(scratch);
                    FillValues(end, scratch, endValues);
                    count = Locate(end, out at);
                }
            }

            // Looking inside the step has overwritten the scratch state.
            stepper.State.CopyTo(scratch);
            if (count > 0)
            {
                DenseStep cut = stepper.CutAt(at);
                if (at < end)
                {
                    cut.Values(at, scratch);
                }

                Time = at;
                system.OnStep(cut);
                return null;
            }

            Time = end;
            system.OnStep(stepper.LastStep);
            if (end >= latest)
            {
                if (latest == timeStop)
                {
                    // By the clock: no event index.
                    return null;
                }

                return OdeOutcome.ReachedEnd;
            }

            endValues.CopyTo(startValues.AsSpan());
        }
    }

    private OdeOutcome Fail(OdeOutcome outcome)
    {
        stepper.State.CopyTo(scratch);
        Time = stepper.Time;
        return outcome;
    }

    private void FillValues(double time, ReadOnlySpan<double> state, double[] values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = system.EventValue(i, time, state);
        }
    }

    /// <summary>Finds the earliest events in the last step; returns how many fire together, and when.</summary>
    private int Locate(double end, out double at)
    {
        at = double.PositiveInfinity;
        double start = stepper.StepStart;
        bool any = false;
        for (int i = 0; i < eventCount; i++)
        {
            double root = FirstRoot(i, start, end);
            roots[i] = root;
            if (root < at)
            {
                at = root;
                any = true;
            }
        }

        if (!any)
        {
            return 0;
        }

        // Before the earliest root, an event may have crossed that is back by the end of the step, because what it watches turned
        // round in between (an edge is passed, then the speed is zero, then the edge is passed again). Up to the root the step
        // is real, beyond it is thrown away: so look at the signs there.
        bool earlier = at < end;
        while (earlier)
        {
            earlier = false;
            double horizon = at;
            for (int i = 0; i < eventCount; i++)
            {
                if (roots[i] <= horizon)
                {
                    continue;
                }

                endValues[i] = ValueInside(i, horizon);
                double root = FirstRoot(i, start, horizon, oneCrossingOnly: true);
                if (root < roots[i])
                {
                    roots[i] = root;
                    earlier |= root < at;
                    at = Math.Min(at, root);
                }
            }
        }

        // All within the location tolerance fire together, at the last of them: there each has crossed.
        double together = at + LocationTolerance(at);
        for (int i = 0; i < eventCount; i++)
        {
            if (roots[i] <= together)
            {
                at = Math.Max(at, roots[i]);
            }
        }

        // So does one whose root was found a little later, but which has come to its zero here already: where time resolves more
        // than the state does, a zero is as wide as a rounding of the state, and a zero at the next start would not fire.
        int count = 0;
        for (int i = 0; i < eventCount; i++)
        {
            if (roots[i] <= at || (roots[i] <= end && HasCrossed(i, at)))
            {
                fired[count++] = i;
            }
        }

        return count;
    }

    private bool HasCrossed(int index, double time)
    {
        double value = ValueInside(index, time);
        return value == 0 || Crosses(index, startValues[index], value);
    }

    /// <summary>The first crossing that counts in (start, end], or positive infinity.</summary>
    private double FirstRoot(int index, double start, double end, bool oneCrossingOnly = false)
    {
        double g0 = startValues[index];
        double g1 = endValues[index];
        if (double.IsNaN(g0) || double.IsNaN(g1))
        {
            return double.PositiveInfinity;
        }

        double from = start;
        if (g0 == 0)
        {
            // On its zero at the start: that zero does not fire. Which side it leaves to decides what counts afterwards.
            (from, g0) = LeaveZero(index, start, end);
            if (g0 == 0)
            {
                return double.PositiveInfinity;
            }

            if (from == start)
            {
                // It comes back about as soon as time can tell: look from there.
                from = Math.Min(start + LocationTolerance(start), end);
                double back = ValueInside(index, from);
                if (Crosses(index, g0, back))
                {
                    return from;
                }

                g0 = back;
            }
        }

        if (Crosses(index, g0, g1))
        {
            return Bracket(index, from, g0, end, g1);
        }

        if (!oneCrossingOnly && g0 * g1 > 0 && system.MayCrossTwice(index, stepper.StartSlopes, stepper.Slopes))
        {
            return DoubleCrossing(index, from, g0, end, g1);
        }

        return double.PositiveInfinity;
    }

    /// <summary>
    /// To which side an event that starts on its zero leaves: a time just after the start, and the value there. The time is
    /// the start itself where the event is back on the other side sooner than time can tell.
    /// </summary>
    /// <remarks>
    /// A look at the continuous extension alone would miss a return before the time looked at (a ball's last bounces). So it is
    /// compared with the tangent, y + y' · t: where both lie on one side, nothing happened in between.
    /// </remarks>
    private (double Time, double Value) LeaveZero(int index, double start, double end)
    {
        double least = LocationTolerance(start);
        double first = Math.Min(Math.Max(NearEnd * (end - start), least), end - start);
        double atStart = ValueInside(index, start);
        double tangent = 0;
        double seen = 0;
        for (double after = first; after == first || after > least; after /= 16)
        {
            double value = ValueInside(index, start + after);
            double ahead = ValueOnTangent(index, start, after) - atStart;
            if (after == first)
            {
                seen = value;
                tangent = ahead;
            }

            if (value * ahead > 0 || ahead == 0)
            {
                return (start + after, value);
            }
        }

        return tangent * seen < 0 ? (start, tangent) : (start + first, seen);
    }

    private double ValueOnTangent(int index, double start, double after)
    {
        stepper.LastStep.Values(start, scratch);
        ReadOnlySpan<double> slopes = stepper.StartSlopes;
        for (int i = 0; i < scratch.Length; i++)
        {
            scratch[i] += after * slopes[i];
        }

        return system.EventValue(index, start + after, scratch);
    }

    private bool Crosses(int index, double before, double after)
        => system.Direction(index) switch
        {
            CrossingDirection.NegativeToPositive => before < 0 && after >= 0,
            CrossingDirection.PositiveToNegative => before > 0 && after <= 0,
            _ => (before < 0 && after >= 0) || (before > 0 && after <= 0),
        };

    private double ValueInside(int index, double time)
    {
        stepper.LastStep.Values(time, scratch);
        return system.EventValue(index, time, scratch);
    }

    /// <summary>Same sign at both ends: looks for the turning point between, if the function heads for zero and comes back.</summary>
    private double DoubleCrossing(int index, double start, double g0, double end, double g1)
    {
        double sign = Math.Sign(g0);
        double near = NearEnd * (end - start);
        double leaving = sign * (ValueInside(index, start + near) - g0);
        double arriving = sign * (g1 - ValueInside(index, end - near));
        if (!(leaving < 0 && arriving > 0))
        {
            return double.PositiveInfinity;
        }

        // Golden section for the least of sign·g; stops as soon as it is below zero.
        const double Golden = 0.6180339887498949;
        double a = start, b = end;
        double c = b - (Golden * (b - a)), d = a + (Golden * (b - a));
        double ga = sign * g0, gb = sign * g1;
        double gc = sign * ValueInside(index, c), gd = sign * ValueInside(index, d);

        // In a step of some dozen roundings of time a part of it is less than time can tell: then that is the end.
        double close = Math.Max(1e-9 * (end - start), LocationTolerance(end));
        while (b - a > close)
        {
            // A dip goes below its lowest known point by less than the bracket's ends rise above that (a parabola by a fifth of it at most).
            double lowest = Math.Min(gc, gd);
            if (lowest > Math.Max(ga, gb) - lowest)
            {
                return double.PositiveInfinity;
            }

            if (gc < 0 || gd < 0)
            {
                double dip = gc < 0 ? c : d;
                double atDip = sign * Math.Min(gc < 0 ? gc : gd, 0);

                // Down into the dip, or, where only the way back counts, out of it.
                return Crosses(index, g0, atDip)
                    ? Bracket(index, start, g0, dip, atDip)
                    : Bracket(index, dip, atDip, end, g1);
            }

            if (gc < gd)
            {
                b = d;
                gb = gd;
                d = c;
                gd = gc;
                c = b - (Golden * (b - a));
                gc = sign * ValueInside(index, c);
            }
            else
            {
                a = c;
                ga = gc;
                c = d;
                gc = gd;
                d = a + (Golden * (b - a));
                gd = sign * ValueInside(index, d);
            }
        }

        return double.PositiveInfinity;
    }

    /// <summary>
    /// Shrinks a bracket to neighbouring times by the Illinois form of the false position, with bisection where that is
    /// slow, and returns its right end: the first time at which the event has crossed.
    /// </summary>
    private double Bracket(int index, double a, double ga, double b, double gb)
    {
        double tolerance = 0.25 * LocationTolerance(b);
        double fa = ga, fb = gb;
        int side = 0;
        for (int iteration = 0; iteration < 400 && b - a > tolerance && fb != 0; iteration++)
        {
            double m = iteration % 4 == 3 ? 0.5 * (a + b) : b - (fb * (b - a) / (fb - fa));

            // Keep inside by a whole step of time, and step over the root by a hair so that the right end closes in too.
            m = Math.Clamp(m, a + (0.5 * tolerance), b - (0.5 * tolerance));

            double gm = ValueInside(index, m);
            if (gm == 0 || (gm > 0) == (gb > 0))
            {
                b = m;
                fb = gm;
                if (side == 1)
                {
                    fa *= 0.5;
                }

                side = 1;
            }
            else
            {
                a = m;
                fa = gm;
                if (side == -1)
                {
                    fb *= 0.5;
                }

                side = -1;
            }
        }

        return b;
    }
}
