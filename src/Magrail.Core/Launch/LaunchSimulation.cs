using System.Collections.Immutable;
using System.Globalization;
using Magrail.Numerics;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A launcher made ready to be launched any number of times: parts checked, coupling compiled, buffers made.
/// <see cref="Run"/> gives the whole result; <see cref="RunSummary()"/> gives the figures alone and allocates nothing.
/// </summary>
/// <remarks>Not safe for two threads at once; make one for each.</remarks>
public sealed class LaunchSimulation
{
    private readonly Launcher launcher;
    private readonly LaunchOptions options;
    private readonly LauncherSi si;
    private readonly double[] state;
    private readonly Tolerances tolerances;
    private readonly LaunchSystem summarySystem;
    private readonly HybridIntegrator<LaunchSystemCalls> summaryIntegrator;
    private CoilHeatSi[]? heats;
    private LimitRules? limits;

    internal LaunchSimulation(Launcher launcher, LaunchOptions options)
        : this(launcher, options, launcher.ToSi(options))
    {
    }

    internal LaunchSimulation(Launcher launcher, LaunchOptions options, LauncherSi si)
    {
        this.launcher = launcher;
        this.options = options;
        this.si = si;
        summarySystem = new LaunchSystem(si, new LaunchRecorder(keepsTrace: false), brakes: true);
        tolerances = TolerancesFor(summarySystem);
        summaryIntegrator = new HybridIntegrator<LaunchSystemCalls>(new LaunchSystemCalls(summarySystem), tolerances);
        state = new double[summarySystem.Dimension];
    }

    /// <summary>The simulation in words.</summary>
    public override string ToString() => $"{launcher}, ready to launch; {options}";

    /// <summary>Launches and keeps everything; follows the sled to rest where the launcher has a brake.</summary>
    public LaunchResult Run()
    {
        var recorder = new LaunchRecorder(keepsTrace: true);
        var system = new LaunchSystem(si, recorder, brakes: true);
        var integrator = new HybridIntegrator<LaunchSystemCalls>(new LaunchSystemCalls(system), TolerancesFor(system));
        double[] initial = new double[system.Dimension];
        Course course = Follow(system, integrator, initial);
        LaunchFigures figures = FiguresOf(course, system, integrator);
        ReadOnlySpan<double> last = integrator.State;
        ReadOnlySpan<double> end = course.End(recorder, last);
        double time = figures.EndTime;
        int steps = course.Braked ? recorder.StepsAtRelease : recorder.StepCount;
        return new LaunchResult(si, figures)
        {
            Outcome = figures.Outcome,
            Cause = CauseOf(figures.Outcome, end, time),
            EndSpeed = Speed.FromMetersPerSecond(figures.EndSpeed),
            EndTime = Duration.FromSeconds(time),
            EndPosition = Length.FromMeters(figures.EndPosition),
            PeakAcceleration = Acceleration.FromMetersPerSecondSquared(figures.PeakAcceleration),
            PeakAccelerationPosition = Length.FromMeters(recorder.PeakAccelerationPosition),
            PeakLateralForce = Force.FromNewtons(recorder.PeakSideForce),
            MeanAcceleration = Acceleration.FromMetersPerSecondSquared(time > 0 ? (end[1] - si.StartSpeed) / time : 0),
            PeakCurrent = ElectricCurrent.FromAmperes(figures.PeakCurrent),
            PeakContactCurrent = ElectricCurrent.FromAmperes(figures.PeakContactCurrent),
            PeakCurrentPosition = Length.FromMeters(recorder.PeakCurrentPosition),
            RmsCurrent = ElectricCurrent.FromAmperes(figures.RmsCurrent),
            PeakSourceCurrent = ElectricCurrent.FromAmperes(figures.PeakSourceCurrent),
            LeastRailVoltage = ElectricPotential.FromVolts(double.IsFinite(recorder.LeastRailVolts) ? recorder.LeastRailVolts : 0),
            PeakContactVoltage = ElectricPotential.FromVolts(recorder.PeakContactVolts),
            ChargeDrawn = ElectricCharge.FromCoulombs(figures.ChargeDrawn),
            CoilTemperatures = TemperaturesOf(system, last),
            Ledger = LedgerOf(system, end, course.BreakEnergy),
            Crossings = CrossingsOf(recorder),
            Breaks = BreaksOf(system, last, integrator.Time),
            Trace = recorder.MakeTrace(system, TracedCoils(), 0, steps),
            Braking = course.Braked ? BrakingOf(system, last, integrator.Time) : null,
            Statistics = new LaunchStatistics(integrator.StepsAccepted, integrator.StepsRejected, integrator.Evaluations, integrator.Restarts),
            Launcher = launcher,
            Options = options,
        };
    }

