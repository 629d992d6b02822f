namespace Magrail.Charts;

/// <summary>
/// How wide words are at most. The reader's fonts are not known here, so widths are those of a wide common sans-serif (DejaVu Sans, measured in
/// classes of letters, from memory); narrower fonts leave a little room.
/// </summary>
internal static class TextWidth
{
    public static double Of(string words, double size) => size * words.Sum(Share);

    /// <summary>Words broken at blanks into lines that fit a width; a word alone may be wider.</summary>
    public static IEnumerable<string> Lines(string words, double size, double width)
    {
        string line = string.Empty;
        foreach (string word in words.Split([' ', '\n', '\r', '\t'], StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && Of(longer, size) > width)
            {
                yield return line;
                longer = word;
            }

            line = longer;
        }

        if (line.Length > 0)
        {
            yield return line;
        }
    }

    private static double Share(char letter) => letter switch
    {
        'i' or 'j' or 'l' or '.' or ',' or ':' or ';' or '\'' or '|' or ' ' or '\u2009' => 0.33,
        'f' or 't' or 'r' or '(' or ')' or '[' or ']' or '-' or '/' => 0.41,
        'm' or 'w' or 'M' or 'W' or '%' or '@' => 0.98,
        '+' or '=' or '<' or '>' or '±' or '×' or '≥' or '≤' or '\u2212' => 0.84,
        >= 'A' and <= 'Z' => 0.73,
        _ => 0.63,
    };
}
