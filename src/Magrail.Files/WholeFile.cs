namespace Magrail.Files;

/// <summary>Writes files that are either whole or not there.</summary>
internal static class WholeFile
{
    /// <summary>Writes beside the file and moves it into place at the end.</summary>
    public static void Write(string path, Action<Stream> write)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        string beside = path + ".part";
        try
        {
            using (var stream = new FileStream(beside, FileMode.Create, FileAccess.ReadWrite))
            {
                write(stream);
                stream.Flush(flushToDisk: true);
            }

            File.Move(beside, path, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }
}
