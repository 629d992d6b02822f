using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Generated networks of one to three coupled coils, with every source, suppressor, arc, bounce, bridge and brake: each energy stands on one entry.</summary>
public class GeneratedSwitchingTests
{
    private const double Inf = double.PositiveInfinity;
    private const double Pitch = 0.02;
    private const int Cells = 6;

    /// <summary>The ledger closes, and what the breaks cost each comes to what the ledger has for arcs and ideal breaks.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Every_energy_is_counted_once(int series)
    {
        for (int seed = 50 * series; seed < 50 * (series + 1); seed++)
        {
            LauncherSi si = Generated(new Random(seed));
            LaunchResult result = LaunchBench.Simulation(si, new LaunchOptions { TimeLimit = 0.5.Seconds() }).Run();

            string where = $"seed {seed}: {result}";
            Assert.True(result.Outcome is LaunchOutcome.Released or LaunchOutcome.RanBack or LaunchOutcome.Stalled or LaunchOutcome.TimeLimit, where);
            EnergyLedger whole = result.Braking?.Ledger ?? result.Ledger;
            Assert.True(Math.Max(result.Ledger.RelativeResidual, whole.RelativeResidual) < LaunchBench.LedgerLimit, where);
            double scale = Math.Abs(whole.Drawn.Joules) + (0.5 * si.Mass * si.StartSpeed * si.StartSpeed) + 1e-3;
            double breaks = result.Breaks.Sum(one => one.Energy.Joules);
            Assert.True(Math.Abs(breaks - whole.Arcs.Joules - whole.Breaks.Joules) < 1e-9 * scale, where);
            Assert.All(result.Breaks, one => Assert.True(one.Energy.Joules > -1e-12 && one.Duration.Seconds >= 0, where));
        }
    }

    private static LauncherSi Generated(Random g)
    {
        double Between(double a, double b) => a + ((b - a) * g.NextDouble());
        bool OneIn(int many) => g.Next(many) == 0;

        int n = g.Next(1, 4);
        double k0 = Between(0.3, 2), length = Between(0.5e-3, 3e-3), gap = Between(0.06, 0.2), stagger = OneIn(2) ? 0 : Between(-1e-3, 1e-3);

        // A brush touches a strip over the middle part of a cell; where it bridges, strips are 0.3 mm apart.
        double longer = OneIn(4) ? 0.5 * ((2 * gap * Pitch) + length - 0.3e-3) : 0;
        ContactLine Line(int first, double shift) => new(Enumerable.Range(-2, Cells + 8).Select(k => new ContactStrip(
            (((k + gap) * Pitch) + shift + (0.5 * length) - longer).Meters(),
            (((k + 1 - gap) * Pitch) + shift - (0.5 * length) + longer).Meters(),
            (k & 1) == first ? Bus.Plus : Bus.Minus)));
        Brush brush = OneIn(2)
            ? new Brush(length.Meters(), 5.Milliohms())
            : new Brush(length.Meters(), new ContactResistance(Between(1e-3, 2e-2).Ohms(), Between(1e-4, 1e-2).Ohms()), 1.Newtons());
        var contacts = new ContactCommutator(Line(0, 0), Line(1, stagger), brush);
        double[] self = [.. Enumerable.Range(0, n).Select(_ => Between(2e-4, 2e-3))];
        double[] inductances = new double[n * n];
        var circuits = new CircuitSi[n];
        for (int k = 0; k < n; k++)
        {
            double ahead = k * (OneIn(3) ? Pitch : OneIn(2) ? 0.031 : 0.025), ohms = Between(0.3, 20);
            circuits[k] = new CircuitSi
            {
                Curve = CircuitCurve.OfFunction(x => k0 * Math.Sin(Math.PI * (x + ahead) / Pitch), -4 * Pitch, (Cells + 20) * Pitch, 4 * (Cells + 24)),
                CoilResistance = ohms,
                Heating = OneIn(3) ? [new CoilHeatSi(ohms, 0.004 * ohms / 0.5, 0.5)] : [],
                UpperBrush = brush.ToSi(),
                LowerBrush = brush.ToSi(),
                Schedule = DriveSchedule.Of(contacts, ahead),
            };
            for (int j = 0; j < n; j++)
            {
                inductances[(k * n) + j] = k == j ? self[k] : (Math.Abs(k - j) == 1 ? 0.35 : 0.1) * Math.Sqrt(self[k] * self[j]);
            }
        }

        double volts = Between(5, 60), opens = Between(1e-4, 5e-3), start = Between(0, 2) * Pitch;
        double closes = opens + Between(1e-5, 1e-3), again = opens + 1.1e-3;
        double[][] bounces = [[], [opens, closes], [opens, closes, again, again + 5e-4]];
        double limit = OneIn(3) ? Between(0.5, 20) : Inf;
        LauncherSi si = LaunchBench.Si(
            circuits,
            inductances,
            new SourceSi(volts, Between(0.01, 0.3), limit, double.IsFinite(limit) || OneIn(2) ? Inf : Between(1e-3, 0.1)),
            Between(0.02, 0.3),
            Cells * Pitch,
            start: start,
            startSpeed: OneIn(2) ? 0 : Between(0, 20),
            sliding: Between(0, 0.3),
            atRest: Between(0, 0.5),
            viscous: Between(0, 0.05),
            drag: Between(0, 1e-3),
            slope: Between(-0.2, 0.6),
            switchTimes: bounces[g.Next(3)]) with
        {
            BackLimit = start - Pitch,
            Arc = OneIn(4) ? null : ArcCharacteristic.Column(Between(8, 20).Volts(), ElectricField.FromVoltsPerMeter(Between(0, 20000)), Between(0.1, 1).Amperes()).ToSi(),
            BusBars = OneIn(2) ? new BusBarsSi(Between(0, 0.5), -0.1, 1, (BusFeed)g.Next(3)) : null,
            Suppressor = g.Next(4) switch
            {
                0 => SuppressorSi.None,
                1 => SuppressorSi.None with { ClampVolts = volts + Between(1, 40) },
                2 => SuppressorSi.None with { Conductance = 1 / Between(2, 200) },
                _ => SuppressorSi.None with { Conductance = 1 / Between(2, 200), Capacitance = Between(1e-6, 1e-4) },
            },
        };
        if (!OneIn(3))
        {
            return si;
        }

        var brake = SledBrake.EddyCurrent(Between(0, 5e-3).Meters(), 0.2.Meters(), Between(1, 20).Newtons(), Between(0.5, 5).MetersPerSecond());
        return si with
        {
            Braking = new BrakingSi
            {
                Mass = 0.7 * si.Mass,
                SlidingFriction = 0.1,
                RestFriction = 0.2,
                SlopeForce = 0.7 * si.SlopeForce,
                Brake = brake.ToSi(),
                TrackEnd = si.Release + brake.Start.Meters + brake.Length.Meters,
            },
        };
    }
}
