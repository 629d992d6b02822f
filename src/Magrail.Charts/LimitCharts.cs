using System.Globalization;
using UnitsNet;

namespace Magrail.Charts;

/// <summary>
/// The charts of what wears and what binds: limits, breaks at the contacts, launches in a row, what each effect costs, and the braking after
/// the release.
/// </summary>
public static class LimitCharts
{
    /// <summary>The longest bar of the chart of limits, in percent: far beyond a limit, how far no longer matters.</summary>
    private const double LongestPercent = 200;

    private static readonly ChartAxis Position = new("position", "m");

    /// <summary>Every limit of a launch as a bar up to 100 % of it.</summary>
    /// <param name="launch">The launch.</param>
    /// <returns>The chart; see <see cref="Limits(LimitTable)"/>.</returns>
    /// <exception cref="ArgumentException">The launcher states no limit.</exception>
    public static BarChart Limits(LaunchResult launch)
    {
        ArgumentNullException.ThrowIfNull(launch);
        return Limits(launch.Limits);
    }

    /// <summary>
    /// Every limit as a bar: how much of it is used, with the limit itself at 100 %, the one that binds first at the top. A bar beyond it is dark
    /// and hatched, and its words say so; it ends at 200 % where it would be longer.
    /// </summary>
    /// <param name="table">The limits, in the order in which they bind.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There is no limit.</exception>
    public static BarChart Limits(LimitTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        if (table.Limits.IsEmpty)
        {
            throw new ArgumentException("No limit is stated: there is nothing to show.", nameof(table));
        }

        ChartBar[] bars =
        [
            .. table.Limits.Select(limit => new ChartBar(
                limit.Name,
                0,
                Math.Clamp(100 * (1 - limit.Margin), 0, LongestPercent),
                limit.IsBroken ? ChartBarKind.Broken : ChartBarKind.Plain)
            { Words = Words(limit) }),
        ];
        int broken = table.Limits.Count(limit => limit.IsBroken);
        Limit binding = table.Limits[0];
        string head = broken switch
        {
            0 => $"All {table.Limits.Length} limits hold",
            1 => $"1 of {table.Limits.Length} limits is broken",
            _ => $"{broken} of {table.Limits.Length} limits are broken",
        };
        return new BarChart("How near each limit is", new ChartAxis("part of the limit used", "%"), bars)
        {
            Marks = [new ChartMark("limit", 100)],
            Description = $"{head}; the nearest is {binding.Name}. {string.Join("; ", bars.Select(bar => $"{bar.Name}: {bar.Words}"))}.",
            Note = table.Limits.Any(limit => 100 * (1 - limit.Margin) > LongestPercent) ? $"Bars end at {LongestPercent} %." : null,
        };
    }

    /// <summary>
    /// Every contact that parted under current: what it broke and the energy that was spent at the contact, against the position of the sled, and
    /// the voltage that the break left on the coil, where it is known.
    /// </summary>
    /// <param name="launch">The launch.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">No contact parted under current.</exception>
    public static LineChart Breaks(LaunchResult launch)
    {
        ArgumentNullException.ThrowIfNull(launch);
        if (launch.Breaks.IsEmpty)
        {
            throw new ArgumentException("No contact parted under current: there is nothing to show.", nameof(launch));
        }

        ContactBreak[] plain = [.. launch.Breaks.Where(one => one.FlashOverPosition is null)];
        ContactBreak[] flashed = [.. launch.Breaks.Where(one => one.FlashOverPosition is not null)];
        ContactBreak[] bounded = [.. launch.Breaks.Where(one => one.PeakCoilVoltage is not null)];
        var energies = new List<ChartSeries>();
        if (plain.Length > 0)
        {
            energies.Add(Points("energy", plain, Millijoules) with { Tone = ChartTone.Rust });
        }

        if (flashed.Length > 0)
        {
            energies.Add(Points("energy, with flash-over", flashed, Millijoules) with { Tone = ChartTone.Plum });
        }

        var panels = new List<ChartPanel>
        {
            new(new ChartAxis("current broken", "A"), Points("current", launch.Breaks, one => Math.Abs(one.Current.Amperes)) with { Tone = ChartTone.Ink }) { FromZero = true },
            new(new ChartAxis("energy at the contact", "mJ"), energies) { FromZero = true },
        };
        if (bounded.Length > 0)
        {
            panels.Add(new ChartPanel(
                new ChartAxis("greatest voltage across the coil", "V"),
                Points("voltage", bounded, one => Math.Abs(one.PeakCoilVoltage!.Value.Volts)) with { Tone = ChartTone.Teal })
            { FromZero = true });
        }

        int arcs = launch.Breaks.Count(one => one.Duration.Seconds > 0);
        ContactBreak worst = launch.Breaks.MaxBy(one => one.Energy.Joules)!;
        ContactBreak strongest = launch.Breaks.MaxBy(one => Math.Abs(one.Current.Amperes))!;
        Energy total = Energy.FromJoules(launch.Breaks.Sum(one => one.Energy.Joules));
        string voltage = bounded.MaxBy(one => Math.Abs(one.PeakCoilVoltage!.Value.Volts)) is ContactBreak highest
            ? $"The coil sees up to {Show.Quantity(ElectricPotential.FromVolts(Math.Abs(highest.PeakCoilVoltage!.Value.Volts)))}, at {Show.Quantity(highest.Position)}."
            : "The ideal break puts no bound on the voltage across the coil.";
        string flash = flashed.Length > 0 ? $" At {flashed.Length} the arc reaches the other rail, first at {Show.Quantity(flashed[0].FlashOverPosition!.Value)}." : string.Empty;
        string spent = total.Joules > 0 ? $"{Show.Quantity(total)} is spent at the contacts, at most {Show.Quantity(worst.Energy)} at once, at {Show.Quantity(worst.Position)}." : "Nothing is spent at the contacts.";
        return LaunchCharts.WithRibbon(new LineChart("What the contacts break", Position, panels), launch.Launcher.Track, null, null) with
        {
            Description = string.Create(
                CultureInfo.InvariantCulture,
                $"{launch.Breaks.Length} contacts part under current, {arcs} of them with an arc. The greatest current broken is {Show.Quantity(ElectricCurrent.FromAmperes(Math.Abs(strongest.Current.Amperes)))}, at {Show.Quantity(strongest.Position)}. {spent} {voltage}{flash}"),
        };
    }

