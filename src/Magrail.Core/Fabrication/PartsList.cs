using System.Collections.Immutable;
using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>What to buy and make for a launcher: counts, masses, and the prices that the user gives.</summary>
public sealed class PartsList
{
    private PartsList(ImmutableArray<ListedPart> parts) => Parts = parts;

    /// <summary>The parts.</summary>
    public ImmutableArray<ListedPart> Parts { get; }

    /// <summary>Mass of all parts whose mass is known.</summary>
    public Mass KnownMass => Mass.FromKilograms(Parts.Sum(part => part.Mass?.Kilograms ?? 0));

    /// <summary>How many parts have no price.</summary>
    public int WithoutPrice => Parts.Count(part => part.Price is null);

    /// <summary>What all parts with a price cost together, one entry a currency.</summary>
    public ImmutableArray<Price> Totals
        => [.. Parts.Where(part => part.Price is not null).GroupBy(part => part.Price!.Currency).Select(same => new Price(same.Sum(part => part.Cost!.Value), same.Key))];

    /// <summary>The parts of a launcher.</summary>
    /// <param name="launcher">The launcher.</param>
    /// <param name="options">Allowances, prices and further parts; the defaults where null.</param>
    /// <exception cref="ArgumentNullException">The launcher is null.</exception>
    /// <exception cref="ArgumentException">A price is given for a part that is not on the list; the message names those that are. Or two parts have one name.</exception>
    public static PartsList Of(Launcher launcher, WorkshopOptions? options = null) => Of(launcher, options, null);

    internal static PartsList Of(Launcher launcher, WorkshopOptions? options, FuseChoice? fuse)
    {
        ArgumentNullException.ThrowIfNull(launcher);
        WorkshopOptions chosen = options ?? WorkshopOptions.Default;
        var list = new PartsList([.. PartsOf(launcher, chosen, fuse), .. chosen.MoreParts.IsDefault ? [] : chosen.MoreParts]);
        if (list.Parts.GroupBy(part => part.Name).FirstOrDefault(same => same.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"two parts are named '{twice.Key}'; prices are given by name, so each part has one of its own.", nameof(options));
        }

        foreach ((string name, Price price) in chosen.Prices)
        {
            list = list.WithPrice(name, price);
        }

        return list;
    }

