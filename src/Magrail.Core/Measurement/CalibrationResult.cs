using System.Collections.Immutable;
using System.Globalization;
using Magrail.Numerics;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>What a calibration found, how sure it is, and what it refuses to say.</summary>
public sealed class CalibrationResult
{
    private readonly Launcher first;
    private readonly CalibrationUnknown[] unknowns;
    private readonly LeastSquaresFit fit;
    private readonly CalibrationOptions options;
    private readonly bool[] determined;
    private readonly double[] limits;
    private readonly double[] errors;
    private readonly double[,] covariance;
    private readonly int[] open;

    internal CalibrationResult(
        Launcher first, CalibrationUnknown[] unknowns, double[] lower, double[] upper, BenchTest[] tests, LeastSquaresFit fit, int measurements, CalibrationOptions options)
    {
        this.first = first;
        this.unknowns = unknowns;
        this.fit = fit;
        this.options = options;
        Unknowns = [.. unknowns];
        Measurements = measurements;
        limits = [.. unknowns.Select((unknown, j) => options.Precision * CauseModel.Size(first, unknown.Cause, fit.Parameters[j]))];


        // A cause on its bound is no better known for it: it counts as free, and makes the others uncertain with it.
        open = [.. Enumerable.Range(0, fit.Parameters.Length)];
        covariance = fit.CovarianceAmong(open);
        errors = [.. unknowns.Select((_, j) => Array.IndexOf(open, j) is int at && at >= 0 ? Math.Sqrt(covariance[at, at]) : 0)];
        determined = [.. unknowns.Select((_, j) => fit.Bounds[j] == 0 && errors[j] <= limits[j])];
        Verdicts = [.. FindVerdicts(lower, upper)];
        TestResiduals =
        [
            .. tests.Select((test, i) => string.Create(
                CultureInfo.InvariantCulture,
                $"{test.Name}: measured {test.Text(test.Value)} ± {test.Text(test.Error)}, calibrated {test.Text(test.Value + (fit.Residuals[i] * test.Error))}, {Math.Abs(fit.Residuals[i]):F1} standard errors off")),
        ];
    }

    /// <summary>What was to be found.</summary>
    public ImmutableArray<CalibrationUnknown> Unknowns { get; }

    /// <summary>How many measurements entered: frames or groups of them, bench tests, and what was known of the films.</summary>
    public int Measurements { get; }

    /// <summary>Whether every unknown was found.</summary>
    public bool IsDetermined => determined.All(one => one);

    /// <summary>What is refused or doubtful, a sentence each: causes that the data cannot tell apart and what would, causes on a bound, a model that does not fit.</summary>
    public ImmutableArray<string> Verdicts { get; }

    /// <summary>Each bench test beside what the calibrated launcher would give.</summary>
    public ImmutableArray<string> TestResiduals { get; }

    /// <summary>Root of the mean square of all residuals over their stated errors: about 1 where the model is right and the errors are.</summary>
    [Dimensionless]
    public double Misfit => fit.DegreesOfFreedom > 0 ? fit.ResidualDeviation : 0;

    /// <summary>Condition number of the fit: 1 where causes are told apart fully, above some 30 hardly.</summary>
    [Dimensionless]
    public double Condition => fit.Condition;

    /// <summary>Contact resistance of each brush; null where it was not asked or not found.</summary>
    public Measured<ElectricResistance>? ContactResistance => Find(CalibrationCause.ContactResistance, si => ElectricResistance.FromOhms(si));

    /// <summary>Drop of each brush; null where it was not asked or not found.</summary>
    public Measured<ElectricPotential>? BrushDrop => Find(CalibrationCause.BrushDrop, si => ElectricPotential.FromVolts(si));

    /// <summary>Resistance of the leads; null where it was not asked or not found.</summary>
    public Measured<ElectricResistance>? LeadResistance => Find(CalibrationCause.LeadResistance, si => ElectricResistance.FromOhms(si));

