namespace Magrail;

/// <summary>What feeds the rails: a voltage behind a resistance, with what the kind of source adds.</summary>
/// <remarks>
/// Every source is modeled as able to take current back for the short time in which a coil returns its field, and for as
/// long as the sled drives the coil as a generator; the returned energy is subtracted from the energy drawn.
/// </remarks>
public abstract record PowerSource
{
    private protected PowerSource()
    {
    }

    internal abstract SourceSi ToSi();
}

/// <summary>
/// A source in SI units: open-circuit volts, ohms, the current limit in amperes (infinite for none) and the capacitance in
/// farads (infinite where the voltage does not fall).
/// </summary>
internal readonly record struct SourceSi(double Volts, double Resistance, double CurrentLimit, double Capacitance);
