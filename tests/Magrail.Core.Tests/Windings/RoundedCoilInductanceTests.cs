using System.Globalization;
using Magrail.Tests.ReferenceData;

namespace Magrail.Tests.Windings;

/// <summary>
/// Self- and mutual inductance of rounded-rectangle coils against filaments averaged by SciPy (ReferenceData/rounded-coil-inductance.csv,
/// scripts/rounded_coil_inductance.py): side by side, stacked, overlapping, one inside the other, far apart.
/// </summary>
public class RoundedCoilInductanceTests
{
    private const string Filaments = "filaments averaged by SciPy (script committed)";
    private static readonly AccuracyRow Self = new("self-inductance of eight rounded-rectangle coils", Filaments, 1e-7, "of L");
    private static readonly AccuracyRow Mutual = new("mutual inductance of ten pairs: side by side, stacked, overlapping, one inside the other, far", Filaments, 1e-7, "of √(L₁ L₂)");
    private static readonly AccuracyRow Digits = new("inductance of these eight coils and ten pairs, in its own digits", Filaments, 1e-6, "of each");

    private static readonly ReferenceTable Table = ReferenceTable.Read("rounded-coil-inductance.csv");

    public static TheoryData<int> Rows
    {
        get
        {
            TheoryData<int> rows = [];
            for (int i = 0; i < Table.Rows.Count; i++)
            {
                rows.Add(i);
            }

            return rows;
        }
    }

    /// <summary>Within 1e-7 of L, or of √(L₁ L₂) for a mutual inductance.</summary>
    [Theory]
    [MemberData(nameof(Rows))]
    public void Agrees_with_averaged_filaments(int index)
    {
        ReferenceTable.Row row = Table.Rows[index];
        double reference = row.Number("inductance");
        CoilSi a = Parse(row.Text("a"));
        double ours;
        double scale;
        if (row.Text("b").Length == 0)
        {
            ours = SelfInductance.Compute(a);
            scale = reference;
        }
        else
        {
            CoilSi b = Parse(row.Text("b"));
            ours = MutualInductance.Between(a, b, new Vector3D(1e-3 * row.Number("x"), 1e-3 * row.Number("y"), 1e-3 * row.Number("z")));
            scale = Math.Sqrt(SelfInductance.Compute(a) * SelfInductance.Compute(b));
        }

        // The script's own error is to be no excuse: the table is good to a few parts in ten million everywhere.
        Assert.InRange(row.Number("error"), 0, 1e-6 * scale);
        (row.Text("b").Length == 0 ? Self : Mutual).Hold(
            Math.Abs(ours - reference) / scale, row.ToString());

        // Where coils are far apart the value is small; it must still have its own digits.
        Digits.HoldRatio(reference, ours, row.ToString());
    }

    private static CoilSi Parse(string text)
    {
        double[] v = [.. text.Split(' ').Select(word => 1e-3 * double.Parse(word, CultureInfo.InvariantCulture))];
        return new CoilSi(0.5 * v[0], 0.5 * v[1], v[2], new WindingBlockSi(0, v[4], -0.5 * v[3], 0.5 * v[3], 1), default);
    }
}
