using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Measurement;

/// <summary>Calibration: launches simulated from known causes give them back within the stated errors; what the data cannot tell is refused.</summary>
public class CalibrationTests
{
    private static readonly AccuracyRow Coverage = new(
        "calibration: share of known causes within their intervals of 95 %, three unknowns, 80 times, off 0.95 by",
        "launches simulated from known causes, with noise",
        0.035,
        "");

    private const double Contact = 0.06;
    private const double Sliding = 0.2;
    private const double Remanence = 1.26;

    // MAGRAIL_LONG_ROUND_TRIP=1 makes it 1000 calibrations.
    private static readonly int Repeats = Environment.GetEnvironmentVariable("MAGRAIL_LONG_ROUND_TRIP") is null ? 80 : 1000;

    [Fact]
    public void Known_causes_are_recovered_within_their_stated_errors()
    {
        // Two runs of different volts and payload, the first one's reading error from its scatter; a pull at a held current, a coast-down; three unknowns.
        LaunchResult one = True(18, 30).Launch(), two = True(36, 90).Launch();
        double pull = 5 * one.ForceConstantAt(29.Millimeters()).NewtonsPerAmpere, slow = CoastDown(True(18, 30), 1);
        var random = new Random(20261125);
        int[] covered = new int[3];
        double[] sums = new double[3], squares = new double[3];
        double misfits = 0;
        for (int repeat = 0; repeat < Repeats; repeat++)
        {
            CalibrationResult result = Calibration.Fit(
                [CalibrationUnknown.ContactResistance(), CalibrationUnknown.SlidingFriction(), CalibrationUnknown.Remanence()],
                [
                    new CalibrationRun(Drawn(18, 30), RunComparisonTests.Film(one, 0.012, 2e-4, random, (_, x) => x, 2000)),
                    new CalibrationRun(Drawn(36, 90), RunComparisonTests.Film(two, 0.007, 2e-4, random, (_, x) => x, 1000, new FilmErrors { Reading = 0.2.Millimeters() })),
                ],
                [
                    BenchTest.Pull(Drawn(18, 30), 5.Amperes(), 29.Millimeters(), (pull + (0.02 * SmoothedRunTests.Gauss(random))).Newtons(), 0.02.Newtons()),
                    BenchTest.CoastDown(Drawn(18, 30), 1.MetersPerSecond(), (slow + (0.1 * SmoothedRunTests.Gauss(random))).MetersPerSecondSquared(), 0.1.MetersPerSecondSquared()),
                ]);
            Assert.True(result.IsDetermined, result.ToString());
            misfits += result.Misfit / Repeats;
            (double Value, double Half, double Truth)[] found =
            [
                (result.ContactResistance!.Value.Ohms, result.ContactResistance.HalfWidth.Ohms, Contact),
                (result.SlidingFriction!.Value.DecimalFractions, result.SlidingFriction.HalfWidth.DecimalFractions, Sliding),
                (result.Remanence!.Value.Teslas, result.Remanence.HalfWidth.Teslas, Remanence),
            ];
            for (int j = 0; j < 3; j++)
            {
                double z = (found[j].Value - found[j].Truth) / (found[j].Half / 1.959964);
                covered[j] += Math.Abs(z) <= 1.959964 ? 1 : 0;
                sums[j] += z;
                squares[j] += z * z;
            }
        }

        // About 95 in 100: of 80 trials at 0.95, more than 99 in 100 times 71 to 80; of 1000, 932 to 967.
        int least = Repeats == 80 ? 71 : 932, most = Repeats == 80 ? 80 : 967;
        Assert.All(covered, count => Assert.InRange(count, least, most));
        Coverage.HoldDifference(0.95, covered.Sum() / (3.0 * Repeats));

        // No bias beyond chance, and errors of the stated size: mean of z and of z².
        Assert.All(sums, sum => Assert.InRange(Math.Abs(sum / Repeats), 0, 3.3 / Math.Sqrt(Repeats)));
        Assert.All(squares, square => Assert.InRange(square / Repeats, 1 - (3.3 * Math.Sqrt(2.0 / Repeats)), 1 + (3.3 * Math.Sqrt(2.0 / Repeats))));
        Assert.InRange(misfits, 0.97, 1.03);
    }

