using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Magrail.Tests.Fabrication;

/// <summary>A sheet of a template read back from its SVG text: what lies where, in millimeters of paper and of the track.</summary>
internal sealed partial class TemplateSvg
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    private readonly XElement root;
    private readonly XElement moved;

    public TemplateSvg(string text)
    {
        root = XDocument.Parse(text).Root!;
        Width = Millimeters((string)root.Attribute("width")!);
        Height = Millimeters((string)root.Attribute("height")!);
        ViewBox = [.. ((string)root.Attribute("viewBox")!).Split(' ').Select(Value)];
        XElement window = root.Elements(Svg + "g").Single(g => (string?)g.Attribute("data-part") == "window");
        string clip = ClipName().Match((string)window.Attribute("clip-path")!).Groups[1].Value;
        XElement rect = root.Descendants(Svg + "clipPath").Single(path => (string)path.Attribute("id")! == clip).Elements().Single();
        Window = BoxOf(rect);
        moved = window.Elements(Svg + "g").Single();
        Match move = Translate().Match((string)moved.Attribute("transform")!);
        (MoveX, MoveY) = (Value(move.Groups[1].Value), Value(move.Groups[2].Value));
    }

    public double Width { get; }

    public double Height { get; }

    public double[] ViewBox { get; }

    /// <summary>What the sheet shows of the track, on paper.</summary>
    public Box Window { get; }

    public double MoveX { get; }

    public double MoveY { get; }

    public string Text => string.Join('\n', root.Descendants(Svg + "text").Select(text => text.Value));

    public IEnumerable<(string Value, double Size)> Texts => root.Descendants(Svg + "text").Select(text => (text.Value, Value((string)text.Attribute("font-size")!)));

    public IEnumerable<(string Value, double X, double Y)> PlacedTexts
        => moved.Elements(Svg + "text").Select(text => (text.Value, Value((string)text.Attribute("x")!) + MoveX, Value((string)text.Attribute("y")!) + MoveY));

    /// <summary>What is seen of the rectangles of a kind, in the track's frame: x along it, y down the page from its middle.</summary>
    public IEnumerable<(string Part, Box Seen, Box Whole)> Rects(string kind)
    {
        foreach (XElement rect in moved.Elements(Svg + "rect").Where(rect => ((string?)rect.Attribute("data-part"))?.StartsWith(kind + " ", StringComparison.Ordinal) == true))
        {
            Box whole = BoxOf(rect);
            Box shown = Window.Moved(-MoveX, -MoveY).Cut(whole);
            if (shown.Width > 0 && shown.Height > 0)
            {
                yield return (((string)rect.Attribute("data-part")!)[(kind.Length + 1)..], shown, whole);
            }
        }
    }

    /// <summary>x of upright lines of a kind that are seen, in the track's frame.</summary>
    public IEnumerable<(string Part, double X)> Uprights(string kind)
        => moved.Elements(Svg + "line").Where(line => ((string?)line.Attribute("data-part"))?.StartsWith(kind, StringComparison.Ordinal) == true)
            .Select(line => ((string)line.Attribute("data-part")!, Value((string)line.Attribute("x1")!), Value((string)line.Attribute("x2")!)))
            .Where(line => line.Item2 == line.Item3 && line.Item2 + MoveX >= Window.Left && line.Item2 + MoveX <= Window.Right)
            .Select(line => (line.Item1, line.Item2));

    /// <summary>Circles of a kind whose middle is seen, in the track's frame.</summary>
    public IEnumerable<(string Part, double X, double Y, double Radius)> Circles(string kind)
        => moved.Elements(Svg + "circle").Where(circle => ((string?)circle.Attribute("data-part"))?.StartsWith(kind, StringComparison.Ordinal) == true)
            .Select(circle => ((string)circle.Attribute("data-part")!, Value((string)circle.Attribute("cx")!), Value((string)circle.Attribute("cy")!), Value((string)circle.Attribute("r")!)))
            .Where(circle => circle.Item2 + MoveX >= Window.Left && circle.Item2 + MoveX <= Window.Right && circle.Item3 + MoveY >= Window.Top && circle.Item3 + MoveY <= Window.Bottom);

    /// <summary>Length on paper of the line with a name, outside the window or in it.</summary>
    public double LengthOf(string part)
    {
        XElement line = root.Descendants(Svg + "line").Single(line => (string?)line.Attribute("data-part") == part);
        double dx = Value((string)line.Attribute("x2")!) - Value((string)line.Attribute("x1")!);
        double dy = Value((string)line.Attribute("y2")!) - Value((string)line.Attribute("y1")!);

        // A unit of the drawing is as long as the sheet says.
        return Math.Sqrt((dx * dx) + (dy * dy)) * Width / ViewBox[2];
    }

    public bool Has(string part) => root.Descendants().Any(element => (string?)element.Attribute("data-part") == part);

    private static Box BoxOf(XElement rect)
        => new(Value((string)rect.Attribute("x")!), Value((string)rect.Attribute("y")!), Value((string)rect.Attribute("width")!), Value((string)rect.Attribute("height")!));

    private static double Millimeters(string text)
        => text.EndsWith("mm", StringComparison.Ordinal) ? Value(text[..^2]) : throw new FormatException($"{text} is no length in millimeters.");

    private static double Value(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"url\(#(.+)\)")]
    private static partial Regex ClipName();

    [GeneratedRegex(@"^translate\((\S+) (\S+)\)$")]
    private static partial Regex Translate();
}

/// <summary>A rectangle, mm.</summary>
internal readonly record struct Box(double Left, double Top, double Width, double Height)
{
    public double Right => Left + Width;

    public double Bottom => Top + Height;

    public Box Moved(double x, double y) => this with { Left = Left + x, Top = Top + y };

    public Box Cut(Box other)
    {
        double left = Math.Max(Left, other.Left);
        double top = Math.Max(Top, other.Top);
        return new Box(left, top, Math.Min(Right, other.Right) - left, Math.Min(Bottom, other.Bottom) - top);
    }
}
