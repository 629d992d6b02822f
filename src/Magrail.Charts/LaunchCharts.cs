using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace Magrail.Charts;

/// <summary>The charts of a launch: one call each, with axis titles, units, limits and a text that says the same.</summary>
public static class LaunchCharts
{
    private const string RibbonNote = "The ribbon is the track to scale: magnet stations, dark and light for the two polarities.";

    private static readonly ChartAxis Position = new("position", "m");
    private static readonly ChartAxis Time = new("time", "ms");
    private static readonly ChartAxis SpeedAxis = new("speed", "m/s");

    /// <summary>Speed of the sled along the track, with the speed that the payload needs, where it is stated.</summary>
    /// <param name="launch">The launch.</param>
    /// <returns>The chart.</returns>
    public static LineChart SpeedAgainstPosition(LaunchResult launch)
    {
        ArgumentNullException.ThrowIfNull(launch);
        return WithRibbon(new LineChart("Speed against position", Position, SpeedPanel(launch, null, null)), launch.Launcher.Track, null, null);
    }

    /// <summary>Current of each coil circuit along the track; its sign turns with the polarity of the stations.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="from">Where to begin; at the start where null.</param>
    /// <param name="to">Where to end; at the end of the run where null.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The sled was never between the two places.</exception>
    public static LineChart CurrentAgainstPosition(LaunchResult launch, Length? from = null, Length? to = null)
    {
        ArgumentNullException.ThrowIfNull(launch);
        return WithRibbon(new LineChart("Current against position", Position, CurrentPanel(launch, from, to)), launch.Launcher.Track, from, to);
    }

    /// <summary>Magnetic force on the sled along the track.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="from">Where to begin; at the start where null.</param>
    /// <param name="to">Where to end; at the end of the run where null.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The sled was never between the two places.</exception>
    public static LineChart ForceAgainstPosition(LaunchResult launch, Length? from = null, Length? to = null)
    {
        ArgumentNullException.ThrowIfNull(launch);
        return WithRibbon(new LineChart("Force against position", Position, ForcePanel(launch, from, to)), launch.Launcher.Track, from, to);
    }

    /// <summary>Speed, current and force above one another, over one position axis.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="from">Where to begin; at the start where null.</param>
    /// <param name="to">Where to end; at the end of the run where null.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The sled was never between the two places.</exception>
    public static LineChart Overview(LaunchResult launch, Length? from = null, Length? to = null)
    {
        ArgumentNullException.ThrowIfNull(launch);
        string title = from is null && to is null ? "The whole launch" : "A close look at the launch";
        return WithRibbon(
            new LineChart(title, Position, SpeedPanel(launch, from, to), CurrentPanel(launch, from, to), ForcePanel(launch, from, to)), launch.Launcher.Track, from, to);
    }

    /// <summary>Lines of a launch above one another, over one shared axis of position or time.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="along">Position or time.</param>
    /// <param name="curves">What to show, a panel each, from the top down; one at least, none twice.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There is no curve, or one is named twice.</exception>
    public static LineChart Curves(LaunchResult launch, LaunchAxis along, params IReadOnlyList<LaunchCurve> curves)
    {
        ArgumentNullException.ThrowIfNull(launch);
        ArgumentNullException.ThrowIfNull(curves);
        if (curves.Count == 0 || curves.Distinct().Count() < curves.Count)
        {
            throw new ArgumentException("The chart needs one curve at least, and each once.", nameof(curves));
        }

        ImmutableArray<double> x = Along(launch, along);
        ChartPanel[] panels = [.. curves.Select(curve => Panel(launch, curve, x))];
        string names = string.Join(", ", curves.Select(NameOf));
        int last = names.LastIndexOf(", ", StringComparison.Ordinal);
        string title = last < 0 ? names : $"{names[..last]} and {names[(last + 2)..]}";
        title = $"{char.ToUpperInvariant(title[0])}{title[1..]} against {(along == LaunchAxis.Time ? "time" : "position")}";
        var chart = new LineChart(title, along == LaunchAxis.Time ? Time : Position, panels);
        return along == LaunchAxis.Time ? chart : WithRibbon(chart, launch.Launcher.Track, null, null);
    }

