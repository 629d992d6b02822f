using System.Collections.Concurrent;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The limits that a launcher's parts and ratings state, made ready to be held against the figures of any number of its launches
/// without allocating.
/// </summary>
internal sealed class LimitRules
{
    private const int CacheLimit = 256;
    private const double HeldTo = 1 + 1e-6;

    private static readonly ConcurrentDictionary<MagnetKey, DemagnetizingCurrents> Magnets = new();
    private static readonly ConcurrentDictionary<MagnetKey, double> Iron = new();

    private readonly LimitRule[] rules;

    private LimitRules(IEnumerable<LimitRule> rules) => this.rules = [.. rules];

    /// <summary>A value in SI units that the figures of a launch give.</summary>
    public delegate double Figure(in LaunchFigures figures);

    public ReadOnlySpan<LimitRule> All => rules;

    /// <param name="launcher">The launcher.</param>
    public static LimitRules Of(Launcher launcher) => new(RulesOf(launcher));

    /// <summary>The limit that binds, or is broken most, and its margin; null and NaN where none is stated.</summary>
    public (double Margin, string? Name) Nearest(in LaunchFigures figures)
    {
        double least = double.NaN;
        string? name = null;
        foreach (LimitRule rule in rules)
        {
            if (!rule.Applies(figures))
            {
                continue;
            }

            double margin = rule.Margin(figures);
            if (name is null || margin < least)
            {
                (least, name) = (margin, rule.Name);
            }
        }

        return (least, name);
    }

    /// <summary>The rows of the table.</summary>
    public IEnumerable<Limit> Rows(LaunchFigures figures)
        => rules.Where(rule => rule.Applies(figures)).Select(rule => new Limit(
            rule.Name,
            rule.InUnits(rule.Reached(figures)),
            rule.InUnits(rule.Allowed(figures)),
            rule.MustReach,
            rule.Margin(figures),
            rule.Advice(figures)));

    private static IEnumerable<LimitRule> RulesOf(Launcher launcher)
    {
        Ratings ratings = launcher.Ratings;
        if (launcher.Payload.NeededSpeed is Speed needed)
        {
            double speed = needed.MetersPerSecond;
            yield return new LimitRule(
                "release speed",
                (in LaunchFigures f) => Exit(f),
                (in LaunchFigures _) => speed,
                value => Speed.FromMetersPerSecond(value),
                "The payload does not leave as fast as it must: more stations, more current, less mass.")
            {
                MustReach = true,
                Margin = (in LaunchFigures f) => Exit(f) > 0 ? 1 - (speed / Exit(f)) : double.NegativeInfinity,
            };
        }

        if (launcher.Payload.AccelerationLimit is Acceleration bears)
        {
            yield return Upper(
                "payload acceleration",
                (in LaunchFigures f) => f.PeakAcceleration,
                bears.MetersPerSecondSquared,
                value => Acceleration.FromMetersPerSecondSquared(value),
                "The payload is pushed harder than it bears: less current, more stations.");
        }

        yield return Insulation(launcher);
        yield return Demagnetizing(launcher);
        if (launcher.Track.Stations[0].BackIron is BackIron iron)
        {
            double flux = Remembered(Iron, new MagnetKey(launcher.Track, null, 0), key => key.Track.FluxDensityInIron().Teslas);
            yield return Upper(
                "back iron saturation",
                (in LaunchFigures _) => flux,
                iron.Saturation.Teslas,
                value => MagneticField.FromTeslas(value),
                "The plate saturates and the force is less than computed: a thicker plate.");
        }

        if (ratings.BrushCurrent is ElectricCurrent brush)
        {
            yield return Current("brush current", brush.Amperes, "The brush carries more than its rating: more section, or brushes side by side.");
        }

        foreach (LimitRule rule in ContactRules(launcher))
        {
            yield return rule;
        }

        if (launcher.Arc is not null && launcher.Contacts.LongestBrush is Length gap)
        {
            yield return ArcLength(launcher, gap);
        }

        foreach (LimitRule rule in SourceRules(launcher))
        {
            yield return rule;
        }

        if (launcher.Brake is SledBrake brake)
        {
            yield return BrakingRoom((brake.Start + brake.Length).Meters);
        }
    }

    private static LimitRule Insulation(Launcher launcher)
    {
        double start = launcher.CoilTemperature.Kelvins;
        double allowed = launcher.Ratings.Insulation.Limit.Kelvins;
        double room = allowed - start;
        return new LimitRule(
            "coil insulation",
            (in LaunchFigures f) => f.HottestCoil,
            (in LaunchFigures _) => allowed,
            value => Temperature.FromKelvins(value),
            "The enamel does not last at this temperature: wait longer between launches, take thicker wire or less current.")
        {
            Margin = (in LaunchFigures f) => room > 0 ? (allowed - f.HottestCoil) / room : -1,
        };
    }

