using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>The design numbers that come with the library.</summary>
public abstract partial class DesignNumber
{
    /// <summary>Turns of every coil on the sled, wire and former kept.</summary>
    public static DesignNumber<int> Turns { get; } = OfCount(
        "turns", (launcher, turns) => WithCoils(launcher, coil => coil.WithTurns(turns)), launcher => launcher.Sled.Coils[0].Coil.Turns);

    /// <summary>Wire size of every coil, its turns kept.</summary>
    public static DesignNumber<WireGauge> Gauge { get; } = OfGauge(
        "gauge", (coil, gauge) => Rewound(coil, coil.Wire.Conductor, gauge));

    /// <summary>Wire size of every coil, its room kept: as many turns as fit, see <see cref="Coil.WithGauge"/>.</summary>
    public static DesignNumber<WireGauge> GaugeInSameRoom { get; } = OfGauge("gauge in the same room", (coil, gauge) => coil.WithGauge(gauge));

    /// <summary>Bare diameter of the wire of every coil, its turns kept: drawn thicker or thinner than its name says.</summary>
    public static DesignNumber<Length> WireDiameter { get; } = Of(
        "wire diameter",
        (Launcher launcher, Length diameter) => WithCoils(launcher, coil => Rewound(coil, coil.Wire.Conductor, WireGauge.Metric(diameter))),
        launcher => launcher.Sled.Coils[0].Coil.Wire.BareDiameter);

    /// <summary>Resistivity at 20 °C of the wire of every coil; its geometry is kept.</summary>
    public static DesignNumber<ElectricResistivity> WireResistivity { get; } = Of(
        "wire resistivity",
        (Launcher launcher, ElectricResistivity resistivity) => WithCoils(launcher, coil =>
        {
            Conductor metal = coil.Wire.Conductor;
            return Rewound(
                coil,
                new Conductor(metal.Name, resistivity, metal.TemperatureCoefficient, metal.Density, metal.VolumetricHeatCapacity, metal.MeltingPoint),
                coil.Wire.Gauge);
        }),
        launcher => launcher.Sled.Coils[0].Coil.Wire.Conductor.Resistivity);

    /// <summary>Voltage of the source: set, open-circuit or initial.</summary>
    public static DesignNumber<ElectricPotential> Voltage { get; } = Of(
        "voltage",
        (Launcher launcher, ElectricPotential volts) => launcher with
        {
            Source = launcher.Source switch
            {
                BenchSupply supply => new BenchSupply(volts, supply.Limit, supply.OutputResistance),
                BatteryPack pack => new BatteryPack(volts, pack.InternalResistance, pack.Capacity),
                CapacitorBank bank => new CapacitorBank(bank.Capacitance, volts, bank.SeriesResistance),
                _ => throw Missing("voltage", launcher.Source),
            },
        },
        launcher => ElectricPotential.FromVolts(launcher.Source.ToSi().Volts));

    /// <summary>Resistance of the source: output, internal or in series.</summary>
    public static DesignNumber<ElectricResistance> SourceResistance { get; } = Of(
        "source resistance",
        (Launcher launcher, ElectricResistance ohms) => launcher with
        {
            Source = launcher.Source switch
            {
                BenchSupply supply => new BenchSupply(supply.Volts, supply.Limit, ohms),
                BatteryPack pack => new BatteryPack(pack.OpenCircuitVolts, ohms, pack.Capacity),
                CapacitorBank bank => new CapacitorBank(bank.Capacitance, bank.InitialVolts, ohms),
                _ => throw Missing("resistance", launcher.Source),
            },
        },
        launcher => ElectricResistance.FromOhms(launcher.Source.ToSi().Resistance));

    /// <summary>Current limit of a bench supply.</summary>
    public static DesignNumber<ElectricCurrent> CurrentLimit { get; } = new(
        "current limit",
        "A",
        isWhole: false,
        (launcher, amperes) => launcher with
        {
            Source = launcher.Source is BenchSupply supply
                ? new BenchSupply(supply.Volts, amperes, supply.OutputResistance)
                : throw Missing("current limit", launcher.Source),
        },
        InSi,
        value => ElectricCurrent.FromAmperes(value),
        launcher => launcher.Source is BenchSupply { Limit: ElectricCurrent limit } ? limit.Amperes : double.NaN);

    /// <summary>Capacitance of a capacitor bank.</summary>
    public static DesignNumber<ElectricCapacitance> Capacitance { get; } = new(
        "capacitance",
        "F",
        isWhole: false,
        (launcher, farads) => launcher with
        {
            Source = launcher.Source is CapacitorBank bank
                ? new CapacitorBank(farads, bank.InitialVolts, bank.SeriesResistance)
                : throw Missing("capacitance", launcher.Source),
        },
        InSi,
        value => ElectricCapacitance.FromFarads(value),
        launcher => launcher.Source is CapacitorBank bank ? bank.Capacitance.Farads : double.NaN);

