namespace DecayAtlas.Grids.Formats;

/// <summary>
/// Many tiles on one lattice, read as one grid. Where tiles overlap, the first of them (by name) that has a value counts; where
/// there is none, the cell is missing. At most <see cref="OpenTiles"/> files are open at a time, each with its own cache.
/// </summary>
internal sealed class MosaicGrid : Grid
{
    /// <summary>Files held open; with their caches they take at most 4 x 64 MB.</summary>
    private const int OpenTiles = 4;

    private const int BlockSide = 256;

    private readonly Tile[] _tiles;
    private readonly GridReadOptions _options;
    private readonly List<(int Tile, Grid Grid)> _open = [];
    private readonly Dictionary<(int Column, int Row), int[]> _byBlock;

    private MosaicGrid(string path, Projection projection, GridLattice lattice, Tile[] tiles, GridReadOptions options)
        : base(path, projection, lattice, Math.Min(BlockSide, lattice.Columns), Math.Min(BlockSide, lattice.Rows))
    {
        _tiles = tiles;
        _options = options;
        _byBlock = Enumerable.Range(0, tiles.Length).SelectMany(t => BlocksOf(tiles[t]).Select(block => (block, t)))
            .GroupBy(x => x.block, x => x.t).ToDictionary(g => g.Key, g => g.Order().ToArray());
    }

    public static MosaicGrid Open(string pattern, IReadOnlyList<string> paths, GridReadOptions options)
    {
        List<(string Path, GridLattice Lattice)> found = [];
        Projection? projection = null;
        foreach (string path in paths)
        {
            using Grid tile = GridFile.Open(path, options);
            projection ??= tile.Projection;
            if (!projection.Definition.IsSameAs(tile.Projection.Definition))
                throw new GridException($"{path} is in {tile.Projection.Name}, and the other tiles of {pattern} are in {projection.Name}.");

            found.Add((path, tile.Lattice));
        }

        GridLattice first = found[0].Lattice;
        double west = found.Min(t => t.Lattice.West), north = found.Max(t => t.Lattice.North);
        Tile[] tiles = [.. found.Select(t => Place(t.Path, t.Lattice, first, west, north))];
        long columns = tiles.Max(t => (long)t.Column + t.Columns), rows = tiles.Max(t => (long)t.Row + t.Rows);
        if (columns > int.MaxValue / 2 || rows > int.MaxValue / 2)
            throw new GridException($"The tiles of {pattern} span {columns} by {rows} cells, more than one grid may have.");

        GridLattice lattice = new((int)columns, (int)rows, west, north, first.CellWidth, first.CellHeight);
        return new MosaicGrid(pattern, projection!, GeometryCheck.Checked(pattern, projection!, lattice), tiles, options);
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            foreach ((_, Grid grid) in _open)
                grid.Dispose();

            _open.Clear();
        }

        base.Dispose(disposing);
    }

    /// <summary>Blocks of the same tile stand together, so that a tile is opened once for all requests.</summary>
    private protected override long RankOf(int blockColumn, int blockRow) =>
        _byBlock.TryGetValue((blockColumn, blockRow), out int[]? tiles) ? tiles[0] : int.MaxValue;

    private protected override void DecodeBlock(int blockColumn, int blockRow, double[] values)
    {
        values.AsSpan().Fill(double.NaN);
        if (!_byBlock.TryGetValue((blockColumn, blockRow), out int[]? tiles))
            return;

        int left = blockColumn * BlockColumns, top = blockRow * BlockRows;
        foreach (int t in tiles)
        {
            Tile tile = _tiles[t];
            int x0 = Math.Max(left, tile.Column), x1 = Math.Min(left + BlockColumns, tile.Column + tile.Columns);
            int y0 = Math.Max(top, tile.Row), y1 = Math.Min(top + BlockRows, tile.Row + tile.Rows);
            double[] window = new double[(x1 - x0) * (y1 - y0)];
            GridOf(t).ReadWindow(x0 - tile.Column, y0 - tile.Row, x1 - x0, y1 - y0, window);
            for (int y = y0; y < y1; y++)
            {
                for (int x = x0; x < x1; x++)
                {
                    ref double value = ref values[(y - top) * BlockColumns + (x - left)];
                    value = double.IsNaN(value) ? window[(y - y0) * (x1 - x0) + (x - x0)] : value;
                }
            }
        }
    }

    private Grid GridOf(int tile)
    {
        int at = _open.FindIndex(open => open.Tile == tile);
        if (at < 0 && _open.Count == OpenTiles)
        {
            _open[^1].Grid.Dispose();
            _open.RemoveAt(OpenTiles - 1);
        }

        Grid grid = at < 0 ? GridFile.Open(_tiles[tile].Path, _options) : _open[at].Grid;
        if (at >= 0)
            _open.RemoveAt(at);

        _open.Insert(0, (tile, grid));
        return grid;
    }

    private IEnumerable<(int Column, int Row)> BlocksOf(Tile tile)
    {
        for (int row = tile.Row / BlockRows; row <= (tile.Row + tile.Rows - 1) / BlockRows; row++)
        {
            for (int column = tile.Column / BlockColumns; column <= (tile.Column + tile.Columns - 1) / BlockColumns; column++)
                yield return (column, row);
        }
    }

    private static Tile Place(string path, GridLattice tile, GridLattice first, double west, double north)
    {
        double column = (tile.West - west) / first.CellWidth, row = (north - tile.North) / first.CellHeight;
        bool sameCells = Math.Abs(tile.CellWidth - first.CellWidth) * tile.Columns < 1e-2 * first.CellWidth
            && Math.Abs(tile.CellHeight - first.CellHeight) * tile.Rows < 1e-2 * first.CellHeight;
        bool aligned = Math.Abs(column - Math.Round(column)) < 1e-2 && Math.Abs(row - Math.Round(row)) < 1e-2 && column < 1e9 && row < 1e9;
        return sameCells && aligned
            ? new Tile(path, (int)Math.Round(column), (int)Math.Round(row), tile.Columns, tile.Rows)
            : throw new GridException(
                $"{path} does not lie on the cells of the other tiles (another cell size, or shifted by part of a cell); warp it onto "
                + "them, for example with gdalwarp -tap.");
    }

    private sealed record Tile(string Path, int Column, int Row, int Columns, int Rows);
}
