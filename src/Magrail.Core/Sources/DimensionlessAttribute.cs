namespace Magrail.Sources;

/// <summary>Marks a plain number that truly has no unit: a ratio, a coefficient, a count of radians.</summary>
/// <remarks>A test fails on every public bare number of the <c>Magrail</c> namespace that is not marked.</remarks>
[AttributeUsage(AttributeTargets.Property | AttributeTargets.Parameter | AttributeTargets.ReturnValue | AttributeTargets.Field | AttributeTargets.Method | AttributeTargets.Class | AttributeTargets.Struct)]
public sealed class DimensionlessAttribute : Attribute;
