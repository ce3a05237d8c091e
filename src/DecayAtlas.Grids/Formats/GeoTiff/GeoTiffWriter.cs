using System.Globalization;
using BitMiracle.LibTiff.Classic;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>
/// Writes a GeoTIFF tile by tile: tiles of 256 x 256, each band in tiles of its own, deflate with predictor, pixel-is-area,
/// missing value NaN (32-bit floating point) or -32768 (16-bit whole numbers), band descriptions, units, scales and free tags
/// in the GDAL metadata, and on request overviews, each half as large as the one before until it fits one tile. What may not fit
/// the 4 GiB of a TIFF is written as BigTIFF. The same calls in the same order give the same bytes. A tile that is never written reads as
/// missing. The file is complete once the writer is disposed.
/// </summary>
public sealed class GeoTiffWriter : IDisposable
{
    public const int TileSize = Pyramid.TileSize;

    /// <summary>Most bytes of values, before compression and without overviews, that are sure to fit the 4 GiB of a classic TIFF.</summary>
    public const long ClassicBytes = 3L << 30;

    private const short PackedMissing = short.MinValue;

    private readonly string _path;
    private readonly Projection _projection;
    private readonly GridLattice _lattice;
    private readonly IReadOnlyList<GeoTiffBand> _bands;
    private readonly float[][] _tiles;
    private readonly Tiff _tiff;
    private readonly bool _packed;
    private Pyramid? _smaller;
    private bool _anyTile;
    private bool _disposed;

    /// <summary>Starts a file in WGS 84 degrees, replacing one of that name.</summary>
    /// <exception cref="GridException">The file cannot be written, or the bands do not store the same kind of number.</exception>
    public GeoTiffWriter(
        string path, GridLattice lattice, IReadOnlyList<GeoTiffBand> bands, IReadOnlyDictionary<string, string>? tags = null)
        : this(path, Projection.Wgs84, lattice, bands, tags)
    {
    }

    /// <summary>Starts a file in any reference system, replacing one of that name.</summary>
    /// <param name="overviews">Whether smaller pictures are stored beside the full one; takes a temporary file of a third of its
    /// uncompressed size. Not for packed bands.</param>
    /// <param name="classicBytes">From how many bytes of values on the file is a BigTIFF.</param>
    /// <exception cref="GridException">The file cannot be written, or the bands do not store the same kind of number.</exception>
    public GeoTiffWriter(
        string path, Projection projection, GridLattice lattice, IReadOnlyList<GeoTiffBand> bands,
        IReadOnlyDictionary<string, string>? tags = null, bool overviews = false, long classicBytes = ClassicBytes)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(projection);
        ArgumentNullException.ThrowIfNull(lattice);
        ArgumentNullException.ThrowIfNull(bands);
        ArgumentOutOfRangeException.ThrowIfZero(bands.Count, nameof(bands));
        _packed = bands[0].Scale is not null;
        if (bands.Any(band => (band.Scale is not null) != _packed || band.Scale == 0) || (_packed && overviews))
            throw new GridException($"{path}: every band needs a scale other than 0 (and then no overviews), or none may have one.");

