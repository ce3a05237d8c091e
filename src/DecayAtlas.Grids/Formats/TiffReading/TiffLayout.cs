namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>How the cells of a TIFF are cut into blocks, checked before anything of that size is allocated.</summary>
internal sealed class TiffLayout
{
    private readonly TiffNumbers _offsets;
    private readonly TiffNumbers _byteCounts;

    private TiffLayout(TiffDirectory directory, SampleType type, bool tiled)
    {
        Type = type;
        Tiled = tiled;
        IsBigEndian = directory.IsBigEndian;
        CompressionMethod = (int)directory.Integer(TiffTag.Compression, 1);
        PredictorMethod = (int)directory.Integer(TiffTag.Predictor, 1);
        _offsets = new TiffNumbers(directory, tiled ? TiffTag.TileOffsets : TiffTag.StripOffsets);
        _byteCounts = new TiffNumbers(directory, tiled ? TiffTag.TileByteCounts : TiffTag.StripByteCounts);
    }

    public SampleType Type { get; }

    public bool Tiled { get; }

    /// <summary>Whether each band has blocks of its own.</summary>
    public bool Separate { get; private init; }

    public bool IsBigEndian { get; }

    public int CompressionMethod { get; }

    /// <summary>1 none, 2 differences of whole numbers, 3 differences of the bytes of floating-point numbers.</summary>
    public int PredictorMethod { get; }

    public int Columns { get; private init; }

    public int Rows { get; private init; }

    public int Bands { get; private init; }

    public int BlockColumns { get; private init; }

    public int BlockRows { get; private init; }

    public int ValuesPerCell => Separate ? 1 : Bands;

    /// <summary>Decoded bytes of one row of a block.</summary>
    public int RowBytes => Type.IsBit ? (BlockColumns * ValuesPerCell + 7) / 8 : BlockColumns * ValuesPerCell * Type.Bytes;

    public static TiffLayout Read(string path, TiffDirectory directory) => Read(path, directory, TypeOf(path, directory));

    /// <summary>The layout of a mask, whose values may be single bits.</summary>
    public static TiffLayout ReadMask(string path, TiffDirectory directory)
    {
        long bits = directory.Integer(TiffTag.BitsPerSample, 1);
        return Read(path, directory, bits == 1 ? SampleType.Of(1, 1)! : TypeOf(path, directory));
    }

    private static TiffLayout Read(string path, TiffDirectory directory, SampleType type)
    {
        bool tiled = directory.Has(TiffTag.TileWidth) || directory.Has(TiffTag.TileOffsets);
        bool separate = directory.Integer(TiffTag.PlanarConfiguration, 1) == 2;
        long columns = directory.Integer(TiffTag.ImageWidth, 0), rows = directory.Integer(TiffTag.ImageLength, 0);
        long bands = directory.Integer(TiffTag.SamplesPerPixel, 1);
        long blockColumns = tiled ? directory.Integer(TiffTag.TileWidth, 0) : columns;
        long blockRows = tiled ? directory.Integer(TiffTag.TileLength, 0) : Math.Min(directory.Integer(TiffTag.RowsPerStrip, rows), rows);
        if (columns is < 1 or > int.MaxValue || rows is < 1 or > int.MaxValue || bands is < 1 or > ushort.MaxValue)
        {
            throw new GridException(
                $"{path} claims {columns} columns, {rows} rows and {bands} bands, which no grid has; the file is damaged.");
        }

        if (blockColumns < 1 || blockRows < 1)
            throw new GridException($"{path} claims blocks of {blockColumns} by {blockRows} cells; the file is damaged.");

        if (directory.Integer(TiffTag.Predictor, 1) == 3 && !type.IsFloatingPoint)
        {
            throw new GridException(
                $"{path} uses TIFF predictor 3, which is for floating-point numbers, on whole ones; the file is damaged.");
        }

        RequireCodec(path, directory);
        long bandsInBlock = separate ? 1 : bands;
        if (blockColumns > MaxCells || blockRows > MaxCells || blockColumns * blockRows * bandsInBlock > MaxCells)
        {
            throw new GridException(
                $"{path} holds {blockColumns} by {blockRows} cells in one block, more than the {MaxCells} this reader decodes at a time; "
                + "rewrite it in tiles, for example with gdal_translate -co TILED=YES.");
        }

        long across = (columns + blockColumns - 1) / blockColumns;
        long down = (rows + blockRows - 1) / blockRows;
        decimal expected = (decimal)across * down * (separate ? bands : 1);
        long listed = Math.Min(
            directory.CountOf(tiled ? TiffTag.TileOffsets : TiffTag.StripOffsets),
            directory.CountOf(tiled ? TiffTag.TileByteCounts : TiffTag.StripByteCounts));
        if (listed < expected)
        {
            throw new GridException(
                $"{path} claims {columns} by {rows} cells in {expected} blocks but lists {listed}; the file is damaged.");
        }

        return new TiffLayout(directory, type, tiled)
        {
            Separate = separate,
            Columns = (int)columns,
            Rows = (int)rows,
            Bands = (int)bands,
            BlockColumns = (int)blockColumns,
            BlockRows = (int)blockRows,
        };
    }

