using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Studies;

/// <summary>Tolerances against what is known: the linear formula, the quantiles of a normal distribution, the causes' own order.</summary>
public class ToleranceTests
{
    private static readonly ElectricPotential Volts = 37.Volts();

    private static readonly Spread[] Small =
    [
        Spread.Normal(DesignNumber.Voltage, Volts, 0.1.Volts()),
        Spread.Uniform(DesignNumber.Remanence, 1.295.Teslas(), 1.305.Teslas()),
        Spread.Uniform(DesignNumber.ContactResistance, 3.Milliohms(), 5.Milliohms()),
        Spread.Normal(DesignNumber.Friction, 0.12, 0.002),
        Spread.Normal(DesignNumber.PayloadMass, 40.Grams(), 0.1.Grams()),
        Spread.Normal(DesignNumber.WireResistivity, Conductor.Copper.Resistivity, 0.01 * Conductor.Copper.Resistivity),
        Spread.Normal(DesignNumber.Lead, 0.5.Millimeters(), 0.02.Millimeters()),
    ];

    /// <summary>
    /// For small spreads the variance is Σ (∂v/∂p)² Var p. Each slope is compared with that of <see cref="Influences"/>, the variance to four standard errors of a variance
    /// of n samples, √(2/(n − 1)), and the shares with the terms of the sum.
    /// </summary>
    [Fact]
    public void Small_spreads_add_up_by_the_linear_formula()
    {
        const int Samples = 1000;
        Launcher launcher = LaunchBench.Whole();
        ToleranceResult result = new ToleranceStudy(launcher, Small).Run(Samples);
        Influences influences = Influences.Of(launcher, [.. Small.Select(spread => spread.Number)]);
        double speed = influences.ExitSpeed.MetersPerSecond;
        double linear = 0;
        foreach (ToleranceShare share in result.Shares)
        {
            DesignNumber number = share.Spread.Number;
            double scale = number == DesignNumber.Lead ? 0.02 : number.Read(launcher);
            double slope = speed * influences.All.Single(one => one.Number == number).Elasticity / scale * share.Spread.Deviation;
            linear += slope * slope;
            Assert.Equal(slope, share.PerDeviation.MetersPerSecond, 0.01 * result.StandardDeviation.MetersPerSecond);
        }

        double variance = result.StandardDeviation.MetersPerSecond * result.StandardDeviation.MetersPerSecond;
        Assert.Equal(1, variance / linear, 4 * Math.Sqrt(2.0 / Samples));
        Assert.Equal(speed, result.Mean.MetersPerSecond, 4 * Math.Sqrt(linear / Samples));
        Assert.InRange(result.Unexplained, 0, 0.01);
        Assert.Equal(result.Shares.Select(share => share.Share).OrderDescending(), result.Shares.Select(share => share.Share));
        Assert.Equal(1, result.Shares.Sum(share => share.Share), 4 * Math.Sqrt(2.0 * Small.Length / Samples));
    }

    /// <summary>
    /// The exit speed rises with the voltage alone, so that its percentile is the speed at the voltage's: of the very samples, and, within four standard errors of an
    /// order statistic, √(p (1 − p)/n)/density, of the normal distribution (its quantile at 0.95 is 1.644854 standard deviations, any table).
    /// </summary>
    [Theory]
    [InlineData(0.05, -1.6448536269514722)]
    [InlineData(0.5, 0)]
    [InlineData(0.95, 1.6448536269514722)]
    public void Percentiles_of_one_cause_are_those_of_its_distribution(double part, double deviations)
    {
        const int Samples = 801;
        const double Deviation = 2;
        ToleranceResult result = new ToleranceStudy(LaunchBench.Whole(6), Spread.Normal(DesignNumber.Voltage, Volts, Deviation.Volts())).Run(Samples);
        double[] drawn = [.. result.Points.Points.Select(point => point.Value(DesignNumber.Voltage).Volts).Order()];
        double SpeedAt(double volts) => DesignNumber.Voltage.With(LaunchBench.Whole(6), volts.Volts()).Launch().ExitSpeed.MetersPerSecond;

        Assert.Equal(SpeedAt(drawn[(int)Math.Round(part * (Samples - 1))]), result.Percentile(part).MetersPerSecond, 1e-4);
        double density = Math.Exp(-0.5 * deviations * deviations) / (Deviation * Math.Sqrt(2 * Math.PI));
        double volts = 4 * Math.Sqrt(part * (1 - part) / Samples) / density;
        double expected = 37 + (Deviation * deviations);
        Assert.InRange(result.Percentile(part).MetersPerSecond, SpeedAt(expected - volts), SpeedAt(expected + volts));

        // The probability of the speed at a voltage is that of the voltage.
        Probability probability = result.ProbabilityOf(Speed.FromMetersPerSecond(SpeedAt(expected)));
        Assert.Equal(1 - part, probability.Value, 4 * probability.StandardError);
        Assert.Equal(Math.Sqrt(part * (1 - part) / Samples), probability.StandardError, 0.2 * probability.StandardError);
    }

