using System.Collections.Immutable;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Launch;

/// <summary>What a series of launches says of itself, from launches made up by hand.</summary>
public class SeriesWordsTests
{
    private static readonly LaunchSeries Series = new(LaunchBench.Whole(2), 20.Seconds(), 90.Seconds(), insulation: ThermalClass.F);

    private static SeriesLaunch Launch(int number, double celsius, LaunchOutcome outcome = LaunchOutcome.Released) => new(
        number, outcome, "the cause", [(celsius - 5).DegreesCelsius(), (celsius - 20).DegreesCelsius()], [(celsius - 1).DegreesCelsius(), celsius.DegreesCelsius()], 12.MetersPerSecond(), 7.Amperes(), Energy.FromJoules(3));

    private static LaunchSeriesResult Of(params IEnumerable<SeriesLaunch> launches) => new(Series, SeriesOutcome.Completed, "all done", [.. launches]);

    [Fact]
    public void A_launch_is_as_hot_as_its_hottest_coil()
    {
        SeriesLaunch launch = Launch(3, 80);
        Assert.Equal(75, launch.HottestStart.DegreesCelsius, 1e-9);
        Assert.Equal(80, launch.HottestPeak.DegreesCelsius, 1e-9);
        Assert.Equal("launch 3: 75 °C to 80 °C, exit speed 12 m/s", launch.ToString());
        Assert.Equal("steady launch: 75 °C to 80 °C, exit speed 12 m/s", Launch(0, 80).ToString());
        Assert.Equal("launch 1: 75 °C to 80 °C, not released: the cause", Launch(1, 80, LaunchOutcome.Stalled).ToString());
        Assert.Equal("steady launch: 75 °C to 80 °C, exit speed 12 m/s", new SteadyLaunches(SeriesOutcome.Completed, "settled", Launch(0, 80)).ToString());
        Assert.Equal("no steady state: too hot", new SteadyLaunches(SeriesOutcome.TooHot, "too hot", null).ToString());
    }

    /// <summary>Class F bears 155 °C; the launch that goes above is the first that does, at its limit none does.</summary>
    [Fact]
    public void The_first_above_its_class_is_counted_from_one()
    {
        Assert.Null(Of(Launch(1, 100), Launch(2, 155)).FirstAboveClass);
        Assert.Equal(2, Of(Launch(1, 100), Launch(2, 155)).LaunchesWithinClass);
        LaunchSeriesResult hot = Of(Launch(1, 100), Launch(2, 156), Launch(3, 120), Launch(4, 200));
        Assert.Equal(2, hot.FirstAboveClass);
        Assert.Equal(1, hot.LaunchesWithinClass);
        Assert.Equal(200, hot.HottestPeak.DegreesCelsius, 1e-9);
        Assert.Equal(1, Of(Launch(1, 156)).FirstAboveClass);
        Assert.Equal(1, Of(Launch(1, 100), Launch(2, 100, LaunchOutcome.Stalled)).LaunchesWithinClass);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(10)]
    [InlineData(11)]
    [InlineData(12)]
    [InlineData(13)]
    public void Of_many_launches_the_first_ten_and_the_last_are_shown(int count)
    {
        string[] lines = Of(Enumerable.Range(1, count).Select(number => Launch(number, 60 + number, number == 4 ? LaunchOutcome.Stalled : LaunchOutcome.Released))).ToString().Split(Environment.NewLine);
        List<string> numbers = [.. Enumerable.Range(1, Math.Min(10, count)).Select(number => number.ToString(System.Globalization.CultureInfo.InvariantCulture))];
        if (count > 11)
        {
            numbers.Add("…");
        }

        if (count > 10)
        {
            numbers.Add(count.ToString(System.Globalization.CultureInfo.InvariantCulture));
        }

        Assert.Equal(Series.ToString(), lines[0]);
        Assert.Equal("launch start peak exit speed", string.Join(' ', lines[1].Split(' ', StringSplitOptions.RemoveEmptyEntries)));
        Assert.Equal(numbers, lines[2..^2].Select(line => line.Trim().Split(' ')[0]));
        Assert.All(lines[2..^2], line => Assert.Equal(line.TrimStart().StartsWith("4 ", StringComparison.Ordinal), line.EndsWith("not released", StringComparison.Ordinal)));
        Assert.Equal(numbers.Count(number => number is not "4" and not "…"), lines.Count(line => line.EndsWith("12 m/s", StringComparison.Ordinal)));
        Assert.Equal($"all within {ThermalClass.F}", lines[^2]);
        Assert.Equal("all done", lines[^1]);
        Assert.Contains($"launch 2 is the first above {ThermalClass.F}", Of(Launch(1, 100), Launch(2, 156)).ToString(), StringComparison.Ordinal);
        Assert.Contains("20 s apart", Series.ToString(), StringComparison.Ordinal);
    }
}
