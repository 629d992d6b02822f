using System.Collections.Concurrent;
using System.Globalization;
using MathNet.Numerics;

namespace Magrail;

/// <summary>
/// The force per ampere of one coil over one station, in m (per turn and per tesla of the station's first remanence), as a function of the
/// coil's displacement from the station's origin: compiled once for a geometry and shared by all who ask.
/// </summary>
/// <remarks>
/// Near the station it is a sum of tabulated functions, each for the formula that fits its bodies (see <see cref="StationKernel"/>). Beyond
/// <see cref="NearLimit"/> it is d⁻⁴ times a polynomial in 1/d (odd stations: in 1/d²), which the multipole series of station and coil
/// makes converge; it holds to infinity, so that no tail is cut off. Before back iron the force falls off exponentially
/// and is cut where it is below the accuracy.
/// </remarks>
internal sealed class StationCurve
{
    /// <summary>The near part ends at this many times the sum of the radii that hold station and coil.</summary>
    private const double NearFactor = 2.5;

    /// <summary>Width of a cell at a feature, in clearances.</summary>
    private const double FirstCell = 2.5;

    /// <summary>The far border of a cell is this many times as far from the feature as its near border.</summary>
    private const double CellGrowth = 3;

    /// <summary>Between two features, the middle is a border of its own where they are this many times as far apart as the nearest borders.</summary>
    private const double MiddleCell = 2;

    /// <summary>Width of a cell, in clearances, that may hide a bend in its midst.</summary>
    private const double WideCell = 8;

    private const int CacheLimit = 1024;

    /// <summary>
    /// Decimal digits asked of the quadrature beyond those of the curve's accuracy, so that its error is within the tenth of the accuracy
    /// that is put down for it: n digits leave up to 2·10⁻ⁿ of the peak, where a corner's share in the integral is several times the peak,
    /// and two edges count.
    /// </summary>
    internal const double MoreDigits = 1.4;

    /// <summary>The error that a row of images with an end may leave, as a fraction of the peak.</summary>
    internal const double ImageError = 1e-6;

    private static readonly ConcurrentDictionary<Key, Lazy<StationCurve>> Cache = new();

    private readonly List<(AdaptiveChebyshev Table, StationKernel Kernel)> parts = [];
    private readonly double[] tailAhead;
    private readonly double[] tailBehind;
    private readonly bool odd;