    [Fact]
    public void The_same_samples_whatever_the_order_the_cores_and_their_number()
    {
        var study = new ToleranceStudy(LaunchBench.Whole(4), Small);
        StudyPoint[] one = [.. study.Run(40, options: new StudyOptions { Cores = 1 }).Points.Points];
        StudyPoint[] many = [.. study.Run(60, options: new StudyOptions { Cores = 3 }).Points.Points];
        for (int k = 0; k < one.Length; k++)
        {
            Assert.Equal(one[k].Values.ToArray(), many[k].Values.ToArray());
            Assert.Equal(one[k].ExitSpeed!.Value.MetersPerSecond, many[k].ExitSpeed!.Value.MetersPerSecond);
        }

        Assert.NotEqual(one[0].Values.ToArray(), study.Run(40, seed: 2).Points.Points[0].Values.ToArray());
    }

    /// <summary>The wide cause has the share; where halving it is dear enough, the narrow one is the cheaper; halved, the need is met more often, by as much as a new run says.</summary>
    [Fact]
    public void Shares_costs_and_what_tightening_is_worth()
    {
        Launcher launcher = LaunchBench.Whole(6);
        Spread volts = Spread.Normal(DesignNumber.Voltage, Volts, 2.Volts());
        Spread payload = Spread.Normal(DesignNumber.PayloadMass, 40.Grams(), 2.Grams());
        ToleranceResult result = new ToleranceStudy(launcher, payload, volts).Run(600);
        Assert.Same(volts, result.Shares[0].Spread);
        Assert.InRange(result.Shares[0].Share, 0.7, 1);
        Assert.Same(volts, result.Cheapest.Spread);

        Spread dear = Spread.Normal(DesignNumber.Voltage, Volts, 2.Volts());
        ToleranceResult priced = new ToleranceStudy(launcher, payload, dear.At(50)).Run(600);
        Assert.Same(payload, priced.Cheapest.Spread);

        Speed needed = Speed.FromMetersPerSecond(result.Mean.MetersPerSecond - result.StandardDeviation.MetersPerSecond);
        ToleranceResult halved = new ToleranceStudy(launcher, payload, Spread.Normal(DesignNumber.Voltage, Volts, 1.Volts())).Run(600);
        Assert.Equal(halved.ProbabilityOf(needed).Value, result.ProbabilityWithHalved(result.Shares[0], needed).Value, 0.02);
        Assert.True(halved.ProbabilityOf(needed).Value > result.ProbabilityOf(needed).Value + 0.05);
        Assert.Contains("the cheapest tolerance to tighten: voltage", result.ToString(), StringComparison.Ordinal);
    }

    /// <summary>Samples that cannot be built or do not launch are failures, not exceptions.</summary>
    [Fact]
    public void What_cannot_be_launched_counts_as_a_failure()
    {
        ToleranceResult result = new ToleranceStudy(LaunchBench.Whole(4), Spread.Uniform(DesignNumber.Friction, -0.1, 0.1)).Run(100);
        int faults = result.Points.Points.Count(point => point.Fault is not null);
        Assert.InRange(faults, 30, 70);
        Assert.Equal(1 - (faults / 100.0), result.ProbabilityOf(Speed.FromMetersPerSecond(0.1)).Value, 1e-12);
        Assert.Equal(0, result.Percentile(0.2).MetersPerSecond);
        Assert.Contains($"{faults} of 100 were not released", result.ToString(), StringComparison.Ordinal);
    }

