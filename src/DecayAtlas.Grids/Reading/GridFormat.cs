namespace DecayAtlas.Grids.Reading;

/// <summary>
/// A format of grid files: how it is recognised by its first bytes, opened and described. Values come out scaled, missing is NaN, and
/// memory does not grow with the file.
/// </summary>
internal abstract class GridFormat
{
    /// <summary>First bytes that are handed to <see cref="Recognises"/>; fewer where the file is shorter.</summary>
    private const int HeadBytes = 64;

    /// <summary>What the first bytes are those of, with its article: "a TIFF file".</summary>
    public abstract string Article { get; }

    /// <summary>Whether its files hold variables by name, with further dimensions.</summary>
    public virtual bool HasVariables => false;

    public abstract bool Recognises(ReadOnlySpan<byte> head);

    /// <exception cref="GridException">The file is damaged, or in a reference system that is not known here.</exception>
    public abstract Grid Open(string path, GridReadOptions options);

    /// <summary>What a file holds, before any of it is opened as a grid.</summary>
    /// <exception cref="GridException">The file is damaged.</exception>
    public abstract GridDescription Describe(string path);

    /// <exception cref="GridException">It can't be opened.</exception>
    public static byte[] HeadOf(string path)
    {
        try
        {
            using FileStream stream = File.OpenRead(path);
            byte[] head = new byte[HeadBytes];
            return head[..stream.ReadAtLeast(head, HeadBytes, throwOnEndOfStream: false)];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            string why = e is FileNotFoundException or DirectoryNotFoundException ? "there is no such file" : e.Message;
            throw new GridException($"{path} cannot be opened: {why.TrimEnd('.')}.", e);
        }
    }
}
