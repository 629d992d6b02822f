using System.Collections.Concurrent;
using MathNet.Numerics;

namespace Magrail;

/// <summary>
/// K of one flat coil over one station, in m (per turn and per tesla of the station's first remanence), as a function of the
/// coil's displacement from the station's origin: compiled once for a geometry and shared by all who ask.
/// </summary>
/// <remarks>
/// Near the station K is the difference of two values of one tabulated function for each magnet width and height (see
/// <see cref="FlatCoilIntegral"/>). Beyond <see cref="NearLimit"/> it is d⁻⁴ times a polynomial in 1/d (odd stations: in
/// 1/d²), which the multipole series of station and coil makes converge; it holds to infinity, so that no tail is cut off.
/// </remarks>
internal sealed class StationCurve
{
    /// <summary>The near part ends at this many times the sum of the radii that hold station and coil.</summary>
    private const double NearFactor = 2.5;

    private const int CacheLimit = 1024;

    private static readonly ConcurrentDictionary<(CoilSi, StationSi, double), Lazy<StationCurve>> Cache = new();

    private readonly (AdaptiveChebyshev Edge, double Center, double Half)[] parts;
    private readonly double[] tailAhead;
    private readonly double[] tailBehind;
    private readonly bool odd;
    private readonly double edgeLimit;

    private StationCurve(in CoilSi coil, StationSi station, double relativeAccuracy)
    {
        odd = true;
        double sideways = 0;
        double longest = 0;
        foreach (ref readonly BodySi body in station.Bodies)
        {
            odd &= body.Center.X == 0;
            sideways = Math.Max(sideways, Math.Abs(body.Center.X));
            longest = Math.Max(longest, body.HalfAlong);
        }

        double radius = station.Radius + CoilRadius(coil);
        NearLimit = NearFactor * radius;
        edgeLimit = NearLimit + longest + sideways;

        // The tolerance refers to the peak, which is known after a first fit only.
        double digits = 1.2 - Math.Log10(relativeAccuracy);
        double scale = Math.Abs(FlatCoilIntegral.Edge(coil, station.Bodies, coil.HalfWidth + (0.5 * coil.Full.OuterDepth), 3));
        for (int attempt = 0; ; attempt++)
        {
            parts = Fit(coil, station, digits, 0.15 * relativeAccuracy * scale);
            (Peak, PeakAt) = FindPeak();
            double fit = parts.Sum(part => 2 * part.Edge.ErrorBound);
            ErrorBound = fit + Quadrature(coil, station, digits) + Rounding(coil, radius);
            if (ErrorBound <= 0.6 * relativeAccuracy * Peak || attempt == 3)
            {
                break;
            }

            // A magnet short against the coil leaves little of the difference between its two edges.
            digits += Math.Max(0, Math.Log10(scale / Peak)) + (attempt == 0 ? 0 : 1);
            scale = Math.Min(0.7 * scale, Peak);
        }

        if (ErrorBound > relativeAccuracy * Peak)
        {
            throw new NonConvergenceException(
                $"The force constant over a station reaches {ErrorBound / Peak:G3} of its peak, not {relativeAccuracy:G3}.");
        }

        LeastCell = parts.Min(part => part.Edge.LeastWidth);
        int order = Math.Clamp((int)Math.Ceiling(1.2 - (0.75 * Math.Log10(relativeAccuracy))), 5, 10);
        CoilSi copy = coil;
        tailAhead = FitTail(order, d => FlatCoilIntegral.PerTurnFar(copy, station, d, digits - 2));
        tailBehind = odd ? tailAhead : FitTail(order, d => FlatCoilIntegral.PerTurnFar(copy, station, -d, digits - 2));
        double near = Math.Pow(NearLimit, -4);
        foreach (double[] series in (ReadOnlySpan<double[]>)[tailAhead, tailBehind])
        {
            ErrorBound = Math.Max(ErrorBound, near * ((2 * (Math.Abs(series[^1]) + Math.Abs(series[^2]))) + (Math.Pow(10, 2 - digits) * Math.Abs(series[0]))));
        }

        TailStrength = Math.Max(tailAhead.Sum(Math.Abs), tailBehind.Sum(Math.Abs));
        Reach = Math.Max(NearLimit, Math.Pow(TailStrength / (relativeAccuracy * Peak), 0.25));
    }

    /// <summary>Beyond this displacement the tail's series takes over, m.</summary>
    public double NearLimit { get; }

    /// <summary>The greatest |K|, m.</summary>
    public double Peak { get; }

    /// <summary>Where the greatest |K| is found, m.</summary>
    public double PeakAt { get; }

    /// <summary>The greatest error of <see cref="At"/>, m, as observed.</summary>
    public double ErrorBound { get; }

    /// <summary>Beyond this displacement |K| stays below the accuracy times the peak, m.</summary>
    public double Reach { get; }

    /// <summary>C in |K(d)| ≤ C/d⁴, valid beyond <see cref="NearLimit"/>, m⁵.</summary>
    public double TailStrength { get; }

    /// <summary>How often the integral was evaluated for the near part.</summary>
    public int SampleCount => parts.Sum(part => part.Edge.SampleCount);

    /// <summary>The width of the narrowest cell of the fit, m: the scale of the curve's finest feature.</summary>
    public double LeastCell { get; }

