using UnitsNet;

namespace Magrail;

/// <summary>Where the current of a coil goes when its contact opens.</summary>
public abstract record Suppressor
{
    private protected Suppressor()
    {
    }

    /// <summary>
    /// The ideal break: the current dies at once, and the field energy it held is counted as lost at the contact. What a
    /// real contact without a suppressor does is an arc; this is its limit for no duration.
    /// </summary>
    public static Suppressor IdealBreak { get; } = new IdealBreakSuppressor();

    /// <summary>A bidirectional clamp across each coil circuit: open below its voltage, at its voltage while it conducts.</summary>
    /// <param name="volts">Clamp voltage, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not above zero, or not finite.</exception>
    public static Suppressor Clamp(ElectricPotential volts) => new ClampSuppressor(volts);

    internal abstract double ClampVolts { get; }
}

/// <summary>A bidirectional clamp across each coil circuit: after a break the coil drives its current through it until it is spent.</summary>
/// <remarks>An ideal clamp: no slope resistance, no capacitance, no delay.</remarks>
public sealed record ClampSuppressor : Suppressor
{
    internal ClampSuppressor(ElectricPotential volts)
        => Volts = Require.Positive(volts, "a clamp at zero volts would short the coil for good");

    /// <summary>The voltage at which it conducts, either way.</summary>
    public ElectricPotential Volts { get; }

    /// <summary>The clamp in words.</summary>
    public override string ToString() => $"clamp at {Show.Quantity(Volts)}";

    internal override double ClampVolts => Volts.Volts;
}

/// <summary>The ideal break of <see cref="Suppressor.IdealBreak"/>.</summary>
public sealed record IdealBreakSuppressor : Suppressor
{
    internal IdealBreakSuppressor()
    {
    }

    /// <summary>The break in words.</summary>
    public override string ToString() => "ideal break";

    internal override double ClampVolts => double.PositiveInfinity;
}
