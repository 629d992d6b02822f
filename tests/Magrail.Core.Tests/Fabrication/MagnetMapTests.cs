using System.Xml.Linq;
using Magrail.Numerics;
using Magrail.Sources;
using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Fabrication;

public sealed class MagnetMapTests
{
    public static readonly AccuracyRow Pull = new(
        "pull between the magnets of a facing pair",
        "Coulomb's law: the charge of one magnet's faces in the field of the other (charge model of a rigid magnet)",
        1e-5,
        "of the pull");

    [Fact]
    public void Faces_alternate_as_the_field_does()
    {
        MagnetMap map = MagnetMap.Of(Benches.Plain.Track);
        Assert.Equal(24, map.Magnets.Length);
        Assert.Equal("N S N S N S N S N S N S", string.Join(' ', map.FacesOf('a')));
        Assert.Equal("S N S N S N S N S N S N", string.Join(' ', map.FacesOf('b')));

        // Field lines run from N to S: toward +y where the magnet at −y shows its north.
        for (int i = 0; i < 12; i++)
        {
            double field = Benches.Plain.Track.FluxDensityAt(Benches.Plain.Track.Positions[i], Length.Zero, Length.Zero).Across.Teslas;
            Assert.Equal(map.FacesOf('a')[i] == "N", field > 0);
        }
    }

    [Fact]
    public void Magnets_along_the_track_turned_round_and_rolled_are_told()
    {
        MagnetMap rings = MagnetMap.Of(Benches.Coaxial.Track);
        Assert.Equal("→ ← → ←", string.Join(' ', rings.FacesOf('a')[..4]));
        Assert.Equal("forward (+x)", rings.Magnets[0].North);
        Assert.Null(rings.PullAtGap);

        var block = new BlockMagnet(10.Millimeters(), 6.Millimeters(), 12.Millimeters(), MagnetGrade.N42);
        Track crown = Track.OfStations(MagnetStation.Coaxial(block, 6, 30.Millimeters()), 2, 20.Millimeters());
        MagnetMap map = MagnetMap.Of(crown);
        Assert.Equal(["1a", "1b", "1c", "1d", "1e", "1f", "2a"], map.Magnets.Take(7).Select(magnet => magnet.Mark));

        // Each block of a ring is rolled with its place, so that all show the path one face.
        Assert.Single(map.Magnets.Where(magnet => magnet.Station == 1).Select(magnet => magnet.Face).Distinct());
        Assert.NotEqual(map.Magnets[0].Face, map.Magnets[6].Face);
        Track turned = Track.OfStations(
            MagnetStation.Of(new PlacedMagnet(block, Length.Zero, 10.Millimeters(), Length.Zero, Polarity.Negative), new PlacedMagnet(block, Length.Zero, Length.Zero, 30.Millimeters())), 1, 20.Millimeters());
        Assert.Equal(["N", "+y"], MagnetMap.Of(turned).Magnets.Select(magnet => magnet.Face));
        Assert.Equal("−y, toward the path", MagnetMap.Of(turned).Magnets[0].North);
    }

    [Theory]
    [InlineData(12, 6, 20, 10)]
    [InlineData(12, 6, 20, 1)]
    [InlineData(20, 10, 20, 12)]
    [InlineData(8, 8, 8, 3)]
    public void The_pull_is_that_of_charged_faces(double along, double across, double height, double gap)
    {
        var body = new BlockMagnet(along.Millimeters(), across.Millimeters(), height.Millimeters(), MagnetGrade.N42);
        MagnetMap map = MagnetMap.Of(Track.OfFacingPairs(body, gap.Millimeters(), 1, 50.Millimeters()));
        Pull.HoldRatio(Charges(body, 1e-3 * gap), map.PullAtGap!.Value.Newtons, $"{body}, gap {gap} mm");
    }