    /// <summary>Causes that change the geometry: gap, wire, strips out of place.</summary>
    [Fact]
    public void Geometry_may_vary()
    {
        ToleranceResult result = new ToleranceStudy(
            LaunchBench.Whole(4),
            Spread.Normal(DesignNumber.Gap, 10.Millimeters(), 0.1.Millimeters()),
            Spread.Normal(DesignNumber.StripShift, 0.Millimeters(), 0.2.Millimeters()),
            Spread.Normal(DesignNumber.WireDiameter, 0.5.Millimeters(), 0.003.Millimeters())).Run(40);
        Assert.All(result.Points.Points, point => Assert.NotNull(point.ExitSpeed));
        Assert.True(result.Shares.Single(share => share.Spread.Number == DesignNumber.Gap).PerDeviation.MetersPerSecond < 0, "a wider gap has less field");
    }

    /// <summary>
    /// Each strip out of place on its own. The coil is fed from the later start of two strips to the earlier end: v = Σ a max(d, e) + b min(d, e) over the pairs, for small errors. With d, e normal, their
    /// mean and their difference are independent, and |d − e| has the mean 2 σ/√π and the variance 2 σ² (1 − 2/π) (half-normal distribution, any table): so
    /// Var v = Σ (a + b)² σ²/2 + (a − b)² σ² (1/2 − 1/π), and the mean is off by Σ (a − b) σ/√π. The slopes are measured by moving one strip forward, then back. To four standard errors.
    /// </summary>
    [Fact]
    public void Strips_out_of_place_one_by_one_cost_what_later_starts_and_earlier_ends_cost()
    {
        const int Samples = 600;
        const double Deviation = 2e-5, Step = 5e-6;
        Launcher launcher = LaunchBench.Whole(5);
        ToleranceResult result = new ToleranceStudy(launcher, Spread.EachStrip(Deviation.Meters())).Run(Samples);
        double SpeedWith(bool upper, int moved, double shift)
        {
            ContactLine Line(ContactLine line, bool isThis) => new(line.Strips.Select((strip, i) => isThis && i == moved
                ? new ContactStrip(strip.Start + shift.Meters(), strip.End + shift.Meters(), strip.Bus)
                : strip));
            ContactCommutator contacts = launcher.Contacts;
            Launcher other = launcher with { Contacts = new ContactCommutator(Line(contacts.Upper, upper), Line(contacts.Lower, !upper), contacts.UpperBrush, contacts.LowerBrush) };
            return other.Launch().ExitSpeed.MetersPerSecond;
        }

        double drawn = launcher.Launch().ExitSpeed.MetersPerSecond, variance = 0, mean = drawn;
        for (int i = 0; i < 4; i++)
        {
            double later = (SpeedWith(true, i, Step) - drawn) / Step, earlier = (drawn - SpeedWith(true, i, -Step)) / Step;
            Assert.Equal(later, (SpeedWith(false, i, Step) - drawn) / Step, 1e-3 * Math.Abs(later));
            double sum = (later + earlier) * Deviation, difference = (later - earlier) * Deviation;
            variance += (0.5 * sum * sum) + ((0.5 - (1 / Math.PI)) * difference * difference);
            mean += difference / Math.Sqrt(Math.PI);
        }

        Assert.Equal(1, result.StandardDeviation.MetersPerSecond * result.StandardDeviation.MetersPerSecond / variance, 4 * Math.Sqrt(2.0 / Samples));
        Assert.Equal(mean, result.Mean.MetersPerSecond, 4 * Math.Sqrt(variance / Samples));
        Assert.True(Math.Abs(mean - drawn) > 8 * Math.Sqrt(variance / Samples), "the loss by errors of either sign is to be seen");
        ToleranceShare share = Assert.Single(result.Shares);
        Assert.Equal(1, share.Share, 1e-6);
        Assert.Equal(result.StandardDeviation.MetersPerSecond, share.PerDeviation.MetersPerSecond, 1e-6 * result.StandardDeviation.MetersPerSecond);
        Assert.Contains("each strip on its own, standard deviation 0.02 mm", share.Spread.ToString(), StringComparison.Ordinal);

        // Half as far out, half the loss and half the scatter.
        ToleranceResult halved = new ToleranceStudy(launcher, Spread.EachStrip((0.5 * Deviation).Meters())).Run(Samples);
        Speed needed = result.Percentile(0.7);
        Assert.Equal(halved.ProbabilityOf(needed).Value, result.ProbabilityWithHalved(share, needed).Value, 0.02);
    }

