using System.Buffers.Binary;
using System.Globalization;
using System.Xml.Linq;
using BitMiracle.LibTiff.Classic;
using DecayAtlas.Grids.GeoTiff;

namespace DecayAtlas.Grids;

/// <summary>
/// Writes a WGS 84 GeoTIFF tile by tile: tiles of 256 x 256, each band in tiles of its own, deflate, EPSG:4326,
/// pixel-is-area, missing value NaN (32-bit floating point) or -32768 (16-bit whole numbers), band descriptions, units,
/// scales and free tags in the GDAL metadata. The same calls in the same order give the same bytes. A tile that is
/// never written reads as missing. The file is complete once the writer is disposed.
/// </summary>
public sealed class GeoTiffWriter : IDisposable
{
    /// <summary>Columns and rows of a tile.</summary>
    public const int TileSize = 256;

    private const short PackedMissing = short.MinValue;

    private readonly string _path;
    private readonly GridGeometry _geometry;
    private readonly IReadOnlyList<GeoTiffBand> _bands;
    private readonly Tiff _tiff;
    private readonly byte[] _tile;
    private readonly bool _packed;
    private bool _disposed;

    /// <summary>Starts the file, replacing one of that name.</summary>
    /// <exception cref="GridException">The file cannot be written, or the bands do not store the same kind of number.</exception>
    public GeoTiffWriter(
        string path, GridGeometry geometry, IReadOnlyList<GeoTiffBand> bands, IReadOnlyDictionary<string, string>? tags = null)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(geometry);
        ArgumentNullException.ThrowIfNull(bands);
        ArgumentOutOfRangeException.ThrowIfZero(bands.Count, nameof(bands));
        _packed = bands[0].Scale is not null;
        if (bands.Any(band => (band.Scale is not null) != _packed || band.Scale == 0))
        {
            throw new GridException($"{path}: every band needs a scale other than 0, or none may have one.");
        }

