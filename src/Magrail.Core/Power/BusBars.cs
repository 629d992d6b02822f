using UnitsNet;

namespace Magrail;

/// <summary>
/// The two rails that carry the current along the track to the strips: the loop through them grows with the sled's distance from the
/// place where they are fed.
/// </summary>
/// <remarks>
/// R(x) = 2 r a fed at one end, a the distance from it; R(x) = 2 r a b/(a + b) fed at both, a and b the distances from the ends. Every
/// circuit of the sled is taken to sit at its mark. Source: Ohm's law, series and parallel resistances.
/// </remarks>
public sealed record BusBars
{
    /// <summary>Describes bus bars.</summary>
    /// <param name="resistance">Resistance of one bar over the whole length, zero or above.</param>
    /// <param name="from">Where the bars begin, x in the track's frame.</param>
    /// <param name="to">Where they end, beyond <paramref name="from"/>.</param>
    /// <param name="feed">Where the leads of the source are connected.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public BusBars(ElectricResistance resistance, Length from, Length to, BusFeed feed = BusFeed.Start)
    {
        Resistance = Require.NotNegative(resistance, "bars dissipate, they do not drive");
        From = Require.Finite(from, "bars have a place on the track");
        To = Require.Finite(to, "bars have a place on the track");
        Feed = Require.Defined(feed, "the leads are connected somewhere");
        if (To.Meters <= From.Meters)
        {
            throw Require.Fault(nameof(to), Show.Quantity(to), $"beyond the start, {Show.Quantity(from)}", "bars have a length");
        }
    }

    /// <summary>Resistance of one bar over the whole length.</summary>
    public ElectricResistance Resistance { get; }

    /// <summary>Where the bars begin.</summary>
    public Length From { get; }

    /// <summary>Where the bars end.</summary>
    public Length To { get; }

    /// <summary>Where the leads of the source are connected.</summary>
    public BusFeed Feed { get; }

    /// <summary>Two copper bars of one section.</summary>
    /// <param name="section">Section of each bar, above zero.</param>
    /// <param name="from">Where the bars begin.</param>
    /// <param name="to">Where they end, beyond <paramref name="from"/>.</param>
    /// <param name="feed">Where the leads of the source are connected.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static BusBars OfCopper(Area section, Length from, Length to, BusFeed feed = BusFeed.Start)
    {
        double squareMeters = Require.Positive(section, "a bar has a section").SquareMeters;
        double meters = Math.Max(0, to.Meters - from.Meters);
        return new BusBars(ElectricResistance.FromOhms(Conductor.Copper.Resistivity.OhmMeters * meters / squareMeters), from, to, feed);
    }

    /// <summary>Resistance of the loop through both bars with the sled at a place.</summary>
    /// <param name="position">Position of the sled's mark; beyond an end, the end counts.</param>
    /// <exception cref="ArgumentOutOfRangeException">The position is not finite.</exception>
    public ElectricResistance LoopResistanceAt(Length position)
        => ElectricResistance.FromOhms(ToSi().At(Require.Finite(position, "a place on the track").Meters));

    /// <summary>The bars in words.</summary>
    public override string ToString()
        => $"bus bars of {Show.Quantity(Resistance)} each, {Show.Quantity(From)} to {Show.Quantity(To)}, fed at {(Feed == BusFeed.Both ? "both ends" : Feed == BusFeed.Start ? "the start" : "the end")}";

    internal BusBarsSi ToSi() => new(2 * Resistance.Ohms, From.Meters, To.Meters, Feed);
}

/// <summary>Where bus bars are fed.</summary>
public enum BusFeed
{
    /// <summary>At the end from which the sled starts.</summary>
    Start,

    /// <summary>At the far end.</summary>
    End,

    /// <summary>At both ends.</summary>
    Both,
}

/// <summary>Bus bars as the equations see them.</summary>
/// <param name="Resistance">Both bars over the whole length in series, ohm.</param>
/// <param name="From">Start, m.</param>
/// <param name="To">End, m.</param>
/// <param name="Feed">Where they are fed.</param>
internal readonly record struct BusBarsSi(double Resistance, double From, double To, BusFeed Feed)
{
    /// <summary>The loop's resistance, ohm.</summary>
    public double At(double x)
    {
        double part = Math.Clamp((x - From) / (To - From), 0, 1);
        return Resistance * Feed switch
        {
            BusFeed.Start => part,
            BusFeed.End => 1 - part,
            _ => part * (1 - part),
        };
    }

    /// <summary>The greatest of the loop's resistance, ohm.</summary>
    public double Greatest => Feed == BusFeed.Both ? 0.25 * Resistance : Resistance;
}