    /// <summary>One curve of several launches, for comparing designs; of the power, what the source gives.</summary>
    /// <param name="curve">What to show.</param>
    /// <param name="along">Position or time.</param>
    /// <param name="launches">Words and launch, for each; six at most can be told apart.</param>
    /// <returns>The chart; of several circuits or coils, the first is shown.</returns>
    /// <exception cref="ArgumentException">There is no launch.</exception>
    public static LineChart Compared(LaunchCurve curve, LaunchAxis along, params IReadOnlyList<(string Name, LaunchResult Launch)> launches)
    {
        ArgumentNullException.ThrowIfNull(launches);
        ChartPanel[] single = [.. launches.Select(each => Panel(each.Launch, curve, Along(each.Launch, along)))];
        string name = NameOf(curve);
        return new LineChart(
            $"{char.ToUpperInvariant(name[0])}{name[1..]} compared",
            along == LaunchAxis.Time ? Time : Position,
            new ChartPanel(
                curve == LaunchCurve.Power ? new ChartAxis("power of the source", "W") : single.FirstOrDefault()?.Vertical ?? SpeedAxis,
                [.. launches.Select((each, i) => new ChartSeries(each.Name, single[i].Series[0].X, single[i].Series[0].Y))])
            { FromZero = single.Any(panel => panel.FromZero) });
    }

    /// <summary>A slider over launches that differ in one design number: speed, current and force along the track, on axes that stay where they are.</summary>
    /// <param name="number">What differs, for example <c>voltage</c>.</param>
    /// <param name="launches">Its value in words and the launch, for each position of the slider; two at least.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There are fewer than two launches, or two have the same words.</exception>
    public static SliderChart Slider(string number, params IReadOnlyList<(string Label, LaunchResult Launch)> launches)
        => Slider(number, launch => Overview(launch), launches);

    /// <summary>A slider over launches that differ in one design number, with a chart of each that you choose.</summary>
    /// <param name="number">What differs, for example <c>voltage</c>.</param>
    /// <param name="chart">The chart of a launch; its axes must be the same for all.</param>
    /// <param name="launches">Its value in words and the launch, for each position of the slider; two at least.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There are fewer than two launches, two have the same words, or their charts have different axes.</exception>
    public static SliderChart Slider(string number, Func<LaunchResult, LineChart> chart, params IReadOnlyList<(string Label, LaunchResult Launch)> launches)
    {
        ArgumentNullException.ThrowIfNull(chart);
        ArgumentNullException.ThrowIfNull(launches);
        return new SliderChart($"Launches by {number}", number, [.. launches.Select(each => new SliderFrame(each.Label, FiguresOf(each.Launch), chart(each.Launch)))])
        {
            Note = "Move the slider, or press the arrow keys on it. All launches were computed beforehand, and the axes stay where they are.",
        };
    }

    /// <summary>A launch in slow motion, seen from above: see <see cref="LaunchAnimation"/>.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="slowedBy">How many times slower than in truth; so that it takes about fifteen seconds where null.</param>
    /// <returns>The animation.</returns>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="slowedBy"/> is not above zero.</exception>
    public static LaunchAnimation Animation(LaunchResult launch, double? slowedBy = null) => new(launch, slowedBy);

    /// <summary>Force per ampere of each coil circuit along the track; as a voltage per speed it is also the back-EMF.</summary>
    /// <param name="launch">The launch.</param>
    /// <param name="from">Where to begin; at the start where null.</param>
    /// <param name="to">Where to end; at the end of the run where null.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The sled was never between the two places.</exception>
    public static LineChart CouplingAlongTrack(LaunchResult launch, Length? from = null, Length? to = null)
    {
        ArgumentNullException.ThrowIfNull(launch);
        double pitch = launch.Launcher.Track.Pitch.Meters;
        (double start, double end) = Reach(launch, from, to);
        int count = (int)Math.Clamp(Math.Ceiling((end - start) / pitch * 40), 200, 20_000);
        double[] x = [.. Enumerable.Range(0, count + 1).Select(i => start + ((end - start) * i / count))];
        int circuits = launch.Trace.CurrentAmperes.Length;
        ChartSeries[] series =
        [
            .. Enumerable.Range(0, circuits).Select(circuit => Thinned(
                CircuitName("force per ampere", circuit, circuits), x, [.. x.Select(at => launch.ForceConstantAt(Length.FromMeters(at), circuit).NewtonsPerAmpere)])),
        ];
        LineChart chart = WithRibbon(
            new LineChart("Force per ampere along the track", Position, new ChartPanel(new ChartAxis("force per ampere", "N/A"), series)), launch.Launcher.Track, from, to);
        return chart with
        {
            Description = $"{chart.Description} The curve is computed to within {Show.Number(launch.Options.CouplingAccuracy)} of its greatest size.",
        };
    }

