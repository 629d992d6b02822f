using Magrail.Numerics;

namespace Magrail;

/// <summary>The potential of a disc of even charge, ∫ dA/D, in closed form.</summary>
/// <remarks>
/// The potential P(ρ, ζ, R) is of degree one in its lengths, so by Euler P = ρ ∂P/∂ρ + ζ ∂P/∂ζ + R ∂P/∂R: the first two derivatives are the
/// disc's field (see <see cref="CylinderField"/>), the last is the potential of its rim, R∮dψ/D = 4R K/A.
/// </remarks>
internal static class ChargedDisc
{
    /// <summary>∫ dA/D over the disc.</summary>
    /// <param name="rho">Distance from the axis.</param>
    /// <param name="zeta">Height above the disc.</param>
    /// <param name="radius">Radius R, above zero.</param>
    public static double Potential(double rho, double zeta, double radius)
    {
        double sum = rho + radius;
        double difference = radius - rho;
        double zz = zeta * zeta;
        double a = Math.Sqrt(zz + (sum * sum));
        double kc = Math.Max(Math.Sqrt(zz + (difference * difference)) / a, 1e-15);
        double gamma = difference / sum;
        double rim = 4 * radius * radius / a * EllipticIntegrals.KFromComplement(kc);
        double outward = -4 * radius / a * EllipticIntegrals.Cel(kc, 1, 1, -1);

        // The solid angle: 2π straight above an endless disc, with the sign of ζ, less four times the solenoid's part.
        double upward = 0;
        if (zeta != 0)
        {
            double part = Math.Abs(gamma) < 1e-60
                ? 0.5 * Math.Abs(zeta) / a * EllipticIntegrals.KFromComplement(kc)
                : radius / sum * (Math.Abs(zeta) / a) * EllipticIntegrals.Cel(kc, gamma * gamma, 1, gamma);
            double straight = Math.Abs(gamma) < 1e-60 ? Math.PI : difference > 0 ? 2 * Math.PI : 0;
            upward = straight - (4 * part);
        }

        return rim - (rho * outward) - (Math.Abs(zeta) * upward);
    }
}
