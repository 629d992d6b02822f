using System.Globalization;
using System.Xml.Linq;
using Magrail.Tests.Laws;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Fabrication;

public sealed class StripTemplateTests
{
    /// <summary>What the workshop may be off by.</summary>
    private const double Hundredth = 0.01;

    [Theory]
    [MemberData(nameof(Benches.Names), MemberType = typeof(Benches))]
    public void Every_strip_is_found_on_the_sheets_within_a_hundredth_of_a_millimeter(string name)
        => Holds(Benches.Named(name), TemplateOptions.Default);

    [Theory]
    [InlineData(PaperOrientation.Portrait, 10, 10)]
    [InlineData(PaperOrientation.Landscape, 10, 10)]
    [InlineData(PaperOrientation.Landscape, 0, 4)]
    [InlineData(PaperOrientation.Portrait, 25, 30)]
    public void It_holds_for_any_paper(PaperOrientation paper, double margin, double overlap)
        => Holds(Benches.Plain, new TemplateOptions { Paper = paper, Margin = margin.Millimeters(), Overlap = overlap.Millimeters() });

    [Fact]
    public void It_holds_for_a_track_of_many_sheets()
    {
        StripTemplate template = Holds(Benches.LongTrack(400), TemplateOptions.Default);
        Assert.True(template.Tiles.Length > 40, $"{template.Tiles.Length} sheets");
    }

    [Fact]
    public void It_holds_for_a_template_wider_than_a_sheet()
    {
        StripTemplate template = Holds(Benches.Plain, new TemplateOptions { Paper = PaperOrientation.Landscape, LineDistance = 140.Millimeters() });
        Assert.Equal(3, template.Rows);
        Assert.Equal(template.Rows * template.Columns, template.Tiles.Length);
    }

    [LawProperty(50)]
    public void It_holds_for_every_launcher(Launcher launcher)
        => Holds(launcher, TemplateOptions.Default with { Paper = launcher.Track.StationCount % 2 == 0 ? PaperOrientation.Portrait : PaperOrientation.Landscape });

    [Theory]
    [MemberData(nameof(Benches.Names), MemberType = typeof(Benches))]
    public void The_drawing_in_one_piece_has_every_strip_and_its_true_size(string name)
    {
        StripTemplate template = StripTemplate.Of(Benches.Named(name));
        var drawing = new TemplateSvg(template.ToSvg());
        Assert.Equal(drawing.Width, drawing.ViewBox[2]);
        Assert.Equal(drawing.Height, drawing.ViewBox[3]);
        Assert.Equal(100, drawing.LengthOf("bar 100 mm"), 9);
        Dictionary<string, Box> found = drawing.Rects("strip").ToDictionary(rect => rect.Part, rect => rect.Seen);
        Assert.Equal(template.Strips.Length, found.Count);
        foreach (CutStrip strip in template.Strips)
        {
            Assert.Equal(strip.Strip.Start.Millimeters, found[strip.Mark].Left, Hundredth);
            Assert.Equal(strip.Strip.End.Millimeters, found[strip.Mark].Right, Hundredth);
        }
    }

    [Fact]
    public void Strips_lie_where_the_options_say_and_are_as_wide()
    {
        var options = new TemplateOptions { StripWidth = 8.Millimeters(), LineDistance = 31.Millimeters() };
        var drawing = new TemplateSvg(StripTemplate.Of(Benches.Plain, new WorkshopOptions { Template = options }).ToSvg());
        foreach ((string mark, Box strip, Box _) in drawing.Rects("strip"))
        {
            Assert.Equal(8, strip.Height, 6);
            Assert.Equal(mark[0] == 'U' ? -31 : 31, 0.5 * (strip.Top + strip.Bottom), 6);
        }
    }