    /// <summary>Launches and keeps the figures alone, the nearest limit among them; allocates nothing once it has run.</summary>
    /// <remarks>The first run looks the limits up, of which that of the magnets takes some 30 ms for a geometry not met before.</remarks>
    public LaunchSummary RunSummary() => RunSummary(findsLimits: true);

    /// <summary>Launches and keeps the figures alone.</summary>
    /// <param name="findsLimits">Whether to hold them against the limits.</param>
    internal LaunchSummary RunSummary(bool findsLimits)
    {
        LaunchFigures figures = LaunchForFigures();
        (double margin, string? name) = findsLimits ? Limits.Nearest(figures) : (double.NaN, null);
        return LaunchSummary.Of(figures, margin, name);
    }

    /// <summary>Launches and keeps the figures alone, as plain numbers.</summary>
    internal LaunchFigures LaunchForFigures()
    {
        Course course = Follow(summarySystem, summaryIntegrator, state);
        return FiguresOf(course, summarySystem, summaryIntegrator);
    }

    /// <summary>The limits that the launcher's parts state.</summary>
    internal LimitRules Limits => limits ??= LimitRules.Of(launcher);

    private static ImmutableArray<ContactCrossing> CrossingsOf(LaunchRecorder recorder)
    {
        var crossings = ImmutableArray.CreateBuilder<ContactCrossing>(recorder.CrossingCount);
        foreach (LaunchRecorder.Crossing c in recorder.Crossings)
        {
            crossings.Add(new ContactCrossing(
                Duration.FromSeconds(c.Time),
                Length.FromMeters(c.Position),
                Speed.FromMetersPerSecond(c.Speed),
                c.Circuit,
                c.Before,
                c.After,
                ElectricCurrent.FromAmperes(c.CurrentBefore),
                ElectricCurrent.FromAmperes(c.CurrentAfter)));
        }

        return crossings.MoveToImmutable();
    }

    private static ImmutableArray<ContactBreak> BreaksOf(LaunchSystem system, ReadOnlySpan<double> end, double time)
    {
        var breaks = ImmutableArray.CreateBuilder<ContactBreak>(system.Recorder.Breaks.Length);
        foreach (ref readonly LaunchRecorder.Break b in system.Recorder.Breaks)
        {
            breaks.Add(new ContactBreak(
                Duration.FromSeconds(b.Time),
                Length.FromMeters(b.Position),
                Speed.FromMetersPerSecond(b.Speed),
                b.Circuit,
                ElectricCurrent.FromAmperes(b.Current),
                b.Contacts,
                Duration.FromSeconds(b.DurationAt(time)),
                Length.FromMeters(b.GapAt(end)),
                Energy.FromJoules(b.EnergyAt(system, end)),
                ElectricCharge.FromCoulombs(b.ChargeAt(system, end)),
                b.Ending == BreakEnding.Lost ? null : ElectricPotential.FromVolts(b.PeakCoilVolts),
                b.Ending,
                b.Flashed ? Length.FromMeters(b.FlashPosition) : null));
        }

        return breaks.MoveToImmutable();
    }

