using System.IO.Compression;
using System.Reflection;
using System.Text.Json.Nodes;
using System.Xml.Linq;
using Magrail.Charts;

namespace Magrail.Notebooks.Tests.Packages;

public sealed class PackageContentTests
{
    [Fact]
    public async Task Each_package_carries_library_words_readme_icon_and_licence_and_asks_for_its_own_release()
    {
        PackedFeed feed = await PackedFeed.GetAsync();
        Assert.Equal(PackedFeed.Names, Directory.EnumerateFiles(feed.Folder, "*.nupkg").Select(path => Path.GetFileName(path).Replace($".{feed.Version}.nupkg", string.Empty, StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        byte[] icon = await File.ReadAllBytesAsync(Path.Combine(Checkout.Root, "src", "package-icon.png"));
        foreach (string library in PackedFeed.Names)
        {
            await using ZipArchive package = await ZipFile.OpenReadAsync(feed.Package(library));
            string[] names = [.. package.Entries.Select(entry => entry.FullName)];
            bool tool = library == "Magrail.NotebookRunner";
            string place = tool ? "tools/net10.0/any" : "lib/net10.0";
            Assert.Contains($"{place}/{library}.dll", names);
            Assert.Contains($"{place}/{library}.xml", names);
            Assert.Contains("README.md", names);
            Assert.Contains("LICENSE", names);
            Assert.Equal(tool || library == "Magrail.Charts", names.Contains("THIRD-PARTY-NOTICES.md"));
            Assert.Equal(tool || library == "Magrail.Charts", names.Contains("THIRD-PARTY-LICENSES.md"));
            Assert.True(tool || names.Count(name => name.EndsWith(".dll", StringComparison.Ordinal)) == 1, string.Join(' ', names));
            Assert.True(File.Exists(feed.Package(library, "snupkg")), $"{library} has no symbols.");
            await using (Stream drawn = await package.GetEntry("package-icon.png")!.OpenAsync())
            {
                using var bytes = new MemoryStream();
                await drawn.CopyToAsync(bytes);
                Assert.Equal(icon, bytes.ToArray());
            }

            await using Stream stream = await package.GetEntry($"{library}.nuspec")!.OpenAsync();
            XElement facts = XDocument.Load(stream).Root!.Elements().Single();
            XNamespace space = facts.Name.Namespace;
            Assert.Equal("MIT", facts.Element(space + "license")!.Value);
            Assert.Equal("README.md", facts.Element(space + "readme")!.Value);
            Assert.Equal("package-icon.png", facts.Element(space + "icon")!.Value);
            Assert.True(facts.Element(space + "description")!.Value.Length > 40, "A package says what it is for.");
            foreach (XElement needed in facts.Descendants(space + "dependency"))
            {
                string id = needed.Attribute("id")!.Value;
                Assert.DoesNotContain(id, (string[])["Magrail.Charts.Plotly", "Plotly.NET", "FSharp.Core", "Microsoft.DotNet.Interactive"]);
                if (id.StartsWith("Magrail.", StringComparison.Ordinal))
                {
                    Assert.Equal($"[{feed.Version}]", needed.Attribute("version")!.Value);
                }
            }
        }
    }

    [Fact]
    public async Task Every_assembly_carried_in_the_charts_is_named_with_its_version_and_licence()
    {
        string notices = await File.ReadAllTextAsync(Path.Combine(Checkout.Root, "src", "Magrail.Charts", "THIRD-PARTY-NOTICES.md"));
        JsonNode locked = JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(Checkout.Root, "src", "Magrail.Charts.Plotly", "packages.lock.json")))!["dependencies"]!["net10.0"]!;
        Assembly charts = typeof(Chart).Assembly;
        string[] carried =
        [
            .. charts.GetManifestResourceNames().Where(name => name.StartsWith("carried/", StringComparison.Ordinal))
                .Select(name => Path.GetFileNameWithoutExtension(name)).Where(name => name != "Magrail.Charts.Plotly").Order(StringComparer.Ordinal),
        ];
        Assert.True(carried.Length >= 7, string.Join(' ', carried));
        foreach (string name in carried)
        {
            string version = locked[name]!["resolved"]!.GetValue<string>();
            Assert.Contains(notices.Split('\n'), line => line.StartsWith($"| `{name}.dll` | {name} {version} | ", StringComparison.Ordinal));
        }

        // Nothing is named that is not carried.
        Assert.Equal(carried.Length, notices.Split('\n').Count(line => line.StartsWith("| `", StringComparison.Ordinal)));
    }
}
