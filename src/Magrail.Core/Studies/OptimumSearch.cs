using System.Collections.Concurrent;
using System.Collections.Immutable;
using Magrail.Numerics;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The fastest launcher that keeps every limit: whole turns, standard wires and continuous lengths chosen together.
/// </summary>
/// <remarks>
/// <para>
/// A pattern search over mixed variables: points spread over the whole space first; from the best of them, steps along every variable and every pair of
/// variables, up and down, halved where none is better (R. Hooke, T. A. Jeeves, J. ACM 8 (1961) 212-229; V. Torczon, SIAM J. Optim. 7 (1997) 1-25; from memory). Of
/// two designs that keep the limits the faster is better; one that keeps them is better than one that breaks any; of two that break some, the one that
/// breaks them by less. What moves in whole steps and jumps at limits has no slope to follow, so that methods by slopes, and simplexes, do not serve.
/// </para>
/// <para>
/// It finds a best among its neighbors from several starts, which nothing proves to be the best of all. What it returns has been launched anew at the default tolerance and
/// keeps every limit there.
/// </para>
/// </remarks>
public sealed class OptimumSearch
{
    private const int Halvings = 10;
    private const int FirstPart = 8;

    private readonly ImmutableArray<DesignVariable> variables;

    /// <summary>Describes a search.</summary>
    /// <param name="launcher">The launcher that the design numbers change; its own values are one of the starts.</param>
    /// <param name="variables">What may be chosen, one variable or more.</param>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentException">There is no variable, or a design number comes twice.</exception>
    public OptimumSearch(Launcher launcher, params IReadOnlyList<DesignVariable> variables)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        ArgumentNullException.ThrowIfNull(variables);
        Launcher = launcher;
        this.variables = [.. variables];
        if (variables.Count == 0 || variables.Select(variable => variable.Number.Name).Distinct().Count() < variables.Count)
        {
            throw new ArgumentException("A search chooses one design number or more, each once.", nameof(variables));
        }
    }

    /// <summary>The launcher that the design numbers change.</summary>
    public Launcher Launcher { get; }

    /// <summary>How many points to spread over the space at first, 1 or more; 64 by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below 1.</exception>
    public int FirstPoints { get; init => field = Require.InRange(value, 1, 1_000_000, "a search starts somewhere", nameof(FirstPoints)); } = 64;

    /// <summary>From how many of the best of them to search on, 1 or more; 4 by default.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below 1.</exception>
    public int Starts { get; init => field = Require.InRange(value, 1, 1_000, "a search starts somewhere", nameof(Starts)); } = 4;

    /// <summary>How accurately each launch is computed on the way; a relative tolerance of 1e-6 by default. The result is launched anew at the default tolerance.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public LaunchOptions Options { get; init => field = Require.Present(value, nameof(Options)); } = new() { RelativeTolerance = 1e-6 };

    /// <summary>How many launches run at once; null (the default) for as many as the machine has cores. The result is the same for any number.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below 1.</exception>
    public int? Cores { get; init => field = value is int cores ? Require.InRange(cores, 1, 4096, "some core does the work", nameof(Cores)) : null; }

    /// <summary>Searches.</summary>
    /// <param name="cancellation">Stops the search.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public Optimum Find(CancellationToken cancellation = default)
    {
        var tried = new ConcurrentDictionary<Point, Trial>();
        Trial[] first = All([new Point([.. variables.Select(variable => variable.CoordinateOf(Launcher))]), .. Spread()], tried, cancellation);
        Trial[] ends = [.. first.OrderDescending(Order(null)).Take(Starts).Select(start => Climb(start, tried, null, cancellation))];

        // What holds by a hair at the tolerance of the search may not at that of the result.
        foreach (Trial trial in tried.Values.Where(trial => trial.Violation(null) == 0).OrderByDescending(trial => trial.Speed).ThenBy(trial => trial.At))
        {
            LaunchResult launch = trial.Make(Launcher, variables).Launch();
            if (launch.Outcome == LaunchOutcome.Released && launch.Limits.Holds)
            {
                return new Optimum(variables, trial.At.Coordinates, launch, keeps: true, Bindings(trial, launch, tried, cancellation), tried.Count);
            }
        }

        Trial nearest = ends.Concat(first).OrderDescending(Order(null)).First();
        return new Optimum(variables, nearest.At.Coordinates, nearest.Fault is null ? nearest.Make(Launcher, variables).Launch() : null, keeps: false, [], tried.Count) { Fault = nearest.Fault };
    }

    /// <summary>What relaxing each limit that binds by a tenth is worth: searched anew from the optimum.</summary>
    private ImmutableArray<BindingLimit> Bindings(Trial best, LaunchResult launch, ConcurrentDictionary<Point, Trial> tried, CancellationToken cancellation)
    {
        var found = ImmutableArray.CreateBuilder<BindingLimit>();
        foreach (Limit limit in launch.Limits.Limits.Where(limit => limit.Margin < BindingLimit.Near))
        {
            Trial relaxed = Climb(best, tried, limit.Name, cancellation);
            found.Add(new BindingLimit(limit, (relaxed.Speed / best.Speed) - 1));
        }

        return found.DrainToImmutable();
    }

    private Trial Climb(Trial start, ConcurrentDictionary<Point, Trial> tried, string? relaxed, CancellationToken cancellation)
    {
        IComparer<Trial> order = Order(relaxed);
        Trial best = start;
        for (int halving = 0; halving <= Halvings;)
        {
            Trial next = All(Neighbors(best.At, halving), tried, cancellation).Append(best).Max(order)!;
            if (order.Compare(next, best) > 0)
            {
                best = next;
            }
            else
            {
                halving++;
            }
        }

        return best;
    }

    /// <summary>One step along each variable and along each pair, up and down.</summary>
    private IEnumerable<Point> Neighbors(Point from, int halving)
    {
        int n = variables.Length;
        double[] steps = new double[n];
        for (int i = 0; i < n; i++)
        {
            double step = (variables[i].Greatest - variables[i].Least) / (FirstPart << halving);
            steps[i] = variables[i].IsWhole ? Math.Max(1, Math.Round(step)) : step;
        }

        for (int i = 0; i < n; i++)
        {
            foreach (int up in (int[])[-1, 1])
            {
                yield return Moved(from, i, up * steps[i]);
                for (int j = 0; j < i; j++)
                {
                    yield return Moved(Moved(from, i, up * steps[i]), j, steps[j]);
                    yield return Moved(Moved(from, i, up * steps[i]), j, -steps[j]);
                }
            }
        }
    }

    private Point Moved(Point point, int variable, double step)
    {
        double[] coordinates = [.. point.Coordinates];
        coordinates[variable] = variables[variable].Held(coordinates[variable] + step);
        return new Point(coordinates);
    }

    /// <summary>Points spread evenly: one in each of as many slices of every variable, in an order drawn for each (a Latin hypercube).</summary>
    private IEnumerable<Point> Spread()
    {
        int count = FirstPoints;
        int[][] orders =
        [
            .. Enumerable.Range(0, variables.Length).Select(variable => Enumerable.Range(0, count).OrderBy(k => Philox.Uniform(1, (ulong)k, (uint)variable)).ToArray()),
        ];
        return Enumerable.Range(0, count).Select(k => new Point(
            [.. variables.Select((variable, i) => variable.Held(variable.Least + ((orders[i][k] + 0.5) / count * (variable.Greatest - variable.Least))))]));
    }

    private Trial[] All(IEnumerable<Point> points, ConcurrentDictionary<Point, Trial> tried, CancellationToken cancellation)
        =>
        [
            .. points.Distinct().ToArray().AsParallel().AsOrdered().WithDegreeOfParallelism(Math.Min(Cores ?? Environment.ProcessorCount, 512)).WithCancellation(cancellation)
                .Select(point => tried.TryGetValue(point, out Trial? known) ? known : tried.GetOrAdd(point, Trial.Of(point, Launcher, variables, Options))),
        ];

    private static Comparer<Trial> Order(string? relaxed) => Comparer<Trial>.Create((a, b) =>
    {
        int byViolation = b.Violation(relaxed).CompareTo(a.Violation(relaxed));
        int bySpeed = byViolation != 0 ? byViolation : a.Speed.CompareTo(b.Speed);
        return bySpeed != 0 ? bySpeed : b.At.CompareTo(a.At);
    });

    /// <summary>A point of the space of coordinates.</summary>
    /// <summary>The search in words.</summary>
    public override string ToString() => $"search for the fastest launch over {string.Join(", ", variables)}";

    private sealed class Point(double[] coordinates) : IEquatable<Point>, IComparable<Point>
    {
        public double[] Coordinates { get; } = coordinates;

        public bool Equals(Point? other) => other is not null && Coordinates.AsSpan().SequenceEqual(other.Coordinates);

        public override bool Equals(object? obj) => Equals(obj as Point);

        public override int GetHashCode() => Coordinates.Aggregate(17, HashCode.Combine);

        public int CompareTo(Point? other) => Coordinates.AsSpan().SequenceCompareTo(other!.Coordinates);
    }

    /// <summary>A point that was launched: its speed and by how much it breaks each limit.</summary>
    private sealed record Trial(Point At, double Speed, double Unreleased, (string Name, double Margin)[] Margins, string? Fault)
    {
        public static Trial Of(Point point, Launcher launcher, ImmutableArray<DesignVariable> variables, LaunchOptions options)
        {
            try
            {
                LaunchSimulation simulation = Apply(launcher, variables, point).Prepare(options);
                LaunchFigures figures = simulation.LaunchForFigures();
                var margins = new List<(string, double)>();
                foreach (LimitRule rule in simulation.Limits.All)
                {
                    if (rule.Applies(figures))
                    {
                        margins.Add((rule.Name, rule.Margin(figures)));
                    }
                }

                bool released = figures.Outcome == LaunchOutcome.Released;
                return new Trial(point, released ? figures.EndSpeed : 0, released ? 0 : 1 / (1 + Math.Max(0, figures.EndPosition)), [.. margins], null);
            }
            catch (Exception fault) when (fault is not (OutOfMemoryException or OperationCanceledException))
            {
                return new Trial(point, 0, 0, [], fault.Message);
            }
        }

        public Launcher Make(Launcher launcher, ImmutableArray<DesignVariable> variables) => Apply(launcher, variables, At);

        /// <summary>By how much limits are broken, all together, one of them relaxed by a tenth; an unreleased payload is worse than any, an impossible launcher worst.</summary>
        public double Violation(string? relaxed)
        {
            if (Fault is not null)
            {
                return double.PositiveInfinity;
            }

            double sum = Unreleased > 0 ? 1e6 * (1 + Unreleased) : 0;
            foreach ((string name, double margin) in Margins)
            {
                double beyond = -(margin + (name == relaxed ? BindingLimit.Relaxed : 0));
                sum += beyond > 0 ? Math.Min(beyond, 1e3) : 0;
            }

            return sum;
        }

        private static Launcher Apply(Launcher launcher, ImmutableArray<DesignVariable> variables, Point point)
        {
            for (int i = 0; i < variables.Length; i++)
            {
                launcher = variables[i].Apply(launcher, point.Coordinates[i]);
            }

            return launcher;
        }
    }
}

