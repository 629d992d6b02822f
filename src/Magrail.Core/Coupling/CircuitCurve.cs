using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Magrail.Numerics;
using MathNet.Numerics;
using UnitsNet;

namespace Magrail;

/// <summary>
/// K(x) of a circuit of coils in series over a whole track, in N/A: the force on the sled per ampere, positive toward +x, as a
/// function of the place x of the sled's reference mark.
/// </summary>
/// <remarks>
/// K(x) = Σ sense_j Σ polarity_s k_j(x + offset_j - x_s), with k_j the curve of coil j over one station. The path is divided
/// into equal cells, each with one polynomial of degree 11, so that an evaluation is one look-up and one polynomial however
/// many stations there are. On a regular track the cells of two pitches that see the same pattern of stations within
/// the reach are one and the same, up to sign.
/// </remarks>
internal sealed class CircuitCurve
{
    private const int Stride = PiecewisePolynomial.Degree + 1;
    private const int CacheLimit = 64;

    private static readonly ConcurrentDictionary<Key, Lazy<CircuitCurve>> Cache = new();

    /// <summary>Accuracy enough to lay out contact strips by.</summary>
    public const double LayoutAccuracy = 1e-7;

    private readonly double[] coefficients;
    private readonly int[] cells;
    private readonly double start;
    private readonly double cellsPerLength;
    private readonly double factor;

    private CircuitCurve(CircuitCurve shape, double factor)
    {
        coefficients = shape.coefficients;
        cells = shape.cells;
        start = shape.start;
        cellsPerLength = shape.cellsPerLength;
        From = shape.From;
        To = shape.To;
        DistinctCells = shape.DistinctCells;
        this.factor = factor;
        Peak = factor * shape.Peak;
        ErrorBound = factor * shape.ErrorBound;
    }

    private CircuitCurve(Func<double, double> function, double from, double to, int cellCount)
    {
        From = from;
        To = to;
        factor = 1;
        start = from;
        cellsPerLength = cellCount / (to - from);
        DistinctCells = cellCount;
        cells = [.. Enumerable.Range(0, cellCount).Select(cell => 2 * cell)];
        coefficients = new double[cellCount * Stride];
        Span<double> samples = stackalloc double[Stride];
        for (int cell = 0; cell < cellCount; cell++)
        {
            for (int i = 0; i < Stride; i++)
            {
                samples[i] = function(from + ((cell + (0.5 * (1 + PiecewisePolynomial.CellNodes[i]))) / cellsPerLength));
                Peak = Math.Max(Peak, Math.Abs(samples[i]));
            }

            Span<double> powers = coefficients.AsSpan(cell * Stride, Stride);
            PiecewisePolynomial.Interpolate(samples, powers);
            foreach (double check in PiecewisePolynomial.CellChecks)
            {
                double exact = function(from + ((cell + (0.5 * (1 + check))) / cellsPerLength));
                ErrorBound = Math.Max(ErrorBound, 2 * Math.Abs(PiecewisePolynomial.Evaluate(powers, check) - exact));
            }
        }
    }

    private CircuitCurve(Key key)
    {
        From = key.From;
        To = key.To;
        factor = 1;
        Layout layout = Layout.Of(key);
        double tolerance = 0.5 * key.RelativeAccuracy * layout.StationPeak;
        double before = double.PositiveInfinity;
        int perGroup = Math.Max(2, (int)Math.Ceiling(layout.GroupWidth / (1.5 * layout.LeastCell)));
        while (true)
        {
            Attempt attempt = layout.Fit(perGroup);
            double bound = attempt.Worst + layout.Remainder + layout.CurveError;
            if (attempt.Worst <= tolerance || attempt.Worst > 0.7 * before)
            {
                double allowed = layout.Iron ? Math.Max(key.RelativeAccuracy, StationCurve.ImageError) : key.RelativeAccuracy;
                if (bound > 2 * allowed * layout.StationPeak)
                {
                    throw new NonConvergenceException(
                        $"The force constant of the circuit reaches {bound / layout.StationPeak:G3} of a station's peak, not {key.RelativeAccuracy:G3}.");
                }

                coefficients = [.. attempt.Coefficients];
                cells = attempt.Cells;
                start = layout.Start;
                cellsPerLength = perGroup / layout.GroupWidth;
                Peak = attempt.Peak;
                ErrorBound = bound;
                DistinctCells = attempt.Coefficients.Count / Stride;
                return;
            }

            before = attempt.Worst;
            double growth = 1.1 * Math.Pow(attempt.Worst / tolerance, 1.0 / Stride);
            perGroup = (int)Math.Ceiling(perGroup * Math.Clamp(growth, 1.2, 2));
        }
    }

