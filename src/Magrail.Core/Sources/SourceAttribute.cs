namespace Magrail.Sources;

/// <summary>Names where a published number comes from: a key of <c>docs/references.md</c>, and the place in that work.</summary>
/// <remarks>
/// Every public number of <see cref="PhysicalConstants"/> and of the material tables carries one. A test fails on a
/// number without a source and on a key that <c>docs/references.md</c> does not list.
/// </remarks>
[AttributeUsage(AttributeTargets.Field | AttributeTargets.Property, AllowMultiple = true)]
public sealed class SourceAttribute : Attribute
{
    /// <summary>Names a source.</summary>
    /// <param name="key">The key in <c>docs/references.md</c>, such as <c>CODATA2022</c>.</param>
    /// <param name="place">The page, table or entry in that work; "from memory" where the number was recalled, not read.</param>
    /// <exception cref="ArgumentException">Either text is empty.</exception>
    public SourceAttribute(string key, string place)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(key);
        ArgumentException.ThrowIfNullOrWhiteSpace(place);
        Key = key;
        Place = place;
    }

    /// <summary>The key in <c>docs/references.md</c>.</summary>
    public string Key { get; }

    /// <summary>The page, table or entry in that work.</summary>
    public string Place { get; }
}
