namespace Magrail;

/// <summary>A station as the field kernels see it. Two stations of the same geometry and remanences are equal.</summary>
internal sealed class StationSi : IEquatable<StationSi>
{
    private readonly BodySi[] bodies;
    private readonly int hash;

    public StationSi(params BodySi[] bodies)
    {
        this.bodies = bodies;
        var code = default(HashCode);
        double reach = 0;
        foreach (BodySi body in bodies)
        {
            code.Add(body);
            reach = Math.Max(reach, body.Center.Length + body.Radius);
        }

        hash = code.ToHashCode();
        Radius = reach;
    }

    /// <summary>The bodies.</summary>
    public ReadOnlySpan<BodySi> Bodies => bodies;

    /// <summary>The radius about the station's origin that holds every body, m.</summary>
    public double Radius { get; }

    /// <summary>The distance between iron plates whose images are among the bodies, m; zero where there is none.</summary>
    public double PlateDistance { get; init; }

    /// <summary>The remanence to which <see cref="PerTesla"/> refers: the first body's, T, above zero.</summary>
    public double Remanence => Math.Abs(bodies[0].Remanence);

    /// <summary>The same station with remanences divided by <see cref="Remanence"/>: what a coupling curve depends on.</summary>
    public StationSi PerTesla()
    {
        double unit = Remanence;
        return new(Array.ConvertAll(bodies, body => body with { Remanence = body.Remanence / unit })) { PlateDistance = PlateDistance };
    }

    /// <summary>The same station seen by a coil that is off the path by so much.</summary>
    public StationSi SeenFrom(double across, double up)
        => across == 0 && up == 0
            ? this
            : new(Array.ConvertAll(bodies, body => body with { Center = body.Center - new Vector3D(0, across, up) })) { PlateDistance = PlateDistance };

    /// <summary>B of the whole station, T.</summary>
    public Vector3D FluxDensity(Vector3D point)
    {
        Vector3D sum = default;
        foreach (ref readonly BodySi body in bodies.AsSpan())
        {
            sum += BodyField.FluxDensity(body, point);
        }

        return sum;
    }

    /// <summary>μ₀H of the whole station, T.</summary>
    public Vector3D MagneticFieldTimesPermeability(Vector3D point)
    {
        Vector3D sum = default;
        foreach (ref readonly BodySi body in bodies.AsSpan())
        {
            sum += BodyField.MagneticFieldTimesPermeability(body, point);
        }

        return sum;
    }

    public bool Equals(StationSi? other)
        => other is not null && hash == other.hash && PlateDistance.Equals(other.PlateDistance) && bodies.AsSpan().SequenceEqual(other.bodies);

    public override bool Equals(object? obj) => Equals(obj as StationSi);

    public override int GetHashCode() => hash;
}