    /// <summary>What a run leaves behind for all its figures. With a brake, the launch ends where the run is at the release.</summary>
    private readonly record struct Course(LaunchOutcome Outcome, bool Braked, double Time, double BreakEnergy)
    {
        public ReadOnlySpan<double> End(LaunchRecorder recorder, ReadOnlySpan<double> last) => Braked ? recorder.ReleaseState : last;
    }

    private Course Follow(LaunchSystem system, HybridIntegrator<LaunchSystemCalls> integrator, double[] initial)
    {
        LaunchOutcome outcome = Integrate(system, integrator, initial);
        LaunchRecorder recorder = system.Recorder;
        bool braked = !double.IsNaN(recorder.ReleaseTime);
        return new(
            outcome,
            braked,
            braked ? recorder.ReleaseTime : integrator.Time,
            braked ? recorder.BreakEnergyAtRelease : system.BreakEnergy);
    }

    private LaunchFigures FiguresOf(in Course course, LaunchSystem system, HybridIntegrator<LaunchSystemCalls> integrator)
    {
        LaunchRecorder recorder = system.Recorder;
        ReadOnlySpan<double> last = integrator.State;
        ReadOnlySpan<double> end = course.End(recorder, last);
        double mostSquares = 0;
        for (int k = 0; k < system.CircuitCount; k++)
        {
            mostSquares = Math.Max(mostSquares, system.SquareIntegral(end, k));
        }

        double hottest = double.NegativeInfinity;
        for (int i = 0; i < launcher.Sled.Coils.Length; i++)
        {
            hottest = Math.Max(hottest, CoilKelvins(system, last, i));
        }

        (double arcCharge, bool arced, double longest, bool flashed) = recorder.BreakFigures(system, last, integrator.Time);
        LaunchSystem.LedgerSi ledger = system.Ledger(end) with { Breaks = course.BreakEnergy };
        return new LaunchFigures
        {
            Outcome = course.Outcome,
            EndSpeed = end[1],
            EndTime = course.Time,
            EndPosition = end[0],
            PeakAcceleration = recorder.PeakAcceleration,
            PeakCurrent = recorder.PeakCurrent,
            PeakContactCurrent = si.Suppressor.Conductance > 0 ? recorder.PeakContactCurrent : recorder.PeakCurrent,
            RmsCurrent = course.Time > 0 ? Math.Sqrt(mostSquares / course.Time) : 0,
            PeakSourceCurrent = recorder.PeakSourceCurrent,
            ChargeDrawn = system.ChargeDrawn(last),
            HottestCoil = hottest,
            ArcCharge = arcCharge,
            Arced = arced,
            LongestArc = longest,
            FlashedOver = flashed,
            Braking = course.Braked ? system.BrakingEnded ?? BrakingOutcome.Unfinished : null,
            BrakingDistance = last[0] - si.Release,
            BrakingEndSpeed = last[1],
            EnergyDrawn = ledger.Drawn,
            RelativeResidual = ResidualOf(ledger, end),
            Steps = integrator.StepsAccepted,
            Evaluations = integrator.Evaluations,
        };
    }

    /// <summary>Coil by coil as mounted: temperature at the end, all its heat kept.</summary>
    private ImmutableArray<Temperature> TemperaturesOf(LaunchSystem system, ReadOnlySpan<double> end)
    {
        var temperatures = ImmutableArray.CreateBuilder<Temperature>(launcher.Sled.Coils.Length);
        for (int i = 0; i < launcher.Sled.Coils.Length; i++)
        {
            temperatures.Add(Temperature.FromKelvins(CoilKelvins(system, end, i)));
        }

        return temperatures.MoveToImmutable();
    }

