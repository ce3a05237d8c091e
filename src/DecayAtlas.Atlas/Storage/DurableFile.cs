using System.Security.Cryptography;

namespace DecayAtlas.Atlas.Storage;

/// <summary>Writes a file so that a crash leaves the whole new file or none: temporary sibling, flush to disk, rename.</summary>
public static class DurableFile
{
    /// <summary>The ending of a file that is still being written; a leftover may be deleted.</summary>
    public const string UnfinishedSuffix = ".unfinished";

    /// <summary>Writes <paramref name="path"/>, replacing what was there.</summary>
    /// <param name="mark">Goes into the temporary name, where several processes may write the same file.</param>
    public static void Write(string path, Action<Stream> write, string mark = "")
    {
        string unfinished = path + mark + UnfinishedSuffix;
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

    /// <summary>Runs a write, its folder made where it is not there, and turns what the operating system says against it into one sentence.</summary>
    /// <exception cref="AtlasException">The file can't be written.</exception>
    public static void Guard(string path, Action write)
    {
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            write();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new AtlasException($"{path} could not be written because {StorageFault.Reason(e)}; mend that and run again.", e);
        }
    }

    /// <summary>Writes bytes whole or not at all, but without waiting for the disk: for what checks itself and can be made again.</summary>
    public static void WriteLazily(string path, Action<Stream> write)
    {
        string unfinished = path + UnfinishedSuffix;
        using (FileStream stream = File.Create(unfinished))
            write(stream);
        File.Move(unfinished, path, overwrite: true);
    }

    /// <summary>Writes text as UTF-8 without a byte-order mark.</summary>
    public static void WriteText(string path, string text, string mark = "") =>
        Write(path, stream => stream.Write(System.Text.Encoding.UTF8.GetBytes(text)), mark);

    /// <summary>SHA-256 of a file's bytes in lower-case hexadecimal.</summary>
    public static string Sha256(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }
}
