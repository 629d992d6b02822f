using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Bus bars, sag, charge, warming coils, shrinking overlap and bridges against closed forms.</summary>
public class PowerPathTests
{
    private const double Inf = double.PositiveInfinity;
    private static readonly AccuracyRow BarLoop = new("current and rail voltage through bus bars, sled at rest", "Ohm's law", 1e-8, "of each");
    private static readonly AccuracyRow Charge = new("charge drawn by a coil at rest", "I (t − τ (1 − exp(−t/τ)))", 1e-9, "of it");
    private static readonly AccuracyRow Bank = new("energy from a capacitor bank", "½ C (U₀² − U²)", 1e-9, "of it");
    private static readonly AccuracyRow SteadyWarming = new("heat of a coil that warms at a steady current", "R₀ (exp(a I² t) − 1)/a, a = α R₂₀/C, but for the first microseconds", 1e-6, "of it");
    private static readonly AccuracyRow LeavingBrush = new("heat of a brush that leaves its strip at a steady current", "∫ R(o) dt in closed form, but for the first microseconds", 1e-3, "of it");
    private static readonly AccuracyRow Bridge = new("coil and source current where a brush bridges the rails", "Kirchhoff's laws", 1e-6, "of each");
    private static readonly AccuracyRow LimitedSupply = new("coil current from a supply at its limit, a resistor across the coil", "closed form of the linear circuit", 1e-9, "of it");

