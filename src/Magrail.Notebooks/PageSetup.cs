using System.Net;
using Magrail.Charts;

namespace Magrail.Notebooks;

/// <summary>What the set-up cell shows: a line of words, and behind it the drawing script that the charts wait for.</summary>
public sealed class PageSetup
{
    internal PageSetup()
    {
    }

    /// <inheritdoc/>
    public override string ToString()
        => $"Magrail {typeof(Chart).Assembly.GetName().Version?.ToString(3)} is loaded; quantities print with their units, and charts need no network.";

    internal string ToHtml() => $"<p>{WebUtility.HtmlEncode(ToString())}</p>\n{ChartPage.Head}";
}
