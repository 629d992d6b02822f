namespace Magrail;

/// <summary>What cannot be drawn of a launcher and is therefore found from runs and bench tests.</summary>
public enum CalibrationCause
{
    /// <summary>Resistance of each brush on its strip at full overlap, the same for both brushes.</summary>
    ContactResistance,

    /// <summary>Drop of each brush: the voltage against the current that does not depend on its size, the same for both brushes.</summary>
    BrushDrop,

    /// <summary>Resistance of the leads from source to strips.</summary>
    LeadResistance,

    /// <summary>Coefficient of sliding friction; that at rest moves with it in proportion.</summary>
    SlidingFriction,

    /// <summary>Viscous friction, as the force at 1 m/s.</summary>
    ViscousFriction,

    /// <summary>Remanence of the magnets at 20 °C; where grades differ, that of the first, the others in proportion.</summary>
    Remanence,

    /// <summary>Clear distance between the faces of facing pairs.</summary>
    Gap,
}
