using BitMiracle.LibTiff.Classic;

namespace DecayAtlas.Grids.GeoTiff;

/// <summary>One band of a GeoTIFF or BigTIFF, tiled or in strips; the overviews of the file are not used.</summary>
internal sealed class GeoTiffGrid : Grid
{
    private readonly Tiff _tiff;
    private readonly TiffLayout _layout;
    private readonly int _band;
    private readonly double _scale;
    private readonly double _offset;
    private readonly double? _missing;
    private readonly byte[] _stored;

    private GeoTiffGrid(string path, Projection projection, GridLattice lattice, TiffLayout layout, GridReadOptions options, GdalBandMetadata metadata)
        : base(path, projection, lattice, layout.BlockColumns, layout.BlockRows)
    {
        _layout = layout;
        _band = options.Band - 1;
        _scale = options.Scale ?? metadata.Scale ?? 1;
        _offset = options.Offset ?? metadata.Offset ?? 0;
        double? missing = options.MissingValue ?? metadata.MissingValue;
        _missing = layout.Type.IsSingle && missing is { } wide ? (float)wide : missing;
        _stored = new byte[layout.BlockBytes];
        // "c": strips stay as the file has them, so that the layout checked before is the layout read.
        _tiff = LibTiff.Call(path, "opening", () => Tiff.Open(path, "rc"));
    }

    public static GeoTiffGrid Open(string path, GridReadOptions options)
    {
        TiffLayout layout;
        Projection projection;
        GridLattice lattice;
        GdalBandMetadata metadata;
        try
        {
            using FileStream stream = File.OpenRead(path);
            TiffDirectory directory = TiffDirectory.Read(path, stream);
            layout = TiffLayout.Read(path, directory);
            if (options.Band > layout.Bands)
            {
                throw new GridException($"{path} has {layout.Bands} band(s), and band {options.Band} was asked for.");
            }

            (projection, lattice) = GeoReference.Read(path, directory, layout.Columns, layout.Rows, options.Crs);
            metadata = GdalBandMetadata.Read(path, directory, options.Band);
        }
        catch (IOException e)
        {
            throw new GridException($"{path} cannot be read: {e.Message.TrimEnd('.')}.", e);
        }

        return new GeoTiffGrid(path, projection, lattice, layout, options, metadata);
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _tiff.Dispose();
        }

        base.Dispose(disposing);
    }

    private protected override void DecodeBlock(int blockColumn, int blockRow, double[] values)
    {
        int block = _layout.BlockIndex(blockColumn, blockRow, _band);
        if (_layout.IsSparse(block))
        {
            // A block without bytes was never written: GDAL reads it as missing, or as 0 where nothing is missing.
            values.AsSpan().Fill(_missing is null ? _offset : double.NaN);
            return;
        }

        ReadStored(block, _layout.BytesIn(blockRow));
        _layout.Type.Decode(_stored, _layout.Separate ? 0 : _band, _layout.Separate ? 1 : _layout.Bands, values);
        for (int i = 0; i < values.Length; i++)
        {
            double raw = values[i];
            values[i] = raw == _missing ? double.NaN : raw * _scale + _offset;
        }
    }

    private void ReadStored(int block, int wanted)
    {
        int got = LibTiff.Call(Path, "decoding a block", () => (int?)Math.Max(-1, _layout.Tiled
            ? _tiff.ReadEncodedTile(block, _stored, 0, _stored.Length)
            : _tiff.ReadEncodedStrip(block, _stored, 0, wanted)))!.Value;
        if (got < wanted)
        {
            throw new GridException(
                $"{Path} is damaged: block {block} could not be decoded in full; fetch or make the file again.");
        }

        if (_layout.UndoByteSwap)
        {
            _layout.Type.SwapBytes(_stored);
        }
    }
}
