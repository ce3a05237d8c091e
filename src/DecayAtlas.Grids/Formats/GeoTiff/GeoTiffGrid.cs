using System.Buffers;
using System.Runtime.CompilerServices;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>One band of a GeoTIFF or BigTIFF, tiled or in strips; the overviews of the file are not used.</summary>
internal sealed class GeoTiffGrid : Grid
{
    /// <summary>Beyond this a double skips whole numbers.</summary>
    private const double LargestExact = 1L << 53;

    private readonly BlockBytes _file;
    private readonly TiffBlocks _blocks;
    private readonly TiffMask? _mask;
    private readonly int _band;
    private readonly double _scale;
    private readonly double _offset;
    private readonly double? _missing;

    private GeoTiffGrid(string path, BlockBytes file, TiffLayout layout, TiffLayout? mask, GdalBandMetadata said,
        Projection projection, GridLattice lattice, GridReadOptions options)
        : base(path, projection, lattice, layout.BlockColumns, layout.BlockRows)
    {
        _file = file;
        _blocks = new TiffBlocks(path, file, layout);
        _mask = mask is null ? null : new TiffMask(new TiffBlocks(path, file, mask));
        _band = options.Band - 1;
        _scale = options.Scale ?? said.Scale ?? 1;
        _offset = options.Offset ?? said.Offset ?? 0;
        _missing = layout.Type.Rounded(options.MissingValue ?? said.MissingValue);
    }

    private protected override bool DecodesInParallel => true;

    public static GeoTiffGrid Open(string path, GridReadOptions options)
    {
        using FileStream stream = File.OpenRead(path);
        return Open(path, stream, () => BlockBytes.Of(path), options);
    }

    /// <summary>A file that is read over the network, of which only what is asked for is fetched.</summary>
    public static GeoTiffGrid Open(RemoteFile file, string address, GridReadOptions options)
    {
        GeoTiffGrid grid = Open(address, new RemoteStream(file), () => BlockBytes.Of(file), options);
        return grid._blocks.Layout.Tiled ? grid : throw new GridException(
            $"{address} is stored in strips, of which each goes all across the grid; tiles were expected of a grid that is read over the "
            + "network, so fetch the file and name it by its path, or have it stored anew with gdal_translate -of COG.");
    }

    private static GeoTiffGrid Open(string path, Stream stream, Func<BlockBytes> open, GridReadOptions options)
    {
        TiffDirectory directory = TiffDirectory.Read(path, stream);
        TiffLayout layout = TiffLayout.Read(path, directory);
        if (options.Band > layout.Bands)
            throw new GridException($"{path} has {layout.Bands} band(s), and band {options.Band} was asked for.");

        (Projection projection, GridLattice lattice) = GeoReference.Read(path, directory, layout.Columns, layout.Rows, options.Crs);
        TiffLayout? mask = TiffMask.LayoutOf(path, directory, layout);
        GdalBandMetadata said = GdalBandMetadata.Read(path, directory, options.Band, options.Band)[0];
        return new GeoTiffGrid(path, open(), layout, mask, said, projection, lattice, options);
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            _file.Dispose();

        base.Dispose(disposing);
    }

    private protected override void Prepare(IReadOnlyList<BlockRequest> requests) => _blocks.Prepare(
        [.. requests.Select(r => _blocks.Layout.BlockIndex(r.Column, r.Row, _band))]);

    private protected override void DecodeBlock(int blockColumn, int blockRow, double[] values)
    {
        TiffLayout layout = _blocks.Layout;
        int rows = layout.RowsIn(blockRow);
        bool written = _blocks.Read(layout.BlockIndex(blockColumn, blockRow, _band), rows, stored =>
        {
            Span<double> filled = values.AsSpan(0, rows * layout.BlockColumns);
            layout.Type.Decode(stored, layout.Separate ? 0 : _band, layout.ValuesPerCell, filled);
            Scale(filled, layout.Type.IsWide);
        });
        if (!written)
        {
            // A block without bytes was never written: GDAL reads it as missing, or as 0 where nothing is missing.
            values.AsSpan().Fill(_missing is null ? _offset : double.NaN);
        }

        int column = blockColumn * BlockColumns, row = blockRow * BlockRows;
        _mask?.Apply(column, row, Math.Min(BlockColumns, Columns - column), Math.Min(BlockRows, Rows - row), BlockColumns, values);
    }

    /// <summary>Unpacks no row below the last one wanted, and turns only the wanted numbers into values.</summary>
    private protected override void DecodeCells(BlockRequest request, double[] values)
    {
        TiffLayout layout = _blocks.Layout;
        if (_mask is not null || !TiffCodec.CanStopEarly(layout.CompressionMethod))
        {
            base.DecodeCells(request, values);
            return;
        }

        int[] cells = request.Cells;
        int rows = cells.Max() / BlockColumns + 1;
        double[] picked = ArrayPool<double>.Shared.Rent(cells.Length);
        bool written = _blocks.Read(layout.BlockIndex(request.Column, request.Row, _band), rows, stored =>
        {
            layout.Type.Pick(stored, cells, layout.Separate ? 0 : _band, layout.ValuesPerCell, picked.AsSpan(0, cells.Length));
            Scale(picked.AsSpan(0, cells.Length), layout.Type.IsWide);
        });
        ReadOnlySpan<int> targets = request.Targets.Span;
        for (int i = 0; i < cells.Length; i++)
            values[targets[i]] = written ? picked[i] : _missing is null ? _offset : double.NaN;

        ArrayPool<double>.Shared.Return(picked);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Scale(Span<double> values, bool isWide)
    {
        double missing = _missing ?? double.NaN; // NaN equals nothing
        for (int i = 0; i < values.Length; i++)
        {
            double raw = values[i];
            if (isWide && Math.Abs(raw) > LargestExact && raw != missing)
            {
                throw new GridException(
                    $"{Path} holds whole numbers beyond {LargestExact}, which cannot be read exactly; rewrite them in a smaller unit.");
            }

            values[i] = raw == missing ? double.NaN : raw * _scale + _offset;
        }
    }
}
