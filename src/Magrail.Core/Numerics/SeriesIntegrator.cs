using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Lanes = System.Runtime.Intrinsics.Vector512<double>;

namespace Magrail.Numerics;

/// <summary>
/// Integrates one launch or an ensemble of copies of a small system by power series in time, eight members at a time in the lanes of a vector. Each lane has its own step and its own time; a lane whose member is at its
/// end takes the next one.
/// </summary>
/// <remarks>
/// The series comes from the equations themselves, coefficient by coefficient; how long a step may be is read off its last two coefficients before the step is taken, so that none is refused. A mark is met on the series: where
/// it is passed is a root of a polynomial. A component does not pass a mark and come back unseen: a step is cut until a bound on the series tells that the component moves one way within it or stays away from
/// the mark, or moves less than the absolute tolerance (and down to a millionth of the step; then the signs at its ends decide). Marks met at one instant are told one after the other. A series
/// of which four orders in a row are empty, as of y'' = −t⁴ y from y' = 0, may be taken for ended: such a system needs steps of its own. Allocates nothing in a run. Not safe for two threads at once.
/// On machines without vectors of 512 bits the runtime takes two or more narrower ones.
/// Source: E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary Differential Equations I, section I.8 (power series from the equations); À. Jorba, M. Zou, A software package for the numerical integration of ODEs by
/// means of high-order Taylor methods, Experimental Mathematics 14 (2005) 99-117 (the step from the last two coefficients).
/// </remarks>
/// <typeparam name="TSystem">The system; a struct is called without indirection.</typeparam>
public sealed class SeriesIntegrator<TSystem>
    where TSystem : IQuadraticSystem
{
    /// <summary>How many members are integrated at once.</summary>
    public const int LaneCount = 8;

    // A step is halved this often to see that a component moves one way.
    private const int MostHalvings = 20;

    // Newton's corrections double the digits: after one of this part of the step the next would be below rounding.
    private const double Converged = 1e-8;
    private const int MostCorrections = 60;

    // With this many coefficients, and every so many more, it is looked whether the steps reach far enough already: beyond the next mark by this much.
    private const int FirstLook = 6;
    private const int NextLook = 4;
    private const double Margin = 1.1;

    private static readonly Lanes All = Vector512<long>.AllBitsSet.AsDouble();

    private readonly int dimension;
    private readonly int width;
    private readonly int highest;
    private readonly double relative;
    private readonly double[] absolute;
    private readonly int[] first;
    private readonly int[] second;
    private readonly int[] marked;
    private readonly AlignedRows rows;
    private readonly int productRow;
    private readonly int scaledRow;
    private readonly int endRow;
    private readonly int spreadRow;
    private readonly int goalRow;
    private readonly int metRow;
    private readonly int pathRow;
    private readonly double[] scratch;
    private readonly double[] goals;
    private readonly double[] numbers;
    private readonly double[] inverses;
    private readonly int[] membersOfLanes = new int[LaneCount];
    private TSystem system;
    private Lanes steps;
    private Lanes stepsBefore;
    private Lanes times;
    private Lanes reach;
    private Lanes idle;
    private Vector512<long> counts;
    private Vector512<long> targets;
    private int degree;

    /// <summary>Makes an integrator for a system.</summary>
    /// <param name="system">The system; its dimensions, products and marked components are read once, here.</param>
    /// <param name="tolerances">The accuracy asked for.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The system has no component, a product or a mark of one that is not there, or fewer absolute tolerances than components.</exception>
    public SeriesIntegrator(TSystem system, Tolerances tolerances)
    {
        ArgumentNullException.ThrowIfNull(system);
        ArgumentNullException.ThrowIfNull(tolerances);
        this.system = system;
        dimension = Require.InRange(system.Dimension, 1, 1000, "a system has at least one component", "system.Dimension");
        width = dimension + Require.InRange(system.AuxiliaryCount, 0, 1000, "a system has no fewer than no auxiliary components", "system.AuxiliaryCount");
        first = [.. system.Products.Select(pair => Factor(pair.First))];
        second = [.. system.Products.Select(pair => Factor(pair.Second))];
        marked = [.. system.MarkedComponents.Select(c => Require.InRange(c, 0, dimension - 1, "a mark is of a component of the state", "system.MarkedComponents"))];
        relative = tolerances.Relative;
        absolute = [.. Enumerable.Range(0, dimension).Select(tolerances.Absolute)];

        // A further digit is had for a further coefficient more cheaply than by shorter steps; up to a few more the cost hardly changes.
        highest = FirstLook + (int)Math.Ceiling(-Math.Log10(relative));
        productRow = width * (highest + 1);
        scaledRow = productRow + first.Length;
        endRow = scaledRow + width;
        spreadRow = endRow + dimension;
        goalRow = spreadRow + dimension;
        metRow = goalRow + marked.Length;
        pathRow = metRow + marked.Length;
        rows = new AlignedRows(pathRow + highest + 1);
        scratch = new double[dimension];
        goals = new double[marked.Length];
        numbers = [.. Enumerable.Range(0, highest + 1).Select(n => (double)n)];
        inverses = [.. Enumerable.Range(0, highest + 1).Select(n => 1.0 / (n + 1))];

        int Factor(int component) => Require.InRange(component, 0, width - 1, "a product is of components that are there", "system.Products");
    }

    /// <summary>Steps taken in the last run, of all members together.</summary>
    public long Steps { get; private set; }

    /// <summary>Evaluations of the derivatives in the last run, one for each coefficient of each step, of all members together; those of idle lanes are not counted.</summary>
    public long Evaluations { get; private set; }

    /// <summary>The system, with what it kept.</summary>
    public TSystem System => system;

    /// <summary>Integrates all members of an ensemble, each from time 0 to its end.</summary>
    /// <param name="members">How many, 1 or more.</param>
    /// <param name="endTime">The time at which a member that has not ended is ended, above zero.</param>
    /// <param name="stepLimit">The most steps of a member, 1 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range.</exception>
    public void Run(int members, double endTime, int stepLimit = 1_000_000)
    {
        Require.InRange(members, 1, int.MaxValue, "an ensemble has a member");
        Require.InRange(endTime, double.Epsilon, double.MaxValue, "integration runs forward in time");
        Require.InRange(stepLimit, 1, int.MaxValue, "a run takes at least one step");
        Steps = 0;
        Evaluations = 0;
        int waiting = Math.Min(members, LaneCount);
        int running = waiting;
        idle = Lanes.Zero;
        for (int lane = 0; lane < LaneCount; lane++)
        {
            // Lanes without a member of their own go through the motions of the first.
            idle = idle.WithElement(lane, lane < members ? 0 : All[lane]);
            Begin(lane, lane < members ? lane : 0);
        }

        Lanes end = Vector512.Create(endTime);
        while (running > 0)
        {
            Expand(end);
            Evaluate();
            for (int halving = 0; halving < MostHalvings && Cut(); halving++)
            {
                Evaluate();
            }

            Land();
            Steps += running;
            Evaluations += (long)running * degree;
            for (ulong attention = Advance(end, stepLimit); attention != 0; attention &= attention - 1)
            {
                int lane = BitOperations.TrailingZeroCount(attention);
                if (Attend(lane, endTime, stepLimit) is OdeOutcome outcome)
                {
                    Read(lane);
                    system.OnEnd(lane, membersOfLanes[lane], outcome, times[lane], scratch);
                    if (waiting < members)
                    {
                        Begin(lane, waiting++);
                    }
                    else
                    {
                        idle = idle.WithElement(lane, All[lane]);
                        running--;
                    }
                }
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private ref Lanes Series(int order, int component) => ref rows[(order * width) + component];

    private ref double Number(int row, int lane) => ref Unsafe.Add(ref Unsafe.As<Lanes, double>(ref rows[row]), lane);

    private void Begin(int lane, int member)
    {
        membersOfLanes[lane] = member;
        system.Begin(lane, member, scratch);
        Write(lane);
        times = times.WithElement(lane, 0);
        stepsBefore = stepsBefore.WithElement(lane, 0);
        counts = counts.WithElement(lane, 0);
        AskMarks(lane);
    }

    private void AskMarks(int lane)
    {
        for (int mark = 0; mark < marked.Length; mark++)
        {
            Number(goalRow + mark, lane) = system.Mark(lane, mark);
        }
    }

    private void Read(int lane)
    {
        for (int c = 0; c < scratch.Length; c++)
        {
            scratch[c] = Number(c, lane);
        }
    }

    private void Write(int lane)
    {
        for (int c = 0; c < scratch.Length; c++)
        {
            Number(c, lane) = scratch[c];
        }
    }

    /// <summary>The series of all components about the present state, as far as the steps need it, and these steps.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Expand(Lanes end)
    {
        system.Complete(rows.Span(0, width));
        Span<Lanes> products = rows.Span(productRow, first.Length);
        Span<Lanes> scaled = rows.Span(scaledRow, width);
        for (int order = 0; order < highest; order++)
        {
            Multiply(order);
            Lanes share = Vector512.Create(inverses[order]);
            ref Lanes now = ref rows[order * width];
            for (int c = 0; c < scaled.Length; c++)
            {
                scaled[c] = share * Unsafe.Add(ref now, c);
            }

            Lanes one = order == 0 ? Lanes.One : Lanes.Zero;
            system.Derivatives(scaled, products, one, rows.Span((order + 1) * width, width));
            degree = order + 1;
            if (degree == 1)
            {
                SetReach(end);
            }
            else if (degree == highest || (degree >= FirstLook && (degree - FirstLook) % NextLook == 0 && !HasGap()))
            {
                SetSteps(end);
                if (!Vector512.LessThanAny(steps, reach))
                {
                    return;
                }
            }
        }
    }

    /// <summary>Whether a component has nothing in its last two orders and something in those before: what follows is not to be told from these.</summary>
    private bool HasGap()
    {
        Lanes gap = Lanes.Zero;
        for (int c = 0; c < dimension; c++)
        {
            gap |= Gap(c) & Vector512.GreaterThan(Vector512.Abs(Series(degree - 2, c)) + Vector512.Abs(Series(degree - 3, c)), Lanes.Zero);
        }

        return Vector512.AndNot(gap, idle).ExtractMostSignificantBits() != 0;
    }

    private Lanes Gap(int component)
        => Vector512.Equals(Vector512.Abs(Series(degree, component)) + Vector512.Abs(Series(degree - 1, component)), Lanes.Zero);

    /// <summary>The coefficients of one order of all products, by Cauchy's rule, over the order and one, as all that the derivatives are made of.</summary>
    /// <remarks>This and what calls it are kept apart from the rest: together they would need more registers than there are.</remarks>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Multiply(int order)
    {
        const int Row = LaneCount * sizeof(double);
        ref Lanes root = ref rows[0];
        nint stride = width * Row;
        nint last = order * stride;
        Lanes share = Vector512.Create(inverses[order]);
        int product = 0;
        for (; product + 3 < first.Length; product += 4)
        {
            ref Lanes a0 = ref Unsafe.Add(ref root, first[product]);
            ref Lanes a1 = ref Unsafe.Add(ref root, first[product + 1]);
            ref Lanes a2 = ref Unsafe.Add(ref root, first[product + 2]);
            ref Lanes a3 = ref Unsafe.Add(ref root, first[product + 3]);
            ref Lanes b0 = ref Unsafe.Add(ref root, second[product]);
            ref Lanes b1 = ref Unsafe.Add(ref root, second[product + 1]);
            ref Lanes b2 = ref Unsafe.Add(ref root, second[product + 2]);
            ref Lanes b3 = ref Unsafe.Add(ref root, second[product + 3]);
            Lanes s0 = Lanes.Zero, s1 = Lanes.Zero, s2 = Lanes.Zero, s3 = Lanes.Zero;
            if (first[product] == first[product + 1] && first[product] == first[product + 2])
            {
                // What three products share is loaded once.
                for (nint j = 0, k = last; k >= 0; j += stride, k -= stride)
                {
                    Lanes shared = Unsafe.AddByteOffset(ref a0, j);
                    s0 = Vector512.FusedMultiplyAdd(shared, Unsafe.AddByteOffset(ref b0, k), s0);
                    s1 = Vector512.FusedMultiplyAdd(shared, Unsafe.AddByteOffset(ref b1, k), s1);
                    s2 = Vector512.FusedMultiplyAdd(shared, Unsafe.AddByteOffset(ref b2, k), s2);
                    s3 = Vector512.FusedMultiplyAdd(Unsafe.AddByteOffset(ref a3, j), Unsafe.AddByteOffset(ref b3, k), s3);
                }
            }
            else
            {
                for (nint j = 0, k = last; k >= 0; j += stride, k -= stride)
                {
                    s0 = Vector512.FusedMultiplyAdd(Unsafe.AddByteOffset(ref a0, j), Unsafe.AddByteOffset(ref b0, k), s0);
                    s1 = Vector512.FusedMultiplyAdd(Unsafe.AddByteOffset(ref a1, j), Unsafe.AddByteOffset(ref b1, k), s1);
                    s2 = Vector512.FusedMultiplyAdd(Unsafe.AddByteOffset(ref a2, j), Unsafe.AddByteOffset(ref b2, k), s2);
                    s3 = Vector512.FusedMultiplyAdd(Unsafe.AddByteOffset(ref a3, j), Unsafe.AddByteOffset(ref b3, k), s3);
                }
            }

            ref Lanes sums = ref Unsafe.Add(ref root, productRow + product);
            sums = s0 * share;
            Unsafe.Add(ref sums, 1) = s1 * share;
            Unsafe.Add(ref sums, 2) = s2 * share;
            Unsafe.Add(ref sums, 3) = s3 * share;
        }

        for (; product < first.Length; product++)
        {
            ref Lanes a = ref Unsafe.Add(ref root, first[product]);
            ref Lanes b = ref Unsafe.Add(ref root, second[product]);
            Lanes sum = Lanes.Zero;
            for (nint j = 0, k = last; k >= 0; j += stride, k -= stride)
            {
                sum = Vector512.FusedMultiplyAdd(Unsafe.AddByteOffset(ref a, j), Unsafe.AddByteOffset(ref b, k), sum);
            }

            Unsafe.Add(ref root, productRow + product) = sum * share;
        }
    }

    /// <summary>How far ahead of each lane its next mark or its end lies, by the slopes that it has now.</summary>
    private void SetReach(Lanes end)
    {
        Lanes nearest = end - times;
        for (int mark = 0; mark < marked.Length; mark++)
        {
            Lanes ahead = Vector512.Create(Margin) * (rows[goalRow + mark] - Series(0, marked[mark])) / Series(1, marked[mark]);
            nearest = Vector512.ConditionalSelect(Vector512.GreaterThan(ahead, Lanes.Zero) & Vector512.LessThan(ahead, nearest), ahead, nearest);
        }

        reach = Vector512.AndNot(nearest, idle);
    }

    /// <summary>How long a step may be: so that neither of the last two terms of any component is more than what is allowed.</summary>
    /// <remarks>The bits of a number are its logarithm to base 2 to a tenth, times 2^52: near enough for a root of high order, without a division.</remarks>
    private void SetSteps(Lanes end)
    {
        Vector512<long> last = Vector512.Create(long.MinValue), before = last, earlier = last;
        for (int c = 0; c < dimension; c++)
        {
            // A component at zero now counts as the size that it would come to in a step as long as the one before.
            Lanes size = Vector512.Max(Vector512.Abs(Series(0, c)), Vector512.Abs(Series(1, c)) * stepsBefore);
            Vector512<long> allowed = Vector512.FusedMultiplyAdd(Vector512.Create(relative), size, Vector512.Create(absolute[c])).AsInt64();
            last = Vector512.Max(last, Vector512.Abs(Series(degree, c)).AsInt64() - allowed);
            before = Vector512.Max(before, Vector512.Abs(Series(degree - 1, c)).AsInt64() - allowed);
            earlier = Vector512.Max(earlier, (Gap(c) & Vector512.Max(Vector512.Abs(Series(degree - 2, c)), Vector512.Abs(Series(degree - 3, c)))).AsInt64() - allowed);
        }

        // A series with gaps (in powers of t⁴, say) may have nothing in its last two orders: then those before count.
        Lanes logarithm = Vector512.Min(Vector512.ConvertToDouble(last) * Vector512.Create(-inverses[degree - 1]), Vector512.ConvertToDouble(before) * Vector512.Create(-inverses[degree - 2]));
        logarithm = Vector512.Min(logarithm, Vector512.ConvertToDouble(earlier) * Vector512.Create(-inverses[degree - 4]));
        Lanes h = (Vector512.ConvertToInt64Native(logarithm) + Vector512.Create(0x3FF0000000000000)).AsDouble();
        steps = Vector512.Min(h, end - times);
    }

    /// <summary>The state at the end of the steps, and how far the slope of each component may be from that at their start.</summary>
    private void Evaluate()
    {
        Lanes h = steps;
        for (int c = 0; c < dimension; c++)
        {
            Lanes value = Series(degree, c);
            Lanes spread = Vector512.Create(numbers[degree]) * Vector512.Abs(value);
            for (int order = degree - 1; order > 1; order--)
            {
                Lanes a = Series(order, c);
                value = Vector512.FusedMultiplyAdd(value, h, a);
                spread = Vector512.FusedMultiplyAdd(spread, h, Vector512.Create(numbers[order]) * Vector512.Abs(a));
            }

            value = Vector512.FusedMultiplyAdd(value, h, Series(1, c));
            rows[endRow + c] = Vector512.FusedMultiplyAdd(value, h, Series(0, c));
            rows[spreadRow + c] = spread * h;
        }
    }

    /// <summary>Halves the steps in which a component may turn round near a mark of its own. True where there is such a step.</summary>
    private bool Cut()
    {
        Lanes unclear = Lanes.Zero;
        for (int mark = 0; mark < marked.Length; mark++)
        {
            Lanes from = Vector512.Abs(rows[goalRow + mark] - Series(0, marked[mark]));
            Lanes slope = Vector512.Abs(Series(1, marked[mark]));
            Lanes spread = rows[spreadRow + marked[mark]];
            Lanes most = steps * (slope + spread);
            unclear |= Vector512.LessThanOrEqual(from, most) & Vector512.LessThanOrEqual(slope, spread) & Vector512.GreaterThan(most, Vector512.Create(absolute[marked[mark]]));
        }

        unclear = Vector512.AndNot(unclear, idle);
        steps = Vector512.ConditionalSelect(unclear, Vector512.Create(0.5) * steps, steps);
        return unclear.ExtractMostSignificantBits() != 0;
    }

    /// <summary>Shortens the steps that pass marks to end at the first of them.</summary>
    private void Land()
    {
        targets = Vector512<long>.AllBitsSet;

        // Which of two marks is passed first is known once one of them is stepped to: then the other lies before it or not.
        for (int look = 0; look < marked.Length; look++)
        {
            Lanes earliest = Vector512.Create(double.PositiveInfinity);
            Lanes passes = Lanes.Zero;
            Vector512<long> found = targets;
            for (int mark = 0; mark < marked.Length; mark++)
            {
                Vector512<long> number = Vector512.Create((long)mark);
                Lanes from = rows[goalRow + mark] - Series(0, marked[mark]);
                Lanes to = rows[goalRow + mark] - rows[endRow + marked[mark]];
                Lanes part = from / (from - to);
                Lanes sooner = Vector512.LessThanOrEqual(from * to, Lanes.Zero) & Vector512.GreaterThan(part, Lanes.Zero) & Vector512.LessThanOrEqual(part, Lanes.One) & Vector512.LessThan(part, earliest);
                sooner = Vector512.AndNot(sooner, Vector512.Equals(targets, number).AsDouble());
                earliest = Vector512.ConditionalSelect(sooner, part, earliest);
                found = Vector512.ConditionalSelect(sooner.AsInt64(), number, found);
                passes |= sooner;
            }

            passes = Vector512.AndNot(passes, idle);
            if (passes.ExtractMostSignificantBits() == 0)
            {
                break;
            }

            targets = Vector512.ConditionalSelect(passes.AsInt64(), found, targets);
            StepTo(passes, earliest);
        }

        // What else is come to at the same instant, or within rounding of it, would lie behind the next step.
        for (int mark = 0; mark < marked.Length; mark++)
        {
            Lanes from = rows[goalRow + mark] - Series(0, marked[mark]);
            Lanes to = rows[goalRow + mark] - rows[endRow + marked[mark]];
            rows[metRow + mark] = Vector512.LessThanOrEqual(from * to, Lanes.Zero) & Vector512.GreaterThan(Vector512.Abs(from), Lanes.Zero);
        }
    }

    /// <summary>Shortens the steps of some lanes to end at their targets, by Newton's method within the bracket that the step is.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void StepTo(Lanes lands, Lanes part)
    {
        Span<Lanes> path = rows.Span(pathRow, degree + 1);
        path.Clear();
        for (int mark = 0; mark < marked.Length; mark++)
        {
            Lanes here = Vector512.Equals(targets, Vector512.Create((long)mark)).AsDouble() & lands;
            for (int order = 0; order < path.Length; order++)
            {
                path[order] |= Series(order, marked[mark]) & here;
            }

            path[0] -= rows[goalRow + mark] & here;
        }

        Lanes low = Lanes.Zero;
        Lanes high = steps;
        Lanes t = steps * part;
        Lanes near = Vector512.Create(Converged) * steps;
        for (int correction = 0; correction < MostCorrections; correction++)
        {
            Lanes value = path[^1];
            Lanes slope = Vector512.Create(numbers[degree]) * value;
            for (int order = degree - 1; order > 0; order--)
            {
                Lanes a = path[order];
                value = Vector512.FusedMultiplyAdd(value, t, a);
                slope = Vector512.FusedMultiplyAdd(slope, t, Vector512.Create(numbers[order]) * a);
            }

            value = Vector512.FusedMultiplyAdd(value, t, path[0]);

            // Before the root the value has the sign of the start.
            Lanes isBefore = Vector512.GreaterThan(value * path[0], Lanes.Zero);
            low = Vector512.ConditionalSelect(isBefore, t, low);
            high = Vector512.ConditionalSelect(isBefore, high, t);
            Lanes better = t - (value / slope);
            Lanes inside = Vector512.GreaterThanOrEqual(better, low) & Vector512.LessThanOrEqual(better, high);
            better = Vector512.ConditionalSelect(inside, better, Vector512.Create(0.5) * (low + high));
            Lanes change = Vector512.Abs(better - t);
            t = better;
            if (!Vector512.GreaterThanAny(change & lands, near))
            {
                break;
            }
        }

        steps = Vector512.ConditionalSelect(lands, t, steps);
        Evaluate();
    }

    /// <summary>Takes all lanes to the ends of their steps. A bit for each lane that is to be attended to.</summary>
    private ulong Advance(Lanes end, int stepLimit)
    {
        // Zero as long as all components are finite.
        Lanes sum = Lanes.Zero;
        for (int c = 0; c < dimension; c++)
        {
            Lanes next = rows[endRow + c];
            Series(0, c) = next;
            sum += next - next;
        }

        Lanes before = times;
        times = Vector512.ConditionalSelect(Vector512.Equals(steps, end - times), end, times + steps);
        stepsBefore = steps;
        counts += Vector512<long>.One;
        Lanes quiet = Vector512.GreaterThan(times, before) & Vector512.LessThan(times, end) & Vector512.Equals(sum, Lanes.Zero)
            & (Vector512.Equals(targets, Vector512<long>.AllBitsSet) & Vector512.LessThan(counts, Vector512.Create((long)stepLimit))).AsDouble();
        return ~(quiet | idle).ExtractMostSignificantBits() & ((1UL << LaneCount) - 1);
    }

    /// <summary>What is to be done for a lane at the end of its step; the outcome where its member is at its end.</summary>
    private OdeOutcome? Attend(int lane, double endTime, int stepLimit)
    {
        for (int c = 0; c < dimension; c++)
        {
            if (!double.IsFinite(Number(c, lane)))
            {
                return OdeOutcome.NotFinite;
            }
        }

        int target = (int)targets[lane];
        OdeOutcome? limit = counts[lane] >= stepLimit ? OdeOutcome.StepLimit : null;
        if (target < 0)
        {
            return times[lane] >= endTime ? OdeOutcome.ReachedEnd : limit ?? OdeOutcome.StepTooSmall;
        }

        for (int mark = 0; mark < goals.Length; mark++)
        {
            goals[mark] = Number(goalRow + mark, lane);
        }

        EventResponse response = Meet(lane, target);
        for (int mark = 0; mark < goals.Length && response != EventResponse.Stop; mark++)
        {
            // Marks met at one instant are told one after the other, unless the first has put an end to the second.
            bool isMet = BitConverter.DoubleToInt64Bits(Number(metRow + mark, lane)) != 0 || (marked[mark] == marked[target] && goals[mark] == goals[target]);
            if (mark != target && isMet && Number(goalRow + mark, lane) == goals[mark])
            {
                response = Meet(lane, mark);
            }
        }

        return response == EventResponse.Stop ? OdeOutcome.StoppedByEvent : limit;
    }

    private EventResponse Meet(int lane, int mark)
    {
        Number(marked[mark], lane) = goals[mark];
        Read(lane);
        EventResponse response = system.OnMark(lane, mark, times[lane], scratch);
        Write(lane);
        AskMarks(lane);
        return response;
    }
}
