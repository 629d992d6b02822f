namespace Magrail.Charts;

/// <summary>What a field map shows of the flux density.</summary>
public enum FieldComponent
{
    /// <summary>Its magnitude |B|.</summary>
    Magnitude,

    /// <summary>Its component along the track, Bx.</summary>
    Along,

    /// <summary>Its component across the gap, By.</summary>
    Across,

    /// <summary>Its upward component, Bz.</summary>
    Up,
}
