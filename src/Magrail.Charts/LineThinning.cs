namespace Magrail.Charts;

/// <summary>
/// Leaves out the points of a line that no eye could miss, so that pages stay small: a point goes where the line without
/// it stays within an eight-thousandth of the line's height (Douglas and Peucker's rule, with heights measured straight up).
/// </summary>
internal static class LineThinning
{
    private const double Share = 1.0 / 8000;

    /// <summary>Indices of the points that stay, in order; the first and the last always do.</summary>
    /// <param name="x">Numbers along.</param>
    /// <param name="y">Numbers up.</param>
    /// <param name="within">How far off the line may come, as a part of its height.</param>
    public static int[] Kept(IReadOnlyList<double> x, IReadOnlyList<double> y, double within = Share)
    {
        int count = y.Count;
        if (count < 3)
        {
            return [.. Enumerable.Range(0, count)];
        }

        double allowed = within * (y.Max() - y.Min());
        bool[] kept = new bool[count];
        kept[0] = kept[^1] = true;
        var open = new Stack<(int From, int To)>();
        open.Push((0, count - 1));
        while (open.Count > 0)
        {
            (int from, int to) = open.Pop();
            int farthest = -1;
            double distance = allowed;
            double run = x[to] - x[from];
            for (int i = from + 1; i < to; i++)
            {
                double share = run == 0 ? 0 : (x[i] - x[from]) / run;
                double off = Math.Abs(y[i] - (y[from] + (share * (y[to] - y[from]))));
                if (off > distance || (run == 0 && x[i] != x[from]))
                {
                    distance = off;
                    farthest = i;
                }
            }

            if (farthest >= 0)
            {
                kept[farthest] = true;
                open.Push((from, farthest));
                open.Push((farthest, to));
            }
        }

        return [.. Enumerable.Range(0, count).Where(i => kept[i])];
    }
}