    [Fact]
    public void Magnets_are_drawn_in_their_size_with_the_dark_half_north()
    {
        StripTemplate template = StripTemplate.Of(Benches.Plain);
        var drawing = new TemplateSvg(template.ToSvg());
        Dictionary<string, Box> found = drawing.Rects("magnet").ToDictionary(rect => rect.Part, rect => rect.Seen);
        Assert.Equal(24, found.Count);
        Assert.Equal(24, drawing.PlacedTexts.Count(text => text.Value == "N"));
        Assert.Equal(24, drawing.PlacedTexts.Count(text => text.Value == "S"));
        foreach (MappedMagnet magnet in template.Magnets)
        {
            Box box = found[magnet.Mark];
            Assert.Equal(12, box.Width, 6);
            Assert.Equal(6, box.Height, 6);
            Assert.Equal(magnet.Along.Millimeters, 0.5 * (box.Left + box.Right), 6);

            // +y is up the page. The letter N lies in the half toward which the magnetization points.
            Assert.Equal(-magnet.Across.Millimeters, 0.5 * (box.Top + box.Bottom), 6);
            double middleX = 0.5 * (box.Left + box.Right);
            (string _, double _, double y) = drawing.PlacedTexts.Single(text => text.Value == "N" && Math.Abs(text.X - drawing.MoveX - middleX) < 0.1 && text.Y - drawing.MoveY > box.Top && text.Y - drawing.MoveY < box.Bottom);
            bool upPage = y - drawing.MoveY < 0.5 * (box.Top + box.Bottom);
            Polarity polarity = template.Launcher.Track.Polarities[magnet.Station - 1];
            Assert.Equal(polarity == Polarity.Positive, upPage);
        }
    }

    [Fact]
    public void Labels_carry_mark_and_rail_and_are_large_enough_to_read()
    {
        foreach (string name in Benches.All)
        {
            StripTemplate template = StripTemplate.Of(Benches.Named(name), new WorkshopOptions { Title = "Any & <other> name" });
            TemplateSvg[] sheets = [.. template.Tiles.Select(tile => new TemplateSvg(tile.ToSvg()))];
            string text = string.Join('\n', sheets.Select(sheet => sheet.Text));
            Assert.All(template.Strips, strip => Assert.Contains($"{strip.Mark} {strip.Sign}", text, StringComparison.Ordinal));
            Assert.Contains("START: sled's mark at ", text, StringComparison.Ordinal);
            Assert.Contains("RELEASE: sled's mark at ", text, StringComparison.Ordinal);
            Assert.Contains("Any & <other> name. Template, full scale", text, StringComparison.Ordinal);

            // Capitals are some 0.73 of the font's size; ISO 3098 begins at 1.8 mm (from memory).
            Assert.All(sheets.SelectMany(sheet => sheet.Texts), each => Assert.True(each.Value is "N" or "S" || 0.73 * each.Size > 1.8, $"{each.Value}: {each.Size} mm"));
        }
    }

    [Fact]
    public void Holes_have_their_diameter_and_spacing_on_both_sides()
    {
        var options = new TemplateOptions { HoleDiameter = 4.5.Millimeters(), HoleSpacing = 45.Millimeters(), HoleDistance = 50.Millimeters() };
        StripTemplate template = StripTemplate.Of(Benches.Plain, new WorkshopOptions { Template = options });
        var drawing = new TemplateSvg(template.ToSvg());
        var holes = drawing.Circles("hole").ToList();
        Assert.Equal(template.Holes.Length, holes.Count);
        Assert.All(holes, hole => Assert.Equal(2.25, hole.Radius, 9));
        Assert.Equal([-50, 50], holes.Select(hole => hole.Y).Distinct().Order());
        double[] along = [.. holes.Where(hole => hole.Y > 0).Select(hole => hole.X)];
        Assert.Contains(0.0, along);
        Assert.All(along.Zip(along.Skip(1)), pair => Assert.Equal(45, pair.Second - pair.First, 6));
        // From the first magnet's edge at −6 mm to the last one's at 226 mm.
        Assert.Equal(6, along.Length);
    }

    [Fact]
    public void Start_and_release_are_those_of_the_launch()
    {
        StripTemplate template = StripTemplate.Of(Benches.Plain);
        Assert.Equal(Benches.PlainLaunch.Trace.PositionMeters[0], template.Start.Meters, 9);
        Assert.Equal(Benches.PlainLaunch.EndPosition.Meters, template.Release.Meters, 9);
        var drawing = new TemplateSvg(template.ToSvg());
        Assert.Equal(template.Start.Millimeters, drawing.Uprights("start").Single().X, Hundredth);
        Assert.Equal(template.Release.Millimeters, drawing.Uprights("release").Single().X, Hundredth);
    }

