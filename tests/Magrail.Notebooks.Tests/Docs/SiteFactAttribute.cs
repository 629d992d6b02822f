namespace Magrail.Notebooks.Tests.Docs;

/// <summary>A test that needs the tool that makes the documentation site and a browser, and says what is missing where one is not there.</summary>
public sealed class SiteFactAttribute : FactAttribute
{
    public SiteFactAttribute() => Skip = Browser.Executable is null ? "LEFT OUT: no Chromium was found. On Debian: apt-get install chromium."
        : LocalTools.Missing is { } why ? $"LEFT OUT: docfx cannot be had: {why}"
        : null;
}
