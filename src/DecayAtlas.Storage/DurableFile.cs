using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Storage;

/// <summary>Writes a file so that a crash leaves the whole new file or none: temporary sibling, flush to disk, rename.</summary>
public static class DurableFile
{
    /// <summary>The ending of a file that is still being written; a leftover may be deleted.</summary>
    public const string UnfinishedSuffix = ".unfinished";

    /// <summary>Writes files beside their places, and moves them there when all of them are written and on the disk.</summary>
    /// <param name="write">Is told under which name each is to be written.</param>
    public static T Replace<T>(IReadOnlyList<string> paths, Func<Func<string, string>, T> write) =>
        Replace(paths, write, mark: "", isFlushed: true);

    private static T Replace<T>(IReadOnlyList<string> paths, Func<Func<string, string>, T> write, string mark, bool isFlushed)
    {
        string Unfinished(string path) => path + mark + UnfinishedSuffix;
        try
        {
            T result = write(Unfinished);
            if (isFlushed)
                FileSystemCall.Flush([.. paths.Select(Unfinished)]);
            foreach (string path in paths)
                File.Move(Unfinished(path), path, overwrite: true);
            return result;
        }
        catch
        {
            foreach (string path in paths)
                File.Delete(Unfinished(path));
            throw;
        }
    }

    /// <summary>Writes <paramref name="path"/>, replacing what was there.</summary>
    /// <param name="mark">Goes into the temporary name, where several may write the same file.</param>
    public static void Write(string path, Action<FileStream> write, string mark = "") =>
        Write(path, write, mark, isFlushed: true);

    /// <summary>Writes bytes whole or not at all, but without waiting for the disk: for what checks itself and can be made again.</summary>
    public static void WriteLazily(string path, Action<FileStream> write, string mark = "") =>
        Write(path, write, mark, isFlushed: false);

    public static void WriteText(string path, string text, string mark = "") =>
        Write(path, stream => stream.Write(Encoding.UTF8.GetBytes(text)), mark);

    /// <summary>Writes a new file, which is on the disk when the call returns: for a folder that is moved to its place whole.</summary>
    public static void Create(string path, Action<Stream> write) => WriteHere(path, FileMode.CreateNew, write, isFlushed: true);

    public static void CreateText(string path, string text) => Create(path, stream => stream.Write(Encoding.UTF8.GetBytes(text)));

    /// <summary>Runs a write, its folder made where it is not there, and turns what the operating system says against it into one
    /// sentence.</summary>
    /// <exception cref="StorageException">The file can't be written.</exception>
    public static void Guard(string path, Action write)
    {
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            write();
        }
        catch (Exception e) when (StorageFault.Is(e))
        {
            throw StorageException.NotWritten(path, e);
        }
    }

    /// <summary>SHA-256 of a file's bytes in lower-case hexadecimal.</summary>
    public static string Sha256(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    private static void Write(string path, Action<FileStream> write, string mark, bool isFlushed) => Replace([path], unfinished =>
    {
        WriteHere(unfinished(path), FileMode.Create, write, isFlushed);
        return path;
    }, mark, isFlushed: false);

    private static void WriteHere(string path, FileMode mode, Action<FileStream> write, bool isFlushed)
    {
        using FileStream stream = new(path, mode, FileAccess.ReadWrite);
        write(stream);
        if (isFlushed)
            stream.Flush(flushToDisk: true);
    }
}
