using System.Globalization;
using UnitsNet;

namespace Magrail;

/// <summary>One sheet of A4 of a template: the piece of the track that it shows.</summary>
public sealed class TemplateTile
{
    internal TemplateTile(StripTemplate template, int number, int count, int column, int row, double left, double top)
    {
        Template = template;
        Number = number;
        Count = count;
        Column = column;
        Row = row;
        Left = left;
        Top = top;
    }

    /// <summary>The template that this is a sheet of.</summary>
    public StripTemplate Template { get; }

    /// <summary>Number of the sheet, from 1, along the track first.</summary>
    public int Number { get; }

    /// <summary>How many sheets there are.</summary>
    public int Count { get; }

    /// <summary>Its place along the track, from 1.</summary>
    public int Column { get; }

    /// <summary>Its place across the track, from 1 on the +y side.</summary>
    public int Row { get; }

    /// <summary>Where the piece of the track that it shows begins.</summary>
    public Length From => Length.FromMillimeters(Left);

    /// <summary>Where that piece ends.</summary>
    public Length To => Length.FromMillimeters(Left + Template.WindowWidth);

    /// <summary>Left edge of the window, x in mm.</summary>
    internal double Left { get; }

    /// <summary>Upper edge of the window, mm down from the middle of the track.</summary>
    internal double Top { get; }

    /// <summary>The sheet as SVG, 210 mm × 297 mm or the other way round: to be printed at 100 %.</summary>
    public string ToSvg() => Template.Draw(this).ToString();

    /// <summary>Writes the sheet, whole or not at all.</summary>
    /// <param name="path">The file; replaced where it exists.</param>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public void SaveSvg(string path) => WholeFile.WriteText(path, ToSvg());

    /// <summary>Such as <c>sheet 2 of 5, from x = 170 mm to x = 350 mm</c>.</summary>
    /// <returns>The text.</returns>
    public override string ToString()
        => string.Create(CultureInfo.InvariantCulture, $"sheet {Number} of {Count}, from x = {Left:0.0} mm to x = {Left + Template.WindowWidth:0.0} mm{(Template.Rows > 1 ? $", row {Row} of {Template.Rows}" : string.Empty)}");
}
