using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Magrail.Numerics;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The course of a launch, known everywhere by the integrator's continuous extension. Columns are plain numbers in SI units
/// with the unit in their name, ready to draw; <see cref="At"/> and <see cref="AtPosition"/> give quantities anywhere.
/// </summary>
/// <remarks>
/// The columns hold five rows a step: its start, three points inside and its end. Where something jumps (an ideal break),
/// two rows have the same time. Accuracy inside a step is of the fourth order, of the size of the tolerance. What the source gives and the copper takes
/// jumps at contact edges; there, too, two rows have the same time.
/// </remarks>
[Sources.UnitInName]
public sealed class LaunchTrace
{
    private const int RowsPerStep = 5;

    /// <summary>Numbers of the supply that come with each row: rail voltage, power of the source, heat of the coils.</summary>
    internal const int SupplyNumbers = 3;

    private readonly LauncherSi launcher;
    private readonly int dimension;
    private readonly double[] starts;
    private readonly double[] ends;
    private readonly double[] lengths;
    private readonly double[] coefficients;
    private readonly CircuitConnection[] connections;
    private readonly int circuits;

    internal LaunchTrace(
        LauncherSi launcher, int dimension, double[] starts, double[] ends, double[] lengths, double[] coefficients, CircuitConnection[] connections,
        ReadOnlySpan<double> supply, IReadOnlyList<TracedCoil> coils)
    {
        this.launcher = launcher;
        this.dimension = dimension;
        this.starts = starts;
        this.ends = ends;
        this.lengths = lengths;
        this.coefficients = coefficients;
        this.connections = connections;
        circuits = launcher.Circuits.Length;
        int rows = RowsPerStep * starts.Length;
        double[] time = new double[rows];
        double[] position = new double[rows];
        double[] speed = new double[rows];
        double[] force = new double[rows];
        double[][] current = [.. Enumerable.Range(0, circuits).Select(_ => new double[rows])];
        double[] rail = new double[rows];
        double[] source = new double[rows];
        double[] copper = new double[rows];
        double[] motion = new double[rows];
        double[][] warm = [.. coils.Select(_ => new double[rows])];
        for (int step = 0; step < starts.Length; step++)
        {
            DenseStep dense = Step(step);
            for (int sample = 0; sample < RowsPerStep; sample++)
            {
                int row = (step * RowsPerStep) + sample;
                double t = starts[step] + ((ends[step] - starts[step]) * sample / (RowsPerStep - 1));
                time[row] = t;
                position[row] = dense.Value(0, t);
                speed[row] = dense.Value(1, t);
                for (int k = 0; k < circuits; k++)
                {
                    current[k][row] = dense.Value(2 + k, t);
                    force[row] += launcher.Circuits[k].Curve.At(position[row]) * current[k][row];
                }

                rail[row] = supply[row * SupplyNumbers];
                source[row] = supply[(row * SupplyNumbers) + 1];
                copper[row] = supply[(row * SupplyNumbers) + 2];
                motion[row] = force[row] * speed[row];
                for (int j = 0; j < warm.Length; j++)
                {
                    double action = coils[j].Circuit < circuits ? dense.Value(2 + circuits + coils[j].Circuit, t) : 0;
                    warm[j][row] = UnitsNet.Temperature.FromKelvins(coils[j].KelvinsAfter(action)).DegreesCelsius;
                }
            }
        }

        TimeSeconds = ImmutableArray.Create(time);
        PositionMeters = ImmutableArray.Create(position);
        SpeedMetersPerSecond = ImmutableArray.Create(speed);
        ForceNewtons = ImmutableArray.Create(force);
        CurrentAmperes = [.. current.Select(column => ImmutableArray.Create(column))];
        RailVolts = ImmutableArray.Create(rail);
        SourceWatts = ImmutableArray.Create(source);
        CoilHeatWatts = ImmutableArray.Create(copper);
        MotionWatts = ImmutableArray.Create(motion);
        CoilCelsius = [.. warm.Select(column => ImmutableArray.Create(column))];
    }

    /// <summary>Time, s.</summary>
    public ImmutableArray<double> TimeSeconds { get; }

    /// <summary>Position of the sled's mark, m.</summary>
    public ImmutableArray<double> PositionMeters { get; }

    /// <summary>Speed, m/s.</summary>
    public ImmutableArray<double> SpeedMetersPerSecond { get; }

    /// <summary>Magnetic force on the sled along the track, N.</summary>
    public ImmutableArray<double> ForceNewtons { get; }