    /// <summary>
    /// What the volts of the source are up against at each station, at the place where the push is strongest: the back-EMF of
    /// the first circuit, which grows with speed, and the drop in its copper, which is what is left to drive current.
    /// </summary>
    /// <param name="launch">The launch.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The sled did not come as far as between two stations.</exception>
    public static LineChart VoltsAlongTrack(LaunchResult launch)
    {
        ArgumentNullException.ThrowIfNull(launch);
        Launcher launcher = launch.Launcher;
        double offset = launcher.Sled.Coils[0].Offset.Meters;
        double resistance = launcher.Sled.Coils.Where(mount => mount.Circuit == 0).Sum(mount => mount.Coil.ResistanceAt(launcher.CoilTemperature).Ohms);
        var x = new List<double>();
        var emf = new List<double>();
        var drop = new List<double>();
        ImmutableArray<double> places = launch.Trace.PositionMeters;
        double first = places.Min();
        double last = launch.EndPosition.Meters;
        for (int station = 0; station + 1 < launcher.Track.StationCount; station++)
        {
            double middle = (0.5 * (launcher.Track.Positions[station].Meters + launcher.Track.Positions[station + 1].Meters)) - offset;
            if (middle < first || middle > last)
            {
                continue;
            }

            LaunchSample sample = launch.Trace.AtPosition(Length.FromMeters(middle));
            x.Add(middle);
            emf.Add(Math.Abs((launch.ForceConstantAt(sample.Position) * sample.Speed).Volts));
            drop.Add(Math.Abs(sample.Currents[0].Amperes) * resistance);
        }

        if (x.Count == 0)
        {
            throw new ArgumentException("The sled did not come as far as between two stations: there is nothing to show.", nameof(launch));
        }

        double volts = launcher.Source.ToSi().Volts;
        var panel = new ChartPanel(new ChartAxis("voltage between stations", "V"), new ChartSeries("back-EMF", x, emf) { Tone = ChartTone.Ink }, new ChartSeries("drop in the copper", x, drop) { Tone = ChartTone.Rust })
        {
            FromZero = true,
            Levels = [new ChartMark(string.Create(CultureInfo.InvariantCulture, $"source: {Show.Number(volts)} V"), volts)],
        };
        LineChart chart = WithRibbon(new LineChart("What the volts are spent on", Position, panel), launcher.Track, null, null);
        return chart with { Note = $"{chart.Note} While the current changes, the coil's inductance takes or gives what is missing to the volts of the source." };
    }

    /// <summary>Where the energy came from and went, as steps.</summary>
    /// <param name="launch">The launch.</param>
    /// <returns>The chart.</returns>
    public static BarChart EnergyLedger(LaunchResult launch)
    {
        ArgumentNullException.ThrowIfNull(launch);
        EnergyLedger ledger = launch.Ledger;
        (string Name, Energy Value)[] others =
        [
            ("heat in the coil", ledger.CoilHeat),
            ("heat in source, leads and contacts", ledger.OtherHeat),
            ("burned in arcs", ledger.Arcs),
            ("taken across the coil", ledger.Suppressed),
            ("lost as contacts part", ledger.Breaks),
            ("friction", ledger.Friction),
            ("drag of the air", ledger.Drag),
            ("lifting sled and payload", ledger.Potential),
            ("left in the coil's field", ledger.Magnetic),
        ];
        // What is too small to be drawn is shown as one.
        double least = 2e-3 * others.Append((string.Empty, ledger.Drawn)).Max(entry => Math.Abs(entry.Item2.Joules));
        double rest = others.Where(entry => Math.Abs(entry.Value.Joules) <= least).Sum(entry => entry.Value.Joules);
        var gains = new List<(string, double)> { ("drawn from the source", ledger.Drawn.Joules) };
        gains.AddRange(others.Where(entry => entry.Value.Joules < -least).Select(entry => (entry.Name, -entry.Value.Joules)));
        var losses = new List<(string, double)>(others.Where(entry => entry.Value.Joules > least).Select(entry => (entry.Name, entry.Value.Joules)));
        if (rest > 0)
        {
            losses.Add(("all else", rest));
        }


        // Sled and payload move at one speed: they share the kinetic energy as their masses.
        double share = launch.Launcher.Payload.Mass.Kilograms / launch.Launcher.MovingMass.Kilograms;
        double kinetic = ledger.Kinetic.Joules;
        (string, double)[] kept = share == 0 ? [("motion of the sled", kinetic)] : [("motion of the payload", share * kinetic), ("motion of the sled", (1 - share) * kinetic)];
        return Chart.Ledger("Where the energy went", new ChartAxis("energy", "J"), gains, losses, kept);
    }

