using System.Reflection;
using Magrail.Charts;
using Magrail.Files;
using Magrail.Tests.Rules;

namespace Magrail.Notebooks.Tests.Packages;

/// <summary>The public API of each package beside the core and the laws, each a part of the one text file.</summary>
public sealed class PublicApiTests
{
    public static TheoryData<string> Names => ["Charts", "Files", "Notebooks"];

    [Theory]
    [MemberData(nameof(Names))]
    public void Public_api_is_the_verified_one(string name)
    {
        Assembly assembly = name switch
        {
            "Charts" => typeof(Chart).Assembly,
            "Files" => typeof(StudyCsv).Assembly,
            _ => typeof(Setup).Assembly,
        };
        Assert.Equal($"Magrail.{name}", assembly.GetName().Name);
        string? hint = PublicApi.Compare(assembly, Path.Combine(Checkout.Root, "tests"));
        Assert.True(hint is null, hint);
    }
}
