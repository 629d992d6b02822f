using System.Collections.Immutable;
using UnitsNet;

namespace Magrail;

/// <summary>
/// A fuse for a launcher: the least blade fuse that bears its launches, and what it protects and what it does not.
/// </summary>
/// <remarks>
/// A fuse must carry every launch and melt before the thinnest conductor does. Both are held against each other by ∫ i² dt: what the launch has, what the fuse bears again and
/// again, what it lets through before it opens, and what a conductor withstands without losing heat. A launch lasts tenths of a second, a fuse takes seconds at
/// twice its rating, and a stalled sled draws hardly more than a launching one: so a fuse saves wiring from a short, and rarely a coil from a stall. Where that is so, <see cref="Findings"/> say it.
/// The gates of opening times are those of a standard, from memory: look them up on the page of the fuse that you buy. Local codes and licensed practice come first.
/// </remarks>
public sealed class FuseChoice
{
    // Insulation of PVC: warm from carrying its current for good, and the most that it bears for a moment.
    private static readonly Temperature WarmWire = Temperature.FromDegreesCelsius(70);
    private static readonly Temperature HottestWire = Temperature.FromDegreesCelsius(160);
    private static readonly Duration Second = Duration.FromSeconds(1);

    private const double SoonSeconds = 5;
    private const string Memory = "Fuse times and ratings: from memory, hold them against the maker's sheet.";

    private readonly BladeFuse? fuse;
    private readonly double coilAction;
    private readonly double shortThrough;
    private readonly double stallThrough;

    private FuseChoice(LaunchLoad load, BladeFuse? fuse)
    {
        this.fuse = fuse;
        Load = load;
        Rating = fuse is null ? null : ElectricCurrent.FromAmperes(fuse.Rating);
        ShortCurrent = double.IsFinite(load.Short) ? ElectricCurrent.FromAmperes(load.Short) : null;
        StallCurrent = ElectricCurrent.FromAmperes(load.Stall);
        IsBladeFit = load.Volts <= BladeFuse.Volts && load.AtSource <= BladeFuse.Breaks;
        Duration steady = AdiabaticHeating.TimeTo(load.CoilConductor, load.CoilSection, StallCurrent, load.CoilLimit, load.CoilStart);

        // ∫ i² dt to the coil's limit is the same for every course of the current: no heat is lost.
        coilAction = load.Stall * load.Stall * steady.Seconds;
        StallTime = double.IsFinite(load.StallAction) ? DecayTime(coilAction, load.Stall, load.StallAction) : steady;
        shortThrough = Through(load.Short, load.ShortAction);
        stallThrough = Through(load.Stall, load.StallAction);
        OpensOnShort = IsBladeFit && OpeningSeconds(shortThrough, load.Short, load.ShortAction) <= SoonSeconds;
        ProtectsCoil = IsBladeFit && stallThrough <= coilAction;
        Findings = [.. FindingsOf()];
    }

    /// <summary>The rating, by the times of blade fuses; null where no blade fuse up to 40 A bears the launches.</summary>
    public ElectricCurrent? Rating { get; }

    /// <summary>The greatest current that the source can drive through a short behind its leads and switch; null where nothing that is described bounds it.</summary>
    public ElectricCurrent? ShortCurrent { get; }

    /// <summary>The current of a sled that stands still on a strip, its coil cold.</summary>
    public ElectricCurrent StallCurrent { get; }

    /// <summary>How long the coil of a stalled sled takes to its insulation's limit, losing no heat; null where the bank is empty first.</summary>
    public Duration? StallTime { get; }

    /// <summary>
    /// Whether a common blade fuse may be used at all: they are made for 32 V of direct current and interrupt about 1 kA (from memory). The current is that of a short right behind the
    /// fuse, which the source's own resistance alone bounds.
    /// </summary>
    public bool IsBladeFit { get; }

    /// <summary>Whether a blade fuse is sure to open on a short between the rails within five seconds; false where no blade fuse may be used.</summary>
    public bool OpensOnShort { get; }

