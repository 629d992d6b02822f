namespace Magrail;

/// <summary>How the contacts connect a coil circuit.</summary>
public enum CoilDrive
{
    /// <summary>At least one brush touches no live strip: no current from the source.</summary>
    Open,

    /// <summary>Upper brush on plus, lower brush on minus.</summary>
    Forward,

    /// <summary>Upper brush on minus, lower brush on plus.</summary>
    Reverse,

    /// <summary>Both brushes on the same rail: the coil is shorted on itself and brakes.</summary>
    Shorted,

    /// <summary>A brush lies on strips of opposite rails: it shorts the source, and the coil sees half its voltage or none.</summary>
    Bridged,
}
