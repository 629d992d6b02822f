using System.Diagnostics;
using System.Globalization;
using System.Runtime.Intrinsics;
using Magrail.Numerics;

namespace Magrail.Benchmarks;

/// <summary>
/// A small launch that other solvers solve too: K(x) = K0 sin(πx/p), strips from (k + 0.1) p to (k + 0.9) p that drive with the sign (−1)^k, a clamp after each, dry friction and drag.
/// One line is printed in a form in which times can be set side by side.
/// </summary>
internal static class BenchLaunch
{
    /// <summary>One launch after another, each alone.</summary>
    public static void Print(int launches, double relative, double absolute)
        => Print("bench-launch", launches, relative, absolute, (integrator, count) =>
        {
            for (int i = 0; i < count; i++)
            {
                integrator.Run(1, 10);
            }
        });

    /// <summary>All launches as one ensemble.</summary>
    public static void PrintEnsemble(int launches, double relative, double absolute)
        => Print("bench-ensemble", launches, relative, absolute, (integrator, count) => integrator.Run(count, 10));

    /// <summary>Error of exit speed and cost at tolerances from 1e-4 to 1e-12.</summary>
    public static void PrintPrecision()
    {
        Console.WriteLine("rtol     error of v     rhs   us_per_launch   us_per_launch in an ensemble");
        for (int power = 4; power <= 12; power++)
        {
            double relative = Math.Pow(10, -power);
            var integrator = new SeriesIntegrator<BenchLaunchSystem>(new BenchLaunchSystem(), new Tolerances(relative, 0.01 * relative));
            integrator.Run(1, 10);
            double error = integrator.System.ExitSpeed - BenchLaunchSystem.ReferenceSpeed;
            long evaluations = integrator.Evaluations;
            double alone = BestOf(() =>
            {
                for (int i = 0; i < 200; i++)
                {
                    integrator.Run(1, 10);
                }
            }) / 200;
            double together = BestOf(() => integrator.Run(800, 10)) / 800;
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"1e-{power,-6} {error,10:E1} {evaluations,9} {1e6 * alone,15:F2} {1e6 * together,30:F2}"));
        }
    }

    private static void Print(string name, int launches, double relative, double absolute, Action<SeriesIntegrator<BenchLaunchSystem>, int> run)
    {
        var integrator = new SeriesIntegrator<BenchLaunchSystem>(new BenchLaunchSystem(), new Tolerances(relative, absolute));
        integrator.Run(1, 10);
        BenchLaunchSystem one = integrator.System;
        long steps = integrator.Steps;
        long evaluations = integrator.Evaluations;
        long before = GC.GetAllocatedBytesForCurrentThread();

        // The first runs are compiled hastily; the time is that of a program that has been running for a while.
        for (long begun = Stopwatch.GetTimestamp(); Stopwatch.GetElapsedTime(begun).TotalSeconds < 1;)
        {
            run(integrator, Math.Min(launches, 200));
        }

        long start = Stopwatch.GetTimestamp();
        run(integrator, launches);
        double seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name} v={one.ExitSpeed:F12} t={one.ExitTime:F12} steps={steps} rhs={evaluations} us_per_launch={1e6 * seconds / launches:F2}"));
        Console.Error.WriteLine($"{allocated} bytes allocated in all launches");
    }

    private static double BestOf(Action run)
    {
        double best = double.PositiveInfinity;
        for (int i = 0; i < 12; i++)
        {
            long start = Stopwatch.GetTimestamp();
            run();
            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalSeconds);
        }

        return best;
    }
}

/// <summary>The bench launch. State: position, speed, current; with sine and cosine of the position in pitches its equations are sums of products.</summary>
internal struct BenchLaunchSystem : IQuadraticSystem
{
    /// <summary>Exit speed by SciPy's DOP853 at rtol 1e-13 (from the statement of the problem).</summary>
    public const double ReferenceSpeed = 13.543097496400;

