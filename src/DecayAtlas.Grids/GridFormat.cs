namespace DecayAtlas.Grids;

/// <summary>
/// A format of grid files: how it is recognised by its first bytes, opened and described. Values come out scaled, missing is NaN, and
/// memory does not grow with the file. A format that is added here is read, inspected and proposed everywhere.
/// </summary>
internal abstract class GridFormat
{
    /// <summary>First bytes that are handed to <see cref="Recognises"/>; fewer where the file is shorter.</summary>
    private const int HeadBytes = 64;

    /// <summary>Every format; the first that recognises a file reads it.</summary>
    public static IReadOnlyList<GridFormat> All { get; } = [new GeoTiffFormat(), new NetCdfFormat(), new AsciiFormat()];

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

    /// <summary>The format of a file.</summary>
    /// <exception cref="GridException">The file is absent, or of no format that is read.</exception>
    public static GridFormat Of(string path)
    {
        ReadOnlySpan<byte> head = HeadOf(path);
        foreach (GridFormat format in All)
        {
            if (format.Recognises(head))
                return format;
        }

        throw new GridException(
            $"{path} is not a grid this version reads: its first bytes are those of neither "
            + $"{string.Join(" nor ", All.Select(f => f.Article))}; "
            + "convert it, for example with gdal_translate -of GTiff.");
    }

    /// <summary>The first bytes of a file.</summary>
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
