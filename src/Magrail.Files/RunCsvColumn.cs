namespace Magrail.Files;

/// <summary>A column that holds times or positions.</summary>
/// <param name="Index">Which, from 0.</param>
/// <param name="Heading">As it stands in the file.</param>
/// <param name="Name">Without the unit.</param>
/// <param name="Unit">The unit, in the first of its spellings.</param>
/// <param name="IsTime">Whether it holds times.</param>
/// <param name="Factor">To the base unit; not a number where the file does not say.</param>
internal sealed record RunCsvColumn(int Index, string Heading, string Name, string Unit, bool IsTime, double Factor)
{
    private static readonly (string[] Spellings, bool IsTime, double Factor)[] Units =
    [
        (["s", "sec", "second", "seconds"], true, 1),
        (["ms", "millisecond", "milliseconds"], true, 1e-3),
        (["µs", "μs", "us", "microsecond", "microseconds"], true, 1e-6),
        (["frames", "frame"], true, double.NaN),
        (["m", "meter", "meters", "metre", "metres"], false, 1),
        (["cm", "centimeter", "centimeters"], false, 1e-2),
        (["mm", "millimeter", "millimeters"], false, 1e-3),
        (["µm", "μm", "um", "micrometer", "micrometers"], false, 1e-6),
        (["in", "inch", "inches"], false, 0.0254),
        (["px", "pixel", "pixels"], false, double.NaN),
    ];

    /// <summary>The column of a heading; null where it has neither a unit of time nor one of length.</summary>
    public static RunCsvColumn? Of(string heading, int index)
    {
        int open = heading.LastIndexOfAny(['[', '(', '/']);
        string name = heading, unit = "";
        if (open >= 0)
        {
            name = heading[..open].Trim();
            unit = heading[(open + 1)..].Trim().TrimEnd(']', ')').Trim();
        }
        else if (heading.Trim().ToUpperInvariant() is "FRAME" or "FRAMES")
        {
            // "frame" alone can only count them.
            unit = "frames";
        }

        foreach ((string[] spellings, bool isTime, double factor) in Units)
        {
            // Units of one letter tell upper from lower case.
            if (spellings.Contains(unit, unit.Length < 3 ? StringComparer.Ordinal : StringComparer.OrdinalIgnoreCase))
            {
                return new RunCsvColumn(index, heading, name, spellings[0], isTime, factor);
            }
        }

        return null;
    }
}
