using Magrail.Numerics;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The pull between the two magnets of a facing pair: F = ∫ (B_y² − B_x² − B_z²)/(2 µ₀) dA over the plane midway between them, of one station alone.
/// </summary>
internal static class PinchForce
{
    private const int Order = 32;

    // Far out the stress falls as the sixth power of the distance.
    private const double Reach = 40;

    /// <summary>The pull at the station's gap; null where it is no plain facing pair magnetized across.</summary>
    public static Force? Of(MagnetStation station)
    {
        if (station.Gap is null || station.Magnets.Length != 2 || station.Magnets.Any(magnet => magnet.Body.Magnetization != TrackAxis.Across || magnet.Roll.Radians != 0 || magnet.Polarity != station.Magnets[0].Polarity))
        {
            return null;
        }

        MagnetBody body = station.Magnets[0].Body;
        StationSi si = station.ToSi();
        double halfAlong = 0.5 * body.SizeAlong.Meters;
        double halfUp = 0.5 * body.SizeUp.Meters;
        double far = Reach * Math.Max(Math.Max(halfAlong, halfUp), station.Gap.Value.Meters);
        double sum = 0;
        foreach ((double x, double dx) in Nodes(halfAlong, far))
        {
            foreach ((double z, double dz) in Nodes(halfUp, far))
            {
                Vector3D b = si.FluxDensity(new Vector3D(x, 0, z));
                sum += ((b.Y * b.Y) - (b.X * b.X) - (b.Z * b.Z)) * dx * dz;
            }
        }

        // A quarter of the plane: the pair is its own mirror image along the track and upward.
        return Force.FromNewtons(4 * sum / (2 * PhysicalConstants.VacuumPermeability));
    }

    /// <summary>The pull of the same two magnets at another gap.</summary>
    public static Force? At(MagnetStation station, Length gap)
        => station.Gap is null || Of(station) is null ? null : Of(MagnetStation.FacingPair(station.Magnets[0].Body, gap));

    /// <summary>Gauss nodes from 0 to the edge, drawn together toward it, and from there outward.</summary>
    private static IEnumerable<(double Place, double Weight)> Nodes(double edge, double far)
    {
        GaussNodes nodes = GaussNodes.OfOrder(Order);
        for (int i = 0; i < nodes.Weights.Length; i++)
        {
            double t = 0.5 * (1 + nodes.Abscissas[i]);
            double weight = 0.5 * nodes.Weights[i];

            // Inside: edge − edge (1 − t)²; outside: the distance from the edge grows as a power.
            yield return (edge * (1 - ((1 - t) * (1 - t))), weight * edge * 2 * (1 - t));
            yield return (edge + ((far - edge) * t * t * t), weight * (far - edge) * 3 * t * t);
        }
    }
}
