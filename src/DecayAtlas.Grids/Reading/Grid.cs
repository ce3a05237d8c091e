using System.Buffers;
using System.Runtime.CompilerServices;

namespace DecayAtlas.Grids.Reading;

/// <summary>
/// One band of one file, opened for reading. Values come out scaled (raw x scale + offset) and missing is
/// <see cref="double.NaN"/>. Decoded blocks are kept in a small cache: at most <see cref="CacheBytes"/>, or two
/// blocks where those are larger. Not safe for use by several threads at once.
/// </summary>
public abstract class Grid : IDisposable
{
    public const long CacheBytes = 64L << 20;

    /// <summary>Most cells a file may hold in one block; larger blocks are refused, so that memory stays bounded.</summary>
    public const int MaxBlockCells = 16 << 20;

    private readonly BlockCache _blocks;
    private readonly GroundLattice _ground;
    private readonly GridLattice? _degrees;
    private long _decoded;

    private protected Grid(string path, Projection projection, GridLattice lattice, int blockColumns, int blockRows)
    {
        Path = path;
        _ground = new GroundLattice(projection, lattice);
        BlockColumns = blockColumns;
        BlockRows = blockRows;
        _degrees = projection.IsGeographic ? lattice : null;
        GoesRoundTheEarth = projection.TurnWidth is { } turn
            && Math.Abs(lattice.Columns * lattice.CellWidth - turn) < 1e-6 * lattice.CellWidth * lattice.Columns;
        _blocks = new BlockCache(BlocksIn(CacheBytes));
    }

    public string Path { get; }

    public Projection Projection => _ground.Projection;

    /// <summary>The cells in the coordinates of <see cref="Projection"/>.</summary>
    public GridLattice Lattice => _ground.Cells;

    public int Columns => Lattice.Columns;

    public int Rows => Lattice.Rows;

    /// <summary>Whether the columns go once round the Earth, so that the last one touches the first.</summary>
    public bool GoesRoundTheEarth { get; }

    /// <summary><see cref="Lattice"/>, for those who need it in degrees.</summary>
    /// <exception cref="GridException">The grid is not in longitude and latitude.</exception>
    public GridLattice LatticeInDegrees => _degrees ?? throw new GridException(
        $"{Path} is laid out in {Projection.Name} and not in degrees of longitude and latitude, which were expected here; "
        + "warp it, for example with gdalwarp -t_srs EPSG:4326.");

    /// <summary>Columns of a block, the unit of decoding.</summary>
    public int BlockColumns { get; }

    public int BlockRows { get; }

    public long BlocksDecoded => Interlocked.Read(ref _decoded);

    /// <summary>Whether <see cref="DecodeBlock"/> may run on several threads at once.</summary>
    private protected virtual bool DecodesInParallel => false;

    /// <summary>
    /// Fractional cell coordinates of a point, as <see cref="GridLattice.TryLocate"/>. Everything that samples asks
    /// the grid and not its lattice: a grid in a map projection projects the point here.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public virtual bool TryLocate(GeoPoint point, out double column, out double row)
    {
        if (_degrees is not null)
            return _degrees.TryLocate(point, out column, out row);

        bool onMap = Projection.TryProject(point, out double x, out double y);
        column = (x - Lattice.West) / Lattice.CellWidth;
        row = (Lattice.North - y) / Lattice.CellHeight;
        if (onMap && (column < 0 || column >= Columns) && Projection.TurnWidth is { } turn)
        {
            // A cylinder may be cut along another meridian than its own.
            double turned = column + (column < 0 ? turn : -turn) / Lattice.CellWidth;
            column = turned >= 0 && turned < Columns ? turned : column;
        }

        return onMap && row >= 0 && row <= Rows && column >= 0 && column <= Columns;
    }

    /// <summary>
    /// The centre of a cell on the ground; the way back from <see cref="TryLocate"/>. Not-a-number where the cell lies
    /// off the map, as in the corners of a world map.
    /// </summary>
    public virtual GeoPoint CentreOf(int column, int row) => _degrees is not null ? _degrees.CentreOf(column, row)
        : PlaceOf(column + 0.5, row + 0.5);

    /// <summary>The place on the ground of fractional cell coordinates; not-a-number off the map.</summary>
    public GeoPoint PlaceOf(double column, double row) => _ground.PlaceOf(column, row);

    /// <summary>
    /// The box on the ground that the grid reaches over, degrees, found by walking along a net of 60 x 60 places of it; a map that
    /// holds a pole or goes over the antimeridian reaches all round.
    /// </summary>
    public GroundExtent Extent() => GroundExtent.Of(this);

