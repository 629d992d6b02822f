using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>One strip of the cut list.</summary>
/// <param name="Mark">Its mark on template and list: U for the upper line or L for the lower one, and its number in the order of travel.</param>
/// <param name="IsUpper">Whether it belongs to the upper line.</param>
/// <param name="Strip">Place and bus.</param>
/// <param name="GapToNext">Clear distance to the next strip of its line; null for the last one.</param>
public sealed record CutStrip(string Mark, bool IsUpper, ContactStrip Strip, Length? GapToNext)
{
    /// <summary>The bus as a sign: +, − or 0 for a dead strip.</summary>
    public string Sign => Strip.Bus switch
    {
        Bus.Plus => "+",
        Bus.Minus => "−",
        _ => "0",
    };

    /// <summary>The strip in words.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => $"{Mark} {Sign}: {Show.Quantity(Strip.Start)} to {Show.Quantity(Strip.End)}, {Show.Quantity(Strip.Length)} long";
}

/// <summary>Strips of one length.</summary>
/// <param name="Count">How many.</param>
/// <param name="Length">Length of each.</param>
/// <param name="Marks">Their marks.</param>
public sealed record CutGroup(int Count, Length Length, string Marks)
{
    /// <summary>Length of all together.</summary>
    public Length Total => Count * Length;

    /// <summary>Such as <c>94 × 13 mm</c>.</summary>
    /// <returns>The text.</returns>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Count} × {Show.Quantity(Length)}");
}
