namespace Magrail.Notebooks.Tests.Packages;

/// <summary>A test that compiles to native code, and says what is missing where there is no linker.</summary>
public sealed class NativeFactAttribute : FactAttribute
{
    public NativeFactAttribute()
    {
        string[] folders = (Environment.GetEnvironmentVariable("PATH") ?? string.Empty).Split(Path.PathSeparator);
        if (!OperatingSystem.IsWindows() && !folders.Any(folder => File.Exists(Path.Combine(folder, "clang")) || File.Exists(Path.Combine(folder, "gcc"))))
        {
            Skip = "LEFT OUT: neither clang nor gcc was found, which link a native program. On Debian: apt-get install gcc libc6-dev.";
        }
    }
}
