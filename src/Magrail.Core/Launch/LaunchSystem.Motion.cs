namespace Magrail;

/// <summary>The sled: rest and motion, friction, the release and what follows it.</summary>
internal sealed partial class LaunchSystem
{
    private double mass;
    private double slidingFriction;
    private double restFriction;
    private double slopeForce;
    private bool brakeActive;
    private int motion;
    private double restSince;

    /// <summary>Whether the payload is gone and the sled is being brought to rest.</summary>
    public bool Braking => Ended == LaunchOutcome.Released && brakes;

    private double BrakeStart => launcher.Release + launcher.Braking!.Brake.Start;

    private double StallTime
        => Math.Max(restSince, switchTimes.Length == 0 ? 0 : switchTimes[^1]) + launcher.StallPatience;

    /// <summary>The lateral magnet force on the guide, N.</summary>
    public double SideForce(ReadOnlySpan<double> state)
    {
        if (!HasSideForce)
        {
            return 0;
        }

        double across = 0;
        double up = 0;
        for (int k = 0; k < n; k++)
        {
            across += circuits[k].Across is { } a ? a.At(state[0]) * state[Currents + k] : 0;
            up += circuits[k].Up is { } u ? u.At(state[0]) * state[Currents + k] : 0;
        }

        return across == 0 ? Math.Abs(up) : up == 0 ? Math.Abs(across) : Math.Sqrt((across * across) + (up * up));
    }

    /// <summary>The brake's force against the motion, N. A step may reach past the zone's ends, or past rest, before the event there is located.</summary>
    private double BrakeForce(ReadOnlySpan<double> state)
    {
        BrakeSi brake = launcher.Braking!.Brake;
        double depth = Math.Clamp(state[0] - BrakeStart, 0, brake.Length);
        return -brake.ForceAt(depth, brake.Kind == BrakeKind.Friction ? 1 : state[1]);
    }

    private double RestFriction(ReadOnlySpan<double> state) => restFriction + (launcher.RestCoefficient * SideForce(state));

    /// <summary>The end of the launch, or of the braking zone. True where the run stops here.</summary>
    private bool OnEnd(double time, Span<double> state)
    {
        if (Braking)
        {
            BrakingEnded = BrakingOutcome.LeftTrack;
            return true;
        }

        Ended ??= LaunchOutcome.Released;
        if (!Braking)
        {
            return true;
        }

        BrakingSi after = launcher.Braking!;
        Recorder.MarkRelease(time, state, this);
        mass = after.Mass;
        slidingFriction = after.SlidingFriction;
        restFriction = after.RestFriction;
        slopeForce = after.SlopeForce;
        brakeActive = after.Brake.Start <= 0;
        return false;
    }

    /// <summary>At rest: holds the sled, or lets it go in the direction of the push.</summary>
    private void ChooseMotion(double time, Span<double> state, bool keepRest = false)
    {
        double force = Push(state);
        bool held = Math.Abs(force) < RestFriction(state) && (motion != 0 || keepRest);
        if (motion == 0 && !keepRest)
        {
            // A break-away was located: the push equals the friction at rest to round-off, so its sign decides.
            held = false;
        }

        if (held)
        {
            if (motion != 0)
            {
                restSince = time;
            }

            motion = 0;
            return;
        }

        motion = force < 0 ? -1 : 1;
        KeepLines(state);
        for (int k = 0; k < n; k++)
        {
            // On an edge to round-off, the side towards which the sled goes is the one that counts.
            int index = circuits[k].Schedule.IndexAt(state[0], motion);
            if (index != edgeIndex[k])
            {
                edgeIndex[k] = index;
                Connect(time, k, state);
                UpdateElectrics(time, state);
            }
        }
    }

    private double Push(ReadOnlySpan<double> state)
    {
        double force = 0;
        for (int k = 0; k < n; k++)
        {
            force += circuits[k].Curve.At(state[0]) * state[Currents + k];
        }

        return force - slopeForce;
    }
}
