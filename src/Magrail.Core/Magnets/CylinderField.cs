using Magrail.Numerics;

namespace Magrail;

/// <summary>The field of a uniformly magnetized solid cylinder in closed form, in its own coordinates (ρ, φ, z), axis z.</summary>
/// <remarks>
/// <para>
/// Magnetized along its axis, the cylinder has the field of an ideal solenoid of the same shape. With ζ = z ± L measured from
/// an end, A² = ζ² + (ρ + R)², k² = (ζ² + (ρ - R)²)/A², γ = (R - ρ)/(R + ρ), the part of the solenoid beyond that end has
/// Bρ = (J/π) (R/A) cel(k, 1, 1, -1) and Bz = (J/π) (R/(ρ + R)) (ζ/A) cel(k, γ², 1, γ)
/// (N. Derby and S. Olbert, Am. J. Phys. 78 (2010) 229).
/// </para>
/// <para>
/// Magnetized across its axis along φ = 0, it carries the charge J cos φ on its side. With q² = ρ² + R² - 2ρR cos ψ,
/// D² = ζ² + q² and ⟨f⟩ = ∮ f/D dψ over the circle,
/// μ₀Hz = cos φ (J R/4π) Σ± -⟨cos ψ⟩,
/// μ₀Hρ = cos φ (J/16πρ²) Σ± ζ [(ρ⁴ - R⁴)⟨1/q²⟩ + 2R²⟨1⟩ - ⟨q²⟩],
/// μ₀Hφ = sin φ (J/16πρ²) Σ± ζ [-(ρ² - R²)²⟨1/q²⟩ + 2(ρ² + R²)⟨1⟩ - ⟨q²⟩],
/// and each mean is one cel. Toward the axis and far from it, where these cancel, the integrals over the circle are summed by
/// the trapezoidal rule, whose error falls as (ρ/R)^n there.
/// </para>
/// </remarks>
internal static class CylinderField
{
    /// <summary>Nearer the axis, or farther out, than this ratio of radii the circle is summed.</summary>
    private const double Slender = 0.125;

    /// <summary>Points on the half circle: Slender to the power of twice that is below rounding.</summary>
    private const int CirclePoints = 10;

    /// <summary>Least complementary modulus: on a sharp edge, the value so far from it as this fraction of the size.</summary>
    private const double Edge = 1e-15;

    private static readonly double[] Cosines = [.. Enumerable.Range(0, CirclePoints).Select(i => Math.Cos(Math.PI * (i + 0.5) / CirclePoints))];

    /// <summary>(Bρ, Bz)/J of a cylinder magnetized along its axis, J included inside.</summary>
    /// <param name="rho">Distance from the axis.</param>
    /// <param name="z">Height above the middle.</param>
    /// <param name="radius">Radius R.</param>
    /// <param name="half">Half length L.</param>
    /// <param name="insideAtSide">Whether a point on the side gets the limit from inside.</param>
    public static (double Radial, double Axial) Axial(double rho, double z, double radius, double half, bool insideAtSide)
    {
        (double upperRadial, double upperAxial) = HalfSolenoid(rho, z + half, radius, insideAtSide);
        (double lowerRadial, double lowerAxial) = HalfSolenoid(rho, z - half, radius, insideAtSide);
        return ((upperRadial - lowerRadial) / Math.PI, (upperAxial - lowerAxial) / Math.PI);
    }

    /// <summary>
    /// μ₀H/J of a cylinder magnetized across its axis along φ = 0: the factors of cos φ in ρ, of sin φ in φ, of cos φ in z.
    /// </summary>
    /// <inheritdoc cref="Axial"/>
    public static (double Radial, double Around, double Axial) Diametral(
        double rho, double z, double radius, double half, bool insideAtSide)
    {
        double ratio = rho / radius;
        if (ratio < Slender || ratio * Slender > 1)
        {
            return Circle(rho, z, radius, half);
        }

        (double upperRadial, double upperAround, double upperAxial) = HalfSide(rho, z + half, radius, insideAtSide);
        (double lowerRadial, double lowerAround, double lowerAxial) = HalfSide(rho, z - half, radius, insideAtSide);
        return (upperRadial - lowerRadial, upperAround - lowerAround, upperAxial - lowerAxial);
    }

