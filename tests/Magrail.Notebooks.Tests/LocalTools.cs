namespace Magrail.Notebooks.Tests;

/// <summary>The .NET tools that the checkout names (the notebook kernel, the maker of the documentation site), brought once.</summary>
internal static class LocalTools
{
    private static readonly Lazy<string?> Brought = new(Bring);

    /// <summary>Why they cannot be had; null where they are there.</summary>
    public static string? Missing => Brought.Value;

    private static string? Bring()
    {
        // Where they were restored before, this takes a second and no network.
        ProgramRun restored = Task.Run(() => Checkout.RunAsync(Checkout.Root, "dotnet", "tool", "restore")).GetAwaiter().GetResult();
        return restored.ExitCode == 0 ? null : $"dotnet tool restore: {restored.Everything}";
    }
}
