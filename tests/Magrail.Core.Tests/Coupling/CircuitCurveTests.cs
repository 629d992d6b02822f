using Magrail.Numerics;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Coupling;

public sealed class CircuitCurveTests
{
    private const double Millimeter = 1e-3;

    private static readonly BlockMagnet Magnet = new(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);

    private static readonly CoilSi Wide = new(
        6 * Millimeter, 9 * Millimeter, 3 * Millimeter, new(0, 6 * Millimeter, -3.5 * Millimeter, 3.5 * Millimeter, 180), default);

    private static readonly CoilSi Round = new(
        8 * Millimeter, 8 * Millimeter, 8 * Millimeter, new(0, 3 * Millimeter, -3.5 * Millimeter, 3.5 * Millimeter, 70), default);

    [Theory]
    [InlineData(1, 1e-7)]
    [InlineData(2, 1e-7)]
    [InlineData(12, 1e-7)]
    [InlineData(12, 1e-11)]
    [InlineData(300, 1e-7)]
    public void Curve_of_a_circuit_is_the_sum_over_coils_and_stations(int stations, double accuracy)
    {
        var track = Track.OfFacingPairs(Magnet, 10.Millimeters(), stations, 20.Millimeters());
        CircuitCoil[] coils = [new(Wide, 0, 1), new(Round, -31 * Millimeter, -1)];
        CheckSum(track, coils, -0.07, (0.02 * stations) + 0.05, accuracy);
    }

    [Fact]
    public void Given_polarities_are_followed()
    {
        Polarity[] pairs = [Polarity.Positive, Polarity.Positive, Polarity.Negative];
        var track = Track.OfFacingPairs(Magnet, 10.Millimeters(), 23, 19.Millimeters(), pairs);
        CheckSum(track, [new(Wide, 4 * Millimeter, 1)], -0.02, 0.4, 1e-7);
        var alike = Track.OfFacingPairs(Magnet, 10.Millimeters(), 40, 25.Millimeters(), [Polarity.Negative]);
        CheckSum(alike, [new(Wide, 0, 1)], 0, 1, 1e-7);
    }

    [Fact]
    public void Equal_pitches_of_a_long_track_share_their_cells()
    {
        CircuitCoil[] coils = [new(Wide, 0, 1)];
        var hundred = CircuitCurve.Compile(Track.OfFacingPairs(Magnet, 10.Millimeters(), 400, 20.Millimeters()), coils, 0, 7.98);
        var thousand = CircuitCurve.Compile(Track.OfFacingPairs(Magnet, 10.Millimeters(), 1000, 20.Millimeters()), coils, 0, 19.98);

        // The middle of a long track adds nothing new.
        Assert.Equal(hundred.DistinctCells, thousand.DistinctCells);
        Assert.Equal(hundred.Peak, thousand.Peak, thousand.ErrorBound);

        // Far from the ends the curve repeats with two pitches and turns round with one.
        for (double x = 9.9; x < 9.94; x += 0.0007)
        {
            Assert.Equal(thousand.At(x), -thousand.At(x + 0.02), 2 * thousand.ErrorBound);
            Assert.Equal(thousand.At(x), thousand.At(x + 0.04), 2 * thousand.ErrorBound);
        }
    }

    [Fact]
    public void Same_geometry_is_compiled_once_and_scales_with_turns_and_remanence()
    {
        var strong = Track.OfFacingPairs(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N52), 10.Millimeters(), 9, 20.Millimeters());
        var weak = Track.OfFacingPairs(Magnet, 10.Millimeters(), 9, 20.Millimeters());
        CoilSi fewer = Wide with { Full = Wide.Full with { Turns = 45 } };
        var first = CircuitCurve.Compile(weak, [new(Wide, 0, 1)], 0, 0.16);
        var second = CircuitCurve.Compile(strong, [new(fewer, 0, 1)], 0, 0.16);
        double ratio = 45.0 / 180 * MagnetGrade.N52.Remanence.Teslas / MagnetGrade.N42.Remanence.Teslas;
        Assert.True(first.SharesCellsWith(second));
        foreach (double x in new[] { 0.003, 0.05, 0.111 })
        {
            Assert.Equal(ratio, second.At(x) / first.At(x), 1e-12);
        }