    /// <summary>The same list with a price.</summary>
    /// <param name="name">Name of the part.</param>
    /// <param name="price">Price of one piece, or of one meter of what is sold by length.</param>
    /// <exception cref="ArgumentNullException">The name or the price is null.</exception>
    /// <exception cref="ArgumentException">There is no such part; the message names those that are.</exception>
    public PartsList WithPrice(string name, Price price)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(price);
        int place = Parts.Select(part => part.Name).ToList().IndexOf(name);
        return place >= 0
            ? new PartsList(Parts.SetItem(place, Parts[place] with { Price = price }))
            : throw new ArgumentException($"there is no part '{name}' to give a price for; the list has {string.Join(", ", Parts.Select(part => $"'{part.Name}'"))}.", nameof(name));
    }

    /// <summary>The list in text.</summary>
    /// <returns>Several lines.</returns>
    public override string ToString() => ToSection().ToText();

    internal SheetSection ToSection()
    {
        string total = Totals.IsEmpty ? "no price is given" : string.Join(" and ", Totals.Select(price => Price.Words(decimal.Round(price.Amount, 2), price.Currency)));
        string missing = WithoutPrice == 0
            ? "all parts have a price"
            : string.Create(CultureInfo.InvariantCulture, $"{WithoutPrice} of {Parts.Length} parts have no price, so that the total is short of them");
        int massless = Parts.Count(part => part.Mass is null);
        return new SheetSection(
            "Parts list",
            [
                new SheetTable(
                    string.Empty,
                    ["part", "amount", "what", "mass", "price each", "cost"],
                    [.. Parts.Select(part => (string[])
                    [
                        part.Name,
                        part.Amount,
                        part.Description,
                        part.Mass is Mass mass ? Show.Quantity(mass) : "–",
                        part.Price is Price price ? $"{price}{(part.Length is null ? string.Empty : "/m")}" : "not given",
                        part.Cost is decimal cost ? Price.Words(decimal.Round(cost, 2), part.Price!.Currency) : "–",
                    ])]) { Words = new HashSet<int> { 2 } },
                new SheetFacts(
                [
                    ("total", $"{total}; {missing}"),
                    ("mass of what is known", string.Create(CultureInfo.InvariantCulture, $"{Show.Quantity(KnownMass)} ({massless} parts without a mass)")),
                ]),
            ]);
    }

    private static IEnumerable<ListedPart> PartsOf(Launcher launcher, WorkshopOptions options, FuseChoice? fuse)
    {
        var bodies = launcher.Track.Stations.SelectMany(station => station.Magnets).GroupBy(magnet => magnet.Body).ToList();
        for (int i = 0; i < bodies.Count; i++)
        {
            yield return ListedPart.Pieces(Numbered("magnet", i, bodies.Count), bodies[i].Count(), bodies[i].Key.ToString()!, bodies[i].Key.Mass);
        }

        ImmutableArray<WindingSheet> windings = WindingSheet.Of(launcher.Sled, options);
        var wires = windings.GroupBy(sheet => sheet.Coil.Wire).ToList();
        for (int i = 0; i < wires.Count; i++)
        {
            var length = Length.FromMeters(wires[i].Sum(sheet => sheet.Count * sheet.CutLength.Meters));
            yield return ListedPart.ByLength(Numbered("winding wire", i, wires.Count), length, wires[i].Key.ToString(), wires[i].Key.MassOf(length));
        }

        for (int i = 0; i < windings.Length; i++)
        {
            yield return ListedPart.Pieces(Numbered("coil former", i, windings.Length), windings[i].Count, windings[i].Coil.Former.ToString());
        }

        StripCutList strips = StripCutList.Of(launcher.Contacts, options);
        yield return ListedPart.ByLength("strip stock", strips.StockLength, $"{string.Join(", ", strips.Groups.Take(3).Select(group => group.ToString()))}{(strips.Groups.Length > 3 ? ", …" : string.Empty)}, saw cuts included{(launcher.Ratings.StripMaterial is ContactMaterial metal ? $", {metal.Name}" : string.Empty)}");
        int circuits = launcher.Sled.CircuitCount;
        Brush upper = launcher.Contacts.UpperBrush;
        Brush lower = launcher.Contacts.LowerBrush;
        string BrushWords(Brush brush) => $"{Show.Quantity(brush.Length)} long, pressed with {Show.Quantity(brush.Force)}{(launcher.Ratings.BrushMaterial is ContactMaterial material ? $", {material.Name}" : string.Empty)}; mass counted with the carriage";
        if (upper.Length.Meters == lower.Length.Meters && upper.Force.Newtons == lower.Force.Newtons)
        {
            yield return ListedPart.Pieces("brush", 2 * circuits, BrushWords(upper));
        }
        else
        {
            yield return ListedPart.Pieces("upper brush", circuits, BrushWords(upper));
            yield return ListedPart.Pieces("lower brush", circuits, BrushWords(lower));
        }

        if (launcher.BusBars is BusBars bars)
        {
            yield return ListedPart.ByLength("bus bar", 2 * (bars.To - bars.From), $"two of {Show.Quantity(bars.To - bars.From)}, {Show.Quantity(bars.Resistance)} each");
        }

        if (launcher.Track.Stations[0].BackIron is BackIron iron)
        {
            yield return ListedPart.Pieces("back iron plate", 2, $"{Show.Quantity(iron.Thickness)} thick, {Show.Quantity(launcher.Track.Span + launcher.Track.Pitch)} long or more");
        }

        yield return ListedPart.Pieces("source", 1, launcher.Source.ToString()!);
        yield return ListedPart.Pieces("switch", 1, "starting switch, held to run");
        yield return ListedPart.Pieces("fuse with holder", 1, fuse is null ? "see the wiring list" : $"{fuse.Words}; times and ratings from memory, hold them against the maker's sheet");
        if (launcher.Suppressor is not IdealBreakSuppressor)
        {
            yield return ListedPart.Pieces("suppressor", circuits, launcher.Suppressor.ToString()!);
        }

        if (launcher.Leads.Section is Area section)
        {
            // l = R A/ρ.
            var length = Length.FromMeters(launcher.Leads.Resistance.Ohms * section.SquareMeters / Conductor.Copper.Resistivity.OhmMeters);
            yield return ListedPart.ByLength("lead", length, $"copper, {Show.Quantity(section)}", Mass.FromKilograms(Conductor.Copper.Density.KilogramsPerCubicMeter * section.SquareMeters * length.Meters));
        }

        yield return ListedPart.Pieces("carriage", 1, "with its brushes, without coils", launcher.Sled.Mass);
        if (launcher.Brake is SledBrake brake)
        {
            yield return ListedPart.Pieces("brake", 1, brake.ToString()!);
        }

        if (launcher.Payload.Mass.Kilograms > 0)
        {
            yield return ListedPart.Pieces("payload", 1, launcher.Payload.ToString(), launcher.Payload.Mass);
        }
    }

    private static string Numbered(string name, int number, int count)
        => count == 1 ? name : string.Create(CultureInfo.InvariantCulture, $"{name} {number + 1}");
}