    /// <summary>Current of each circuit, A.</summary>
    public ImmutableArray<ImmutableArray<double>> CurrentAmperes { get; }

    /// <summary>
    /// Voltage between the rails, V: that of the source less the drop in source, leads, switch and bus bars; while nothing is connected, that of the source.
    /// </summary>
    public ImmutableArray<double> RailVolts { get; }

    /// <summary>Power that the source gives, W: its voltage before its resistance times its current, as the ledger counts it; below zero where it takes back.</summary>
    public ImmutableArray<double> SourceWatts { get; }

    /// <summary>Power that the copper of all coils turns to heat, i² R, W.</summary>
    public ImmutableArray<double> CoilHeatWatts { get; }

    /// <summary>Power that goes into motion, force times speed, W: into speed, friction, drag and height.</summary>
    public ImmutableArray<double> MotionWatts { get; }

    /// <summary>Temperature of each coil in the order of <see cref="Sled.Coils"/>, all its heat kept, °C.</summary>
    public ImmutableArray<ImmutableArray<double>> CoilCelsius { get; }

    /// <summary>The time at which the run ended.</summary>
    public Duration End => Duration.FromSeconds(ends.Length == 0 ? 0 : ends[^1]);

    /// <summary>Everything at one time.</summary>
    /// <param name="time">From zero to <see cref="End"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The time lies outside the run.</exception>
    public LaunchSample At(Duration time)
    {
        double t = Require.InRange(time, Duration.Zero, End, "the launch is known only where it was computed").Seconds;
        if (starts.Length == 0)
        {
            throw Require.Fault(nameof(time), Show.Quantity(time), "asked of a run that took a step", "this run ended before it began");
        }

        int step = Array.BinarySearch(starts, t);
        step = step >= 0 ? step : ~step - 1;
        return Sample(step, t);
    }

    /// <summary>Everything where the sled first reaches a position.</summary>
    /// <param name="position">A position that the sled reached going forward.</param>
    /// <exception cref="ArgumentOutOfRangeException">The sled never reached the position.</exception>
    public LaunchSample AtPosition(Length position)
    {
        double x = Require.Finite(position, "a place on the track").Meters;
        for (int step = 0; step < starts.Length; step++)
        {
            DenseStep dense = Step(step);
            double a = starts[step], b = ends[step];
            if (dense.Value(0, a) > x || dense.Value(0, b) < x)
            {
                continue;
            }

            for (int i = 0; i < 80 && b - a > 1e-15; i++)
            {
                double m = 0.5 * (a + b);
                if (dense.Value(0, m) < x)
                {
                    a = m;
                }
                else
                {
                    b = m;
                }
            }

            return Sample(step, b);
        }

        throw Require.Fault(nameof(position), Show.Quantity(position), "a position that the sled reached", "the launch is known only where the sled has been");
    }

    /// <summary>Samples at even times from zero to the end.</summary>
    /// <param name="count">How many, 2 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="count"/> is less than 2.</exception>
    public IReadOnlyList<LaunchSample> Samples(int count)
    {
        Require.InRange(count, 2, int.MaxValue, "a course has a start and an end");
        return [.. Enumerable.Range(0, count).Select(i => At(Duration.FromSeconds(Math.Min(End.Seconds * i / (count - 1), End.Seconds))))];
    }

    /// <summary>
    /// Writes the columns as CSV (comma, decimal point, SI units in the header), beside the target first and then moved into
    /// place, so that an interrupted writing leaves no half file.
    /// </summary>
    /// <param name="path">The file to write; replaced where it exists.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public void SaveCsv(string path) => WholeFile.WriteText(path, ToCsv());

    /// <summary>The columns as CSV text: comma, decimal point, SI units in the header, full precision.</summary>
    public string ToCsv()
    {
        var text = new StringBuilder("time [s],position [m],speed [m/s],force [N]");
        for (int k = 0; k < circuits; k++)
        {
            text.Append(CultureInfo.InvariantCulture, $",current {k} [A]");
        }

        text.Append(",rail [V],source power [W],coil heat [W],motion power [W]");
        for (int j = 0; j < CoilCelsius.Length; j++)
        {
            text.Append(CultureInfo.InvariantCulture, $",coil {j} temperature [degC]");
        }

        text.Append('\n');
        for (int row = 0; row < TimeSeconds.Length; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{TimeSeconds[row]:R},{PositionMeters[row]:R},{SpeedMetersPerSecond[row]:R},{ForceNewtons[row]:R}");
            for (int k = 0; k < circuits; k++)
            {
                text.Append(CultureInfo.InvariantCulture, $",{CurrentAmperes[k][row]:R}");
            }

            text.Append(CultureInfo.InvariantCulture, $",{RailVolts[row]:R},{SourceWatts[row]:R},{CoilHeatWatts[row]:R},{MotionWatts[row]:R}");
            foreach (ImmutableArray<double> warm in CoilCelsius)
            {
                text.Append(CultureInfo.InvariantCulture, $",{warm[row]:R}");
            }

            text.Append('\n');
        }

        return text.ToString();
    }

