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

    /// <summary>
    /// A resistor across each coil circuit: it carries the current on after a break, and takes some of the source's all the time that the coil is fed.
    /// </summary>
    /// <param name="resistance">Its resistance, above zero. The coil's voltage after a break starts at the current times this.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not above zero, or not finite.</exception>
    public static Suppressor Resistor(ElectricResistance resistance) => new ResistorSuppressor(resistance);

    /// <summary>A resistor and a capacitor in series across each coil circuit: after a break the coil charges the capacitor and rings with it.</summary>
    /// <param name="resistance">The resistor, above zero. The coil's voltage after a break starts near the current times this.</param>
    /// <param name="capacitance">The capacitor, above zero; empty at the start of the launch.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not above zero, or not finite.</exception>
    public static Suppressor SeriesRC(ElectricResistance resistance, ElectricCapacitance capacitance) => new SeriesRCSuppressor(resistance, capacitance);

    /// <summary>Clamp voltage, V; infinite where there is none.</summary>
    internal virtual double ClampVolts => double.PositiveInfinity;

    /// <summary>Conductance of what lies across the coil, S; zero where nothing does.</summary>
    internal virtual double Conductance => 0;

    /// <summary>Capacitance in series with it, F; infinite where there is none.</summary>
    internal virtual double Capacitance => double.PositiveInfinity;
}

/// <summary>A resistor across each coil circuit.</summary>
public sealed record ResistorSuppressor : Suppressor
{
    internal ResistorSuppressor(ElectricResistance resistance)
        => Resistance = Require.Positive(resistance, "a resistor of nothing would short the coil");

    /// <summary>Its resistance.</summary>
    public ElectricResistance Resistance { get; }

    /// <summary>The resistor in words.</summary>
    public override string ToString() => $"resistor of {Show.Quantity(Resistance)} across the coil";

    internal override double Conductance => 1 / Resistance.Ohms;
}

/// <summary>A resistor and a capacitor in series across each coil circuit.</summary>
public sealed record SeriesRCSuppressor : Suppressor
{
    internal SeriesRCSuppressor(ElectricResistance resistance, ElectricCapacitance capacitance)
    {
        Resistance = Require.Positive(resistance, "a capacitor switched without a resistor draws a current that nothing limits");
        Capacitor = Require.Positive(capacitance, "a capacitor of nothing takes no current");
    }

    /// <summary>The resistor.</summary>
    public ElectricResistance Resistance { get; }

    /// <summary>The capacitor.</summary>
    public ElectricCapacitance Capacitor { get; }

    /// <summary>The resistor and the capacitor in words.</summary>
    public override string ToString() => $"{Show.Quantity(Resistance)} and {Show.Quantity(Capacitor)} in series across the coil";

    internal override double Conductance => 1 / Resistance.Ohms;

    internal override double Capacitance => Capacitor.Farads;
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
}