    public int BlockIndex(int blockColumn, int blockRow, int band)
    {
        int across = (int)(((long)Columns + BlockColumns - 1) / BlockColumns);
        int down = (int)(((long)Rows + BlockRows - 1) / BlockRows);
        return blockRow * across + blockColumn + (Separate ? band * across * down : 0);
    }

    /// <summary>Reads the places of blocks that will be asked for, where that is cheaper together.</summary>
    public void Prepare(IReadOnlyList<int> blocks)
    {
        _offsets.Prepare(blocks);
        _byteCounts.Prepare(blocks);
    }

    /// <summary>Whether the block was never written (no bytes).</summary>
    public bool IsSparse(int block) => _byteCounts[block] == 0;

    public (long Offset, long Count) PlaceOf(int block) => ((long)_offsets[block], (long)_byteCounts[block]);

    /// <summary>Rows stored in that row of blocks: the last strip of a file may be short, tiles are padded.</summary>
    public int RowsIn(int blockRow) => Tiled ? BlockRows : (int)Math.Min(BlockRows, Rows - (long)blockRow * BlockRows);

    private const long MaxCells = Grid.MaxBlockCells;

    private static SampleType TypeOf(string path, TiffDirectory directory)
    {
        double[] bits = directory.Numbers(TiffTag.BitsPerSample), formats = directory.Numbers(TiffTag.SampleFormat);
        long bit = directory.Integer(TiffTag.BitsPerSample, 1), format = directory.Integer(TiffTag.SampleFormat, 1);
        bool mixed = bits.Any(b => b != bit) || formats.Any(f => f != format);
        return (mixed || bit == 1 ? null : SampleType.Of(bit, format)) ?? throw new GridException(
            $"{path} stores its numbers in {string.Join(", ", bits.Distinct())} bits of sample format "
            + $"{string.Join(", ", formats.Distinct())}, and whole numbers of 8, 16, 32 or 64 bits or floating-point numbers of 16, 32 or "
            + "64 bits, the same in all bands, were expected; convert it, for example with gdal_translate -ot Float32.");
    }

    private static void RequireCodec(string path, TiffDirectory directory)
    {
        long compression = directory.Integer(TiffTag.Compression, 1);
        if (!TiffCodec.Knows(compression))
        {
            throw new GridException(
                $"{path} is compressed by TIFF method {compression}{(compression == 34887 ? " (LERC)" : "")}, and none, LZW, deflate, "
                + "PackBits or ZSTD was expected; convert it, for example with gdal_translate -co COMPRESS=DEFLATE.");
        }

        long predictor = directory.Integer(TiffTag.Predictor, 1);
        if (predictor is < 1 or > 3)
            throw new GridException($"{path} uses TIFF predictor {predictor}, and 1, 2 or 3 was expected; the file is damaged.");
    }
}