    /// <summary>The course in a line.</summary>
    public override string ToString()
        => starts.Length == 0
            ? "the course of a launch that took no step"
            : $"{TimeSeconds.Length} rows from 0 s to {Show.Quantity(End)}, {Show.Quantity(Length.FromMeters(PositionMeters[0]))} to {Show.Quantity(Length.FromMeters(PositionMeters[^1]))}";

    /// <summary>
    /// Position and speed at a time, s, m and m/s, without allocating. Before the start the sled moves with its first speed, after the end with its last.
    /// </summary>
    internal (double PositionMeters, double SpeedMetersPerSecond) MotionAt(double t)
    {
        if (starts.Length == 0)
        {
            return (launcher.Start + (launcher.StartSpeed * t), launcher.StartSpeed);
        }

        int step = Array.BinarySearch(starts, t);
        step = Math.Max(step >= 0 ? step : ~step - 1, 0);
        double inside = Math.Clamp(t, 0, ends[^1]);
        DenseStep dense = Step(step);
        double speed = dense.Value(1, inside);
        return (dense.Value(0, inside) + (speed * (t - inside)), speed);
    }

    private DenseStep Step(int step)
        => new(starts[step], lengths[step], ends[step], coefficients.AsSpan(step * 5 * dimension, 5 * dimension), dimension, dimension);

    private LaunchSample Sample(int step, double t)
    {
        DenseStep dense = Step(step);
        double x = dense.Value(0, t);
        double force = 0;
        var current = ImmutableArray.CreateBuilder<ElectricCurrent>(circuits);
        var connection = ImmutableArray.CreateBuilder<CircuitConnection>(circuits);
        for (int k = 0; k < circuits; k++)
        {
            double i = dense.Value(2 + k, t);
            force += launcher.Circuits[k].Curve.At(x) * i;
            current.Add(ElectricCurrent.FromAmperes(i));
            connection.Add(connections[(step * circuits) + k]);
        }

        return new LaunchSample(
            Duration.FromSeconds(t),
            Length.FromMeters(x),
            Speed.FromMetersPerSecond(dense.Value(1, t)),
            Acceleration.FromMetersPerSecondSquared(dense.Slope(1, t)),
            Force.FromNewtons(force),
            current.MoveToImmutable(),
            connection.MoveToImmutable());
    }
}

/// <summary>A launch at one instant.</summary>
/// <param name="Time">When.</param>
/// <param name="Position">Where the sled's mark is.</param>
/// <param name="Speed">How fast the sled is.</param>
/// <param name="Acceleration">Its acceleration, from the slope of the continuous extension.</param>
/// <param name="Force">Magnetic force on it along the track.</param>
/// <param name="Currents">The current of each circuit.</param>
/// <param name="Connections">What each circuit is connected to.</param>
public sealed record LaunchSample(
    Duration Time,
    Length Position,
    Speed Speed,
    Acceleration Acceleration,
    Force Force,
    ImmutableArray<ElectricCurrent> Currents,
    ImmutableArray<CircuitConnection> Connections)
{
    /// <summary>The sample in words.</summary>
    public override string ToString()
        => $"{Show.Quantity(Time)}: {Show.Quantity(Position)}, {Show.Quantity(Speed)}, {string.Join(" and ", Currents.Select(i => Show.Quantity(i)))}, {Show.Quantity(Force)}";
}

/// <summary>A coil whose temperature a trace follows.</summary>
/// <param name="Circuit">Its circuit.</param>
/// <param name="Heat">How it warms up.</param>
/// <param name="Follows">Whether its resistance follows its temperature.</param>
/// <param name="StartKelvins">Its temperature at the start, K.</param>
internal readonly record struct TracedCoil(int Circuit, CoilHeatSi Heat, bool Follows, double StartKelvins)
{
    /// <summary>Its temperature after an action integral ∫i² dt, K; all its heat kept.</summary>
    public double KelvinsAfter(double action) => StartKelvins + ((Follows ? Heat.HeatAfter(action) : Heat.Resistance * action) / Heat.HeatCapacity);
}
