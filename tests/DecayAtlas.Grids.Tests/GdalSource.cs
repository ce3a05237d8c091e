using System.Runtime.InteropServices;

namespace DecayAtlas.Grids.Tests;

/// <summary>Three bands of known content that GDAL reads through a virtual raster and turns into any kind of file.</summary>
internal static class GdalSource
{
    public const int Columns = 61;
    public const int Rows = 47;
    public const int Bands = 3;
    public const int Missing = 7;
    public const double West = -12.5;
    public const double North = 58.25;
    public const double Cell = 0.25;

    public static GeoPoint[] RandomPoints(int count)
    {
        Random random = new(20261);
        return [.. Enumerable.Range(0, count).Select(_ => new GeoPoint(
            West + random.NextDouble() * Columns * Cell, North - random.NextDouble() * Rows * Cell))];
    }

    /// <summary>Band after band, row after row; whole numbers that every type holds, its sign and width used.</summary>
    public static double[] Content(string type)
    {
        (double low, double high) = type switch
        {
            "Byte" or "SignedByte" => (0, 255),
            "UInt16" => (0, 65535),
            "Int16" => (-32768, 32767),
            "UInt32" => (0, 4294967295),
            "Int32" => (-2147483648, 2147483647),
            "UInt64" => (0, 9e15),
            "Int64" => (-9e15, 9e15),
            _ => (-1e6, 1e6),
        };
        Random random = new(7);
        double[] content = new double[Bands * Rows * Columns];
        for (int i = 0; i < content.Length; i++)
        {
            bool isFloat = type.StartsWith("Float", StringComparison.Ordinal);
            double value = low + random.NextDouble() * (high - low);
            content[i] = random.Next(20) == 0 ? Missing : isFloat ? (float)value : Math.Round(value);
        }

        return content;
    }

    /// <summary>GDAL reads the raw numbers through a virtual raster.</summary>
    public static string Write(TestFolder folder, double[] content)
    {
        File.WriteAllBytes(folder.File("source.bin"), MemoryMarshal.AsBytes(content.AsSpan()).ToArray());
        string bands = string.Concat(Enumerable.Range(0, Bands).Select(b =>
            $"""
            <VRTRasterBand dataType="Float64" band="{b
                + 1}" subClass="VRTRawRasterBand"><SourceFilename relativeToVRT="1">source.bin</SourceFilename>
            <ImageOffset>{b * Rows * Columns * 8}</ImageOffset><PixelOffset>8</PixelOffset><LineOffset>{Columns
                * 8}</LineOffset><ByteOrder>LSB</ByteOrder></VRTRasterBand>
            """));
        return folder.Write(
            "source.vrt",
            $"""
            <VRTDataset rasterXSize="{Columns}" rasterYSize="{Rows}"><SRS>EPSG:4326</SRS>
            <GeoTransform>-12.5, 0.25, 0, 58.25, 0, -0.25</GeoTransform>{bands}</VRTDataset>
            """);
    }
}
