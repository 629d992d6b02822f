namespace Magrail;

/// <summary>
/// The thickness of a wire's enamel, by the grades of IEC 60317-0-1. It sets the overall diameter, and so the number of turns
/// that fit.
/// </summary>
public enum EnamelGrade
{
    /// <summary>No enamel: overall diameter = bare diameter. Turns must be kept apart by other means.</summary>
    Bare,

    /// <summary>Grade 1, single build: the thinnest.</summary>
    Grade1,

    /// <summary>Grade 2, heavy build: the usual one.</summary>
    Grade2,

    /// <summary>Grade 3, triple build.</summary>
    Grade3,
}
