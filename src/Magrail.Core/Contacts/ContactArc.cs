using UnitsNet;

namespace Magrail;

/// <summary>
/// The arc of an inductive break in closed form: a source V, an inductance L and a resistance R in series with an arc of constant voltage
/// V_a that burns from the current I₀ until the current is zero.
/// </summary>
/// <remarks>
/// L di/dt = V − V_a − R i gives t = (L/R) ln(1 + I₀ R/(V_a − V)); charge q = (L I₀ − (V_a − V) t)/R; energy V_a q, which is more than
/// ½ L I₀² as the source feeds the arc while it burns. A column that grows with the gap puts the arc out sooner; this is the
/// estimate for a gap that stays short, and the check of the simulated arc. Motion's back-EMF is to be put into V.
/// </remarks>
public sealed record ContactArc
{
    private ContactArc(ElectricCurrent current, ElectricPotential voltage, Duration duration, ElectricCharge charge)
    {
        Current = current;
        Voltage = voltage;
        Duration = duration;
        Charge = charge;
    }

    /// <summary>The arc of a break.</summary>
    /// <param name="current">Current I₀ when the contact parts, above zero.</param>
    /// <param name="inductance">L, above zero.</param>
    /// <param name="resistance">R, zero or above.</param>
    /// <param name="sourceVoltage">V, what drives the current on; below zero where it opposes.</param>
    /// <param name="arcVoltage">V_a, above zero and above <paramref name="sourceVoltage"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range; an arc voltage no higher than the source's never puts the arc out.</exception>
    public static ContactArc OfBreak(
        ElectricCurrent current, ElectricInductance inductance, ElectricResistance resistance, ElectricPotential sourceVoltage, ElectricPotential arcVoltage)
    {
        ElectricCurrent start = Require.Positive(current, "no current, no arc");
        double i0 = start.Amperes;
        double l = Require.Positive(inductance, "a current without inductance dies at once").Henries;
        double r = Require.NotNegative(resistance, "a circuit dissipates").Ohms;
        double v = Require.Finite(sourceVoltage, "a source has a voltage").Volts;
        ElectricPotential arc = Require.Positive(arcVoltage, "an arc needs its electrode falls");
        double drop = arc.Volts - v;
        if (!(drop > 0))
        {
            throw Require.Fault(nameof(arcVoltage), Show.Quantity(arcVoltage), $"above the source's {Show.Quantity(sourceVoltage)}", "otherwise the arc burns on until the gap has grown");
        }

        (double logPart, double chargePart) = Parts(i0 * r / drop);
        return new ContactArc(
            start,
            arc,
            Duration.FromSeconds(l * i0 / drop * logPart),
            ElectricCharge.FromCoulombs(0.5 * l * i0 * i0 / drop * chargePart));
    }

    /// <summary>Current when the contact parted.</summary>
    public ElectricCurrent Current { get; }

    /// <summary>Voltage of the arc.</summary>
    public ElectricPotential Voltage { get; }

    /// <summary>How long it burns.</summary>
    public Duration Duration { get; }

    /// <summary>Charge it carries.</summary>
    public ElectricCharge Charge { get; }

    /// <summary>Heat it makes, V_a q.</summary>
    public Energy Energy => Energy.FromJoules(Voltage.Volts * Charge.Coulombs);

    /// <summary>The arc in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => $"{Show.Quantity(Current)} broken: {Show.Quantity(Duration)} of arc, {Show.Quantity(Charge)}, {Show.Quantity(Energy)}";

    // ln(1 + x)/x and 2 (x − ln(1 + x))/x², which are 1 at x = 0.
    private static (double Log, double Charge) Parts(double x)
    {
        if (x < 0.01)
        {
            // ln(1 + x)/x = 1 − x/2 + x²/3 − …; the terms left out are below 1e-17.
            double log = 0;
            double charge = 0;
            for (int n = 9; n >= 1; n--)
            {
                log = (1.0 / n) - (x * log);
                charge = (2.0 / (n + 1)) - (x * charge);
            }

            return (log, charge);
        }

        double ln = double.LogP1(x);
        return (ln / x, 2 * (x - ln) / (x * x));
    }
}
