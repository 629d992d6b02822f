using System.Text;

namespace Magrail.Charts;

/// <summary>Shapes drawn to scale, in one view or several side by side, each at equal scale both ways.</summary>
public sealed record Drawing : Chart
{
    /// <summary>A drawing of one view or several.</summary>
    /// <param name="title">What it shows.</param>
    /// <param name="views">The views, from the left, or from the top down where the page is narrow.</param>
    /// <exception cref="ArgumentException">A text is empty or there is no view.</exception>
    public Drawing(string title, params IReadOnlyList<DrawingView> views)
        : base(title)
    {
        ArgumentNullException.ThrowIfNull(views);
        if (views.Count == 0)
        {
            throw new ArgumentException($"The drawing '{title}' has no view: it needs at least one.", nameof(views));
        }

        Views = [.. views];
    }

    /// <summary>The views.</summary>
    public IReadOnlyList<DrawingView> Views { get; }

    /// <inheritdoc/>
    public override string ToText()
    {
        var text = new StringBuilder(Title);
        foreach (DrawingView view in Views)
        {
            text.Append("\n  ").Append(view.Title).Append(": ").Append(view.Words);
            foreach ((string name, string value) in view.Facts)
            {
                text.Append("\n    ").Append(name).Append(": ").Append(value);
            }
        }

        return text.ToString();
    }

    internal override string FigureJson() => Views[0].FigureJson();

    internal override IReadOnlyList<(string Title, string Words, string Json)> Figures()
        => [.. Views.Select((view, i) => (Views.Count == 1 ? string.Empty : view.Title, i == 0 ? Description : view.Words, view.FigureJson()))];

    private protected override void DrawStill(SvgSheet sheet) => StillPlane.Draw(this, sheet);

    private protected override string Describe() => string.Join(' ', Views.Select(view => view.Words));

    private protected override string TableHtml()
    {
        var html = new StringBuilder();
        foreach (DrawingView view in Views.Where(view => view.Facts.Count > 0))
        {
            html.Append("<table><caption>").Append(Encode(view.Title)).Append("</caption><tbody>");
            foreach ((string name, string value) in view.Facts)
            {
                html.Append("<tr><th scope=\"row\">").Append(Encode(name)).Append("</th><td>").Append(Encode(value)).Append("</td></tr>");
            }

            html.Append("</tbody></table>");
        }

        return html.ToString();
    }
}
