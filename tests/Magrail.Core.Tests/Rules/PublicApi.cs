using System.Reflection;
using PublicApiGenerator;

namespace Magrail.Tests.Rules;

/// <summary>Compares the public API of an assembly with its part of the one verified text file, which has a part for each package under a line <c>// Magrail.Name</c>.</summary>
internal static class PublicApi
{
    private const string Heading = "// Magrail.";

    /// <summary>Null where the API of an assembly is that of <c>PublicApi.verified.txt</c> in a folder; else what differs.</summary>
    public static string? Compare(Assembly assembly, string folder)
        => Compare(assembly.GeneratePublicApi(new ApiGeneratorOptions { IncludeAssemblyAttributes = false }), folder, assembly.GetName().Name!);

    /// <summary>Null where they agree; else writes the received text beside the verified one, with this part as it now is, and says what to do.</summary>
    public static string? Compare(string received, string folder, string name)
    {
        string verifiedPath = Path.Combine(folder, "PublicApi.verified.txt");
        string receivedPath = Path.Combine(folder, "PublicApi.received.txt");
        SortedDictionary<string, string[]> verified = Parts(verifiedPath);
        string[] now = Lines(received);
        string[] then = verified.GetValueOrDefault(name, []);

        // Another project may have received other parts.
        SortedDictionary<string, string[]> all = Parts(File.Exists(receivedPath) ? receivedPath : verifiedPath);
        all[name] = now;
        if (all.Count == verified.Count && all.All(part => part.Value.SequenceEqual(verified.GetValueOrDefault(part.Key, []))))
        {
            File.Delete(receivedPath);
        }
        else
        {
            File.WriteAllText(receivedPath, string.Concat(all.Select(part => $"// {part.Key}\n{string.Join('\n', part.Value)}\n")));
        }

        if (now.SequenceEqual(then))
        {
            return null;
        }

        int line = now.Zip(then).TakeWhile(pair => pair.First == pair.Second).Count();
        string what = then.Length == 0
            ? $"PublicApi.verified.txt has no part for {name}."
            : $"The public API of {name} differs from line {line + 1} of its part on:\n  verified: {At(then, line)}\n  received: {At(now, line)}";
        return $"{what}\nIf the change is meant, copy PublicApi.received.txt over PublicApi.verified.txt (both in {Path.GetFileName(folder)}) and commit it; a reviewer will read the difference.";
    }

    private static string At(string[] lines, int index) => index < lines.Length ? lines[index] : "(end)";

    private static SortedDictionary<string, string[]> Parts(string path)
    {
        var parts = new SortedDictionary<string, string[]>(StringComparer.Ordinal);
        string[] lines = File.Exists(path) ? Lines(File.ReadAllText(path)) : [];
        for (int i = 0; i < lines.Length; i++)
        {
            if (lines[i].StartsWith(Heading, StringComparison.Ordinal))
            {
                parts[lines[i]["// ".Length..]] = [.. lines[(i + 1)..].TakeWhile(line => !line.StartsWith(Heading, StringComparison.Ordinal))];
            }
        }

        return parts;
    }

    private static string[] Lines(string text) => text.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n');
}