    /// <summary>The lower end of the path, m.</summary>
    public double From { get; }

    /// <summary>The upper end of the path, m.</summary>
    public double To { get; }

    /// <summary>The greatest |K| among the samples, N/A.</summary>
    public double Peak { get; }

    /// <summary>The greatest error of <see cref="At"/>, N/A, as observed, what far stations leave out included.</summary>
    public double ErrorBound { get; }

    /// <summary>How many different polynomials the path needs.</summary>
    public int DistinctCells { get; }

    /// <summary>The width of a cell, m.</summary>
    public double CellWidth => 1 / cellsPerLength;

    /// <summary>The bytes that the polynomials and the table of cells take.</summary>
    public long Bytes => (sizeof(double) * (long)coefficients.Length) + (sizeof(int) * (long)cells.Length);

    /// <summary>Compiles the curve of a circuit, or finds it in the cache: the cache goes by geometry alone.</summary>
    /// <param name="track">The track.</param>
    /// <param name="coils">The coils in series, one or more.</param>
    /// <param name="from">Lower end of the path of the reference mark, m.</param>
    /// <param name="to">Upper end, m.</param>
    /// <param name="relativeAccuracy">The error allowed, as a fraction of the peak over one station; down to 1e-11.</param>
    /// <param name="magnets">The magnets' temperature; 20 °C if left out. Remanences follow it, the geometry does not.</param>
    /// <param name="component">Which component of the force: along the track by default.</param>
    /// <param name="across">How far the coils are off the path, across, m.</param>
    /// <param name="up">How far the coils are off the path, upward, m.</param>
    /// <exception cref="ArgumentOutOfRangeException">The ends are not finite or not in order, the accuracy or the temperature is out of range, or a sense is neither +1 nor -1.</exception>
    /// <exception cref="ArgumentException">A coil would run into magnets.</exception>
    /// <exception cref="NonConvergenceException">The accuracy is out of reach.</exception>
    public static CircuitCurve Compile(
        Track track,
        IReadOnlyList<CircuitCoil> coils,
        double from,
        double to,
        double relativeAccuracy = 1e-7,
        Temperature? magnets = null,
        TrackAxis component = TrackAxis.Along,
        double across = 0,
        double up = 0)
    {
        ArgumentNullException.ThrowIfNull(track);
        ArgumentNullException.ThrowIfNull(coils);
        Require.InRange(coils.Count, 1, 1000, "a circuit has at least one coil");
        Require.InRange(from, -1e6, 1e6, "a path has finite ends");
        Require.InRange(to, Math.BitIncrement(from), 1e6, "a path ends ahead of where it starts");
        Require.InRange(relativeAccuracy, 1e-12, 1e-2, "double precision carries no more");
        var key = new Key(magnets is { } temperature ? track.ToSi(temperature) : track.ToSi(), coils, from, to, relativeAccuracy, component, across, up);
        if (Cache.Count > CacheLimit)
        {
            Cache.Clear();
        }

        CircuitCurve shape = Cache.GetOrAdd(key, static k => new Lazy<CircuitCurve>(() => new CircuitCurve(k))).Value;
        return new CircuitCurve(shape, key.Factor);
    }

    /// <summary>A curve given as a function, for launches whose result is known in closed form.</summary>
    /// <param name="function">K in N/A at a place in m; smooth.</param>
    /// <param name="from">Lower end, m.</param>
    /// <param name="to">Upper end, m.</param>
    /// <param name="cellCount">How many polynomials of degree 11 share the path.</param>
    internal static CircuitCurve OfFunction(Func<double, double> function, double from, double to, int cellCount = 1)
        => new(function, from, to, cellCount);

    /// <summary>K at a place of the reference mark, N/A; zero outside the path; NaN at NaN. Allocates nothing.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double At(double x)
    {
        if (x < From || x > To)
        {
            return 0;
        }

        double u = (x - start) * cellsPerLength;
        int cell = Math.Clamp((int)u, 0, cells.Length - 1);
        double s = (2 * (u - cell)) - 1;
        int code = cells[cell];
        double value = factor * PiecewisePolynomial.Evaluate(coefficients.AsSpan((code >> 1) * Stride, Stride), s);
        return (code & 1) == 0 ? value : -value;
    }

    /// <summary>Whether two curves come from one compilation and differ by a factor at most.</summary>
    public bool SharesCellsWith(CircuitCurve other) => ReferenceEquals(coefficients, other.coefficients);

    /// <summary>One trial with a number of cells per group.</summary>
    private sealed record Attempt(List<double> Coefficients, int[] Cells, double Worst, double Peak);

