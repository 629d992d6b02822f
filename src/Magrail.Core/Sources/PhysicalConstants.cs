namespace Magrail.Sources;

/// <summary>Constants of nature and of standards, in SI units.</summary>
public static class PhysicalConstants
{
    /// <summary>Vacuum magnetic permeability μ₀ = 1.256 637 061 27(20) × 10⁻⁶ N/A².</summary>
    [Source("CODATA2022", "entry: vacuum mag. permeability")]
    public const double VacuumPermeability = 1.25663706127e-6;

    /// <summary>Standard acceleration of gravity gₙ = 9.80665 m/s², exact by definition.</summary>
    [Source("CODATA2022", "entry: standard acceleration of gravity")]
    public const double StandardGravity = 9.80665;

    /// <summary>Density of dry air at sea level in the standard atmosphere, 1.225 kg/m³.</summary>
    [Source("ISO2533", "sea-level values")]
    public const double StandardAirDensity = 1.225;

    /// <summary>Lorenz number L₀ = 2.44 × 10⁻⁸ V²/K²: thermal conductivity over electrical conductivity and temperature, the same for most metals.</summary>
    /// <remarks>(π²/3)(k_B/e)² is 2.443 × 10⁻⁸ V²/K². Tungsten and alloys lie lower or higher by some percent, nickel and other magnetic metals by more.</remarks>
    [Source("HOLM", "voltage-temperature relation (quoted in a secondary source)")]
    public const double LorenzNumber = 2.44e-8;

    /// <summary>0 °C = 273.15 K, exact by definition.</summary>
    [Source("SI9", "section 2.3.1, degree Celsius")]
    public const double ZeroCelsius = 273.15;
}
