using System.Collections.Immutable;
using UnitsNet;

namespace Magrail;

/// <summary>
/// Every limit of a launcher, the value that a launch reached, and the margin, in the order in which they bind; and the cautions that
/// apply.
/// </summary>
/// <remarks>
/// A limit stands here where the launcher's parts or its <see cref="Ratings"/> state what is borne. Margins are those of the model: they know no tolerance
/// of parts and no fault. They replace no fuse, guard, eye protection or clear zone; local codes and licensed practice come first.
/// </remarks>
public sealed class LimitTable
{
    private const double BurnCelsius = 60;

    // Extra-low voltage of direct current, the limit commonly taken for dry places; from memory.
    private const double ExtraLowVolts = 60;

    // A coil as wide as this many pitches has its legs over magnets that push against each other.
    private const double WidestPitches = 1.5;

    private LimitTable(IEnumerable<Limit> limits, IEnumerable<string> cautions)
    {
        Limits = [.. limits.OrderBy(limit => limit.Margin)];
        Cautions = [.. cautions];
    }

    /// <summary>The limits, the nearest first.</summary>
    public ImmutableArray<Limit> Limits { get; }

    /// <summary>What to heed: findings about this launch first, then the hazards of what it holds.</summary>
    public ImmutableArray<string> Cautions { get; }

    /// <summary>The nearest limit; null where none is stated.</summary>
    public Limit? Binding => Limits.IsEmpty ? null : Limits[0];

    /// <summary>Whether every stated limit holds.</summary>
    public bool Holds => Limits.All(limit => !limit.IsBroken);

    /// <summary>A limit by its name; null where it is not stated.</summary>
    /// <param name="name">Its name, such as <c>coil insulation</c>.</param>
    public Limit? Find(string name) => Limits.FirstOrDefault(limit => limit.Name == name);

    /// <summary>The table in text.</summary>
    public override string ToString()
    {
        var lines = new List<string> { $"{"limit",-26}{"reached",14}{"limit",14}{"margin",10}" };
        foreach (Limit limit in Limits)
        {
            string margin = $"{Show.Number(Math.Round(100 * limit.Margin, 1))} %";
            lines.Add($"{limit.Name,-26}{Show.Quantity(limit.Reached),14}{(limit.MustReach ? "≥ " : "≤ ") + Show.Quantity(limit.Allowed),14}{margin,10}{(limit.IsBroken ? "  broken" : "")}");
        }

        lines.AddRange(Limits.Where(limit => limit.IsBroken).Select(limit => $"! {limit.Name}: {limit.Advice}"));
        lines.AddRange(Cautions.Select(caution => $"! {caution}"));
        return string.Join(Environment.NewLine, lines);
    }

    internal static LimitTable Of(LaunchResult launch) => new(LimitRules.Of(launch.Launcher).Rows(launch.Figures), CautionsOf(launch));

    /// <summary>What is wrong with a coil so long that its legs lie over magnets that push against each other; null where none is.</summary>
    internal static string? WideCoil(Launcher launcher)
    {
        Track track = launcher.Track;
        bool alternates = track.StationCount > 1 && track.Polarities.Zip(track.Polarities.Skip(1)).All(pair => pair.First != pair.Second);
        Length longest = launcher.Sled.Coils.Max(mount => mount.Coil.ExtentAlong);
        return alternates && longest.Meters > WidestPitches * track.Pitch.Meters
            ? $"Wide coil: {Show.Quantity(longest)} along the track at a pitch of {Show.Quantity(track.Pitch)}: above {Show.Number(WidestPitches)} pitches its legs lie over the neighbors too, and what they push cancels in part. Take a shorter former or fewer turns."
            : null;
    }

    private static IEnumerable<string> CautionsOf(LaunchResult launch)
    {
        Launcher launcher = launch.Launcher;
        foreach (string finding in launch.Cautions)
        {
            yield return finding;
        }

        if (launch.Braking is { Outcome: not BrakingOutcome.Stopped } braking)
        {
            yield return $"Moving sled: it {braking}.";
        }
        else if (launch.Braking is null && launch.Outcome != LaunchOutcome.Released)
        {
            yield return $"Moving sled: {Show.Quantity(launcher.Sled.MassWithCoils)}, and the computed launch is not released, so that no stop is computed; keep hands and faces away.";
        }
        else if (launch.Braking is null)
        {
            yield return $"Moving sled: {Show.Quantity(launcher.Sled.MassWithCoils)} at {Show.Quantity(launch.EndSpeed)}, and no brake is described; keep hands and faces away and give it a stop.";
        }

        else if (launcher.Brake is SpringBrake { Latched: false } && launch.Braking.StopPosition > launcher.Brake.Start + (launch.EndPosition))
        {
            yield return "Moving sled: the spring that stops it throws it back unless a latch holds it.";
        }
        else if (Math.Abs(launcher.Slope.Radians) > Math.Atan(launcher.Sled.Friction.AtRest))
        {
            yield return "Moving sled: on this slope its friction does not hold it where it has stopped; it runs on or back.";
        }

        if (launcher.Source is CapacitorBank bank)
        {
            yield return $"Stored energy: {bank} keeps {Show.Quantity(bank.StoredEnergy)} until it is discharged; fit a bleeder and measure before touching.";
        }

        double volts = launcher.Source.ToSi().Volts;
        double clamp = double.IsFinite(launcher.Suppressor.ClampVolts) ? launcher.Suppressor.ClampVolts : 0;
        if (Math.Max(volts, clamp) > ExtraLowVolts)
        {
            yield return $"Electric shock: {Show.Quantity(ElectricPotential.FromVolts(Math.Max(volts, clamp)))} {(volts > ExtraLowVolts ? "from the source" : "at the clamp when a contact breaks")} lies above {Show.Number(ExtraLowVolts)} V of direct current, commonly the limit of extra-low voltage in dry places (from memory). Strips and brushes are bare: cover what can be touched, touch nothing that is live, follow local codes; a bank keeps its charge after it is switched off.";
        }

        if (WideCoil(launcher) is string wide)
        {
            yield return wide;
        }

        yield return $"Current: up to {Show.Quantity(launch.PeakSourceCurrent)} from the source; fit a fuse near it, and connect nothing while it is live.";
        Temperature hottest = launch.CoilTemperatures.MaxBy(temperature => temperature.Kelvins);
        if (hottest.DegreesCelsius >= BurnCelsius)
        {
            yield return $"Hot coil: {Show.Quantity(hottest)} after one launch burns skin; let it cool.";
        }

        if (launch.Breaks.Any(one => one.Energy.Joules > 0))
        {
            yield return $"Sparks: {launch.Breaks.Count(one => one.Energy.Joules > 0)} breaks, up to {Show.Quantity(launch.Breaks.MaxBy(one => one.Energy.Joules)!.Energy)} each; eye protection, nothing that burns or explodes nearby.";
        }

        yield return "Magnets: they pinch, shatter and pull tools; keep them from pacemakers, cards and each other.";
        if (launcher.Payload.Mass.Kilograms > 0 && launch.Outcome == LaunchOutcome.Released)
        {
            double energy = 0.5 * launcher.Payload.Mass.Kilograms * launch.EndSpeed.MetersPerSecond * launch.EndSpeed.MetersPerSecond;
            yield return $"Projectile: the payload leaves with {Show.Quantity(Energy.FromJoules(energy))}; keep people out of the clear zone (see the clear zone on the check list).";
        }

        yield return "These figures replace no fuse, guard, eye protection or clear zone; local codes and licensed practice come first.";
    }
}
