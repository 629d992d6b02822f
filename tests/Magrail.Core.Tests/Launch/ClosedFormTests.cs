using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>The engine against launches whose course is known in closed form.</summary>
public class ClosedFormTests
{
    private const double Inf = double.PositiveInfinity;

    private static readonly AccuracyRow MotorSpeed = new("linear direct-current motor with inductance, speed at two times", "matrix exponential", 1e-10, "m/s");
    private static readonly AccuracyRow RailSpeed = new("bar on rails, 38 m/s after 5 s", "closed form", 1e-8, "m/s");
    private static readonly AccuracyRow LimitSpeed = new("supply at its current limit: speed in it and after", "closed form", 1e-8, "m/s");
    private static readonly AccuracyRow ClampTime = new("current into a clamp, duration", "(L/R) ln(1 + R i₀/U)", 1e-9, "of it");
    private static readonly AccuracyRow BankCurrent = new("capacitor discharge in three dampings, peak current", "closed form of the series circuit", 2e-9, "of it");

    /// <summary>m v' = K i, L i' = V − R i − K v: linear, by its two poles.</summary>
    internal static (double V, double I) Linear(double volts, double r, double l, double k, double m, double t, double v0 = 0, double i0 = 0)
    {
        double a = r / (2 * l);
        double d = Math.Sqrt((a * a) - (k * k / (m * l)));
        double fast = -a - d;
        double slow = k * k / (m * l) / fast;
        double end = volts / k;

        // v = end + A e^(slow t) + B e^(fast t); v(0) = v0, v'(0) = K i0 / m.
        double slope = k * i0 / m;
        double b = (slope - (slow * (v0 - end))) / (fast - slow);
        double c = v0 - end - b;
        double v = end + (c * Math.Exp(slow * t)) + (b * Math.Exp(fast * t));
        double dv = (c * slow * Math.Exp(slow * t)) + (b * fast * Math.Exp(fast * t));
        return (v, m * dv / k);
    }

    private static LauncherSi Motor(double volts, double r, double l, double k, double m, double limit = Inf)
        => LaunchBench.Si([LaunchBench.Circuit(_ => k, r)], [l], new SourceSi(volts, 0, limit, Inf), m, 900);

    private static LaunchOptions Until(double seconds) => LaunchBench.Fine with { TimeLimit = seconds.Seconds() };

    /// <summary>Linear direct-current motor with inductance; v and i by the matrix exponential of the two linear equations.</summary>
    [Theory]
    [InlineData(0.02, 2.0925321277, 18.9645648257)]
    [InlineData(0.1, 6.7595505663, double.NaN)]
    public void Linear_motor_with_inductance(double time, double speed, double current)
    {
        LaunchResult result = LaunchBench.Launch(Motor(12, 0.5, 2e-3, 1.5, 0.25), Until(time));
        Assert.Equal(LaunchOutcome.TimeLimit, result.Outcome);
        MotorSpeed.HoldDifference(speed, result.EndSpeed.MetersPerSecond);
        LaunchSample end = result.Trace.At(result.Trace.End);
        if (!double.IsNaN(current))
        {
            Assert.Equal(current, end.Currents[0].Amperes, 2e-10);
        }

        // And everywhere on the way, inside steps too.
        foreach (LaunchSample sample in result.Trace.Samples(101))
        {
            (double v, double i) = Linear(12, 0.5, 2e-3, 1.5, 0.25, sample.Time.Seconds);
            Assert.Equal(v, sample.Speed.MetersPerSecond, 1e-7);
            Assert.Equal(i, sample.Currents[0].Amperes, 1e-6);
        }
    }

    /// <summary>
    /// Bar on rails, 0.80 T × 0.50 m, 24 V, 0.40 ohm, 2.0 kg: v(5 s) = 60 (1 − 1/e) m/s without inductance. With L the slow
    /// pole moves by the part K² L/(m R²), which is what the last line allows, and no more.
    /// </summary>
    [Fact]
    public void Bar_on_rails()
    {
        const double L = 1e-5, R = 0.4, K = 0.4, M = 2;
        LaunchResult result = LaunchBench.Launch(Motor(24, R, L, K, M), Until(5));
        RailSpeed.HoldDifference(Linear(24, R, L, K, M, 5).V, result.EndSpeed.MetersPerSecond);
        double limit = 24 / K * (1 - Math.Exp(-K * K * 5 / (M * R)));
        Assert.Equal(37.9272335297, limit, 1e-10);
        Assert.InRange(Math.Abs((result.EndSpeed.MetersPerSecond / limit) - 1), 0, 2 * K * K * L / (M * R * R));
    }

