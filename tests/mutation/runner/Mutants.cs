using System.Globalization;
using System.Text.RegularExpressions;
using Mono.Cecil;
using Mono.Cecil.Cil;

namespace Magrail.MutantRunner;

/// <summary>A mutant that the tool has made.</summary>
/// <param name="Id">Its number.</param>
/// <param name="File">The file, from the project's folder on.</param>
/// <param name="Method">The method it is in.</param>
/// <param name="Kind">What kind of change it is.</param>
/// <param name="Original">The code before, on one line.</param>
/// <param name="Replacement">The code after, on one line.</param>
internal sealed partial record Mutant(int Id, string File, string Method, string Kind, string Original, string Replacement)
{
    /// <summary>Those of a folder that came through the compiler, by number; changed texts are left out, as messages are no behavior.</summary>
    /// <param name="log">What the tool said at its greatest verbosity.</param>
    /// <param name="assembly">The mutated assembly.</param>
    /// <param name="folder">The folder.</param>
    public static IReadOnlyList<Mutant> Of(string log, string assembly, string folder)
    {
        Dictionary<int, string> methods = Methods(assembly);
        var found = new Dictionary<int, Mutant>();
        string file = "";

        // An entry runs to the next time of day at the start of a line.
        foreach (string entry in Time().Split(System.IO.File.ReadAllText(log)))
        {
            if (Begin().Match(entry) is { Success: true } begin)
            {
                file = begin.Groups["file"].Value.Replace('\\', '/').Split("/Magrail.Core/")[^1];
            }
            else if (Made().Match(entry) is { Success: true } made && file.StartsWith(folder + "/", StringComparison.Ordinal) && !made.Groups["kind"].Value.Contains("String", StringComparison.Ordinal))
            {
                int id = int.Parse(made.Groups["id"].Value, CultureInfo.InvariantCulture);
                if (methods.TryGetValue(id, out string? method))
                {
                    found.TryAdd(id, new Mutant(id, file, method, made.Groups["kind"].Value, OneLine(made.Groups["before"].Value), OneLine(made.Groups["after"].Value)));
                }
            }
        }

        return [.. found.Values.OrderBy(mutant => mutant.Id)];
    }

    private static Dictionary<int, string> Methods(string assembly)
    {
        using ModuleDefinition module = ModuleDefinition.ReadModule(assembly);
        var methods = new Dictionary<int, string>();
        foreach (MethodDefinition method in module.GetTypes().SelectMany(type => type.Methods).Where(method => method.HasBody))
        {
            foreach (Instruction call in method.Body.Instructions.Where(instruction => instruction.Operand is MethodReference { Name: Switches.Question }))
            {
                if (Number(call.Previous) is int id)
                {
                    methods[id] = $"{method.DeclaringType.Name}.{method.Name}";
                }
            }
        }

        return methods;
    }

    private static int? Number(Instruction load) => load.OpCode.Code switch
    {
        Code.Ldc_I4 => (int)load.Operand,
        Code.Ldc_I4_S => (sbyte)load.Operand,
        >= Code.Ldc_I4_0 and <= Code.Ldc_I4_8 => load.OpCode.Code - Code.Ldc_I4_0,
        _ => null,
    };

    private static string OneLine(string text)
    {
        string line = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return line.Length <= 100 ? line : line[..99] + "…";
    }

    [GeneratedRegex(@"^\[[0-9:]{8} (?=[A-Z]{3}\])", RegexOptions.Multiline)]
    private static partial Regex Time();

    [GeneratedRegex(@"^DBG\] Mutating (?<file>.*\.cs)")]
    private static partial Regex Begin();

    [GeneratedRegex(@"^DBG\] Mutant (?<id>\d+) created (?<before>.*) -> (?<after>.*) using [\w.]*?(?<kind>\w+)Mutator\s*$", RegexOptions.Singleline)]
    private static partial Regex Made();
}
