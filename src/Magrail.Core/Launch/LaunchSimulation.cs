using System.Collections.Immutable;
using System.Globalization;
using Magrail.Numerics;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A launcher made ready to be launched any number of times: parts checked, coupling compiled, buffers made.
/// <see cref="Run"/> gives the whole result; <see cref="RunSummary"/> gives the figures alone and allocates nothing.
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
    private readonly HybridIntegrator<LaunchSystem> summaryIntegrator;

    internal LaunchSimulation(Launcher launcher, LaunchOptions options)
        : this(launcher, options, launcher.ToSi(options))
    {
    }

    internal LaunchSimulation(Launcher launcher, LaunchOptions options, LauncherSi si)
    {
        this.launcher = launcher;
        this.options = options;
        this.si = si;
        summarySystem = new LaunchSystem(si, new LaunchRecorder(keepsTrace: false));
        tolerances = TolerancesFor(summarySystem);
        summaryIntegrator = new HybridIntegrator<LaunchSystem>(summarySystem, tolerances);
        state = new double[summarySystem.Dimension];
    }

    /// <summary>Launches and keeps everything.</summary>
    public LaunchResult Run()
    {
        var recorder = new LaunchRecorder(keepsTrace: true);
        var system = new LaunchSystem(si, recorder);
        var integrator = new HybridIntegrator<LaunchSystem>(system, tolerances);
        LaunchOutcome outcome = Integrate(system, integrator);
        ReadOnlySpan<double> end = integrator.State;
        double time = integrator.Time;
        double mostSquares = 0;
        for (int k = 0; k < system.CircuitCount; k++)
        {
            mostSquares = Math.Max(mostSquares, system.SquareIntegral(end, k));
        }

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

        return new LaunchResult(si)
        {
            Outcome = outcome,
            Cause = CauseOf(outcome, end, time),
            EndSpeed = Speed.FromMetersPerSecond(end[1]),
            EndTime = Duration.FromSeconds(time),
            EndPosition = Length.FromMeters(end[0]),
            PeakAcceleration = Acceleration.FromMetersPerSecondSquared(recorder.PeakAcceleration),
            PeakAccelerationPosition = Length.FromMeters(recorder.PeakAccelerationPosition),
            PeakLateralForce = Force.FromNewtons(recorder.PeakSideForce),
            MeanAcceleration = Acceleration.FromMetersPerSecondSquared(time > 0 ? (end[1] - si.StartSpeed) / time : 0),
            PeakCurrent = ElectricCurrent.FromAmperes(recorder.PeakCurrent),
            PeakCurrentPosition = Length.FromMeters(recorder.PeakCurrentPosition),
            RmsCurrent = ElectricCurrent.FromAmperes(time > 0 ? Math.Sqrt(mostSquares / time) : 0),
            Ledger = LedgerOf(system, end),
            Crossings = crossings.MoveToImmutable(),
            Trace = recorder.MakeTrace(system),
            Statistics = new LaunchStatistics(integrator.StepsAccepted, integrator.StepsRejected, integrator.Evaluations, integrator.Restarts),
            Launcher = launcher,
            Options = options,
        };
    }

    /// <summary>Launches and keeps the figures alone; allocates nothing once it has run.</summary>
    public LaunchSummary RunSummary()
    {
        LaunchOutcome outcome = Integrate(summarySystem, summaryIntegrator);
        ReadOnlySpan<double> end = summaryIntegrator.State;
        return new LaunchSummary(
            outcome,
            Speed.FromMetersPerSecond(end[1]),
            Duration.FromSeconds(summaryIntegrator.Time),
            Length.FromMeters(end[0]),
            ElectricCurrent.FromAmperes(summarySystem.Recorder.PeakCurrent),
            Acceleration.FromMetersPerSecondSquared(summarySystem.Recorder.PeakAcceleration),
            Energy.FromJoules(summarySystem.Ledger(end).Drawn),
            ResidualOf(summarySystem, end),
            summaryIntegrator.StepsAccepted,
            summaryIntegrator.Evaluations);
    }

    private LaunchOutcome Integrate(LaunchSystem system, HybridIntegrator<LaunchSystem> integrator)
    {
        system.Recorder.Clear();
        system.Begin(state);
        return integrator.Run(0, state, options.TimeLimit.Seconds, options.StepLimit) switch
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
        double loop = si.SourceResistance + si.Circuits.Min(c => c.CoilResistance + c.ContactResistance);
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

        if (system.HasBank)
        {
            sizes[^1] = 0.01 * si.Source.Volts;
        }

        return new Tolerances(options.RelativeTolerance, Array.ConvertAll(sizes, size => options.RelativeTolerance * size));
    }

    private double ResidualOf(LaunchSystem system, ReadOnlySpan<double> end)
    {
        (double drawn, double otherHeat, double clamps, double friction, double drag) = system.Ledger(end);
        double coil = system.CoilHeat(end);
        double kinetic = Kinetic(end);
        double magnetic = system.MagneticEnergy(end);
        double potential = Potential(end);
        double spent = coil + otherHeat + clamps + system.BreakEnergy + friction + drag + kinetic + magnetic + potential;
        return EnergyLedger.RelativeResidualOf(drawn, spent, [coil, otherHeat, clamps, system.BreakEnergy, friction, drag, kinetic, magnetic, potential]);
    }

    private EnergyLedger LedgerOf(LaunchSystem system, ReadOnlySpan<double> end)
    {
        (double drawn, double otherHeat, double clamps, double friction, double drag) = system.Ledger(end);
        return new EnergyLedger(
            Energy.FromJoules(drawn),
            Energy.FromJoules(system.CoilHeat(end)),
            Energy.FromJoules(otherHeat),
            Energy.FromJoules(clamps),
            Energy.FromJoules(system.BreakEnergy),
            Energy.FromJoules(friction),
            Energy.FromJoules(drag),
            Energy.FromJoules(Kinetic(end)),
            Energy.FromJoules(system.MagneticEnergy(end)),
            Energy.FromJoules(Potential(end)));
    }

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
