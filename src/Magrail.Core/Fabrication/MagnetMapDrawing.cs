using System.Globalization;

namespace Magrail;

/// <summary>Draws a magnet map: a cell a station, all to one scale, as many in a row as A4 has room for.</summary>
internal static class MagnetMapDrawing
{
    private const double PageWidth = 180;
    private const double PageHeight = 245;
    private const double Head = 8;
    private const double CellGap = 1.5;
    private const double LeastCell = 10;
    private const double GreatestCell = 30;

    public static IReadOnlyList<string> Pages(MagnetMap map)
    {
        // Extents of the largest station about its origin, mm.
        double along = 0;
        double across = 0;
        foreach (MappedMagnet magnet in map.Magnets)
        {
            (double halfX, double halfY) = MagnetGlyph.HalfSizes(magnet);
            double x = magnet.Along.Millimeters - map.Track.Positions[magnet.Station - 1].Millimeters;
            along = Math.Max(along, Math.Abs(x) + halfX);
            across = Math.Max(across, Math.Abs(magnet.Across.Millimeters) + halfY);
        }

        // As large as life where that fits, or to scale.
        double scale = Math.Min(1, Math.Min((GreatestCell - CellGap) / (2 * along), 45 / (2 * across)));
        double cell = Math.Max(LeastCell, (2 * along * scale) + CellGap);
        double row = (2 * across * scale) + Head;
        int perRow = (int)Math.Floor(PageWidth / cell);
        int rowsPerPage = Math.Max(1, (int)Math.Floor(PageHeight / row));
        int stations = map.Track.StationCount;
        ILookup<int, MappedMagnet> byStation = map.Magnets.ToLookup(magnet => magnet.Station);
        var pages = new List<string>();
        for (int first = 0; first < stations; first += perRow * rowsPerPage)
        {
            int count = Math.Min(stations - first, perRow * rowsPerPage);
            int rows = (count + perRow - 1) / perRow;
            var drawing = new SvgDrawing(
                PageWidth,
                (rows * row) + 2,
                string.Create(CultureInfo.InvariantCulture, $"Which way round the magnets of stations {first + 1} to {first + count} stand"),
                string.Create(CultureInfo.InvariantCulture, $"m{pages.Count + 1}-"));
            for (int i = 0; i < count; i++)
            {
                int station = first + i;
                double x = ((i % perRow) + 0.5) * cell;
                double middle = ((i / perRow) * row) + Head - 1.5 + (across * scale);
                drawing.Text(x, ((i / perRow) * row) + 5, string.Create(CultureInfo.InvariantCulture, $"S{station + 1}"), 3.5, "middle", bold: true);
                drawing.Line(x - (0.5 * cell), middle, x + (0.5 * cell), middle, SvgDrawing.Fine, null, "4 1 1 1");
                foreach (MappedMagnet magnet in byStation[station + 1].OrderBy(magnet => magnet.Up.Meters))
                {
                    double dx = magnet.Along.Millimeters - map.Track.Positions[station].Millimeters;
                    MagnetGlyph.Draw(drawing, magnet, x + (scale * dx), middle - (scale * magnet.Across.Millimeters), scale, $"magnet {magnet.Mark}");
                }
            }

            pages.Add(drawing.ToString());
        }

        return pages;
    }
}
