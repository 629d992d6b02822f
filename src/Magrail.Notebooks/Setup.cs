using System.Globalization;
using System.Net;
using Magrail.Charts;
using Magrail.Files;
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
        Formatter.Register<string>(words => words, PlainTextFormatter.MimeType);
        Formatter.Register<string>(WordsHtml, HtmlFormatter.MimeType);
        PreferBoth(typeof(string));
        PartsInTheirOwnWords();
        AsFacts<LaunchResult>(Facts.Of);
        AsFacts<Coil>(Facts.Of);
        AsFacts<EnergyLedger>(Facts.Of);
        AsFacts<BrakingResult>(Facts.Of);
        AsTable<LimitTable>(Table.Of);
        AsTable<IEnumerable<ContactBreak>>(breaks => Table.Of([.. breaks]));
        AsTable<EffectCosts>(Table.Of);
        AsTable<LaunchSeriesResult>(Table.Of);
        AsSheet<WindingSheet>(sheet => Sheets.Text(sheet.ToSection()), sheet => Sheets.Html(sheet.ToSection()));
        AsSheet<StripCutList>(sheet => Sheets.Text(sheet.ToSection()), sheet => Sheets.Html(sheet.ToSection()));
        AsSheet<MagnetMap>(sheet => Sheets.Text(sheet.ToSection()), sheet => Sheets.Html(sheet.ToSection()));
        AsSheet<WiringList>(sheet => Sheets.Text(sheet.ToSection()), sheet => Sheets.Html(sheet.ToSection()));
        AsSheet<PartsList>(sheet => Sheets.Text(sheet.ToSection()), sheet => Sheets.Html(sheet.ToSection()));
        AsSheet<CheckList>(sheet => Sheets.Text(sheet.ToSection()), sheet => Sheets.Html(sheet.ToSection()));
        AsSheet<StripTemplate>(Sheets.Text, Sheets.Html);
        AsSheet<TemplateTile>(tile => tile.ToString(), Sheets.Html);
        AsSheet<WorkshopSheet>(Sheets.Text, Sheets.Html);
        AsTable<StudyResult>(Table.Of);
        AsTable<TradeOff>(Table.Of);
        AsTable<ToleranceResult>(Table.Of);
        AsTable<Influences>(Table.Of);
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

    /// <summary>Every part of a launcher says what it is; a tree of its properties would bury that. To name a type of each library here also lets notebooks use them all.</summary>
    private static void PartsInTheirOwnWords()
    {
        foreach (Type type in typeof(Launcher).Assembly.GetExportedTypes().Concat([typeof(Check), typeof(Answer), typeof(RunCsvOptions)]))
        {
            if (type.IsEnum || type.IsInterface || (type.IsAbstract && type.IsSealed) || typeof(Exception).IsAssignableFrom(type))
            {
                continue;
            }

            Formatter.Register(type, (part, writer) => writer.Write(part), PlainTextFormatter.MimeType);
            Formatter.Register(type, (part, writer) => writer.Write(WordsHtml(part.ToString() ?? string.Empty)), HtmlFormatter.MimeType);
            PreferBoth(type);
        }
    }

    private static string WordsHtml(string words)
    {
        string encoded = WebUtility.HtmlEncode(words);
        return words.Contains('\n', StringComparison.Ordinal) ? $"<pre>{encoded}</pre>" : encoded;
    }

    private static void AsFacts<T>(Func<T, IReadOnlyList<(string Name, string Value)>> facts)
    {
        Formatter.Register<T>(value => Facts.Text(facts(value)), PlainTextFormatter.MimeType);
        Formatter.Register<T>(value => Facts.Html(facts(value)), HtmlFormatter.MimeType);
        PreferBoth(typeof(T));
    }

    private static void AsTable<T>(Func<T, Table> table)
    {
        Formatter.Register<T>(value => table(value).ToText(), PlainTextFormatter.MimeType);
        Formatter.Register<T>(value => table(value).ToHtml(), HtmlFormatter.MimeType);
        PreferBoth(typeof(T));
    }

    private static void AsSheet<T>(Func<T, string> text, Func<T, string> html)
    {
        Formatter.Register(text, PlainTextFormatter.MimeType);
        Formatter.Register(html, HtmlFormatter.MimeType);
        PreferBoth(typeof(T));
    }

    private static void Both<T>(Func<T, string> text)
    {
        Formatter.Register(text, PlainTextFormatter.MimeType);
        Formatter.Register<T>(value => WebUtility.HtmlEncode(text(value)), HtmlFormatter.MimeType);
        PreferBoth(typeof(T));
    }

    private static void PreferBoth(Type type)
        => Formatter.SetPreferredMimeTypesFor(type, HtmlFormatter.MimeType, PlainTextFormatter.MimeType);
}