    /// <summary>Whether a blade fuse is sure to open before the coil of a stalled sled reaches its insulation's limit; false where no blade fuse may be used.</summary>
    public bool ProtectsCoil { get; }

    /// <summary>What the choice rests on and what it does not do, each a sentence.</summary>
    public ImmutableArray<string> Findings { get; }

    internal LaunchLoad Load { get; }

    /// <summary>The fuse for a launch.</summary>
    /// <param name="launch">The launch.</param>
    /// <exception cref="ArgumentNullException">The launch is null.</exception>
    public static FuseChoice Of(LaunchResult launch)
    {
        ArgumentNullException.ThrowIfNull(launch);
        return Of(LaunchLoad.Of(launch));
    }

    /// <summary>The fuse and what it does, a line each.</summary>
    /// <returns>Several lines.</returns>
    public override string ToString()
        => string.Join(Environment.NewLine, Findings.Prepend(Words));

    internal static FuseChoice Of(LaunchLoad load)
        => new(load, BladeFuse.Ratings.Select(rating => new BladeFuse(rating)).FirstOrDefault(each => each.Bears(load.Rms, load.Peak, load.Action)));

    /// <summary>∫ i² dt that a copper wire with PVC insulation withstands, A² s.</summary>
    internal static double Withstand(Area section)
    {
        double amperes = AdiabaticHeating.CurrentTo(Conductor.Copper, section, Second, HottestWire, WarmWire).Amperes;
        return amperes * amperes;
    }

    /// <summary>What to buy, in words.</summary>
    internal string Words => (Rating, IsBladeFit) switch
    {
        (ElectricCurrent rating, true) => $"{Show.Quantity(rating)} blade fuse",
        (ElectricCurrent rating, false) => $"fuse of about {Show.Quantity(rating)}, NOT a blade fuse: {Needed}",
        (null, true) => "no blade fuse up to 40 A bears the launches: a larger kind, by its maker's curve",
        (null, false) => $"no blade fuse up to 40 A bears the launches, nor is one made for this source: {Needed}",
    };

    /// <summary>What a fuse must be made for where a blade fuse does not do.</summary>
    private string Needed
        => $"made for at least {Show.Quantity(ElectricPotential.FromVolts(Load.Volts))} of direct current, with a breaking capacity above {(double.IsFinite(Load.AtSource) ? Show.Quantity(ElectricCurrent.FromAmperes(Load.AtSource)) : "what the source drives into a short (its description bounds nothing: measure it or ask its maker)")}, by its maker's data";

    /// <summary>What protects a wire of this section from a short; null where nothing does.</summary>
    /// <param name="section">The wire's.</param>
    /// <param name="atSource">Whether a short may come before the leads, so that the source's own resistance alone bounds what flows through the wire.</param>
    internal string? ProtectionOf(Area section, bool atSource = false)
    {
        double carries = StandardSection.AmperesOf(section);
        double withstands = Withstand(section);
        (double most, double action) = atSource ? (Load.AtSource, Load.AtSourceAction) : (Load.Short, Load.ShortAction);
        if (Carries(section, atSource) is string always)
        {
            return always;
        }

        if (fuse is not null && double.IsFinite(Through(most, action)) && fuse.Rating <= carries && Math.Min(fuse.WorstThrough(most), action) <= withstands)
        {
            return IsBladeFit ? "the fuse opens before its insulation suffers" : $"a fuse as above that lets through less than {Action(withstands)} (its maker's sheet)";
        }

        return action <= withstands ? BankEmpty : null;
    }

    /// <summary>What protects a wire between the source and the fuse: never the fuse.</summary>
    internal string ProtectionBeforeFuse(Area section)
        => Carries(section, atSource: true) ?? (Load.AtSourceAction <= Withstand(section) ? BankEmpty : "nothing: keep it a hand's breadth long");

    private const string BankEmpty = "the bank is empty before its insulation suffers";