/// <summary>What an <see cref="OptimumSearch"/> found: a design that keeps every limit, or none and the nearest miss.</summary>
public sealed class Optimum
{
    private readonly ImmutableArray<DesignVariable> variables;
    private readonly double[] coordinates;
    private readonly LaunchResult? launch;
    private readonly bool keeps;

    internal Optimum(ImmutableArray<DesignVariable> variables, double[] coordinates, LaunchResult? launch, bool keeps, ImmutableArray<BindingLimit> binding, int trials)
    {
        this.variables = variables;
        this.coordinates = coordinates;
        this.launch = launch;
        this.keeps = keeps;
        Binding = binding;
        Trials = trials;
    }

    /// <summary>Whether any design was found that keeps every limit.</summary>
    public bool Found => keeps;

    /// <summary>The best design, launched at the default tolerance; null where none was found.</summary>
    public LaunchResult? Launch => keeps ? launch : null;

    /// <summary>Where none was found, the design that comes nearest; null where one was found, and where no design could be launched at all.</summary>
    public LaunchResult? NearestMiss => keeps ? null : launch;

    /// <summary>The limits that bind and what relaxing each is worth, the nearest first.</summary>
    public ImmutableArray<BindingLimit> Binding { get; }

    /// <summary>How many designs were launched on the way.</summary>
    public int Trials { get; }

