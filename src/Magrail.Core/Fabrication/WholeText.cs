namespace Magrail;

/// <summary>Writes text files that are either whole or not there.</summary>
internal static class WholeText
{
    /// <summary>Writes beside the file and moves it into place at the end.</summary>
    public static void Write(string path, string text)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        string beside = path + ".part";
        try
        {
            File.WriteAllText(beside, text);
            File.Move(beside, path, overwrite: true);
        }
        catch
        {
            File.Delete(beside);
            throw;
        }
    }
}
