namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>The programs the Jupyter tests need, looked for once.</summary>
internal static class JupyterParts
{
    private static readonly string[] Programs = ["jupyter", "jupyter-notebook", "jupyter-nbconvert", "jupyter-kernelspec"];

    private static readonly Lazy<string?> Looked = new(Look);

    /// <summary>What is missing, and how to get it; null where all is there.</summary>
    public static string? Missing => Looked.Value;

    private static string? Look()
    {
        string[] folders = (Environment.GetEnvironmentVariable("PATH") ?? string.Empty).Split(Path.PathSeparator);
        string[] absent = [.. Programs.Where(program => !folders.Any(folder => File.Exists(Path.Combine(folder, program))))];
        if (absent.Length > 0)
        {
            return $"LEFT OUT: {string.Join(", ", absent)} not found. On Debian: apt-get install jupyter-notebook jupyter-client jupyter-nbconvert.";
        }

        if (Browser.Executable is null)
        {
            return "LEFT OUT: no Chromium was found. On Debian: apt-get install chromium.";
        }

        return LocalTools.Missing is { } why ? $"LEFT OUT: the notebook kernel cannot be had: {why}" : null;
    }
}
