using System.Globalization;

namespace Magrail.Charts;

/// <summary>A point or a direction in the track's frame, m.</summary>
internal readonly record struct SpacePoint(double X, double Y, double Z)
{
    public double Size => Math.Sqrt(Dot(this));

    public string InMillimeters
        => string.Create(CultureInfo.InvariantCulture, $"({Show.Number(1e3 * X)}, {Show.Number(1e3 * Y)}, {Show.Number(1e3 * Z)}) mm");

    public static SpacePoint operator +(SpacePoint a, SpacePoint b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static SpacePoint operator -(SpacePoint a, SpacePoint b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    public static SpacePoint operator *(double s, SpacePoint a) => new(s * a.X, s * a.Y, s * a.Z);

    public double Dot(SpacePoint b) => (X * b.X) + (Y * b.Y) + (Z * b.Z);

    public SpacePoint Cross(SpacePoint b) => new((Y * b.Z) - (Z * b.Y), (Z * b.X) - (X * b.Z), (X * b.Y) - (Y * b.X));

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"({X:0.###}, {Y:0.###}, {Z:0.###})");
}
