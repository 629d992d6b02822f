using System.Collections.Immutable;
using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A computed launch: how it ended, its figures, its energy ledger, every contact crossing and its whole course.</summary>
/// <remarks>
/// A run that did not finish is a result too: <see cref="Outcome"/> and <see cref="Cause"/> say so, and its record is whole
/// up to the point where it ended. <see cref="EnsureReleased"/> turns that into an exception for those who want one.
/// </remarks>
public sealed class LaunchResult
{
    private readonly LauncherSi curves;

    internal LaunchResult(LauncherSi curves) => this.curves = curves;

    /// <summary>How the launch ended.</summary>
    public required LaunchOutcome Outcome { get; init; }

    /// <summary>How the launch ended, in words with place and time.</summary>
    public required string Cause { get; init; }

    /// <summary>Speed at the end of the run; the exit speed where the payload was released.</summary>
    public required Speed EndSpeed { get; init; }

    /// <summary>Time at the end of the run, from the closing of the switch.</summary>
    public required Duration EndTime { get; init; }

    /// <summary>Position of the sled's mark at the end of the run.</summary>
    public required Length EndPosition { get; init; }

    /// <summary>Exit speed.</summary>
    /// <exception cref="InvalidOperationException">The payload was not released, so that there is none.</exception>
    public Speed ExitSpeed => EnsureReleased().EndSpeed;

    /// <summary>Time from the closing of the switch to the release.</summary>
    /// <exception cref="InvalidOperationException">The payload was not released, so that there is none.</exception>
    public Duration ExitTime => EnsureReleased().EndTime;

    /// <summary>The greatest acceleration of the sled, either way; sampled at five points a step, good to about 0.1 %.</summary>
    public required Acceleration PeakAcceleration { get; init; }

    /// <summary>Where the greatest acceleration occurs.</summary>
    public required Length PeakAccelerationPosition { get; init; }

    /// <summary>Mean acceleration, speed gained over time.</summary>
    public required Acceleration MeanAcceleration { get; init; }

    /// <summary>The greatest acceleration as a multiple of the standard acceleration of gravity.</summary>
    [Dimensionless]
    public double PeakGs => PeakAcceleration.MetersPerSecondSquared / PhysicalConstants.StandardGravity;

    /// <summary>The mean acceleration as a multiple of the standard acceleration of gravity.</summary>
    [Dimensionless]
    public double MeanGs => MeanAcceleration.MetersPerSecondSquared / PhysicalConstants.StandardGravity;

    /// <summary>The greatest coil current; sampled at five points a step, good to about 0.1 %.</summary>
    public required ElectricCurrent PeakCurrent { get; init; }

    /// <summary>Where the greatest coil current occurs.</summary>
    public required Length PeakCurrentPosition { get; init; }

    /// <summary>Root mean square of the coil current over the run, of the circuit that carries most.</summary>
    public required ElectricCurrent RmsCurrent { get; init; }

    /// <summary>Where the energy came from and went.</summary>
    public required EnergyLedger Ledger { get; init; }

    /// <summary>
    /// Kinetic energy gained by sled and payload over what was put in: the energy drawn and, downhill, the height given up;
    /// zero where nothing was put in. Negative where a sled that was pushed ends slower than it began.
    /// </summary>
    [Dimensionless]
    public double Efficiency
    {
        get
        {
            double input = Math.Max(0, Ledger.Drawn.Joules) + Math.Max(0, -Ledger.Potential.Joules);
            return input > 0 ? Ledger.Kinetic.Joules / input : 0;
        }
    }

    /// <summary>Every change of connection, in order.</summary>
    public required ImmutableArray<ContactCrossing> Crossings { get; init; }

    /// <summary>The course of the launch.</summary>
    public required LaunchTrace Trace { get; init; }

    /// <summary>Steps accepted, steps rejected, evaluations of the equations and restarts at events.</summary>
    public required LaunchStatistics Statistics { get; init; }

    /// <summary>The launcher that was launched.</summary>
    public required Launcher Launcher { get; init; }

    /// <summary>The options it was computed with.</summary>
    public required LaunchOptions Options { get; init; }

    /// <summary>The force per ampere of the whole sled against position, from start to release.</summary>
    /// <param name="position">Position of the sled's mark.</param>
    /// <param name="circuit">Which circuit, from 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such circuit, or the position is not finite.</exception>
    public ForceConstant ForceConstantAt(Length position, int circuit = 0)
    {
        CircuitSi[] circuits = curves.Circuits;
        Require.InRange(circuit, 0, circuits.Length - 1, "each pair of brushes is one circuit");
        return ForceConstant.FromNewtonsPerAmpere(circuits[circuit].Curve.At(Require.Finite(position, "a place on the track").Meters));
    }

    /// <summary>This result, where the payload was released.</summary>
    /// <exception cref="InvalidOperationException">It was not; the message tells the cause.</exception>
    public LaunchResult EnsureReleased()
        => Outcome == LaunchOutcome.Released ? this : throw new InvalidOperationException($"The payload was not released: {Cause}");

    /// <summary>The launch in one line.</summary>
    public override string ToString()
    {
        string head = Outcome == LaunchOutcome.Released
            ? $"exit speed {Show.Quantity(EndSpeed)} after {Show.Quantity(EndTime)}"
            : $"not released: {Cause}";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{head}; peak {Show.Quantity(PeakCurrent)}, {Show.Quantity(PeakAcceleration)} ({PeakGs:G3} g); efficiency {100 * Efficiency:G3} %; residual {Ledger.RelativeResidual:G1}");
    }
}

/// <summary>What the integration of a launch took.</summary>
/// <param name="StepsAccepted">Steps accepted.</param>
/// <param name="StepsRejected">Steps rejected.</param>
/// <param name="Evaluations">Evaluations of the equations.</param>
/// <param name="Restarts">Restarts at events.</param>
public sealed record LaunchStatistics(int StepsAccepted, int StepsRejected, int Evaluations, int Restarts);
