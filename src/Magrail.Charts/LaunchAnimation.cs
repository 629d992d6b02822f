using System.Globalization;
using System.Text;
using UnitsNet;

namespace Magrail.Charts;

/// <summary>
/// A launch in slow motion, drawn to scale from above: the sled between its magnets, the current in the legs of its coil (a dot where it flows toward you, a cross where it
/// flows away, the larger the more), the brushes on their strips, the force, and the speed along the track. It stands still until somebody starts it, can be moved by
/// hand, and needs no network.
/// </summary>
public sealed record LaunchAnimation : Chart
{
    private const double PitchPixels = 100;
    private const double RowHeight = 22;
    private const double BrushHeight = 11;
    private const double Top = 22;
    private const double Spare = 9;
    private const double MomentsPerStation = 24;
    private const double WholeSeconds = 15;

    private readonly double scale;
    private readonly double half;

    internal LaunchAnimation(LaunchResult launch, double? slowedBy)
        : base("The launch in slow motion")
    {
        ArgumentNullException.ThrowIfNull(launch);
        if (slowedBy is double asked && !(double.IsFinite(asked) && asked > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(slowedBy), asked, "A launch is slowed by a factor above zero.");
        }

        Launch = launch;
        double end = launch.Trace.End.Seconds;
        SlowedBy = slowedBy ?? (end > 0 ? Round(WholeSeconds / end) : 1);
        Track track = launch.Launcher.Track;
        scale = PitchPixels / track.Pitch.Meters;
        half = track.Stations[0].Magnets.SelectMany(magnet => Solid.Of(magnet, 0).Corners).Max(corner => Math.Abs(corner.Y));
        half = Math.Max(half, launch.Launcher.Sled.Coils.Max(mount => 0.5 * mount.Coil.ExtentAcross.Meters));
        double passed = (launch.Trace.PositionMeters.Max() - launch.Trace.PositionMeters.Min()) / track.Pitch.Meters;
        Moments = launch.Trace.Samples((int)Math.Clamp(MomentsPerStation * passed, 200, 3000));
        Note = string.Create(
            CultureInfo.InvariantCulture,
            $"Seen from above and to scale: {Show.Quantity(track.Pitch)} from station to station. Dark and light magnets are the two polarities. In the coil a dot is a current toward you, a cross one away from you; the larger the sign, the greater the current. A brush is dark while it touches a strip of the plus rail, striped on minus, empty on none.");
    }

    /// <summary>The launch.</summary>
    public LaunchResult Launch { get; }

    /// <summary>How many times slower than in truth it runs.</summary>
    public double SlowedBy { get; }

    /// <summary>The moments that are drawn, evenly in time; between them the drawing is interpolated.</summary>
    public IReadOnlyList<LaunchSample> Moments { get; }

    /// <summary>How long the animation takes.</summary>
    public Duration Length => Duration.FromSeconds(SlowedBy * Launch.Trace.End.Seconds);

    /// <inheritdoc/>
    public override string ToText()
    {
        var text = new StringBuilder(Title);
        text.Append(CultureInfo.InvariantCulture, $"\n  {Show.Number(SlowedBy)} times slower than in truth, {Show.Quantity(Length)} in all");
        foreach (LaunchSample moment in Stills())
        {
            text.Append("\n  ").Append(Words(moment));
        }

        return text.ToString();
    }

    /// <summary>For places where nothing moves: speed, current and force along the track.</summary>
    internal override string FigureJson() => LaunchCharts.Overview(Launch).FigureJson();

    /// <summary>On paper, speed, current and force along the way stand for what moves.</summary>
    private protected override void DrawStill(SvgSheet sheet) => StillLines.Draw(LaunchCharts.Overview(Launch), sheet);

    private protected override string ScriptText => ChartPage.LaunchCall;

    private protected override string Describe()
        => $"A sled moves between magnets past {Launch.Launcher.Track.StationCount} stations, {Show.Number(SlowedBy)} times slower than in truth. {string.Join("; ", Stills().Select(Words))}.";

