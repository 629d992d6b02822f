// Much of the library in one program, for a fresh project with the package Magrail.Core: trimmed and natively compiled it must print the same.
using Magrail;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(along: 12.Millimeters(), across: 6.Millimeters(), height: 20.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 24, pitch: 20.Millimeters());
var wire = Wire.Copper(WireGauge.Metric(0.71.Millimeters()), EnamelGrade.Grade2);
var former = CoilFormer.Rounded(width: 12.Millimeters(), height: 18.Millimeters(), corner: 3.Millimeters(), length: 7.Millimeters());
var coil = Coil.Wind(wire, former, turns: 56);
var (graphite, copper) = (ContactMaterial.SilverGraphite, ContactMaterial.Copper);
var launcher = new Launcher(
    track,
    new Sled(40.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15), DragArea = 10.SquareCentimeters() },
    ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters(), ContactResistance.Between(graphite, copper, 4.Newtons()), 4.Newtons())),
    new BatteryPack(12.Volts(), 40.Milliohms(), 5.AmpereHours()),
    new Payload(45.Grams(), neededSpeed: 5.MetersPerSecond(), accelerationLimit: 400.MetersPerSecondSquared()))
{
    Slope = 30.Degrees(),
    Leads = Leads.OfCopper(length: 2.Meters(), section: 0.06.SquareCentimeters()),
    CoilsWarmUp = true,
    Arc = ArcCharacteristic.Of(copper),
    Suppressor = Suppressor.Clamp(33.Volts()),
    Brake = SledBrake.Friction(start: 10.Millimeters(), length: 250.Millimeters(), force: 20.Newtons()),
    Ratings = new Ratings { BrushMaterial = graphite, StripMaterial = copper, BrushCurrent = 60.Amperes() },
};

LaunchResult launch = launcher.Launch();
Must(launch.Outcome == LaunchOutcome.Released, $"the payload is released, and not {launch.Outcome}");
Must(Math.Abs(launch.Ledger.RelativeResidual) < 1e-6, "the energy ledger closes");
Console.WriteLine(launch);
Console.WriteLine(launch.Ledger);
Console.WriteLine(launch.Limits);
Console.WriteLine(WorkshopSheet.Of(launch, new WorkshopOptions { Title = "From a package" }));

StudyResult study = new Study(launcher, DesignNumber.Turns.FromTo(40, 64, 3), DesignNumber.Voltage.FromTo(9.Volts(), 15.Volts(), 3)).Run();
Must(study.Points.All(point => point.Fault is null), "every point of the study was launched");
Console.WriteLine(study);
foreach (StudyPoint point in study.Points)
{
    Console.WriteLine(point);
}

Console.WriteLine(new ToleranceStudy(launcher, Spread.Normal(DesignNumber.Voltage, 12.Volts(), 0.3.Volts())).Run(samples: 20, seed: 7));
Console.WriteLine(Refusal(() => new Payload((-1).Grams())));

static void Must(bool holds, string what)
{
    if (!holds)
    {
        throw new InvalidOperationException($"It does not hold that {what}.");
    }
}

static string Refusal(Func<object> wrong)
{
    try
    {
        return $"{wrong()} was taken";
    }
    catch (ArgumentOutOfRangeException refused)
    {
        return refused.Message;
    }
}
