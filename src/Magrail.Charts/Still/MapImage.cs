using System.Buffers.Binary;
using System.Globalization;
using System.IO.Compression;
using System.Text;

namespace Magrail.Charts;

/// <summary>The colors of a map as a picture of dots (PNG, ISO/IEC 15948): 255 steps of color, and one that is clear where there is no number.</summary>
internal static class MapImage
{
    private const int Steps = 255;

    /// <summary>A color by its place in an evenly spaced row of colors, from zero to one.</summary>
    public static string Color(string[] colors, double share)
    {
        double place = Math.Clamp(share, 0, 1) * (colors.Length - 1);
        int first = Math.Min((int)place, colors.Length - 2);
        double rest = place - first;
        var mixed = new StringBuilder("#");
        for (int i = 1; i < 7; i += 2)
        {
            int from = int.Parse(colors[first].AsSpan(i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
            int to = int.Parse(colors[first + 1].AsSpan(i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
            mixed.Append(((int)Math.Round(from + (rest * (to - from)))).ToString("X2", CultureInfo.InvariantCulture));
        }

        return mixed.ToString();
    }

    /// <summary>The map between its first and last places, the last row on top. Between places of the grid numbers are interpolated.</summary>
    public static byte[] Png(HeatMap map, double from, double to, string[] colors, int width, int height)
    {
        byte[] dots = new byte[height * (width + 1)];
        int[] columnOf = new int[width];
        double[] columnShare = new double[width];
        for (int x = 0; x < width; x++)
        {
            (columnOf[x], columnShare[x]) = Find(map.Columns, (x + 0.5) / width);
        }

        for (int y = 0; y < height; y++)
        {
            (int r, double rowShare) = Find(map.Rows, 1 - ((y + 0.5) / height));
            for (int x = 0; x < width; x++)
            {
                int c = columnOf[x];
                double lower = map.Values[r][c] + (columnShare[x] * (map.Values[r][c + 1] - map.Values[r][c]));
                double upper = map.Values[r + 1][c] + (columnShare[x] * (map.Values[r + 1][c + 1] - map.Values[r + 1][c]));
                double value = lower + (rowShare * (upper - lower));

                // Each row begins with a byte that says it is not filtered.
                dots[(y * (width + 1)) + 1 + x] = double.IsFinite(value) ? (byte)(1 + Math.Round(Math.Clamp((value - from) / (to - from), 0, 1) * (Steps - 1))) : (byte)0;
            }
        }

        byte[] header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        header[8] = 8;
        header[9] = 3;
        byte[] palette = new byte[3 * (Steps + 1)];
        for (int i = 0; i < Steps; i++)
        {
            Convert.FromHexString(Color(colors, i / (Steps - 1.0)).AsSpan(1)).CopyTo(palette, 3 * (i + 1));
        }

        using var packed = new MemoryStream();
        using (var pack = new ZLibStream(packed, CompressionLevel.SmallestSize))
        {
            pack.Write(dots);
        }

        using var png = new MemoryStream();
        png.Write([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]);
        Chunk(png, "IHDR", header);
        Chunk(png, "PLTE", palette);
        Chunk(png, "tRNS", [0]);
        Chunk(png, "IDAT", packed.ToArray());
        Chunk(png, "IEND", []);
        return png.ToArray();
    }

    private static (int Cell, double Share) Find(IReadOnlyList<double> places, double share)
    {
        double at = places[0] + (share * (places[^1] - places[0]));
        int cell = 0;
        while (cell < places.Count - 2 && places[cell + 1] < at)
        {
            cell++;
        }

        return (cell, (at - places[cell]) / (places[cell + 1] - places[cell]));
    }

    private static void Chunk(Stream png, string name, byte[] content)
    {
        byte[] word = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(word, content.Length);
        png.Write(word);
        byte[] named = [.. Encoding.ASCII.GetBytes(name), .. content];
        png.Write(named);
        BinaryPrimitives.WriteUInt32BigEndian(word, Check(named));
        png.Write(word);
    }

    /// <summary>The check sum of the format: a cyclic redundancy check by the polynomial 0xEDB88320 (ISO/IEC 15948, annex D).</summary>
    private static uint Check(byte[] content)
    {
        uint sum = uint.MaxValue;
        foreach (byte each in content)
        {
            sum ^= each;
            for (int bit = 0; bit < 8; bit++)
            {
                sum = (sum & 1) == 0 ? sum >> 1 : (sum >> 1) ^ 0xEDB88320;
            }
        }

        return ~sum;
    }
}