    private static (double Radial, double Axial) HalfSolenoid(double rho, double zeta, double radius, bool insideAtSide)
    {
        double sum = rho + radius;
        double difference = radius - rho;
        double a = Math.Sqrt((zeta * zeta) + (sum * sum));
        double kc = Math.Max(Math.Sqrt((zeta * zeta) + (difference * difference)) / a, Edge);
        double gamma = difference / sum;
        double radial = radius / a * EllipticIntegrals.Cel(kc, 1, 1, -1);
        double axial;
        if (Math.Abs(gamma) < 1e-60)
        {
            // cel(k, γ², 1, γ) → K(k) ± π/(2k) as γ → ±0, and ζ/(A k) → the sign of ζ.
            axial = 0.5 * ((zeta / a * EllipticIntegrals.KFromComplement(kc)) + ((insideAtSide ? 0.5 : -0.5) * Math.PI * Math.Sign(zeta)));
        }
        else
        {
            axial = radius / sum * (zeta / a) * EllipticIntegrals.Cel(kc, gamma * gamma, 1, gamma);
        }

        return (radial, axial);
    }

    private static (double Radial, double Around, double Axial) HalfSide(double rho, double zeta, double radius, bool insideAtSide)
    {
        double sum = rho + radius;
        double difference = radius - rho;
        double a = Math.Sqrt((zeta * zeta) + (sum * sum));
        double kc = Math.Max(Math.Sqrt((zeta * zeta) + (difference * difference)) / a, Edge);
        double gamma = difference / sum;
        double rr = rho * rho;
        double squares = rr + (radius * radius);

        // (ρ² - R²)⟨1/q²⟩ = -(4/A) γ cel(k, γ², 1, 1) → ∓(4/A) π/(2k) as γ → ±0; ζ/(A k) → the sign of ζ.
        double inverse = Math.Abs(gamma) < 1e-60
            ? (insideAtSide ? -2 : 2) * Math.PI * Math.Sign(zeta)
            : -4 / a * zeta * gamma * EllipticIntegrals.Cel(kc, gamma * gamma, 1, 1);
        double one = 4 / a * zeta * EllipticIntegrals.KFromComplement(kc);
        double square = 4 / a * zeta * sum * sum * EllipticIntegrals.Cel(kc, 1, 1, gamma * gamma);
        double radial = (squares * inverse) + (2 * radius * radius * one) - square;
        double around = (difference * sum * inverse) + (2 * squares * one) - square;
        double axial = 4 / a * EllipticIntegrals.Cel(kc, 1, 1, -1);
        double scale = 1 / (16 * Math.PI * rr);
        return (scale * radial, scale * around, radius / (4 * Math.PI) * axial);
    }

    /// <summary>The same by the integrals over the circle, where they are smooth.</summary>
    private static (double Radial, double Around, double Axial) Circle(double rho, double z, double radius, double half)
    {
        double upper = z + half;
        double lower = z - half;
        double radial = 0;
        double around = 0;
        double axial = 0;
        foreach (double cosine in Cosines)
        {
            double q2 = (rho * rho) + (radius * radius) - (2 * rho * radius * cosine);
            double upperD = Math.Sqrt((upper * upper) + q2);
            double lowerD = Math.Sqrt((lower * lower) + q2);
            double side = ((upper / upperD) - (lower / lowerD)) / q2;
            radial += cosine * (rho - (radius * cosine)) * side;
            around += radius * (1 - (cosine * cosine)) * side;
            axial += cosine * ((1 / lowerD) - (1 / upperD));
        }

        double scale = radius / (2.0 * CirclePoints);
        return (scale * radial, scale * around, scale * axial);
    }
}
