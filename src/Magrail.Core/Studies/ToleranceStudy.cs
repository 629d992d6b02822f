using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Statistics;
using Magrail.Numerics;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// How sure is the exit speed? Launchers as they come out of a workshop: every cause drawn from its <see cref="Spread"/>, independently of the others, and each
/// launched.
/// </summary>
/// <remarks>
/// Sample k is a function of the seed, of k and of the place of the cause in the list (Philox4x32-10), so that it is the same whatever the order, the number of cores or of samples.
/// </remarks>
public sealed class ToleranceStudy
{
    /// <summary>Describes the study.</summary>
    /// <param name="launcher">The launcher as drawn.</param>
    /// <param name="spreads">What varies, one cause or more.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentException">There is no cause, or a design number comes twice.</exception>
    public ToleranceStudy(Launcher launcher, params IReadOnlyList<Spread> spreads)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        ArgumentNullException.ThrowIfNull(spreads);
        Launcher = launcher;
        Spreads = [.. spreads.OrderBy(spread => Require.Present(spread, nameof(spreads)).MovesStrips)];
        if (Spreads.IsEmpty || Spreads.Select(spread => spread.Number.Name).Distinct().Count() < Spreads.Length)
        {
            throw new ArgumentException($"The causes are {(Spreads.IsEmpty ? "none" : string.Join(", ", Spreads.Select(spread => spread.Number.Name)))}; needed is one or more, each once.", nameof(spreads));
        }
    }

    /// <summary>The launcher as drawn.</summary>
    public Launcher Launcher { get; }

    /// <summary>What varies, in the order given, but for what moves strips: it comes last, after what lays them out.</summary>
    public ImmutableArray<Spread> Spreads { get; }

    /// <summary>The study in words.</summary>
    public override string ToString() => $"launchers drawn from {string.Join("; ", Spreads)}";

    /// <summary>Draws and launches.</summary>
    /// <param name="samples">How many launchers, 10 or more than thrice the causes, whichever is more.</param>
    /// <param name="seed">Tells runs apart; the same seed gives the same bits.</param>
    /// <param name="options">How; by default as <see cref="StudyOptions.Default"/>, without the limits. Only the whole study can be run: no part, and every point kept.</param>
    /// <param name="progress">Told from time to time.</param>
    /// <param name="cancellation">Stops the study.</param>
    /// <exception cref="ArgumentOutOfRangeException">There are too few samples.</exception>
    /// <exception cref="ArgumentException">The options ask for a part, or do not keep every point.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public ToleranceResult Run(
        int samples, [Dimensionless] int seed = 1, StudyOptions? options = null, IProgress<StudyProgress>? progress = null, CancellationToken cancellation = default)
    {
        Require.InRange(samples, Math.Max(10, (3 * Spreads.Length) + 1), int.MaxValue, "fewer tell nothing about the shares");
        StudyOptions asked = options ?? new StudyOptions { FindsLimits = false };
        if (asked.Part != StudyPart.Whole || asked.Keeps is not null)
        {
            throw new ArgumentException("A tolerance study needs all its points: no part, and nothing left out.", nameof(options));
        }

        var axes = Spreads.Select((spread, stream) =>
        {
            if (spread.IsEachStrip)
            {
                return EachStrip(spread, samples, (ulong)seed, (uint)stream, asked, cancellation);
            }

            ImmutableArray<double> values = [.. Enumerable.Range(0, samples).Select(k => spread.Quantile(Philox.Uniform((ulong)seed, (ulong)k, (uint)stream)))];
            return new StudyAxis(spread.Number, values, (launcher, k) => spread.Number.Apply(launcher, values[k]));
        });
        return new ToleranceResult(Spreads, Study.OfPoints(Launcher, [.. axes]).Run(asked, progress, cancellation));
    }

    /// <summary>Strips out of place on their own, told by what they alone do to the exit speed; see <see cref="Spread.EachStrip"/>.</summary>
    private StudyAxis EachStrip(Spread spread, int samples, ulong seed, uint stream, StudyOptions asked, CancellationToken cancellation)
    {
        int strips = Launcher.Contacts.StripCount;
        Launcher Moved(Launcher launcher, int k)
        {
            double[] shifts = [.. Enumerable.Range(0, strips).Select(i => spread.Quantile(Philox.Uniform(seed, (ulong)k, stream | ((uint)(i + 1) << 16))))];
            return launcher.Contacts.StripCount == strips
                ? launcher with { Contacts = launcher.Contacts.Shifted(shifts) }
                : throw Require.Fault("spreads", $"{launcher.Contacts.StripCount} strips", $"{strips}, as drawn", "a cause that changes their number leaves no place to be out of");
        }

        StudyResult alone = Study.OfPoints(Launcher, new StudyAxis(spread.Number, [.. new double[samples]], Moved))
            .Run(new StudyOptions { FindsLimits = false, Cores = asked.Cores, Launch = asked.Launch }, null, cancellation);
        double drawn = Launcher.Launch(asked.Launch).ExitSpeed.MetersPerSecond;
        return new StudyAxis(spread.Number, [.. alone.Points.Select(point => (point.ExitSpeed?.MetersPerSecond ?? 0) - drawn)], Moved);
    }
}

