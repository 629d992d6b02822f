using System.Buffers.Binary;
using System.Globalization;
using System.IO.Compression;
using System.Xml.Linq;
using Magrail.Charts;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Notebooks.Tests;

/// <summary>Still pictures are parsed, and numbers are read back from where things lie, by the ticks of the axes alone.</summary>
public sealed class StillPictureTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    [Fact]
    public void Every_point_of_every_line_is_where_its_numbers_say()
    {
        double[] x = [.. Enumerable.Range(0, 60).Select(i => 0.1 + (i * 0.013))];
        var speed = new ChartSeries("computed", x, [.. x.Select(each => 12 * Math.Sqrt(each))]);
        var film = new ChartSeries("film", x, [.. x.Select(each => (12 * Math.Sqrt(each)) - 0.7)]) { HalfWidths = [.. x.Select(_ => 0.4)] };
        var breaks = new ChartSeries("breaks", [0.2, 0.5, 0.8], [-30, 4, 55]) { Points = true };
        LineChart chart = new("Two panels", new ChartAxis("position", "m"), new ChartPanel(new ChartAxis("speed", "m/s"), speed, film), new ChartPanel(new ChartAxis("current", "A"), breaks));
        XElement picture = Parse(chart);
        (Func<double, double> placeOf, _) = Axis(Group(picture, "horizontal"), "x2");

        XElement[] panels = [.. Groups(picture, "panel")];
        Assert.Equal(["speed (m/s)", "current (A)"], panels.Select(Name));
        foreach ((XElement panel, ChartPanel drawn) in panels.Zip(chart.PanelsFromTop))
        {
            (Func<double, double> heightOf, double grain) = Axis(panel, "y2");
            XElement[] series = [.. Groups(panel, "series")];
            Assert.Equal(drawn.Series.Select(each => each.Name), series.Select(Name));
            foreach ((XElement line, ChartSeries numbers) in series.Zip(drawn.Series))
            {
                (double X, double Y)[] points = numbers.Points ? [.. line.Elements(Svg + "path").Select(Translated)] : Points(line.Elements(Svg + "path").Single());
                Assert.Equal(numbers.X.Count, points.Length);
                for (int i = 0; i < points.Length; i++)
                {
                    Assert.Equal(numbers.X[i], placeOf(points[i].X), 0.0002);
                    Assert.Equal(numbers.Y[i], heightOf(points[i].Y), grain);
                }
            }
        }

        // The band runs along its upper edge and back along its lower one.
        (Func<double, double> speedOf, double speedGrain) = Axis(panels[0], "y2");
        (double X, double Y)[] band = Points(Group(Groups(panels[0], "series").Last(), "band").Element(Svg + "path")!);
        Assert.Equal(2 * x.Length, band.Length);
        Assert.Equal(film.Y[0] + 0.4, speedOf(band[0].Y), speedGrain);
        Assert.Equal(film.Y[0] - 0.4, speedOf(band[^1].Y), speedGrain);

        // Two lines of one panel differ by color and by dashes.
        XElement[] lines = [.. Groups(panels[0], "series").Select(each => each.Elements(Svg + "path").Single())];
        Assert.NotEqual(lines[0].Attribute("stroke")!.Value, lines[1].Attribute("stroke")!.Value);
        Assert.NotEqual(lines[0].Attribute("stroke-dasharray")?.Value, lines[1].Attribute("stroke-dasharray")?.Value);
        Says(picture, "Two panels", "computed", "film", "speed (m/s)", "current (A)", "position (m)");
    }

    [Fact]
    public void Guide_lines_places_and_ribbon_stand_where_they_belong_and_far_ones_are_named_at_the_edge()
    {
        LineChart chart = new(
            "Guides",
            new ChartAxis("position", "m"),
            new ChartPanel(new ChartAxis("speed", "m/s"), new ChartSeries("v", [0, 1], [2, 10])) { Levels = [new ChartMark("needed", 12), new ChartMark("sound", 343)] })
        {
            Places = [new ChartMark("release", 0.75)],
            Ribbon = [new ChartBand("N", 0.1, 0.3, ChartShade.Dark), new ChartBand("S", 0.9, 1.4, ChartShade.Light), new ChartBand("gone", 2, 3, ChartShade.Light)],
        };
        XElement picture = Parse(chart);
        (Func<double, double> placeOf, _) = Axis(Group(picture, "horizontal"), "x2");
        (Func<double, double> heightOf, double grain) = Axis(Group(picture, "panel"), "y2");
        XElement[] levels = [.. Groups(picture, "level")];
        Assert.Equal(12, heightOf(Number(levels[0].Element(Svg + "line")!, "y1")), grain);
        Assert.Null(levels[1].Element(Svg + "line"));
        Says(picture, "needed", "↑ sound", "release", "N", "S");
        Assert.Equal(0.75, placeOf(Number(Group(picture, "place").Element(Svg + "line")!, "x1")), 0.001);
        XElement[] bands = [.. Group(picture, "ribbon").Elements(Svg + "rect")];
        Assert.Equal(2, bands.Length);
        Assert.Equal(0.1, placeOf(Number(bands[0], "x")), 0.001);
        Assert.Equal(0.3, placeOf(Number(bands[0], "x") + Number(bands[0], "width")), 0.001);
        Assert.Equal(1, placeOf(Number(bands[1], "x") + Number(bands[1], "width")), 0.001);
        Assert.DoesNotContain("gone", Texts(picture));
    }

    [Fact]
    public void Every_bar_is_as_long_as_its_number_and_kinds_are_hatched_apart()
    {
        BarChart chart = Chart.Ledger("Energy", new ChartAxis("energy", "J"), [("drawn", 16.79)], [("coil", 9.5), ("friction", 0)], [("motion", 6.067)]);
        XElement picture = Parse(chart);
        (Func<double, double> amountOf, double grain) = Axis(Group(picture, "horizontal"), "x2");
        XElement[] bars = [.. Groups(picture, "bar")];
        Assert.Equal(chart.BarsFromTop.Select(bar => bar.Name), bars.Select(Name));
        foreach ((XElement bar, ChartBar numbers) in bars.Zip(chart.BarsFromTop))
        {
            XElement shape = bar.Element(Svg + "rect")!;
            Assert.Equal(Math.Min(numbers.From, numbers.To), amountOf(Number(shape, "x")), grain);
            Assert.Equal(Math.Max(numbers.From, numbers.To), amountOf(Number(shape, "x") + Number(shape, "width")), grain);
        }

        Says(picture, "Energy", "drawn", "16.8 J", "coil", "−9.5 J", "friction", "0 J", "motion", "6.07 J", "energy (J)");
        string[] hatchings = [.. bars.Where(bar => bar.Element(Svg + "path") is not null).Select(Name)];
        Assert.Equal(["coil", "motion"], hatchings);

        // The hatching stays inside its bar.
        foreach (XElement bar in bars.Where(bar => bar.Element(Svg + "path") is not null))
        {
            XElement shape = bar.Element(Svg + "rect")!;
            Assert.All(Points(bar.Element(Svg + "path")!), point => Assert.True(
                point.X >= Number(shape, "x") - 0.02 && point.X <= Number(shape, "x") + Number(shape, "width") + 0.02 && point.Y >= Number(shape, "y") - 0.02 && point.Y <= Number(shape, "y") + Number(shape, "height") + 0.02));
        }
    }

    [Fact]
    public void Contour_lines_of_a_map_lie_where_the_numbers_are_and_its_colors_follow_them()
    {
        // On a plane z = x + 2 y interpolation is exact.
        double[] columns = [.. Enumerable.Range(0, 41).Select(i => -20.0 + i)];
        double[] rows = [.. Enumerable.Range(0, 21).Select(i => -10.0 + i)];
        HeatMap map = new(
            "Plane", new ChartAxis("along", "mm"), new ChartAxis("across", "mm"), new ChartAxis("height", "T"), columns, rows, [.. rows.Select(y => columns.Select(x => x + (2 * y)).ToArray())])
        { Outlines = [new ChartOutline("frame", [-5, 5, 5, -5, -5], [-5, -5, 5, 5, -5])] };
        XElement picture = Parse(map);
        XElement[] axes = [.. Groups(picture, "axis")];
        (Func<double, double> upOf, _) = Axis(axes[0], "y2");
        (Func<double, double> alongOf, _) = Axis(axes[1], "x2");
        XElement[] contours = [.. Groups(picture, "contour")];
        double step = map.ContourStep;
        // Between zero and the greatest number, and as many below; at the very corner a line is a point and is not drawn.
        double[] expected = [.. Enumerable.Range(-99, 199).Where(i => i != 0 && Math.Abs(i * step) <= map.Limit * (1 + 1e-9) && Math.Abs(i * step) < map.Greatest * (1 - 1e-9)).Select(i => i * step)];
        Assert.Equal(expected.Length, contours.Length);
        Assert.True(contours.Length >= 10);
        foreach (XElement contour in contours)
        {
            double level = double.Parse(Name(contour), CultureInfo.InvariantCulture);
            XElement path = contour.Element(Svg + "path")!;
            Assert.Single(path.Attribute("d")!.Value, 'M');
            Assert.All(Points(path), point => Assert.Equal(level, alongOf(point.X) + (2 * upOf(point.Y)), 0.05));
            Assert.Equal(level < 0, path.Attribute("stroke-dasharray") is not null);
        }

        (double X, double Y)[] frame = Points(Groups(picture, "outline").Single().Elements(Svg + "path").Last());
        Assert.Equal((5, -5), (Math.Round(alongOf(frame[1].X), 2), Math.Round(upOf(frame[1].Y), 2)));

        // Equal scale both ways.
        Assert.Equal(alongOf(100) - alongOf(0), -(upOf(100) - upOf(0)), 0.05);

        // The image is taken apart: each dot's place on the scale is its number's.
        (byte[] dots, int width, int height) = Dots(picture);
        Assert.True(width > 400 && height > 200, $"{width} × {height}");
        for (int y = 3; y < height; y += 17)
        {
            for (int x = 3; x < width; x += 23)
            {
                double value = (-20 + (40 * (x + 0.5) / width)) + (2 * (10 - (20 * (y + 0.5) / height)));
                double share = Math.Clamp((value + map.Limit) / (2 * map.Limit), 0, 1);
                Assert.Equal(1 + (share * 254), dots[(y * (width + 1)) + 1 + x], 0.51);
            }
        }

        Says(picture, "Plane", "along (mm)", "across (mm)", "height (T)", "frame");
    }

    [Fact]
    public void Where_a_map_has_no_number_its_picture_is_clear_and_no_line_goes_there()
    {
        double[] places = [.. Enumerable.Range(0, 21).Select(i => (double)i)];
        double Height(double x, double y) => Math.Abs(x - 10) < 3 && Math.Abs(y - 10) < 3 ? double.NaN : x + y;
        HeatMap map = new("Hole", new ChartAxis("x", "mm"), new ChartAxis("y", "mm"), new ChartAxis("z", "T"), places, places, [.. places.Select(y => places.Select(x => Height(x, y)).ToArray())]);
        XElement picture = Parse(map);
        (byte[] dots, int width, int height) = Dots(picture);
        Assert.Equal(0, dots[(height / 2 * (width + 1)) + 1 + (width / 2)]);
        Assert.NotEqual(0, dots[(height / 2 * (width + 1)) + 1 + (width / 10)]);
        XElement[] axes = [.. Groups(picture, "axis")];
        (Func<double, double> upOf, _) = Axis(axes[0], "y2");
        (Func<double, double> alongOf, _) = Axis(axes[1], "x2");
        Assert.DoesNotContain(
            Groups(picture, "contour").SelectMany(contour => Points(contour.Element(Svg + "path")!)),
            point => Math.Abs(alongOf(point.X) - 10) < 2.9 && Math.Abs(upOf(point.Y) - 10) < 2.9);
    }

    /// <summary>The circle x² + y² = r² on a fine grid comes out as one closed line; a saddle as two lines that do not cross.</summary>
    [Fact]
    public void Contour_lines_close_and_saddles_part()
    {
        double[] places = [.. Enumerable.Range(0, 81).Select(i => -2 + (i * 0.05))];
        IReadOnlyList<IReadOnlyList<double>> Grid(Func<double, double, double> height) => [.. places.Select(y => places.Select(x => height(x, y)).ToArray())];
        (List<double> x, List<double> y) = Assert.Single(ContourLines.At(places, places, Grid((x, y) => (x * x) + (y * y)), 1));
        Assert.Equal((x[0], y[0]), (x[^1], y[^1]));
        Assert.All(x.Zip(y), point => Assert.Equal(1, Math.Sqrt((point.First * point.First) + (point.Second * point.Second)), 0.001));
        double around = 0;
        for (int i = 1; i < x.Count; i++)
        {
            around += Math.Sqrt(((x[i] - x[i - 1]) * (x[i] - x[i - 1])) + ((y[i] - y[i - 1]) * (y[i] - y[i - 1])));
        }

        Assert.Equal(2 * Math.PI, around, 0.01);
        List<(List<double> X, List<double> Y)> saddle = ContourLines.At([0, 1], [0, 1], [[0, 1], [1, 0]], 0.4);
        Assert.Equal(2, saddle.Count);
        Assert.All(saddle, line => Assert.Equal(2, line.X.Count));

        // The middle is above the level: the two low corners are cut off.
        Assert.Contains(saddle, line => line.X.Sum() + line.Y.Sum() is > 0.79 and < 0.81);
    }

    [Fact]
    public void A_drawing_keeps_its_views_to_scale_with_their_fillings_and_named_places()
    {
        Drawing drawing = CoilCharts.CrossSection(CoilChartTests.Coil(165));
        XElement picture = Parse(drawing);
        XElement[] views = [.. Groups(picture, "view")];
        Assert.Equal(drawing.Views.Select(view => view.Title), views.Select(Name));
        foreach ((XElement shown, DrawingView view) in views.Zip(drawing.Views))
        {
            XElement[] axes = [.. Groups(shown, "axis")];
            (Func<double, double> upOf, _) = Axis(axes[0], "y2");
            (Func<double, double> alongOf, _) = Axis(axes[1], "x2");
            Assert.Equal(1, (alongOf(100) - alongOf(0)) / -(upOf(100) - upOf(0)), 0.01);
            XElement[] outlines = [.. Groups(shown, "outline")];
            ChartOutline[] drawn = [.. view.Outlines.Where(outline => outline.X.Any(double.IsFinite))];
            Assert.Equal(drawn.Length, outlines.Length);
            foreach ((XElement outline, ChartOutline numbers) in outlines.Zip(drawn))
            {
                XElement path = outline.Elements(Svg + "path").Last();
                (double X, double Y)[] points = Points(path);
                Assert.Equal(numbers.X.Count(double.IsFinite), points.Length);
                Assert.Equal(numbers.X.First(double.IsFinite), alongOf(points[0].X), 0.02);
                Assert.Equal(numbers.Y.First(double.IsFinite), upOf(points[0].Y), 0.02);
                Assert.Equal(numbers.Fill == ChartFill.None, path.Attribute("fill")!.Value == "none");
            }

            Assert.Equal(view.Places.Select(place => place.Name), shown.Descendants(Svg + "circle").Select(Name));
        }
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("]]>&amp;<!--\" onload='x'")]
    [InlineData("bell \a, null \0, a noncharacter \uFFFE and a pair 🧲")]
    public void Hostile_words_stay_words(string words)
    {
        LineChart chart = new(words, new ChartAxis(words, words), new ChartPanel(new ChartAxis(words, "m"), new ChartSeries(words, [0, 1], [0, 1]), new ChartSeries("b", [0, 1], [1, 0])) { Levels = [new ChartMark(words, 0.5)] })
        {
            Note = words, Description = words, Places = [new ChartMark(words, 0.5)], Ribbon = [new ChartBand(words, 0, 1, ChartShade.Light)],
        };
        XElement picture = Parse(chart);
        if (!words.Contains('\a', StringComparison.Ordinal))
        {
            Assert.Equal(words, picture.Element(Svg + "title")!.Value);
            Assert.Equal(words, picture.Element(Svg + "desc")!.Value);
            Assert.Contains(words, Texts(picture));
        }
        else
        {
            Assert.Equal("bell \uFFFD, null \uFFFD, a noncharacter \uFFFD and a pair 🧲", picture.Element(Svg + "title")!.Value);
            Assert.Equal("half a pair \uFFFD", XElement.Parse((chart with { Description = "half a pair \uD83D" }).ToSvg()).Element(Svg + "desc")!.Value);
        }
    }

    [Fact]
    public void A_picture_file_is_whole_and_says_its_encoding()
    {
        using var folder = new TemporaryFolder();
        string path = folder.In("deeper/picture.svg");
        Chart.Bars("Masses", new ChartAxis("mass", "g"), ("coil", 17.67)).SaveSvg(path);
        Assert.StartsWith("<?xml version=\"1.0\" encoding=\"utf-8\"?>\n<svg ", File.ReadAllText(path), StringComparison.Ordinal);
        Assert.Equal([path], Directory.EnumerateFiles(folder.In("deeper")));
        Assert.Throws<ArgumentException>(() => Chart.Bars("Masses", new ChartAxis("mass", "g"), ("coil", 17.67)).SaveSvg(" "));
    }

    [Fact]
    public void Charts_of_one_number_or_of_one_value_throughout_can_be_drawn()
    {
        Parse(Chart.Lines("One", new ChartAxis("x", "m"), new ChartAxis("y", "m"), new ChartSeries("a", [3], [0])));
        Parse(Chart.Lines("Level", new ChartAxis("x", "m"), new ChartAxis("y", "m"), new ChartSeries("a", [0, 1], [5, 5])));
        Parse(Chart.Bars("Nothing", new ChartAxis("x", "m"), ("none", 0)));
        Parse(Chart.Bars("Unnamed", new ChartAxis("x", "m"), (string.Empty, 2)) with { Marks = [new ChartMark("limit", 1)] });
        Parse(Chart.Bars("Down", new ChartAxis("x", "m"), ("less", -4), ("more", 1e9)));
    }

    [BrowserFact]
    public async Task Pictures_of_a_launch_are_drawn_with_every_word_inside()
    {
        LaunchResult launch = SparkLaunches.Launch;
        var track = Track.OfFacingPairs(new BlockMagnet(12.Millimeters(), 6.Millimeters(), 20.Millimeters(), MagnetGrade.N42), gap: 10.Millimeters(), stations: 3, pitch: 20.Millimeters());
        Coil coil = CoilChartTests.Coil(165);
        Chart[] charts =
        [
            LaunchCharts.Overview(launch), LaunchCharts.EnergyLedger(launch), LimitCharts.Limits(launch), LimitCharts.Breaks(launch),
            FieldCharts.FieldMap(track, MapPlane.AtHeight(Length.Zero), coil: coil), FieldCharts.FieldMap(track, MapPlane.AtHeight(Length.Zero), FieldComponent.Across), CoilCharts.CrossSection(coil),
        ];
        using var folder = new TemporaryFolder();
        string shots = Path.Combine(Checkout.Root, "artifacts");
        Directory.CreateDirectory(shots);
        foreach ((string name, double width) in new[] { ("wide", 640.0), ("narrow", 340.0) })
        {
            string page = folder.In($"{name}.html");
            await File.WriteAllTextAsync(page, $"<!doctype html><meta charset=utf-8><title>stills</title>{string.Concat(charts.Select(chart => chart.Still(width, headed: true)))}");
            await using Browser browser = await Browser.OpenAsync(page, 700, 900);
            Assert.Equal([new Uri(page).AbsoluteUri], browser.Requests.Where(address => !address.StartsWith("data:", StringComparison.Ordinal)));
            Assert.Empty(browser.Complaints);

            // Words of a reader's font must not run out of the picture.
            string[] cut = [.. (await browser.ValueAsync("""
                [...document.querySelectorAll('svg[role=img] text')].filter(text => {
                  const box = text.getBoundingClientRect(), sheet = text.closest('svg[role=img]').getBoundingClientRect();
                  return box.left < sheet.left - 0.5 || box.right > sheet.right + 0.5 || box.bottom > sheet.bottom + 0.5 || box.top < sheet.top - 0.5; }).map(text => text.textContent)
                """)).EnumerateArray().Select(text => text.GetString()!)];
            Assert.Empty(cut);
            int[] shapes = [.. (await browser.ValueAsync("""
                [...document.querySelectorAll('svg[role=img]')].map(sheet => [...sheet.querySelectorAll('.series path, .bar rect, .contour path, .outline path')].filter(shape => {
                  const box = shape.getBoundingClientRect(); return box.width > 1 && box.height > 1; }).length)
                """)).EnumerateArray().Select(count => count.GetInt32())];
            Assert.Equal(charts.Length, shapes.Length);
            Assert.All(shapes, count => Assert.True(count > 0));
            await browser.ScreenshotAsync(Path.Combine(shots, $"stills-{name}.png"));
        }
    }

    /// <summary>A still picture as XML: without scripts, handlers, or anything that refers outside.</summary>
    private static XElement Parse(Chart chart)
    {
        XElement picture = XElement.Parse(chart.ToSvg());
        Assert.Equal(Svg + "svg", picture.Name);
        string[] known = ["svg", "title", "desc", "g", "path", "line", "rect", "circle", "text", "image"];
        foreach (XElement element in picture.DescendantsAndSelf())
        {
            Assert.Contains(element.Name.LocalName, known);
            foreach (XAttribute attribute in element.Attributes().Where(attribute => !attribute.IsNamespaceDeclaration))
            {
                Assert.False(attribute.Name.LocalName.StartsWith("on", StringComparison.OrdinalIgnoreCase), attribute.ToString());
                Assert.DoesNotContain("url(", attribute.Value, StringComparison.OrdinalIgnoreCase);
                Assert.True(attribute.Name.LocalName != "href" || attribute.Value.StartsWith("data:image/png;base64,", StringComparison.Ordinal));
                Assert.DoesNotContain("NaN", attribute.Value, StringComparison.Ordinal);
                Assert.DoesNotContain("Infinity", attribute.Value, StringComparison.Ordinal);
            }
        }

        Assert.Equal(Assert.Single(picture.Elements(Svg + "title")), picture.Elements().First());
        Assert.Single(picture.Elements(Svg + "desc"));
        return picture;
    }

    private static IEnumerable<XElement> Groups(XElement within, string kind) => within.Descendants(Svg + "g").Where(group => group.Attribute("class")!.Value == kind);

    private static XElement Group(XElement within, string kind) => Groups(within, kind).First();

    private static string Name(XElement group) => group.Element(Svg + "title")!.Value;

    private static double Number(XElement element, string attribute) => double.Parse(element.Attribute(attribute)!.Value, CultureInfo.InvariantCulture);

    private static string[] Texts(XElement picture) => [.. picture.Descendants(Svg + "text").Select(text => text.Value)];

    private static void Says(XElement picture, params string[] words)
    {
        string[] texts = Texts(picture);
        Assert.All(words, each => Assert.Contains(each, texts));
    }

    /// <summary>Numbers from places, by the least and the greatest tick of an axis; and what half a hundredth of a pixel and more is worth.</summary>
    private static (Func<double, double> Of, double Grain) Axis(XElement group, string line)
    {
        (double At, double Value)[] ticks =
        [
            .. Groups(group, "tick").Select(tick => (
                Number(tick.Element(Svg + "line")!, line),
                double.Parse(tick.Element(Svg + "text")!.Value.Replace('−', '-'), CultureInfo.InvariantCulture))).OrderBy(tick => tick.Item2),
        ];
        Assert.True(ticks.Length >= 2, $"An axis needs two ticks at least: {group}");
        double scale = (ticks[^1].Value - ticks[0].Value) / (ticks[^1].At - ticks[0].At);
        return (at => ticks[0].Value + ((at - ticks[0].At) * scale), Math.Abs(scale) * 0.05);
    }

    private static (double X, double Y)[] Points(XElement path)
        => [.. path.Attribute("d")!.Value.Replace("Z", string.Empty, StringComparison.Ordinal).Split(['M', 'L'], StringSplitOptions.RemoveEmptyEntries).Select(Pair)];

    private static (double X, double Y) Translated(XElement mark) => Pair(mark.Attribute("transform")!.Value["translate(".Length..^1].Replace(' ', ','));

    private static (double X, double Y) Pair(string words)
    {
        string[] parts = words.Split(',');
        return (double.Parse(parts[0], CultureInfo.InvariantCulture), double.Parse(parts[1], CultureInfo.InvariantCulture));
    }

    /// <summary>The dots of the picture's image, each row after a byte of its own, read by the plain rules of the format.</summary>
    private static (byte[] Dots, int Width, int Height) Dots(XElement picture)
    {
        string address = picture.Descendants(Svg + "image").Single().Attribute(XName.Get("href", "http://www.w3.org/1999/xlink"))!.Value;
        byte[] png = Convert.FromBase64String(address["data:image/png;base64,".Length..]);
        int at = 8;
        (int width, int height) = (0, 0);
        using var dots = new MemoryStream();
        while (at < png.Length)
        {
            int length = BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at));
            string kind = System.Text.Encoding.ASCII.GetString(png, at + 4, 4);
            if (kind == "IHDR")
            {
                (width, height) = (BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at + 8)), BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(at + 12)));
            }
            else if (kind == "IDAT")
            {
                using var unpack = new ZLibStream(new MemoryStream(png, at + 8, length), CompressionMode.Decompress);
                unpack.CopyTo(dots);
            }

            at += 12 + length;
        }

        Assert.Equal(height * (width + 1), dots.Length);
        return (dots.ToArray(), width, height);
    }
}
