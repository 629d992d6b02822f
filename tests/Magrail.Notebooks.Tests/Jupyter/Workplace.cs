namespace Magrail.Notebooks.Tests.Jupyter;

/// <summary>
/// A folder that looks like the checkout to a notebook, so that what Jupyter saves never reaches the checkout, with a Jupyter set-up of
/// its own that knows the kernel of <c>notebooks/kernel</c> and nothing else of this machine's user.
/// </summary>
internal sealed class Workplace : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    private Workplace()
    {
    }

    /// <summary>Where the notebooks lie.</summary>
    public string Notebooks => _folder.In("notebooks");

    /// <summary>Settings for every program that is started here.</summary>
    public Dictionary<string, string> Environment { get; } = new(StringComparer.Ordinal);

    public static async Task<Workplace> MakeAsync()
    {
        var place = new Workplace();
        try
        {
            CopyFolder(Path.Combine(Checkout.Root, "notebooks"), place.Notebooks);
            Directory.CreateDirectory(place.In(".config"));
            File.Copy(Path.Combine(Checkout.Root, ".config", "dotnet-tools.json"), place.In(".config/dotnet-tools.json"));
            Directory.CreateSymbolicLink(place.In("src"), Path.Combine(Checkout.Root, "src"));
            place.Environment["JUPYTER_CONFIG_DIR"] = place.In("jupyter/config");
            place.Environment["JUPYTER_DATA_DIR"] = place.In("jupyter/data");
            place.Environment["JUPYTER_RUNTIME_DIR"] = place.In("jupyter/runtime");
            place.Environment["IPYTHONDIR"] = place.In("jupyter/ipython");
            ProgramRun installed = await place.RunAsync("jupyter", "kernelspec", "install", "--user", Path.Combine(Checkout.Root, "notebooks", "kernel"), "--name", ".net-csharp");
            Assert.True(installed.ExitCode == 0, installed.Everything);
            return place;
        }
        catch
        {
            place.Dispose();
            throw;
        }
    }

    public string In(string name) => _folder.In(name);

    /// <summary>Runs a program in the folder of the notebooks to its end; it has a minute for each notebook it names, and one more.</summary>
    public Task<ProgramRun> RunAsync(string program, params string[] arguments)
        => Checkout.RunAsync(Notebooks, Environment, TimeSpan.FromMinutes(1 + arguments.Count(argument => argument.EndsWith(".ipynb", StringComparison.Ordinal))), program, arguments);

    public void Dispose() => _folder.Dispose();

    private static void CopyFolder(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (string file in Directory.EnumerateFiles(from))
        {
            File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
        }

        foreach (string inner in Directory.EnumerateDirectories(from).Where(inner => Path.GetFileName(inner) is not ("bin" or "obj" or "artifacts" or ".ipynb_checkpoints")))
        {
            CopyFolder(inner, Path.Combine(to, Path.GetFileName(inner)));
        }
    }
}