    /// <summary>Launches in a row: how hot the hottest coil is before and after each, and how fast each one is.</summary>
    /// <param name="series">The computed series.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There is no launch in it.</exception>
    public static LineChart LaunchesInARow(LaunchSeriesResult series)
    {
        ArgumentNullException.ThrowIfNull(series);
        if (series.Launches.IsEmpty)
        {
            throw new ArgumentException("The series has no launch: there is nothing to show.", nameof(series));
        }

        double[] number = [.. series.Launches.Select(launch => (double)launch.Number)];
        double limit = series.Series.Insulation.Limit.DegreesCelsius;
        double first = series.Launches[0].HottestStart.DegreesCelsius;

        // A limit far above the temperatures would flatten them and say little: the words below name it.
        bool isNear = series.HottestPeak.DegreesCelsius - first > 0.3 * (limit - first);
        var panels = new List<ChartPanel>
        {
            new(
                new ChartAxis("temperature of the hottest coil", "°C"),
                new ChartSeries("after the launch", number, [.. series.Launches.Select(launch => launch.HottestPeak.DegreesCelsius)]) { Tone = ChartTone.Rust, Points = true },
                new ChartSeries("before it", number, [.. series.Launches.Select(launch => launch.HottestStart.DegreesCelsius)]) { Tone = ChartTone.Ink, Points = true })
            { Levels = isNear ? [new ChartMark(series.Series.Insulation.ToString(), limit)] : [] },
        };
        SeriesLaunch[] released = [.. series.Launches.Where(launch => launch.Outcome == LaunchOutcome.Released)];
        if (released.Length > 0)
        {
            panels.Add(new ChartPanel(
                new ChartAxis("exit speed", "m/s"),
                new ChartSeries("exit speed", [.. released.Select(launch => (double)launch.Number)], [.. released.Select(launch => launch.EndSpeed.MetersPerSecond)]) { Tone = ChartTone.Teal, Points = true }));
        }

        string verdict = series.FirstAboveClass is int above
            ? string.Create(CultureInfo.InvariantCulture, $"Launch {above} is the first above {series.Series.Insulation}.")
            : $"All stay within {series.Series.Insulation}.";
        string speeds = released.Length > 0 ? $" The exit speed goes from {Show.Quantity(released[0].EndSpeed)} to {Show.Quantity(released[^1].EndSpeed)}." : string.Empty;
        return new LineChart("Launches in a row", new ChartAxis("number of the launch", string.Empty), panels)
        {
            Description = string.Create(
                CultureInfo.InvariantCulture,
                $"{series.Launches.Length} launches, {Show.Quantity(series.Series.Interval)} apart. The hottest coil starts at {Show.Quantity(series.Launches[0].HottestStart)} and is at {Show.Quantity(series.Launches[^1].HottestPeak)} after the last; at most {Show.Quantity(series.HottestPeak)}. {verdict}{speeds}"),
            Note = series.Outcome == SeriesOutcome.Completed ? verdict : $"{verdict} The series ended early: {series.Cause}.",
        };
    }

