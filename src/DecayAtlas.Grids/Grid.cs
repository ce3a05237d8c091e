namespace DecayAtlas.Grids;

/// <summary>
/// One band of one file, opened for reading. Values come out scaled (raw x scale + offset) and missing is
/// <see cref="double.NaN"/>. Decoded blocks are kept in a small cache: at most <see cref="CacheBytes"/>, or two
/// blocks where those are larger. Not safe for use by several threads at once.
/// </summary>
public abstract class Grid : IDisposable
{
    /// <summary>Most bytes of decoded values kept at a time.</summary>
    public const long CacheBytes = 64L << 20;

    /// <summary>Most cells a file may hold in one block; larger blocks are refused, so that memory stays bounded.</summary>
    public const int MaxBlockCells = 16 << 20;

    private readonly BlockCache _blocks;

    private protected Grid(string path, GridGeometry geometry, int blockColumns, int blockRows)
    {
        Path = path;
        Geometry = geometry;
        BlockColumns = blockColumns;
        BlockRows = blockRows;
        long blockBytes = (long)blockColumns * blockRows * sizeof(double);
        _blocks = new BlockCache((int)Math.Clamp(CacheBytes / blockBytes, 2, 4096));
    }

    public string Path { get; }

    public GridGeometry Geometry { get; }

    /// <summary>Columns of a block, the unit of decoding.</summary>
    public int BlockColumns { get; }

    /// <summary>Rows of a block, the unit of decoding.</summary>
    public int BlockRows { get; }

    /// <summary>How many blocks have been decoded since the grid was opened.</summary>
    public long BlocksDecoded { get; private set; }

    /// <summary>
    /// Fractional cell coordinates of a point, as <see cref="GridGeometry.TryLocate"/>. Everything that samples asks
    /// the grid and not its geometry: a grid in a map projection projects the point here.
    /// </summary>
    public virtual bool TryLocate(GeoPoint point, out double column, out double row) =>
        Geometry.TryLocate(point, out column, out row);

    /// <summary>The centre of a cell on the ground; the way back from <see cref="TryLocate"/>.</summary>
    public virtual GeoPoint CentreOf(int column, int row) => Geometry.CentreOf(column, row);

    /// <summary>Reads a window of cells, row by row from the north-west; missing is NaN.</summary>
    /// <exception cref="GridException">The file is damaged.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The window is not inside the grid, or does not fit the span.</exception>
    public void ReadWindow(int column, int row, int columns, int rows, Span<double> values)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(column);
        ArgumentOutOfRangeException.ThrowIfNegative(row);
        ArgumentOutOfRangeException.ThrowIfNegative(columns);
        ArgumentOutOfRangeException.ThrowIfNegative(rows);
        ArgumentOutOfRangeException.ThrowIfGreaterThan((long)column + columns, Geometry.Columns, nameof(columns));
        ArgumentOutOfRangeException.ThrowIfGreaterThan((long)row + rows, Geometry.Rows, nameof(rows));
        ArgumentOutOfRangeException.ThrowIfLessThan(values.Length, (long)columns * rows, nameof(values));
        for (int y = row; y < row + rows;)
        {
            int blockRow = y / BlockRows;
            int yEnd = (int)Math.Min(row + rows, (blockRow + 1L) * BlockRows);
            for (int x = column; x < column + columns;)
            {
                int blockColumn = x / BlockColumns;
                int xEnd = (int)Math.Min(column + columns, (blockColumn + 1L) * BlockColumns);
                double[] block = Block(blockColumn, blockRow);
                for (int line = y; line < yEnd; line++)
                {
                    int from = (line - blockRow * BlockRows) * BlockColumns + (x - blockColumn * BlockColumns);
                    block.AsSpan(from, xEnd - x).CopyTo(values[((line - row) * columns + (x - column))..]);
                }

                x = xEnd;
            }

            y = yEnd;
        }
    }

    /// <summary>The value of one cell; missing is NaN.</summary>
    /// <exception cref="GridException">The file is damaged.</exception>
    public double ReadCell(int column, int row)
    {
        Span<double> value = stackalloc double[1];
        ReadWindow(column, row, 1, 1, value);
        return value[0];
    }

    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>
    /// Decodes one block into BlockColumns x BlockRows scaled values; cells of an edge block that lie beyond the grid
    /// may hold anything.
    /// </summary>
    private protected abstract void DecodeBlock(int blockColumn, int blockRow, double[] values);

    protected virtual void Dispose(bool disposing)
    {
    }

    private double[] Block(int blockColumn, int blockRow)
    {
        if (!_blocks.TryGet((blockColumn, blockRow), out double[]? block))
        {
            block = _blocks.TakeRoom() ?? new double[BlockColumns * BlockRows];
            DecodeBlock(blockColumn, blockRow, block);
            BlocksDecoded++;
            _blocks.Add((blockColumn, blockRow), block);
        }

        return block;
    }
}
