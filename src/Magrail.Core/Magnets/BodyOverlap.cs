namespace Magrail;

/// <summary>Whether two placed bodies share space. Bodies that touch do not.</summary>
internal static class BodyOverlap
{
    /// <summary>Bodies may enter each other by this fraction of their size: round-off of the description.</summary>
    private const double Slack = 1e-9;

    /// <summary>Whether two bodies share space.</summary>
    public static bool Between(in BodySi a, in BodySi b)
    {
        double slack = Slack * (a.Radius + b.Radius);
        Vector3D apart = b.Center - a.Center;
        if (apart.Length >= a.Radius + b.Radius - slack)
        {
            return false;
        }

        if (a.Shape == BodyShape.Block && b.Shape == BodyShape.Block)
        {
            return Math.Abs(apart.X) < a.HalfAlong + b.HalfAlong - slack
                && RectanglesMeet(a.HalfAcross, a.HalfUp, a.Roll, b.HalfAcross, b.HalfUp, b.Roll, apart.Y, apart.Z, slack);
        }

        if (a.Shape == BodyShape.Ring && b.Shape == BodyShape.Ring)
        {
            return RingsMeet(a, b, slack);
        }

        return a.Shape == BodyShape.Ring ? RingMeetsBlock(a, b, slack) : RingMeetsBlock(b, a, slack);
    }

    /// <summary>Two rectangles in a plane, turned by their angles, by separating axes.</summary>
    private static bool RectanglesMeet(
        double a1, double a2, double angleA, double b1, double b2, double angleB, double dy, double dz, double slack)
    {
        (double sine, double cosine) = Math.SinCos(angleB - angleA);
        double c = Math.Abs(cosine);
        double s = Math.Abs(sine);

        // The second seen from the first, and the first from the second.
        (double inA1, double inA2) = Turned(dy, dz, angleA);
        (double inB1, double inB2) = Turned(dy, dz, angleB);
        return Math.Abs(inA1) < a1 + (c * b1) + (s * b2) - slack
            && Math.Abs(inA2) < a2 + (s * b1) + (c * b2) - slack
            && Math.Abs(inB1) < b1 + (c * a1) + (s * a2) - slack
            && Math.Abs(inB2) < b2 + (s * a1) + (c * a2) - slack;
    }

    private static (double Y, double Z) Turned(double y, double z, double angle)
    {
        (double sine, double cosine) = Math.SinCos(angle);
        return ((cosine * y) + (sine * z), (cosine * z) - (sine * y));
    }

    private static bool RingsMeet(in BodySi a, in BodySi b, double slack)
    {
        Vector3D axisA = AxisOf(a);
        Vector3D axisB = AxisOf(b);
        Vector3D apart = b.Center - a.Center;
        if (Math.Abs(axisA.Dot(axisB)) > 1 - 1e-12)
        {
            double along = apart.Dot(axisA);
            double sideways = Math.Sqrt(Math.Max(0, apart.Dot(apart) - (along * along)));
            return Math.Abs(along) < a.HalfLength + b.HalfLength - slack
                && sideways < a.OuterRadius + b.OuterRadius - slack
                && sideways + a.OuterRadius > b.InnerRadius + slack
                && sideways + b.OuterRadius > a.InnerRadius + slack;
        }

        return AnyPointInside(a, b) || AnyPointInside(b, a);
    }

    private static Vector3D AxisOf(in BodySi body) => body.FromOwn(body.Axis switch
    {
        TrackAxis.Along => new(1, 0, 0),
        TrackAxis.Across => new(0, 1, 0),
        _ => new(0, 0, 1),
    });

    private static bool RingMeetsBlock(in BodySi ring, in BodySi block, double slack)
    {
        // In the frame of the block; the ring's axis stays an axis of it if the roll is a multiple of a quarter turn or the ring's axis is x.
        Vector3D center = block.ToOwn(ring.Center - block.Center);
        Vector3D axis = block.ToOwn(AxisOf(ring));
        var half = new Vector3D(block.HalfAlong, block.HalfAcross, block.HalfUp);
        (double along, double halfAlong, double u, double halfU, double v, double halfV) = (Math.Abs(axis.X), Math.Abs(axis.Y), Math.Abs(axis.Z)) switch
        {
            ( > 1 - 1e-12, _, _) => (center.X, half.X, center.Y, half.Y, center.Z, half.Z),
            (_, > 1 - 1e-12, _) => (center.Y, half.Y, center.X, half.X, center.Z, half.Z),
            (_, _, > 1 - 1e-12) => (center.Z, half.Z, center.X, half.X, center.Y, half.Y),
            _ => (double.NaN, 0, 0, 0, 0, 0),
        };
        if (double.IsNaN(along))
        {
            return AnyPointInside(ring, block) || AnyPointInside(block, ring);
        }

        if (Math.Abs(along) >= halfAlong + ring.HalfLength - slack)
        {
            return false;
        }

        double nearU = Math.Max(0, Math.Abs(u) - halfU);
        double nearV = Math.Max(0, Math.Abs(v) - halfV);
        double farU = Math.Abs(u) + halfU;
        double farV = Math.Abs(v) + halfV;
        return Math.Sqrt((nearU * nearU) + (nearV * nearV)) < ring.OuterRadius - slack
            && Math.Sqrt((farU * farU) + (farV * farV)) > ring.InnerRadius + slack;
    }

    /// <summary>Whether any of a body's lattice of points lies well inside the other: for rare askew pairs, good to a tenth of the size.</summary>
    private static bool AnyPointInside(in BodySi lattice, in BodySi other)
    {
        const int Steps = 10;
        for (int i = 0; i <= Steps; i++)
        {
            for (int j = 0; j <= Steps; j++)
            {
                for (int k = 0; k <= Steps; k++)
                {
                    Vector3D own = new(
                        lattice.HalfAlong * Place(i), lattice.HalfAcross * Place(j), lattice.HalfUp * Place(k));
                    Vector3D point = lattice.Center + lattice.FromOwn(own);
                    if (BodyField.Contains(lattice, point) && BodyField.Contains(other, point))
                    {
                        return true;
                    }
                }
            }
        }

        return false;

        static double Place(int i) => (1 - 1e-6) * ((2.0 * i / Steps) - 1);
    }
}
