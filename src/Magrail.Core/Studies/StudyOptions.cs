namespace Magrail;

/// <summary>How a study is run.</summary>
public sealed record StudyOptions
{
    /// <summary>The defaults.</summary>
    public static StudyOptions Default { get; } = new();

    /// <summary>
    /// How accurately each launch is computed. By default as <see cref="LaunchOptions.Default"/>, with a relative tolerance of 1e-5: far better than any part is made, in
    /// little more than half the time.
    /// </summary>
    /// <remarks>
    /// Over 400 launches of a bench launcher of 40 stations, of which most meet the current limit of their supply, the exit speed was then good to 1e-7 as a rule and to 3e-7 at
    /// worst; what <see cref="LaunchOptions.RelativeTolerance"/> says about other launchers holds here as well.
    /// </remarks>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public LaunchOptions Launch { get; init => field = Require.Present(value, nameof(Launch)); } = new() { RelativeTolerance = 1e-5 };

    /// <summary>How many launches run at once, 1 or more; null (the default) for as many as the machine has cores. The results are the same bits for any number.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set below 1.</exception>
    public int? Cores { get; init => field = value is int cores ? Require.InRange(cores, 1, 4096, "some core does the work", nameof(Cores)) : null; }

    /// <summary>Which part of the study to run; the whole by default.</summary>
    /// <exception cref="ArgumentNullException">Set to null.</exception>
    public StudyPart Part { get; init => field = Require.Present(value, nameof(Part)); } = StudyPart.Whole;

    /// <summary>
    /// Whether each launch is held against the limits, true by default. The limit of the magnets costs some 30 ms for each geometry of coil, magnets and pitch; where every
    /// point has another, leaving the limits out may save most of the time.
    /// </summary>
    public bool FindsLimits { get; init; } = true;

    /// <summary>Which points to keep in memory; null (the default) for all. It is asked once for each point, from several threads.</summary>
    public Func<StudyPoint, bool>? Keeps { get; init; }

    /// <summary>
    /// A file in which finished points are written down as they come; null (the default) for none. A study that was killed goes on from there when it is run again
    /// with the same file; one of another study is refused.
    /// </summary>
    public string? FinishedPoints { get; init; }

    /// <summary>The options in words.</summary>
    public override string ToString()
        => $"{Part}, {(Cores is int cores ? $"{cores} cores" : "all cores")}, limits {(FindsLimits ? string.Empty : "not ")}looked at; {Launch}";
}

/// <summary>Part number i of n of a study: an equal share of its points, in order.</summary>
public sealed record StudyPart
{
    /// <summary>Names a part.</summary>
    /// <param name="number">Which part, from 1.</param>
    /// <param name="count">Of how many, 1 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The count is below one, or there is no such part.</exception>
    public StudyPart(int number, int count)
    {
        Count = Require.InRange(count, 1, int.MaxValue, "a study has some parts");
        Number = Require.InRange(number, 1, count, "parts count from 1");
    }

    /// <summary>The whole study.</summary>
    public static StudyPart Whole { get; } = new(1, 1);

    /// <summary>Which part, from 1.</summary>
    public int Number { get; }

    /// <summary>Of how many.</summary>
    public int Count { get; }

    /// <summary>The part in words.</summary>
    public override string ToString() => Count == 1 ? "the whole" : $"part {Number} of {Count}";

    /// <summary>The points of the part: from the first, included, to the last, excluded.</summary>
    internal (int From, int To) Of(int points)
        => ((int)((long)points * (Number - 1) / Count), (int)((long)points * Number / Count));
}

/// <summary>How far a study has come.</summary>
/// <param name="Done">Points finished, those read from a file of finished points included.</param>
/// <param name="Total">Points of the study, or of its part.</param>
public readonly record struct StudyProgress(int Done, int Total)
{
    /// <summary>The progress in words.</summary>
    public override string ToString() => $"{Done} of {Total}";
}
