namespace Magrail;

/// <summary>A vector in the track's frame (x along, y across, z up), SI units.</summary>
internal readonly record struct Vector3D(double X, double Y, double Z)
{
    public static Vector3D operator +(Vector3D a, Vector3D b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static Vector3D operator -(Vector3D a, Vector3D b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    public static Vector3D operator *(double s, Vector3D a) => new(s * a.X, s * a.Y, s * a.Z);

    public double Dot(Vector3D b) => (X * b.X) + (Y * b.Y) + (Z * b.Z);

    public double Length => Math.Sqrt(Dot(this));
}
