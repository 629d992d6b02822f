using System.Reflection;
using PublicApiGenerator;

namespace Magrail.Tests.Rules;

/// <summary>Compares the public API of an assembly with the verified text that lies beside a project of tests.</summary>
internal static class PublicApi
{
    /// <summary>Null where the API of <c>Magrail.Name</c> is that of <c>PublicApi.Name.verified.txt</c> in that folder; else what differs.</summary>
    public static string? Compare(Assembly assembly, string folder)
        => Compare(
            assembly.GeneratePublicApi(new ApiGeneratorOptions { IncludeAssemblyAttributes = false }),
            folder,
            $"PublicApi.{assembly.GetName().Name!["Magrail.".Length..]}");

    /// <summary>Null where they agree; else writes the received text beside the verified one and says what to do.</summary>
    public static string? Compare(string received, string folder, string name)
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
        return $"{what}\nIf the change is meant, copy {name}.received.txt over {name}.verified.txt (both in {Path.GetFileName(folder)}) and commit it; a reviewer will read the difference.";
    }

    private static string At(string[] lines, int index) => index < lines.Length ? lines[index] : "(end)";

    private static string[] Lines(string text) => text.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n');
}
