using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Regression;

/// <summary>
/// A supply that holds its current at its limit gave a margin of some −1e-14, by rounding, and the table of limits called the limit broken in nearly every launch
/// that reached it.
/// </summary>
public class ASupplyAtItsLimitIsNotBroken
{
    [Theory]
    [InlineData(4)]
    [InlineData(11.3)]
    public void At_the_limit_is_not_beyond_it(double amperes)
    {
        LaunchResult launch = LaunchBench.Launch(LaunchBench.Whole() with { Source = new BenchSupply(37.Volts(), amperes.Amperes(), 0.05.Ohms()) });
        Limit limit = launch.Limits.Find("supply current limit")!;

        Assert.Equal(0, limit.Margin, 1e-9);
        Assert.False(limit.IsBroken);
        Assert.True((limit with { Margin = -1e-6 }).IsBroken);
    }
}
