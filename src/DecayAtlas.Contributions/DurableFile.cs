using System.Text;

namespace DecayAtlas.Contributions;

/// <summary>Writes files so that they are on the disk, not only in memory, when the call returns.</summary>
internal static class DurableFile
{
    private const int NoSpaceUnix = 28;
    private const int ReadOnlyUnix = 30;
    private const int QuotaUnix = 122;
    private const int DiskFullWindows = 112;

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

    /// <summary>Why writing failed, in words that finish a sentence.</summary>
    public static string Reason(Exception fault) => fault switch
    {
        UnauthorizedAccessException => "it may not be written to",
        _ => (fault.HResult & 0xFFFF) switch
        {
            NoSpaceUnix or DiskFullWindows => "the disk is full",
            QuotaUnix => "the disk quota is used up",
            ReadOnlyUnix => "the disk is read-only",
            _ => "a folder or file could not be written (" + fault.Message.TrimEnd('.') + ")",
        },
    };
}
