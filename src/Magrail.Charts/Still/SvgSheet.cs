using System.Globalization;
using System.Text;
using System.Xml;

namespace Magrail.Charts;

/// <summary>
/// A sheet on which a still picture is drawn from the top down, in CSS pixels. It writes plain SVG without scripts, styles,
/// identifiers or references, so that several may stand on one page and every reader of SVG shows them alike.
/// </summary>
internal sealed class SvgSheet
{
    public const string Ink = "#1C2530";
    public const string SoftInk = "#45505C";
    public const string AxisInk = "#5A6672";
    public const string GridInk = "#DCE1E6";
    private const string Fonts = "'Segoe UI', Roboto, 'Noto Sans', 'DejaVu Sans', Arial, sans-serif";

    private readonly StringBuilder _text = new();
    private readonly XmlWriter _svg;

    public SvgSheet(double width)
    {
        Width = width;
        _svg = XmlWriter.Create(_text, new XmlWriterSettings { ConformanceLevel = ConformanceLevel.Fragment, OmitXmlDeclaration = true, Indent = true, IndentChars = " ", NewLineChars = "\n" });
    }

    public double Width { get; }

    /// <summary>Down to where the sheet is drawn.</summary>
    public double Bottom { get; set; }

    /// <summary>The whole picture, with its title and its words for those who do not see it.</summary>
    public string Finish(string title, string words)
    {
        _svg.Flush();
        string content = _text.ToString();
        string height = N(Math.Ceiling(Bottom));
        var whole = new StringBuilder();
        using (var svg = XmlWriter.Create(whole, new XmlWriterSettings { ConformanceLevel = ConformanceLevel.Fragment, OmitXmlDeclaration = true, NewLineChars = "\n" }))
        {
            svg.WriteStartElement("svg", "http://www.w3.org/2000/svg");
            svg.WriteAttributeString("viewBox", $"0 0 {N(Width)} {height}");
            svg.WriteAttributeString("width", N(Width));
            svg.WriteAttributeString("height", height);
            svg.WriteAttributeString("role", "img");
            svg.WriteAttributeString("font-family", Fonts);
            svg.WriteElementString("title", Clean(title));
            svg.WriteElementString("desc", Clean(words));
            svg.WriteRaw($"\n<rect width=\"{N(Width)}\" height=\"{height}\" fill=\"#FFFFFF\"/>\n");
            svg.WriteRaw(content);
            svg.WriteRaw("\n");
            svg.WriteEndElement();
        }

        return whole.ToString();
    }

    /// <summary>A group that says what it is.</summary>
    public void Open(string kind, string name)
    {
        _svg.WriteStartElement("g");
        _svg.WriteAttributeString("class", kind);
        if (name.Length > 0)
        {
            _svg.WriteElementString("title", Clean(name));
        }
    }

    public void Close() => _svg.WriteEndElement();

    /// <summary>A frame beyond which nothing shows; inside it places count from the sheet's corner as outside.</summary>
    public void OpenFrame(double x, double y, double width, double height)
    {
        _svg.WriteStartElement("svg");
        Numbers(("x", x), ("y", y), ("width", width), ("height", height));
        _svg.WriteAttributeString("viewBox", $"{N(x)} {N(y)} {N(width)} {N(height)}");
        _svg.WriteAttributeString("overflow", "hidden");
    }

    public void Line(double x1, double y1, double x2, double y2, string color, double width = 1, string dash = "")
    {
        _svg.WriteStartElement("line");
        Numbers(("x1", x1), ("y1", y1), ("x2", x2), ("y2", y2));
        Stroke(color, width, dash);
        _svg.WriteEndElement();
    }

    public void Rect(double x, double y, double width, double height, string fill, string stroke = "none", double strokeWidth = 1)
    {
        _svg.WriteStartElement("rect");
        Numbers(("x", x), ("y", y), ("width", width), ("height", height));
        _svg.WriteAttributeString("fill", fill);
        Stroke(stroke, strokeWidth, string.Empty);
        _svg.WriteEndElement();
    }

    /// <summary>A path of straight pieces; an empty color draws no line, an empty fill fills nothing.</summary>
    public void Path(string pieces, string color, double width = 1, string dash = "", string fill = "none", double fillOpacity = 1)
    {
        _svg.WriteStartElement("path");
        _svg.WriteAttributeString("d", pieces);
        _svg.WriteAttributeString("fill", fill);
        if (fillOpacity < 1)
        {
            _svg.WriteAttributeString("fill-opacity", N(fillOpacity));
        }

        Stroke(color, width, dash);
        _svg.WriteAttributeString("stroke-linejoin", "round");
        _svg.WriteEndElement();
    }

