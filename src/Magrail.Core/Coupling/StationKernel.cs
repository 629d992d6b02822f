namespace Magrail;

/// <summary>How a function of the displacement behaves under a change of its sign.</summary>
internal enum Parity
{
    /// <summary>Neither way.</summary>
    None,

    /// <summary>f(-t) = f(t).</summary>
    Even,

    /// <summary>f(-t) = -f(t).</summary>
    Odd,
}

/// <summary>
/// One part of the force per ampere of a coil over a station, by the most direct formula that holds for it: either a function f
/// of the displacement itself, or one edge function E with K(d) = E(d + half) - E(d - half), d measured from the center.
/// </summary>
/// <param name="Value">f(t, digits) or E(t, digits), m per turn and tesla.</param>
/// <param name="Center">x of the bodies' middle, m.</param>
/// <param name="Half">Half the length of the bodies, m; zero for a function of the displacement itself.</param>
/// <param name="Parity">How the function behaves under a change of sign.</param>
/// <param name="Costly">Whether one value takes so long that its samples are shared among threads.</param>
internal sealed record StationKernel(Func<double, double, double> Value, double Center, double Half, Parity Parity, bool Costly)
{
    /// <summary>Whether the function is an edge function.</summary>
    public bool IsEdge => Half > 0;

    /// <summary>The parts of the force of a coil over a station.</summary>
    /// <param name="coil">The coil; one turn.</param>
    /// <param name="station">The station, already moved against the coil sideways; remanences in T.</param>
    /// <param name="component">Which component of the force.</param>
    public static List<StationKernel> For(CoilSi coil, StationSi station, TrackAxis component)
    {
        var kernels = new List<StationKernel>();
        var rest = new List<BodySi>();
        var flatBlocks = new List<BodySi>();
        var flatDiscs = new List<BodySi>();
        var coaxial = new List<BodySi>();
        bool round = coil.HalfWidth == coil.Corner && coil.HalfHeight == coil.Corner;
        foreach (BodySi body in station.Bodies)
        {
            bool ring = body.Shape == BodyShape.Ring;
            List<BodySi> kind = (component, coil.Axis, body.Magnetization) switch
            {
                (_, TrackAxis.Across, TrackAxis.Across) when !ring && body.Roll == 0 => flatBlocks,
                (TrackAxis.Along, TrackAxis.Across, TrackAxis.Across) when ring && body.Axis == TrackAxis.Across && body.Roll == 0 => flatDiscs,
                (TrackAxis.Along, TrackAxis.Along, TrackAxis.Along) when !ring => coaxial,
                (TrackAxis.Along, TrackAxis.Along, TrackAxis.Along) when round && body.Axis == TrackAxis.Along && body.Center is { Y: 0, Z: 0 } => coaxial,
                _ => rest,
            };
            kind.Add(body);
        }

        bool level = Symmetric(coil.Full) && Symmetric(coil.Last);
        if (component == TrackAxis.Up && flatBlocks.Count > 0)
        {
            // The force upward is the force along of a coil and a station with x and z exchanged.
            CoilSi turned = coil with { HalfWidth = coil.HalfHeight, HalfHeight = coil.HalfWidth };
            BodySi[] bodies = [.. flatBlocks.Select(Exchanged)];
            kernels.Add(new((d, digits) => Upward(turned, bodies, d, digits), 0, 0, Parity.None, true));
        }
        else
        {
            foreach (IGrouping<(double X, double HalfAlong), BodySi> group in flatBlocks.GroupBy(body => (body.Center.X, body.HalfAlong)))
            {
                BodySi[] bodies = [.. group];
                (double x, double half) = group.Key;
                kernels.Add(component == TrackAxis.Along
                    ? new((t, digits) => FlatCoilIntegral.Edge(coil, bodies, t, digits), x, half, Parity.Even, true)
                    : new((t, digits) => FlatCoilIntegral.EdgeAcross(coil, bodies, t, digits), x, half, Parity.Odd, true));
            }
        }

        if (flatDiscs.Count > 0)
        {
            _ = Clearance(coil, flatDiscs);
        }

        foreach (IGrouping<double, BodySi> group in flatDiscs.GroupBy(body => body.Center.X))
        {
            (BodySi Body, int Count)[] bodies = Alike(group, body => level ? body with { Center = body.Center with { X = 0, Y = Math.Abs(body.Center.Y) } } : body with { Center = body.Center with { X = 0 } });
            double Value(double d, double digits)
            {
                double sum = 0;
                foreach ((BodySi body, int count) in bodies)
                {
                    sum += count * FlatCoilOverDiscs.PerTurn(coil, body, d, digits);
                }

                return sum;
            }

            kernels.Add(new(Value, group.Key, 0, Parity.Odd, true));
        }

        foreach (IGrouping<(double X, double HalfAlong), BodySi> group in coaxial.GroupBy(body => (body.Center.X, body.HalfAlong)))
        {
            // A round coil sees bodies alike that differ by a turn about its axis.
            (BodySi Body, int Count)[] bodies = Alike(group, body => round ? Unrolled(body) : body);
            double clearance = Clearance(coil, bodies.Select(body => body.Body));
            double Value(double t, double digits)
            {
                double sum = 0;
                foreach ((BodySi body, int count) in bodies)
                {
                    sum += count * CoaxialIntegral.Edge(coil, body, clearance, t, digits);
                }

                return sum;
            }

            bool costly = bodies.Any(body => body.Body.Shape == BodyShape.Block);
            kernels.Add(new(Value, group.Key.X, group.Key.HalfAlong, level ? Parity.Even : Parity.None, costly));
        }

        if (rest.Count > 0)
        {
            var others = new StationSi([.. rest]);
            double clearance = Clearance(coil, rest);
            var windings = new System.Collections.Concurrent.ConcurrentDictionary<double, WindingElements>();
            double Value(double d, double digits)
            {
                WindingElements winding = windings.GetOrAdd(digits, wanted => WindingElements.Near(coil, clearance, wanted));
                Vector3D force = winding.Force(others, new(d, 0, 0));
                return component switch
                {
                    TrackAxis.Along => force.X,
                    TrackAxis.Across => force.Y,
                    _ => force.Z,
                };
            }

            kernels.Add(new(Value, 0, 0, Parity.None, true));
        }

        return kernels;
    }