    /// <summary>One coil over one station of the track: a curve, its weight, and the x of the mark where its displacement is zero.</summary>
    private readonly record struct Term(StationCurve Curve, double Weight, double Center);

    /// <summary>The terms of a circuit and the division of its path into groups of cells.</summary>
    private sealed class Layout
    {
        private readonly Term[] terms;
        private readonly int stations;
        private readonly int coils;
        private readonly string[] patterns;
        private readonly bool[] turned;
        private readonly double near;

        /// <summary>Stations farther than this from the middle of a group are left out there.</summary>
        private double cut = double.PositiveInfinity;

        private Layout(Key key)
        {
            TrackSi track = key.Track;
            stations = track.Positions.Length;
            coils = key.Coils.Length;
            terms = new Term[stations * coils];
            double first = Math.Abs(track.Stations[0].Remanence);
            var curves = new Dictionary<(int, StationSi), StationCurve>();
            var kinds = new Dictionary<StationSi, int>();
            var kind = new int[stations];
            double far = 0;
            for (int s = 0; s < stations; s++)
            {
                StationSi station = track.Stations[s];
                Iron |= station.PlateDistance > 0;
                if (!kinds.TryGetValue(station, out kind[s]))
                {
                    kind[s] = kinds[station] = kinds.Count;
                }

                for (int j = 0; j < coils; j++)
                {
                    (CoilSi coil, double offset, double weight) = key.Coils[j];
                    if (!curves.TryGetValue((j, station), out StationCurve? curve))
                    {
                        curves[(j, station)] = curve = StationCurve.Of(coil, station, 0.2 * key.RelativeAccuracy, key.Component, key.Across, key.Up);
                    }

                    double amplitude = weight * track.Signs[s] * station.Remanence / first;
                    terms[(s * coils) + j] = new(curve, amplitude, track.Positions[s] - offset);
                    StationPeak = Math.Max(StationPeak, Math.Abs(amplitude) * curve.Scale);
                    far = Math.Max(far, curve.NearLimit);
                }
            }

            LeastCell = curves.Values.Min(curve => curve.LeastCell);
            double mean = stations > 1 ? (track.Positions[^1] - track.Positions[0]) / (stations - 1) : 0;
            bool regular = stations > 1;
            for (int s = 0; s < stations && regular; s++)
            {
                regular = Math.Abs(track.Positions[s] - track.Positions[0] - (s * mean)) <= 1e-12 * Math.Max(mean, Math.Abs(track.Positions[s]));
            }

            double length = key.To - key.From;
            GroupWidth = regular ? mean : Math.Min(length, 12 * LeastCell);
            Start = regular
                ? track.Positions[0] + (Math.Floor((key.From - track.Positions[0]) / mean) * mean)
                : key.From;
            int groups = Math.Max(1, (int)Math.Ceiling((key.To - Start) / GroupWidth));
            near = Math.Max(far, 4 * GroupWidth) + (0.5 * GroupWidth);

            // Errors of the curves add up over the stations in the near part alone; far away they are a fraction of a small value.
            int close = 0;
            for (int t = 0; t < terms.Length; t++)
            {
                if (Math.Abs(terms[t].Center - terms[0].Center) <= near)
                {
                    close++;
                }
            }

            CurveError = 0.2 * Math.Min(2 * close, terms.Length) * terms.Max(term => Math.Abs(term.Weight) * term.Curve.ErrorBound);

            patterns = new string[groups];
            turned = new bool[groups];
            if (regular)
            {
                Share(track, kind, mean, key.RelativeAccuracy * StationPeak);
            }
            else
            {
                for (int g = 0; g < groups; g++)
                {
                    patterns[g] = g.ToString(System.Globalization.CultureInfo.InvariantCulture);
                }
            }
        }

        public double Start { get; }

        public double GroupWidth { get; }

        public double LeastCell { get; }

        public double StationPeak { get; private set; }

        /// <summary>The sum of all that is left out beyond the window of a pattern.</summary>
        public double Remainder { get; private set; }

        public double CurveError { get; }

        /// <summary>Whether there is iron, whose images leave an error of their own.</summary>
        public bool Iron { get; private set; }

        public static Layout Of(Key key) => new(key);