    [Fact]
    public void Leads_and_contacts_are_not_told_apart_by_runs_and_the_cure_is_named()
    {
        var random = new Random(1);
        CalibrationUnknown[] unknowns = [CalibrationUnknown.ContactResistance(), CalibrationUnknown.LeadResistance()];
        CalibrationRun run = new(Drawn(36, 30), RunComparisonTests.Film(True(36, 30).Launch(), 0.01, 1e-4, random, (_, x) => x));
        Launcher truth = True(36, 30);
        Launcher drawn = Drawn(36, 30, true);
        run = new CalibrationRun(drawn, run.Film);
        CalibrationResult refused = Calibration.Fit(unknowns, [run]);
        Assert.False(refused.IsDetermined);
        Assert.Null(refused.ContactResistance);
        Assert.Null(refused.LeadResistance);
        string verdict = Assert.Single(refused.Verdicts);
        Assert.Contains("cannot tell contact resistance and lead resistance apart", verdict, StringComparison.Ordinal);
        Assert.Contains("measure the cold resistance between the strips", verdict, StringComparison.Ordinal);
        Assert.Contains("cannot tell", Assert.Throws<InvalidOperationException>(() => refused.Apply(drawn)).Message, StringComparison.Ordinal);
        Assert.True(refused.Condition > 1e4);

        // The experiment that it asks for: then both are found.
        double cold = truth.Sled.Coils[0].Coil.Resistance.Ohms + (2 * Contact);
        CalibrationResult found = Calibration.Fit(unknowns, [run], [BenchTest.ColdResistance(drawn, cold.Ohms(), 2.Milliohms())]);
        Assert.True(found.IsDetermined, found.ToString());
        Assert.Equal(Contact, found.ContactResistance!.Value.Ohms, 3 * found.ContactResistance.RandomError.Ohms);
        Assert.Equal(0.02, found.LeadResistance!.Value.Ohms, 3 * found.LeadResistance.RandomError.Ohms);
        Assert.True(found.Correlation(CalibrationCause.ContactResistance, CalibrationCause.LeadResistance) < -0.2);
        Launcher calibrated = found.Apply(drawn);
        Assert.Equal(truth.Launch().EndSpeed.MetersPerSecond, calibrated.Launch().EndSpeed.MetersPerSecond, 0.02);
    }

    /// <summary>
    /// Drop and resistance of the brushes: from one voltage at one current they cannot be told apart; from two they can, and with two films of very different currents, twenty
    /// times over, they are recovered within their stated errors.
    /// </summary>
    [Fact]
    public void Brush_drop_and_contact_resistance_are_told_apart_by_two_currents()
    {
        const double Drop = 0.7;
        Launcher Bare(double volts, double contact) => Make(volts, 30, contact, Sliding, Remanence, 0.02);
        Launcher WithDrop(Launcher launcher, double volts) => DesignNumber.BrushDrop.With(launcher, volts.Volts());
        CalibrationUnknown[] unknowns = [CalibrationUnknown.BrushDrop(), CalibrationUnknown.ContactResistance()];
        double ohms = LaunchBench.Coil.Resistance.Ohms + (2 * Contact);
        BenchTest At(double amperes, double off) => BenchTest.VoltageAtCurrent(
            Drawn(36, 30, true), amperes.Amperes(), ((amperes * ohms) + (2 * Drop) + off).Volts(), 5.Millivolts());

        CalibrationResult refused = Calibration.Fit(unknowns, null, [At(10, 0), At(10, 0)]);
        Assert.False(refused.IsDetermined);
        string verdict = Assert.Single(refused.Verdicts);
        Assert.Contains("cannot tell brush drop and contact resistance apart", verdict, StringComparison.Ordinal);
        Assert.Contains("at two held currents far apart", verdict, StringComparison.Ordinal);

        CalibrationResult bench = Calibration.Fit(unknowns, null, [At(1, 0), At(20, 0)]);
        Assert.Equal(Drop, bench.BrushDrop!.Value.Volts, 1e-6);
        Assert.Equal(Contact, bench.ContactResistance!.Value.Ohms, 1e-6);

        LaunchResult weak = WithDrop(Bare(9, Contact), Drop).Launch(), strong = WithDrop(Bare(36, Contact), Drop).Launch();
        var random = new Random(20261129);
        const int Times = 20;
        int[] covered = new int[2];
        for (int repeat = 0; repeat < Times; repeat++)
        {
            CalibrationResult result = Calibration.Fit(
                unknowns,
                [
                    new CalibrationRun(Bare(9, 0.03), RunComparisonTests.Film(weak, 0.01, 1e-4, random, (_, x) => x)),
                    new CalibrationRun(Bare(36, 0.03), RunComparisonTests.Film(strong, 0.01, 1e-4, random, (_, x) => x)),
                ]);
            Assert.True(result.IsDetermined, result.ToString());
            Assert.InRange(result.BrushDrop!.HalfWidth.Volts, 0, 0.3);
            covered[0] += Math.Abs(result.BrushDrop!.Value.Volts - Drop) <= result.BrushDrop.HalfWidth.Volts ? 1 : 0;
            covered[1] += Math.Abs(result.ContactResistance!.Value.Ohms - Contact) <= result.ContactResistance.HalfWidth.Ohms ? 1 : 0;
        }

        // Of 20 trials at 0.95, 16 or more in 99.7 of 100 cases (binomial distribution).
        Assert.All(covered, count => Assert.InRange(count, 16, Times));
    }

