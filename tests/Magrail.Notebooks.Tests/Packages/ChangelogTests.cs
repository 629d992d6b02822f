using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Magrail.Notebooks.Tests.Packages;

/// <summary>The changelog keeps up with the version that the packages get.</summary>
public sealed partial class ChangelogTests
{
    [Fact]
    public void The_changelog_opens_with_the_version_of_the_packages_and_counts_downwards()
    {
        string version = XDocument.Load(Path.Combine(Checkout.Root, "Directory.Build.props")).Descendants("Version").Single().Value;
        string[] headings = [.. File.ReadLines(Path.Combine(Checkout.Root, "docs", "changelog.md")).Where(line => line.StartsWith("## ", StringComparison.Ordinal))];
        Match[] releases = [.. headings.Select(line => Release().Match(line))];
        Assert.All(releases, (release, i) => Assert.True(release.Success, $"'{headings[i]}' is no '## 1.2.3, unreleased' or '## 1.2.3, 2027-01-31'."));
        Assert.Equal(version, releases[0].Groups["version"].Value);
        Version[] numbers = [.. releases.Select(release => Version.Parse(release.Groups["version"].Value))];
        Assert.Equal(numbers.Distinct().OrderDescending(), numbers);
        Assert.All(releases.Skip(1), release => Assert.True(
            DateOnly.TryParseExact(release.Groups["date"].Value, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _), $"{release.Value}: only the newest may be unreleased."));
    }

    [GeneratedRegex(@"^## (?<version>\d+\.\d+\.\d+), (?<date>unreleased|\d{4}-\d\d-\d\d)$")]
    private static partial Regex Release();
}
