using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail.Laws;

/// <summary>
/// The laws that hold for every design, each as a method that holds it against one: for property tests over generated
/// launchers (<see cref="LauncherGenerators"/>), or over your own.
/// </summary>
public static partial class LaunchLaws
{
    /// <summary>What the energy ledger may fail to close by at the default tolerance, as a part of the energy turned over.</summary>
    [Dimensionless]
    public const double LedgerTolerance = 1e-6;

    /// <summary>
    /// How far the end speed may move, as a part of the greatest speed, when a launch is computed a hundred times more
    /// accurately: this many times the looser tolerance.
    /// </summary>
    [Dimensionless]
    public const double SpeedErrorPerTolerance = 100;

    private const int MotionSamples = 60;

    /// <summary>Law 1: the energy ledger closes, whatever the outcome.</summary>
    /// <param name="result">A launch.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static LawCheck LedgerCloses(LaunchResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        LawCheck launch = LedgerCloses(result.Ledger);
        return result.Braking is { } braking && launch.Holds ? LedgerCloses(braking.Ledger) : launch;
    }

    /// <summary>Law 1 for a ledger on its own.</summary>
    /// <param name="ledger">The ledger.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static LawCheck LedgerCloses(EnergyLedger ledger)
    {
        ArgumentNullException.ThrowIfNull(ledger);
        return new LawCheck("the ledger closes", ledger.RelativeResidual, LedgerTolerance, Text($"residual {ledger.Residual.Joules:G3} J of {ledger.Drawn.Joules:G3} J drawn"));
    }

    /// <summary>
    /// Law 2: force and back-EMF share one constant K. The work ∫ Σ K i v dt, from the trace and the force constant, is what the
    /// sled gained mechanically, and also what the circuits gave away beyond their heat and field.
    /// </summary>
    /// <param name="result">A launch.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static LawCheck ForceAndBackEmfShareK(LaunchResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return ForceAndBackEmfShareK(result.Trace, result.Ledger, result.ForceConstantAt);
    }

    /// <summary>Law 2 for a trace, a ledger and a force constant that belong together.</summary>
    /// <param name="trace">The course of the launch; the integral is Boole's rule over the five rows of each step.</param>
    /// <param name="ledger">Where the energy went.</param>
    /// <param name="constant">Force per ampere at a position, for a circuit.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    public static LawCheck ForceAndBackEmfShareK(LaunchTrace trace, EnergyLedger ledger, Func<Length, int, ForceConstant> constant)
    {
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentNullException.ThrowIfNull(ledger);
        ArgumentNullException.ThrowIfNull(constant);
        ReadOnlySpan<double> weights = [7.0 / 90, 32.0 / 90, 12.0 / 90, 32.0 / 90, 7.0 / 90];
        double converted = 0;
        for (int first = 0; first + 4 < trace.TimeSeconds.Length; first += 5)
        {
            double duration = trace.TimeSeconds[first + 4] - trace.TimeSeconds[first];
            for (int j = 0; j < 5; j++)
            {
                int row = first + j;
                double force = 0;
                for (int k = 0; k < trace.CurrentAmperes.Length; k++)
                {
                    double current = trace.CurrentAmperes[k][row];
                    if (current != 0)
                    {
                        force += constant(Length.FromMeters(trace.PositionMeters[row]), k).NewtonsPerAmpere * current;
                    }
                }

                converted += duration * weights[j] * force * trace.SpeedMetersPerSecond[row];
            }
        }

        double mechanical = (ledger.Kinetic + ledger.Potential + ledger.Friction + ledger.Drag + ledger.Brake).Joules;
        double electrical = (ledger.Drawn - ledger.CoilHeat - ledger.OtherHeat - ledger.Arcs - ledger.Suppressed - ledger.Breaks - ledger.Magnetic).Joules;
        double scale = Turnover(ledger);
        double deviation = scale == 0 ? 0 : Math.Max(Math.Abs(mechanical - converted), Math.Abs(electrical - converted)) / scale;
        return new LawCheck(
            "force and back-EMF share K", deviation, LedgerTolerance, Text($"∫Kiv dt {converted:G9} J, mechanical {mechanical:G9} J, electrical {electrical:G9} J"));
    }

    /// <summary>
    /// Law 5: turning every magnet round and exchanging the supply's rails changes nothing in the motion and turns every
    /// current round; and turning the magnets alone is the same as exchanging the rails alone.
    /// </summary>
    /// <param name="launcher">A launcher on a track of equal facing pairs.</param>
    /// <param name="options">How accurately; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentException">The track is not one of equal facing pairs, so that it cannot be turned round here.</exception>
    public static LawCheck ReversingTrackAndRailsChangesNothing(Launcher launcher, LaunchOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        LaunchResult plain = launcher.Launch(options);
        LaunchResult both = WithRailsExchanged(WithMagnetsReversed(launcher)).Launch(options);
        LaunchResult magnets = WithMagnetsReversed(launcher).Launch(options);
        LaunchResult rails = WithRailsExchanged(launcher).Launch(options);
        double first = MotionDifference(plain, both);
        double second = MotionDifference(magnets, rails);
        double currents = Math.Abs(plain.PeakCurrent.Amperes - both.PeakCurrent.Amperes) / Math.Max(1e-12, plain.PeakCurrent.Amperes);
        return new LawCheck(
            "reversing every polarity and the supply changes nothing",
            Math.Max(Math.Max(first, second), currents),
            1e-9,
            Text($"both against neither {first:G3}, magnets against rails {second:G3}, peak current {currents:G3}"));
    }

    /// <summary>
    /// Law 6: at equal copper section, N turns at N volts, with no resistance outside the coil and an ideal break, the motion
    /// is the same for every N: turns only match the coil to its source.
    /// </summary>
    /// <param name="launcher">A launcher; it is made ideal by <see cref="AtVoltsPerTurn"/>.</param>
    /// <param name="turnsFactor">How many times the turns of each coil, 2 to 4.</param>
    /// <param name="options">How accurately; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    public static LawCheck TurnsOnlyMatchTheSource(Launcher launcher, int turnsFactor, LaunchOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        LaunchResult plain = AtVoltsPerTurn(launcher, 1).Launch(options);
        LaunchResult rewound = AtVoltsPerTurn(launcher, turnsFactor).Launch(options);
        double motion = MotionDifference(plain, rewound);
        double peak = plain.PeakCurrent.Amperes;
        double current = Math.Abs((turnsFactor * rewound.PeakCurrent.Amperes) - peak) / Math.Max(1e-12, peak);
        return new LawCheck(
            "N turns at N volts move alike", Math.Max(motion, current), 1e-8, Text($"motion {motion:G3}, ampere turns {current:G3}, {plain.Outcome}"));
    }

    /// <summary>
    /// Law 9: the kinetic energy gained never exceeds the energy drawn and the height lost; and no loss is negative.
    /// </summary>
    /// <param name="result">A launch.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static LawCheck KineticEnergyIsPaidFor(LaunchResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return KineticEnergyIsPaidFor(result.Ledger);
    }

    /// <summary>Law 9 for a ledger on its own.</summary>
    /// <param name="ledger">The ledger.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public static LawCheck KineticEnergyIsPaidFor(EnergyLedger ledger)
    {
        ArgumentNullException.ThrowIfNull(ledger);
        double scale = Turnover(ledger);
        double excess = (ledger.Kinetic + ledger.Potential - ledger.Drawn).Joules;
        foreach (Energy loss in (Energy[])[ledger.CoilHeat, ledger.OtherHeat, ledger.Arcs, ledger.Suppressed, ledger.Breaks, ledger.Friction, ledger.Drag, ledger.Magnetic])
        {
            excess = Math.Max(excess, -loss.Joules);
        }

        return new LawCheck(
            "kinetic energy is paid for",
            scale == 0 ? 0 : Math.Max(0, excess) / scale,
            LedgerTolerance,
            Text($"kinetic {ledger.Kinetic.Joules:G6} J, height {ledger.Potential.Joules:G6} J, drawn {ledger.Drawn.Joules:G6} J"));
    }

    /// <summary>
    /// Law 11: computing a hundred times more accurately moves the end speed by less than the error that
    /// <see cref="LaunchOptions.RelativeTolerance"/> states.
    /// </summary>
    /// <param name="launcher">A launcher.</param>
    /// <param name="options">The looser computation; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    public static LawCheck ToleranceBoundsTheError(Launcher launcher, LaunchOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        LaunchOptions loose = options ?? LaunchOptions.Default;
        LaunchResult a = launcher.Launch(loose);
        LaunchResult b = launcher.Launch(loose with { RelativeTolerance = Math.Max(1e-13, 0.01 * loose.RelativeTolerance) });
        double fastest = Fastest(b);
        double moved = fastest == 0 ? 0 : Math.Abs(a.EndSpeed.MetersPerSecond - b.EndSpeed.MetersPerSecond) / fastest;
        return new LawCheck(
            "tightening the tolerance moves the end speed by less than the stated error",
            a.Outcome == b.Outcome ? moved : double.PositiveInfinity,
            SpeedErrorPerTolerance * loose.RelativeTolerance,
            Text($"{a.EndSpeed.MetersPerSecond:R} m/s, then {b.EndSpeed.MetersPerSecond:R} m/s; {a.Outcome}, then {b.Outcome}"));
    }

    /// <summary>The launcher with every magnet turned round.</summary>
    /// <param name="launcher">A launcher on a track of equal facing pairs.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentException">The track is not one of equal facing pairs.</exception>
    public static Launcher WithMagnetsReversed(Launcher launcher)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        Track track = launcher.Track;
        Length gap = track.Gap ?? throw new ArgumentException("the track has no gap; only tracks of equal facing pairs can be turned round here.", nameof(launcher));
        MagnetBody magnet = track.Stations[0].Magnets[0].Body;
        Track Rebuilt(IReadOnlyList<Polarity> polarity) => Track.OfFacingPairs(magnet, gap, track.StationCount, track.Pitch, polarity);
        if (!Rebuilt(track.Polarities).Positions.SequenceEqual(track.Positions) || track.Stations.Any(station => station != track.Stations[0]))
        {
            throw new ArgumentException("the stations differ or do not lie at one pitch; only tracks of equal facing pairs can be turned round here.", nameof(launcher));
        }

        return launcher with { Track = Rebuilt([.. track.Polarities.Select(p => p == Polarity.Positive ? Polarity.Negative : Polarity.Positive)]) };
    }

    /// <summary>The launcher with plus and minus exchanged on every contact strip.</summary>
    /// <param name="launcher">A launcher.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    public static Launcher WithRailsExchanged(Launcher launcher)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        ContactCommutator contacts = launcher.Contacts;
        return launcher with
        {
            Contacts = new ContactCommutator(Exchanged(contacts.Upper), Exchanged(contacts.Lower), contacts.UpperBrush, contacts.LowerBrush),
        };
    }

    /// <summary>
    /// The launcher made ideal and rewound: no resistance outside the coils, the ideal break, a bench supply without limit;
    /// each coil wound to the edge of the same winding space with a multiple of its turns of a wire of as much less section,
    /// at a multiple of the voltage. The carriage makes up for the mass of the enamel.
    /// </summary>
    /// <param name="launcher">A launcher whose coils are wound in layers.</param>
    /// <param name="turnsFactor">How many times the turns, 1 to 4.</param>
    /// <remarks>
    /// Real enamel is thicker on thin wire in proportion, so that a layered winding of more turns would not fill the same
    /// space; a winding to the edge does by its definition, as long as the wires fit it.
    /// </remarks>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The factor is out of its range, or the turns do not fit.</exception>
    public static Launcher AtVoltsPerTurn(Launcher launcher, int turnsFactor)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        ArgumentOutOfRangeException.ThrowIfLessThan(turnsFactor, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(turnsFactor, 4);
        Sled sled = launcher.Sled;
        Dictionary<Coil, Coil> wound = [];
        foreach (Coil coil in sled.Coils.Select(mount => mount.Coil).Distinct())
        {
            CoilFormer former = coil.Former;
            wound[coil] = Coil.Wind(
                Wire.Of(coil.Wire.Conductor, WireGauge.Metric(coil.Wire.BareDiameter / Math.Sqrt(turnsFactor)), coil.Wire.Enamel),
                CoilFormer.Rounded(former.Width, former.Height, former.Corner, former.Length, coil.Build),
                turnsFactor * coil.Turns,
                WindingStyle.WildToTheEdge);
        }

        Mass copper = Mass.FromKilograms(sled.Coils.Sum(mount => wound[mount.Coil].Mass.Kilograms));
        ContactCommutator contacts = launcher.Contacts;
        double volts = VoltsOf(launcher.Source);
        return launcher with
        {
            Sled = new Sled(
                sled.MassWithCoils - copper,
                sled.Coils.Select(mount => new CoilMount(wound[mount.Coil], mount.Offset, mount.Sense, mount.Circuit)))
            {
                Friction = sled.Friction,
                DragArea = sled.DragArea,
            },
            Contacts = new ContactCommutator(contacts.Upper, contacts.Lower, WithoutResistance(contacts.UpperBrush), WithoutResistance(contacts.LowerBrush)),
            Source = new BenchSupply(ElectricPotential.FromVolts(turnsFactor * volts)),
            Leads = Leads.Ideal,
            BusBars = null,
            Arc = null,
            Switch = new StartSwitch(ElectricResistance.Zero, launcher.Switch.Bounce),
            Suppressor = Suppressor.IdealBreak,
        };
    }

    /// <summary>
    /// How far two motions lie apart: the greatest difference of position and of speed at equal times, and of the end, as a
    /// part of the travel, the greatest speed and the duration; infinite where the outcomes differ.
    /// </summary>
    /// <param name="a">A launch.</param>
    /// <param name="b">Another launch.</param>
    /// <exception cref="ArgumentNullException">One is null.</exception>
    [return: Dimensionless]
    public static double MotionDifference(LaunchResult a, LaunchResult b)
    {
        ArgumentNullException.ThrowIfNull(a);
        ArgumentNullException.ThrowIfNull(b);
        if (a.Outcome != b.Outcome)
        {
            return double.PositiveInfinity;
        }

        double speed = Math.Max(Math.Max(Fastest(a), Fastest(b)), 1e-9);
        double travel = 1e-6;
        foreach (double x in a.Trace.PositionMeters)
        {
            travel = Math.Max(travel, Math.Abs(x - a.Trace.PositionMeters[0]));
        }

        double worst = Math.Abs(a.EndTime.Seconds - b.EndTime.Seconds) / Math.Max(a.EndTime.Seconds, 1e-9);
        worst = Math.Max(worst, Math.Abs(a.EndSpeed.MetersPerSecond - b.EndSpeed.MetersPerSecond) / speed);
        worst = Math.Max(worst, Math.Abs(a.EndPosition.Meters - b.EndPosition.Meters) / travel);
        double end = Math.Min(a.Trace.End.Seconds, b.Trace.End.Seconds);
        for (int i = 0; i <= MotionSamples && a.Trace.TimeSeconds.Length > 0 && b.Trace.TimeSeconds.Length > 0; i++)
        {
            var t = Duration.FromSeconds(Math.Min(end, end * i / MotionSamples));
            LaunchSample p = a.Trace.At(t);
            LaunchSample q = b.Trace.At(t);
            worst = Math.Max(worst, Math.Abs(p.Position.Meters - q.Position.Meters) / travel);
            worst = Math.Max(worst, Math.Abs(p.Speed.MetersPerSecond - q.Speed.MetersPerSecond) / speed);
        }

        return worst;
    }

    internal static double VoltsOf(PowerSource source) => source switch
    {
        BenchSupply bench => bench.Volts.Volts,
        BatteryPack pack => pack.OpenCircuitVolts.Volts,
        CapacitorBank bank => bank.InitialVolts.Volts,
        _ => throw new ArgumentException($"the laws know no voltage of {source}.", nameof(source)),
    };

    private static double Fastest(LaunchResult result)
    {
        double fastest = 0;
        foreach (double v in result.Trace.SpeedMetersPerSecond)
        {
            fastest = Math.Max(fastest, Math.Abs(v));
        }

        return fastest;
    }

    private static double Turnover(EnergyLedger ledger)
        => Math.Max(Math.Abs(ledger.Drawn.Joules), ledger.Entries.Max(entry => Math.Abs(entry.Value.Joules)));

    private static ContactLine Exchanged(ContactLine line)
        => new(line.Strips.Select(strip => new ContactStrip(
            strip.Start,
            strip.End,
            strip.Bus switch
            {
                Bus.Plus => Bus.Minus,
                Bus.Minus => Bus.Plus,
                Bus other => other,
            })));

    private static Brush WithoutResistance(Brush brush) => new(brush.Length, ElectricResistance.Zero, brush.Force, brush.Offset);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
