namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>Numbers of the tags that are read or written: TIFF 6.0, GeoTIFF (OGC 19-008r4) and GDAL's own.</summary>
internal static class TiffTag
{
    /// <summary>1 for an overview, 4 for a mask.</summary>
    public const int NewSubfileType = 254;

    public const int ImageWidth = 256;
    public const int ImageLength = 257;
    public const int BitsPerSample = 258;
    public const int Compression = 259;
    public const int Photometric = 262;
    public const int StripOffsets = 273;
    public const int SamplesPerPixel = 277;
    public const int RowsPerStrip = 278;
    public const int StripByteCounts = 279;
    public const int PlanarConfiguration = 284;
    public const int Predictor = 317;
    public const int ColourMap = 320;
    public const int TileWidth = 322;
    public const int TileLength = 323;
    public const int TileOffsets = 324;
    public const int TileByteCounts = 325;
    public const int ExtraSamples = 338;
    public const int SampleFormat = 339;
    public const int ModelPixelScale = 33550;
    public const int ModelTiePoint = 33922;
    public const int ModelTransformation = 34264;
    public const int GeoKeyDirectory = 34735;
    public const int GeoDoubleParams = 34736;
    public const int GeoAsciiParams = 34737;
    public const int GdalMetadata = 42112;
    public const int GdalNoData = 42113;
}
