using System.Collections.Immutable;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Fabrication;

public sealed class PartsListTests
{
    [Fact]
    public void Counts_and_masses_are_the_launchers()
    {
        PartsList list = PartsList.Of(Benches.Plain);
        ListedPart magnets = Named(list, "magnet");
        Assert.Equal(24, magnets.Count);
        Assert.Equal(24 * Benches.Plain.Track.Stations[0].Magnets[0].Body.Mass.Kilograms, magnets.Mass!.Value.Kilograms, 12);
        WindingSheet winding = WindingSheet.Of(Benches.Plain.Sled)[0];
        Assert.Equal(winding.CutLength.Meters, Named(list, "winding wire").Length!.Value.Meters, 12);
        Assert.Equal(winding.Coil.Wire.MassOf(winding.CutLength).Kilograms, Named(list, "winding wire").Mass!.Value.Kilograms, 12);
        Assert.Equal(StripCutList.Of(Benches.Plain.Contacts).StockLength.Meters, Named(list, "strip stock").Length!.Value.Meters, 12);
        Assert.Equal(2, Named(list, "brush").Count);
        Assert.Equal(25, Named(list, "carriage").Mass!.Value.Grams, 9);
        Assert.Equal(list.Parts.Sum(part => part.Mass?.Kilograms ?? 0), list.KnownMass.Kilograms, 12);

        PartsList two = PartsList.Of(Benches.TwoCircuits);
        Assert.Equal(4, Named(two, "brush").Count);
        Assert.Equal(2, Named(two, "coil former").Count);
        Assert.Equal(2, Named(two, "suppressor").Count);
        Assert.Equal(2 * winding.CutLength.Meters, Named(two, "winding wire").Length!.Value.Meters, 12);

        // 2 m of 2.5 mm²: the length comes back from resistance and section.
        Assert.Equal(2, Named(PartsList.Of(Benches.Supplied), "lead").Length!.Value.Meters, 9);
    }

    [Fact]
    public void Prices_add_up_and_missing_ones_are_counted()
    {
        PartsList bare = PartsList.Of(Benches.Plain);
        Assert.Empty(bare.Totals);
        Assert.Contains("no price is given", bare.ToString(), StringComparison.Ordinal);
        PartsList some = bare.WithPrice("magnet", new Price(0.85m, "EUR")).WithPrice("strip stock", new Price(4m, "EUR")).WithPrice("fuse with holder", new Price(3.2m, "USD"));
        decimal stock = 4m * (decimal)Named(bare, "strip stock").Length!.Value.Meters;
        Assert.Equal(["EUR", "USD"], some.Totals.Select(total => total.Currency));
        Assert.Equal((24 * 0.85m) + stock, some.Totals[0].Amount);
        Assert.Equal(3.2m, some.Totals[1].Amount);
        Assert.Equal(bare.Parts.Length - 3, some.WithoutPrice);
        Assert.Contains($"{some.WithoutPrice} of {some.Parts.Length} parts have no price, so that the total is short of them", some.ToString(), StringComparison.Ordinal);
        Assert.Contains("20.40 EUR", some.ToString(), StringComparison.Ordinal);
        Assert.Contains(FormattableString.Invariant($"total: {decimal.Round((24 * 0.85m) + stock, 2):0.00} EUR and 3.20 USD; "), some.ToString(), StringComparison.Ordinal);
        Assert.Contains("not given", some.ToString(), StringComparison.Ordinal);

        PartsList all = bare;
        foreach (ListedPart part in bare.Parts)
        {
            all = all.WithPrice(part.Name, new Price(1m, "EUR"));
        }

        Assert.Equal(0, all.WithoutPrice);
        Assert.Contains("all parts have a price", all.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Further_parts_and_prices_come_by_the_options()
    {
        var options = new WorkshopOptions
        {
            MoreParts = [ListedPart.Pieces("screws M3 × 16", 40, "pan head", 1.2.Grams(), new Price(0.05m, "EUR")), ListedPart.ByLength("plywood", 1.2.Meters())],
            Prices = ImmutableDictionary<string, Price>.Empty.Add("plywood", new Price(9m, "EUR")),
        };
        PartsList list = PartsList.Of(Benches.Plain, options);
        Assert.Equal(48, Named(list, "screws M3 × 16").Mass!.Value.Grams, 9);
        Assert.Equal(2m + (9m * 1.2m), Assert.Single(list.Totals).Amount);
        Assert.Equal("40 × screws M3 × 16", Named(list, "screws M3 × 16").ToString());
        Assert.Equal("1.2 m of plywood", Named(list, "plywood").ToString());
    }

    [Fact]
    public void Bad_prices_and_parts_say_what_is_wrong()
    {
        ArgumentException unknown = Assert.Throws<ArgumentException>(() => PartsList.Of(Benches.Plain).WithPrice("magnets", new Price(1m, "EUR")));
        Assert.Contains("there is no part 'magnets' to give a price for; the list has 'magnet', ", unknown.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => PartsList.Of(Benches.Plain, new WorkshopOptions { Prices = ImmutableDictionary<string, Price>.Empty.Add("gold", new Price(1m, "EUR")) }));
        StripTemplateTests.Says("amount is -1; it must be zero or above", () => new Price(-1m, "EUR"));
        Assert.Throws<ArgumentException>(() => new Price(1m, " "));
        StripTemplateTests.Says("count is 0; it must be 1 or more", () => ListedPart.Pieces("x", 0));
        StripTemplateTests.Says("length is 0 m", () => ListedPart.ByLength("x", Length.Zero));
        Assert.Contains("two parts are named 'magnet'", Assert.Throws<ArgumentException>(() => PartsList.Of(Benches.Plain, new WorkshopOptions { MoreParts = [ListedPart.Pieces("magnet", 1)] })).Message, StringComparison.Ordinal);
        Assert.Equal("0.45 EUR", new Price(0.45m, "EUR").ToString());
        Assert.Equal("12.00 EUR", new Price(12m, "EUR").ToString());
    }

    private static ListedPart Named(PartsList list, string name) => list.Parts.Single(part => part.Name == name);
}
