using System.Runtime.InteropServices;

namespace DecayAtlas.Pipeline.Cache;

/// <summary>
/// What a file system tells of a file that no program can set back: its number and its time of status change, which moves at every
/// write, replacement and change of times. Linux only; elsewhere it is empty.
/// </summary>
internal static class FileState
{
    // statx(2): the layout of its answer is fixed by the kernel for every architecture
    private const int AnswerBytes = 256, InodeAt = 32, ChangedSecondsAt = 96, ChangedNanosecondsAt = 104, DeviceMajorAt = 136,
        DeviceMinorAt = 140;
    private const int FromWorkingFolder = -100;
    private const uint Changed = 0x80, Inode = 0x100;

    /// <summary>The state in a line; empty where the system does not tell.</summary>
    public static string Of(string path)
    {
        if (!OperatingSystem.IsLinux())
            return "";
        try
        {
            byte[] answer = new byte[AnswerBytes];
            if (StatX(FromWorkingFolder, path, 0, Changed | Inode, answer) != 0)
                return "";
            return string.Create(InvariantCulture,
                $"{BitConverter.ToUInt32(answer, DeviceMajorAt)}:{BitConverter.ToUInt32(answer, DeviceMinorAt)} "
                + $"{BitConverter.ToUInt64(answer, InodeAt)} {BitConverter.ToInt64(answer, ChangedSecondsAt)}."
                + $"{BitConverter.ToUInt32(answer, ChangedNanosecondsAt):000000000}");
        }
        catch (EntryPointNotFoundException)
        {
            return "";   // an older C library
        }
    }

    [DllImport("libc", EntryPoint = "statx", SetLastError = true, BestFitMapping = false, ThrowOnUnmappableChar = true)]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int StatX(int folder, [MarshalAs(UnmanagedType.LPUTF8Str)] string path, int flags, uint mask, [Out]
        byte[] answer);
}
