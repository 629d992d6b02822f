using Magrail.Numerics;

namespace Magrail;

/// <summary>
/// A winding as weighted pieces of wire: the force on it, per ampere and averaged to one turn, is Σ dl × B over them.
/// </summary>
/// <remarks>For whatever has no closed form: any coil in any field. Gauss-Legendre along legs and arcs, over depth and axial position.</remarks>
internal sealed class WindingElements
{
    private readonly Vector3D[] places;
    private readonly Vector3D[] lengths;

    private WindingElements(Vector3D[] places, Vector3D[] lengths)
    {
        this.places = places;
        this.lengths = lengths;
    }

    /// <summary>How many pieces there are.</summary>
    public int Count => places.Length;

    /// <summary>A winding near magnets.</summary>
    /// <param name="coil">The coil; its blocks' turns weigh their parts.</param>
    /// <param name="clearance">The least distance between winding and magnets, m.</param>
    /// <param name="digits">Decimal digits wanted.</param>
    public static WindingElements Near(in CoilSi coil, double clearance, double digits)
        => Make(
            coil,
            (half, pieces) => Rule(half / pieces, clearance, digits),
            half => Math.Max(1, (int)Math.Ceiling(half / (3 * clearance))),
            (int)Math.Ceiling(3 + (0.4 * digits)));

    /// <summary>A winding far from magnets.</summary>
    /// <param name="coil">The coil.</param>
    /// <param name="distance">The least distance to any magnet's sphere, m.</param>
    /// <param name="digits">Decimal digits wanted, amplified by what cancels.</param>
    /// <param name="component">The component of the force that is asked for: pieces that do not bear on it are left out.</param>
    /// <param name="mirrored">
    /// Whether the magnets and what charges their faces bear are their own mirror image in z = 0, so that the upper half stands for both: the
    /// force along and across is the same on either.
    /// </param>
    public static WindingElements Far(in CoilSi coil, double distance, double digits, TrackAxis component, bool mirrored = false)
        => Make(
            coil,
            (half, _) => FarRule(half, distance, digits),
            _ => 1,
            (int)Math.Ceiling(3 + (0.4 * digits)),
            component,
            mirrored && component != TrackAxis.Up);

    /// <summary>The force per ampere and turn, N/A.</summary>
    /// <param name="station">The station.</param>
    /// <param name="displacement">The coil's middle from the station's origin, m.</param>
    public Vector3D Force(StationSi station, Vector3D displacement)
    {
        Vector3D sum = default;
        for (int i = 0; i < places.Length; i++)
        {
            sum += Cross(lengths[i], station.FluxDensity(places[i] + displacement));
        }

        return sum;
    }

    /// <summary>The same with the field of dipoles: keeps its relative accuracy far away.</summary>
    public Vector3D ForceByDipoles(StationSi station, Vector3D displacement, double digits)
    {
        Vector3D sum = default;
        for (int i = 0; i < places.Length; i++)
        {
            Vector3D b = default;
            foreach (ref readonly BodySi body in station.Bodies)
            {
                b += BodyField.Far(body, places[i] + displacement, digits);
            }

            sum += Cross(lengths[i], b);
        }

        return sum;
    }

    /// <summary>B of the winding carrying one ampere in each of its turns, by Biot and Savart's law, times the turns given, T.</summary>
    /// <param name="point">Where, from the coil's middle, m.</param>
    /// <param name="turns">Number of turns.</param>
    public Vector3D FluxDensity(Vector3D point, double turns)
    {
        Vector3D sum = default;
        for (int i = 0; i < places.Length; i++)
        {
            Vector3D r = point - places[i];
            double r2 = r.Dot(r);
            sum += 1 / (r2 * Math.Sqrt(r2)) * Cross(lengths[i], r);
        }

        return turns * Sources.PhysicalConstants.VacuumPermeability / (4 * Math.PI) * sum;
    }

    private static Vector3D Cross(Vector3D a, Vector3D b)
        => new((a.Y * b.Z) - (a.Z * b.Y), (a.Z * b.X) - (a.X * b.Z), (a.X * b.Y) - (a.Y * b.X));

    /// <summary>A rule for a stretch of half length h at a distance: singularities at ±i distance/h.</summary>
    private static GaussNodes Rule(double half, double clearance, double digits)
    {
        double s = clearance / half;
        double rho = Math.Min(8, s + Math.Sqrt(1 + (s * s)));
        return GaussNodes.OfOrder(Math.Clamp((int)Math.Ceiling(1 + (digits * 1.151 / Math.Log(rho))), 2, 60));
    }

    private static GaussNodes FarRule(double half, double distance, double digits)
        => GaussNodes.OfOrder(Math.Clamp((int)Math.Ceiling(digits * 1.151 / Math.Log(2 * distance / half)), 2, 24));

    private static double Middle(double from, double to, double s) => (0.5 * (from + to)) + (0.5 * (to - from) * s);

