using PublicApiGenerator;

namespace Magrail.Tests.Rules;

/// <summary>The public API as one text file, so that a change to it is seen in review.</summary>
public class PublicApiTests
{
    private const string Folder = "tests/Magrail.Core.Tests";

    [Fact]
    public void Public_api_is_the_verified_one()
    {
        string received = typeof(Sources.PhysicalConstants).Assembly.GeneratePublicApi(new ApiGeneratorOptions { IncludeAssemblyAttributes = false });
        string? hint = Compare(received, Path.Combine(Repository.Root, Folder), "PublicApi.Core");
        Assert.True(hint is null, hint);
    }

    [Fact]
    public void A_change_is_noticed_and_the_hint_names_the_first_line()
    {
        string folder = Directory.CreateTempSubdirectory().FullName;
        try
        {
            Assert.Contains("does not exist", Compare("a\nb\n", folder, "Sample")!, StringComparison.Ordinal);
            File.WriteAllText(Path.Combine(folder, "Sample.verified.txt"), "a\nb\n");
            Assert.Null(Compare("a\r\nb\r\n", folder, "Sample"));
            Assert.False(File.Exists(Path.Combine(folder, "Sample.received.txt")));
            string hint = Compare("a\nc\n", folder, "Sample")!;
            Assert.Contains("line 2", hint, StringComparison.Ordinal);
            Assert.Contains("verified: b", hint, StringComparison.Ordinal);
            Assert.Contains("received: c", hint, StringComparison.Ordinal);
            Assert.Equal("a\nc\n", File.ReadAllText(Path.Combine(folder, "Sample.received.txt")));
            Assert.Contains("line 3", Compare("a\nb\nc\n", folder, "Sample")!, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Null where they agree; else writes the received text beside the verified one and says what to do.</summary>
    private static string? Compare(string received, string folder, string name)
    {
        string verifiedPath = Path.Combine(folder, $"{name}.verified.txt");
        string receivedPath = Path.Combine(folder, $"{name}.received.txt");
        string[] now = Lines(received);
        string[] then = File.Exists(verifiedPath) ? Lines(File.ReadAllText(verifiedPath)) : [];
        if (now.SequenceEqual(then))
        {
            File.Delete(receivedPath);
            return null;
        }

        File.WriteAllText(receivedPath, string.Join('\n', now) + "\n");
        int line = now.Zip(then).TakeWhile(pair => pair.First == pair.Second).Count();
        string what = then.Length == 0
            ? $"{name}.verified.txt does not exist."
            : $"The public API differs from line {line + 1} on:\n  verified: {At(then, line)}\n  received: {At(now, line)}";
        return $"{what}\nIf the change is meant, copy {name}.received.txt over {name}.verified.txt (both in {Folder}) and commit it; a reviewer will read the difference.";
    }

    private static string At(string[] lines, int index) => index < lines.Length ? lines[index] : "(end)";

    private static string[] Lines(string text) => text.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n');
}