    [Fact]
    public void The_pull_grows_as_the_gap_closes()
    {
        MagnetMap map = MagnetMap.Of(Benches.Plain.Track);
        Assert.Matches(@"(?m)^  2b +20\.00 +8\.00 +0\.00 +N42 +−y, toward$", map.ToString());
        Assert.True(map.PullTogether > map.PullAtGap && map.PullAtGap > Force.Zero);
        Assert.Contains("estimate, one pair alone", map.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Drawings_show_every_magnet_with_its_letters()
    {
        foreach ((Track track, int pages) in new[] { (Benches.Plain.Track, 1), (LaunchBench.TrackOf(48), 1), (LaunchBench.TrackOf(200), 2), (Benches.Coaxial.Track, 1) })
        {
            MagnetMap map = MagnetMap.Of(track);
            XElement[] drawings = [.. map.ToSvg().Select(svg => XDocument.Parse(svg).Root!)];
            Assert.Equal(pages, drawings.Length);
            string[] parts = [.. drawings.SelectMany(drawing => drawing.Descendants()).Select(element => (string?)element.Attribute("data-part")).OfType<string>()];
            Assert.Equal(map.Magnets.Select(magnet => $"magnet {magnet.Mark}").Order(), parts.Order());
            string[] texts = [.. drawings.SelectMany(drawing => drawing.Descendants()).Where(element => element.Name.LocalName == "text").Select(element => element.Value)];
            Assert.Equal(map.Magnets.Length, texts.Count(text => text == "N"));
            Assert.Equal(map.Magnets.Length, texts.Count(text => text == "S"));
            Assert.Equal(track.StationCount, texts.Count(text => text.Length > 1));

            // A page of A4 takes it, and no color is needed to read it.
            Assert.All(drawings, drawing => Assert.True(Millimeters(drawing, "width") <= 190 && Millimeters(drawing, "height") <= 250));
            Assert.All(drawings.SelectMany(drawing => drawing.Descendants()).Select(element => (string?)element.Attribute("fill")).OfType<string>(), fill => Assert.True(fill is "none" or "white" or "black" or "#444444", fill));
        }

        static double Millimeters(XElement drawing, string name) => double.Parse(((string)drawing.Attribute(name)!)[..^2], System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>
    /// Faces of one block carry charges ± J per area; each feels the other block's field: F = (J/µ₀) ∫ (B_y(S face) − B_y(N face)) dA, positive for a pull. B outside a block is µ₀H, so its
    /// near face is reached from outside.
    /// </summary>
    private static double Charges(BlockMagnet body, double gap)
    {
        double a = 0.5 * body.Along.Meters;
        double c = 0.5 * body.Height.Meters;
        double near = gap + (0.5 * body.Across.Meters);
        double far = near + body.Across.Meters;
        GaussNodes nodes = GaussNodes.OfOrder(64);
        double sum = 0;
        for (int i = 0; i < 64; i++)
        {
            for (int k = 0; k < 64; k++)
            {
                // Drawn together toward the edges, where the field of the opposite edge is steep.
                (double x, double wx) = (a * Math.Sin(0.5 * Math.PI * nodes.Abscissas[i]), a * 0.5 * Math.PI * Math.Cos(0.5 * Math.PI * nodes.Abscissas[i]) * nodes.Weights[i]);
                (double z, double wz) = (c * Math.Sin(0.5 * Math.PI * nodes.Abscissas[k]), c * 0.5 * Math.PI * Math.Cos(0.5 * Math.PI * nodes.Abscissas[k]) * nodes.Weights[k]);
                double difference = body.FluxDensityAt(x.Meters(), near.Meters(), z.Meters()).Across.Teslas - body.FluxDensityAt(x.Meters(), far.Meters(), z.Meters()).Across.Teslas;
                sum += wx * wz * difference;
            }
        }

        return body.Grade.Remanence.Teslas / PhysicalConstants.VacuumPermeability * sum;
    }
}
