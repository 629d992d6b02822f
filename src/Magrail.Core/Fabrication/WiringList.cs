using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>
/// Every conductor from the source over fuse, switch, rails, strips and brushes to the coils and back, with the currents of a launch, a section, and a fuse.
/// </summary>
/// <remarks>
/// A section serves if one launch warms it by no more than <see cref="WorkshopOptions.WireWarming"/> (no heat lost) and something protects it from a short: the fuse, whose let-through is then
/// below what its insulation withstands from 70 °C to 160 °C; or the source, whose current it then carries for good. All that hangs behind the fuse is chosen by the same
/// rule, thin brush leads too. Currents in strips and their taps are taken as those of a whole launch, an upper bound. This replaces no licensed practice; local codes come first.
/// </remarks>
public sealed class WiringList
{
    private WiringList(LaunchResult launch, WorkshopOptions options)
    {
        Launch = launch;
        Fuse = FuseChoice.Of(launch);
        Conductors = [.. ConductorsOf(launch.Launcher, Fuse, options)];
    }

    /// <summary>The launch whose currents these are.</summary>
    public LaunchResult Launch { get; }

    /// <summary>The fuse.</summary>
    public FuseChoice Fuse { get; }

    /// <summary>The conductors, from the source onward.</summary>
    public ImmutableArray<WiringConductor> Conductors { get; }

