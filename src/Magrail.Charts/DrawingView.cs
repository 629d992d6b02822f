namespace Magrail.Charts;

/// <summary>One view of a drawing, at equal scale both ways.</summary>
public sealed record DrawingView
{
    /// <summary>A view of shapes.</summary>
    /// <param name="title">From where one looks.</param>
    /// <param name="words">One or two sentences that say what a sighted reader would see.</param>
    /// <param name="horizontal">The horizontal axis.</param>
    /// <param name="vertical">The vertical axis.</param>
    /// <param name="outlines">The shapes, each over the one before.</param>
    /// <exception cref="ArgumentException">A text is empty or there is no shape.</exception>
    public DrawingView(string title, string words, ChartAxis horizontal, ChartAxis vertical, params IReadOnlyList<ChartOutline> outlines)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(title);
        ArgumentException.ThrowIfNullOrWhiteSpace(words);
        ArgumentNullException.ThrowIfNull(horizontal);
        ArgumentNullException.ThrowIfNull(vertical);
        ArgumentNullException.ThrowIfNull(outlines);
        if (!outlines.Any(outline => outline.X.Any(double.IsFinite)))
        {
            throw new ArgumentException($"The view '{title}' has no shape: it needs at least one.", nameof(outlines));
        }

        Title = title;
        Words = words;
        Horizontal = horizontal;
        Vertical = vertical;
        Outlines = [.. outlines];
    }

    /// <summary>From where one looks.</summary>
    public string Title { get; }

    /// <summary>What a sighted reader would see.</summary>
    public string Words { get; }

    /// <summary>The horizontal axis.</summary>
    public ChartAxis Horizontal { get; }

    /// <summary>The vertical axis.</summary>
    public ChartAxis Vertical { get; }

    /// <summary>The shapes, each over the one before.</summary>
    public IReadOnlyList<ChartOutline> Outlines { get; }

    /// <summary>Places that name themselves when they are pointed at.</summary>
    public IReadOnlyList<DrawingPlace> Places { get; init; } = [];

    /// <summary>The same as names and values.</summary>
    public IReadOnlyList<(string Name, string Value)> Facts { get; init; } = [];

    /// <summary>What is shown: all shapes and a margin.</summary>
    internal (double Left, double Right, double Lower, double Upper) Frame()
    {
        IEnumerable<ChartOutline> drawn = Outlines.Where(outline => outline.X.Any(double.IsFinite));
        double[] x = [.. drawn.SelectMany(outline => outline.X).Where(double.IsFinite)];
        double[] y = [.. drawn.SelectMany(outline => outline.Y).Where(double.IsFinite)];
        double margin = 0.03 * Math.Max(x.Max() - x.Min(), y.Max() - y.Min());
        return (x.Min() - margin, x.Max() + margin, y.Min() - margin, y.Max() + margin);
    }

    internal string FigureJson()
    {
        (double left, double right, double lower, double upper) = Frame();
        return FigureDoor.Drawing(
            [Horizontal.Title, Vertical.Title],
            [left, right, lower, upper],
            OutlineArrays.Of(Outlines),
            [.. Places.Select(place => place.Name)],
            [.. Places.Select(place => Scale.SixDigits(place.X))],
            [.. Places.Select(place => Scale.SixDigits(place.Y))]);
    }
}

/// <summary>A place in a view that names itself when it is pointed at.</summary>
/// <param name="Name">What is there.</param>
/// <param name="X">Where, along the horizontal axis, in its unit.</param>
/// <param name="Y">Where, along the vertical axis, in its unit.</param>
public sealed record DrawingPlace(string Name, double X, double Y);
