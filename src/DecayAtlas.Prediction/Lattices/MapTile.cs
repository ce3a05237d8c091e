namespace DecayAtlas.Prediction.Lattices;

/// <summary>A tile of a map's cells, and which of them belong to the region; used again for every tile.</summary>
internal sealed class MapTile(MapLattice lattice, MapRegion region) : LatticeTile(lattice)
{
    private readonly bool[] _inside = new bool[Size * Size];

    public static float[] NewBand() => new float[Size * Size];

    public int TilesAcross => (Lattice.Columns + Size - 1) / Size;

    public int TilesDown => (Lattice.Rows + Size - 1) / Size;

    public ReadOnlySpan<bool> Inside => _inside.AsSpan(0, Count);

    /// <summary>Moves to a tile; false where none of its cells belongs to the region.</summary>
    public bool MoveTo(int tileColumn, int tileRow)
    {
        Place(tileColumn, tileRow);
        return region.Mark(Centres, _inside);
    }

    /// <summary>Goes through all tiles; those with no cell of the region are passed over.</summary>
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
