using System.Globalization;
using Magrail.Numerics;

namespace Magrail;

/// <summary>
/// Finds what cannot be drawn of a launcher (contact resistance, friction, remanence, gap) from one or many filmed runs and bench tests at once, by least
/// squares with bounds.
/// </summary>
/// <remarks>
/// <para>
/// Each unknown has one value in all runs and tests; volts, coils and payloads may differ from run to run. The residuals are those of the frames' positions over their
/// reading error, and of the tests over theirs. Each film's start, and its scale, frame time and origin as far as they are uncertain, are found with
/// the unknowns, so that their part is in every error stated.
/// </para>
/// <para>
/// The errors hold if the model is right and readings are independent: <see cref="CalibrationResult.Misfit"/> far above 1 says that something else is wrong.
/// A drop of the brushes that is not among the unknowns shows as a contact resistance that falls with the current.
/// </para>
/// </remarks>
public static class Calibration
{
    // Frames are taken together to no more residuals than this a film.
    private const int MostResiduals = 200;

    /// <summary>Finds the unknowns.</summary>
    /// <param name="unknowns">What to find, each cause once.</param>
    /// <param name="runs">Filmed runs, with the launcher of each; empty or null where there are bench tests alone.</param>
    /// <param name="tests">Bench tests; none where null.</param>
    /// <param name="options">How accurately, how sure; the defaults where null.</param>
    /// <exception cref="ArgumentNullException"><paramref name="unknowns"/> is null.</exception>
    /// <exception cref="ArgumentException">There is no unknown, a cause twice, fewer data than unknowns, too few frames on the way, or a track without facing pairs whose gap is asked.</exception>
    /// <exception cref="LauncherDescriptionException">The parts of a launcher do not go together.</exception>
    public static CalibrationResult Fit(
        IEnumerable<CalibrationUnknown> unknowns, IEnumerable<CalibrationRun>? runs, IEnumerable<BenchTest>? tests = null, CalibrationOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(unknowns);
        var problem = new Problem([.. unknowns], [.. runs ?? []], [.. tests ?? []], options ?? CalibrationOptions.Default);
        return problem.Solve();
    }

    private sealed class Problem
    {
        private readonly CalibrationUnknown[] unknowns;
        private readonly Film[] films;
        private readonly BenchTest[] tests;
        private readonly CalibrationOptions options;
        private readonly Launcher first;
        private readonly int residuals;

        // Launches by the values of the unknowns: slopes by a film's start need no new one.
        private readonly Dictionary<string, Predictions> known = [];

        public Problem(CalibrationUnknown[] unknowns, CalibrationRun[] runs, BenchTest[] tests, CalibrationOptions options)
        {
            this.unknowns = unknowns;
            this.tests = tests;
            this.options = options;
            if (unknowns.Length == 0)
            {
                throw new ArgumentException("unknowns is empty; a calibration finds at least one.", nameof(unknowns));
            }

            foreach (CalibrationUnknown unknown in unknowns)
            {
                ArgumentNullException.ThrowIfNull(unknown, nameof(unknowns));
            }

            if (unknowns.Select(unknown => unknown.Cause).Distinct().Count() < unknowns.Length)
            {
                throw new ArgumentException("a cause is named twice; each has one value.", nameof(unknowns));
            }

            if (runs.Length + tests.Length == 0)
            {
                throw new ArgumentException("there is neither a run nor a bench test; from nothing, nothing is found.", nameof(runs));
            }

            first = runs.Length > 0 ? runs[0].Launcher : tests[0].Launcher;
            foreach (Launcher launcher in runs.Select(run => run.Launcher).Concat(tests.Select(test => test.Launcher)).Distinct<Launcher>(ReferenceEqualityComparer.Instance))
            {
                IReadOnlyList<LauncherFault> faults = launcher.Validate();
                if (faults.Count > 0)
                {
                    throw new LauncherDescriptionException(faults);
                }
            }

            double[] start = [.. unknowns.Select(StartOf)];
            var described = new List<LaunchTrace>();
            foreach (CalibrationRun run in runs)
            {
                described.Add(Launch(run.Launcher, start));
            }

            int parameters = unknowns.Length, rows = tests.Length;
            films = new Film[runs.Length];
            for (int i = 0; i < runs.Length; i++)
            {
                films[i] = new Film(runs[i], described[i], parameters, rows);
                parameters += films[i].Parameters;
                rows += films[i].Rows;
            }

            Parameters = parameters;
            residuals = rows;
            if (rows < parameters)
            {
                throw new ArgumentException(
                    string.Create(CultureInfo.InvariantCulture, $"there are {rows} measurements for {parameters} unknowns; there must be as many or more."), nameof(runs));
            }
        }