    /// <summary>A sled that stands in the middle of its bars: R = 2 r/2 fed at one end, 2 (r/2 ∥ r/2) fed at both.</summary>
    [Theory]
    [InlineData(BusFeed.Start, 0.25, 0.1)]
    [InlineData(BusFeed.End, 0.25, 0.3)]
    [InlineData(BusFeed.Both, 0.25, 0.075)]
    [InlineData(BusFeed.Both, 0.5, 0.1)]
    public void Bars_add_the_way_of_the_current(BusFeed feed, double part, double expected)
    {
        var bars = new BusBars(0.2.Ohms(), 0.Meters(), 2.Meters(), feed);
        Assert.Equal(expected, bars.LoopResistanceAt((2 * part).Meters()).Ohms, 1e-12);
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 0, 1)], [1e-3], new SourceSi(12, 0, Inf, Inf), 1, 3, start: 2 * part, atRest: 1) with { BusBars = bars.ToSi() };
        LaunchResult result = LaunchBench.Launch(si, Until(0.05));

        BarLoop.HoldRatio(12 / (1 + expected), result.PeakCurrent.Amperes);
        BarLoop.HoldRatio(12 / (1 + expected), result.LeastRailVoltage.Volts);
    }

    /// <summary>A heavy sled at a steady speed with little inductance: ∫ R(x) i² dt of the bars is on the ledger.</summary>
    [Fact]
    public void Bars_warm_by_their_share_while_the_sled_moves()
    {
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 0, 1)], [1e-4], new SourceSi(12, 0, Inf, Inf), 1e6, 2, startSpeed: 2) with
        {
            BusBars = new BusBarsSi(0.5, 0, 2, BusFeed.Start),
        };
        LaunchResult result = LaunchBench.Launch(si, LaunchBench.Fine);

        // i = V/(1 + 0.25 x) but for a lag of L/R: ∫ 0.25 x i² dx/v.
        double expected = MathNet.Numerics.Integration.GaussLegendreRule.Integrate(x => 0.25 * x * Math.Pow(12 / (1 + (0.25 * x)), 2) / 2, 0, 2, 32);
        Assert.Equal(1, result.Ledger.OtherHeat.Joules / expected, 2e-4);
    }

    /// <summary>A bench supply sags by its output resistance, a bank by the charge it has given.</summary>
    [Fact]
    public void The_source_sags_and_its_charge_is_counted()
    {
        LauncherSi bench = LaunchBench.Si([LaunchBench.Circuit(_ => 0, 1)], [1e-3], new SourceSi(12, 0.2, Inf, Inf), 1, 3, atRest: 1);
        LaunchResult result = LaunchBench.Launch(bench, Until(0.05));
        double i = 12 / 1.2;
        Assert.Equal(12 - (0.2 * i), result.LeastRailVoltage.Volts, 1e-8);

        // ∫ i dt = I (t − τ (1 − exp(−t/τ))).
        Charge.HoldRatio(i * (0.05 - (1e-3 / 1.2)), result.ChargeDrawn.Coulombs);
        LauncherSi bank = bench with { Source = new SourceSi(12, 0.2, Inf, 0.01) };
        LaunchResult drained = LaunchBench.Launch(bank, Until(0.05));
        double left = 12 - (drained.ChargeDrawn.Coulombs / 0.01);
        Bank.HoldRatio(0.5 * 0.01 * ((12 * 12) - (left * left)), drained.Ledger.Drawn.Joules);
    }

    /// <summary>A coil at a steady current gains R₀ (exp(a I² t) − 1)/a of heat; with R = R₀ (1 + α ΔT) that is the same temperature.</summary>
    [Fact]
    public void A_coil_that_warms_up_draws_more_volts()
    {
        const double I = 10, R0 = 0.8, Capacity = 4, Alpha = 3.93e-3, T = 2;
        var heating = new CoilHeatSi(R0, Alpha * R0 / Capacity, Capacity);
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, R0) with { Heating = [heating] }], [1e-5], new SourceSi(1000, 0, I, Inf), 1, 3, atRest: 1, patience: 100);
        LaunchResult result = LaunchBench.Launch(si, Until(T));

        double warmed = Math.Exp(heating.Growth * I * I * T);
        SteadyWarming.HoldRatio(R0 * (warmed - 1) / heating.Growth, result.Ledger.CoilHeat.Joules);
        double rise = result.Ledger.CoilHeat.Joules / Capacity;
        Assert.Equal(1, (1 + (Alpha * rise)) / warmed, 1e-6);
        Assert.InRange(rise, 40, 50);
    }

    [Fact]
    public void The_temperature_of_real_coils_follows_from_their_heat()
    {
        Launcher launcher = LaunchBench.Whole();
        LaunchResult held = LaunchBench.Launch(launcher);
        LaunchResult warm = LaunchBench.Launch(launcher with { CoilsWarmUp = true });

        double capacity = LaunchBench.Coil.ConductorMass.Kilograms * Conductor.Copper.SpecificHeatCapacity.JoulesPerKilogramKelvin;
        Assert.Equal(20 + (held.Ledger.CoilHeat.Joules / capacity), held.CoilTemperatures[0].DegreesCelsius, 1e-6);
        Assert.Equal(20 + (warm.Ledger.CoilHeat.Joules / capacity), warm.CoilTemperatures[0].DegreesCelsius, 1e-6);
        Assert.True(warm.ExitSpeed < held.ExitSpeed, "a warm coil has more resistance");
    }

    /// <summary>
    /// A brush that leaves at a steady speed and current: ∫ R(o) dt = (ℓ/v)(2 c (1 − √m) + p ln(1/m)) from full to the least overlap m, and m ℓ/v at the
    /// resistance held there.
    /// </summary>
    [Fact]
    public void A_leaving_brush_warms_by_its_shrinking_overlap()
    {
        const double I = 5, Speed = 2, Length = 4e-3, C = 6e-3, P = 2e-3, M = DriveSchedule.LeastOverlap;
        var brush = new Brush(Length.Meters(), new ContactResistance(C.Ohms(), P.Ohms()), 1.Newtons());
        var line = new ContactLine([new ContactStrip((-1).Meters(), 0.05.Meters(), Bus.Plus)]);
        var other = new ContactLine([new ContactStrip((-1).Meters(), 10.Meters(), Bus.Minus)]);
        DriveSchedule schedule = DriveSchedule.Of(new ContactCommutator(line, other, brush, new Brush(1.Millimeters(), 0.Ohms())), 0);
        CircuitSi circuit = LaunchBench.Circuit(_ => 0, 1, schedule) with { UpperBrush = brush.ToSi() };
        double end = 0.05 + (0.5 * Length);
        LauncherSi si = LaunchBench.Si([circuit], [1e-4], new SourceSi(500, 0, I, Inf), 1e6, end, start: end - Length, startSpeed: Speed);

        // The current is at its limit from the first microseconds on.
        LaunchResult result = LaunchBench.Launch(si, LaunchBench.Fine);
        double resistanceTime = Length / Speed * ((2 * C * (1 - Math.Sqrt(M))) + (P * Math.Log(1 / M)) + (M * ((C / Math.Sqrt(M)) + (P / M))));
        LeavingBrush.HoldRatio(I * I * resistanceTime, result.Ledger.OtherHeat.Joules);
        Assert.Equal(I * ((C / Math.Sqrt(M)) + (P / M)), result.PeakContactVoltage.Volts, 1e-6);
    }

    /// <summary>A brush on two strips of opposite rails: four times its resistance across the source, and the coil sees half the voltage.</summary>
    [Fact]
    public void A_bridge_draws_its_current_and_halves_the_coils_voltage()
    {
        const double V = 12, Rs = 0.1, R = 1, Rb = 5e-3;
        var upper = new ContactLine([new ContactStrip((-20).Millimeters(), (-1).Millimeters(), Bus.Plus), new ContactStrip(1.Millimeters(), 20.Millimeters(), Bus.Minus)]);
        var lower = new ContactLine([new ContactStrip((-20).Millimeters(), 20.Millimeters(), Bus.Minus)]);
        var contacts = new ContactCommutator(upper, lower, new Brush(4.Millimeters(), Rb.Ohms()), new Brush(1.Millimeters(), 0.Ohms()));
        DriveSchedule schedule = DriveSchedule.Of(contacts, 0);
        Assert.Equal(CoilDrive.Bridged, schedule.Drives[schedule.IndexAt(0, 1)]);
        CircuitSi circuit = LaunchBench.Circuit(_ => 0, R, schedule) with { UpperBrush = new BrushSi(Rb) };
        LauncherSi si = LaunchBench.Si([circuit], [1e-3], new SourceSi(V, Rs, Inf, Inf), 1, 3, atRest: 1);
        LaunchResult result = LaunchBench.Launch(si, Until(0.05));

        // u = V − Rs (u/(4 Rb) + i/2), i = (u/2)/(R + Rb).
        double rail = V / (1 + (Rs * ((1 / (4 * Rb)) + (0.25 / (R + Rb)))));
        Bridge.HoldRatio(0.5 * rail / (R + Rb), result.PeakCurrent.Amperes);
        Bridge.HoldRatio((V - rail) / Rs, result.PeakSourceCurrent.Amperes);
    }

    [Fact]
    public void A_layout_that_bridges_launches_only_where_the_user_insists()
    {
        Launcher whole = LaunchBench.Whole(3);
        var longBrush = new Brush(7.9.Millimeters(), 4.Milliohms());
        Launcher bridging = whole with { Contacts = new ContactCommutator(whole.Contacts.Upper, whole.Contacts.Lower, longBrush) };

        Assert.Contains(bridging.Validate(), fault => fault.Message.Contains("bridges", StringComparison.Ordinal));
        LaunchResult result = LaunchBench.Launch(bridging with { LaunchesWithBridges = true });
        Assert.Contains(result.Crossings, c => c.After == CircuitConnection.Bridged);
        Assert.True(result.PeakSourceCurrent.Amperes > 200, $"{result.PeakSourceCurrent}");
        Assert.Contains(result.Cautions, caution => caution.Contains("bridges", StringComparison.Ordinal));
    }

    /// <summary>A resistor across the coil and a supply at its limit: the rail voltage follows from the currents at once.</summary>
    [Fact]
    public void A_limited_supply_feeds_coil_and_resistor()
    {
        const double V = 48, I = 6, R = 1, L = 2e-3, Rp = 4, T = 4e-3;
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 0, R)], [L], new SourceSi(V, 0, I, Inf), 1, 3, atRest: 1) with
        {
            Suppressor = SuppressorSi.None with { Conductance = 1 / Rp },
        };
        LaunchResult result = LaunchBench.Launch(si, Until(T));

        // u = (I − i) Rp: L i' = Rp I − (R + Rp) i.
        double expected = Rp * I / (R + Rp) * (1 - Math.Exp(-(R + Rp) * T / L));
        LimitedSupply.HoldRatio(expected, result.Trace.At(result.Trace.End).Currents[0].Amperes);
        Assert.Equal(I, result.PeakSourceCurrent.Amperes, 1e-9);
    }

    private static LaunchOptions Until(double seconds) => LaunchBench.Fine with { TimeLimit = seconds.Seconds() };
}