        _path = path;
        _geometry = GeometryCheck.Checked(path, geometry);
        _bands = bands;
        _tile = new byte[TileSize * TileSize * (_packed ? sizeof(short) : sizeof(float))];
        // "l": the same byte order on every machine.
        _tiff = LibTiff.Call(path, "creating the file", () => Tiff.Open(path, "wl"));
        WriteTags(tags ?? new Dictionary<string, string>());
    }

    /// <summary>Number of tiles from west to east.</summary>
    public int TilesAcross => (_geometry.Columns + TileSize - 1) / TileSize;

    /// <summary>Number of tiles from north to south.</summary>
    public int TilesDown => (_geometry.Rows + TileSize - 1) / TileSize;

    /// <summary>Writes a file of one band held in memory.</summary>
    /// <param name="path">The file, replaced if it is there.</param>
    /// <param name="geometry">Where the cells lie.</param>
    /// <param name="values">Columns x rows values, row by row from the north-west; NaN = missing.</param>
    /// <param name="band">Name, unit and storage of the values.</param>
    /// <param name="tags">Free metadata.</param>
    public static void WriteSingle(
        string path, GridGeometry geometry, ReadOnlySpan<float> values, GeoTiffBand band, IReadOnlyDictionary<string, string>? tags = null)
    {
        ArgumentNullException.ThrowIfNull(geometry);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Length, (long)geometry.Columns * geometry.Rows, nameof(values));
        using GeoTiffWriter writer = new(path, geometry, [band], tags);
        float[] tile = new float[TileSize * TileSize];
        for (int tileRow = 0; tileRow < writer.TilesDown; tileRow++)
        {
            for (int tileColumn = 0; tileColumn < writer.TilesAcross; tileColumn++)
            {
                Array.Fill(tile, float.NaN);
                int columns = Math.Min(TileSize, geometry.Columns - tileColumn * TileSize);
                int rows = Math.Min(TileSize, geometry.Rows - tileRow * TileSize);
                for (int row = 0; row < rows; row++)
                {
                    int from = (tileRow * TileSize + row) * geometry.Columns + tileColumn * TileSize;
                    values.Slice(from, columns).CopyTo(tile.AsSpan(row * TileSize));
                }

                writer.WriteTile(0, tileColumn, tileRow, tile);
            }
        }
    }

    /// <summary>Writes one tile of one band.</summary>
    /// <param name="band">Index of the band, from 0.</param>
    /// <param name="tileColumn">Column of the tile, from 0 in the west.</param>
    /// <param name="tileRow">Row of the tile, from 0 in the north.</param>
    /// <param name="values">256 x 256 values, row by row; NaN = missing; those beyond the grid's edge are padding.</param>
    /// <exception cref="GridException">The disk refuses, or a value does not fit 16 bits at the band's scale.</exception>
    public void WriteTile(int band, int tileColumn, int tileRow, ReadOnlySpan<float> values)
    {
        ObjectDisposedException.ThrowIf(_disposed, this);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Length, TileSize * TileSize, nameof(values));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)band, (uint)_bands.Count, nameof(band));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)tileColumn, (uint)TilesAcross, nameof(tileColumn));
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual((uint)tileRow, (uint)TilesDown, nameof(tileRow));
        int columnsInside = Math.Min(TileSize, _geometry.Columns - tileColumn * TileSize);
        int rowsInside = Math.Min(TileSize, _geometry.Rows - tileRow * TileSize);
        for (int i = 0; i < values.Length; i++)
        {
            // Padding is always missing: what a caller leaves there must not change the bytes.
            bool inside = i % TileSize < columnsInside && i / TileSize < rowsInside;
            float value = inside ? values[i] : float.NaN;
            if (_packed)
            {
                BinaryPrimitives.WriteInt16LittleEndian(_tile.AsSpan(i * sizeof(short)), Pack(value, _bands[band]));
            }
            else
            {
                BinaryPrimitives.WriteSingleLittleEndian(_tile.AsSpan(i * sizeof(float)), float.IsNaN(value) ? float.NaN : value);
            }
        }

        int index = (band * TilesDown + tileRow) * TilesAcross + tileColumn;
        LibTiff.Call(_path, "writing a tile", () => _tiff.WriteEncodedTile(index, _tile, _tile.Length) >= 0);
    }

    /// <summary>Completes the file.</summary>
    public void Dispose()
    {
        if (!_disposed)
        {
            _disposed = true;
            LibTiff.Call(_path, "completing the file", () =>
            {
                _tiff.Dispose();
                return true;
            });
        }
    }

    private short Pack(float value, GeoTiffBand band)
    {
        if (float.IsNaN(value))
        {
            return PackedMissing;
        }

        double stored = Math.Round((value - band.Offset) / band.Scale!.Value, MidpointRounding.ToEven);
        return stored is > PackedMissing and <= short.MaxValue
            ? (short)stored
            : throw new GridException(string.Create(
                CultureInfo.InvariantCulture,
                $"{_path}: {value} {band.Unit} of band {band.Name} does not fit 16 bits at scale {band.Scale} and offset {band.Offset}."));
    }

    private void WriteTags(IReadOnlyDictionary<string, string> tags)
    {
        Set(TiffTag.IMAGEWIDTH, _geometry.Columns);
        Set(TiffTag.IMAGELENGTH, _geometry.Rows);
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

        double[] scale = [_geometry.CellWidthDegrees, _geometry.CellHeightDegrees, 0];
        double[] tie = [0, 0, 0, _geometry.WestDegrees, _geometry.NorthDegrees, 0];
        // Version 1.1.0, four keys: geographic model, pixel is area, WGS 84, degrees.
        short[] keys = [1, 1, 0, 4, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 4326, 2054, 0, 1, 9102];
        Set((TiffTag)LibTiff.ModelPixelScale, scale.Length, scale);
        Set((TiffTag)LibTiff.ModelTiePoint, tie.Length, tie);
        Set((TiffTag)LibTiff.GeoKeyDirectory, keys.Length, keys);
        Set((TiffTag)LibTiff.GdalMetadata, Metadata(tags));
        Set((TiffTag)LibTiff.GdalNoData, _packed ? PackedMissing.ToString(CultureInfo.InvariantCulture) : "nan");
    }

    private string Metadata(IReadOnlyDictionary<string, string> tags)
    {
        XElement root = new("GDALMetadata");
        foreach ((string name, string value) in tags.OrderBy(tag => tag.Key, StringComparer.Ordinal))
        {
            root.Add(new XElement("Item", new XAttribute("name", name), Escaped(value)));
        }

        for (int i = 0; i < _bands.Count; i++)
        {
            GeoTiffBand band = _bands[i];
            root.Add(Item(i, "DESCRIPTION", "description", band.Name));
            root.Add(Item(i, "UNITTYPE", "unittype", band.Unit));
            if (band.Scale is { } scale)
            {
                root.Add(Item(i, "OFFSET", "offset", band.Offset.ToString("R", CultureInfo.InvariantCulture)));
                root.Add(Item(i, "SCALE", "scale", scale.ToString("R", CultureInfo.InvariantCulture)));
            }
        }

        return root.ToString(SaveOptions.DisableFormatting);
    }

    private static XElement Item(int band, string name, string role, string value) => new(
        "Item", new XAttribute("name", name), new XAttribute("sample", band), new XAttribute("role", role), Escaped(value));

    /// <summary>
    /// GDAL unescapes the text of an item once more after parsing the XML; and the tag is ASCII, so other letters travel
    /// as character references.
    /// </summary>
    private static string Escaped(string text) => string.Concat(text.EnumerateRunes().Select(rune => rune.Value switch
    {
        '&' => "&amp;",
        '<' => "&lt;",
        '>' => "&gt;",
        '"' => "&quot;",
        >= 128 or < 32 => string.Create(CultureInfo.InvariantCulture, $"&#{rune.Value};"),
        _ => rune.ToString(),
    }));

    private void Set(TiffTag tag, params object[] value) =>
        LibTiff.Call(_path, $"setting tag {tag}", () => _tiff.SetField(tag, value));
}
