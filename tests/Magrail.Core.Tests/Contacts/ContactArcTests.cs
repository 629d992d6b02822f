using Magrail.Numerics;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Contacts;

/// <summary>Arc characteristics against published values; the inductive break against its differential equation.</summary>
public class ContactArcTests
{
    private static readonly AccuracyRow WorkedBreak = new("inductive break at constant arc voltage, duration and energy", "closed form, worked example, 12 digits", 1e-12, "of them");
    private static readonly AccuracyRow Breaks = new("generated inductive breaks, duration and charge", "our own integrator, arc's end as an event", 1e-9, "of them");
    private static readonly AccuracyRow Stokes = new("arc of Stokes and Oppenlander, four worked values", "R = (20 + 0.534 G)/I^0.88, quoted in a secondary source", 1e-4, "V");
    private static readonly AccuracyRow AyrtonLaw = new("Ayrton's arc at 2 mm and 5 A, 49.576 V", "H. Ayrton, The Electric Arc (1902), from memory", 1e-9, "V");

    /// <summary>L = 1 mH, R = 1 ohm, 12 V, arc of 20 V, 12 A: 0.916290731874 ms and 93.3934829001 mJ (closed form, (L/R) ln 2.5; checked by an event-located integration in SciPy).</summary>
    [Fact]
    public void Worked_break()
    {
        ContactArc arc = ContactArc.OfBreak(12.Amperes(), 1.Millihenries(), 1.Ohms(), 12.Volts(), 20.Volts());
        WorkedBreak.HoldRatio(0.916290731874e-3, arc.Duration.Seconds);
        WorkedBreak.HoldRatio(93.3934829001e-3, arc.Energy.Joules);
        Assert.Equal(93.3934829001e-3 / 20, arc.Charge.Coulombs, 1e-14);
        Assert.Contains("12 A broken", arc.ToString(), StringComparison.Ordinal);
    }

    /// <summary>Random breaks against the integrator: L di/dt = V − V_a − R i until i = 0, charge along with it. Resistance goes down to nothing.</summary>
    [RepeatableProperty(60)]
    public void Against_the_differential_equation(ushort a, ushort b, ushort c, ushort d)
    {
        double l = 1e-4 * Math.Pow(10, a / 30000.0), i0 = 0.5 + (b / 1000.0), v = -20 + (c / 2000.0), va = Math.Max(v, 0) + 1 + (d / 3000.0);
        double r = a % 7 == 0 ? 0 : Math.Pow(10, -6 + (b / 10000.0));
        ContactArc arc = ContactArc.OfBreak(i0.Amperes(), l.Henries(), r.Ohms(), v.Volts(), va.Volts());
        OdeSolution solution = OdeSolver.Solve(
            (_, y, dy) =>
            {
                dy[0] = (v - va - (r * y[0])) / l;
                dy[1] = y[0];
            },
            0,
            [i0, 0],
            1e3,
            new Tolerances(1e-12, [1e-12 * i0, 1e-16]),
            [new OdeEvent("out", (_, y) => y[0], CrossingDirection.PositiveToNegative)]);
        Assert.Equal(OdeOutcome.StoppedByEvent, solution.Outcome);
        Breaks.HoldRatio(solution.EndTime, arc.Duration.Seconds);
        Breaks.HoldRatio(solution.EndState[1], arc.Charge.Coulombs);

        // The inductance gives ½ L I₀², the source V q, the resistance takes; the arc gets the rest.
        Assert.True(arc.Energy.Joules <= ((0.5 * l * i0 * i0) + (v * arc.Charge.Coulombs)) * (1 + 1e-9));
    }

    /// <summary>The series for little resistance joins the closed form where it takes over.</summary>
    [Fact]
    public void Small_resistance_is_smooth()
    {
        // i0 R/(Va − V) = 0.01 (1 ± 1e-9).
        ContactArc below = ContactArc.OfBreak(10.Amperes(), 1.Millihenries(), (0.01 * (1 - 1e-9)).Ohms(), 0.Volts(), 10.Volts());
        ContactArc above = ContactArc.OfBreak(10.Amperes(), 1.Millihenries(), (0.01 * (1 + 1e-9)).Ohms(), 0.Volts(), 10.Volts());
        Assert.Equal(1, below.Duration / above.Duration, 2e-11);
        Assert.Equal(1, below.Charge.Coulombs / above.Charge.Coulombs, 1e-10);
        ContactArc none = ContactArc.OfBreak(10.Amperes(), 1.Millihenries(), 0.Ohms(), 2.Volts(), 12.Volts());
        Assert.Equal(1e-3, none.Duration.Seconds, 1e-18);
        Assert.Equal(12 * 5e-3, none.Energy.Joules, 1e-16);
    }

