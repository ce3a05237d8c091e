using System.Globalization;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>
/// Writes a cloud-optimised GeoTIFF tile by tile: directories first, then the tiles of the smallest overview to those of the full
/// raster. Tiles of 256 x 256, each band in tiles of its own, deflate with predictor, pixel-is-area, missing value NaN (32-bit floating
/// point) or -32768 (16-bit whole numbers), band descriptions, units, scales, statistics and free tags in the GDAL metadata, and on
/// request overviews, each half as large as the one before until it fits one tile. What does not fit the 4 GiB of a TIFF is written as
/// BigTIFF. The same calls in the same order give the same bytes. A tile that is never written reads as missing. The file is written
/// when the writer is disposed; until then packed tiles wait in files beside it, and memory does not grow with the raster.
/// </summary>
public sealed class GeoTiffWriter : IDisposable
{
    public const int TileSize = Pyramid.TileSize;

    /// <summary>Most bytes of a file that the offsets of a classic TIFF reach.</summary>
    public const long ClassicBytes = uint.MaxValue;

    private const short PackedMissing = short.MinValue;

    private readonly string _path;
    private readonly Projection _projection;
    private readonly GridLattice _lattice;
    private readonly IReadOnlyList<GeoTiffBand> _bands;
    private readonly float[][] _tiles;
    private readonly BandStatistics[] _statistics;
    private readonly IReadOnlyDictionary<string, string> _tags;
    private readonly List<PackedLevel> _levels = [];
    private readonly long _classicBytes;
    private readonly bool _packed;
    private Pyramid? _smaller;
    private bool _disposed;

    /// <summary>Starts a file in WGS 84 degrees, replacing one of that name.</summary>
    /// <exception cref="GridException">The file cannot be written, or the bands do not store the same kind of number.</exception>
    public GeoTiffWriter(
        string path, GridLattice lattice, IReadOnlyList<GeoTiffBand> bands, IReadOnlyDictionary<string, string>? tags = null)
        : this(path, Projection.Wgs84, lattice, bands, tags)
    {
    }

    /// <summary>Starts a file in any reference system, replacing one of that name.</summary>
    /// <param name="overviews">Whether smaller pictures are stored with the full one; takes a temporary file of a third of its
    /// uncompressed size.</param>
    /// <param name="classicBytes">From how many bytes on the file is a BigTIFF.</param>
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
        if (bands.Any(band => (band.Scale is not null) != _packed || band.Scale == 0))
            throw new GridException($"{path}: every band needs a scale other than 0, or none may have one.");

