using System.Globalization;
using System.Net;
using System.Text;

namespace Magrail;

/// <summary>One sheet for the bench: a title and its blocks, printed as text or as HTML from the same words.</summary>
internal sealed record SheetSection(string Title, IReadOnlyList<SheetBlock> Blocks)
{
    public string ToText()
        => string.Join(Environment.NewLine, Blocks.Select(block => block.ToText()).Where(text => text.Length > 0).Prepend(Title));

    /// <summary>HTML without a page around it; the heading's level is given.</summary>
    public string ToHtml(int level = 2)
        => string.Create(CultureInfo.InvariantCulture, $"<h{level}>{WebUtility.HtmlEncode(Title)}</h{level}>") + string.Concat(Blocks.Select(block => block.ToHtml()));
}

/// <summary>A block of a sheet.</summary>
internal abstract record SheetBlock
{
    public abstract string ToText();

    public abstract string ToHtml();

    private protected static string Encode(string text) => WebUtility.HtmlEncode(text);
}

/// <summary>Names and values.</summary>
internal sealed record SheetFacts(IReadOnlyList<(string Name, string Value)> Facts, string Caption = "") : SheetBlock
{
    public override string ToText()
        => string.Join(Environment.NewLine, Facts.Select(fact => $"  {fact.Name}: {fact.Value}").Prepend(Caption.Length > 0 ? $"  {Caption}" : null).OfType<string>());

    public override string ToHtml()
        => $"<table class=\"facts magrail-facts\">{(Caption.Length > 0 ? $"<caption style=\"text-align:left;font-weight:bold\">{Encode(Caption)}</caption>" : string.Empty)}<tbody>"
            + string.Concat(Facts.Select(fact => $"<tr><th scope=\"row\" style=\"text-align:left\">{Encode(fact.Name)}</th><td style=\"text-align:left\">{Encode(fact.Value)}</td></tr>"))
            + "</tbody></table>";
}

/// <summary>A table with a caption, its first column to the left, numbers to the right where the columns say so.</summary>
internal sealed record SheetTable(string Caption, IReadOnlyList<string> Heads, IReadOnlyList<IReadOnlyList<string>> Rows) : SheetBlock
{
    private const int LongRows = 24;

    /// <summary>Columns of words, to the left; the first one always is.</summary>
    public IReadOnlySet<int> Words { get; init; } = new HashSet<int>();

    /// <summary>Whether the table is narrow enough for two columns beside each other, where it is long.</summary>
    public bool IsNarrow { get; init; }

    public override string ToText()
    {
        if (Rows.Count == 0)
        {
            return string.Empty;
        }

        int[] widths = [.. Heads.Select((head, column) => Rows.Select(row => row[column].Length).Append(head.Length).Max())];
        var text = new StringBuilder();
        if (Caption.Length > 0)
        {
            text.Append("  ").Append(Caption).AppendLine();
        }

        bool first = true;
        foreach (IReadOnlyList<string> row in Rows.Prepend(Heads))
        {
            if (!first)
            {
                text.AppendLine();
            }

            first = false;
            for (int column = 0; column < row.Count; column++)
            {
                text.Append("  ").Append(IsWords(column) ? row[column].PadRight(widths[column]) : row[column].PadLeft(widths[column]));
            }

            while (text[^1] == ' ')
            {
                text.Length--;
            }
        }

        return text.ToString();
    }

    public override string ToHtml()
    {
        if (Rows.Count == 0)
        {
            return string.Empty;
        }

        // Beside each other in pieces: browsers that repeat no head in a second column would leave it without one.
        if (IsNarrow && Rows.Count > LongRows)
        {
            int half = (Rows.Count + 1) / 2;
            if (half > 2 * LongRows)
            {
                // Too long for one page: pieces of a page each.
                return string.Concat(Rows.Chunk(4 * LongRows).Select((piece, number) => (this with { Rows = piece, Caption = number == 0 ? Caption : $"{Caption}, continued" }).ToHtml()));
            }

            return $"<div class=\"pair\" style=\"display:flex;gap:9mm\">{(this with { Rows = [.. Rows.Take(half)], IsNarrow = false }).ToHtml()}{(this with { Rows = [.. Rows.Skip(half)], IsNarrow = false, Caption = Caption.Length > 0 ? "\u00a0" : string.Empty }).ToHtml()}</div>";
        }

        var html = new StringBuilder("<div style=\"overflow-x:auto\"><table class=\"magrail-facts\">");
        if (Caption.Length > 0)
        {
            html.Append("<caption style=\"text-align:left;font-weight:bold\">").Append(Encode(Caption)).Append("</caption>");
        }

        html.Append("<thead><tr>");
        for (int column = 0; column < Heads.Count; column++)
        {
            html.Append("<th scope=\"col\"").Append(Align(column)).Append('>').Append(Encode(Heads[column])).Append("</th>");
        }

        html.Append("</tr></thead><tbody>");
        foreach (IReadOnlyList<string> row in Rows)
        {
            html.Append("<tr>");
            for (int column = 0; column < row.Count; column++)
            {
                html.Append("<td").Append(Align(column)).Append('>').Append(Encode(row[column])).Append("</td>");
            }

            html.Append("</tr>");
        }

        return html.Append("</tbody></table></div>").ToString();
    }

    private bool IsWords(int column) => column == 0 || Words.Contains(column);

    private string Align(int column) => IsWords(column) ? " style=\"text-align:left\"" : " style=\"text-align:right;white-space:nowrap\"";
}

/// <summary>Sentences, one a line.</summary>
internal sealed record SheetNotes(IReadOnlyList<string> Notes) : SheetBlock
{
    public override string ToText() => string.Join(Environment.NewLine, Notes.Select(note => $"  - {note}"));

    public override string ToHtml()
        => Notes.Count == 0 ? string.Empty : $"<ul>{string.Concat(Notes.Select(note => $"<li>{Encode(note)}</li>"))}</ul>";
}

/// <summary>Steps with a box to tick.</summary>
internal sealed record SheetSteps(string Caption, IReadOnlyList<(int Number, string What, string Expect)> Steps) : SheetBlock
{
    public override string ToText()
        => string.Join(Environment.NewLine, Steps.Select(step => string.Create(CultureInfo.InvariantCulture, $"  [ ] {step.Number}. {step.What}: {step.Expect}")).Prepend($"  {Caption}"));

    public override string ToHtml()
        => $"<h3>{Encode(Caption)}</h3><table class=\"steps magrail-facts\"><tbody>"
            + string.Concat(Steps.Select(step => string.Create(CultureInfo.InvariantCulture, $"<tr><td class=\"box\">&#x2610;</td><td style=\"text-align:right\">{step.Number}</td><td style=\"text-align:left\">{Encode(step.What)}</td><td style=\"text-align:left\">{Encode(step.Expect)}</td></tr>")))
            + "</tbody></table>";
}

/// <summary>A drawing, seen on a page only; text has its caption.</summary>
internal sealed record SheetDrawing(string Caption, string Svg) : SheetBlock
{
    public override string ToText() => $"  {Caption}";

    // In a page the drawing has no declaration of its own.
    public override string ToHtml() => $"<figure>{Svg[Svg.IndexOf("<svg", StringComparison.Ordinal)..]}<figcaption>{Encode(Caption)}</figcaption></figure>";
}
