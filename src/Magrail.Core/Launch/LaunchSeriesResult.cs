using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using UnitsNet;

namespace Magrail;

/// <summary>A computed series of launches.</summary>
public sealed class LaunchSeriesResult
{
    internal LaunchSeriesResult(LaunchSeries series, SeriesOutcome outcome, string cause, ImmutableArray<SeriesLaunch> launches)
    {
        Series = series;
        Outcome = outcome;
        Cause = cause;
        Launches = launches;
        int index = -1;
        for (int i = 0; i < launches.Length && index < 0; i++)
        {
            index = launches[i].HottestPeak.Kelvins > series.Insulation.Limit.Kelvins ? i : -1;
        }

        FirstAboveClass = index < 0 ? null : launches[index].Number;
    }

    /// <summary>The series as described.</summary>
    public LaunchSeries Series { get; }

    /// <summary>How the series ended.</summary>
    public SeriesOutcome Outcome { get; }

    /// <summary>How the series ended, in words.</summary>
    public string Cause { get; }

    /// <summary>Every launch that was made, in order.</summary>
    public ImmutableArray<SeriesLaunch> Launches { get; }

    /// <summary>Number of the first launch that takes a coil above the thermal class, counted from 1; null where none does.</summary>
    public int? FirstAboveClass { get; }

    /// <summary>How many launches from the first on release the payload and stay within the thermal class.</summary>
    public int LaunchesWithinClass
        => FirstAboveClass is int first ? first - 1 : Launches.Count(launch => launch.Outcome == LaunchOutcome.Released);

    /// <summary>The hottest temperature of any coil in the series.</summary>
    public Temperature HottestPeak => Temperature.FromKelvins(Launches.Max(launch => launch.HottestPeak.Kelvins));

    /// <summary>A line a launch (of many, the first ten and the last), and what became of the series.</summary>
    public override string ToString()
    {
        const int Shown = 10;
        var text = new StringBuilder();
        text.AppendLine(Series.ToString());
        text.AppendLine(string.Create(CultureInfo.InvariantCulture, $"{"launch",8}{"start",12}{"peak",12}{"exit speed",14}"));
        foreach (SeriesLaunch launch in Launches)
        {
            if (launch.Number <= Shown || launch.Number == Launches.Length)
            {
                text.AppendLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{launch.Number,8}{Show.Quantity(launch.HottestStart),12}{Show.Quantity(launch.HottestPeak),12}{(launch.Outcome == LaunchOutcome.Released ? Show.Quantity(launch.EndSpeed) : "not released"),14}"));
            }
            else if (launch.Number == Shown + 1)
            {
                text.AppendLine(string.Create(CultureInfo.InvariantCulture, $"{"…",8}"));
            }
        }

        text.AppendLine(FirstAboveClass is int first
            ? string.Create(CultureInfo.InvariantCulture, $"launch {first} is the first above {Series.Insulation}")
            : $"all within {Series.Insulation}");
        return text.Append(Cause).ToString();
    }
}

/// <summary>How a series of launches ended.</summary>
public enum SeriesOutcome
{
    /// <summary>All launches were made; of a steady state, it was found.</summary>
    Completed,

    /// <summary>A launch did not release its payload.</summary>
    NotReleased,

    /// <summary>A coil would start a launch above 200 °C, where the linear temperature coefficients mean nothing.</summary>
    TooHot,

    /// <summary>The search for the steady state did not settle.</summary>
    NotSettled,
}

/// <summary>One launch of a series.</summary>
/// <param name="Number">Its number, from 1; 0 for the steady state.</param>
/// <param name="Outcome">How it ended.</param>
/// <param name="Cause">How it ended, in words.</param>
/// <param name="StartTemperatures">Temperature of each coil before it, in the order of <see cref="Sled.Coils"/>.</param>
/// <param name="PeakTemperatures">Temperature of each coil after it, which is its highest: within a launch no heat leaves.</param>
/// <param name="EndSpeed">Speed at its end; the exit speed where the payload was released.</param>
/// <param name="PeakCurrent">The greatest coil current.</param>
/// <param name="EnergyDrawn">Energy drawn from the source.</param>
public sealed record SeriesLaunch(
    int Number,
    LaunchOutcome Outcome,
    string Cause,
    ImmutableArray<Temperature> StartTemperatures,
    ImmutableArray<Temperature> PeakTemperatures,
    Speed EndSpeed,
    ElectricCurrent PeakCurrent,
    Energy EnergyDrawn)
{
    /// <summary>Temperature of the hottest coil before the launch.</summary>
    public Temperature HottestStart => StartTemperatures.MaxBy(temperature => temperature.Kelvins);

    /// <summary>Temperature of the hottest coil after the launch.</summary>
    public Temperature HottestPeak => PeakTemperatures.MaxBy(temperature => temperature.Kelvins);

    /// <summary>The launch in words.</summary>
    public override string ToString()
        => $"{(Number > 0 ? string.Create(CultureInfo.InvariantCulture, $"launch {Number}") : "steady launch")}: {Show.Quantity(HottestStart)} to {Show.Quantity(HottestPeak)}, {(Outcome == LaunchOutcome.Released ? $"exit speed {Show.Quantity(EndSpeed)}" : $"not released: {Cause}")}";
}

/// <summary>The steady state of a series, or why there is none.</summary>
/// <param name="Outcome"><see cref="SeriesOutcome.Completed"/> where it was found.</param>
/// <param name="Cause">The outcome in words.</param>
/// <param name="Launch">A launch of the steady state; null where there is none.</param>
public sealed record SteadyLaunches(SeriesOutcome Outcome, string Cause, SeriesLaunch? Launch)
{
    /// <summary>The steady state in words.</summary>
    public override string ToString() => Launch is null ? $"no steady state: {Cause}" : Launch.ToString();
}
