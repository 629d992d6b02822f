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
    private readonly Lazy<Demagnetization> demagnetization;
    private readonly Lazy<ImmutableArray<string>> cautions;
    private readonly Lazy<LimitTable> limits;

    internal LaunchResult(LauncherSi curves, in LaunchFigures figures)
    {
        this.curves = curves;
        Figures = figures;
        demagnetization = new(FindDemagnetization);
        cautions = new(() => [.. FindCautions()]);
        limits = new(() => LimitTable.Of(this));
    }

    /// <summary>The figures as plain numbers.</summary>
    internal LaunchFigures Figures { get; }

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

    /// <summary>
    /// The greatest current through a contact, sampled at five points a step: that of the coil, and what lies across the coil added where that is a resistor or a resistor
    /// and capacitor.
    /// </summary>
    public required ElectricCurrent PeakContactCurrent { get; init; }

    /// <summary>Where the greatest coil current occurs.</summary>
    public required Length PeakCurrentPosition { get; init; }

    /// <summary>Root mean square of the coil current over the run, of the circuit that carries most.</summary>
    public required ElectricCurrent RmsCurrent { get; init; }

    /// <summary>
    /// The greatest lateral magnet force on the guide, sampled at five points a step; zero where symmetry makes it vanish, and not computed
    /// (zero) where the guide has no friction.
    /// </summary>
    public required Force PeakLateralForce { get; init; }

    /// <summary>
    /// How near each magnet came to losing magnetization for good: under its own field, its neighbors' and that of the coil at its peak
    /// current, whichever way that flows, at the launcher's magnet temperature.
    /// </summary>
    /// <remarks>Computed when first asked for. The coil of several that comes nearest counts; other coils' fields at the same time are left out.</remarks>
    public Demagnetization Demagnetization => demagnetization.Value;

    /// <summary>What to know before building or trusting the figures: each a sentence; empty where nothing stands out.</summary>
    /// <remarks>Computed when first asked for.</remarks>
    public ImmutableArray<string> Cautions => cautions.Value;

    /// <summary>The greatest current from the source, sampled at five points a step.</summary>
    public required ElectricCurrent PeakSourceCurrent { get; init; }

    /// <summary>The least voltage between the rails while a coil was on them, sampled at five points a step: how far the source sagged.</summary>
    public required ElectricPotential LeastRailVoltage { get; init; }

    /// <summary>
    /// The greatest voltage across one closed contact, brush body included, sampled at five points a step; against it stand the softening and
    /// the melting voltage of its material.
    /// </summary>
    public required ElectricPotential PeakContactVoltage { get; init; }

    /// <summary>Charge drawn from the source, from the start to the end of the run.</summary>
    public required ElectricCharge ChargeDrawn { get; init; }

    /// <summary>
    /// The temperature of each coil at the end of the run, in the order of <see cref="Sled.Coils"/>, as if none of its heat had gone anywhere. Its resistance has
    /// followed where <see cref="Launcher.CoilsWarmUp"/> says so.
    /// </summary>
    public required ImmutableArray<Temperature> CoilTemperatures { get; init; }

    /// <summary>Every contact that parted under current, in order.</summary>
    public required ImmutableArray<ContactBreak> Breaks { get; init; }

    /// <summary>What became of the sled after the release; null where the launcher has no brake, or the payload was not released.</summary>
    public required BrakingResult? Braking { get; init; }

    /// <summary>Every limit that the launcher's parts and ratings state, how near the launch came, and the cautions that apply.</summary>
    /// <remarks>Computed when first asked for.</remarks>
    public LimitTable Limits => limits.Value;

    /// <summary>What the launch does to the base.</summary>
    public Recoil Recoil
    {
        get
        {
            double mass = Launcher.MovingMass.Kilograms;
            return new Recoil(
                Impulse.FromNewtonSeconds(mass * (EndSpeed.MetersPerSecond - Launcher.StartSpeed.MetersPerSecond)),
                Force.FromNewtons(mass * PeakAcceleration.MetersPerSecondSquared));
        }
    }

    /// <summary>Charge through the arcs of all breaks of one circuit that wears most; zero where no arc is computed.</summary>
    public ElectricCharge ArcCharge
        => ElectricCharge.FromCoulombs(Figures.ArcCharge);

    /// <summary>
    /// Metal that arcs take from a brush in this launch, as if all the charge wore it alone; null where <see cref="Ratings.BrushMaterial"/> is not stated. Known to a
    /// factor of several.
    /// </summary>
    public ContactWear? BrushWear => Launcher.Ratings.BrushMaterial is ContactMaterial material ? new ContactWear(material, ArcCharge) : null;

    /// <summary>
    /// How many launches like this a brush lasts by its arcs; null where <see cref="Ratings.BrushMaterial"/> or <see cref="Ratings.BrushVolume"/> is not stated.
    /// </summary>
    public ContactLife? BrushLife => Launcher.Ratings.BrushVolume is Volume volume ? BrushWear?.LifeOf(volume) : null;

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

    private Demagnetization FindDemagnetization()
        => Launcher.Sled.Coils.Select(mount => mount.Coil).Distinct()
            .Select(coil => Demagnetization.Of(Launcher.Track, Launcher.MagnetTemperature, coil, PeakCurrent))
            .MinBy(found => found.Worst.Margin)!;

    private IEnumerable<string> FindCautions()
    {
        Track track = Launcher.Track;
        foreach (string caution in track.Stations.SelectMany(station => station.Magnets).Select(magnet => magnet.Body.Grade.Caution).OfType<string>().Distinct())
        {
            yield return caution;
        }

        if (!Demagnetization.IsSafe)
        {
            DemagnetizationMargin worst = Demagnetization.Worst;
            yield return $"Demagnetization: {worst}; magnetization is lost for good from {Show.Number(100 * Demagnetization.Knee)} % of it. Take a grade of higher coercivity, a cooler magnet or less current.";
        }

        if (Crossings.Any(crossing => crossing.After == CircuitConnection.Bridged))
        {
            yield return $"Strips: a brush bridges strips of opposite rails and shorts the source, which gave up to {Show.Quantity(PeakSourceCurrent)}. A fuse blows or something melts; the arc as such a brush leaves a strip is not computed. Take a shorter brush or a wider gap.";
        }

        foreach (ContactBreak flash in Breaks.Where(one => one.FlashOverPosition is not null).Take(1))
        {
            int count = Breaks.Count(one => one.FlashOverPosition is not null);
            yield return $"Flash-over: at {count} of {Breaks.Length} breaks the arc still burns as the brush reaches a strip of the other rail, first at {Show.Quantity(flash.FlashOverPosition!.Value)}; the source is then shorted through it. The launch goes on as if the arc died there; a real one may not. Take wider gaps, a suppressor or fewer volts.";
        }

        if (track.IronIsSaturated)
        {
            yield return $"Back iron: an estimated {Show.Quantity(track.FluxDensityInIron())} in a plate that saturates at {Show.Quantity(track.Stations[0].BackIron!.Saturation)}; the real force is lower than computed. Take a thicker plate.";
        }
    }

    /// <summary>The launch in one line.</summary>
    public override string ToString()
    {
        string head = Outcome == LaunchOutcome.Released
            ? $"exit speed {Show.Quantity(EndSpeed)} after {Show.Quantity(EndTime)}"
            : $"not released: {Cause}";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{head}; peak {Show.Quantity(PeakCurrent)}, {Show.Quantity(PeakAcceleration)} ({PeakGs:G3} g); efficiency {100 * Efficiency:G3} %; residual {Show.SmallShare(Ledger.RelativeResidual)}");
    }
}

/// <summary>What the integration of a launch took.</summary>
/// <param name="StepsAccepted">Steps accepted.</param>
/// <param name="StepsRejected">Steps rejected.</param>
/// <param name="Evaluations">Evaluations of the equations.</param>
/// <param name="Restarts">Restarts at events.</param>
public sealed record LaunchStatistics(int StepsAccepted, int StepsRejected, int Evaluations, int Restarts)
{
    /// <summary>The statistics in words.</summary>
    public override string ToString() => $"{StepsAccepted} steps, {StepsRejected} rejected, {Evaluations} evaluations, {Restarts} restarts";
}
