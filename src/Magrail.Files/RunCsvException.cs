using System.Globalization;

namespace Magrail.Files;

/// <summary>A file that is no filmed run: says what is wrong, in which line and column.</summary>
public sealed class RunCsvException : FormatException
{
    /// <summary>An error at a place of the file.</summary>
    /// <param name="problem">What is wrong and what to do.</param>
    /// <param name="line">The line, from 1; 0 where the whole file is meant.</param>
    /// <param name="column">The column, from 1; 0 where the whole line is meant.</param>
    /// <param name="columnName">The column's heading; null where it has none.</param>
    /// <param name="innerException">What the reader below said; null where nothing.</param>
    public RunCsvException(string problem, int line = 0, int column = 0, string? columnName = null, Exception? innerException = null)
        : base(Place(line, column, columnName) + problem, innerException)
    {
        Line = line;
        Column = column;
    }

    /// <summary>An error without a place.</summary>
    public RunCsvException()
        : this("the file is no filmed run.")
    {
    }

    /// <summary>An error without a place.</summary>
    /// <param name="message">What is wrong.</param>
    public RunCsvException(string message)
        : this(message, 0)
    {
    }

    /// <summary>An error without a place, with what caused it.</summary>
    /// <param name="message">What is wrong.</param>
    /// <param name="innerException">What caused it.</param>
    public RunCsvException(string message, Exception? innerException)
        : this(message, 0, 0, null, innerException)
    {
    }

    /// <summary>The line, from 1; 0 where the whole file is meant.</summary>
    public int Line { get; }

    /// <summary>The column, from 1; 0 where the whole line is meant.</summary>
    public int Column { get; }

    private static string Place(int line, int column, string? name)
        => line == 0
            ? ""
            : column == 0
                ? string.Create(CultureInfo.InvariantCulture, $"line {line}: ")
                : string.Create(CultureInfo.InvariantCulture, $"line {line}, column {column}{(string.IsNullOrWhiteSpace(name) ? "" : $" ({name})")}: ");
}
