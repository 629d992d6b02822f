using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Magrail;

/// <summary>
/// A launcher with one, two or many of its design numbers changed over a grid, or at listed points: each point a whole launch, held against every
/// stated limit.
/// </summary>
/// <remarks>
/// Points are independent of each other, so that the results are the same bits for any number of cores and any split into parts, on machines of one kind. A point
/// that cannot be launched, or is not released, is a point with that outcome. Points of one geometry share their coupling; put the design numbers that change
/// the geometry (<see cref="DesignNumber.Pitch"/>, <see cref="DesignNumber.Gap"/>, …) first, as the last axis runs fastest.
/// </remarks>
public sealed class Study
{
    private readonly bool listed;

    /// <summary>A grid: every combination of the values of all axes, the last axis running fastest.</summary>
    /// <param name="launcher">The launcher that the design numbers change.</param>
    /// <param name="axes">The design numbers and their values, one or more.</param>
    /// <exception cref="ArgumentNullException">The launcher, the list or an axis is null.</exception>
    /// <exception cref="ArgumentException">There is no axis, a design number comes twice, or the grid has more than 2³¹ points.</exception>
    public Study(Launcher launcher, params IReadOnlyList<StudyAxis> axes)
        : this(launcher, axes, listed: false)
    {
    }

    private Study(Launcher launcher, IReadOnlyList<StudyAxis> axes, bool listed)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        ArgumentNullException.ThrowIfNull(axes);
        if (axes.Count == 0)
        {
            throw new ArgumentException("No axis is given; a study changes one design number or more.", nameof(axes));
        }

        foreach (StudyAxis axis in axes)
        {
            ArgumentNullException.ThrowIfNull(axis, nameof(axes));
        }

        if (axes.GroupBy(axis => axis.Number.Name).FirstOrDefault(group => group.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"The {twice.Key} comes twice; a study changes each design number once.", nameof(axes));
        }

        this.listed = listed;
        Launcher = launcher;
        Axes = [.. axes];
        Columns = [.. axes.Select(axis => new StudyColumn(axis.Number.Name, axis.Number.Unit))];
        long count = listed ? axes[0].Count : 1;
        foreach (StudyAxis axis in axes)
        {
            count = listed ? count : count * axis.Count;
            if (count > int.MaxValue)
            {
                throw new ArgumentException("The grid has more than 2³¹ points; take fewer values.", nameof(axes));
            }
        }

