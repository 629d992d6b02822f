namespace Magrail;

/// <summary>A fault between the parts of a launcher, found before the run.</summary>
/// <param name="Parts">The parts that do not go together.</param>
/// <param name="Message">What is wrong, with values, units, the allowed range and the reason.</param>
public sealed record LauncherFault(string Parts, string Message)
{
    /// <summary>The fault in words.</summary>
    public override string ToString() => $"{Parts}: {Message}";
}

/// <summary>Thrown where a launcher's parts do not go together; carries every fault, not only the first.</summary>
public sealed class LauncherDescriptionException : Exception
{
    /// <summary>Makes an exception without faults.</summary>
    public LauncherDescriptionException()
        : this([])
    {
    }

    /// <summary>Makes an exception from a message.</summary>
    /// <param name="message">The message.</param>
    public LauncherDescriptionException(string message)
        : base(message) => Faults = [];

    /// <summary>Makes an exception from a message and its cause.</summary>
    /// <param name="message">The message.</param>
    /// <param name="innerException">The cause.</param>
    public LauncherDescriptionException(string message, Exception innerException)
        : base(message, innerException) => Faults = [];

    /// <summary>Makes an exception from the faults found.</summary>
    /// <param name="faults">All faults.</param>
    public LauncherDescriptionException(IReadOnlyList<LauncherFault> faults)
        : base($"The launcher cannot be launched as described ({(faults ?? []).Count} fault{((faults ?? []).Count == 1 ? "" : "s")}):{Environment.NewLine}{string.Join(Environment.NewLine, (faults ?? []).Select(fault => $"- {fault}"))}")
        => Faults = faults ?? [];

    /// <summary>All faults found.</summary>
    public IReadOnlyList<LauncherFault> Faults { get; }
}
