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
            var integrator = new LockstepIntegrator<BenchLaunchSystem>(new BenchLaunchSystem(), new Tolerances(relative, 0.01 * relative));
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

    private static void Print(string name, int launches, double relative, double absolute, Action<LockstepIntegrator<BenchLaunchSystem>, int> run)
    {
        var integrator = new LockstepIntegrator<BenchLaunchSystem>(new BenchLaunchSystem(), new Tolerances(relative, absolute));
        integrator.Run(1, 10);
        BenchLaunchSystem one = integrator.System;
        long steps = integrator.StepsAccepted;
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

/// <summary>The bench launch. State: position, speed, current.</summary>
internal struct BenchLaunchSystem : ILockstepSystem
{
    /// <summary>Exit speed by SciPy's DOP853 at rtol 1e-13 (from the statement of the problem).</summary>
    public const double ReferenceSpeed = 13.543097496400;

    private const double V = 24, R = 1, L = 0.7e-3, M = 0.06, K0 = 1.2, F = 0.2, C = 1e-4, Clamp = 40, P = 0.02;
    private const int N = 40;
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

    public readonly int MarkCount => 2;

    public readonly int ModeCount => 3;

    public readonly int Mode(int lane) => (int)modes[lane];

    public readonly void Derivatives(ReadOnlySpan<Vector512<double>> state, Span<Vector512<double>> derivatives)
    {
        Vector512<double> v = state[1];
        Vector512<double> i = state[2];
        Vector512<double> k = K0 * LaneMath.SinPi(state[0] * (1 / P));
        derivatives[0] = v;
        derivatives[1] = ((k * i) - (C * v * v) - Vector512.Create(F)) * (1 / M);
        derivatives[2] = (volts - (connected * ((R * i) + (k * v)))) * (1 / L);
    }

    public void Begin(int lane, int member, Span<double> state)
    {
        state[0] = 0.1 * P;
        state[1] = 0;
        state[2] = 0;
        cells[lane] = 0;
        Enter(lane, Connection.Driven, 0);
    }

    public readonly LockstepMark Mark(int lane, int mark)
    {
        int cell = cells[lane];
        return mark == 1 ? modes[lane] == Connection.Clamped ? new LockstepMark(2, 0) : LockstepMark.None
            : modes[lane] == Connection.Driven ? new LockstepMark(0, (cell + 0.9) * P)
            : new LockstepMark(0, cell < N - 1 ? (cell + 1.1) * P : N * P);
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
