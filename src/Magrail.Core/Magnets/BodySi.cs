namespace Magrail;

/// <summary>The shapes of magnets that the field kernels know.</summary>
internal enum BodyShape
{
    /// <summary>A rectangular block.</summary>
    Block,

    /// <summary>A cylinder, solid where its inner radius is zero.</summary>
    Ring,
}

/// <summary>A placed, uniformly magnetized body as the field kernels see it: plain numbers in SI units.</summary>
/// <param name="HalfAlong">Half the size along x, m, before <see cref="Roll"/>.</param>
/// <param name="HalfAcross">Half the size along y, m, before <see cref="Roll"/>.</param>
/// <param name="HalfUp">Half the size along z, m, before <see cref="Roll"/>.</param>
/// <param name="Center">The middle, m, relative to the station's origin.</param>
/// <param name="Magnetization">The axis of magnetization, before <see cref="Roll"/>.</param>
/// <param name="Remanence">J = μ₀M along the positive axis, T; negative when magnetized the other way.</param>
internal readonly record struct BodySi(
    double HalfAlong, double HalfAcross, double HalfUp, Vector3D Center, TrackAxis Magnetization, double Remanence)
{
    /// <summary>The shape.</summary>
    public BodyShape Shape { get; init; }

    /// <summary>The axis of a ring.</summary>
    public TrackAxis Axis { get; init; }

    /// <summary>The bore's radius of a ring, m.</summary>
    public double InnerRadius { get; init; }

    /// <summary>The body is turned about its own line along x by this angle, rad, from y toward z.</summary>
    public double Roll { get; init; }

    /// <summary>The outer radius of a ring, m.</summary>
    public double OuterRadius => Axis == TrackAxis.Along ? HalfAcross : HalfAlong;

    /// <summary>Half the length of a ring along its axis, m.</summary>
    public double HalfLength => Axis switch
    {
        TrackAxis.Along => HalfAlong,
        TrackAxis.Across => HalfAcross,
        _ => HalfUp,
    };

    /// <summary>The radius of a sphere about the middle that holds the body, m.</summary>
    public double Radius => Shape == BodyShape.Block
        ? new Vector3D(HalfAlong, HalfAcross, HalfUp).Length
        : Math.Sqrt((OuterRadius * OuterRadius) + (HalfLength * HalfLength));

    /// <summary>A vector of the track's frame in the body's own frame.</summary>
    public Vector3D ToOwn(Vector3D v)
    {
        if (Roll == 0)
        {
            return v;
        }

        (double sine, double cosine) = Math.SinCos(Roll);
        return new(v.X, (cosine * v.Y) + (sine * v.Z), (cosine * v.Z) - (sine * v.Y));
    }

    /// <summary>A vector of the body's own frame in the track's.</summary>
    public Vector3D FromOwn(Vector3D v)
    {
        if (Roll == 0)
        {
            return v;
        }

        (double sine, double cosine) = Math.SinCos(Roll);
        return new(v.X, (cosine * v.Y) - (sine * v.Z), (cosine * v.Z) + (sine * v.Y));
    }
}