    [Fact]
    public void The_page_of_all_sheets_needs_nothing_else_and_keeps_their_size()
    {
        StripTemplate template = StripTemplate.Of(Benches.Plain);
        string html = template.ToHtml();
        Assert.Contains("@page { size: A4 portrait; margin: 10mm; }", html, StringComparison.Ordinal);
        Assert.DoesNotContain("http:", html.Replace("http://www.w3.org/2000/svg", string.Empty, StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("https:", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", html, StringComparison.Ordinal);
        string[] sheets = [.. html.Split("<svg ").Skip(1).Select(part => "<svg " + part[..(part.IndexOf("</svg>", StringComparison.Ordinal) + 6)])];
        Assert.Equal(template.Tiles.Length, sheets.Length);
        foreach (string sheet in sheets)
        {
            var svg = new TemplateSvg(sheet);
            Assert.Equal(svg.Width, svg.ViewBox[2]);
            Assert.Equal(svg.Height, svg.ViewBox[3]);

            // What the page's margins leave of A4, so that no browser makes it smaller.
            Assert.True(svg.Width <= 190 && svg.Height < 277);
            Assert.Equal(100, svg.LengthOf("bar 100 mm"), 9);
        }
    }

    [Fact]
    public void Sheets_say_what_they_show()
    {
        StripTemplate template = StripTemplate.Of(Benches.LongTrack(48), new WorkshopOptions { Title = "Thrower", Date = new DateOnly(2026, 3, 1) });
        Assert.Equal(6, template.Tiles.Length);
        TemplateTile second = template.Tiles[1];
        string label = string.Create(CultureInfo.InvariantCulture, $"sheet 2 of 6, from x = {second.From.Millimeters:0.0} mm to x = {second.To.Millimeters:0.0} mm");
        Assert.Equal(label, second.ToString());
        Assert.Contains(label, new TemplateSvg(second.ToSvg()).Text, StringComparison.Ordinal);
        Assert.Contains("Thrower, 2026-03-01", new TemplateSvg(second.ToSvg()).Text, StringComparison.Ordinal);
        Assert.Contains("measure me: 100.0 mm", new TemplateSvg(second.ToSvg()).Text, StringComparison.Ordinal);
        Assert.Contains("sheets of A4: 6, portrait", template.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Files_are_written_whole()
    {
        string folder = Directory.CreateTempSubdirectory("magrail-template-").FullName;
        try
        {
            StripTemplate template = StripTemplate.Of(Benches.Plain);
            IReadOnlyList<string> files = template.SaveTiles(folder);
            template.SaveSvg(Path.Combine(folder, "whole.svg"));
            template.SaveHtml(Path.Combine(folder, "all.html"));
            Assert.Equal(template.Tiles.Length, files.Count);
            Assert.Equal(["template-01-of-02.svg", "template-02-of-02.svg"], files.Select(Path.GetFileName));
            Assert.All(files, file => Assert.Equal("svg", XDocument.Load(file).Root!.Name.LocalName));
            Assert.Equal(files.Count + 2, Directory.GetFiles(folder).Length);
            Assert.Throws<ArgumentException>(() => template.SaveSvg(" "));
            Assert.ThrowsAny<IOException>(() => template.SaveHtml(Path.Combine(files[0], "all.html")));
            Assert.Equal(files.Count + 2, Directory.GetFiles(folder).Length);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Bad_options_say_what_is_wrong()
    {
        Says("Margin is 80 mm; it must be 0 m to 40 mm", () => new TemplateOptions { Margin = 80.Millimeters() });
        Says("Overlap is 1 mm", () => new TemplateOptions { Overlap = 1.Millimeters() });
        Says("HoleSpacing is 0 m", () => new TemplateOptions { HoleSpacing = Length.Zero });
        Says("StripWidth is -6 mm", () => new TemplateOptions { StripWidth = -6.Millimeters() });
        Says("LineDistance is 2 m", () => new TemplateOptions { LineDistance = 2.Meters() });
        Says("Paper is 7", () => new TemplateOptions { Paper = (PaperOrientation)7 });
        Says("it must be up to 400 sheets of A4", () => StripTemplate.Of(Benches.LongTrack(4000)));
        Assert.Throws<ArgumentNullException>(() => StripTemplate.Of(null!));
    }

    internal static void Says(string words, Func<object> make)
        => Assert.Contains(words, Assert.Throws<ArgumentOutOfRangeException>(make).Message, StringComparison.Ordinal);

    /// <summary>Reads every sheet back and finds strips, stations, bar and crosses; the pieces of a strip on several sheets make the whole strip.</summary>
    private static StripTemplate Holds(Launcher launcher, TemplateOptions options)
    {
        StripTemplate template = StripTemplate.Of(launcher, new WorkshopOptions { Template = options });
        (TemplateTile Tile, TemplateSvg Svg)[] sheets = [.. template.Tiles.Select(tile => (tile, new TemplateSvg(tile.ToSvg())))];
        double margin = options.Margin.Millimeters;
        double overlap = options.Overlap.Millimeters;
        (double width, double height) = options.Paper == PaperOrientation.Portrait ? (210.0, 297.0) : (297.0, 210.0);
        var strips = new Dictionary<string, List<Box>>();
        var stations = new Dictionary<string, List<double>>();
        foreach ((TemplateTile tile, TemplateSvg svg) in sheets)
        {
            // A4, a unit a millimeter, the window inside the margins.
            Assert.Equal((width, height), (svg.Width, svg.Height));
            Assert.Equal([0, 0, width, height], svg.ViewBox);
            Assert.True(svg.Window.Left >= margin - 1e-9 && svg.Window.Top >= margin && svg.Window.Right <= width - margin + 1e-9 && svg.Window.Bottom <= height - margin);
            Assert.Equal(100, svg.LengthOf("bar 100 mm"), Hundredth);
            Assert.True(!svg.Has("bar 50 mm") || Math.Abs(svg.LengthOf("bar 50 mm") - 50) < Hundredth);

            // The label's x is the window's.
            Assert.Equal(tile.From.Millimeters, svg.Window.Left - svg.MoveX, 1e-3);
            Assert.Equal(tile.To.Millimeters, svg.Window.Right - svg.MoveX, 1e-3);
            foreach ((string mark, Box seen, Box _) in svg.Rects("strip"))
            {
                (strips.TryGetValue(mark, out List<Box>? pieces) ? pieces : strips[mark] = []).Add(seen);
            }

            foreach ((string part, double x) in svg.Uprights("station "))
            {
                (stations.TryGetValue(part, out List<double>? places) ? places : stations[part] = []).Add(x);
            }
        }

        Assert.Equal(template.Strips.Length, strips.Count);
        foreach (CutStrip strip in template.Strips)
        {
            Box[] pieces = [.. strips[strip.Mark].OrderBy(piece => piece.Left)];
            Assert.Equal(strip.Strip.Start.Millimeters, pieces[0].Left, Hundredth);
            Assert.Equal(strip.Strip.End.Millimeters, pieces.Max(piece => piece.Right), Hundredth);
            Assert.Equal(options.StripWidth.Millimeters, pieces.Max(piece => piece.Bottom) - pieces.Min(piece => piece.Top), Hundredth);
            double reached = pieces[0].Right;
            foreach (Box piece in pieces)
            {
                Assert.True(piece.Left <= reached + 1e-9, $"{strip} is not on any sheet from {reached} mm to {piece.Left} mm");
                reached = Math.Max(reached, piece.Right);
            }
        }

        Assert.Equal(launcher.Track.StationCount, stations.Count);
        for (int i = 0; i < launcher.Track.StationCount; i++)
        {
            Assert.All(stations[string.Create(CultureInfo.InvariantCulture, $"station {i + 1}")], x => Assert.Equal(launcher.Track.Positions[i].Millimeters, x, Hundredth));
        }

        // Neighbors share the overlap, and in it the same crosses at the same place of the track.
        foreach ((TemplateTile left, TemplateSvg svg) in sheets.Where(sheet => sheet.Tile.Column < template.Columns))
        {
            (TemplateTile right, TemplateSvg next) = sheets.Single(sheet => sheet.Tile.Row == left.Row && sheet.Tile.Column == left.Column + 1);
            Assert.Equal(overlap, left.To.Millimeters - right.From.Millimeters, 1e-6);
            var here = svg.Circles("cross ").ToDictionary(cross => cross.Part);
            var there = next.Circles("cross ").ToDictionary(cross => cross.Part);
            string[] shared = [.. here.Keys.Intersect(there.Keys)];
            Assert.True(shared.Length >= 2, "two crosses fix a sheet");
            Assert.All(shared, cross => Assert.Equal(here[cross], there[cross]));
        }

        foreach ((TemplateTile upper, TemplateSvg svg) in sheets.Where(sheet => sheet.Tile.Row < template.Rows))
        {
            (TemplateTile _, TemplateSvg next) = sheets.Single(sheet => sheet.Tile.Column == upper.Column && sheet.Tile.Row == upper.Row + 1);
            var here = svg.Circles("cross ").ToDictionary(cross => cross.Part);
            var there = next.Circles("cross ").ToDictionary(cross => cross.Part);
            Assert.True(here.Keys.Intersect(there.Keys).Count() >= 2);
            Assert.All(here.Keys.Intersect(there.Keys), cross => Assert.Equal(here[cross], there[cross]));
        }

        return template;
    }
}
