using Magrail.Sources;

namespace Magrail;

/// <summary>How the turns of a coil lie on each other.</summary>
public sealed record WindingStyle
{
    /// <summary>Fill of the densest packing of equal circles, π/(2 √3).</summary>
    internal const double DensestFill = 0.90689968211710892;

    private WindingStyle(WindingPattern pattern, double fill)
    {
        Pattern = pattern;
        Fill = fill;
    }

    /// <summary>
    /// Layer on layer, each turn straight above one of the layer below (square stacking): what careful winding by hand or on a
    /// simple machine gives at best. The default.
    /// </summary>
    public static WindingStyle Layered { get; } = new(WindingPattern.Layered, 0.25 * Math.PI);

    /// <summary>
    /// Orthocyclic: each turn lies in the groove between two turns of the layer below. Layers are √3/2 of the overall
    /// diameter apart; where the window has no spare half diameter, every second layer has one turn less.
    /// </summary>
    public static WindingStyle Orthocyclic { get; } = new(WindingPattern.Orthocyclic, DensestFill);

    /// <summary>
    /// Wild (scramble) winding that fills the whole window evenly, core to flange edge: the former must have a depth. The fill
    /// follows from the turns.
    /// </summary>
    public static WindingStyle WildToTheEdge { get; } = new(WindingPattern.WildToTheEdge, DensestFill);

    /// <summary>The pattern.</summary>
    public WindingPattern Pattern { get; }

    /// <summary>
    /// Wire section with enamel over window section that the style reaches: π/4 layered, π/(2 √3) orthocyclic (both without
    /// what is lost at the flanges), as given for wild winding, and the most that could be for winding to the edge.
    /// </summary>
    [Dimensionless]
    public double Fill { get; }

    /// <summary>Whether turns lie without order.</summary>
    internal bool IsWild => Pattern is WindingPattern.Wild or WindingPattern.WildToTheEdge;

    /// <summary>Wild (scramble) winding with a given fill: turns lie evenly over the window length, as deep as they need.</summary>
    /// <param name="fill">
    /// Wire section with enamel over winding section, 0.1 to 0.9069 (the densest packing of circles); 0.6 to 0.75 in common
    /// practice, no source.
    /// </param>
    /// <returns>The style.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The fill is outside that range.</exception>
    public static WindingStyle Wild([Dimensionless] double fill)
        => new(
            WindingPattern.Wild,
            Require.InRange(fill, 0.1, DensestFill, "circles cannot be packed denser, and a looser winding is no winding"));

    /// <summary>The pattern, and the fill of a wild winding.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => Pattern == WindingPattern.Wild ? $"{Pattern}, fill {Show.Number(Fill)}" : Pattern.ToString();
}
