namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>
/// The packed tiles of a raster or of one of its overviews, kept in a file beside until it is known where they go: smaller pictures stand
/// before the full one. Memory holds 12 bytes a tile.
/// </summary>
internal sealed class PackedLevel : IDisposable
{
    private readonly FileStream _spool;
    private readonly long[] _spooled;

    public PackedLevel(string beside, int columns, int rows, int bands)
    {
        (Columns, Rows) = (columns, rows);
        _spooled = new long[bands * TilesAcross * TilesDown];
        Counts = new int[_spooled.Length];
        _spool = new FileStream(
            $"{beside}.{columns}x{rows}-tiles", FileMode.Create, FileAccess.ReadWrite, FileShare.None, 1 << 16, FileOptions.DeleteOnClose);
    }

    public int Columns { get; }

    public int Rows { get; }

    public int TilesAcross => Pyramid.Tiles(Columns);

    public int TilesDown => Pyramid.Tiles(Rows);

    /// <summary>Bytes of each tile, band by band and row by row; 0 for one that was never written.</summary>
    public int[] Counts { get; }

    public long Bytes => Counts.Sum(count => (long)count);

    public void Add(int band, int tileColumn, int tileRow, byte[] packed)
    {
        int place = (band * TilesDown + tileRow) * TilesAcross + tileColumn;
        if (Counts[place] != 0)
            throw new ArgumentException($"Tile {tileColumn}, {tileRow} of band {band} was written before.", nameof(tileColumn));
        _spooled[place] = _spool.Position;
        Counts[place] = packed.Length;
        _spool.Write(packed);
    }

    /// <summary>Fills in where each tile lies in a file that takes them from there on; 0 for one that was never written.</summary>
    public void Place(long at, long[] places)
    {
        for (int i = 0; i < places.Length; i++)
        {
            places[i] = Counts[i] == 0 ? 0 : at;
            at += Counts[i];
        }
    }

    /// <summary>The layer that is looked at lies together: band by band, row by row.</summary>
    public void CopyTo(Stream to)
    {
        byte[] tile = new byte[Counts.Max()];
        for (int i = 0; i < Counts.Length; i++)
        {
            if (Counts[i] == 0)
                continue;
            _spool.Position = _spooled[i];
            _spool.ReadExactly(tile.AsSpan(0, Counts[i]));
            to.Write(tile.AsSpan(0, Counts[i]));
        }
    }

    public void Dispose() => _spool.Dispose();
}