        _path = path;
        _projection = projection;
        _lattice = GeometryCheck.Checked(path, projection, lattice);
        _bands = bands;
        _tiles = [.. bands.Select(_ => new float[TileSize * TileSize])];
        long bytes = (long)lattice.Columns * lattice.Rows * bands.Count * (_packed ? sizeof(short) : sizeof(float));
        // "l": the same byte order on every machine; "8": BigTIFF
        _tiff = LibTiff.Call(path, "creating the file", () => Tiff.Open(path, bytes > classicBytes ? "wl8" : "wl"));
        SetLayout(lattice.Columns, lattice.Rows);
        SetPlace(tags ?? new Dictionary<string, string>());
        _smaller = overviews ? SmallerThan(lattice.Columns, lattice.Rows) : null;
    }

    public int TilesAcross => Pyramid.Tiles(_lattice.Columns);

    public int TilesDown => Pyramid.Tiles(_lattice.Rows);

    /// <summary>Writes a file of one band held in memory, in WGS 84 degrees, replacing one of that name.</summary>
    /// <param name="values">Columns x rows values, row by row from the north-west; NaN = missing.</param>
    public static void WriteSingle(
        string path, GridLattice lattice, ReadOnlySpan<float> values, GeoTiffBand band, IReadOnlyDictionary<string, string>? tags = null)
    {
        ArgumentNullException.ThrowIfNull(lattice);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Length, (long)lattice.Columns * lattice.Rows, nameof(values));
        using GeoTiffWriter writer = new(path, lattice, [band], tags);
        float[] tile = new float[TileSize * TileSize];
        for (int t = 0; t < writer.TilesAcross * writer.TilesDown; t++)
        {
            (int tileRow, int tileColumn) = Math.DivRem(t, writer.TilesAcross);
            (int columns, int rows) = writer.SizeOf(tileColumn, tileRow);
            for (int row = 0; row < rows; row++)
            {
                int from = (tileRow * TileSize + row) * lattice.Columns + tileColumn * TileSize;
                values.Slice(from, columns).CopyTo(tile.AsSpan(row * TileSize));
            }

            writer.WriteTile(0, tileColumn, tileRow, tile);
        }
    }

    /// <param name="values">256 x 256 values, row by row; NaN = missing; those beyond the grid's edge are padding.</param>
    /// <exception cref="GridException">The disk refuses, or a value does not fit 16 bits at the band's scale.</exception>
    public void WriteTile(int band, int tileColumn, int tileRow, ReadOnlySpan<float> values)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)band, (uint)_bands.Count, nameof(band));
        float[] tile = Inside(band, tileColumn, tileRow, values);
        Store(band, tileColumn, tileRow, tile, Encode(band, tile));
    }

    /// <summary>Writes one tile of every band; packs them on all cores.</summary>
    /// <param name="values">For each band 256 x 256 values, as <see cref="WriteTile"/>.</param>
    /// <exception cref="GridException">The disk refuses, or a value does not fit 16 bits at the band's scale.</exception>
    public void WriteTiles(int tileColumn, int tileRow, IReadOnlyList<float[]> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Count, _bands.Count, nameof(values));
        float[][] tiles = [.. values.Select((tile, band) => Inside(band, tileColumn, tileRow, tile))];
        byte[][] packed = new byte[tiles.Length][];
        Parallel.For(0, tiles.Length, band => packed[band] = Encode(band, tiles[band]));
        for (int band = 0; band < tiles.Length; band++)
            Store(band, tileColumn, tileRow, tiles[band], packed[band]);
    }

    /// <summary>Completes the file.</summary>
    /// <exception cref="GridException">The disk refuses.</exception>
    public void Dispose()
    {
        if (_disposed)
            return;

        _disposed = true;
        try
        {
            if (!_anyTile)
            {
                // the library would not write the directory of a raster without data
                float[] missing = new float[TileSize * TileSize];
                Array.Fill(missing, float.NaN);
                Store(0, 0, 0, missing, Encode(0, missing));
            }

            WriteOverviews();
        }
        finally
        {
            _smaller?.Dispose();
            LibTiff.Call(_path, "completing the file", () =>
            {
                _tiff.Dispose();
                return true;
            });
        }
    }

    /// <summary>How many cells of a tile lie on the grid; what lies beyond its edge is padding.</summary>
    private (int Columns, int Rows) SizeOf(int tileColumn, int tileRow) =>
        (Math.Min(TileSize, _lattice.Columns - tileColumn * TileSize), Math.Min(TileSize, _lattice.Rows - tileRow * TileSize));

    private Pyramid? SmallerThan(int columns, int rows) =>
        Math.Max(columns, rows) > TileSize ? new Pyramid(_path, _bands, columns, rows) : null;

    /// <summary>Padding is always missing: what a caller leaves there must not change the bytes.</summary>
    private float[] Inside(int band, int tileColumn, int tileRow, ReadOnlySpan<float> values)
    {
        ObjectDisposedException.ThrowIf(_disposed, this);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Length, TileSize * TileSize, nameof(values));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)tileColumn, (uint)TilesAcross, nameof(tileColumn));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)tileRow, (uint)TilesDown, nameof(tileRow));
        (int columns, int rows) = SizeOf(tileColumn, tileRow);
        float[] tile = _tiles[band];
        Array.Fill(tile, float.NaN);
        for (int row = 0; row < rows; row++)
            values.Slice(row * TileSize, columns).CopyTo(tile.AsSpan(row * TileSize));

        return tile;
    }

    private byte[] Encode(int band, float[] tile) => _packed
        ? TileEncoder.Encode(Array.ConvertAll(tile, value => Pack(value, _bands[band])), TileSize)
        : TileEncoder.Encode(tile, TileSize);

    private void Store(int band, int tileColumn, int tileRow, float[] tile, byte[] packed)
    {
        Store((band * TilesDown + tileRow) * TilesAcross + tileColumn, packed);
        _smaller?.Add(band, tileColumn, tileRow, tile);
        _anyTile = true;
    }

    private void Store(int place, byte[] packed) =>
        LibTiff.Call(_path, "writing a tile", () => _tiff.WriteRawTile(place, packed, packed.Length) >= 0);

    private void WriteOverviews()
    {
        float[] tile = new float[TileSize * TileSize];
        while (_smaller is { } level)
        {
            LibTiff.Call(_path, "completing a level", _tiff.WriteDirectory);
            SetLayout(level.Columns, level.Rows);
            Set(TiffTag.SUBFILETYPE, FileType.REDUCEDIMAGE);
            Set((TiffTag)LibTiff.GdalNoData, "nan");
            Pyramid? next = SmallerThan(level.Columns, level.Rows);
            int tiles = level.TilesAcross * level.TilesDown;
            for (int place = 0; place < _bands.Count * tiles; place++)
            {
                (int band, int index) = Math.DivRem(place, tiles);
                (int tileRow, int tileColumn) = Math.DivRem(index, level.TilesAcross);
                if (level.Read(band, tileColumn, tileRow, tile))
                {
                    Store(place, TileEncoder.Encode(tile, TileSize));
                    next?.Add(band, tileColumn, tileRow, tile);
                }
            }

            level.Dispose();
            _smaller = next;
        }
    }

    private short Pack(float value, GeoTiffBand band)
    {
        if (float.IsNaN(value))
            return PackedMissing;

        double stored = Math.Round((value - band.Offset) / band.Scale!.Value, MidpointRounding.ToEven);
        return stored is > PackedMissing and <= short.MaxValue
            ? (short)stored
            : throw new GridException(
                $"{_path}: {value} {band.Unit} of band {band.Name} does not fit 16 bits at scale {band.Scale} and offset {band.Offset}.");
    }

    private void SetLayout(int columns, int rows)
    {
        Set(TiffTag.IMAGEWIDTH, columns);
        Set(TiffTag.IMAGELENGTH, rows);
        Set(TiffTag.TILEWIDTH, TileSize);
        Set(TiffTag.TILELENGTH, TileSize);
        Set(TiffTag.SAMPLESPERPIXEL, _bands.Count);
        Set(TiffTag.BITSPERSAMPLE, _packed ? 16 : 32);
        Set(TiffTag.SAMPLEFORMAT, _packed ? SampleFormat.INT : SampleFormat.IEEEFP);
        Set(TiffTag.PLANARCONFIG, _bands.Count > 1 ? PlanarConfig.SEPARATE : PlanarConfig.CONTIG);
        Set(TiffTag.PHOTOMETRIC, Photometric.MINISBLACK);
        Set(TiffTag.COMPRESSION, Compression.ADOBE_DEFLATE);
        Set(TiffTag.PREDICTOR, _packed ? Predictor.HORIZONTAL : Predictor.FLOATINGPOINT);
        if (_bands.Count > 1)
        {
            short[] extra = new short[_bands.Count - 1]; // 0: unspecified data, not opacity
            Set(TiffTag.EXTRASAMPLES, (short)extra.Length, extra);
        }
    }

    private void SetPlace(IReadOnlyDictionary<string, string> tags)
    {
        double[] scale = [_lattice.CellWidth, _lattice.CellHeight, 0];
        double[] tie = [0, 0, 0, _lattice.West, _lattice.North, 0];
        (short[] keys, string texts) = GeoTiffTags.KeysOf(_projection);
        Set((TiffTag)LibTiff.ModelPixelScale, scale.Length, scale);
        Set((TiffTag)LibTiff.ModelTiePoint, tie.Length, tie);
        Set((TiffTag)LibTiff.GeoKeyDirectory, keys.Length, keys);
        if (texts.Length > 0)
            Set((TiffTag)LibTiff.GeoAsciiParams, texts);

        Set((TiffTag)LibTiff.GdalMetadata, GeoTiffTags.Metadata(_bands, tags));
        Set((TiffTag)LibTiff.GdalNoData, _packed ? PackedMissing.ToString(CultureInfo.InvariantCulture) : "nan");
    }

    private void Set(TiffTag tag, params object[] value) =>
        LibTiff.Call(_path, $"setting tag {tag}", () => _tiff.SetField(tag, value));
}
