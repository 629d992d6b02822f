using System.Globalization;

namespace Magrail.Notebooks;

/// <summary>Closing checks of a notebook: each states in words what must hold, and stops the notebook if it does not.</summary>
public sealed class Check
{
    private readonly List<string> _held = [];

    /// <summary>States that something holds.</summary>
    /// <param name="holds">Whether it does.</param>
    /// <param name="statement">What must hold, as a sentence.</param>
    /// <returns>This, for the next statement.</returns>
    /// <exception cref="CheckFailedException">It does not hold.</exception>
    public Check That(bool holds, string statement)
    {
        if (!holds)
        {
            throw new CheckFailedException($"This does not hold: {statement}");
        }

        _held.Add(statement);
        return this;
    }

    /// <summary>All statements so far, as a list.</summary>
    /// <returns>Several lines of text.</returns>
    public override string ToString()
        => string.Create(CultureInfo.InvariantCulture, $"{_held.Count} checks hold:\n") + string.Join('\n', _held.Select(statement => $"  holds: {statement}"));
}

/// <summary>A closing check of a notebook that does not hold.</summary>
public sealed class CheckFailedException : Exception
{
    /// <summary>A failed check without words.</summary>
    public CheckFailedException()
    {
    }

    /// <summary>A failed check.</summary>
    /// <param name="message">What does not hold.</param>
    public CheckFailedException(string message)
        : base(message)
    {
    }

    /// <summary>A failed check with its cause.</summary>
    /// <param name="message">What does not hold.</param>
    /// <param name="innerException">The cause.</param>
    public CheckFailedException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