    /// <summary>Keeps at most so many bytes of decoded blocks from now on, or two blocks where those are larger; for those who open many
    /// grids.</summary>
    public void KeepAtMost(long bytes) => _blocks.Resize(BlocksIn(Math.Min(bytes, CacheBytes)));

    /// <summary>Reads a window of cells, row by row from the north-west; missing is NaN.</summary>
    /// <exception cref="GridException">The file is damaged.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The window is not inside the grid, or does not fit the span.</exception>
    public void ReadWindow(int column, int row, int columns, int rows, Span<double> values)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(column);
        ArgumentOutOfRangeException.ThrowIfNegative(row);
        ArgumentOutOfRangeException.ThrowIfNegative(columns);
        ArgumentOutOfRangeException.ThrowIfNegative(rows);
        ArgumentOutOfRangeException.ThrowIfGreaterThan((long)column + columns, Columns, nameof(columns));
        ArgumentOutOfRangeException.ThrowIfGreaterThan((long)row + rows, Rows, nameof(rows));
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

    /// <exception cref="GridException">The file is damaged.</exception>
    public double ReadCell(int column, int row)
    {
        Span<double> value = stackalloc double[1];
        ReadWindow(column, row, 1, 1, value);
        return value[0];
    }

    /// <summary>
    /// Reads cells that are grouped by block, each block once, on all cores where the format allows. A worker holds one block;
    /// large blocks get fewer workers, so that memory stays within <see cref="CacheBytes"/> (or one block).
    /// </summary>
    internal void ReadBlocks(IReadOnlyList<BlockRequest> requests, double[] values)
    {
        if (requests.Count < 4)
        {
            // Few blocks may be asked for again: they are kept.
            foreach (BlockRequest request in requests)
                Pick(Block(request.Column, request.Row), request, values);

            return;
        }

        Prepare(requests);
        if (!DecodesInParallel)
        {
            foreach (BlockRequest request in requests)
            {
                DecodeCells(request, values);
                Interlocked.Increment(ref _decoded);
            }

            return;
        }

        int workers = (int)Math.Clamp(CacheBytes / ((long)BlockColumns * BlockRows * sizeof(double)), 1, Environment.ProcessorCount);
        try
        {
            Parallel.For(0, requests.Count, new ParallelOptions { MaxDegreeOfParallelism = workers }, i =>
            {
                DecodeCells(requests[i], values);
                Interlocked.Increment(ref _decoded);
            });
        }
        catch (AggregateException e) when (GridException.FirstOf(e) is { } first)
        {
            throw new GridException(first.Message, e);
        }
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

    /// <summary>Told which blocks will be asked for.</summary>
    private protected virtual void Prepare(IReadOnlyList<BlockRequest> requests)
    {
    }

    /// <summary>Decodes what some cells of one block need; a format that can do with less than the block overrides it.</summary>
    private protected virtual void DecodeCells(BlockRequest request, double[] values)
    {
        double[] block = ArrayPool<double>.Shared.Rent(BlockColumns * BlockRows);
        try
        {
            DecodeBlock(request.Column, request.Row, block);
            Pick(block, request, values);
        }
        finally
        {
            ArrayPool<double>.Shared.Return(block);
        }
    }

    /// <summary>Blocks are read in the order of their rank, then row by row.</summary>
    private protected virtual long RankOf(int blockColumn, int blockRow) => 0;

    /// <summary>The key by which requests are put in the order of reading.</summary>
    internal (long Rank, long Place) OrderOf(int blockColumn, int blockRow) =>
        (RankOf(blockColumn, blockRow), blockRow * ((long)Columns / BlockColumns + 1) + blockColumn);

    protected virtual void Dispose(bool disposing)
    {
    }

    private int BlocksIn(long bytes) => (int)Math.Clamp(bytes / ((long)BlockColumns * BlockRows * sizeof(double)), 2, 4096);

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Pick(double[] block, BlockRequest request, double[] values)
    {
        ReadOnlySpan<int> cells = request.Cells, targets = request.Targets.Span;
        for (int i = 0; i < cells.Length; i++)
            values[targets[i]] = block[cells[i]];
    }

    private double[] Block(int blockColumn, int blockRow)
    {
        if (!_blocks.TryGet((blockColumn, blockRow), out double[]? block))
        {
            block = _blocks.TakeRoom() ?? new double[BlockColumns * BlockRows];
            DecodeBlock(blockColumn, blockRow, block);
            Interlocked.Increment(ref _decoded);
            _blocks.Add((blockColumn, blockRow), block);
        }

        return block;
    }
}
