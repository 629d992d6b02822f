using System.Runtime.InteropServices;
using System.Text.RegularExpressions;

namespace Magrail.Notebooks.Tests.Packages;

/// <summary>
/// A program with the package Magrail.Core, trimmed and compiled to native code with every warning shown and made an error. All of the library is kept, so that all of it is
/// looked at, and not only what the program happens to use. Trimmer and native compiler are packages of the SDK: where they have not been fetched before, these tests need a network.
/// </summary>
public sealed partial class TrimmedProgramTests : IDisposable
{
    private const string Publish = """
        <TrimMode>full</TrimMode>
        <TrimmerSingleWarn>false</TrimmerSingleWarn>
        <SuppressTrimAnalysisWarnings>false</SuppressTrimAnalysisWarnings>
        <SuppressAotAnalysisWarnings>false</SuppressAotAnalysisWarnings>
        <ILLinkTreatWarningsAsErrors>true</ILLinkTreatWarningsAsErrors>
        <IlcTreatWarningsAsErrors>true</IlcTreatWarningsAsErrors>
        </PropertyGroup>
        <ItemGroup><TrimmerRootAssembly Include="Magrail.Core" RootMode="All" /></ItemGroup>
        <PropertyGroup>
        """;

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    /// <summary>
    /// A program that does without the unit converter says so and has no warning. As it comes (looked at in a long run), the one warning is UnitsNet's, and comes to every program that uses a quantity.
    /// </summary>
    [Fact]
    public async Task A_trimmed_program_has_one_warning_that_is_of_the_unit_converter_or_none_and_prints_the_same()
    {
        PackedFeed feed = await PackedFeed.GetAsync();
        await ConsumerTests.WriteAsync(_folder.In("core"), "core", "Magrail.Core", feed.Version, $"<PublishTrimmed>true</PublishTrimmed>{Publish}");
        if (Checkout.IsLongRun)
        {
            ProgramRun warned = await PublishAsync(feed);
            Assert.NotEqual(0, warned.ExitCode);
            string warning = Assert.Single(Warnings(warned), each => !each.StartsWith("NETSDK1144: ", StringComparison.Ordinal));
            Assert.StartsWith("IL2075: UnitsNet.UnitConverter.RegisterDefaultConversions(UnitConverter): ", warning, StringComparison.Ordinal);
        }

        ProgramRun published = await PublishAsync(feed, "-p:UnitsNetConverterSupport=false");
        Assert.True(published.ExitCode == 0, published.Everything);
        Assert.Empty(Warnings(published));
        Assert.True(new FileInfo(_folder.In("core/out/UnitsNet.dll")).Length < 2_000_000, "UnitsNet was not trimmed.");
        await PrintsTheSameAsync();
    }

    /// <summary>Compiled for this machine's instructions, as the runtime does; for the common ones, results differ by round-off.</summary>
    [NativeFact]
    public async Task A_native_program_is_made_without_warnings_and_prints_the_same()
    {
        PackedFeed feed = await PackedFeed.GetAsync();
        await ConsumerTests.WriteAsync(_folder.In("core"), "core", "Magrail.Core", feed.Version, $"<PublishAot>true</PublishAot><IlcInstructionSet>native</IlcInstructionSet><UnitsNetConverterSupport>false</UnitsNetConverterSupport>{Publish}");
        ProgramRun published = await PublishAsync(feed);
        Assert.True(published.ExitCode == 0, published.Everything);
        Assert.Empty(Warnings(published));
        Assert.False(File.Exists(_folder.In("core/out/Magrail.Core.dll")), "A native program carries no assemblies.");
        await PrintsTheSameAsync();
    }

    private Task<ProgramRun> PublishAsync(PackedFeed feed, params string[] properties)
        => Checkout.RunAsync(
            _folder.In("core"), feed.Environment(feed.WithSources), TimeSpan.FromMinutes(6), "dotnet", ["publish", "-c", "Release", "-r", RuntimeInformation.RuntimeIdentifier, "-o", "out", "-nologo", .. properties]);

    /// <summary>The published program against the same one run by the runtime, from what publishing built on its way.</summary>
    private async Task PrintsTheSameAsync()
    {
        ProgramRun small = await Checkout.RunAsync(_folder.Path, _folder.In("core/out/core"));
        Assert.True(small.ExitCode == 0, small.Everything);
        ProgramRun ordinary = await Checkout.RunAsync(_folder.Path, "dotnet", _folder.In($"core/bin/Release/net10.0/{RuntimeInformation.RuntimeIdentifier}/core.dll"));
        Assert.True(ordinary.ExitCode == 0, ordinary.Everything);
        Assert.True(ordinary.Output.Split('\n').Length > 100, ordinary.Output);
        Assert.Equal(ordinary.Output, small.Output);
    }

    private static string[] Warnings(ProgramRun published)
        => [.. published.Output.Split('\n').Select(line => Warning().Match(line)).Where(found => found.Success).Select(found => found.Groups[1].Value).Distinct()];

    [GeneratedRegex(@"(?:warning|error) ((?:IL|CS|NU|NETSDK)\d+: .*?)(?: \[|$)", RegexOptions.IgnoreCase)]
    private static partial Regex Warning();
}
