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

    /// <summary>
    /// Whether the flux through a coil of this axis is the same to both sides of the path, so that nothing draws the coil off its middle: every body is
    /// magnetized along the coil's axis and has its mirror image.
    /// </summary>
    /// <param name="coilAxis">The axis of the coil.</param>
    /// <param name="side">The direction of the two sides: across or up.</param>
    public bool IsMirrored(TrackAxis coilAxis, TrackAxis side)
    {
        foreach (ref readonly BodySi body in bodies.AsSpan())
        {
            if (body.Magnetization != coilAxis || (body.Roll != 0 && coilAxis != TrackAxis.Along))
            {
                return false;
            }

            Vector3D center = side == TrackAxis.Across ? body.Center with { Y = -body.Center.Y } : body.Center with { Z = -body.Center.Z };
            bool found = false;
            foreach (ref readonly BodySi other in bodies.AsSpan())
            {
                double turn = (body.Roll + other.Roll) / Math.PI;
                found |= (other.Center - center).Length < 1e-9 * Radius
                    && Math.Abs(turn - Math.Round(turn)) < 1e-9
                    && other with { Center = default, Roll = 0 } == body with { Center = default, Roll = 0 };
            }

            if (!found)
            {
                return false;
            }
        }

        return true;
    }

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
