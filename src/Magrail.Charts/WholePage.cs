namespace Magrail.Charts;

/// <summary>Writes files that are either whole or not there.</summary>
internal static class WholePage
{
    /// <summary>Writes beside the file and moves it into place at the end; folders that are not there are made.</summary>
    public static void Write(string path, string text)
    {
        string full = Path.GetFullPath(path);
        Directory.CreateDirectory(Path.GetDirectoryName(full)!);
        string beside = $"{full}.{Guid.NewGuid():N}.part";
        try
        {
            File.WriteAllText(beside, text);
            File.Move(beside, full, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }
}