    /// <summary>Number of stations of an even track; strips are laid anew.</summary>
    public static DesignNumber<int> Stations { get; } = OfCount(
        "stations",
        (launcher, stations) => Relaid(launcher, Even(launcher, stations, launcher.Track.Pitch)),
        launcher => launcher.Track.StationCount);

    /// <summary>Pitch of an even track; strips are laid anew.</summary>
    public static DesignNumber<Length> Pitch { get; } = Of(
        "pitch",
        (Launcher launcher, Length pitch) => Relaid(launcher, Even(launcher, launcher.Track.StationCount, pitch)),
        launcher => launcher.Track.Pitch);

    /// <summary>Gap of an even track of facing pairs.</summary>
    public static DesignNumber<Length> Gap { get; } = new(
        "gap",
        "m",
        isWhole: false,
        (launcher, gap) => WithTrack(launcher, WithStations(launcher, station => station is { Gap: not null, Magnets: [PlacedMagnet first, _] }
            ? MagnetStation.FacingPair(first.Body, gap, station.BackIron)
            : throw Require.Fault(nameof(launcher), station.ToString(), "a track of facing pairs", "other stations have no gap"))),
        InSi,
        value => Length.FromMeters(value),
        launcher => launcher.Track.Gap?.Meters ?? double.NaN);

    /// <summary>Remanence at 20 °C of all magnets.</summary>
    public static DesignNumber<MagneticField> Remanence { get; } = Of(
        "remanence",
        (Launcher launcher, MagneticField remanence) => WithTrack(launcher, WithStations(launcher, station => station.WithGrades(grade => grade.WithRemanence(remanence)))),
        launcher => launcher.Track.Stations[0].Magnets[0].Body.Grade.Remanence);

    /// <summary>Dwell of strips that were laid out by it: the part of the pitch over which the brush touches its strip.</summary>
    [Dimensionless]
    public static DesignNumber<double> Dwell { get; } = OfNumber(
        "dwell",
        (launcher, dwell) => Relaid(launcher, launcher.Track, layout => StripLayout.OfDwell(dwell) with { Lead = layout.Lead }),
        launcher => launcher.Contacts.Layout?.Dwell ?? double.NaN);

    /// <summary>Gap of strips that were laid out by it.</summary>
    public static DesignNumber<Length> StripGap { get; } = new(
        "strip gap",
        "m",
        isWhole: false,
        (launcher, gap) => Relaid(launcher, launcher.Track, layout => StripLayout.OfGap(gap) with { Lead = layout.Lead }),
        InSi,
        value => Length.FromMeters(value),
        launcher => launcher.Contacts.Layout?.Gap?.Meters ?? double.NaN);

    /// <summary>Lead of the strips: how much earlier than symmetric each begins and ends; where it grows with speed, that of a sled at rest.</summary>
    public static DesignNumber<Length> Lead { get; } = new(
        "lead",
        "m",
        isWhole: false,
        (launcher, lead) => Relaid(launcher, launcher.Track, layout => layout with
        {
            Lead = layout.Lead.Speed is ExpectedSpeed speed ? StripLead.Growing(lead, layout.Lead.Time, speed) : StripLead.Constant(lead),
        }),
        InSi,
        value => Length.FromMeters(value),
        launcher => launcher.Contacts.Layout?.Lead.AtRest.Meters ?? double.NaN);

    /// <summary>What the lead of the strips grows by per speed, of strips whose lead grows.</summary>
    public static DesignNumber<Duration> LeadTime { get; } = new(
        "lead time",
        "s",
        isWhole: false,
        (launcher, time) => Relaid(launcher, launcher.Track, layout => layout.Lead.Speed is ExpectedSpeed speed
            ? layout with { Lead = StripLead.Growing(layout.Lead.AtRest, time, speed) }
            : throw Require.Fault(nameof(launcher), layout.ToString(), "strips whose lead grows with speed", "others have no lead time")),
        InSi,
        value => Duration.FromSeconds(value),
        launcher => launcher.Contacts.Layout?.Lead is { Speed: not null } lead ? lead.Time.Seconds : double.NaN);

    /// <summary>Place of all strips against where they belong, forward: an error of mounting.</summary>
    public static DesignNumber<Length> StripShift { get; } = Of(
        "strip shift",
        (Launcher launcher, Length shift) => launcher with { Contacts = launcher.Contacts.Shifted(shift) },
        _ => Length.Zero);

    /// <summary>What strips out of place, each on its own, do to the exit speed; no number that a launcher could be given, so that only <see cref="Spread.EachStrip"/> has a use for it.</summary>
    internal static DesignNumber<Speed> StripPlacement { get; } = Of<Speed>(
        "strip placement", (_, _) => throw new NotSupportedException("Strips out of place have a length each."));

