#:project ../../src/Magrail.Charts
// The essence of notebooks/06-what-the-spark-costs.ipynb as a plain program: dotnet run docs/examples/limits.cs
using Magrail;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(along: 12.Millimeters(), across: 6.Millimeters(), height: 20.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 30, pitch: 20.Millimeters());
var wire = Wire.Copper(WireGauge.Metric(0.71.Millimeters()), EnamelGrade.Grade2);
var former = CoilFormer.Rounded(width: 12.Millimeters(), height: 18.Millimeters(), corner: 3.Millimeters(), length: 7.Millimeters());
var coil = Coil.Wind(wire, former, turns: 56);

// Brushes of silver-graphite on strips of copper: their resistance follows from the two and the force between them.
var (graphite, copper) = (ContactMaterial.SilverGraphite, ContactMaterial.Copper);
var brush = new Brush(3.Millimeters(), ContactResistance.Between(graphite, copper, 4.Newtons()), 4.Newtons());
var sled = new Sled(mass: 40.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15), DragArea = 10.SquareCentimeters() };
var swallow = new Payload(45.Grams(), neededSpeed: 8.MetersPerSecond(), accelerationLimit: 400.MetersPerSecondSquared());
var launcher = new Launcher(
    track,
    sled,
    ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), brush),
    new BatteryPack(12.Volts(), 40.Milliohms(), ElectricCharge.FromAmpereHours(5)),
    swallow)
{
    Slope = 30.Degrees(),
    Leads = Leads.OfCopper(length: 2.Meters(), section: 0.06.SquareCentimeters()),
    Switch = new StartSwitch(5.Milliohms()),
    CoilsWarmUp = true,
    Arc = ArcCharacteristic.Of(copper),
    Brake = SledBrake.Friction(start: 10.Millimeters(), length: 250.Millimeters(), force: 20.Newtons()),
    Ratings = new Ratings
    {
        BrushMaterial = graphite,
        StripMaterial = copper,
        BrushCurrent = 60.Amperes(),
        BrushVolume = Volume.FromCubicMillimeters(20),
        Braid = Area.FromSquareMillimeters(1),
    },
};

LaunchResult launch = launcher.Launch();
Console.WriteLine(launch);
Console.WriteLine(launch.Limits);

// What is put across the coil: what it leaves of arcs and voltage, and what it costs.
foreach (Suppressor kind in new[] { Suppressor.IdealBreak, Suppressor.Resistor(0.5.Ohms()), Suppressor.Clamp(33.Volts()), Suppressor.Clamp(14.Volts()), Suppressor.SeriesRC(0.5.Ohms(), 470.Microfarads()) })
{
    LaunchResult tried = (launcher with { Suppressor = kind }).Launch();
    ElectricPotential peak = tried.Breaks.Max(one => one.PeakCoilVoltage!.Value);
    string name = kind is IdealBreakSuppressor ? "the arc alone" : kind.ToString();
    Console.WriteLine($"{name}: {QuantityText.Of(tried.ExitSpeed)}, {QuantityText.Of(peak)} across the coil, brushes last {tried.BrushLife}");
}

string folder = args.Length > 0 ? args[0] : "artifacts";
ChartPage.Save(Path.Combine(folder, "limits.html"), "What the spark costs", LimitCharts.Limits(launch), LimitCharts.Breaks(launch), LimitCharts.Braking(launch));