    /// <summary>The curve for a geometry, from the cache or compiled now.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="station">The station; its remanences are divided by the first one's.</param>
    /// <param name="relativeAccuracy">The error allowed, as a fraction of the peak.</param>
    public static StationCurve Of(in CoilSi coil, StationSi station, double relativeAccuracy)
    {
        if (coil.Axis != TrackAxis.Across)
        {
            throw Require.Fault(nameof(coil), $"wound about the {coil.Axis} axis", "wound about the axis across the gap", "the force per ampere is computed for flat coils alone so far");
        }

        double turns = coil.Turns;
        CoilSi perTurn = coil with
        {
            Full = PerTurn(coil.Full, turns),
            Last = PerTurn(coil.Last, turns),
        };
        (CoilSi, StationSi, double) key = (perTurn, station.PerTesla(), relativeAccuracy);
        if (Cache.Count > CacheLimit)
        {
            Cache.Clear();
        }

        return Cache.GetOrAdd(key, static k => new Lazy<StationCurve>(() => new StationCurve(k.Item1, k.Item2, k.Item3))).Value;
    }

    /// <summary>K at a displacement, m.</summary>
    public double At(double d) => Math.Abs(d) > NearLimit ? Tail(d) : Near(d);

    private double Near(double d)
    {
        double sum = 0;
        foreach ((AdaptiveChebyshev edge, double center, double half) in parts)
        {
            sum += edge.At(Math.Abs(d - center + half)) - edge.At(Math.Abs(d - center - half));
        }

        return sum;
    }

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

    private static double CoilRadius(in CoilSi coil)
    {
        double radius = 0;
        foreach (WindingBlockSi block in (ReadOnlySpan<WindingBlockSi>)[coil.Full, coil.Last])
        {
            if (block.Turns > 0)
            {
                double axial = Math.Max(Math.Abs(block.AxialFrom), Math.Abs(block.AxialTo));
                double x = coil.HalfWidth - coil.Corner;
                double z = coil.HalfHeight - coil.Corner;
                double outline = Math.Sqrt((x * x) + (z * z)) + coil.Corner + block.OuterDepth;
                radius = Math.Max(radius, Math.Sqrt((outline * outline) + (axial * axial)));
            }
        }

        return radius;
    }

    /// <summary>The error of the quadrature, seen by asking for two digits more where the corners pass over an edge.</summary>
    private static double Quadrature(in CoilSi coil, StationSi station, double digits)
    {
        double depth = Math.Max(coil.Full.OuterDepth, coil.Last.OuterDepth);
        ReadOnlySpan<double> probes =
        [
            0.1 * coil.HalfWidth, coil.HalfWidth - (0.7 * coil.Corner), coil.HalfWidth, coil.HalfWidth + (0.3 * depth),
            coil.HalfWidth + (0.8 * depth), coil.HalfWidth + (1.6 * depth), coil.HalfWidth + coil.Corner + (2 * depth),
        ];
        double worst = 0;
        foreach (double t in probes)
        {
            double error = FlatCoilIntegral.Edge(coil, station.Bodies, t, digits) - FlatCoilIntegral.Edge(coil, station.Bodies, t, digits + 2);
            worst = Math.Max(worst, Math.Abs(error));
        }

        return 3 * worst;
    }

    /// <summary>
    /// The rounding of the closed form along the legs: differences of terms as large as r³/6 that are divided by the section.
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

    private (AdaptiveChebyshev Edge, double Center, double Half)[] Fit(CoilSi coil, StationSi station, double digits, double tolerance)
    {
        var groups = new Dictionary<(double Center, double Half), List<BodySi>>();
        foreach (ref readonly BodySi body in station.Bodies)
        {
            (double, double) key = (body.Center.X, body.HalfAlong);
            if (!groups.TryGetValue(key, out List<BodySi>? members))
            {
                groups[key] = members = [];
            }

            members.Add(body);
        }

        double[] borders = Borders(coil);
        double share = tolerance / groups.Count;
        return
        [
            .. groups.Select(group =>
            {
                BodySi[] members = [.. group.Value];
                return (AdaptiveChebyshev.Fit(t => FlatCoilIntegral.Edge(coil, members, t, digits), borders, share), group.Key.Center, group.Key.Half);
            }),
        ];
    }

    private double[] Borders(in CoilSi coil)
    {
        double depth = Math.Max(coil.Full.OuterDepth, coil.Last.OuterDepth);
        double step = 0.33 * depth;
        double inner = Math.Max(0, coil.HalfWidth - (2 * step));
        double outer = coil.HalfWidth + depth + (2 * step);
        var borders = new List<double> { 0 };
        if (inner > step)
        {
            borders.Add(0.5 * inner);
            borders.Add(inner);
        }

        double from = borders[^1];
        int cells = Math.Max(2, (int)Math.Round((outer - from) / step));
        for (int i = 1; i <= cells; i++)
        {
            borders.Add(from + ((outer - from) * i / cells));
        }

        double width = 2 * step;
        while (borders[^1] + (1.5 * width) < edgeLimit)
        {
            borders.Add(borders[^1] + width);
            width *= 1.6;
        }

        borders.Add(edgeLimit);
        return [.. borders];
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
}
