using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Breaking a current: arcs and suppressors against closed forms; the sled stands, or goes at a steady speed.</summary>
public class BreakTests
{
    private const double Inf = double.PositiveInfinity;
    private static readonly AccuracyRow ConstantArc = new("arc of constant voltage with the source in the loop: duration, energy", "t = (L/R) ln(1 + I₀R/(U − V)), W = U (L I₀ − (U − V) t)/R", 1e-9, "of each");
    private static readonly AccuracyRow GrowingArc = new("arcs that a growing gap puts out, one and two contacts: duration, gap, energy", "closed form of the linear circuit, its zero by bisection", 1e-9, "of each");
    private static readonly AccuracyRow AyrtonArc = new("current of Ayrton's arc", "Runge-Kutta of the fourth order in steps of 10 ns", 1e-7, "of it");
    private static readonly AccuracyRow ParallelResistor = new("resistor across the coil: current after the break, energy taken", "closed form of the linear circuit", 1e-8, "of each");
    private static readonly AccuracyRow DampedRing = new("resistor and capacitor across the coil: ringing current after the break", "closed form of the series circuit", 1e-8, "of I₀");

    /// <summary>
    /// 12 V, 1 ohm, 1 mH and a steady 12 A broken by an arc of constant 20 V with the source in the loop:
    /// t = (L/R) ln(1 + I₀R/(U − V)), W = U (L I₀ − (U − V) t)/R (closed form of the linear circuit).
    /// </summary>
    [Fact]
    public void Arc_of_constant_voltage()
    {
        LauncherSi si = Standing(12, 1, 1e-3, opens: 0.04) with { Arc = Column(20) };
        LaunchResult result = LaunchBench.Launch(si, Until(0.05));

        ContactBreak spark = Assert.Single(result.Breaks);
        Assert.Equal(BreakEnding.DiedOut, spark.Ending);
        Assert.Equal(12, spark.Current.Amperes, 1e-7);
        ConstantArc.HoldRatio(0.916290731874e-3, spark.Duration.Seconds);
        ConstantArc.HoldRatio(93.3934829001e-3, spark.Energy.Joules);

        // The charge counts in the tolerance as a part of what flows during a launch, and this sled never arrives.
        Assert.Equal(93.3934829001e-3 / 20, spark.Charge.Coulombs, 1e-10);
        Assert.Equal(spark.Energy.Joules, result.Ledger.Arcs.Joules, 1e-12);
        Assert.Equal(8, spark.PeakCoilVoltage!.Value.Volts, 1e-6);

        // The public closed form says the same.
        ContactArc arc = ContactArc.OfBreak(12.Amperes(), 1.Millihenries(), 1.Ohms(), 12.Volts(), 20.Volts());
        Assert.Equal(1, spark.Duration / arc.Duration, 1e-8);
        Assert.Equal(1, spark.Energy / arc.Energy, 1e-8);
    }

    /// <summary>
    /// A brush that leaves at a steady speed: L i' = V − R i − n (U + E v t), so that i = A + B t + (I₀ − A) exp(−R t/L) with B = −n E v/R and
    /// A = (V − n U − L B)/R.
    /// </summary>
    [Theory]
    [InlineData(1, 24, 2000)]
    [InlineData(2, 24, 2000)]
    [InlineData(1, 36, 5000)]
    [InlineData(2, 40, 8000)]
    public void Arc_that_a_growing_gap_puts_out(int contacts, double volts, double perMeter)
    {
        const double R = 2, L = 1.5e-3, U = 12, Speed = 4;
        LauncherSi si = Passing(contacts, volts, R, L, Speed) with { Arc = Column(U, perMeter) };
        LaunchResult result = LaunchBench.Launch(si, Until(0.06));

        double i0 = volts / R * (1 - Math.Exp(-R * (0.05 / Speed) / L));
        double b = -contacts * perMeter * Speed / R;
        double a = (volts - (contacts * U) - (L * b)) / R;
        double Current(double t) => a + (b * t) + ((i0 - a) * Math.Exp(-R * t / L));
        double low = 0, high = 0.05;
        for (int i = 0; i < 100; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Current(middle) > 0 ? (middle, high) : (low, middle);
        }

        double energy = MathNet.Numerics.Integration.GaussLegendreRule.Integrate(
            t => contacts * (U + (perMeter * Speed * t)) * Current(t), 0, low, 64);
        ContactBreak spark = Assert.Single(result.Breaks);
        Assert.Equal(contacts, spark.Contacts);
        Assert.Equal(0.05, spark.Position.Meters, 1e-12);
        GrowingArc.HoldRatio(low, spark.Duration.Seconds);
        GrowingArc.HoldRatio(energy, spark.Energy.Joules);
        GrowingArc.HoldRatio(Speed * low, spark.Gap.Meters);
        Assert.Equal(BreakEnding.DiedOut, spark.Ending);
        Assert.Null(spark.FlashOverPosition);
    }