    /// <summary>Coefficient of sliding friction; null where it was not asked or not found.</summary>
    public Measured<Ratio>? SlidingFriction => Find(CalibrationCause.SlidingFriction, si => Ratio.FromDecimalFractions(si));

    /// <summary>Viscous friction at 1 m/s; null where it was not asked or not found.</summary>
    public Measured<Force>? ViscousFriction => Find(CalibrationCause.ViscousFriction, si => Force.FromNewtons(si));

    /// <summary>Remanence at 20 °C; null where it was not asked or not found.</summary>
    public Measured<MagneticField>? Remanence => Find(CalibrationCause.Remanence, si => MagneticField.FromTeslas(si));

    /// <summary>Clear gap; null where it was not asked or not found.</summary>
    public Measured<Length>? Gap => Find(CalibrationCause.Gap, si => Length.FromMeters(si));

    /// <summary>Whether a cause was found.</summary>
    /// <param name="cause">The cause.</param>
    /// <exception cref="ArgumentException">It was not among the unknowns.</exception>
    public bool Found(CalibrationCause cause) => determined[IndexOf(cause)];

    /// <summary>How the errors of two causes hang together, −1 to 1: at −1 more of one looks like more of the other's lack.</summary>
    /// <param name="one">A cause.</param>
    /// <param name="other">Another.</param>
    /// <exception cref="ArgumentException">One was not among the unknowns.</exception>
    [return: Dimensionless]
    public double Correlation(CalibrationCause one, CalibrationCause other) => CorrelationOf(IndexOf(one), IndexOf(other));

    /// <summary>This result, where every unknown was found.</summary>
    /// <exception cref="InvalidOperationException">One was not; the message says which, and what would find it.</exception>
    public CalibrationResult EnsureDetermined()
        => IsDetermined ? this : throw new InvalidOperationException(string.Join(" ", Verdicts));

    /// <summary>A launcher with what was found.</summary>
    /// <param name="launcher">A launcher of the same kind, such as one of the runs' own.</param>
    /// <exception cref="ArgumentNullException"><paramref name="launcher"/> is null.</exception>
    /// <exception cref="InvalidOperationException">Not every unknown was found.</exception>
    public Launcher Apply(Launcher launcher)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        EnsureDetermined();
        for (int j = 0; j < unknowns.Length; j++)
        {
            launcher = CauseModel.With(launcher, unknowns[j].Cause, fit.Parameters[j]);
        }

