using System.Text.RegularExpressions;

namespace Magrail.Tests.Rules;

/// <summary>The folders of the library are layers: each may use only those before it.</summary>
public partial class LayerRules
{
    private const string Core = "src/Magrail.Core";

    /// <summary>In order. Files beside the folders, and the units, come before all.</summary>
    private static readonly string[] Layers =
    [
        "", "Units", "Sources", "Numerics", "Materials", "Magnets", "Windings", "Coupling", "Contacts", "Power", "Sleds", "Launch",
        "Studies", "Measurement", "Fabrication",
    ];

    [Fact]
    public void Every_folder_has_its_place_among_the_layers()
        => Rules.Faults.None(Repository.TextFiles(Core).Where(IsCode).Select(LayerOf).Distinct().Except(Layers));

    [Fact]
    public void No_layer_uses_a_later_one()
    {
        var files = Repository.TextFiles(Core).Where(IsCode).Select(file => (Layer: LayerOf(file), File: file, Text: Repository.Read(file))).ToList();
        Assert.True(files.Count > 50);
        Rules.Faults.None(Faults(files));
    }

    [Fact]
    public void The_rule_can_fail()
    {
        (string Layer, string File, string Text)[] files =
        [
            ("Numerics", "Good.cs", "namespace N;\n/// <summary>As a <see cref=\"Coil\"/>.</summary>\npublic class Good { string s = \"a Coil\"; /* Coil */ int x = this.Coil; }"),
            ("Numerics", "Bad.cs", "namespace N;\npublic class Bad { string s = $\"in {new Coil(\"Sled\").Turns:G4} a Sled\"; }"),
            ("Windings", "Coil.cs", "namespace N;\npublic sealed record Coil;\ninternal enum CoilKind { A }"),
            ("Sleds", "Sled.cs", "namespace N;\npublic sealed partial record Sled(Coil Coil);\npublic delegate double Pull(Sled sled);"),
            ("Windings", "Wire.cs", "namespace N;\npublic static class Wire { static Pull p; }"),
            ("Windings", "Tail.cs", "namespace N;\npublic class Tail {\n    public Length Sled { get; }\n    Tail() { Sled = x; } }"),
            ("Windings", "Worse.cs", "namespace N;\npublic class Worse {\n    public Sled? Sled { get; }\n    Worse() { Sled = x; } }"),
        ];
        Assert.Equal(["Bad.cs (Numerics) uses Coil (Windings)", "Wire.cs (Windings) uses Pull (Sleds)", "Worse.cs (Windings) uses Sled (Sleds)"], Faults(files));
    }

    [Theory]
    [InlineData("a // Coil\nb", "a \nb")]
    [InlineData("a /* Coil\n */ b", "a   b")]
    [InlineData("f(\"Coil \\\" Coil\", 'c', '\\'')", "f( ,  ,  )")]
    [InlineData("@\"Coil \"\" Coil\" + x", "  + x")]
    [InlineData("$\"Coil {{Coil}} {a[\"k\"]:F2}\" + x", "  a[ ]:F2   + x")]
    [InlineData("\"\"\"Coil \"Coil\" \"\"\" + x", "  + x")]
    [InlineData("$$\"\"\"{Coil} {{x}} \"\"\" + y", " x   + y")]
    [InlineData("$@\"\\{x}\" + y", " x   + y")]
    [InlineData("\"\" + y", "  + y")]
    public void Comments_and_texts_are_taken_out(string source, string code)
        => Assert.Equal(code.Replace(" ", "", StringComparison.Ordinal), CSharpText.CodeOf(source).Replace(" ", "", StringComparison.Ordinal));

    /// <summary>The names of the types declared in a folder (not those inside other types).</summary>
    public static IReadOnlyList<string> DeclaredTypes(string folder)
        => [.. Repository.TextFiles(folder).Where(IsCode).SelectMany(file => Declared(Repository.Read(file))).Distinct()];

    private static IEnumerable<string> Faults(IReadOnlyCollection<(string Layer, string File, string Text)> files)
    {
        var homes = files.SelectMany(file => Declared(file.Text).Select(name => (name, file.Layer)))
            .GroupBy(x => x.name).ToDictionary(group => group.Key, group => group.Min(x => Array.IndexOf(Layers, x.Layer)));
        foreach ((string layer, string file, string text) in files)
        {
            string code = CSharpText.CodeOf(text);

            // A property of that name but of another type (Length Leads) is no use of the type.
            string[] members = [.. Member().Matches(code).Where(m => m.Groups["type"].Value.TrimEnd('?') != m.Groups["name"].Value).Select(m => m.Groups["name"].Value)];
            foreach (string token in Token().Matches(code).Select(match => match.Value).Distinct().Except(members))
            {
                if (homes.TryGetValue(token, out int home) && home > Array.IndexOf(Layers, layer))
                {
                    yield return $"{file} ({layer}) uses {token} ({Layers[home]})";
                }
            }
        }
    }

    private static bool IsCode(string file) => file.EndsWith(".cs", StringComparison.Ordinal);

    private static string LayerOf(string file)
    {
        string[] parts = file[(Core.Length + 1)..].Split('/');
        return parts.Length > 1 ? parts[0] : "";
    }

    private static IEnumerable<string> Declared(string text)
        => Declaration().Matches(CSharpText.CodeOf(text)).Select(match => match.Groups["name"].Value);

    // Types at the outermost level only: with a namespace for the whole file, their declarations start a line.
    [GeneratedRegex(@"^(?:(?:public|internal|file|static|sealed|abstract|readonly|ref|partial|unsafe)\s+)*(?:(?:class|struct|interface|enum|record(?:\s+(?:class|struct))?)\s+|delegate\s+[\w<>,.?\[\]\s]+?\s)(?<name>\w+)", RegexOptions.Multiline)]
    private static partial Regex Declaration();

    [GeneratedRegex(@"^\s+(?:public|internal|protected|private)\s+(?:(?:static|required|override|virtual|abstract|readonly)\s+)*(?<type>[\w.<>,?\[\]]+)\s+(?<name>\w+)\s*(?:\{|=>|;|=(?!=))", RegexOptions.Multiline)]
    private static partial Regex Member();

    // A name that is not a member of something.
    [GeneratedRegex(@"(?<![\w.]|\bnameof\()[A-Za-z_]\w*")]
    private static partial Regex Token();
}
