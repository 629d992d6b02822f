using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The field against each magnet of a track as a function of the coil's current: that of the magnets once and for all, that of the coil in proportion.
/// What <see cref="Demagnetization"/> is made of, for any number of currents.
/// </summary>
internal sealed class DemagnetizingCurrents
{
    /// <summary>Stations on either side whose field counts.</summary>
    private const int Neighbors = 3;

    private readonly Magnet[] magnets;

    private DemagnetizingCurrents(Magnet[] magnets) => this.magnets = magnets;

    /// <param name="track">The track.</param>
    /// <param name="temperature">The magnets' temperature.</param>
    /// <param name="coil">The coil that passes; null for none.</param>
    public static DemagnetizingCurrents Of(Track track, Temperature temperature, Coil? coil)
    {
        TrackSi si = track.ToSi(temperature);
        WindingElements? winding = coil is null ? null : WindingElements.Near(coil.ToSi(), 0.3 * coil.Former.Length.Meters, 3);
        var found = new List<Magnet>();
        var seen = new HashSet<string>();
        List<MagnetStation> kinds = [.. track.Stations.Distinct()];
        for (int s = 0; s < track.StationCount; s++)
        {
            if (!seen.Add(Situation(track, kinds, s)))
            {
                continue;
            }

            MagnetStation station = track.Stations[s];
            double sign = si.Signs[s];
            for (int m = 0; m < station.Magnets.Length; m++)
            {
                PlacedMagnet magnet = station.Magnets[m];
                BodySi body = magnet.ToSi();
                Vector3D direction = sign * Math.Sign(body.Remanence) * BodyField.Direction(body with { Remanence = Math.Abs(body.Remanence) });
                double worst = double.NegativeInfinity;
                Vector3D at = default;
                foreach (Vector3D point in Lattice(body))
                {
                    double against = -Field(si, s, point).Dot(direction);
                    if (against > worst)
                    {
                        (worst, at) = (against, point);
                    }
                }

                // The coil's field is slow to compute: at the worst point alone and over the face that looks at the coil.
                Point Of(Vector3D point) => new(
                    point,
                    -Field(si, s, point).Dot(direction),
                    winding is null ? 0 : CoilFieldAlong(winding, coil!.Turns, direction, point, track.Pitch.Meters));

                found.Add(new Magnet(
                    s, m, magnet.Body, Of(at), Of(Toward(body)), magnet.Body.Grade.IntrinsicCoercivityAt(temperature).AmperesPerMeter));
            }
        }

        return new([.. found]);
    }

    /// <summary>Every magnet at a current.</summary>
    public IEnumerable<DemagnetizationMargin> MarginsAt(double amperes)
    {
        const double Unit = 1 / PhysicalConstants.VacuumPermeability;
        foreach (Magnet magnet in magnets)
        {
            Point point = magnet.WorstAt(amperes);
            yield return new DemagnetizationMargin(
                magnet.Station,
                magnet.Number,
                magnet.Body,
                Length.FromMeters(point.At.X),
                Length.FromMeters(point.At.Y),
                Length.FromMeters(point.At.Z),
                Magnetization.FromAmperesPerMeter(Unit * point.Alone),
                Magnetization.FromAmperesPerMeter(Unit * point.PerAmpere * amperes),
                Magnetization.FromAmperesPerMeter(magnet.Coercivity));
        }
    }

    /// <summary>Field against, and intrinsic coercivity of, the magnet that comes nearest to it, A/m. Allocates nothing.</summary>
    public (double Field, double Coercivity) WorstAt(double amperes)
    {
        const double Unit = 1 / PhysicalConstants.VacuumPermeability;
        double least = double.PositiveInfinity;
        (double Field, double Coercivity) worst = default;
        foreach (ref readonly Magnet magnet in magnets.AsSpan())
        {
            Point point = magnet.WorstAt(amperes);
            double field = (Unit * point.Alone) + (Unit * point.PerAmpere * amperes);
            double margin = 1 - (field / magnet.Coercivity);
            if (margin < least)
            {
                (least, worst) = (margin, (field, magnet.Coercivity));
            }
        }

        return worst;
    }

    /// <summary>A point of a magnet: the field against its magnetization there by all magnets, and what the coil adds per ampere, T.</summary>
    private readonly record struct Point(Vector3D At, double Alone, double PerAmpere);