/// <summary>What a <see cref="ToleranceStudy"/> found.</summary>
/// <remarks>
/// Samples that cannot be launched, or do not release, count as an exit speed of zero among percentiles and as failures in <see cref="ProbabilityOf"/>; mean, deviation and
/// shares are those of the released.
/// </remarks>
public sealed class ToleranceResult
{
    private readonly double[] sorted;
    private readonly double[] speeds;
    private readonly double[] slopes;
    private readonly double[] deviations;

    internal ToleranceResult(ImmutableArray<Spread> spreads, StudyResult points)
    {
        Points = points;
        StudyPoint[] released = [.. points.Points.Where(point => point.ExitSpeed is not null)];
        sorted = [.. points.Points.Select(point => point.ExitSpeed?.MetersPerSecond ?? 0).Order()];
        speeds = [.. released.Select(point => point.ExitSpeed!.Value.MetersPerSecond)];
        int n = speeds.Length;
        int causes = spreads.Length;
        double mean = n == 0 ? double.NaN : speeds.Average();
        double variance = n < 2 ? double.NaN : speeds.Sum(speed => (speed - mean) * (speed - mean)) / (n - 1);
        Mean = Speed.FromMetersPerSecond(mean);
        StandardDeviation = Speed.FromMetersPerSecond(Math.Sqrt(variance));
        slopes = new double[causes];
        deviations = [.. spreads.Select((spread, j) => spread.IsEachStrip ? Math.Sqrt(released.Select(point => point.Values[j]).Variance()) : spread.Deviation)];
        if (n <= causes + 2 || !(variance > 0))
        {
            Shares = [.. spreads.Select(spread => new ToleranceShare(spread, double.NaN, double.NaN, double.NaN, Speed.FromMetersPerSecond(double.NaN)))];
            Unexplained = double.NaN;
            return;
        }

        // v = a + Σ b_j z_j + e by least squares, z_j the cause in its own standard deviations from its mean, or from where it does nothing.
        Matrix<double> matrix = Matrix<double>.Build.Dense(n, causes + 1, (row, column) => column == 0 ? 1 : (released[row].Values[column - 1] - spreads[column - 1].Mean) / deviations[column - 1]);
        Vector<double> right = Vector<double>.Build.Dense(speeds);
        Vector<double> fit = matrix.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin).Solve(right);
        Vector<double> left = right - (matrix * fit);
        double noise = left.DotProduct(left) / (n - causes - 1);
        Matrix<double> inverse = matrix.TransposeThisAndMultiply(matrix).Inverse();
        Unexplained = Math.Min(1, noise / variance);
        var shares = new ToleranceShare[causes];
        for (int j = 0; j < causes; j++)
        {
            double slope = slopes[j] = fit[j + 1];
            double error = Math.Sqrt(noise * inverse[j + 1, j + 1]);

            // The variance is the sample's, so the cause's must be too: its nominal spread would give more or less than all of it.
            double drawn = matrix.Column(j + 1).Variance();
            double share = slope * slope * drawn / variance;
            shares[j] = new ToleranceShare(
                spreads[j],
                share,
                2 * Math.Abs(slope) * error * drawn / variance,
                0.75 * share / spreads[j].CostOfHalving,
                Speed.FromMetersPerSecond(slope));
        }

