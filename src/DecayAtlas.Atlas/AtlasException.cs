namespace DecayAtlas.Atlas;

/// <summary>Something about the atlas on disk that its user can act on; the message is one sentence meant for that user.</summary>
public sealed class AtlasException : StorageException
{
    public AtlasException(string message) : base(message) { }

    public AtlasException(string message, Exception inner) : base(message, inner) { }

    internal static AtlasException NotWritten(AtlasFolder folder, Exception fault) => new(
        $"The release could not be written to {folder.Root} because {StorageFault.Reason(fault)}; "
        + "the current release is untouched, mend that and run again.", fault);
}