    private readonly record struct Magnet(int Station, int Number, MagnetBody Body, Point Inner, Point Face, double Coercivity)
    {
        public Point WorstAt(double amperes)
            => Face.Alone + (Face.PerAmpere * amperes) > Inner.Alone + (Inner.PerAmpere * amperes) ? Face : Inner;
    }

    /// <summary>What surrounds a station: kinds, polarities against its own and distances of its neighbors.</summary>
    private static string Situation(Track track, List<MagnetStation> kinds, int station)
    {
        var parts = new List<string>();
        int own = track.Polarities[station] == Polarity.Positive ? 1 : -1;
        for (int s = Math.Max(0, station - Neighbors); s <= Math.Min(track.StationCount - 1, station + Neighbors); s++)
        {
            int sign = own * (track.Polarities[s] == Polarity.Positive ? 1 : -1);
            double apart = track.Positions[s].Meters - track.Positions[station].Meters;
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"{kinds.IndexOf(track.Stations[s])}:{sign}:{apart:E9}"));
        }

        return string.Join('|', parts);
    }

    /// <summary>μ₀H of the station and its neighbors at a point given from the station's origin.</summary>
    private static Vector3D Field(TrackSi track, int station, Vector3D point)
    {
        Vector3D sum = default;
        for (int s = Math.Max(0, station - Neighbors); s <= Math.Min(track.Stations.Length - 1, station + Neighbors); s++)
        {
            double apart = track.Positions[s] - track.Positions[station];
            sum += track.Signs[s] * track.Stations[s].MagneticFieldTimesPermeability(point with { X = point.X - apart });
        }

        return sum;
    }

    /// <summary>The greatest μ₀H of the coil per ampere against a direction at a point, over the places it passes within a pitch on either side.</summary>
    private static double CoilFieldAlong(WindingElements winding, double turns, Vector3D direction, Vector3D point, double pitch)
    {
        const int Places = 20;
        double most = 0;
        for (int i = -Places; i <= Places; i++)
        {
            double d = point.X + (pitch * i / Places);
            Vector3D b = winding.FluxDensity(point with { X = point.X - d }, turns);
            most = Math.Max(most, Math.Abs(b.Dot(direction)));
        }

        return most;
    }

    /// <summary>The point of the body nearest to the path's line, a hair inside.</summary>
    private static Vector3D Toward(in BodySi body)
    {
        Vector3D target = body.ToOwn(new Vector3D(body.Center.X, 0, 0) - body.Center);
        const double Inside = 1 - 1e-6;
        double x = Math.Clamp(target.X, -Inside * body.HalfAlong, Inside * body.HalfAlong);
        double y = Math.Clamp(target.Y, -Inside * body.HalfAcross, Inside * body.HalfAcross);
        double z = Math.Clamp(target.Z, -Inside * body.HalfUp, Inside * body.HalfUp);
        return body.Center + body.FromOwn(new(x, y, z));
    }

    /// <summary>Points from the middle out to a hair inside the surface.</summary>
    private static IEnumerable<Vector3D> Lattice(BodySi body)
    {
        double[] steps = [-1 + 1e-6, -0.95, -0.7, -0.35, 0, 0.35, 0.7, 0.95, 1 - 1e-6];
        foreach (double i in steps)
        {
            foreach (double j in steps)
            {
                foreach (double k in steps)
                {
                    Vector3D own;
                    if (body.Shape == BodyShape.Block)
                    {
                        own = new(i * body.HalfAlong, j * body.HalfAcross, k * body.HalfUp);
                    }
                    else
                    {
                        // i along the axis, j across the wall, k around.
                        double r = body.InnerRadius + (0.5 * (1 + j) * (body.OuterRadius - body.InnerRadius));
                        (double sine, double cosine) = Math.SinCos(Math.PI * k);
                        own = body.Axis switch
                        {
                            TrackAxis.Along => new(i * body.HalfLength, r * cosine, r * sine),
                            TrackAxis.Across => new(r * cosine, i * body.HalfLength, r * sine),
                            _ => new(r * cosine, r * sine, i * body.HalfLength),
                        };
                    }

                    yield return body.Center + body.FromOwn(own);
                }
            }
        }
    }
}
