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

    private NetCdfGrid(string path, CdfFile file, CfSlice slice, CfPacking packing)
        : base(path, slice.Projection, slice.Lattice, slice.Lattice.Columns,
            Math.Clamp(BlockCells / slice.Lattice.Columns, 1, slice.Lattice.Rows))
    {
        _file = file;
        _slice = slice;
        _packing = packing;
    }

    public static NetCdfGrid Open(string path, GridReadOptions options)
    {
        if (options.Band != 1)
        {
            throw new GridException(
                $"{path} is a NetCDF file, whose steps have names and no band numbers, and band {options.Band} was asked for; write "
                + "select: with the step, such as time: 1999-07 or time: \"#2\".");
        }

        CdfFile? file = null;
        try
        {
            file = CdfFile.OpenAny(path);
            CfSlice slice = CfSlice.Find(file, options);
            return new NetCdfGrid(path, file, slice, CfPacking.Of(slice.Variable, options));
        }
        catch (IOException e)
        {
            file?.Dispose();
            throw new GridException($"{path} cannot be read: {e.Message.TrimEnd('.')}.", e);
        }
        catch
        {
            file?.Dispose();
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
