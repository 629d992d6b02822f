#:project ../../src/Magrail.Charts
// The essence of notebooks/02-magnets-and-gap.ipynb as a plain program: dotnet run docs/examples/gap.cs
using Magrail;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

var magnet = new BlockMagnet(along: 15.Millimeters(), across: 8.Millimeters(), height: 20.Millimeters(), MagnetGrade.N42);
var wire = Wire.Copper(WireGauge.Metric(0.355.Millimeters()), EnamelGrade.Grade2);

// For each gap: the field in its middle, and the coil that fits with 1.5 mm to spare on each side.
Length best = Length.Zero;
double most = 0;
for (int width = 7; width <= 22; width++)
{
    Length gap = width.Millimeters();
    Track track = Track.OfFacingPairs(magnet, gap, stations: 9, pitch: 20.Millimeters());
    MagneticField field = track.FluxDensityAt(80.Millimeters(), Length.Zero, Length.Zero).Magnitude;
    var former = CoilFormer.Rounded(width: 16.Millimeters(), height: 14.Millimeters(), corner: 3.Millimeters(), length: gap - 3.Millimeters(), depth: 4.5.Millimeters());
    Coil coil = Coil.Wind(wire, former, Coil.MostTurns(wire, former));

    // Force per ampere from station to station; where it is greatest, the push is strongest.
    LineChart curve = CoilCharts.CouplingAlongTrack(coil, track, from: 70.Millimeters(), to: 90.Millimeters());
    double perAmpere = curve.PanelsFromTop[0].Series[0].Y.Max(Math.Abs);
    double perWatt = perAmpere * perAmpere / coil.Resistance.Ohms;
    Console.WriteLine($"gap {QuantityText.Of(gap)}: {QuantityText.Of(field)}, {coil.Turns} turns, {perAmpere:F2} N/A, {perWatt:F2} N²/W");
    (best, most) = perWatt > most ? (gap, perWatt) : (best, most);
}

Console.WriteLine($"most force for the heat: {QuantityText.Of(best)}");