        private int Parameters { get; }

        public CalibrationResult Solve()
        {
            double[] start = new double[Parameters], lower = new double[Parameters], upper = new double[Parameters], scales = new double[Parameters];
            Array.Fill(lower, double.NegativeInfinity);
            Array.Fill(upper, double.PositiveInfinity);
            Array.Fill(scales, 1);
            for (int j = 0; j < unknowns.Length; j++)
            {
                (lower[j], upper[j]) = BoundsOf(unknowns[j]);
                start[j] = StartOf(unknowns[j]);
                scales[j] = CauseModel.Scale(first, unknowns[j].Cause);
            }

            foreach (Film film in films)
            {
                film.Begin(start, scales);
            }

            LeastSquaresFit fit = LeastSquares.Minimize(
                Fill,
                residuals,
                start,
                new LeastSquaresOptions
                {
                    Lower = [.. lower],
                    Upper = [.. upper],
                    Scales = [.. scales],
                    RelativeStep = 0.02,
                    StepTolerance = 1e-6,
                    SumTolerance = 1e-4,
                    IterationLimit = 200,
                    RankTolerance = 1e-6,
                    DeviationsAreKnown = true,
                });
            return new CalibrationResult(first, unknowns, [.. lower.AsSpan(0, unknowns.Length)], [.. upper.AsSpan(0, unknowns.Length)], tests, fit, residuals, options);
        }

        private (double Lower, double Upper) BoundsOf(CalibrationUnknown unknown)
        {
            (double least, double greatest) = CauseModel.Bounds(first, unknown.Cause);
            double lower = unknown.Least ?? least, upper = unknown.Greatest ?? greatest;
            return lower < upper
                ? (lower, upper)
                : throw new ArgumentException($"the {CalibrationResult.Name(unknown.Cause)} lies from {Show.Number(lower)} to {Show.Number(upper)} (base units); the lower bound must be below the upper. Give both.", nameof(unknown));
        }

        private double StartOf(CalibrationUnknown unknown)
        {
            (double lower, double upper) = BoundsOf(unknown);
            return Math.Clamp(CauseModel.Of(first, unknown.Cause), lower, upper);
        }

        private Launcher Described(Launcher launcher, ReadOnlySpan<double> values)
        {
            for (int j = 0; j < unknowns.Length; j++)
            {
                launcher = CauseModel.With(launcher, unknowns[j].Cause, values[j]);
            }

            return launcher;
        }

        private LaunchTrace Launch(Launcher launcher, ReadOnlySpan<double> values)
            => new LaunchSimulation(Described(launcher, values) with { Brake = null }, options.Launch).Run().Trace;

        private void Fill(ReadOnlySpan<double> parameters, Span<double> into)
        {
            Predictions now = At(parameters[..unknowns.Length]);
            for (int i = 0; i < tests.Length; i++)
            {
                into[i] = (now.Tests[i] - tests[i].Value) / tests[i].Error;
            }

            for (int i = 0; i < films.Length; i++)
            {
                films[i].Fill(now.Traces[i], parameters, into);
            }
        }

        private Predictions At(ReadOnlySpan<double> values)
        {
            string key = string.Join(';', values.ToArray().Select(value => BitConverter.DoubleToInt64Bits(value).ToString("X", CultureInfo.InvariantCulture)));
            if (known.TryGetValue(key, out Predictions? found))
            {
                return found;
            }

            double[] plain = values.ToArray();
            found = new Predictions(
                [.. films.AsParallel().AsOrdered().Select(film => Launch(film.Run.Launcher, plain))],
                [.. tests.Select(test => test.Predict(Described(test.Launcher, plain), options.Launch))]);
            if (known.Count >= 32)
            {
                known.Clear();
            }

            known[key] = found;
            return found;
        }
    }

    private sealed record Predictions(LaunchTrace[] Traces, double[] Tests);