    private StationCurve(Key key)
    {
        CoilSi coil = key.Coil;
        StationSi station = key.Station.SeenFrom(key.Across, key.Up);
        List<StationKernel> kernels = StationKernel.For(coil, station, key.Component);
        odd = kernels.TrueForAll(kernel => kernel.Center == 0 && kernel.Parity == (kernel.IsEdge ? Parity.Even : Parity.Odd));
        (double radius, double ahead, double axial) = Sizes(coil);
        bool iron = station.PlateDistance > 0;
        double bodies = 0;
        foreach (BodySi body in station.Bodies)
        {
            bodies = Math.Max(bodies, Math.Abs(body.Center.X) + (body.Roll == 0 ? body.HalfAlong : body.Radius));
        }

        double reach = station.Radius + radius;
        NearLimit = iron
            ? ahead + bodies + (station.PlateDistance * (3 - Math.Log(key.RelativeAccuracy)) / Math.PI)
            : NearFactor * reach;

        // Lateral forces vanish in the middle: their accuracy refers to the force along the track.
        double reference = key.Component == TrackAxis.Along
            ? 0
            : Of(coil, key.Station, 1e-3).Peak;
        double clearance = Clearance(coil, station);
        double digits = MoreDigits - Math.Log10(key.RelativeAccuracy);
        double scale = reference > 0 ? reference : FirstScale(kernels, ahead);
        for (int attempt = 0; ; attempt++)
        {
            parts.Clear();
            double quadrature = 0;
            foreach (StationKernel kernel in kernels)
            {
                double accuracy = digits;
                double limit = NearLimit + kernel.Half + Math.Abs(kernel.Center);
                double[] borders = Borders(coil, kernel, clearance, bodies, ahead, axial, limit);
                double noise = 4 * Rounding(coil, limit);
                double share = 0.3 * key.RelativeAccuracy * scale / kernels.Count;
                parts.Add((AdaptiveChebyshev.Fit(t => kernel.Value(t, accuracy), borders, share, noise, kernel.Costly), kernel));
                quadrature += Quadrature(kernel, coil, bodies, digits);
            }

            (Peak, PeakAt) = FindPeak();
            double fit = parts.Sum(part => (part.Kernel.IsEdge ? 2 : 1) * part.Table.ErrorBound);
            quadrature = Math.Max(quadrature, 0.1 * key.RelativeAccuracy * scale);
            ErrorBound = fit + quadrature + Rounding(coil, iron ? 10 * station.PlateDistance : reach);
            double against = Math.Max(Peak, reference);
            if (ErrorBound <= 0.85 * key.RelativeAccuracy * against || attempt == 3)
            {
                break;
            }

            // A magnet short against the coil leaves little of the difference between its two edges.
            digits += Math.Max(0, Math.Log10(scale / against)) + (attempt == 0 ? 0 : 1);
            scale = Math.Min(0.7 * scale, against);
        }

        Scale = Math.Max(Peak, reference);
        LeastCell = parts.Min(part => part.Table.LeastWidth);
        if (iron)
        {
            // What is cut: the images of a row with an end leave a small remainder that is not physics.
            tailAhead = tailBehind = [0];
            for (double d = NearLimit; d < 2 * NearLimit; d *= 1.05)
            {
                ErrorBound = Math.Max(ErrorBound, kernels.Sum(kernel => Math.Abs(Evaluate(kernel, d, 6))));
            }
        }
        else
        {
            int order = Math.Clamp((int)Math.Ceiling(1.2 - (0.75 * Math.Log10(key.RelativeAccuracy))), 5, 10) * (odd ? 1 : 2);
            tailAhead = FitTail(order, d => Far(key, station, d, digits - 2));
            tailBehind = odd ? tailAhead : FitTail(order, d => Far(key, station, -d, digits - 2));
            double near = Math.Pow(NearLimit, -4);
            foreach (double[] series in (ReadOnlySpan<double[]>)[tailAhead, tailBehind])
            {
                double error = (2 * (Math.Abs(series[^1]) + Math.Abs(series[^2]))) + (Math.Pow(10, 2 - digits) * Math.Abs(series[0]));
                ErrorBound = Math.Max(ErrorBound, near * error);
            }
        }

        if (ErrorBound > Scale * (iron ? Math.Max(key.RelativeAccuracy, ImageError) : key.RelativeAccuracy))
        {
            throw new ArgumentException(string.Create(
                CultureInfo.InvariantCulture,
                $"The force constant of the coil over a station is known to {ErrorBound / Scale:G3} of its peak, not to the {key.RelativeAccuracy:G3} asked for: the coil reaches {1e3 * radius:G3} mm from its middle, the magnets of a station {1e3 * station.Radius:G3} mm. The two must be of like size: take thinner wire or fewer turns."));
        }

        TailStrength = Math.Max(tailAhead.Sum(Math.Abs), tailBehind.Sum(Math.Abs));
        Reach = FindReach(key.RelativeAccuracy * Scale);
    }

    /// <summary>Beyond this displacement the tail's series takes over, m.</summary>
    public double NearLimit { get; }

    /// <summary>The greatest |K|, m.</summary>
    public double Peak { get; }

    /// <summary>What the accuracy refers to, m: the peak; for a lateral force that of the force along the track, where that is greater.</summary>
    public double Scale { get; }

    /// <summary>Where the greatest |K| is found, m.</summary>
    public double PeakAt { get; }

    /// <summary>The greatest error of <see cref="At"/>, m, as observed.</summary>
    public double ErrorBound { get; }

    /// <summary>Beyond this displacement |K| stays below the accuracy times the peak, m.</summary>
    public double Reach { get; }

    /// <summary>C in |K(d)| ≤ C/d⁴, valid beyond <see cref="NearLimit"/>, m⁵.</summary>
    public double TailStrength { get; }

    /// <summary>How often the integral was evaluated for the near part.</summary>
    public int SampleCount => parts.Sum(part => part.Table.SampleCount);

    /// <summary>The width of the narrowest cell of the fit, m: the scale of the curve's finest feature.</summary>
    public double LeastCell { get; }

