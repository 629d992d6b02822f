using UnitsNet;

namespace Magrail;

/// <summary>Reads a cause off a launcher and describes the launcher with another value of it.</summary>
internal static class CauseModel
{
    /// <summary>The value that the launcher is described with, in the base unit.</summary>
    public static double Of(Launcher launcher, CalibrationCause cause) => cause switch
    {
        CalibrationCause.ContactResistance => launcher.Contacts.UpperBrush.Resistance.Ohms,
        CalibrationCause.BrushDrop => launcher.Contacts.UpperBrush.Drop.Volts,
        CalibrationCause.LeadResistance => launcher.Leads.Resistance.Ohms,
        CalibrationCause.SlidingFriction => launcher.Sled.Friction.Sliding,
        CalibrationCause.ViscousFriction => launcher.Sled.Friction.ViscousAtOneMeterPerSecond.Newtons,
        CalibrationCause.Remanence => launcher.Track.Stations[0].Magnets[0].Body.Grade.Remanence.Teslas,
        _ => (launcher.Track.Stations[0].Gap ?? throw NoGap()).Meters,
    };

    /// <summary>The widest bounds that make sense.</summary>
    public static (double Least, double Greatest) Bounds(Launcher launcher, CalibrationCause cause)
    {
        double now = Of(launcher, cause);
        double coil = launcher.Sled.Coils[0].Coil.ResistanceAt(launcher.CoilTemperature).Ohms;
        return cause switch
        {
            CalibrationCause.ContactResistance or CalibrationCause.LeadResistance => (0, Math.Max(coil, 2 * now)),
            CalibrationCause.BrushDrop => (0, Math.Max(0.25 * launcher.Source.ToSi().Volts, 2 * now)),
            CalibrationCause.SlidingFriction => (0, 2),
            CalibrationCause.ViscousFriction => (0, Math.Max(9.8 * launcher.MovingMass.Kilograms, 2 * now)),
            CalibrationCause.Remanence => (0.5 * now, Math.Min(1.5 * now, 2)),

            // A tenth of a millimeter of air on either side, or half of what there is.
            _ => (launcher.Sled.Coils.Max(mount => mount.Coil.ExtentAcross.Meters) is double coilAcross ? Math.Max(coilAcross + Math.Min(2e-4, 0.5 * Math.Max(now - coilAcross, 0)), 0.2 * now) : 0, 1.5 * now),
        };
    }

    /// <summary>The size at which it begins to matter.</summary>
    public static double Scale(Launcher launcher, CalibrationCause cause)
    {
        double now = Of(launcher, cause);
        double coil = launcher.Sled.Coils[0].Coil.ResistanceAt(launcher.CoilTemperature).Ohms;
        return cause switch
        {
            CalibrationCause.ContactResistance or CalibrationCause.LeadResistance => Math.Max(now, 0.02 * coil),
            CalibrationCause.BrushDrop => Math.Max(now, 0.2),
            CalibrationCause.SlidingFriction => Math.Max(now, 0.1),
            CalibrationCause.ViscousFriction => Math.Max(now, 0.02 * 9.8 * launcher.MovingMass.Kilograms),
            _ => now,
        };
    }

    /// <summary>
    /// The size against which its error is judged. Remanence and gap are known within some percent before anything is measured, so a fifth of them is what is asked about.
    /// </summary>
    public static double Size(Launcher launcher, CalibrationCause cause, double value) => cause is CalibrationCause.Remanence or CalibrationCause.Gap
        ? 0.2 * Math.Abs(value)
        : Math.Max(Math.Abs(value), Scale(launcher, cause));

    /// <summary>The launcher with another value.</summary>
    public static Launcher With(Launcher launcher, CalibrationCause cause, double value)
    {
        switch (cause)
        {
            case CalibrationCause.ContactResistance:
                return WithBrushes(launcher, brush => brush.WithResistance(ElectricResistance.FromOhms(value)));
            case CalibrationCause.BrushDrop:
                return WithBrushes(launcher, brush => brush with { Drop = ElectricPotential.FromVolts(value) });
            case CalibrationCause.LeadResistance:
                return launcher with { Leads = new Leads(ElectricResistance.FromOhms(value)) };
            case CalibrationCause.SlidingFriction:
                GuideFriction friction = launcher.Sled.Friction;
                double atRest = friction.Sliding > 0 ? friction.AtRest * value / friction.Sliding : Math.Max(friction.AtRest, value);
                return launcher with
                {
                    Sled = launcher.Sled with
                    {
                        Friction = new GuideFriction(value, Math.Clamp(atRest, value, 2), friction.ViscousAtOneMeterPerSecond) { CountsLateralForce = friction.CountsLateralForce },
                    },
                };
            case CalibrationCause.ViscousFriction:
                GuideFriction rubs = launcher.Sled.Friction;
                return launcher with
                {
                    Sled = launcher.Sled with { Friction = new GuideFriction(rubs.Sliding, rubs.AtRest, Force.FromNewtons(value)) { CountsLateralForce = rubs.CountsLateralForce } },
                };
            case CalibrationCause.Remanence:
                double factor = value / Of(launcher, cause);
                return launcher with { Track = Rebuilt(launcher.Track, body => WithRemanence(body, factor), gap => gap) };
            default:
                return launcher with { Track = Rebuilt(launcher.Track, body => body, _ => Length.FromMeters(value)) };
        }
    }

    private static Launcher WithBrushes(Launcher launcher, Func<Brush, Brush> change)
        => launcher with { Contacts = launcher.Contacts.WithBrushes(change) };

    private static Track Rebuilt(Track track, Func<MagnetBody, MagnetBody> body, Func<Length, Length> gap)
    {
        Dictionary<MagnetStation, MagnetStation> made = new(ReferenceEqualityComparer.Instance);
        var places = new StationPlace[track.StationCount];
        for (int i = 0; i < places.Length; i++)
        {
            MagnetStation station = track.Stations[i];
            if (!made.TryGetValue(station, out MagnetStation? other))
            {
                made[station] = other = station.Gap is Length clear
                    ? MagnetStation.FacingPair(body(station.Magnets[0].Body), gap(clear), station.BackIron)
                    : MagnetStation.Of([.. station.Magnets.Select(magnet => new PlacedMagnet(body(magnet.Body), magnet.Along, magnet.Across, magnet.Up, magnet.Polarity, magnet.Roll))]);
            }

            places[i] = new StationPlace(other, track.Positions[i], track.Polarities[i]);
        }

        return Track.Of(places);
    }

    private static MagnetBody WithRemanence(MagnetBody body, double factor)
    {
        MagnetGrade grade = body.Grade.WithRemanence(MagneticField.FromTeslas(factor * body.Grade.Remanence.Teslas));
        return body switch
        {
            BlockMagnet block => new BlockMagnet(block.Along, block.Across, block.Height, grade, block.Magnetization),
            DiscMagnet disc => new DiscMagnet(disc.Diameter, disc.Thickness, grade, disc.Axis, disc.Magnetization),
            RingMagnet ring => new RingMagnet(ring.OuterDiameter, ring.InnerDiameter, ring.Length, grade, ring.Axis, ring.Magnetization),
            _ => throw new NotSupportedException($"a {body.GetType().Name} has no remanence to be found."),
        };
    }

    private static ArgumentException NoGap() => new("the track has no facing pairs, so it has no gap to be found.", "unknowns");
}