    [Fact]
    public void Remanence_and_gap_are_not_told_apart_by_one_pull()
    {
        Launcher drawn = Drawn(36, 30);
        double peak = True(36, 30).Launch().ForceConstantAt(30.Millimeters()).NewtonsPerAmpere;
        CalibrationUnknown[] unknowns = [CalibrationUnknown.Remanence(), CalibrationUnknown.Gap()];
        BenchTest[] tests =
        [
            BenchTest.Pull(drawn, 10.Amperes(), 30.Millimeters(), (10 * peak).Newtons(), 0.02.Newtons()),
            BenchTest.CoastingVoltage(drawn, 2.MetersPerSecond(), 30.Millimeters(), (2 * peak).Volts(), 5.Millivolts()),
        ];
        CalibrationResult refused = Calibration.Fit(unknowns, null, tests);
        Assert.False(refused.IsDetermined);
        Assert.Contains("cannot tell remanence and gap apart", Assert.Single(refused.Verdicts), StringComparison.Ordinal);

        Assert.Contains("measure the gap with a gauge", refused.Verdicts[0], StringComparison.Ordinal);

        // The experiments that it names. Pulls from the peak to where there is none:
        LaunchResult truth = True(36, 30).Launch();
        var random = new Random(3);
        BenchTest[] places =
        [
            .. Enumerable.Range(0, 11).Select(i => (20 + i).Millimeters()).Select(place => BenchTest.Pull(
                drawn, 10.Amperes(), place, ((10 * truth.ForceConstantAt(place).NewtonsPerAmpere) + (0.05 * SmoothedRunTests.Gauss(random))).Newtons(), 0.05.Newtons())),
        ];
        CalibrationResult separated = Calibration.Fit(unknowns, null, places);
        Assert.True(separated.IsDetermined, separated.ToString());
        Assert.Equal(Remanence, separated.Remanence!.Value.Teslas, 3 * separated.Remanence.RandomError.Teslas);
        Assert.Equal(0.01, separated.Gap!.Value.Meters, 3 * separated.Gap.RandomError.Meters);

        // They ask for sharp pulls: with 0.2 N instead of 0.05 N the two stay together.
        CalibrationResult blunt = Calibration.Fit(unknowns, null, Enumerable.Range(0, 11).Select(i => (20 + i).Millimeters()).Select(place => BenchTest.Pull(
            drawn, 10.Amperes(), place, (10 * truth.ForceConstantAt(place).NewtonsPerAmpere).Newtons(), 0.2.Newtons())));
        Assert.False(blunt.IsDetermined);

        // With the gap known, by a gauge, one pull gives the remanence.
        CalibrationResult found = Calibration.Fit([CalibrationUnknown.Remanence()], null, tests);
        Assert.Equal(Remanence, found.Remanence!.Value.Teslas, 1e-6);
        Assert.Equal(2, found.TestResiduals.Length);
    }