    /// <summary>The curve for a geometry, from the cache or compiled now.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="station">The station; its remanences are divided by the first one's.</param>
    /// <param name="relativeAccuracy">The error allowed, as a fraction of the peak.</param>
    /// <param name="component">Which component of the force: along the track by default.</param>
    /// <param name="across">How far the coil is off the path, across, m.</param>
    /// <param name="up">How far the coil is off the path, upward, m.</param>
    public static StationCurve Of(
        in CoilSi coil, StationSi station, double relativeAccuracy, TrackAxis component = TrackAxis.Along, double across = 0, double up = 0)
    {
        double turns = coil.Turns;
        CoilSi perTurn = coil with
        {
            Full = PerTurn(coil.Full, turns),
            Last = PerTurn(coil.Last, turns),
        };
        var key = new Key(perTurn, station.PerTesla(), relativeAccuracy, component, across, up);
        if (Cache.Count > CacheLimit)
        {
            Cache.Clear();
        }

        return Cache.GetOrAdd(key, static k => new Lazy<StationCurve>(() => new StationCurve(k))).Value;
    }

    /// <summary>K at a displacement, m.</summary>
    public double At(double d) => Math.Abs(d) > NearLimit ? Tail(d) : Near(d);

    /// <summary>K by the tail's series, for |d| above <see cref="NearLimit"/>.</summary>
    public double Tail(double d)
    {
        double t = NearLimit / d;
        double t2 = t * t;
        double near2 = NearLimit * NearLimit;
        double s = (2 * (odd ? t2 : Math.Abs(t))) - 1;
        double sum = Clenshaw(d > 0 ? tailAhead : tailBehind, s) * t2 * t2 / (near2 * near2);
        return odd && d < 0 ? -sum : sum;
    }

    private double Near(double d)
    {
        double sum = 0;
        foreach ((AdaptiveChebyshev table, StationKernel kernel) in parts)
        {
            double from = d - kernel.Center;
            sum += kernel.IsEdge
                ? Signed(table, kernel.Parity, from + kernel.Half) - Signed(table, kernel.Parity, from - kernel.Half)
                : Signed(table, kernel.Parity, from);
        }

        return sum;
    }

    private static double Signed(AdaptiveChebyshev table, Parity parity, double t) => parity switch
    {
        Parity.None => table.At(t),
        Parity.Odd when t < 0 => -table.At(-t),
        _ => table.At(Math.Abs(t)),
    };

    private static double Evaluate(StationKernel kernel, double d, double digits)
    {
        double from = d - kernel.Center;
        return kernel.IsEdge
            ? kernel.Value(from + kernel.Half, digits) - kernel.Value(from - kernel.Half, digits)
            : kernel.Value(from, digits);
    }

    private static double Clenshaw(double[] c, double s)
    {
        double b1 = 0;
        double b2 = 0;
        for (int k = c.Length - 1; k > 0; k--)
        {
            (b1, b2) = ((2 * s * b1) - b2 + c[k], b1);
        }

        return (s * b1) - b2 + c[0];
    }

    private static WindingBlockSi PerTurn(in WindingBlockSi block, double turns)
        => block.Turns == 0 ? default : block with { Turns = block.Turns / turns };

    /// <summary>The radius that holds the coil, half its extent along the track, and half its axial length.</summary>
    private static (double Radius, double Ahead, double Axial) Sizes(in CoilSi coil)
    {
        double radius = 0;
        double ahead = 0;
        double length = 0;
        foreach (WindingBlockSi block in (ReadOnlySpan<WindingBlockSi>)[coil.Full, coil.Last])
        {
            if (block.Turns > 0)
            {
                double axial = Math.Max(Math.Abs(block.AxialFrom), Math.Abs(block.AxialTo));
                double x = coil.HalfWidth - coil.Corner;
                double z = coil.HalfHeight - coil.Corner;
                double outline = Math.Sqrt((x * x) + (z * z)) + coil.Corner + block.OuterDepth;
                radius = Math.Max(radius, Math.Sqrt((outline * outline) + (axial * axial)));
                ahead = Math.Max(ahead, coil.Axis == TrackAxis.Across ? coil.HalfWidth + block.OuterDepth : axial);
                length = Math.Max(length, axial);
            }
        }

        return (radius, ahead, length);
    }

    private static double Clearance(in CoilSi coil, StationSi station)
    {
        double least = double.PositiveInfinity;
        foreach (BodySi body in station.Bodies)
        {
            least = Math.Min(least, CoilClearance.Between(coil, body));
        }

        return Math.Max(least, 0.02 * coil.HalfWidth);
    }

    private static double FirstScale(List<StationKernel> kernels, double ahead)
    {
        double scale = 0;
        for (int i = 1; i <= 6; i++)
        {
            double t = 0.3 * i * ahead;
            scale = Math.Max(scale, kernels.Sum(kernel => Math.Abs(kernel.Value(t, 3)) + (kernel.Parity == Parity.None ? Math.Abs(kernel.Value(-t, 3)) : 0)));
        }

        return scale;
    }