    private static LimitRule Demagnetizing(Launcher launcher)
    {
        double kelvins = launcher.MagnetTemperature.Kelvins;
        DemagnetizingCurrents[] coils =
        [
            .. launcher.Sled.Coils.Select(mount => mount.Coil).Distinct().Select(coil => Remembered(
                Magnets, new MagnetKey(launcher.Track, coil, kelvins), key => DemagnetizingCurrents.Of(key.Track, Temperature.FromKelvins(key.Kelvins), key.Coil))),
        ];
        return new LimitRule(
            "demagnetization",
            (in LaunchFigures f) => Worst(coils, f.PeakCurrent).Field,
            (in LaunchFigures f) => Demagnetization.Knee * Worst(coils, f.PeakCurrent).Coercivity,
            value => Magnetization.FromAmperesPerMeter(value),
            "Magnets lose magnetization for good: a grade of higher coercivity, cooler magnets, less current.");

        static (double Field, double Coercivity) Worst(DemagnetizingCurrents[] coils, double current)
        {
            (double Field, double Coercivity) worst = coils[0].WorstAt(current);
            for (int i = 1; i < coils.Length; i++)
            {
                (double Field, double Coercivity) other = coils[i].WorstAt(current);
                worst = other.Field / other.Coercivity > worst.Field / worst.Coercivity ? other : worst;
            }

            return worst;
        }
    }