    /// <summary>Ayrton's arc with nothing across the coil: the launch follows the same equation that a fixed-step Runge-Kutta of the fourth order does.</summary>
    [Fact]
    public void Arc_whose_voltage_depends_on_the_current()
    {
        const double R = 2, L = 1.5e-3, Volts = 24, Speed = 4;
        ArcSi ayrton = ArcCharacteristic.Ayrton.ToSi();
        LaunchResult result = LaunchBench.Launch(Passing(1, Volts, R, L, Speed) with { Arc = ayrton }, Until(0.06));

        double i = Volts / R * (1 - Math.Exp(-R * (0.05 / Speed) / L));
        double t = 0;
        const double H = 1e-8;
        double Slope(double time, double current) => (Volts - (R * current) - ayrton.VoltageAt(Speed * time, current)) / L;
        while (i > 0.5)
        {
            double k1 = Slope(t, i), k2 = Slope(t + (H / 2), i + (H / 2 * k1)), k3 = Slope(t + (H / 2), i + (H / 2 * k2)), k4 = Slope(t + H, i + (H * k3));
            i += H / 6 * (k1 + (2 * k2) + (2 * k3) + k4);
            t += H;
        }

        LaunchSample sample = result.Trace.At((result.Breaks[0].Time.Seconds + t).Seconds());
        AyrtonArc.HoldRatio(i, sample.Currents[0].Amperes);
        Assert.Equal(CircuitConnection.Arcing, sample.Connections[0]);
    }

    [Fact]
    public void Below_the_minimum_current_nothing_burns()
    {
        LauncherSi si = Standing(12, 30, 1e-3, opens: 0.02) with { Arc = Column(12) };
        LaunchResult result = LaunchBench.Launch(si, Until(0.03));

        ContactBreak spark = Assert.Single(result.Breaks);
        Assert.Equal(BreakEnding.Lost, spark.Ending);
        Assert.Equal(0, spark.Duration.Seconds);
        Assert.Equal(0.5 * 1e-3 * 0.4 * 0.4, spark.Energy.Joules, 1e-12);
        Assert.Null(spark.PeakCoilVoltage);
    }

    /// <summary>The clamp takes over where the arc has grown to V + U_clamp.</summary>
    [Fact]
    public void Clamp_takes_over_from_the_arc()
    {
        const double Volts = 24, Clamp = 30, U = 12, PerMeter = 40000;
        LauncherSi si = Passing(1, Volts, 1, 5e-3, 4) with { Arc = Column(U, PerMeter), Suppressor = SuppressorSi.None with { ClampVolts = Clamp } };
        LaunchResult result = LaunchBench.Launch(si, Until(0.06));

        ContactBreak spark = Assert.Single(result.Breaks);
        Assert.Equal(BreakEnding.Suppressed, spark.Ending);
        Assert.Equal((Volts + Clamp - U) / PerMeter, spark.Gap.Meters, 1e-9);
        Assert.Equal(Clamp, spark.PeakCoilVoltage!.Value.Volts, 1e-9);
        Assert.Contains(result.Crossings, c => c.Before == CircuitConnection.Arcing && c.After == CircuitConnection.Clamped);
        Assert.True(result.Ledger.Suppressed.Joules > 0 && result.Ledger.Arcs.Joules > 0);
    }

    [Fact]
    public void Clamp_too_low_for_an_arc_takes_the_current_at_once()
    {
        // 5 V of source and 6 V of clamp never hold an arc of 12 V.
        LauncherSi si = Passing(1, 5, 0.5, 5e-3, 4) with { Arc = Column(12), Suppressor = SuppressorSi.None with { ClampVolts = 6 } };
        ContactBreak spark = Assert.Single(LaunchBench.Launch(si, Until(0.06)).Breaks);

        Assert.Equal(0, spark.Duration.Seconds);
        Assert.Equal(0, spark.Energy.Joules);
        Assert.Equal(BreakEnding.Suppressed, spark.Ending);
    }

