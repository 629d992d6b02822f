using System.Collections.Concurrent;

namespace Magrail;

/// <summary>Self-inductance of coils, cached by the geometry of the winding alone.</summary>
internal static class SelfInductance
{
    // A sweep over lengths leaves one entry per geometry behind; start afresh before that matters.
    private const int GreatestCount = 4096;

    private static readonly ConcurrentDictionary<CoilSi, double> PerTurnSquared = new();

    /// <summary>Self-inductance in henries.</summary>
    public static double Of(in CoilSi coil)
    {
        double turns = coil.Turns;

        // The key is the coil as if it had one turn: what is left is the geometry and how the turns are shared out.
        CoilSi shape = coil with
        {
            Full = coil.Full with { Turns = coil.Full.Turns / turns },
            Last = coil.Last with { Turns = coil.Last.Turns / turns },
        };
        if (!PerTurnSquared.TryGetValue(shape, out double value))
        {
            value = Compute(shape);
            if (PerTurnSquared.Count >= GreatestCount)
            {
                PerTurnSquared.Clear();
            }

            PerTurnSquared[shape] = value;
        }

        return turns * turns * value;
    }

    /// <summary>The same, without the cache.</summary>
    public static double Compute(in CoilSi coil)
    {
        double sum = coil.Full.Turns * coil.Full.Turns * NeumannIntegral.PerTurnPair(coil, coil.Full, coil, coil.Full, default);
        if (coil.Last.Turns > 0)
        {
            sum += 2 * coil.Full.Turns * coil.Last.Turns * NeumannIntegral.PerTurnPair(coil, coil.Last, coil, coil.Full, default);
            sum += coil.Last.Turns * coil.Last.Turns * NeumannIntegral.PerTurnPair(coil, coil.Last, coil, coil.Last, default);
        }

        return sum;
    }
}
