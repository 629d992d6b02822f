using System.Collections.Immutable;
using UnitsNet;

namespace Magrail;

/// <summary>Launches in a row at one interval: how hot the coils get, how many are allowed, and how long to wait in between.</summary>
/// <remarks>
/// Each coil starts a launch at the temperature that the last one left it at, cooled toward the surroundings by one time constant:
/// T = Ta + (T₁ − Ta) exp(−t/τ). In a launch it keeps all its heat. Every coil has a temperature of its own, and its resistance starts from
/// it; whether it follows within a launch is <see cref="Launcher.CoilsWarmUp"/>. One time constant is crude: a winding evens out inside within seconds,
/// and then cools over minutes. Measure it on the coil as mounted. The magnets, the source and the leads begin every launch as described: banks are
/// recharged, batteries do not sink, and magnets that warm from the coil are not followed.
/// </remarks>
public sealed record LaunchSeries
{
    /// <summary>The hottest at which a coil may start: what <see cref="Launcher.CoilTemperature"/> allows.</summary>
    private const double HottestStartCelsius = 200;

    /// <summary>Describes a series.</summary>
    /// <param name="launcher">The launcher; its coil temperature is that before the first launch.</param>
    /// <param name="interval">Time from the end of one launch to the start of the next, in which the coils cool; zero or above.</param>
    /// <param name="coolingTime">Time constant τ of the coils' cooling, above zero.</param>
    /// <param name="surroundings">Temperature toward which the coils cool, −40 °C to 200 °C; the launcher's coil temperature by default.</param>
    /// <param name="insulation">Thermal class of the enamel; that of the launcher's <see cref="Launcher.Ratings"/> by default.</param>
    /// <exception cref="ArgumentNullException"><paramref name="launcher"/> is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of its range or not finite.</exception>
    public LaunchSeries(Launcher launcher, Duration interval, Duration coolingTime, Temperature? surroundings = null, ThermalClass? insulation = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        Launcher = launcher;
        Interval = Require.NotNegative(interval, "the next launch begins after the last has ended");
        CoolingTime = Require.Positive(coolingTime, "no coil cools at once");
        Surroundings = Require.InRange(
            surroundings ?? launcher.CoilTemperature,
            Temperature.FromDegreesCelsius(-40),
            Temperature.FromDegreesCelsius(HottestStartCelsius),
            "outside, the linear temperature coefficients mean nothing",
            nameof(surroundings));
        Insulation = insulation ?? launcher.Ratings.Insulation;
    }

    /// <summary>The launcher.</summary>
    public Launcher Launcher { get; }

    /// <summary>Time from the end of one launch to the start of the next.</summary>
    public Duration Interval { get; }

    /// <summary>Time constant of the coils' cooling.</summary>
    public Duration CoolingTime { get; }

    /// <summary>Temperature toward which the coils cool.</summary>
    public Temperature Surroundings { get; }

    /// <summary>Thermal class of the enamel.</summary>
    public ThermalClass Insulation { get; }

    /// <summary>Launches a number of times.</summary>
    /// <param name="launches">How many, 1 to 100,000.</param>
    /// <param name="options">How accurately and how long; the defaults where null.</param>
    /// <returns>
    /// Every launch of the series. One that gets too hot to go on, or in which the payload is not released, ends there: see
    /// <see cref="LaunchSeriesResult.Outcome"/>. Going above the thermal class does not end it.
    /// </returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is out of its range.</exception>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    public LaunchSeriesResult Run(int launches, LaunchOptions? options = null)
    {
        Require.InRange(launches, 1, 100_000, "each launch is computed");
        return Run(new Repeater(Launcher, options), launches, stopAboveClass: false);
    }

