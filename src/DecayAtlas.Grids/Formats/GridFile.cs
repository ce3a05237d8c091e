namespace DecayAtlas.Grids.Formats;

/// <summary>Opens grid files of the formats this library reads, told apart by their first bytes, not by their name.</summary>
public static class GridFile
{
    /// <summary>Every format; the first that recognises a file reads it. One that is added here is opened, inspected and proposed
    /// everywhere.</summary>
    internal static IReadOnlyList<GridFormat> Formats { get; } = [new GeoTiffFormat(), new NetCdfFormat(), new AsciiFormat()];

    /// <summary>
    /// Opens a GeoTIFF, a NetCDF variable or an Esri ASCII grid in any reference system that <see cref="Projection"/> knows. A path
    /// whose file name holds * or ? opens every file of that pattern as tiles of one grid.
    /// </summary>
    /// <exception cref="GridException">The file is absent, damaged, of another format or in a reference system that is not known
    /// here.</exception>
    public static Grid Open(string path, GridReadOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        options ??= new GridReadOptions();
        if (options.Band < 1)
            throw new GridException($"{path}: band {options.Band} was asked for; bands are counted from 1.");

        if (RemoteAddress.Is(path))
            return OfRemote(path, options.Remote, file => GeoTiffGrid.Open(file, path, options));

        if (TilePattern.Is(path))
            return MosaicGrid.Open(path, TilePattern.Expand(path), options);

        GridFormat format = FormatOf(path);
        if (!format.HasVariables && (options.Variable ?? options.Select?.Keys.FirstOrDefault()) is { } named)
            throw new GridException($"{path} is no NetCDF file, and variable or dimension {named} was asked for.");

        return Read(path, () => format.Open(path, options));
    }

    /// <summary>Looks into a file; for a pattern of tiles into the first of them.</summary>
    /// <exception cref="GridException">The file is absent, damaged or of another format.</exception>
    /// <param name="remote">What may be read over the network; nothing unless stated.</param>
    public static GridDescription Describe(string path, RemoteGrids? remote = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (RemoteAddress.Is(path))
            return OfRemote(path, remote ?? RemoteGrids.None, file => TiffDescription.Of(path, new RemoteStream(file)));

        if (TilePattern.Is(path))
        {
            IReadOnlyList<string> tiles = TilePattern.Expand(path);
            GridDescription first = Describe(tiles[0]);
            return first with { Format = $"{first.Format}, {tiles.Count} tiles" };
        }

        return Read(path, () => FormatOf(path).Describe(path));
    }

    private static T Read<T>(string path, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (IOException e)
        {
            throw GridException.Unreadable(path, e);
        }
    }

    private static T OfRemote<T>(string address, RemoteGrids remote, Func<RemoteFile, T> read)
    {
        RemoteFile file = remote.Open(address);
        byte[] head = new byte[4];
        file.ReadByPages(0, head);
        return TiffDirectory.Recognises(head) ? Read(address, () => read(file)) : throw new GridException(
            $"{address} is no TIFF, and only tiled GeoTIFFs are read over the network; fetch the file and name it by its path.");
    }

    /// <exception cref="GridException">The file is absent, or of no format that is read.</exception>
    private static GridFormat FormatOf(string path)
    {
        ReadOnlySpan<byte> head = GridFormat.HeadOf(path);
        foreach (GridFormat format in Formats)
        {
            if (format.Recognises(head))
                return format;
        }

        throw new GridException(
            $"{path} is not a grid this version reads: its first bytes are those of neither "
            + $"{string.Join(" nor ", Formats.Select(f => f.Article))}; convert it, for example with gdal_translate -of GTiff.");
    }
}
