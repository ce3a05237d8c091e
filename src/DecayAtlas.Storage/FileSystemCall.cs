using System.Runtime.InteropServices;
using Microsoft.Win32.SafeHandles;

namespace DecayAtlas.Storage;

/// <summary>
/// The operating-system calls that .NET does not offer: a hard link, a rename that replaces a symbolic link, and one flush of many files.
/// </summary>
public static class FileSystemCall
{
    /// <summary>Makes <paramref name="link"/> a second name of <paramref name="existing"/>; copies where the file system has no hard
    /// links.</summary>
    public static void LinkOrCopy(string existing, string link)
    {
        bool linked = OperatingSystem.IsWindows() ? CreateHardLinkW(link, existing, IntPtr.Zero) : Link(existing, link) == 0;
        if (!linked)
            File.Copy(existing, link);
    }

    /// <summary>
    /// Points the symbolic link <paramref name="link"/> at <paramref name="target"/>. On Unix the swap is one atomic rename;
    /// Windows has no such call for links to folders, so that there the link is absent for an instant.
    /// </summary>
    public static void SwapLink(string link, string target)
    {
        string next = link + ".next";
        if (new FileInfo(next).LinkTarget is not null)
            File.Delete(next);
        Directory.CreateSymbolicLink(next, target);
        if (OperatingSystem.IsWindows())
        {
            if (new DirectoryInfo(link).LinkTarget is not null)
                Directory.Delete(link);
            Directory.Move(next, link);
        }
        else if (Rename(next, link) != 0)
        {
            throw new IOException($"cannot replace {link}: {Marshal.GetLastPInvokeErrorMessage()}");
        }
    }

    /// <summary>
    /// Brings files to the disk. On Linux one call flushes their whole file system, which for thousands of small files is some
    /// hundred times as fast as one call a file; elsewhere each is flushed by itself.
    /// </summary>
    public static void Flush(IReadOnlyCollection<string> files)
    {
        if (files.Count == 0)
            return;
        if (OperatingSystem.IsLinux())
        {
            using SafeFileHandle any = File.OpenHandle(files.First());
            if (SyncFileSystem(any) == 0)
                return;
        }

        foreach (string file in files)
        {
            using SafeFileHandle handle = File.OpenHandle(file, FileMode.Open, FileAccess.Read);
            RandomAccess.FlushToDisk(handle);
        }
    }

    [DllImport("libc", EntryPoint = "syncfs", SetLastError = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int SyncFileSystem(SafeFileHandle file);

    [DllImport("libc", EntryPoint = "link", SetLastError = true, BestFitMapping = false, ThrowOnUnmappableChar = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Link([MarshalAs(UnmanagedType.LPUTF8Str)] string existing, [MarshalAs(UnmanagedType.LPUTF8Str)] string link);

    [DllImport("libc", EntryPoint = "rename", SetLastError = true, BestFitMapping = false, ThrowOnUnmappableChar = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int Rename([MarshalAs(UnmanagedType.LPUTF8Str)] string from, [MarshalAs(UnmanagedType.LPUTF8Str)] string to);

    [DllImport("kernel32", SetLastError = true, CharSet = CharSet.Unicode)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.System32)]
    [return: MarshalAs(UnmanagedType.Bool)]
    private static extern bool CreateHardLinkW(string link, string existing, IntPtr attributes);
}
