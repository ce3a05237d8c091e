namespace DecayAtlas.Storage;

/// <summary>What the operating system had against a write, in words for a person.</summary>
public static class StorageFault
{
    private const string Unknown = "a folder or file could not be written";
    private const int NoSpaceUnix = 28;
    private const int ReadOnlyUnix = 30;
    private const int QuotaUnix = 122;
    private const int DiskFullWindows = 112;

    /// <summary>Whether the operating system refused, and not we erred.</summary>
    public static bool Is(Exception fault) => fault is IOException or UnauthorizedAccessException;

    /// <summary>Why writing failed, in words that finish a sentence.</summary>
    public static string Reason(Exception fault) =>
        PlainReason(fault) is var plain && plain == Unknown ? $"{plain} ({fault.Message.TrimEnd('.')})" : plain;

    /// <summary>The same without the words of the system, which name files: what a sender called a file is not for everybody.</summary>
    public static string PlainReason(Exception fault) => fault switch
    {
        UnauthorizedAccessException => "access to it is refused",
        _ => (fault.HResult & 0xFFFF) switch
        {
            NoSpaceUnix or DiskFullWindows => "the disk is full",
            QuotaUnix => "the disk quota is used up",
            ReadOnlyUnix => "the disk is read-only",
            _ => Unknown,
        },
    };
}

/// <summary>Something on the disk that its user can act on; the message is one sentence meant for that user.</summary>
public class StorageException : Exception
{
    public StorageException(string message) : base(message) { }

    public StorageException(string message, Exception inner) : base(message, inner) { }

    /// <summary>A file or folder that the operating system did not let be written.</summary>
    public static StorageException NotWritten(string path, Exception fault) =>
        new($"{path} could not be written because {StorageFault.Reason(fault)}; mend that and run again.", fault);
}