    [Fact]
    public void The_gap_is_found_from_a_run_where_the_remanence_is_known()
    {
        Launcher truth = CauseModel.With(Drawn(36, 30), CalibrationCause.Gap, 0.0103);
        FilmedRun film = RunComparisonTests.Film(truth.Launch(), 0.01, 1e-4, new Random(5), (_, x) => x);
        CalibrationResult found = Calibration.Fit([CalibrationUnknown.Gap()], [new CalibrationRun(Drawn(36, 30), film)]);
        Assert.Equal(0.0103, found.Gap!.Value.Meters, 3 * found.Gap.RandomError.Meters);
        Assert.InRange(found.Gap.RandomError.Meters, 1e-6, 2e-4);
    }

    [Fact]
    public void A_wrong_scale_is_in_the_errors()
    {
        // A film whose scale is 1 % off, stated as 1 %: the remanence found alone is off by more than its error without that, and within it with.
        LaunchResult launch = True(36, 30).Launch();
        Launcher drawn = CauseModel.With(CauseModel.With(Drawn(36, 30), CalibrationCause.ContactResistance, Contact), CalibrationCause.SlidingFriction, Sliding);
        FilmedRun Film(FilmErrors errors) => RunComparisonTests.Film(launch, 0.01, 1e-4, new Random(6), (_, x) => 1.01 * x, 1000, errors);
        CalibrationRun without = new(drawn, Film(FilmErrors.None), 10.Milliseconds());
        CalibrationRun with = new(drawn, Film(new FilmErrors { Scale = Ratio.FromPercent(1) }), 10.Milliseconds());
        Measured<MagneticField> bold = Calibration.Fit([CalibrationUnknown.Remanence()], [without]).Remanence!;
        Measured<MagneticField> honest = Calibration.Fit([CalibrationUnknown.Remanence()], [with]).Remanence!;
        Assert.True(Math.Abs(bold.Value.Teslas - Remanence) > bold.HalfWidth.Teslas);
        Assert.True(Math.Abs(honest.Value.Teslas - Remanence) < honest.HalfWidth.Teslas);
        Assert.True(honest.RandomError.Teslas > 2 * bold.RandomError.Teslas);
    }

    [Fact]
    public void A_model_that_does_not_fit_is_told()
    {
        // The film has a brake that the launcher has not: no friction coefficient makes that.
        FilmedRun film = RunComparisonTests.Film(True(36, 30).Launch(), 0.01, 1e-4, new Random(7), (_, x) => x < 0.05 ? x : 0.05 + (0.8 * (x - 0.05)), 1000, new FilmErrors { Reading = 0.1.Millimeters() });
        CalibrationResult result = Calibration.Fit([CalibrationUnknown.ContactResistance(), CalibrationUnknown.SlidingFriction(greatest: 0.5)], [new CalibrationRun(Drawn(36, 30), film)]);
        Assert.Contains(result.Verdicts, verdict => verdict.StartsWith("The model does not fit", StringComparison.Ordinal));
        Assert.True(result.Misfit > 2);
    }

    [Fact]
    public void An_inductance_off_the_drawing_shows_as_a_residual()
    {
        Launcher drawn = Drawn(36, 30);
        double inductance = drawn.Sled.Coils[0].Coil.Inductance.Henries, cold = drawn.Sled.Coils[0].Coil.Resistance.Ohms + 0.1;
        CalibrationResult result = Calibration.Fit(
            [CalibrationUnknown.ContactResistance()],
            null,
            [
                BenchTest.ColdResistance(drawn, cold.Ohms(), 1.Milliohms()),
                BenchTest.Inductance(drawn, (1.1 * inductance).Henries(), (0.01 * inductance).Henries()),
            ]);
        Assert.Equal(0.05, result.ContactResistance!.Value.Ohms, 1e-6);
        Assert.Contains("10.0 standard errors off", result.TestResiduals[1], StringComparison.Ordinal);
        Assert.Contains("does not fit", Assert.Single(result.Verdicts), StringComparison.Ordinal);
    }

