using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>The contact strips of both lines as they are cut and set: marks, places, lengths, buses, gaps, equal ones together, and how much stock they take.</summary>
public sealed class StripCutList
{
    // Strips that differ by less than a micrometer are cut alike.
    private const double SameMeters = 1e-6;

    private StripCutList(ContactCommutator contacts, Length sawCut)
    {
        Contacts = contacts;
        Strips = [.. Line(contacts.Upper, true), .. Line(contacts.Lower, false)];
        Groups = [.. GroupsOf(Strips)];
        TotalLength = Length.FromMeters(Strips.Sum(strip => strip.Strip.Length.Meters));
        StockLength = TotalLength + (Strips.Length * sawCut);
    }

    /// <summary>The commutator whose strips these are.</summary>
    public ContactCommutator Contacts { get; }

    /// <summary>The strips in the order of travel, the upper line first.</summary>
    public ImmutableArray<CutStrip> Strips { get; }

    /// <summary>Strips of one length together, the longest first.</summary>
    public ImmutableArray<CutGroup> Groups { get; }

    /// <summary>Length of all strips together.</summary>
    public Length TotalLength { get; }

    /// <summary>Strip stock to buy: all strips, and what the saw takes at each.</summary>
    public Length StockLength { get; }

    /// <summary>The length that a brush must not exceed so that it never bridges strips of opposite rails; null where no opposite strips are neighbors.</summary>
    public Length? LongestBrush => Contacts.LongestBrush;

    /// <summary>The cut list of a commutator.</summary>
    /// <param name="contacts">Strips and brushes.</param>
    /// <param name="options">What the saw takes; the defaults where null.</param>
    /// <exception cref="ArgumentNullException"><paramref name="contacts"/> is null.</exception>
    public static StripCutList Of(ContactCommutator contacts, WorkshopOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(contacts);
        return new StripCutList(contacts, (options ?? WorkshopOptions.Default).SawCut);
    }

    /// <summary>The list in text.</summary>
    /// <returns>Several lines.</returns>
    public override string ToString() => ToSection().ToText();

    internal SheetSection ToSection()
    {
        Length brush = UnitMath.Max(Contacts.UpperBrush.Length, Contacts.LowerBrush.Length);
        return new SheetSection(
            "Strip cut list",
            [
                new SheetFacts(
                [
                    ("strips", string.Join(", ", Groups.Select(group => group.ToString()))),
                    ("all together", Show.Quantity(TotalLength)),
                    ("stock to buy, saw cuts included", Show.Quantity(StockLength)),
                    ("longest brush that never bridges", LongestBrush is Length longest ? $"{Show.Quantity(longest)}; yours is {Show.Quantity(brush)}{(brush > longest ? ": IT BRIDGES" : string.Empty)}" : "any: no strips of opposite rails are neighbors"),
                ]),
                new SheetTable(
                    "equal strips",
                    ["count", "length", "together", "marks"],
                    [.. Groups.Select(group => (string[])[group.Count.ToString(CultureInfo.InvariantCulture), Millimeters(group.Length), Millimeters(group.Total), group.Marks])]) { Words = new HashSet<int> { 3 } },
                .. Pairs(),
                new SheetNotes(
                [
                    "Lengths and places in mm, x from the origin of the track's first station (unless the track says otherwise). U: line under the brush at the start of the winding; L: line under the other brush.",
                    "Break the edges, file the ends square, and keep the gaps free of chips: a chip from + to − shorts the source.",
                ]),
            ]);
    }

    /// <summary>Both lines beside each other where their strips stand alike, one below the other where they do not.</summary>
    private IEnumerable<SheetBlock> Pairs()
    {
        foreach (bool upper in new[] { true, false })
        {
            yield return new SheetTable(
                upper ? "upper line, mm" : "lower line, mm",
                ["mark", "bus", "from", "to", "length", "gap to next"],
                [.. Strips.Where(strip => strip.IsUpper == upper).Select(strip => (string[])
                [
                    strip.Mark,
                    strip.Sign,
                    Place(strip.Strip.Start),
                    Place(strip.Strip.End),
                    Place(strip.Strip.Length),
                    strip.GapToNext is Length gap ? Place(gap) : "–",
                ])]) { Words = new HashSet<int> { 1 }, IsNarrow = true };
        }
    }

    private static IEnumerable<CutStrip> Line(ContactLine line, bool upper)
    {
        ContactStrip[] strips = [.. line.Strips.OrderBy(strip => strip.Start.Meters)];
        for (int i = 0; i < strips.Length; i++)
        {
            string mark = string.Create(CultureInfo.InvariantCulture, $"{(upper ? "U" : "L")}{i + 1}");
            yield return new CutStrip(mark, upper, strips[i], i + 1 < strips.Length ? strips[i + 1].Start - strips[i].End : null);
        }
    }

    private static IEnumerable<CutGroup> GroupsOf(IReadOnlyList<CutStrip> strips)
    {
        Dictionary<string, int> order = strips.Select((strip, place) => (strip.Mark, place)).ToDictionary(each => each.Mark, each => each.place);
        CutStrip[] sorted = [.. strips.OrderByDescending(strip => strip.Strip.Length.Meters)];
        for (int first = 0; first < sorted.Length;)
        {
            int end = first;
            while (end < sorted.Length && sorted[first].Strip.Length.Meters - sorted[end].Strip.Length.Meters < SameMeters)
            {
                end++;
            }

            yield return new CutGroup(end - first, sorted[first].Strip.Length, Marks([.. sorted[first..end].OrderBy(strip => order[strip.Mark])], order));
            first = end;
        }
    }

    /// <summary>Marks with runs drawn together: U1–U9, U11.</summary>
    private static string Marks(CutStrip[] group, Dictionary<string, int> order)
    {
        var words = new List<string>();
        int[] places = [.. group.Select(strip => order[strip.Mark])];
        for (int i = 0; i < group.Length;)
        {
            int j = i;
            while (j + 1 < group.Length && places[j + 1] == places[j] + 1 && group[j + 1].IsUpper == group[i].IsUpper)
            {
                j++;
            }

            words.Add(i == j ? group[i].Mark : $"{group[i].Mark}–{group[j].Mark}");
            i = j + 1;
        }

        return string.Join(", ", words);
    }

    private static string Place(Length length) => length.Millimeters.ToString("0.00", CultureInfo.InvariantCulture);

    private static string Millimeters(Length length) => $"{Place(length)} mm";
}
