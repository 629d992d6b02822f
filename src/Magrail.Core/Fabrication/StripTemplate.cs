using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using UnitsNet;

namespace Magrail;

/// <summary>
/// The drilling and strip template of a launcher at full scale: strips of both pick-up lines, magnets, stations, fastening holes, start and release, in
/// millimeters, in one piece and on sheets of A4.
/// </summary>
/// <remarks>
/// Seen from above: x along the track to the right, y up the page. Every sheet has a bar of 100 mm: measure it before you cut anything, for printers scale without being asked.
/// Where the lines and holes lie across the track is the builder's choice, see <see cref="TemplateOptions"/>; where strips and magnets lie along it is the launcher's.
/// </remarks>
public sealed partial class StripTemplate
{
    private const double Head = 13;
    private const double Foot = 17;
    private const double ContentMargin = 6;
    private const double RulerRoom = 10;
    private const int MostTiles = 400;
    private const double LabelSize = 3.6;
    private const double LeastLabelSize = 3;

    private readonly string heading;
    private readonly double start;
    private readonly double release;
    private readonly double lineDistance;
    private readonly double magnetsTo;
    private readonly bool pathIsFree = true;
    private readonly double holeDistance;
    private readonly double contentLeft;
    private readonly double contentRight;
    private readonly double contentTop;
    private readonly double contentBottom;

    private StripTemplate(Launcher launcher, WorkshopOptions options)
    {
        Launcher = launcher;
        Options = options.Template;
        heading = options.Date is DateOnly date ? $"{options.Title}, {date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}" : options.Title;
        Strips = StripCutList.Of(launcher.Contacts, options).Strips;
        Magnets = MagnetMap.Of(launcher.Track).Magnets;
        (Length startPlace, Length releasePlace) = launcher.TravelEnds();
        (start, release) = (startPlace.Millimeters, releasePlace.Millimeters);

        double width = Options.StripWidth.Millimeters;
        double left = Math.Min(start, Strips.Min(strip => strip.Strip.Start.Millimeters));
        double right = Math.Max(release, Strips.Max(strip => strip.Strip.End.Millimeters));
        foreach (MappedMagnet magnet in Magnets)
        {
            (double halfX, double halfY) = MagnetGlyph.HalfSizes(magnet);
            magnetsTo = Math.Max(magnetsTo, Math.Abs(magnet.Across.Millimeters) + halfY);
            pathIsFree &= Math.Abs(magnet.Across.Millimeters) - halfY > 2.5;
            left = Math.Min(left, magnet.Along.Millimeters - halfX);
            right = Math.Max(right, magnet.Along.Millimeters + halfX);
        }

        lineDistance = Options.LineDistance?.Millimeters ?? (magnetsTo + 5 + (0.5 * width));
        holeDistance = Options.HoleDistance?.Millimeters ?? (Math.Max(lineDistance + (0.5 * width), magnetsTo) + 12 + (0.5 * Options.HoleDiameter.Millimeters));
        Holes = [.. HolesBetween(left, right)];
        double across = Math.Max(Math.Max(magnetsTo, lineDistance + (0.5 * width)), holeDistance + (0.5 * Options.HoleDiameter.Millimeters));
        (contentLeft, contentRight) = (left - ContentMargin, right + ContentMargin);

        // Labels of start and release stand above everything, the ruler below.
        (contentTop, contentBottom) = (-across - ContentMargin - 6, across + ContentMargin + RulerRoom);

        double overlap = Options.Overlap.Millimeters;
        WindowWidth = Options.PageWidth - (2 * Options.Margin.Millimeters);
        WindowHeight = Options.PageHeight - (2 * Options.Margin.Millimeters) - Head - Foot;
        Columns = Needed(contentRight - contentLeft, WindowWidth, overlap);
        Rows = Needed(contentBottom - contentTop, WindowHeight, overlap);
        if ((long)Columns * Rows > MostTiles)
        {
            throw Require.Fault(
                "launcher",
                string.Create(CultureInfo.InvariantCulture, $"{Show.Quantity(Length.FromMillimeters(contentRight - contentLeft))} long, {(long)Columns * Rows} sheets"),
                string.Create(CultureInfo.InvariantCulture, $"up to {MostTiles} sheets of A4"),
                "nobody glues more; print a piece of the track, or the drawing in one piece on a plotter");
        }

        Tiles =
        [
            .. Enumerable.Range(0, Columns * Rows).Select(i => new TemplateTile(
                this,
                i + 1,
                Columns * Rows,
                (i % Columns) + 1,
                (i / Columns) + 1,
                contentLeft + (i % Columns * (WindowWidth - overlap)),
                contentTop + (i / Columns * (WindowHeight - overlap)))),
        ];
    }