    [Fact]
    public void A_cause_on_its_bound_is_told()
    {
        Launcher drawn = Drawn(36, 30);
        double cold = drawn.Sled.Coils[0].Coil.Resistance.Ohms - 0.05;
        CalibrationResult result = Calibration.Fit([CalibrationUnknown.ContactResistance()], null, [BenchTest.ColdResistance(drawn, cold.Ohms(), 1.Milliohms())]);
        Assert.Null(result.ContactResistance);
        Assert.Contains(result.Verdicts, verdict => verdict.Contains("ends on its bound of 0 ohm", StringComparison.Ordinal));
    }

    [Fact]
    public void Bad_problems_are_refused()
    {
        Launcher drawn = Drawn(36, 30);
        BenchTest cold = BenchTest.ColdResistance(drawn, 1.Ohms(), 1.Milliohms());
        Assert.Throws<ArgumentException>(() => Calibration.Fit([], null, [cold]));
        Assert.Throws<ArgumentException>(() => Calibration.Fit([CalibrationUnknown.Gap()], null));
        Assert.Contains("named twice", Assert.Throws<ArgumentException>(() => Calibration.Fit([CalibrationUnknown.Gap(), CalibrationUnknown.Gap()], null, [cold])).Message, StringComparison.Ordinal);
        Assert.Contains("1 measurements for 2 unknowns", Assert.Throws<ArgumentException>(() => Calibration.Fit([CalibrationUnknown.Gap(), CalibrationUnknown.Remanence()], null, [cold])).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => CalibrationUnknown.SlidingFriction(0.5, 0.4));
        Assert.Throws<ArgumentOutOfRangeException>(() => BenchTest.Pull(drawn, 0.Amperes(), 1.Millimeters(), 1.Newtons(), 1.Newtons()));
        FilmedRun away = RunComparisonTests.Film(True(36, 30).Launch(), 0, 1e-4, new Random(8), (_, x) => x + 5);
        Assert.Contains("Check the film's origin", Assert.Throws<ArgumentException>(() => Calibration.Fit([CalibrationUnknown.Gap()], [new CalibrationRun(drawn, away)])).Message, StringComparison.Ordinal);
    }

    /// <summary>The launcher as it truly is.</summary>
    private static Launcher True(double volts, double payload)
        => Make(volts, payload, Contact, Sliding, Remanence, 0.02);

    /// <summary>The launcher as it was drawn: contacts, friction and remanence are guesses.</summary>
    private static Launcher Drawn(double volts, double payload, bool rest = false)
        => rest ? Make(volts, payload, 0.03, Sliding, Remanence, 0.01) : Make(volts, payload, 0.03, 0.1, 1.3, 0.02);

    private static Launcher Make(double volts, double payload, double contact, double sliding, double remanence, double leads)
    {
        Track track = Track.OfFacingPairs(
            new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42.WithRemanence(remanence.Teslas())), 10.Millimeters(), 5, 20.Millimeters());
        var contacts = ContactCommutator.For(track, LaunchBench.Coil, 0.8, 0.5.Millimeters(), new Brush(3.Millimeters(), contact.Ohms(), 0.8.Newtons()));
        return new Launcher(
            track,
            new Sled(25.Grams(), LaunchBench.Coil) { Friction = new GuideFriction(sliding) },
            contacts,
            new BenchSupply(volts.Volts(), 100.Amperes()),
            new Payload(payload.Grams()))
        {
            Leads = new Leads(leads.Ohms()),
            Suppressor = Suppressor.Clamp(80.Volts()),
        };
    }

    /// <summary>Friction over mass: µ (m g + brush forces)/m, written out.</summary>
    private static double CoastDown(Launcher launcher, double factor)
        => factor * Sliding * ((launcher.MovingMass.Kilograms * 9.80665) + 1.6) / launcher.MovingMass.Kilograms;
}