    private protected override string TableHtml()
    {
        var html = new StringBuilder("<table><thead><tr><th scope=\"col\">time</th><th scope=\"col\">position</th><th scope=\"col\">speed</th><th scope=\"col\">current</th><th scope=\"col\">force</th><th scope=\"col\">contacts</th></tr></thead><tbody>");
        foreach (LaunchSample moment in Stills())
        {
            html.Append("<tr><th scope=\"row\">").Append(Encode(Show.Quantity(moment.Time))).Append("</th>");
            foreach (string cell in new[]
            {
                Show.Quantity(moment.Position), Show.Quantity(moment.Speed), string.Join(", ", moment.Currents.Select(current => Show.Quantity(current))),
                Show.Quantity(moment.Force), string.Join(", ", moment.Connections.Select(NameOf)),
            })
            {
                html.Append("<td>").Append(Encode(cell)).Append("</td>");
            }

            html.Append("</tr>");
        }

        return html.Append("</tbody></table>").ToString();
    }

    private protected override string BodyHtml()
    {
        var html = new StringBuilder();
        html.Append("<div class=\"magrail-launch\" data-launch='").Append(Quoted(MomentsJson())).Append("'>\n");
        html.Append(CultureInfo.InvariantCulture, $"<div class=\"magrail-control\"><button type=\"button\" data-part=\"play\">Play</button> <button type=\"button\" data-part=\"next\">Next contact</button> ");
        html.Append("<label><span>time</span> <input type=\"range\" min=\"0\" max=\"1000\" step=\"1\" value=\"400\"></label>");
        html.Append(CultureInfo.InvariantCulture, $" <span class=\"magrail-pace\">{Show.Number(SlowedBy)} times slower</span></div>\n");
        html.Append("<div role=\"img\" aria-label=\"").Append(Encode(Description)).Append("\">").Append(CloseUp()).Append(Overview()).Append("</div>\n");
        LaunchSample still = Moments[(int)(0.4 * (Moments.Count - 1))];
        html.Append("<p class=\"magrail-reads\" data-part=\"reads\">").Append(Encode(Words(still))).Append("</p>\n</div>\n");
        return html.ToString();
    }

    /// <summary>The sled and the stations about it, as it stands at two fifths of its time; the script moves it.</summary>
    internal string CloseUp()
    {
        Launcher launcher = Launch.Launcher;
        Track track = launcher.Track;
        MapPlane level = MapPlane.AtHeight(UnitsNet.Length.Zero);
        double middle = Top + RowHeight + BrushHeight + Spare + (half * scale);
        double lowerBrush = middle + (half * scale) + Spare;
        double lowerRow = lowerBrush + BrushHeight;
        double forceRow = lowerRow + RowHeight + 18;
        double height = forceRow + 24;
        LaunchSample still = Moments[(int)(0.4 * (Moments.Count - 1))];
        var svg = new StringBuilder();
        svg.Append(CultureInfo.InvariantCulture, $"<svg class=\"magrail-close\" data-part=\"close\" xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-400 0 800 {F(height)}\" height=\"{F(height)}\" aria-hidden=\"true\">");
        svg.Append("<defs><pattern id=\"magrail-stripes\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><rect width=\"5\" height=\"5\" fill=\"#fff\"/><rect width=\"2\" height=\"5\" fill=\"#1c2530\"/></pattern></defs>");
        svg.Append(CultureInfo.InvariantCulture, $"<g data-part=\"track\" data-scale=\"{F(scale / 1000)}\" transform=\"translate({F(-still.Position.Meters * scale)} 0)\">");
        for (int i = 0; i < track.StationCount; i++)
        {
            bool positive = track.Polarities[i] == Polarity.Positive;
            foreach (PlacedMagnet magnet in track.Stations[i].Magnets)
            {
                Solid solid = Solid.Of(magnet, track.Positions[i].Meters);
                List<List<(double U, double V)>> cut = solid.CutBy(level);
                if (cut.Count == 0)
                {
                    continue;
                }

                svg.Append("<path class=\"").Append(positive ? "dark" : "light").Append("\" d=\"").Append(PathOf(cut, middle, close: true)).Append("\"/>");
                SpacePoint pole = FieldCharts.PoleDirection(magnet, positive);
                double size = 0.3 * Math.Min(magnet.Body.SizeAlong.Meters, magnet.Body.SizeAcross.Meters);
                foreach (SpacePoint heart in solid.Hearts.Where(heart => Math.Abs(heart.Z) < 1e-9))
                {
                    IEnumerable<List<(double U, double V)>> arrow = FieldCharts.Arrow(heart.X, heart.Y, pole.X, pole.Y, pole.Z, solid.Hearts.Count > 1 ? 0.5 * size : size);
                    svg.Append("<path class=\"").Append(positive ? "pole on-dark" : "pole").Append("\" d=\"").Append(PathOf([.. arrow], middle, close: false)).Append("\"/>");
                }
            }
        }

        AppendStrips(svg, launcher.Contacts.Upper, Top);
        AppendStrips(svg, launcher.Contacts.Lower, lowerRow);
        svg.Append("</g><g>");
        AppendSled(svg, launcher, still, level, middle, lowerBrush);
        svg.Append("</g>");
        double push = still.Force.Newtons / MostForce() * 70;
        svg.Append(CultureInfo.InvariantCulture, $"<g data-part=\"force\" transform=\"translate(0 {F(forceRow)})\"><line class=\"force\" x1=\"0\" y1=\"0\" x2=\"{F(push)}\" y2=\"0\"/><path class=\"head\" d=\"M 0 -5 L 9 0 L 0 5 Z\" transform=\"translate({F(push)} 0) scale({(push < 0 ? -1 : 1)} 1)\"/><text x=\"0\" y=\"18\" text-anchor=\"middle\">force</text></g>");
        svg.Append(CultureInfo.InvariantCulture, $"<text data-part=\"upper\" class=\"row\" x=\"-396\" y=\"{F(Top - 7)}\">strips of the upper line</text>");
        svg.Append(CultureInfo.InvariantCulture, $"<text data-part=\"lower\" class=\"row\" x=\"-396\" y=\"{F(lowerRow + RowHeight + 15)}\">strips of the lower line</text>");
        return svg.Append("</svg>").ToString();
    }

