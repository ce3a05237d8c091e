namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>
/// The next smaller picture of a raster while the raster is written: each 256 x 256 tile becomes a 128 x 128 quarter of a tile of
/// the next level, kept in a temporary file, so that memory does not grow with the raster. A cell is made of the valid ones
/// among its four as the band's meaning asks: their mean, the class most of them hold (the first of as many), or the first of them.
/// </summary>
internal sealed class Pyramid : IDisposable
{
    public const int TileSize = LatticeTile.Size;

    private const int Half = TileSize / 2;
    private const int QuarterBytes = Half * Half * sizeof(float);

    private readonly FileStream _file;
    private readonly IReadOnlyList<GeoTiffBand> _bands;
    private readonly int _sourceAcross;
    private readonly int _sourceDown;
    private readonly bool[] _written;

    public Pyramid(string beside, IReadOnlyList<GeoTiffBand> bands, int sourceColumns, int sourceRows)
    {
        _bands = bands;
        _sourceAcross = Tiles(sourceColumns);
        _sourceDown = Tiles(sourceRows);
        Columns = (sourceColumns + 1) / 2;
        Rows = (sourceRows + 1) / 2;
        _written = new bool[bands.Count * _sourceAcross * _sourceDown];
        _file = new FileStream(
            $"{beside}.{Columns}x{Rows}", FileMode.Create, FileAccess.ReadWrite, FileShare.None, QuarterBytes, FileOptions.DeleteOnClose);
    }

    public int Columns { get; }

    public int Rows { get; }

    public int TilesAcross => Tiles(Columns);

    public int TilesDown => Tiles(Rows);

    public static int Tiles(int cells) => (cells + TileSize - 1) / TileSize;

    /// <summary>Takes a tile of the source in; cells beyond its edge are not-a-number.</summary>
    public void Add(int band, int tileColumn, int tileRow, ReadOnlySpan<float> tile)
    {
        Span<float> quarter = stackalloc float[Half];
        byte[] bytes = new byte[QuarterBytes];
        GeoTiffBand meaning = _bands[band];
        for (int y = 0; y < Half; y++)
        {
            for (int x = 0; x < Half; x++)
            {
                int at = 2 * y * TileSize + 2 * x;
                quarter[x] = Combined(tile[at], tile[at + 1], tile[at + TileSize], tile[at + TileSize + 1], meaning);
            }

            System.Runtime.InteropServices.MemoryMarshal.AsBytes(quarter).CopyTo(bytes.AsSpan(y * Half * sizeof(float)));
        }

        int index = Index(band, tileColumn, tileRow);
        _written[index] = true;
        _file.Position = (long)index * QuarterBytes;
        _file.Write(bytes);
    }

    /// <summary>Puts a tile of this level together from its quarters.</summary>
    /// <returns>False where no part of it was ever written.</returns>
    public bool Read(int band, int tileColumn, int tileRow, float[] tile)
    {
        Array.Fill(tile, float.NaN);
        bool any = false;
        byte[] bytes = new byte[QuarterBytes];
        for (int part = 0; part < 4; part++)
        {
            int column = 2 * tileColumn + part % 2, row = 2 * tileRow + part / 2;
            if (column >= _sourceAcross || row >= _sourceDown || !_written[Index(band, column, row)])
                continue;

            any = true;
            _file.Position = (long)Index(band, column, row) * QuarterBytes;
            _file.ReadExactly(bytes);
            ReadOnlySpan<float> quarter = System.Runtime.InteropServices.MemoryMarshal.Cast<byte, float>(bytes);
            for (int y = 0; y < Half; y++)
                quarter.Slice(y * Half, Half).CopyTo(tile.AsSpan((part / 2 * Half + y) * TileSize + part % 2 * Half));
        }

        return any;
    }

    public void Dispose() => _file.Dispose();

    private static float Combined(float a, float b, float c, float d, GeoTiffBand meaning)
    {
        Span<float> four = [a, b, c, d];
        int count = 0;
        double sum = 0;
        foreach (float value in four)
        {
            if (float.IsNaN(value))
                continue;
            four[count++] = value;
            sum += value;
        }

        Span<float> valid = four[..count];
        return count == 0 ? float.NaN : meaning.IsFlag ? valid[0] : meaning.IsClass ? Commonest(valid) : (float)(sum / count);
    }

    private static float Commonest(ReadOnlySpan<float> classes)
    {
        (float most, int votes) = (classes[0], 0);
        foreach (float value in classes)
        {
            if (classes.Count(value) > votes)
                (most, votes) = (value, classes.Count(value));
        }

        return most;
    }

    private int Index(int band, int tileColumn, int tileRow) => (band * _sourceDown + tileRow) * _sourceAcross + tileColumn;
}