    private double CoilKelvins(LaunchSystem system, ReadOnlySpan<double> end, int coil)
    {
        int circuit = launcher.Sled.Coils[coil].Circuit;
        return Traced(coil).KelvinsAfter(circuit < system.CircuitCount ? system.SquareIntegral(end, circuit) : 0);
    }

    private TracedCoil Traced(int coil)
    {
        heats ??= [.. launcher.Sled.Coils.Select(mount => launcher.Heating(mount.Coil))];
        return new TracedCoil(launcher.Sled.Coils[coil].Circuit, heats[coil], launcher.CoilsWarmUp, launcher.CoilTemperature.Kelvins);
    }

    private TracedCoil[] TracedCoils() => [.. Enumerable.Range(0, launcher.Sled.Coils.Length).Select(Traced)];

    private BrakingResult BrakingOf(LaunchSystem system, ReadOnlySpan<double> end, double time)
    {
        LaunchRecorder recorder = system.Recorder;
        BrakingSi after = si.Braking!;
        ReadOnlySpan<double> release = recorder.ReleaseState;
        double payload = si.Mass - after.Mass;
        double kinetic = 0.5 * ((after.Mass * end[1] * end[1]) + (payload * release[1] * release[1]) - (si.Mass * si.StartSpeed * si.StartSpeed));
        double potential = Potential(release) + (after.SlopeForce * (end[0] - release[0]));
        return new BrakingResult(
            system.BrakingEnded ?? BrakingOutcome.Unfinished,
            Length.FromMeters(end[0]),
            Length.FromMeters(after.TrackEnd - si.Release),
            Length.FromMeters(end[0] - si.Release),
            Speed.FromMetersPerSecond(end[1]),
            Duration.FromSeconds(time - recorder.ReleaseTime),
            Acceleration.FromMetersPerSecondSquared(recorder.PeakDeceleration),
            LedgerOf(system.Ledger(end), kinetic, potential),
            recorder.MakeTrace(system, TracedCoils(), recorder.StepsAtRelease, recorder.StepCount));
    }

    private LaunchOutcome Integrate(LaunchSystem system, HybridIntegrator<LaunchSystemCalls> integrator, double[] initial)
    {
        system.Recorder.Clear(system.CircuitCount);
        system.Begin(initial);
        OdeOutcome outcome = integrator.Run(0, initial, options.TimeLimit.Seconds, options.StepLimit);
        if (system.Ended == LaunchOutcome.Released)
        {
            // What happens while the sled is brought to rest is the braking's affair.
            return LaunchOutcome.Released;
        }

        return outcome switch
        {
            OdeOutcome.StoppedByEvent => system.Ended ?? LaunchOutcome.Chattering,
            OdeOutcome.ReachedEnd => LaunchOutcome.TimeLimit,
            OdeOutcome.StepLimit => LaunchOutcome.StepLimit,
            OdeOutcome.StepTooSmall => LaunchOutcome.StepTooSmall,
            OdeOutcome.NotFinite => LaunchOutcome.NotFinite,
            _ => LaunchOutcome.Chattering,
        };
    }

    /// <summary>The sizes at which each component of the state begins to matter, times the relative tolerance.</summary>
    private Tolerances TolerancesFor(LaunchSystem system)
    {
        double travel = si.Release - si.Start;
        double loop = si.SourceResistance + si.Circuits.Min(c => c.CoilResistance + c.UpperBrush.Full + c.LowerBrush.Full);
        double current = Math.Min(si.Source.Volts / loop, si.Source.CurrentLimit);
        double force = current * si.Circuits.Max(c => c.Curve.Peak);
        double work = Math.Max(force * travel, 1e-9);
        double speed = Math.Max(Math.Sqrt(2 * work / si.Mass), 1e-6);
        double time = travel / speed;
        double[] sizes = new double[system.Dimension];
        Array.Fill(sizes, 0.01 * work);
        sizes[0] = 0.01 * travel;
        sizes[1] = 0.01 * speed;
        int n = system.CircuitCount;
        for (int k = 0; k < n; k++)
        {
            sizes[2 + k] = 0.01 * current;
            sizes[2 + n + k] = 0.01 * current * current * time;
        }

        (int _, int charge, int arcCharge, int capacitors) = system.Places;
        sizes[charge] = 0.01 * (system.HasBank ? Math.Min(si.Source.Volts * si.Source.Capacitance, current * time) : current * time);
        for (int k = 0; k < n; k++)
        {
            if (arcCharge >= 0)
            {
                sizes[arcCharge + k] = 0.01 * current * time;
            }

            if (capacitors >= 0)
            {
                sizes[capacitors + k] = 0.01 * si.Source.Volts;
            }
        }

        return new Tolerances(options.RelativeTolerance, Array.ConvertAll(sizes, size => options.RelativeTolerance * size));
    }

