using Magrail.Tests.Launch;
using Magrail.Units;
using UnitsNet;

namespace Magrail.Tests.Fabrication;

public sealed class StripCutListTests
{
    [Fact]
    public void Equal_strips_stand_together()
    {
        StripCutList list = StripCutList.Of(Benches.Plain.Contacts);
        Assert.Equal(22, list.Strips.Length);
        CutGroup group = Assert.Single(list.Groups);
        Assert.Equal(22, group.Count);

        // dwell 0.8 · pitch 20 mm − brush 3 mm.
        Assert.Equal(13, group.Length.Millimeters, 9);
        Assert.Equal("U1–U11, L1–L11", group.Marks);
        Assert.Equal("22 × 13 mm", group.ToString());
        Assert.Equal(22 * 13, list.TotalLength.Millimeters, 9);
        Assert.Equal(22 * 14, list.StockLength.Millimeters, 9);
        Assert.Equal(7, list.LongestBrush!.Value.Millimeters, 9);
        Assert.All(list.Strips.Where(strip => strip.GapToNext is not null), strip => Assert.Equal(7, strip.GapToNext!.Value.Millimeters, 9));
    }

    [Fact]
    public void Unlike_strips_stand_apart_and_nothing_is_lost()
    {
        StripCutList list = StripCutList.Of(Benches.Uneven.Contacts, new WorkshopOptions { SawCut = 2.Millimeters() });
        Assert.Equal(8, list.Strips.Length);
        Assert.Equal(4, list.Groups.Length);
        Assert.Equal(8, list.Groups.Sum(group => group.Count));
        Assert.Equal(list.Strips.Sum(strip => strip.Strip.Length.Meters), list.Groups.Sum(group => group.Total.Meters), 12);
        Assert.Equal(list.TotalLength.Millimeters + 16, list.StockLength.Millimeters, 9);
        Assert.Equal(["U1, L1", "U4, L4", "U2, L2", "U3, L3"], list.Groups.Select(group => group.Marks));
        Assert.Equal("−+0+", string.Concat(list.Strips.Where(strip => strip.IsUpper).Select(strip => strip.Sign)));
        Assert.Equal("+−0−", string.Concat(list.Strips.Where(strip => !strip.IsUpper).Select(strip => strip.Sign)));
    }

    [Fact]
    public void The_list_reads()
    {
        string text = StripCutList.Of(Benches.Plain.Contacts).ToString();
        Assert.StartsWith("Strip cut list", text, StringComparison.Ordinal);
        Assert.Contains("longest brush that never bridges: 7 mm; yours is 3 mm", text, StringComparison.Ordinal);
        Assert.Matches(@"(?m)^  U2 +\+ +23\.00 +36\.00 +13\.00 +7\.00$", text);
        Assert.Matches(@"(?m)^  L11 +\+ +203\.00 +216\.00 +13\.00 +–$", text);
        Assert.Contains("IT BRIDGES", StripCutList.Of(LaunchBench.Commutator(9, (0, 10, Bus.Plus, Bus.Minus), (15, 25, Bus.Minus, Bus.Plus))).ToString(), StringComparison.Ordinal);
        Assert.Throws<ArgumentNullException>(() => StripCutList.Of(null!));
    }
}
