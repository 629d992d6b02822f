namespace Magrail;

/// <summary>The material family of a permanent magnet.</summary>
public enum MagnetFamily
{
    /// <summary>Sintered neodymium-iron-boron: strongest, loses coercivity quickly with heat, rusts without a coating.</summary>
    SinteredNeodymium,

    /// <summary>Samarium-cobalt of composition 1-5.</summary>
    SamariumCobalt15,

    /// <summary>Samarium-cobalt of composition 2-17.</summary>
    SamariumCobalt217,

    /// <summary>Hard ferrite (ceramic).</summary>
    HardFerrite,

    /// <summary>Aluminum-nickel-cobalt. Its demagnetization curve is bent: the rigid model does not hold.</summary>
    Alnico,

    /// <summary>Bonded neodymium-iron-boron: powder in a binder.</summary>
    BondedNeodymium,
}
