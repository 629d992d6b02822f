using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// What an arc between parting contacts holds against the circuit: its voltage by gap and current, and the current below which it does
/// not burn.
/// </summary>
/// <remarks>
/// U = (a + b l) i^n + (c + d l)/i with gap l and current i. The usual form has n = c = d = 0: the electrode falls plus a column field times the
/// gap. The static characteristic is taken: an arc follows slow changes, and its voltage lags and overshoots in ones faster than some 0.1 ms. Below
/// the minimum current the voltage at that current counts. Arcs scatter: take voltages as good to a fifth, durations accordingly (common
/// practice, no source).
/// </remarks>
public sealed record ArcCharacteristic
{
    private readonly ArcSi si;

    private ArcCharacteristic(string name, in ArcSi si)
    {
        Name = name;
        this.si = si;
    }

    /// <summary>
    /// Ayrton's law for carbon electrodes in air, U = 38.88 V + 2.074 V/mm · l + (11.66 W + 10.54 W/mm · l)/i.
    /// </summary>
    [Source("MEMORY", "H. Ayrton, The Electric Arc, 1902: coefficients from memory")]
    public static ArcCharacteristic Ayrton { get; } = new("Ayrton's carbon arc", new ArcSi(38.88, 2074, 11.66, 10540, 0, 0.03));

    /// <summary>The long free arc in air of Stokes and Oppenlander, U = (20 V + 0.534 V/mm · l) · i^0.12 (R = (20 + 0.534 l)/i^0.88), i in amperes.</summary>
    /// <remarks>Published for gaps of 5 mm to 500 mm and currents above some 10 A (from memory); on the gaps and currents of a small launcher it is an extrapolation, for comparison only.</remarks>
    [Source("STOKES1991", "arc resistance (quoted in secondary sources)")]
    public static ArcCharacteristic StokesOppenlander { get; } = new("Stokes and Oppenlander", new ArcSi(20, 534, 0, 0, 0.12, 1));

    /// <summary>Electrode falls and a column, U = U_min + E l.</summary>
    /// <param name="minimumVoltage">Sum of the electrode falls, above zero.</param>
    /// <param name="columnField">Field of the column, zero or above; a kilovolt per meter is a volt per millimeter.</param>
    /// <param name="minimumCurrent">Current below which no arc burns, above zero.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public static ArcCharacteristic Column(ElectricPotential minimumVoltage, ElectricField columnField, ElectricCurrent minimumCurrent)
        => new(
            "arc with a column",
            new ArcSi(
                Require.Positive(minimumVoltage, "an arc needs its electrode falls").Volts,
                Require.NotNegative(columnField, "a longer arc needs no less").VoltsPerMeter,
                0,
                0,
                0,
                Require.Positive(minimumCurrent, "an arc needs a current").Amperes));

    /// <summary>The arc from a contact material's minima, typical values.</summary>
    /// <param name="material">The material, of brush or strip; of two, the one whose minima are lower is the safe choice.</param>
    /// <param name="columnField">
    /// Field of the column, zero or above; 1 kV/m (1 V/mm) by default, between Stokes and Oppenlander's 0.7 V/mm at 10 A and Ayrton's 2 V/mm to 3 V/mm.
    /// </param>
    /// <exception cref="ArgumentNullException"><paramref name="material"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The field is below zero or not finite.</exception>
    public static ArcCharacteristic Of(ContactMaterial material, ElectricField? columnField = null)
    {
        ArgumentNullException.ThrowIfNull(material);
        ElectricField field = Require.NotNegative(columnField ?? ElectricField.FromVoltsPerMeter(1000), "a longer arc needs no less", nameof(columnField));
        ArcCharacteristic column = Column(material.MinimumArcVoltage.Typical, field, material.MinimumArcCurrent.Typical);
        return new($"arc from {material.Name}", column.si);
    }

    /// <summary>Which characteristic it is.</summary>
    public string Name { get; }

    /// <summary>Current below which no arc burns.</summary>
    public ElectricCurrent MinimumCurrent => ElectricCurrent.FromAmperes(si.MinimumCurrent);

    /// <summary>The voltage that an arc holds, always against its current.</summary>
    /// <param name="gap">Gap between the contacts, zero or above.</param>
    /// <param name="current">Current, either way.</param>
    /// <returns>The size of the voltage.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public ElectricPotential VoltageAt(Length gap, ElectricCurrent current)
        => ElectricPotential.FromVolts(si.VoltageAt(
            Require.NotNegative(gap, "contacts that overlap draw no arc").Meters,
            Require.Finite(current, "an arc has a current").Amperes));

    /// <summary>The name, and the voltage of the shortest arc at 1 A or at the minimum current, whichever is more.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"{Name}, {Show.Quantity(VoltageAt(Length.Zero, ElectricCurrent.FromAmperes(1)))} at no gap";

    /// <summary>Plain numbers for the engine.</summary>
    internal ArcSi ToSi() => si;
}

/// <summary>An arc's voltage in SI units: U = (Fall + Field l) i^Exponent + (Power + PowerGradient l)/i.</summary>
/// <param name="Fall">a, in volts (at one ampere).</param>
/// <param name="Field">b, in volts per meter.</param>
/// <param name="Power">c, in watts.</param>
/// <param name="PowerGradient">d, in watts per meter.</param>
/// <param name="Exponent">n.</param>
/// <param name="MinimumCurrent">Amperes below which no arc burns, and below which the voltage stays that of this current.</param>
internal readonly record struct ArcSi(double Fall, double Field, double Power, double PowerGradient, double Exponent, double MinimumCurrent)
{
    /// <summary>Whether the voltage depends on the gap alone.</summary>
    public bool IsColumn => Exponent == 0 && Power == 0 && PowerGradient == 0;

    /// <summary>Size of the voltage, in volts, at a gap in meters and a current in amperes.</summary>
    public double VoltageAt(double gap, double current)
    {
        double steady = Fall + (Field * gap);
        if (IsColumn)
        {
            return steady;
        }

        double size = Math.Max(Math.Abs(current), MinimumCurrent);
        return (steady * (Exponent == 0 ? 1 : Math.Pow(size, Exponent))) + ((Power + (PowerGradient * gap)) / size);
    }
}
