using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>Which way round each magnet of a track stands: as a list and as drawings.</summary>
public sealed class MagnetMap
{
    private static readonly Length NearlyTouching = Length.FromMillimeters(1);

    private readonly Lazy<Force?> pinch;
    private readonly Lazy<Force?> pinchTogether;

    private MagnetMap(Track track)
    {
        Track = track;
        Magnets =
        [
            .. Enumerable.Range(0, track.StationCount).SelectMany(station => track.Stations[station].Magnets.Select((placed, number)
                => new MappedMagnet(station + 1, (char)('a' + Math.Min(number, 25)), placed, track.Positions[station], track.Polarities[station]))),
        ];
        MagnetStation[] kinds = [.. track.Stations.Distinct()];
        pinch = new(() => Greatest(kinds.Select(PinchForce.Of)));
        pinchTogether = new(() => Greatest(kinds.Select(kind => PinchForce.At(kind, NearlyTouching))));
    }

    /// <summary>The track.</summary>
    public Track Track { get; }

    /// <summary>Its magnets, station by station.</summary>
    public ImmutableArray<MappedMagnet> Magnets { get; }

    /// <summary>
    /// An estimate of the pull between the two magnets of a pair at their gap, of one station alone: the magnetic tension (B_y² − B_x² − B_z²)/(2 µ₀) over the plane midway between them; the
    /// greatest of all stations. Null where no station is a plain facing pair magnetized across.
    /// </summary>
    /// <remarks>For rigid magnets the integral is exact; neighbors add to it or take from it, which is left out. Source: the tension of the field (J. D. Jackson, Classical Electrodynamics, 3rd edition, section 6.7; from memory).</remarks>
    public Force? PullAtGap => pinch.Value;

    /// <summary>The same where the two have come together to a gap of 1 mm, without iron: what a finger between them would feel.</summary>
    public Force? PullTogether => pinchTogether.Value;

    /// <summary>The map of a track.</summary>
    /// <param name="track">The track.</param>
    /// <exception cref="ArgumentNullException">The track is null.</exception>
    public static MagnetMap Of(Track track)
    {
        ArgumentNullException.ThrowIfNull(track);
        return new MagnetMap(track);
    }

    /// <summary>
    /// The faces that the coil meets, station by station, for the magnets of one letter: N and S, or arrows for magnets along the track.
    /// </summary>
    /// <param name="letter">The letter of the magnets, a for the first of each station.</param>
    /// <returns>One entry a station that has such a magnet.</returns>
    public ImmutableArray<string> FacesOf(char letter) => [.. Magnets.Where(magnet => magnet.Mark[^1] == letter).Select(magnet => magnet.Face)];

    /// <summary>The map as drawings, A4 wide, as many as the stations need: letters and shades that grey print keeps.</summary>
    /// <returns>The drawings as SVG, each complete in itself.</returns>
    public IReadOnlyList<string> ToSvg() => MagnetMapDrawing.Pages(this);

    /// <summary>Writes the drawings, whole or not at all: the first to the path, further ones with -2, -3, … before the extension.</summary>
    /// <param name="path">The file; replaced where it exists.</param>
    /// <returns>The files that were written.</returns>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">A file cannot be written.</exception>
    public IReadOnlyList<string> SaveSvg(string path)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        IReadOnlyList<string> pages = ToSvg();
        var files = new List<string>();
        for (int i = 0; i < pages.Count; i++)
        {
            string file = i == 0 ? path : Path.ChangeExtension(path, null) + string.Create(CultureInfo.InvariantCulture, $"-{i + 1}") + Path.GetExtension(path);
            WholeFile.WriteText(file, pages[i]);
            files.Add(file);
        }

        return files;
    }

    /// <summary>The map in text.</summary>
    /// <returns>Several lines.</returns>
    public override string ToString() => ToSection().ToText();

    internal SheetSection ToSection()
    {
        char[] letters = [.. Magnets.Select(magnet => magnet.Mark[^1]).Distinct().Order()];
        var notes = new List<string>
        {
            "North is the face toward which a compass's south end points. Mark the north face of every magnet before you set it, and test each one against its neighbor after.",
            "Toward and away: toward the coil's path, away from it. N and S are the faces that the coil meets; an arrow points from south to north of a magnet that lies along the track.",
        };
        if (PullAtGap is Force pull)
        {
            notes.Add($"Pinch: the two magnets of a pair pull each other with about {Show.Quantity(pull)} at their gap (estimate, one pair alone){(PullTogether is Force near ? $", and with about {Show.Quantity(near)} once they are {Show.Quantity(NearlyTouching)} apart" : string.Empty)}. Hold one of them by its mount, keep fingers out of the gap, slide magnets off a stack sideways, wear eye protection: they shatter.");
        }

        return new SheetSection(
            "Magnet orientation map",
            [
                new SheetFacts(
                [
                    ("magnets", string.Join("; ", Magnets.GroupBy(magnet => magnet.Body).Select(same => string.Create(CultureInfo.InvariantCulture, $"{same.Count()} × {same.Key}")))),
                    .. letters.Select(letter => ($"faces of magnets {letter}, first to last", string.Join(' ', FacesOf(letter)))),
                ]),
                .. ToSvg().Select(svg => new SheetDrawing("Each station seen from above, +x to the right, +y up the page; dark is north.", svg)),
                new SheetNotes(notes),
                new SheetTable(
                    "places of the middles, mm",
                    ["magnet", "x", "y", "z", "grade", "north face"],
                    [.. Magnets.Select(magnet => (string[])
                    [
                        magnet.Mark,
                        Place(magnet.Along),
                        Place(magnet.Across),
                        Place(magnet.Up),
                        magnet.Body.Grade.Name,
                        magnet.North.Replace(" from the path", string.Empty, StringComparison.Ordinal).Replace(" the path", string.Empty, StringComparison.Ordinal),
                    ])]) { Words = new HashSet<int> { 4, 5 }, IsNarrow = true },
            ]);
    }

    private static Force? Greatest(IEnumerable<Force?> forces)
        => forces.OfType<Force>().Select(force => (Force?)force).MaxBy(force => force!.Value.Newtons);

    private static string Place(Length length) => (length.Millimeters + 0.0).ToString("0.00", CultureInfo.InvariantCulture);
}