    /// <summary>Strips on their own beside another cause: the shares are the squares of what each does alone.</summary>
    [Fact]
    public void Strips_on_their_own_have_their_share_beside_other_causes()
    {
        const int Samples = 500;
        Launcher launcher = LaunchBench.Whole(5);
        Spread each = Spread.EachStrip(0.1.Millimeters()), volts = Spread.Normal(DesignNumber.Voltage, Volts, 0.1.Volts());
        ToleranceResult both = new ToleranceStudy(launcher, each, volts).Run(Samples);
        double strips = new ToleranceStudy(launcher, each).Run(Samples).StandardDeviation.MetersPerSecond;
        double voltage = new ToleranceStudy(launcher, volts).Run(Samples).StandardDeviation.MetersPerSecond;
        double expected = strips * strips / ((strips * strips) + (voltage * voltage));
        Assert.InRange(expected, 0.1, 0.9);
        Assert.Equal(expected, both.Shares.Single(share => share.Spread == each).Share, 0.1);
        Assert.InRange(both.Unexplained, 0, 0.02);
    }

    /// <summary>What lays strips out comes before what moves them, in whatever order they are given; strips so far out that the brush bridges two are launchers that cannot be launched.</summary>
    [Fact]
    public void Strips_are_moved_after_they_are_laid_out()
    {
        Spread lead = Spread.Normal(DesignNumber.Lead, 0.5.Millimeters(), 0.02.Millimeters());
        Spread each = Spread.EachStrip(0.1.Millimeters());
        Spread whole = Spread.Normal(DesignNumber.StripShift, 0.Millimeters(), 0.1.Millimeters());
        var study = new ToleranceStudy(LaunchBench.Whole(4), each, whole, lead);
        Assert.Equal([lead, each, whole], study.Spreads.ToArray());
        ToleranceResult result = study.Run(40);
        Assert.All(result.Points.Points, point => Assert.NotNull(point.ExitSpeed));
        Assert.Equal(
            result.Points.Points.Select(point => point.ExitSpeed),
            study.Run(40, options: new StudyOptions { FindsLimits = false, Cores = 1 }).Points.Points.Select(point => point.ExitSpeed));

        ToleranceResult wild = new ToleranceStudy(LaunchBench.Whole(4), Spread.EachStrip(4.Millimeters())).Run(60);
        Assert.Contains(wild.Points.Points, point => point.Fault is not null);
        Assert.True(wild.ProbabilityOf(Speed.FromMetersPerSecond(0.1)).Value < 1);
        Assert.Throws<ArgumentOutOfRangeException>(() => Spread.EachStrip(0.Millimeters()));
    }

    [Fact]
    public void Bad_descriptions_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Spread.Uniform(DesignNumber.Voltage, 12.Volts(), 12.Volts()));
        Assert.Throws<ArgumentOutOfRangeException>(() => Spread.Normal(DesignNumber.Voltage, 12.Volts(), 0.Volts()));
        Assert.Throws<ArgumentException>(() => new ToleranceStudy(LaunchBench.Whole(4)));
        Assert.Throws<ArgumentException>(() => new ToleranceStudy(LaunchBench.Whole(4), Small[0], Small[0]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ToleranceStudy(LaunchBench.Whole(4), Small).Run(20));
        Assert.Throws<ArgumentException>(() => new ToleranceStudy(LaunchBench.Whole(4), Small).Run(40, options: new StudyOptions { Part = new StudyPart(1, 2) }));
        Assert.Equal(MagnetGrade.N42.RemanenceLeast.Teslas, Spread.Uniform(DesignNumber.Remanence, MagnetGrade.N42.RemanenceRange).Quantile(0), 1e-12);
    }
}