    /// <summary>Resistance of either brush on its strip, as one resistance; the parts of a contact resistance are scaled alike.</summary>
    public static DesignNumber<ElectricResistance> ContactResistance { get; } = Of(
        "contact resistance",
        (Launcher launcher, ElectricResistance ohms) => launcher with
        {
            Contacts = launcher.Contacts.WithBrushes(brush => brush.WithResistance(ohms)),
        },
        launcher => launcher.Contacts.UpperBrush.Resistance);

    /// <summary>Drop of either brush: the voltage against the current that does not depend on its size.</summary>
    public static DesignNumber<ElectricPotential> BrushDrop { get; } = Of(
        "brush drop",
        (Launcher launcher, ElectricPotential volts) => launcher with
        {
            Contacts = launcher.Contacts.WithBrushes(brush => brush with { Drop = volts }),
        },
        launcher => launcher.Contacts.UpperBrush.Drop);

    /// <summary>Resistance of the leads; a section that they state is forgotten, and with it the limit of their fusing.</summary>
    public static DesignNumber<ElectricResistance> LeadResistance { get; } = Of(
        "lead resistance",
        (Launcher launcher, ElectricResistance ohms) => launcher with { Leads = new Leads(ohms) },
        launcher => launcher.Leads.Resistance);

    /// <summary>Mass of the payload.</summary>
    public static DesignNumber<Mass> PayloadMass { get; } = Of(
        "payload",
        (Launcher launcher, Mass mass) => launcher with { Payload = new Payload(mass, launcher.Payload.NeededSpeed, launcher.Payload.AccelerationLimit) },
        launcher => launcher.Payload.Mass);

    /// <summary>Mass of the carriage, without coils and payload.</summary>
    public static DesignNumber<Mass> CarriageMass { get; } = Of(
        "carriage mass",
        (Launcher launcher, Mass mass) => launcher with { Sled = WithSled(launcher.Sled, mass, launcher.Sled.Coils) },
        launcher => launcher.Sled.Mass);

    /// <summary>Coefficient of sliding friction; that at rest keeps its ratio to it, or equals it where there was none.</summary>
    [Dimensionless]
    public static DesignNumber<double> Friction { get; } = OfNumber(
        "friction",
        (launcher, sliding) =>
        {
            GuideFriction old = launcher.Sled.Friction;
            double atRest = old.Sliding > 0 ? Math.Max(sliding, sliding * (old.AtRest / old.Sliding)) : Math.Max(sliding, old.AtRest);
            return launcher with { Sled = launcher.Sled with { Friction = new GuideFriction(sliding, atRest, old.ViscousAtOneMeterPerSecond) { CountsLateralForce = old.CountsLateralForce } } };
        },
        launcher => launcher.Sled.Friction.Sliding);

    /// <summary>Temperature of the coils at the start.</summary>
    public static DesignNumber<Temperature> CoilTemperature { get; } = Of(
        "coil temperature", (Launcher launcher, Temperature temperature) => launcher with { CoilTemperature = temperature }, launcher => launcher.CoilTemperature);

    /// <summary>Temperature of the magnets.</summary>
    public static DesignNumber<Temperature> MagnetTemperature { get; } = Of(
        "magnet temperature", (Launcher launcher, Temperature temperature) => launcher with { MagnetTemperature = temperature }, launcher => launcher.MagnetTemperature);

    /// <summary>Voltage of the clamp across each coil.</summary>
    public static DesignNumber<ElectricPotential> ClampVoltage { get; } = new(
        "clamp voltage",
        "V",
        isWhole: false,
        (launcher, volts) => launcher with { Suppressor = Suppressor.Clamp(volts) },
        InSi,
        value => ElectricPotential.FromVolts(value),
        launcher => launcher.Suppressor is ClampSuppressor clamp ? clamp.Volts.Volts : double.NaN);

