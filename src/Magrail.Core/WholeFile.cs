namespace Magrail;

/// <summary>Writes files that are either whole or not there: beside their place, and moved into it at the end.</summary>
/// <remarks>Where writing is interrupted, a file that was there before stays as it was. After a kill the unfinished one stays beside it, with a name that ends in <c>.part</c>.</remarks>
internal static class WholeFile
{
    /// <summary>Writes a text file; folders that are not there are made.</summary>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be written there.</exception>
    public static void WriteText(string path, string text)
        => Write(path, stream =>
        {
            using var writer = new StreamWriter(stream, leaveOpen: true);
            writer.Write(text);
        });

    /// <summary>Writes a file; folders that are not there are made.</summary>
    /// <exception cref="ArgumentException">The path is empty.</exception>
    /// <exception cref="IOException">The file cannot be written.</exception>
    public static void Write(string path, Action<Stream> write)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        string full = Path.GetFullPath(path);
        Directory.CreateDirectory(Path.GetDirectoryName(full) ?? full);

        // A name of its own, so that two that write the same file do not write into each other.
        string beside = $"{full}.{Guid.NewGuid():N}.part";
        try
        {
            using (var stream = new FileStream(beside, FileMode.CreateNew, FileAccess.ReadWrite))
            {
                write(stream);
                stream.Flush(flushToDisk: true);
            }

            File.Move(beside, full, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }
}