        PointCount = (int)count;
    }

    /// <summary>The launcher that the design numbers change.</summary>
    public Launcher Launcher { get; }

    /// <summary>The design numbers and their values.</summary>
    public ImmutableArray<StudyAxis> Axes { get; }

    /// <summary>How many points the study has.</summary>
    public int PointCount { get; }

    /// <summary>The design numbers as columns.</summary>
    internal ImmutableArray<StudyColumn> Columns { get; }

    /// <summary>Listed points: the first takes the first value of each axis, the second the second of each, …</summary>
    /// <param name="launcher">The launcher that the design numbers change.</param>
    /// <param name="axes">The design numbers and their values, as many of each.</param>
    /// <exception cref="ArgumentNullException">The launcher, the list or an axis is null.</exception>
    /// <exception cref="ArgumentException">There is no axis, a design number comes twice, or the axes differ in length.</exception>
    public static Study OfPoints(Launcher launcher, params IReadOnlyList<StudyAxis> axes)
    {
        ArgumentNullException.ThrowIfNull(axes);
        return axes.Any(axis => axis?.Count != axes[0]?.Count)
            ? throw new ArgumentException($"The axes have {string.Join(", ", axes.Select(axis => axis?.Count))} values; listed points take one of each.", nameof(axes))
            : new Study(launcher, axes, listed: true);
    }

    /// <summary>The launcher of a point.</summary>
    /// <param name="index">Which point, from 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such point, or a part cannot be made so.</exception>
    public Launcher LauncherAt(int index)
        => new LauncherMaker(this).At(Require.InRange(index, 0, PointCount - 1, "the study has no other points"));

    /// <summary>Runs the study, or the part that the options ask for.</summary>
    /// <param name="options">How; the defaults where null.</param>
    /// <param name="progress">Told from time to time, and at the end.</param>
    /// <param name="cancellation">Stops the study. What is finished by then is in the file of finished points, where there is one.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <exception cref="InvalidDataException">The file of finished points is of another study, or none at all.</exception>
    /// <exception cref="IOException">The file of finished points cannot be read or written.</exception>
    public StudyResult Run(StudyOptions? options = null, IProgress<StudyProgress>? progress = null, CancellationToken cancellation = default)
    {
        StudyOptions asked = options ?? StudyOptions.Default;
        string fingerprint = FingerprintWith(asked);
        (int from, int to) = asked.Part.Of(PointCount);
        using StudyJournal? journal = asked.FinishedPoints is string path ? StudyJournal.Open(path, fingerprint, this, asked.Part, asked.Keeps) : null;
        var run = new StudyRun(this, asked, from, to, journal, progress);
        ImmutableArray<StudyPoint> points = run.Finish(cancellation);
        return new StudyResult(fingerprint, Columns, PointCount, asked.Part, points);
    }

    /// <summary>The study in words.</summary>
    public override string ToString() => $"{PointCount} {(listed ? "listed points" : "points")}: {string.Join("; ", Axes)}";

    /// <summary>Index of the value of an axis at a point.</summary>
    internal void IndicesAt(int point, Span<int> indices)
    {
        for (int axis = Axes.Length - 1; axis >= 0; axis--)
        {
            indices[axis] = listed ? point : point % Axes[axis].Count;
            point = listed ? point : point / Axes[axis].Count;
        }
    }

    internal double[] ValuesAt(int point)
    {
        Span<int> indices = stackalloc int[Axes.Length];
        IndicesAt(point, indices);
        double[] values = new double[Axes.Length];
        for (int axis = 0; axis < values.Length; axis++)
        {
            values[axis] = Axes[axis].Value(indices[axis]);
        }

        return values;
    }

    /// <summary>
    /// What tells this study from others. The launcher counts by its description in words and by what its own launch comes to, to the bit; what a design number of the
    /// user's own does cannot be seen.
    /// </summary>
    private string FingerprintWith(StudyOptions options)
    {
        LaunchOptions launch = options.Launch;
        var text = new StringBuilder("study 1\n");
        text.Append(CultureInfo.InvariantCulture, $"{listed} {options.FindsLimits} {launch.RelativeTolerance:R} {launch.CouplingAccuracy:R} ");
        text.Append(CultureInfo.InvariantCulture, $"{launch.TimeLimit.Seconds:R} {launch.StallPatience.Seconds:R} {launch.StepLimit}\n{Launcher}\n{Launcher.Ratings}\n");
        (LaunchSummary? summary, string? fault) = StudyRun.Launch(() => Launcher, options);
        text.Append(fault ?? StudyJournal.Text(summary!.Value)).Append('\n');
        foreach (StudyAxis axis in Axes)
        {
            text.Append(axis.Number.Name).Append('\t').Append(axis.Number.Unit);
            for (int i = 0; i < axis.Count; i++)
            {
                text.Append(CultureInfo.InvariantCulture, $"\t{axis.Value(i):R}");
            }

            text.Append('\n');
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())).AsSpan(0, 12));
    }

    /// <summary>Makes the launchers of one thread's points; what the slower axes made is used again.</summary>
    internal sealed class LauncherMaker(Study study)
    {
        private readonly int[] last = [.. Enumerable.Repeat(-1, study.Axes.Length)];
        private readonly Launcher?[] made = new Launcher?[study.Axes.Length];

        public Launcher At(int point)
        {
            Span<int> indices = stackalloc int[last.Length];
            study.IndicesAt(point, indices);
            int axis = 0;
            while (axis < last.Length && last[axis] == indices[axis] && made[axis] is not null)
            {
                axis++;
            }

            for (; axis < last.Length; axis++)
            {
                made.AsSpan(axis).Clear();
                last[axis] = indices[axis];
                made[axis] = study.Axes[axis].Apply(axis == 0 ? study.Launcher : made[axis - 1]!, indices[axis]);
            }

            return made[^1]!;
        }
    }
}