    /// <summary>
    /// The error of the quadrature, seen by asking for two digits more where the winding passes over an edge. A few places do not show the
    /// worst: a tenth of the accuracy is put down for it at least.
    /// </summary>
    private static double Quadrature(StationKernel kernel, in CoilSi coil, double bodies, double digits)
    {
        double depth = Math.Max(coil.Full.OuterDepth, coil.Last.OuterDepth);
        double wide = coil.Axis == TrackAxis.Across ? coil.HalfWidth : 0.5 * (coil.Full.AxialTo - coil.Full.AxialFrom);
        double shift = kernel.IsEdge ? 0 : bodies;
        double[] probes =
        [
            0.1 * wide, wide - (0.3 * coil.Corner), wide + (0.8 * depth), wide + coil.Corner + (2 * depth),
        ];
        double[] places = [.. probes, .. shift == 0 ? [] : probes.Select(probe => probe - shift)];
        double[] seen = new double[places.Length];
        if (kernel.Costly)
        {
            Parallel.For(0, places.Length, See);
        }
        else
        {
            for (int i = 0; i < places.Length; i++)
            {
                See(i);
            }
        }

        return 5 * seen.Max();

        void See(int i) => seen[i] = Math.Abs(kernel.Value(places[i], digits) - kernel.Value(places[i], digits + 2));
    }

    /// <summary>
    /// The rounding of closed forms: differences of terms as large as r³/6 that are divided by the section.
    /// </summary>
    private static double Rounding(in CoilSi coil, double radius)
    {
        double worst = 0;
        foreach (WindingBlockSi block in (ReadOnlySpan<WindingBlockSi>)[coil.Full, coil.Last])
        {
            if (block.Turns > 0)
            {
                double section = (block.OuterDepth - block.InnerDepth) * (block.AxialTo - block.AxialFrom);
                worst += block.Turns * 1e-16 * Math.Pow(radius, 3) / section;
            }
        }

        return worst / coil.Turns;
    }

    /// <summary>First borders of cells: even where the winding passes over the edges of magnets, then growing.</summary>
    private static double[] Borders(
        in CoilSi coil, StationKernel kernel, double clearance, double bodies, double ahead, double axial, double limit)
    {
        if (kernel.IsEdge && coil.Axis == TrackAxis.Across)
        {
            return LegBorders(coil, clearance, limit);
        }

        double outer = (kernel.IsEdge ? axial : ahead + bodies) + (2 * clearance);
        double step = Math.Max(1.5 * clearance, outer / 12);
        var borders = new List<double> { 0 };
        int cells = Math.Max(2, (int)Math.Round(outer / step));
        for (int i = 1; i <= cells; i++)
        {
            borders.Add(outer * i / cells);
        }

        double width = 2 * step;
        while (borders[^1] + (1.5 * width) < limit)
        {
            borders.Add(borders[^1] + width);
            width *= 1.6;
        }

        borders.Add(limit);
        return kernel.Parity == Parity.None
            ? [.. borders.Skip(1).Reverse().Select(border => -border), .. borders]
            : [.. borders];
    }

    /// <summary>
    /// First borders of cells for an edge that passes under a flat coil: E has its features where the edge lies below the inmost and the
    /// outmost turn of a leg, as narrow as the clearance. Cells end there, and grow with the distance from there.
    /// </summary>
    private static double[] LegBorders(in CoilSi coil, double clearance, double limit)
    {
        WindingBlockSi block = coil.Full.Turns >= coil.Last.Turns ? coil.Full : coil.Last;
        double inner = coil.HalfWidth + block.InnerDepth;
        double outer = coil.HalfWidth + block.OuterDepth;
        var borders = new List<double>();
        AddGraded(borders, 0, inner, clearance, false, true);
        AddGraded(borders, inner, outer, clearance, true, true);
        AddGraded(borders, outer, limit, clearance, true, false);
        borders.Add(limit);

        // Where the corners begin, E has a bend as narrow as the clearance, too weak to show in the coefficients of a wide cell. Cells beside the
        // legs are narrower: a bend that falls on a border of theirs makes none of no width.
        double bend = coil.HalfWidth - coil.Corner;
        int after = borders.FindIndex(border => border > bend);
        if (bend > clearance && borders[after] - borders[after - 1] > WideCell * clearance)
        {
            borders.Insert(after, bend);
        }

        return [.. borders];
    }