        public Attempt Fit(int perGroup)
        {
            int groups = patterns.Length;
            var done = new Dictionary<string, (int First, bool Turned)>();
            var coefficients = new List<double>();
            var cells = new int[groups * perGroup];
            double worst = 0;
            double peak = 0;
            Span<double> samples = stackalloc double[Stride];
            Span<double> powers = stackalloc double[Stride];
            Span<double> far = stackalloc double[Stride];
            var close = new List<Term>();
            ReadOnlySpan<double> nodes = PiecewisePolynomial.CellNodes;
            double width = GroupWidth / perGroup;
            for (int g = 0; g < groups; g++)
            {
                if (!done.TryGetValue(patterns[g], out (int First, bool Turned) found))
                {
                    found = (coefficients.Count / Stride, turned[g]);
                    done[patterns[g]] = found;
                    double low = Start + (g * GroupWidth);
                    double middle = low + (0.5 * GroupWidth);
                    samples.Clear();
                    close.Clear();
                    foreach (ref readonly Term term in terms.AsSpan())
                    {
                        double away = Math.Abs(term.Center - middle);
                        if (away <= near)
                        {
                            close.Add(term);
                        }
                        else if (away <= cut)
                        {
                            for (int i = 0; i < Stride; i++)
                            {
                                samples[i] += term.Weight * term.Curve.Tail(middle + (0.5 * GroupWidth * nodes[i]) - term.Center);
                            }
                        }
                    }

                    PiecewisePolynomial.Interpolate(samples, far);
                    for (int c = 0; c < perGroup; c++)
                    {
                        double center = low + ((c + 0.5) * width);
                        for (int i = 0; i < Stride; i++)
                        {
                            samples[i] = Sum(close, far, center + (0.5 * width * nodes[i]), middle);
                            peak = Math.Max(peak, Math.Abs(samples[i]));
                        }

                        PiecewisePolynomial.Interpolate(samples, powers);
                        coefficients.AddRange(powers);
                        foreach (double s in PiecewisePolynomial.CellChecks)
                        {
                            double exact = Sum(close, far, center + (0.5 * width * s), middle);
                            worst = Math.Max(worst, 2 * Math.Abs(exact - PiecewisePolynomial.Evaluate(powers, s)));
                        }
                    }
                }

                int flip = found.Turned == turned[g] ? 0 : 1;
                for (int c = 0; c < perGroup; c++)
                {
                    cells[(g * perGroup) + c] = ((found.First + c) << 1) | flip;
                }
            }

            return new(coefficients, cells, worst, peak);
        }

        private double Sum(List<Term> close, ReadOnlySpan<double> far, double x, double middle)
        {
            double sum = PiecewisePolynomial.Evaluate(far, (x - middle) / (0.5 * GroupWidth));
            foreach (ref readonly Term term in System.Runtime.InteropServices.CollectionsMarshal.AsSpan(close))
            {
                sum += term.Weight * term.Curve.At(x - term.Center);
            }

            return sum;
        }

        /// <summary>Names each group by the pattern of stations within a window, so that equal patterns share their cells.</summary>
        private void Share(TrackSi track, int[] kind, double pitch, double allowed)
        {
            // What lies beyond a distance D: |K| ≤ C/d⁴, and stations at one pitch p add up to at most C/D⁴ + C/(3 p D³) on each
            // side; where signs alternate the sum is below its first term.
            double strength = 0;
            for (int j = 0; j < coils; j++)
            {
                strength += Math.Abs(terms[j].Weight) * terms[j].Curve.TailStrength;
            }

            bool alternating = true;
            double reach = 0;
            for (int s = 1; s < stations; s++)
            {
                alternating &= track.Signs[s] == -track.Signs[s - 1] && kind[s] == kind[0];
            }

            double heaviest = 1;
            for (int s = 0; s < stations; s++)
            {
                heaviest = Math.Max(heaviest, track.Stations[s].Remanence / track.Stations[0].Remanence);
            }

            for (int j = 0; j < coils; j++)
            {
                reach = Math.Max(reach, Math.Abs(terms[j].Center - track.Positions[0]));
            }

            // Curves of different kinds have tails of different strengths.
            for (int t = 0; t < terms.Length; t++)
            {
                strength = Math.Max(strength, coils * Math.Abs(terms[t].Weight) * terms[t].Curve.TailStrength);
            }

            strength *= heaviest;
            double target = 0.1 * allowed;
            double distance = near + pitch;
            double Left(double d) => 2 * strength / Math.Pow(d, 4) * (alternating ? 1 : 1 + (d / (3 * pitch)));
            double everything = (pitch * (stations + patterns.Length)) + reach;
            while (Left(distance) > target && distance < everything)
            {
                distance *= 1.1;
            }

            if (distance < everything)
            {
                cut = distance + (0.5 * pitch);
                Remainder = Left(distance);
            }

            // Every station within the cut of a group's middle lies inside this window about the group's lower end.
            int window = (int)Math.Ceiling((Math.Min(distance, everything) + reach) / pitch) + 1;
            int offset = (int)Math.Round((Start - track.Positions[0]) / pitch);
            var text = new char[(2 * window) + 2];
            for (int g = 0; g < patterns.Length; g++)
            {
                int sign = 0;
                for (int w = 0; w < text.Length; w++)
                {
                    int s = g + offset + w - window;
                    if (s < 0 || s >= stations)
                    {
                        text[w] = 'o';
                        continue;
                    }

                    sign = sign == 0 ? track.Signs[s] : sign;
                    text[w] = (char)('p' + (2 * kind[s]) + (track.Signs[s] == sign ? 0 : 1));
                }

                patterns[g] = new string(text);
                turned[g] = sign < 0;
            }
        }
    }

