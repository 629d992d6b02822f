using System.Collections.Immutable;
using System.Globalization;
using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>One frame of a film: when, where the sled's mark is, and how many frames were merged into it.</summary>
/// <param name="Time">When.</param>
/// <param name="Position">Where the sled's mark is along the track.</param>
/// <param name="Count">How many frames it stands for, 1 or more; 1 by default.</param>
public readonly record struct FilmedFrame(Duration Time, Length Position, int Count = 1)
{
    /// <summary>The frame in words.</summary>
    public override string ToString() => $"{Show.Quantity(Time)}: {Show.Quantity(Position)}{(Count > 1 ? $", {Count} frames" : string.Empty)}";
}

/// <summary>A filmed run: where the sled was at the times of the frames, and what was dropped on the way here.</summary>
/// <remarks>Columns are plain numbers in SI units with the unit in their name, in order of time. Immutable and safe to share.</remarks>
[UnitInName]
public sealed class FilmedRun
{
    /// <summary>The least number of frames from which anything can be told with its error.</summary>
    public const int LeastFrames = 12;

    /// <summary>Makes a run of frames.</summary>
    /// <param name="frames">The frames, 12 or more at different times, in any order.</param>
    /// <param name="errors">What is not known exactly; <see cref="FilmErrors.None"/> where null.</param>
    /// <param name="notes">What was dropped or changed before, in words; nothing where null.</param>
    /// <exception cref="ArgumentNullException"><paramref name="frames"/> is null.</exception>
    /// <exception cref="ArgumentException">There are fewer than 12 frames, two have the same time, or the position is the same in all.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A number is not finite, or a count is below 1.</exception>
    public FilmedRun(IEnumerable<FilmedFrame> frames, FilmErrors? errors = null, IEnumerable<string>? notes = null)
    {
        ArgumentNullException.ThrowIfNull(frames);
        Errors = errors ?? FilmErrors.None;
        Notes = notes is null ? [] : [.. notes];
        List<(double Time, double Position, int Count)> rows = [];
        foreach (FilmedFrame frame in frames)
        {
            rows.Add((
                Require.Finite(frame.Time, "a frame has a time", nameof(frame.Time)).Seconds,
                Require.Finite(frame.Position, "the sled is somewhere", nameof(frame.Position)).Meters,
                Require.InRange(frame.Count, 1, int.MaxValue, "a frame stands for itself at least", nameof(frame.Count))));
        }

        if (rows.Count < LeastFrames)
        {
            throw new ArgumentException(
                string.Create(CultureInfo.InvariantCulture, $"the run has {rows.Count} {(rows.Count == 1 ? "frame" : "frames")}; it must have {LeastFrames} or more: from fewer neither speed nor its error can be told."), nameof(frames));
        }

        rows.Sort((a, b) => a.Time.CompareTo(b.Time));
        for (int i = 1; i < rows.Count; i++)
        {
            if (rows[i].Time == rows[i - 1].Time)
            {
                throw new ArgumentException($"two frames have the same time, {Show.Quantity(Duration.FromSeconds(rows[i].Time))}; a sled is in one place at a time.", nameof(frames));
            }
        }

        if (rows.TrueForAll(row => row.Position == rows[0].Position))
        {
            throw new ArgumentException($"the position is {Show.Quantity(Length.FromMeters(rows[0].Position))} in all {rows.Count} frames; nothing moved, or it is the wrong column.", nameof(frames));
        }

        TimeSeconds = [.. rows.Select(row => row.Time)];
        PositionMeters = [.. rows.Select(row => row.Position)];
        Counts = [.. rows.Select(row => row.Count)];
    }

    /// <summary>Time of each frame, ascending, s.</summary>
    public ImmutableArray<double> TimeSeconds { get; }

    /// <summary>Position of the sled's mark, m.</summary>
    public ImmutableArray<double> PositionMeters { get; }

    /// <summary>How many frames were merged into each; 1 where none were.</summary>
    public ImmutableArray<int> Counts { get; }

    /// <summary>What is not known exactly.</summary>
    public FilmErrors Errors { get; }

    /// <summary>What was dropped or changed before, in words.</summary>
    public ImmutableArray<string> Notes { get; }

    /// <summary>How many frames there are.</summary>
    public int FrameCount => TimeSeconds.Length;

    /// <summary>Time of the first frame.</summary>
    public Duration Start => Duration.FromSeconds(TimeSeconds[0]);

    /// <summary>Time of the last frame.</summary>
    public Duration End => Duration.FromSeconds(TimeSeconds[^1]);

    /// <summary>Position, speed and acceleration with confidence bands.</summary>
    /// <param name="options">Which part, which window, which confidence; the defaults where null.</param>
    /// <exception cref="ArgumentException">The part holds fewer than 12 frames, or the window is longer than it.</exception>
    public SmoothedRun Smooth(SmoothingOptions? options = null) => new(this, options ?? SmoothingOptions.Default);

    /// <summary>The run in words, with what was dropped.</summary>
    public override string ToString()
        => string.Join(
            Environment.NewLine,
            Notes.Prepend(string.Create(
                CultureInfo.InvariantCulture,
                $"{FrameCount} frames from {Show.Quantity(Start)} to {Show.Quantity(End)}, {Show.Quantity(Length.FromMeters(PositionMeters[0]))} to {Show.Quantity(Length.FromMeters(PositionMeters[^1]))}")));
}