    /// <summary>The launcher.</summary>
    public Launcher Launcher { get; }

    /// <summary>Strip width, holes and paper.</summary>
    public TemplateOptions Options { get; }

    /// <summary>The strips, with the marks that stand on the template.</summary>
    public ImmutableArray<CutStrip> Strips { get; }

    /// <summary>The magnets, with the marks that stand on the map.</summary>
    public ImmutableArray<MappedMagnet> Magnets { get; }

    /// <summary>The fastening holes: x in the track's frame, and y, on both sides.</summary>
    public ImmutableArray<(Length Along, Length Across)> Holes { get; }

    /// <summary>From the middle of the track to the middle of each pick-up line.</summary>
    public Length LineDistance => Length.FromMillimeters(lineDistance);

    /// <summary>Where the sled's mark is at the start.</summary>
    public Length Start => Length.FromMillimeters(start);

    /// <summary>Where the sled's mark is at the release.</summary>
    public Length Release => Length.FromMillimeters(release);

    /// <summary>The sheets of A4, along the track first.</summary>
    public ImmutableArray<TemplateTile> Tiles { get; }

    /// <summary>How many sheets lie beside each other along the track.</summary>
    public int Columns { get; }

    /// <summary>How many sheets lie beside each other across the track.</summary>
    public int Rows { get; }

    /// <summary>Width of what a sheet shows, mm.</summary>
    internal double WindowWidth { get; }

    /// <summary>Height of what a sheet shows, mm.</summary>
    internal double WindowHeight { get; }

    /// <summary>The template of a launcher.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="options">Strip width, holes, paper and heading; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The track takes more than 400 sheets of A4.</exception>
    public static StripTemplate Of(Launcher launcher, WorkshopOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        return new StripTemplate(launcher, options ?? WorkshopOptions.Default);
    }

    /// <summary>The whole template in one piece, full scale, for a plotter or a laser.</summary>
    public string ToSvg()
    {
        double width = contentRight - contentLeft;
        double height = contentBottom - contentTop;
        var drawing = new SvgDrawing(Math.Max(width, 130), height + Foot, $"{heading}: template in one piece, full scale", "whole-");
        drawing.BeginWindow(0, 0, Math.Max(width, 130), height, -contentLeft, -contentTop);
        Content(drawing, contentLeft, contentTop, width, height);
        drawing.EndWindow();
        ScaleBar(drawing, 8, height + 6);
        return drawing.ToString();
    }

    /// <summary>Writes the whole template in one piece, whole or not at all.</summary>
    /// <param name="path">The file; replaced where it exists.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public void SaveSvg(string path) => WholeFile.WriteText(path, ToSvg());

    /// <summary>Writes every sheet of A4 as an SVG of its own, named <c>template-01-of-06.svg</c> and so on; sheets of such names that an earlier save has left there and this one does not write are deleted.</summary>
    /// <param name="folder">The folder; made where it does not exist.</param>
    /// <returns>The files that were written.</returns>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">A file cannot be written.</exception>
    public IReadOnlyList<string> SaveTiles(string folder)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(folder);
        Directory.CreateDirectory(folder);
        var files = new List<string>();
        string digits = Tiles.Length < 100 ? "00" : "000";
        foreach (TemplateTile tile in Tiles)
        {
            string file = Path.Combine(folder, $"template-{tile.Number.ToString(digits, CultureInfo.InvariantCulture)}-of-{tile.Count.ToString(digits, CultureInfo.InvariantCulture)}.svg");
            tile.SaveSvg(file);
            files.Add(file);
        }

