namespace Magrail.Numerics;

/// <summary>
/// Philox4x32-10, a generator of random numbers without a state: a function of key and counter, so that number k is the same in whatever order, and on
/// whatever thread, it is asked for.
/// </summary>
/// <remarks>
/// Source: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, Parallel random numbers: as easy as 1, 2, 3, Proc. SC11 (2011).
/// </remarks>
internal static class Philox
{
    /// <summary>Four random words of 32 bits.</summary>
    public static (uint A, uint B, uint C, uint D) Words((uint A, uint B, uint C, uint D) counter, (uint A, uint B) key)
    {
        (uint a, uint b, uint c, uint d) = counter;
        (uint k0, uint k1) = key;
        for (int round = 0; round < 10; round++)
        {
            ulong first = 0xD2511F53UL * a;
            ulong second = 0xCD9E8D57UL * c;
            (a, b, c, d) = ((uint)(second >> 32) ^ b ^ k0, (uint)second, (uint)(first >> 32) ^ d ^ k1, (uint)first);
            k0 = unchecked(k0 + 0x9E3779B9);
            k1 = unchecked(k1 + 0xBB67AE85);
        }

        return (a, b, c, d);
    }

    /// <summary>A number evenly spread between 0 and 1, both excluded, of 52 bits.</summary>
    /// <param name="seed">Tells runs apart.</param>
    /// <param name="sample">Number of the sample.</param>
    /// <param name="stream">Tells apart what is drawn for one sample.</param>
    public static double Uniform(ulong seed, ulong sample, uint stream)
    {
        (uint a, uint b, uint _, uint _) = Words(((uint)sample, (uint)(sample >> 32), stream, 0), ((uint)seed, (uint)(seed >> 32)));
        ulong bits = (((ulong)a << 32) | b) >> 12;
        return (bits + 0.5) / (1UL << 52);
    }
}