    private static IEnumerable<LimitRule> ContactRules(Launcher launcher)
    {
        ContactMaterial[] pair = [.. new[] { launcher.Ratings.BrushMaterial, launcher.Ratings.StripMaterial }.OfType<ContactMaterial>()];
        double ohms = Math.Max(Cold(launcher.Contacts.UpperBrush), Cold(launcher.Contacts.LowerBrush));
        if (ohms == 0)
        {
            yield break;
        }

        if (Weakest(pair, material => material.SofteningVoltage) is ElectricPotential softening)
        {
            yield return Current(
                "contact softening",
                ContactTemperature.CurrentAt(softening, ElectricResistance.FromOhms(ohms)).Amperes,
                "The touching spots soften and smear: more force on the brush, a softer or better conducting pair, less current.");
        }

        if (Weakest(pair, material => material.MeltingVoltage) is ElectricPotential melting)
        {
            yield return Current(
                "contact melting",
                ContactTemperature.CurrentAt(melting, ElectricResistance.FromOhms(ohms)).Amperes,
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

    private static LimitRule ArcLength(Launcher launcher, Length gap)
    {
        // The way from the strip's end to the other rail, less the brush.
        double way = (gap - UnitMath.Max(launcher.Contacts.UpperBrush.Length, launcher.Contacts.LowerBrush.Length)).Meters;
        return new LimitRule(
            "arc length",
            (in LaunchFigures f) => f.LongestArc,
            (in LaunchFigures _) => way,
            value => Length.FromMeters(value),
            "The arc still burns where the brush reaches the other rail, and shorts the source: wider gaps, a suppressor, fewer volts.")
        {
            Applies = (in LaunchFigures f) => f.Arced,
            Margin = (in LaunchFigures f) => f.FlashedOver ? -1 : 1 - (f.LongestArc / way),
        };
    }

    private static IEnumerable<LimitRule> SourceRules(Launcher launcher)
    {
        // What melts a conductor in a time goes as one over the root of the time.
        var second = Duration.FromSeconds(1);
        if (launcher.Ratings.Braid is Area braid)
        {
            double inOneSecond = AdiabaticHeating.CurrentTo(Conductor.Copper, braid, second).Amperes;
            yield return new LimitRule(
                "braid fusing",
                (in LaunchFigures f) => f.RmsCurrent,
                (in LaunchFigures f) => inOneSecond / Math.Sqrt(f.EndTime),
                value => ElectricCurrent.FromAmperes(value),
                "The braid melts within the launch: more section.")
            {
                Applies = (in LaunchFigures f) => f.EndTime > 0,
            };
        }

        if (launcher.Leads.Section is Area section)
        {
            double inOneSecond = FusingCurrent.Onderdonk(section, second, Temperature.FromDegreesCelsius(20)).Amperes;
            yield return new LimitRule(
                "lead fusing",
                (in LaunchFigures f) => f.PeakSourceCurrent,
                (in LaunchFigures f) => inOneSecond / Math.Sqrt(f.EndTime),
                value => ElectricCurrent.FromAmperes(value),
                "The leads melt if their greatest current flows as long as the launch: more section.")
            {
                Applies = (in LaunchFigures f) => f.EndTime > 0,
            };
        }

        switch (launcher.Source)
        {
            case BenchSupply { Limit: ElectricCurrent limit }:
                // At its limit a supply is not hurt; it no longer gives its voltage.
                double most = limit.Amperes;
                yield return new LimitRule(
                    "supply current limit", (in LaunchFigures f) => f.PeakSourceCurrent, (in LaunchFigures _) => most, value => ElectricCurrent.FromAmperes(value), "The supply limits its current.")
                {
                    // The regulator holds its limit to rounding and to the tolerance of the run.
                    Margin = (in LaunchFigures f) => f.PeakSourceCurrent > most && f.PeakSourceCurrent <= HeldTo * most ? 0 : 1 - (f.PeakSourceCurrent / most),
                };
                break;
            case BatteryPack pack:
                yield return Upper(
                    "battery charge",
                    (in LaunchFigures f) => Math.Abs(f.ChargeDrawn),
                    pack.Capacity.Coulombs,
                    value => ElectricCharge.FromCoulombs(value),
                    "The pack is empty before the launch is over.");
                break;
        }

        if (launcher.Ratings.SourceCurrent is ElectricCurrent rating)
        {
            yield return SourceCurrent("source current", rating.Amperes, "The source gives more than its rating.");
        }
    }

    private static LimitRule BrakingRoom(double room)
        => new(
            "braking room",
            (in LaunchFigures f) => f.BrakingDistance,
            (in LaunchFigures _) => room,
            value => Length.FromMeters(value),
            "The sled leaves the track.")
        {
            Applies = (in LaunchFigures f) => f.Braking is not null,
            Margin = (in LaunchFigures f) => f.Braking == BrakingOutcome.Stopped ? 1 - (f.BrakingDistance / room) : -1,
            Advice = figures => figures.Braking == BrakingOutcome.Stopped
                ? "The sled leaves the track."
                : $"The sled leaves the track at {Show.Quantity(Speed.FromMetersPerSecond(figures.BrakingEndSpeed))} or does not come to rest: a stronger brake, a longer track.",
        };

    private static LimitRule Upper(string name, Figure reached, double allowed, Func<double, IQuantity> inUnits, string advice)
        => new(name, reached, (in LaunchFigures _) => allowed, inUnits, advice);

    private static LimitRule Current(string name, double allowed, string advice)
        => Upper(name, (in LaunchFigures f) => f.PeakContactCurrent, allowed, value => ElectricCurrent.FromAmperes(value), advice);

    private static LimitRule SourceCurrent(string name, double allowed, string advice)
        => Upper(name, (in LaunchFigures f) => f.PeakSourceCurrent, allowed, value => ElectricCurrent.FromAmperes(value), advice);

    private static double Exit(in LaunchFigures figures) => figures.Outcome == LaunchOutcome.Released ? figures.EndSpeed : 0;

    private static T Remembered<T>(ConcurrentDictionary<MagnetKey, T> cache, MagnetKey key, Func<MagnetKey, T> compute)
    {
        if (cache.TryGetValue(key, out T? found))
        {
            return found;
        }

        if (cache.Count >= CacheLimit)
        {
            cache.Clear();
        }

        return cache.GetOrAdd(key, compute);
    }

    /// <summary>What the field against a track's magnets depends on, but for the current.</summary>
    private sealed class MagnetKey(Track track, Coil? coil, double kelvins) : IEquatable<MagnetKey>
    {
        private readonly int hash = HashCode.Combine(track, coil?.Turns, kelvins);

        public Track Track { get; } = track;

        public Coil? Coil { get; } = coil;

        public double Kelvins { get; } = kelvins;

        public bool Equals(MagnetKey? other)
            => other is not null && Kelvins.Equals(other.Kelvins) && (ReferenceEquals(Coil, other.Coil) || Equals(Coil, other.Coil))
                && (ReferenceEquals(Track, other.Track) || Track.Equals(other.Track));

        public override bool Equals(object? obj) => Equals(obj as MagnetKey);

        public override int GetHashCode() => hash;
    }
}

/// <summary>One limit: what is reached and what is allowed, as functions of the figures of a launch; all in SI units.</summary>
/// <param name="name">Its name in the table.</param>
/// <param name="reached">The value reached.</param>
/// <param name="allowed">The value allowed, or needed.</param>
/// <param name="inUnits">Gives a value its unit.</param>
/// <param name="advice">What to know and what helps.</param>
internal sealed class LimitRule(string name, LimitRules.Figure reached, LimitRules.Figure allowed, Func<double, IQuantity> inUnits, string advice)
{
    public delegate bool Condition(in LaunchFigures figures);

    public string Name { get; } = name;

    public LimitRules.Figure Reached { get; } = reached;

    public LimitRules.Figure Allowed { get; } = allowed;

    public Func<double, IQuantity> InUnits { get; } = inUnits;

    public bool MustReach { get; init; }

    /// <summary>Whether the launch has anything to hold against the limit; always, unless stated.</summary>
    public Condition Applies { get; init; } = (in LaunchFigures _) => true;

    /// <summary>What is left as a part of the limit; 1 − reached/allowed unless stated.</summary>
    public LimitRules.Figure Margin { get; init; } = (in LaunchFigures figures) => 1 - (reached(figures) / allowed(figures));

    public Func<LaunchFigures, string> Advice { get; init; } = _ => advice;
}
