using System.Reflection;

namespace Magrail.Tests.Rules;

/// <summary>The public API of an assembly as one text file, so that a change to it is seen in review.</summary>
public class PublicApiTests
{
    public static TheoryData<string> Names => ["Core", "Laws"];

    [Theory]
    [MemberData(nameof(Names))]
    public void Public_api_is_the_verified_one(string name)
    {
        Assembly assembly = name == "Core" ? typeof(Sources.PhysicalConstants).Assembly : typeof(Magrail.Laws.LawCheck).Assembly;
        Assert.Equal($"Magrail.{name}", assembly.GetName().Name);
        string? hint = PublicApi.Compare(assembly, Path.Combine(Repository.Root, "tests", "Magrail.Core.Tests"));
        Assert.True(hint is null, hint);
    }

    [Fact]
    public void A_change_is_noticed_and_the_hint_names_the_first_line()
    {
        string folder = Directory.CreateTempSubdirectory().FullName;
        try
        {
            Assert.Contains("does not exist", PublicApi.Compare("a\nb\n", folder, "Sample")!, StringComparison.Ordinal);
            File.WriteAllText(Path.Combine(folder, "Sample.verified.txt"), "a\nb\n");
            Assert.Null(PublicApi.Compare("a\r\nb\r\n", folder, "Sample"));
            Assert.False(File.Exists(Path.Combine(folder, "Sample.received.txt")));
            string hint = PublicApi.Compare("a\nc\n", folder, "Sample")!;
            Assert.Contains("line 2", hint, StringComparison.Ordinal);
            Assert.Contains("verified: b", hint, StringComparison.Ordinal);
            Assert.Contains("received: c", hint, StringComparison.Ordinal);
            Assert.Equal("a\nc\n", File.ReadAllText(Path.Combine(folder, "Sample.received.txt")));
            Assert.Contains("line 3", PublicApi.Compare("a\nb\nc\n", folder, "Sample")!, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
