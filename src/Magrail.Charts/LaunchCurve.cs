namespace Magrail.Charts;

/// <summary>What a line of a launch shows.</summary>
public enum LaunchCurve
{
    /// <summary>Speed of the sled, m/s.</summary>
    Speed,

    /// <summary>Current of each coil circuit, A.</summary>
    Current,

    /// <summary>Magnetic force on the sled, N.</summary>
    Force,

    /// <summary>What the source gives, and what goes into motion and into the copper, W.</summary>
    Power,

    /// <summary>Voltage between the rails, V: how far the source sags.</summary>
    RailVoltage,

    /// <summary>Temperature of each coil, all its heat kept, °C.</summary>
    CoilTemperature,
}

/// <summary>What the lines of a launch are drawn against.</summary>
public enum LaunchAxis
{
    /// <summary>Position of the sled, m.</summary>
    Position,

    /// <summary>Time from the closing of the switch, ms.</summary>
    Time,
}