    private string? Carries(Area section, bool atSource)
    {
        double most = atSource ? Load.AtSource : Load.Short;
        return most <= StandardSection.AmperesOf(section) ? $"carries all that the source gives ({Show.Quantity(ElectricCurrent.FromAmperes(most))}) for good" : null;
    }

    private IEnumerable<string> FindingsOf()
    {
        string action = Action(Load.Action);
        if (fuse is null)
        {
            yield return $"A launch has {Show.Quantity(ElectricCurrent.FromAmperes(Load.Rms))} rms for {Show.Quantity(Duration.FromSeconds(Load.Seconds))}, {action}: no blade fuse up to 40 A bears that again and again. Take a larger kind by its maker's curve: {Percent(BladeFuse.PulseShare)} of its melting I²t above {action}.";
        }
        else
        {
            double bears = BladeFuse.PulseShare * Math.Min(fuse.HoldsAction(Load.Rms), Load.Peak > fuse.Rating ? fuse.HoldsAction(Load.Peak) : double.PositiveInfinity);
            string borne = double.IsFinite(bears) ? $"such a fuse bears {Action(bears)} ten thousand times, ten seconds or more apart" : "no more than its rating, which such a fuse carries for good";
            yield return $"It carries: a launch has {Show.Quantity(ElectricCurrent.FromAmperes(Load.Rms))} rms for {Show.Quantity(Duration.FromSeconds(Load.Seconds))}, {action}; {borne}.";
        }

        string shorted = ShortCurrent is ElectricCurrent most ? Show.Quantity(most) : "a current that nothing described here bounds";
        if (!IsBladeFit)
        {
            yield return $"NO BLADE FUSE: common ones are made for {Show.Number(BladeFuse.Volts)} V of direct current and interrupt about {Show.Quantity(ElectricCurrent.FromAmperes(BladeFuse.Breaks))} (from memory); beyond that one goes on arcing, or bursts. This source has {Show.Quantity(ElectricPotential.FromVolts(Load.Volts))}, and a short right behind the fuse draws {(double.IsFinite(Load.AtSource) ? Show.Quantity(ElectricCurrent.FromAmperes(Load.AtSource)) : "a current that nothing described here bounds")}. Take a fuse {Needed}, and hold its curve against the launch; nothing is claimed here for what it protects.";
            if (double.IsFinite(Load.ShortAction))
            {
                yield return $"A short empties the bank with {Action(Load.ShortAction)}: count on it that the bank empties into the short. Discharge it before you touch anything.";
            }
        }
        else if (fuse is not null)
        {
            double opens = OpeningSeconds(shortThrough, Load.Short, Load.ShortAction);
            yield return OpensOnShort
                ? $"A short between the rails draws {shorted}: by its standard's times (from memory) the fuse is sure to open within {Within(opens)}."
                : double.IsFinite(opens)
                    ? $"A short between the rails draws {shorted}, which the fuse may carry for {Show.Quantity(Duration.FromSeconds(opens))}: until then it protects nothing. Set a limit at the source, and test it into a short before you connect the rails."
                : double.IsFinite(Load.ShortAction)
                    ? $"A short empties the bank with {Action(Load.ShortAction)}, which need not melt the fuse: the bank empties into the short. Discharge it before you touch anything."
                    : $"A short between the rails draws {shorted}, which the fuse may carry for good: what protects is the limit of the source, not the fuse. Set the limit, and test it into a short before you connect the rails.";
        }

        yield return StallWords();
        yield return "Put it within a hand's breadth of the source's plus pole, before the switch.";
        yield return Memory;
    }