        return launcher;
    }

    /// <summary>Values, errors, correlations and verdicts in words.</summary>
    public override string ToString()
    {
        List<string> lines = [];
        for (int j = 0; j < unknowns.Length; j++)
        {
            lines.Add(determined[j]
                ? $"{Name(unknowns[j].Cause)} {Text(j, fit.Parameters[j])} ± {Text(j, fit.Quantile(options.Confidence) * errors[j])} ({100 * options.Confidence:G4} %)"
                : $"{Name(unknowns[j].Cause)} not found");
        }

        for (int j = 0; j < unknowns.Length; j++)
        {
            for (int k = 0; k < j; k++)
            {
                lines.Add(string.Create(CultureInfo.InvariantCulture, $"correlation of {Name(unknowns[k].Cause)} and {Name(unknowns[j].Cause)}: {CorrelationOf(k, j):F2}"));
            }
        }

        lines.Add(string.Create(CultureInfo.InvariantCulture, $"residuals {Misfit:F2} times their errors ({Measurements} measurements)"));
        return string.Join(Environment.NewLine, lines.Concat(TestResiduals).Concat(Verdicts));
    }

    /// <summary>A cause in words.</summary>
    internal static string Name(CalibrationCause cause) => cause switch
    {
        CalibrationCause.ContactResistance => "contact resistance",
        CalibrationCause.BrushDrop => "brush drop",
        CalibrationCause.LeadResistance => "lead resistance",
        CalibrationCause.SlidingFriction => "sliding friction",
        CalibrationCause.ViscousFriction => "viscous friction",
        CalibrationCause.Remanence => "remanence",
        _ => "gap",
    };

    /// <summary>What would separate two causes.</summary>
    private static string Experiment(CalibrationCause one, CalibrationCause other)
    {
        bool Are(CalibrationCause a, CalibrationCause b) => (one == a && other == b) || (one == b && other == a);
        bool Has(CalibrationCause a) => one == a || other == a;
        if (Are(CalibrationCause.ContactResistance, CalibrationCause.LeadResistance))
        {
            return "measure the cold resistance between the strips through the brushes, or the leads alone with the strips joined";
        }

        if (Are(CalibrationCause.BrushDrop, CalibrationCause.ContactResistance) || Are(CalibrationCause.BrushDrop, CalibrationCause.LeadResistance))
        {
            return "measure the voltage between the strips, through brushes and coil, at two held currents far apart, or film runs at very different currents";
        }

        if (Are(CalibrationCause.Remanence, CalibrationCause.Gap))
        {
            return "measure the gap with a gauge; pulls at a held current at many places between the peak and where there is none do it too, but far less sharply";
        }

        if (Are(CalibrationCause.SlidingFriction, CalibrationCause.ViscousFriction))
        {
            return "let the sled coast without current at two speeds and film how fast it slows down";
        }

        if (Has(CalibrationCause.SlidingFriction) || Has(CalibrationCause.ViscousFriction))
        {
            return "let the sled coast without current and film how fast it slows down, or film runs with another payload";
        }

        return Has(CalibrationCause.Remanence) || Has(CalibrationCause.Gap)
            ? "pull at a held current, or measure the voltage of the open coil as the sled coasts: no resistance is in either"
            : "measure one of them on the bench";
    }

    private static string Alone(CalibrationCause cause) => cause switch
    {
        CalibrationCause.ContactResistance => "measure the cold resistance between the strips through the brushes",
        CalibrationCause.BrushDrop => "measure the voltage between the strips, through brushes and coil, at two held currents far apart",
        CalibrationCause.LeadResistance => "measure the leads alone with the strips joined",
        CalibrationCause.SlidingFriction or CalibrationCause.ViscousFriction => "let the sled coast without current and film how fast it slows down",
        CalibrationCause.Remanence => "pull at a held current at the peak",
        _ => "measure the gap with a gauge",
    };

    private int IndexOf(CalibrationCause cause)
    {
        int index = Array.FindIndex(unknowns, unknown => unknown.Cause == cause);
        return index >= 0 ? index : throw new ArgumentException($"the {Name(cause)} was not among the unknowns.", nameof(cause));
    }

    private Measured<T>? Find<T>(CalibrationCause cause, Func<double, T> make)
        where T : struct, IQuantity
    {
        int j = Array.FindIndex(unknowns, unknown => unknown.Cause == cause);
        return j >= 0 && determined[j]
            ? new Measured<T>(fit.Parameters[j], errors[j], 0, fit.Quantile(options.Confidence) * errors[j], options.Confidence, make)
            : null;
    }

    private double CorrelationOf(int j, int k)
    {
        int a = Array.IndexOf(open, j), b = Array.IndexOf(open, k);
        return a == b ? 1 : a < 0 || b < 0 ? 0 : Math.Clamp(covariance[a, b] / Math.Sqrt(covariance[a, a] * covariance[b, b]), -1, 1);
    }

    private string Text(int j, double value) => unknowns[j].Cause switch
    {
        CalibrationCause.ContactResistance or CalibrationCause.LeadResistance => Show.Quantity(ElectricResistance.FromOhms(value)),
        CalibrationCause.BrushDrop => Show.Quantity(ElectricPotential.FromVolts(value)),
        CalibrationCause.SlidingFriction => Show.Number(value),
        CalibrationCause.ViscousFriction => Show.Quantity(Force.FromNewtons(value)),
        CalibrationCause.Remanence => Show.Quantity(MagneticField.FromTeslas(value)),
        _ => Show.Quantity(Length.FromMeters(value)),
    };

    private IEnumerable<string> FindVerdicts(double[] lower, double[] upper)
    {
        if (fit.Outcome == LeastSquaresOutcome.IterationLimit)
        {
            yield return "The fit did not settle; start it from a launcher described closer to the runs, or with closer bounds.";
        }

        bool[] told = new bool[unknowns.Length];
        int[] films = [.. open.Where(i => i >= unknowns.Length)];
        for (int j = 0; j < unknowns.Length; j++)
        {
            if (fit.Bounds[j] != 0 && errors[j] <= limits[j])
            {
                told[j] = true;
                yield return $"The {Name(unknowns[j].Cause)} ends on its bound of {Text(j, fit.Bounds[j] < 0 ? lower[j] : upper[j])}: the data ask for {(fit.Bounds[j] < 0 ? "less" : "more")} than is allowed, so either the bound or another cause is wrong.";
            }
        }

        for (int j = 0; j < unknowns.Length; j++)
        {
            for (int k = 0; k < j; k++)
            {
                if (errors[j] <= limits[j] || errors[k] <= limits[k] || Math.Abs(CorrelationOf(k, j)) < 0.9)
                {
                    continue;
                }

                // Each is found once the other is known: the data know a combination of the two, and not either.
                if (fit.StandardErrorAmong(j, [.. open.Where(i => i != k)]) <= limits[j] && fit.StandardErrorAmong(k, [.. open.Where(i => i != j)]) <= limits[k])
                {
                    told[j] = told[k] = true;
                    yield return string.Create(
                        CultureInfo.InvariantCulture,
                        $"These data cannot tell {Name(unknowns[k].Cause)} and {Name(unknowns[j].Cause)} apart (correlation {CorrelationOf(k, j):F2}): either is found once the other is known. To separate them, {Experiment(unknowns[k].Cause, unknowns[j].Cause)}.");
                }
            }
        }

        for (int j = 0; j < unknowns.Length; j++)
        {
            if (determined[j] || told[j])
            {
                continue;
            }

            bool alone = fit.StandardErrorAmong(j, [.. films.Append(j)]) <= limits[j];
            yield return alone
                ? $"These data cannot tell the {Name(unknowns[j].Cause)} from the other unknowns together. To find it, {Alone(unknowns[j].Cause)}."
                : $"These data say too little of the {Name(unknowns[j].Cause)}: were all else known, it would be known to ± {Text(j, fit.StandardErrorAmong(j, [.. films.Append(j)]))} (one standard error). To find it, {Alone(unknowns[j].Cause)}.";
        }

        for (int j = 0; j < unknowns.Length; j++)
        {
            for (int k = 0; k < j; k++)
            {
                if (determined[j] && determined[k] && Math.Abs(CorrelationOf(k, j)) >= 0.98)
                {
                    yield return string.Create(
                        CultureInfo.InvariantCulture,
                        $"{char.ToUpperInvariant(Name(unknowns[k].Cause)[0])}{Name(unknowns[k].Cause)[1..]} and {Name(unknowns[j].Cause)} are hardly told apart (correlation {CorrelationOf(k, j):F3}): their errors hold only as far as the runs depend on them in a straight line. To be surer, {Experiment(unknowns[k].Cause, unknowns[j].Cause)}.");
                }
            }
        }

        int degrees = fit.DegreesOfFreedom;
        if (degrees > 0 && Misfit > 1 + (3 / Math.Sqrt(2.0 * degrees)))
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"The model does not fit: residuals are {Misfit:F2} times their stated errors, where 1 is expected. Another cause is at work, or the errors are larger than stated; the errors above are then too small.");
        }
    }
}
