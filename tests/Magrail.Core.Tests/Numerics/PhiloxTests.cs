using Magrail.Numerics;

namespace Magrail.Tests.Numerics;

public class PhiloxTests
{
    /// <summary>Known answers for ten rounds: J. K. Salmon et al., SC11, file of test vectors that goes with the paper (from memory).</summary>
    [Fact]
    public void Known_answers()
    {
        Assert.Equal((0x6627e8d5u, 0xe169c58du, 0xbc57ac4cu, 0x9b00dbd8u), Philox.Words((0, 0, 0, 0), (0, 0)));
        Assert.Equal((0x408f276du, 0x41c83b0eu, 0xa20bc7c6u, 0x6d5451fdu), Philox.Words((uint.MaxValue, uint.MaxValue, uint.MaxValue, uint.MaxValue), (uint.MaxValue, uint.MaxValue)));
        Assert.Equal((0xd16cfe09u, 0x94fdccebu, 0x5001e420u, 0x24126ea1u), Philox.Words((0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344), (0xa4093822, 0x299f31d0)));
    }

    /// <summary>Mean ½ and variance 1/12 to four standard errors, and no end is ever met.</summary>
    [Fact]
    public void Even_between_zero_and_one()
    {
        const int Count = 100_000;
        double[] all = [.. Enumerable.Range(0, Count).Select(k => Philox.Uniform(7, (ulong)k, 3))];
        Assert.All(all, u => Assert.InRange(u, double.Epsilon, 1 - 1e-17));
        Assert.Equal(0.5, all.Average(), 4 * Math.Sqrt(1.0 / 12 / Count));
        Assert.Equal(1.0 / 12, all.Average(u => (u - 0.5) * (u - 0.5)), 4 * Math.Sqrt(1.0 / 180 / Count));
        Assert.NotEqual(all[0], Philox.Uniform(8, 0, 3));
        Assert.NotEqual(all[0], Philox.Uniform(7, 0, 4));
    }
}
