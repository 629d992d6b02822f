namespace Magrail.Endurance;

/// <summary>An input to which a reader did not say what it may say, took too long, or took too much memory.</summary>
/// <param name="Reader">Which reader.</param>
/// <param name="Number">The number of the input.</param>
/// <param name="Input">The input.</param>
/// <param name="What">What happened.</param>
internal sealed record Finding(string Reader, long Number, byte[] Input, string What);
