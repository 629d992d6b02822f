namespace Magrail;

/// <summary>A placed, uniformly magnetized block as the field kernels see it: plain numbers in SI units.</summary>
/// <param name="HalfAlong">Half the size along x, m.</param>
/// <param name="HalfAcross">Half the size along y, m.</param>
/// <param name="HalfUp">Half the size along z, m.</param>
/// <param name="Center">The middle, m, relative to the station's origin.</param>
/// <param name="Magnetization">The axis of magnetization.</param>
/// <param name="Remanence">J = μ₀M along the positive axis, T; negative when magnetized the other way.</param>
internal readonly record struct BodySi(
    double HalfAlong, double HalfAcross, double HalfUp, Vector3D Center, TrackAxis Magnetization, double Remanence)
{
    /// <summary>Half the space diagonal, m.</summary>
    public double Radius => new Vector3D(HalfAlong, HalfAcross, HalfUp).Length;
}
