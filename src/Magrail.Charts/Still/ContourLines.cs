namespace Magrail.Charts;

/// <summary>Lines of one height over a grid, by the straight pieces in which they cross its cells.</summary>
internal static class ContourLines
{
    /// <summary>
    /// The lines at a level. Between neighboring places of the grid numbers run straight; a cell whose corners alternate is decided by their mean; a cell with
    /// a corner that has no number has no line.
    /// </summary>
    public static List<(List<double> X, List<double> Y)> At(IReadOnlyList<double> columns, IReadOnlyList<double> rows, IReadOnlyList<IReadOnlyList<double>> values, double level)
    {
        // Each piece joins two edges of the grid; an edge is known by its lower left end and its direction.
        var ends = new Dictionary<(int Row, int Column, bool Up), List<int>>();
        var pieces = new List<((int Row, int Column, bool Up) From, (int Row, int Column, bool Up) To)>();
        void Join((int, int, bool) from, (int, int, bool) to)
        {
            foreach ((int, int, bool) edge in (ReadOnlySpan<(int, int, bool)>)[from, to])
            {
                (ends.TryGetValue(edge, out List<int>? here) ? here : ends[edge] = []).Add(pieces.Count);
            }

            pieces.Add((from, to));
        }

        for (int r = 0; r + 1 < rows.Count; r++)
        {
            for (int c = 0; c + 1 < columns.Count; c++)
            {
                double[] corners = [values[r][c], values[r][c + 1], values[r + 1][c + 1], values[r + 1][c]];
                if (!corners.All(double.IsFinite))
                {
                    continue;
                }

                (int, int, bool)[] edges = [(r, c, false), (r, c + 1, true), (r + 1, c, false), (r, c, true)];
                int[] crossed = [.. Enumerable.Range(0, 4).Where(i => corners[i] >= level != corners[(i + 1) % 4] >= level)];
                if (crossed.Length == 2)
                {
                    Join(edges[crossed[0]], edges[crossed[1]]);
                }
                else if (crossed.Length == 4)
                {
                    // The two corners that are not of the middle's side are each cut off.
                    bool firstIsCutOff = corners[0] >= level != corners.Average() >= level;
                    Join(edges[0], edges[firstIsCutOff ? 3 : 1]);
                    Join(edges[2], edges[firstIsCutOff ? 1 : 3]);
                }
            }
        }

        return Lines(pieces, ends, edge => Crossing(columns, rows, values, level, edge));
    }

    private static (double X, double Y) Crossing(
        IReadOnlyList<double> columns, IReadOnlyList<double> rows, IReadOnlyList<IReadOnlyList<double>> values, double level, (int Row, int Column, bool Up) edge)
    {
        (int r, int c, bool up) = edge;
        double first = values[r][c];
        double second = up ? values[r + 1][c] : values[r][c + 1];
        double share = (level - first) / (second - first);
        return up
            ? (columns[c], rows[r] + (share * (rows[r + 1] - rows[r])))
            : (columns[c] + (share * (columns[c + 1] - columns[c])), rows[r]);
    }

    /// <summary>Pieces strung together, so that a broken line keeps its dashes.</summary>
    private static List<(List<double> X, List<double> Y)> Lines(
        List<((int Row, int Column, bool Up) From, (int Row, int Column, bool Up) To)> pieces,
        Dictionary<(int Row, int Column, bool Up), List<int>> ends,
        Func<(int Row, int Column, bool Up), (double X, double Y)> place)
    {
        var lines = new List<(List<double> X, List<double> Y)>();
        bool[] used = new bool[pieces.Count];

        // Lines that end at the rim start there; what is left are closed ones.
        IEnumerable<int> starts = Enumerable.Range(0, pieces.Count).OrderBy(i => ends[pieces[i].From].Count == 1 || ends[pieces[i].To].Count == 1 ? 0 : 1);
        foreach (int start in starts)
        {
            if (used[start])
            {
                continue;
            }

            (int Row, int Column, bool Up) at = ends[pieces[start].To].Count == 1 ? pieces[start].To : pieces[start].From;
            (List<double> X, List<double> Y) line = ([], []);
            int piece = start;
            while (piece >= 0)
            {
                used[piece] = true;
                Add(line, place(at));
                at = pieces[piece].From == at ? pieces[piece].To : pieces[piece].From;
                piece = ends[at].FirstOrDefault(next => !used[next], -1);
            }

            Add(line, place(at));
            lines.Add(line);
        }

        return lines;

        static void Add((List<double> X, List<double> Y) line, (double X, double Y) point)
        {
            line.X.Add(point.X);
            line.Y.Add(point.Y);
        }
    }
}