    /// <summary>What a circuit's curve depends on, amplitudes divided by the first coil's turns and the first station's remanence.</summary>
    private sealed class Key : IEquatable<Key>
    {
        private readonly int hash;

        public Key(
            TrackSi track,
            IReadOnlyList<CircuitCoil> coils,
            double from,
            double to,
            double relativeAccuracy,
            TrackAxis component,
            double across,
            double up)
        {
            Component = component;
            Across = across;
            Up = up;
            double turns = coils[0].Coil.Turns;
            Track = track;
            From = from;
            To = to;
            RelativeAccuracy = relativeAccuracy;
            Factor = turns * track.Stations[0].Remanence;
            Coils = new (CoilSi, double, double)[coils.Count];
            for (int j = 0; j < coils.Count; j++)
            {
                CoilSi coil = coils[j].Coil;
                if (coils[j].Sense is not (1 or -1))
                {
                    throw Require.Fault("Sense", Show.Number(coils[j].Sense), "+1 or -1", "a coil is connected one way or the other");
                }

                double own = coil.Turns;
                Require.InRange(coils[j].Offset, -1e6, 1e6, "a coil has a place on the sled");
                Coils[j] = (
                    coil with
                    {
                        Full = coil.Full with { Turns = coil.Full.Turns / own },
                        Last = coil.Last with { Turns = coil.Last.Turns / own },
                    },
                    coils[j].Offset,
                    coils[j].Sense * own / turns);
            }

            var code = default(HashCode);
            code.Add(track.Positions.Length);
            code.Add(from);
            code.Add(to);
            code.Add(relativeAccuracy);
            code.Add(component);
            code.Add(across);
            code.Add(up);
            foreach ((CoilSi Coil, double Offset, double Weight) coil in Coils)
            {
                code.Add(coil);
            }

            code.Add(track.Stations[0].PerTesla());
            code.Add(track.Positions[^1]);
            hash = code.ToHashCode();
        }

        public TrackSi Track { get; }

        public (CoilSi Coil, double Offset, double Weight)[] Coils { get; }

        public double From { get; }

        public double To { get; }

        public double RelativeAccuracy { get; }

        public double Factor { get; }

        public TrackAxis Component { get; }

        public double Across { get; }

        public double Up { get; }

        public bool Equals(Key? other)
            => other is not null && hash == other.hash && From.Equals(other.From) && To.Equals(other.To)
                && RelativeAccuracy.Equals(other.RelativeAccuracy) && Component == other.Component
                && Across.Equals(other.Across) && Up.Equals(other.Up) && Coils.AsSpan().SequenceEqual(other.Coils)
                && SameGeometry(Track, other.Track);

        public override bool Equals(object? obj) => Equals(obj as Key);

        public override int GetHashCode() => hash;

        private static bool SameGeometry(TrackSi a, TrackSi b)
        {
            if (ReferenceEquals(a, b))
            {
                return true;
            }

            if (!a.Positions.AsSpan().SequenceEqual(b.Positions) || !a.Signs.AsSpan().SequenceEqual(b.Signs))
            {
                return false;
            }

            StationSi? lastA = null;
            StationSi? lastB = null;

            // To the bit: which of two launchers comes first must not show in the curve of the other.
            double firstA = a.Stations[0].Remanence;
            double firstB = b.Stations[0].Remanence;
            for (int i = 0; i < a.Stations.Length; i++)
            {
                if (ReferenceEquals(a.Stations[i], lastA) && ReferenceEquals(b.Stations[i], lastB))
                {
                    continue;
                }

                (lastA, lastB) = (a.Stations[i], b.Stations[i]);
                if (!(lastB.Remanence / firstB).Equals(lastA.Remanence / firstA) || !lastA.PerTesla().Equals(lastB.PerTesla()))
                {
                    return false;
                }
            }

            return true;
        }
    }
}