    private const double V = 24, R = 1, L = 0.7e-3, M = 0.06, K0 = 1.2, F = 0.2, C = 1e-4, Clamp = 40, P = 0.02;
    private const int N = 40;

    // Components, and products of two of them.
    private const int X = 0, Speed = 1, Current = 2, Sine = 3, Cosine = 4;
    private const int SpeedSine = 0, SpeedCosine = 1, SpeedSpeed = 2, CurrentSine = 3;

    private Vector512<double> volts;
    private Vector512<double> connected;
    private CellsOfLanes cells;
    private ModesOfLanes modes;

    private enum Connection
    {
        Driven,
        Clamped,
        Open,
    }

    public double ExitSpeed { get; private set; }

    public double ExitTime { get; private set; }

    public readonly int Dimension => 3;

    public readonly int AuxiliaryCount => 2;

    public readonly IReadOnlyList<(int First, int Second)> Products => [(Speed, Sine), (Speed, Cosine), (Speed, Speed), (Current, Sine)];

    public readonly IReadOnlyList<int> MarkedComponents => [X, Current];

    public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, ReadOnlySpan<Vector512<double>> products, Vector512<double> one, Span<Vector512<double>> derivatives)
    {
        derivatives[X] = state[Speed];
        derivatives[Speed] = (K0 / M * products[CurrentSine]) - (C / M * products[SpeedSpeed]) - (F / M * one);
        derivatives[Current] = ((volts * one) - (connected * ((R * state[Current]) + (K0 * products[SpeedSine])))) * (1 / L);
        derivatives[Sine] = Math.PI / P * products[SpeedCosine];
        derivatives[Cosine] = -Math.PI / P * products[SpeedSine];
    }

    public readonly void Complete(Span<Vector512<double>> state)
    {
        Vector512<double> pitches = state[X] * (1 / P);
        state[Sine] = LaneMath.SinPi(pitches);
        state[Cosine] = LaneMath.SinPi(pitches + Vector512.Create(0.5));
    }

    public void Begin(int lane, int member, Span<double> state)
    {
        state[0] = 0.1 * P;
        state[1] = 0;
        state[2] = 0;
        cells[lane] = 0;
        Enter(lane, Connection.Driven, 0);
    }

    public readonly double Mark(int lane, int mark)
    {
        int cell = cells[lane];
        return mark == 1 ? modes[lane] == Connection.Clamped ? 0 : double.NaN
            : modes[lane] == Connection.Driven ? (cell + 0.9) * P
            : cell < N - 1 ? (cell + 1.1) * P
            : N * P;
    }

    public EventResponse OnMark(int lane, int mark, double time, Span<double> state)
    {
        if (mark == 1)
        {
            Enter(lane, Connection.Open, 0);
        }
        else if (modes[lane] == Connection.Driven)
        {
            Enter(lane, state[2] == 0 ? Connection.Open : Connection.Clamped, state[2]);
        }
        else
        {
            cells[lane]++;
            if (cells[lane] == N)
            {
                return EventResponse.Stop;
            }

            Enter(lane, Connection.Driven, 0);
        }

        return EventResponse.Restart;
    }

    public void OnEnd(int lane, int member, OdeOutcome outcome, double time, ReadOnlySpan<double> state)
    {
        ExitSpeed = outcome == OdeOutcome.StoppedByEvent ? state[1] : double.NaN;
        ExitTime = time;
    }

    private void Enter(int lane, Connection mode, double current)
    {
        modes[lane] = mode;
        double drive = mode switch
        {
            Connection.Driven => cells[lane] % 2 == 0 ? V : -V,
            Connection.Clamped => -Math.Sign(current) * Clamp,
            _ => 0,
        };
        volts = volts.WithElement(lane, drive);
        connected = connected.WithElement(lane, mode == Connection.Open ? 0 : 1);
    }

    [System.Runtime.CompilerServices.InlineArray(8)]
    private struct CellsOfLanes
    {
        private int first;
    }

    [System.Runtime.CompilerServices.InlineArray(8)]
    private struct ModesOfLanes
    {
        private Connection first;
    }
}
