namespace Magrail;

/// <summary>The pattern in which turns lie; see <see cref="WindingStyle"/>.</summary>
public enum WindingPattern
{
    /// <summary>Square stacking, layer on layer.</summary>
    Layered,

    /// <summary>Turns in the grooves of the layer below.</summary>
    Orthocyclic,

    /// <summary>Wild winding of a given fill.</summary>
    Wild,

    /// <summary>Wild winding that fills the window to the flange edge.</summary>
    WildToTheEdge,
}
