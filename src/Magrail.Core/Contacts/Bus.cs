namespace Magrail;

/// <summary>What a contact strip is wired to.</summary>
public enum Bus
{
    /// <summary>Nothing: the strip only guides the brush.</summary>
    Dead,

    /// <summary>The positive rail of the source.</summary>
    Plus,

    /// <summary>The negative rail of the source.</summary>
    Minus,
}