    /// <summary>A resistor across the coil: i = I₀ exp(−(R + Rp) t/L) once the contacts are open, and V/Rp from the source all the time before.</summary>
    [Theory]
    [InlineData(10)]
    [InlineData(150)]
    public void Resistor_across_the_coil(double ohms)
    {
        const double Volts = 12, R = 1, L = 1e-3, Opens = 0.02;
        LauncherSi si = Standing(Volts, R, L, Opens) with { Suppressor = SuppressorSi.None with { Conductance = 1 / ohms } };
        LaunchResult result = LaunchBench.Launch(si, Until(0.021));

        double i0 = Volts / R * (1 - Math.Exp(-R * Opens / L));
        foreach (double t in (double[])[1e-6, 1e-5, 1e-4])
        {
            ParallelResistor.HoldDifference(i0 * Math.Exp(-(R + ohms) * t / L), result.Trace.At((Opens + t).Seconds()).Currents[0].Amperes, i0);
        }

        double taken = (Volts * Volts / ohms * Opens) + (ohms * 0.5 * L * i0 * i0 / (R + ohms));
        ParallelResistor.HoldRatio(taken, result.Ledger.Suppressed.Joules);
        Assert.Equal(i0 + (Volts / ohms), result.PeakSourceCurrent.Amperes, 1e-6);
        ContactBreak spark = Assert.Single(result.Breaks);
        Assert.Equal(i0 * ohms, spark.PeakCoilVoltage!.Value.Volts, 1e-6 * ohms);
        Assert.Equal(BreakEnding.Suppressed, spark.Ending);
    }

    /// <summary>
    /// A resistor and a capacitor in series: after the break L i' = c − (R + Rc) i, c' = −i/C, a damped ring from i = I₀, c = V
    /// (closed form of the series circuit).
    /// </summary>
    [Fact]
    public void Resistor_and_capacitor_across_the_coil()
    {
        const double Volts = 12, R = 1, L = 1e-3, Opens = 0.02, Rc = 10, C = 10e-6;
        LauncherSi si = Standing(Volts, R, L, Opens) with { Suppressor = SuppressorSi.None with { Conductance = 1 / Rc, Capacitance = C } };
        LaunchResult result = LaunchBench.Launch(si, Until(0.023));

        double i0 = Volts / R;
        double damping = (R + Rc) / (2 * L);
        double omega = Math.Sqrt((1 / (L * C)) - (damping * damping));
        double slope = (Volts - ((R + Rc) * i0)) / L;
        double Current(double t) => Math.Exp(-damping * t) * ((i0 * Math.Cos(omega * t)) + ((slope + (damping * i0)) / omega * Math.Sin(omega * t)));
        foreach (double t in (double[])[1e-5, 1e-4, 5e-4, 2e-3])
        {
            DampedRing.HoldDifference(Current(t), result.Trace.At((Opens + t).Seconds()).Currents[0].Amperes, i0);
        }

        // The voltage peak lies above the current times the resistor, for the capacitor charges on.
        Assert.True(result.Breaks[0].PeakCoilVoltage!.Value.Volts > (i0 * Rc) - Volts - 1e-6);
    }

    /// <summary>Suppressors side by side on one break: what each leaves as the peak voltage, and that the stiffest ends the current soonest.</summary>
    [Fact]
    public void An_arc_with_a_resistor_across_the_coil_ends_sooner()
    {
        LauncherSi bare = Passing(1, 24, 2, 1.5e-3, 4) with { Arc = Column(12, 3000) };
        double Duration(double ohms) => LaunchBench.Launch(bare with { Suppressor = SuppressorSi.None with { Conductance = ohms == 0 ? 0 : 1 / ohms } }, Until(0.06)).Breaks[0].Duration.Seconds;

        double alone = Duration(0);
        Assert.InRange(Duration(5), 1e-6, Duration(50));
        Assert.InRange(Duration(50), Duration(5), Duration(500));
        Assert.InRange(Duration(500), Duration(50), alone);
    }

