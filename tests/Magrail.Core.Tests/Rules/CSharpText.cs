using System.Text;

namespace Magrail.Tests.Rules;

/// <summary>C# source without its comments and texts; the holes of interpolated strings stay, as they are code.</summary>
public static class CSharpText
{
    public static string CodeOf(string source)
    {
        var code = new StringBuilder(source.Length);
        int at = 0;
        Code(source, ref at, code, '\0');
        return code.ToString();
    }

    // Copies code up to a closing brace of the interpolation that it is in (or to the end).
    private static void Code(string s, ref int at, StringBuilder code, char closing)
    {
        int depth = 0;
        while (at < s.Length)
        {
            char c = s[at];
            if (c == closing && depth == 0)
            {
                return;
            }

            if (Starts(s, at, "//"))
            {
                at = IndexOrEnd(s, "\n", at);
            }
            else if (Starts(s, at, "/*"))
            {
                at = Math.Min(s.Length, IndexOrEnd(s, "*/", at + 2) + 2);
                code.Append(' ');
            }
            else if (c == '\'')
            {
                at += s[at + 1] == '\\' ? 3 : 2;
                at = IndexOrEnd(s, "'", at) + 1;
                code.Append(' ');
            }
            else if (c is '"' or '$' or '@' && Quote(s, at, out int dollars, out bool verbatim, out int quotes, out int start))
            {
                at = start;
                Text(s, ref at, code, dollars, verbatim, quotes);
                code.Append(' ');
            }
            else
            {
                depth += c is '{' or '(' or '[' ? 1 : c is '}' or ')' or ']' ? -1 : 0;
                code.Append(c);
                at++;
            }
        }
    }

    private static bool Quote(string s, int at, out int dollars, out bool verbatim, out int quotes, out int start)
    {
        dollars = 0;
        verbatim = false;
        int i = at;
        while (i < s.Length && s[i] is '$' or '@')
        {
            dollars += s[i] == '$' ? 1 : 0;
            verbatim |= s[i] == '@';
            i++;
        }

        quotes = 0;
        while (i + quotes < s.Length && s[i + quotes] == '"')
        {
            quotes++;
        }

        if (quotes == 2)
        {
            // An empty text.
            start = i + 2;
            return true;
        }

        start = i + quotes;
        return quotes > 0;
    }

    // Skips a text whose opening has been read; copies the code in its holes.
    private static void Text(string s, ref int at, StringBuilder code, int dollars, bool verbatim, int quotes)
    {
        if (quotes == 2)
        {
            return;
        }

        bool raw = quotes >= 3;
        string end = new('"', quotes);
        while (at < s.Length)
        {
            if (!raw && !verbatim && s[at] == '\\')
            {
                at += 2;
            }
            else if (verbatim && Starts(s, at, "\"\""))
            {
                at += 2;
            }
            else if (Starts(s, at, end))
            {
                at += quotes;
                while (raw && at < s.Length && s[at] == '"')
                {
                    at++;
                }

                return;
            }
            else if (dollars > 0 && s[at] == '{')
            {
                int braces = 0;
                while (at + braces < s.Length && s[at + braces] == '{')
                {
                    braces++;
                }

                at += braces;
                if (raw ? braces >= dollars : braces % 2 == 1)
                {
                    code.Append(' ');
                    Code(s, ref at, code, '}');
                    at += raw ? dollars : 1;
                    code.Append(' ');
                }
            }
            else
            {
                at++;
            }
        }
    }

    private static bool Starts(string s, int at, string what) => string.CompareOrdinal(s, at, what, 0, what.Length) == 0;

    private static int IndexOrEnd(string s, string what, int from)
    {
        int index = from < s.Length ? s.IndexOf(what, from, StringComparison.Ordinal) : -1;
        return index < 0 ? s.Length : index;
    }
}
