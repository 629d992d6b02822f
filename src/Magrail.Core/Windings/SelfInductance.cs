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

        CoilSi shape = coil.AsOneTurn() with { Axis = TrackAxis.Across };
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
    public static double Compute(in CoilSi coil, NeumannIntegral.Rules? rules = null)
    {
        double sum = coil.Full.Turns * coil.Full.Turns * NeumannIntegral.PerTurnPair(coil, coil.Full, coil, coil.Full, default, rules);
        if (coil.Last.Turns > 0)
        {
            sum += 2 * coil.Full.Turns * coil.Last.Turns * NeumannIntegral.PerTurnPair(coil, coil.Last, coil, coil.Full, default, rules);
            sum += coil.Last.Turns * coil.Last.Turns * NeumannIntegral.PerTurnPair(coil, coil.Last, coil, coil.Last, default, rules);
        }

        return sum;
    }
}
