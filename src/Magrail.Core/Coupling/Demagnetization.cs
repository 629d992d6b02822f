using System.Collections.Immutable;
using System.Globalization;
using Magrail.Numerics;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>How near the magnets of a track come to losing magnetization for good.</summary>
/// <remarks>
/// <para>
/// In each magnet the field strength against its magnetization, -H·m, is searched for its greatest value over a lattice of points that
/// reaches to its faces, edges and corners: its own field, that of the other magnets of its station and of three stations on either
/// side, and the greatest field of the coil against it over all places the coil passes, whichever way its current flows. It is held
/// against the grade's guaranteed intrinsic coercivity at the temperature.
/// </para>
/// <para>
/// The magnets are taken as rigid; a recoil permeability of 1.05 would lower the field against a magnet by a few percent, so the
/// check errs on the safe side. Magnetization is lost from the knee of the curve on, which for a good sintered magnet lies near nine tenths of
/// the intrinsic coercivity (common practice, no source): <see cref="Knee"/>. For AlNiCo the check says little: its curve has no
/// straight part.
/// </para>
/// </remarks>
public sealed class Demagnetization
{
    /// <summary>Stations on either side whose field counts.</summary>
    private const int Neighbors = 3;

    private Demagnetization(ImmutableArray<DemagnetizationMargin> magnets, Temperature temperature)
    {
        Magnets = magnets;
        Temperature = temperature;
    }

    /// <summary>The fraction of the intrinsic coercivity at which the loss begins: 0.9.</summary>
    [Dimensionless]
    [Source("MEMORY", "squareness of sintered magnets, common practice")]
    public static double Knee => 0.9;

    /// <summary>The magnets in every situation that occurs on the track, first station first.</summary>
    public ImmutableArray<DemagnetizationMargin> Magnets { get; }

    /// <summary>The magnets' temperature.</summary>
    public Temperature Temperature { get; }

    /// <summary>The magnet with the least margin.</summary>
    public DemagnetizationMargin Worst => Magnets.MinBy(magnet => magnet.Margin)!;

    /// <summary>Whether every magnet stays above the knee of its curve.</summary>
    public bool IsSafe => Worst.Margin > 1 - Knee;

    /// <summary>Checks a track.</summary>
    /// <param name="track">The track.</param>
    /// <param name="temperature">The magnets' temperature, up to the least service temperature of their grades.</param>
    /// <param name="coil">The coil that passes; none if left out.</param>
    /// <param name="current">Its greatest current; the sign does not matter.</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is beyond a grade's service temperature, or the current is not finite.</exception>
    /// <exception cref="ArgumentNullException">The track is missing.</exception>
    public static Demagnetization Of(Track track, Temperature temperature, Coil? coil = null, ElectricCurrent? current = null)
    {
        ArgumentNullException.ThrowIfNull(track);
        double amperes = Math.Abs(Require.Finite(current ?? ElectricCurrent.Zero, "a current is a number", nameof(current)).Amperes);
        TrackSi si = track.ToSi(temperature);
        WindingElements? winding = coil is null || amperes == 0 ? null : WindingElements.Near(coil.ToSi(), 0.3 * coil.Former.Length.Meters, 3);
        var found = new List<DemagnetizationMargin>();
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
                double own = 0;
                Vector3D at = default;
                foreach (Vector3D point in Lattice(body))
                {
                    double against = -Field(si, s, point).Dot(direction);
                    if (against > worst)
                    {
                        (worst, at) = (against, point);
                    }
                }

                if (winding is not null)
                {
                    // The coil's field is slow to compute: at the worst point alone and over the face that looks at the coil.
                    own = worst;
                    double most = 0;
                    foreach (Vector3D point in (ReadOnlySpan<Vector3D>)[at, Toward(body)])
                    {
                        double alone = -Field(si, s, point).Dot(direction);
                        double added = CoilFieldAlong(winding, coil!.Turns * amperes, direction, point, track.Pitch.Meters);
                        if (alone + added > worst)
                        {
                            (worst, most, at) = (alone + added, added, point);
                        }
                    }

                    own = worst - most;
                }
                else
                {
                    own = worst;
                }

                double coercivity = magnet.Body.Grade.IntrinsicCoercivityAt(temperature).AmperesPerMeter;
                double unit = 1 / PhysicalConstants.VacuumPermeability;
                found.Add(new DemagnetizationMargin(
                    s,
                    m,
                    magnet.Body,
                    Length.FromMeters(at.X),
                    Length.FromMeters(at.Y),
                    Length.FromMeters(at.Z),
                    Magnetization.FromAmperesPerMeter(unit * own),
                    Magnetization.FromAmperesPerMeter(unit * (worst - own)),
                    Magnetization.FromAmperesPerMeter(coercivity)));
            }
        }

        return new([.. found], temperature);
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture, $"{(IsSafe ? "safe" : "loses magnetization")} at {Show.Quantity(Temperature)}: {Worst}");

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

    /// <summary>The greatest μ₀H of the coil against a direction at a point, over the places it passes within a pitch on either side.</summary>
    private static double CoilFieldAlong(WindingElements winding, double ampereTurns, Vector3D direction, Vector3D point, double pitch)
    {
        const int Places = 20;
        double most = 0;
        for (int i = -Places; i <= Places; i++)
        {
            double d = point.X + (pitch * i / Places);
            Vector3D b = winding.FluxDensity(point with { X = point.X - d }, ampereTurns);
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