    /// <summary>A mark of a point.</summary>
    public void Mark(string symbol, double x, double y, string color)
    {
        (string shape, bool filled) = symbol switch
        {
            "circle" => ("M-4,0A4,4 0 1 1 4,0A4,4 0 1 1 -4,0Z", true),
            "diamond-open" => ("M0,-5L5,0L0,5L-5,0Z", false),
            "square" => ("M-3.6,-3.6H3.6V3.6H-3.6Z", true),
            "x" => ("M-4,-4L4,4M-4,4L4,-4", false),
            "triangle-up" => ("M0,-5L4.6,3.4H-4.6Z", true),
            _ => ("M-4.6,0H4.6M0,-4.6V4.6", false),
        };
        _svg.WriteStartElement("path");
        _svg.WriteAttributeString("class", "point");
        _svg.WriteAttributeString("d", shape);
        _svg.WriteAttributeString("transform", $"translate({N(x)} {N(y)})");
        _svg.WriteAttributeString("fill", filled ? color : "none");
        Stroke(color, 1.6, string.Empty);
        _svg.WriteEndElement();
    }

    /// <summary>A place without a mark that tells its name where it is pointed at.</summary>
    public void Whisper(double x, double y, string name)
    {
        _svg.WriteStartElement("circle");
        Numbers(("cx", x), ("cy", y), ("r", 4));
        _svg.WriteAttributeString("fill-opacity", "0");
        _svg.WriteElementString("title", Clean(name));
        _svg.WriteEndElement();
    }

    /// <summary>A picture of dots, carried in the sheet itself.</summary>
    public void Image(double x, double y, double width, double height, byte[] png)
    {
        _svg.WriteStartElement("image");
        Numbers(("x", x), ("y", y), ("width", width), ("height", height));
        _svg.WriteAttributeString("preserveAspectRatio", "none");
        _svg.WriteAttributeString("xlink", "href", "http://www.w3.org/1999/xlink", "data:image/png;base64," + Convert.ToBase64String(png));
        _svg.WriteEndElement();
    }

    /// <summary>Words on one line; the height is that of their baseline.</summary>
    public void Text(double x, double y, string words, double size = 12, string anchor = "start", string color = Ink, bool bold = false, bool seam = false)
    {
        _svg.WriteStartElement("text");
        Numbers(("x", x), ("y", y), ("font-size", size));
        _svg.WriteAttributeString("fill", color);
        if (anchor != "start")
        {
            _svg.WriteAttributeString("text-anchor", anchor);
        }

        if (bold)
        {
            _svg.WriteAttributeString("font-weight", "600");
        }

        if (seam)
        {
            // A white seam keeps words readable where lines cross them.
            _svg.WriteAttributeString("stroke", "#FFFFFF");
            _svg.WriteAttributeString("stroke-width", "3");
            _svg.WriteAttributeString("stroke-linejoin", "round");
            _svg.WriteAttributeString("paint-order", "stroke");
        }

        _svg.WriteString(Clean(words));
        _svg.WriteEndElement();
    }

    /// <summary>Words broken into lines that fit a width, below where the sheet is drawn.</summary>
    public void Paragraph(double x, double width, string words, double size, string color = Ink, bool bold = false)
    {
        foreach (string line in TextWidth.Lines(words, size * (bold ? 1.06 : 1), width))
        {
            Bottom += Math.Round(size * 1.35);
            Text(x, Bottom - Math.Round(size * 0.3), line, size, color: color, bold: bold);
        }
    }

    /// <summary>A place on a sheet to a hundredth of a pixel.</summary>
    public static string N(double value) => (Math.Abs(value) < 0.005 ? 0 : value).ToString("0.##", CultureInfo.InvariantCulture);

    /// <summary>Straight pieces through places; the pen is lifted where one is not a number.</summary>
    public static string Pieces(IReadOnlyList<double> x, IReadOnlyList<double> y, Func<double, double> toX, Func<double, double> toY, bool closed = false)
    {
        var path = new StringBuilder();
        bool down = false;
        for (int i = 0; i < x.Count; i++)
        {
            if (!double.IsFinite(x[i]) || !double.IsFinite(y[i]))
            {
                path.Append(down && closed ? "Z" : string.Empty);
                down = false;
                continue;
            }

            path.Append(down ? 'L' : 'M').Append(N(toX(x[i]))).Append(',').Append(N(toY(y[i])));
            down = true;
        }

        return path.Append(down && closed ? "Z" : string.Empty).ToString();
    }

    private void Stroke(string color, double width, string dash)
    {
        if (color is "" or "none")
        {
            return;
        }

        _svg.WriteAttributeString("stroke", color);
        _svg.WriteAttributeString("stroke-width", N(width));
        if (dash.Length > 0)
        {
            _svg.WriteAttributeString("stroke-dasharray", dash);
        }
    }

    private void Numbers(params ReadOnlySpan<(string Name, double Value)> numbers)
    {
        foreach ((string name, double value) in numbers)
        {
            _svg.WriteAttributeString(name, N(value));
        }
    }

    /// <summary>Characters that XML cannot hold are replaced, whatever a name brings along.</summary>
    private static string Clean(string text)
    {
        if (text.All(each => XmlConvert.IsXmlChar(each)))
        {
            return text;
        }

        var clean = new StringBuilder(text.Length);
        for (int i = 0; i < text.Length; i++)
        {
            if (i + 1 < text.Length && XmlConvert.IsXmlSurrogatePair(text[i + 1], text[i]))
            {
                clean.Append(text, i++, 2);
            }
            else
            {
                clean.Append(XmlConvert.IsXmlChar(text[i]) ? text[i] : '\uFFFD');
            }
        }

        return clean.ToString();
    }
}
