namespace Magrail.Charts;

/// <summary>A guide line with words: a limit on the vertical axis, or a place on the horizontal one.</summary>
/// <param name="Name">The words beside the line.</param>
/// <param name="Value">Where it stands, in the unit of its axis.</param>
public sealed record ChartMark(string Name, double Value);