    private double ResidualOf(in LaunchSystem.LedgerSi ledger, ReadOnlySpan<double> end)
    {
        ReadOnlySpan<double> entries =
        [
            Kinetic(end), ledger.CoilHeat, ledger.OtherHeat, ledger.Arcs, ledger.Suppressed, ledger.Breaks, ledger.Friction, ledger.Drag, ledger.Brake, ledger.Magnetic, Potential(end),
        ];
        return EnergyLedger.RelativeResidualOf(ledger.Drawn, entries);
    }

    private EnergyLedger LedgerOf(LaunchSystem system, ReadOnlySpan<double> end, double breakEnergy)
        => LedgerOf(system.Ledger(end) with { Breaks = breakEnergy }, Kinetic(end), Potential(end));

    private static EnergyLedger LedgerOf(in LaunchSystem.LedgerSi ledger, double kinetic, double potential)
        => new(
            Energy.FromJoules(ledger.Drawn),
            Energy.FromJoules(ledger.CoilHeat),
            Energy.FromJoules(ledger.OtherHeat),
            Energy.FromJoules(ledger.Arcs),
            Energy.FromJoules(ledger.Suppressed),
            Energy.FromJoules(ledger.Breaks),
            Energy.FromJoules(ledger.Friction),
            Energy.FromJoules(ledger.Drag),
            Energy.FromJoules(ledger.Brake),
            Energy.FromJoules(kinetic),
            Energy.FromJoules(ledger.Magnetic),
            Energy.FromJoules(potential));

    private double Kinetic(ReadOnlySpan<double> end) => 0.5 * si.Mass * ((end[1] * end[1]) - (si.StartSpeed * si.StartSpeed));

    private double Potential(ReadOnlySpan<double> end) => si.SlopeForce * (end[0] - si.Start);

    private string CauseOf(LaunchOutcome outcome, ReadOnlySpan<double> end, double time)
    {
        string where = $"at {Show.Quantity(Length.FromMeters(end[0]))} after {Show.Quantity(Duration.FromSeconds(time))}";
        return outcome switch
        {
            LaunchOutcome.Released => $"released {where}",
            LaunchOutcome.Stalled => $"the sled came to rest {where} and nothing moves it: the push stays below the friction at rest of {Show.Quantity(Force.FromNewtons(si.RestFriction))}",
            LaunchOutcome.RanBack => $"the sled ran back more than a pitch behind its start, {where}",
            LaunchOutcome.TimeLimit => $"the time limit of {Show.Quantity(options.TimeLimit)} ran out with the sled {where} at {Show.Quantity(Speed.FromMetersPerSecond(end[1]))}",
            LaunchOutcome.StepLimit => string.Create(CultureInfo.InvariantCulture, $"the limit of {options.StepLimit} steps was reached {where}"),
            LaunchOutcome.StepTooSmall => $"the step became too small to move time {where}; a looser tolerance may pass",
            LaunchOutcome.NotFinite => $"a number stopped being finite {where}",
            _ => $"contacts or modes switched to and fro without time moving on {where}",
        };
    }
}