    /// <param name="coil">The coil.</param>
    /// <param name="rule">The rule for a stretch of a half length in a number of pieces.</param>
    /// <param name="pieces">In how many pieces to take a stretch of a half length.</param>
    /// <param name="turning">Nodes that an arc needs for its turning alone, in one piece.</param>
    /// <param name="component">The component of the force that is asked for.</param>
    /// <param name="mirrored">Whether the upper half stands for both.</param>
    private static WindingElements Make(
        in CoilSi coil,
        Func<double, int, GaussNodes> rule,
        Func<double, int> pieces,
        int turning,
        TrackAxis? component = null,
        bool mirrored = false)
    {
        var at = new List<Vector3D>();
        var along = new List<Vector3D>();
        double turns = coil.Turns;
        double legX = coil.HalfWidth - coil.Corner;
        double legZ = coil.HalfHeight - coil.Corner;
        bool turned = coil.Axis == TrackAxis.Along;
        void Add(double x, double y, double z, double dx, double dz, double share)
        {
            if (mirrored && z < 0)
            {
                return;
            }

            if (mirrored && z > 0)
            {
                share *= 2;
            }

            // In the coil's own frame the axis is y; a coil along the track is turned by a quarter about z.
            Vector3D length = turned ? new(0, -share * dx, share * dz) : new(share * dx, 0, share * dz);
            bool bears = component switch
            {
                TrackAxis.Along => length.Y != 0 || length.Z != 0,
                TrackAxis.Across => length.X != 0 || length.Z != 0,
                TrackAxis.Up => length.X != 0 || length.Y != 0,
                _ => true,
            };
            if (bears)
            {
                at.Add(turned ? new(y, -x, z) : new(x, y, z));
                along.Add(length);
            }
        }

        foreach (WindingBlockSi block in (ReadOnlySpan<WindingBlockSi>)[coil.Full, coil.Last])
        {
            if (block.Turns == 0)
            {
                continue;
            }

            GaussNodes depths = rule(0.5 * (block.OuterDepth - block.InnerDepth), 1);
            GaussNodes heights = rule(0.5 * (block.AxialTo - block.AxialFrom), 1);
            double outer = coil.Corner + block.OuterDepth;
            int arcPieces = pieces(0.25 * Math.PI * outer);
            GaussNodes arcs = rule(0.25 * Math.PI * outer, arcPieces);
            if (arcPieces == 1 && arcs.Weights.Length < turning)
            {
                arcs = GaussNodes.OfOrder(turning);
            }

            for (int i = 0; i < depths.Weights.Length; i++)
            {
                double depth = Middle(block.InnerDepth, block.OuterDepth, depths.Abscissas[i]);
                double r = coil.Corner + depth;
                for (int j = 0; j < heights.Weights.Length; j++)
                {
                    double y = Middle(block.AxialFrom, block.AxialTo, heights.Abscissas[j]);
                    double share = 0.25 * block.Turns / turns * depths.Weights[i] * heights.Weights[j];

                    // Right-handed about +y: down at +x, up at -x, toward +x at the top.
                    foreach ((double leg, double offset, bool upright) in (ReadOnlySpan<(double, double, bool)>)[(legZ, coil.HalfWidth + depth, true), (legX, coil.HalfHeight + depth, false)])
                    {
                        if (leg <= 0)
                        {
                            continue;
                        }

                        int parts = pieces(leg);
                        GaussNodes legs = rule(leg, parts);
                        for (int part = 0; part < parts; part++)
                        {
                            for (int k = 0; k < legs.Weights.Length; k++)
                            {
                                double place = leg * ((((2 * part) + 1 + legs.Abscissas[k]) / parts) - 1);
                                double length = leg / parts * legs.Weights[k];
                                foreach (int side in (ReadOnlySpan<int>)[-1, 1])
                                {
                                    if (upright)
                                    {
                                        Add(side * offset, y, place, 0, -side * length, share);
                                    }
                                    else
                                    {
                                        Add(place, y, side * offset, side * length, 0, share);
                                    }
                                }
                            }
                        }
                    }

                    for (int part = 0; part < arcPieces; part++)
                    {
                        for (int k = 0; k < arcs.Weights.Length; k++)
                        {
                            double phi = 0.25 * Math.PI * (((2 * part) + 1 + arcs.Abscissas[k]) / arcPieces);
                            double length = 0.25 * Math.PI / arcPieces * arcs.Weights[k] * r;
                            (double sine, double cosine) = Math.SinCos(phi);
                            foreach (int side in (ReadOnlySpan<int>)[-1, 1])
                            {
                                foreach (int up in (ReadOnlySpan<int>)[-1, 1])
                                {
                                    Add(
                                        side * (legX + (r * cosine)),
                                        y,
                                        up * (legZ + (r * sine)),
                                        up * length * sine,
                                        -side * length * cosine,
                                        share);
                                }
                            }
                        }
                    }
                }
            }
        }

        return new([.. at], [.. along]);
    }
}
