using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Lanes = System.Runtime.Intrinsics.Vector512<double>;
using T = Magrail.Numerics.DormandPrince853Tableau;

namespace Magrail.Numerics;

/// <summary>
/// Integrates an ensemble of copies of one small system, eight at a time in the lanes of a vector, by the Runge-Kutta method of order 8 of Dormand and Prince. Each lane has its own step and its own
/// time; a lane whose member is at its end takes the next one.
/// </summary>
/// <remarks>
/// A mark is met without a search: the step that leads to it is taken in the marked component instead of in time (d/dt divided by that component's own slope), so that it ends on the mark to rounding, with the same
/// order and the same control of the error as any other step. A step that passes a mark unforeseen is thrown away and taken so again. A component that passes a mark and is back on the same side within one step is
/// not seen to have passed it: where that may be, tighten the tolerance. Allocates nothing in a run. Not safe for two threads at once.
/// On machines without vectors of 512 bits the runtime takes two or more narrower ones.
/// Source: J. R. Dormand, P. J. Prince; E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, sections II.5 and II.6; the change of the independent variable: M. Hénon, On
/// the numerical computation of Poincaré maps, Physica D 5 (1982) 412-414.
/// </remarks>
/// <typeparam name="TSystem">The system; a struct is called without indirection.</typeparam>
public sealed class LockstepIntegrator<TSystem>
    where TSystem : ILockstepSystem
{
    /// <summary>How many members are integrated at once.</summary>
    public const int LaneCount = 8;

    // Step control: h_new = h · clamp(0.9 err^(-1/8)).
    private const double Safety = 0.9;
    private const double LeastShrink = 0.2;
    private const double GreatestGrowth = 6;
    private const int Stages = 12;

    // A mark this many steps away or nearer is stepped to (less than 1/0.9, or a step refused there would be tried again); not much farther, in even steps.
    private const double Reach = 1.05;
    private const double EvenSteps = 6;

    // Where a step in the marked component may not be as long as one in time, time takes this part of the way.
    private const double Approach = 0.9;

    // Steps rejected in a row in a lane, beyond which its step is called too small.
    private const int MostRejections = 60;

    private readonly int dimension;
    private readonly int width;
    private readonly int marks;
    private readonly double relative;
    private readonly double[] absolute;
    private readonly Lanes[] y;
    private readonly Lanes[] next;
    private readonly Lanes[] stage;
    private readonly Lanes[] derivatives;
    private readonly Lanes[] slopes;
    private readonly Lanes[] fifth;
    private readonly Lanes[] third;
    private readonly Lanes[] landing;
    private readonly double[] scratch;
    private readonly Lane[] lanes = new Lane[LaneCount];
    private readonly LockstepMark[] places;
    private readonly double[] steps = new double[LaneCount];
    private readonly double[] ratios = new double[LaneCount];
    private readonly (double Step, double Landing)[] lastSteps;
    private readonly int modes;
    private TSystem system;
    private bool lands;

    /// <summary>Makes an integrator for a system.</summary>
    /// <param name="system">The system; its dimension and number of marks are read once, here.</param>
    /// <param name="tolerances">The accuracy asked for.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The system has no component, or fewer absolute tolerances than components.</exception>
    public LockstepIntegrator(TSystem system, Tolerances tolerances)
    {
        ArgumentNullException.ThrowIfNull(system);
        ArgumentNullException.ThrowIfNull(tolerances);
        this.system = system;
        dimension = Require.InRange(system.Dimension, 1, 1000, "a system has at least one component", "system.Dimension");

        // Time is one component more, and its end one mark more.
        width = dimension + 1;
        marks = 1 + Require.InRange(system.MarkCount, 0, 1000, "a system has no fewer than no marks", "system.MarkCount");
        relative = tolerances.Relative;
        absolute = [.. Enumerable.Range(0, dimension).Select(tolerances.Absolute)];
        y = new Lanes[width];
        next = new Lanes[width];
        stage = new Lanes[width];
        derivatives = new Lanes[width];
        slopes = new Lanes[width * Stages];
        fifth = new Lanes[width];
        third = new Lanes[width];
        landing = new Lanes[dimension];
        scratch = new double[dimension];
        places = new LockstepMark[LaneCount * marks];
        modes = Require.InRange(system.ModeCount, 1, 1000, "a system has a mode", "system.ModeCount");
        lastSteps = new (double, double)[LaneCount * modes];
    }

    /// <summary>Steps accepted in the last run, of all members together.</summary>
    public long StepsAccepted { get; private set; }

    /// <summary>Steps rejected in the last run, of all members together.</summary>
    public long StepsRejected { get; private set; }

    /// <summary>Evaluations of the right-hand side in the last run, of all members together; those of idle lanes are not counted.</summary>
    public long Evaluations { get; private set; }

    /// <summary>The system, with what it kept.</summary>
    public TSystem System => system;

    /// <summary>Integrates all members of an ensemble, each from time 0 to its end.</summary>
    /// <param name="members">How many, 1 or more.</param>
    /// <param name="endTime">The time at which a member that has not ended is ended, above zero.</param>
    /// <param name="firstStep">The step to try first, above zero; an accepted step may be far longer or shorter.</param>
    /// <param name="stepLimit">The most steps of a member, 1 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public void Run(int members, double endTime, double firstStep = 1e-6, int stepLimit = 1_000_000)
    {
        Require.InRange(members, 1, int.MaxValue, "an ensemble has a member");
        Require.InRange(endTime, double.Epsilon, double.MaxValue, "integration runs forward in time");
        Require.InRange(firstStep, double.Epsilon, double.MaxValue, "integration runs forward in time");
        Require.InRange(stepLimit, 1, int.MaxValue, "a run takes at least one step");
        StepsAccepted = 0;
        StepsRejected = 0;
        Evaluations = 0;
        int waiting = 0;
        int running = 0;
        for (int lane = 0; lane < LaneCount; lane++)
        {
            // Lanes without a member of their own go through the motions of the first.
            lanes[lane] = new Lane { Member = Math.Min(lane, members - 1), IsIdle = lane >= members, Component = -1 };
            steps[lane] = 0;
            Begin(lane, lanes[lane].Member, endTime, firstStep);
            waiting += lane < members ? 1 : 0;
            running += lane < members ? 1 : 0;
        }

        while (running > 0)
        {
            FirstSlopes();
            bool landsNow = false;
            for (int lane = 0; lane < LaneCount; lane++)
            {
                if (!lanes[lane].IsIdle)
                {
                    landsNow |= Choose(lane);
                }
            }

            if (landsNow | lands)
            {
                SetLanding();
                lands = landsNow;
                FirstSlopesLanding();
            }

            TakeStages();
            ErrorRatios();
            for (int lane = 0; lane < LaneCount; lane++)
            {
                if (lanes[lane].IsIdle)
                {
                    continue;
                }

                Evaluations += Stages;
                if (Judge(lane, stepLimit) is OdeOutcome outcome)
                {
                    Read(lane);
                    system.OnEnd(lane, lanes[lane].Member, outcome, Component(y, dimension, lane), scratch);
                    if (waiting < members)
                    {
                        lanes[lane] = new Lane { Member = waiting };
                        Begin(lane, waiting++, endTime, firstStep);
                    }
                    else
                    {
                        lanes[lane].IsIdle = true;
                        lanes[lane].Component = -1;
                        steps[lane] = 0;
                        running--;
                    }
                }
            }
        }
    }

    private static ref double Component(Lanes[] rows, int component, int lane)
        => ref Unsafe.Add(ref Unsafe.As<Lanes, double>(ref rows[component]), lane);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Lanes At(ref Lanes first, int stage) => Unsafe.Add(ref first, stage - 1);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private ref Lanes Slopes(int component) => ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(slopes), component * Stages);

    private void Begin(int lane, int member, double endTime, double firstStep)
    {
        system.Begin(lane, member, scratch);
        Write(lane);
        Component(y, dimension, lane) = 0;
        lastSteps.AsSpan(lane * modes, modes).Clear();
        lanes[lane].Mode = system.Mode(lane);
        lanes[lane].Step = firstStep;
        lanes[lane].Landing = double.PositiveInfinity;
        lanes[lane].Target = -1;
        lanes[lane].Forced = -1;
        places[(lane * marks) + marks - 1] = new LockstepMark(dimension, endTime);
        AskMarks(lane);
    }

    private void AskMarks(int lane)
    {
        for (int mark = 0; mark < marks - 1; mark++)
        {
            places[(lane * marks) + mark] = system.Mark(lane, mark);
        }
    }

    private void Read(int lane)
    {
        for (int c = 0; c < dimension; c++)
        {
            scratch[c] = Component(y, c, lane);
        }
    }

    private void Write(int lane)
    {
        for (int c = 0; c < dimension; c++)
        {
            Component(y, c, lane) = scratch[c];
        }
    }

    /// <summary>Decides where the next step of a lane leads: a time ahead, or to a mark. True where to a mark of the state.</summary>
    private bool Choose(int lane)
    {
        ref Lane one = ref lanes[lane];
        ReadOnlySpan<LockstepMark> own = places.AsSpan(lane * marks, marks);
        int target = one.Forced;
        double nearest = double.PositiveInfinity;
        if (target >= 0)
        {
            nearest = (own[target].Value - Component(y, own[target].Component, lane)) / Slope(own[target].Component, lane);
            if (!(nearest > 0))
            {
                // The component moves away from the mark for now and passed it on its way back: in half a step it may not have.
                target = -1;
                nearest = double.PositiveInfinity;
                one.Step = 0.5 * one.Length;
            }
        }
        else
        {
            for (int mark = 0; mark < own.Length; mark++)
            {
                double ahead = (own[mark].Value - Component(y, own[mark].Component, lane)) / Slope(own[mark].Component, lane);
                if (ahead > 0 && ahead < nearest)
                {
                    nearest = ahead;
                    target = mark;
                }
            }

            if (!(nearest <= Reach * Math.Min(one.Step, one.Landing)))
            {
                target = -1;
            }
        }

        one.Target = target;
        one.Component = -1;
        if (target < 0)
        {
            // Even steps on the way to a mark, rather than long ones and a rest.
            double count = Math.Ceiling(nearest / one.Step);
            one.Length = steps[lane] = count <= 1 ? Approach * nearest : count <= EvenSteps ? nearest / count : one.Step;
            return false;
        }

        one.Length = Math.Abs(nearest);
        int component = own[target].Component;
        steps[lane] = component == dimension ? nearest : own[target].Value - Component(y, component, lane);
        one.Component = component == dimension ? -1 : component;
        return component < dimension;
    }

    private double Slope(int component, int lane)
        => component == dimension ? 1 : Unsafe.Add(ref Unsafe.As<Lanes, double>(ref Slopes(component)), lane);

    private void FirstSlopes()
    {
        system.Derivatives(y.AsSpan(0, dimension), derivatives.AsSpan(0, dimension));
        for (int c = 0; c < dimension; c++)
        {
            Slopes(c) = derivatives[c];
        }

        Slopes(dimension) = Lanes.One;
    }

    /// <summary>Which component each lane is stepped in, as masks.</summary>
    private void SetLanding()
    {
        for (int c = 0; c < dimension; c++)
        {
            ref long mask = ref Unsafe.As<Lanes, long>(ref landing[c]);
            for (int lane = 0; lane < LaneCount; lane++)
            {
                Unsafe.Add(ref mask, lane) = lanes[lane].Component == c ? -1 : 0;
            }
        }
    }

    private void FirstSlopesLanding()
    {
        if (!lands)
        {
            return;
        }

        for (int c = 0; c < dimension; c++)
        {
            derivatives[c] = Slopes(c);
        }

        Keep(1);
    }

    private void Evaluate(int number)
    {
        system.Derivatives(stage.AsSpan(0, dimension), derivatives.AsSpan(0, dimension));
        Keep(number);
    }

    /// <summary>Keeps the derivatives as a stage's slopes: in time, or in the component in which a lane is stepped.</summary>
    private void Keep(int number)
    {
        Lanes perTime = Lanes.One;
        if (lands)
        {
            Lanes along = Lanes.One;
            for (int c = 0; c < dimension; c++)
            {
                along = Vector512.ConditionalSelect(landing[c], derivatives[c], along);
            }

            perTime = Lanes.One / along;
            for (int c = 0; c < dimension; c++)
            {
                derivatives[c] *= perTime;
            }
        }

        for (int c = 0; c < dimension; c++)
        {
            Unsafe.Add(ref Slopes(c), number - 1) = derivatives[c];
        }

        Unsafe.Add(ref Slopes(dimension), number - 1) = perTime;
    }

    private void TakeStages()
    {
        Lanes h = Vector512.LoadUnsafe(ref steps[0]);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A2N1 * At(ref k, 1)));
        }

        Evaluate(2);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A3N1 * At(ref k, 1)).Plus(T.A3N2, At(ref k, 2)));
        }

        Evaluate(3);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A4N1 * At(ref k, 1)).Plus(T.A4N3, At(ref k, 3)));
        }

        Evaluate(4);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A5N1 * At(ref k, 1)).Plus(T.A5N3, At(ref k, 3)).Plus(T.A5N4, At(ref k, 4)));
        }

        Evaluate(5);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A6N1 * At(ref k, 1)).Plus(T.A6N4, At(ref k, 4)).Plus(T.A6N5, At(ref k, 5)));
        }

        Evaluate(6);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A7N1 * At(ref k, 1)).Plus(T.A7N4, At(ref k, 4)).Plus(T.A7N5, At(ref k, 5)).Plus(T.A7N6, At(ref k, 6)));
        }

        Evaluate(7);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A8N1 * At(ref k, 1)).Plus(T.A8N4, At(ref k, 4)).Plus(T.A8N5, At(ref k, 5)).Plus(T.A8N6, At(ref k, 6)).Plus(T.A8N7, At(ref k, 7)));
        }

        Evaluate(8);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A9N1 * At(ref k, 1)).Plus(T.A9N4, At(ref k, 4)).Plus(T.A9N5, At(ref k, 5)).Plus(T.A9N6, At(ref k, 6)).Plus(T.A9N7, At(ref k, 7))
                .Plus(T.A9N8, At(ref k, 8)));
        }

        Evaluate(9);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A10N1 * At(ref k, 1)).Plus(T.A10N4, At(ref k, 4)).Plus(T.A10N5, At(ref k, 5)).Plus(T.A10N6, At(ref k, 6)).Plus(T.A10N7, At(ref k, 7))
                .Plus(T.A10N8, At(ref k, 8)).Plus(T.A10N9, At(ref k, 9)));
        }

        Evaluate(10);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A11N1 * At(ref k, 1)).Plus(T.A11N4, At(ref k, 4)).Plus(T.A11N5, At(ref k, 5)).Plus(T.A11N6, At(ref k, 6)).Plus(T.A11N7, At(ref k, 7))
                .Plus(T.A11N8, At(ref k, 8)).Plus(T.A11N9, At(ref k, 9)).Plus(T.A11N10, At(ref k, 10)));
        }

        Evaluate(11);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            stage[c] = y[c] + (h * (T.A12N1 * At(ref k, 1)).Plus(T.A12N4, At(ref k, 4)).Plus(T.A12N5, At(ref k, 5)).Plus(T.A12N6, At(ref k, 6)).Plus(T.A12N7, At(ref k, 7))
                .Plus(T.A12N8, At(ref k, 8)).Plus(T.A12N9, At(ref k, 9)).Plus(T.A12N10, At(ref k, 10)).Plus(T.A12N11, At(ref k, 11)));
        }

        Evaluate(12);
        for (int c = 0; c < width; c++)
        {
            ref Lanes k = ref Slopes(c);
            Lanes step = (T.B1 * At(ref k, 1)).Plus(T.B6, At(ref k, 6)).Plus(T.B7, At(ref k, 7)).Plus(T.B8, At(ref k, 8)).Plus(T.B9, At(ref k, 9)).Plus(T.B10, At(ref k, 10))
                .Plus(T.B11, At(ref k, 11)).Plus(T.B12, At(ref k, 12));
            next[c] = y[c] + (h * step);
            fifth[c] = (T.E1 * At(ref k, 1)).Plus(T.E6, At(ref k, 6)).Plus(T.E7, At(ref k, 7)).Plus(T.E8, At(ref k, 8)).Plus(T.E9, At(ref k, 9)).Plus(T.E10, At(ref k, 10))
                .Plus(T.E11, At(ref k, 11)).Plus(T.E12, At(ref k, 12));
            third[c] = step.Plus(-T.F1, At(ref k, 1)).Plus(-T.F9, At(ref k, 9)).Plus(-T.F12, At(ref k, 12));
        }
    }

    /// <summary>The error of each lane's step over what is allowed, by both estimates as the authors combine them.</summary>
    private void ErrorRatios()
    {
        Lanes five = Lanes.Zero, three = Lanes.Zero;
        for (int c = 0; c < dimension; c++)
        {
            Lanes size = Vector512.Max(Vector512.Abs(y[c]), Vector512.Abs(next[c]));
            Lanes allowed = Vector512.FusedMultiplyAdd(Vector512.Create(relative), size, Vector512.Create(absolute[c]));
            Lanes a = fifth[c], b = third[c];
            if (lands)
            {
                // The component that a lane is stepped in has no error; that of its time counts as the way it would have gone.
                Lanes speed = Lanes.One / At(ref Slopes(dimension), 1);
                a = Vector512.ConditionalSelect(landing[c], fifth[dimension] * speed, a);
                b = Vector512.ConditionalSelect(landing[c], third[dimension] * speed, b);
            }

            a /= allowed;
            b /= allowed;
            five = Vector512.FusedMultiplyAdd(a, a, five);
            three = Vector512.FusedMultiplyAdd(b, b, three);
        }

        Lanes sum = Vector512.FusedMultiplyAdd(Vector512.Create(0.01), three, five);
        sum = Vector512.ConditionalSelect(Vector512.Equals(sum, Lanes.Zero), Lanes.One, sum);
        Lanes h = Vector512.Abs(Vector512.LoadUnsafe(ref steps[0]));
        (h * five / Vector512.Sqrt(Vector512.Create((double)dimension) * sum)).StoreUnsafe(ref ratios[0]);
    }

    /// <summary>Accepts or rejects a lane's step; the outcome where the member is at its end.</summary>
    private OdeOutcome? Judge(int lane, int stepLimit)
    {
        ref Lane one = ref lanes[lane];
        double ratio = ratios[lane];

        // The eighth root; at zero any growth, at what is no number the greatest shrinking.
        double change = Safety / Math.Sqrt(Math.Sqrt(Math.Sqrt(ratio)));
        if (!(ratio <= 1))
        {
            StepsRejected++;
            bool forced = one.Forced >= 0;
            one.Forced = -1;
            double shorter = one.Length * (change > LeastShrink ? change : LeastShrink);
            if (forced)
            {
                // The mark lies within the step that passed it, but the way there is too crooked for one step: a shorter one in time first.
                one.Step = Math.Min(shorter, 0.5 * one.Passing);
                one.Landing = Math.Min(one.Landing, shorter);
            }
            else if (one.Component >= 0 && one.Landing > shorter)
            {
                one.Landing = shorter;
            }
            else
            {
                one.Step = shorter;
            }

            one.Grows = false;
            return ++one.Rejections <= MostRejections ? null : double.IsNaN(ratio) ? OdeOutcome.NotFinite : OdeOutcome.StepTooSmall;
        }

        ReadOnlySpan<LockstepMark> own = places.AsSpan(lane * marks, marks);
        int passed = Passed(lane, own, one.Target);
        if (passed >= 0)
        {
            // Unforeseen; or two marks of which now this, now that seems to come first: then in shorter steps.
            StepsRejected++;
            bool again = ++one.Rejections % 4 != 0;
            one.Forced = again ? passed : -1;
            one.Passing = one.Length;
            one.Step = again ? one.Step : 0.5 * one.Length;
            return one.Rejections <= MostRejections ? null : OdeOutcome.StepTooSmall;
        }

        StepsAccepted++;
        one.Steps++;
        one.Rejections = 0;
        one.Forced = -1;
        double growth = Math.Min(change, one.Grows ? GreatestGrowth : 1);
        one.Grows = true;
        for (int c = 0; c < width; c++)
        {
            Component(y, c, lane) = Component(next, c, lane);
        }

        if (one.Target < 0)
        {
            one.Step = one.Length * Math.Max(growth, LeastShrink);
            return one.Steps < stepLimit ? null : OdeOutcome.StepLimit;
        }

        // A step cut short by a mark says little about the next.
        one.Step = Math.Max(one.Step, one.Length * growth);
        one.Landing = Math.Max(one.Landing, one.Length * growth);
        Component(y, own[one.Target].Component, lane) = own[one.Target].Value;
        if (one.Target == marks - 1)
        {
            return OdeOutcome.ReachedEnd;
        }

        Read(lane);
        EventResponse response = system.OnMark(lane, one.Target, Component(y, dimension, lane), scratch);
        Write(lane);
        AskMarks(lane);

        // The step goes by the mode: with the equations changes what it may be.
        int mode = system.Mode(lane);
        if (mode != one.Mode)
        {
            lastSteps[(lane * modes) + one.Mode] = (one.Step, one.Landing);
            one.Mode = mode;
            (double step, double landing) = lastSteps[(lane * modes) + mode];
            one.Step = step > 0 ? step : one.Step;
            one.Landing = step > 0 ? landing : one.Step;
            one.Grows = true;
        }

        return response == EventResponse.Stop ? OdeOutcome.StoppedByEvent : one.Steps < stepLimit ? null : OdeOutcome.StepLimit;
    }

    /// <summary>The mark that a step has passed, the first of them as far as a straight line tells; −1 for none but the one it led to.</summary>
    private int Passed(int lane, ReadOnlySpan<LockstepMark> own, int target)
    {
        int passed = -1;
        double earliest = double.PositiveInfinity;
        for (int mark = 0; mark < own.Length; mark++)
        {
            double before = own[mark].Value - Component(y, own[mark].Component, lane);
            double after = own[mark].Value - Component(next, own[mark].Component, lane);
            if (mark == target)
            {
                continue;
            }

            // From a mark itself, the slope tells to which side it went.
            bool passes = before != 0 ? before * after <= 0 : Slope(own[mark].Component, lane) * after > 0;
            double part = before / (before - after);
            if (passes && part < earliest)
            {
                earliest = part;
                passed = mark;
            }
        }

        return passed;
    }

    /// <summary>The course of one lane.</summary>
    private struct Lane
    {
        /// <summary>Its member, and whether it only goes through the motions.</summary>
        public int Member;
        public bool IsIdle;

        /// <summary>The next step in time, and how long the present one is as far as known before.</summary>
        public double Step;
        public double Length;

        /// <summary>How long the next step may be that is taken in a marked component.</summary>
        public double Landing;

        /// <summary>The mark that the present step leads to and the component in which it is taken; −1 for a step in time.</summary>
        public int Target;
        public int Component;

        /// <summary>The mark that the next step must lead to, −1 for none, and how long the step was that passed it.</summary>
        public int Forced;
        public double Passing;
        public int Mode;
        public int Steps;
        public int Rejections;
        public bool Grows;
    }
}

/// <summary>Sums of vectors times numbers.</summary>
file static class LanesSums
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Lanes Plus(this Lanes sum, double factor, Lanes value) => Vector512.FusedMultiplyAdd(Vector512.Create(factor), value, sum);
}
