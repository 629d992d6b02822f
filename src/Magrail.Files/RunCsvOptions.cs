using UnitsNet;

namespace Magrail.Files;

/// <summary>What the file does not say of itself.</summary>
public sealed record RunCsvOptions
{
    /// <summary>Times and positions in units of time and length, columns found by their headings.</summary>
    public static RunCsvOptions Default { get; } = new();

    /// <summary>Frames a second, for files that count frames; null (the default) where times have a unit of time.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero, below, or to a value that is not finite.</exception>
    public Frequency? FrameRate
    {
        get;
        init => field = value is not Frequency rate || (rate.Hertz > 0 && double.IsFinite(rate.Hertz))
            ? value
            : throw new ArgumentOutOfRangeException(nameof(FrameRate), $"FrameRate is {rate.Hertz} Hz; it must be above zero and finite: a camera takes frames.");
    }

    /// <summary>Length that one pixel stands for, for files in pixels; null (the default) where positions have a unit of length.</summary>
    /// <remarks>Below zero where pixels count against the direction of travel.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Set to zero, or to a value that is not finite.</exception>
    public Length? LengthPerPixel
    {
        get;
        init => field = value is not Length length || (length.Meters != 0 && double.IsFinite(length.Meters))
            ? value
            : throw new ArgumentOutOfRangeException(nameof(LengthPerPixel), $"LengthPerPixel is {length.Meters} m; it must be other than zero and finite: a pixel shows a length.");
    }

    /// <summary>What is not known exactly of scale, frame rate and readings.</summary>
    public FilmErrors Errors { get; init; } = FilmErrors.None;

    /// <summary>Heading of the column of times, with or without its unit; null (the default) for the only one that has a unit of time.</summary>
    public string? TimeColumn { get; init; }

    /// <summary>Heading of the column of positions, with or without its unit; null (the default) for the only one that has a unit of length.</summary>
    public string? PositionColumn { get; init; }

    /// <summary>
    /// The most frames to keep, 1000 to 10 million; 100 000 by default. Of a longer file neighbors are merged, by two, four, eight and so on, so that memory stays
    /// the same however long it is.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Set out of its range.</exception>
    public int FrameLimit
    {
        get;
        init => field = value is >= 1000 and <= 10_000_000
            ? value
            : throw new ArgumentOutOfRangeException(nameof(FrameLimit), $"FrameLimit is {value}; it must be 1000 to 10000000: fewer blur the run, more fill the memory.");
    } = 100_000;

    /// <summary>The options in words.</summary>
    public override string ToString()
        => string.Join(
            ", ",
            new[]
            {
                FrameRate is Frequency rate ? $"{rate.Hertz.ToString("G6", System.Globalization.CultureInfo.InvariantCulture)} frames a second" : "times as the file has them",
                LengthPerPixel is Length pixel ? $"{pixel.Millimeters.ToString("G4", System.Globalization.CultureInfo.InvariantCulture)} mm a pixel" : "lengths as the file has them",
                Errors.ToString(),
            });
}
