using System.Collections.Concurrent;
using UnitsNet;

namespace Magrail;

/// <summary>Mutual inductance M of two coils with parallel axes.</summary>
/// <remarks>
/// Neumann's double integral over both windings, the current spread evenly over each section. Error of the integral: below 1e-6 of the
/// geometric mean √(L₁ L₂) of the two self-inductances, and far below 1e-7 of it for coils that lie side by side. The two windings
/// should not share space: the integral has a value there, but no such coils can be built. Results are cached by geometry.
/// </remarks>
public static class MutualInductance
{
    // A sweep over distances leaves one entry per geometry behind; start afresh before that matters.
    private const int GreatestCount = 4096;

    private static readonly ConcurrentDictionary<(CoilSi, CoilSi, Vector3D), double> PerTurnPair = new();

    /// <summary>Mutual inductance of two coils on one line along the track.</summary>
    /// <param name="a">One coil.</param>
    /// <param name="b">The other coil, its axis the same way.</param>
    /// <param name="offsetAlongTrack">Position of the middle of <paramref name="b"/> less that of <paramref name="a"/>, along the track.</param>
    /// <returns>
    /// The mutual inductance, positive if current in the same sense adds flux: negative for flat coils side by side, positive for coils
    /// stacked along their common axis.
    /// </returns>
    /// <exception cref="ArgumentOutOfRangeException">The offset is not finite, or the axes are not parallel.</exception>
    public static ElectricInductance Between(Coil a, Coil b, Length offsetAlongTrack)
        => Between(a, b, offsetAlongTrack, Length.Zero, Length.Zero);

    /// <summary>Mutual inductance of two coils at any offset.</summary>
    /// <param name="a">One coil.</param>
    /// <param name="b">The other coil, its axis the same way.</param>
    /// <param name="along">Position of the middle of <paramref name="b"/> less that of <paramref name="a"/>, along the track (x).</param>
    /// <param name="across">The same across the gap (y).</param>
    /// <param name="up">The same upward (z).</param>
    /// <returns>The mutual inductance, positive if current in the same sense adds flux.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An offset is not finite, or the axes are not parallel.</exception>
    public static ElectricInductance Between(Coil a, Coil b, Length along, Length across, Length up)
    {
        ArgumentNullException.ThrowIfNull(a);
        ArgumentNullException.ThrowIfNull(b);
        if (a.Axis != b.Axis)
        {
            throw Require.Fault(nameof(b), $"a coil with its axis {b.Axis}", $"a coil with its axis {a.Axis}", "only parallel axes are computed");
        }

        double x = Require.Finite(along, "coils have a place").Meters;
        double y = Require.Finite(across, "coils have a place").Meters;
        double z = Require.Finite(up, "coils have a place").Meters;
        return ElectricInductance.FromHenries(
            Cached(a.ToSi(), b.ToSi(), a.Axis == TrackAxis.Across ? new Vector3D(x, y, z) : new Vector3D(-y, x, z)));
    }

    /// <summary>Coupling factor k = M/√(L₁ L₂) of two coils on one line along the track, −1 to 1.</summary>
    /// <param name="a">One coil.</param>
    /// <param name="b">The other coil, its axis the same way.</param>
    /// <param name="offsetAlongTrack">Position of the middle of <paramref name="b"/> less that of <paramref name="a"/>, along the track.</param>
    /// <returns>The coupling factor.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The offset is not finite, or the axes are not parallel.</exception>
    [return: Sources.Dimensionless]
    public static double CouplingFactor(Coil a, Coil b, Length offsetAlongTrack)
        => Between(a, b, offsetAlongTrack).Henries / Math.Sqrt(a.Inductance.Henries * b.Inductance.Henries);

    /// <summary>Mutual inductance in henries; <paramref name="offset"/> of b's middle from a's, in the coils' own frame (axis y).</summary>
    internal static double Between(in CoilSi a, in CoilSi b, Vector3D offset, NeumannIntegral.Rules? rules = null)
    {
        double sum = 0;
        foreach (WindingBlockSi blockA in (ReadOnlySpan<WindingBlockSi>)[a.Full, a.Last])
        {
            foreach (WindingBlockSi blockB in (ReadOnlySpan<WindingBlockSi>)[b.Full, b.Last])
            {
                if (blockA.Turns > 0 && blockB.Turns > 0)
                {
                    sum += blockA.Turns * blockB.Turns * NeumannIntegral.PerTurnPair(a, blockA, b, blockB, offset, rules);
                }
            }
        }

        return sum;
    }

    private static double Cached(in CoilSi a, in CoilSi b, Vector3D offset)
    {
        (CoilSi, CoilSi, Vector3D) key = (a.AsOneTurn(), b.AsOneTurn(), offset);
        if (!PerTurnPair.TryGetValue(key, out double value))
        {
            value = Between(key.Item1, key.Item2, offset);
            if (PerTurnPair.Count >= GreatestCount)
            {
                PerTurnPair.Clear();
            }

            PerTurnPair[key] = value;
        }

        return a.Turns * b.Turns * value;
    }
}