    /// <summary>Stokes and Oppenlander, R = (20 + 0.534 G)/I^0.88 with G in mm: worked values at 1 A, 32 mm; 100 A, 32 mm; 1 kA, 10 mm; 10 kA, 20 mm.</summary>
    [Theory]
    [InlineData(1, 32, 37.088)]
    [InlineData(100, 32, 64.4516)]
    [InlineData(1000, 10, 58.0506)]
    [InlineData(10000, 20, 92.6521)]
    public void Stokes_and_Oppenlander(double amperes, double millimeters, double volts)
    {
        Stokes.HoldDifference(volts, ArcCharacteristic.StokesOppenlander.VoltageAt(millimeters.Millimeters(), amperes.Amperes()).Volts);
        Assert.Equal(volts, ArcCharacteristic.StokesOppenlander.VoltageAt(millimeters.Millimeters(), (-amperes).Amperes()).Volts, 1e-4);
    }

    /// <summary>Ayrton's law (coefficients from memory): 49.576 V at 2 mm and 5 A.</summary>
    [Fact]
    public void Ayrton() => AyrtonLaw.HoldDifference(49.576, ArcCharacteristic.Ayrton.VoltageAt(2.Millimeters(), 5.Amperes()).Volts);

    /// <summary>The default column lies between the two published ones: 0.7 V/mm and 3 V/mm at 10 A.</summary>
    [Fact]
    public void Default_column_lies_between_published_ones()
    {
        double Field(ArcCharacteristic arc) => arc.VoltageAt(11.Millimeters(), 10.Amperes()).Volts - arc.VoltageAt(10.Millimeters(), 10.Amperes()).Volts;
        double ours = Field(ArcCharacteristic.Of(ContactMaterial.Silver));
        Assert.Equal(1, ours, 1e-12);
        Assert.Equal(0.704, Field(ArcCharacteristic.StokesOppenlander), 1e-3);
        Assert.Equal(3.128, Field(ArcCharacteristic.Ayrton), 1e-3);
    }

    [Fact]
    public void Material_minima()
    {
        ArcCharacteristic arc = ArcCharacteristic.Of(ContactMaterial.Copper, ElectricField.FromVoltsPerMeter(2000));
        Assert.Equal(13, arc.VoltageAt(0.Millimeters(), 5.Amperes()).Volts, 1e-12);
        Assert.Equal(15, arc.VoltageAt(1.Millimeters(), 0.Amperes()).Volts, 1e-12);
        Assert.Equal(0.43, arc.MinimumCurrent.Amperes, 1e-12);
        Assert.True(arc.ToSi().IsColumn);
        Assert.Equal(arc, ArcCharacteristic.Of(ContactMaterial.Copper, ElectricField.FromVoltsPerMeter(2000)));
        Assert.Contains("arc from copper", arc.ToString(), StringComparison.Ordinal);

        // Below the minimum current the voltage is that at it: finite.
        Assert.Equal(ArcCharacteristic.Ayrton.VoltageAt(1.Millimeters(), 0.03.Amperes()), ArcCharacteristic.Ayrton.VoltageAt(1.Millimeters(), 0.Amperes()));
    }

    [Fact]
    public void Wrong_values_are_refused()
    {
        Assert.Contains("burns on", Assert.Throws<ArgumentOutOfRangeException>(() => ContactArc.OfBreak(1.Amperes(), 1.Millihenries(), 1.Ohms(), 20.Volts(), 20.Volts())).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => ContactArc.OfBreak(0.Amperes(), 1.Millihenries(), 1.Ohms(), 1.Volts(), 20.Volts()));
        Assert.Throws<ArgumentOutOfRangeException>(() => ArcCharacteristic.Column(0.Volts(), ElectricField.Zero, 1.Amperes()));
        Assert.Throws<ArgumentOutOfRangeException>(() => ArcCharacteristic.Ayrton.VoltageAt((-1).Millimeters(), 1.Amperes()));
        Assert.Throws<ArgumentNullException>(() => ArcCharacteristic.Of(null!));
    }
}
