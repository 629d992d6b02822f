using Magrail.Laws;
using UnitsNet;

namespace Magrail.Tests.Laws;

/// <summary>Each law, held against something that breaks it: a law that cannot fail proves nothing.</summary>
public sealed class LawsCanFailTests
{
    private static readonly Lazy<LaunchResult> Plain = new(() => Launcher().Launch());

    [Fact]
    public void ALawHoldsUpToItsAllowanceAndNotForWhatIsNotANumber()
    {
        Assert.True(new LawCheck("law", 1, 1, "").Holds);
        Assert.False(new LawCheck("law", 1.1, 1, "").Holds);
        Assert.False(new LawCheck("law", double.NaN, 1, "").Holds);
        Assert.Throws<InvalidOperationException>(() => new LawCheck("law", double.NaN, 1, "").EnsureHolds());
    }

    [Fact]
    public void LedgerThatMissesHeat()
    {
        EnergyLedger ledger = Plain.Value.Ledger;
        Assert.True(LaunchLaws.LedgerCloses(ledger).Holds);
        Assert.False(LaunchLaws.LedgerCloses(ledger with { CoilHeat = 0.9999 * ledger.CoilHeat }).Holds);
    }

    [Fact]
    public void ForceConstantOfAnotherSize()
    {
        LaunchResult result = Plain.Value;
        Assert.True(LaunchLaws.ForceAndBackEmfShareK(result).Holds);
        Assert.False(LaunchLaws.ForceAndBackEmfShareK(
            result.Trace,
            result.Ledger,
            (x, k) => ForceConstant.FromNewtonsPerAmpere(1.0001 * result.ForceConstantAt(x, k).NewtonsPerAmpere)).Holds);

        // A back-EMF smaller than the force's constant: the circuit pays less than the sled gets.
        Assert.False(LaunchLaws.ForceAndBackEmfShareK(
            result.Trace, result.Ledger with { Drawn = result.Ledger.Drawn - (1e-4 * result.Ledger.Kinetic) }, result.ForceConstantAt).Holds);
    }

    [Fact]
    public void ReversingTheMagnetsAlone()
    {
        LaunchResult turned = LaunchLaws.WithMagnetsReversed(Launcher()).Launch();
        Assert.True(LaunchLaws.MotionDifference(Plain.Value, turned) > 0.1);
        Assert.True(LaunchLaws.ReversingTrackAndRailsChangesNothing(Launcher()).Holds);
    }

    [Fact]
    public void RewindingWithResistanceOutsideTheCoil()
    {
        var leads = new Leads(ElectricResistance.FromOhms(0.2));
        LaunchResult few = (LaunchLaws.AtVoltsPerTurn(Launcher(), 1) with { Leads = leads }).Launch();
        LaunchResult many = (LaunchLaws.AtVoltsPerTurn(Launcher(), 2) with { Leads = leads }).Launch();
        Assert.True(LaunchLaws.MotionDifference(few, many) > 1e-2);
    }

    [Fact]
    public void KineticEnergyFromNowhere()
    {
        EnergyLedger ledger = Plain.Value.Ledger;
        Assert.True(LaunchLaws.KineticEnergyIsPaidFor(ledger).Holds);
        Assert.False(LaunchLaws.KineticEnergyIsPaidFor(ledger with { Kinetic = 1.01 * ledger.Drawn }).Holds);
        Assert.False(LaunchLaws.KineticEnergyIsPaidFor(ledger with { Friction = -0.01 * ledger.Drawn }).Holds);
    }

    [Fact]
    public void ALooseRunPassedOffAsATightOne()
    {
        double loose = Launcher().Launch(new LaunchOptions { RelativeTolerance = 1e-2 }).EndSpeed.MetersPerSecond;
        double tight = Plain.Value.EndSpeed.MetersPerSecond;
        Assert.True(Math.Abs(loose - tight) > LaunchLaws.SpeedErrorPerTolerance * LaunchOptions.Default.RelativeTolerance * tight);
    }

    [Fact]
    public void FieldWithASource()
    {
        Track track = Launcher().Track;
        FluxDensity Field(Length x, Length y, Length z) => Added(track.FluxDensityAt(x, y, z), 0, 1e-3 * y.Meters, 0);
        (Length X, Length Y, Length Z) low = Place(-5, -3, -4);
        (Length X, Length Y, Length Z) high = Place(7, 3.3, 6);
        Assert.True(FieldLaws.NoFluxLeavesABox(track, low, high).Holds);
        Assert.False(FieldLaws.NoFluxLeavesABox(Field, low, high).Holds);
    }

    [Fact]
    public void FieldThatGoesAround()
    {
        Track track = Launcher().Track;
        FluxDensity Field(Length x, Length y, Length z) => Added(track.FluxDensityAt(x, y, z), -1e-3 * y.Meters, 1e-3 * x.Meters, 0);
        Assert.True(FieldLaws.NoCirculationInAir(track, Place(0, -2, 1), Place(9, 0, 0), Place(0, 4, 0)).Holds);
        Assert.False(FieldLaws.NoCirculationInAir(Field, Place(0, -2, 1), Place(9, 0, 0), Place(0, 4, 0)).Holds);

        // A loop with one side inside a magnet, where B is not μ₀H.
        Assert.False(FieldLaws.NoCirculationInAir(track, Place(0, -9, 1), Place(10, 0, 0), Place(0, 18, 0)).Holds);
    }

    [Fact]
    public void DipoleOfAnotherStrength()
    {
        Track track = Launcher().Track;
        FluxDensity Field(Length x, Length y, Length z)
        {
            FluxDensity b = track.FluxDensityAt(x, y, z);
            return new FluxDensity(1.1 * b.Along, 1.1 * b.Across, 1.1 * b.Up);
        }

        // Above the end of the track, where the nearest station outweighs the others.
        Assert.True(FieldLaws.FarAwayAMagnetIsItsDipole(track, Length.FromMeters(-0.3), Length.Zero, Length.FromMeters(0.02)).Holds);
        Assert.False(FieldLaws.FarAwayAMagnetIsItsDipole(Field, track, Length.FromMeters(-0.3), Length.Zero, Length.FromMeters(0.02)).Holds);
    }

    private static Launcher Launcher()
    {
        Track track = Track.OfFacingPairs(
            new BlockMagnet(Mm(12), Mm(6), Mm(20), MagnetGrade.N42), Mm(10), 5, Mm(20));
        Coil coil = Coil.Wind(
            Wire.Copper(WireGauge.Metric(Mm(0.5)), EnamelGrade.Grade1), CoilFormer.Rounded(Mm(8), Mm(18), Mm(3), Mm(7)), 84);
        return new Launcher(
            track,
            new Sled(Mass.FromGrams(30), coil) { Friction = new GuideFriction(0.1) },
            ContactCommutator.For(track, coil, 0.8, Mm(0.5), new Brush(Mm(3))),
            new BenchSupply(ElectricPotential.FromVolts(24)));
    }

    private static Length Mm(double millimeters) => Length.FromMillimeters(millimeters);

    private static (Length X, Length Y, Length Z) Place(double x, double y, double z) => (Mm(x), Mm(y), Mm(z));

    private static FluxDensity Added(FluxDensity b, double x, double y, double z)
        => new(b.Along + MagneticField.FromTeslas(x), b.Across + MagneticField.FromTeslas(y), b.Up + MagneticField.FromTeslas(z));
}
