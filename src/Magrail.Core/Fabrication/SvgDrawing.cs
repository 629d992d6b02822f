using System.Globalization;
using System.Xml.Linq;

namespace Magrail;

/// <summary>A drawing in millimeters as SVG: black and grey, hatches and letters that a grey print keeps.</summary>
internal sealed class SvgDrawing
{
    public const string Fine = "0.15";
    public const string Thin = "0.2";
    public const string Thick = "0.35";

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    private readonly XElement root;
    private readonly XElement definitions;
    private readonly string prefix;
    private XElement current;

    /// <param name="width">Width on paper, mm.</param>
    /// <param name="height">Height on paper, mm.</param>
    /// <param name="title">What it shows, for those who do not see it.</param>
    /// <param name="prefix">Set before names, so that several drawings share a page.</param>
    public SvgDrawing(double width, double height, string title, string prefix)
    {
        this.prefix = prefix;
        definitions = new XElement(Svg + "defs");
        root = new XElement(
            Svg + "svg",
            new XAttribute("width", $"{Number(width)}mm"),
            new XAttribute("height", $"{Number(height)}mm"),
            new XAttribute("viewBox", $"0 0 {Number(width)} {Number(height)}"),
            new XAttribute("role", "img"),
            new XAttribute("font-family", "DejaVu Sans, Verdana, Arial, sans-serif"),
            new XElement(Svg + "title", title),
            definitions);
        current = root;
    }

    /// <summary>A number of millimeters to a tenth of a micrometer.</summary>
    public static string Number(double value)
    {
        string text = value.ToString("0.####", CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text;
    }

    /// <summary>Shows a part of the drawing only: what a printer leaves of a sheet.</summary>
    public void Crop(double x, double y, double width, double height)
    {
        root.SetAttributeValue("width", $"{Number(width)}mm");
        root.SetAttributeValue("height", $"{Number(height)}mm");
        root.SetAttributeValue("viewBox", $"{Number(x)} {Number(y)} {Number(width)} {Number(height)}");
    }

    /// <summary>Lines at 45° to fill with; the name to fill by.</summary>
    public string Hatch(string name, double distance)
    {
        definitions.Add(new XElement(
            Svg + "pattern",
            new XAttribute("id", prefix + name),
            new XAttribute("width", Number(distance)),
            new XAttribute("height", Number(distance)),
            new XAttribute("patternUnits", "userSpaceOnUse"),
            new XAttribute("patternTransform", "rotate(45)"),
            new XElement(Svg + "rect", new XAttribute("width", Number(distance)), new XAttribute("height", Number(distance)), new XAttribute("fill", "white")),
            new XElement(
                Svg + "line",
                new XAttribute("x1", "0"),
                new XAttribute("y1", "0"),
                new XAttribute("x2", "0"),
                new XAttribute("y2", Number(distance)),
                new XAttribute("stroke", "black"),
                new XAttribute("stroke-width", "0.5"))));
        return $"url(#{prefix}{name})";
    }

    /// <summary>What follows is seen in a window only and moved; until <see cref="EndWindow"/>.</summary>
    /// <param name="x">Left edge of the window on the sheet.</param>
    /// <param name="y">Upper edge.</param>
    /// <param name="width">Its width.</param>
    /// <param name="height">Its height.</param>
    /// <param name="moveX">Added to every x of what follows.</param>
    /// <param name="moveY">Added to every y.</param>
    public void BeginWindow(double x, double y, double width, double height, double moveX, double moveY)
    {
        definitions.Add(new XElement(
            Svg + "clipPath",
            new XAttribute("id", prefix + "window"),
            new XElement(Svg + "rect", new XAttribute("x", Number(x)), new XAttribute("y", Number(y)), new XAttribute("width", Number(width)), new XAttribute("height", Number(height)))));
        var moved = new XElement(Svg + "g", new XAttribute("transform", $"translate({Number(moveX)} {Number(moveY)})"));
        root.Add(new XElement(Svg + "g", new XAttribute("clip-path", $"url(#{prefix}window)"), new XAttribute("data-part", "window"), moved));
        current = moved;
    }

    public void EndWindow() => current = root;

    public void Rect(double x, double y, double width, double height, string fill = "none", string stroke = Thin, string? part = null, string? dash = null)
        => Add(new XElement(
            Svg + "rect",
            new XAttribute("x", Number(x)),
            new XAttribute("y", Number(y)),
            new XAttribute("width", Number(width)),
            new XAttribute("height", Number(height)),
            new XAttribute("fill", fill)), stroke, part, dash);

    public void Line(double x1, double y1, double x2, double y2, string stroke = Thin, string? part = null, string? dash = null)
        => Add(new XElement(
            Svg + "line",
            new XAttribute("x1", Number(x1)),
            new XAttribute("y1", Number(y1)),
            new XAttribute("x2", Number(x2)),
            new XAttribute("y2", Number(y2))), stroke, part, dash);

    public void Circle(double x, double y, double radius, string fill = "none", string stroke = Thin, string? part = null)
        => Add(new XElement(
            Svg + "circle",
            new XAttribute("cx", Number(x)),
            new XAttribute("cy", Number(y)),
            new XAttribute("r", Number(radius)),
            new XAttribute("fill", fill)), stroke, part, null);

    /// <summary>A filled outline through points.</summary>
    public void Polygon(string fill, params ReadOnlySpan<(double X, double Y)> points)
    {
        var text = new System.Text.StringBuilder();
        foreach ((double x, double y) in points)
        {
            text.Append(text.Length > 0 ? " " : string.Empty).Append(Number(x)).Append(',').Append(Number(y));
        }

        Add(new XElement(Svg + "polygon", new XAttribute("points", text.ToString()), new XAttribute("fill", fill)), Thin, null, null);
    }

    /// <summary>A line of text; <paramref name="size"/> is that of the font, capitals are some 0.73 of it.</summary>
    public void Text(double x, double y, string text, double size, string anchor = "start", bool bold = false, string fill = "black", bool upright = true)
    {
        var element = new XElement(
            Svg + "text",
            new XAttribute("x", Number(x)),
            new XAttribute("y", Number(y)),
            new XAttribute("font-size", Number(size)),
            new XAttribute("fill", fill),
            text);
        if (anchor != "start")
        {
            element.SetAttributeValue("text-anchor", anchor);
        }

        if (bold)
        {
            element.SetAttributeValue("font-weight", "bold");
        }

        if (!upright)
        {
            element.SetAttributeValue("transform", $"rotate(-90 {Number(x)} {Number(y)})");
        }

        current.Add(element);
    }

    /// <summary>About how wide a line of text is, mm; rather too wide than too narrow.</summary>
    public static double TextWidth(string text, double size) => 0.72 * size * text.Length;

    /// <summary>The drawing as a file of its own.</summary>
    public override string ToString() => "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + ToElement();

    /// <summary>The drawing as a part of a page.</summary>
    public string ToElement() => root.ToString(SaveOptions.DisableFormatting);

    private void Add(XElement element, string stroke, string? part, string? dash)
    {
        if (stroke != "none")
        {
            element.SetAttributeValue("stroke", "black");
            element.SetAttributeValue("stroke-width", stroke);
        }

        if (dash is not null)
        {
            element.SetAttributeValue("stroke-dasharray", dash);
        }

        if (part is not null)
        {
            element.SetAttributeValue("data-part", part);
        }

        current.Add(element);
    }
}
