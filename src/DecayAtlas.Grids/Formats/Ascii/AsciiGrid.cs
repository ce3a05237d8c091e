namespace DecayAtlas.Grids.Formats.Ascii;

/// <summary>
/// An Esri ASCII grid. The file is walked once on opening to count its values and note where each block of rows starts;
/// after that only the blocks asked for are parsed, so that memory does not grow with the file.
/// </summary>
internal sealed class AsciiGrid : Grid
{
    private const int BlockCells = 1 << 16;

    private readonly FileStream _stream;
    private readonly long[] _blockStarts;
    private readonly double _missing;
    private readonly double _scale;
    private readonly double _offset;

    private AsciiGrid(FileStream stream, string path, Projection projection, GridLattice lattice, int blockRows, long[] blockStarts,
        double missing, GridReadOptions options)
        : base(path, projection, lattice, lattice.Columns, blockRows)
    {
        _stream = stream;
        _blockStarts = blockStarts;
        _missing = missing;
        _scale = options.Scale ?? 1;
        _offset = options.Offset ?? 0;
    }

    public static AsciiGrid Open(string path, GridReadOptions options)
    {
        if (options.Band != 1)
            throw new GridException($"{path} is an ASCII grid, which has one band, and band {options.Band} was asked for.");

        FileStream stream = File.OpenRead(path);
        try
        {
            AsciiTokens tokens = new(stream, 0);
            AsciiHeader header = AsciiHeader.Read(path, tokens);
            Projection projection = GeometryCheck.Declared(path, options.Crs);
            GridLattice lattice = GeometryCheck.Checked(path, projection, header.Lattice);
            int blockRows = Math.Clamp(BlockCells / lattice.Columns, 1, lattice.Rows);
            long[] starts = BlockStarts(path, tokens, lattice, blockRows, stream.Length);
            return new AsciiGrid(stream, path, projection, lattice, blockRows, starts, options.MissingValue ?? header.MissingValue,
                options);
        }
        catch
        {
            stream.Dispose();
            throw;
        }
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            _stream.Dispose();

        base.Dispose(disposing);
    }

    private protected override void DecodeBlock(int blockColumn, int blockRow, double[] values)
    {
        int columns = Columns, firstRow = blockRow * BlockRows;
        int rows = Math.Min(BlockRows, Rows - firstRow);
        try
        {
            AsciiTokens tokens = new(_stream, _blockStarts[blockRow]);
            for (int i = 0; i < rows * columns; i++)
            {
                if (!tokens.MoveNext() || !tokens.TryNumber(out double stored))
                {
                    throw new GridException(
                        $"{Path}, data row {firstRow + i / columns + 1}, column {i % columns + 1}: found \"{tokens.Text}\", "
                        + "and a number with a decimal point was expected.");
                }

                values[i] = stored == _missing ? double.NaN : stored * _scale + _offset;
            }
        }
        catch (IOException e)
        {
            throw GridException.Unreadable(Path, e);
        }
    }

    private static long[] BlockStarts(string path, AsciiTokens tokens, GridLattice lattice, int blockRows, long fileLength)
    {
        long cells = (long)lattice.Columns * lattice.Rows;
        // A value takes a character and a separator at least: this bounds what is allocated by the size of the file.
        if (cells > fileLength || lattice.Columns > MaxBlockCells)
        {
            throw new GridException(
                $"{path} declares {lattice.Columns} columns and {lattice.Rows} rows, more than a file of {fileLength} bytes can hold; "
                + "it is cut off or its header is wrong.");
        }

        long blockCells = (long)blockRows * lattice.Columns;
        long[] starts = new long[(lattice.Rows + blockRows - 1) / blockRows];
        long count = 0;
        // The header reader stopped on the first value.
        for (bool more = tokens.Length > 0; more; more = tokens.MoveNext())
        {
            if (count < cells && count % blockCells == 0)
                starts[count / blockCells] = tokens.Start;

            count++;
        }

        return count == cells
            ? starts
            : throw new GridException(
                $"{path} holds {count} values, and its header declares {lattice.Columns} columns x {lattice.Rows} rows = {cells}; it "
                + "is cut off or its header is wrong.");
    }
}