    /// <summary>The wiring of a launch.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="options">How much a wire may warm; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launch is null.</exception>
    public static WiringList Of(LaunchResult launch, WorkshopOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launch);
        return new WiringList(launch, options ?? WorkshopOptions.Default);
    }

    /// <summary>The list in text.</summary>
    /// <returns>Several lines.</returns>
    public override string ToString() => ToSection().ToText();

    internal SheetSection ToSection()
    {
        var notes = new List<string>();
        notes.AddRange(Conductors.Where(each => each.IsThin).Select(each => $"TOO THIN: {each.From} to {each.To} is described with {Square(each.Described!.Value)}; {(each.Proposed is Area needed ? $"take {Square(needed)}" : "no standard section up to 25 mm² serves")}."));
        notes.AddRange(Conductors.Where(each => each.Proposed is null).Select(each => $"NO SECTION up to 25 mm² serves from {each.From} to {each.To} ({each.Protection}): limit the source's current, or feed in several places."));
        StandardSection[] used = [.. StandardSection.All.Where(section => Conductors.Any(each => each.Section is Area area && Math.Abs(area.SquareMillimeters - section.Area.SquareMillimeters) < 1e-6))];
        if (used.Length > 0)
        {
            notes.Add($"A meter of flexible wire has up to {string.Join(", ", used.Select(section => $"{Show.Quantity(ElectricResistance.FromOhms(section.OhmsPerMeter))} at {Square(section.Area)}"))} (IEC 60228, class 5, 20 °C): put what your leads have into the launcher, and launch again.");
        }

        notes.Add("Strips of one bus are joined to their rail by a tap each, soldered or screwed; a strip with a loose tap stops a launch half way and burns.");
        notes.Add("Sections are the nominal areas of IEC 60228; warming is by ρ(T) i²t without loss of heat; what a section carries for good is from memory (flexible cords, PVC).");
        return new SheetSection(
            "Wiring list",
            [
                new SheetFacts([("fuse", Fuse.Words)]),
                new SheetNotes(Fuse.Findings),
                new SheetTable(
                    "conductors",
                    ["from", "to", "number", "rms", "peak", "section", "warms by", "melts after", "protected by"],
                    [.. Conductors.Select(each => (string[])
                    [
                        each.From,
                        each.To,
                        each.Count.ToString(CultureInfo.InvariantCulture),
                        Show.Quantity(each.Rms),
                        Show.Quantity(each.Peak),
                        SectionWords(each),
                        Kelvins(each.Warming),
                        Show.Quantity(each.MeltsAfter),
                        each.Protection,
                    ])]) { Words = new HashSet<int> { 1, 8 } },
                new SheetNotes(notes),
            ]);
    }

    internal static string SectionWords(WiringConductor each)
        => each.Described is Area described
            ? each.IsThin ? $"{Square(described)} (too thin)" : $"{Square(described)} (as described)"
            : each.Proposed is Area proposed ? Square(proposed) : "none serves";

    private static string Square(Area area) => $"{Show.Number(area.SquareMillimeters)} mm²";

    private static string Kelvins(TemperatureDelta delta) => $"{delta.Kelvins.ToString(delta.Kelvins < 1 ? "G2" : "G3", CultureInfo.InvariantCulture)} K";

    private static IEnumerable<WiringConductor> ConductorsOf(Launcher launcher, FuseChoice fuse, WorkshopOptions options)
    {
        LaunchLoad load = fuse.Load;
        WiringConductor Source(string from, string to, Area? described = null) => Make(from, to, 1, load.Rms, load.Peak, described ?? launcher.Leads.Section, atSource: true);
        WiringConductor Coil(string from, string to, int count, Area? described = null) => Make(from, to, count, load.CircuitRms, load.CircuitPeak, described);
        WiringConductor Make(string from, string to, int count, double rms, double peak, Area? described, bool atSource = false)
        {
            double action = rms * rms * load.Seconds;
            Area? proposed = StandardSection.All.FirstOrDefault(section => WarmingOf(section.Area, action) <= options.WireWarming.Kelvins && fuse.ProtectionOf(section.Area, atSource) is not null)?.Area;
            Area judged = described ?? proposed ?? StandardSection.All[^1].Area;
            return new WiringConductor(
                from,
                to,
                count,
                ElectricCurrent.FromAmperes(peak),
                ElectricCurrent.FromAmperes(rms),
                described,
                proposed,
                TemperatureDelta.FromKelvins(WarmingOf(judged, action)),
                rms > 0 ? AdiabaticHeating.TimeTo(Conductor.Copper, judged, ElectricCurrent.FromAmperes(rms)) : Duration.FromDays(1e6),
                fuse.ProtectionOf(judged, atSource) ?? "NOTHING");
        }

        BusFeed feed = launcher.BusBars?.Feed ?? BusFeed.Start;
        string near = feed == BusFeed.End ? "far end" : "start";

        // As thick as what follows, but no fuse protects what lies before it.
        WiringConductor first = Source("source +", "fuse");
        yield return first with { Protection = fuse.ProtectionBeforeFuse(first.Section ?? StandardSection.All[^1].Area) };
        yield return Source("fuse", "starting switch");
        yield return Source("starting switch", $"plus rail, {near}");
        yield return Source($"minus rail, {near}", "source −");
        if (feed == BusFeed.Both)
        {
            yield return Source("starting switch", "plus rail, far end");
            yield return Source("minus rail, far end", "source −");
        }

        Area? bar = launcher.BusBars is BusBars bars && bars.Resistance.Ohms > 0
            ? Area.FromSquareMeters(Conductor.Copper.Resistivity.OhmMeters * (bars.To - bars.From).Meters / bars.Resistance.Ohms)
            : null;
        yield return Make("plus rail, start", "plus rail, far end", 1, load.Rms, load.Peak, bar);
        yield return Make("minus rail, start", "minus rail, far end", 1, load.Rms, load.Peak, bar);
        foreach ((ContactLine line, string letter) in new[] { (launcher.Contacts.Upper, "U"), (launcher.Contacts.Lower, "L") })
        {
            foreach ((Bus bus, string name, string sign) in new[] { (Bus.Plus, "plus", "+"), (Bus.Minus, "minus", "−") })
            {
                int count = line.Strips.Count(strip => strip.Bus == bus);
                if (count > 0)
                {
                    yield return Coil($"{name} rail", $"strips {letter} marked {sign}", count);
                }
            }
        }

        for (int k = 0; k < launcher.Sled.CircuitCount; k++)
        {
            int[] coils = [.. Enumerable.Range(0, launcher.Sled.Coils.Length).Where(number => launcher.Sled.Coils[number].Circuit == k)];
            string which = launcher.Sled.CircuitCount == 1 ? string.Empty : string.Create(CultureInfo.InvariantCulture, $" of circuit {k + 1}");
            yield return Coil($"upper brush{which}", End(coils[0], begins: true), 1, launcher.Ratings.Braid);
            for (int i = 1; i < coils.Length; i++)
            {
                yield return Coil(End(coils[i - 1], begins: false), End(coils[i], begins: true), 1);
            }

            yield return Coil(End(coils[^1], begins: false), $"lower brush{which}", 1, launcher.Ratings.Braid);
            if (launcher.Suppressor is not IdealBreakSuppressor)
            {
                // On the sled, so that it stays across the coil when a brush leaves its strip.
                yield return Coil($"upper brush{which}, on the sled", $"suppressor ({launcher.Suppressor}), to lower brush{which}", 1);
            }
        }

        string End(int number, bool begins)
        {
            bool start = begins == (launcher.Sled.Coils[number].Sense == WindingSense.Plain);
            return string.Create(CultureInfo.InvariantCulture, $"{(start ? "start" : "end")} of coil{(launcher.Sled.Coils.Length == 1 ? string.Empty : $" {number + 1}")}");
        }
    }

    private static double WarmingOf(Area section, double action)
        => AdiabaticHeating.Celsius(Conductor.Copper, section.SquareMeters, action, 20) - 20;
}
