using System.Collections.Immutable;

namespace Magrail;

/// <summary>What a study, or a part of one, found: its points in order.</summary>
public sealed class StudyResult
{
    internal StudyResult(string fingerprint, ImmutableArray<StudyColumn> columns, int total, StudyPart part, ImmutableArray<StudyPoint> points)
    {
        Fingerprint = fingerprint;
        Columns = columns;
        Total = total;
        Part = part;
        Points = points;
    }

    /// <summary>Tells studies apart: of their launcher, design numbers, values and options. Parts with one fingerprint belong together.</summary>
    public string Fingerprint { get; }

    /// <summary>The design numbers that were changed.</summary>
    public ImmutableArray<StudyColumn> Columns { get; }

    /// <summary>How many points the whole study has.</summary>
    public int Total { get; }

    /// <summary>Which part of the study this is.</summary>
    public StudyPart Part { get; }

    /// <summary>The points that were kept, in the order of the study.</summary>
    public ImmutableArray<StudyPoint> Points { get; }

    /// <summary>The point of the greatest exit speed among those that keep every limit; null where none does.</summary>
    public StudyPoint? Fastest => Points.Where(point => point.Holds).MaxBy(point => point.Summary!.Value.EndSpeed.MetersPerSecond);

    /// <summary>Puts the parts of a study together: the unsplit result, bit for bit.</summary>
    /// <param name="parts">All parts, in any order.</param>
    /// <exception cref="ArgumentNullException">The list or a part is null.</exception>
    /// <exception cref="ArgumentException">There is none, one is missing or there twice, or they are of different studies.</exception>
    public static StudyResult Merge(params IReadOnlyList<StudyResult> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        if (parts.Count == 0)
        {
            throw new ArgumentException("No part is given.", nameof(parts));
        }

        foreach (StudyResult part in parts)
        {
            ArgumentNullException.ThrowIfNull(part, nameof(parts));
        }

        StudyResult first = parts[0];
        StudyResult[] ordered = [.. parts.OrderBy(part => part.Part.Number)];
        if (parts.FirstOrDefault(part => part.Fingerprint != first.Fingerprint || part.Total != first.Total || !part.Columns.SequenceEqual(first.Columns)) is StudyResult other)
        {
            throw new ArgumentException($"The parts are of different studies: fingerprints {first.Fingerprint} and {other.Fingerprint}.", nameof(parts));
        }

        int count = first.Part.Count;
        if (parts.Any(part => part.Part.Count != count) || !ordered.Select(part => part.Part.Number).SequenceEqual(Enumerable.Range(1, count)))
        {
            throw new ArgumentException($"Given are {string.Join(", ", ordered.Select(part => part.Part))}; needed is each part of {count} once.", nameof(parts));
        }

        return new(first.Fingerprint, first.Columns, first.Total, StudyPart.Whole, [.. ordered.SelectMany(part => part.Points).Select(point => point.Under(first.Columns))]);
    }

    /// <summary>The result in words.</summary>
    public override string ToString()
    {
        int released = Points.Count(point => point.ExitSpeed is not null);
        int faulty = Points.Count(point => point.Summary is null);
        if (Points.All(one => one.Summary?.NearestLimit is null))
        {
            StudyPoint? first = Points.Where(one => one.ExitSpeed is not null).MaxBy(one => one.ExitSpeed!.Value.MetersPerSecond);
            string fastest = first is null ? "" : $"; the fastest: {first}";
            return $"{Points.Length} points of {Total} over {string.Join(", ", Columns)}: {released} released, {faulty} not launched, limits not looked at{fastest}";
        }

        string best = Fastest is StudyPoint point ? $"the fastest that keeps every limit: {point}" : "none keeps every limit";
        return $"{Points.Length} points of {Total} over {string.Join(", ", Columns)}: {released} released, {Points.Count(one => one.Holds)} within every limit, {faulty} not launched; {best}";
    }
}
