using System.Reflection;

namespace Magrail.Tests.Rules;

/// <summary>The public API of all packages is one text file, so that a change to it is seen in review. The tests of other packages hold their parts of it.</summary>
public class PublicApiTests
{
    public static TheoryData<string> Names => ["Core", "Laws"];

    [Theory]
    [MemberData(nameof(Names))]
    public void Public_api_is_the_verified_one(string name)
    {
        Assembly assembly = name == "Core" ? typeof(Sources.PhysicalConstants).Assembly : typeof(Magrail.Laws.LawCheck).Assembly;
        Assert.Equal($"Magrail.{name}", assembly.GetName().Name);
        string? hint = PublicApi.Compare(assembly, Path.Combine(Repository.Root, "tests"));
        Assert.True(hint is null, hint);
    }

    [Fact]
    public void A_change_is_noticed_and_the_hint_names_the_first_line()
    {
        string folder = Directory.CreateTempSubdirectory().FullName;
        try
        {
            string verified = Path.Combine(folder, "PublicApi.verified.txt"), received = Path.Combine(folder, "PublicApi.received.txt");
            Assert.Contains("no part for Magrail.B", PublicApi.Compare("a\nb\n", folder, "Magrail.B")!, StringComparison.Ordinal);
            Assert.Equal("// Magrail.B\na\nb\n", File.ReadAllText(received));
            File.Copy(received, verified);
            Assert.Null(PublicApi.Compare("a\r\nb\r\n", folder, "Magrail.B"));
            Assert.False(File.Exists(received));
            string hint = PublicApi.Compare("a\nc\n", folder, "Magrail.B")!;
            Assert.Contains("line 2", hint, StringComparison.Ordinal);
            Assert.Contains("verified: b", hint, StringComparison.Ordinal);
            Assert.Contains("received: c", hint, StringComparison.Ordinal);

            // A second part that differs joins the first, and what agrees again leaves it.
            Assert.Contains("no part", PublicApi.Compare("d\n", folder, "Magrail.A")!, StringComparison.Ordinal);
            Assert.Equal("// Magrail.A\nd\n// Magrail.B\na\nc\n", File.ReadAllText(received));
            Assert.Null(PublicApi.Compare("a\nb\n", folder, "Magrail.B"));
            Assert.Equal("// Magrail.A\nd\n// Magrail.B\na\nb\n", File.ReadAllText(received));
            File.Copy(received, verified, overwrite: true);
            Assert.Null(PublicApi.Compare("d\n", folder, "Magrail.A"));
            Assert.False(File.Exists(received));
            Assert.Contains("line 3", PublicApi.Compare("a\nb\nc\n", folder, "Magrail.B")!, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
