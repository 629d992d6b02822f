namespace Magrail.Files.Tests;

/// <summary>Tests that look at the memory of the whole process run while no other does.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class Alone
{
    public const string Name = "alone";
}