        _path = path;
        _projection = projection;
        _lattice = GeometryCheck.Checked(path, projection, lattice);
        _bands = bands;
        _tiles = [.. bands.Select(_ => new float[TileSize * TileSize])];
        _statistics = [.. bands.Select(_ => new BandStatistics())];
        _tags = tags ?? new Dictionary<string, string>();
        _classicBytes = classicBytes;
        Guarded(() =>
        {
            _levels.Add(new PackedLevel(path, lattice.Columns, lattice.Rows, bands.Count));
            _smaller = overviews ? SmallerThan(lattice.Columns, lattice.Rows) : null;
        });
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
        Store(band, tileColumn, tileRow, tile, Encode(band, tile, _statistics[band]));
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
        Parallel.For(0, tiles.Length, band => packed[band] = Encode(band, tiles[band], _statistics[band]));
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
            Guarded(() =>
            {
                AddOverviews();
                using FileStream file = new(_path, FileMode.Create, FileAccess.Write, FileShare.None, 1 << 16);
                Complete(file);
            });
        }
        finally
        {
            _smaller?.Dispose();
            foreach (PackedLevel level in _levels)
                level.Dispose();
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

    private byte[] Encode(int band, float[] tile, BandStatistics? statistics = null)
    {
        float[] stored = _packed ? Array.ConvertAll(tile, value => Pack(value, _bands[band])) : tile;
        statistics?.Add(stored);
        return _packed
            ? TileEncoder.Encode(Array.ConvertAll(stored, value => float.IsNaN(value) ? PackedMissing : (short)value), TileSize)
            : TileEncoder.Encode(stored, TileSize);
    }

    private void Store(int band, int tileColumn, int tileRow, float[] tile, byte[] packed) => Guarded(() =>
    {
        _levels[0].Add(band, tileColumn, tileRow, packed);
        _smaller?.Add(band, tileColumn, tileRow, tile);
    });

    private void AddOverviews()
    {
        float[] tile = new float[TileSize * TileSize];
        while (_smaller is { } smaller)
        {
            PackedLevel level = new(_path, smaller.Columns, smaller.Rows, _bands.Count);
            _levels.Add(level);
            Pyramid? next = SmallerThan(level.Columns, level.Rows);
            for (int place = 0; place < level.Counts.Length; place++)
            {
                (int band, int index) = Math.DivRem(place, level.TilesAcross * level.TilesDown);
                (int tileRow, int tileColumn) = Math.DivRem(index, level.TilesAcross);
                if (smaller.Read(band, tileColumn, tileRow, tile))
                {
                    level.Add(band, tileColumn, tileRow, Encode(band, tile));
                    next?.Add(band, tileColumn, tileRow, tile);
                }
            }

            smaller.Dispose();
            _smaller = next;
        }
    }

    private void Complete(FileStream file)
    {
        bool isBig = false;
        long[][] places = [.. _levels.Select(level => new long[level.Counts.Length])];
        TiffDirectoryBytes[] directories = Directories();
        if (8 + directories.Sum(d => d.Length) + _levels.Sum(l => l.Bytes) > _classicBytes)
        {
            isBig = true;
            directories = Directories();
        }

        // "II": least byte first; 42 for TIFF, 43 with offsets of 8 bytes for BigTIFF; then where the first directory stands
        long at = isBig ? 16 : 8;
        byte[] header = isBig ? [(byte)'I', (byte)'I', 43, 0, 8, 0, 0, 0, 16, 0, 0, 0, 0, 0, 0, 0]
            : [(byte)'I', (byte)'I', 42, 0, 8, 0, 0, 0];
        file.Write(header);
        long tiles = at + directories.Sum(d => d.Length);
        for (int level = _levels.Count - 1; level >= 0; level--)
        {
            _levels[level].Place(tiles, places[level]);
            tiles += _levels[level].Bytes;
        }

        for (int level = 0; level < directories.Length; level++)
        {
            long next = at + directories[level].Length;
            directories[level].Write(file, at, level < directories.Length - 1 ? next : 0);
            at = next;
        }

        for (int level = _levels.Count - 1; level >= 0; level--)
            _levels[level].CopyTo(file);

        TiffDirectoryBytes[] Directories() => [.. _levels.Select((level, i) => DirectoryOf(level, places[i], isBig, isOverview: i > 0))];
    }

    private TiffDirectoryBytes DirectoryOf(PackedLevel level, long[] places, bool isBig, bool isOverview)
    {
        const short deflate = 8, horizontal = 2, floatingPoint = 3, wholeNumbers = 2, ieee = 3, minIsBlack = 1;
        bool isSeparate = _bands.Count > 1;
        TiffDirectoryBytes directory = new(isBig);
        directory.SetNumbers(TiffTag.ImageWidth, level.Columns);
        directory.SetNumbers(TiffTag.ImageLength, level.Rows);
        directory.SetShorts(TiffTag.TileWidth, TileSize);
        directory.SetShorts(TiffTag.TileLength, TileSize);
        directory.SetShorts(TiffTag.SamplesPerPixel, checked((short)_bands.Count));
        directory.SetShorts(TiffTag.BitsPerSample, ForEachBand((short)(_packed ? 16 : 32)));
        directory.SetShorts(TiffTag.SampleFormat, ForEachBand(_packed ? wholeNumbers : ieee));
        directory.SetShorts(TiffTag.PlanarConfiguration, (short)(isSeparate ? 2 : 1));
        directory.SetShorts(TiffTag.Photometric, minIsBlack);
        directory.SetShorts(TiffTag.Compression, deflate);
        directory.SetShorts(TiffTag.Predictor, _packed ? horizontal : floatingPoint);
        if (isSeparate)
            directory.SetShorts(TiffTag.ExtraSamples, new short[_bands.Count - 1]); // 0: unspecified data, not opacity
        directory.SetPlaces(TiffTag.TileOffsets, places);
        directory.SetNumbers(TiffTag.TileByteCounts, level.Counts);
        directory.SetText(TiffTag.GdalNoData, _packed ? PackedMissing.ToString(CultureInfo.InvariantCulture) : "nan");
        if (isOverview)
            directory.SetNumbers(TiffTag.NewSubfileType, 1);
        else
            SetPlace(directory);
        return directory;
    }

    private short[] ForEachBand(short value) => [.. _bands.Select(_ => value)];

    private void SetPlace(TiffDirectoryBytes directory)
    {
        directory.SetDoubles(TiffTag.ModelPixelScale, _lattice.CellWidth, _lattice.CellHeight, 0);
        directory.SetDoubles(TiffTag.ModelTiePoint, 0, 0, 0, _lattice.West, _lattice.North, 0);
        (short[] keys, string texts) = GeoTiffTags.KeysOf(_projection);
        directory.SetShorts(TiffTag.GeoKeyDirectory, keys);
        if (texts.Length > 0)
            directory.SetText(TiffTag.GeoAsciiParams, texts);

        directory.SetText(TiffTag.GdalMetadata,
            GeoTiffTags.Metadata(_bands, _tags, _statistics, (long)_lattice.Columns * _lattice.Rows));
    }

    private float Pack(float value, GeoTiffBand band)
    {
        if (float.IsNaN(value))
            return float.NaN;

        double stored = Math.Round((value - band.Offset) / band.Scale!.Value, MidpointRounding.ToEven);
        return stored is > PackedMissing and <= short.MaxValue
            ? (float)stored
            : throw new GridException(
                $"{_path}: {value} {band.Unit} of band {band.Name} does not fit 16 bits at scale {band.Scale} and offset {band.Offset}.");
    }

    private void Guarded(Action write)
    {
        try
        {
            write();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new GridException($"{_path} cannot be written: {e.Message.TrimEnd('.')}.", e);
        }
    }
}