    /// <summary>Speed along the track of several launches, for comparing designs.</summary>
    /// <param name="launches">Words and launch, for each.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There is no launch.</exception>
    public static LineChart SpeedsCompared(params IReadOnlyList<(string Name, LaunchResult Launch)> launches) => Compared(null, null, launches);

    /// <summary>Speed along a stretch of the track of several launches, for a close look.</summary>
    /// <param name="from">Where to begin.</param>
    /// <param name="to">Where to end.</param>
    /// <param name="launches">Words and launch, for each.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">There is no launch, or a sled was never between the two places.</exception>
    public static LineChart SpeedsCompared(Length from, Length to, params IReadOnlyList<(string Name, LaunchResult Launch)> launches) => Compared(from, to, launches);

    private static LineChart Compared(Length? from, Length? to, IReadOnlyList<(string Name, LaunchResult Launch)> launches)
    {
        ArgumentNullException.ThrowIfNull(launches);
        ChartSeries[] series = [.. launches.Select(each => Cut(each.Launch, each.Name, each.Launch.Trace.SpeedMetersPerSecond, from, to))];
        return new LineChart("Speeds compared", Position, new ChartPanel(SpeedAxis, series));
    }

    /// <summary>
    /// Flux density along the track, on its middle line or on a line beside it: what the coil runs through. Components that
    /// stay below a thousandth of the greatest are left out, as two of three are on the middle line of facing pairs.
    /// </summary>
    /// <param name="track">The track.</param>
    /// <param name="from">Where to begin; a pitch before the first station where null.</param>
    /// <param name="to">Where to end; a pitch past the last station where null.</param>
    /// <param name="across">y of the line; the middle of the gap where null.</param>
    /// <param name="up">z of the line; the middle of the coil's path where null.</param>
    /// <returns>The chart.</returns>
    /// <exception cref="ArgumentException">The end does not lie beyond the beginning.</exception>
    public static LineChart FluxDensityAlongTrack(Track track, Length? from = null, Length? to = null, Length? across = null, Length? up = null)
    {
        ArgumentNullException.ThrowIfNull(track);
        double start = (from ?? track.Positions[0] - track.Pitch).Meters;
        double end = (to ?? track.Positions[^1] + track.Pitch).Meters;
        if (!(end > start))
        {
            throw new ArgumentException($"The chart would end at {Show.Number(end)} m and begin at {Show.Number(start)} m: it must end beyond its beginning.", nameof(to));
        }

        int count = (int)Math.Clamp(Math.Ceiling((end - start) / Math.Max(track.Pitch.Meters, 1e-6) * 40), 200, 4_000);
        double[] x = [.. Enumerable.Range(0, count + 1).Select(i => start + ((end - start) * i / count))];
        FluxDensity[] b = [.. x.Select(at => track.FluxDensityAt(Length.FromMeters(at), across ?? Length.Zero, up ?? Length.Zero))];
        (string Name, ChartTone Tone, double[] Values)[] all =
        [
            ("across the gap", ChartTone.Ink, [.. b.Select(each => each.Across.Teslas)]),
            ("along the track", ChartTone.Rust, [.. b.Select(each => each.Along.Teslas)]),
            ("upward", ChartTone.Ochre, [.. b.Select(each => each.Up.Teslas)]),
        ];
        double least = 1e-3 * all.Max(each => each.Values.Max(Math.Abs));
        all = least == 0 ? [all[0]] : [.. all.Where(each => each.Values.Max(Math.Abs) > least)];
        ChartPanel panel = all.Length == 1
            ? new ChartPanel(new ChartAxis($"flux density {all[0].Name}", "T"), Thinned("flux density", x, all[0].Values))
            : new ChartPanel(new ChartAxis("flux density", "T"), [.. all.Select(each => Thinned(each.Name, x, each.Values) with { Tone = each.Tone })]);
        string line = across is null && up is null ? string.Empty : $" at y = {Show.Quantity(across ?? Length.Zero)}, z = {Show.Quantity(up ?? Length.Zero)}";
        return WithRibbon(new LineChart($"The field along the track{line}", Position, panel), track, Length.FromMeters(start), Length.FromMeters(end));
    }

