using System.Collections.Immutable;
using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>What to check before power, at the first power, and before each launch, in order, with what to find; and the cautions of the launch.</summary>
/// <remarks>A list to start from, common practice without a source where no figure stands. It replaces no fuse, guard, eye protection or clear zone; local codes and licensed practice come first.</remarks>
public sealed class CheckList
{
    private const double LowCurrent = 1;

    private CheckList(LaunchResult launch, WorkshopOptions options, FuseChoice fuse)
    {
        Launch = launch;
        ClearZone = ZoneOf(launch, options);
        Steps =
        [
            .. StepsOf(launch, options, fuse, ClearZone).Select((step, number) => new CheckStep(number + 1, step.Phase, step.What, step.Expect)),
        ];
        Cautions = launch.Limits.Cautions;
        Refusal = RefusalOf(launch);
        BrokenLimits = [.. launch.Limits.Limits.Where(limit => limit.IsBroken).Select(limit => $"{limit}. {limit.Advice}")];
    }

    /// <summary>The launch.</summary>
    public LaunchResult Launch { get; }

    /// <summary>Why this launcher is not to be launched as it is described; null where its payload is released and every stated limit holds.</summary>
    public string? Refusal { get; }

    /// <summary>The steps, in order.</summary>
    public ImmutableArray<CheckStep> Steps { get; }

    /// <summary>The cautions of the launch.</summary>
    public ImmutableArray<string> Cautions { get; }

    /// <summary>Limits that the computed launch breaks already; empty where it breaks none.</summary>
    public ImmutableArray<string> BrokenLimits { get; }

    /// <summary>
    /// The zone to keep clear of an unpowered payload, without air drag (the safe side) and with the errors that <see cref="Magrail.ClearZone"/> takes by default; null where nothing is released.
    /// </summary>
    public ClearZone? ClearZone { get; }

