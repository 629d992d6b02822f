using UnitsNet;

namespace Magrail;

/// <summary>A regulated bench supply: constant voltage up to its current limit, constant current beyond.</summary>
/// <remarks>
/// The limit is a mode with located changes: the output voltage falls, down to zero, to hold the current. It is ideal: no
/// overshoot while the regulator reacts and no energy in the output capacitor, both of which a real supply shows in the
/// first milliseconds.
/// </remarks>
public sealed record BenchSupply : PowerSource
{
    /// <summary>Describes a bench supply.</summary>
    /// <param name="volts">Output voltage, above zero.</param>
    /// <param name="limit">Current limit, above zero; none by default.</param>
    /// <param name="outputResistance">Output resistance, zero or above; zero by default.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public BenchSupply(ElectricPotential volts, ElectricCurrent? limit = null, ElectricResistance? outputResistance = null)
    {
        Volts = Require.Positive(volts, "polarity is set by the strips, and zero volts drive nothing");
        Limit = limit is ElectricCurrent amperes ? Require.Positive(amperes, "a supply limited to nothing drives nothing", nameof(limit)) : null;
        OutputResistance = Require.NotNegative(outputResistance ?? ElectricResistance.Zero, "a source does not amplify its own current", nameof(outputResistance));
    }

    /// <summary>Output voltage below the current limit.</summary>
    public ElectricPotential Volts { get; }

    /// <summary>Current limit; null for none.</summary>
    public ElectricCurrent? Limit { get; }

    /// <summary>Output resistance.</summary>
    public ElectricResistance OutputResistance { get; }

    /// <summary>The supply in words.</summary>
    public override string ToString()
        => Limit is ElectricCurrent limit ? $"bench supply {Show.Quantity(Volts)}, limited to {Show.Quantity(limit)}" : $"bench supply {Show.Quantity(Volts)}";

    internal override SourceSi ToSi()
        => new(Volts.Volts, OutputResistance.Ohms, Limit?.Amperes ?? double.PositiveInfinity, double.PositiveInfinity);
}
