using System.Collections.Immutable;
using System.Diagnostics;

namespace Magrail;

/// <summary>One run of a study: its threads, the order of its results, its file of finished points.</summary>
internal sealed class StudyRun
{
    private const int GreatestChunk = 64;

    private readonly Study study;
    private readonly StudyOptions options;
    private readonly StudyJournal? journal;
    private readonly IProgress<StudyProgress>? progress;
    private readonly int from;
    private readonly int to;
    private readonly int chunk;
    private readonly List<StudyPoint>?[] kept;
    private readonly Lock gate = new();
    private int nextChunk;
    private int done;
    private long told;
    private volatile bool stopped;

    public StudyRun(Study study, StudyOptions options, int from, int to, StudyJournal? journal, IProgress<StudyProgress>? progress)
    {
        this.study = study;
        this.options = options;
        this.from = from;
        this.to = to;
        this.journal = journal;
        this.progress = progress;

        // Small enough that all cores end together, large enough that they do not wait for each other.
        chunk = Math.Clamp((to - from) / (Cores * 8), 1, GreatestChunk);
        kept = new List<StudyPoint>?[(to - from + chunk - 1) / chunk];
    }

    private int Cores => options.Cores ?? Environment.ProcessorCount;

    /// <summary>Launches once and gives figures or fault; throws for nothing that the description brings about.</summary>
    public static (LaunchSummary? Summary, string? Fault) Launch(Func<Launcher> make, StudyOptions options)
    {
        try
        {
            return (make().Prepare(options.Launch).RunSummary(options.FindsLimits), null);
        }
        catch (Exception fault) when (fault is not (OutOfMemoryException or OperationCanceledException))
        {
            // A design number of the user's own may throw what it likes: the point failed, the study goes on.
            return (null, fault.Message);
        }
    }

    public ImmutableArray<StudyPoint> Finish(CancellationToken cancellation)
    {
        if (Cores == 1)
        {
            Work(cancellation);
        }
        else
        {
            Task[] workers =
            [
                .. Enumerable.Range(0, Math.Min(Cores, Math.Max(1, kept.Length)))
                    .Select(_ => Task.Factory.StartNew(() => WorkOrStop(cancellation), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default)),
            ];
            try
            {
                Task.WaitAll(workers, CancellationToken.None);
            }
            catch (AggregateException several)
            {
                System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(several.InnerExceptions[0]);
            }
        }

        cancellation.ThrowIfCancellationRequested();
        progress?.Report(new StudyProgress(to - from, to - from));
        return [.. kept.SelectMany(points => points!)];
    }

    private void WorkOrStop(CancellationToken cancellation)
    {
        try
        {
            Work(cancellation);
        }
        catch
        {
            stopped = true;
            throw;
        }
    }

    private void Work(CancellationToken cancellation)
    {
        var launchers = new Study.LauncherMaker(study);
        var fresh = new List<StudyPoint>(chunk);
        while (!stopped && !cancellation.IsCancellationRequested)
        {
            int number = Interlocked.Increment(ref nextChunk) - 1;
            if (number >= kept.Length)
            {
                return;
            }

            int first = from + (number * chunk);
            int last = Math.Min(first + chunk, to);
            var points = new List<StudyPoint>();
            fresh.Clear();
            for (int index = first; index < last && !cancellation.IsCancellationRequested; index++)
            {
                if (journal?.IsFinished(index) ?? false)
                {
                    if (journal.Take(index) is StudyPoint earlier)
                    {
                        points.Add(earlier);
                    }

                    continue;
                }

                StudyPoint point = PointAt(index, launchers);
                fresh.Add(point);
                if (options.Keeps?.Invoke(point) ?? true)
                {
                    points.Add(point);
                }
            }

            journal?.Append(fresh);
            kept[number] = points;
            Tell(last - first);
        }
    }

    private StudyPoint PointAt(int index, Study.LauncherMaker launchers)
    {
        (LaunchSummary? summary, string? fault) = Launch(() => launchers.At(index), options);
        return new StudyPoint(study.Columns, index, study.ValuesAt(index), summary, fault);
    }

    private void Tell(int more)
    {
        int now = Interlocked.Add(ref done, more);
        if (progress is null || now >= to - from)
        {
            return;
        }

        // Ten times a second is as often as anybody looks.
        lock (gate)
        {
            if (told == 0 || Stopwatch.GetElapsedTime(told).TotalSeconds >= 0.1)
            {
                told = Stopwatch.GetTimestamp();
                progress.Report(new StudyProgress(Volatile.Read(ref done), to - from));
            }
        }
    }
}