    private static ChartPanel SpeedPanel(LaunchResult launch, Length? from, Length? to)
    {
        ChartMark[] levels = launch.Launcher.Payload.NeededSpeed is Speed needed
            ? [new ChartMark($"needed: {Show.Quantity(needed)}", needed.MetersPerSecond)]
            : [];
        return new ChartPanel(SpeedAxis, Cut(launch, "speed", launch.Trace.SpeedMetersPerSecond, from, to) with { Tone = ChartTone.Ink })
        {
            FromZero = from is null && to is null,
            Levels = from is null && to is null ? levels : [],
        };
    }

    private static ChartPanel CurrentPanel(LaunchResult launch, Length? from, Length? to)
    {
        ImmutableArray<ImmutableArray<double>> currents = launch.Trace.CurrentAmperes;
        ChartSeries[] series =
        [
            .. currents.Select((current, circuit) => Cut(launch, CircuitName("current", circuit, currents.Length), current, from, to)),
        ];
        if (series.Length == 1)
        {
            series[0] = series[0] with { Tone = ChartTone.Rust };
        }

        return new ChartPanel(new ChartAxis("current", "A"), series) { Levels = SupplyLimit(launch) };
    }

    private static ChartPanel ForcePanel(LaunchResult launch, Length? from, Length? to)
        => new(new ChartAxis("magnetic force", "N"), Cut(launch, "force", launch.Trace.ForceNewtons, from, to) with { Tone = ChartTone.Plum });

    private static ImmutableArray<double> Along(LaunchResult launch, LaunchAxis along)
        => along == LaunchAxis.Time ? [.. launch.Trace.TimeSeconds.Select(time => 1e3 * time)] : launch.Trace.PositionMeters;

    private static ChartPanel Panel(LaunchResult launch, LaunchCurve curve, ImmutableArray<double> x)
    {
        LaunchTrace trace = launch.Trace;
        int circuits = trace.CurrentAmperes.Length;
        int coils = trace.CoilCelsius.Length;
        switch (curve)
        {
            case LaunchCurve.Speed:
                return new ChartPanel(SpeedAxis, Thinned("speed", x, trace.SpeedMetersPerSecond) with { Tone = ChartTone.Ink })
                {
                    FromZero = true,
                    Levels = launch.Launcher.Payload.NeededSpeed is Speed needed ? [new ChartMark($"needed: {Show.Quantity(needed)}", needed.MetersPerSecond)] : [],
                };
            case LaunchCurve.Current:
                return new ChartPanel(
                    new ChartAxis("current", "A"),
                    [.. trace.CurrentAmperes.Select((current, k) => Thinned(CircuitName("current", k, circuits), x, current) with { Tone = circuits == 1 ? ChartTone.Rust : null })])
                {
                    Levels = SupplyLimit(launch),
                };
            case LaunchCurve.Force:
                return new ChartPanel(new ChartAxis("magnetic force", "N"), Thinned("force", x, trace.ForceNewtons) with { Tone = ChartTone.Plum });
            case LaunchCurve.Power:
                return new ChartPanel(
                    new ChartAxis("power", "W"),
                    Thinned("from the source", x, trace.SourceWatts) with { Tone = ChartTone.Ink },
                    Thinned("into motion", x, trace.MotionWatts) with { Tone = ChartTone.Teal },
                    Thinned("heat in the coil", x, trace.CoilHeatWatts) with { Tone = ChartTone.Rust });
            case LaunchCurve.RailVoltage:
                double volts = launch.Launcher.Source.ToSi().Volts;
                return new ChartPanel(new ChartAxis("voltage between the rails", "V"), Thinned("between the rails", x, trace.RailVolts) with { Tone = ChartTone.Slate })
                {
                    FromZero = true,
                    Levels = [new ChartMark(string.Create(CultureInfo.InvariantCulture, $"without load: {Show.Number(volts)} V"), volts)],
                };
            case LaunchCurve.CoilTemperature:
                return new ChartPanel(
                    new ChartAxis("coil temperature", "°C"),
                    [
                        .. trace.CoilCelsius.Select((warm, j) => Thinned(
                            coils == 1 ? "coil" : string.Create(CultureInfo.InvariantCulture, $"coil {j + 1}"), x, warm) with { Tone = coils == 1 ? ChartTone.Ochre : null }),
                    ]);
            default:
                throw new ArgumentOutOfRangeException(nameof(curve), curve, "No such curve.");
        }
    }

