using System.IO.Compression;
using System.Reflection;
using System.Text.Json.Nodes;
using System.Xml.Linq;
using Magrail.Charts;

namespace Magrail.Notebooks.Tests;

public sealed class PackageContentTests
{
    private static readonly string[] Libraries = ["Magrail.Charts", "Magrail.Core", "Magrail.Files", "Magrail.Laws", "Magrail.Notebooks"];

    [Fact]
    public async Task Each_package_carries_library_words_readme_and_licence_and_asks_for_its_own_release()
    {
        using var folder = new TemporaryFolder();
        ProgramRun packed = await Checkout.RunAsync(
            Checkout.Root, "dotnet", "pack", "Magrail.Core.sln", "-c", Checkout.Configuration, "-o", folder.Path, "--no-build", "-p:PackageVersion=0.0.1-content");
        Assert.True(packed.ExitCode == 0, packed.Everything);
        Assert.Equal(Libraries, Directory.EnumerateFiles(folder.Path, "*.nupkg").Select(path => Path.GetFileName(path).Replace(".0.0.1-content.nupkg", string.Empty, StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        foreach (string library in Libraries)
        {
            await using ZipArchive package = await ZipFile.OpenReadAsync(folder.In($"{library}.0.0.1-content.nupkg"));
            string[] names = [.. package.Entries.Select(entry => entry.FullName)];
            Assert.Contains($"lib/net10.0/{library}.dll", names);
            Assert.Contains($"lib/net10.0/{library}.xml", names);
            Assert.Contains("README.md", names);
            Assert.Contains("LICENSE", names);
            Assert.Equal(library == "Magrail.Charts", names.Contains("THIRD-PARTY-NOTICES.md"));
            Assert.Single(names, name => name.EndsWith(".dll", StringComparison.Ordinal));
            Assert.True(File.Exists(folder.In($"{library}.0.0.1-content.snupkg")), $"{library} has no symbols.");

            await using Stream stream = await package.GetEntry($"{library}.nuspec")!.OpenAsync();
            XElement facts = XDocument.Load(stream).Root!.Elements().Single();
            XNamespace space = facts.Name.Namespace;
            Assert.Equal("MIT", facts.Element(space + "license")!.Value);
            Assert.Equal("README.md", facts.Element(space + "readme")!.Value);
            foreach (XElement needed in facts.Descendants(space + "dependency"))
            {
                string id = needed.Attribute("id")!.Value;
                Assert.DoesNotContain(id, (string[])["Magrail.Charts.Plotly", "Plotly.NET", "FSharp.Core", "Microsoft.DotNet.Interactive"]);
                if (id.StartsWith("Magrail.", StringComparison.Ordinal))
                {
                    Assert.Equal("[0.0.1-content]", needed.Attribute("version")!.Value);
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
