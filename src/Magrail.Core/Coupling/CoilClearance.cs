using UnitsNet;

namespace Magrail;

/// <summary>How near a coil comes to the magnets as it runs along the track.</summary>
public static class CoilClearance
{
    /// <summary>
    /// The least distance between the winding and any magnet, seen along the track: what a coil that keeps to the path leaves free.
    /// Negative where the coil would run into a magnet, by how deep it would.
    /// </summary>
    /// <remarks>
    /// The winding alone counts: flanges and guides need room of their own. A flat coil sweeps a rectangle, its length by its outer height; a coil with
    /// its axis along the track sweeps the ring between its core and its outside, and a magnet may stand inside the core.
    /// Discs across the track count with the square that holds them.
    /// </remarks>
    /// <param name="coil">The coil.</param>
    /// <param name="track">The track.</param>
    /// <param name="across">How far the coil's middle is off the path, across; on it by default.</param>
    /// <param name="up">How far the coil's middle is off the path, upward; on it by default.</param>
    /// <exception cref="ArgumentNullException">The coil or the track is missing.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An offset is not finite.</exception>
    public static Length Between(Coil coil, Track track, Length? across = null, Length? up = null)
    {
        ArgumentNullException.ThrowIfNull(coil);
        ArgumentNullException.ThrowIfNull(track);
        double y = Require.Finite(across ?? Length.Zero, "the coil has a place", nameof(across)).Meters;
        double z = Require.Finite(up ?? Length.Zero, "the coil has a place", nameof(up)).Meters;
        CoilSi winding = coil.ToSi();
        double least = double.PositiveInfinity;
        foreach (MagnetStation station in track.Stations.Distinct())
        {
            foreach (BodySi body in station.Bodies())
            {
                least = Math.Min(least, Between(winding, body with { Center = body.Center - new Vector3D(0, y, z) }));
            }
        }

        return Length.FromMeters(least);
    }

    /// <summary>The least distance between the swept winding and one body, m.</summary>
    internal static double Between(in CoilSi coil, in BodySi body)
    {
        double depth = 0;
        double axial = 0;
        foreach (WindingBlockSi block in (ReadOnlySpan<WindingBlockSi>)[coil.Full, coil.Last])
        {
            if (block.Turns > 0)
            {
                depth = Math.Max(depth, block.OuterDepth);
                axial = Math.Max(axial, Math.Max(Math.Abs(block.AxialFrom), Math.Abs(block.AxialTo)));
            }
        }

        if (coil.Axis == TrackAxis.Across)
        {
            return ToRounded(body, axial, coil.HalfHeight + depth, 0);
        }

        // Outside the winding, or inside its core.
        double coreY = coil.HalfWidth - coil.Corner;
        double coreZ = coil.HalfHeight - coil.Corner;
        return Math.Max(ToRounded(body, coreY, coreZ, coil.Corner + depth), InsideRounded(body, coreY, coreZ, coil.Corner));
    }

    /// <summary>
    /// The distance of a body's section from a rectangle |y| ≤ h, |z| ≤ v with its outline moved outward by r; negative where they overlap.
    /// </summary>
    private static double ToRounded(in BodySi body, double h, double v, double r)
    {
        if (body.Shape == BodyShape.Ring && body.Axis == TrackAxis.Along)
        {
            // Outside the ring's rim, or within its bore.
            double dy = Math.Abs(body.Center.Y);
            double dz = Math.Abs(body.Center.Z);
            double near = Hypotenuse(Math.Max(0, dy - h), Math.Max(0, dz - v));
            double far = Hypotenuse(dy + h, dz + v);
            return Math.Max(near - body.OuterRadius, body.InnerRadius - far) - r;
        }

        // Two rectangles, one turned: the greatest gap along any axis of either, or the distance of their corners.
        Span<(double Y, double Z)> corners = stackalloc (double, double)[4];
        Corners(body, corners);
        double outside = double.NegativeInfinity;
        double nearest = double.PositiveInfinity;
        double y0 = double.PositiveInfinity;
        double y1 = double.NegativeInfinity;
        double z0 = double.PositiveInfinity;
        double z1 = double.NegativeInfinity;
        foreach ((double y, double z) in corners)
        {
            nearest = Math.Min(nearest, Hypotenuse(Math.Max(0, Math.Abs(y) - h), Math.Max(0, Math.Abs(z) - v)));
            (y0, y1) = (Math.Min(y0, y), Math.Max(y1, y));
            (z0, z1) = (Math.Min(z0, z), Math.Max(z1, z));
        }

        outside = Math.Max(outside, Math.Max(Math.Max(y0 - h, -h - y1), Math.Max(z0 - v, -v - z1)));
        foreach (int i in (ReadOnlySpan<int>)[-1, 1])
        {
            foreach (int j in (ReadOnlySpan<int>)[-1, 1])
            {
                Vector3D p = body.ToOwn(new Vector3D(0, i * h, j * v) - (body.Center with { X = 0 }));
                nearest = Math.Min(nearest, Hypotenuse(Math.Max(0, Math.Abs(p.Y) - body.HalfAcross), Math.Max(0, Math.Abs(p.Z) - body.HalfUp)));
            }
        }

        // The first rectangle seen along the axes of the second.
        (double sine, double cosine) = Math.SinCos(body.Roll);
        double spanY = (Math.Abs(cosine) * h) + (Math.Abs(sine) * v);
        double spanZ = (Math.Abs(sine) * h) + (Math.Abs(cosine) * v);
        Vector3D middle = body.ToOwn(body.Center with { X = 0 });
        outside = Math.Max(outside, Math.Max(Math.Abs(middle.Y) - body.HalfAcross - spanY, Math.Abs(middle.Z) - body.HalfUp - spanZ));
        return (outside > 0 ? Math.Max(outside, nearest) : outside) - r;
    }

    /// <summary>How far a body's section stays inside the rounded rectangle; negative where it does not.</summary>
    private static double InsideRounded(in BodySi body, double h, double v, double r)
    {
        double Depth(double y, double z)
        {
            double out1 = Math.Abs(y) - h;
            double out2 = Math.Abs(z) - v;
            return r - (out1 > 0 || out2 > 0 ? Hypotenuse(Math.Max(0, out1), Math.Max(0, out2)) : Math.Max(out1, out2));
        }

        if (body.Shape == BodyShape.Ring && body.Axis == TrackAxis.Along)
        {
            return Depth(body.Center.Y, body.Center.Z) - body.OuterRadius;
        }

        Span<(double Y, double Z)> corners = stackalloc (double, double)[4];
        Corners(body, corners);
        double least = double.PositiveInfinity;
        foreach ((double y, double z) in corners)
        {
            least = Math.Min(least, Depth(y, z));
        }

        return least;
    }

    private static void Corners(in BodySi body, Span<(double Y, double Z)> corners)
    {
        int count = 0;
        foreach (int i in (ReadOnlySpan<int>)[-1, 1])
        {
            foreach (int j in (ReadOnlySpan<int>)[-1, 1])
            {
                Vector3D p = body.Center + body.FromOwn(new(0, i * body.HalfAcross, j * body.HalfUp));
                corners[count++] = (p.Y, p.Z);
            }
        }
    }

    private static double Hypotenuse(double a, double b) => Math.Sqrt((a * a) + (b * b));
}
