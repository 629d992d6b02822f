using Magrail.Tests.Rules;

namespace Magrail.Tests;

/// <summary>docs/accuracy.md says what the tests hold, no more and no less.</summary>
public sealed class AccuracyTableTests
{
    [Fact]
    public void The_committed_table_has_the_rows_and_bounds_of_the_tests()
    {
        // A run that writes the table is about to replace what would be checked.
        if (!AccuracyTable.IsAskedFor)
        {
            Faults.None(AccuracyTable.Faults(Repository.Read("docs/accuracy.md"), AccuracyTable.Sections));
        }
    }

    [Fact]
    public void No_two_rows_are_of_one_name()
    {
        AccuracyRow[] all = [.. AccuracyTable.Sections.SelectMany(section => section.Rows)];
        Assert.True(all.Length > 30);
        Assert.Empty(all.GroupBy(row => (row.Quantity, row.Reference)).Where(group => group.Count() > 1).Select(group => group.Key));
        Assert.All(all, row => Assert.DoesNotContain('|', row.Quantity + row.Reference + row.Unit));
    }

    [Fact]
    public void A_row_keeps_its_worst_error_and_refuses_what_is_beyond_or_no_number()
    {
        var row = new AccuracyRow("length", "a rule", 0.1, "m");
        row.Hold(0.02);
        row.Hold(0.05);
        row.Hold(0.01);
        Assert.Equal(("0.05 m", "0.1 m"), (row.WorstText, row.BoundText));
        row.HoldDifference(3, 3.05);
        row.HoldRatio(2, 2.1);
        Assert.ThrowsAny<Exception>(() => row.HoldDifference(3, 3.2));
        Assert.ThrowsAny<Exception>(() => row.HoldRatio(2, 2.4));
        Assert.False(row.Holds(double.NaN));
        Assert.False(row.Holds(double.PositiveInfinity));
        Assert.True(double.IsNaN(row.Worst!.Value));
    }

    [Fact]
    public void A_stale_table_is_found()
    {
        AccuracyRow[] rows = [new("field", "a book", 1e-3, "T"), new("length", "a rule", 2, "ulp")];
        const string Empty = "before\n<!-- rows of Numerics, written by the tests -->\n<!-- end of rows -->\nafter";
        Assert.Contains(
            "not measured", Assert.Throws<InvalidOperationException>(() => AccuracyTable.Replaced(Empty, [("Numerics", rows)])).Message, StringComparison.Ordinal);
        rows[0].Hold(1.24e-7);
        rows[1].Hold(1.5);
        string text = AccuracyTable.Replaced(Empty, [("Numerics", rows)]);
        Assert.Contains("| field | a book | 1.2e-7 T | 1e-3 T |\n| length | a rule | 1.5 ulp | 2 ulp |\n<!-- end of rows -->\nafter", text, StringComparison.Ordinal);
        Assert.Empty(AccuracyTable.Faults(text, [("Numerics", rows)]));
        Assert.Equal(text, AccuracyTable.Replaced(text, [("Numerics", rows)]));

        // Another bound, another row, a missing row, an error beyond its bound.
        Assert.Equal(2, AccuracyTable.Faults(text.Replace("2 ulp", "3 ulp", StringComparison.Ordinal), [("Numerics", rows)]).Count());
        Assert.NotEmpty(AccuracyTable.Faults(text.Replace("length", "width", StringComparison.Ordinal), [("Numerics", rows)]));
        Assert.NotEmpty(AccuracyTable.Faults(text, [("Numerics", rows[..1])]));
        Assert.Single(AccuracyTable.Faults(text.Replace("1.5 ulp", "2.5 ulp", StringComparison.Ordinal), [("Numerics", rows)]));
        Assert.Throws<InvalidDataException>(() => AccuracyTable.Replaced(text, [("Elsewhere", rows)]));
    }
}
