namespace Magrail.Notebooks.Tests.Docs;

/// <summary>A test that needs the tool that makes the documentation site, and says so where it cannot be had.</summary>
public sealed class SiteFactAttribute : FactAttribute
{
    private static readonly Lazy<string?> Missing = new(Look);

    public SiteFactAttribute() => Skip = Missing.Value;

    private static string? Look()
    {
        if (Browser.Executable is null)
        {
            return "LEFT OUT: no Chromium was found. On Debian: apt-get install chromium.";
        }

        // Where the tool was restored before, this takes a second and no network.
        ProgramRun restored = Task.Run(() => Checkout.RunAsync(Checkout.Root, "dotnet", "tool", "restore")).GetAwaiter().GetResult();
        return restored.ExitCode == 0 ? null : $"LEFT OUT: docfx cannot be had: dotnet tool restore: {restored.Everything}";
    }
}
