using System.Runtime.CompilerServices;
using Magrail.Numerics;

namespace Magrail;

/// <summary>The field of one placed body of any shape, at points given from the station's origin.</summary>
internal static class BodyField
{
    private const double FourPi = 4 * Math.PI;

    /// <summary>B = μ₀H + J, T.</summary>
    public static Vector3D FluxDensity(in BodySi body, Vector3D point)
    {
        Vector3D p = body.ToOwn(point - body.Center);
        Vector3D h = Own(body, p);
        return body.FromOwn(Inside(body, p) ? h + Polarization(body) : h);
    }

    /// <summary>μ₀H, T.</summary>
    public static Vector3D MagneticFieldTimesPermeability(in BodySi body, Vector3D point)
        => body.FromOwn(Own(body, body.ToOwn(point - body.Center)));

    /// <summary>Whether a point lies inside; a point on the surface does not.</summary>
    public static bool Contains(in BodySi body, Vector3D point) => Inside(body, body.ToOwn(point - body.Center));

    /// <summary>The unit vector of the magnetization, in the track's frame, for a positive remanence.</summary>
    public static Vector3D Direction(in BodySi body) => body.FromOwn(1 / body.Remanence * Polarization(body));

    /// <summary>B far away by dipoles, which keeps its relative accuracy as B falls off, T.</summary>
    /// <param name="body">The body.</param>
    /// <param name="point">The point, farther away than the body's own size.</param>
    /// <param name="digits">Decimal digits wanted.</param>
    public static Vector3D Far(in BodySi body, Vector3D point, double digits)
    {
        Vector3D p = body.ToOwn(point - body.Center);
        return body.FromOwn(body.Shape == BodyShape.Block ? BlockField.Far(body, p, digits) : FarRing(body, p, digits));
    }

    private static Vector3D Own(in BodySi body, Vector3D p)
        => body.Shape == BodyShape.Block ? BlockField.MagneticFieldTimesPermeability(body, p) : Ring(body, p);

    private static Vector3D Polarization(in BodySi body) => body.Magnetization switch
    {
        TrackAxis.Along => new(body.Remanence, 0, 0),
        TrackAxis.Across => new(0, body.Remanence, 0),
        _ => new(0, 0, body.Remanence),
    };

    private static bool Inside(in BodySi body, Vector3D p)
    {
        if (Math.Abs(p.X) >= body.HalfAlong || Math.Abs(p.Y) >= body.HalfAcross || Math.Abs(p.Z) >= body.HalfUp)
        {
            return false;
        }

        if (body.Shape == BodyShape.Block)
        {
            return true;
        }

        (double u, double v, _) = Cylindrical(body.Axis, p);
        double square = (u * u) + (v * v);
        return square < body.OuterRadius * body.OuterRadius
            && (body.InnerRadius == 0 || square > body.InnerRadius * body.InnerRadius);
    }

    /// <summary>The two coordinates across a ring's axis and the one along it.</summary>
    private static (double U, double V, double W) Cylindrical(TrackAxis axis, Vector3D p) => axis switch
    {
        TrackAxis.Along => (p.Y, p.Z, p.X),
        TrackAxis.Across => (p.X, p.Z, p.Y),
        _ => (p.X, p.Y, p.Z),
    };

    private static Vector3D Cartesian(TrackAxis axis, double u, double v, double w) => axis switch
    {
        TrackAxis.Along => new(w, u, v),
        TrackAxis.Across => new(u, w, v),
        _ => new(u, v, w),
    };

    /// <summary>The direction of magnetization in the ring's coordinates: 0 along u, 1 along v, 2 along the axis.</summary>
    private static int MagnetizedAlong(in BodySi body)
    {
        if (body.Magnetization == body.Axis)
        {
            return 2;
        }

        TrackAxis first = body.Axis == TrackAxis.Along ? TrackAxis.Across : TrackAxis.Along;
        return body.Magnetization == first ? 0 : 1;
    }

