using System.Security.Cryptography;

namespace DecayAtlas.Atlas.Storage;

/// <summary>Writes a file so that a crash leaves the whole new file or none: temporary sibling, flush to disk, rename.</summary>
public static class DurableFile
{
    /// <summary>The ending of a file that is still being written; a leftover may be deleted.</summary>
    public const string UnfinishedSuffix = ".unfinished";

    /// <summary>Writes <paramref name="path"/>, replacing what was there.</summary>
    public static void Write(string path, Action<Stream> write)
    {
        string unfinished = path + UnfinishedSuffix;
        try
        {
            using (var stream = new FileStream(unfinished, FileMode.Create, FileAccess.ReadWrite))
            {
                write(stream);
                stream.Flush(flushToDisk: true);
            }

            File.Move(unfinished, path, overwrite: true);
        }
        catch
        {
            File.Delete(unfinished);
            throw;
        }
    }

    /// <summary>Writes text as UTF-8 without a byte-order mark.</summary>
    public static void WriteText(string path, string text) =>
        Write(path, stream => stream.Write(System.Text.Encoding.UTF8.GetBytes(text)));

    /// <summary>SHA-256 of a file's bytes in lower-case hexadecimal.</summary>
    public static string Sha256(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }
}
