#:project ../../src/Magrail.Charts
// The essence of notebooks/03-how-many-turns.ipynb as a plain program: dotnet run docs/examples/turns.cs
using Magrail;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(along: 15.Millimeters(), across: 8.Millimeters(), height: 24.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 11.Millimeters(), stations: 12, pitch: 24.Millimeters());
var former = CoilFormer.Rounded(width: 14.Millimeters(), height: 20.Millimeters(), corner: 3.Millimeters(), length: 8.Millimeters(), depth: 5.Millimeters());

Coil Filled(double millimeters)
{
    var wire = Wire.Copper(WireGauge.Metric(millimeters.Millimeters()), EnamelGrade.Grade2);
    return Coil.Wind(wire, former, Coil.MostTurns(wire, former));
}

Launcher With(Coil coil, ElectricPotential volts) => new(
    track,
    new Sled(60.Grams(), coil) { Friction = new GuideFriction(sliding: 0.15) },
    ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters(), 5.Milliohms())),
    new BenchSupply(volts, limit: Power.FromWatts(240) / volts),
    new Payload(90.Grams(), neededSpeed: 6.MetersPerSecond()))
{
    Leads = Leads.OfCopper(length: 2.Meters(), section: 0.015.SquareCentimeters()),
    Suppressor = Suppressor.Clamp(150.Volts()),
};

// Twelve wires that fill the same groove, on three supplies of 240 W each.
double[] sizes = [0.25, 0.28, 0.315, 0.355, 0.4, 0.45, 0.5, 0.56, 0.63, 0.8, 0.9, 1.12];
Coil[] family = [.. sizes.Select(Filled)];
foreach (ElectricPotential volts in new[] { 10.Volts(), 20.Volts(), 40.Volts() })
{
    (Coil coil, LaunchResult launch) = family.Select(coil => (coil, With(coil, volts).Launch())).MaxBy(one => one.Item2.ExitSpeed);
    Console.WriteLine($"{QuantityText.Of(volts)}: {coil.Turns} turns are fastest, {QuantityText.Of(launch.ExitSpeed)}, {volts.Volts / coil.Turns:F2} V a turn");
}
