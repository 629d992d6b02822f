// For a fresh project with the package Magrail.Charts: a report, a page with a chart to move about in, and a still picture.
using System.Xml.Linq;
using Magrail;
using Magrail.Charts;
using Magrail.Units;

var magnet = new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42);
var track = Track.OfFacingPairs(magnet, gap: 10.Millimeters(), stations: 6, pitch: 20.Millimeters());
var coil = Coil.Wind(Wire.Copper(WireGauge.Metric(0.5.Millimeters()), EnamelGrade.Grade2), CoilFormer.Rounded(12.Millimeters(), 18.Millimeters(), 3.Millimeters(), 7.Millimeters()), turns: 180);
var contacts = ContactCommutator.For(track, coil, dwell: 0.8, lead: 0.5.Millimeters(), new Brush(3.Millimeters()));
LaunchResult launch = new Launcher(track, new Sled(25.Grams(), coil), contacts, new BenchSupply(36.Volts()), new Payload(40.Grams())).Launch();

launch.SaveReport("report.html");
LaunchCharts.Overview(launch).SaveHtml("launch.html");
LaunchCharts.Overview(launch).SaveSvg("launch.svg");

string speed = QuantityText.Of(launch.ExitSpeed);
Must(File.ReadAllText("report.html").Contains(speed, StringComparison.Ordinal), $"the report tells the exit speed, {speed}");
Must(File.ReadAllText("launch.html").Contains("plotly.js", StringComparison.Ordinal), "the page carries what draws it");
XElement drawing = XDocument.Load("launch.svg").Root!;
Must(drawing.Name.LocalName == "svg" && drawing.Descendants().Count(part => part.Name.LocalName is "path" or "polyline") >= 2, "the still picture has curves");
Console.WriteLine($"a report, a page and a picture of a launch at {speed}");

static void Must(bool holds, string what)
{
    if (!holds)
    {
        throw new InvalidOperationException($"It does not hold that {what}.");
    }
}
