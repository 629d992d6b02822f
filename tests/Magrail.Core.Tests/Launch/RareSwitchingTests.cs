using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>What happens seldom at contacts, against closed forms: several arcs at once, a switch amid arcs, a sled that comes back, bridges at the limit.</summary>
public class RareSwitchingTests
{
    private const double Inf = double.PositiveInfinity;

    private static LaunchOptions Until(double seconds) => LaunchBench.Fine with { TimeLimit = seconds.Seconds() };

    private static ArcSi Column(double fall, double perMeter = 0)
        => ArcCharacteristic.Column(fall.Volts(), ElectricField.FromVoltsPerMeter(perMeter), 0.5.Amperes()).ToSi();

    /// <summary>Strips on both lines, in meters, under a brush of 2 mm: so long that the brush leaves at the place given.</summary>
    private static DriveSchedule Leaves(double upper, double lower, bool reversed = false)
        => DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-1).Meters(), (upper - 1e-3).Meters(), reversed ? Bus.Minus : Bus.Plus)]),
                new ContactLine([new ContactStrip((-1).Meters(), (lower - 1e-3).Meters(), reversed ? Bus.Plus : Bus.Minus)]),
                new Brush(2.Millimeters(), 0.Ohms())),
            0);

    /// <summary>
    /// Two equal coils with mutual inductance M break one current each at the same instant: driven alike they act as L + M each, driven against each
    /// other as L − M, so t = ((L ± M)/R) ln(1 + I₀R/(U − V)).
    /// </summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Two_circuits_arc_at_once(bool against)
    {
        const double V = 12, R = 1, L = 1e-3, M = 0.4e-3, U = 20, Speed = 1;
        CircuitSi one = LaunchBench.Circuit(_ => 0, R, Leaves(0.05, 10));
        CircuitSi other = LaunchBench.Circuit(_ => 0, R, Leaves(0.05, 10, against));
        LauncherSi si = LaunchBench.Si([one, other], [L, M, M, L], new SourceSi(V, 0, Inf, Inf), 1e6, 5, startSpeed: Speed) with { Arc = Column(U) };
        LaunchResult result = LaunchBench.Launch(si, Until(0.06));

        double expected = (against ? L - M : L + M) / R * Math.Log(1 + (V / R * R / (U - V)));
        Assert.Equal(2, result.Breaks.Length);
        foreach (ContactBreak spark in result.Breaks)
        {
            Assert.Equal(BreakEnding.DiedOut, spark.Ending);
            Assert.Equal(1, spark.Duration.Seconds / expected, 1e-8);
        }

        Assert.Equal(1, result.Breaks[1].Energy / result.Breaks[0].Energy, 1e-8);
        Assert.Equal(1, result.Breaks.Sum(spark => spark.Energy.Joules) / result.Ledger.Arcs.Joules, 1e-9);
    }

    /// <summary>A brush's arc of constant voltage, and the switch opens and closes amid it: two arcs, then one. The linear circuit in three parts.</summary>
    [Fact]
    public void The_switch_opens_while_a_brush_arcs()
    {
        const double V = 48, R = 1, L = 10e-3, U = 15, Speed = 2, Leave = 0.1, Opens = 0.052, Closes = 0.053;
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, R, Leaves(Leave, 10))], [L], new SourceSi(V, 0, Inf, Inf), 1e6, 5, startSpeed: Speed, switchTimes: [Opens, Closes]) with { Arc = Column(U) };
        LaunchResult result = LaunchBench.Launch(si, Until(0.055));

        static double Part(double from, double volts, double time) => (volts / R) + ((from - (volts / R)) * Math.Exp(-R * time / L));
        double i0 = Part(0, V, Leave / Speed);
        double i1 = Part(i0, V - U, Opens - (Leave / Speed));
        double i2 = Part(i1, V - (2 * U), Closes - Opens);
        double i3 = Part(i2, V - U, 0.055 - Closes);
        Assert.Equal(i1, result.Trace.At(Opens.Seconds()).Currents[0].Amperes, 1e-7);
        Assert.Equal(i2, result.Trace.At(Closes.Seconds()).Currents[0].Amperes, 1e-7);
        Assert.Equal(i3, result.Trace.At(result.Trace.End).Currents[0].Amperes, 1e-7);
        ContactBreak spark = Assert.Single(result.Breaks);
        Assert.Equal(BreakEnding.Unfinished, spark.Ending);
    }

    /// <summary>
    /// The sled leaves its strip, turns round against a steady pull and comes back: the gap is v t − a t²/2, the arc's voltage follows it up and down, and the arc ends as
    /// the brush touches the strip again, at 2 v/a.
    /// </summary>
    [Fact]
    public void A_sled_turns_round_while_its_arc_burns()
    {
        const double V = 48, R = 2, L = 5e-3, U = 12, E = 2000, Mass = 1, Pull = 400, V0 = 2.0;

        // At the edge after 50 mm: v² = v₀² − 2 a x must leave 2 m/s there.
        double start = Math.Sqrt((V0 * V0) + (2 * Pull / Mass * 0.05));
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, R, Leaves(0.05, 10))], [L], new SourceSi(V, 0, Inf, Inf), Mass, 5, startSpeed: start, slope: Pull) with { Arc = Column(U, E) };
        double back = 2 * V0 / (Pull / Mass);
        double away = (start - V0) / (Pull / Mass);
        LaunchResult result = LaunchBench.Launch(si, Until(away + back + 1e-3));

        ContactBreak spark = result.Breaks[0];
        Assert.Equal(BreakEnding.Touched, spark.Ending);
        Assert.Equal(back, spark.Duration.Seconds, 1e-9);
        Assert.Null(spark.FlashOverPosition);

        // L i' = V − R i − U − E (v t − a t²/2): a polynomial of the second order and an exponential.
        double tau = L / R;
        const double A2 = E * 0.5 * Pull / Mass / R;
        double a1 = (-E * V0 / R) - (2 * tau * A2);
        double a0 = ((V - U) / R) - (tau * a1);
        double i0 = V / R * (1 - Math.Exp(-away / tau));
        double Current(double t) => a0 + (a1 * t) + (A2 * t * t) + ((i0 - a0) * Math.Exp(-t / tau));
        double Gap(double t) => (V0 * t) - (0.5 * Pull / Mass * t * t);
        Assert.Equal(Current(back), result.Trace.At((away + back).Seconds()).Currents[0].Amperes, 1e-6);
        double energy = MathNet.Numerics.Integration.GaussLegendreRule.Integrate(t => (U + (E * Gap(t))) * Current(t), 0, back, 64);
        Assert.Equal(1, spark.Energy.Joules / energy, 1e-8);
        Assert.Equal(CircuitConnection.Forward, result.Trace.At(result.Trace.End).Connections[0]);
    }

    /// <summary>Bridged rails on a supply at its limit I: u = (I − i/2) 4 Rb, u/2 = (R + Rb) i, so that i = 2 Rb I/(R + 2 Rb).</summary>
    [Fact]
    public void A_bridge_at_the_current_limit()
    {
        const double V = 12, I = 20, R = 1, Rb = 5e-3;
        var upper = new ContactLine([new ContactStrip((-20).Millimeters(), (-1).Millimeters(), Bus.Plus), new ContactStrip(1.Millimeters(), 20.Millimeters(), Bus.Minus)]);
        var lower = new ContactLine([new ContactStrip((-20).Millimeters(), 20.Millimeters(), Bus.Minus)]);
        DriveSchedule schedule = DriveSchedule.Of(new ContactCommutator(upper, lower, new Brush(4.Millimeters(), Rb.Ohms()), new Brush(1.Millimeters(), 0.Ohms())), 0);
        CircuitSi circuit = LaunchBench.Circuit(_ => 0, R, schedule) with { UpperBrush = new BrushSi(Rb) };
        LauncherSi si = LaunchBench.Si([circuit], [1e-3], new SourceSi(V, 0.05, I, Inf), 1, 3, atRest: 1);
        LaunchResult result = LaunchBench.Launch(si, Until(0.05));

        double expected = 2 * Rb * I / (R + (2 * Rb));
        Assert.Equal(expected, result.Trace.At(result.Trace.End).Currents[0].Amperes, 1e-8);
        Assert.Equal(I, result.PeakSourceCurrent.Amperes, 1e-9);
        Assert.Equal(4 * Rb * (I - (0.5 * expected)), result.LeastRailVoltage.Volts, 1e-7);
    }

    /// <summary>
    /// A series RC across a resting coil from switch-on: half of C V² warms the resistor and half stays in the capacitor. Once the switch opens the coil's energy
    /// and the capacitor's all go into the two resistances, in which the coil's part is R/(R + Rc).
    /// </summary>
    [Fact]
    public void A_series_RC_at_rest_takes_what_is_stored()
    {
        const double V = 12, R = 2, L = 1e-3, Rc = 10, C = 20e-6, Opens = 0.02;
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 0, R)], [L], new SourceSi(V, 0, Inf, Inf), 1, 3, atRest: 1, switchTimes: [Opens, 1], patience: 10) with
        {
            Suppressor = SuppressorSi.None with { Conductance = 1 / Rc, Capacitance = C },
        };
        LaunchResult fed = LaunchBench.Launch(si, Until(Opens));
        Assert.Equal(1, fed.Ledger.Suppressed.Joules / (C * V * V), 1e-8);

        // After the break nothing is left in coil and capacitor; the capacitor gives its half back to the two resistances.
        LaunchResult after = LaunchBench.Launch(si, Until(0.06));
        double stored = (0.5 * L * V / R * V / R) + (0.5 * C * V * V);
        Assert.Equal(stored * R / (R + Rc), after.Ledger.CoilHeat.Joules - fed.Ledger.CoilHeat.Joules, 1e-9);
        Assert.Equal((0.5 * C * V * V) + (stored * Rc / (R + Rc)), after.Ledger.Suppressed.Joules, 1e-9);
        Assert.Equal(fed.Ledger.Drawn.Joules, after.Ledger.Drawn.Joules, 1e-12);
    }

    /// <summary>
    /// A fast sled whose back-EMF exceeds the clamp: it conducts (K v − Uc)/R backward before the first strip; on the strip the coil feeds the source; as the brush leaves,
    /// the arc lasts until V + U + E gap = Uc, and the clamp goes on as before.
    /// </summary>
    [Fact]
    public void A_clamp_fed_by_back_EMF_before_and_after_an_arc()
    {
        const double V = 24, Uc = 40, U = 12, E = 10000, R = 1, L = 1e-3, K = 15, Speed = 4;
        DriveSchedule schedule = DriveSchedule.Of(LaunchBench.Commutator(2, (41, 119, Bus.Plus, Bus.Minus)), 0);
        CircuitSi circuit = LaunchBench.Circuit(_ => K, R, schedule) with { UpperBrush = new BrushSi(0), LowerBrush = new BrushSi(0) };
        LauncherSi si = LaunchBench.Si([circuit], [L], new SourceSi(V, 0, Inf, Inf), 1e9, 5, startSpeed: Speed, clamp: Uc);
        si = si with { Arc = Column(U, E), Circuits = [circuit with { Schedule = DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip(41.Millimeters(), 119.Millimeters(), Bus.Plus)]),
                new ContactLine([new ContactStrip(41.Millimeters(), 5.Meters(), Bus.Minus)]),
                new Brush(2.Millimeters(), 0.Ohms())),
            0) }] };
        LaunchResult result = LaunchBench.Launch(si, Until(0.05));

        double Current(double time) => result.Trace.At(time.Seconds()).Currents[0].Amperes;
        Assert.Equal(-((K * Speed) - Uc) / R * (1 - Math.Exp(-0.0099 * R / L)), Current(0.0099), 1e-6);
        Assert.Equal((V - (K * Speed)) / R, Current(0.0299), 1e-6);
        ContactBreak spark = Assert.Single(result.Breaks);
        Assert.Equal(-36, spark.Current.Amperes, 1e-6);
        Assert.Equal(BreakEnding.Suppressed, spark.Ending);
        Assert.Equal((Uc - V - U) / E, spark.Gap.Meters, 1e-9);
        Assert.Equal(-((K * Speed) - Uc) / R, Current(0.0499), 1e-6);
        Assert.Equal(CircuitConnection.Clamped, result.Trace.At(result.Trace.End).Connections[0]);
    }

    /// <summary>Polarity of the supply and of every magnet reversed: the same launch, arcs of the same cost; two coils, staggered contacts, a switch that bounces.</summary>
    [Fact]
    public void Reversing_everything_changes_no_arc()
    {
        LaunchResult Run(int sign)
        {
            DriveSchedule a = Leaves(0.05, 0.0507, sign < 0), b = Leaves(0.0506, 0.0502, sign < 0);
            LauncherSi si = LaunchBench.Si(
                [LaunchBench.Circuit(x => sign * Math.Cos(10 * x), 1, a, to: 1, cells: 40), LaunchBench.Circuit(x => sign * Math.Cos(8 * x), 1.5, b, to: 1, cells: 40)],
                [1e-3, 0.3e-3, 0.3e-3, 1.2e-3],
                new SourceSi(24, 0.02, Inf, Inf),
                0.1,
                0.1,
                startSpeed: 1,
                switchTimes: [3e-3, 3.2e-3]);
            return LaunchBench.Launch(si with { Arc = Column(11, 4000), BusBars = new BusBarsSi(0.2, 0, 0.2, BusFeed.Both) }, LaunchBench.Fine);
        }

        LaunchResult plus = Run(1), minus = Run(-1);
        Assert.Equal(plus.ExitSpeed.MetersPerSecond, minus.ExitSpeed.MetersPerSecond);
        Assert.Equal(plus.Ledger.Arcs.Joules, minus.Ledger.Arcs.Joules);
        Assert.True(plus.Ledger.Arcs.Joules > 1e-3);
        Assert.Equal(plus.Breaks.Select(one => one.Duration), minus.Breaks.Select(one => one.Duration));
        Assert.Equal(plus.Breaks.Select(one => -one.Current.Amperes), minus.Breaks.Select(one => one.Current.Amperes));
        Assert.Equal(1, plus.Breaks.Sum(one => one.Energy.Joules) / plus.Ledger.Arcs.Joules, 1e-9);
    }

    /// <summary>The supply's limit with an arc in the loop: I is held, the arc takes U I from the source; the place where the current would need more than V ends that.</summary>
    [Fact]
    public void An_arc_at_the_current_limit()
    {
        const double V = 60, I = 5, R = 2, L = 2e-3, U = 12, E = 20000, Speed = 2, Leave = 0.1;
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, R, Leaves(Leave, 10))], [L], new SourceSi(V, 0, I, Inf), 1e6, 5, startSpeed: Speed) with { Arc = Column(U, E) };
        LaunchResult result = LaunchBench.Launch(si, Until(0.06));

        // The limit holds until R I + U + E gap = V: 38 V/E = 1.9 mm; then L i' = −R (i − I) − E v t.
        double held = (V - (R * I) - U) / E / Speed;
        double time = Leave / Speed;
        Assert.Equal(I, result.Trace.At((time + held).Seconds()).Currents[0].Amperes, 1e-9);
        const double T = 4e-4, Tau = L / R, B = -E * Speed / R;
        double expected = I + (B * T) - (B * Tau * (1 - Math.Exp(-T / Tau)));
        Assert.Equal(expected, result.Trace.At((time + held + T).Seconds()).Currents[0].Amperes, 1e-7);
        Assert.Equal(BreakEnding.DiedOut, Assert.Single(result.Breaks).Ending);
    }
}
