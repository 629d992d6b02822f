using UnitsNet;

namespace Magrail;

/// <summary>
/// How much earlier than symmetric a strip begins and ends, so that the current has time to turn round before the force per ampere does:
/// lead = lead at rest + time · expected speed.
/// </summary>
public sealed record StripLead
{
    private StripLead(Length atRest, Duration time, ExpectedSpeed? speed)
    {
        AtRest = atRest;
        Time = time;
        Speed = speed;
    }

    /// <summary>No lead: every strip lies symmetric between its two stations.</summary>
    public static StripLead None { get; } = new(Length.Zero, Duration.Zero, null);

    /// <summary>The lead of a sled at rest.</summary>
    public Length AtRest { get; }

    /// <summary>What the lead grows by per speed.</summary>
    public Duration Time { get; }

    /// <summary>The speed that is expected; null where the lead does not grow.</summary>
    public ExpectedSpeed? Speed { get; }

    /// <summary>The same lead for every strip.</summary>
    /// <param name="lead">The lead; below zero, strips come later than symmetric.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    public static StripLead Constant(Length lead) => new(Require.Finite(lead, "strips have a place"), Duration.Zero, null);

    /// <summary>A lead that grows with the speed that is expected.</summary>
    /// <param name="atRest">The lead of a sled at rest; below zero, later than symmetric.</param>
    /// <param name="time">What it grows by per speed, zero or above: about the time in which the current turns round, see <see cref="TurningTime"/>.</param>
    /// <param name="speed">The speed that is expected.</param>
    /// <exception cref="ArgumentNullException"><paramref name="speed"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static StripLead Growing(Length atRest, Duration time, ExpectedSpeed speed)
    {
        ArgumentNullException.ThrowIfNull(speed);
        return new(Require.Finite(atRest, "strips have a place"), Require.NotNegative(time, "a current turns round after it is told to"), speed);
    }

    /// <summary>The time constant in which a coil's current turns round, L/R.</summary>
    /// <param name="coil">The coil, at 20 °C.</param>
    /// <param name="elsewhere">Resistance of the rest of its loop: source, leads, switch, brushes; zero or above.</param>
    /// <remarks>A source above its current limit turns it faster, a suppressor of higher voltage too: then it is a starting point to be tried around.</remarks>
    /// <exception cref="ArgumentNullException"><paramref name="coil"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The resistance is below zero or not finite.</exception>
    public static Duration TurningTime(Coil coil, ElectricResistance elsewhere)
    {
        ArgumentNullException.ThrowIfNull(coil);
        double ohms = coil.Resistance.Ohms + Require.NotNegative(elsewhere, "a loop dissipates, it does not drive").Ohms;
        return Duration.FromSeconds(coil.Inductance.Henries / ohms);
    }

    /// <summary>The lead of a strip.</summary>
    /// <param name="position">The place midway between its two stations.</param>
    /// <exception cref="ArgumentOutOfRangeException">The position is not finite.</exception>
    public Length At(Length position)
        => Length.FromMeters(AtRest.Meters + (Time.Seconds * (Speed?.At(position).MetersPerSecond ?? 0)));

    /// <summary>The lead in words.</summary>
    public override string ToString()
        => Speed is null ? $"lead {Show.Quantity(AtRest)}" : $"lead {Show.Quantity(AtRest)} and {Show.Quantity(Time)} of travel at the expected speed, {Speed}";
}
