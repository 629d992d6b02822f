using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>Rules of thumb of the workshop, as check values: common practice, no source.</summary>
public class TradeFactsTests
{
    private const double Inf = double.PositiveInfinity;

    /// <summary>A coil that draws 90 A from 48 V sits in a loop of 0.53 ohm: pack, leads, switch, brushes and copper together.</summary>
    [Fact]
    public void Ninety_amperes_from_48_volts()
    {
        Assert.Equal(0.53, 48.0 / 90, 0.005);
        CircuitSi circuit = LaunchBench.Circuit(_ => 0, 0.45, contact: 0.01);
        LauncherSi si = LaunchBench.Si([circuit], [0.4e-3], new SourceSi(48, 0.04, Inf, Inf), 1, 1, resistance: 0.03, atRest: 1);
        LaunchResult result = LaunchBench.Launch(si, LaunchBench.Fine with { TimeLimit = 0.03.Seconds() });
        Assert.InRange(result.PeakCurrent.Amperes, 89, 91);
        Assert.Equal(48 / 0.53, result.Trace.At(result.Trace.End).Currents[0].Amperes, 1e-6);
    }

    /// <summary>Two coils of 6.7 N each on 220 g reach about 9 m/s over 0.665 m: v² = 2 F s/m.</summary>
    [Fact]
    public void Two_coils_of_steady_force()
    {
        double expected = Math.Sqrt(2 * 2 * 6.7 * 0.665 / 0.22);
        Assert.Equal(9.0, expected, 0.01);

        // Two circuits alike on one supply held at 10 A: 5 A and 6.7 N each.
        LauncherSi si = LaunchBench.Si(
            [LaunchBench.Circuit(_ => 1.34, 0.5), LaunchBench.Circuit(_ => 1.34, 0.5)],
            [1e-5, 0, 0, 1e-5],
            new SourceSi(48, 0, 10, Inf),
            0.22,
            0.665);
        LaunchResult result = LaunchBench.Launch(si, LaunchBench.Fine);
        Assert.Equal(LaunchOutcome.Released, result.Outcome);
        Assert.Equal(expected, result.ExitSpeed.MetersPerSecond, 1e-3);
        Assert.Equal(6.7 * 2, result.Trace.AtPosition(0.3.Meters()).Force.Newtons, 1e-8);
        Assert.Equal(expected / result.ExitTime.Seconds, result.MeanAcceleration.MetersPerSecondSquared, 0.01);
    }

    [Fact]
    public void Speeds_in_miles_an_hour()
    {
        Assert.Equal(22.8, 10.2.MetersPerSecond().MilesPerHour, 0.05);
        Assert.Equal(19.7, Speed.FromMilesPerHour(44).MetersPerSecond, 0.05);
        Assert.Equal(102, (10.2.MetersPerSecond() / 0.1.Seconds()).MetersPerSecondSquared, 1e-9);
    }
}