    /// <summary>Why nothing could be launched; null where something could.</summary>
    public string? Fault { get; internal init; }

    /// <summary>The value chosen for a design number, in the best design or the nearest miss.</summary>
    /// <param name="number">One of those that were searched.</param>
    /// <typeparam name="T">The type of its values.</typeparam>
    /// <exception cref="ArgumentNullException">The number is null.</exception>
    /// <exception cref="ArgumentException">It was not searched.</exception>
    [return: Dimensionless]
    public T Value<T>(DesignNumber<T> number)
        where T : notnull
    {
        ArgumentNullException.ThrowIfNull(number);
        for (int i = 0; i < variables.Length; i++)
        {
            if (variables[i].Number == number)
            {
                return number.Typed(variables[i].Value(coordinates[i]));
            }
        }

        throw new ArgumentException($"The {number.Name} was not searched.", nameof(number));
    }

    /// <summary>The result in words.</summary>
    public override string ToString()
    {
        string design = string.Join(", ", variables.Select((variable, i) => $"{variable.Number.Name} {variable.Number.Text(variable.Value(coordinates[i]))}"));
        if (keeps)
        {
            string head = $"{design}: {Show.Quantity(launch!.ExitSpeed)}, every limit kept ({Trials} designs launched)";
            return string.Join(Environment.NewLine, Binding.Select(binding => binding.ToString()).Prepend(head));
        }

        string miss = launch is null ? $"nothing could be launched: {Fault}"
            : launch.Outcome != LaunchOutcome.Released ? launch.Cause
            : string.Join("; ", launch.Limits.Limits.Where(limit => limit.IsBroken));
        return $"None found that keeps every limit ({Trials} designs launched). The nearest miss, {design}: {miss}";
    }
}

/// <summary>A limit that stops an optimum from being faster.</summary>
/// <param name="Limit">The limit.</param>
/// <param name="Worth">
/// What the exit speed of the best design gains if the limit is a tenth looser (its value may exceed what is allowed by a tenth, or stay below what is needed by as much), as a part of the speed.
/// </param>
public sealed record BindingLimit(Limit Limit, [property: Dimensionless] double Worth)
{
    /// <summary>Margins below this are looked at.</summary>
    internal const double Near = 0.05;

    /// <summary>By how much a limit is relaxed.</summary>
    internal const double Relaxed = 0.1;

    /// <summary>The limit in words.</summary>
    public override string ToString() => $"{Limit.Name} binds (margin {Show.Number(100 * Limit.Margin)} %); a tenth looser, the best would be {Show.Number(100 * Worth)} % faster";
}