    /// <summary>All of the above that a launcher has and that are not two names for one thing: what an analysis of influences goes through.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    public static IReadOnlyList<DesignNumber> AllOf(Launcher launcher)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        DesignNumber[] all =
        [
            Turns, Gauge, WireResistivity, Voltage, SourceResistance, CurrentLimit, Capacitance, Stations, Pitch, Gap, Remanence, Dwell, StripGap, Lead, LeadTime, ContactResistance, BrushDrop, LeadResistance,
            PayloadMass, CarriageMass, Friction, ClampVoltage,
        ];
        return [.. all.Where(number => double.IsFinite(number.Read(launcher)))];
    }

    private static Coil Rewound(Coil coil, Conductor conductor, WireGauge gauge)
        => Coil.Wind(Wire.Of(conductor, gauge, coil.Wire.Enamel), coil.Former, coil.Turns, coil.Style, coil.Leads, coil.Axis);

    private static DesignNumber<WireGauge> OfGauge(string name, Func<Coil, WireGauge, Coil> with) => new(
        name,
        "m",
        isWhole: false,
        (launcher, gauge) => WithCoils(launcher, coil => with(coil, gauge)),
        gauge => gauge.BareDiameter.Meters,
        GaugeOf,
        launcher => launcher.Sled.Coils[0].Coil.Wire.BareDiameter.Meters);

    /// <summary>The standard size of a diameter, where there is one; a metric size by its diameter otherwise.</summary>
    private static WireGauge GaugeOf(double meters)
    {
        bool Same(WireGauge gauge) => Math.Abs(gauge.BareDiameter.Meters - meters) <= 1e-12 * meters;
        return WireGauge.Preferred.FirstOrDefault(Same)
            ?? Enumerable.Range(-3, 48).Select(WireGauge.Awg).FirstOrDefault(Same)
            ?? WireGauge.Metric(Length.FromMeters(meters));
    }

    private static Launcher WithCoils(Launcher launcher, Func<Coil, Coil> change)
    {
        // Mounts of one coil keep sharing it.
        var changed = new Dictionary<Coil, Coil>(ReferenceEqualityComparer.Instance);
        Coil Changed(Coil coil)
        {
            if (!changed.TryGetValue(coil, out Coil? other))
            {
                changed[coil] = other = change(coil);
            }

            return other;
        }

        Sled sled = launcher.Sled;
        return launcher with
        {
            Sled = WithSled(sled, sled.Mass, sled.Coils.Select(mount => new CoilMount(Changed(mount.Coil), mount.Offset, mount.Sense, mount.Circuit))),
        };
    }

    private static Sled WithSled(Sled sled, Mass mass, IEnumerable<CoilMount> coils) => new(mass, coils)
    {
        Friction = sled.Friction,
        OffsetAcross = sled.OffsetAcross,
        OffsetUp = sled.OffsetUp,
        DragArea = sled.DragArea,
    };

    private static Track Even(Launcher launcher, int stations, Length pitch)
    {
        Track track = launcher.Track;
        bool even = track.Stations.All(station => ReferenceEquals(station, track.Stations[0]) || station.Equals(track.Stations[0]));
        for (int i = 1; i < track.StationCount && even; i++)
        {
            even = Math.Abs(track.Positions[i].Meters - (i * track.Pitch.Meters)) <= 1e-9;
        }

        return even
            ? Track.OfStations(track.Stations[0], stations, pitch, Pattern(track))
            : throw Require.Fault(nameof(launcher), track.ToString(), "equal stations at one pitch from x = 0", "of others, number and pitch do not say where they stand");
    }

    /// <summary>The shortest pattern whose repetition gives the polarities; null, for positive and negative in turn, where one station shows none.</summary>
    private static Polarity[]? Pattern(Track track)
    {
        int period = 1;
        while (!Enumerable.Range(period, track.StationCount - period).All(i => track.Polarities[i] == track.Polarities[i - period]))
        {
            period++;
        }

        return track.StationCount == 1 ? null : [.. track.Polarities.Take(period)];
    }

    private static Track WithStations(Launcher launcher, Func<MagnetStation, MagnetStation> change)
    {
        Track track = launcher.Track;
        var changed = new Dictionary<MagnetStation, MagnetStation>(ReferenceEqualityComparer.Instance);
        foreach (MagnetStation station in track.Stations)
        {
            if (!changed.ContainsKey(station))
            {
                changed[station] = change(station);
            }
        }

        return track.WithStations(station => changed[station]);
    }

    private static Launcher WithTrack(Launcher launcher, Track track) => launcher with { Track = track };

    private static Launcher Relaid(Launcher launcher, Track track, Func<StripLayout, StripLayout>? change = null)
    {
        ContactCommutator contacts = launcher.Contacts;
        if (contacts.Layout is not StripLayout layout)
        {
            throw Require.Fault(
                nameof(launcher), "a launcher whose strips were placed one by one", "one whose strips ContactCommutator.For laid", "others cannot be laid anew: give a design number of your own");
        }

        StripLayout other = change?.Invoke(layout) ?? layout;
        return launcher with
        {
            Track = track,
            Contacts = ContactCommutator.For(track, launcher.Sled.Coils[0].Coil, other, contacts.UpperBrush).WithBrushes(contacts.UpperBrush, contacts.LowerBrush),
        };
    }

    private static ArgumentOutOfRangeException Missing(string number, PowerSource source)
        => Require.Fault("launcher", source.ToString(), $"a launcher whose source has a {number}", "there is nothing to change");
}