    [Fact]
    public void An_arc_ends_where_the_brush_meets_the_next_strip_of_its_rail()
    {
        LaunchResult result = LaunchBench.Launch(TwoStrips(Bus.Plus, Bus.Minus) with { Arc = Column(10) }, Until(0.03));

        ContactBreak spark = result.Breaks[0];
        Assert.Equal(BreakEnding.Touched, spark.Ending);
        Assert.Equal(2e-3 / 4, spark.Duration.Seconds, 1e-9);
        Assert.Null(spark.FlashOverPosition);
    }

    [Fact]
    public void An_arc_that_reaches_the_other_rail_flashes_over_and_the_place_is_told()
    {
        LaunchResult result = LaunchBench.Launch(TwoStrips(Bus.Minus, Bus.Plus) with { Arc = Column(10) }, Until(0.03));

        ContactBreak spark = result.Breaks[0];
        Assert.Equal(BreakEnding.FlashOver, spark.Ending);
        Assert.Equal(0.022, spark.FlashOverPosition!.Value.Meters, 1e-9);
    }

    /// <summary>A bouncing switch with an arc: the current hardly falls while it is open, and the contact's closing ends the arc.</summary>
    [Fact]
    public void A_bouncing_switch_arcs_until_it_closes()
    {
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 0, 1)], [20e-3], new SourceSi(12, 0, Inf, Inf), 1, 1, atRest: 1, switchTimes: [0.02, 0.021]);
        LaunchResult with = LaunchBench.Launch(si with { Arc = Column(14) }, Until(0.021));
        LaunchResult without = LaunchBench.Launch(si, Until(0.021));

        double i0 = 12 * (1 - Math.Exp(-1));
        Assert.Equal(-2 + ((i0 + 2) * Math.Exp(-0.05)), with.Trace.At(with.Trace.End).Currents[0].Amperes, 1e-8);
        Assert.Equal(0, without.Trace.At(without.Trace.End).Currents[0].Amperes);
        LaunchResult longer = LaunchBench.Launch(si with { Arc = Column(14) }, Until(0.03));
        Assert.Equal(BreakEnding.Touched, Assert.Single(longer.Breaks).Ending);
        Assert.Equal(1e-3, longer.Breaks[0].Duration.Seconds, 1e-12);
    }

    private static LaunchOptions Until(double seconds)
        => LaunchBench.Fine with { TimeLimit = seconds.Seconds() };

    private static ArcSi Column(double fall, double perMeter = 0)
        => ArcCharacteristic.Column(fall.Volts(), ElectricField.FromVoltsPerMeter(perMeter), 0.5.Amperes()).ToSi();

    /// <summary>A sled that stands, its switch opening once.</summary>
    private static LauncherSi Standing(double volts, double ohms, double henries, double opens)
        => LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, ohms)], [henries], new SourceSi(volts, 0, Inf, Inf), 1, 1, atRest: 1, switchTimes: [opens, 10], patience: 100);

    /// <summary>A heavy sled that passes at a steady speed and leaves its strip 50 mm on, with one brush or with both.</summary>
    private static LauncherSi Passing(int contacts, double volts, double ohms, double henries, double speed)
    {
        DriveSchedule schedule = DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-1).Meters(), 0.049.Meters(), Bus.Plus)]),
                new ContactLine([new ContactStrip((-1).Meters(), (contacts == 2 ? 0.049 : 10).Meters(), Bus.Minus)]),
                new Brush(2.Millimeters())),
            0);
        return LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, ohms, schedule)], [henries], new SourceSi(volts, 0, Inf, Inf), 1e6, 10, startSpeed: speed);
    }

    /// <summary>Two strips on each line, 4 mm apart under a brush of 2 mm, passed at 4 m/s.</summary>
    private static LauncherSi TwoStrips(Bus upper, Bus lower)
    {
        DriveSchedule schedule = DriveSchedule.Of(
            LaunchBench.Commutator(2, (-100, 19, Bus.Plus, Bus.Minus), (23, 60, upper, lower)), 0);
        return LaunchBench.Si([LaunchBench.Circuit(_ => 0, 2, schedule)], [20e-3], new SourceSi(48, 0, Inf, Inf), 1e6, 10, startSpeed: 4);
    }
}