        Shares = [.. shares.OrderByDescending(share => share.Share)];
        Spreads = spreads;
        Released = [.. released];
    }

    /// <summary>Every sample: what was drawn, and what came of it.</summary>
    public StudyResult Points { get; }

    /// <summary>Mean exit speed of those released.</summary>
    public Speed Mean { get; }

    /// <summary>Standard deviation of the exit speed of those released.</summary>
    public Speed StandardDeviation { get; }

    /// <summary>
    /// The share of each cause in the variance, the greatest first: of first order, by regression of the exit speed on all causes. They add up to about one, less
    /// <see cref="Unexplained"/>.
    /// </summary>
    public ImmutableArray<ToleranceShare> Shares { get; }

    /// <summary>The part of the variance that no straight line explains: curvature, causes that act on each other, launches that jump.</summary>
    [Dimensionless]
    public double Unexplained { get; }

    /// <summary>
    /// The cheapest tolerance to tighten: halving it takes most of the variance away for its <see cref="Spread.CostOfHalving"/>.
    /// </summary>
    public ToleranceShare Cheapest => Shares.MaxBy(share => share.GainForCost)!;

    private ImmutableArray<Spread> Spreads { get; } = [];

    private ImmutableArray<StudyPoint> Released { get; } = [];

    /// <summary>The exit speed below which a part of all launchers stays, between its neighbors in order by a straight line.</summary>
    /// <param name="part">0 to 1: 0.05 for the slowest twentieth.</param>
    /// <exception cref="ArgumentOutOfRangeException">The part is not within 0 to 1.</exception>
    public Speed Percentile([Dimensionless] double part)
    {
        Require.InRange(part, 0, 1, "a part of all lies between none and all");
        return Speed.FromMetersPerSecond(Quantile(sorted, part));
    }

    /// <summary>How probable it is that a launcher reaches a speed.</summary>
    /// <param name="needed">The speed.</param>
    /// <exception cref="ArgumentOutOfRangeException">The speed is not finite.</exception>
    public Probability ProbabilityOf(Speed needed)
    {
        double least = Require.Finite(needed, "a need is a number").MetersPerSecond;
        return Probability.Of(sorted.Count(speed => speed >= least && speed > 0), sorted.Length);
    }

    /// <summary>The same, had the spread of one cause been half as wide: each sample moved along the regression's line, halfway to the cause's mean, or, for strips each on its own, to where they belong.</summary>
    /// <param name="cause">The share of the cause.</param>
    /// <param name="needed">The speed.</param>
    /// <exception cref="ArgumentNullException">The cause is null.</exception>
    /// <exception cref="ArgumentException">The cause is of another study.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The speed is not finite.</exception>
    public Probability ProbabilityWithHalved(ToleranceShare cause, Speed needed)
    {
        ArgumentNullException.ThrowIfNull(cause);
        double least = Require.Finite(needed, "a need is a number").MetersPerSecond;
        int j = Spreads.IndexOf(cause.Spread);
        if (j < 0)
        {
            throw new ArgumentException("The cause is none of this study.", nameof(cause));
        }

        int reaching = 0;
        for (int i = 0; i < speeds.Length; i++)
        {
            double z = (Released[i].Values[j] - cause.Spread.Mean) / deviations[j];
            reaching += speeds[i] - (0.5 * slopes[j] * z) >= least ? 1 : 0;
        }

        return Probability.Of(reaching, sorted.Length);
    }

    /// <summary>The result in words.</summary>
    public override string ToString()
    {
        var lines = new List<string>
        {
            $"exit speed {Show.Quantity(Mean)}, standard deviation {Show.Quantity(StandardDeviation)}; nine in ten between {Show.Quantity(Percentile(0.05))} and {Show.Quantity(Percentile(0.95))}",
        };
        if (speeds.Length < sorted.Length)
        {
            lines.Add($"{sorted.Length - speeds.Length} of {sorted.Length} were not released");
        }

        lines.AddRange(Shares.Select(share => share.ToString()));
        lines.Add($"not explained by straight lines: {Show.Number(100 * Unexplained)} % of the variance");
        lines.Add($"the cheapest tolerance to tighten: {Cheapest.Spread.Number.Name}");
        return string.Join(Environment.NewLine, lines);
    }

    /// <summary>The value at a part of sorted values, neighbors joined by a straight line (h = (n − 1) p, as most packages do by default).</summary>
    internal static double Quantile(ReadOnlySpan<double> sorted, double part)
    {
        double place = part * (sorted.Length - 1);
        int below = (int)Math.Floor(place);
        int above = Math.Min(below + 1, sorted.Length - 1);
        return sorted[below] + ((place - below) * (sorted[above] - sorted[below]));
    }
}

/// <summary>The share of one cause in the variance of the exit speed.</summary>
/// <param name="Spread">The cause.</param>
/// <param name="Share">Its share, of first order: the variance that it would leave alone, were the speed a straight line in it.</param>
/// <param name="StandardError">Standard error of the share, from that of the slope.</param>
/// <param name="GainForCost">The part of the variance that halving the spread takes away, over <see cref="Spread.CostOfHalving"/>.</param>
/// <param name="PerDeviation">What one standard deviation of the cause does to the exit speed.</param>
public sealed record ToleranceShare(
    Spread Spread,
    [property: Dimensionless] double Share,
    [property: Dimensionless] double StandardError,
    [property: Dimensionless] double GainForCost,
    Speed PerDeviation)
{
    /// <summary>The share in words.</summary>
    public override string ToString()
        => $"{Spread.Number.Name}: {Show.Number(100 * Share)} % ± {Show.Number(100 * StandardError)} % of the variance, {Show.Quantity(PerDeviation)} for a standard deviation";
}

/// <summary>A probability from a count, with its standard error.</summary>
/// <param name="Value">The part that was counted, 0 to 1.</param>
/// <param name="StandardError">
/// √(p (1 − p)/n), with p = (count + ½)/(n + 1) in place of the part counted, so that a count of none or all is not taken for certainty.
/// </param>
public readonly record struct Probability([property: Dimensionless] double Value, [property: Dimensionless] double StandardError)
{
    /// <summary>The probability in words.</summary>
    public override string ToString() => $"{Show.Number(100 * Value)} % ± {Show.Number(100 * StandardError)} %";

    internal static Probability Of(int count, int all)
    {
        double p = (count + 0.5) / (all + 1);
        return new((double)count / all, Math.Sqrt(p * (1 - p) / all));
    }
}
