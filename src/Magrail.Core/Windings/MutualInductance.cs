using UnitsNet;

namespace Magrail;

/// <summary>Mutual inductance M of two coils with parallel axes.</summary>
public static class MutualInductance
{
    /// <summary>Mutual inductance of two flat coils, one moved along the track against the other.</summary>
    /// <remarks>
    /// Neumann's double integral over both windings, the current spread evenly over each section. Error below 1e-6 of the
    /// geometric mean of the two self-inductances. Negative where most of one coil's flux returns through the other. The windings may not share space.
    /// </remarks>
    /// <param name="a">One coil.</param>
    /// <param name="b">The other coil.</param>
    /// <param name="offsetAlongTrack">Position of <paramref name="b"/> less that of <paramref name="a"/>, along the track.</param>
    /// <returns>The mutual inductance, positive if current in the same sense adds flux.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The offset is not finite.</exception>
    public static ElectricInductance Between(Coil a, Coil b, Length offsetAlongTrack)
    {
        ArgumentNullException.ThrowIfNull(a);
        ArgumentNullException.ThrowIfNull(b);
        double offset = Require.Finite(offsetAlongTrack, "coils have a place").Meters;
        return ElectricInductance.FromHenries(Between(a.ToSi(), b.ToSi(), new Vector3D(offset, 0, 0)));
    }

    /// <summary>Mutual inductance in henries; <paramref name="offset"/> of b's middle from a's, in the coils' own frame (axis y).</summary>
    internal static double Between(in CoilSi a, in CoilSi b, Vector3D offset)
    {
        double sum = 0;
        foreach (WindingBlockSi blockA in (ReadOnlySpan<WindingBlockSi>)[a.Full, a.Last])
        {
            foreach (WindingBlockSi blockB in (ReadOnlySpan<WindingBlockSi>)[b.Full, b.Last])
            {
                if (blockA.Turns > 0 && blockB.Turns > 0)
                {
                    sum += blockA.Turns * blockB.Turns * NeumannIntegral.PerTurnPair(a, blockA, b, blockB, offset);
                }
            }
        }

        return sum;
    }
}
