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

    /// <summary>
    /// The first two words of the counter (sample, stream) under the key (seed), low half before high half, name one of 2⁵² equal cells of the range from 0 to 1, and the number is that cell's middle.
    /// </summary>
    [Theory]
    [InlineData(7UL, 5UL, 3u)]
    [InlineData(0x299f31d0_a4093822UL, 0x85a308d3_243f6a88UL, 0x13198a2eu)]
    [InlineData(ulong.MaxValue, 1UL << 32, 0u)]
    public void A_number_is_the_middle_of_its_cell(ulong seed, ulong sample, uint stream)
    {
        (uint a, uint b, _, _) = Philox.Words(((uint)(sample % (1UL << 32)), (uint)(sample / (1UL << 32)), stream, 0), ((uint)(seed % (1UL << 32)), (uint)(seed / (1UL << 32))));
        double twice = 2 * Philox.Uniform(seed, sample, stream) * Math.Pow(2, 52);
        Assert.Equal((2 * Math.Floor((a * Math.Pow(2, 20)) + (b / 4096))) + 1, twice);
    }

    /// <summary>Runs and samples that differ only beyond 32 bits are others.</summary>
    [Fact]
    public void All_bits_count()
    {
        Assert.NotEqual(Philox.Uniform(7, 5, 3), Philox.Uniform(7, 5 + (1UL << 32), 3));
        Assert.NotEqual(Philox.Uniform(7, 5, 3), Philox.Uniform(7 + (1UL << 32), 5, 3));
    }
}
