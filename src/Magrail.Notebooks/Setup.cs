using System.Globalization;
using System.Net;
using Magrail.Charts;
using Magrail.Units;
using Microsoft.DotNet.Interactive.Formatting;
using UnitsNet;

namespace Magrail.Notebooks;

/// <summary>Makes a notebook print quantities, charts and results as people read them.</summary>
public static class Setup
{
    /// <summary>
    /// Registers the formatters with the running notebook kernel and hands back the drawing script for the page. Call it as
    /// the last line of the set-up cell, without a semicolon or with its value shown, once in each notebook.
    /// </summary>
    /// <returns>A greeting that carries the drawing script; the charts of all later cells wait for it.</returns>
    /// <remarks>Calling it again does no harm.</remarks>
    public static PageSetup Register()
    {
        // Quantities stand inside tables and tuples too, which are printed as HTML: hence both forms.
        Both<IQuantity>(QuantityText.Of);
        Both<double>(NumberText);
        Formatter.Register<Chart>(chart => chart.ToText(), PlainTextFormatter.MimeType);
        Formatter.Register<Chart>(chart => chart.ToHtml(), HtmlFormatter.MimeType);
        PreferBoth(typeof(Chart));
        Formatter.Register<PageSetup>(setup => setup.ToString(), PlainTextFormatter.MimeType);
        Formatter.Register<PageSetup>(setup => setup.ToHtml(), HtmlFormatter.MimeType);
        PreferBoth(typeof(PageSetup));
        return new PageSetup();
    }

    /// <summary>A number with up to four significant digits, or all digits of a whole number.</summary>
    internal static string NumberText(double value)
        => Math.Abs(value) is >= 1e4 and < 1e9 ? value.ToString("F0", CultureInfo.InvariantCulture) : value.ToString("G4", CultureInfo.InvariantCulture);

    private static void Both<T>(Func<T, string> text)
    {
        Formatter.Register(text, PlainTextFormatter.MimeType);
        Formatter.Register<T>(value => WebUtility.HtmlEncode(text(value)), HtmlFormatter.MimeType);
        PreferBoth(typeof(T));
    }

    private static void PreferBoth(Type type)
        => Formatter.SetPreferredMimeTypesFor(type, HtmlFormatter.MimeType, PlainTextFormatter.MimeType);
}