    /// <summary>How many launches in a row the thermal class allows.</summary>
    /// <param name="atMost">Where to stop counting, 1 to 100,000; 1000 by default.</param>
    /// <param name="options">How accurately and how long; the defaults where null.</param>
    /// <returns>
    /// The number of launches before the first that goes above the class, fails to release or cannot start for heat; null where they may go on without end: neither the
    /// first launch nor the steady state that the series approaches goes above it. <paramref name="atMost"/> where that many stay below and a later
    /// one does not.
    /// </returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is out of its range.</exception>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    public int? LaunchesInARow(int atMost = 1000, LaunchOptions? options = null)
    {
        Require.InRange(atMost, 1, 100_000, "each launch is computed");
        var repeater = new Repeater(Launcher, options);
        SeriesLaunch first = repeater.Launch(1, StartKelvins(repeater));
        if (first.Outcome != LaunchOutcome.Released || IsTooHot(first))
        {
            return 0;
        }

        SteadyLaunches steady = Steady(repeater);
        return steady.Launch is SeriesLaunch last && !IsTooHot(last) ? null : Run(repeater, atMost, stopAboveClass: true).LaunchesWithinClass;
    }

    /// <summary>The steady state that many launches approach: each takes up as much heat as the coils lose before the next.</summary>
    /// <param name="options">How accurately and how long; the defaults where null.</param>
    /// <returns>The steady launch, or why there is none.</returns>
    /// <remarks>
    /// Where the current is held against a rising resistance, a hotter coil takes up more heat, and there may be no steady state at all. Found
    /// to 0.01 mK by secants for every coil, from the surroundings up.
    /// </remarks>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    public SteadyLaunches FindSteadyState(LaunchOptions? options = null) => Steady(new Repeater(Launcher, options));

    /// <summary>The shortest interval at which launches may go on without end below the thermal class.</summary>
    /// <param name="options">How accurately and how long; the defaults where null.</param>
    /// <returns>
    /// That interval, found to a ten-thousandth and rounded to the safe side; null where even a launch from the temperature of the surroundings goes above the class, or does
    /// not release.
    /// </returns>
    /// <remarks>Of a class above 200 °C only those launches count that start below 200 °C.</remarks>
    /// <exception cref="LauncherDescriptionException">The parts do not go together; carries every fault.</exception>
    public Duration? ShortestInterval(LaunchOptions? options = null)
    {
        var repeater = new Repeater(Launcher, options);
        double[] kelvins = repeater.Filled(Surroundings.Kelvins);
        SeriesLaunch cold = repeater.Launch(1, kelvins);
        double limit = Insulation.Limit.Kelvins;
        double room = limit - cold.HottestPeak.Kelvins;
        if (cold.Outcome != LaunchOutcome.Released || room < 0)
        {
            return null;
        }

        double rise = cold.HottestPeak.Kelvins - Surroundings.Kelvins;
        if (rise == 0)
        {
            return Duration.Zero;
        }

        // In terms of m = 1/(exp(t/τ) − 1) the steady start is Ta + m times the rise in a launch: nearly a straight line.
        (double low, double atLow) = (0, room);
        (double high, double atHigh) = (Math.Max(room / rise, 1e-9), Room(Math.Max(room / rise, 1e-9)));
        while (atHigh > 0)
        {
            (low, atLow) = (high, atHigh);
            high *= 2;
            atHigh = Room(high);
        }

        bool lowMoved = false;
        for (int i = 0; i < 100 && high - low > 1e-4 * high; i++)
        {
            // A false position, pushed a little to the side that has not moved so that both close in; halves where there is no steady state to aim by.
            double aim = low + ((high - low) * (double.IsFinite(atHigh) ? atLow / (atLow - atHigh) : 0.5));
            aim *= lowMoved ? 1 + 3e-5 : 1 - 3e-5;
            double middle = i % 4 == 3 || aim <= low || aim >= high ? 0.5 * (low + high) : aim;
            double there = Room(middle);
            lowMoved = there >= 0;
            if (lowMoved)
            {
                (low, atLow) = (middle, there);
            }
            else
            {
                (high, atHigh) = (middle, there);
            }
        }

        return low > 0 ? Duration.FromSeconds(CoolingTime.Seconds * double.LogP1(1 / low)) : null;

        double Room(double m)
        {
            SteadyLaunches steady = Steady(repeater, m);
            return steady.Launch is SeriesLaunch launch ? limit - launch.HottestPeak.Kelvins : double.NegativeInfinity;
        }
    }