    private static string NameOf(LaunchCurve curve) => curve switch
    {
        LaunchCurve.Speed => "speed",
        LaunchCurve.Current => "current",
        LaunchCurve.Force => "force",
        LaunchCurve.Power => "power",
        LaunchCurve.RailVoltage => "rail voltage",
        LaunchCurve.CoilTemperature => "coil temperature",
        _ => throw new ArgumentOutOfRangeException(nameof(curve), curve, "No such curve."),
    };

    private static string FiguresOf(LaunchResult launch)
    {
        string end = launch.Outcome == LaunchOutcome.Released ? $"exit speed {Show.Quantity(launch.EndSpeed)} after {Show.Quantity(launch.EndTime)}" : $"not released: {launch.Cause}";
        return $"{end}, greatest current {Show.Quantity(launch.PeakCurrent)}, greatest acceleration {Show.Quantity(launch.PeakAcceleration)}, energy drawn {Show.Quantity(launch.Ledger.Drawn)}";
    }

    // A limit far above the current would flatten the curve and say little.
    private static ChartMark[] SupplyLimit(LaunchResult launch)
        => launch.Launcher.Source is BenchSupply { Limit: ElectricCurrent limit } && launch.PeakCurrent.Amperes > 0.9 * limit.Amperes
            ? [new ChartMark($"limit of the supply: {Show.Quantity(limit)}", limit.Amperes)]
            : [];

    private static string CircuitName(string what, int circuit, int circuits)
        => circuits == 1 ? what : string.Create(CultureInfo.InvariantCulture, $"{what}, circuit {circuit}");

    private static (double Start, double End) Reach(LaunchResult launch, Length? from, Length? to)
    {
        double start = Math.Max(from?.Meters ?? double.NegativeInfinity, launch.Trace.PositionMeters.Min());
        double end = Math.Min(to?.Meters ?? double.PositiveInfinity, launch.Trace.PositionMeters.Max());
        return end > start
            ? (start, end)
            : throw new ArgumentException($"The sled was between {Show.Number(launch.Trace.PositionMeters.Min())} m and {Show.Number(launch.Trace.PositionMeters.Max())} m, and the stretch asked for lies outside.", nameof(to));
    }

    private static ChartSeries Cut(LaunchResult launch, string name, ImmutableArray<double> column, Length? from, Length? to)
    {
        ImmutableArray<double> places = launch.Trace.PositionMeters;
        if (from is null && to is null)
        {
            return Thinned(name, places, column);
        }

        (double start, double end) = Reach(launch, from, to);
        int[] rows = [.. Enumerable.Range(0, places.Length).Where(row => places[row] >= start && places[row] <= end)];
        return rows.Length > 0
            ? Thinned(name, [.. rows.Select(row => places[row])], [.. rows.Select(row => column[row])])
            : throw new ArgumentException("The stretch asked for is shorter than one step of the launch.", nameof(to));
    }

    internal static ChartSeries Thinned(string name, IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        int[] kept = LineThinning.Kept(x, y);
        return new ChartSeries(name, [.. kept.Select(i => x[i])], [.. kept.Select(i => y[i])]);
    }

    internal static LineChart WithRibbon(LineChart chart, Track track, Length? from, Length? to)
    {
        IEnumerable<double> reach = chart.PanelsFromTop.SelectMany(panel => panel.Series).SelectMany(series => series.X);
        double start = from?.Meters ?? reach.Min();
        double end = to?.Meters ?? reach.Max();
        var bands = new List<ChartBand>();
        for (int i = 0; i < track.StationCount; i++)
        {
            double half = 0.5 * track.Stations[i].Magnets.Max(magnet => magnet.Body.SizeAlong.Meters);
            double from1 = Math.Max(start, track.Positions[i].Meters - half);
            double to1 = Math.Min(end, track.Positions[i].Meters + half);
            if (to1 > from1)
            {
                bands.Add(new ChartBand(string.Empty, from1, to1, track.Polarities[i] == Polarity.Positive ? ChartShade.Dark : ChartShade.Light));
            }
        }

        return chart with { Ribbon = bands, Note = bands.Count > 0 ? RibbonNote : null };
    }
}
