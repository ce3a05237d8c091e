namespace DecayAtlas.Prediction.Lattices;

/// <summary>A tile of a map's cells, and which of them belong to the region; used again for every tile.</summary>
internal sealed class MapTile(MapLattice lattice, MapRegion region)
{
    public const int Size = GeoTiffWriter.TileSize;

    private readonly GeoPoint[] _centres = new GeoPoint[Size * Size];
    private readonly bool[] _inside = new bool[Size * Size];

    public MapLattice Lattice { get; } = lattice;

    public int Column { get; private set; }

    public int Row { get; private set; }

    public int Columns { get; private set; }

    public int Rows { get; private set; }

    public int Count => Columns * Rows;

    public int TilesAcross => (Lattice.Columns + Size - 1) / Size;

    public int TilesDown => (Lattice.Rows + Size - 1) / Size;

    /// <summary>Centres of the cells, row by row.</summary>
    public ReadOnlySpan<GeoPoint> Centres => _centres.AsSpan(0, Count);

    public ReadOnlySpan<bool> Inside => _inside.AsSpan(0, Count);

    /// <summary>Moves to a tile; false where none of its cells belongs to the region.</summary>
    public bool MoveTo(int tileColumn, int tileRow)
    {
        (Column, Row) = (tileColumn * Size, tileRow * Size);
        (Columns, Rows) = (Math.Min(Size, Lattice.Columns - Column), Math.Min(Size, Lattice.Rows - Row));
        Parallel.For(0, Rows, y =>
        {
            for (int x = 0; x < Columns; x++)
                _centres[y * Columns + x] = Lattice.CentreOf(Column + x, Row + y);
        });
        return region.Mark(Centres, _inside);
    }

    /// <summary>Goes through all tiles; those with no cell of the region are passed over.</summary>
    /// <param name="take">Called at each tile with a cell of the region.</param>
    /// <param name="progress">Told tiles done and tiles in all.</param>
    public void ForEach(Action take, Action<int, int> progress)
    {
        int tiles = TilesAcross * TilesDown;
        for (int t = 0; t < tiles; t++)
        {
            if (MoveTo(t % TilesAcross, t / TilesAcross))
                take();
            progress(t + 1, tiles);
        }
    }
}
