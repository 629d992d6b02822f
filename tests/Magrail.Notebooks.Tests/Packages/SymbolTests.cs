using System.Buffers.Binary;
using System.IO.Compression;
using System.Reflection.Metadata;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Magrail.Notebooks.Tests.Packages;

/// <summary>The symbols lead a debugger to the source, wherever they were made.</summary>
public sealed class SymbolTests
{
    private static readonly Guid EmbeddedSource = new("0E8A571B-6926-466E-B4AD-8AB04611F5FE");
    private static readonly Guid SourceLink = new("CC110556-A091-4D38-9FEC-25AB9A351A6A");

    [Fact]
    public async Task Every_source_document_lies_in_the_symbols_or_has_an_address_and_none_names_a_folder_of_this_machine()
    {
        PackedFeed feed = await PackedFeed.GetAsync();
        foreach (string name in PackedFeed.Names)
        {
            await using ZipArchive package = await ZipFile.OpenReadAsync(feed.Package(name, "snupkg"));
            ZipArchiveEntry entry = Assert.Single(package.Entries, each => each.FullName.EndsWith(".pdb", StringComparison.Ordinal));
            using var pdb = new MemoryStream();
            await using (Stream packed = await entry.OpenAsync())
            {
                await packed.CopyToAsync(pdb);
            }

            pdb.Position = 0;
            using var provider = MetadataReaderProvider.FromPortablePdbStream(pdb);
            MetadataReader reader = provider.GetMetadataReader();
            string[] linked = Linked(reader);
            int sources = 0;
            foreach (DocumentHandle handle in reader.Documents)
            {
                string path = reader.GetString(reader.GetDocument(handle).Name);
                byte[]? embedded = Embedded(reader, handle);
                Assert.True(embedded is not null || linked.Any(start => path.StartsWith(start, StringComparison.Ordinal)), $"{name}: {path} is to be found nowhere.");

                // A Debug build keeps the paths that an editor opens; it is not what is released.
                if (Checkout.Configuration == "Release")
                {
                    Assert.StartsWith("/_", path, StringComparison.Ordinal);
                    string here = path.Replace("/_/", Checkout.Root + Path.DirectorySeparatorChar, StringComparison.Ordinal);
                    if (embedded is not null && path.StartsWith("/_/src/", StringComparison.Ordinal) && !path.Contains("/obj/", StringComparison.Ordinal))
                    {
                        Assert.Equal(await File.ReadAllBytesAsync(here), embedded);
                        sources++;
                    }
                }
            }

            Assert.True(Checkout.Configuration != "Release" || sources >= 4, $"{name}: {sources} sources");
        }
    }

    /// <summary>The address is invented: what is looked at is where the parts of a path would be asked for.</summary>
    [CloneFact]
    public async Task With_the_address_of_a_repository_the_source_is_found_there_at_its_commit_and_the_package_says_so()
    {
        const string Address = "https://github.com/example/magrail";
        using var folder = new TemporaryFolder();
        string project = Path.Combine(Checkout.Root, "src", "Magrail.Core", "Magrail.Core.csproj");
        ProgramRun made = await Checkout.RunAsync(
            Checkout.Root, "dotnet", "msbuild", project, "-nologo", "-t:GenerateSourceLinkFile;_InitializeNuspecRepositoryInformationProperties", "-p:Configuration=Release", $"-p:RepositoryUrl={Address}",
            $"-p:IntermediateOutputPath={folder.Path}/", "-getProperty:RepositoryUrl", "-getProperty:RepositoryCommit", "-getProperty:SourceLink");
        Assert.True(made.ExitCode == 0, made.Everything);
        JsonNode properties = JsonNode.Parse(made.Output)!["Properties"]!;
        Assert.Equal(Address, properties["RepositoryUrl"]!.GetValue<string>());
        string commit = properties["RepositoryCommit"]!.GetValue<string>();
        Assert.Matches("^[0-9a-f]{40}$", commit);
        JsonNode link = JsonNode.Parse(await File.ReadAllTextAsync(properties["SourceLink"]!.GetValue<string>()))!["documents"]!;
        Assert.Equal($"https://raw.githubusercontent.com/example/magrail/{commit}/*", link["/_/*"]!.GetValue<string>());
    }

    [CloneFact]
    public async Task Each_package_names_the_commit_it_was_made_from()
    {
        PackedFeed feed = await PackedFeed.GetAsync();
        foreach (string name in PackedFeed.Names)
        {
            await using ZipArchive package = await ZipFile.OpenReadAsync(feed.Package(name));
            await using Stream stream = await package.GetEntry($"{name}.nuspec")!.OpenAsync();
            XElement repository = Assert.Single(XDocument.Load(stream).Descendants(), each => each.Name.LocalName == "repository");
            Assert.Matches(new Regex("^[0-9a-f]{40}$"), repository.Attribute("commit")!.Value);
        }
    }

    private static string[] Linked(MetadataReader reader)
        =>
        [
            .. Details(reader, System.Reflection.Metadata.EntityHandle.ModuleDefinition, SourceLink)
                .SelectMany(json => JsonNode.Parse(json)!["documents"]!.AsObject().Select(entry => entry.Key.TrimEnd('*'))),
        ];

    private static byte[]? Embedded(MetadataReader reader, DocumentHandle document)
    {
        if (Details(reader, document, EmbeddedSource).SingleOrDefault() is not { } bytes)
        {
            return null;
        }

        // The length when unpacked, or zero where it is not packed; then the text.
        int length = BinaryPrimitives.ReadInt32LittleEndian(bytes);
        using var text = new MemoryStream(bytes, 4, bytes.Length - 4);
        if (length == 0)
        {
            return text.ToArray();
        }

        using var unpacking = new DeflateStream(text, CompressionMode.Decompress);
        using var unpacked = new MemoryStream();
        unpacking.CopyTo(unpacked);
        Assert.Equal(length, unpacked.Length);
        return unpacked.ToArray();
    }

    private static IEnumerable<byte[]> Details(MetadataReader reader, EntityHandle parent, Guid kind)
        => reader.GetCustomDebugInformation(parent).Select(reader.GetCustomDebugInformation)
            .Where(detail => reader.GetGuid(detail.Kind) == kind).Select(detail => reader.GetBlobBytes(detail.Value));
}