    /// <summary>Adds the lower end and all borders within, with cells growing away from the ends that have features.</summary>
    private static void AddGraded(List<double> borders, double from, double to, double clearance, bool atFrom, bool atTo)
    {
        double length = to - from;
        double part = atFrom && atTo ? 0.5 * length : length;
        var distances = new List<double>();
        for (double distance = FirstCell * clearance; distance < part / Math.Sqrt(CellGrowth); distance *= CellGrowth)
        {
            distances.Add(distance);
        }

        borders.Add(from);
        if (atFrom)
        {
            borders.AddRange(distances.Select(distance => from + distance));
        }

        double last = distances.Count > 0 ? 2 * distances[^1] : FirstCell * clearance;
        if (atFrom && atTo && length > MiddleCell * last)
        {
            borders.Add(0.5 * (from + to));
        }

        if (atTo)
        {
            borders.AddRange(distances.Select(distance => to - distance).Reverse());
        }
    }

    private static double Far(Key key, StationSi station, double d, double digits)
    {
        (_, double ahead, _) = Sizes(key.Coil);

        // The nearest charge is no nearer than this. The sides of a turn nearly cancel: what is left is smaller by the square of
        // the coil's size over the distance, and the nodes must do for that.
        double distance = Math.Abs(d) - station.Radius - ahead;
        double amplified = digits + (2 * Math.Log10(Math.Abs(d) / Math.Max(ahead, key.Coil.HalfWidth)));
        Vector3D force = WindingElements.Far(key.Coil, distance, amplified, key.Component, IsMirrored(station))
            .ForceByDipoles(station, new(d, 0, 0), digits + 1);
        return key.Component switch
        {
            TrackAxis.Along => force.X,
            TrackAxis.Across => force.Y,
            _ => force.Z,
        };
    }

    /// <summary>Whether bodies and the charges of their faces are their own mirror image in z = 0.</summary>
    private static bool IsMirrored(StationSi station)
    {
        foreach (BodySi body in station.Bodies)
        {
            if (body.Center.Z != 0 || body.Roll != 0 || body.Magnetization == TrackAxis.Up)
            {
                return false;
            }
        }

        return true;
    }

    private double[] FitTail(int order, Func<double, double> far)
    {
        Span<double> values = stackalloc double[order];
        for (int j = 0; j < order; j++)
        {
            double s = 0.5 * (1 + Math.Cos(Math.PI * (j + 0.5) / order));
            double d = NearLimit / (odd ? Math.Sqrt(s) : s);
            values[j] = far(d) * Math.Pow(d, 4);
        }

        var series = new double[order];
        for (int k = 0; k < order; k++)
        {
            for (int j = 0; j < order; j++)
            {
                series[k] += (k == 0 ? 1.0 : 2.0) / order * Math.Cos(Math.PI * k * (j + 0.5) / order) * values[j];
            }
        }

        return series;
    }

    private (double Peak, double At) FindPeak()
    {
        const int Samples = 200;
        double best = 0;
        double at = 0;
        double step = NearLimit / Samples;
        for (int i = odd ? 0 : -Samples; i <= Samples; i++)
        {
            double size = Math.Abs(Near(i * step));
            if (size > best)
            {
                (best, at) = (size, i * step);
            }
        }

        // Golden section between the neighbors of the greatest sample.
        double golden = 0.5 * (Math.Sqrt(5) - 1);
        double from = Math.Max(at - step, -NearLimit);
        double to = Math.Min(at + step, NearLimit);
        for (int i = 0; i < 30; i++)
        {
            double left = to - (golden * (to - from));
            double right = from + (golden * (to - from));
            if (Math.Abs(Near(left)) > Math.Abs(Near(right)))
            {
                to = right;
            }
            else
            {
                from = left;
            }
        }

        double middle = 0.5 * (from + to);
        double refined = Math.Abs(Near(middle));
        return refined > best ? (refined, middle) : (best, at);
    }

    private double FindReach(double level)
    {
        if (TailStrength > level * Math.Pow(NearLimit, 4))
        {
            return Math.Pow(TailStrength / level, 0.25);
        }

        double d = NearLimit;
        while (d > LeastCell && Math.Abs(Near(d)) < level && Math.Abs(Near(-d)) < level)
        {
            d *= 0.98;
        }

        return d;
    }

    /// <summary>What a curve depends on.</summary>
    private sealed record Key(CoilSi Coil, StationSi Station, double RelativeAccuracy, TrackAxis Component, double Across, double Up);
}
