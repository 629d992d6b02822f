using System.Collections.Immutable;
using System.Globalization;
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

    private readonly BladeFuse? fuse;

    private FuseChoice(LaunchLoad load, BladeFuse? fuse)
    {
        this.fuse = fuse;
        Load = load;
        Rating = fuse is null ? null : ElectricCurrent.FromAmperes(fuse.Rating);
        ShortCurrent = double.IsFinite(load.Short) ? ElectricCurrent.FromAmperes(load.Short) : null;
        StallCurrent = ElectricCurrent.FromAmperes(load.Stall);
        StallTime = AdiabaticHeating.TimeTo(load.CoilConductor, load.CoilSection, StallCurrent, load.CoilLimit, load.CoilStart);
        OpensOnShort = fuse is not null && load.Short >= BladeFuse.SureMultiple * fuse.Rating && fuse.HoldsAction(Math.Min(load.Short, 1e9)) < load.ShortAction;
        double stallAction = StallCurrent.Amperes * StallCurrent.Amperes * StallTime.Seconds;
        ProtectsCoil = fuse is not null && fuse.LetsThrough(load.Stall) <= stallAction && load.ShortAction >= stallAction;
        Findings = [.. FindingsOf()];
    }

    /// <summary>The rating; null where no blade fuse up to 40 A bears the launches.</summary>
    public ElectricCurrent? Rating { get; }

    /// <summary>The greatest current that the source can drive through a short behind its leads and switch; null where nothing that is described bounds it.</summary>
    public ElectricCurrent? ShortCurrent { get; }

    /// <summary>The current of a sled that stands still on a strip, its coil cold.</summary>
    public ElectricCurrent StallCurrent { get; }

    /// <summary>How long the coil of a stalled sled takes to its insulation's limit, losing no heat.</summary>
    public Duration StallTime { get; }

    /// <summary>Whether the fuse is sure to open on a short between the rails.</summary>
    public bool OpensOnShort { get; }

    /// <summary>Whether the fuse is sure to open before the coil of a stalled sled reaches its insulation's limit.</summary>
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
        => string.Join(Environment.NewLine, Findings.Prepend(Rating is ElectricCurrent rating ? $"blade fuse of {Show.Quantity(rating)}" : "no blade fuse up to 40 A bears the launches"));

    internal static FuseChoice Of(LaunchLoad load)
        => new(load, BladeFuse.Ratings.Select(rating => new BladeFuse(rating)).FirstOrDefault(each => each.Bears(load.Rms, load.Peak, load.Action)));

    /// <summary>∫ i² dt that a copper wire with PVC insulation withstands, A² s.</summary>
    internal static double Withstand(Area section)
    {
        double amperes = AdiabaticHeating.CurrentTo(Conductor.Copper, section, Second, HottestWire, WarmWire).Amperes;
        return amperes * amperes;
    }

    /// <summary>What protects a wire of this section from a short; null where nothing does.</summary>
    internal string? ProtectionOf(Area section)
    {
        double carries = StandardSection.AmperesOf(section);
        double withstands = Withstand(section);
        if (Load.Short <= carries)
        {
            return $"carries all that the source gives ({Show.Quantity(ElectricCurrent.FromAmperes(Load.Short))}) for good";
        }

        if (OpensOnShort && fuse!.Rating <= carries && Math.Min(fuse.WorstThrough(Load.Short), Load.ShortAction) <= withstands)
        {
            return "the fuse opens before its insulation suffers";
        }

        return Load.ShortAction <= withstands ? "the bank is empty before its insulation suffers" : null;
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
            yield return $"It carries: a launch has {Show.Quantity(ElectricCurrent.FromAmperes(Load.Rms))} rms for {Show.Quantity(Duration.FromSeconds(Load.Seconds))}, {action}; such a fuse bears {Action(BladeFuse.PulseShare * Math.Min(fuse.HoldsAction(Load.Rms), Load.Peak > fuse.Rating ? fuse.HoldsAction(Load.Peak) : double.PositiveInfinity))} ten thousand times, ten seconds or more apart.";
        }

        if (Load.Volts > BladeFuse.Volts)
        {
            yield return $"Common blade fuses are made for {Show.Number(BladeFuse.Volts)} V of direct current; this source has {Show.Quantity(ElectricPotential.FromVolts(Load.Volts))}. Take one that is rated for it, or it goes on arcing when it opens.";
        }

        string shorted = ShortCurrent is ElectricCurrent most ? Show.Quantity(most) : "a current that nothing described here bounds";
        if (fuse is not null)
        {
            yield return OpensOnShort
                ? $"A short between the rails draws {shorted}: the fuse is sure to open within {OpensWithin(Load.Short)}."
                : double.IsFinite(Load.ShortAction)
                    ? $"A short empties the bank with {Action(Load.ShortAction)}, which need not melt the fuse: the bank empties into the short. Discharge it before you touch anything."
                    : $"A short between the rails draws {shorted}, which the fuse may carry for good: what protects is the limit of the source, not the fuse. Set the limit, and test it into a short before you connect the rails.";
        }

        string stall = $"A stalled sled draws {Show.Quantity(StallCurrent)}, and its coil reaches {Show.Quantity(Load.CoilLimit)} in {Show.Quantity(StallTime)}";
        yield return ProtectsCoil
            ? $"{stall}: the fuse is sure to open within {OpensWithin(Load.Stall)}, before that."
            : double.IsFinite(Load.ShortAction)
                ? $"{stall} if the bank lasts that long; no fuse that carries the launches is sure to open before."
                : $"{stall}. A fuse cannot do both here, carry the launches and save the coil: hold the switch to run, let go at once if the sled does not move, and have a timer that cuts the current after a few launch times.";
        yield return "Put it within a hand's breadth of the source's plus pole, before the switch.";
    }

    /// <summary>The time by which the gates promise an open fuse.</summary>
    private string OpensWithin(double amperes)
    {
        double seconds = fuse!.LetsThrough(amperes) / (amperes * amperes);
        return seconds < 0.1 || !double.IsFinite(seconds) ? "a tenth of a second" : string.Create(CultureInfo.InvariantCulture, $"{seconds:G2} s");
    }

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
            double.IsFinite(source.Capacitance) && outside > 0 ? 0.5 * source.Capacitance * source.Volts * source.Volts / outside : double.PositiveInfinity,
            stall,
            thinnest.Wire.Conductor,
            thinnest.Wire.ConductorSection,
            Temperature.FromDegreesCelsius(start),
            Temperature.FromDegreesCelsius(limit));
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