    /// <summary>
    /// What each effect costs in exit speed, in the order of the table. A bar to the left, hatched otherwise, is an effect without which the launch
    /// would be slower.
    /// </summary>
    /// <param name="costs">The computed costs.</param>
    /// <param name="alone">Whether each effect is put into the ideal launch alone, in place of being taken out of the launch as described.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The launcher has no effect of known cost.</exception>
    public static BarChart EffectCosts(EffectCosts costs, bool alone = false)
    {
        ArgumentNullException.ThrowIfNull(costs);
        Speed? CostOf(EffectCost row) => alone ? row.CostAlone : row.Cost;
        ChartBar[] bars =
        [
            .. costs.Rows.Where(row => CostOf(row) is not null).Select(row =>
            {
                double cost = CostOf(row)!.Value.MetersPerSecond;
                // Both launches are good to a thousandth or so; more digits of their difference say nothing.
                string words = $"{Scale.Signed(Math.Round(cost, 3))} m/s";
                return new ChartBar(Name(row.Effect), 0, cost, cost < 0 ? ChartBarKind.Kept : ChartBarKind.Loss) { Words = cost < 0 ? $"{words}, gained" : words };
            }),
        ];
        if (bars.Length == 0)
        {
            throw new ArgumentException("The launcher has no effect of known cost: there is nothing to show.", nameof(costs));
        }

        string[] unknown = [.. costs.Rows.Where(row => CostOf(row) is null).Select(row => $"{Name(row.Effect)} ({(alone ? row.Alone : row.Without)})")];
        string title = alone ? "What each effect alone costs the ideal launch" : "What each effect costs this launch";
        string left = unknown.Length > 0 ? $" Without a number: {string.Join(", ", unknown)}." : string.Empty;
        return new BarChart(title, new ChartAxis("exit speed lost", "m/s"), bars)
        {
            Description = $"As described it leaves at {costs.Described}, ideally at {costs.Ideal}. {string.Join("; ", bars.Select(bar => $"{bar.Name} {bar.Words}"))}.{left}",
            Note = $"As described {costs.Described}, ideally {costs.Ideal}. The costs do not add up: one effect hides another.{left}",
        };
    }

    /// <summary>Speed of the sled from the release until it stands or leaves the track, with the braking zone and the end of the track.</summary>
    /// <param name="launch">The launch, of a launcher with a brake.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There is no braking: the launcher has no brake, or the payload was not released.</exception>
    public static LineChart Braking(LaunchResult launch)
    {
        ArgumentNullException.ThrowIfNull(launch);
        if (launch is not { Braking: BrakingResult braking, Launcher.Brake: SledBrake brake })
        {
            throw new ArgumentException("There is no braking to show: the launcher has no brake, or the payload was not released.", nameof(launch));
        }

        double release = launch.EndPosition.Meters;
        double end = release + braking.Room.Meters;
        ChartSeries speed = LaunchCharts.Thinned("speed", braking.Trace.PositionMeters, braking.Trace.SpeedMetersPerSecond) with { Tone = ChartTone.Ink };
        return new LineChart("Braking after the release", Position, new ChartPanel(new ChartAxis("speed", "m/s"), speed) { FromZero = true })
        {
            Places = [new ChartMark("end of the track", end)],
            Ribbon = [new ChartBand("brake", Math.Max(release, release + brake.Start.Meters), end, ChartShade.Middle)],
            Description = $"Released at {Show.Quantity(launch.EndPosition)} and {Show.Quantity(launch.EndSpeed)}, the sled {braking}. The room ends at {Show.Quantity(Length.FromMeters(end))}.",
            Note = $"The ribbon is the braking zone: {brake}.",
        };
    }

    /// <summary>A limit in words: what was reached of what is allowed or needed, and how much that is.</summary>
    internal static string Words(Limit limit)
    {
        string reached = Words(limit.Reached);
        string allowed = Words(limit.Allowed);

        // One unit for both is enough, and fits a narrow page.
        int space = allowed.IndexOf(' ', StringComparison.Ordinal);
        string unit = space < 0 ? string.Empty : allowed[space..];
        reached = reached.EndsWith(unit, StringComparison.Ordinal) ? reached[..^unit.Length] : reached;
        string of = $"{reached} of {allowed}{(limit.MustReach ? " needed" : string.Empty)}";
        return limit.IsBroken ? $"{of}, BROKEN" : $"{of}, {Percent(limit.Margin)} left";
    }

    /// <summary>A margin as people write it, to a tenth of a percent below a tenth and to a whole one above.</summary>
    internal static string Percent(double part)
        => !double.IsFinite(part) ? "none" : $"{(Math.Abs(part) < 0.0995 ? Math.Round(100 * part, 1) : Math.Round(100 * part)).ToString("0.#", CultureInfo.InvariantCulture).Replace('-', '\u2212')} %";

    /// <summary>A quantity; a charge as large as that of a battery in ampere-hours.</summary>
    internal static string Words(IQuantity quantity)
        => quantity is ElectricCharge charge && Math.Abs(charge.Coulombs) >= 1000 ? $"{Show.Number(charge.AmpereHours)} A h" : Show.Quantity(quantity);

    /// <summary>An effect as people name it, wherever it stands in a list.</summary>
    internal static string Name(LaunchEffect effect)
        => LaunchEffects.NameOf(effect);

    private static double Millijoules(ContactBreak one) => one.Energy.Millijoules;

    private static ChartSeries Points(string name, IReadOnlyList<ContactBreak> breaks, Func<ContactBreak, double> value)
        => new(name, [.. breaks.Select(one => one.Position.Meters)], [.. breaks.Select(value)]) { Points = true };
}
