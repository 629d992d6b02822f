using System.Globalization;

namespace Magrail.Files;

/// <summary>A file that is no result of a study: says what is wrong, and where.</summary>
public sealed class StudyFileException : FormatException
{
    /// <summary>An error at a place of the file.</summary>
    /// <param name="problem">What is wrong.</param>
    /// <param name="line">The line, from 1; 0 where the whole file is meant.</param>
    /// <param name="columnName">The column's heading; null where the whole line is meant.</param>
    /// <param name="innerException">What the reader below said; null where nothing.</param>
    public StudyFileException(string problem, int line, string? columnName = null, Exception? innerException = null)
        : base(
            line == 0 ? problem : string.Create(CultureInfo.InvariantCulture, $"line {line}{(columnName is null ? "" : $", column {columnName}")}: {problem}"),
            innerException)
        => Line = line;

    /// <summary>An error without a place.</summary>
    public StudyFileException()
        : this("the file is no result of a study.")
    {
    }

    /// <summary>An error without a place.</summary>
    /// <param name="message">What is wrong.</param>
    public StudyFileException(string message)
        : this(message, 0)
    {
    }

    /// <summary>An error without a place, with what caused it.</summary>
    /// <param name="message">What is wrong.</param>
    /// <param name="innerException">What caused it.</param>
    public StudyFileException(string message, Exception innerException)
        : this(message, 0, null, innerException)
    {
    }

    /// <summary>The line, from 1; 0 where the whole file is meant.</summary>
    public int Line { get; }
}
