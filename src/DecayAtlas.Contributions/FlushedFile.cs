using System.Text;

namespace DecayAtlas.Contributions;

/// <summary>Writes new files so that they are on the disk, not only in memory, when the call returns.</summary>
internal static class FlushedFile
{
    public static void Write(string path, string text)
    {
        using FileStream stream = new(path, FileMode.CreateNew, FileAccess.Write);
        stream.Write(Encoding.UTF8.GetBytes(text));
        stream.Flush(flushToDisk: true);
    }

    public static void Copy(string source, string target)
    {
        using Stream from = FolderListing.OpenPlain(new FileInfo(source));
        using FileStream to = new(target, FileMode.CreateNew, FileAccess.Write);
        from.CopyTo(to, 1 << 17);
        to.Flush(flushToDisk: true);
    }

    /// <summary>Copies every plain file below a folder; links are left out.</summary>
    public static void CopyFolder(string source, string target)
    {
        Directory.CreateDirectory(target);
        foreach (FileSystemInfo item in new DirectoryInfo(source).EnumerateFileSystemInfos().Where(item => item.LinkTarget is null))
        {
            if (item is DirectoryInfo)
                CopyFolder(item.FullName, Path.Combine(target, item.Name));
            else
                Copy(item.FullName, Path.Combine(target, item.Name));
        }
    }
}