    /// <summary>A film as residuals, with unknowns of its own.</summary>
    private sealed class Film
    {
        private readonly double[] times;
        private readonly double[] positions;
        private readonly double[] counts;
        private readonly int group;
        private readonly double sigma;
        private readonly double origin;
        private readonly double startGuess;
        private readonly double startScale;
        private readonly bool findsStart;
        private readonly double[] priors;
        private readonly int firstParameter;
        private readonly int firstRow;

        public Film(CalibrationRun run, LaunchTrace described, int firstParameter, int firstRow)
        {
            Run = run;
            this.firstParameter = firstParameter;
            this.firstRow = firstRow;
            FilmedRun film = run.Film;
            origin = run.Origin.Meters;
            double end = described.End.Seconds;
            double low = described.MotionAt(0).PositionMeters, high = described.MotionAt(end).PositionMeters;
            int[] used = [.. Enumerable.Range(0, film.FrameCount).Where(i => film.PositionMeters[i] + origin > low && film.PositionMeters[i] + origin < high)];
            if (used.Length < FilmedRun.LeastFrames)
            {
                throw new ArgumentException(
                    string.Create(CultureInfo.InvariantCulture, $"{used.Length} frames of a film lie between start and release of its launcher ({Show.Quantity(UnitsNet.Length.FromMeters(low))} to {Show.Quantity(UnitsNet.Length.FromMeters(high))}); there must be {FilmedRun.LeastFrames} or more. Check the film's origin."), nameof(run));
            }

            // Before the start the sled stands and tells its place over and over; from the first frame on the way to the last there is no choice of frames by their readings.
            int begin = used[0], stop = used[^1] + 1;
            times = film.TimeSeconds.AsSpan(begin, stop - begin).ToArray();
            positions = film.PositionMeters.AsSpan(begin, stop - begin).ToArray();
            counts = [.. film.Counts.AsSpan(begin, stop - begin).ToArray().Select(count => (double)count)];
            var part = new FilmedRun(Enumerable.Range(begin, stop - begin).Select(i => new FilmedFrame(
                UnitsNet.Duration.FromSeconds(film.TimeSeconds[i]), UnitsNet.Length.FromMeters(film.PositionMeters[i]), film.Counts[i])));
            sigma = film.Errors.Reading?.Meters ?? part.Smooth().ReadingError.Meters;
            sigma = sigma > 0 ? sigma : 1e-12;
            group = (times.Length + MostResiduals - 1) / MostResiduals;
            findsStart = run.Start is null;
            startGuess = run.Start?.Seconds ?? RunComparison.FitStart(film.TimeSeconds, film.PositionMeters, described, origin);

            // A step of the difference is then some ten microseconds of forty milliseconds.
            startScale = 0.01 * end;
            priors = [film.Errors.Scale.DecimalFractions, film.Errors.FrameTime.DecimalFractions, run.OriginError.Meters];
            Parameters = (findsStart ? 1 : 0) + priors.Count(prior => prior > 0);
            Rows = ((times.Length + group - 1) / group) + priors.Count(prior => prior > 0);
        }

        public CalibrationRun Run { get; }

        public int Parameters { get; }

        public int Rows { get; }

        public void Begin(double[] start, double[] scales)
        {
            // Counted from the guess, in units of its scale; the others in units of their stated error.
            start.AsSpan(firstParameter, Parameters).Clear();
            scales.AsSpan(firstParameter, Parameters).Fill(1);
        }

        public void Fill(LaunchTrace trace, ReadOnlySpan<double> parameters, Span<double> into)
        {
            int at = firstParameter, row = firstRow;
            double begin = startGuess + (findsStart ? parameters[at++] * startScale : 0);
            Span<double> off = stackalloc double[3];
            for (int k = 0; k < 3; k++)
            {
                if (priors[k] > 0)
                {
                    into[row++] = parameters[at];
                    off[k] = parameters[at++] * priors[k];
                }
            }

            for (int i = 0; i < times.Length; i += group)
            {
                double sum = 0, total = 0;
                for (int k = i; k < Math.Min(i + group, times.Length); k++)
                {
                    // The film's clock counts from its own start, so that a wrong frame time shifts nothing there.
                    double t = (1 + off[1]) * (times[k] - begin);
                    double x = origin + off[2] + ((1 + off[0]) * positions[k]);
                    sum += counts[k] * (x - trace.MotionAt(t).PositionMeters);
                    total += counts[k];
                }

                into[row++] = sum / Math.Sqrt(total) / sigma;
            }
        }
    }
}