        // Sheets of an earlier template would be taken for some of this one.
        foreach (string stale in Directory.GetFiles(folder, "template-*-of-*.svg").Where(file => TileName().IsMatch(Path.GetFileName(file)) && !files.Any(kept => Path.GetFileName(kept) == Path.GetFileName(file))))
        {
            File.Delete(stale);
        }

        return files;
    }

    [GeneratedRegex(@"^template-[0-9]{2,3}-of-[0-9]{2,3}\.svg$", RegexOptions.CultureInvariant)]
    private static partial Regex TileName();

    /// <summary>All sheets as one page that needs nothing else: printed at 100 %, each comes out on a sheet of A4.</summary>
    public string ToHtml() => SheetPage.Of($"{heading}: template", Options, [.. Tiles.Select(HtmlOf)]);

    /// <summary>Writes that page, whole or not at all.</summary>
    /// <param name="path">The file; replaced where it exists.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public void SaveHtml(string path) => WholeFile.WriteText(path, ToHtml());

    /// <summary>Sheets, strips and holes in words.</summary>
    /// <returns>Several lines.</returns>
    public override string ToString() => ToSection().ToText();

    internal SheetSection ToSection() => new(
        "Template",
        [
            new SheetFacts(
            [
                ("sheets of A4", string.Create(CultureInfo.InvariantCulture, $"{Tiles.Length}, {(Options.Paper == PaperOrientation.Portrait ? "portrait" : "landscape")}{(Rows > 1 ? $", {Columns} along × {Rows} across" : string.Empty)}, overlap {Show.Quantity(Options.Overlap)}")),
                ("from", Show.Quantity(Length.FromMillimeters(contentLeft))),
                ("to", Show.Quantity(Length.FromMillimeters(contentRight))),
                ("start and release of the sled's mark", $"{Show.Quantity(Start)} and {Show.Quantity(Release)}"),
                ("pick-up lines", $"{Show.Quantity(LineDistance)} either side of the middle, strips {Show.Quantity(Options.StripWidth)} wide"),
                ("fastening holes", string.Create(CultureInfo.InvariantCulture, $"{Holes.Length} of {Show.Quantity(Options.HoleDiameter)}, every {Show.Quantity(Options.HoleSpacing)}, {Show.Quantity(Length.FromMillimeters(holeDistance))} either side of the middle")),
            ]),
            new SheetNotes(
            [
                "Print at 100 % (actual size; no \"fit to page\"), on A4. Measure the bar on every sheet: 100.0 mm, ± 0.5 mm at most. If one is off, print anew; do not correct by hand.",
                "Lay the sheets so that the crosses of neighbors meet, cut one of the two along the dashed line, and glue. Then measure from the first to the last station: it must be right to half a millimeter, or the strips drift against the magnets.",
                "Plus strips are plain with +, minus strips hatched with −, dead strips dashed with 0. The dark half of a magnet is north.",
            ]),
        ]);

    internal string HtmlOf(TemplateTile tile)
    {
        // The page has the margin; the drawing is cut to what lies inside.
        SvgDrawing drawing = Draw(tile);
        double margin = Options.Margin.Millimeters;
        drawing.Crop(margin, margin, Options.PageWidth - (2 * margin), Options.PageHeight - (2 * margin) - 1);
        return $"<section class=\"tile\">{drawing.ToElement()}</section>";
    }

    internal SvgDrawing Draw(TemplateTile tile)
    {
        double margin = Options.Margin.Millimeters;
        double overlap = Options.Overlap.Millimeters;
        double top = margin + Head;
        var drawing = new SvgDrawing(Options.PageWidth, Options.PageHeight, $"{heading}: {tile}", string.Create(CultureInfo.InvariantCulture, $"t{tile.Number}-"));
        drawing.BeginWindow(margin, top, WindowWidth, WindowHeight, margin - tile.Left, top - tile.Top);
        Content(drawing, tile.Left, tile.Top, WindowWidth, WindowHeight);
        Joints(drawing, tile, overlap);
        drawing.EndWindow();
        drawing.Text(margin, margin + 5, tile.ToString(), 4.5, bold: true);
        drawing.Text(margin, margin + 10, $"{heading}. Template, full scale, seen from above. Print at 100 %.", 3.4);
        ScaleBar(drawing, margin + 2, Options.PageHeight - margin - Foot + 6);
        return drawing;
    }

    private static int Needed(double size, double window, double overlap)
        => size <= window ? 1 : (int)Math.Min(int.MaxValue / 4, Math.Ceiling(((size - overlap) / (window - overlap)) - 1e-9));

    private IEnumerable<(Length Along, Length Across)> HolesBetween(double left, double right)
    {
        double first = Launcher.Track.Positions[0].Millimeters;
        double spacing = Options.HoleSpacing.Millimeters;
        int from = (int)Math.Ceiling((left - first) / spacing);
        int to = (int)Math.Floor((right - first) / spacing);
        for (int i = from; i <= to; i++)
        {
            foreach (int side in new[] { 1, -1 })
            {
                yield return (Length.FromMillimeters(first + (i * spacing)), Length.FromMillimeters(side * holeDistance));
            }
        }
    }

    /// <summary>Everything of the track that shows in a window; x as it is, y down from the middle of the track.</summary>
    private void Content(SvgDrawing drawing, double left, double top, double width, double height)
    {
        double right = left + width;
        double bottom = top + height;
        string minus = drawing.Hatch("minus", 1.6);
        Ruler(drawing, left, right);

        // Stations: their numbers stand between the magnets and the lines.
        ImmutableArray<Length> positions = Launcher.Track.Positions;
        for (int i = 0; i < positions.Length; i++)
        {
            double x = positions[i].Millimeters;
            if (x >= left - 10 && x <= right + 10)
            {
                drawing.Line(x, -lineDistance - (0.5 * Options.StripWidth.Millimeters) - 8, x, lineDistance + (0.5 * Options.StripWidth.Millimeters) + 8, SvgDrawing.Fine, string.Create(CultureInfo.InvariantCulture, $"station {i + 1}"), "3 1 0.6 1");
            }
        }

        foreach (MappedMagnet magnet in Magnets)
        {
            double x = magnet.Along.Millimeters;
            if (x >= left - 300 && x <= right + 300)
            {
                MagnetGlyph.Draw(drawing, magnet, x, -magnet.Across.Millimeters, 1, $"magnet {magnet.Mark}");
            }
        }

        for (int i = 0; i < positions.Length; i++)
        {
            double x = positions[i].Millimeters;
            if (x >= left - 10 && x <= right + 10)
            {
                // In the path where it is free, beside the magnets where one stands in it, as a ring does.
                Boxed(drawing, x, pathIsFree ? -0.5 : -magnetsTo - 2.6, string.Create(CultureInfo.InvariantCulture, $"S{i + 1}"), 3.2);
            }
        }

        foreach (CutStrip strip in Strips)
        {
            if (strip.Strip.End.Millimeters >= left && strip.Strip.Start.Millimeters <= right)
            {
                Strip(drawing, strip, minus);
            }
        }

        double radius = 0.5 * Options.HoleDiameter.Millimeters;
        foreach ((Length along, Length across) in Holes)
        {
            double x = along.Millimeters;
            if (x >= left - radius - 3 && x <= right + radius + 3)
            {
                double y = -across.Millimeters;
                drawing.Circle(x, y, radius, "white", SvgDrawing.Thin, "hole");
                drawing.Line(x - radius - 2, y, x + radius + 2, y, SvgDrawing.Fine);
                drawing.Line(x, y - radius - 2, x, y + radius + 2, SvgDrawing.Fine);
            }
        }

        Mark(drawing, start, "START", left, right);
        Mark(drawing, release, "RELEASE", left, right);
        SideBar(drawing, left, bottom);
    }

    /// <summary>The middle of the track, with a tick every 10 mm and a number every 50 mm.</summary>
    private void Ruler(SvgDrawing drawing, double left, double right)
    {
        drawing.Line(Math.Max(left, contentLeft), 0, Math.Min(right, contentRight), 0, SvgDrawing.Thin, "axis", "6 1 1 1");
        double below = contentBottom - ContentMargin - RulerRoom + 4;
        double from = Math.Max(left, contentLeft);
        double to = Math.Min(right, contentRight);
        drawing.Line(from, below, to, below, SvgDrawing.Fine);
        for (int tick = (int)Math.Ceiling(from / 10); tick * 10 <= to; tick++)
        {
            double x = tick * 10;
            drawing.Line(x, below, x, below + (tick % 5 == 0 ? 2 : 1.2), SvgDrawing.Fine);
            if (tick % 5 == 0)
            {
                drawing.Text(x, below + 5.2, string.Create(CultureInfo.InvariantCulture, $"{x:0}"), 3, "middle");
            }
        }
    }

    private void Strip(SvgDrawing drawing, CutStrip strip, string minus)
    {
        double width = Options.StripWidth.Millimeters;
        double x = strip.Strip.Start.Millimeters;
        double length = strip.Strip.Length.Millimeters;
        double y = (strip.IsUpper ? -lineDistance : lineDistance) - (0.5 * width);
        bool dead = strip.Strip.Bus == Bus.Dead;
        drawing.Rect(x, y, length, width, strip.Strip.Bus == Bus.Minus ? minus : "white", SvgDrawing.Thick, $"strip {strip.Mark}", dead ? "1 0.7" : null);
        string label = $"{strip.Mark} {strip.Sign}";
        double middle = x + (0.5 * length);
        double fits = Math.Min(LabelSize, Math.Min(width - 0.6, LabelSize * (length - 0.6) / SvgDrawing.TextWidth(label, LabelSize)));
        if (fits >= LeastLabelSize)
        {
            Boxed(drawing, middle, y + (0.5 * width), label, fits);
        }
        else
        {
            // Beside the line, away from the magnets, upright where the strip is short.
            const double size = LeastLabelSize;
            bool lies = SvgDrawing.TextWidth(label, size) <= length;
            double outside = strip.IsUpper ? y - 1.2 : y + width + (lies ? 0.8 + (0.73 * size) : 1 + SvgDrawing.TextWidth(label, size));
            drawing.Text(lies ? middle : middle + (0.365 * size), outside, label, size, lies ? "middle" : "start", bold: true, upright: lies);
        }
    }

    /// <summary>Text on white, so that no hatch runs through it.</summary>
    private static void Boxed(SvgDrawing drawing, double x, double y, string text, double size)
    {
        double width = SvgDrawing.TextWidth(text, size);
        drawing.Rect(x - (0.5 * width), y - (0.5 * size), width, size, "white", "none");
        drawing.Text(x, y + (0.365 * size), text, size, "middle", bold: true);
    }

    private void Mark(SvgDrawing drawing, double x, string word, double left, double right)
    {
        if (x < left - 40 || x > right + 40)
        {
            return;
        }

        double top = contentTop + 5;
        drawing.Line(x, top, x, contentBottom - ContentMargin - RulerRoom, SvgDrawing.Thick, word.ToLowerInvariant(), "2 1");
        drawing.Polygon("black", (x, top + 3), (x - 1.5, top), (x + 1.5, top));
        bool first = x - contentLeft < 0.5 * (contentRight - contentLeft);
        drawing.Text(first ? x + 2.5 : x - 2.5, top + 2, string.Create(CultureInfo.InvariantCulture, $"{word}: sled's mark at {x:0.00} mm"), 3.6, first ? "start" : "end", bold: true);
    }

    /// <summary>Where sheets meet: a dashed line in the middle of the overlap, with crosses that both sheets have.</summary>
    private void Joints(SvgDrawing drawing, TemplateTile tile, double overlap)
    {
        double width = WindowWidth;
        double height = WindowHeight;
        double arm = Math.Min(4, (0.5 * overlap) - 0.5);
        foreach ((bool there, double x, int joint) in new[] { (tile.Column > 1, tile.Left + (0.5 * overlap), tile.Column - 1), (tile.Column < Columns, tile.Left + width - (0.5 * overlap), tile.Column) })
        {
            if (!there)
            {
                continue;
            }

            double lower = Math.Min(tile.Top + height - 12, contentBottom + 12);
            drawing.Line(x, tile.Top, x, Math.Min(tile.Top + height, lower + 12), SvgDrawing.Fine, "cut", "1.5 1.5");
            Cross(drawing, x, tile.Top + 12, arm, string.Create(CultureInfo.InvariantCulture, $"{joint}{Side(tile, 'a')}"));
            Cross(drawing, x, lower, arm, string.Create(CultureInfo.InvariantCulture, $"{joint}{Side(tile, 'b')}"));
        }

        foreach ((bool there, double y, int joint) in new[] { (tile.Row > 1, tile.Top + (0.5 * overlap), tile.Row - 1), (tile.Row < Rows, tile.Top + height - (0.5 * overlap), tile.Row) })
        {
            if (!there)
            {
                continue;
            }

            drawing.Line(tile.Left, y, tile.Left + width, y, SvgDrawing.Fine, "cut", "1.5 1.5");
            Cross(drawing, tile.Left + 25, y, arm, string.Create(CultureInfo.InvariantCulture, $"r{joint}.{tile.Column}a"));
            Cross(drawing, tile.Left + width - 25, y, arm, string.Create(CultureInfo.InvariantCulture, $"r{joint}.{tile.Column}b"));
        }

        string Side(TemplateTile of, char letter) => Rows > 1 ? string.Create(CultureInfo.InvariantCulture, $".{of.Row}{letter}") : letter.ToString();
    }

    private static void Cross(SvgDrawing drawing, double x, double y, double arm, string name)
    {
        drawing.Circle(x, y, 0.6 * arm, "none", SvgDrawing.Thin, $"cross {name}");
        drawing.Line(x - arm, y, x + arm, y, SvgDrawing.Thin);
        drawing.Line(x, y - arm, x, y + arm, SvgDrawing.Thin);
        drawing.Text(x, y + arm + 3.2, name, 3, "middle");
    }

    /// <summary>The bar of 100 mm, ticks every 10 mm.</summary>
    private static void ScaleBar(SvgDrawing drawing, double x, double y)
    {
        drawing.Line(x, y, x + 100, y, SvgDrawing.Thick, "bar 100 mm");
        for (int tick = 0; tick <= 10; tick++)
        {
            double reach = tick is 0 or 10 ? 3 : tick == 5 ? 2.2 : 1.4;
            drawing.Line(x + (10 * tick), y - reach, x + (10 * tick), y + (tick is 0 or 10 ? 3 : 0), tick is 0 or 10 ? SvgDrawing.Thick : SvgDrawing.Thin);
        }

        drawing.Text(x, y + 7.5, "measure me: 100.0 mm from outer line to outer line. If I am not, print again at 100 %.", 3.4, bold: true);
    }

    /// <summary>A bar of 50 mm across, for printers scale either way; where the sheet has room below the track.</summary>
    private void SideBar(SvgDrawing drawing, double left, double bottom)
    {
        const double Long = 50;
        double from = contentBottom + 24;
        if (from + Long + 4 > bottom)
        {
            return;
        }

        double x = left + 22;
        drawing.Line(x, from, x, from + Long, SvgDrawing.Thick, "bar 50 mm");
        for (int tick = 0; tick <= 5; tick++)
        {
            drawing.Line(x - (tick is 0 or 5 ? 3 : 1.4), from + (10 * tick), x + (tick is 0 or 5 ? 3 : 0), from + (10 * tick), tick is 0 or 5 ? SvgDrawing.Thick : SvgDrawing.Thin);
        }

        drawing.Text(x + 5, from + (0.5 * Long) + 1.3, "and me: 50.0 mm", 3.4, bold: true);
    }
}