        // Other turns in one coil alone are another curve.
        var mixed = CircuitCurve.Compile(weak, [new(Wide, 0, 1), new(fewer, 0.02, -1)], 0, 0.16);
        var other = CircuitCurve.Compile(weak, [new(Wide, 0, 1), new(Wide, 0.02, -1)], 0, 0.16);
        Assert.False(mixed.SharesCellsWith(other));
    }

    [Fact]
    public void Warm_magnets_pull_less_by_their_coefficient()
    {
        var track = Track.OfFacingPairs(Magnet, 10.Millimeters(), 9, 20.Millimeters());
        var cold = CircuitCurve.Compile(track, [new(Wide, 0, 1)], 0, 0.16);
        Temperature sixty = Temperature.FromDegreesCelsius(60);
        var warm = CircuitCurve.Compile(track, [new(Wide, 0, 1)], 0, 0.16, magnets: sixty);
        double ratio = MagnetGrade.N42.RemanenceAt(sixty).Teslas / MagnetGrade.N42.Remanence.Teslas;
        Assert.True(ratio < 0.96);
        Assert.Equal(ratio, warm.At(0.05) / cold.At(0.05), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(
            () => CircuitCurve.Compile(track, [new(Wide, 0, 1)], 0, 0.16, magnets: Temperature.FromDegreesCelsius(150)));
    }

    [Fact]
    public void Evaluation_allocates_nothing_and_is_zero_outside_the_path()
    {
        var track = Track.OfFacingPairs(Magnet, 10.Millimeters(), 9, 20.Millimeters());
        var curve = CircuitCurve.Compile(track, [new(Wide, 0, 1)], 0, 0.16);
        Assert.Equal(0, curve.At(-1e-9));
        Assert.Equal(0, curve.At(0.16 + 1e-9));
        Assert.NotEqual(0, curve.At(0.155));
        Assert.True(double.IsNaN(curve.At(double.NaN)));

        // A first round lets the runtime make what it makes once.
        Assert.True(double.IsFinite(Sweep(curve)));
        double sum = 0;
        Assert.Equal(0, Allocation.LeastOf(() => sum += Sweep(curve)));
        Assert.True(double.IsFinite(sum));

        static double Sweep(CircuitCurve curve)
        {
            double sum = 0;
            for (int i = 0; i < 10_000; i++)
            {
                sum += curve.At(1.6e-5 * i);
            }

            return sum;
        }
    }

    [Theory]
    [InlineData(10)]
    [InlineData(1000)]
    public void Evaluation_is_one_polynomial_of_one_cell_however_many_stations_there_are(int stations)
    {
        var track = Track.OfFacingPairs(Magnet, 10.Millimeters(), stations, 20.Millimeters());
        double to = (0.02 * stations) - 0.02;
        var curve = CircuitCurve.Compile(track, [new(Wide, 0, 1)], 0, to);
        double width = curve.CellWidth;
        Assert.True(width > 1e-3, $"{width} m");

        // Twelve samples of a cell, the outer ones a hair inside it, give the polynomial; everywhere else in it the curve is that polynomial, to rounding (of the place too: K
        // changes by its peak in some 5 mm, and x is rounded at 2e-15 m).
        Span<double> samples = stackalloc double[12];
        Span<double> powers = stackalloc double[12];
        for (int n = 0; n < 50; n++)
        {
            double low = width * Math.Floor((0.01 + (0.0196 * n)) * to / width);
            for (int i = 0; i < 12; i++)
            {
                double node = Math.Clamp(PiecewisePolynomial.CellNodes[i], -1 + 1e-11, 1 - 1e-11);
                samples[i] = curve.At(low + (0.5 * width * (1 + node)));
            }

            PiecewisePolynomial.Interpolate(samples, powers);
            foreach (double s in new[] { -0.93, -0.4, 0.1, 0.77 })
            {
                double expected = PiecewisePolynomial.Evaluate(powers, s);
                Assert.Equal(expected, curve.At(low + (0.5 * width * (1 + s))), 2e-11 * curve.Peak);
            }
        }
    }

    [Fact]
    public void Stations_in_the_middle_of_a_long_track_cost_a_few_bytes_each()
    {
        CircuitCoil[] coils = [new(Wide, 0, 1)];
        long thousand = CircuitCurve.Compile(Track.OfFacingPairs(Magnet, 10.Millimeters(), 1000, 20.Millimeters()), coils, 0, 19.98).Bytes;
        long two = CircuitCurve.Compile(Track.OfFacingPairs(Magnet, 10.Millimeters(), 2000, 20.Millimeters()), coils, 0, 39.98).Bytes;
        Assert.InRange(two - thousand, 1000 * 4, 1000 * 100);
        Assert.InRange(thousand, 1000 * 4, 1_000_000);
    }

    [Fact]
    public void Neighboring_cells_meet()
    {
        var track = Track.OfFacingPairs(Magnet, 10.Millimeters(), 30, 20.Millimeters());
        var curve = CircuitCurve.Compile(track, [new(Wide, 0, 1)], 0, 0.58);
        double worst = 0;
        for (double x = 0.0005; x < 0.5795; x += 0.0005)
        {
            worst = Math.Max(worst, Math.Abs(curve.At(x + 1e-12) - curve.At(x - 1e-12)));
        }

        Assert.True(worst < curve.ErrorBound, $"{worst:E2} against {curve.ErrorBound:E2}");
    }

    [Fact]
    public void Wrong_descriptions_are_refused()
    {
        var track = Track.OfFacingPairs(Magnet, 10.Millimeters(), 9, 20.Millimeters());
        Assert.Throws<ArgumentOutOfRangeException>(() => CircuitCurve.Compile(track, [], 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CircuitCurve.Compile(track, [new(Wide, 0, 2)], 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CircuitCurve.Compile(track, [new(Wide, 0, 1)], 1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => CircuitCurve.Compile(track, [new(Wide, 0, 1)], 0, 1, 1e-14));
        Assert.Throws<ArgumentOutOfRangeException>(() => CircuitCurve.Compile(track, [new(Wide, double.NaN, 1)], 0, 1));
    }

    private static void CheckSum(Track track, CircuitCoil[] coils, double from, double to, double accuracy)
    {
        var curve = CircuitCurve.Compile(track, coils, from, to, accuracy);
        double stationPeak = 0;
        double worst = 0;
        double at = 0;
        for (int i = 0; i <= 400; i++)
        {
            double x = Math.Clamp(from + ((to - from) * i / 400), from, to);
            double expected = 0;
            foreach (CircuitCoil coil in coils)
            {
                for (int s = 0; s < track.StationCount; s++)
                {
                    StationSi station = track.Stations[s].ToSi();
                    var k = StationCurve.Of(coil.Coil, station, Math.Min(1e-9, 0.1 * accuracy));
                    double sign = track.Polarities[s] == Polarity.Positive ? coil.Sense : -coil.Sense;
                    expected += sign * coil.Coil.Turns * station.Remanence * k.At(x + coil.Offset - track.Positions[s].Meters);
                    stationPeak = Math.Max(stationPeak, coil.Coil.Turns * station.Remanence * k.Peak);
                }
            }

            double error = Math.Abs(curve.At(x) - expected);
            (worst, at) = error > worst ? (error, x) : (worst, at);
        }

        Assert.True(worst <= accuracy * stationPeak, $"{worst / stationPeak:E2} of a station's peak at {at}");
        Assert.True(worst <= curve.ErrorBound * (1 + 1e-3), $"{worst:E2} beyond the bound {curve.ErrorBound:E2}");
        Assert.True(curve.ErrorBound < 2 * accuracy * stationPeak);
    }
}