    /// <summary>The series in words.</summary>
    public override string ToString()
        => $"launches {Show.Quantity(Interval)} apart, coils cooling in {Show.Quantity(CoolingTime)} toward {Show.Quantity(Surroundings)}, {Insulation}";

    private bool IsTooHot(SeriesLaunch launch) => launch.HottestPeak.Kelvins > Insulation.Limit.Kelvins;

    private double[] StartKelvins(Repeater repeater) => repeater.Filled(Launcher.CoilTemperature.Kelvins);

    private LaunchSeriesResult Run(Repeater repeater, int launches, bool stopAboveClass)
    {
        var done = ImmutableArray.CreateBuilder<SeriesLaunch>();
        double[] kelvins = StartKelvins(repeater);
        double kept = Math.Exp(-Interval.Seconds / CoolingTime.Seconds);
        double ambient = Surroundings.Kelvins;
        SeriesOutcome outcome = SeriesOutcome.Completed;
        string cause = $"{launches} {(launches == 1 ? "launch" : "launches")} done";
        for (int number = 1; number <= launches; number++)
        {
            int hottest = Array.IndexOf(kelvins, kelvins.Max());
            if (kelvins[hottest] > Hottest)
            {
                outcome = SeriesOutcome.TooHot;
                cause = $"launch {number} cannot be computed: coil {hottest} would start it at {Show.Quantity(Temperature.FromKelvins(kelvins[hottest]))}, and above {Show.Quantity(Temperature.FromKelvins(Hottest))} the linear temperature coefficients mean nothing";
                break;
            }

            SeriesLaunch launch = repeater.Launch(number, kelvins);
            done.Add(launch);
            if (launch.Outcome != LaunchOutcome.Released)
            {
                outcome = SeriesOutcome.NotReleased;
                cause = $"launch {number} did not release: {launch.Cause}";
                break;
            }

            if (stopAboveClass && IsTooHot(launch))
            {
                break;
            }

            for (int j = 0; j < kelvins.Length; j++)
            {
                kelvins[j] = ambient + ((launch.PeakTemperatures[j].Kelvins - ambient) * kept);
            }
        }

        return new LaunchSeriesResult(this, outcome, cause, done.DrainToImmutable());
    }

    private static double Hottest { get; } = Temperature.FromDegreesCelsius(HottestStartCelsius).Kelvins;

    /// <summary>From T = Ta + (T + rise − Ta) q follows T = Ta + m · rise(T), with m = q/(1 − q) = 1/(exp(t/τ) − 1).</summary>
    private SteadyLaunches Steady(Repeater repeater) => Steady(repeater, 1 / double.ExpM1(Interval.Seconds / CoolingTime.Seconds));

    private SteadyLaunches Steady(Repeater repeater, double m)
    {
        double ambient = Surroundings.Kelvins;
        double[] start = repeater.Filled(ambient);
        double[] released = start;
        double[]? lastStart = null;
        double[]? lastAim = null;
        int failures = 0;
        for (int i = 0; i < 100; i++)
        {
            SeriesLaunch launch = repeater.Launch(0, start);
            if (launch.Outcome != LaunchOutcome.Released)
            {
                // Aimed too high, perhaps: back to where it still released.
                if (i == 0 || ++failures > 12)
                {
                    return new SteadyLaunches(SeriesOutcome.NotReleased, $"on the way there, with the hottest coil starting at {Show.Quantity(launch.HottestStart)}, the payload is not released: {launch.Cause}", null);
                }

                start = [.. start.Zip(released, (a, b) => 0.5 * (a + b))];
                continue;
            }

            released = start;
            double[] aim = [.. start.Select((kelvin, j) => ambient + Product(m, launch.PeakTemperatures[j].Kelvins - kelvin))];
            double off = aim.Zip(start, (a, s) => Math.Abs(a - s)).Max();
            if (off <= 1e-5)
            {
                return new SteadyLaunches(SeriesOutcome.Completed, "each launch takes up what the coils lose before the next", launch);
            }

            int runaway = Array.FindIndex(start, kelvin => kelvin >= Hottest);
            if (runaway >= 0 && aim[runaway] > start[runaway])
            {
                return new SteadyLaunches(SeriesOutcome.TooHot, $"coil {runaway} grows hotter beyond {Show.Quantity(Temperature.FromKelvins(Hottest))}: there is no steady state below", null);
            }

            double[] next = new double[start.Length];
            for (int j = 0; j < next.Length; j++)
            {
                double slope = 0;
                if (lastStart is not null && lastAim is not null && Math.Abs(start[j] - lastStart[j]) > 1e-9)
                {
                    slope = Math.Clamp((aim[j] - lastAim[j]) / (start[j] - lastStart[j]), -100, 0.99);
                }

                next[j] = double.IsFinite(aim[j]) ? Math.Clamp(start[j] + ((aim[j] - start[j]) / (1 - slope)), Math.Min(ambient, start[j]), Hottest) : Hottest;
            }

            (lastStart, lastAim, start) = (start, aim, next);
        }

        return new SteadyLaunches(SeriesOutcome.NotSettled, "the search for it did not settle", null);

        static double Product(double m, double rise) => rise == 0 ? 0 : m * rise;
    }