    private string StallWords()
    {
        if (StallTime is not Duration time)
        {
            return $"A stalled sled draws {Show.Quantity(StallCurrent)} at first; the bank is empty first: it drives {Action(Load.StallAction)} through the coil, which takes {Action(coilAction)} to reach {Show.Quantity(Load.CoilLimit)} (losing no heat). That holds for one charge only.";
        }

        string stall = $"A stalled sled draws {Show.Quantity(StallCurrent)}{(double.IsFinite(Load.StallAction) ? " at first" : string.Empty)}, and its coil reaches {Show.Quantity(Load.CoilLimit)} in {Show.Quantity(time)}";
        if (ProtectsCoil)
        {
            return $"{stall}: by its standard's times (from memory) the fuse is sure to open within {Within(OpeningSeconds(stallThrough, Load.Stall, Load.StallAction))}, before that.";
        }

        return double.IsFinite(Load.StallAction)
            ? $"{stall}, before the bank is empty; no fuse that carries the launches is sure to open before. Charge it no further than one launch needs, and discharge it if the sled does not move."
            : $"{stall}. A fuse cannot do both here, carry the launches and save the coil: hold the switch to run, let go at once if the sled does not move, and have a timer that cuts the current after a few launch times.";
    }

    /// <summary>∫ i² dt by which the fuse is sure to have opened; infinite where it need not open.</summary>
    private double Through(double amperes, double action)
        => fuse is null ? double.PositiveInfinity : double.IsFinite(action) ? fuse.LetsThroughOfDecay(amperes, action) : fuse.LetsThrough(amperes);

    private static double OpeningSeconds(double through, double amperes, double action)
        => !double.IsFinite(through) ? double.PositiveInfinity
            : double.IsFinite(action) ? DecayTime(through, amperes, action)?.Seconds ?? double.PositiveInfinity
            : through / (amperes * amperes);

    /// <summary>When a current that decays from a first value, with a whole ∫ i² dt, has brought a part of it; null where it never does.</summary>
    private static Duration? DecayTime(double part, double first, double whole)
        => part < whole ? Duration.FromSeconds(-Math.Log(1 - (part / whole)) * whole / (first * first)) : null;

    /// <summary>The time by which the gates promise an open fuse.</summary>
    private static string Within(double seconds) => seconds < 0.1 ? "a tenth of a second" : Show.Quantity(Duration.FromSeconds(seconds));

    private static string Percent(double share) => $"{Show.Number(100 * share)} %";

    private static string Action(double ampereSquaredSeconds) => $"{Show.Number(ampereSquaredSeconds)} A² s";
}

