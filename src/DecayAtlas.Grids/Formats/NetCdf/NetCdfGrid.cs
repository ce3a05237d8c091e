using System.Buffers;

namespace DecayAtlas.Grids.Formats.NetCdf;

/// <summary>
/// One horizontal slice of a variable of a NetCDF file that follows the CF conventions: packed numbers unpacked, missing ones
/// missing, rows turned north-up.
/// </summary>
internal sealed class NetCdfGrid : Grid
{
    private const int BlockCells = 1 << 16;

    private readonly CdfFile _file;
    private readonly CfSlice _slice;
    private readonly CfPacking _packing;

    private NetCdfGrid(CdfFile file, CfSlice slice, CfPacking packing)
        : base(file.Path, slice.Projection, slice.Lattice, slice.Lattice.Columns,
            Math.Clamp(BlockCells / slice.Lattice.Columns, 1, slice.Lattice.Rows)) =>
        (_file, _slice, _packing) = (file, slice, packing);

    public static NetCdfGrid Open(string path, GridReadOptions options)
    {
        if (options.Band != 1)
        {
            throw new GridException(
                $"{path} is a NetCDF file, whose steps have names and no band numbers, and band {options.Band} was asked for; write "
                + "select: with the step, such as time: 1999-07 or time: \"#2\".");
        }

        CdfFile file = CdfFile.OpenAny(path);
        try
        {
            CfSlice slice = CfSlice.Find(file, options);
            return new NetCdfGrid(file, slice, CfPacking.Of(slice.Variable, options));
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            _file.Dispose();

        base.Dispose(disposing);
    }

    private protected override void DecodeBlock(int blockColumn, int blockRow, double[] values)
    {
        int first = blockRow * BlockRows;
        int rows = Math.Min(BlockRows, Rows - first);
        double[] stored = ArrayPool<double>.Shared.Rent(rows * Columns);
        _file.Read(_slice.Variable, _slice.Start(first, rows), _slice.Count(rows), stored.AsSpan(0, rows * Columns));
        for (int y = 0; y < rows; y++)
        {
            int line = _slice.SouthUp ? rows - 1 - y : y;
            for (int x = 0; x < Columns; x++)
            {
                double raw = stored[_slice.Transposed ? x * rows + line : line * Columns + x];
                values[y * Columns + x] = _packing.Unpack(raw);
            }
        }

        ArrayPool<double>.Shared.Return(stored);
    }
}