    /// <summary>Launches with each coil starting at a temperature of its own; the coupling is compiled once.</summary>
    private sealed class Repeater
    {
        private readonly Launcher launcher;
        private readonly LaunchOptions options;
        private readonly LauncherSi si;

        public Repeater(Launcher launcher, LaunchOptions? options)
        {
            IReadOnlyList<LauncherFault> faults = launcher.Validate();
            if (faults.Count > 0)
            {
                throw new LauncherDescriptionException(faults);
            }

            this.launcher = launcher;
            this.options = options ?? LaunchOptions.Default;
            si = launcher.ToSi(this.options);
        }

        public double[] Filled(double kelvin)
        {
            double[] all = new double[launcher.Sled.Coils.Length];
            Array.Fill(all, kelvin);
            return all;
        }

        public SeriesLaunch Launch(int number, double[] kelvins)
        {
            ImmutableArray<CoilMount> mounts = launcher.Sled.Coils;
            var heating = new CoilHeatSi[mounts.Length];
            for (int j = 0; j < heating.Length; j++)
            {
                heating[j] = launcher.Heating(mounts[j].Coil) with { Resistance = mounts[j].Coil.ResistanceAt(Temperature.FromKelvins(kelvins[j])).Ohms };
            }

            CircuitSi[] circuits =
            [
                .. si.Circuits.Select((circuit, k) => circuit with
                {
                    CoilResistance = heating.Where((_, j) => mounts[j].Circuit == k).Sum(coil => coil.Resistance),
                    Heating = launcher.CoilsWarmUp ? [.. heating.Where((_, j) => mounts[j].Circuit == k)] : [],
                }),
            ];
            LaunchResult result = new LaunchSimulation(launcher, options, si with { Circuits = circuits }).Run();
            var starts = ImmutableArray.CreateBuilder<Temperature>(heating.Length);
            var peaks = ImmutableArray.CreateBuilder<Temperature>(heating.Length);
            for (int j = 0; j < heating.Length; j++)
            {
                double action = ActionOf(launcher.Heating(mounts[j].Coil), result.CoilTemperatures[j].Kelvins - launcher.CoilTemperature.Kelvins);
                double heat = launcher.CoilsWarmUp ? heating[j].HeatAfter(action) : heating[j].Resistance * action;
                starts.Add(Temperature.FromKelvins(kelvins[j]));
                peaks.Add(Temperature.FromKelvins(kelvins[j] + (heat / heating[j].HeatCapacity)));
            }

            return new SeriesLaunch(
                number, result.Outcome, result.Cause, starts.MoveToImmutable(), peaks.MoveToImmutable(), result.EndSpeed, result.PeakCurrent, result.Ledger.Drawn);
        }

        /// <summary>
        /// ∫ i² dt from the rise of a coil that the result computes as if it had started at the launcher's coil temperature: C ΔT = R (exp(a s) − 1)/a.
        /// </summary>
        private double ActionOf(in CoilHeatSi common, double rise)
        {
            double linear = rise * common.HeatCapacity / common.Resistance;
            return launcher.CoilsWarmUp && common.Growth > 0 ? double.LogP1(common.Growth * linear) / common.Growth : linear;
        }
    }
}
