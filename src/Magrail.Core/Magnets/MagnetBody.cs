using Magrail.Sources;
using UnitsNet;

namespace Magrail;

/// <summary>A uniformly magnetized body of one grade.</summary>
/// <remarks>
/// The magnet is rigid: its polarization J = Br is the same everywhere and does not yield to the field of others (recoil
/// permeability 1). Sintered neodymium and samarium-cobalt magnets come within about 5 % of that (their recoil permeability
/// is 1.05); AlNiCo does not.
/// </remarks>
public abstract record MagnetBody
{
    private protected MagnetBody(MagnetGrade grade, TrackAxis magnetization)
    {
        ArgumentNullException.ThrowIfNull(grade);
        Grade = grade;
        Magnetization = Require.Defined(magnetization, "a magnet is magnetized along an axis of the track");
    }

    /// <summary>The material.</summary>
    public MagnetGrade Grade { get; internal init; }

    /// <summary>The axis of the track along which the body is magnetized, toward its positive end.</summary>
    public TrackAxis Magnetization { get; }

    /// <summary>The size along the track.</summary>
    public abstract Length SizeAlong { get; }

    /// <summary>The size across the gap.</summary>
    public abstract Length SizeAcross { get; }

    /// <summary>The size upward.</summary>
    public abstract Length SizeUp { get; }

    /// <summary>The volume.</summary>
    public abstract Volume Volume { get; }

    /// <summary>The mass.</summary>
    public Mass Mass => Mass.FromKilograms(Volume.CubicMeters * Grade.Density.KilogramsPerCubicMeter);

    /// <summary>The flux density B = μ₀H + J of this body alone at a point given from its middle.</summary>
    /// <remarks>
    /// Inside the body B and <see cref="FieldStrengthAt"/> differ by the polarization. A point on the surface counts as
    /// outside. On a sharp edge between a pole face and a side B is infinite (logarithmically); the value 1e-15 of the body's size
    /// away from it is returned. Closed forms throughout; the error is a few units of 1e-16 times the remanence nearby and stays below 1e-11 of
    /// the value itself at any distance.
    /// </remarks>
    /// <param name="along">x from the middle.</param>
    /// <param name="across">y from the middle.</param>
    /// <param name="up">z from the middle.</param>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is not finite.</exception>
    public FluxDensity FluxDensityAt(Length along, Length across, Length up)
        => FluxDensity.FromSi(BodyField.FluxDensity(ToSi(default, 1), Point(along, across, up)));

    /// <summary>The field strength H of this body alone at a point given from its middle, in A/m.</summary>
    /// <remarks>Inside the body H points against the magnetization: it is the demagnetizing field. Surface and edges as for <see cref="FluxDensityAt"/>.</remarks>
    /// <param name="along">x from the middle.</param>
    /// <param name="across">y from the middle.</param>
    /// <param name="up">z from the middle.</param>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is not finite.</exception>
    public FieldStrength FieldStrengthAt(Length along, Length across, Length up)
        => FieldStrength.FromSi(1 / PhysicalConstants.VacuumPermeability
            * BodyField.MagneticFieldTimesPermeability(ToSi(default, 1), Point(along, across, up)));

    /// <summary>A point from three coordinates, m.</summary>
    internal static Vector3D Point(Length along, Length across, Length up) => new(
        Require.Finite(along, "a point has finite coordinates").Meters,
        Require.Finite(across, "a point has finite coordinates").Meters,
        Require.Finite(up, "a point has finite coordinates").Meters);

    /// <summary>An axis in words.</summary>
    private protected static string Direction(TrackAxis axis) => axis switch
    {
        TrackAxis.Along => "along the track",
        TrackAxis.Across => "across the gap",
        _ => "upward",
    };

    /// <summary>The box that holds the body, with its magnetization.</summary>
    private protected BodySi Box(Vector3D center, int sign) => new(
        0.5 * SizeAlong.Meters, 0.5 * SizeAcross.Meters, 0.5 * SizeUp.Meters, center, Magnetization, sign * Grade.Remanence.Teslas);

    /// <summary>The body placed with its middle at a point, with sign +1 or -1 for its magnetization.</summary>
    internal abstract BodySi ToSi(Vector3D center, int sign);
}