    private static BodySi Exchanged(BodySi body) => body with
    {
        HalfAlong = body.HalfUp,
        HalfUp = body.HalfAlong,
        Center = new(body.Center.Z, body.Center.Y, body.Center.X),
    };

    private static double Upward(in CoilSi turned, BodySi[] bodies, double d, double digits)
    {
        double sum = 0;
        foreach (BodySi body in bodies)
        {
            BodySi behind = body with { Center = body.Center with { Z = body.Center.Z - d } };
            sum += FlatCoilIntegral.Edge(turned, [behind], behind.HalfAlong - behind.Center.X, digits)
                - FlatCoilIntegral.Edge(turned, [behind], -behind.HalfAlong - behind.Center.X, digits);
        }

        return sum;
    }

    /// <summary>The least distance between winding and bodies, which sets the nodes; a hair's breadth counts as a thousandth of the coil.</summary>
    private static double Clearance(CoilSi coil, IEnumerable<BodySi> bodies)
    {
        double least = bodies.Min(body => CoilClearance.Between(coil, body));
        return least >= 0
            ? Math.Max(least, 1e-3 * coil.HalfWidth)
            : throw new ArgumentException(
                $"the coil runs into the magnets: on its way it overlaps one by {Show.Quantity(UnitsNet.Length.FromMeters(-least))}; the path must be clear.", nameof(coil));
    }

    private static bool Symmetric(in WindingBlockSi block) => block.Turns == 0 || block.AxialFrom == -block.AxialTo;

    private static (BodySi Body, int Count)[] Alike(IEnumerable<BodySi> bodies, Func<BodySi, BodySi> standard)
    {
        var found = new List<(BodySi Body, int Count)>();
        foreach (BodySi body in bodies)
        {
            BodySi one = standard(body);
            int at = found.FindIndex(other => Same(other.Body, one));
            if (at < 0)
            {
                found.Add((one, 1));
            }
            else
            {
                found[at] = (found[at].Body, found[at].Count + 1);
            }
        }

        return [.. found];
    }

    /// <summary>Equal but for the round-off of a turn.</summary>
    private static bool Same(in BodySi a, in BodySi b)
    {
        const double Slack = 1e-13;
        return (a.Center - b.Center).Length <= Slack * a.Radius && Math.Abs(a.Roll - b.Roll) <= Slack
            && (a with { Center = default, Roll = 0 }) == (b with { Center = default, Roll = 0 });
    }

    /// <summary>The body turned about the line of the path until its middle lies on the +y side.</summary>
    private static BodySi Unrolled(BodySi body)
    {
        if (body.Shape == BodyShape.Ring)
        {
            return body;
        }

        double distance = Math.Sqrt((body.Center.Y * body.Center.Y) + (body.Center.Z * body.Center.Z));
        double angle = Math.Atan2(body.Center.Z, body.Center.Y);
        double roll = Math.IEEERemainder(body.Roll - angle, Math.PI);
        return body with { Center = new(body.Center.X, distance, 0), Roll = Math.Abs(roll) < 1e-12 ? 0 : roll };
    }
}
