using System.Reflection;
using Magrail.Charts;
using Magrail.Files;
using Magrail.Tests.Rules;

namespace Magrail.Notebooks.Tests.Packages;

/// <summary>The public API of each package beside the core as one text file, so that a change to it is seen in review.</summary>
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
        string? hint = PublicApi.Compare(assembly, Path.Combine(Checkout.Root, "tests", "Magrail.Notebooks.Tests"));
        Assert.True(hint is null, hint);
    }
}
