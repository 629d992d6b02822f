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

    internal static LimitTable Of(LaunchResult launch) => new(LimitsOf(launch), CautionsOf(launch));

    private static IEnumerable<Limit> LimitsOf(LaunchResult launch)
    {
        Launcher launcher = launch.Launcher;
        Ratings ratings = launcher.Ratings;
        if (launcher.Payload.NeededSpeed is Speed needed)
        {
            bool released = launch.Outcome == LaunchOutcome.Released;
            double speed = released ? launch.EndSpeed.MetersPerSecond : 0;
            yield return new Limit(
                "release speed",
                Speed.FromMetersPerSecond(speed),
                needed,
                MustReach: true,
                speed > 0 ? 1 - (needed.MetersPerSecond / speed) : double.NegativeInfinity,
                "The payload does not leave as fast as it must: more stations, more current, less mass.");
        }

        if (launcher.Payload.AccelerationLimit is Acceleration bears)
        {
            yield return Upper("payload acceleration", launch.PeakAcceleration, bears, "The payload is pushed harder than it bears: less current, more stations.");
        }

        Temperature hottest = launch.CoilTemperatures.MaxBy(temperature => temperature.Kelvins);
        yield return Rise(
            "coil insulation",
            hottest,
            ratings.Insulation.Limit,
            launcher.CoilTemperature,
            "The enamel does not last at this temperature: wait longer between launches, take thicker wire or less current.");

        DemagnetizationMargin worst = launch.Demagnetization.Worst;
        yield return Upper(
            "demagnetization",
            worst.Field,
            Magnetization.FromAmperesPerMeter(Demagnetization.Knee * worst.IntrinsicCoercivity.AmperesPerMeter),
            "Magnets lose magnetization for good: a grade of higher coercivity, cooler magnets, less current.");

        if (launcher.Track.Stations[0].BackIron is BackIron iron)
        {
            yield return Upper("back iron saturation", launcher.Track.FluxDensityInIron(), iron.Saturation, "The plate saturates and the force is less than computed: a thicker plate.");
        }

        if (ratings.BrushCurrent is ElectricCurrent brush)
        {
            yield return Upper("brush current", launch.PeakCurrent, brush, "The brush carries more than its rating: more section, or brushes side by side.");
        }

        foreach (Limit limit in ContactLimits(launch))
        {
            yield return limit;
        }

        if (launcher.Arc is not null && launcher.Contacts.LongestBrush is Length gap && launch.Breaks.Any(one => one.Duration.Seconds > 0))
        {
            // The way from the strip's end to the other rail, less the brush.
            Length way = gap - UnitMath.Max(launcher.Contacts.UpperBrush.Length, launcher.Contacts.LowerBrush.Length);
            Length reached = launch.Breaks.Max(one => one.Gap);
            bool flashed = launch.Breaks.Any(one => one.FlashOverPosition is not null);
            const string Advice = "The arc still burns where the brush reaches the other rail, and shorts the source: wider gaps, a suppressor, fewer volts.";
            yield return flashed ? new Limit("arc length", reached, way, MustReach: false, -1, Advice) : Upper("arc length", reached, way, Advice);
        }

        if (ratings.Braid is Area braid && launch.EndTime.Seconds > 0)
        {
            yield return Upper("braid fusing", launch.RmsCurrent, AdiabaticHeating.CurrentTo(Conductor.Copper, braid, launch.EndTime), "The braid melts within the launch: more section.");
        }

        if (launcher.Leads.Section is Area section && launch.EndTime.Seconds > 0)
        {
            yield return Upper(
                "lead fusing",
                launch.PeakSourceCurrent,
                FusingCurrent.Onderdonk(section, launch.EndTime, Temperature.FromDegreesCelsius(20)),
                "The leads melt if their greatest current flows as long as the launch: more section.");
        }

        switch (launcher.Source)
        {
            case BenchSupply { Limit: ElectricCurrent limit }:
                // At its limit a supply is not hurt; it no longer gives its voltage.
                yield return Upper("supply current limit", launch.PeakSourceCurrent, limit, "The supply limits its current.");
                break;
            case BatteryPack pack:
                yield return Upper("battery charge", Absolute(launch.ChargeDrawn), pack.Capacity, "The pack is empty before the launch is over.");
                break;
        }

        if (ratings.SourceCurrent is ElectricCurrent rating)
        {
            yield return Upper("source current", launch.PeakSourceCurrent, rating, "The source gives more than its rating.");
        }

        if (launch.Braking is BrakingResult braking)
        {
            yield return braking.Outcome == BrakingOutcome.Stopped
                ? Upper("braking room", braking.Distance, braking.Room, "The sled leaves the track.")
                : new Limit("braking room", braking.Distance, braking.Room, MustReach: false, -1, $"The sled leaves the track at {Show.Quantity(braking.EndSpeed)} or does not come to rest: a stronger brake, a longer track.");
        }
    }

    private static IEnumerable<Limit> ContactLimits(LaunchResult launch)
    {
        ContactMaterial[] pair = [.. new[] { launch.Launcher.Ratings.BrushMaterial, launch.Launcher.Ratings.StripMaterial }.OfType<ContactMaterial>()];
        double ohms = Math.Max(Cold(launch.Launcher.Contacts.UpperBrush), Cold(launch.Launcher.Contacts.LowerBrush));
        if (ohms == 0)
        {
            yield break;
        }

        if (Weakest(pair, material => material.SofteningVoltage) is ElectricPotential softening)
        {
            yield return Upper(
                "contact softening",
                launch.PeakCurrent,
                ContactTemperature.CurrentAt(softening, ElectricResistance.FromOhms(ohms)),
                "The touching spots soften and smear: more force on the brush, a softer or better conducting pair, less current.");
        }

        if (Weakest(pair, material => material.MeltingVoltage) is ElectricPotential melting)
        {
            yield return Upper(
                "contact melting",
                launch.PeakCurrent,
                ContactTemperature.CurrentAt(melting, ElectricResistance.FromOhms(ohms)),
                "The touching spots melt and may weld: more force on the brush, a better conducting pair, less current.");
        }

        // The body of a brush is no part of what melts.
        static double Cold(Brush brush) => brush.Contact is ContactResistance parts ? parts.Constriction.Ohms + parts.Film.Ohms : brush.Resistance.Ohms;

        static ElectricPotential? Weakest(ContactMaterial[] pair, Func<ContactMaterial, PropertyRange<ElectricPotential>?> voltage)
        {
            PropertyRange<ElectricPotential>[] known = [.. pair.Select(voltage).OfType<PropertyRange<ElectricPotential>>()];
            return known.Length == 0 ? null : known.MinBy(range => range.Typical.Volts)!.Typical;
        }
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
            yield return $"Projectile: the payload leaves with {Show.Quantity(Energy.FromJoules(energy))}; keep the clear zone empty ({nameof(ClearZone)} computes it).";
        }

        yield return "These figures replace no fuse, guard, eye protection or clear zone; local codes and licensed practice come first.";
    }

    private static Limit Upper(string name, IQuantity reached, IQuantity allowed, string advice)
        => new(name, reached, allowed, MustReach: false, 1 - ((double)reached.Value / (double)allowed.ToUnit(reached.Unit).Value), advice);

    private static Limit Rise(string name, Temperature reached, Temperature allowed, Temperature start, string advice)
    {
        double room = allowed.Kelvins - start.Kelvins;
        return new(name, reached, allowed, MustReach: false, room > 0 ? (allowed.Kelvins - reached.Kelvins) / room : -1, advice);
    }

    private static ElectricCharge Absolute(ElectricCharge charge) => ElectricCharge.FromCoulombs(Math.Abs(charge.Coulombs));
}
