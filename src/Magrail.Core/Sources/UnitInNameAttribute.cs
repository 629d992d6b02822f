namespace Magrail.Sources;

/// <summary>
/// Marks a type that gives plain SI numbers whose unit stands at the end of each name, such as <c>PositionMeters</c>: a
/// trace's columns, or a quantity of our own.
/// </summary>
/// <remarks>A test fails on a bare number of such a type whose name does not end in a unit.</remarks>
[AttributeUsage(AttributeTargets.Class | AttributeTargets.Struct)]
public sealed class UnitInNameAttribute : Attribute;