    /// <summary>The check list of a launch.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="options">Tolerances, height of the release, margin of the clear zone; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launch is null.</exception>
    public static CheckList Of(LaunchResult launch, WorkshopOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launch);
        return new CheckList(launch, options ?? WorkshopOptions.Default, FuseChoice.Of(launch));
    }

    /// <summary>The list in text.</summary>
    /// <returns>Several lines.</returns>
    public override string ToString() => ToSection().ToText();

    internal SheetSection ToSection()
    {
        SheetBlock Phase(CheckPhase phase, string caption)
            => new SheetSteps(caption, [.. Steps.Where(step => step.Phase == phase).Select(step => (step.Number, step.What, step.Expect))]);
        return new SheetSection(
            "Check list",
            [
                new SheetNotes([.. Refusal is null || Launch.Outcome == LaunchOutcome.Released ? Array.Empty<string>() : [$"NOT TO BE LAUNCHED AS DESCRIBED: {Refusal}"], .. BrokenLimits.Select(limit => $"NOT TO BE LAUNCHED AS DESCRIBED: {limit}"), .. Cautions]),
                Phase(CheckPhase.BeforePower, "Before any power: source disconnected"),
                Phase(CheckPhase.FirstPower, "First power: payload off, current limited"),
                Phase(CheckPhase.EachLaunch, "Before each launch"),
            ]);
    }

    /// <summary>The slope in words; null on the level.</summary>
    internal static string? SlopeWords(Launcher launcher)
        => launcher.Slope.Radians == 0
            ? null
            : $"{Show.Quantity(Angle.FromDegrees(Math.Abs(launcher.Slope.Degrees)))} {(launcher.Slope.Radians > 0 ? "uphill" : "downhill")}; {(HoldsAtStart(launcher) ? "friction at rest holds the sled" : "friction at rest does NOT hold the sled: a rest or latch must hold it until the launch")}";

    internal static string? RefusalOf(LaunchResult launch)
    {
        if (launch.Outcome != LaunchOutcome.Released)
        {
            return $"the computed launch does not reach its release: {launch.Cause}";
        }

        return launch.Limits.Holds ? null : $"it breaks {string.Join(", ", launch.Limits.Limits.Where(limit => limit.IsBroken).Select(limit => limit.Name))}";
    }

    /// <summary>Whether friction at rest, by weight and brushes, holds sled and payload on the slope.</summary>
    private static bool HoldsAtStart(Launcher launcher)
    {
        double weight = launcher.MovingMass.Kilograms * PhysicalConstants.StandardGravity;
        double brushes = launcher.Sled.CircuitCount * (launcher.Contacts.UpperBrush.Force.Newtons + launcher.Contacts.LowerBrush.Force.Newtons);
        return launcher.Sled.Friction.AtRest * ((weight * Math.Cos(launcher.Slope.Radians)) + brushes) >= weight * Math.Abs(Math.Sin(launcher.Slope.Radians));
    }

    private static string BrushWords(Brush brush, Length? longest)
        => $"moves freely, pressed with {Show.Quantity(brush.Force)}, {Show.Quantity(brush.Length)} along the track{(longest is Length most ? $" and never more than {Show.Quantity(most)}" : string.Empty)}";

    private static ClearZone? ZoneOf(LaunchResult launch, WorkshopOptions options)
        => launch.Outcome == LaunchOutcome.Released && launch.Launcher.Payload.Mass.Kilograms > 0 && launch.EndSpeed.MetersPerSecond > 0
            ? ClearZone.Of(
                launch.Launcher.Payload.Mass,
                Area.Zero,
                launch.EndSpeed,
                Angle.FromDegrees(Math.Clamp(launch.Launcher.Slope.Degrees, 0, 90)),
                options.ReleaseHeight,
                options.ClearMargin)
            : null;

    private static IEnumerable<(CheckPhase Phase, string What, string Expect)> StepsOf(LaunchResult launch, WorkshopOptions options, FuseChoice fuse, ClearZone? zone)
    {
        Launcher launcher = launch.Launcher;
        foreach (WindingSheet sheet in WindingSheet.Of(launcher.Sled, options))
        {
            string coils = sheet.Count == 1 ? "Coil" : string.Create(CultureInfo.InvariantCulture, $"Each of {sheet.Count} coils");
            yield return (CheckPhase.BeforePower, $"{coils} of {sheet.Coil.Turns} turns, resistance at 20 °C", sheet.Resistance.ToString());
            yield return (CheckPhase.BeforePower, $"{coils} of {sheet.Coil.Turns} turns, mass of the wire", sheet.Mass.ToString());
        }

        yield return (CheckPhase.BeforePower, "Coil to carriage and to every other part", "no continuity");
        if (launcher.Sled.CircuitCount > 0)
        {
            for (int k = 0; k < launcher.Sled.CircuitCount; k++)
            {
                double coils = launcher.Sled.Coils.Where(mount => mount.Circuit == k).Sum(mount => mount.Coil.Resistance.Ohms);
                double brushes = launcher.Contacts.UpperBrush.Resistance.Ohms + launcher.Contacts.LowerBrush.Resistance.Ohms;
                yield return (
                    CheckPhase.BeforePower,
                    launcher.Sled.CircuitCount == 1 ? "Brush to brush, through the coil" : string.Create(CultureInfo.InvariantCulture, $"Brush to brush of circuit {k + 1}, through its coils"),
                    $"{Show.Quantity(ElectricResistance.FromOhms(coils))} at 20 °C; on strips {Show.Quantity(ElectricResistance.FromOhms(brushes))} more");
            }
        }

        yield return (CheckPhase.BeforePower, "Every magnet by compass, against the orientation map", $"faces toward the path {Faces(launcher.Track)}");
        yield return (CheckPhase.BeforePower, "Template bar, and first to last station", $"100.0 mm, and {launcher.Track.Span.Millimeters.ToString("0.0", CultureInfo.InvariantCulture)} mm");
        yield return (CheckPhase.BeforePower, "Every strip marked + to the plus rail, every strip marked − to the minus rail", "below an ohm each");
        yield return (CheckPhase.BeforePower, "Plus rail to minus rail, sled off the track", "no continuity (a suppressor or a bleeder on the rails shows as what it is)");
        yield return (CheckPhase.BeforePower, "Plus rail to minus rail, sled pushed slowly over the whole track", launcher.Contacts.LongestBrush is Length ? "the coil's resistance on strips, open in gaps, never a short" : "the coil's resistance, never a short");
        yield return (CheckPhase.BeforePower, "Sled by hand from end to end", $"free, coil clear of the magnets on both sides{(launcher.Track.Gap is Length gap ? $" (gap {Show.Quantity(gap)}, coil {Show.Quantity(launcher.Sled.Coils.Max(mount => mount.Coil.ExtentAcross))})" : string.Empty)}");
        string upper = BrushWords(launcher.Contacts.UpperBrush, launcher.Contacts.LongestBrush);
        string lower = BrushWords(launcher.Contacts.LowerBrush, launcher.Contacts.LongestBrush);
        if (upper == lower)
        {
            yield return (CheckPhase.BeforePower, "Each brush", upper);
        }
        else
        {
            yield return (CheckPhase.BeforePower, "Each upper brush", upper);
            yield return (CheckPhase.BeforePower, "Each lower brush", lower);
        }

        for (int k = 0; k < launcher.Sled.CircuitCount; k++)
        {
            // That is timing: a brush's place decides where its coil is switched.
            Length coil = launcher.Sled.Coils.First(mount => mount.Circuit == k).Offset;
            string which = launcher.Sled.CircuitCount == 1 ? string.Empty : string.Create(CultureInfo.InvariantCulture, $" of circuit {k + 1}");
            yield return (CheckPhase.BeforePower, $"Middle of the brushes{which}, ahead of the sled's mark", $"upper {Millimeters(coil + launcher.Contacts.UpperBrush.Offset)}, lower {Millimeters(coil + launcher.Contacts.LowerBrush.Offset)} (it decides when the coil is switched)");
        }

        yield return (CheckPhase.BeforePower, "Fuse", $"{fuse.Words}; fitted next to the source, its maker's sheet at hand (times and ratings here are from memory)");
        yield return launcher.Brake is SledBrake brake
            ? (CheckPhase.BeforePower, "Brake", $"{brake}{(launch.Braking is BrakingResult braking ? $"; computed to use {Show.Quantity(braking.Distance)} of {Show.Quantity(braking.Room)}" : string.Empty)}")
            : launch.Outcome != LaunchOutcome.Released
                ? (CheckPhase.BeforePower, "Stop at the end of the track", "none is described, and none is computed: the computed launch does not reach its release")
            : (CheckPhase.BeforePower, "Stop at the end of the track", $"something soft that stops {Show.Quantity(launcher.Sled.MassWithCoils)} at {Show.Quantity(launch.EndSpeed)} ({Show.Quantity(Energy.FromJoules(0.5 * launcher.Sled.MassWithCoils.Kilograms * launch.EndSpeed.MetersPerSecond * launch.EndSpeed.MetersPerSecond))}); none is described");
        double low = Math.Min(LowCurrent, 0.25 * launch.PeakCurrent.Amperes);
        yield return (CheckPhase.FirstPower, launcher.Source is BenchSupply ? "Limit of the bench supply" : "A bench supply in place of the source, its limit", $"{Show.Quantity(ElectricCurrent.FromAmperes(low))}, whatever the launch uses later");
        yield return (CheckPhase.FirstPower, "Sled held by a stick on its first strip, switch closed", $"it pulls forward, with about {Show.Quantity(Force.FromNewtons(FirstPush(launch, low)))} at {Show.Quantity(ElectricCurrent.FromAmperes(low))}; backward: exchange the brush leads");
        yield return (CheckPhase.FirstPower, "The same on each strip in turn", "it pulls forward on every one; a strip that pulls backward has the wrong rail or a magnet stands wrong");
        yield return (CheckPhase.FirstPower, "Hand on coil and wires after each, switch open", "none is warmer than the others");
        if (RefusalOf(launch) is string refusal)
        {
            yield return (CheckPhase.EachLaunch, "NOT TO BE LAUNCHED", $"{refusal}. Change the launcher and print its sheets again");
            if (zone is null && launch.Outcome != LaunchOutcome.Released)
            {
                yield return (CheckPhase.EachLaunch, "Clear zone", "NOT COMPUTED: the computed launch does not reach its release");
            }

            yield break;
        }

        yield return launcher.Source switch
        {
            BenchSupply { Limit: ElectricCurrent limit } supply => (CheckPhase.EachLaunch, "Source", $"{Show.Quantity(supply.Volts)}, current limit set to {Show.Quantity(limit)}"),
            BenchSupply supply => (CheckPhase.EachLaunch, "Source", $"{Show.Quantity(supply.Volts)}; no limit is described"),
            BatteryPack pack => (CheckPhase.EachLaunch, "Source", $"{Show.Quantity(pack.OpenCircuitVolts)} without load, cells cool and undamaged"),
            CapacitorBank bank => (CheckPhase.EachLaunch, "Source", $"charged to {Show.Quantity(bank.InitialVolts)} ({Show.Quantity(bank.StoredEnergy)}) only when all else is done; bleeder fitted, and volts measured before anything is touched"),
            _ => (CheckPhase.EachLaunch, "Source", launcher.Source.ToString()!),
        };
        yield return (CheckPhase.EachLaunch, "Eye protection, of everybody in the room", "on");
        yield return (CheckPhase.EachLaunch, "Hands, hair, cables, tools", "clear of the track over its whole length and beyond its end");
        if (zone is not null)
        {
            yield return (CheckPhase.EachLaunch, "Clear zone", $"{zone}; not computed for what glides or is blown away");
        }

        yield return (CheckPhase.EachLaunch, "Operator", "stands behind the start of the track, outside the clear zone; the cord of the switch is long enough for that");
        yield return (CheckPhase.EachLaunch, "Sled at the start", $"mark at {Show.Quantity(launcher.TravelEnds().Start)}, payload seated{(SlopeWords(launcher) is string slope ? $"; slope {slope}" : string.Empty)}");
        yield return (CheckPhase.EachLaunch, "Coil", $"cool to the touch; one launch warms it to {Show.Quantity(launch.CoilTemperatures.MaxBy(temperature => temperature.Kelvins))} from {Show.Quantity(launcher.CoilTemperature)}");
        yield return (CheckPhase.EachLaunch, "If the sled does not move", fuse.StallTime is Duration stalled
            ? $"switch open at once: the coil has {Show.Quantity(stalled)} to its limit{(fuse.ProtectsCoil ? string.Empty : ", and the fuse does not save it")}"
            : "switch open at once; the bank is empty before the coil is at its limit, and is to be discharged and measured before you touch anything");
    }

    /// <summary>Push at the start at a current, N: of the circuit that pushes there.</summary>
    private static double FirstPush(LaunchResult launch, double amperes)
        => amperes * Enumerable.Range(0, launch.Launcher.Sled.CircuitCount).Max(circuit => Math.Abs(launch.ForceConstantAt(launch.Launcher.TravelEnds().Start, circuit).NewtonsPerAmpere));

    private static string Millimeters(Length length) => $"{length.Millimeters.ToString("0.0", CultureInfo.InvariantCulture)} mm";

    private static string Faces(Track track)
    {
        ImmutableArray<string> faces = MagnetMap.Of(track).FacesOf('a');
        return faces.Length <= 8 ? string.Join(' ', faces) : $"{string.Join(' ', faces[..6])} … {faces[^1]} (magnets a)";
    }
}
