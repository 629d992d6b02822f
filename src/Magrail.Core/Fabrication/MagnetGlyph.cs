namespace Magrail;

/// <summary>How a magnet is drawn seen from above: its outline, the north half dark with a white N, the south half white with an S.</summary>
internal static class MagnetGlyph
{
    private const string Dark = "#444444";
    private const double LeastLetter = 1.8;

    /// <summary>Half the size along the track and across it, mm.</summary>
    public static (double Along, double Across) HalfSizes(MappedMagnet magnet)
    {
        (double sin, double cos) = Math.SinCos(magnet.Roll.Radians);
        return (
            0.5 * magnet.Body.SizeAlong.Millimeters,
            0.5 * ((Math.Abs(cos) * magnet.Body.SizeAcross.Millimeters) + (Math.Abs(sin) * magnet.Body.SizeUp.Millimeters)));
    }

    /// <summary>Draws a magnet with its middle at a point of the page.</summary>
    public static void Draw(SvgDrawing drawing, MappedMagnet magnet, double x, double y, double scale, string part)
    {
        (double halfX, double halfY) = HalfSizes(magnet);
        halfX *= scale;
        halfY *= scale;
        Vector3D d = magnet.Direction;
        bool round = (magnet.Body is DiscMagnet { Axis: TrackAxis.Up } or RingMagnet { Axis: TrackAxis.Up }) && magnet.Roll.Radians == 0;
        if (Math.Abs(d.Z) > 0.7)
        {
            // North up or down: one face is all that is seen.
            bool up = d.Z > 0;
            Outline(up ? Dark : "white");
            Letter(x, y, up ? "N" : "S", 2 * Math.Min(halfX, halfY), up);
            return;
        }

        Outline("white");
        if (Math.Abs(d.X) > 0.5)
        {
            double north = d.X > 0 ? x : x - halfX;
            Half(north, y - halfY, halfX, 2 * halfY);
            double size = Math.Min(halfX, 2 * halfY);
            Letter(x + (d.X > 0 ? 0.5 : -0.5) * halfX, y, "N", size, true);
            Letter(x - (d.X > 0 ? 0.5 : -0.5) * halfX, y, "S", size, false);
        }
        else
        {
            // +y is up the page.
            double north = d.Y > 0 ? y - halfY : y;
            Half(x - halfX, north, 2 * halfX, halfY);
            double size = Math.Min(2 * halfX, halfY);
            Letter(x, y - (d.Y > 0 ? 0.5 : -0.5) * halfY, "N", size, true);
            Letter(x, y + (d.Y > 0 ? 0.5 : -0.5) * halfY, "S", size, false);
        }

        void Outline(string fill)
        {
            if (round)
            {
                drawing.Circle(x, y, halfX, fill, SvgDrawing.Thick, part);
            }
            else
            {
                drawing.Rect(x - halfX, y - halfY, 2 * halfX, 2 * halfY, fill, SvgDrawing.Thick, part);
            }
        }

        void Half(double left, double top, double width, double height)
        {
            if (!round)
            {
                drawing.Rect(left, top, width, height, Dark, "none");
            }
        }

        void Letter(double atX, double atY, string letter, double room, bool dark)
        {
            double size = Math.Min(4.5, room);
            if (size >= LeastLetter)
            {
                drawing.Text(atX, atY + (0.365 * size), letter, size, "middle", bold: true, dark && !round ? "white" : dark && Math.Abs(d.Z) > 0.7 ? "white" : "black");
            }
        }
    }
}