/// <summary>What a launch asks of its wiring, in SI units.</summary>
/// <param name="Rms">Root mean square of the source's current over the run, A.</param>
/// <param name="Peak">Its greatest, A.</param>
/// <param name="Seconds">How long the run lasts, s.</param>
/// <param name="CircuitRms">Root mean square of the coil current of the circuit that carries most, A.</param>
/// <param name="CircuitPeak">The greatest current through a contact, A.</param>
/// <param name="Volts">Of the source, V.</param>
/// <param name="Short">What the source drives through a short, A; infinite where nothing bounds it.</param>
/// <param name="ShortAction">∫ i² dt of such a short, A² s; infinite unless a bank runs empty.</param>
/// <param name="Stall">Current of a stalled sled, A.</param>
/// <param name="CoilConductor">The coil's metal.</param>
/// <param name="CoilSection">Section of its wire.</param>
/// <param name="CoilStart">Its temperature at the start.</param>
/// <param name="CoilLimit">What its insulation bears.</param>
internal sealed record LaunchLoad(
    double Rms,
    double Peak,
    double Seconds,
    double CircuitRms,
    double CircuitPeak,
    double Volts,
    double Short,
    double ShortAction,
    double Stall,
    Conductor CoilConductor,
    Area CoilSection,
    Temperature CoilStart,
    Temperature CoilLimit)
{
    /// <summary>What the source drives through a short at its poles, A; infinite where nothing bounds it.</summary>
    public double AtSource { get; init; } = Short;

    /// <summary>∫ i² dt of such a short, A² s; infinite unless a bank runs empty.</summary>
    public double AtSourceAction { get; init; } = ShortAction;

    /// <summary>∫ i² dt through a stalled sled's coil, A² s; infinite unless a bank runs empty.</summary>
    public double StallAction { get; init; } = double.PositiveInfinity;

    /// <summary>∫ i² dt of the source's current, A² s.</summary>
    public double Action => Rms * Rms * Seconds;

    public static LaunchLoad Of(LaunchResult launch)
    {
        Launcher launcher = launch.Launcher;
        SourceSi source = launcher.Source.ToSi();
        double seconds = launch.EndTime.Seconds;
        double peak = launch.PeakSourceCurrent.Amperes;
        double outside = source.Resistance + launcher.Leads.Resistance.Ohms + launcher.Switch.Resistance.Ohms;
        double shorted = Math.Min(outside > 0 ? source.Volts / outside : double.PositiveInfinity, source.CurrentLimit);
        double stall = 0;
        double brushes = launcher.Contacts.UpperBrush.Resistance.Ohms + launcher.Contacts.LowerBrush.Resistance.Ohms;

        // The circuit of least resistance alone on the source: what several share, each has less of.
        for (int k = 0; k < launcher.Sled.CircuitCount; k++)
        {
            double coils = launcher.Sled.Coils.Where(mount => mount.Circuit == k).Sum(mount => mount.Coil.Resistance.Ohms);
            stall = Math.Max(stall, Math.Min(source.Volts / (outside + brushes + coils), source.CurrentLimit));
        }

        Coil thinnest = launcher.Sled.Coils.Select(mount => mount.Coil).MinBy(coil => coil.Wire.ConductorSection.SquareMeters)!;
        double limit = Math.Min(launcher.Ratings.Insulation.Limit.DegreesCelsius, thinnest.Wire.Conductor.MeltingPoint.DegreesCelsius);
        double start = Math.Min(launcher.CoilTemperature.DegreesCelsius, limit);
        return new LaunchLoad(
            SourceRms(launch, peak),
            peak,
            seconds,
            launch.RmsCurrent.Amperes,
            launch.PeakContactCurrent.Amperes,
            source.Volts,
            shorted,
            BankAction(outside),
            stall,
            thinnest.Wire.Conductor,
            thinnest.Wire.ConductorSection,
            Temperature.FromDegreesCelsius(start),
            Temperature.FromDegreesCelsius(limit))
        {
            AtSource = Math.Min(source.Resistance > 0 ? source.Volts / source.Resistance : double.PositiveInfinity, source.CurrentLimit),
            AtSourceAction = BankAction(source.Resistance),

            // Energy over resistance: 0.5 C V²/R, and V/R is the first current.
            StallAction = BankAction(source.Volts / stall),
        };

        double BankAction(double ohms)
            => double.IsFinite(source.Capacitance) && ohms > 0 ? 0.5 * source.Capacitance * source.Volts * source.Volts / ohms : double.PositiveInfinity;
    }

    /// <summary>An upper bound of the source's root mean square current: the sum of what the circuits carry, or its peak all the time.</summary>
    private static double SourceRms(LaunchResult launch, double peak)
    {
        // A path across a coil, or a bridge, draws current of its own.
        if (launch.Launcher.Suppressor.Conductance > 0 || launch.Crossings.Any(crossing => crossing.After == CircuitConnection.Bridged))
        {
            return peak;
        }

        LaunchTrace trace = launch.Trace;
        if (launch.Launcher.Sled.CircuitCount == 1 || launch.EndTime.Seconds <= 0)
        {
            return Math.Min(peak, launch.RmsCurrent.Amperes);
        }

        double sum = 0;
        for (int row = 1; row < trace.TimeSeconds.Length; row++)
        {
            double before = Total(row - 1);
            double after = Total(row);

            // Exact for a current that runs straight between the rows.
            sum += ((before * before) + (before * after) + (after * after)) / 3 * (trace.TimeSeconds[row] - trace.TimeSeconds[row - 1]);
        }

        return Math.Min(peak, Math.Sqrt(sum / launch.EndTime.Seconds));

        double Total(int row) => Enumerable.Range(0, launch.Launcher.Sled.CircuitCount).Sum(k => Math.Abs(trace.CurrentAmperes[k][row]));
    }
}
