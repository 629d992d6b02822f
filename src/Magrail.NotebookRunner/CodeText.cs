using System.Net;
using System.Text;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace Magrail.NotebookRunner;

/// <summary>C# as HTML, with keywords, texts, numbers and remarks marked.</summary>
internal static class CodeText
{
    private static readonly CSharpParseOptions Script = CSharpParseOptions.Default.WithKind(SourceCodeKind.Script).WithLanguageVersion(LanguageVersion.Latest);

    public static string Html(string code)
    {
        var html = new StringBuilder();
        SyntaxNode root = CSharpSyntaxTree.ParseText(code, Script).GetRoot();
        foreach (SyntaxToken token in root.DescendantTokens())
        {
            foreach (SyntaxTrivia trivia in token.LeadingTrivia)
            {
                Append(html, trivia);
            }

            string? mark = token.Kind() switch
            {
                var kind when SyntaxFacts.IsKeywordKind(kind) => "k",
                _ when token.ValueText == "var" && token.IsKind(SyntaxKind.IdentifierToken) => "k",
                SyntaxKind.NumericLiteralToken => "n",
                SyntaxKind.StringLiteralToken or SyntaxKind.InterpolatedStringTextToken or SyntaxKind.InterpolatedStringStartToken
                    or SyntaxKind.InterpolatedStringEndToken or SyntaxKind.CharacterLiteralToken => "s",
                _ => null,
            };
            Append(html, token.Text, mark);
            foreach (SyntaxTrivia trivia in token.TrailingTrivia)
            {
                Append(html, trivia);
            }
        }

        return html.ToString();
    }

    private static void Append(StringBuilder html, SyntaxTrivia trivia)
        => Append(
            html,
            trivia.ToFullString(),
            trivia.IsDirective ? "k" : trivia.IsKind(SyntaxKind.SingleLineCommentTrivia) || trivia.IsKind(SyntaxKind.MultiLineCommentTrivia) ? "c" : null);

    private static void Append(StringBuilder html, string text, string? mark)
    {
        if (text.Length == 0)
        {
            return;
        }

        string encoded = WebUtility.HtmlEncode(text);
        html.Append(mark is null ? encoded : $"<span class=\"{mark}\">{encoded}</span>");
    }
}