    /// <summary>A supply at its limit: constant acceleration K I/m until the voltage it takes, R I + K v, reaches what it has.</summary>
    [Fact]
    public void Supply_at_its_current_limit()
    {
        const double V = 24, R = 0.4, L = 1e-3, K = 0.4, M = 0.2, I = 10;
        double a = 0, b = 1e-3;
        while (Linear(V, R, L, K, M, b).I < I)
        {
            b *= 1.1;
        }

        for (int n = 0; n < 200; n++)
        {
            double middle = 0.5 * (a + b);
            (a, b) = Linear(V, R, L, K, M, middle).I < I ? (middle, b) : (a, middle);
        }

        double v1 = Linear(V, R, L, K, M, b).V;
        double v2 = (V - (R * I)) / K;
        double t2 = b + ((v2 - v1) * M / (K * I));
        LaunchResult result = LaunchBench.Launch(Motor(V, R, L, K, M, I), Until(t2 + 0.3));
        double mid = 0.5 * (b + t2);
        LaunchSample sample = result.Trace.At(mid.Seconds());
        LimitSpeed.HoldDifference(v1 + (K * I / M * (mid - b)), sample.Speed.MetersPerSecond);
        Assert.Equal(I, sample.Currents[0].Amperes, 1e-9);
        (double v, double i) = Linear(V, R, L, K, M, 0.3, v2, I);
        LimitSpeed.HoldDifference(v, result.EndSpeed.MetersPerSecond);
        Assert.Equal(i, result.Trace.At(result.Trace.End).Currents[0].Amperes, 1e-8);
        Assert.Equal(I, result.PeakCurrent.Amperes, 1e-8);
    }

