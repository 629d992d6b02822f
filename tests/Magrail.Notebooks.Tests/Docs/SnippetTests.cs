using System.Globalization;
using System.Text.RegularExpressions;

namespace Magrail.Notebooks.Tests.Docs;

/// <summary>Every block of C# on a page is compiled and run; it prints what the page says, and draws the pictures that the page shows.</summary>
[Collection(OneBuildAtATime.Name)]
public sealed partial class SnippetTests(SnippetBuild build) : IClassFixture<SnippetBuild>
{
    /// <summary>A place in a drawing may differ by so much.</summary>
    private const double TwentiethOfPixel = 0.05;

    private static readonly string Pictures = Path.Combine(Checkout.Root, "docs", "pictures");

    public static TheoryData<string> Pages => [.. SnippetBuild.Pages.Select(page => page.Name)];

    [Theory]
    [MemberData(nameof(Pages))]
    public void A_page_prints_what_it_says(string name)
    {
        DocPage page = PageOf(name);
        IReadOnlyList<string> printed = build.OutputsOf(page);
        if (IsToBeWritten)
        {
            File.WriteAllText(Path.Combine(Checkout.Root, page.Name), page.WithOutputs(printed));
            return;
        }

        Assert.Contains(page.Snippets, snippet => snippet.Output is not null);
        Assert.All(page.Snippets.Zip(printed), pair => Assert.True(
            Difference(pair.First.Output ?? string.Empty, pair.Second, LastDigit).Length == 0,
            $"{page.Name}, line {pair.First.Line}, prints\n{pair.Second}\nand not what the page says after it. MAGRAIL_PAGES=write writes it anew."));
    }

    [Fact]
    public void Pictures_are_those_that_the_pages_draw()
    {
        Dictionary<string, string> drawn = SnippetBuild.Pages.SelectMany(page => build.PicturesOf(page)).ToDictionary(StringComparer.Ordinal);
        if (IsToBeWritten)
        {
            Directory.CreateDirectory(Pictures);
            foreach ((string file, string svg) in drawn)
            {
                File.WriteAllText(Path.Combine(Pictures, file), svg);
            }
        }

        Assert.Equal(drawn.Keys.Order(StringComparer.Ordinal), Directory.EnumerateFiles(Pictures).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        string[] shown = [.. DocPage.All.SelectMany(page => page.Links).Select(link => Path.GetFileName(link))];
        Assert.All(drawn.Keys, file => Assert.Contains(file, shown));
        Assert.All(drawn, picture => Assert.Equal(string.Empty, Difference(File.ReadAllText(Path.Combine(Pictures, picture.Key)), picture.Value, _ => TwentiethOfPixel)));
    }

    [Fact]
    public void The_comparisons_can_fail()
    {
        const string Svg = """<svg><path d="M1.5,20 L30,-4e1"/><text>speed</text><image href="data:image/png;base64,AAAA"/></svg>""";
        string Drawn(string from, string to) => Difference(Svg, Svg.Replace(from, to, StringComparison.Ordinal), _ => TwentiethOfPixel);
        Assert.Equal(string.Empty, Drawn("20", "20.04"));
        Assert.Equal("20 is now 20.4", Drawn("20", "20.4"));
        Assert.NotEqual(string.Empty, Drawn("speed", "time"));
        Assert.NotEqual(string.Empty, Drawn("AAAA", new string('A', 100)));

        string Printed(string from, string to) => Difference("11.15 m/s, residual 2E-09", "11.15 m/s, residual 2E-09".Replace(from, to, StringComparison.Ordinal), LastDigit);
        Assert.Equal(string.Empty, Printed("11.15", "11.16"));
        Assert.Equal(string.Empty, Printed("2E-09", "3E-09"));
        Assert.Equal("11.15 is now 11.17", Printed("11.15", "11.17"));
        Assert.Equal("2E-09 is now 2E-08", Printed("2E-09", "2E-08"));
        Assert.NotEqual(string.Empty, Printed("m/s", "m"));
    }

    private static bool IsToBeWritten => Environment.GetEnvironmentVariable("MAGRAIL_PAGES") == "write";

    private static DocPage PageOf(string name) => SnippetBuild.Pages.Single(page => page.Name == name);

    /// <summary>One in the last digit printed: processors that differ in their arithmetic may round a figure otherwise.</summary>
    private static double LastDigit(string number)
    {
        string[] parts = number.Split('e', 'E');
        int decimals = parts[0].Contains('.', StringComparison.Ordinal) ? parts[0].Length - parts[0].IndexOf('.', StringComparison.Ordinal) - 1 : 0;
        return 1.001 * Math.Pow(10, (parts.Length > 1 ? int.Parse(parts[1], CultureInfo.InvariantCulture) : 0) - decimals);
    }

    /// <summary>The first difference of two texts whose numbers may be apart by so much; an image inside counts by its size.</summary>
    private static string Difference(string first, string second, Func<string, double> mayDiffer)
    {
        first = Embedded().Replace(first, SizeOf);
        second = Embedded().Replace(second, SizeOf);
        (string First, string Second) words = Number().Split(first).Zip(Number().Split(second)).FirstOrDefault(pair => pair.First != pair.Second);
        (string First, string Second) numbers = Number().Matches(first).Zip(Number().Matches(second), (one, other) => (one.Value, other.Value))
            .FirstOrDefault(pair => Math.Abs(Value(pair.Item1) - Value(pair.Item2)) > mayDiffer(pair.Item1));
        return words != default ? $"“{words.First}” is now “{words.Second}”"
            : numbers != default ? $"{numbers.First} is now {numbers.Second}"
            : Number().Count(first) != Number().Count(second) ? $"{first}\nis now\n{second}"
            : string.Empty;

        static double Value(string number) => double.Parse(number, CultureInfo.InvariantCulture);

        static string SizeOf(Match image) => string.Create(CultureInfo.InvariantCulture, $"{image.Length / 1000.0} kB");
    }

    [GeneratedRegex(@"data:image/png;base64,[\w+/=]+")]
    private static partial Regex Embedded();

    [GeneratedRegex(@"-?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?")]
    private static partial Regex Number();
}

/// <summary>Tests that build the checkout's projects anew run one after the other.</summary>
[CollectionDefinition(Name)]
public sealed class OneBuildAtATime
{
    public const string Name = "Builds";
}
