using Magrail.Sources;

namespace Magrail;

/// <summary>
/// A blade fuse by the gates through which its standard makes every curve pass: how long it must hold, and by when it must have opened, at multiples of its
/// rating.
/// </summary>
/// <remarks>
/// Between the gates nothing is promised, so bounds are used that hold for every melting wire: ∫ i² dt to melting falls, or stays, as the current rises. What a gate demands at
/// a higher current is therefore a lower bound at a lower one, and the reverse.
/// </remarks>
internal sealed record BladeFuse(double Rating)
{
    /// <summary>Ratings, A.</summary>
    [Source("ISO8820", "ratings of blade fuses, type C and type F; from memory")]
    public static IReadOnlyList<double> Ratings { get; } = [1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40];

    /// <summary>The voltage for which common blade fuses are made, V.</summary>
    [Source("ISO8820", "rated voltage 32 V; from memory")]
    public const double Volts = 32;

    /// <summary>The greatest current that common blade fuses interrupt, A.</summary>
    [Source("ISO8820", "breaking capacity 1000 A; from memory")]
    public const double Breaks = 1000;

    /// <summary>Part of the melting ∫ i² dt that a fuse bears ten thousand times, with ten seconds or more between.</summary>
    [Source("LITTELFUSE", "pulse cycle withstand capability: 10,000 pulses, 29 % of the melting I²t")]
    public const double PulseShare = 0.29;

    // Multiple of the rating, least and greatest opening time in seconds.
    [Source("ISO8820", "operating time gates of type C at 135 %, 200 %, 350 % and 600 %; from memory")]
    private static readonly (double Multiple, double Least, double Greatest)[] Gates = [(1.35, 0.75, 600), (2, 0.15, 5), (3.5, 0.08, 0.5), (6, 0.03, 0.1)];

    /// <summary>Below this multiple it may carry the current for good.</summary>
    public static double SureMultiple => Gates[0].Multiple;

    /// <summary>∫ i² dt that does not melt it at a current, A² s; infinite up to its rating.</summary>
    public double HoldsAction(double amperes)
    {
        double multiple = amperes / Rating;
        if (multiple <= 1)
        {
            return double.PositiveInfinity;
        }

        // Above the last gate the melting wire loses no heat: its ∫ i² dt stays.
        double held = Gates[^1].Multiple * Gates[^1].Multiple * Gates[^1].Least;
        foreach ((double gate, double least, double _) in Gates)
        {
            held = gate >= multiple ? Math.Max(held, gate * gate * least) : held;
        }

        return held * Rating * Rating;
    }

    /// <summary>∫ i² dt that it lets through at a current before it has opened, A² s; infinite where it need not open.</summary>
    public double LetsThrough(double amperes)
    {
        double multiple = amperes / Rating;
        double through = double.PositiveInfinity;
        foreach ((double gate, double _, double greatest) in Gates)
        {
            through = gate <= multiple ? Math.Min(through, gate * gate * greatest) : through;
        }

        return through * Rating * Rating;
    }

    /// <summary>
    /// ∫ i² dt by which it is sure to have opened on a current that decays exponentially as a bank runs empty, A² s; infinite where it need not open. Of a decay from I with ∫ i² dt of A
    /// in all, A (1 − (i/I)²) has passed when the current is down to i; what has passed above a gate's current must be enough for that gate.
    /// </summary>
    public double LetsThroughOfDecay(double first, double action)
    {
        double through = double.PositiveInfinity;
        foreach ((double gate, double _, double greatest) in Gates)
        {
            double needed = gate * gate * greatest * Rating * Rating;
            double share = gate * Rating / first;
            through = share < 1 && action * (1 - (share * share)) >= needed ? Math.Min(through, needed) : through;
        }

        return through;
    }

    /// <summary>∫ i² dt that it lets through at the worst current between twice its rating and a greater one, A² s.</summary>
    public double WorstThrough(double amperes)
        => amperes < Gates[1].Multiple * Rating ? LetsThrough(amperes) : Gates[1].Multiple * Gates[1].Multiple * Gates[1].Greatest * Rating * Rating;

    /// <summary>Whether it bears ten thousand launches of a root mean square current, a greatest one, and an ∫ i² dt.</summary>
    public bool Bears(double rms, double peak, double action)
        => action <= PulseShare * HoldsAction(rms) && (peak <= Rating || action <= PulseShare * HoldsAction(peak));
}