    /// <summary>A coil at rest into a clamp: i falls to zero in (L/R) ln(1 + R i₀/U).</summary>
    [Theory]
    [InlineData(5)]
    [InlineData(40)]
    [InlineData(400)]
    public void Break_into_a_clamp(double clamp)
    {
        const double V = 24, R = 1.2, L = 0.7e-3, Opens = 1e-3;
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, R)], [L], new SourceSi(V, 0, Inf, Inf), 1, 1, clamp: clamp, atRest: 1, switchTimes: [Opens, 1]);
        LaunchResult result = LaunchBench.Launch(si, Until(0.01));
        double i0 = V / R * (1 - Math.Exp(-R * Opens / L));
        double duration = L / R * Math.Log(1 + (R * i0 / clamp));
        ContactCrossing opening = Assert.Single(result.Crossings, c => c.After == CircuitConnection.Clamped);
        ContactCrossing spent = Assert.Single(result.Crossings, c => c.Before == CircuitConnection.Clamped);
        Assert.Equal(Opens, opening.Time.Seconds, 1e-15);
        Assert.Equal(i0, opening.CurrentBefore.Amperes, 1e-9 * i0);
        Assert.Equal(CircuitConnection.Open, spent.After);
        ClampTime.HoldRatio(duration, spent.Time.Seconds - opening.Time.Seconds);

        // The clamp takes U times the charge that flows: ∫ i dt over the decay = (L i₀ − U t)/R.
        Assert.Equal(1, result.Ledger.Suppressed.Joules / (clamp * ((L * i0) - (clamp * duration)) * (1 / R)), 1e-8);
    }

    /// <summary>An ideal break loses the whole field energy, ½ L i².</summary>
    [Fact]
    public void Ideal_break_loses_the_field()
    {
        const double V = 24, R = 1.2, L = 0.7e-3, Opens = 1e-3;
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, R)], [L], new SourceSi(V, 0, Inf, Inf), 1, 1, atRest: 1, switchTimes: [Opens, 1]);
        LaunchResult result = LaunchBench.Launch(si, Until(0.01));
        double i0 = V / R * (1 - Math.Exp(-R * Opens / L));
        Assert.Equal(1, result.Ledger.Breaks.Joules / (0.5 * L * i0 * i0), 1e-9);
        Assert.Equal(0, result.Ledger.Magnetic.Joules);
    }

    /// <summary>
    /// A capacitor of 1 mF at 100 V into 1 mH with the sled held, in its three dampings: time and height of the first peak
    /// (closed form of the series circuit).
    /// </summary>
    [Theory]
    [InlineData(0.1, 1.52268001e-3, 92.6692021)]
    [InlineData(2, 1e-3, 36.7879441)]
    [InlineData(10, 0.467940655e-3, 9.63562253)]
    public void Capacitor_discharge(double r, double peakTime, double peak)
    {
        const double L = 1e-3, C = 1e-3, V = 100;
        LauncherSi si = LaunchBench.Si([LaunchBench.Circuit(_ => 0, r)], [L], new SourceSi(V, 0, Inf, C), 1, 1, atRest: 1, patience: 10);
        LaunchResult atPeak = LaunchBench.Launch(si, Until(peakTime));
        BankCurrent.HoldRatio(peak, atPeak.Trace.At(atPeak.Trace.End).Currents[0].Amperes);
        const double T = 4e-3;
        LaunchResult result = LaunchBench.Launch(si, Until(T));
        (double i, double u) = Series(V, r, L, C, T);
        Assert.Equal(i, result.Trace.At(result.Trace.End).Currents[0].Amperes, 1e-9 * peak);

        // What the bank gave, ½ C (V² − u²), is what the ledger has as drawn.
        Assert.Equal(1, result.Ledger.Drawn.Joules / (0.5 * C * ((V * V) - (u * u))), 1e-9);
        foreach (LaunchSample sample in result.Trace.Samples(50))
        {
            Assert.Equal(Series(V, r, L, C, sample.Time.Seconds).I, sample.Currents[0].Amperes, 1e-7 * peak);
            Assert.Equal(0, sample.Speed.MetersPerSecond);
        }
    }

    private static (double I, double U) Series(double v, double r, double l, double c, double t)
    {
        double a = r / (2 * l);
        double square = (a * a) - (1 / (l * c));
        double e = Math.Exp(-a * t);
        if (Math.Abs(square) < 1e-9 * a * a)
        {
            return (v / l * t * e, v * (1 + (a * t)) * e);
        }

        double w = Math.Sqrt(Math.Abs(square));
        (double s, double k) = square < 0 ? (Math.Sin(w * t), Math.Cos(w * t)) : (Math.Sinh(w * t), Math.Cosh(w * t));
        return (v / (w * l) * s * e, v * (k + (a / w * s)) * e);
    }

    /// <summary>Two circuits with mutual inductance, fed together at rest: sum and difference of the currents are two simple circuits.</summary>
    [Fact]
    public void Two_coupled_circuits_at_rest()
    {
        const double V = 20, R = 1, L = 1e-3, M = -0.3e-3, Rs = 0.2, T = 0.8e-3;
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, R), LaunchBench.Circuit(_ => 0, R)], [L, M, M, L], new SourceSi(V, Rs, Inf, Inf), 1, 1, atRest: 1);
        LaunchResult result = LaunchBench.Launch(si, Until(T));

        // Equal currents: (L + M) i' = V − (R + 2 Rs) i.
        double r = R + (2 * Rs);
        double expected = V / r * (1 - Math.Exp(-r * T / (L + M)));
        LaunchSample end = result.Trace.At(result.Trace.End);
        Assert.Equal(expected, end.Currents[0].Amperes, 1e-9 * expected);
        Assert.Equal(expected, end.Currents[1].Amperes, 1e-9 * expected);
        Assert.Equal((L + M) * expected * expected, result.Ledger.Magnetic.Joules, 1e-9);
    }

    /// <summary>Two coupled circuits, one broken ideally: the other keeps its flux linkage, and the ledger closes.</summary>
    [Fact]
    public void Ideal_break_beside_a_coupled_circuit()
    {
        const double V = 20, R = 1, L = 1e-3, M = 0.4e-3;
        DriveSchedule shorted = DriveSchedule.Of(
            new ContactCommutator(
                new ContactLine([new ContactStrip((-1).Meters(), 10.Meters(), Bus.Plus)]),
                new ContactLine([new ContactStrip((-1).Meters(), 10.Meters(), Bus.Plus)]),
                new Brush(1.Millimeters())),
            0);
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 0, R), LaunchBench.Circuit(_ => 0, R, shorted)],
            [L, M, M, L], new SourceSi(V, 0, Inf, Inf), 1, 1, atRest: 1, switchTimes: [1e-3, 1]);
        LaunchResult result = LaunchBench.Launch(si, Until(2e-3));
        ContactCrossing broken = Assert.Single(result.Crossings, c => c.Before == CircuitConnection.Forward);
        LaunchSample before = result.Trace.At((broken.Time.Seconds * (1 - 1e-13)).Seconds());
        LaunchSample after = result.Trace.At((broken.Time.Seconds * (1 + 1e-12)).Seconds());
        double linkage = (L * before.Currents[1].Amperes) + (M * before.Currents[0].Amperes);
        Assert.Equal(linkage, L * after.Currents[1].Amperes, 1e-9 * L);
        Assert.Equal(0, after.Currents[0].Amperes);
        Assert.True(result.Ledger.Breaks.Joules > 0);
    }
}