    private static Vector3D Ring(in BodySi body, Vector3D p)
    {
        double radius = body.Radius;
        if (p.Dot(p) > BlockField.FarDiagonals * BlockField.FarDiagonals * radius * radius)
        {
            return FarRing(body, p, BlockField.AllDigits);
        }

        (double u, double v, double w) = Cylindrical(body.Axis, p);
        double rho = Math.Sqrt((u * u) + (v * v));

        // So near the axis the squares lose their digits, and the field is that of the axis, whatever the direction.
        bool offAxis = rho > 1e-150;
        double cosine = offAxis ? u / rho : 1;
        double sine = offAxis ? v / rho : 0;
        bool bored = body.InnerRadius > 0;
        int along = MagnetizedAlong(body);
        if (along == 2)
        {
            // A point on either side of the ring counts as outside the magnet: that is inside the bore's cylinder.
            (double radial, double axial) = CylinderField.Axial(rho, w, body.OuterRadius, body.HalfLength, false);
            if (bored)
            {
                (double lessRadial, double lessAxial) = CylinderField.Axial(rho, w, body.InnerRadius, body.HalfLength, true);
                radial -= lessRadial;
                axial -= lessAxial;
            }

            axial -= Inside(body, p) ? 1 : 0;
            return body.Remanence * Cartesian(body.Axis, radial * cosine, radial * sine, axial);
        }

        (double outward, double around, double upward) = CylinderField.Diametral(rho, w, body.OuterRadius, body.HalfLength, false);
        if (bored)
        {
            (double lessOutward, double lessAround, double lessUpward) = CylinderField.Diametral(rho, w, body.InnerRadius, body.HalfLength, true);
            outward -= lessOutward;
            around -= lessAround;
            upward -= lessUpward;
        }

        // φ is counted from the direction of magnetization.
        (double cosPhi, double sinPhi) = along == 0 ? (cosine, sine) : (sine, -cosine);
        double inU = (outward * cosPhi * cosine) - (around * sinPhi * sine);
        double inV = (outward * cosPhi * sine) + (around * sinPhi * cosine);
        return body.Remanence * Cartesian(body.Axis, inU, inV, upward * cosPhi);
    }

    /// <summary>A ring by dipoles: Gauss-Legendre in height and in the square of the radius, equal steps of the angle.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static Vector3D FarRing(in BodySi body, Vector3D p, double digits)
    {
        (double u, double v, double w) = Cylindrical(body.Axis, p);
        double distance = p.Length;
        double perStep = digits * 2.302585092994046;
        double outer = body.OuterRadius;
        double inner = body.InnerRadius;
        double half = body.HalfLength;
        int steps = Math.Clamp((int)Math.Ceiling(perStep / Math.Log(distance / outer)), 4, 60);
        GaussNodes radii = GaussNodes.OfOrder(Math.Clamp((int)Math.Ceiling(perStep / (2 * Math.Log(distance / outer))), 1, 24));
        GaussNodes heights = GaussNodes.OfOrder(Math.Clamp((int)Math.Ceiling(perStep / (2 * Math.Log(2 * distance / half))), 1, 24));
        int along = MagnetizedAlong(body);
        var axis = new Vector3D(along == 0 ? 1 : 0, along == 1 ? 1 : 0, along == 2 ? 1 : 0);
        Vector3D sum = default;
        for (int k = 0; k < steps; k++)
        {
            (double sine, double cosine) = Math.SinCos(2 * Math.PI * (k + 0.3) / steps);
            for (int i = 0; i < radii.Weights.Length; i++)
            {
                double square = (0.5 * ((outer * outer) + (inner * inner))) + (0.5 * ((outer * outer) - (inner * inner)) * radii.Abscissas[i]);
                double r = Math.Sqrt(square);
                for (int j = 0; j < heights.Weights.Length; j++)
                {
                    var d = new Vector3D(u - (r * cosine), v - (r * sine), w - (half * heights.Abscissas[j]));
                    double d2 = d.Dot(d);
                    double f = radii.Weights[i] * heights.Weights[j] / (d2 * Math.Sqrt(d2));
                    sum += f * ((3 * d.Dot(axis) / d2 * d) - axis);
                }
            }
        }

        // The weights add up to 4: dV = ½ d(r²) dφ dz.
        double volume = Math.PI * ((outer * outer) - (inner * inner)) * 2 * half;
        double scale = body.Remanence * volume / (FourPi * 4 * steps);
        return scale * Cartesian(body.Axis, sum.X, sum.Y, sum.Z);
    }
}
