using Magrail.Tests.Launch;
using Magrail.Units;

namespace Magrail.Tests.Regression;

/// <summary>
/// The share of a cause was reckoned with its nominal spread against the variance of the sample: a single cause, drawn closer together than its spread, had 189 % of
/// the variance at 40 samples.
/// </summary>
public sealed class SharesBeyondTheWhole
{
    [Theory]
    [InlineData(12)]
    [InlineData(40)]
    [InlineData(150)]
    public void A_single_cause_has_all_of_the_variance(int samples)
    {
        ToleranceResult result = new ToleranceStudy(LaunchBench.Whole(4), Spread.Normal(DesignNumber.Voltage, 37.Volts(), 0.5.Volts())).Run(samples);

        // What is missing to one is the bend of the curve.
        ToleranceShare share = Assert.Single(result.Shares);
        Assert.InRange(share.Share, 0.999, 1 + 1e-12);
    }

    [Fact]
    public void A_study_that_did_not_look_at_limits_does_not_say_that_none_holds()
    {
        StudyResult study = new Study(LaunchBench.Whole(3), DesignNumber.Voltage.Over(20.Volts(), 30.Volts())).Run(new StudyOptions { FindsLimits = false });

        Assert.Contains("limits not looked at", study.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("keeps every limit", study.ToString(), StringComparison.Ordinal);
    }
}