    private static string F(double value) => Math.Round(value, 2).ToString(CultureInfo.InvariantCulture);

    private static double Round(double value)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(value)));
        double lead = value / power;
        return power * (lead < 1.5 ? 1 : lead < 3.5 ? 2 : lead < 7.5 ? 5 : 10);
    }

    private static string NameOf(CircuitConnection connection) => connection switch
    {
        CircuitConnection.Forward => "driven forward",
        CircuitConnection.Reverse => "driven in reverse",
        CircuitConnection.Shorted => "closed on itself",
        CircuitConnection.Clamped => "open, current in the clamp",
        CircuitConnection.Suppressed => "open, current in what lies across the coil",
        CircuitConnection.Arcing => "arc",
        CircuitConnection.Bridged => "brush bridges two rails",
        _ => "open",
    };

    /// <summary>Where the current of a piece of winding flows for a positive current in its circuit: +1 toward the viewer, −1 away.</summary>
    private static int TowardViewer(CoilMount mount, double along, double across)
        => (int)mount.Sense * (mount.Coil.Axis == TrackAxis.Across ? -Math.Sign(along - mount.Offset.Meters) : Math.Sign(across));

    private string Words(LaunchSample moment)
        => $"{Show.Quantity(moment.Time)}: at {Show.Quantity(moment.Position)}, {Show.Quantity(moment.Speed)}, {string.Join(" and ", moment.Currents.Select(current => Show.Quantity(current)))}, "
            + $"{Show.Quantity(moment.Force)}, {string.Join(" and ", moment.Connections.Select(NameOf))}";

    private IEnumerable<LaunchSample> Stills() => Enumerable.Range(0, 11).Select(i => Moments[i * (Moments.Count - 1) / 10]);

    private double MostForce() => Math.Max(1e-9, Moments.Max(moment => Math.Abs(moment.Force.Newtons)));

    private double MostCurrent() => Math.Max(1e-9, Moments.SelectMany(moment => moment.Currents).Max(current => Math.Abs(current.Amperes)));

    private string PathOf(IEnumerable<List<(double U, double V)>> pieces, double middle, bool close)
    {
        var path = new StringBuilder();
        foreach (List<(double U, double V)> piece in pieces)
        {
            for (int i = 0; i < piece.Count; i++)
            {
                path.Append(i == 0 ? "M" : "L").Append(F(piece[i].U * scale)).Append(' ').Append(F(middle - (piece[i].V * scale)));
            }

            path.Append(close ? "Z" : string.Empty);
        }

        return path.ToString();
    }

    private void AppendStrips(StringBuilder svg, ContactLine line, double top)
    {
        foreach (ContactStrip strip in line.Strips)
        {
            double start = strip.Start.Meters * scale;
            double width = strip.Length.Meters * scale;
            string kind = strip.Bus switch { Bus.Plus => "plus", Bus.Minus => "minus", _ => "dead" };
            svg.Append(CultureInfo.InvariantCulture, $"<rect class=\"strip {kind}\" x=\"{F(start)}\" y=\"{F(top)}\" width=\"{F(width)}\" height=\"{F(RowHeight)}\"/>");
            // A long strip says again and again what it is.
            int times = strip.Bus == Bus.Dead ? 0 : Math.Max(1, (int)(width / (4 * PitchPixels)));
            for (int i = 0; i < times; i++)
            {
                svg.Append(CultureInfo.InvariantCulture, $"<text class=\"sign {kind}\" x=\"{F(start + (width * (i + 0.5) / times))}\" y=\"{F(top + (0.5 * RowHeight) + 5)}\" text-anchor=\"middle\">{(strip.Bus == Bus.Plus ? "+" : "\u2212")}</text>");
            }
        }
    }

    private void AppendSled(StringBuilder svg, Launcher launcher, LaunchSample still, MapPlane level, double middle, double lowerBrush)
    {
        Sled sled = launcher.Sled;
        double from = sled.Coils.Min(mount => mount.Offset.Meters - (0.5 * mount.Coil.ExtentAlong.Meters)) * scale;
        double to = sled.Coils.Max(mount => mount.Offset.Meters + (0.5 * mount.Coil.ExtentAlong.Meters)) * scale;
        double side = 0.5 * sled.Coils.Max(mount => mount.Coil.ExtentAcross.Meters) * scale;
        for (int circuit = 0; circuit < sled.CircuitCount; circuit++)
        {
            double coil = sled.Coils.First(mount => mount.Circuit == circuit).Offset.Meters;
            foreach ((bool upper, Brush brush) in new[] { (true, launcher.Contacts.UpperBrush), (false, launcher.Contacts.LowerBrush) })
            {
                double center = (coil + brush.Offset.Meters) * scale;
                double width = brush.Length.Meters * scale;
                double top = upper ? Top + RowHeight : lowerBrush;
                svg.Append(CultureInfo.InvariantCulture, $"<line class=\"lead\" x1=\"{F(center)}\" x2=\"{F(center)}\" y1=\"{F(upper ? top + BrushHeight : middle + side)}\" y2=\"{F(upper ? middle - side : top)}\"/>");
                svg.Append(CultureInfo.InvariantCulture, $"<rect class=\"brush {Touch(launcher, circuit, upper, still.Position.Meters)}\" data-part=\"brush\" data-circuit=\"{circuit}\" data-line=\"{(upper ? 0 : 1)}\" x=\"{F(center - (0.5 * width))}\" y=\"{F(top)}\" width=\"{F(width)}\" height=\"{F(BrushHeight)}\"/>");
            }
        }

        svg.Append(CultureInfo.InvariantCulture, $"<rect class=\"sled\" x=\"{F(from - 4)}\" y=\"{F(middle - side - 3)}\" width=\"{F(to - from + 8)}\" height=\"{F((2 * side) + 6)}\" rx=\"4\"/>");
        foreach (CoilMount mount in sled.Coils)
        {
            foreach (List<(double U, double V)> piece in Solid.Of(mount.Coil, mount.Offset.Meters).CutBy(level))
            {
                double u = 0.5 * (piece.Min(point => point.U) + piece.Max(point => point.U));
                double v = 0.5 * (piece.Min(point => point.V) + piece.Max(point => point.V));
                double radius = 0.42 * scale * Math.Min(piece.Max(point => point.U) - piece.Min(point => point.U), piece.Max(point => point.V) - piece.Min(point => point.V));
                int sign = TowardViewer(mount, u, v);
                double size = still.Currents[mount.Circuit].Amperes / MostCurrent();
                svg.Append("<path class=\"copper\" d=\"").Append(PathOf([piece], middle, close: true)).Append("\"/>");
                svg.Append(CultureInfo.InvariantCulture, $"<g data-part=\"leg\" data-circuit=\"{mount.Circuit}\" data-sign=\"{sign}\" data-radius=\"{F(radius)}\" transform=\"translate({F(u * scale)} {F(middle - (v * scale))}) scale({F(radius * Math.Abs(size))})\" class=\"{(sign * size > 0 ? "toward" : "away")}\">");
                svg.Append("<circle r=\"1\"/><circle class=\"dot\" r=\"0.36\"/><path class=\"cross\" d=\"M -0.6 -0.6 L 0.6 0.6 M -0.6 0.6 L 0.6 -0.6\"/></g>");
            }
        }
    }

    /// <summary>What a brush touches with the sled's mark at a place: plus, minus, both or none.</summary>
    internal static string Touch(Launcher launcher, int circuit, bool upper, double position)
    {
        Brush brush = upper ? launcher.Contacts.UpperBrush : launcher.Contacts.LowerBrush;
        ContactLine line = upper ? launcher.Contacts.Upper : launcher.Contacts.Lower;
        double center = position + launcher.Sled.Coils.First(mount => mount.Circuit == circuit).Offset.Meters + brush.Offset.Meters;
        double reach = 0.5 * brush.Length.Meters;
        bool On(Bus bus) => line.Strips.Any(strip => strip.Bus == bus && strip.Start.Meters < center + reach && strip.End.Meters > center - reach);
        bool plus = On(Bus.Plus);
        bool minus = On(Bus.Minus);
        return plus && minus ? "both" : plus ? "plus" : minus ? "minus" : "none";
    }

    private string Overview()
    {
        double most = Math.Max(1e-9, Moments.Max(moment => moment.Speed.MetersPerSecond));
        double start = Moments.Min(moment => moment.Position.Meters);
        double span = Math.Max(1e-9, Moments.Max(moment => moment.Position.Meters) - start);
        string line = string.Join(' ', Moments.Select(moment => $"{F(1000 * (moment.Position.Meters - start) / span)},{F(58 - (54 * moment.Speed.MetersPerSecond / most))}"));
        double place = 1000 * (Moments[(int)(0.4 * (Moments.Count - 1))].Position.Meters - start) / span;
        return $"<p class=\"magrail-overview-title\">speed along the whole way, up to {Show.Quantity(Speed.FromMetersPerSecond(most))}</p>"
            + $"<svg class=\"magrail-overview\" xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1000 60\" preserveAspectRatio=\"none\" height=\"60\" aria-hidden=\"true\"><polygon points=\"0,58 {line} 1000,58\"/><polyline points=\"{line}\"/>"
            + $"<line data-part=\"place\" x1=\"{F(place)}\" x2=\"{F(place)}\" y1=\"0\" y2=\"60\"/></svg>";
    }

    /// <summary>What the script needs: columns of time, position, speed, force, current, contacts and touches.</summary>
    private string MomentsJson()
    {
        static string Column(IEnumerable<double> numbers) => "[" + string.Join(',', numbers.Select(number => number.ToString("G5", CultureInfo.InvariantCulture))) + "]";
        Launcher launcher = Launch.Launcher;
        int circuits = launcher.Sled.CircuitCount;
        var json = new StringBuilder("{");
        json.Append(CultureInfo.InvariantCulture, $"\"slow\":{SlowedBy.ToString("R", CultureInfo.InvariantCulture)},\"mostCurrent\":{F(MostCurrent())},\"mostForce\":{F(MostForce())},");
        json.Append("\"time\":").Append(Column(Moments.Select(moment => moment.Time.Milliseconds)));
        json.Append(",\"position\":").Append(Column(Moments.Select(moment => moment.Position.Millimeters)));
        json.Append(",\"speed\":").Append(Column(Moments.Select(moment => moment.Speed.MetersPerSecond)));
        json.Append(",\"force\":").Append(Column(Moments.Select(moment => moment.Force.Newtons)));
        json.Append(",\"current\":[").AppendJoin(',', Enumerable.Range(0, circuits).Select(k => Column(Moments.Select(moment => moment.Currents[k].Amperes)))).Append(']');
        json.Append(",\"contact\":[").AppendJoin(',', Enumerable.Range(0, circuits).Select(k => "[" + string.Join(',', Moments.Select(moment => JsonText(NameOf(moment.Connections[k])))) + "]")).Append(']');
        json.Append(",\"touch\":[").AppendJoin(',', Enumerable.Range(0, circuits).Select(k => $"[{Touches(k, upper: true)},{Touches(k, upper: false)}]")).Append(']');
        return json.Append('}').ToString();

        string Touches(int circuit, bool upper)
            => "[" + string.Join(',', Moments.Select(moment => JsonText(Touch(launcher, circuit, upper, moment.Position.Meters)))) + "]";
    }
}
