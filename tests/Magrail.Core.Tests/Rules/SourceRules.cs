using System.Reflection;
using System.Text.RegularExpressions;
using Magrail.Sources;
using UnitsNet;

namespace Magrail.Tests.Rules;

/// <summary>Every published number says where it comes from, and every source that is listed is used.</summary>
public partial class SourceRules
{
    private const string References = "docs/references.md";

    [Fact]
    public void Every_published_number_carries_its_source()
    {
        Type[] types = [typeof(PhysicalConstants), .. MaterialTypes()];
        Assert.Contains(typeof(MagnetGrade), types);
        Assert.True(types.SelectMany(PublishedNumbers).Count() > 10);
        Faults.None(types.SelectMany(WithoutSource));
    }

    [Fact]
    public void Every_key_is_listed_once()
    {
        string[] keys = Keys(Repository.Read(References));
        Assert.Contains("CODATA2022", keys);
        Faults.None(keys.GroupBy(key => key).Where(group => group.Count() > 1).Select(group => group.Key));
    }

    [Fact]
    public void Every_key_in_use_is_listed()
        => Faults.None(UsedKeys(typeof(PhysicalConstants).Assembly).Except(Keys(Repository.Read(References))));

    [Fact]
    public void Every_listed_key_is_used()
    {
        string[] texts = [.. Repository.TextFiles().Where(file => file != References && !IsThisFile(file)).Select(Repository.Read)];
        Faults.None(Unused(Keys(Repository.Read(References)), texts));
    }

    [Fact]
    public void The_rules_can_fail()
    {
        Assert.Equal(["Bad.Bare", "Bad.Mass", "Bad.Another"], WithoutSource(typeof(Bad)));
        Assert.Equal(["A1", "BOOK"], Keys("# Title\n- **A1**: a work.\n- **BOOK**: another.\ntext **NOT** a key\n"));
        Assert.Contains("NOWHERE", UsedKeys(typeof(SourceRules).Assembly));
        Assert.Equal(["BOOK"], Unused(["A1", "BOOK"], ["see A1, p. 3", "BOOKS are not BOOK2"]));
    }

    private static bool IsThisFile(string file) => file.EndsWith("Rules/SourceRules.cs", StringComparison.Ordinal);

    private static IEnumerable<Type> MaterialTypes()
        => LayerRules.DeclaredTypes("src/Magrail.Core/Materials")
            .Select(name => typeof(PhysicalConstants).Assembly.GetType($"Magrail.{name}"))
            .OfType<Type>()
            .Where(type => type.IsPublic && !type.IsEnum);

    private static IEnumerable<MemberInfo> PublishedNumbers(Type type)
    {
        const BindingFlags Static = BindingFlags.Public | BindingFlags.Static | BindingFlags.DeclaredOnly;
        return type.GetFields(Static).Where(field => IsNumber(field.FieldType, type)).Cast<MemberInfo>()
            .Concat(type.GetProperties(Static).Where(property => IsNumber(property.PropertyType, type)));
    }

    private static bool IsNumber(Type type, Type declaring)
        => type == typeof(double) || type == typeof(float) || type == typeof(int) || type == declaring || typeof(IQuantity).IsAssignableFrom(type);

    private static IEnumerable<string> WithoutSource(Type type)
        => PublishedNumbers(type).Where(member => !member.IsDefined(typeof(SourceAttribute))).Select(member => $"{type.Name}.{member.Name}");

    private static string[] Keys(string references) => [.. KeyLine().Matches(references).Select(match => match.Groups[1].Value)];

    private static IEnumerable<string> UsedKeys(Assembly assembly)
    {
        const BindingFlags All = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static | BindingFlags.Instance | BindingFlags.DeclaredOnly;
        return assembly.GetTypes().SelectMany(type => type.GetMembers(All)).SelectMany(member => member.GetCustomAttributes<SourceAttribute>())
            .Select(source => source.Key).Distinct();
    }

    private static IEnumerable<string> Unused(IEnumerable<string> keys, IReadOnlyList<string> texts)
        => keys.Where(key => !texts.Any(text => Regex.IsMatch(text, $@"\b{Regex.Escape(key)}\b")));

    [GeneratedRegex(@"^- \*\*(\w+)\*\*: ", RegexOptions.Multiline)]
    private static partial Regex KeyLine();

    /// <summary>A sample that breaks the rules.</summary>
    private static class Bad
    {
        public const double Bare = 1;

        [Source("NOWHERE", "page 0")]
        public const double Sourced = 2;

        public static readonly string Name = "no number";

        public static Mass Mass { get; } = Mass.FromKilograms(1);

        public static int Another => 3;
    }
}
